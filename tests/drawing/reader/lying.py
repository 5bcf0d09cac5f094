"""How the pieces of a weldment lie: which way round, and which drawn lines are their faces.

Seen on the weldment's sheet; where a piece lies exactly, its sizes and the sheet's numbers say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

import cadquery as cq
import numpy as np
import shapely
from OCP.BRepAdaptor import BRepAdaptor_Surface

from .ink import Unreadable
from .shapes import together, turns, volume
from .sheet import Sheet
from .silhouette import silhouette
from .views import View

NEAR_MM = 0.03
"""A piece's printed sizes and the drawing agree this closely: half of the last places, added up."""


MACHINED_MM = 60.0
"""No more than this is taken off a weldment's end."""


TRIED = 40
"""Places of a piece looked at along each axis."""


PER_WAY = 250
"""Places kept of each way round."""


KEPT, BEAM = 1500, 2000
"""Places of a piece that are looked at, and ways kept for some of the pieces to lie together."""


TOGETHER = 40
"""Ways for all pieces to lie together that are tried for the one with most faces drawn."""


UNCOVERED, OVER, SHORT, OUTSIDE = 0.05, 0.001, 50.0, 0.1
"""What it costs: a square millimetre of outline without metal, and one of metal that is cut away; a
millimetre that the pieces do not reach the outline's end, and one that a piece stands out over it."""


SMALL_MM = 6.0
"""A hole of a smaller radius is drawn by its sides wherever it is not cut away."""


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


def _sampled(shown: Any) -> tuple[Any, float]:
    """Points spread over an outline, and the area that each stands for."""
    left, low, right, top = shown.bounds
    step = (shown.area / 150) ** 0.5
    xs, ys = np.meshgrid(
        np.arange(left + step / 3, right, step), np.arange(low + step / 3, top, step)
    )
    within = shapely.contains_xy(shown, xs, ys)
    return np.column_stack((xs[within], ys[within])), step * step


def _reach(puts: list[Put]) -> Any:
    """How far each of a piece's places reaches, down and up along each axis."""
    return np.array(
        [
            [-(p.way.low[i] + p.shift[i]) for i in range(3)]
            + [p.way.high[i] + p.shift[i] for i in range(3)]
            for p in puts
        ],
        np.float32,
    )


def _short(far: Any, spans: Spans) -> Any:
    """By how much pieces together do not reach the drawn ends, added up."""
    ends = np.array([-a for a, _ in spans] + [b for _, b in spans], np.float32)
    return np.maximum(0.0, ends[None, :] - far - 2 * NEAR_MM).sum(axis=1)


def _together(
    choices: list[list[Put]], drawn: list[tuple[View, Any, float]], spans: Spans
) -> list[tuple[Put, ...]]:
    """Of each piece the place that together leave no outline uncovered, best first."""
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
    # one piece after another, keeping the best ways for those so far to lie together
    left, worth, far = open_[0], scores[0], _reach(choices[0])
    ways = [(k,) for k in range(len(choices[0]))]
    for number in range(1, len(choices) + 1):
        last = number == len(choices)
        if last:
            total = worth[:, None] - SHORT * _short(far, spans)[:, None]
        else:
            total = worth[:, None] + scores[number][None, :] - UNCOVERED * (left @ open_[number].T)
        order = np.argsort(-total, axis=None, kind="stable")[: TOGETHER if last else BEAM]
        if number < len(choices) - 1:  # what is uncovered yet may be the next piece's: both ways
            plain = worth[:, None] + scores[number][None, :]
            order = np.union1d(order, np.argsort(-plain, axis=None, kind="stable")[:BEAM])
        if last:
            return [
                tuple(puts[k] for puts, k in zip(choices, ways[at], strict=True)) for at in order
            ]
        one, other = np.unravel_index(order, total.shape)
        worth = worth[one] + scores[number][other]
        if number == len(choices) - 1:
            worth = total.ravel()[order]
        left = left[one] * (open_[number][other] > 0)
        far = np.maximum(far[one], _reach(choices[number])[other])
        ways = [(*ways[a], int(b)) for a, b in zip(one, other, strict=True)]
    raise AssertionError


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
    drawn = [(view, *_sampled(silhouette(view))) for view in sheet.views]
    choices = []
    largest = sorted(range(len(pieces)), key=lambda k: -pieces[k].BoundingBox().DiagonalLength)
    for solid in (pieces[k] for k in largest):
        ways = _ways(solid)
        quota = KEPT // len(ways)
        puts = []
        for way in ways:
            puts += list(_puts(way, faces, axes, spans))[:quota]
        if not puts:
            raise Unreadable("a piece that is nowhere drawn")
        choices.append(puts)
    best: tuple[float, tuple[Put, ...]] | None = None
    for lie in _together(choices, drawn, spans):
        kept = sheet.places.kept()
        try:
            there = placed(sheet, lie)
        except Unreadable:
            continue
        finally:
            sheet.places.back(kept)
        lost = _undrawn(sheet, together(there))
        # pieces lie beside and in each other's holes, and never in each other's metal
        lost += sum(volume(a.intersect(b)) for a, b in combinations(there, 2))
        if best is None or lost < best[0] - 1.0:
            best = (lost, lie)
    if best is None:
        raise Unreadable("nothing says where the pieces lie")
    return best[1]


def _unseen(sheet: Sheet, face: Any) -> float:
    """The face of a small hole whose sides no view draws along it, by its size."""
    cylinder = BRepAdaptor_Surface(face.wrapped).Cylinder()
    radius, way = cylinder.Radius(), cylinder.Axis().Direction()
    along = [abs(way.X()), abs(way.Y()), abs(way.Z())]
    if radius > SMALL_MM or max(along) < 0.999:
        return 0.0
    i = along.index(max(along))
    box = face.BoundingBox(1e-2)
    ends = ((box.xmin, box.xmax), (box.ymin, box.ymax), (box.zmin, box.zmax))
    for view in sheet.views:
        if view.cut or i not in view.axes[:2]:
            continue
        k = view.axes.index(i)
        side = ends[view.axes[1 - k]]
        seen = [
            min(ends[i][1], max(s.a[k], s.b[k])) - max(ends[i][0], min(s.a[k], s.b[k]))
            for s in view.lines("VISIBLE", "HIDDEN")
            if abs(s.b[1 - k] - s.a[1 - k]) < 1e-4
            and min(abs(s.a[1 - k] - at) for at in side) < 2 * NEAR_MM
        ]
        if max(seen, default=0.0) > 0.0:
            return 0.0
    return float(face.Area())


def _undrawn(sheet: Sheet, body: Any) -> float:
    """Flat faces that no view draws as a line where it should, by their size: a wrong place's."""
    lost = 0.0
    for face in body.Faces():
        if face.geomType() == "CYLINDER":
            lost += _unseen(sheet, face)
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


def placed(sheet: Sheet, chosen: Sequence[Put]) -> list[Any]:
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
