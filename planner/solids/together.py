"""Things as they stand together: what is seen of each, hidden by all, and where its surface lies.

Lines are those of a fine mesh, all hidden in one pass: a sheet of the whole needs no truer ones, and
exact ones of thirty things cost a hundred times as much seen square. What is looked at is a copy, which
keeps the mesh. Imported by the drawing room; plane curves out, in mm of the view.
"""

from __future__ import annotations

import functools
from collections import defaultdict
from collections.abc import Iterable, Sequence
from math import atan2, cos, hypot, pi, radians, sin
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.attachment import Carrier, Placed
from parts.frame import Frame, Point, cross
from parts.part import Bought, Member, Part
from planner.geometry.curves import Point2
from planner.solids.build import bought_solid, piece, placement, solid
from planner.solids.kernel import Shape, kernel

MESH_MM, MESH_RAD = 0.12, 0.45
"""How far the mesh may lie off the surface, and turn from facet to facet."""

NEAR_MM = 0.02
"""Ends nearer than this are one point, and lines nearer than this are one line."""

Path = tuple[Point2, ...]


class _Same:
    """A part or piece as a key: the same object, since it holds dictionaries and does not hash."""

    def __init__(self, item: Part | Member | Bought) -> None:
        self.item = item

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.item is self.item

    def __hash__(self) -> int:
        return id(self.item)


def meshed(item: Part | Member | Bought) -> Shape:
    """A copy of a part's, a piece's or a bought item's solid with its mesh, in its own frame; kept."""
    return _meshed(_Same(item))


@functools.lru_cache(maxsize=64)
def _meshed(key: _Same) -> Shape:
    item = key.item
    if isinstance(item, Member):
        return with_mesh(piece(item).copy())
    whole = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
    return with_mesh(whole.copy())


def with_mesh(shape: Shape) -> Shape:
    """The shape itself, which must be nobody else's, with a mesh on it."""
    from OCP.BRepLib import BRepLib
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    BRepLib.EncodeRegularity_s(shape.wrapped)  # so that seams count as smooth and are not drawn
    BRepMesh_IncrementalMesh(shape.wrapped, MESH_MM, False, MESH_RAD, False)
    return shape


def in_place(
    placed: Placed, tip_radius_mm: float, swing_deg: float, by: Point = (0, 0, 0)
) -> Shape:
    """A thing with its mesh where it stands in a pose, moved on by so much."""
    there = stands(placed.frame, placed.carrier, tip_radius_mm, swing_deg)
    return meshed(placed.item).moved(kernel().Location(tuple(by)) * there if any(by) else there)


@functools.lru_cache(maxsize=256)
def stands(frame: Frame, carrier: Carrier, tip_radius_mm: float, swing_deg: float) -> Any:
    """``placement`` of what has a frame and a carrier; kept, since many views ask for it."""
    return placement(Placed(_NOTHING, frame, carrier), tip_radius_mm, swing_deg)


_NOTHING = Bought("", "", "", "")


def seen_together(shapes: Sequence[Shape], towards: Point, right: Point) -> list[tuple[Path, ...]]:
    """Of each shape the lines that are seen, hidden by all; the shapes have meshes.

    towards: to the viewer; right: to his right, square to it; any length.
    """
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_PolyAlgo, HLRBRep_PolyHLRToShape

    algorithm = HLRBRep_PolyAlgo()
    for shape in shapes:
        algorithm.Load(shape.wrapped)
    axes = gp_Ax2(gp_Pnt(), gp_Dir(*towards), gp_Dir(*right))
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    result = HLRBRep_PolyHLRToShape()
    result.Update(algorithm)
    found = []
    for shape in shapes:
        pairs: list[tuple[Point2, Point2]] = []
        for compound in (result.VCompound(shape.wrapped), result.OutLineVCompound(shape.wrapped)):
            if compound is not None and not compound.IsNull():
                pairs += _segments(compound)
        found.append(chained(_merged(pairs)))
    return found


def _segments(compound: Any) -> Iterable[tuple[Point2, Point2]]:
    """The ends of the straight edges of a projection."""
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_EDGE
    from OCP.TopExp import TopExp, TopExp_Explorer
    from OCP.TopoDS import TopoDS

    walk = TopExp_Explorer(compound, TopAbs_EDGE)
    while walk.More():
        edge = TopoDS.Edge_s(walk.Current())
        one = BRep_Tool.Pnt_s(TopExp.FirstVertex_s(edge))
        two = BRep_Tool.Pnt_s(TopExp.LastVertex_s(edge))
        yield (one.X(), one.Y()), (two.X(), two.Y())
        walk.Next()


def _merged(pairs: Sequence[tuple[Point2, Point2]]) -> list[tuple[Point2, Point2]]:
    """Straight stretches without doubles: those on one line made one where they touch or overlap."""
    lines: dict[tuple[int, int], list[tuple[float, float]]] = defaultdict(list)
    ways: dict[tuple[int, int], tuple[float, float, float]] = {}
    for (ax, ay), (bx, by) in pairs:
        if hypot(bx - ax, by - ay) < 1e-4:
            continue
        way = atan2(by - ay, bx - ax) % pi
        way = 0.0 if way > pi - 2e-3 else way
        c, s = cos(way), sin(way)
        off = ((ay + by) * c - (ax + bx) * s) / 2
        key = (round(way / 2e-3), round(off / NEAR_MM))
        c, s, off = ways.setdefault(key, (c, s, off))
        ends = sorted((ax * c + ay * s, bx * c + by * s))
        lines[key].append((ends[0], ends[1]))
    out = []
    for key, spans in lines.items():
        c, s, off = ways[key]
        joined: list[list[float]] = []
        for low, high in sorted(spans):
            if joined and low <= joined[-1][1] + NEAR_MM:
                joined[-1][1] = max(joined[-1][1], high)
            else:
                joined.append([low, high])
        out += [
            ((low * c - off * s, low * s + off * c), (high * c - off * s, high * s + off * c))
            for low, high in joined
        ]
    return out


def chained(pairs: Sequence[tuple[Point2, Point2]]) -> tuple[Path, ...]:
    """Straight stretches end to end, as far as no third one meets there; the same order every time."""

    def spot(p: Point2) -> tuple[int, int]:
        return round(p[0] / (2 * NEAR_MM)), round(p[1] / (2 * NEAR_MM))

    spots = [(spot(one), spot(two)) for one, two in pairs]
    at: dict[tuple[int, int], list[int]] = defaultdict(list)
    for number, (one, two) in enumerate(spots):
        at[one].append(number)
        at[two].append(number)
    used = [False] * len(pairs)

    def run(path: list[Point2], end: tuple[int, int]) -> None:
        """Go on from the end of a path, as far as one other stretch alone meets there."""
        while True:
            meeting = at[end]
            free = [n for n in meeting if not used[n]]
            if len(meeting) != 2 or len(free) != 1:
                return
            number = free[0]
            used[number] = True
            back = spots[number][1] == end
            path.append(pairs[number][0 if back else 1])
            end = spots[number][0 if back else 1]

    paths = []
    for number, (start, end) in enumerate(pairs):
        if used[number]:
            continue
        used[number] = True
        path = [start, end]
        run(path, spots[number][1])
        path.reverse()
        run(path, spots[number][0])
        paths.append(tuple((round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in path))
    return tuple(sorted(paths))


# ---- the surface in points ----


Facets = tuple[NDArray[np.float64], ...]
"""The corners of a mesh's facets, face by face: each (n, 3, 3), mm."""


def facets(item: Part | Member | Bought) -> Facets:
    """The facets of a part, a piece or a bought item in its own frame; kept."""
    return _facets(_Same(item))


@functools.lru_cache(maxsize=64)
def _facets(key: _Same) -> Facets:
    from OCP.BRep import BRep_Tool
    from OCP.TopAbs import TopAbs_FACE
    from OCP.TopExp import TopExp_Explorer
    from OCP.TopLoc import TopLoc_Location
    from OCP.TopoDS import TopoDS

    found = []
    walk = TopExp_Explorer(_meshed(key).wrapped, TopAbs_FACE)
    while walk.More():
        place = TopLoc_Location()
        mesh = BRep_Tool.Triangulation_s(TopoDS.Face_s(walk.Current()), place)
        if mesh is not None:
            nodes = [mesh.Node(k).Coord() for k in range(1, mesh.NbNodes() + 1)]
            corners = [mesh.Triangle(k).Get() for k in range(1, mesh.NbTriangles() + 1)]
            there = _moved(np.array(nodes), place.Transformation())
            found.append(there[np.array(corners) - 1])
        walk.Next()
    return tuple(found)


def facets_in_place(placed: Placed, tip_radius_mm: float, swing_deg: float) -> Facets:
    """The facets of a thing where it stands in a pose."""
    there = stands(placed.frame, placed.carrier, tip_radius_mm, swing_deg)
    move = there.wrapped.Transformation()
    return tuple(_moved(face, move) for face in facets(placed.item))


def _moved(points: NDArray[np.float64], move: Any) -> NDArray[np.float64]:
    """Points moved as the kernel moves them."""
    turn = np.array([[move.Value(row, column) for column in (1, 2, 3, 4)] for row in (1, 2, 3)])
    return np.asarray(points @ turn[:, :3].T + turn[:, 3])


def spread(
    corners: NDArray[np.float64], step_mm: float
) -> tuple[NDArray[np.float64], NDArray[np.intp]]:
    """Points on facets, no farther apart than a step, in rows from the sharpest corner: (n, 3), mm; and
    of each the facet that it is on."""
    sides = np.linalg.norm(corners - np.roll(corners, -1, axis=1), axis=2)
    across = sides.argmin(axis=1)
    own = np.arange(len(corners))
    a = corners[own, (across + 2) % 3]
    b, c = corners[own, across] - a, corners[own, (across + 1) % 3] - a
    rows = np.maximum(1, np.ceil(sides.max(axis=1) / step_mm)).astype(int)
    columns = np.maximum(1, np.ceil(sides.min(axis=1) / step_mm)).astype(int)
    counts = (rows + 1) * (columns + 1)
    of = np.repeat(own, counts)
    nth = np.arange(counts.sum()) - np.repeat(counts.cumsum() - counts, counts)
    u = (nth // (columns[of] + 1) / rows[of])[:, None]
    v = (nth % (columns[of] + 1) / columns[of])[:, None]
    return a[of] + u * (b[of] * (1 - v) + c[of] * v), of


# ---- directions ----


def corner(east: int, up: int, south: int) -> tuple[Point, Point]:
    """Where one looks from along a body's diagonal, and what is to the right; y points up.

    east, up, south: 1 or -1, for x, y and z of the viewer's corner.
    """
    towards = (float(east), float(up), float(south))
    right = cross((0.0, 1.0, 0.0), towards)
    return towards, right


def extent(points: NDArray[Any]) -> tuple[NDArray[Any], NDArray[Any]]:
    """The lowest and the highest of points, (n, 2) or (n, 3), in each direction: one column after the
    other, which takes a thirtieth of the time of both at once."""
    columns = points.T
    low, high = ([side(one) for one in columns] for side in (np.min, np.max))
    return np.array(low), np.array(high)


def flat(point: Any, towards: Point, right: Point) -> Any:
    """A point, or an array of points (n, 3), as it is seen: to the right and up."""
    return np.asarray(point) @ _onto(towards, right)


@functools.lru_cache(maxsize=32)
def _onto(towards: Point, right: Point) -> NDArray[np.float64]:
    """What points are multiplied by to be seen: to the right, and up."""
    t, r = np.array(towards) / np.linalg.norm(towards), np.array(right) / np.linalg.norm(right)
    return np.stack([r, np.cross(t, r)], axis=-1)


def turned(path: Path, deg: float) -> Path:
    """A path turned about the origin."""
    c, s = cos(radians(deg)), sin(radians(deg))
    return tuple((x * c - y * s, x * s + y * c) for x, y in path)
