"""Paths: lines and arcs end to end as vertices with bulges, which of them are circles, what they span.

Plane geometry alone; imported by the writers of this room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import hypot

from parts.value import Value
from planner.geometry.curves import Point2

SAME_MM = 0.002
"""Arcs whose centres and radii differ by less are of one circle."""

Vertex = tuple[float, float, float]


class Chain(Value, frozen=True):
    """Lines and arcs end to end: vertices with bulges, as geometry.curves.Outline, or open."""

    vertices: tuple[Vertex, ...]
    closed: bool

    def segments(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Each vertex with the next."""
        return pairwise([*self.vertices, self.vertices[0]] if self.closed else self.vertices)


class Extent(Value, frozen=True):
    """An upright rectangle round something drawn."""

    left: float
    bottom: float
    right: float
    top: float


def line_of(start: Point2, end: Point2) -> Chain:
    """One straight line."""
    return Chain(((*start, 0.0), (*end, 0.0)), closed=False)


def _arc(p: Vertex, q: Vertex) -> tuple[float, float, float]:
    """Centre and radius of the arc from p to q with p's bulge: the bulge is tan(angle / 4)."""
    dx, dy, bulge = q[0] - p[0], q[1] - p[1], p[2]
    off = (1 - bulge**2) / (4 * bulge)
    radius = hypot(dx, dy) * (1 + bulge**2) / (4 * abs(bulge))
    return (p[0] + q[0]) / 2 - off * dy, (p[1] + q[1]) / 2 + off * dx, radius


def circle_of(path: Chain) -> tuple[float, float, float] | None:
    """Centre and radius when a closed path is one full circle."""
    bulges = [vertex[2] for vertex in path.vertices]
    if not path.closed or not (min(bulges) > 0 or max(bulges) < 0):
        return None
    arcs = [_arc(p, q) for p, q in path.segments()]
    same = all(abs(a - b) < SAME_MM for arc in arcs for a, b in zip(arc, arcs[0], strict=True))
    return arcs[0] if same else None


def extent_of(paths: Iterable[Chain]) -> Extent:
    """What the paths span, with the outermost points of their arcs."""
    xs: list[float] = []
    ys: list[float] = []
    for p, q in (segment for path in paths for segment in path.segments()):
        points = [p[:2], q[:2]]
        if p[2]:
            x, y, radius = _arc(p, q)
            for side in ((x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius)):
                # A point of the circle is on the arc when it lies to the right of a left turn's
                # chord, or to the left of a right turn's.
                turn = (q[0] - p[0]) * (side[1] - p[1]) - (q[1] - p[1]) * (side[0] - p[0])
                if turn * p[2] < 0:
                    points.append(side)
        xs.extend(x for x, _ in points)
        ys.extend(y for _, y in points)
    return Extent(min(xs), min(ys), max(xs), max(ys))
