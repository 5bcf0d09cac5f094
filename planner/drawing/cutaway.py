"""Sections of the whole through pivot and clamp: every piece hatched by itself, adjoining ones apart.

One is cut along the pivot upright through the rod, the other level through the clamp's stud.
Imported by whoever makes the set of sheets.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any

import numpy as np
import shapely
from msgspec.structs import replace

from parts.attachment import Attachment, Placed
from parts.frame import Point as Point3
from parts.value import Value
from planner.drawing import frame
from planner.drawing.balloons import balloons
from planner.drawing.items import Numbered, number_of
from planner.drawing.layout import PAPERS
from planner.drawing.model import Box, Hatch, Item, Line, Point, Polyline, Sheet, Text, factor
from planner.drawing.room import Room
from planner.drawing.strokes import arrow, direction_deg
from planner.drawing.whole import DoesNotFit, Drawing, on_paper, sentences, tried
from planner.solids.cutting_plane import Cut, Left, Loop, cut_through
from planner.solids.together import Path, flat, seen_together

PLANES: tuple[tuple[str, int, Point3, Point3], ...] = (
    ("A", 2, (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    ("B", 1, (0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
)
"""Letter, axis that the plane is square to, where one looks from, what is to the right."""

HATCHINGS = (
    (45.0, 2.5),
    (135.0, 2.5),
    (45.0, 1.6),
    (135.0, 1.6),
    (20.0, 2.5),
    (110.0, 2.5),
    (70.0, 2.5),
    (160.0, 2.5),
)
"""Angle and spacing, in the order they are given out (common practice)."""

LEAST_LINE_MM, ON_END_MM, OWN_MM, ON_PATH = 1e-3, 0.05, 0.1, 0.45
"""A line that is shorter is none; an end so near a place is on it; a thing is pointed at so far within
what is cut of it, or so far along a line of it."""

FOOT_MM, CLEAR_OF_MM, LEAST_WIDE_MM, WORDS_MM = 16.0, 10.0, 60.0, 70.0
"""Over the frame where the sheet's sentences begin, what is left free beside them, and how wide they
are where the data fields leave less."""

TOUCH_MM = 0.4
"""Areas nearer to one another than this adjoin."""

BEHIND_MM = 14.0
"""So far behind the pivot's nut the sections are broken off: what is farther back has no section."""

GAP_MM, MARGIN_MM = 34.0, 16.0
"""Between the two sections, and round them, for balloons."""

NOTE = (
    "Solid round bars, bought screws, nuts and washers are not cut lengthwise. Numbers are those of the"
    " list on the exploded view. Tip on top at the largest ball's radius."
)

Name = tuple[int, str]


class Cutaway(Value, frozen=True):
    """One section: its letter, its things, of each the lines seen, and where it is broken off."""

    letter: str
    towards: Point3
    right: Point3
    things: tuple[Left, ...]
    paths: tuple[tuple[Path, ...], ...]
    behind_x_mm: float

    @property
    def span(self) -> Box:
        """The rectangle round all that is seen, mm of the view."""
        points = [p for own in self.paths for path in own for p in path]
        us, vs = zip(*points, strict=True)
        return Box(min(us), min(vs), max(us), max(vs))


def cutaways(attachment: Attachment, tip_radius_mm: float) -> tuple[Cutaway, ...]:
    """The sections, not yet on a paper, broken off behind the pivot's nut."""
    s, found = attachment.sizes, []
    behind = s.thrust_x_mm - s.housing_length_mm - s.nut_length_mm - BEHIND_MM
    for letter, axis, towards, right in PLANES:
        every = cut_through(attachment.placed, tip_radius_mm, axis, towards, right, behind)
        lines = seen_together([piece.shape for piece in every], towards, right)
        things, paths = [], []
        for thing, own in zip(every, lines, strict=True):
            seen = tuple(part for path in own for part in _beyond(path, behind))
            cuts = [
                replace(cut, areas=tuple(a for one in cut.areas for a in _area_beyond(one, behind)))
                for cut in thing.cuts
            ]
            if seen:
                things.append(replace(thing, cuts=tuple(cut for cut in cuts if cut.areas)))
                paths.append(seen)
        found.append(Cutaway(letter, towards, right, tuple(things), tuple(paths), behind))
    return tuple(found)


def area(cut: Cut) -> Any:
    """What is cut of a piece, as one shape, mm of the view."""
    return shapely.union_all([shapely.Polygon(one[0], one[1:]).buffer(0) for one in cut.areas])


def _beyond(path: Path, left: float) -> Iterator[Path]:
    """What of a path lies to the right of a place."""
    if min(u for u, _ in path) >= left:
        yield path
        return
    kept = shapely.LineString(path).intersection(shapely.box(left, -1e4, 1e4, 1e4))
    for part in getattr(kept, "geoms", [kept]):
        if isinstance(part, shapely.LineString) and part.length > LEAST_LINE_MM:
            yield tuple((float(u), float(v)) for u, v in part.coords)


def _area_beyond(loops: tuple[Loop, ...], left: float) -> Iterator[tuple[Loop, ...]]:
    """What of an area lies to the right of a place."""
    if min(u for u, _ in loops[0]) >= left:
        yield loops
        return
    kept = (
        shapely.Polygon(loops[0], loops[1:])
        .buffer(0)
        .intersection(shapely.box(left, -1e4, 1e4, 1e4))
    )
    for part in getattr(kept, "geoms", [kept]):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            rings = (part.exterior, *part.interiors)
            yield tuple(tuple((float(u), float(v)) for u, v in ring.coords) for ring in rings)


def hatchings(sections: Sequence[Cutaway]) -> dict[Name, tuple[float, float]]:
    """How each piece is hatched: the same in all sections, otherwise than what it adjoins in any."""
    beside: dict[Name, set[Name]] = defaultdict(set)
    for section in sections:
        areas = [((one.of, cut.piece), area(cut)) for one in section.things for cut in one.cuts]
        for name, _ in areas:
            beside.setdefault(name, set())
        for (one, first), (other, second) in combinations(areas, 2):
            if one != other and first.distance(second) < TOUCH_MM:
                beside[one].add(other)
                beside[other].add(one)
    given: dict[Name, tuple[float, float]] = {}
    for name in sorted(beside, key=lambda n: (-len(beside[n]), n)):
        taken = {given[other] for other in beside[name] if other in given}
        given[name] = next(one for one in HATCHINGS if one not in taken)
    return given


def section_sheet(
    attachment: Attachment,
    tip_radius_mm: float,
    items: Sequence[Numbered],
    drawing: Drawing,
    paper: str = "A4",
) -> Sheet:
    """The sheet of the sections. Raises DoesNotFit."""
    sections = cutaways(attachment, tip_radius_mm)
    last: Exception | None = None
    for name, scale in tried(PAPERS[paper], "1:1"):
        for landscape in (True, False):
            try:
                blank = drawing.blank(name, landscape, scale)
                return _laid_out(blank, attachment.placed, sections, items)
            except DoesNotFit as problem:
                last = problem
    raise DoesNotFit(f"{drawing.name}: {last}")


def _laid_out(
    blank: Sheet,
    placed: Sequence[Placed],
    sections: Sequence[Cutaway],
    items: Sequence[Numbered],
) -> Sheet:
    space, block, by = frame.inside(blank), frame.block(blank), float(factor(blank.scale))
    origins = _origins(sections, by, space, block, blank.projection == "third")
    given = hatchings(sections)
    drawn: list[Item] = []
    tips: dict[int, list[Point]] = defaultdict(list)
    for section, origin in zip(sections, origins, strict=True):
        for thing, cut in ((one, cut) for one in section.things for cut in one.cuts):
            for loops in cut.areas:
                on = tuple(tuple(_at(p, origin, by) for p in loop) for loop in loops)
                if not cut.lengthwise:
                    drawn.append(Hatch(on, *given[thing.of, cut.piece]))
                drawn += [Polyline(loop, "visible", closed=True) for loop in on]
        for own in section.paths:
            drawn += on_paper(own, origin, by)
        drawn += _axes(section, origin, by)
        drawn += _broken_off(section, origin, by)
        drawn += _lettered(section, origin, by)
        for number, places in _tips(section, placed, items).items():
            tips[number] += [_at(p, origin, by) for p in places]
    drawn += _cut_line(sections, origins, by)
    drawn += _cut_line(sections[::-1], origins[::-1], by)
    room = Room(space)
    room.take((*blank.frame, *drawn))
    room.take_box(Box(block.left - 1, block.low, block.right, block.top + 1))
    words = _note(space, block, room)
    room.take(words)
    bought = {one.number for one in items if one.source == "bought"}
    drawn += balloons(tips, room, bought)
    return replace(blank, items=(*words, *drawn))


def _note(space: Box, block: Box, room: Room) -> list[Item]:
    """What is said of the sections: beside the data fields, or in the first corner that is free.

    Raises DoesNotFit.
    """
    beside = block.left - space.left
    if beside > LEAST_WIDE_MM:
        return sentences((NOTE,), (space.left + 5.0, space.low + FOOT_MM), beside - CLEAR_OF_MM)[0]
    for wide in (space.right - space.left - 2 * CLEAR_OF_MM, WORDS_MM):
        _, size = sentences((NOTE,), (0.0, 0.0), wide)
        for x in (space.left + 5.0, space.right - 5.0 - wide):
            for y in (block.top + CLEAR_OF_MM / 2 - size.low, space.top - CLEAR_OF_MM / 2):
                words, box = sentences((NOTE,), (x, y), wide)
                if room.empty(box):
                    return words
    raise DoesNotFit("what is said of the sections finds no free corner")


def _at(point: Point, origin: Point, by: float) -> Point:
    return origin[0] + by * point[0], origin[1] + by * point[1]


def _origins(
    sections: Sequence[Cutaway], by: float, space: Box, block: Box, third: bool
) -> list[Point]:
    """The first section, and the other in line with it: under it in first angle, over it in third."""
    one, other = (section.span for section in sections)
    rise = by * (one.top - other.low) + GAP_MM if third else by * (one.low - other.top) - GAP_MM
    left, right = by * min(one.left, other.left), by * max(one.right, other.right)
    low = min(by * one.low, rise + by * other.low)
    top = max(by * one.top, rise + by * other.top)
    for free in (
        Box(space.left, space.low, block.left, space.top),
        Box(space.left, block.top, space.right, space.top),
    ):
        wide, high = free.right - free.left - 2 * MARGIN_MM, free.top - free.low - 2 * MARGIN_MM
        if right - left <= wide and top - low <= high:
            x = free.left + MARGIN_MM + (wide - right + left) / 2 - left
            y = free.low + MARGIN_MM + (high - top + low) / 2 - low
            return [(x, y), (x, y + rise)]
    raise DoesNotFit("the sections are larger than the sheet")


def _axes(section: Cutaway, origin: Point, by: float) -> Iterator[Item]:
    """The pivot's axis, along both sections."""
    span = section.span
    yield Line(
        _at((span.left, 0.0), (origin[0] - 3.0, origin[1]), by),
        _at((span.right, 0.0), (origin[0] + 3.0, origin[1]), by),
        "centre",
    )


def _broken_off(section: Cutaway, origin: Point, by: float) -> Iterator[Item]:
    """A thin line with zigzags where the rest is left out, as high as what it breaks (ISO 128, from
    memory)."""
    x = section.behind_x_mm
    ends = [
        p[1] for own in section.paths for path in own for p in path if abs(p[0] - x) < ON_END_MM
    ]
    if not ends:
        return
    low, high = _at((x, min(ends)), origin, by), _at((x, max(ends)), origin, by)
    u, middle = low[0], (low[1] + high[1]) / 2
    zigzag = ((0.0, -2.0), (-1.5, -1.0), (1.5, 1.0), (0.0, 2.0))
    points = [(u, low[1] - 3.0), *((u + a, middle + b) for a, b in zigzag), (u, high[1] + 3.0)]
    yield Polyline(tuple(points), "thin")


def _lettered(section: Cutaway, origin: Point, by: float) -> Iterator[Item]:
    span = section.span
    middle = _at(((span.left + span.right) / 2, span.top), origin, by)
    words = f"{section.letter}–{section.letter}"
    yield Text((middle[0], middle[1] + 6.0), words, 5.0, "middle")


def _cut_line(sections: Sequence[Cutaway], origins: Sequence[Point], by: float) -> Iterator[Item]:
    """Where the first section is cut, shown on the second: strokes beyond it, arrows, letters."""
    cut, shown, origin = sections[0], sections[1], origins[1]
    span = shown.span
    u, v = flat(np.array(cut.towards), shown.towards, shown.right)
    way = (-float(u), -float(v))
    for edge, out in ((span.left, -1.0), (span.right, 1.0)):
        near = _at((edge, 0.0), origin, by)
        start = (near[0] + out * 5.0, near[1])
        end = (near[0] + out * 10.0, near[1])
        yield Line(start, end, "visible")
        tail = (end[0], end[1] - 7.0 * way[1])
        yield Line(tail, end, "thin")
        yield arrow(end, direction_deg(tail, end))
        low = tail[1] - (6.5 if way[1] > 0 else -1.5)
        yield Text((tail[0], low), cut.letter, 5.0, "middle")


def _tips(
    section: Cutaway, placed: Sequence[Placed], items: Sequence[Numbered]
) -> dict[int, list[Point]]:
    """Where balloons of a section may point: into what is cut; of what is whole, on its lines."""
    found: dict[int, list[Point]] = defaultdict(list)
    areas = [area(cut) for one in section.things for cut in one.cuts]
    inner = shapely.union_all(areas).buffer(-OWN_MM) if areas else shapely.Polygon()
    for thing, paths in zip(section.things, section.paths, strict=True):
        number = number_of(items, placed[thing.of])
        if thing.cuts:
            best = max((area(cut) for cut in thing.cuts), key=lambda a: a.area)
            for one in sorted(getattr(best, "geoms", [best]), key=lambda a: -a.area)[:2]:
                at = one.representative_point()
                found[number].append((float(at.x), float(at.y)))
            continue
        for path in sorted(paths, key=lambda path: -shapely.LineString(path).length)[:3]:
            at = shapely.LineString(path).interpolate(ON_PATH, normalized=True)
            if not inner.contains(at):
                found[number].append((float(at.x), float(at.y)))
    return {number: places for number, places in found.items() if places}
