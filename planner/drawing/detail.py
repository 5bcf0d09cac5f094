"""A part of a view again at a larger scale, where the sheet's own leaves something too small to see.

It shows, and says nothing: what it has no room for is left out. Imported by layout.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, dist, radians, sin

import numpy as np

from parts import features as f
from planner.drawing.choose import View
from planner.drawing.model import Box, Circle, Item, Point, Polyline, Text, factor
from planner.drawing.model import Line as StraightLine
from planner.drawing.outline import Outline
from planner.drawing.room import Room
from planner.drawing.scheme import Scheme
from planner.drawing.standing import Views
from planner.drawing.strokes import along, direction_deg
from planner.geometry.curves import Arc, Curve, Line, Point2
from planner.geometry.curves import Polyline as Path

LEAST_MM = 1.5
"""What is smaller on the paper is shown again larger."""

CLEAR_TO_SEE_MM = 3.0
"""How large it is then, at least, if a scale of SCALES makes it so."""

SCALES = ("1:1", "2:1", "5:1", "10:1")
"""Of details, the smallest first."""

ROUND_MM = 14.0
"""Radius of a detail on the paper."""

TITLE_MM, LETTER_MM = 7.0, 3.5
"""What its title takes above it, and the height of its letters."""

AWAY_MM = 22.0
"""A ring's letter stands no farther off it."""

LETTER_FROM_MM, LETTER_STEP_MM, LETTER_STEP_DEG = 3.2, 2.0, 15
HALF_LETTER_MM, ROUND_LETTER_MM, STEM_MM = 1.8, 0.4, 2.0
"""Where a ring's letter is tried, outside the ring; what is clear of it; and the shortest stem."""

GRID_MM, OFF_MM = 3.0, 2.0
"""A detail is tried at places so far apart, so far off the frame; all round it so much is clear."""

STEP = 0.01
"""In what parts of a detail's radius its curves are followed."""


def details(
    scheme: Scheme, views: Views, where: dict[str, View], scale: float, room: Room
) -> list[Item]:
    """Every detail for which there is room, and the circle in the view that says where it is."""
    items: list[Item] = []
    letters = iter("XYZ")
    for feature in scheme.subject.features:
        found = _small(feature, scheme, views, where)
        if found is None or found[2] * scale >= LEAST_MM:
            continue
        view, centre, size = found
        name = next((s for s in SCALES if float(factor(s)) * size >= CLEAR_TO_SEE_MM), SCALES[-1])
        outline, origin = views[view]
        times = float(factor(name))
        round_mm = ROUND_MM / times
        at = (origin[0] + scale * centre[0], origin[1] + scale * centre[1])
        ring = Circle(at, round_mm * scale, "thin")
        letter_at = _beside(ring, room)
        place = _place(room)
        if letter_at is None or place is None:
            continue
        letter = next(letters, "")
        if not letter:
            break
        own: list[Item] = [ring, Text(letter_at, letter, LETTER_MM, "middle")]
        own += _stem(ring, letter_at)
        own += _drawn(outline, centre, round_mm, times, place)
        own.append(Circle(place, ROUND_MM, "thin"))
        title = (place[0], place[1] + ROUND_MM + 2.0)
        own.append(Text(title, f"{letter} ({name})", LETTER_MM, "middle"))
        room.take(own)
        items += own
    return items


def _small(
    feature: f.Feature, scheme: Scheme, views: Views, where: dict[str, View]
) -> tuple[View, Point2, float] | None:
    """What may come out too small of a feature: in which view, about which place, and its size, mm."""
    view = where.get(feature.name)
    if view is None or view not in views:
        return None
    outline = views[view][0]
    if isinstance(feature, f.GroundPoint):
        return view, outline.flat(feature.tip), 2 * feature.nose_radius_mm
    if isinstance(feature, f.Slit):
        for letter in "xyz":
            for side in ("low", "high"):
                for face in outline.faces_of(f"{feature.name}:{letter}-{side}"):
                    left, low, right, top = outline.face_span(face)
                    wide = max(right - left, top - low)
                    if abs(wide - feature.width.nominal_mm) < 1e-3:
                        return view, ((left + right) / 2, (low + top) / 2), wide
    return None


def _beside(ring: Circle, room: Room) -> Point | None:
    """Where a ring's letter stands; None where the ring runs through words or there is no room."""
    (x, y), r = ring.centre, ring.radius
    points = [
        (x + r * cos(radians(q)), y + r * sin(radians(q)))
        for q in range(0, 360 + 1, LETTER_STEP_DEG)
    ]
    if not room.off_words(points):
        return None
    for out in np.arange(r + LETTER_FROM_MM, r + AWAY_MM, LETTER_STEP_MM):
        for deg in range(LETTER_STEP_DEG, 360 + LETTER_STEP_DEG, LETTER_STEP_DEG):
            at = (x + out * cos(radians(deg)), y + out * sin(radians(deg)) - LETTER_MM / 2)
            box = Box(
                at[0] - HALF_LETTER_MM,
                at[1] - ROUND_LETTER_MM,
                at[0] + HALF_LETTER_MM,
                at[1] + LETTER_MM + ROUND_LETTER_MM,
            )
            stem = ((x, y), (at[0], at[1] + LETTER_MM / 2))
            if room.empty(box) and room.off_words(stem):
                return at
    return None


def _stem(ring: Circle, letter_at: Point) -> Iterator[Item]:
    """A line from a ring to its letter, where that stands off."""
    (x, y), middle = ring.centre, (letter_at[0], letter_at[1] + LETTER_MM / 2)
    deg = direction_deg(ring.centre, middle)
    far = dist((x, y), middle) - 0.8 * LETTER_MM
    if far > ring.radius + STEM_MM:
        yield StraightLine(along((x, y), deg, ring.radius), along((x, y), deg, far), "thin")


def _place(room: Room) -> Point | None:
    """The middle of a free place for a detail with its title, as far to the upper right as any."""
    space, wide = room.space, 2 * (ROUND_MM + OFF_MM)
    xs = np.arange(space.left + OFF_MM, space.right - wide, GRID_MM)
    ys = np.arange(space.low + OFF_MM, space.top - wide - TITLE_MM, GRID_MM)
    free = room.places(xs, ys, wide, wide + TITLE_MM)
    if not len(free):
        return None
    x, y = free[int(free.sum(axis=1).argmax())]
    return float(x) + wide / 2, float(y) + wide / 2


def _drawn(
    outline: Outline, centre: Point2, round_mm: float, times: float, place: Point
) -> Iterator[Item]:
    """The visible curves inside a circle round a place, at the detail's scale."""
    loops = [Path((*loop, loop[0])) for _, many in outline.seen.cut for loop in many]
    for curve in (*(c for c in outline.seen.curves if not c.hidden), *loops):
        for run in _inside(curve, centre, round_mm):
            points = tuple(
                (place[0] + times * (u - centre[0]), place[1] + times * (v - centre[1]))
                for u, v in run
            )
            yield Polyline(points, "visible")


def _inside(curve: Curve, centre: Point2, round_mm: float) -> Iterator[list[Point2]]:
    """The stretches of a curve inside a circle, followed closely."""
    run: list[Point2] = []
    for point in _followed(curve, STEP * round_mm, centre, round_mm):
        if dist(point, centre) <= round_mm:
            run.append(point)
        else:
            if len(run) > 1:
                yield run
            run = []
    if len(run) > 1:
        yield run


def _followed(curve: Curve, step: float, centre: Point2, round_mm: float) -> Iterator[Point2]:
    match curve:
        case Line(start, end):
            yield from _straight(start, end, step, centre, round_mm)
        case Path(points):
            for a, b in zip(points, points[1:], strict=False):
                yield from _straight(a, b, step, centre, round_mm)
        case Arc((u, v), r, start_deg, end_deg):
            if abs(dist((u, v), centre) - r) > round_mm:
                return
            count = max(2, int(radians(end_deg - start_deg) * r / step))
            for k in range(count + 1):
                turn = radians(start_deg + k * (end_deg - start_deg) / count)
                yield u + r * cos(turn), v + r * sin(turn)


def _straight(
    a: Point2, b: Point2, step: float, centre: Point2, round_mm: float
) -> Iterator[Point2]:
    """From end to end; closely only near the circle."""
    long = dist(a, b)
    if not long:
        return
    on = ((centre[0] - a[0]) * (b[0] - a[0]) + (centre[1] - a[1]) * (b[1] - a[1])) / long
    low, high = max(0.0, on - 1.1 * round_mm), min(long, on + 1.1 * round_mm)
    if low >= high:
        yield a
        yield b
        return
    count = max(2, int((high - low) / step))
    for k in range(count + 1):
        part = (low + k * (high - low) / count) / long
        yield a[0] + part * (b[0] - a[0]), a[1] + part * (b[1] - a[1])
