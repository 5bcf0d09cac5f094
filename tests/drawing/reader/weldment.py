"""A weldment: its pieces, each by its own sheet, where the weldment's sheet draws them.

Which way round a piece lies and which drawn lines are its faces is seen on the sheet; where it lies,
exactly, its sizes and the weldment's numbers say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, permutations, product
from math import cos, dist, radians, sin
from typing import Any

import cadquery as cq
import numpy as np
import shapely
from shapely import polygonize, unary_union
from shapely.geometry import LineString

from . import shapes
from .holes import plane_of
from .ink import Unreadable
from .sheet import Sheet
from .views import SAME_MM, View

NEAR_MM = 0.03
"""A piece's printed sizes and the drawing agree this closely: half of the last places, added up."""

MACHINED_MM = 40.0
"""No more than this is taken off a weldment's end."""

TRIED = 40
"""Places of a piece looked at along each axis."""

PER_WAY = 150
"""Places kept of each way round."""

KEPT = {1: 1500, 2: 1500, 3: 120}
"""Places of a piece that are looked at together with the others', by the number of pieces."""

SLACK_MM2 = 0.01
"""What an outline in short chords may leave of a rectangle that is machined off."""

TOGETHER = 24
"""Ways for all pieces to lie together that are tried for the one with most faces drawn."""

UNCOVERED, OVER, SHORT, OUTSIDE = 0.05, 0.001, 5.0, 0.5
"""What it costs: a square millimetre of outline without metal, and one of metal that is cut away; a
millimetre that the pieces do not reach the outline's end, and one that a piece stands out over it."""


@dataclass
class Way:
    """A piece turned some way. planes: along each axis the places of its faces and axes."""

    solid: Any
    planes: tuple[list[tuple[float, bool]], ...]
    low: tuple[float, float, float]
    high: tuple[float, float, float]


@dataclass
class Put:
    """A piece in a place. shift: as drawn; hits: by axis, what is drawn where its own places are."""

    way: Way
    shift: tuple[float, ...]
    hits: tuple[list[tuple[float, float]], ...]
    score: float


def turns() -> Iterator[cq.Location]:
    """The 24 ways an upright thing may lie."""
    for order in permutations(range(3)):
        for signs in product((1, -1), repeat=3):
            x, y, z = ([0.0] * 3 for _ in range(3))
            for row, axis, sign in zip((x, y, z), order, signs, strict=True):
                row[axis] = sign
            cross = (
                x[1] * y[2] - x[2] * y[1],
                x[2] * y[0] - x[0] * y[2],
                x[0] * y[1] - x[1] * y[0],
            )
            if list(cross) == z:
                yield cq.Location(cq.Plane((0, 0, 0), tuple(x), tuple(z)))


def _ways(solid: Any) -> list[Way]:
    found: dict[Any, Way] = {}
    for turn in turns():
        moved = solid.moved(turn)
        planes: tuple[list[tuple[float, bool]], ...] = ([], [], [])
        for face in moved.Faces():
            if face.geomType() == "PLANE":
                normal, at = face.normalAt().toTuple(), face.Center().toTuple()
                for i in range(3):
                    if abs(normal[i]) > 0.999:
                        planes[i].append((round(at[i], 6), False))
            elif face.geomType() == "CYLINDER":
                pole = face._geomAdaptor().Cylinder().Axis()
                way, at = pole.Direction(), pole.Location()
                for i, (d, c) in enumerate(
                    zip((way.X(), way.Y(), way.Z()), (at.X(), at.Y(), at.Z()), strict=True)
                ):
                    if abs(d) < 0.5:
                        planes[i].append((round(c, 6), True))
        planes = tuple(sorted(set(p)) for p in planes)  # type: ignore[assignment]
        size = moved.BoundingBox()
        centre = moved.Center().toTuple()
        key = (tuple(tuple((round(a, 3), b) for a, b in p) for p in planes),
               tuple(round(c, 2) for c in centre))  # fmt: skip
        if key not in found:
            found[key] = Way(
                moved,
                planes,
                (size.xmin, size.ymin, size.zmin),
                (size.xmax, size.ymax, size.zmax),
            )
    return list(found.values())


Spans = list[tuple[float, float]]

Drawn = list[dict[float, float]]
"""Along each axis: where something is drawn, and how much it is worth to lie there."""


def _drawn(sheet: Sheet) -> tuple[Drawn, Drawn]:
    """Where faces are drawn, and where axes are: worth more where a number says where."""
    faces: Drawn = [{}, {}, {}]
    axes: Drawn = [{}, {}, {}]

    def worth(i: int, at: float) -> float:
        return 1.0 if sheet.places.knows(i, at) else 0.7

    for view in sheet.views:
        for k in (0, 1):
            i = view.axes[k]
            for s in view.lines("VISIBLE", "HIDDEN", "PHANTOM"):
                if abs(s.a[k] - s.b[k]) < 1e-4:
                    faces[i][round(s.a[k], 4)] = worth(i, s.a[k])
            for s in view.lines("CENTER"):
                if abs(s.a[k] - s.b[k]) < 1e-4:
                    axes[i][round(s.a[k], 4)] = worth(i, s.a[k])
    return faces, axes


def _along(
    way: Way,
    i: int,
    faces: dict[float, float],
    axes: dict[float, float],
    span: tuple[float, float],
) -> list[tuple[float, float, list[tuple[float, float]]]]:
    """The best shifts of a piece along an axis: each with its worth and what lies on what."""
    own = [
        (at, axes if is_axis else faces, 1.5 if is_axis else 1.0) for at, is_axis in way.planes[i]
    ]
    own = [(at, there, worth) for at, there, worth in own if there]
    if not own:
        return []
    shifts = np.unique(np.round([x - at for at, there, _ in own for x in there], 3))
    ends = span[0] - MACHINED_MM, span[1] + MACHINED_MM
    shifts = shifts[(way.low[i] + shifts >= ends[0]) & (way.high[i] + shifts <= ends[1])]
    if not len(shifts):
        return []
    shifts = shifts[np.concatenate(([True], np.diff(shifts) > NEAR_MM / 2))]
    score, lies = np.zeros(len(shifts)), []
    for at, there, worth in own:
        drawn, weight = np.array(list(there)), np.array(list(there.values()))
        off = np.abs(drawn[None, :] - at - shifts[:, None])
        nearest = off.argmin(axis=1)
        hit = off.min(axis=1) < NEAR_MM
        score += np.where(hit, worth * weight[nearest], 0.0)
        lies.append((at, hit, drawn[nearest]))
    score = score / len(own) + 0.2 * score
    best = np.argsort(-score, kind="stable")[:TRIED]
    return [
        (float(shifts[k]), float(score[k]), [(at, float(on[k])) for at, hit, on in lies if hit[k]])
        for k in best
    ]


def _puts(way: Way, faces: Drawn, axes: Drawn, spans: Spans) -> Iterator[Put]:
    """Where a piece may lie: many of its faces and axes where such are drawn."""
    along = [_along(way, i, faces[i], axes[i], spans[i]) for i in range(3)]
    if not all(along):
        return
    x, y, z = (np.array([s for _, s, _ in one]) for one in along)
    total = (x[:, None, None] + y[None, :, None] + z[None, None, :]).ravel()
    for flat in np.argsort(-total, kind="stable")[:PER_WAY]:
        combo = [one[k] for one, k in
                 zip(along, np.unravel_index(flat, (len(x), len(y), len(z))), strict=True)]  # fmt: skip
        yield Put(way, tuple(c[0] for c in combo), tuple(c[2] for c in combo), float(total[flat]))


OVERRUN_MM = 5e-3
"""Lines are drawn on by so much, that corners close which curves end in."""


def _silhouette(view: View) -> Any:
    """What a view draws, filled: holes too."""
    paths = [list(s.points) for s in view.lines("VISIBLE")]
    paths += [[view.at(p) for p in points] for layer, points in view.curves if layer == "VISIBLE"]
    paths += [_arc(r, view) for r in view.circles("VISIBLE", whole=False)]
    lines = [LineString(_longer(path)) for path in paths if dist(path[0], path[1]) > 1e-6]
    return unary_union(list(polygonize([unary_union(lines)]).geoms))


def _longer(path: list[tuple[float, float]]) -> list[tuple[float, float]]:
    def beyond(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
        far = dist(a, b)
        if far < 1e-9:
            return b
        return tuple(q + (q - p) / far * OVERRUN_MM for p, q in zip(a, b, strict=True))  # type: ignore[return-value]

    return [beyond(path[1], path[0]), *path[1:-1], beyond(path[-2], path[-1])]


def _arc(r: Any, view: View) -> list[tuple[float, float]]:
    su, sv, _ = view.signs
    turned = [radians(r.start + (r.end - r.start) * k / 96) for k in range(97)]
    return [
        (r.centre[0] + su * r.radius * cos(t), r.centre[1] + sv * r.radius * sin(t)) for t in turned
    ]


def _sampled(shown: Any) -> tuple[Any, float]:
    """Points spread over an outline, and the area that each stands for."""
    left, low, right, top = shown.bounds
    step = (shown.area / 150) ** 0.5
    xs, ys = np.meshgrid(
        np.arange(left + step / 3, right, step), np.arange(low + step / 3, top, step)
    )
    within = shapely.contains_xy(shown, xs, ys)
    return np.column_stack((xs[within], ys[within])), step * step


def _reach(puts: list[Put], k: int) -> Any:
    """How far pieces reach: down (0 to 2) or up (3 to 5) along an axis."""
    i, sign = k % 3, -1.0 if k < 3 else 1.0
    ends = [(p.way.high if sign > 0 else p.way.low)[i] + p.shift[i] for p in puts]
    return sign * np.array(ends, np.float32)


def _short(far: list[Any], fixed: list[Put], spans: Spans) -> Any:
    """By how much pieces together do not reach the drawn ends, added up, for each pair of places."""
    out = np.zeros_like(far[0])
    for k in range(6):
        end = -spans[k % 3][0] if k < 3 else spans[k % 3][1]
        reach = np.maximum(far[k], _reach(fixed, k).max()) if fixed else far[k]
        out += np.maximum(0.0, end - reach)
    return out


def _together(
    choices: list[list[Put]], drawn: list[tuple[View, Any, float]], spans: Spans
) -> list[tuple[Put, ...]]:
    """Of each piece the place that together leave nothing of the drawn outlines uncovered, best first."""
    open_: list[Any] = []
    for puts in choices:
        rows = []
        for put in puts:
            for i, (start, end) in enumerate(spans):
                low, high = put.way.low[i] + put.shift[i], put.way.high[i] + put.shift[i]
                put.score -= OUTSIDE * (max(0.0, start - low) + max(0.0, high - end))
            row = []
            for view, points, area in drawn:
                u, v, _ = view.axes
                inside = np.ones(len(points), bool)
                for k, i in ((0, u), (1, v)):
                    inside &= points[:, k] > put.way.low[i] + put.shift[i]
                    inside &= points[:, k] < put.way.high[i] + put.shift[i]
                size = 1.0
                for i in (u, v):
                    size *= put.way.high[i] - put.way.low[i]
                put.score -= OVER * max(0.0, size - inside.sum() * area)
                row.append(np.where(inside, 0.0, area**0.5))
            rows.append(np.concatenate(row).astype(np.float32))
        open_.append(np.array(rows))
    scores = [np.array([p.score for p in puts]) for puts in choices]
    if len(choices) == 1:
        order = np.argsort(-scores[0], kind="stable")[:TOGETHER]
        return [(choices[0][int(k)],) for k in order]
    far = [
        np.maximum(_reach(choices[0], k)[:, None], _reach(choices[1], k)[None, :]) for k in range(6)
    ]
    found: list[tuple[float, tuple[int, ...]]] = []
    for rest in product(*(range(len(puts)) for puts in choices[2:])):
        left, worth = open_[0], 0.0
        for number, k in enumerate(rest, 2):
            left = left * (open_[number][k] > 0)
            worth += scores[number][k]
        total = scores[0][:, None] + scores[1][None, :] + worth - UNCOVERED * (left @ open_[1].T)
        fixed = [choices[number][k] for number, k in enumerate(rest, 2)]
        total -= SHORT * _short(far, fixed, spans)
        many = min(TOGETHER, total.size)
        for flat in np.argpartition(-total, many - 1, axis=None)[:many]:
            one, other = np.unravel_index(flat, total.shape)
            found.append((float(total[one, other]), (int(one), int(other), *rest)))
        found = sorted(found, key=lambda one: (-one[0], one[1]))[:TOGETHER]
    return [tuple(puts[k] for puts, k in zip(choices, at, strict=True)) for _, at in found]


def lying(sheet: Sheet, pieces: Sequence[Any]) -> tuple[Put, ...]:
    """Where the sheet draws each piece, and which way round."""
    if not pieces:
        raise Unreadable("a weldment whose pieces have no sheets")
    faces, axes = _drawn(sheet)
    spans = []
    for i in range(3):
        ends = [
            x for view in sheet.views for k in (0, 1) if view.axes[k] == i for x in view.span(k)
        ]
        spans.append((min(ends), max(ends)))
    drawn = [(view, *_sampled(_silhouette(view))) for view in sheet.views]
    choices = []
    for solid in pieces:
        puts = []
        for way in _ways(solid):
            puts += _puts(way, faces, axes, spans)
        puts.sort(key=lambda p: -p.score)
        choices.append(puts[: KEPT[min(len(pieces), 3)]])
    best: tuple[float, tuple[Put, ...]] | None = None
    for lie in _together(choices, drawn, spans):
        kept = sheet.places.kept()
        try:
            first, *rest = _placed(sheet, lie)
        except Unreadable:
            continue
        finally:
            sheet.places.back(kept)
        lost = _undrawn(sheet, first.fuse(*rest).clean() if rest else first)
        if best is None or lost < best[0] - 1.0:
            best = (lost, lie)
    if best is None:
        raise Unreadable("nothing says where the pieces lie")
    return best[1]


def _undrawn(sheet: Sheet, body: Any) -> float:
    """Flat faces that no view draws as a line where it should, by their size: a wrong place's."""
    lost = 0.0
    for face in body.Faces():
        if face.geomType() != "PLANE":
            continue
        box, normal = face.BoundingBox(1e-2), face.normalAt().toTuple()
        i = max(range(3), key=lambda k: abs(normal[k]))
        ends = ((box.xmin, box.xmax), (box.ymin, box.ymax), (box.zmin, box.zmax))
        for view in sheet.views:
            if view.cut or i not in view.axes[:2]:
                continue
            k = view.axes.index(i)
            low, high = ends[view.axes[1 - k]]
            reach = [
                min(high, max(s.a[1 - k], s.b[1 - k])) - max(low, min(s.a[1 - k], s.b[1 - k]))
                for s in view.lines("VISIBLE", "HIDDEN")
                if abs(s.a[k] - ends[i][0]) < 2 * NEAR_MM and abs(s.b[k] - s.a[k]) < 1e-4
            ]
            if max(reach, default=0.0) < 0.2 * (high - low):
                lost += face.Area()
    return lost


def welded(sheet: Sheet, chosen: Sequence[Put]) -> Any:
    """The pieces as one body, less what the weldment's outline leaves off."""
    placed = []
    for put, solid in zip(chosen, _placed(sheet, chosen), strict=True):
        off = list(_left_off(sheet, put, solid))
        placed.append(solid.cut(*off) if off else solid)
    body = placed[0].fuse(*placed[1:]).clean() if len(placed) > 1 else placed[0]
    rings = [ring for d in sheet.diameters if d.k in (0, 1) for ring in _ring(sheet, d)]
    return body.cut(*rings).clean() if rings else body


def _placed(sheet: Sheet, chosen: Sequence[Put]) -> list[Any]:
    """The pieces in their exact places; the sheet's places learn the pieces' sizes."""
    for put in chosen:
        for i in range(3):
            sheet.places.reach(i, *(x + put.shift[i] for x in (put.way.low[i], put.way.high[i])))
            for (own, near), (own2, near2) in pairwise(put.hits[i]):
                sheet.places.link(i, near, near2, own2 - own)
    return [_exactly(sheet, put) for put in chosen]


def _exactly(sheet: Sheet, put: Put) -> Any:
    shift = []
    for i in range(3):
        known = [(own, at) for own, at in put.hits[i] if sheet.places.knows(i, at)]
        if not known:
            raise Unreadable(f"nothing says where a piece lies along {'XYZ'[i]}")
        own, at = known[0]
        shift.append(sheet.places.exact(i, at) - own)
    return put.way.solid.moved(cq.Location(tuple(shift)))


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
        rest = rect.difference(_silhouette(view))
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


def _grid(
    sheet: Sheet, axis: int, drawn: tuple[float, float], own: tuple[float, float]
) -> list[tuple[float, float]]:
    """The known places across a piece, as drawn and exactly, from beyond one end to beyond the other."""
    inner = sorted(x for x in sheet.places.drawn[axis]
                   if drawn[0] + NEAR_MM < x < drawn[1] - NEAR_MM and sheet.places.knows(axis, x))  # fmt: skip
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
