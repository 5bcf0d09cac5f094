"""Curves joined into paths: lines and arcs end to end as vertices with bulges, and what they span.

Plane geometry alone; imported by the writers of this room.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from math import cos, hypot, radians, sin, tan

from planner.geometry.curves import Arc, Curve, Line, Point2, Polyline

JOIN_MM = 0.002
"""Curve ends closer together than this meet."""

Vertex = tuple[float, float, float]


@dataclass(frozen=True)
class Chain:
    """Lines and arcs end to end: vertices with bulges, as geometry.curves.Outline, or open."""

    vertices: tuple[Vertex, ...]
    closed: bool

    def segments(self) -> Iterator[tuple[Vertex, Vertex]]:
        """Each vertex with the next."""
        return pairwise([*self.vertices, self.vertices[0]] if self.closed else self.vertices)

    def reversed(self) -> Chain:
        """The same open path the other way: each bulge goes to the other end of its arc."""
        back = self.vertices[::-1]
        bulges = [-vertex[2] for vertex in back[1:]] + [0.0]
        return Chain(
            tuple((x, y, bulge) for (x, y, _), bulge in zip(back, bulges, strict=True)),
            closed=False,
        )

    def moved(self, dx_mm: float, dy_mm: float) -> Chain:
        """The same path elsewhere."""
        return replace(self, vertices=tuple((x + dx_mm, y + dy_mm, b) for x, y, b in self.vertices))


@dataclass(frozen=True)
class Extent:
    """An upright rectangle round something drawn."""

    left: float
    bottom: float
    right: float
    top: float


def joined(curves: Iterable[Curve]) -> list[Chain]:
    """Curves joined where exactly two ends meet; at a fork of three or more the paths end."""
    paths: list[Chain] = []
    pieces: list[Chain] = []
    ends: list[tuple[int, int]] = []
    nodes: list[Vertex] = []
    at: dict[int, list[int]] = {}
    for curve in curves:
        piece = _piece(curve)
        if piece.closed:
            paths.append(piece)
            continue
        first, last = _node(nodes, piece.vertices[0]), _node(nodes, piece.vertices[-1])
        if first != last or _chords_mm(piece) > 4 * JOIN_MM:
            at.setdefault(first, []).append(len(pieces))
            at.setdefault(last, []).append(len(pieces))
            ends.append((first, last))
            pieces.append(piece)
    used: set[int] = set()

    def walk(number: int, node: int) -> Chain:
        start, vertices = node, list[Vertex]()
        while True:
            used.add(number)
            forward = ends[number][0] == node
            piece = pieces[number] if forward else pieces[number].reversed()
            node = ends[number][1] if forward else ends[number][0]
            vertices[-1:] = piece.vertices
            following = [other for other in at[node] if other not in used]
            if len(at[node]) != 2 or not following:
                break
            number = following[0]
        if node == start:
            return Chain(tuple(vertices[:-1]), closed=True)
        return Chain(tuple(vertices), closed=False)

    for number, both in enumerate(ends):
        for node in both:
            if number not in used and len(at[node]) != 2:
                paths.append(walk(number, node))
    paths.extend(walk(number, both[0]) for number, both in enumerate(ends) if number not in used)
    return paths


def _node(nodes: list[Vertex], vertex: Vertex) -> int:
    """The number of the node that a curve's end meets; a new one when it meets none."""
    for number, node in enumerate(nodes):
        if hypot(node[0] - vertex[0], node[1] - vertex[1]) <= JOIN_MM:
            return number
    nodes.append(vertex)
    return len(nodes) - 1


def _piece(curve: Curve) -> Chain:
    """One curve as a path; an arc of more than half a turn in two halves."""
    match curve:
        case Line(start, end):
            return line_of(start, end)
        case Polyline(points):
            return Chain(tuple((x, y, 0.0) for x, y in points), closed=False)
        case Arc((x, y), radius, start_deg, end_deg):
            sweep = (end_deg - start_deg) % 360 or (360.0 if end_deg != start_deg else 0.0)
            if sweep > 180 and radius * radians(360 - sweep) < JOIN_MM:
                return Chain(((x - radius, y, 1.0), (x + radius, y, 1.0)), closed=True)
            count = 2 if sweep > 180 else 1
            angles = [radians(start_deg + sweep * k / count) for k in range(count + 1)]
            bulges = [tan(radians(sweep) / count / 4)] * count + [0.0]
            return Chain(
                tuple(
                    (x + radius * cos(angle), y + radius * sin(angle), bulge)
                    for angle, bulge in zip(angles, bulges, strict=True)
                ),
                closed=False,
            )
    raise TypeError(f"no rule to draw a {type(curve).__name__}")


def line_of(start: Point2, end: Point2) -> Chain:
    """One straight line."""
    return Chain(((*start, 0.0), (*end, 0.0)), closed=False)


def _chords_mm(path: Chain) -> float:
    return sum(hypot(q[0] - p[0], q[1] - p[1]) for p, q in path.segments())


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
    same = all(abs(a - b) < JOIN_MM for arc in arcs for a, b in zip(arc, arcs[0], strict=True))
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
