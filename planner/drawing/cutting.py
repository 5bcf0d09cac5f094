"""Where sections are cut: their lines and letters in the view that sees the cut edge-on.

Imported by layout.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.drawing.beside import CUT_MM, TAIL_MM, Beside
from planner.drawing.choose import View
from planner.drawing.lanes import Side
from planner.drawing.model import Item, Line, Text
from planner.drawing.strokes import arrow, direction_deg

SECTION_MM = 5.0
"""Height of a section's letters."""

BEYOND_MM = 3.5
"""How far beyond a view without lanes its line begins."""


def cutting(beside: list[Beside], scale: float) -> Iterator[Item]:
    """For each section its letters, and where it is cut in a view that sees the cut edge-on."""
    letters = iter("ABCDEF")
    for cut in beside:
        other = seen_edge_on(cut, beside)
        if cut.view.at_mm is None or other is None:
            continue
        letter = next(letters)
        left, _, right, top = cut.outline.span
        middle = cut.at(((left + right) / 2, top), scale)
        above = cut.far("above") + (CUT_MM + 4.0 if cut.cut_upright else 0.0)
        yield Text((middle[0], middle[1] + above + 1.0), f"{letter}–{letter}", SECTION_MM, "middle")
        yield from _cut_line(cut.view, other, scale, letter)


def seen_edge_on(cut: Beside, beside: list[Beside]) -> Beside | None:
    """The view in which a cut is seen edge-on, one from outside before a section."""
    others = [one for one in beside if one is not cut and one.view.depth != cut.view.depth]
    return next((one for one in others if one.view.at_mm is None), next(iter(others), None))


def _cut_line(cut: View, other: Beside, scale: float, letter: str) -> Iterator[Item]:
    """Short strokes beyond the view and its lanes, arrows the way one looks, letters beside them."""
    outline = other.outline
    assert cut.at_mm is not None
    point = [0.0, 0.0, 0.0]
    point[cut.depth] = cut.at_mm
    u, v = other.at(outline.flat((point[0], point[1], point[2])), scale)
    left, low, right, top = outline.span
    (x0, y0), (x1, y1) = other.at((left, low), scale), other.at((right, top), scale)
    way = outline.flat((-cut.towards[0], -cut.towards[1], -cut.towards[2]))
    level = cut.depth == other.view.upright
    sides: tuple[Side, Side] = ("left", "right") if level else ("below", "above")
    beyond = [other.far(side) if other.lanes[side] else BEYOND_MM for side in sides]
    for out, edge, far in ((-1, (x0, y0), beyond[0]), (1, (x1, y1), beyond[1])):
        near = edge[0] + out * far if level else edge[1] + out * far
        start = (near, v) if level else (u, near)
        end = (near + out * CUT_MM, v) if level else (u, near + out * CUT_MM)
        yield Line(start, end, "visible")
        tail = (end[0] - TAIL_MM * way[0], end[1] - TAIL_MM * way[1])
        yield Line(tail, end, "thin")
        yield arrow(end, direction_deg(tail, end))
        x = tail[0] + (0.0 if level else -way[0] * 3.5)
        y = tail[1] + (-way[1] * 2.0 - (SECTION_MM if way[1] > 0 else 0.0) if level else -2.5)
        yield Text((x, y), letter, SECTION_MM, "middle")
