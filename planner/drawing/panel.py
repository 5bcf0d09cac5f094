"""A view of the whole with words and dimensions beside it, which say what they are of.

Imported by the general arrangement. Lanes are those of the parts' sheets (lanes.py).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

import numpy as np
from msgspec import Struct, field

from parts.frame import Point as Point3
from parts.standard.fits import Limits
from planner.drawing.beside import PAST_MM
from planner.drawing.lanes import FIRST_MM, PITCH_MM, Lined, Side, arranged, beyond, depth_mm
from planner.drawing.model import Box, Dimension, Item, Point, Style, printed
from planner.drawing.strokes import ARROW_MM
from planner.drawing.whole import on_paper
from planner.solids.together import flat
from planner.words.numbers import Numbers

SIDES: tuple[Side, ...] = ("below", "above", "left", "right")

AWAY_MM = 3.0
"""Nearer stand the lanes whose words are on the far side of their lines."""

TITLE_MM = 5.0
"""Over a view and its lanes, for what it is."""

EMPTY_MM = 4.0
"""Beside a view where no dimension stands."""


class Said(Lined, eq=False, dict=True):
    """A dimension with its words."""

    text: str = ""

    def words(self, numbers: Numbers) -> tuple[str, str, str]:
        """Text, without limits."""
        return self.text, "", ""

    def wide(self, numbers: Numbers) -> float:
        """How wide its words are; letters that reach below their foot keep clear of the arrows."""
        below = any(letter in "gjpqy" for letter in self.text)
        return super().wide(numbers) + (2 * (ARROW_MM - 1.0) if below else 0.0)


class Panel(Struct, eq=False, dict=True):
    """A view of the whole.

    towards, right: where one looks from, in the frame of the whole. paths: what is drawn, by style, in
    mm of the view. dims: beside it, by side.
    """

    name: str
    towards: Point3
    right: Point3
    paths: list[tuple[Style, tuple[Point, ...]]] = field(default_factory=list)
    dims: dict[Side, list[Said]] = field(default_factory=lambda: {side: [] for side in SIDES})
    lanes: dict[Side, int] = field(default_factory=dict)
    start: dict[Side, float] = field(default_factory=dict)
    over: dict[Side, float] = field(default_factory=dict)
    origin: Point = (0.0, 0.0)
    _spanned: tuple[int, Box] = (0, Box(0.0, 0.0, 0.0, 0.0))

    def flat(self, point: Sequence[float]) -> Point:
        """A point of the whole as it is seen."""
        u, v = flat(np.array(point), self.towards, self.right)
        return float(u), float(v)

    def draw(self, style: Style, *points: Sequence[float]) -> None:
        """A line through points of the whole."""
        self.paths.append((style, tuple(self.flat(point) for point in points)))

    @property
    def span(self) -> Box:
        """The rectangle round what is drawn."""
        if self._spanned[0] != len(self.paths):
            us, vs = zip(*(p for _, path in self.paths for p in path), strict=True)
            self._spanned = len(self.paths), Box(min(us), min(vs), max(us), max(vs))
        return self._spanned[1]

    def measure(self, side: Side, one: Sequence[float], other: Sequence[float], text: str) -> None:
        """A dimension between two points of the whole, level or upright by its side."""
        (u1, v1), (u2, v2) = self.flat(one), self.flat(other)
        level = side in ("below", "above")
        a, b, feet = (u1, u2, (v1, v2)) if level else (v1, v2, (u1, u2))
        if a > b:
            a, b, feet = b, a, feet[::-1]
        size = Limits(b - a, 0.0, 0.0, "")
        self.dims[side].append(Said(text, size, level, a, b, {side: feet}, side=side, text=text))

    def arrange(self, numbers: Numbers, scale: float) -> None:
        """All dimensions into lanes, upright ones clear of level words. Raises DoesNotFit."""
        self.start = dict.fromkeys(SIDES, 0.0)
        for side, dims in self.dims.items():
            self.lanes[side] = arranged(list(dims), numbers, scale)
        span = self.span
        runs = {side: [_run(d, numbers, scale) for d in dims] for side, dims in self.dims.items()}
        level, upright = runs["below"] + runs["above"], runs["left"] + runs["right"]
        self.over = {
            "left": beyond(scale * span.left - a for a, _ in level),
            "right": beyond(b - scale * span.right for _, b in level),
            "below": beyond(scale * span.low - a for a, _ in upright),
            "above": beyond(b - scale * span.top for _, b in upright),
        }
        for side in ("left", "right"):
            if self.over[side] > PAST_MM and self.dims[side]:
                self.start[side] = self.over[side]

    def far(self, side: Side) -> float:
        """How far its lanes reach on a side."""
        lanes = self.lanes[side]
        reach = depth_mm(lanes) + self.start[side] if lanes else EMPTY_MM
        return max(reach, self.over[side] + 2.0)

    def cell(self, scale: float) -> Box:
        """The rectangle it takes round its own origin, lanes and all, on the paper."""
        span = self.span
        return Box(
            scale * span.left - self.far("left"),
            scale * span.low - self.far("below"),
            scale * span.right + self.far("right"),
            scale * span.top + self.far("above") + TITLE_MM,
        )

    def at(self, point: Point, scale: float) -> Point:
        """A point of the view on the paper."""
        return self.origin[0] + scale * point[0], self.origin[1] + scale * point[1]

    def lines(self, scale: float) -> Iterator[Item]:
        """What is drawn, on the paper."""
        for style, path in self.paths:
            yield from on_paper([path], self.origin, scale, style)

    def dimensions(self, numbers: Numbers, scale: Fraction) -> Iterator[Dimension]:
        """The dimensions in their lanes."""
        span, by = self.span, float(scale)
        (left, low), (right, top) = (
            self.at(p, by) for p in ((span.left, span.low), (span.right, span.top))
        )
        for side, dims in self.dims.items():
            for dim in dims:
                out = FIRST_MM + PITCH_MM * dim.lane + self.start[side]
                at = {
                    "below": low - out,
                    "above": top + out - AWAY_MM,
                    "left": left - out + AWAY_MM,
                    "right": right + out,
                }[side]
                yield dim.dimension(numbers, scale, self.origin, at, f"{self.name}: {dim.text}")


def _run(dim: Said, numbers: Numbers, scale: float) -> tuple[float, float]:
    """From where to where a dimension with its words runs along its lane."""
    low, high = sorted((dim.a * scale, dim.b * scale))
    middle, half = (low + high) / 2 + dim.shift, dim.wide(numbers) / 2
    return min(low, middle - half), max(high, middle + half)


def size_words(mm: float, numbers: Numbers) -> str:
    """A nominal size as a dimension says it: a fraction of an inch only where it is exact."""
    text, unit = numbers.plain.size(mm), 25.4 if numbers.inch else 1.0
    said, last = printed(text)
    exact = abs(said * unit - mm) <= last * unit / 2 + 1e-7
    return text if exact else numbers.plain.caliper(mm)
