"""The dial's rim unrolled: where every line and numeral lies, for the sheet, the strip and the graver.

Seen from outside with the free end up: x runs along the rim as the numbers grow, to the right; y from
the graduated edge, beside the index ring, to the free end. Which way that is, dial.sense says.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from parts.value import Value
from planner.dial.design import OFF_LINE_MM, Dial, engraving_table
from planner.dial.digits import numeral_strokes
from planner.drawing.model import Point
from planner.dxf.drawing import (
    NARROW,
    TEXT_MM,
    WIDE,
    add_path,
    add_text,
    document,
    finish,
    repeatable,
)
from planner.dxf.paths import Chain, Extent, line_of


class RimLine(Value, frozen=True):
    """One line: its place as a part of a turn from line 0, how long it is, and its numeral, "" for
    none, as strokes: each from its line (x) and from the graduated edge (y), in mm."""

    number: int
    turn: float
    length_mm: float
    length_class: str
    numeral: str
    strokes: tuple[tuple[Point, ...], ...]


@lru_cache(maxsize=8)
def rim_lines(dial: Dial) -> tuple[RimLine, ...]:
    """Every line of the dial, 0 to divisions - 1. Numerals are read toward the graduated edge."""
    found = []
    for line in engraving_table(dial):
        # as where the dial is read: from the free end on the left to the index ring on the right
        strokes = numeral_strokes(
            line.numeral, -(dial.long_mm + OFF_LINE_MM), 0.0, dial.numeral_height_mm
        )
        found.append(
            RimLine(
                line.number,
                float(line.angle_exact_deg / 360),
                line.length_mm,
                line.length_class,
                line.numeral,
                tuple(tuple((up, -along) for along, up in stroke) for stroke in strokes),
            )
        )
    return tuple(found)


RIM_LAYERS = {
    "LINES": (7, "CONTINUOUS", NARROW),
    "NUMERALS": (5, "CONTINUOUS", NARROW),
    "RIM": (8, "CONTINUOUS", WIDE),
    "NOTE": (8, "CONTINUOUS", NARROW),
}
"""Layers of the graver's file: what is cut, and apart from it the rim's outline and what to know."""


def write_rim(
    path: Path, dial: Dial, around_mm: float, version: str = "R2010", inch: bool = False
) -> None:
    """Write the rim for a graver with a turning axle, or to be wrapped: DXF, 1:1.

    path: the file, whole or not at all. around_mm: along x for one turn, over 0: the rim's own girth,
    pi times its diameter. Line 0 stands at x = 0; LINES and NUMERALS are cut, RIM and NOTE are not.
    version: one of dxf.drawing: VERSIONS. inch: the file is in inches.
    Raises OSError when the file cannot be written.
    """
    high = dial.rim_width_mm
    note = (
        "Seen from outside, free end up, numbers grow to the right. x: along the rim, one turn between"
        " the upright lines of layer RIM. Cut layers LINES and NUMERALS only."
    )
    low = -2 * TEXT_MM
    with repeatable():
        doc = document(version, RIM_LAYERS, inch)
        space = doc.modelspace()
        for line in rim_lines(dial):
            x = line.turn * around_mm
            add_path(space, line_of((x, 0.0), (x, line.length_mm)), "LINES")
            for stroke in line.strokes:
                vertices = tuple((x + dx, y, 0.0) for dx, y in stroke)
                add_path(space, Chain(vertices, closed=False), "NUMERALS")
        for y in (0.0, high):
            add_path(space, line_of((0.0, y), (around_mm, y)), "RIM")
        for x in (0.0, around_mm):
            add_path(space, line_of((x, -TEXT_MM), (x, 0.0)), "RIM")
            add_path(space, line_of((x, high), (x, high + TEXT_MM)), "RIM")
        add_text(space, note, (0.0, low), TEXT_MM / 2, "NOTE")
        finish(doc, path, Extent(-TEXT_MM, low, around_mm + TEXT_MM, high + TEXT_MM), inch)
