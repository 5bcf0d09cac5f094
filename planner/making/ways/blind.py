"""A hole with a flat bottom: no drill's point goes through it. Imported by making.across."""

from __future__ import annotations

from collections.abc import Sequence

from parts import features as f
from planner.making import cuts
from planner.making.model import Op, Tool
from planner.making.near import Span, way_of
from planner.making.ways.holes import POINT, Holes
from planner.making.ways.sunk import FLAT

LEAST_MM = 0.5
"""A drill's lips go so deep at least: else it is left to the flat drill."""


def flat_bottomed(made: Holes, feature: f.Hole, sizes: Sequence[float], span: Span) -> list[Op]:
    """Drill it, each drill in its turn: their points come as deep as the bottom and no deeper, a drill
    that is ground flat takes the cone that the last one leaves."""
    ops, deep, sign = [], abs(span[1] - span[0]), way_of(made.line.along)[1]
    for size in sizes:
        lips = deep - POINT * size
        if lips < LEAST_MM:
            continue
        op = made.drill(feature, size, (span[0], span[0] + sign * lips), False)
        said = f", {made.deep(feature, lips)} deep"
        op.text = op.text.replace(said, f", {made.deep(feature, deep)} deep at its point")
        ops.append(op)
    size = sizes[-1]
    owned = made.shop.has_drill(size)
    instead = "" if owned else "buy one, and grind its end flat"
    name = f"{FLAT} {made.numbers.tool(size)}"
    tool = Tool("counterbore", name, size, None, None, owned, instead)
    text = f"make the bottom of the {feature.name} flat, {made.deep(feature, deep)} deep"
    cut, speed = cuts.hole(made.line, span, size), ("counterbore", size)
    flat = Op("counterbore", text, tool, feature, False, cut, speed=speed, rate="counterbore")
    flat.length_mm = POINT * size
    return [*ops, flat]
