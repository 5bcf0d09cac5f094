"""Clearance through the whole sweep, ball by ball, in closed form; nothing is sampled.

What swings is taken as the outlines of geometry.envelope; every obstacle is a body of revolution about
the spindle or a plane. Imported by output.plan; needs no solid.

An edge at polar radius r that runs ahead of the tip by p degrees stands, at a swing a, at a height
r sin(a + p) over the spindle and r cos(a + p) in front of the ball's centre. Its nearest to a plane is
where it points at it, or at an end of the sweep; its nearest to the stem is at the end of the sweep,
for behind the equator its height only falls. Edges that slide with the head are nearest at one end of
their travel, for their place is linear in it. The jaws sweep a ring from the blank out to their
outsides, as deep as they stand out of the chuck, and the chuck a disc behind it; they are met, as the
blank behind its relief is, where something comes within their radius of the spindle: geometry.swept.

Both arrangements go the same way. Everything about the spindle (jaws, chuck, blank, stem, centre)
meets the sweep alike, whichever way the pivot lies; only the cross slide changes: with the pivot across
the bed what swings must pass over it, upright the head, its block and its bearing stand on it.
"""

from __future__ import annotations

from math import asin, atan2, cos, degrees, hypot, radians, sin, sqrt
from typing import Any

from parts.attachment import Attachment, Carrier
from parts.sizes import Sizes
from parts.tool import INCLUDED_DEG, nose_radius_mm
from parts.value import Value
from planner.checking.behind import BIT_CLEARANCE_MM
from planner.geometry.ball import USUAL_STEM, Arrangement
from planner.geometry.envelope import (
    Edge,
    Outline,
    Reach,
    front_mm,
    lowest,
    neck_deg,
    swinging_outlines,
    toward_post,
    toward_tailstock,
)
from planner.geometry.swept import deepest, from_spindle_mm, stem_end_deg
from planner.job.tables import Ball, Centre, Job
from planner.sizing.post import post_near_mm, post_plan
from planner.sizing.requirements import MOST_STICKOUT, POST_CLEARANCE_MM

OFF_JAWS_MM = 3.0
"""The roughing tool keeps so far off the jaws at the wall of the relief (common practice)."""


class BallCase(Value, frozen=True):
    """A ball to be swept: its diameter, blank and stem, mm.

    bound: it is the attachment's own largest or smallest and none of the job's balls. behind: it is
    turned behind its equator; half a ball is not.
    """

    name: str
    diameter_mm: float
    blank_mm: float
    stem_mm: float
    bound: bool = False
    behind: bool = True


class Gap(Value, frozen=True):
    """The least distance to one obstacle: which part, at which swing and tip radius, and the least."""

    obstacle: str
    distance_mm: float
    part: str
    swing_deg: float
    tip_radius_mm: float
    least_mm: float


class BallClearance(Value, frozen=True):
    """What one ball leaves.

    start_deg, end_deg: the usable sweep, 0 at the nose; end_limit: what ends it ("the stem" when the
    tip's nose itself comes down to it, "the equator" of half a ball, else the part that comes first).
    neck_deg: where the nose comes down to the stem.
    stick_out_mm: from the jaws' front to the ball's centre, clearance included, and stick_out_by.
    relief_mm: how far behind the ball's centre the blank must be turned down: to the stem, of half a
    ball to its own diameter; 0 for half a ball whose blank is no thicker.
    cross_slide_mm, beside_mm: least distance to the cross slide, and between the blank and whatever of
    the body comes nearest beside it. gaps: the least distance to every obstacle, with the centre at the
    stick-out.
    reaching_bit_mm: the bit stick-out that would reach the neck, None when the present one does or no
    bit so far out would hold; least_stem_mm: the thinnest stem that the present one reaches.
    post_from_jaws_mm: the tool post's middle from the jaws' front along the bed; tailstock_mm: how far
    a tailstock's centre must come out in front of its body, past what swings at the nose.
    """

    ball: BallCase
    start_deg: float
    end_deg: float
    end_limit: str
    neck_deg: float
    stick_out_mm: float
    stick_out_by: Reach
    relief_mm: float
    cross_slide_mm: float
    cross_slide_by: Reach
    beside_mm: float
    gaps: tuple[Gap, ...]
    reaching_bit_mm: float | None
    least_stem_mm: float
    post_from_jaws_mm: float
    tailstock_mm: float
    arrangement: Arrangement = "across"

    @property
    def jaws_mm(self) -> float:
        """From the jaws' front to the ball's centre: the stick-out, and room to turn the relief."""
        return max(self.stick_out_mm, self.relief_mm + OFF_JAWS_MM if self.relief_mm else 0.0)

    @property
    def shoulder_mm(self) -> float:
        """How far behind the centre the tip ends the ball: the rest is the round of its nose."""
        return -self.ball.diameter_mm / 2 * cos(radians(self.end_deg))


def behind_equator(ball: Ball) -> bool:
    """Whether a ball of the job is turned behind its equator."""
    return ball.shape in ("ball", "taper handle")


def ball_cases(s: Sizes, job: Job) -> tuple[BallCase, ...]:
    """The largest and the smallest ball of the attachment, and each ball of the job but hollows."""
    cases = [
        BallCase(
            "largest",
            s.max_ball_diameter_mm,
            s.max_blank_diameter_mm,
            USUAL_STEM * s.max_ball_diameter_mm,
            bound=True,
        ),
        BallCase(
            "smallest",
            s.min_ball_diameter_mm,
            s.min_ball_diameter_mm,
            USUAL_STEM * s.min_ball_diameter_mm,
            bound=True,
        ),
    ]
    for number, ball in enumerate(job.ball, 1):
        if ball.shape == "socket":
            continue  # turned with the bit the other way round: turning.plan
        cases.append(
            BallCase(
                ball.name or f"ball {number}",
                ball.diameter,
                ball.blank_diameter or ball.diameter,
                ball.stem_diameter or USUAL_STEM * ball.diameter,
                behind=behind_equator(ball),
            )
        )
    return tuple(cases)


def clearances(
    attachment: Attachment, job: Job, arrangement: Arrangement = "across"
) -> tuple[BallClearance, ...]:
    """The clearance of every ball of a job."""
    outlines = swinging_outlines(attachment)
    return tuple(
        ball_clearance(ball, outlines, attachment.sizes, job, arrangement)
        for ball in ball_cases(attachment.sizes, job)
    )


def ball_clearance(
    ball: BallCase,
    outlines: tuple[Outline, ...],
    s: Any,
    job: Job,
    arrangement: Arrangement = "across",
    post: bool = True,
) -> BallClearance:
    """The clearance of one ball.

    outlines: of what swings; s: the sizes, or what of them is asked here of a head that was measured;
    job: its chuck, post and tailstock centre. post: whether what turns beside the tool post is looked
    at.
    """
    edges = tuple(edge for outline in outlines for edge in outline)
    radius, clear = ball.diameter_mm / 2, s.clearance_mm
    start_radius = hypot(radius, ball.blank_mm / 2) + clear
    near = _Near(outlines, radius, clear, getattr(s, "nose_mm", None) or nose_radius_mm(s))
    neck, end, limit = 90.0, 90.0, "the equator"
    if ball.behind:
        neck = neck_deg(ball.diameter_mm, ball.stem_mm, near.nose_mm)
        end, limit = near.sweep_end(ball.stem_mm, neck)
    start = _centre_start_deg(job.turning.tailstock_centre, outlines, radius, clear)
    tips, swings = (radius, start_radius), (start, end)
    lathe = job.lathe

    def within(across_mm: float) -> Reach:
        found = deepest(outlines, tips, swings, across_mm / 2 + clear)
        return found or Reach(0.0, "nothing", end, radius)

    at_jaws = within(lathe.jaw_diameter or lathe.chuck_diameter)
    at_face = within(lathe.chuck_diameter)
    out = max(at_jaws.distance_mm, at_face.distance_mm - lathe.jaw_reach) + clear
    if arrangement == "across":
        down = lowest(edges, tips, swings)
    else:
        standing = -s.thrust_x_mm + s.housing_length_mm
        down = Reach(standing, "bearing", start, start_radius)
    # the tailstock's body is taken as no wider than the chuck
    tail = toward_tailstock(edges, tips, swings, lathe.chuck_diameter / 2)
    stands = -front_mm(edges)
    body = stands - ball.blank_mm / 2
    gaps = [
        _gap("jaws", out - at_jaws.distance_mm, at_jaws, clear),
        _gap("chuck face", out + lathe.jaw_reach - at_face.distance_mm, at_face, clear),
        _gap("cross slide", s.spindle_over_cross_slide_mm - down.distance_mm, down, clear),
        Gap("blank", body, "body", start, start_radius, clear),
    ]
    if arrangement == "across" and post:
        gaps += _post_gap(edges, s, job)
    reaches = limit in ("the stem", "the equator")
    return BallClearance(
        ball=ball,
        start_deg=start,
        end_deg=end,
        end_limit=limit,
        neck_deg=neck,
        stick_out_mm=out,
        stick_out_by=at_jaws if out - clear == at_jaws.distance_mm else at_face,
        relief_mm=_relief_mm(outlines, ball, tips, swings, job, clear),
        cross_slide_mm=s.spindle_over_cross_slide_mm - down.distance_mm,
        cross_slide_by=down,
        beside_mm=body,
        gaps=tuple(gaps),
        reaching_bit_mm=None if reaches else near.reaching_bit_mm(s, ball, neck),
        least_stem_mm=ball.stem_mm if reaches else near.least_stem_mm(ball),
        post_from_jaws_mm=out + (post_plan(s, job).out_mm if post else 0.0),
        tailstock_mm=tail.distance_mm - radius + clear,
        arrangement=arrangement,
    )


def _post_gap(edges: tuple[Edge, ...], s: Sizes, job: Job) -> list[Gap]:
    """The least distance to the tool post, of everything that turns beside it, over its whole depth.

    Where it is unknown how far the post stands out it is taken as flush with the shank.
    """
    near = float(post_near_mm(s, job))
    by = toward_post(edges, (s.post_rear_x_mm, s.post_front_x_mm), near)
    if by is None:
        return []
    distance = near - by.distance_mm
    return [_gap("tool post", distance, by, POST_CLEARANCE_MM)]


class _Near(Value, frozen=True):
    """What comes near a stem: outlines with the tip at a radius, the clearance, the tip's nose."""

    outlines: tuple[Outline, ...]
    tip_mm: float
    clear_mm: float
    nose_mm: float

    def sweep_end(self, stem_mm: float, neck: float, arm: bool = True) -> tuple[float, str]:
        """Where the sweep ends and what ends it: the nose come down to the stem, or a part before.

        A side of the point must not come past lying along the stem: half the point's angle from the
        pole behind. arm: whether what is not the bit is looked at.
        """
        end, limit = neck, "the stem"
        for outline in self.outlines:
            cuts = outline[0].cuts
            if not (cuts or arm):
                continue
            if cuts and end > 180.0 - INCLUDED_DEG / 2:
                end, limit = 180.0 - INCLUDED_DEG / 2, outline[0].name
            away = stem_mm / 2 + (BIT_CLEARANCE_MM if cuts else self.clear_mm)
            off = from_spindle_mm(outline)
            if off >= away:
                continue
            for edge in outline:
                if edge.cuts and edge.round_mm:
                    continue  # the nose itself
                out = edge.y_mm + (self.tip_mm if edge.carrier is Carrier.HEAD else 0.0)
                height = sqrt(away**2 - off**2) + edge.round_mm
                reach = stem_end_deg((out, edge.z_mm), height)
                if reach < end - 1e-9:
                    end, limit = reach, edge.name
        return end, limit

    def least_stem_mm(self, ball: BallCase) -> float:
        """The thinnest stem that the nose comes down to before anything else, by bisection."""
        low, high = ball.stem_mm, 0.999 * ball.diameter_mm
        while high - low > 0.01:
            middle = (low + high) / 2
            neck = neck_deg(ball.diameter_mm, middle, self.nose_mm)
            reached = self.sweep_end(middle, neck)[1] == "the stem"
            low, high = (low, middle) if reached else (middle, high)
        return high

    def reaching_bit_mm(self, s: Any, ball: BallCase, neck: float) -> float | None:
        """The bit stick-out at which the arm's leading corner just clears the stem at the neck.

        The corner stands v = R + stick-out out from the pivot and w ahead, at a height
        v sin(a) + w cos(a); solved for the stick-out at a = neck. None where that is more than a bit
        bears, or where the bit's own side meets the stem.
        """
        if self.sweep_end(ball.stem_mm, neck, arm=False)[1] != "the stem":
            return None
        a = radians(neck)
        height = ball.stem_mm / 2 + s.clearance_mm
        out = (height - s.arm_lead_mm * cos(a)) / sin(a) - ball.diameter_mm / 2
        return out if out <= MOST_STICKOUT * s.bit_stock.width_mm else None


def _gap(obstacle: str, distance_mm: float, by: Reach, least_mm: float) -> Gap:
    return Gap(obstacle, distance_mm, by.name, by.swing_deg, by.tip_radius_mm, least_mm)


def _polar(edge: Edge, tip_mm: float) -> tuple[float, float]:
    """An edge's distance from the pivot and how far it runs ahead of the tip, mm and degrees."""
    y = edge.y_mm + (tip_mm if edge.carrier is Carrier.HEAD else 0.0)
    return hypot(y, edge.z_mm), degrees(atan2(y, edge.z_mm)) - 90.0


def _centre_start_deg(
    centre: Centre | None, outlines: tuple[Outline, ...], tip_mm: float, clear_mm: float
) -> float:
    """The swing at which everything has come clear of a tailstock centre; 0 without one.

    The centre is taken as a cylinder of its full diameter: r sin(a + p) = height on the rising side.
    """
    if centre is None:
        return 0.0
    away = centre.diameter / 2 + clear_mm
    start = 0.0
    for outline in outlines:
        off = from_spindle_mm(outline)
        if off >= away or outline[0].carrier is not Carrier.HEAD:
            continue
        for edge in outline:
            height = sqrt(away**2 - off**2) + edge.round_mm
            radius, ahead = _polar(edge, tip_mm)
            start = max(start, degrees(asin(height / radius)) - ahead if radius > height else 90.0)
    return start


def _relief_mm(
    outlines: tuple[Outline, ...],
    ball: BallCase,
    tips_mm: tuple[float, float],
    swings_deg: tuple[float, float],
    job: Job,
    clear_mm: float,
) -> float:
    """How far behind the centre the blank must be turned down, the clearance included.

    As deep as anything comes that comes within the clearance of the blank's surface, from the first
    pass to the last; what stands wholly beside the blank is the gap beside it. Half a ball in a blank
    that is no thicker than roughing leaves it needs none.
    """
    radius = ball.diameter_mm / 2
    if not ball.behind and ball.blank_mm / 2 <= radius + allowance_mm(job, radius) + 1e-9:
        return 0.0
    neck = sqrt(ball.diameter_mm**2 - ball.stem_mm**2) / 2 if ball.behind else 0.0
    over = [outline for outline in outlines if from_spindle_mm(outline) < ball.blank_mm / 2]
    found = deepest(over, tips_mm, swings_deg, ball.blank_mm / 2 + clear_mm)
    return max(neck, found.distance_mm if found else 0.0) + clear_mm


def allowance_mm(job: Job, radius_mm: float) -> float:
    """What roughing leaves over a ball of a radius: the job's, at most two fifths of the radius."""
    return min(job.turning.allowance, 0.4 * radius_mm)
