"""Where things sit: points, axis directions and right-angled frames, in millimetres.

Every part of the attachment is square to its neighbours, so a direction is one of six words
("+x" ... "-z") and a frame is an origin and two of them. Anything may import this module.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

from parts.value import Value

Point = tuple[float, float, float]
Direction = Literal["+x", "-x", "+y", "-y", "+z", "-z"]

ORIGIN: Point = (0.0, 0.0, 0.0)


_VECTORS: dict[str, Point] = {
    f"{sign}{letter}": tuple(value if other == letter else 0.0 for other in "xyz")  # type: ignore[misc]
    for sign, value in (("+", 1.0), ("-", -1.0))
    for letter in "xyz"
}


def vector(direction: Direction) -> Point:
    """The unit vector of a direction word."""
    return _VECTORS[direction]


def cross(a: Point, b: Point) -> Point:
    """The vector product a x b."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def shifted(point: Point, direction: Direction, distance_mm: float) -> Point:
    """The point moved by ``distance_mm`` along a direction."""
    u = vector(direction)
    return (
        point[0] + u[0] * distance_mm,
        point[1] + u[1] * distance_mm,
        point[2] + u[2] * distance_mm,
    )


class Axis(Value, frozen=True):
    """A directed line: a hole's entry point and the way it goes, or a lathe axis."""

    origin: Point = ORIGIN
    along: Direction = "+x"

    def at(self, distance_mm: float) -> Point:
        """The point ``distance_mm`` along the axis from its origin."""
        return shifted(self.origin, self.along, distance_mm)


@cache
def _directions(x: Direction, z: Direction) -> tuple[Point, Point, Point]:
    across = cross(vector(z), vector(x))
    return vector(x), across, vector(z)


class Frame(Value, frozen=True):
    """A right-handed frame in its parent: where its origin is, where its x and z axes point."""

    origin: Point = ORIGIN
    x: Direction = "+x"
    z: Direction = "+z"

    def __post_init__(self) -> None:
        if self.x[1] == self.z[1]:
            raise ValueError(f"frame axes x={self.x} and z={self.z} must be square to each other")

    def directions(self) -> tuple[Point, Point, Point]:
        """The frame's x, y and z unit vectors in its parent."""
        return _directions(self.x, self.z)

    def turned(self, along: int) -> int:
        """The parent's axis that one of the frame's lies along: 0, 1 or 2 for x, y or z."""
        direction = self.directions()[along]
        return next(i for i in range(3) if direction[i] != 0.0)

    def place(self, point: Point) -> Point:
        """A point given in this frame, expressed in the parent."""
        x, y, z = self.directions()
        return (
            self.origin[0] + x[0] * point[0] + y[0] * point[1] + z[0] * point[2],
            self.origin[1] + x[1] * point[0] + y[1] * point[1] + z[1] * point[2],
            self.origin[2] + x[2] * point[0] + y[2] * point[1] + z[2] * point[2],
        )


class Box(Value, frozen=True):
    """An upright box between two corners, each coordinate of ``low`` below that of ``high``.

    One with a coordinate the other way round has no inside; a part with such a box is refused.
    """

    low: Point
    high: Point

    @property
    def empty(self) -> bool:
        """Whether it has no inside."""
        return any(lo >= hi for lo, hi in zip(self.low, self.high, strict=True))

    def size(self) -> Point:
        """Its three edge lengths."""
        return (
            self.high[0] - self.low[0],
            self.high[1] - self.low[1],
            self.high[2] - self.low[2],
        )

    def corners(self) -> tuple[Point, ...]:
        """Its eight corners."""
        ends = (self.low, self.high)
        return tuple(
            (ends[i][0], ends[j][1], ends[k][2]) for i in (0, 1) for j in (0, 1) for k in (0, 1)
        )

    def placed(self, frame: Frame) -> Box:
        """The same box in the frame's parent."""
        points = [frame.place(corner) for corner in (self.low, self.high)]
        return Box(
            (
                min(p[0] for p in points),
                min(p[1] for p in points),
                min(p[2] for p in points),
            ),
            (
                max(p[0] for p in points),
                max(p[1] for p in points),
                max(p[2] for p in points),
            ),
        )
