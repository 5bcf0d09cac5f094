"""Pictures of the turning, as SVG: the ball in its blank with steps and passes; the error magnified.

Black on white. Imported by the build; works nothing out but where lines go.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, degrees, hypot, radians, sin

from parts.standard.threads import thread
from planner.geometry.ball import Setting, point_radius_mm
from planner.job.tables import Job
from planner.output.pictures.marks import ROW_MM, TITLE, WORDS, rows, wrapped
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet
from planner.turning.model import BallPlan

CHAIN, DASH = "6 1 1 1 1 1", "3 1.5"
APART_MM = 1.0
"""Passes are drawn no closer together than this."""

SHOWN = 0.12
"""Part of the ball's radius that the error is magnified to."""


def turning_svg(plan: BallPlan, job: Job) -> str:
    """One ball from the front, chuck left: blank, roughing steps, passes, ball and stem, to scale."""
    ball, radius = plan.ball, plan.ball.radius_mm
    sheet, blank = Sheet(), plan.ball.blank_mm / 2
    jaws = radius - plan.blank_length_mm
    relief = min((part.z_from_mm for part in plan.roughing.profile), default=0.0)
    across = job.numbers.size(2 * radius)

    for side in (1, -1):
        behind = [(jaws, 0.0), (jaws, blank), (relief, blank)] if relief > jaws else []
        steps = [(z, side * y) for z, y in (*behind, *_steps(plan))]
        sheet.path(steps, MIDDLE, fill="url(#work)", closed=True)
    sheet.path(
        [(jaws, blank), (radius, blank), (radius, -blank), (jaws, -blank)],
        THIN,
        CHAIN,
        closed=True,
    )
    end = plan.sweep.limits_deg(radius)[1]
    white = [_at(radius, end * i / 90) for i in range(91)]  # the nose is swung too, a centre or not
    sheet.path([*white, *((z, -y) for z, y in reversed(white))], THICK, fill="#fff", closed=True)
    if ball.behind:
        sheet.path(_piece_behind(plan), THICK)
    if ball.spec.hole or ball.spec.thread:
        size = ball.spec.hole or thread(ball.spec.thread or "").major_mm
        bore = size / 2
        deep = radius - (ball.spec.hole_depth or 2 * radius)
        for side in (1, -1):
            sheet.path([(radius, side * bore), (max(deep, -radius), side * bore)], MIDDLE, DASH)
    drawn = plan.first_mm + APART_MM
    for one in plan.passes:
        tip = one.cut.taken.radius_mm
        if tip > drawn - APART_MM or tip <= radius:
            continue  # too close to the last to be told from it; the ball itself is drawn
        drawn = tip
        low, high = one.cut.swing_deg
        sheet.path([_at(tip, low + (high - low) * i / 90) for i in range(91)], THIN)
    for side in (1, -1):
        tall = blank + 0.5 * radius
        sheet.path(
            [(jaws - 10, side * tall), (jaws, side * tall), (jaws, side * blank),
             (jaws - 10, side * blank)],
            THICK,
            fill="url(#steel)",
            closed=True,
        )  # fmt: skip
    sheet.path([(jaws - 14, 0), (radius + 12, 0)], THIN, "8 1.5 1 1.5")
    sheet.path([(0, 1.15 * plan.first_mm), (0, -blank - 16)], THIN, "8 1.5 1 1.5")
    low_edge = -blank - 8
    for z0, z1, legend, lower in (
        (0.0, radius, f"set-over {job.numbers.radius(radius)}", ROW_MM),
        (jaws, 0.0, f"{job.numbers.rule_up(-jaws)} to the jaws", 0.0),
    ):
        sheet.path([(z0, low_edge - 4), (z1, low_edge - 4)], THIN)
        for z in (z0, z1):
            sheet.path([(z, low_edge), (z, low_edge - 6)], THIN)
        sheet.text((z0 + z1) / 2, low_edge - 12 - lower, legend, WORDS, "middle")
    title = f"{job.name}: {ball.name}, {across} {ball.spec.shape}, {ball.material}"
    top = max(sheet.top, blank) + 8
    left = sheet.left
    told = wrapped(
        f"dash and dots: the blank; hatched: after {len(plan.roughing.steps)} roughing steps;"
        f" arcs: some of the {len(plan.passes)} passes, tip radius"
        f" {job.numbers.radius(plan.first_mm)} down to {job.numbers.radius(radius)}"
    )
    sheet.text(left, top + ROW_MM * len(told) + 2, title, TITLE)
    rows(sheet, (left, top + ROW_MM * (len(told) - 1)), told)
    return sheet.svg(title)


def _at(radius_mm: float, polar_deg: float) -> tuple[float, float]:
    a = radians(polar_deg)
    return radius_mm * cos(a), radius_mm * sin(a)


def _piece_behind(plan: BallPlan) -> list[tuple[float, float]]:
    """The outline of what is left behind the ball, to where it is parted off and back."""
    behind, neck = plan.behind, plan.ball.stem_mm / 2
    small, large = (behind.small_mm / 2, behind.large_mm / 2) if behind.length_mm else (neck, neck)
    near, far = -plan.clearance.shoulder_mm, -max(plan.part_off_mm, plan.clearance.shoulder_mm)
    return [(near, small), (far, large), (far, -large), (near, -small)]


def _steps(plan: BallPlan) -> Iterator[tuple[float, float]]:
    """The upper outline of the roughed work, from the axis at the wall to the axis at the end."""
    profile = plan.roughing.profile
    yield profile[0].z_from_mm, 0.0
    for part in profile:
        yield part.z_from_mm, part.radius_mm
        yield part.z_to_mm, part.radius_mm
    yield profile[-1].z_to_mm, 0.0


def error_svg(plan: BallPlan, job: Job, skew_mm: float, offset_mm: float) -> str:
    """The shape that a skew and an offset give one ball, magnified, beside the true circle.

    skew_mm, offset_mm: of the pivot and of the tip plane, as the error budget has them.
    """
    radius, numbers = plan.ball.radius_mm, job.numbers
    place = Setting(skew_mm, offset_mm)
    start, end = plan.sweep.limits_deg(radius)
    off = [
        (a, point_radius_mm(radius, place, a) - radius)
        for a in (start + (end - start) * i / 120 for i in range(121))
    ]
    greatest = max(abs(value) for _, value in off) or 1.0
    times = _round_down(SHOWN * radius / greatest)
    sheet = Sheet()
    line = [_at(radius + times * value, a) for a, value in off]
    true = [_at(radius, start + (end - start) * i / 120) for i in range(121)]
    for side in (1, -1):
        sheet.path([(z, side * y) for z, y in true], THIN, DASH)
        sheet.path([(z, side * y) for z, y in line], THICK)
    pip = hypot(offset_mm, max(0.0, skew_mm))
    sheet.path([(radius, times * pip / 10), (radius, -times * pip / 10)], THICK)
    sheet.path([(-1.2 * radius, 0), (1.2 * radius, 0)], THIN, "8 1.5 1 1.5")
    equator = point_radius_mm(radius, place, 90.0) - point_radius_mm(radius, place, start)
    title = f"{job.name}: {plan.ball.name}, error magnified {times:g} times"
    top = max(sheet.top, 1.2 * radius) + 8
    left = -1.2 * radius
    words = (
        title,
        f"pivot {numbers.micrometer(skew_mm)} off the spindle: the equator stands"
        f" {numbers.micrometer(equator)} over the nose (firm; dashes: true)",
        f"tip plane {numbers.micrometer(offset_mm)} off: a pip {numbers.micrometer(2 * pip)}"
        " across at the nose, the sphere stays",
    )
    for row, (text, size) in enumerate(zip(words, (5.0, 3.2, 3.2), strict=True)):
        sheet.text(left, top + 10 - 5 * row, text, size)
    neck = plan.clearance.shoulder_mm
    if plan.ball.behind:
        for side in (1, -1):
            stem = side * plan.ball.stem_mm / 2
            sheet.path([(-neck, stem), (-1.2 * radius, stem)], MIDDLE)
    low = -radius - times * greatest - 5.0
    sheet.text(
        0.0,
        min(low, -1.25 * radius),
        f"swing {numbers.angle(degrees(radians(end)))}",
        3.2,
        "middle",
    )
    return sheet.svg(title)


def _round_down(times: float) -> float:
    """To 1, 2 or 5 times a power of ten, at least 1."""
    step = 1.0
    best = 1.0
    while step <= times:
        for part in (1.0, 2.0, 5.0):
            if part * step <= times:
                best = part * step
        step *= 10
    return best
