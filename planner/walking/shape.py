"""Metal as points in and points out: simple regions, and what is left of stock after cuts.

Nothing is meshed: a question is asked of sample points, many at once. Lengths in mm. Imported by the
rest of this room.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache, cached_property
from math import cos, hypot, pi, sin, sqrt
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from parts.frame import Box, Frame, Point

Points = NDArray[np.float64]
Truth = NDArray[np.bool_]

FAR_MM = 1e4
"""Beyond any work: the outside of what a turning tool takes away."""

NEAR_MM = 0.02
"""Samples stand this far off a surface; records are rounded to a micrometre."""

ANGLES = 24
"""Directions about an axis in which round metal is looked at."""


def others(along: int) -> tuple[int, int]:
    """The two directions across one."""
    return ((1, 2), (2, 0), (0, 1))[along]


def even(low: float, high: float, many: int) -> list[float]:
    """So many numbers evenly between two, both ends among them."""
    step = (high - low) / (many - 1)
    return [low + step * n for n in range(many)]


class Region(Protocol):
    """A part of space with an inside."""

    def has(self, points: Points) -> Truth:
        """Which points lie inside."""

    def placed(self, frame: Frame) -> Region:
        """The same in the frame's parent."""

    def edges(self, along: int) -> tuple[float, ...]:
        """Where it begins and ends in a direction."""

    def clear_of(self, low: list[float], high: list[float]) -> bool:
        """Whether it surely has nothing between two corners."""


@dataclass(frozen=True)
class Ring:
    """What lies about an axis between two stations and two radii: a bar, a tube, a hole, a skin."""

    along: int
    centre: Point
    low: float
    high: float
    outer: float
    inner: float = 0.0

    def has(self, points: Points) -> Truth:
        """Which points lie inside."""
        j, k = others(self.along)
        at = points[:, self.along]
        square = (points[:, j] - self.centre[j]) ** 2 + (points[:, k] - self.centre[k]) ** 2
        inside: Truth = np.logical_and(at > self.low, at < self.high)
        inside &= square < self.outer**2
        if self.inner > 0:
            inside &= square >= self.inner**2
        return inside

    def placed(self, frame: Frame) -> Ring:
        """The same in the frame's parent."""
        ends = []
        for at in (self.low, self.high):
            point = list(self.centre)
            point[self.along] = at
            ends.append(frame.place((point[0], point[1], point[2])))
        along = frame.turned(self.along)
        low, high = sorted(end[along] for end in ends)
        return Ring(along, ends[0], low, high, self.outer, self.inner)

    def edges(self, along: int) -> tuple[float, ...]:
        """Where it begins and ends in a direction."""
        if along == self.along:
            return (self.low, self.high)
        at = self.centre[along]
        radii = [r for r in (self.outer, self.inner) if 0 < r < FAR_MM]
        return tuple(at + s * r for r in radii for s in (-1, 1))

    def clear_of(self, low: list[float], high: list[float]) -> bool:
        """Whether it surely has nothing between two corners."""
        if low[self.along] >= self.high or high[self.along] <= self.low:
            return True
        for i in others(self.along):
            at = self.centre[i]
            if low[i] > at + self.outer or high[i] < at - self.outer:
                return True
        return False


@dataclass(frozen=True)
class Block:
    """An upright box."""

    low: Point
    high: Point

    @staticmethod
    def of(box: Box) -> Block:
        """The same as a box of the parts."""
        return Block(box.low, box.high)

    def has(self, points: Points) -> Truth:
        """Which points lie inside."""
        inside: Truth = np.logical_and(points[:, 0] > self.low[0], points[:, 0] < self.high[0])
        for i in (1, 2):
            inside &= points[:, i] > self.low[i]
            inside &= points[:, i] < self.high[i]
        return inside

    def placed(self, frame: Frame) -> Block:
        """The same in the frame's parent."""
        return Block.of(Box(self.low, self.high).placed(frame))

    def edges(self, along: int) -> tuple[float, ...]:
        """Where it begins and ends in a direction."""
        return (self.low[along], self.high[along])

    def clear_of(self, low: list[float], high: list[float]) -> bool:
        """Whether it surely has nothing between two corners."""
        return any(low[i] >= self.high[i] or high[i] <= self.low[i] for i in range(3))


@dataclass(frozen=True)
class OffBall:
    """What a ball's turning takes: outside the sphere about ``middle``, between two stations."""

    along: int
    middle: Point
    radius: float
    low: float
    high: float

    def has(self, points: Points) -> Truth:
        """Which points lie inside."""
        at = points[:, self.along]
        square = ((points - np.asarray(self.middle)) ** 2).sum(axis=1)
        inside: Truth = (at > self.low) & (at < self.high) & (square > self.radius**2)
        return inside

    def placed(self, frame: Frame) -> OffBall:
        """The same in the frame's parent."""
        ring = Ring(self.along, self.middle, self.low, self.high, self.radius).placed(frame)
        return OffBall(ring.along, frame.place(self.middle), self.radius, ring.low, ring.high)

    def edges(self, along: int) -> tuple[float, ...]:
        """Where it begins and ends in a direction."""
        return (self.low, self.high) if along == self.along else ()

    def clear_of(self, low: list[float], high: list[float]) -> bool:
        """Whether it surely has nothing between two corners."""
        return bool(low[self.along] >= self.high or high[self.along] <= self.low)


@dataclass(frozen=True)
class Both:
    """What lies in two regions."""

    one: Region
    other: Region

    def has(self, points: Points) -> Truth:
        """Which points lie inside."""
        inside: Truth = self.one.has(points) & self.other.has(points)
        return inside

    def placed(self, frame: Frame) -> Both:
        """The same in the frame's parent."""
        return Both(self.one.placed(frame), self.other.placed(frame))

    def edges(self, along: int) -> tuple[float, ...]:
        """Where it begins and ends in a direction."""
        return (*self.one.edges(along), *self.other.edges(along))

    def clear_of(self, low: list[float], high: list[float]) -> bool:
        """Whether it surely has nothing between two corners."""
        return self.one.clear_of(low, high) or self.other.clear_of(low, high)


@dataclass(frozen=True)
class Line:
    """A line of the work: the direction it runs in, which way, and a point of it."""

    along: int
    sign: int
    through: Point

    def same(self, other: Line, within_mm: float = NEAR_MM) -> bool:
        """Whether another is the same line, whichever way it runs."""
        j, k = others(self.along)
        off = hypot(self.through[j] - other.through[j], self.through[k] - other.through[k])
        return self.along == other.along and off <= within_mm

    def point(self, at: float, radius: float = 0.0, turn: float = 0.0) -> Point:
        """The point at a coordinate along it, at a radius and an angle about it."""
        j, k = others(self.along)
        point = list(self.through)
        point[self.along] = at
        point[j] += radius * cos(turn)
        point[k] += radius * sin(turn)
        return (point[0], point[1], point[2])

    def cloud(self, stations: list[float], radii: list[float], angles: int = ANGLES) -> Points:
        """Points at every station, radius and angle, in that order."""
        j, k = others(self.along)
        cosine, sine = _turns(angles)
        radius = np.asarray(radii)[:, None]
        points = np.empty((3, len(stations), len(radii), angles))
        points[self.along] = np.asarray(stations)[:, None, None]
        points[j] = self.through[j] + radius * cosine
        points[k] = self.through[k] + radius * sine
        return points.reshape(3, -1).T


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


@cache
def _turns(angles: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Cosines and sines of as many directions; none of them along a face of square stock."""
    turns = 2 * pi * (np.arange(angles) + 0.31) / angles
    return np.cos(turns), np.sin(turns)


@dataclass
class Body:
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


@dataclass
class Metal:
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
