"""Surfaces of a piece by their names, where they are now, and which way they face.

A name is ``carrier.element``: of stock ``+x`` ... ``-z``, ``round``, ``bore``; of what is turned
``round``, ``start``, ``end``; of a hole ``bore``, ``entry``, ``bottom``; of a milled or sawn box its
faces; ``axis``. Imported by the checks of holding and of gauging.
"""

from __future__ import annotations

import numpy as np
from msgspec.structs import replace

from parts import features as f
from parts.blank import Member
from parts.frame import Axis as PartAxis
from parts.frame import Direction, Frame, Point, vector
from parts.part import Joined
from parts.standard.threads import thread
from parts.value import Value
from planner.walking.finished import line_of
from planner.walking.metal import Metal, rims
from planner.walking.shape import ANGLES, NEAR_MM, Line, Points, Ring
from planner.walking.state import Piece

SIDES = {"low": "-", "high": "+"}


class NoSurface(Exception):
    """There is no such surface on the piece as it is now; what: its name."""

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(what)


class Plane(Value, frozen=True):
    """A flat surface: square to a direction, at a coordinate; about: a line it lies round, if any.

    within: two corners that it lies between, if they are known: of a box that was milled or sawn out.
    """

    along: int
    at: float
    name: str
    about: Line | None = None
    radius: float = 0.0
    within: tuple[Point, Point] | None = None


class Cylinder(Value, frozen=True):
    """A round surface about a line; inside: of a hole."""

    line: Line
    low: float
    high: float
    radius: float
    inside: bool
    name: str


class Axis(Value, frozen=True):
    """A line that no anvil can touch."""

    line: Line
    name: str


Surface = Plane | Cylinder | Axis


def surface(piece: Piece, name: str) -> Surface:
    """The surface of a name. Raises NoSurface where the piece has none such now."""
    carrier, _, element = str(name).rpartition(".")
    letter, _, side = element.partition("-")
    if letter in "xyz" and len(letter) == 1 and side in SIDES:
        element = SIDES[side] + letter
    own = piece.member is not None and carrier in piece.begun
    if not own and (stock := _stock(piece, carrier)) is not None:
        return _of_stock(piece, stock, carrier, element, name)
    feature = _feature(piece, carrier)
    if feature is None:
        raise NoSurface(name)
    return _of_feature(feature, element, name)


def _stock(piece: Piece, carrier: str) -> Member | None:
    """The piece of stock of a name, in the piece's frame."""
    if isinstance(piece.part.blank, Joined) and piece.member is None:
        return next((m for m in piece.part.blank.members if m.name == carrier), None)
    if carrier not in ("blank", piece.part.name, piece.member.name if piece.member else ""):
        return None
    if piece.member is not None:
        return Member(piece.member.name, piece.member.blank, Frame())
    assert not isinstance(piece.part.blank, Joined)
    return Member(piece.part.name, piece.part.blank, Frame())


def _of_stock(piece: Piece, stock: Member, carrier: str, element: str, name: str) -> Surface:
    section = stock.blank.section
    along = stock.frame.turned(0)
    line = Line(along, 1, stock.frame.place((0.0, 0.0, 0.0)))
    if element == "axis":
        return Axis(line, name)
    if element in ("round", "bore"):
        if section.shape not in ("round", "tube") or (
            element == "bore" and section.shape != "tube"
        ):
            raise NoSurface(name)
        low, high = (piece.metal.end(along, s, stock.name) for s in (-1, 1))
        if low is None or high is None:
            raise NoSurface(name)
        wall = section.thickness_mm if element == "bore" else 0.0
        return Cylinder(line, low, high, section.width_mm / 2 - wall, element == "bore", name)
    if len(element) != 2 or element[0] not in "+-" or element[1] not in "xyz":
        raise NoSurface(name)
    way, sign = "xyz".index(element[1]), 1 if element[0] == "+" else -1
    if section.shape in ("round", "tube") and way != along:
        raise NoSurface(name)
    at = piece.metal.end(way, sign, stock.name)
    if at is None:
        raise NoSurface(name)
    return Plane(way, at, name, line if way == along else None, section.width_mm / 2)


def _feature(piece: Piece, carrier: str) -> f.Feature | None:
    """A feature by name that has been begun, in the piece's frame; of a member as "member/feature"."""
    inside, _, feature = carrier.rpartition("/")
    if inside and piece.member is None and isinstance(piece.part.blank, Joined):
        member = next((m for m in piece.part.blank.members if m.name == inside), None)
        if member is None:
            return None
        found = next((one for one in member.features if one.name == feature), None)
        return _moved(found, member) if found else None
    if feature not in piece.begun and feature not in piece.made:
        return None
    return piece.features.get(feature)


def _moved(feature: f.Feature, member: Member) -> f.Feature | None:
    """A round feature of a member, where it lies in the whole."""
    if not isinstance(feature, f.Turned | f.Hole):
        return None
    directions = member.frame.directions()
    way = vector(feature.axis.along)
    turned = [sum(way[i] * directions[i][k] for i in range(3)) for k in range(3)]
    index = next(k for k in range(3) if abs(turned[k]) > 0.5)
    word: Direction = ("+" if turned[index] > 0 else "-") + "xyz"[index]  # type: ignore[assignment]
    return replace(feature, axis=PartAxis(member.frame.place(feature.axis.origin), word))


def _of_feature(feature: f.Feature, element: str, name: str) -> Surface:
    if isinstance(feature, f.Turned | f.Hole):
        line = line_of(feature.axis)
        base = line.through[line.along]
        first, last = (
            (feature.start_mm, feature.end_mm)
            if isinstance(feature, f.Turned)
            else (0.0, feature.depth_mm)
        )
        low, high = sorted((base + line.sign * first, base + line.sign * last))
        if element == "axis":
            return Axis(line, name)
        radius = radius_of(feature)
        if element in ("round", "bore"):
            return Cylinder(line, low, high, radius, isinstance(feature, f.Hole), name)
        ends = {"start": first, "entry": first, "end": last, "bottom": last}
        if element in ends:
            return Plane(line.along, base + line.sign * ends[element], name, line, radius)
    if isinstance(feature, f.Removed) and len(element) == 2 and element[1] in "xyz":
        way = "xyz".index(element[1])
        corner = feature.box.high if element[0] == "+" else feature.box.low
        return Plane(way, corner[way], name, within=(feature.box.low, feature.box.high))
    raise NoSurface(name)


def radius_of(feature: f.Feature) -> float:
    """The radius a round feature has, mm."""
    size = getattr(feature, "diameter", None)
    if size is not None:
        return float(size.nominal_mm) / 2
    named = thread(getattr(feature, "thread"))  # noqa: B009
    return (named.minor_internal_mm if isinstance(feature, f.TappedHole) else named.major_mm) / 2


def sides(metal: Metal, plane: Plane, points: Points | None = None) -> tuple[Points, Points]:
    """Grid points on a plane where metal ends: those from which it faces up the direction, and down."""
    if points is None:
        key = replace(plane, name="")
        if key not in metal.sided:
            metal.sided[key] = _sides(metal, plane, _grid(metal, plane))
        return metal.sided[key]
    return _sides(metal, plane, points)


def _sides(metal: Metal, plane: Plane, grid: Points) -> tuple[Points, Points]:
    below, above = grid.copy(), grid.copy()
    below[:, plane.along] = plane.at - NEAR_MM
    above[:, plane.along] = plane.at + NEAR_MM
    low, high = metal.has(below), metal.has(above)
    return grid[low & ~high], grid[high & ~low]


def _grid(metal: Metal, plane: Plane) -> Points:
    grid = metal.sheet(plane.along, plane.at, 21, plane.within)
    stock = metal.bodies[0].stock
    if len(metal.bodies) == 1 and isinstance(stock, Ring) and stock.along == plane.along:
        about = Line(plane.along, 1, stock.centre)
        grid = np.vstack([grid, about.cloud([plane.at], rims(metal.bodies[0], plane.along))])
    if plane.about is not None:
        reach = plane.radius
        radii = [0.1, *(reach * s for s in (0.3, 0.9, 0.97, 1.03, 1.1, 1.4))]
        near = plane.about.cloud([plane.at], radii)
        grid = np.vstack([grid, near])
    return grid


def bare(metal: Metal, round_: Cylinder, low: float, high: float, off: float = 0.06) -> float:
    """How much of a round surface is there and bare between two stations: 1 is all round, 0 nothing."""
    steps = [low + (high - low) * s for s in (0.08, 0.3, 0.5, 0.7, 0.92)]
    inner = round_.line.cloud(steps, [max(round_.radius - off, 0.01)])
    outer = round_.line.cloud(steps, [round_.radius + off])
    within, beyond = metal.has(inner), metal.has(outer)
    good = (~within & beyond) if round_.inside else (within & ~beyond)
    if not round_.inside and beyond.any():
        return (
            0.0
            if beyond.reshape(len(steps), ANGLES).any(axis=1).mean() > 0.5
            else float(good.mean())
        )
    return float(good.mean())
