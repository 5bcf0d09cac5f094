"""Things in their places cut by a plane: what stays behind it, and what is cut of each piece.

Solid bars, screws, studs, nuts and washers that lie in the plane lengthwise are left whole (common
practice). Imported by the drawing room's section of the whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import Any

import numpy as np

from parts.attachment import Placed
from parts.blank import Stock
from parts.features import Feature, Hole
from parts.frame import Box, Frame, Point
from parts.part import Bought, Joined, Member
from parts.value import Value
from planner.geometry.curves import Point2
from planner.solids.booleans import cut, shared
from planner.solids.build import location, piece
from planner.solids.kernel import Shape
from planner.solids.shapes import box
from planner.solids.together import extent, facets_in_place, flat, in_place, stands, with_mesh

ON_AXIS_MM = 0.5
"""A bar whose axis is nearer to the plane than this is cut lengthwise."""

Loop = tuple[Point2, ...]


class Cut(Value, frozen=True):
    """What a plane cuts of one piece: a member's name, or the thing's; each area its outer loop and its
    holes, as seen. lengthwise: it is a solid bar cut along its axis, which is not hatched."""

    piece: str
    areas: tuple[tuple[Loop, ...], ...]
    lengthwise: bool = False


class Left(Value, frozen=True):
    """What a plane leaves of a thing: its number among the placed, what stays of it, with a mesh, and
    what is cut of each of its pieces."""

    of: int
    shape: Shape
    cuts: tuple[Cut, ...] = ()


def cut_through(
    placed: Sequence[Placed],
    tip_radius_mm: float,
    axis: int,
    towards: Point,
    right: Point,
    behind_x_mm: float = -inf,
) -> list[Left]:
    """Everything cut square to an axis of the whole through the origin, tip on top.

    axis: 0, 1 or 2; what lies on the viewer's side of the plane is taken away, and what is wholly
    behind behind_x_mm along the pivot.
    """
    found = []
    for number, thing in enumerate(placed):
        place = stands(thing.frame, thing.carrier, tip_radius_mm, 90.0)
        shape = in_place(thing, tip_radius_mm, 90.0)
        corners = np.concatenate(facets_in_place(thing, tip_radius_mm, 90.0))
        nodes = corners.reshape(-1, 3)
        low, high = extent(nodes)
        front, back = (high, low) if towards[axis] > 0 else (low, high)
        if high[0] <= behind_x_mm or back[axis] * towards[axis] >= -1e-6:
            continue  # left out, or wholly on the viewer's side
        if front[axis] * towards[axis] <= 1e-6 or _whole(thing, axis):
            found.append(Left(number, shape))
            continue
        start, end = [v - 1.0 for v in low], [v + 1.0 for v in high]
        (start if towards[axis] > 0 else end)[axis] = 0.0
        tool = box(Box((start[0], start[1], start[2]), (end[0], end[1], end[2])))
        left = with_mesh(cut(shape, tool))
        faces = [face for face in left.Faces() if _lies_in(face, axis)]
        cuts = []
        for name, lengthwise, areas in _by_pieces(thing, faces, axis, place):
            loops = tuple(
                tuple(_loop(wire, towards, right) for wire in (one.outerWire(), *one.innerWires()))
                for one in areas
            )
            cuts.append(Cut(name, loops, lengthwise))
        found.append(Left(number, left, tuple(cuts)))
    return found


def _whole(thing: Placed, axis: int) -> bool:
    """Whether a thing is left whole: what is bought, and a solid bar, lengthwise in the plane."""
    item = thing.item
    if isinstance(item, Bought):
        lengthwise = thing.frame.turned(0) != axis and abs(thing.frame.origin[axis]) < ON_AXIS_MM
        return lengthwise and not item.ring
    return isinstance(item.blank, Stock) and _bar(item.blank, item.features, thing.frame, axis)


def _bar(stock: Stock, features: Sequence[Feature], frame: Frame, axis: int) -> bool:
    """Whether it is a solid round bar that the plane meets lengthwise, with no hole along it."""
    if stock.section.shape != "round" or frame.turned(0) == axis:
        return False
    if abs(frame.origin[axis]) > ON_AXIS_MM:
        return False
    return not any(isinstance(one, Hole) and one.axis.along[1] == "x" for one in features)


def _lies_in(face: Shape, axis: int) -> bool:
    """Whether a face lies in the plane."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    if face.geomType() != "PLANE":
        return False
    plane = BRepAdaptor_Surface(face.wrapped).Plane()
    square = abs(plane.Axis().Direction().Coord(axis + 1)) > 1.0 - 1e-9
    return bool(square and abs(plane.Location().Coord(axis + 1)) < 1e-6)


def _by_pieces(
    thing: Placed, faces: Sequence[Shape], axis: int, place: Any
) -> Iterator[tuple[str, bool, list[Shape]]]:
    """What is cut of each piece of a thing."""
    item = thing.item
    if isinstance(item, Bought) or not isinstance(item.blank, Joined):
        yield thing.name, False, list(faces)
        return
    met = [one for one in item.blank.members if _meets(one, thing, place, axis)]
    for member in met:
        origin = thing.frame.place(member.frame.origin)
        along = thing.frame.turned(member.frame.turned(0))
        lengthwise = along != axis and abs(origin[axis]) < ON_AXIS_MM
        bar = member.blank.section.shape == "round" and lengthwise
        areas = list(faces)
        if len(met) > 1:
            body = piece(member).moved(location(member.frame)).moved(place)
            areas = [own for face in faces for own in shared(face, body).Faces()]
        if areas:
            yield member.name, bar, areas


def _meets(member: Member, thing: Placed, place: Any, axis: int) -> bool:
    """Whether the plane goes through a member's blank, where the whole stands."""
    corners = member.blank.box.placed(member.frame).placed(thing.frame).corners()
    shift = place.toTuple()[0][axis] - thing.frame.origin[axis]  # of the head, along its radius
    at = [corner[axis] + shift for corner in corners]
    return bool(min(at) < -1e-6 and max(at) > 1e-6)


def _loop(wire: Shape, towards: Point, right: Point) -> Loop:
    """The points of a closed wire in their order round it, as seen."""
    from OCP.BRepAdaptor import BRepAdaptor_CompCurve
    from OCP.GCPnts import GCPnts_TangentialDeflection

    points = GCPnts_TangentialDeflection(BRepAdaptor_CompCurve(wire.wrapped), 0.1, 0.02, 2)
    values = [points.Value(k + 1) for k in range(points.NbPoints())]
    seen = flat(np.array([(v.X(), v.Y(), v.Z()) for v in values]), towards, right)
    return tuple((float(u), float(v)) for u, v in seen)
