"""Whether a side that a dial counts from lies beside the cut, so far from its middle as is said.

A cutter or a rod comes down beside the cut and touches what stands there: in a notch its floor, not the
side of the bar beyond it (common practice). Imported by planner.walking.cutting.
"""

from __future__ import annotations

import re
from itertools import product

import numpy as np

from parts import features as f
from parts.frame import Box
from planner.walking.doing import Doing
from planner.walking.said import SIZE, value
from planner.walking.shape import NEAR_MM, Metal, even

SIDE = re.compile(r"touched on the (\S+)'s ([+-])([xyz]) side")

DRAWN = re.compile(rf"(?:in by |\(){SIZE}(?: = {SIZE})? as drawn")
"""How far in the cut's middle lies from that side, as the drawing has it."""

WITHIN_MM = 0.05
"""Twice the slip of paper: nearer nothing is found so (common practice)."""


def side_touched(do: Doing, feature: f.Feature | None, inch: bool) -> None:
    """The touched side is there, beside the cut, so far from the cut's middle as the step says."""
    said = str(do.operation.get("text") or "")
    side, drawn, place = SIDE.search(said), DRAWN.search(said), _place(feature)
    if not side or not drawn or place is None:
        return
    i, sign = "xyz".index(side[3]), 1 if side[2] == "+" else -1
    bodies = [body for body in do.piece.metal.bodies if body.name in (side[1], "")]
    at = _beside(Metal(bodies), place, i, sign)
    there = sign * (at - (place.low[i] + place.high[i]) / 2) if at is not None else 0.0
    far = value(drawn[2] or drawn[1]) * (25.4 if inch else 1.0)
    if abs(there - far) > WITHIN_MM:
        do.faults.refuse(
            "route-words",
            f'"{side[0]}", {do.faults.mm(far)} in',
            f"beside the cut that side lies {do.faults.mm(there)} from its middle",
            "Count from the side that the cutter comes to there",
        )


def _place(feature: f.Feature | None) -> Box | None:
    """Where a slot, a slit or a hole lies."""
    if isinstance(feature, f.MilledSlot | f.Slit):
        return feature.box
    if not isinstance(feature, f.Bore | f.ReamedHole | f.DrilledHole):
        return None
    ends = (feature.axis.origin, feature.axis.at(feature.depth_mm))
    half = feature.diameter.min_mm / 2
    along = max(range(3), key=lambda k: abs(ends[1][k] - ends[0][k]))
    wide = [0.0 if k == along else half for k in range(3)]
    low, high = (
        tuple(pick(one[k] for one in ends) + way * wide[k] for k in range(3))
        for pick, way in ((min, -1), (max, 1))
    )
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _beside(metal: Metal, place: Box, i: int, sign: int) -> float | None:
    """Where the metal beside a cut ends in a direction; None where there is none."""
    across = [k for k in range(3) if k != i]
    grid = list(product(*(even(place.low[k] + 0.1, place.high[k] - 0.1, 7) for k in across)))
    edges = {e for body in metal.bodies for one in body.regions for e in one.edges(i)}
    for edge in sorted(edges, reverse=sign > 0):
        points = np.empty((len(grid), 3))
        points[:, across] = grid
        points[:, i] = edge - sign * 2 * NEAR_MM
        if metal.has(points).any():
            return edge
    return None
