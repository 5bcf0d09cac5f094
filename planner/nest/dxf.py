"""A nested sheet, or one flat piece, as a DXF file for a plasma table or saw: what is cut, and when.

Puts contours in cutting order and on layers; dxf.profiles writes them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, cos, hypot, inf, isfinite, sin
from pathlib import Path

from parts.value import Value
from planner.dxf.drawing import CENTRE_MARK_MM, NARROW, TEXT_MM, VERSIONS, WIDE, Text
from planner.dxf.profiles import write_layers
from planner.geometry.curves import FlatProfile, Line, Outline, Point2
from planner.nest.model import NestSheet, NoRoom
from planner.nest.offset import heading, offset
from planner.nest.outlines import (
    anticlockwise,
    apart_mm,
    bounds,
    contains,
    from_point_mm,
    reversed_outline,
    segments,
    starting_at,
)

INSIDE, OUTSIDE, MARK, EDGE = "CUT_INSIDE", "CUT_OUTSIDE", "MARK", "SHEET"
LAYERS = {
    # name: (colour index, linetype, line weight)
    INSIDE: (1, "CONTINUOUS", WIDE),
    OUTSIDE: (7, "CONTINUOUS", WIDE),
    MARK: (3, "CONTINUOUS", NARROW),
    EDGE: (8, "CONTINUOUS", NARROW),
}
"""SHEET is the sheet's edge, drawn to set up by and never to be cut; MARK is not cut either."""

PIERCE_SHARE = 0.7
"""A lead-in starts at least this part of its length away from every contour: into a square inner
corner it is sin 45 degrees."""

Drawn = list[tuple[str, Outline | Line | Text]]


class _Contour(Value, frozen=True):
    """A closed cut, anticlockwise, offset already; inside: of a hole."""

    line: Outline
    inside: bool
    owner: str


class _Cutter(Value, frozen=True):
    """How the file is to be made: see write_sheet."""

    least_hole_mm: float | None
    kerf_mm: float
    lead_mm: float
    labels: bool


def write_sheet(
    path: Path,
    nest_sheet: NestSheet,
    version: str = "R2010",
    *,
    least_hole_mm: float | None = None,
    kerf_offset_mm: float = 0.0,
    lead_in_mm: float = 0.0,
    labels: bool = False,
    inch: bool = False,
) -> None:
    """Write one nested sheet, 1:1, its lower left corner at (0, 0).

    path: the file, whole or not at all; nest_sheet: from nest.place; version: as for
    dxf.profiles.write_profile: R12 cannot say what its unit is. inch: the file
    is in inches, as for dxf.profiles.write_profile.
    least_hole_mm: holes narrower than this get a centre mark instead of a cut, 0 or more; None for
    the plate's thickness, as the process hardens the edge of a small hole (common practice).
    kerf_offset_mm: width of the kerf, 0 or more: outlines are cut half of it outside, holes half of
    it inside. Leave it 0 where the table's controller allows for the kerf.
    lead_in_mm: length of a straight lead-in, 0 or more: a line of its own on the contour's layer,
    just before it, from the waste to the contour's first vertex, with room all round the pierce.
    labels: each piece's name on MARK, where there is room; off, as some tables would burn it in.
    In the file stand the sheet's edge on SHEET (for reference: not to be cut), the marks on MARK,
    then each piece's holes on CUT_INSIDE and its outline on CUT_OUTSIDE, the next contour always
    the nearest. Outlines run clockwise and holes anticlockwise, the piece always on the right,
    where a plasma arc cuts squarer (common practice). A sawn sheet has its cuts in order on
    CUT_OUTSIDE, along the near side of each kerf (its middle with kerf_offset_mm), and the pieces
    for reference on MARK.
    Raises ValueError for sizes out of range, an unknown version or a kerf wider than the gap, NoRoom
    for a detail narrower than the kerf or no room for a lead-in; OSError when the file cannot be
    written.
    """
    cutter = _cutter(least_hole_mm, kerf_offset_mm, lead_in_mm, labels, version)
    if nest_sheet.process != "saw" and kerf_offset_mm > nest_sheet.gap_mm + 1e-9:
        raise ValueError(
            f"a kerf of {kerf_offset_mm:g} mm is wider than the gap of {nest_sheet.gap_mm:g} mm"
            " between the pieces; nest them again with a larger gap"
        )
    sheet = nest_sheet.sheet
    corners = ((0, 0), (sheet.length_mm, 0), (sheet.length_mm, sheet.width_mm), (0, sheet.width_mm))
    edge = Outline(tuple((float(x), float(y), 0.0) for x, y in corners))
    profiles = [placed.on_sheet() for placed in nest_sheet.placed]
    drawn: Drawn = [(EDGE, edge)]
    if nest_sheet.process == "saw":
        drawn += _sawn(nest_sheet, profiles, kerf_offset_mm / 2)
    else:
        drawn += _drawn(profiles, cutter, edge)
    write_layers(path, LAYERS, drawn, version, inch)


def write_piece(
    path: Path,
    profile: FlatProfile,
    version: str = "R2010",
    *,
    least_hole_mm: float | None = None,
    kerf_offset_mm: float = 0.0,
    lead_in_mm: float = 0.0,
    labels: bool = False,
    inch: bool = False,
) -> None:
    """Write one piece by itself at its own coordinates; arguments, layers and order as write_sheet.

    Raises as write_sheet. There is no sheet's edge: layer SHEET is empty.
    """
    cutter = _cutter(least_hole_mm, kerf_offset_mm, lead_in_mm, labels, version)
    write_layers(path, LAYERS, _drawn([profile], cutter, None), version, inch)


def _cutter(
    least_hole_mm: float | None, kerf_mm: float, lead_mm: float, labels: bool, version: str
) -> _Cutter:
    sizes = {
        "least_hole_mm": 0.0 if least_hole_mm is None else least_hole_mm,
        "kerf_offset_mm": kerf_mm,
        "lead_in_mm": lead_mm,
    }
    wrong = [
        f"{name} is {size}; it must be 0 or more"
        for name, size in sizes.items()
        if not (isfinite(size) and size >= 0)
    ]
    if version not in VERSIONS:
        wrong.append(f"DXF version {version!r} is not written; use {', '.join(VERSIONS)}")
    if wrong:
        raise ValueError("; ".join(wrong))
    return _Cutter(least_hole_mm, kerf_mm, lead_mm, labels)


# ---- under a torch ----


def _drawn(profiles: Sequence[FlatProfile], cutter: _Cutter, edge: Outline | None) -> Drawn:
    marks: Drawn = []
    groups: list[list[_Contour]] = []
    for profile in profiles:
        contours, centres = _contours(profile, cutter)
        groups.append(contours)
        marks += [(MARK, line) for centre in centres for line in _cross(centre)]
        label = _label(profile, centres) if cutter.labels else None
        marks += [(MARK, label)] if label else []
    everything = [contour for contours in groups for contour in contours]
    boxes = [bounds(contour.line) for contour in everything]
    torch: Point2 = (0.0, 0.0)
    cuts: Drawn = []
    while groups:
        contours = min(groups, key=lambda group: _away_mm(group, torch))
        groups.remove(contours)
        while contours:
            holes = [contour for contour in contours if contour.inside]
            contour = min(holes or contours, key=lambda c: _away_mm([c], torch))
            contours.remove(contour)
            at = _start(contour, torch, cutter.lead_mm, everything, boxes, edge)
            layer = INSIDE if contour.inside else OUTSIDE
            torch = contour.line.vertices[at][:2]
            if cutter.lead_mm:
                cuts.append((layer, Line(_pierce(contour, at, cutter.lead_mm), torch)))
            line = starting_at(contour.line, at)
            cuts.append((layer, line if contour.inside else reversed_outline(line)))
    return marks + cuts


def _cross(at: Point2) -> tuple[Line, Line]:
    """A centre mark."""
    x, y, half = *at, CENTRE_MARK_MM / 2
    return Line((x - half, y), (x + half, y)), Line((x, y - half), (x, y + half))


def _contours(profile: FlatProfile, cutter: _Cutter) -> tuple[list[_Contour], list[Point2]]:
    """What is cut of a piece, offset by half the kerf, and the centres that are marked."""
    least = profile.thickness_mm if cutter.least_hole_mm is None else cutter.least_hole_mm
    centres = list(profile.marks)
    made: list[_Contour] = []
    try:
        for hole in map(anticlockwise, profile.holes):
            if _narrowest_mm(hole) < least - 1e-6:
                left, bottom, right, top = bounds(hole)
                centres.append(((left + right) / 2, (bottom + top) / 2))
            else:
                made.append(_Contour(offset(hole, -cutter.kerf_mm / 2), True, profile.name))
        outline = offset(anticlockwise(profile.outline), cutter.kerf_mm / 2)
    except NoRoom as error:
        raise NoRoom(f"'{profile.name}': {error}") from error
    return [*made, _Contour(outline, False, profile.name)], centres


def _narrowest_mm(hole: Outline) -> float:
    """Least width of a hole, seen along x, y and each of its straight sides."""
    angles = {0.0} | {
        atan2(q[1] - p[1], q[0] - p[0]) for p, q, bulge in segments(hole) if not bulge
    }
    widths = []
    for angle in angles:
        c, s = cos(angle), sin(angle)
        box = bounds(Outline(tuple((c * x + s * y, c * y - s * x, b) for x, y, b in hole.vertices)))
        widths.append(min(box[2] - box[0], box[3] - box[1]))
    return min(widths)


def _away_mm(contours: Sequence[_Contour], torch: Point2) -> float:
    """How far the nearest vertex of what is cut first is."""
    first = [contour for contour in contours if contour.inside] or contours
    return min(
        hypot(x - torch[0], y - torch[1]) for contour in first for x, y, _ in contour.line.vertices
    )


def _start(
    contour: _Contour,
    torch: Point2,
    lead_mm: float,
    everything: Sequence[_Contour],
    boxes: Sequence[tuple[float, float, float, float]],
    edge: Outline | None,
) -> int:
    """The vertex nearest to the torch that a lead-in has room at."""
    vertices = contour.line.vertices
    order = sorted(
        range(len(vertices)),
        key=lambda k: (round(hypot(vertices[k][0] - torch[0], vertices[k][1] - torch[1]), 6), k),
    )
    if not lead_mm:
        return order[0]
    for at in order:
        pierce = _pierce(contour, at, lead_mm)
        x, y = pierce
        clear = PIERCE_SHARE * lead_mm - 1e-6
        near = [
            other
            for other, box in zip(everything, boxes, strict=True)
            if box[0] - lead_mm < x < box[2] + lead_mm and box[1] - lead_mm < y < box[3] + lead_mm
        ]
        if edge is not None and not contains(edge, pierce):
            continue
        if contains(contour.line, pierce) != contour.inside:
            continue
        if any(from_point_mm(other.line, pierce) < clear for other in near):
            continue
        # The last thousandth of the lead-in is where it meets its own contour.
        tip = (vertices[at][0] * 0.999 + x * 0.001, vertices[at][1] * 0.999 + y * 0.001)
        lead = Outline(((x, y, 0.0), (*tip, 0.0)))
        if all(apart_mm(lead, other.line) > 0 for other in near) and not any(
            other is not contour and other.inside == contour.inside and contains(other.line, pierce)
            for other in near
        ):
            return at
    what = "a hole" if contour.inside else "the outline"
    raise NoRoom(
        f"'{contour.owner}': no room for a lead-in of {lead_mm:g} mm to {what} near"
        f" ({vertices[0][0]:.6g}, {vertices[0][1]:.6g}); shorten it or nest with a larger gap"
    )


def _pierce(contour: _Contour, at: int, lead_mm: float) -> Point2:
    """Where a lead-in to a vertex starts: halfway between its sides, in the waste."""
    sides = list(segments(contour.line))
    (ax, ay), (bx, by) = heading(sides[at - 1])[1], heading(sides[at])[0]
    nx, ny = ay + by, -(ax + bx)
    length = hypot(nx, ny) or inf
    way = -lead_mm if contour.inside else lead_mm
    x, y, _ = contour.line.vertices[at]
    return x + way * nx / length, y + way * ny / length


def _label(profile: FlatProfile, centres: Sequence[Point2]) -> Text | None:
    """The piece's name in the roomiest place of a grid over it; None when there is none."""
    name = " ".join(profile.name.split())
    left, bottom, right, top = bounds(profile.outline)
    lines = [anticlockwise(profile.outline), *map(anticlockwise, profile.holes)]
    height = min(TEXT_MM, (top - bottom) / 3)
    # A single-line letter is about as wide as it is high, its space with it.
    half = height * len(name) / 2
    best: tuple[float, float, float] | None = None
    for i in range(1, 12):
        for j in range(1, 12):
            x, y = left + (right - left) * i / 12, bottom + (top - bottom) * j / 12
            along = [(x + half * k / 4, y) for k in range(-4, 5)]
            if not all(
                contains(lines[0], p) and not any(contains(hole, p) for hole in lines[1:])
                for p in along
            ):
                continue
            free = min(from_point_mm(line, p) for line in lines for p in along)
            for cx, cy in centres:
                free = min(free, *(hypot(cx - u, cy - v) - CENTRE_MARK_MM / 2 for u, v in along))
            if free > height and (best is None or free > best[0] + 1e-9):
                best = free, x, y
    return None if best is None else Text(name, (best[1] - half, best[2] - height / 2), height)


# ---- under a saw ----


def _sawn(nest_sheet: NestSheet, profiles: Sequence[FlatProfile], into_kerf_mm: float) -> Drawn:
    outlines: Drawn = []
    for profile in profiles:
        outlines += [(MARK, line) for line in (*profile.holes, profile.outline)]
        outlines += [(MARK, line) for mark in profile.marks for line in _cross(mark)]
    return outlines + [(OUTSIDE, line) for line in _cut_lines(nest_sheet, into_kerf_mm)]


def _cut_lines(nest_sheet: NestSheet, into_kerf_mm: float) -> Iterator[Line]:
    """Each cut as a line on the sheet, by the lower left corners of the panels."""
    kerf = nest_sheet.gap_mm
    corner: dict[int | None, Point2] = {0: (0.0, 0.0)}
    for cut in nest_sheet.cuts:
        x, y = corner[cut.panel]
        at, beyond = cut.position_mm + into_kerf_mm, cut.position_mm + kerf
        corner[cut.near] = (x, y)
        if cut.along == "width":
            corner[cut.far] = (x + beyond, y)
            yield Line((x + at, y), (x + at, y + cut.length_mm))
        else:
            corner[cut.far] = (x, y + beyond)
            yield Line((x, y + at), (x + cut.length_mm, y + at))
