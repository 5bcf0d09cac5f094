"""A weldment: its pieces where its sheet draws them, less what is machined after welding."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import shapely

from . import shapes
from .holes import plane_of
from .ink import Unreadable
from .lying import NEAR_MM, Put, placed
from .sheet import Sheet
from .silhouette import silhouette
from .views import SAME_MM, View

DRESSED_MM = 2.0
"""No more than this is dressed off a piece that was welded on."""

SOME, ALL = 0.2, 0.98
"""Of a piece's width: a line over more than so much draws its end; over so much it runs across."""

SLACK_MM2 = 0.01
"""What an outline in short chords may leave of a rectangle that is machined off."""


def welded(sheet: Sheet, chosen: Sequence[Put]) -> Any:
    """The pieces as one body, less what the weldment's outline leaves off."""
    machined = []
    solids = placed(sheet, chosen)
    for put, solid in zip(chosen, solids, strict=True):
        off = list(_left_off(sheet, put, solid))
        off += _dressed(sheet, put, solid, [other for other in solids if other is not solid])
        machined.append(solid.cut(*off) if off else solid)
    body = shapes.together(machined)
    rings = [ring for d in sheet.diameters if d.k in (0, 1) for ring in _ring(sheet, d)]
    return body.cut(*rings).clean() if rings else body


def _left_off(sheet: Sheet, put: Put, solid: Any) -> Iterator[Any]:
    """What is machined off a piece: where a view draws nothing, in rectangles between known places."""
    size = solid.BoundingBox()
    own = ((size.xmin, size.xmax), (size.ymin, size.ymax), (size.zmin, size.zmax))
    low = [a + b for a, b in zip(put.way.low, put.shift, strict=True)]
    high = [a + b for a, b in zip(put.way.high, put.shift, strict=True)]
    for view in sheet.views:
        u, v, w = view.axes
        if view.cut and not low[w] < plane_of(sheet, view, None) < high[w]:
            continue
        rect = shapely.box(low[u], low[v], high[u], high[v])
        rest = rect.difference(silhouette(view))
        grid = [_grid(sheet, i, (low[i], high[i]), own[i]) for i in (u, v)]
        for (down, _), (up, _) in pairwise(grid[1]):
            run: list[int] = []
            for k, ((left, _), (right, _)) in enumerate(pairwise(grid[0])):
                cell = shapely.box(left, down, right, up)
                if cell.area - rest.intersection(cell).area < SLACK_MM2:
                    run.append(k)
            for first, last in _runs(run):
                lows, highs = [0.0] * 3, [0.0] * 3
                lows[u], highs[u] = grid[0][first][1], grid[0][last + 1][1]
                lows[v], highs[v] = dict(grid[1])[down], dict(grid[1])[up]
                lows[w], highs[w] = own[w][0] - 1.0, own[w][1] + 1.0
                if all(b - a > 1e-3 for a, b in zip(lows, highs, strict=True)):
                    yield shapes.box(tuple(lows), tuple(highs))  # type: ignore[arg-type]


def _dressed(sheet: Sheet, put: Put, solid: Any, others: list[Any]) -> Iterator[Any]:
    """What is dressed off a piece's end in front of other metal, where no view draws nothing.

    Its own end is drawn nowhere, a line right across it is near, and a number says where that is.
    """
    size = solid.BoundingBox()
    own = ((size.xmin, size.xmax), (size.ymin, size.ymax), (size.zmin, size.zmax))
    for i in range(3):
        for end, out in ((put.way.low[i] + put.shift[i], -1), (put.way.high[i] + put.shift[i], 1)):
            if _across(sheet, put, i, end, "VISIBLE", "HIDDEN") > SOME:
                continue
            near = [
                x
                for x in sheet.places.drawn[i]
                if NEAR_MM < out * (end - x) < DRESSED_MM
                and sheet.places.knows(i, x)
                and _across(sheet, put, i, x, "VISIBLE") > ALL
            ]
            if not near:
                continue
            x = min(near, key=lambda at, end=end: abs(end - at))  # type: ignore[misc]
            lows, highs = [a - 1.0 for a, _ in own], [b + 1.0 for _, b in own]
            (lows if out > 0 else highs)[i] = sheet.places.exact(i, x)
            off = shapes.box(tuple(lows), tuple(highs))  # type: ignore[arg-type]
            chip = solid.intersect(off)
            if all(shapes.volume(chip.intersect(other)) < 1e-6 for other in others):
                yield off


def _across(sheet: Sheet, put: Put, axis: int, at: float, *layers: str) -> float:
    """How much of a piece's width a line runs over that is drawn at a place along an axis."""
    most = 0.0
    for view in sheet.views:
        if axis not in view.axes[:2] or view.cut:
            continue
        k = view.axes.index(axis)
        low, high = (end[view.axes[1 - k]] + put.shift[view.axes[1 - k]]
                     for end in (put.way.low, put.way.high))  # fmt: skip
        for s in view.lines(*layers):
            if abs(s.a[k] - at) < NEAR_MM and abs(s.b[k] - s.a[k]) < 1e-4:
                one, other = sorted((s.a[1 - k], s.b[1 - k]))
                most = max(most, (min(high, other) - max(low, one)) / (high - low))
    return most


def _grid(
    sheet: Sheet, axis: int, drawn: tuple[float, float], own: tuple[float, float]
) -> list[tuple[float, float]]:
    """The known places across a piece, as drawn and exactly, from end to end."""
    inner = sorted(
        x
        for x in sheet.places.drawn[axis]
        if drawn[0] + NEAR_MM < x < drawn[1] - NEAR_MM and sheet.places.knows(axis, x)
    )
    ends = ((drawn[0], own[0] - 0.5), (drawn[1], own[1] + 0.5))
    return [ends[0], *((x, sheet.places.exact(axis, x)) for x in inner), ends[1]]


def _runs(numbers: list[int]) -> Iterator[tuple[int, int]]:
    """Numbers that follow one another, first and last."""
    start = None
    for k in numbers:
        if start is None:
            start = last = k
        elif k == last + 1:
            last = k
        else:
            yield start, last
            start = last = k
    if start is not None:
        yield start, last


def _ring(sheet: Sheet, d: Any) -> Iterator[Any]:
    """All outside a diameter, as far as its two edges run together as the outline."""
    view, k = d.view, d.k
    along, across, deep = view.axes[1 - k], view.axes[k], view.axes[2]
    edges = {
        way: [
            sorted((s.a[1 - k], s.b[1 - k]))
            for s in view.lines("VISIBLE")
            if abs(s.a[k] - d.middle - way * d.drawn) < SAME_MM
            and abs(s.b[k] - d.middle - way * d.drawn) < SAME_MM
        ]
        for way in (1, -1)
    }
    if not edges[1] or not edges[-1]:
        return
    low = min(a for a, _ in edges[1])
    high = max(b for _, b in edges[1])
    depth = _axis_in_depth(sheet, view, k, d, (low, high))
    centre = [0.0, 0.0, 0.0]
    centre[across] = sheet.places.exact(across, d.middle)
    centre[deep] = sheet.places.exact(deep, depth)
    ends = [sheet.places.exact(along, x) for x in (low, high)]
    at = (centre[0], centre[1], centre[2])
    outer = shapes.cylinder(along, at, *ends, 500.0)
    yield outer.cut(shapes.cylinder(along, at, *ends, d.size.value / 2))


def _axis_in_depth(sheet: Sheet, view: View, k: int, d: Any, run: tuple[float, float]) -> float:
    along, deep = view.axes[1 - k], view.axes[2]
    for other in sheet.views:
        if deep not in other.axes[:2]:
            continue
        j = other.axes.index(deep)
        if other.axes[1 - j] == along:
            for c in other.lines("CENTER"):
                if abs(c.a[j] - c.b[j]) > 1e-6:
                    continue
                sides = [
                    any(
                        abs(s.a[j] - c.a[j] - way * d.drawn) < SAME_MM
                        and abs(s.b[j] - s.a[j]) < 1e-6
                        and min(s.a[1 - j], s.b[1 - j]) < run[1]
                        and max(s.a[1 - j], s.b[1 - j]) > run[0]
                        for s in other.lines("VISIBLE")
                    )
                    for way in (1, -1)
                ]
                if all(sides):
                    return c.a[j]
        else:
            for r in other.circles("VISIBLE", "HIDDEN", whole=False):
                if abs(r.radius - d.drawn) < SAME_MM and abs(r.centre[1 - j] - d.middle) < SAME_MM:
                    return r.centre[j]
    raise Unreadable("nothing says where a turned part of the weldment lies in depth")
