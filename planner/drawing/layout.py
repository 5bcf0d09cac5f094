"""One sheet from what it has to say: views and lanes first, then paper and scale, leaders last.

Whatever finds no place raises, and the next scale or the next paper is tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import product
from math import atan2, cos, degrees, radians, sin
from typing import Any, Literal, NamedTuple

from msgspec.structs import replace

from parts import features as f
from planner.drawing import frame
from planner.drawing.beside import Beside, to_sides
from planner.drawing.callouts import Call, Note, angled, calls, free_signs, notes
from planner.drawing.choose import View, views
from planner.drawing.cutting import cutting, seen_edge_on
from planner.drawing.detail import details
from planner.drawing.flags import flagged, placed_flags
from planner.drawing.isometric import isometric
from planner.drawing.lanes import DoesNotFit
from planner.drawing.leaders import NOTE_MM, noted, placed_leaders
from planner.drawing.marks import edge_mark
from planner.drawing.model import (
    TEXT_MM,
    Box,
    Circle,
    Dimension,
    Fields,
    Hatch,
    Item,
    Line,
    Polyline,
    Sheet,
    factor,
)
from planner.drawing.model import Arc as PaperArc
from planner.drawing.outline import Outline
from planner.drawing.room import Room
from planner.drawing.scaled import corners_taken, unrolled
from planner.drawing.scheme import Scheme
from planner.drawing.standing import standing
from planner.geometry.curves import Arc, Curve
from planner.geometry.curves import Line as Straight
from planner.geometry.curves import Polyline as Path
from planner.words.numbers import Numbers

SCALES = ("5:1", "2:1", "1:1", "1:2", "1:5")
"""Of ISO 5455 (from memory), the largest first; a workshop's own prints read by rule at 1:1."""

PAPERS = {
    "A4": ("A4", "A3"),
    "Letter": ("Letter", "Tabloid"),
    "A3": ("A3",),
    "Tabloid": ("Tabloid",),
}
"""What is tried, in order, for the paper asked for."""

GAPS_MM = (4.0, 24.0)
"""Between two views with all that stands beside them: the least, and with room for words."""

LETTERED = ((TEXT_MM, True), (NOTE_MM, True), (NOTE_MM, False))
"""What is tried of the notes on a paper at a scale: their height, that of other words or the step of
ISO 3098's series under it; and whether their numbers stand at call-outs, or all on their own arrows."""

AWAY_MM = 3.0
"""Nearer stand the lanes whose words are on the far side of their lines."""

OFF_MM, OFF_TOP_MM, OFF_FIELDS_MM, OFF_NOTES_MM = 5.0, 6.0, 3.0, 2.0
"""From views to the frame, to its top, to the data fields, notes and what is unrolled; and to the end
of notes that stand beside them."""

ANGLE_MM = 7.0
"""From a rim to the arc of its mark's angle."""

OVER_MM = 2.5
"""Centre lines run so far beyond what they are the middle of."""


class _Notes(NamedTuple):
    """The notes of a sheet, and how they are tried: how high, their numbers at call-outs or not, beside
    the data fields or over them."""

    notes: Sequence[Note]
    height_mm: float
    at_calls: bool
    beside: bool


def sheet(
    scheme: Scheme,
    fields: Fields,
    numbers: Numbers,
    paper: str = "A4",
    projection: Literal["first", "third"] = "first",
) -> Sheet:
    """The sheet of one subject. Raises DoesNotFit where no scale and no paper of PAPERS takes it."""
    chosen, where = views(scheme)
    outlines = {view: Outline(scheme, view) for view in chosen}
    said = calls(scheme, outlines, where, numbers)
    sentences = notes(scheme, numbers)
    ready: dict[str, tuple[list[Beside], list[Call]] | DoesNotFit] = {}
    last: Exception | None = None
    longest = max(max(r - a, t - b) for a, b, r, t in (one.span for one in outlines.values()))
    for name, scale, gaps in _tries(paper):
        row = frame.PAPERS[name]
        if float(factor(scale)) * longest > max(row.width_mm, row.height_mm):
            last = DoesNotFit("a view is larger than the sheet")
            continue
        if scale not in ready:
            ready[scale] = _ready(scheme, outlines, where, said, numbers, scale)
        views_ready = ready[scale]
        if isinstance(views_ready, DoesNotFit):
            last = views_ready
            continue
        for lettered, gap, lying, aside in product(LETTERED, gaps, (True, False), (True, False)):
            size = sorted((row.width_mm, row.height_mm), reverse=lying)
            try:
                wide, high = _extent(views_ready[0], float(factor(scale)), projection, gap)
                if wide > size[0] or high > size[1]:
                    raise DoesNotFit("the views with their lanes are larger than the sheet")
                blank = frame.blank(fields, name, lying, scale, projection)
                how = _Notes(sentences, *lettered, aside)
                return _laid_out(scheme, blank, *views_ready, numbers, how, gap)
            except DoesNotFit as problem:
                last = problem
    raise DoesNotFit(f"{scheme.subject.name}: {last}")


def _tries(paper: str) -> Iterator[tuple[str, str, tuple[float, ...]]]:
    """Papers, scales and gaps in the order they are tried: a larger paper before a scale hard to read,
    and views that touch."""
    *good, last = SCALES
    for name, scale in product(PAPERS[paper], good):
        yield name, scale, GAPS_MM
    for name, scale in product(PAPERS[paper][-1:], good[-1:]):
        yield name, scale, (0.0,)
    for name in PAPERS[paper]:
        yield name, last, GAPS_MM


def _ready(
    scheme: Scheme,
    outlines: dict[View, Outline],
    where: dict[Any, View],
    said: Sequence[Call],
    numbers: Numbers,
    scale: str,
) -> tuple[list[Beside], list[Call]] | DoesNotFit:
    """The views with their dimensions in lanes at a scale, and the words left for leaders."""
    beside = {view: Beside(outline) for view, outline in outlines.items()}
    rest = to_sides(scheme, beside, where, said)
    every = list(beside.values())
    try:
        for one in every:
            one.arrange(numbers, float(factor(scale)))
    except DoesNotFit as problem:
        return problem
    for one in every:
        for cut in every:
            if cut.view.at_mm is not None and seen_edge_on(cut, every) is one:
                one.cut_level |= cut.view.depth == one.view.upright
                one.cut_upright |= cut.view.depth == one.view.across
    return every, rest


def _laid_out(
    scheme: Scheme,
    blank: Sheet,
    every: list[Beside],
    rest: list[Call],
    numbers: Numbers,
    said: _Notes,
    gap: float,
) -> Sheet:
    scale = factor(blank.scale)
    beside = {one.view: one for one in every}
    outlines = {one.view: one.outline for one in every}
    space, block = frame.inside(blank), frame.block(blank)
    sentences = [one.words for one in said.notes]
    words, under = noted(sentences, space, block, said.beside, said.height_mm)
    lines = [x.name for x in scheme.subject.features if isinstance(x, f.ScribedLine)]
    rest, own = flagged(rest, said.notes, said.at_calls, lines)
    scales = [x for x in scheme.subject.features if isinstance(x, f.EngravedScale)]
    unrolls = [unrolled(one, numbers) for one in scales]
    corners, corner = corners_taken(unrolls, space)
    regions = _regions(space, block, under)
    if unrolls:
        regions = _beside(regions, corner)
    _put(list(beside.values()), float(scale), regions, blank.projection, gap)
    items: list[Item] = [*words]
    for detail, place in zip(unrolls, corners, strict=True):
        items += detail.items(place)
    for one in beside.values():
        items += _drawn(one, float(scale))
        items += _dimensioned(one, numbers, scale)
    items += cutting(list(beside.values()), float(scale))
    for name, view in angled(scheme, outlines).items():
        items.append(_angle(scheme, name, beside[view], numbers, scale))
    room = Room(space)
    room.take((*blank.frame, *items))
    if unrolls:
        room.take_box(corner)
    room.take_box(Box(block.left - 1, block.low, block.right, block.top + 1))
    places = {v: (b.outline, b.origin) for v, b in beside.items()}
    free = free_signs(scheme)
    stood, blocks = standing(scheme.subject, free, places, float(scale), room, numbers)
    items += stood
    items += placed_leaders(rest, blocks, places, float(scale), room, numbers)
    items += placed_flags(own, scheme, places, float(scale), room)
    noted_in = {one.features[0]: one.view for one in rest}
    items += details(scheme, places, noted_in, float(scale), room)
    for one in beside.values():
        room.take_inside(_drawn(one, float(scale)))
    items += isometric(scheme.subject, room)
    return replace(blank, items=tuple(items))


# ---- places on the paper ----


def _regions(space: Box, block: Box, under: Box) -> tuple[Box, ...]:
    """The rectangles that are free for views: over data fields and notes, beside either."""
    left, right, top = space.left + OFF_MM, space.right - OFF_MM, space.top - OFF_TOP_MM
    over = max(block.top, under.top) + OFF_FIELDS_MM
    return (
        Box(left, over, right, top),
        Box(max(left, under.right + OFF_NOTES_MM), block.top + OFF_FIELDS_MM, right, top),
        Box(left, under.top + OFF_FIELDS_MM, block.left - OFF_FIELDS_MM, top),
    )


def _beside(regions: tuple[Box, ...], corner: Box) -> tuple[Box, ...]:
    """What is left of the regions beside and below an upper right corner that is taken."""
    return tuple(
        part
        for one in regions
        for part in (
            replace(one, right=min(one.right, corner.left - OFF_FIELDS_MM)),
            replace(one, top=min(one.top, corner.low - OFF_FIELDS_MM)),
        )
    )


def _extent(beside: list[Beside], scale: float, projection: str, gap: float) -> tuple[float, float]:
    """Put every view in line with the main one; returns how wide and high they are together."""
    left, low, right, top = _in_line(beside, scale, projection, gap)
    return right - left, top - low


def _in_line(
    beside: list[Beside], scale: float, projection: str, gap: float
) -> tuple[float, float, float, float]:
    """Every view in line with the main one at the origin; returns the rectangle round them."""
    main = next(one for one in beside if not one.view.role)
    cells = {one: one.cell(scale) for one in beside}
    flip = projection == "third"
    at = cells[main]
    main.origin = (0.0, 0.0)
    for one in beside:
        cell = cells[one]
        role = one.view.role
        below = (role == "top") != flip and role in ("top", "bottom")
        rightward = (role == "left") != flip and role in ("left", "right")
        if role in ("top", "bottom"):
            y = at.low - gap - cell.top if below else at.top + gap - cell.low
            one.origin = (0.0, y)
        elif role:
            x = at.right + gap - cell.left if rightward else at.left - gap - cell.right
            one.origin = (x, 0.0)
    left = min(one.origin[0] + cells[one].left for one in beside)
    right = max(one.origin[0] + cells[one].right for one in beside)
    low = min(one.origin[1] + cells[one].low for one in beside)
    top = max(one.origin[1] + cells[one].top for one in beside)
    return left, low, right, top


def _put(
    beside: list[Beside], scale: float, regions: tuple[Box, ...], projection: str, gap: float
) -> None:
    """All views together in the middle of what is free."""
    left, low, right, top = _in_line(beside, scale, projection, gap)
    wide, high = right - left, top - low
    free = next((r for r in regions if r.right - r.left >= wide and r.top - r.low >= high), None)
    if free is None:
        raise DoesNotFit("the views with their lanes are larger than the sheet")
    dx = free.left + (free.right - free.left - wide) / 2 - left
    dy = free.low + (free.top - free.low - high) / 2 - low
    for one in beside:
        one.origin = (one.origin[0] + dx, one.origin[1] + dy)


def _drawn(one: Beside, scale: float) -> Iterator[Item]:
    """All lines of a view, hidden ones first."""
    outline = one.outline
    curves = outline.seen.curves
    for angle, loops in outline.seen.cut:
        flat = tuple(tuple(one.at(p, scale) for p in loop) for loop in loops)
        if angle:
            yield Hatch(flat, angle, 2.5)
        for loop in flat:
            yield Polyline(loop, "visible", closed=True)
    for curve in sorted(curves, key=lambda c: not c.hidden):
        yield _curve(curve, one, scale, "hidden" if curve.hidden else "visible")
    thin, wide = outline.thread_lines()
    for curve in thin:
        yield _curve(curve, one, scale, "thin")
    for curve in wide:
        yield _curve(curve, one, scale, "visible")
    for line in outline.marked():
        yield _curve(line, one, scale, "thin")
    for line in outline.lost():
        yield _curve(line, one, scale, "phantom")
    for line in outline.centre_lines(OVER_MM / scale):
        yield _curve(line, one, scale, "centre")


def _curve(curve: Curve, one: Beside, scale: float, style: Any) -> Item:
    match curve:
        case Straight(start, end):
            return Line(one.at(start, scale), one.at(end, scale), style)
        case Path(points):
            return Polyline(tuple(one.at(p, scale) for p in points), style)
        case Arc(centre, radius, start_deg, end_deg):
            if end_deg - start_deg >= 360.0 - 1e-6:
                return Circle(one.at(centre, scale), scale * radius, style)
            return PaperArc(one.at(centre, scale), scale * radius, start_deg, end_deg, style)
    raise TypeError(type(curve).__name__)


def _dimensioned(one: Beside, numbers: Numbers, scale: Fraction) -> Iterator[Item]:
    left, low, right, top = (float(scale) * x for x in one.outline.span)
    x, y = one.origin
    from planner.drawing.lanes import FIRST_MM, PITCH_MM

    for side, dims in one.dims.items():
        for dim in dims:
            out = FIRST_MM + PITCH_MM * dim.lane + one.start[side]
            at = {
                "below": y + low - out,
                "above": y + top + out,
                "left": x + left - out,
                "right": x + right + out,
            }[side]
            if side == "above":
                at -= AWAY_MM
            elif side == "left":
                at += AWAY_MM
            mark = dim.edge if isinstance(dim.edge, str) else edge_mark(dim.edge)
            yield dim.dimension(numbers, scale, one.origin, at, mark)


def _angle(scheme: Scheme, name: str, one: Beside, numbers: Numbers, scale: Fraction) -> Dimension:
    """The angle of an index mark from the centre line before it, in the view along its axis."""
    mark = scheme.subject.carriers[name][0]
    assert isinstance(mark, f.IndexMark)
    radius = mark.diameter.nominal_mm / 2
    turn = radians(mark.angle_deg)
    # about x from z, as parts.features.IndexMark has it; only what is turned about x has one
    u, v = one.outline.flat((0.0, -radius * sin(turn), radius * cos(turn)))
    way = degrees(atan2(v, u)) % 360
    before = 90.0 * (way // 90.0)
    foot = (radius * cos(radians(before)), radius * sin(radians(before)))
    points = ((0.0, 0.0), foot, (u, v))
    feet = tuple(one.at(p, float(scale)) for p in points)
    middle, out = radians((way + before) / 2), radius + ANGLE_MM / float(scale)
    at = one.at((out * cos(middle), out * sin(middle)), float(scale))
    text = numbers.drawn_angle(round(way - before, 3))
    return Dimension("angle", points, feet, text, at, scale, feature=f"{name}|angle")
