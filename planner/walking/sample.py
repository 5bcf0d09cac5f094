"""Points that are looked at together, and how far they lie from the axes asked about.

Imported by planner.walking.shape.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from parts.frame import Point

Points = NDArray[np.float64]
Truth = NDArray[np.bool_]

Distances = tuple[NDArray[np.float64], float, float]
"""Squared distances from an axis, the least and the most of them, mm²."""


def others(along: int) -> tuple[int, int]:
    """The two directions across one."""
    return ((1, 2), (2, 0), (0, 1))[along]


def squares(points: Points, along: int, centre: Point) -> NDArray[np.float64]:
    """Squared distances of points from the line through a centre, mm²."""
    j, k = others(along)
    a, b = points[:, j] - centre[j], points[:, k] - centre[k]
    a *= a
    b *= b
    a += b
    return a


class Sample:
    """Some points, mm; low, high: two corners of an upright box round them."""

    def __init__(self, points: Points) -> None:
        self.points = points
        self.low: list[float] = np.minimum.reduce(points).tolist()
        self.high: list[float] = np.maximum.reduce(points).tolist()
        self._off: dict[tuple[int, float, float], Distances] = {}

    def off(self, along: int, centre: Point) -> Distances:
        """Their squared distances from the line through a centre; the two ends may be wide."""
        j, k = others(along)
        key = along, centre[j], centre[k]
        if key not in self._off:
            found = squares(self.points, along, centre)
            least, most = np.minimum.reduce(found), np.maximum.reduce(found)
            self._off[key] = found, float(least), float(most)
        return self._off[key]

    def keep(self, kept: Truth) -> None:
        """Leave out the others. The box and the ends stay as wide as they were."""
        self.points = self.points.T.compress(kept, axis=1).T
        for key, (found, least, most) in self._off.items():
            self._off[key] = found.compress(kept), least, most
