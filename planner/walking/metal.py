"""Metal as points in and points out: what is left of stock after cuts.

Nothing is meshed: a question is asked of sample points, many at once. Lengths in mm. Imported by the
rest of this room.
"""

from __future__ import annotations

from functools import cached_property
from math import sqrt

import numpy as np
from msgspec import Struct, field

from parts.frame import Frame, Point
from planner.walking.shape import (
    NEAR_MM,
    Line,
    OffBall,
    Points,
    Region,
    Ring,
    Truth,
    even,
    others,
)


def _pits(body: Body, along: int) -> list[float]:
    """Radii of the holes in a ball's pole: a centre that it was turned on."""
    if not any(isinstance(one, OffBall) for one in body.cuts):
        return []
    return [o.outer for o in body.cuts if isinstance(o, Ring) and o.along == along and not o.inner]


def rims(body: Body, along: int) -> list[float]:
    """Radii just outside those holes."""
    return [pit + 2 * NEAR_MM for pit in _pits(body, along)]


def _mouths(body: Body, along: int) -> list[float]:
    """Where a ball ends whose pole has a hole in it: at the hole's rim."""
    balls = [one for one in body.cuts if isinstance(one, OffBall) and one.along == along]
    return [
        ball.middle[along] + sign * sqrt(ball.radius**2 - (pit + NEAR_MM) ** 2)
        for ball in balls
        for pit in _pits(body, along)
        if pit + NEAR_MM < ball.radius
        for sign in (-1, 1)
    ]


class Body(Struct, dict=True):
    """One piece of stock and what was cut from it before it was joined to others."""

    name: str
    stock: Region
    cuts: list[Region] = field(default_factory=list)

    def has(self, points: Points) -> Truth:
        """Which points are metal."""
        inside = self.stock.has(points)
        left = inside.nonzero()[0]
        if not left.size or not self.cuts:
            return inside
        metal = points.T.compress(inside, axis=1).T if left.size < len(points) else points
        low, high = np.minimum.reduce(metal).tolist(), np.maximum.reduce(metal).tolist()
        for cut in self.cuts:
            if cut.clear_of(low, high):
                continue
            gone = cut.has(metal)
            if np.count_nonzero(gone):
                inside[left[gone]] = False
                kept = ~gone
                left, metal = left[kept], metal.T.compress(kept, axis=1).T
                if not left.size:
                    break
        return inside

    def placed(self, frame: Frame) -> Body:
        """The same in the frame's parent."""
        return Body(self.name, self.stock.placed(frame), [cut.placed(frame) for cut in self.cuts])

    @property
    def regions(self) -> list[Region]:
        """The stock and the cuts."""
        return [self.stock, *self.cuts]


class Metal(Struct, dict=True):
    """Bodies that are one piece now; kept: what was found out of them since the last cut."""

    bodies: list[Body]

    def __post_init__(self) -> None:
        self.kept: dict[Line, tuple[object, ...]] = {}
        self.sided: dict[object, tuple[Points, Points]] = {}
        self._ends: dict[tuple[int, int, str], float | None] = {}

    def has(self, points: Points) -> Truth:
        """Which points are metal."""
        inside: Truth = np.zeros(len(points), dtype=bool)
        for body in self.bodies:
            inside |= body.has(points)
        return inside

    def at(self, *points: Point) -> list[bool]:
        """Whether each of some points is metal."""
        return [bool(one) for one in self.has(np.asarray(points, dtype=float))]

    def cut(self, region: Region) -> None:
        """Take a region away."""
        for body in self.bodies:
            body.cuts.append(region)
        self.kept.clear()
        self.sided.clear()
        self._ends = {key: at for key, at in self._ends.items() if self._stays(key[0], at, region)}

    def _stays(self, along: int, at: float | None, region: Region) -> bool:
        """Whether an end stays where it is when a region goes: the region does not come to it."""
        if at is None:
            return False
        low, high = (corner.tolist() for corner in self.box)
        low[along], high[along] = at - 4 * NEAR_MM, at + 4 * NEAR_MM
        return region.clear_of(low, high)

    @cached_property
    def box(self) -> tuple[Points, Points]:
        """Two corners of an upright box round the stock it was."""
        edges = [[body.stock.edges(i) for i in range(3)] for body in self.bodies]
        low = [min(min(one[i]) for one in edges) for i in range(3)]
        high = [max(max(one[i]) for one in edges) for i in range(3)]
        return np.asarray(low), np.asarray(high)

    def end(self, along: int, sign: int, name: str = "") -> float | None:
        """How far it reaches in a direction, all of it or one body; None where there is none."""
        key = (along, sign, name)
        if key not in self._ends:
            self._ends[key] = self._end(along, sign, name)
        return self._ends[key]

    def _end(self, along: int, sign: int, name: str) -> float | None:
        bodies = [body for body in self.bodies if not name or body.name == name]
        places = {edge for body in bodies for one in body.regions for edge in one.edges(along)}
        places |= {edge for body in bodies for edge in _mouths(body, along)}
        low, high = self.box
        fits = [p for p in places if low[along] - 1e-9 <= p <= high[along] + 1e-9]
        for place in sorted(fits, reverse=sign > 0):
            grid = self._disc(bodies, along, place - sign * NEAR_MM)
            inside = np.zeros(len(grid), dtype=bool)
            for body in bodies:
                inside |= body.has(grid)
            if inside.any():
                return place
        return None

    def _disc(self, bodies: list[Body], along: int, at: float) -> Points:
        """Points on a plane: about the axis of a bar that lies square to it, else a grid."""
        stock = bodies[0].stock
        if len(bodies) == 1 and isinstance(stock, Ring) and stock.along == along:
            radii = [0.1, *(stock.outer * part for part in (0.1, 0.2, 0.35, 0.55, 0.75, 0.9, 0.99))]
            radii += rims(bodies[0], along)
            return Line(along, 1, stock.centre).cloud([at], radii, 12)
        return self.sheet(along, at)

    def sheet(
        self, along: int, at: float, steps: int = 19, within: tuple[Point, Point] | None = None
    ) -> Points:
        """A grid of points on a plane, over all of the stock or what lies between two corners."""
        low, high = self.box
        if within is not None:
            low, high = np.maximum(low, within[0]), np.minimum(high, within[1])
        j, k = others(along)
        ways = [even(low[i] + NEAR_MM, high[i] - NEAR_MM, steps) for i in (j, k)]
        points = np.empty((3, steps, steps))
        points[along] = at
        points[j] = np.asarray(ways[0])[:, None]
        points[k] = ways[1]
        return points.reshape(3, -1).T
