"""A blind bore's bottom: no drill's point goes past it, and a flat drill squares it in the middle.

Imported by making.across.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import radians, tan

from parts import features as f
from planner.making import cuts
from planner.making.model import Op, Tool
from planner.making.ways.holes import Holes, span_of
from planner.making.workshop import Workshop

POINT_DEG = 118.0
"""The angle of a drill's point (common practice)."""

LEAST_MM = 1.0
"""A drill goes in so deep at the least before its point is at the bottom, or is left out."""


def point_mm(drill_mm: float) -> float:
    """How far a drill's point reaches past its full diameter, mm."""
    return drill_mm / 2 / tan(radians(POINT_DEG / 2))


def drilled(made: Holes, one: f.Bore, sizes: Sequence[float], shop: Workshop) -> list[Op]:
    """Drill a blind bore by these drills, the thinnest first, and flatten its bottom.

    Each stops with its point at the bore's bottom: what stands behind it is whole. A flat drill, ground
    from one that the shop has, then takes the middle out, where a stout bar does not come.
    """
    ops = []
    for size in sizes:
        deep = shop.job.series.down(one.depth_mm - point_mm(size), 0.5)
        if deep >= LEAST_MM:
            op = made.drill(one, size, span_of(one, deep), False)
            op.text = op.text.replace(" deep", " deep, its point no deeper than the bore", 1)
            ops.append(op)
    owned = [size for size in sizes if shop.has_drill(size)]
    flat = min(owned or sizes)
    span = span_of(one, one.depth_mm)
    whole = shop.numbers.rule(one.depth_mm)
    ops.append(
        Op("counterbore", f"flatten the bottom of the {one.name}, {whole} deep",
           Tool("counterbore", f"flat drill {shop.numbers.size(flat)}", flat, owned=bool(owned),
                instead="" if owned else "grind one from a drill"), one,
           cut=cuts.hole(made.line, span, flat), speed=("counterbore", flat), rate="counterbore",
           length_mm=point_mm(flat))
    )  # fmt: skip
    if sizes[-1] > flat:
        full = shop.job.series.down(one.depth_mm - point_mm(sizes[-1]), 0.5)
        behind = (span_of(one, max(full, 0.0))[1], span[1])
        op = made.bored(one, flat, sizes[-1], behind, False, one.diameter.mean_mm - sizes[-1])
        op.tool = shop.boring_bar(flat, one.depth_mm)
        op.text += ", where the drill's point has left its bottom narrower"
        ops.append(op)
    return ops
