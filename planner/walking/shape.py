"""Simple regions of space, and lines of the work. Lengths in mm. Imported by the rest of this room."""

from __future__ import annotations

from functools import cache
from math import cos, hypot, pi, sin
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from parts.frame import Box, Frame, Point
from parts.value import Value

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


class Ring(Value, frozen=True):
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


class Block(Value, frozen=True):
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


class OffBall(Value, frozen=True):
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


class Both(Value, frozen=True):
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


class Line(Value, frozen=True):
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


@cache
def _turns(angles: int) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Cosines and sines of as many directions; none of them along a face of square stock."""
    turns = 2 * pi * (np.arange(angles) + 0.31) / angles
    return np.cos(turns), np.sin(turns)
