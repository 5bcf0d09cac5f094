"""Views of a solid as plane curves: exact hidden lines, true lines and arcs."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from math import atan2, degrees, dist, hypot, inf
from typing import Any

from parts.frame import Point
from planner.geometry.curves import Arc, Curve, Line, Point2, Polyline
from planner.solids.kernel import Shape, kernel
from planner.solids.tidy import (
    CHORD_MM,
    FINE_MM,
    LEAST_MM,
    SNAP_MM,
    off_line,
    rounded,
    tidied,
    turn,
)

ASIDE_MM, MOST_TILT_RAD = 0.004, 1e-4
"""The viewer is a little off his axis: a hole seen exactly along its own axis among smooth walls is a
degenerate case that takes the hidden-line removal ten times longer and gives twenty times the edges;
the less he is off, the more views are still near it. He turns about the middle of the depth, so far
that its ends move by so much at most: the snapping takes that back."""


def edges_seen(shape: Shape, way: tuple[Point, Point]) -> tuple[Curve, ...]:
    """The edges of a solid as seen, visible and hidden, in mm from its own origin.

    way: where the viewer stands and what points to his right, along the axes of the frame; up is
    square to both. Returns true lines and arcs where they are, points within 0.01 mm elsewhere; no
    curve lies on another; coordinates rounded to 0.0001 mm. Without threads and smooth edges.
    """
    towards, right = (kernel().Vector(*v) for v in way)
    snap = _snapping(shape, right, towards.cross(right))
    edges = _unhidden(shape, towards, right)
    found = [_recognised(edge, hidden, snap) for edge, hidden in edges]
    return tidied([curve for curve in found if curve is not None])


def _unhidden(shape: Shape, towards: Any, right: Any) -> list[tuple[Shape, bool]]:
    """Edges projected on the plane of the view, each with whether it is hidden."""
    from OCP.BRepLib import BRepLib
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    BRepLib.EncodeRegularity_s(shape.wrapped)  # so that seams count as smooth and are not drawn
    around = shape.BoundingBox()
    deep = abs(towards.dot(kernel().Vector(around.xlen, around.ylen, around.zlen)))
    tilt = min(MOST_TILT_RAD, 2 * ASIDE_MM / deep)
    aside = towards + right * (0.8 * tilt) + towards.cross(right) * (0.6 * tilt)
    middle = towards * towards.dot(around.center)
    axes = gp_Ax2(gp_Pnt(*middle.toTuple()), gp_Dir(*aside.toTuple()), gp_Dir(*right.toTuple()))
    algorithm = HLRBRep_Algo()
    algorithm.Add(shape.wrapped)
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    result = HLRBRep_HLRToShape(algorithm)
    edges = []
    for compound, hidden in (
        (result.VCompound(), False),
        (result.OutLineVCompound(), False),
        (result.HCompound(), True),
        (result.OutLineHCompound(), True),
    ):
        if compound is not None and not compound.IsNull():
            BRepLib.BuildCurves3d_s(compound)
            edges += [(edge, hidden) for edge in kernel().Shape.cast(compound).Edges()]
    return edges


class _Snap:
    """Takes a projected value to the model's own, when one is within SNAP_MM."""

    def __init__(self, values: Iterable[float]) -> None:
        self.values = sorted({rounded(value) for value in values})

    def near(self, value: float) -> float | None:
        at = bisect_left(self.values, value)
        beside = self.values[max(0, at - 1) : at + 1]
        nearest = min(beside, key=lambda v: abs(v - value), default=inf)
        return nearest if abs(nearest - value) <= SNAP_MM else None

    def __call__(self, value: float) -> float:
        near = self.near(value)
        return rounded(value) if near is None else near


def _snapping(shape: Shape, right: Any, up: Any) -> tuple[_Snap, _Snap, _Snap]:
    """The model's own coordinates in a view: to the right, up, and its radii."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    rounds = [(e.arcCenter(), e.radius()) for e in shape.Edges() if e.geomType() == "CIRCLE"]
    for face in shape.Faces():
        if face.geomType() in ("SPHERE", "CYLINDER"):
            made = BRepAdaptor_Surface(face.wrapped)
            form = made.Sphere() if face.geomType() == "SPHERE" else made.Cylinder()
            rounds.append((kernel().Vector(form.Location()), form.Radius()))
    points = [vertex.Center() for vertex in shape.Vertices()]

    def along(axis: Any) -> _Snap:
        centres = [(centre.dot(axis), radius) for centre, radius in rounds]
        reach = [c + r * side for c, r in centres for side in (-1, 0, 1)]
        return _Snap([*(point.dot(axis) for point in points), *reach])

    return along(right), along(up), _Snap(radius for _, radius in rounds)


def _recognised(edge: Shape, hidden: bool, snap: tuple[_Snap, _Snap, _Snap]) -> Curve | None:
    """A projected edge as a line or an arc where it is one; None for dust."""
    to_u, to_v, to_radius = snap
    points = _sampled(edge, FINE_MM)
    # A circle seen edge-on goes there and back: its ends are the farthest two of its points.
    start = max(points, key=lambda p: dist(p, points[0]))
    end = max(points, key=lambda p: dist(p, start))
    length = dist(start, end)
    if length < LEAST_MM:
        return None
    off = max(off_line(p, start, end) for p in points)
    ends = sorted((to_u(u), to_v(v)) for u, v in (start, end))
    # edge-on, and bulged by the viewer's tilt: along an axis of the view it is a line all the same
    level = any(a == b for a, b in zip(*ends, strict=True))
    if off <= (SNAP_MM if level else FINE_MM):
        return Line(ends[0], ends[1], hidden) if ends[0] != ends[1] else None
    (u, v), radius = _circle(points)
    centre, size = (to_u.near(u), to_v.near(v)), to_radius.near(radius)
    on_it = all(abs(dist(p, (u, v)) - radius) <= FINE_MM for p in points)
    # Every true arc has its centre and radius from the model; what only looks like one has not.
    if on_it and size and centre[0] is not None and centre[1] is not None:
        return _arc(points, (centre[0], centre[1]), size, hidden)
    first, *path, last = _sampled(edge, CHORD_MM)
    ends = [(to_u(u), to_v(v)) for u, v in (first, last)]
    between = [(rounded(u), rounded(v)) for u, v in path]
    distinct = [point for point, _ in itertools.groupby([ends[0], *between, ends[1]])]
    return Polyline(tuple(distinct), hidden)


def _sampled(edge: Shape, within_mm: float) -> list[Point2]:
    """Points on a projected edge, the chords between them within a distance of it."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.GCPnts import GCPnts_TangentialDeflection

    points = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge.wrapped), 0.2, within_mm, 9)
    values = (points.Value(k + 1) for k in range(points.NbPoints()))
    return [(value.X(), value.Y()) for value in values]


def _circle(points: Sequence[Point2]) -> tuple[Point2, float]:
    """Centre and radius of the circle through three of the points, which are not in line."""
    count = len(points)
    a, b, c = points[0], points[count // 3], points[2 * count // 3]
    twice = 2 * turn(a, b, c) or 1e-9
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    x = (cy * (bx**2 + by**2) - by * (cx**2 + cy**2)) / twice
    y = (bx * (cx**2 + cy**2) - cx * (bx**2 + by**2)) / twice
    return (a[0] + x, a[1] + y), hypot(x, y)


def _arc(points: Sequence[Point2], centre: Point2, radius_mm: float, hidden: bool) -> Arc:
    """The arc through points in their order along it."""
    first, middle, last = points[0], points[len(points) // 2], points[-1]
    if dist(first, last) < FINE_MM:
        return Arc(centre, radius_mm, 0.0, 360.0, hidden)
    if turn(first, middle, last) < 0:
        first, last = last, first
    start, end = (degrees(atan2(p[1] - centre[1], p[0] - centre[0])) % 360 for p in (first, last))
    return Arc(centre, radius_mm, start, end if end > start else end + 360, hidden)
