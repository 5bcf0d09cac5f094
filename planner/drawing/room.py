"""Where on a sheet there is room: what is drawn so far, in squares of a millimetre."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import radians
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.drawing.apart import drawn
from planner.drawing.lettering import corners
from planner.drawing.model import (
    Arc,
    Box,
    Circle,
    DatumSymbol,
    GeometricTolerance,
    Item,
    Line,
    Point,
    Polyline,
    Stroke,
    Text,
)

CELL_MM = 1.0
STEP_MM = 0.5

ROUND_WORDS_MM, ROUND_BOX_MM, TIP_MM = 0.7, 0.6, 1.5
"""What words take round them, what is free round a rectangle; and so near its tip a leader may cross
anything."""


class Room:
    """The squares of a sheet that are taken: by lines, by words, and by leaders."""

    def __init__(self, space: Box) -> None:
        self.space = space
        shape = (int(space.top - space.low) + 1, int(space.right - space.left) + 1)
        self.lines: NDArray[np.int32] = np.zeros(shape, np.int32)
        self.words: NDArray[np.int32] = np.zeros(shape, np.int32)
        self.leaders: list[tuple[Point, Point]] = []
        self._sums: NDArray[np.int32] | None = None

    def take(self, items: Iterable[Item]) -> None:
        """Note what items cover; words also a little round them."""
        points: list[NDArray[np.float64]] = []
        for item in items:
            piece = drawn(item)
            points += [p for stroke in piece.strokes for p in sampled(stroke)]
            for text in piece.texts:
                self.take_words(text)
            if isinstance(item, GeometricTolerance | DatumSymbol):
                self._take_frames(piece.strokes)
        if points:
            rows, columns = self._cells(np.concatenate(points))
            self.lines[rows, columns] = 1
        self._sums = None

    def take_leader(self, items: Iterable[Item], points: Sequence[Point]) -> None:
        """Note a leader with all that stands at its end; no other may cross its points."""
        self.take(items)
        self.leaders += pairwise(points)

    def _take_frames(self, strokes: Iterable[Stroke]) -> None:
        """Note frames as words, all of them: a line between two of their words cuts them as well."""
        for one in strokes:
            if isinstance(one, Polyline) and one.closed and not one.filled:
                xs, ys = zip(*one.points, strict=True)
                self.take_box(Box(min(xs), min(ys), max(xs), max(ys)))

    def take_inside(self, items: Iterable[Item]) -> None:
        """Note what a view's edges are round as words: what lies between edges both across and
        upright, so that a notch in its outline stays free."""
        strokes = [stroke for item in items for stroke in drawn(item).strokes]
        if not strokes:
            return
        edges = np.zeros(self.words.shape, bool)
        rows, columns = self._cells(np.concatenate([p for one in strokes for p in sampled(one)]))
        edges[rows, columns] = True
        between = np.ones(edges.shape, bool)
        for axis in (0, 1):
            before = np.maximum.accumulate(edges, axis)
            after = np.flip(np.maximum.accumulate(np.flip(edges, axis), axis), axis)
            between &= before & after
        self.words[between] = 1
        self._sums = None

    def take_words(self, text: Text) -> None:
        """Note what words cover."""
        xs, ys = zip(*corners(text), strict=True)
        off = ROUND_WORDS_MM
        self.take_box(Box(min(xs) - off, min(ys) - off, max(xs) + off, max(ys) + off))

    def take_box(self, box: Box) -> None:
        """Note a rectangle as taken by words."""
        c, r = self._index(box.left, box.low)
        c2, r2 = self._index(box.right, box.top)
        self.words[max(r, 0) : r2 + 1, max(c, 0) : c2 + 1] = 1
        self._sums = None

    def _index(self, x: float, y: float) -> tuple[int, int]:
        return int((x - self.space.left) // CELL_MM), int((y - self.space.low) // CELL_MM)

    def _cells(self, points: NDArray[np.float64]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        columns = ((points[:, 0] - self.space.left) // CELL_MM).astype(np.intp)
        rows = ((points[:, 1] - self.space.low) // CELL_MM).astype(np.intp)
        high, wide = self.lines.shape
        good = (rows >= 0) & (rows < high) & (columns >= 0) & (columns < wide)
        return rows[good], columns[good]

    def places(
        self,
        xs: NDArray[np.float64],
        ys: NDArray[np.float64],
        wide: float,
        high: float,
        at: Point = (0.0, 0.0),
    ) -> NDArray[np.float64]:
        """Of places in columns and rows those at which a rectangle is on the sheet and free: (n, 2).

        at: where in the rectangle a place lies, from its lower left corner. Row by row, each as given.
        """
        if self._sums is None:
            taken = (self.lines + self.words) > 0
            self._sums = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), np.int32)
            taken.cumsum(0, np.int32).cumsum(1, out=self._sums[1:, 1:])
        rows, columns = self.lines.shape
        xs, c, c2 = _reached(xs, at[0], self.space.left, wide, columns)
        ys, r, r2 = _reached(ys, at[1], self.space.low, high, rows)
        strips = self._sums[r2] - self._sums[r]
        row, column = np.nonzero(strips[:, c2] == strips[:, c])
        return np.stack([xs[column], ys[row]], axis=1)

    def empty(self, box: Box) -> bool:
        """Whether one rectangle is on the sheet and free."""
        at = np.array([box.left]), np.array([box.low])
        return len(self.places(*at, box.right - box.left, box.top - box.low)) > 0

    def off_words(self, points: Sequence[Point]) -> bool:
        """Whether a line stays on the sheet and off words, whatever lines it crosses."""
        run = np.concatenate([p for a, b in pairwise(points) for p in _line(a, b)])
        rows, columns = self._cells(run)
        return len(rows) == len(run) and not self.words[rows, columns].any()

    def crossings(self, points: Sequence[Point], skip_mm: float = TIP_MM) -> tuple[bool, int]:
        """Whether a line runs through words or off the sheet, and how many lines it crosses."""
        run = np.concatenate(
            [p for a, b in zip(points, points[1:], strict=False) for p in _line(a, b)]
        )
        run = run[int(skip_mm / STEP_MM) :]
        rows, columns = self._cells(run)
        if len(rows) < len(run):
            return True, 0
        hit = bool(self.words[rows, columns].any())
        hit = hit or any(_cross(one, other) for one in pairwise(points) for other in self.leaders)
        over = self.lines[rows, columns]
        crossed = int(((over[1:] == 1) & (over[:-1] == 0)).sum()) if len(over) > 1 else 0
        return hit, crossed

    def runs(
        self, tip: Point, ends: NDArray[np.float64], skip_mm: float = TIP_MM
    ) -> tuple[NDArray[np.bool_], NDArray[np.int_]]:
        """As ``crossings`` of straight lines from a tip to many ends: (n, 2)."""
        far = np.hypot(ends[:, 0] - tip[0], ends[:, 1] - tip[1])
        count = max(2, int(float(far.max(initial=0.0)) / STEP_MM) + 1)
        steps = np.arange(count) / (count - 1)
        xs = tip[0] + (ends[:, :1] - tip[0]) * steps
        ys = tip[1] + (ends[:, 1:] - tip[1]) * steps
        columns = np.floor((xs - self.space.left) / CELL_MM).astype(np.intp)
        rows = np.floor((ys - self.space.low) / CELL_MM).astype(np.intp)
        high, wide = self.lines.shape
        off = (rows < 0) | (rows >= high) | (columns < 0) | (columns >= wide)
        rows, columns = rows.clip(0, high - 1), columns.clip(0, wide - 1)
        away = far[:, None] * steps > skip_mm
        hit = (((self.words[rows, columns] > 0) | off) & away).any(axis=1)
        over = (self.lines[rows, columns] > 0) & away
        crossed = (over[:, 1:] & ~over[:, :-1]).sum(axis=1)
        if self.leaders:
            ones, others = np.asarray(self.leaders).transpose(1, 0, 2)[:, :, None, :]
            here, there = np.asarray(tip), ends[None]
            first = _beside(ones, others, here) * _beside(ones, others, there)
            second = _beside(here, there, ones) * _beside(here, there, others)
            hit |= ((first <= 0.0) & (second <= 0.0)).any(axis=0)
        return hit, crossed


def _reached(
    of: NDArray[np.float64], at: float, start: float, long: float, cells: int
) -> tuple[NDArray[np.float64], NDArray[np.intp], NDArray[np.intp]]:
    """The places along one side of a sheet where a length stays on it, and the cells it begins and ends
    at."""
    first = np.floor(of - at - start - ROUND_BOX_MM).astype(np.intp)
    last = np.floor(of - at + long - start + ROUND_BOX_MM).astype(np.intp) + 1
    good = (first >= 0) & (last <= cells)
    return of[good], first[good], last[good]


def _beside(start: Any, end: Any, point: Any) -> Any:
    """On which side of a line a point lies, less or more than 0; arrays of any shape, (..., 2)."""
    way, off = end - start, point - start
    return way[..., 0] * off[..., 1] - way[..., 1] * off[..., 0]


def _cross(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Whether two straight lines cross or touch."""

    def side(line: tuple[Point, Point], point: Point) -> float:
        (ax, ay), (bx, by) = line
        return (bx - ax) * (point[1] - ay) - (by - ay) * (point[0] - ax)

    return (
        side(one, other[0]) * side(one, other[1]) <= 0.0
        and side(other, one[0]) * side(other, one[1]) <= 0.0
    )


def _line(a: Point, b: Point) -> list[NDArray[np.float64]]:
    count = max(2, int(max(abs(b[0] - a[0]), abs(b[1] - a[1])) / STEP_MM) + 1)
    steps = np.arange(count) / (count - 1)
    return [np.stack([a[0] + steps * (b[0] - a[0]), a[1] + steps * (b[1] - a[1])], 1)]


def sampled(stroke: Stroke) -> list[NDArray[np.float64]]:
    """Points on a stroke, close together."""
    match stroke:
        case Line(start, end):
            return _line(start, end)
        case Polyline(points):
            return [_lines([*points, points[0]] if stroke.closed else points)]
        case Circle(centre, radius):
            return [_arc(centre, radius, 0.0, 360.0)]
        case Arc(centre, radius, start_deg, end_deg):
            return [_arc(centre, radius, start_deg, end_deg)]
    raise TypeError(type(stroke).__name__)


def _lines(ends: Sequence[Point]) -> NDArray[np.float64]:
    """Points on straight lines end to end, each as ``_line`` has them."""
    at = np.array(ends)
    by = at[1:] - at[:-1]
    count = np.maximum(2, (np.abs(by).max(axis=1) / STEP_MM).astype(int) + 1)
    of = np.repeat(np.arange(len(by)), count)
    nth = np.arange(count.sum()) - np.repeat(count.cumsum() - count, count)
    return np.asarray(at[of] + (nth / (count[of] - 1))[:, None] * by[of])


def _arc(centre: Point, radius: float, start: float, end: float) -> NDArray[np.float64]:
    count = max(4, int(radians(abs(end - start)) * radius / STEP_MM) + 1)
    angles = np.radians(np.linspace(start, end, count))
    return np.stack([centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)], 1)
