"""What turning a ball or a hollow refuses or notes; what its sweep does is checking.sweep_findings'."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, inf, sqrt

from msgspec.structs import replace

from planner.checking.behind import CLOSE_MM, fouled
from planner.checking.sweep_findings import GEOMETRY, SweepFindings, beside_blank
from planner.job.tables import Job
from planner.turning.hand import HAND_ROOM_MM, hand_room_mm
from planner.turning.head import Head
from planner.turning.model import BallPlan, BallWork, SecondHolding, SocketPlan
from planner.turning.piece import sound_mm
from planner.turning.second import Swinging
from planner.words.findings import Finding, finding

PARTING_REACH = 8.0
"""A parting blade stands out by so many of its widths at most (common practice: 8 to 10)."""


def blank_findings(ball: BallWork, job: Job, file: str) -> Iterator[Finding]:
    """A blank that the ball cannot be turned from: no sound metal left at its equator."""
    mm, asked, sound = job.numbers.length, job.numbers.bought_length, sound_mm(ball)
    if ball.spec.skin == 0.0 or sound >= 2 * ball.radius_mm - 1e-9:
        return
    yield finding(
        "skin",
        file,
        key_of(ball, job),
        f"{mm(sound)} of sound metal under the skin of a {asked(ball.blank_mm)} blank",
        f"the ball is {asked(2 * ball.radius_mm)}",
        f"Take a blank of at least {job.numbers.stock_at_least(2 * (ball.radius_mm + ball.spec.skin))}",
        source="common practice",
    )


def ball_findings(plan: BallPlan, s: Head, job: Job, file: str) -> Iterator[Finding]:
    """What to look at before turning a ball."""
    ball, key = plan.ball, key_of(plan.ball, job)
    swept = SweepFindings(plan.clearance, s, job, file)
    if ball.behind:
        yield from swept.short_sweep()
    if plan.over:
        yield finding(
            "pass-depth",
            file,
            key,
            f"not even one division of the dial is within {plan.over}",
            "a pass at twice the feed, for a hand swings unevenly",
            "Take less feed, tighten the clamp, or see: pommel check",
        )
    if min(plan.roughing.least_mm, ball.blank_mm / 2 - ball.radius_mm) < 1e-6:
        more = job.numbers.stock_at_least(2 * ball.radius_mm + job.series.step_mm)
        yield finding(
            "thin-blank",
            file,
            key,
            f"blank {job.numbers.bought_length(ball.blank_mm)}",
            "no thicker than the ball: its equator keeps the bar's skin",
            f"Take a blank of {more} or more, or turn it to a smaller ball",
            source="common practice",
        )
    if plan.sweep.start_deg > 0.0:
        yield finding(
            "centre-nose",
            file,
            "turning.tailstock_centre",
            f"with the centre up the sweep begins {job.numbers.angle(plan.sweep.start_deg)} from the"
            " nose",
            "the nose and the centre's hole stay",
            "Swing the nose first with the centre drawn back, as the sheet says; or hold the blank"
            " shorter, without it",
            subject=ball.name,
            source=GEOMETRY,
        )
    yield from _hole(plan, job, file)
    yield from _stem(plan, job, file)
    yield from _tools(plan, job, file)
    if (second := plan.second) is not None:
        yield from _second(plan, second, s, job, file)
    if plan.behind.taper_deg and job.lathe.top_slide_travel:
        travel, long = job.lathe.top_slide_travel, plan.behind.length_mm
        if long > travel:
            yield finding(
                "taper-length",
                file,
                key,
                f"the handle's taper is {job.numbers.bought_length(long)} long",
                f"the top slide travels {job.numbers.bought_length(travel)}",
                f"Turn it in {ceil(long / travel - 1e-9)} lengths, the carriage moved between, and"
                " blend them with a file and cloth",
                source="common practice",
            )
    yield from slow_findings(plan, job, file)
    yield from _standing(plan, s, job, file).stick_out("note")


def _standing(plan: BallPlan, s: Head, job: Job, file: str) -> SweepFindings:
    """The sweep as the check sees it; a ball with a length of stem as far out as that puts it."""
    clear = plan.clearance
    if plan.behind.length_mm > 0.0:
        clear = replace(clear, stick_out_mm=plan.blank_length_mm - plan.ball.radius_mm)
    return SweepFindings(clear, s, job, file)


def hand_findings(plan: BallPlan, swinging: Swinging, job: Job, file: str) -> Iterator[Finding]:
    """A knob with too little room for the hand on it."""
    swing, jaws = (
        (plan.sweep.start_deg, plan.sweep.end_deg),
        plan.blank_length_mm - plan.ball.radius_mm,
    )
    room, near = hand_room_mm(swinging.edges, swing, jaws, job.lathe)
    wanted = job.series.nominal(HAND_ROOM_MM)
    if room >= wanted - 1e-6:
        return
    comes, need = job.numbers.apart(max(0.0, room), wanted)
    yield finding(
        "hand-room",
        file,
        key_of(plan.ball, job),
        f"the knob comes within {comes} of the {near}",
        f"a hand needs {need} round it",
        "Let the blank stick out more, use a shorter handle (handle_length), or swing it by a bar",
        subject=plan.ball.name,
        source="from memory",
    )


MOST_QUARTER_S = 180.0
"""A hand swings evenly down to a quarter of a turn in so long, half a degree a second (from memory)."""


def slow_findings(plan: BallPlan, job: Job, file: str) -> Iterator[Finding]:
    """A swing so slow that no hand keeps it even."""
    quarter = max(90.0 / (one.cut.deg_per_turn * one.cut.rev_min / 60.0) for one in plan.passes)
    if quarter <= MOST_QUARTER_S + 1e-6:
        return
    seconds = job.numbers.seconds
    yield finding(
        "slow-swing",
        file,
        key_of(plan.ball, job),
        f"a quarter of a turn of the head takes {seconds(quarter)}",
        f"no hand swings evenly slower than {seconds(MOST_QUARTER_S)}",
        "Give more feed (turning.feed) or a coarser finish, or a tool that stands more speed"
        " (shop.tool_material)",
        subject=plan.ball.name,
        source="from memory",
    )


HOLE_WALL_MM = 0.5
"""The least metal about a hole that goes on behind the centre (from memory: as thin as a tap bears)."""


def _hole(plan: BallPlan, job: Job, file: str) -> Iterator[Finding]:
    """A hole drilled through what still holds the ball, or out of its stem side."""
    hole, ball = plan.hole, plan.ball
    if hole is None or not ball.behind:
        return
    radius, wanted = ball.radius_mm, hole.depth_mm or inf
    behind = min(wanted - radius, radius)
    if behind <= 0.0:
        return
    about = sqrt(radius**2 - behind**2)
    through = wanted >= 2 * radius and not ball.spec.thread  # a tapped one is not meant to come out
    if plan.second is None or through:
        about = max(about, plan.sweep.stem_radius_mm)
    wall = about - hole.drill_mm / 2
    if wall >= HOLE_WALL_MM - 1e-6:
        return
    mm = job.numbers.length
    yield finding(
        "hole-neck",
        file,
        key_of(ball, job),
        f"a hole of {job.numbers.bought_length(hole.drill_mm)} leaves {mm(max(0.0, wall))} of metal"
        " about it"
        f" {mm(behind)} behind the centre",
        f"needs {mm(HOLE_WALL_MM)}",
        "Drill it less deep (hole_depth), give a thicker stem (stem_diameter), or drill it once the"
        " ball is done",
        subject=ball.name,
        source="from memory",
    )


def _stem(plan: BallPlan, job: Job, file: str) -> Iterator[Finding]:
    """A stem or handle that stands in the way of what swings."""
    behind = plan.behind
    if behind.length_mm <= 0.0:
        return
    found = fouled(plan.room, lambda z: behind.radius_mm(z), behind.end_mm)
    if found is None or found[1] - found[2] < CLOSE_MM:
        return
    mm = job.numbers.length
    depth, radius, clears = found
    yield finding(
        "stem-fouled",
        file,
        key_of(plan.ball, job),
        f"{mm(depth)} behind the centre the piece is {mm(2 * radius)} thick",
        f"what swings leaves room for {mm(2 * clears)} there",
        "Give a slimmer handle, or a longer and slimmer stem before it",
        subject=plan.ball.name,
        source=GEOMETRY,
    )


def _tools(plan: BallPlan, job: Job, file: str) -> Iterator[Finding]:
    """A parting blade that does not reach down to the neck."""
    deepest = max((s.infeed_mm for s in plan.roughing.steps if s.parted), default=0.0)
    width = job.turning.roughing_width
    if deepest <= PARTING_REACH * width or job.turning.roughing_tool != "parting":
        return
    mm = job.numbers.length
    yield finding(
        "parting-reach",
        file,
        "turning.roughing_width",
        f"the neck is plunged {mm(deepest)} deep",
        f"a blade {mm(width)} wide stands out {mm(PARTING_REACH * width)} at most",
        f"Take a blade {mm(deepest / PARTING_REACH)} wide or more, or step it down in two widths",
        subject=plan.ball.name,
        source="common practice",
    )


def _second(
    plan: BallPlan, second: SecondHolding, s: Head, job: Job, file: str
) -> Iterator[Finding]:
    """A second holding that the head runs into, or that slips."""
    key = key_of(plan.ball, job)
    if second.clear_mm < s.clearance_mm - 1e-6:
        comes, need = job.numbers.apart(max(0.0, second.clear_mm), s.clearance_mm)
        yield finding(
            "second-holding",
            file,
            key,
            f"what swings comes within {comes} of the {second.holding}",
            f"needs {need}",
            "Hold it on a threaded stub, or leave a stem (stem_length)",
            subject=plan.ball.name,
            source=GEOMETRY,
        )
    if second.worst_N > second.slips_N:
        yield finding(
            "second-slips",
            file,
            key,
            f"the cut asks {job.numbers.force(second.worst_N)} at the stub",
            f"it turns in the {second.holding} at {job.numbers.force(second.slips_N)}",
            "Give a thinner stem, or take less depth (depth_of_cut)",
            subject=plan.ball.name,
            source="friction of three jaws, from memory",
        )


def hollow_findings(plan: SocketPlan, s: Head, job: Job, file: str) -> Iterator[Finding]:
    """What refuses a hollow."""
    ball, key, mm = plan.ball, key_of(plan.ball, job), job.numbers.length
    if not plan.least_mm - 1e-9 <= ball.radius_mm <= plan.greatest_mm + 1e-9:
        least, most = (2 * one for one in (plan.least_mm, plan.greatest_mm))
        limit = (
            f"this head turns {job.numbers.at_least(least)} to {job.numbers.at_most(most)} across,"
        )
        limit += " the bit the other way round"
        value, remedy = (
            f"diameter {job.numbers.bought_length(2 * ball.radius_mm)}",
            "Use a form tool or a boring head for it",
        )
        yield finding("socket-radius", file, key, value, limit, remedy)
    if 2 * plan.shape.mouth_radius_mm > ball.blank_mm + 1e-9:
        value = f"mouth {mm(2 * plan.shape.mouth_radius_mm)}"
        limit = f"wider than its blank, {job.numbers.bought_length(ball.blank_mm)}"
        yield finding("socket-mouth", file, key, value, limit, "Hollow it less deep")
    yield from beside_blank(ball.name, ball.blank_mm, key, s.stands_mm, s, job, file)
    if plan.shape.depth_mm > plan.deepest_mm + 1e-9:
        limit = f"the arm comes to the face at {mm(plan.deepest_mm)}"
        remedy = f"Set the bit out {mm(plan.shape.depth_mm + s.clearance_mm)}, or hollow it less"
        value = f"{mm(plan.shape.depth_mm)} deep"
        yield finding("socket-depth", file, key, value, limit, remedy)


def key_of(ball: BallWork, job: Job) -> str:
    """Where a ball stands in the job; the attachment's largest where it names none."""
    return f"ball.{ball.name}" if job.ball else "attachment.max_ball_diameter"
