"""Clearance through the whole sweep, ball by ball, in closed form; nothing is sampled.

What swings is taken as the edges of planner.envelope; every obstacle is a body of revolution about
the spindle or a plane. Imported by planner.plan; needs no solid.

An edge at polar radius r that runs ahead of the tip by p degrees stands, at a swing a, at a height
r sin(a + p) over the spindle and r cos(a + p) in front of the ball's centre. Its nearest to a plane is
where it points at it, or at an end of the sweep; its nearest to the stem is at the end of the sweep,
for behind the equator its height only falls. Edges that slide with the head are nearest at one end of
their travel, for their place is linear in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, atan2, degrees, hypot, radians, sin, sqrt

from parts.attachment import Attachment, Carrier
from parts.body import handle_station_mm
from parts.sizes import SETBACK_MM, Sizes
from planner.envelope import (
    USUAL_STEM,
    Edge,
    Reach,
    lowest,
    neck_deg,
    swinging_edges,
    toward_chuck,
)
from planner.findings import Finding, Severity
from planner.job import Centre, Job
from planner.units import show_length, unit_name

GEOMETRY = "geometry of the sweep"

BIT = "tool bit"
BIT_CLEARANCE_MM = 0.2
"""The bit's own sides come close to the stem at the neck: that is where it cuts."""

MOST_STICK_OUT = 4.0
"""A blank that sticks out of the chuck by more of its diameters chatters (common practice)."""


@dataclass(frozen=True)
class BallCase:
    """A ball to be swept: its diameter, blank and stem, mm."""

    name: str
    diameter_mm: float
    blank_mm: float
    stem_mm: float


@dataclass(frozen=True)
class BallClearance:
    """What one ball leaves.

    start_deg, end_deg: the usable sweep, 0 at the nose; end_limit: what ends it ("the stem" when the
    tip itself meets it, else the part that comes first). neck_deg: where the tip meets the stem.
    stick_out_mm: from the jaws' front to the ball's centre, clearance included, and stick_out_by.
    relief_mm: how far behind the ball's centre the blank must be turned down to the stem.
    cross_slide_mm, beside_mm, handle_mm: least distance to the cross slide, between the body's front
    face and the blank, and between the handle and the shank's end.
    reaching_bit_mm: the bit stick-out that would reach the neck, None when the present one does.
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
    handle_mm: float
    reaching_bit_mm: float | None


def ball_cases(s: Sizes, job: Job) -> tuple[BallCase, ...]:
    """The largest and the smallest ball of the attachment, and each ball of the job."""
    cases = [
        BallCase(
            "largest",
            s.max_ball_diameter_mm,
            s.max_blank_diameter_mm,
            USUAL_STEM * s.max_ball_diameter_mm,
        ),
        BallCase(
            "smallest",
            s.min_ball_diameter_mm,
            s.min_ball_diameter_mm,
            USUAL_STEM * s.min_ball_diameter_mm,
        ),
    ]
    for number, ball in enumerate(job.ball, 1):
        cases.append(
            BallCase(
                ball.name or f"ball {number}",
                ball.diameter,
                ball.blank_diameter or ball.diameter,
                ball.stem_diameter or USUAL_STEM * ball.diameter,
            )
        )
    return tuple(cases)


def clearances(attachment: Attachment, job: Job) -> tuple[BallClearance, ...]:
    """The clearance of every ball of a job."""
    edges = swinging_edges(attachment)
    return tuple(
        ball_clearance(ball, edges, attachment.sizes, job)
        for ball in ball_cases(attachment.sizes, job)
    )


def ball_clearance(ball: BallCase, edges: tuple[Edge, ...], s: Sizes, job: Job) -> BallClearance:
    """The clearance of one ball.

    edges: of what swings; s: the sizes; job: its chuck and tailstock centre. Jaws and face of the
    chuck are taken as one disc of the chuck's radius at the jaws' front: safe, not exact.
    """
    radius, clear = ball.diameter_mm / 2, s.clearance_mm
    start_radius = hypot(radius, ball.blank_mm / 2) + clear
    neck = neck_deg(ball.diameter_mm, ball.stem_mm)
    beside = [e for e in edges if e.carrier is Carrier.HEAD and e.x_high_mm > -ball.blank_mm / 2]
    end, limit = neck, "the stem"
    for edge in beside:
        gap = BIT_CLEARANCE_MM if edge.name == BIT else clear
        reach = _stem_end_deg(edge, radius, ball.stem_mm / 2 + gap)
        if reach < end - 1e-9:
            end, limit = reach, edge.name
    start = _centre_start_deg(job.turning.tailstock_centre, beside, radius, clear)
    tips = (radius, start_radius)
    out = toward_chuck(edges, tips, (start, end), job.lathe.chuck_diameter / 2)
    down = lowest(edges, tips, (start, end))
    handle = handle_station_mm(s) - s.handle_stock.width_mm / 2 - SETBACK_MM - s.shank_length_mm
    return BallClearance(
        ball=ball,
        start_deg=start,
        end_deg=end,
        end_limit=limit,
        neck_deg=neck,
        stick_out_mm=out.distance_mm + clear,
        stick_out_by=out,
        relief_mm=_relief_mm(beside, ball, radius, end) + clear,
        cross_slide_mm=s.spindle_over_cross_slide_mm - down.distance_mm,
        cross_slide_by=down,
        beside_mm=s.arm_overhang_mm - ball.blank_mm / 2,
        handle_mm=handle,
        reaching_bit_mm=None if limit == "the stem" else _reaching_bit_mm(s, ball, neck),
    )


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


def _relief_mm(edges: list[Edge], ball: BallCase, tip_mm: float, end_deg: float) -> float:
    """How far behind the centre anything comes within the blank's radius by the end of the sweep."""
    deepest = sqrt(tip_mm**2 - (ball.stem_mm / 2) ** 2)
    for edge in edges:
        radius, ahead = _polar(edge, tip_mm)
        at = radians(end_deg + ahead)
        if radius * sin(at) < ball.blank_mm / 2:
            deepest = max(deepest, -radius * sin(at + radians(90.0)))
    return deepest


def _reaching_bit_mm(s: Sizes, ball: BallCase, neck: float) -> float:
    """The bit stick-out at which the arm's leading corner just clears the stem at the neck.

    The corner stands v = R + stick-out out from the pivot and w ahead, at a height
    v sin(a) + w cos(a); solved for the stick-out at a = neck.
    """
    a = radians(neck)
    height = ball.stem_mm / 2 + s.clearance_mm
    return (height - s.arm_lead_mm * sin(a + radians(90.0))) / sin(a) - ball.diameter_mm / 2


def clearance_findings(
    found: tuple[BallClearance, ...], s: Sizes, job: Job, file: str
) -> list[Finding]:
    """What the clearances refuse or warn of."""
    return [finding for one in found for finding in _findings(one, s, job, file)]


def _findings(found: BallClearance, s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    inch = job.inch

    def say(mm: float) -> str:
        return f"{show_length(round(mm, 1), inch, 2 if inch else 1)} {unit_name(inch)}"

    def finding(
        code: str, severity: Severity, key: str, value: str, limit: str, remedy: str
    ) -> Finding:
        text = f"{found.ball.name}: {value}: {limit}. {remedy}"
        return Finding(severity, file, key, value, limit, remedy, text, code, GEOMETRY)

    ball = found.ball
    if ball.diameter_mm > s.max_ball_diameter_mm + 1e-6:
        yield finding(
            "ball-size",
            "refused",
            "ball",
            f"ball {say(ball.diameter_mm)}",
            f"the attachment takes {say(s.max_ball_diameter_mm)}",
            "Raise attachment.max_ball_diameter",
        )
    if ball.diameter_mm < s.min_ball_diameter_mm - 1e-6:
        yield finding(
            "ball-size",
            "refused",
            "ball",
            f"ball {say(ball.diameter_mm)}",
            f"the head comes in to {say(s.min_ball_diameter_mm)}",
            "Lower attachment.min_ball_diameter",
        )
    if found.cross_slide_mm < s.clearance_mm - 1e-6:
        yield finding(
            "cross-slide",
            "refused",
            "lathe.spindle_over_cross_slide",
            f"{found.cross_slide_by.name} clears the cross slide by {say(found.cross_slide_mm)}",
            f"needs {say(s.clearance_mm)}",
            "Turn a smaller ball, or let pommel choose the sizes",
        )
    if found.beside_mm < s.clearance_mm - 1e-6:
        yield finding(
            "beside-blank",
            "refused",
            "ball" if ball.name not in ("largest", "smallest") else "attachment.sizes.arm_overhang",
            f"the body clears the blank by {say(found.beside_mm)}",
            f"needs {say(s.clearance_mm)}",
            f"Use a blank of at most {say(2 * (s.arm_overhang_mm - s.clearance_mm))}, or raise"
            " attachment.max_blank_diameter",
        )
    if found.reaching_bit_mm is not None:
        yield finding(
            "sweep",
            "warning",
            "attachment.sizes.bit_stickout",
            f"the {found.end_limit} ends the sweep at {found.end_deg:.0f} deg",
            f"the tip meets the stem at {found.neck_deg:.0f} deg",
            f"Set the bit out {say(found.reaching_bit_mm + 0.05)} for this ball, or use a thinner"
            " stem",
        )
    slender = (found.stick_out_mm + ball.diameter_mm / 2) / ball.blank_mm
    if slender > MOST_STICK_OUT and job.turning.tailstock_centre is None:
        yield finding(
            "stick-out",
            "note" if ball.name == "smallest" else "warning",
            "ball",
            f"the blank sticks out {say(found.stick_out_mm + ball.diameter_mm / 2)}",
            f"{slender:.1f} of its diameters, more than {MOST_STICK_OUT:g}",
            "Hold a thicker blank, or rough it with the tailstock up",
        )
