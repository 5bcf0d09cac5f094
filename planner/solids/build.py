"""Blank to part, bought items, and where things stand in a pose of the attachment."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from math import cos, pi, sin, sqrt
from typing import Any

from parts.attachment import Carrier, Placed
from parts.errors import NotMakeable
from parts.features import Feature
from parts.frame import Axis, Box, Frame
from parts.part import Bought, Joined, Member, Part, Stock, every_feature, members
from parts.standard.fasteners import socket_screw, thin_nut, washer
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.solids.booleans import cut, fused
from planner.solids.cutters import ENGRAVED, cutters
from planner.solids.kernel import Shape, kernel
from planner.solids.shapes import box, cylinder, tube


class _Same:
    """A part or a piece as a key: the same object, since they hold dictionaries and do not hash."""

    def __init__(self, part: Part | Member) -> None:
        self.part = part

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.part is self.part

    def __hash__(self) -> int:
        return id(self.part)


def solid(part: Part, engraved: bool = True) -> Shape:
    """The solid of a part in its own frame, mm; kept, so asking again costs nothing.

    engraved: with its division lines and index marks; without them for volumes and views.
    Raises NotMakeable when the features leave other than one piece of the part.
    """
    return _engraved(_Same(part)) if engraved else _plain(_Same(part))


@functools.lru_cache(maxsize=64)
def _plain(key: _Same) -> Shape:
    part = key.part
    assert isinstance(part, Part)
    blank = part.blank
    if isinstance(blank, Joined):
        first, *rest = (_member(member) for member in blank.members)
        body = fused(first, *rest).clean() if rest else first
    else:
        body = _stock(blank)
    return _one(_cut(body, part.features), part)


@functools.lru_cache(maxsize=64)
def _engraved(key: _Same) -> Shape:
    plain, tools = _plain(key), []
    assert isinstance(key.part, Part)
    for member, feature in every_feature(key.part):
        if isinstance(feature, ENGRAVED):
            place = location(member.frame if member else Frame())
            tools += [tool.moved(place) for tool in cutters(feature, _bounds(plain))]
    return _one(cut(plain, *tools), key.part) if tools else plain


def piece(member: Member) -> Shape:
    """The solid of a piece as it is before welding, in its own frame, mm; without engraving."""
    return _piece(_Same(member))


@functools.lru_cache(maxsize=64)
def _piece(key: _Same) -> Shape:
    assert isinstance(key.part, Member)
    return _cut(_stock(key.part.blank), key.part.features)


def _member(member: Member) -> Shape:
    """A member with its own features, moved to its place in the weldment.

    It is made anew: what is drawn or measured of a piece leaves traces in it that the weldment's file
    would carry.
    """
    return _cut(_stock(member.blank), member.features).moved(location(member.frame))


def _cut(body: Shape, features: Iterable[Feature]) -> Shape:
    """The body less its features, all cut at once: one at a time is ten times slower."""
    bounds = _bounds(body)
    wanted = (feature for feature in features if not isinstance(feature, ENGRAVED))
    tools = [tool for feature in wanted for tool in cutters(feature, bounds)]
    return cut(body, *tools).clean() if tools else body


def _bounds(body: Shape) -> Box:
    box = body.BoundingBox()
    return Box((box.xmin, box.ymin, box.zmin), (box.xmax, box.ymax, box.zmax))


def _one(shape: Shape, part: Part) -> Shape:
    pieces = shape.Solids()
    if len(pieces) != 1:
        raise NotMakeable(
            [
                f"{part.name}: its blank and features make {len(pieces)} pieces; a part is one."
                " Compare the places and sizes of its members and cuts"
            ]
        )
    return pieces[0]


def _stock(stock: Stock) -> Shape:
    """A blank along +x from x = 0; a flat's width along y, its thickness along z."""
    section, length = stock.section, stock.length_mm
    width = section.width_mm
    if section.shape == "round":
        return cylinder(Axis(), 0.0, length, width / 2)
    if section.shape == "tube":
        return tube(Axis(), 0.0, length, width / 2, width / 2 - section.thickness_mm)
    height = section.height_mm
    return box(Box((0.0, -width / 2, -height / 2), (length, width / 2, height / 2)))


def volume_mm3(part: Part) -> float:
    """The volume of a part, mm3, without weld filler and engraving."""
    return float(solid(part, engraved=False).Volume())


def mass_kg(part: Part) -> float:
    """The mass of a part, kg, each member in its own material; without weld filler.

    Assumes that members do not overlap before they are welded.
    """
    density = {m.name: material(m.blank.material).density_kg_m3 * 1e-9 for m in members(part)}
    if len(set(density.values())) == 1:
        return volume_mm3(part) * next(iter(density.values()))
    # Cuts commute with joining, so each member can be given the cuts of the whole by itself.
    return sum(
        float(_cut(_member(m), part.features).Volume()) * density[m.name] for m in members(part)
    )


# ---- bought items and poses ----


def location(frame: Frame) -> Any:
    """A frame in its parent as a cadquery Location."""
    x, _, z = frame.directions()
    return kernel().Location(kernel().Plane(frame.origin, x, z))


def placement(placed: Placed, tip_radius_mm: float, swing_deg: float) -> Any:
    """Where a placed item stands in a pose, as a cadquery Location.

    tip_radius_mm: the head moves out along y by it; swing_deg: polar angle of the tip, 0 at the
    ball's nose, 90 on top: parts.attachment.in_pose says the same of points.
    """
    cq = kernel()
    stand = location(placed.frame)
    if placed.carrier is Carrier.POST:
        return stand
    out = cq.Location((0.0, tip_radius_mm if placed.carrier is Carrier.HEAD else 0.0, 0.0))
    return cq.Location((0, 0, 0), (1, 0, 0), 90.0 - swing_deg) * out * stand


def bought_solid(item: Bought) -> Shape:
    """A bought item in its own frame: along +x from 0, a screw's head towards -x. No sockets.

    Threads are cylinders of the major diameter, and a nut's hole is that of its thread.
    Raises ValueError for a kind without a solid.
    """
    major = thread(item.thread).major_mm / 2
    axis = Axis()
    if item.ring:
        outside, inside = item.ring.outside_mm / 2, item.ring.inside_mm / 2
        if not inside:
            return cylinder(axis, 0.0, item.ring.pressed_mm, outside)
        return tube(axis, 0.0, item.ring.pressed_mm, outside, inside)
    if item.kind == "washer":
        ring = washer(item.thread)
        return tube(axis, 0.0, ring.thickness_mm, ring.outside_mm / 2, ring.inside_mm / 2)
    if item.kind == "thin nut":
        cq = kernel()
        nut = thin_nut(item.thread)
        corner = nut.across_flats_mm / sqrt(3.0)
        angles = [k * pi / 3 for k in range(6)]
        points = [cq.Vector(0, corner * cos(a), corner * sin(a)) for a in angles]
        hole = cq.Wire.makeCircle(major, (0, 0, 0), cq.Vector(1, 0, 0))
        hexagon = cq.Wire.makePolygon(points, close=True)
        return cq.Solid.extrudeLinear(hexagon, [hole], (nut.height_mm, 0, 0))
    if item.kind in ("set screw", "stud"):
        return cylinder(axis, 0.0, item.length_mm, major)
    if item.kind == "socket screw":
        size = socket_screw(item.thread)
        head = cylinder(axis, -size.head_height_mm, 0.0, size.head_diameter_mm / 2)
        return fused(head, cylinder(axis, 0.0, item.length_mm, major)).Solids()[0]
    raise ValueError(f"bought item '{item.kind} {item.thread}': no solid for this kind; add one")


def label(item: Part | Bought) -> str:
    """What an item is called in a STEP file: its title, or what it is ordered as."""
    if isinstance(item, Part):
        return item.title
    length = f" x {item.length_mm:g} mm" if item.length_mm else ""
    return f"{item.kind.capitalize()} {item.thread}{length} {item.standard}"
