"""What counts as one place or one axis, what lies between, which way a direction goes; lengths in mm.

Imported by making.bodies, making.profile, what plans pieces, and the ways.
"""

from __future__ import annotations

from collections.abc import Sequence

from parts import features as f
from parts.frame import Box, Point
from parts.places import SAME_MM

Span = tuple[float, float]
"""From where to where, the lower first."""


def same(one: float, other: float) -> bool:
    """Whether two coordinates are one place."""
    return abs(one - other) < SAME_MM


def below(one: float, other: float) -> bool:
    """Whether a coordinate is less than another, and not the same place."""
    return one < other - SAME_MM


def within(at: float, low: float, high: float) -> bool:
    """Whether a coordinate lies between two others, or on one of them."""
    return not (below(at, low) or below(high, at))


def ordered(one: float, other: float) -> Span:
    """Two coordinates as a span."""
    return min(one, other), max(one, other)


def overlap(one: Span, other: Span) -> bool:
    """Whether two spans have more than an end in common."""
    return below(one[0], other[1]) and below(other[0], one[1])


def outside(span: Span, gone: Span) -> list[Span]:
    """What is left of a span on either side of what is gone."""
    sides = ((span[0], min(span[1], gone[0])), (max(span[0], gone[1]), span[1]))
    return [side for side in sides if below(*side)]


def way_of(direction: str) -> tuple[int, int]:
    """The axis (0 to 2) that a direction runs along, and its sign: "-y" is (1, -1)."""
    return "xyz".index(direction[1]), {"+": 1, "-": -1}[direction[0]]


def against(direction: str) -> str:
    """The opposite direction."""
    return {"+": "-", "-": "+"}[direction[0]] + direction[1]


def middle(box: Box) -> Point:
    """The middle of a box."""
    x, y, z = ((low + high) / 2 for low, high in zip(box.low, box.high, strict=True))
    return x, y, z


def off_axis(one: Point, other: Point, along: int) -> bool:
    """Whether two points lie on different lines along an axis (0 to 2)."""
    return any(
        not same(a, b) for i, (a, b) in enumerate(zip(one, other, strict=True)) if i != along
    )


def in_metal(point: Point, direction: str) -> Point:
    """A point a millimetre farther in a direction: in the metal, where the first lies on its face."""
    i, sign = way_of(direction)
    return moved_to(point, i, point[i] + sign)


def moved_to(point: Point, i: int, at: float) -> Point:
    """A point with one coordinate changed."""
    x, y, z = (at if k == i else one for k, one in enumerate(point))
    return x, y, z


def face_of(box: Box, i: int, sign: int) -> float:
    """Where the face of a box lies that looks along an axis, up or down it."""
    return box.high[i] if sign > 0 else box.low[i]


def with_face(box: Box, i: int, sign: int, at: float) -> Box:
    """A box with that face moved to a place."""
    if sign > 0:
        return Box(box.low, moved_to(box.high, i, at))
    return Box(moved_to(box.low, i, at), box.high)


def looks(box: Box) -> str:
    """Which way the face looks that a line along x is scribed on, by the line's box: "+y"."""
    at = middle(box)
    i = max((1, 2), key=lambda k: abs(at[k]))
    return f"{'-' if at[i] < 0 else '+'}{'xyz'[i]}"


def on_axis(one: f.Hole, other: f.Hole) -> bool:
    """Whether two holes that go one way lie on one axis."""
    return not off_axis(one.axis.origin, other.axis.origin, way_of(one.axis.along)[0])


def same_way(one: f.Hole, other: f.Hole) -> bool:
    """Whether two holes go one way, or against each other."""
    return one.axis.along[1] == other.axis.along[1]


def stacks(group: Sequence[f.Hole]) -> list[list[f.Hole]]:
    """Holes on one axis together, in their order."""
    found: list[list[f.Hole]] = []
    for one in group:
        there = next((s for s in found if on_axis(s[0], one)), None)
        if there is None:
            found.append([one])
        else:
            there.append(one)
    return found
