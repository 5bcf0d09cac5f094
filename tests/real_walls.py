"""The thinnest metal round every hole, slit and thread, measured on the solids.

Two faces of a part that do not touch may have metal between them. How much is measured twice: by the
kernel's least distance between them, where the line between the nearest points runs in metal, and by
rays sent from one into the metal square to it, to the face they come out of first. A thread is taken
to its full depth, and a drilled bottom to the drill's point, which the solids leave out. Two
faces are measured where at least one is cut into the part; the bar's own thickness is no wall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import radians, tan
from typing import Any

import numpy as np
from real_things import Box, Points, Thing, apart, box_of

from parts.features import Bore, Counterbore, Hole, TappedHole, Thread, Turned
from parts.frame import Frame
from parts.part import Part, every_feature
from parts.standard.threads import thread

FLOOR_MM = 1.0
"""Less metal than this beside a hole or a thread breaks out in the drilling or tears in the tapping
(common practice: a millimetre of steel at least, half as much again in brass or aluminium)."""

LOOKED_AT_MM = 8.0
"""Thicker walls are of no interest."""

POINT = 0.5 / tan(radians(59.0))
"""How far a drill's point of 118 degrees reaches past its sides, in diameters (common practice)."""


@dataclass(frozen=True)
class Wall:
    """Metal between two faces of a part: its least thickness, mm, threads and drill points counted."""

    part: str
    one: str
    other: str
    thickness_mm: float


@dataclass
class _Face:
    name: str
    shape: Any
    box: Box
    cut: bool
    less_mm: float
    bottom_of: _Made | None
    corners: frozenset[tuple[float, ...]]


@dataclass(frozen=True)
class _Made:
    """What a feature leaves: a round about an axis or a box, in the frame of the whole."""

    name: str
    at: Points
    along: Points
    radii: tuple[float, ...] = ()
    faces: Box | None = None
    less_mm: float = 0.0
    drilled_mm: float = 0.0


def walls(things: Iterable[Thing]) -> list[Wall]:
    """Every wall of every part that is made, the thinnest first."""
    found = [wall for t in things if isinstance(t.placed.item, Part) for wall in walls_of(t)]
    return sorted(found, key=lambda wall: wall.thickness_mm)


def walls_of(thing: Thing) -> list[Wall]:
    """The walls of one part."""
    faces = list(_faces(thing))
    thin = _by_rays(faces, thing)
    solid = _inside(thing.shape)
    for i, j in combinations(range(len(faces)), 2):
        a, b = faces[i], faces[j]
        wide = np.array((a.box[0] - LOOKED_AT_MM, a.box[1] + LOOKED_AT_MM))
        drilled = a.bottom_of or b.bottom_of  # only what lies ahead of the drill counts: by rays
        if _wanted(a, b) and not drilled and not apart(wide, b.box):
            least = _between(a.shape, b.shape, solid)
            if least is not None:
                thin[i, j] = min(thin.get((i, j), least), least)
    best: dict[tuple[str, str], float] = {}
    for (i, j), thick in thin.items():
        less = faces[i].less_mm + faces[j].less_mm
        one, other = sorted((faces[i].name, faces[j].name))
        best[one, other] = min(best.get((one, other), np.inf), thick - less)
    return [Wall(thing.name, *names, float(mm)) for names, mm in best.items() if mm <= LOOKED_AT_MM]


def _wanted(a: _Face, b: _Face) -> bool:
    return (a.cut or b.cut) and not a.corners & b.corners


def _faces(thing: Thing) -> Iterator[_Face]:
    made = list(_made(thing))
    for number, face in enumerate(thing.shape.Faces()):
        corners = frozenset(
            tuple(round(float(v), 4) for v in point.toTuple())
            for edge in face.Edges()
            for point in (edge.positionAt(t) for t in (0.0, 0.5, 1.0))
        )
        bottom_of = _bottom_of(face, made)
        if bottom_of:
            name, cut, less = f"bottom of {bottom_of.name}", True, 0.0
        else:
            name, cut, less = _named(face, made, number)
        yield _Face(name, face, box_of(face), cut, less, bottom_of, corners)


def _bottom_of(face: Any, made: Sequence[_Made]) -> _Made | None:
    """The drilled hole that a flat round face is the bottom of."""
    if face.geomType() != "PLANE" or any(e.geomType() != "CIRCLE" for e in face.Edges()):
        return None
    normal, middle = (np.array(v.toTuple()) for v in (face.normalAt(), face.Center()))
    for one in made:
        if one.drilled_mm and float(normal @ one.along) < -1 + 1e-6:
            off = middle - one.at
            if np.linalg.norm(np.cross(off, one.along)) < 1e-3 and float(off @ one.along) > 0.1:
                return one
    return None


def _named(face: Any, made: Sequence[_Made], number: int) -> tuple[str, bool, float]:
    """What a face is called, whether it is cut into the part, and what the solid leaves out of it."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    kind, middle = face.geomType(), np.array(face.Center().toTuple())
    if kind == "CYLINDER":
        round_of = BRepAdaptor_Surface(face.wrapped).Cylinder()
        at = np.array([getattr(round_of.Location(), c)() for c in ("X", "Y", "Z")])
        along = np.array([getattr(round_of.Axis().Direction(), c)() for c in ("X", "Y", "Z")])
        radius = round_of.Radius()
        hollow = _hollow(face, at, along)
        for one in made:
            off = one.at - at
            same = np.linalg.norm(np.cross(off, along)) + np.linalg.norm(np.cross(one.along, along))
            if same < 1e-4 and any(abs(radius - r) < 1e-4 for r in one.radii):
                return one.name, hollow or one.less_mm > 0, one.less_mm
        return f"{'hollow' if hollow else 'round'} of {2 * radius:.4g}", hollow, 0.0
    if kind == "PLANE":
        normal = np.array(face.normalAt().toTuple())
        way = int(np.abs(normal).argmax())
        for one in made:
            if one.faces is not None and np.all(middle > one.faces[0] - 1e-4):
                on = np.abs(one.faces[:, way] - middle[way]) < 1e-4
                if on.any() and np.all(middle < one.faces[1] + 1e-4):
                    return one.name, True, 0.0
        return f"{'+-'[int(normal[way] < 0)]}{'xyz'[way]} side at {middle[way]:.4g}", False, 0.0
    return f"{kind.lower()} face {number}", False, 0.0


def _hollow(face: Any, at: Points, along: Points) -> bool:
    """Whether a round face looks at its own axis: a hole's wall does."""
    point = face.positionAt(*_middle(face))
    normal = np.array(face.normalAt(point).toTuple())
    off = np.array(point.toTuple()) - at
    return float(normal @ (off - (off @ along) * along)) < 0


def _middle(face: Any) -> tuple[float, float]:
    u0, u1, v0, v1 = face._uvBounds()
    return (u0 + u1) / 2, (v0 + v1) / 2


def _made(thing: Thing) -> Iterator[_Made]:
    item, own = thing.placed.item, thing.placed.frame
    assert isinstance(item, Part)
    for member, feature in every_feature(item):
        inner = member.frame if member else Frame()

        def placed(point: Any, inner: Frame = inner) -> Points:
            return np.array(own.place(inner.place(point)))

        if isinstance(feature, (Hole, Turned)):
            at = placed(feature.axis.at(0.0))
            along = placed(feature.axis.at(1.0)) - at
            if isinstance(feature, TappedHole):
                size = thread(feature.thread)
                drill = size.tap_drill_mm
                radii, less = (drill / 2,), (size.major_mm - drill) / 2
                yield _Made(feature.name, at, along, radii, None, less, drill)
            elif isinstance(feature, Thread):
                size = thread(feature.thread)
                less = (size.major_mm - size.minor_external_mm) / 2
                yield _Made(feature.name, at, along, (size.major_mm / 2,), None, less)
            elif hasattr(feature, "diameter"):
                wide = feature.diameter.nominal_mm
                flat = not isinstance(feature, Hole) or isinstance(feature, (Bore, Counterbore))
                yield _Made(feature.name, at, along, (wide / 2,), drilled_mm=0.0 if flat else wide)
        elif hasattr(feature, "box"):
            ends = np.array((placed(feature.box.low), placed(feature.box.high)))
            box = np.array((ends.min(axis=0), ends.max(axis=0)))
            yield _Made(feature.name, box.mean(axis=0), np.zeros(3), faces=box)


def _inside(shape: Any) -> Any:
    from OCP.BRepClass3d import BRepClass3d_SolidClassifier
    from OCP.gp import gp_Pnt
    from OCP.TopAbs import TopAbs_IN

    classifier = BRepClass3d_SolidClassifier(shape.wrapped)

    def inside(point: Points) -> bool:
        classifier.Perform(gp_Pnt(*(float(v) for v in point)), 1e-6)
        return bool(classifier.State() == TopAbs_IN)

    return inside


def _between(a: Any, b: Any, inside: Any) -> float | None:
    """The least distance of two faces where it runs in metal; None where it does not."""
    from OCP.BRepExtrema import BRepExtrema_DistShapeShape

    found = BRepExtrema_DistShapeShape(a.wrapped, b.wrapped)
    if not found.IsDone() or found.Value() > LOOKED_AT_MM:
        return None
    if found.Value() < 1e-6:
        return 0.0
    for number in range(1, found.NbSolution() + 1):
        ends = [
            np.array((p.X(), p.Y(), p.Z()))
            for p in (found.PointOnShape1(number), found.PointOnShape2(number))
        ]
        if all(inside(ends[0] + share * (ends[1] - ends[0])) for share in (0.2, 0.5, 0.8)):
            return float(found.Value())
    return None


RAYS = 25
"""Rays from each face, spread over its triangles by a fixed seed."""


def _by_rays(faces: Sequence[_Face], thing: Thing) -> dict[tuple[int, int], float]:
    """For pairs of faces, the shortest way through metal that a ray found from one to the other."""
    chance = np.random.default_rng(7)
    corners, owner, starts, ways, of = [], [], [], [], []
    for number, face in enumerate(faces):
        vertices, triangles = face.shape.copy().tessellate(0.005, 0.2)
        mesh = np.array([v.toTuple() for v in vertices])[np.array(triangles)]
        normal = np.cross(mesh[:, 1] - mesh[:, 0], mesh[:, 2] - mesh[:, 0])
        area = np.linalg.norm(normal, axis=1)
        mesh, normal, area = mesh[area > 1e-9], normal[area > 1e-9], area[area > 1e-9]
        corners.append(mesh)
        owner += [number] * len(mesh)
        if not len(mesh):
            continue
        picked = chance.choice(len(mesh), RAYS, p=area / area.sum())
        share = chance.dirichlet((1.0, 1.0, 1.0), RAYS)
        spread = (mesh[picked] * share[:, :, None]).sum(axis=1)
        square = -normal[picked] / area[picked][:, None]
        if face.bottom_of:  # one from the drill's point
            spread[0] = face.shape.Center().toTuple()
        starts.append(spread)
        ways.append(square)
        of += [number] * RAYS
    mesh, owners = np.vstack(corners), np.array(owner)
    found: dict[tuple[int, int], float] = {}
    for start, way, number in zip(np.vstack(starts), np.vstack(ways), of, strict=True):
        far, hit = _first(start, way, mesh, owners, number)
        if hit < 0 or faces[hit].bottom_of:
            continue
        if faces[number].bottom_of:
            far -= _ahead_mm(faces[number], start)
        if far <= LOOKED_AT_MM and _wanted(faces[number], faces[hit]):
            key = (min(number, hit), max(number, hit))
            found[key] = min(found.get(key, far), far)
    return found


def _ahead_mm(bottom: _Face, start: Points) -> float:
    """How far the cone of the drill's point reaches past a place of a hole's flat bottom."""
    assert bottom.bottom_of
    wide = bottom.bottom_of.drilled_mm
    off = float(np.linalg.norm(start - np.array(bottom.shape.Center().toTuple())))
    return max(0.0, POINT * (wide - 2 * off))


def _first(start: Points, way: Points, mesh: Points, owners: Points, own: int) -> tuple[float, int]:
    """How far along a ray the first triangle of another face lies, and whose it is; -1 for none."""
    one, two = mesh[:, 1] - mesh[:, 0], mesh[:, 2] - mesh[:, 0]
    across = np.cross(way, two)
    scale = np.einsum("ij,ij->i", one, across)
    with np.errstate(all="ignore"):
        off = start - mesh[:, 0]
        u = np.einsum("ij,ij->i", off, across) / scale
        turned = np.cross(off, one)
        v = turned @ way / scale
        far = np.einsum("ij,ij->i", two, turned) / scale
    u, v, far = (np.nan_to_num(value, nan=-1.0, posinf=-1.0, neginf=-1.0) for value in (u, v, far))
    hit = (u >= -1e-9) & (v >= -1e-9) & (v <= 1 - u + 1e-9) & (far > 0.01) & (owners != own)
    if not hit.any():
        return np.inf, -1
    nearest = int(np.where(hit, far, np.inf).argmin())
    return float(far[nearest]), int(owners[nearest])
