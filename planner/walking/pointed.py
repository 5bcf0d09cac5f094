"""A twist drill's point goes deeper than its lips: nothing is there that the finished part keeps.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

import numpy as np

from planner.walking.doing import Doing
from planner.walking.piloted import piloted
from planner.walking.records import number
from planner.walking.shape import Line, Points, even

POINT = 0.3
"""A drill's point is so much of its size long (118 degrees: half over the tangent of 59)."""

ROUND = (0.15, 0.5, 0.85)
"""Metal is looked for at so much of the cone's radius."""


def drilled(do: Doing) -> None:
    """What a drill is asked: is there a hole for a thick one, is its point in nothing that stays.

    Raises Missing."""
    piloted(do)
    pointed(do)


def pointed(do: Doing) -> None:
    """The depth of a hole is counted to the drill's lips, the cone of its point lies beyond. Raises
    Missing."""
    cut = do.cut
    if do.kind != "drill" or cut.line is None or cut.shape != "hole":
        return
    size = number(do.tool, "diameter_mm")
    cone = _cone(cut.line, cut.high if cut.line.sign > 0 else cut.low, size)
    metal = do.piece.metal.has(cone)
    lost = metal & do.piece.kept.has(cone)
    if lost.sum() > 2:
        do.faults.refuse(
            "route-spoils",
            f"the point of a drill of {do.faults.mm(size)}",
            f"{do.faults.mm(POINT * size)} past its lips it comes into metal that the part keeps",
            "Drill it so much less deep, and make its bottom flat by a flat drill",
        )


def _cone(line: Line, lips: float, size: float) -> Points:
    """Points within the cone that a drill's point leaves beyond its lips."""
    points = []
    for share in even(0.1, 0.9, 5):
        at = lips + line.sign * POINT * size * share
        half = size / 2 * (1.0 - share)
        points.append(line.cloud([at], [half * part for part in ROUND], 12))
    return np.concatenate(points)
