"""The tool post and the lathe's travel: whether the post holds the shank and can stand where it must.

Told by sizing's check, one sizing at a time; what is not said of the lathe is not checked, and said so.
"""

from __future__ import annotations

from collections.abc import Iterator

from parts.sizes import Sizes
from planner.geometry.envelope import Edge, toward_post
from planner.job.tables import Job
from planner.sizing.post import BORING_GAP_MM, post_near_mm, post_plan
from planner.words.findings import Finding, finding

POST_CLEARANCE_MM = 0.5
"""Least between the tool post and what turns beside it: neither moves toward the other."""

LEAST_SCREWS = 2
"""Screws that must bear on the shank: the main force turns it under one (common practice)."""


KNOB_GAP_MM = 1.0
"""What the knob clears the seat's height by, level with the spindle; beyond the slide it has more."""


def post_findings(s: Sizes, edges: tuple[Edge, ...], job: Job, file: str) -> Iterator[Finding]:
    """Everything about the post and the cross slide that refuses, or is not known."""
    yield from _beside(s, edges, job, file)
    yield from _screws(s, job, file)
    yield from _boring(s, job, file)
    yield from _travel(s, job, file)
    yield from _knob(s, job, file)


def _beside(s: Sizes, edges: tuple[Edge, ...], job: Job, file: str) -> Iterator[Finding]:
    near = float(post_near_mm(s, job))
    by = toward_post(edges, (s.post_rear_x_mm, s.post_front_x_mm), near)
    room = s.shank_inner_z_mm - (by.distance_mm if by else 0.0) - POST_CLEARANCE_MM
    if by is not None and near - by.distance_mm < POST_CLEARANCE_MM - 1e-6:
        clears, need = job.numbers.apart(near - by.distance_mm, POST_CLEARANCE_MM)
        remedy = (
            f"A post whose jaws stand out at most {job.numbers.at_most(max(room, 0.0))}, a larger tube"
            " or a cheek"
        )
        if s.beside_nut:
            remedy = f'{remedy}; or tool_post.holding = "behind the nut"'
        yield finding(
            "tool-post",
            file,
            "tool_post.stands_out",
            f"the {by.name} clears the tool post by {clears}",
            f"needs {need}",
            remedy,
        )
    elif job.tool_post.stands_out is None:
        yield finding(
            "post-unknown",
            file,
            "tool_post.stands_out",
            "how far the tool post stands out beside the shank is not said",
            f"held {'beside' if s.beside_nut else 'behind'} the pivot's nut it may be"
            f" {job.numbers.at_most(room)}",
            "Measure it; less would hold the shank nearer the work, and much stiffer",
        )


def _screws(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    bearing = post_plan(s, job).screws
    if bearing < LEAST_SCREWS:
        yield finding(
            "post-screws",
            file,
            "tool_post.screws",
            f"{bearing} of the tool post's screws bear{'s' if bearing == 1 else ''} on the shank",
            f"needs {LEAST_SCREWS}: under one the cut turns it",
            "Use a post with two screws in a row, or a longer shank",
        )


def _boring(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    plan, mm = post_plan(s, job), job.numbers.clearance
    if plan.bar_mm >= plan.bar_wanted_mm - 1e-6:
        return
    passes, wants = job.numbers.apart(max(plan.bar_mm, 0.0), plan.bar_wanted_mm)
    most = s.shank_inner_z_mm - plan.bar_wanted_mm / 2 - BORING_GAP_MM
    yield finding(
        "boring-bar",
        file,
        "tool_post.stands_out",
        f"a boring bar of at most {passes} passes the tool post",
        f"the bore of {mm(s.pivot_diameter_mm)} wants one of {wants}",
        f"Use a post that stands out at most {job.numbers.at_most(max(most, 0.0))}, a larger tube or"
        " a cheek",
        severity="refused" if plan.known else "warning",
    )


def _travel(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    """Turning wants the post far out, boring the housing near in."""
    plan, lathe = post_plan(s, job), job.lathe
    other = "" if plan.beside_nut else ' holding = "beside the nut",'
    if lathe.post_farthest is not None and plan.turning_mm > lathe.post_farthest + 1e-6:
        goes, out, lacks = job.numbers.lacking(lathe.post_farthest, plan.turning_mm)
        yield finding(
            "cross-travel",
            file,
            "lathe.post_farthest",
            f"turning, the post's middle stands {out} out",
            f"the cross slide goes to {goes} ({lacks} too little)",
            f"Swing the top slide along it,{other} a shallower post or a thinner blank",
        )
    if lathe.post_nearest is not None and plan.boring_mm < lathe.post_nearest - 1e-6:
        comes, stands, lacks = job.numbers.lacking(lathe.post_nearest, plan.boring_mm)
        yield finding(
            "cross-travel",
            file,
            "lathe.post_nearest",
            f"boring the housing, the post's middle stands {stands} from the spindle axis",
            f"the cross slide goes in to {comes}: {lacks} too far",
            "Hold it on the other side of the post, or use a cheek",
        )


def _knob(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    room = s.spindle_over_seat_mm - s.knob_diameter_mm / 2
    if room < KNOB_GAP_MM - 1e-6:
        clears, need = job.numbers.apart(room, KNOB_GAP_MM)
        yield finding(
            "knob-swing",
            file,
            "attachment.sizes.knob_diameter",
            f"level with the spindle the knob clears the seat's height by {clears}",
            f"needs {need} where the slide is as high and as wide",
            "See that no slide lies under it, or use a smaller knob",
        )
