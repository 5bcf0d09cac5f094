"""Pieces of any outline on one sheet under a torch: each as far to the left as it goes.

A piece turned one way may stand wherever the others' no-fit regions leave free. Rectangles have a
quicker way of their own. Imports shapely, and only while it places.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import atan2, cos, pi
from typing import Any

from msgspec import Struct, field

from parts.value import Value
from planner.geometry.curves import Outline, Point2
from planner.nest.guillotine import SAME_MM, Filled, Size, Spot
from planner.nest.model import Sheet
from planner.nest.outlines import anticlockwise, bounds, flattened, turned, turned_point

SLACK_MM = 1e-4
"""No-fit regions are made this much smaller, so that places of no area at all are found."""

REGION_WORK, LAID_WORK, HULL_WORK, CORNERS = 150, 50, 4, 4
"""Places that a region counts as, each piece taken out of it, and each corner of a no-fit region's
parts; corners of a region, or pairs of empty rectangles, that count as one."""

GAP_SIDES = 32
"""Sides of the polygon round the circle that the gap sweeps: exact along the sheet's axes, at most
0.5 % of the gap too much between."""

Polygon = list[Point2]
Box = tuple[float, float, float, float]
Rank = Callable[[Any, Any, float, float], tuple[Any, Any]]
"""How good a place is, the least the best, from the left, bottom, length and width of the piece in
it: of one place, or of many as arrays."""

RANKS: tuple[Rank, ...] = (
    lambda x, y, w, h: (x + w, y + h),
    lambda x, y, w, h: (x, y),
    lambda x, y, w, h: (y, x),
    lambda x, y, w, h: (2 * x + w + (y + h) / 4, y),
)


# ---- rectangles ----


def box_sheet(
    sheet: Sheet, queue: Sequence[int], sizes: Sequence[Size], gap_mm: float, rank: Rank
) -> Filled:
    """Pieces by their bounding rectangles, no straight cuts needed.

    Arguments as for saw_sheet; rank: of RANKS. Keeps the largest empty rectangles, every one.
    """
    low = sheet.margin_mm
    free = [(low, low, sheet.length_mm - low + gap_mm, sheet.width_mm - low + gap_mm)]
    spots: list[Spot] = []
    hopeless: set[int] = set()
    work = 0
    for piece in queue:
        if piece in hopeless:
            continue
        length, width, turns = sizes[piece]
        best: tuple[tuple[float, ...], float, float, int] | None = None
        for turn in turns:
            w, h = (length, width) if turn == 0 else (width, length)
            work += len(free)
            for x0, y0, x1, y1 in free:
                if w + gap_mm <= x1 - x0 + SAME_MM and h + gap_mm <= y1 - y0 + SAME_MM:
                    found = (rank(x0, y0, w, h), x0, y0, turn)
                    if best is None or found < best:
                        best = found
        if best is None:
            hopeless.add(piece)
            continue
        _, x, y, turn = best
        w, h = (length, width) if turn == 0 else (width, length)
        free = _left_over(free, (x, y, x + w + gap_mm, y + h + gap_mm))
        work += len(free) ** 2 // CORNERS
        spots.append(Spot(piece, x, y, turn))
    return Filled(tuple(spots), (), work)


def _left_over(free: Sequence[Box], taken: Box) -> list[Box]:
    """The largest rectangles still empty."""
    a0, b0, a1, b1 = taken
    kept: list[Box] = []
    parts: list[Box] = []
    for box in free:
        x0, y0, x1, y1 = box
        if a0 >= x1 - SAME_MM or a1 <= x0 + SAME_MM or b0 >= y1 - SAME_MM or b1 <= y0 + SAME_MM:
            kept.append(box)
            continue
        if a0 > x0 + SAME_MM:
            parts.append((x0, y0, a0, y1))
        if a1 < x1 - SAME_MM:
            parts.append((a1, y0, x1, y1))
        if b0 > y0 + SAME_MM:
            parts.append((x0, y0, x1, b0))
        if b1 < y1 - SAME_MM:
            parts.append((x0, b1, x1, y1))

    def within(p: Box, q: Box) -> bool:
        return p[0] >= q[0] and p[1] >= q[1] and p[2] <= q[2] and p[3] <= q[3]

    # Only a new part can lie in another: what was kept had its fill of that before.
    parts = list(dict.fromkeys(parts))
    kept_parts = [
        p
        for p in parts
        if not any(within(p, q) for q in kept) and not any(p != q and within(p, q) for q in parts)
    ]
    return kept + kept_parts


# ---- any outline ----


class Shapes(Struct, dict=True):
    """The turned outlines of all pieces and the no-fit regions between them, made when needed.

    outlines: one a piece; gap_mm: least distance between pieces; turns: the turns allowed to each.
    """

    outlines: Sequence[Outline]
    gap_mm: float
    turns: Sequence[tuple[int, ...]]
    work: int = 0
    _ways: dict[tuple[Outline, tuple[int, ...]], list[_Way]] = field(default_factory=dict)
    _parts: dict[tuple[Outline, int], list[Polygon]] = field(default_factory=dict)
    _regions: dict[tuple[Outline, Outline, int], Any] = field(default_factory=dict)
    _turned: dict[tuple[int, int], Any] = field(default_factory=dict)

    def ways(self, piece: int) -> list[_Way]:
        """The ways to turn a piece that differ."""
        key = (self.outlines[piece], self.turns[piece])
        if key not in self._ways:
            found: dict[frozenset[Point2], _Way] = {}
            for turn in key[1]:
                way = _way(key[0], turn)
                dots = {
                    (round(x - way.left_mm, 4), round(y - way.bottom_mm, 4))
                    for x, y in flattened(way.outline)
                }
                found.setdefault(frozenset(dots), way)
            self._ways[key] = list(found.values())
        return self._ways[key]

    def no_fit(self, fixed: _Way, loose: _Way) -> Any:
        """Where the loose piece's corner may not be when the fixed one's is at (0, 0).

        A shapely geometry, worked out for the fixed piece as given and turned with it.
        """
        import shapely

        key = (id(fixed), id(loose))
        if key not in self._turned:
            region = self._no_fit(fixed.given, loose.given, (loose.turn_deg - fixed.turn_deg) % 360)
            dx, dy = loose.left_mm - fixed.left_mm, loose.bottom_mm - fixed.bottom_mm
            (a, b), (c, d) = (turned_point(axis, fixed.turn_deg) for axis in ((1, 0), (0, 1)))
            self._turned[key] = shapely.transform(
                region, lambda points: points @ [[a, b], [c, d]] + (dx, dy)
            )
        return self._turned[key]

    def _no_fit(self, fixed: Outline, loose: Outline, turn: int) -> Any:
        import shapely

        key = (fixed, loose, turn)
        if key not in self._regions:
            disc = _disc(self.gap_mm)
            # Turned by half a turn more, the sum of the two is their no-fit region.
            grown = [_sum(part, disc) for part in self._convex(loose, (turn + 180) % 360)]
            hulls = [_sum(part, other) for part in self._convex(fixed, 0) for other in grown]
            region = shapely.union_all([shapely.Polygon(hull) for hull in hulls])
            self._regions[key] = region.buffer(-SLACK_MM, join_style="mitre")
            self.work += sum(len(hull) for hull in hulls) * HULL_WORK
        return self._regions[key]

    def _convex(self, outline: Outline, turn: int) -> list[Polygon]:
        if (outline, 0) not in self._parts:
            self._parts[outline, 0] = _convex_parts(flattened(outline))
        if (outline, turn) not in self._parts:
            self._parts[outline, turn] = [
                [turned_point(point, turn) for point in part] for part in self._parts[outline, 0]
            ]
        return self._parts[outline, turn]


class _Way(Value, frozen=True):
    """A piece turned one way about (0, 0): as given (anticlockwise) and turned, and its bounds."""

    turn_deg: int
    given: Outline
    outline: Outline
    left_mm: float
    bottom_mm: float
    length_mm: float
    width_mm: float


def _way(outline: Outline, turn: int) -> _Way:
    given = anticlockwise(outline)
    there = turned(given, turn)
    left, bottom, right, top = bounds(there)
    return _Way(turn, given, there, left, bottom, right - left, top - bottom)


def fit_sheet(sheet: Sheet, queue: Sequence[int], shapes: Shapes, rank: Rank) -> Filled:
    """Pieces by their true outlines, arcs flattened outwards, on one sheet.

    Arguments as for box_sheet. Each piece in turn takes the best-ranked corner of the region that
    is free for it.
    """
    import shapely

    low = sheet.margin_mm
    spots: list[Spot] = []
    laid: list[tuple[_Way, float, float]] = []
    free: dict[int, tuple[Any, int]] = {}
    hopeless: set[Outline] = set()
    work, before = 0, shapes.work
    for piece in queue:
        outline = shapes.outlines[piece]
        if outline in hopeless:
            continue
        best: tuple[tuple[float, ...], float, float, int] | None = None
        ways = shapes.ways(piece)
        for number, way in enumerate(ways):
            right = sheet.length_mm - low - way.length_mm
            top = sheet.width_mm - low - way.width_mm
            if right < low - SAME_MM or top < low - SAME_MM:
                continue
            whole = (low - SLACK_MM, low - SLACK_MM, right + SLACK_MM, top + SLACK_MM)
            region, seen = free.get(id(way)) or (shapely.box(*whole), 0)
            if seen < len(laid) and not region.is_empty:
                taken = shapely.union_all(
                    [_shifted(shapes.no_fit(other, way), x, y) for other, x, y in laid[seen:]]
                )
                region = shapely.difference(region, taken)
                corners = int(shapely.get_num_coordinates(region))
                work += REGION_WORK + LAID_WORK * (len(laid) - seen) + corners // CORNERS
            free[id(way)] = (region, len(laid))
            if not region.is_empty:
                size = (way.length_mm, way.width_mm)
                found = (*_best(region, (low, low, right, top), size, rank), number)
                if best is None or found < best:
                    best = found
        if best is None:
            hopeless.add(outline)
            continue
        _, x, y, number = best
        laid.append((ways[number], x, y))
        spots.append(Spot(piece, x, y, ways[number].turn_deg))
    return Filled(tuple(spots), (), work + shapes.work - before)


def _best(
    region: Any, whole: Box, size: tuple[float, float], rank: Rank
) -> tuple[tuple[float, ...], float, float]:
    """The best-ranked corner of a region, in whole thousandths and inside the sheet."""
    import numpy
    import shapely

    left, bottom, right, top = whole
    corners = shapely.get_coordinates(region)
    x = numpy.clip(corners[:, 0].round(3), left, max(left, right))
    y = numpy.clip(corners[:, 1].round(3), bottom, max(bottom, top))
    ranks = rank(x, y, *size)
    first = int(numpy.lexsort((y, *ranks[::-1]))[0])
    return (
        tuple(round(float(r[first]), 6) for r in ranks),
        float(x[first]),
        float(y[first]),
    )


def _shifted(region: Any, x: float, y: float) -> Any:
    import shapely

    return shapely.transform(region, lambda points: points + (x, y))


def _disc(radius_mm: float) -> Polygon:
    """A polygon round the circle, tangent to it where it crosses the axes."""
    if not radius_mm:
        return [(0.0, 0.0)]
    out = radius_mm / cos(pi / GAP_SIDES)
    angles = [2 * pi * (k + 0.5) / GAP_SIDES for k in range(GAP_SIDES)]
    return [(out * cos(angle), out * cos(angle - pi / 2)) for angle in angles]


def _sum(one: Polygon, other: Polygon) -> Polygon:
    """The Minkowski sum of two convex polygons that run anticlockwise: their edges by direction."""
    starts, edges = [], []
    for polygon in (one, other):
        start = min(range(len(polygon)), key=lambda k: (polygon[k][1], polygon[k][0]))
        loop = polygon[start:] + polygon[: start + 1]
        starts.append(loop[0])
        edges += [(x1 - x0, y1 - y0) for (x0, y0), (x1, y1) in pairwise(loop)]
    edges.sort(key=lambda edge: atan2(edge[1], edge[0]) % (2 * pi))
    x, y = starts[0][0] + starts[1][0], starts[0][1] + starts[1][1]
    points = []
    for dx, dy in edges:
        points.append((x, y))
        x, y = x + dx, y + dy
    return points


def _convex_parts(polygon: Polygon) -> list[Polygon]:
    """Convex parts: triangles, joined again wherever the whole stays convex."""
    import shapely

    whole = shapely.Polygon(polygon)
    # Flattened outwards, a cleft thinner than the chords may close: its hull is safe.
    if not whole.is_valid or shapely.convex_hull(whole).area - whole.area < 1e-9:
        parts = [shapely.convex_hull(whole)]
    else:
        parts = list(shapely.constrained_delaunay_triangles(whole).geoms)
    at = 0
    while at < len(parts):
        for other in range(at + 1, len(parts)):
            if not parts[at].touches(parts[other]) and not parts[at].intersects(parts[other]):
                continue
            hull = shapely.union(parts[at], parts[other]).convex_hull
            if hull.area - parts[at].area - parts[other].area < 1e-6:
                parts[at] = hull
                del parts[other]
                break
        else:
            at += 1
    corners = (shapely.get_coordinates(shapely.orient_polygons(part)).tolist() for part in parts)
    return [[(x, y) for x, y in part[:-1]] for part in corners]
