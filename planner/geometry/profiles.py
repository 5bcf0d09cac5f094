"""The flat profiles: what a plasma, laser or water-jet cutter is given for bar and plate.

Imports the parts and the plane curves, no CAD kernel, and shapely only while a profile is made.
dxf.profiles writes what it makes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot, pi, tan
from typing import TYPE_CHECKING

from parts.features import (
    Bore,
    Counterbore,
    DrilledHole,
    Feature,
    Hole,
    ReamedHole,
    SawnNotch,
    Stage,
    TappedHole,
)
from parts.part import Member, Part, members
from planner.geometry.curves import FlatProfile, Outline, Point2

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

FLAT_SHAPES = ("flat", "sheet")

LEAST_CUT_HOLE_MM = 10.0
"""Smallest hole that is cut with the outline; a hole must also be as wide as the plate is thick.
A smaller one comes out tapered, its edge too hard to drill or ream (common practice)."""

SAME_MM = 1e-6
"""Stations and points closer together than this are one."""

Corner = tuple[float, float, float]
"""A corner of the outline: x and y, and the radius of an inner corner (0 for a sharp one)."""


class NoProfile(ValueError):
    """Notches and holes that leave no single sound piece; names the part and says what to mend."""


def flat_profiles(part: Part) -> tuple[FlatProfile, ...]:
    """The profiles of a part's members that are cut from flat bar or sheet, in their order.

    part: any part; members of round, square or tube have no profile.
    Returns one profile a member, seen from the member's +z, its x along the blank, with the
    lower left corner of the blank at (0, 0). The outline is the blank's rectangle less its sawn
    notches, anticlockwise, inner corners as quarter arcs. A plain drilled hole along the thickness
    is cut when it goes right through and is wide enough (LEAST_CUT_HOLE_MM); any other, and one to
    be reamed, bored or tapped, whose edge must stay soft, is marked at its centre, whichever face it
    enters by. All sizes are nominal finished sizes: kerf is for the cutter to set.
    Raises NoProfile when the notches and holes leave no single sound piece.
    Assumes that only features made on the blank are there when it is cut out; flats, slots and
    holes from the edge come later.
    """
    return tuple(
        _profile(part, member)
        for member in members(part)
        if member.blank.section.shape in FLAT_SHAPES
    )


def _profile(part: Part, member: Member) -> FlatProfile:
    blank = member.blank
    whole = part.name == member.name
    where = part.name if whole else f"{part.name}, {member.name}"
    made = [feature for feature in member.features if feature.stage is Stage.BLANK]
    try:
        corners = _notched(member, made)
        holes, marks = _openings(member, made, corners)
        return FlatProfile(
            name=part.name if whole else f"{part.name}-{member.name.lower().replace(' ', '-')}",
            title=part.title if whole else f"{part.title}: {member.name}",
            material=blank.material,
            thickness_mm=blank.section.thickness_mm,
            outline=Outline(_rounded(corners)),
            holes=holes,
            marks=marks,
        )
    except NoProfile as error:
        raise NoProfile(f"{where}: {error}") from error


# ---- the outline ----


def _notched(member: Member, made: Sequence[Feature]) -> list[Corner]:
    """The corners of the blank less its notches, anticlockwise from the lowest on the left."""
    import shapely

    section = member.blank.section
    half_width, half_thickness = section.width_mm / 2, section.thickness_mm / 2
    notches: list[tuple[float, float, float, float, float]] = []
    for notch in (feature for feature in made if isinstance(feature, SawnNotch)):
        (x0, y0, z0), (x1, y1, z1) = notch.box.low, notch.box.high
        if z0 > SAME_MM - half_thickness or z1 < half_thickness - SAME_MM:
            raise NoProfile(
                f"'{notch.name}' runs from z = {z0:g} to {z1:g} mm; a sawn notch goes through the"
                f" thickness, {-half_thickness:g} to {half_thickness:g} mm. Mill a slot instead"
            )
        notches.append((x0, y0 + half_width, x1, y1 + half_width, notch.corner_radius_mm))

    def radius_at(x: float, y: float) -> float:
        radii = [
            radius
            for x0, y0, x1, y1, radius in notches
            if min(abs(x - x0), abs(x - x1)) < SAME_MM and min(abs(y - y0), abs(y - y1)) < SAME_MM
        ]
        return max(radii, default=0.0)

    blank = shapely.box(0, 0, member.blank.length_mm, section.width_mm)
    cut = shapely.union_all([shapely.box(*notch[:4]) for notch in notches])
    loop = _one_line_round(shapely.difference(blank, cut, grid_size=SAME_MM))
    corners: list[Corner] = []
    for (u, v), (x, y), (p, q) in zip([loop[-1], *loop], loop, [*loop[1:], loop[0]], strict=False):
        turn = (x - u) * (q - y) - (y - v) * (p - x)
        if turn:
            corners.append((x, y, radius_at(x, y) if turn < 0 else 0.0))
    return corners


def _one_line_round(left: BaseGeometry) -> list[Point2]:
    """The corners of what is left of a blank, anticlockwise from the lowest on the left."""
    import shapely

    if left.is_empty:
        raise NoProfile("the notches leave nothing of the blank; make them smaller")
    pieces = shapely.get_parts(shapely.orient_polygons(left))
    rings = [shapely.get_coordinates(ring)[:-1].tolist() for ring in shapely.get_rings(pieces)]
    corners = [(x, y) for ring in rings for x, y in ring]
    if len(set(corners)) < len(corners):
        raise NoProfile("two notches meet at a point; let them overlap or stand apart")
    if len(rings) > 1:
        raise NoProfile(
            "the notches part the blank or stand inside it; a notch starts at an edge and leaves"
            " one piece"
        )
    first = min(range(len(corners)), key=lambda k: corners[k][::-1])
    return corners[first:] + corners[:first]


def _rounded(corners: Sequence[Corner]) -> tuple[tuple[float, float, float], ...]:
    """The outline's vertices: sharp corners, and a quarter arc turning right at inner corners."""
    quarter_right = -tan(pi / 8)
    for (x0, y0, r0), (x1, y1, r1) in _edges(corners):
        run = hypot(x1 - x0, y1 - y0)
        if r0 + r1 > run + SAME_MM:
            raise NoProfile(
                f"inner corners of {r0:g} and {r1:g} mm radius on an edge of {run:g} mm at"
                f" ({x0:g}, {y0:g}); make the edge {r0 + r1:g} mm or the radii smaller"
            )
    vertices: list[tuple[float, float, float]] = []
    for before, corner, after in zip(
        [corners[-1], *corners], corners, [*corners[1:], corners[0]], strict=False
    ):
        if corner[2] > SAME_MM:
            vertices.append((*_towards(corner, before), quarter_right))
            vertices.append((*_towards(corner, after), 0.0))
        else:
            vertices.append((corner[0], corner[1], 0.0))
    return tuple(
        vertex
        for vertex, following in zip(vertices, [*vertices[1:], vertices[0]], strict=True)
        if vertex[2] or hypot(following[0] - vertex[0], following[1] - vertex[1]) > SAME_MM
    )


def _towards(corner: Corner, other: Corner) -> Point2:
    """The point of an edge that is the corner's radius away from it."""
    share = corner[2] / hypot(other[0] - corner[0], other[1] - corner[1])
    return (
        corner[0] + share * (other[0] - corner[0]),
        corner[1] + share * (other[1] - corner[1]),
    )


def _edges(corners: Sequence[Corner]) -> Iterator[tuple[Corner, Corner]]:
    yield from pairwise([*corners, corners[0]])


# ---- the holes ----


def _openings(
    member: Member, made: Sequence[Feature], corners: Sequence[Corner]
) -> tuple[tuple[Outline, ...], tuple[Point2, ...]]:
    """The holes that are cut and the centres that are marked, each place once."""
    section = member.blank.section
    thickness = section.thickness_mm
    cut: dict[Point2, float] = {}
    marks: dict[Point2, None] = {}
    for hole in made:
        if not isinstance(hole, Hole) or hole.axis.along[1] != "z":
            continue
        diameter = _diameter_mm(hole)
        if diameter is None:
            continue
        x, y, _ = hole.axis.origin
        centre = (round(x, 6), round(y + section.width_mm / 2, 6))
        wide = diameter >= max(thickness, LEAST_CUT_HOLE_MM) - SAME_MM
        radius = diameter / 2 if wide and _right_through(hole, thickness) else 0.0
        room = _room_mm(corners, centre)
        if room < radius - SAME_MM:
            raise NoProfile(
                f"'{hole.name}' at ({centre[0]:g}, {centre[1]:g}) needs {radius:g} mm of plate all"
                f" round its centre and has {max(room, 0.0):g} mm; move it inside the outline"
            )
        if radius:
            cut[centre] = max(cut.get(centre, 0.0), radius)
        else:
            marks[centre] = None
    circles = tuple(
        Outline(((x - radius, y, 1.0), (x + radius, y, 1.0))) for (x, y), radius in cut.items()
    )
    return circles, tuple(centre for centre in marks if centre not in cut)


def _diameter_mm(hole: Hole) -> float | None:
    """The diameter to cut, 0 to mark only the centre, None for a counterbore (its hole is another)."""
    match hole:
        case DrilledHole():
            return hole.diameter.nominal_mm
        case ReamedHole() | Bore() | TappedHole():
            return 0.0
        case Counterbore():
            return None
    raise TypeError(f"'{hole.name}': no rule for the profile of a {type(hole).__name__}")


def _right_through(hole: Hole, thickness_mm: float) -> bool:
    """Whether a hole along the thickness breaks both faces."""
    entry, end = hole.axis.origin[2], hole.axis.at(hole.depth_mm)[2]
    low, high = min(entry, end), max(entry, end)
    reaches = low <= SAME_MM - thickness_mm / 2 and high >= thickness_mm / 2 - SAME_MM
    return hole.through and reaches


def _room_mm(corners: Sequence[Corner], point: Point2) -> float:
    """How far a point lies inside the sharp-cornered outline, below 0 when outside."""
    import shapely

    plate, at = shapely.Polygon([(x, y) for x, y, _ in corners]), shapely.Point(point)
    room = float(shapely.distance(plate.exterior, at))
    return room if shapely.contains(plate, at) else -room
