"""The bottom of a blind hole: what stands behind it stays whole, and a bar comes to its middle.

Imported by planner.walking.reach.
"""

from __future__ import annotations

from math import radians, tan

import numpy as np

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.records import number
from planner.walking.shape import even

POINT_DEG = 118.0
"""The angle of a drill's point (common practice)."""

WITHIN_MM = 0.3
"""A bottom is looked at so far before it, and the metal behind it as far behind."""

PARTS = (0.15, 0.35, 0.55, 0.75)
"""A point is looked at so far along it."""

MOST = 2
"""Of the points looked at no more may lie in what the part keeps: a drill is stopped by hand."""


def point_stays(do: Doing) -> None:
    """A drill's point goes past the depth that is said, but into nothing that the part keeps.

    Raises Missing.
    """
    cut = do.cut
    if do.kind != "drill" or cut.line is None or cut.shape != "hole":
        return
    size, line = number(do.tool, "diameter_mm"), cut.line
    long = size / 2 / tan(radians(POINT_DEG / 2))
    bottom = cut.high if line.sign > 0 else cut.low
    spoiled = 0
    for part in PARTS:
        radius = size / 2 * (1 - part) * 0.9
        points = line.cloud([bottom + line.sign * long * part], [radius / 3, radius], 12)
        points = points[do.piece.metal.has(points)]
        spoiled += int(do.piece.kept.has(points).sum()) if len(points) else 0
    if spoiled > MOST:
        do.faults.refuse(
            "route-spoils",
            f"the point of a drill of {do.faults.mm(size)}",
            f"it goes {do.faults.mm(long)} past its full size, into metal that the finished part keeps",
            "Stop it with its point at the bottom, and flatten that by a flat drill or a bar",
        )


def middle_reached(do: Doing) -> None:
    """A bar in a blind bore has no room to bring its bit to a middle that is not drilled away.

    Raises Missing.
    """
    cut, feature = do.cut, do.piece.features.get(str(do.operation.get("feature") or ""))
    if do.kind != "bore" or cut.line is None or not isinstance(feature, f.Bore) or feature.through:
        return
    line, thick = cut.line, number(do.tool, "diameter_mm")
    way = line.sign
    bottom = cut.high if way > 0 else cut.low
    metal = do.piece.metal
    behind = line.cloud([bottom + way * WITHIN_MM], [0.05, cut.radius / 2], 12)
    if not metal.has(behind).any():
        return
    radii = even(0.05, cut.radius - 0.05, 40)
    there = metal.has(line.cloud([bottom - way * WITHIN_MM], radii, 12)).reshape(-1, 12).any(axis=1)
    first = int(np.argmax(there)) if there.any() else len(radii) - 1
    room = cut.radius + radii[first]
    if there.any() and thick > room + 0.05:
        do.faults.refuse(
            "route-tool-reach",
            f"a bar of {do.faults.mm(thick)} with its bit {do.faults.mm(radii[first])} from the middle",
            f"{do.faults.mm(room)} from there to the bore's other wall",
            "Take the middle of its bottom out first with a flat drill, or take a thinner bar",
        )
