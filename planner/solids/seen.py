"""Views and sections of parts and pieces for their sheets, from each of the six sides."""

from __future__ import annotations

import functools
from collections.abc import Iterator

from parts.blank import Joined
from parts.frame import Box, Point, cross
from parts.part import Member, Part
from parts.value import Value
from planner.geometry.curves import Curve, Point2
from planner.solids.booleans import cut, shared
from planner.solids.build import location, piece, solid
from planner.solids.kernel import Shape, kernel
from planner.solids.shapes import box
from planner.solids.tidy import CHORD_MM
from planner.solids.views import edges_seen

MAIN: dict[str, tuple[Point, Point]] = {
    "front": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    "back": ((0.0, 0.0, -1.0), (-1.0, 0.0, 0.0)),
    "top": ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
    "bottom": ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0)),
}
"""What may be a sheet's main view: where the viewer stands, and what points to his right."""


def _sides() -> dict[str, tuple[Point, Point]]:
    """The main views, and round each what is seen from its four sides (ISO 5456-2, from memory)."""
    sides = dict(MAIN)
    for name, (towards, right) in MAIN.items():
        above = cross(towards, right)
        sides[f"{name}/top"] = (above, right)
        sides[f"{name}/bottom"] = (_back(above), right)
        sides[f"{name}/left"] = (_back(right), towards)
        sides[f"{name}/right"] = (right, _back(towards))
    return sides


def _back(way: Point) -> Point:
    return (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])


SIDES = _sides()
"""Where the viewer stands and what points to his right; up is the one square to both."""


def up(side: str) -> Point:
    """What points up in a view."""
    towards, right = SIDES[side]
    return cross(towards, right)


def onto(side: str, point: Point) -> Point2:
    """A point as it is seen, mm to the right and up of the origin."""
    right, above = SIDES[side][1], up(side)
    return (
        sum(a * b for a, b in zip(right, point, strict=True)),
        sum(a * b for a, b in zip(above, point, strict=True)),
    )


class Seen(Value, frozen=True):
    """A view, or a section: its curves, and the loops round what the section cuts.

    cut: the angle of its hatching with the loops round it, each piece of a weldment by itself; 0 where
    it is not hatched, for a solid round bar cut lengthwise (common practice).
    """

    curves: tuple[Curve, ...]
    cut: tuple[tuple[float, tuple[tuple[Point2, ...], ...]], ...] = ()


class _Key:
    """What is looked at, as a key: the same object, side and place of the cut."""

    def __init__(self, thing: Part | Member, side: str, at_mm: float | None) -> None:
        self.thing, self.side, self.at_mm = thing, side, at_mm

    def __eq__(self, other: object) -> bool:
        same = isinstance(other, _Key) and other.thing is self.thing
        return same and (other.side, other.at_mm) == (self.side, self.at_mm)  # type: ignore[attr-defined]

    def __hash__(self) -> int:
        return hash((id(self.thing), self.side, self.at_mm))


def seen(thing: Part | Member, side: str) -> Seen:
    """A part, or a piece before welding, seen from a side, in its own frame, without engraving."""
    return _seen(_Key(thing, side, None))


def section(thing: Part | Member, side: str, at_mm: float) -> Seen:
    """The same cut square to the line of sight, what stands before the cut taken away.

    at_mm: the coordinate of the cut along the frame's own axis that one looks along.
    """
    return _seen(_Key(thing, side, at_mm))


@functools.lru_cache(maxsize=256)
def _seen(key: _Key) -> Seen:
    thing = key.thing
    shared = solid(thing, engraved=False) if isinstance(thing, Part) else piece(thing)
    shape = shared.copy()  # hiding lines leaves traces in a shape, and this one is written to files
    if key.at_mm is None:
        return Seen(edges_seen(shape, SIDES[key.side]))
    towards = SIDES[key.side][0]
    i = next(k for k in range(3) if towards[k])
    around = shape.BoundingBox()
    low = [around.xmin - 1, around.ymin - 1, around.zmin - 1]
    high = [around.xmax + 1, around.ymax + 1, around.zmax + 1]
    if towards[i] > 0:
        low[i] = key.at_mm
    else:
        high[i] = key.at_mm
    left = cut(shape, box(Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))))
    faces = [
        face
        for face in left.Faces()
        if face.geomType() == "PLANE"
        and abs(abs(face.normalAt().toTuple()[i]) - 1) < 1e-9
        and abs(face.Center().toTuple()[i] - key.at_mm) < 1e-6
    ]
    loops = tuple(
        (angle, tuple(_loop(wire, key.side) for wire in (face.outerWire(), *face.innerWires())))
        for angle, face in _by_members(thing, faces, i, key.at_mm)
    )
    curves = tuple(c for c in edges_seen(left, SIDES[key.side]) if not c.hidden)
    return Seen(curves, loops)


def _by_members(
    thing: Part | Member, faces: list[Shape], i: int, at_mm: float
) -> Iterator[tuple[float, Shape]]:
    """What a section cuts, each piece of a weldment by itself, and how it is hatched."""
    joined = thing.blank if isinstance(thing, Part) else None
    if not isinstance(joined, Joined):
        yield from ((45.0, face) for face in faces)
        return
    for number, member in enumerate(joined.members):
        body = piece(member).moved(location(member.frame))
        along = member.frame.turned(0)
        axis = member.frame.place((0.0, 0.0, 0.0))
        lengthwise = along != i and abs(axis[i] - at_mm) < member.blank.section.width_mm / 4
        solid_bar = member.blank.section.shape == "round" and lengthwise
        for face in faces:
            for own in shared(face, body).Faces():
                yield (0.0 if solid_bar else (45.0, 135.0)[number % 2]), own


def _loop(wire: Shape, side: str) -> tuple[Point2, ...]:
    """The points of a closed wire in their order round it, as seen."""
    from OCP.BRepAdaptor import BRepAdaptor_CompCurve
    from OCP.GCPnts import GCPnts_TangentialDeflection

    points = GCPnts_TangentialDeflection(BRepAdaptor_CompCurve(wire.wrapped), 0.2, CHORD_MM, 2)
    values = (points.Value(k + 1) for k in range(points.NbPoints()))
    return tuple(onto(side, (v.X(), v.Y(), v.Z())) for v in values)


def bounds(thing: Part | Member) -> Box:
    """The upright box round a part or a piece."""
    shape: Shape = solid(thing, engraved=False) if isinstance(thing, Part) else piece(thing)
    around = shape.BoundingBox()
    return Box((around.xmin, around.ymin, around.zmin), (around.xmax, around.ymax, around.zmax))


__all__ = ["SIDES", "Seen", "bounds", "kernel", "onto", "seen", "section", "up"]
