"""Dimensions beside a view: on which side, in which lane, and where along the line the words stand.

Lanes run parallel to a side of the view, the shortest dimension nearest. No extension line of an outer
lane runs through the words of an inner one.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import Literal

from msgspec import Struct, field

from parts.standard.fits import Limits
from planner.drawing.dimensioned import OUTSIDE_MM, ROOM_MM
from planner.drawing.model import Dimension, Point
from planner.drawing.scheme import Edge
from planner.words.numbers import Numbers

FIRST_MM, PITCH_MM = 11.0, 8.0
"""From the view to its first lane, and from lane to lane (common practice: 10 and 7 to 8)."""

CLEAR_MM = 1.2
"""Between words and an extension line beside them."""

STEP, FAR = 2, 90
"""Words are tried so much further along at a time, and so far out of the middle, in mm."""

LAST_MM, BARE_MM = 5.0, 4.0
"""What the last lane takes beyond its line, and a side without lanes."""

Side = Literal["below", "above", "left", "right"]


class DoesNotFit(Exception):
    """Something finds no place on this sheet at this scale."""


class Lined(Struct, eq=False, dict=True):
    """One dimension to be put in a lane.

    a, b: where its ends lie along the side, and feet: how far along the other way they begin, all in
    mm of the model as the view sees it; level: measured level, else upright. sign: before the number.
    """

    edge: Edge | str
    size: Limits
    level: bool
    a: float
    b: float
    feet: dict[Side, tuple[float, float]]
    sign: str = ""
    side: Side = "below"
    lane: int = 0
    shift: float = 0.0

    def words(self, numbers: Numbers) -> tuple[str, str, str]:
        """Text and limits."""
        text, upper, lower = numbers.dimensioned(self.size)
        return self.sign + text, upper, lower

    def dimension(
        self, numbers: Numbers, scale: Fraction, origin: Point, at: float, feature: str
    ) -> Dimension:
        """The dimension on the paper; origin: of the view on it; at: of its lane's line."""
        text, upper, lower = self.words(numbers)
        one, two = self.feet[self.side]
        pairs = ((self.a, one), (self.b, two))
        points = tuple((p, q) if self.level else (q, p) for p, q in pairs)
        s = float(scale)
        feet = tuple((origin[0] + s * u, origin[1] + s * v) for u, v in points)
        foot = feet[0]
        return Dimension(
            "linear",
            points,
            feet,
            text,
            (foot[0], at) if self.level else (at, foot[1]),
            scale,
            0.0 if self.level else 90.0,
            upper,
            lower,
            numbers.inch,
            self.shift,
            feature=feature,
        )

    def wide(self, numbers: Numbers) -> float:
        """How wide its words are on the paper."""
        text, upper, lower = self.words(numbers)
        from planner.drawing.dimensioned import LIMIT
        from planner.drawing.lettering import width_mm
        from planner.drawing.model import TEXT_MM
        from planner.drawing.strokes import TEXT_GAP_MM

        wide = width_mm(text, TEXT_MM)
        if upper or lower:
            wide += TEXT_GAP_MM + max(width_mm(w, LIMIT * TEXT_MM) for w in (upper, lower))
        return wide


class Lane(Struct, eq=False, dict=True):
    """What already stands in one lane, along it."""

    taken: list[tuple[float, float]] = field(default_factory=list)

    def free(self, low: float, high: float) -> bool:
        """Whether a stretch is free."""
        return all(high + CLEAR_MM <= a or low - CLEAR_MM >= b for a, b in self.taken)


def arranged(dims: list[Lined], numbers: Numbers, scale: float) -> int:
    """Put the dimensions of one side into lanes; returns how many lanes it takes.

    Raises DoesNotFit where words find no place.
    """
    lanes: list[Lane] = []
    inner: list[tuple[int, float, float]] = []
    order = sorted(dims, key=lambda d: (abs(d.b - d.a), min(d.a, d.b)))
    for dim in order:
        low, high = sorted((dim.a * scale, dim.b * scale))
        wide = dim.wide(numbers)
        lines = {x * scale for d in order if d is not dim for x in (d.a, d.b)}
        at = _place(dim, low, high, wide, sorted({*lines, low, high}), lanes, inner)
        if at is None:
            raise DoesNotFit(f"{dim.words(numbers)[0]} finds no place in its lane")
        inner.append((dim.lane, at - wide / 2, at + wide / 2))
    return len(lanes)


def _place(
    dim: Lined,
    low: float,
    high: float,
    wide: float,
    lines: list[float],
    lanes: list[Lane],
    words: list[tuple[int, float, float]],
) -> float | None:
    """The middle of its words; sets its lane and shift."""
    middle, half = (low + high) / 2, wide / 2
    inside = high - low >= ROOM_MM
    tries = [middle]
    if inside:
        room = (high - low) / 2 - half - CLEAR_MM
        tries += [
            middle + k * side for k in range(STEP, int(max(room, 0)) + 1, STEP) for side in (1, -1)
        ]
    out = half + (CLEAR_MM if inside else OUTSIDE_MM + CLEAR_MM)
    for step in range(0, FAR, STEP):
        tries += [low - out - step, high + out + step]
    for number in range(len(lanes) + 1):
        if number == len(lanes):
            lanes.append(Lane())
        for at in tries:
            a, b = at - half, at + half
            if any(a - CLEAR_MM < x < b + CLEAR_MM for x in lines):
                continue
            ends = (low, high) if inside else (low - OUTSIDE_MM, high + OUTSIDE_MM)
            taken = (min(ends[0], a), max(ends[1], b))
            crossed = any(
                n < number and w0 - CLEAR_MM < x < w1 + CLEAR_MM
                for n, w0, w1 in words
                for x in (low, high)
            )
            if crossed:
                return None
            if lanes[number].free(*taken):
                lanes[number].taken.append(taken)
                dim.lane, dim.shift = number, at - middle
                return at
    return None


def beyond(runs: Iterable[float]) -> float:
    """How far the farthest of some words run past a side; 0 where there are none."""
    return max(runs, default=0.0)


def depth_mm(lanes: int) -> float:
    """How far beside a view its lanes reach."""
    return FIRST_MM + PITCH_MM * (lanes - 1) + LAST_MM if lanes else BARE_MM
