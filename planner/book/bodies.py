"""A workpiece as plain bodies, boxes and rounds, seen along an axis, for the sketches of its set-ups.

Imported by book.across and, to make them, by planner.output.book.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, sqrt
from typing import NamedTuple

from planner.drawing.model import Item, Point, Style
from planner.drawing.sketch import At, box

Corner = tuple[float, float, float]
Way = tuple[int, int]
"""A direction of the work: which axis, and its sign."""


Rect = tuple[float, float, float, float]
"""Left, low, right, top."""

STRIP_MM = 0.3
"""Of the discs that a ball is drawn in; for looks alone."""

AS_IT_IS = At((0.0, 0.0))


class Round(NamedTuple):
    """A stretch of a round body along its axis."""

    low: float
    high: float
    diameter_mm: float


class Ball(NamedTuple):
    """A ball of a round body: where it lies along its axis, from where to where it is turned, mm."""

    low: float
    high: float
    middle: float
    diameter_mm: float

    def half(self, at: float) -> float:
        """How far its surface is off the axis at a place along it; 0 past its ends."""
        return sqrt(max(0.0, (self.diameter_mm / 2) ** 2 - (at - self.middle) ** 2))

    def strips(self) -> Iterator[tuple[float, float, float]]:
        """It cut into discs so thin that no step of them is seen: from, to, diameter."""
        count = ceil((self.high - self.low) / STRIP_MM)
        ends = [self.low + k * (self.high - self.low) / count for k in range(count + 1)]
        for a, b in pairwise(ends):
            yield a, b, 2 * self.half((a + b) / 2)


class Body(NamedTuple):
    """A body of the work in the frame of its record, mm: its box; the way of its axis where it is
    round, with its rounds and its balls; notches cut out of it. style: phantom for what is mounted on
    the work."""

    name: str
    low: Corner
    high: Corner
    axis: int | None = None
    rounds: tuple[Round, ...] = ()
    notches: tuple[tuple[Corner, Corner], ...] = ()
    style: Style = "thin"
    balls: tuple[Ball, ...] = ()


def way(text: str) -> Way:
    """The direction of "+x"."""
    return "xyz".index(text[1]), -1 if text[0] == "-" else 1


class View:
    """The work as seen: u along one way of it, v along another."""

    def __init__(self, u: Way, v: Way) -> None:
        self.u, self.v = u, v
        self.depth = 3 - u[0] - v[0]

    def point(self, at: Sequence[float]) -> Point:
        """Where a point of the work lies."""
        return self.u[1] * at[self.u[0]], self.v[1] * at[self.v[0]]

    def span(self, body: Body, along: Way) -> tuple[float, float]:
        """From where to where a body reaches along one of the two."""
        ends = sorted(along[1] * one[along[0]] for one in (body.low, body.high))
        return ends[0], ends[1]

    def rect(self, low: Corner, high: Corner) -> Rect:
        """Of a box: left, low, right, top."""
        (a, b), (c, d) = self.point(low), self.point(high)
        return min(a, c), min(b, d), max(a, c), max(b, d)

    def whole(self, bodies: Sequence[Body]) -> Rect:
        """The box round all: left, low, right, top."""
        every = [self.rect(one.low, one.high) for one in bodies]
        lows = [min(one[k] for one in every) for k in (0, 1)]
        tops = [max(one[k] for one in every) for k in (2, 3)]
        return lows[0], lows[1], tops[0], tops[1]

    def step(self, one: Body, each: Round) -> Rect:
        """A stretch of a round that lies across the view."""
        assert one.axis is not None
        middle = [(a + b) / 2 for a, b in zip(one.low, one.high, strict=True)]
        half = [each.diameter_mm / 2] * 3
        half[one.axis] = 0.0
        least = [m - h for m, h in zip(middle, half, strict=True)]
        most = [m + h for m, h in zip(middle, half, strict=True)]
        least[one.axis], most[one.axis] = each.low, each.high
        (x, y, z), (p, q, r) = least, most
        return self.rect((x, y, z), (p, q, r))

    def drawn(self, at: At, bodies: Sequence[Body]) -> Iterator[Item]:
        """Every body in its lines: a round along the view as a circle, across it in its steps."""
        for one in bodies:
            if one.axis is None or not (one.rounds or one.balls):
                yield at.ring(box(*self.rect(one.low, one.high)), one.style)
                for low, high in one.notches:
                    yield at.ring(box(*self.rect(low, high)), one.style)
                continue
            middle = [(a + b) / 2 for a, b in zip(one.low, one.high, strict=True)]
            for each in one.rounds:
                if one.axis == self.depth:
                    yield at.circle(self.point(middle), each.diameter_mm / 2, one.style)
                    continue
                yield at.ring(box(*self.step(one, each)), one.style)
            for ball in one.balls:
                if one.axis == self.depth and not one.rounds:
                    yield at.circle(self.point(middle), ball.diameter_mm / 2, one.style)
                elif one.axis != self.depth:
                    yield at.ring(self.round(one, ball), one.style)

    def round(self, one: Body, ball: Ball) -> Iterator[Point]:
        """The outline of a ball across the view, once round."""
        assert one.axis is not None
        other = self.v[0] if one.axis == self.u[0] else self.u[0]
        middle = [(a + b) / 2 for a, b in zip(one.low, one.high, strict=True)]
        places = [a for a, _, _ in ball.strips()] + [ball.high]
        for side, along in ((1.0, places), (-1.0, places[::-1])):
            for place in along:
                at = list(middle)
                at[one.axis], at[other] = place, middle[other] + side * ball.half(place)
                yield self.point(at)


def outside(rect: Rect, mask: Rect) -> Iterator[Item]:
    """The sides of a rectangle as far as they are not behind another."""
    left, low, right, top = rect
    a, b, c, d = mask
    for v in (low, top):
        hidden = b - 1e-9 <= v <= d + 1e-9
        spans = [(left, min(right, a)), (max(left, c), right)] if hidden else [(left, right)]
        for one, two in spans:
            if two - one > 1e-9:
                yield AS_IT_IS.path(((one, v), (two, v)))
    for u in (left, right):
        hidden = a - 1e-9 <= u <= c + 1e-9
        spans = [(low, min(top, b)), (max(low, d), top)] if hidden else [(low, top)]
        for one, two in spans:
            if two - one > 1e-9:
                yield AS_IT_IS.path(((u, one), (u, two)))
