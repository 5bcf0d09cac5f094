"""The faces of a solid as plain data: what a drawing must account for, one by one."""

from __future__ import annotations

import functools
from typing import Literal

from parts.frame import Box, Point
from parts.part import Member, Part
from parts.value import Value
from planner.solids.build import piece, solid
from planner.solids.kernel import Shape

SQUARE = 1.0 - 1e-9
"""Cosine within which a face or an axis counts as square to a direction of the frame."""


class Face(Value, frozen=True):
    """One face of a solid, in the solid's frame, mm.

    kind: "plane", "cylinder", "sphere" or "other" (also for what is not square to the frame);
    along: 0, 1 or 2, the direction a plane is square to or a cylinder's axis runs in, -1 for none;
    at: a point of the plane or the axis, the centre of a sphere; box: round the face itself; outward: 1
    or -1, which way along its direction a plane faces away from the metal, else 0.
    """

    kind: Literal["plane", "cylinder", "sphere", "other"]
    along: int
    at: Point
    radius_mm: float
    box: Box
    outward: int = 0


def part_faces(part: Part) -> tuple[Face, ...]:
    """Every face of a part without its engraving, in the part's frame."""
    return _faces(_Key(part))


def piece_faces(member: Member) -> tuple[Face, ...]:
    """Every face of a piece as it is before welding, in the piece's frame."""
    return _faces(_Key(member))


class _Key:
    """A thing as a key: the same object, since parts hold dictionaries and do not hash."""

    def __init__(self, thing: Part | Member) -> None:
        self.thing = thing

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and other.thing is self.thing

    def __hash__(self) -> int:
        return id(self.thing)


@functools.lru_cache(maxsize=128)
def _faces(key: _Key) -> tuple[Face, ...]:
    thing = key.thing
    shared = solid(thing, engraved=False) if isinstance(thing, Part) else piece(thing)
    shape = shared.copy()  # looked at closely, a shape is no longer as it was made
    return tuple(_face(face) for face in shape.Faces())


def _face(face: Shape) -> Face:
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    around = face.BoundingBox(1e-4)
    box = Box((around.xmin, around.ymin, around.zmin), (around.xmax, around.ymax, around.zmax))
    kind, form = face.geomType(), BRepAdaptor_Surface(face.wrapped)
    if kind == "PLANE":
        plane = form.Plane()
        along = _along(plane.Axis().Direction())
        if along >= 0:
            outward = 1 if face.normalAt().toTuple()[along] > 0 else -1
            return Face("plane", along, _point(plane.Location()), 0.0, box, outward)
    elif kind == "CYLINDER":
        cylinder = form.Cylinder()
        along = _along(cylinder.Axis().Direction())
        if along >= 0:
            at = _point(cylinder.Location())
            return Face("cylinder", along, at, float(cylinder.Radius()), box)
    elif kind == "SPHERE":
        sphere = form.Sphere()
        return Face("sphere", -1, _point(sphere.Location()), float(sphere.Radius()), box)
    return Face("other", -1, box.low, 0.0, box)


def _along(direction: Shape) -> int:
    parts = (direction.X(), direction.Y(), direction.Z())
    return next((i for i in range(3) if abs(parts[i]) > SQUARE), -1)


def _point(point: Shape) -> Point:
    return (point.X(), point.Y(), point.Z())
