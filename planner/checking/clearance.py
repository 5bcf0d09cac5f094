"""Clearance through the whole sweep, ball by ball, in closed form; nothing is sampled.

What swings is taken as the edges of geometry.envelope; every obstacle is a body of revolution about
the spindle or a plane. Imported by output.plan; needs no solid.

An edge at polar radius r that runs ahead of the tip by p degrees stands, at a swing a, at a height
r sin(a + p) over the spindle and r cos(a + p) in front of the ball's centre. Its nearest to a plane is
where it points at it, or at an end of the sweep; its nearest to the stem is at the end of the sweep,
for behind the equator its height only falls. Edges that slide with the head are nearest at one end of
their travel, for their place is linear in it.

Both arrangements go the same way. Everything about the spindle (jaws, chuck, blank, stem, centre)
meets the sweep alike, whichever way the pivot lies; only the cross slide changes: with the pivot across
the bed what swings must pass over it, upright the head, its block and its bearing stand on it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, atan2, degrees, hypot, radians, sin, sqrt

from parts.attachment import Attachment, Carrier
from parts.sizes import Sizes
from planner.geometry.ball import Arrangement
from planner.geometry.envelope import (
    USUAL_STEM,
    Edge,
    Reach,
    lowest,
    neck_deg,
    swinging_edges,
    toward_chuck,
    toward_post,
    toward_tailstock,
)
from planner.job.tables import Centre, Job
from planner.sizing.post import post_near_mm, post_plan
from planner.sizing.requirements import MOST_STICKOUT, POST_CLEARANCE_MM

BIT_CLEARANCE_MM = 0.2
"""The bit's own sides come close to the stem at the neck: that is where it cuts."""


@dataclass(frozen=True)
class BallCase:
    """A ball to be swept: its diameter, blank and stem, mm.

    bound: it is the attachment's own largest or smallest and none of the job's balls.
    """

    name: str
    diameter_mm: float
    blank_mm: float
    stem_mm: float
    bound: bool = False


@dataclass(frozen=True)
class Gap:
    """The least distance to one obstacle: which part, at which swing and tip radius, and the least."""

    obstacle: str
    distance_mm: float
    part: str
    swing_deg: float
    tip_radius_mm: float
    least_mm: float


@dataclass(frozen=True)
class BallClearance:
    """What one ball leaves.

    start_deg, end_deg: the usable sweep, 0 at the nose; end_limit: what ends it ("the stem" when the
    tip itself meets it, else the part that comes first). neck_deg: where the tip meets the stem.
    stick_out_mm: from the jaws' front to the ball's centre, clearance included, and stick_out_by.
    relief_mm: how far behind the ball's centre the blank must be turned down to the stem.
    cross_slide_mm, beside_mm: least distance to the cross slide, and between the body's front face and
    the blank. gaps: the least distance to every obstacle, with the centre at the stick-out.
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
            )
        )
    return tuple(cases)


def clearances(
    attachment: Attachment, job: Job, arrangement: Arrangement = "across"
) -> tuple[BallClearance, ...]:
    """The clearance of every ball of a job."""
    edges = swinging_edges(attachment)
    return tuple(
        ball_clearance(ball, edges, attachment.sizes, job, arrangement)
        for ball in ball_cases(attachment.sizes, job)
    )


def ball_clearance(
    ball: BallCase,
    edges: tuple[Edge, ...],
    s: Sizes,
    job: Job,
    arrangement: Arrangement = "across",
) -> BallClearance:
    """The clearance of one ball.

    edges: of what swings; s: the sizes; job: its chuck, post and tailstock centre. The jaws are taken
    as a disc of their outside diameter at their front, the chuck as one at its face.
    """
    radius, clear = ball.diameter_mm / 2, s.clearance_mm
    start_radius = hypot(radius, ball.blank_mm / 2) + clear
    neck = neck_deg(ball.diameter_mm, ball.stem_mm)
    beside = [e for e in edges if e.carrier is Carrier.HEAD and e.x_high_mm > -ball.blank_mm / 2]
    end, limit = _sweep_end(beside, radius, ball.stem_mm, neck, clear)
    start = _centre_start_deg(job.turning.tailstock_centre, beside, radius, clear)
    tips, swings = (radius, start_radius), (start, end)
    lathe = job.lathe
    at_jaws = toward_chuck(edges, tips, swings, (lathe.jaw_diameter or lathe.chuck_diameter) / 2)
    at_face = toward_chuck(edges, tips, swings, lathe.chuck_diameter / 2)
    out = max(at_jaws.distance_mm, at_face.distance_mm - lathe.jaw_reach) + clear
    if arrangement == "across":
        down = lowest(edges, tips, swings)
    else:
        standing = -s.thrust_x_mm + s.housing_length_mm
        down = Reach(standing, "bearing", start, start_radius)
    # the tailstock's body is taken as no wider than the chuck
    tail = toward_tailstock(edges, tips, swings, lathe.chuck_diameter / 2)
    body = s.arm_overhang_mm - ball.blank_mm / 2
    gaps = [
        _gap("jaws", out - at_jaws.distance_mm, at_jaws, clear),
        _gap("chuck face", out + lathe.jaw_reach - at_face.distance_mm, at_face, clear),
        _gap("cross slide", s.spindle_over_cross_slide_mm - down.distance_mm, down, clear),
        Gap("blank", body, "body", start, start_radius, clear),
    ]
    if arrangement == "across":
        gaps += _post_gap(edges, s, job)
    return BallClearance(
        ball=ball,
        start_deg=start,
        end_deg=end,
        end_limit=limit,
        neck_deg=neck,
        stick_out_mm=out,
        stick_out_by=at_jaws if out - clear == at_jaws.distance_mm else at_face,
        relief_mm=_relief_mm(beside, ball, tips, end, clear) + clear,
        cross_slide_mm=s.spindle_over_cross_slide_mm - down.distance_mm,
        cross_slide_by=down,
        beside_mm=body,
        gaps=tuple(gaps),
        reaching_bit_mm=None if limit == "the stem" else _reaching_bit_mm(s, ball, neck, beside),
        least_stem_mm=ball.stem_mm if limit == "the stem" else _least_stem_mm(beside, ball, clear),
        post_from_jaws_mm=out + post_plan(s, job).out_mm,
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


def _sweep_end(
    edges: list[Edge],
    tip_mm: float,
    stem_mm: float,
    neck: float,
    clear_mm: float,
    bit_mm: float = BIT_CLEARANCE_MM,
) -> tuple[float, str]:
    """Where the sweep ends and what ends it: the stem met by the tip itself, or a part before."""
    end, limit = neck, "the stem"
    for edge in edges:
        gap = bit_mm if edge.cuts else clear_mm
        reach = _stem_end_deg(edge, tip_mm, stem_mm / 2 + gap)
        if reach < end - 1e-9:
            end, limit = reach, edge.name
    return end, limit


def _least_stem_mm(edges: list[Edge], ball: BallCase, clear_mm: float) -> float:
    """The thinnest stem whose neck the tip reaches before anything else meets it, by bisection."""
    radius = ball.diameter_mm / 2
    low, high = ball.stem_mm, 0.999 * ball.diameter_mm
    while high - low > 0.01:
        middle = (low + high) / 2
        neck = neck_deg(ball.diameter_mm, middle)
        reached = _sweep_end(edges, radius, middle, neck, clear_mm)[1] == "the stem"
        low, high = (low, middle) if reached else (middle, high)
    return high


def _gap(obstacle: str, distance_mm: float, by: Reach, least_mm: float) -> Gap:
    return Gap(obstacle, distance_mm, by.name, by.swing_deg, by.tip_radius_mm, least_mm)


def _polar(edge: Edge, tip_mm: float) -> tuple[float, float]:
    """An edge's distance from the pivot and how far it runs ahead of the tip, mm and degrees."""
    y = edge.y_mm + (tip_mm if edge.carrier is Carrier.HEAD else 0.0)
    return hypot(y, edge.z_mm), degrees(atan2(y, edge.z_mm)) - 90.0


def _stem_end_deg(edge: Edge, tip_mm: float, height_mm: float) -> float:
    """The swing at which an edge comes down to a height over the spindle behind the ball.

    r sin(a + p) = height on its falling side: a = 180 - asin(height / r) - p. The tip itself is no
    obstacle to itself.
    """
    radius, ahead = _polar(edge, tip_mm)
    if abs(edge.y_mm) < 1e-9 and abs(edge.z_mm) < 1e-9:
        return 180.0
    if radius <= height_mm:
        return 90.0 - ahead
    return 180.0 - degrees(asin(height_mm / radius)) - ahead


def _centre_start_deg(
    centre: Centre | None, edges: list[Edge], tip_mm: float, clear_mm: float
) -> float:
    """The swing at which everything has come clear of a tailstock centre; 0 without one.

    The centre is taken as a cylinder of its full diameter: r sin(a + p) = height on the rising side.
    """
    if centre is None:
        return 0.0
    height = centre.diameter / 2 + clear_mm
    start = 0.0
    for edge in edges:
        radius, ahead = _polar(edge, tip_mm)
        start = max(start, degrees(asin(height / radius)) - ahead if radius > height else 90.0)
    return start


def _relief_mm(
    edges: list[Edge],
    ball: BallCase,
    tips_mm: tuple[float, float],
    end_deg: float,
    clear_mm: float,
) -> float:
    """How far behind the centre anything comes near the blank's surface by the end of the sweep.

    Height and depth of an edge both grow with the tip's radius, from the last pass to the first, so the
    deepest is at the largest radius at which it is still below the blank's surface, or over it by less
    than the clearance.
    """
    deepest = sqrt(ball.diameter_mm**2 - ball.stem_mm**2) / 2
    up, back = sin(radians(end_deg)), -sin(radians(end_deg + 90.0))
    for edge in edges:
        below = (ball.blank_mm / 2 + clear_mm - edge.z_mm * back) / up - edge.y_mm
        tip = min(below, tips_mm[1])
        if tip >= tips_mm[0]:
            deepest = max(deepest, (edge.y_mm + tip) * back - edge.z_mm * up)
    return deepest


def _reaching_bit_mm(s: Sizes, ball: BallCase, neck: float, edges: list[Edge]) -> float | None:
    """The bit stick-out at which the arm's leading corner just clears the stem at the neck.

    The corner stands v = R + stick-out out from the pivot and w ahead, at a height
    v sin(a) + w cos(a); solved for the stick-out at a = neck. None where that is more than a bit bears,
    or where the bit's own side meets the stem.
    """
    bit = [edge for edge in edges if edge.cuts]
    if _sweep_end(bit, ball.diameter_mm / 2, ball.stem_mm, neck, 0.0, 0.0)[1] != "the stem":
        return None
    a = radians(neck)
    height = ball.stem_mm / 2 + s.clearance_mm
    out = (height - s.arm_lead_mm * sin(a + radians(90.0))) / sin(a) - ball.diameter_mm / 2
    return out if out <= MOST_STICKOUT * s.bit_stock.width_mm else None
