"""A hollow in its blank as SVG: face, mouth, depth, the pivot before the face and some of the passes.

Black on white. Imported by the build; works nothing out but where lines go.
"""

from __future__ import annotations

from math import acos, cos, degrees, radians, sin

from planner.job.tables import Job
from planner.output.pictures.marks import ROW_MM, TITLE, WORDS, cross, rows, wrapped
from planner.output.pictures.svg import THICK, THIN, Sheet
from planner.turning.model import SocketPlan

CHAIN, AXIS = "6 1 1 1 1 1", "8 1.5 1 1.5"
APART_MM = 1.2
"""On the paper: passes are drawn no closer together than this."""

SCALES = ((2.0, "2:1"), (1.0, "1:1"), (0.5, "1:2"), (0.2, "1:5"), (0.1, "1:10"))
"""Of the scales of ISO 5455 the largest is taken that goes on the page."""

WIDE_MM = 112.0
"""So wide is drawn what lies from the jaws to the pivot, so that it goes in the book's text."""

PAST_DEG = 5.0
"""So far past the mouth the sphere goes on."""


def hollow_svg(plan: SocketPlan, job: Job) -> str:
    """One hollow from the front, chuck left: jaws, blank, the cap that is taken out, the pivot."""
    shape, numbers = plan.shape, job.numbers
    wide = plan.out_mm + shape.pivot_mm
    scale, said = next((one for one in SCALES if one[0] * wide <= WIDE_MM), SCALES[-1])
    sheet, blank = Sheet(), scale * plan.ball.blank_mm / 2
    jaws, pivot = -scale * plan.out_mm, scale * shape.pivot_mm
    mouth, radius = scale * shape.mouth_radius_mm, scale * shape.radius_mm

    cap = _arc(pivot, radius, -shape.end_deg, shape.end_deg)
    work = [(jaws, -blank), (0.0, -blank), *cap, (0.0, blank), (jaws, blank)]
    sheet.path(work, THICK, fill="url(#work)", closed=True)
    sheet.path([(0.0, -mouth), (0.0, mouth)], THIN, "3 1.5")
    for side in (1, -1):
        past = (side * shape.end_deg, side * (shape.end_deg + PAST_DEG))
        sheet.path(_arc(pivot, radius, *past), THIN, CHAIN)
        tall = blank + 12.0
        jaw = [(jaws - 10, side * tall), (jaws, side * tall)]
        jaw += [(jaws, side * blank), (jaws - 10, side * blank)]
        sheet.path(jaw, THICK, fill="url(#steel)", closed=True)
    _passes(sheet, plan, scale)
    sheet.path([(jaws - 14, 0.0), (pivot + 10, 0.0)], THIN, AXIS)
    cross(sheet, (pivot, 0.0), 4.0)

    sheet.path([(pivot, 0.0), (0.0, mouth)], THIN)
    sheet.text(0.6 * pivot, 0.4 * mouth + 3, f"radius {numbers.radius(shape.radius_mm)}", WORDS)
    sheet.path([(6.0, -mouth), (6.0, mouth)], THIN)
    for side in (1, -1):
        sheet.path([(0.0, side * mouth), (8.0, side * mouth)], THIN)
    across = f"mouth {numbers.dial(2 * shape.mouth_radius_mm)}"
    sheet.text(9.0, min(-mouth / 2, -2.0 - WORDS), across, WORDS)
    low = -max(blank, mouth) - 3
    for row, (z0, z1, words) in enumerate(
        (
            (0.0, pivot, f"pivot {numbers.radius(shape.pivot_mm)} before the face"),
            (-scale * shape.depth_mm, 0.0, f"{numbers.radius(shape.depth_mm)} deep"),
            (jaws, 0.0, f"{numbers.rule_up(plan.out_mm)} or so out of the jaws"),
        )
    ):
        line = low - 5 - 10 * row
        sheet.path([(z0, line), (z1, line)], THIN)
        for z in (z0, z1):
            sheet.path([(z, low), (z, line - 1.5)], THIN)
        sheet.text(max(z0, 0.0) + 2, line - 1.5 - WORDS, words, WORDS)

    ball = plan.ball
    title = (
        f"{job.name}: {ball.name}, hollow of {numbers.size(2 * shape.radius_mm)}, {ball.material}"
    )
    first = plan.passes[0].radius_mm if plan.passes else shape.pivot_mm
    told = wrapped(
        f"scale {said}; hatched: the work; arcs: some of the {len(plan.passes)} passes, tip radius"
        f" {numbers.radius(first)} out to {numbers.radius(shape.radius_mm)}; each is swung in by the"
        f" mouth's edge to the axis, the last over {numbers.angle(shape.end_deg)}"
    )
    left, top = sheet.left, sheet.top + 8
    names = wrapped(title)
    rows(sheet, (left, top + ROW_MM * (len(told) - 1)), told)
    for row, name in enumerate(reversed(names)):
        sheet.text(left, top + ROW_MM * (len(told) + row) + 2, name, TITLE)
    return sheet.svg(title)


def _passes(sheet: Sheet, plan: SocketPlan, scale: float) -> None:
    """The passes before the last, as far as one is told from the next."""
    pivot, whole = scale * plan.shape.pivot_mm, scale * plan.shape.radius_mm
    drawn = pivot
    for one in plan.passes:
        tip = scale * one.radius_mm
        if tip < drawn + APART_MM or tip > whole - APART_MM:
            continue
        drawn = tip
        end = degrees(acos(pivot / tip))  # at the face
        sheet.path(_arc(pivot, tip, -end, end), THIN)


def _arc(
    pivot: float, radius: float, start_deg: float, end_deg: float
) -> list[tuple[float, float]]:
    """Points about the pivot, degrees from straight at the chuck, up where they grow."""
    turns = [radians(start_deg + (end_deg - start_deg) * i / 60) for i in range(61)]
    return [(pivot - radius * cos(turn), radius * sin(turn)) for turn in turns]
