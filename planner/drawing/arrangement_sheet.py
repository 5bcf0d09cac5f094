"""The general arrangement's sheet: its views on the paper, the swing's angles, the tight spots.

Imported by whoever makes the set of sheets.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import atan2, cos, degrees, radians, sin

import numpy as np
from msgspec.structs import replace

from parts.attachment import Attachment
from planner.drawing import frame
from planner.drawing.apart import drawn
from planner.drawing.arrangement import Standing, panels, swing_view
from planner.drawing.layout import PAPERS
from planner.drawing.leaders import NOTE_MM, led
from planner.drawing.lettering import box_of, width_mm
from planner.drawing.model import Box, Dimension, Item, Line, Point, Sheet, Text, factor
from planner.drawing.panel import Panel
from planner.drawing.room import Room, sampled
from planner.drawing.whole import DoesNotFit, Drawing, sentences, tried
from planner.words.numbers import Numbers

GAP_MM = 5.0
"""Between two views with their lanes."""

ROW_MM = 5.0
"""From line to line of the table."""

ANGLE_PARTS = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9)
ANGLE_FROM_MM, ANGLE_TO_MM, ANGLE_STEP_MM = 6.0, 90.0, 3.0
"""Where along an angle's arc its words are tried, and how far outside the tip's way the arc."""

RADIUS_OFF_DEG, RADIUS_STEP_DEG = 4.0, 4.0
RADIUS_FROM_MM, RADIUS_TO_MM, RADIUS_STEP_MM = 10.0, 100.0, 3.0
"""In which ways of the swing a tip radius is tried, how far off its ends, and how far out its words."""

TRIED, MANY = 120, 2000
"""Places looked at for a name's words, and where none of them is free."""

SWING_FROM_DEG = 0.5
"""A swing that begins nearer the nose begins there."""

BALL_RAD = (0.3, -0.3, 1.0, -1.0)
CHUCK_PARTS = (0.04, 0.1)
SLIDE_MM = (10.0, 25.0, 40.0)
"""Where a ball, a chuck, of its diameter, and the cross slide are pointed at for their names."""

WIDE_MM = (150.0, 120.0, 95.0, 75.0)
"""How wide the sentences are, what is tried."""

GRID_MM, OFF_MM, TOP_MM, FIELDS_MM, FREE_MM, WORDS_MM = 2.0, 4.0, 6.0, 3.0, 3.0, 0.4
"""Views are tried at places so far apart, so far off the frame, off its top and the data fields; words
stand so far off the frame, and so much is free round them."""


def arrangement_sheet(
    attachment: Attachment, standing: Standing, drawing: Drawing, paper: str = "A4"
) -> Sheet:
    """The sheet of the general arrangement. Raises DoesNotFit."""
    made = panels(attachment, standing, drawing.numbers)
    last: Exception | None = None
    for name, scale in tried(PAPERS[paper], "1:2"):
        try:
            return _laid_out(made, standing, drawing, drawing.blank(name, True, scale))
        except DoesNotFit as problem:
            last = problem
    raise DoesNotFit(f"{drawing.name}: {last}")


def _laid_out(made: dict[str, Panel], standing: Standing, drawing: Drawing, blank: Sheet) -> Sheet:
    numbers, scale = drawing.numbers, factor(blank.scale)
    for panel in made.values():
        panel.arrange(numbers, float(scale))
    space, block = frame.inside(blank), frame.block(blank)
    _put(made, float(scale), space, block, blank.projection == "third")
    items: list[Item] = []
    for panel in made.values():
        items += panel.lines(float(scale))
        items += panel.dimensions(numbers, scale)
        items.append(_title(panel, float(scale)))
    room = Room(space)
    room.take((*blank.frame, *items))
    room.take_box(Box(block.left - 1, block.low, block.right, block.top + 1))
    for item in _swing(made[swing_view(standing)], standing, numbers, scale, room):
        room.take([item])
        items.append(item)
    items += _named(made, standing, numbers, float(scale), room)
    items += _table(standing, numbers, room)
    items += _words(standing, numbers, room)
    return replace(blank, items=tuple(items))


# ---- places on the paper ----


def _put(made: dict[str, Panel], scale: float, space: Box, block: Box, third: bool) -> None:
    """The end view with the side view beside it and the top view under or over it, clear of the data
    fields. Raises DoesNotFit."""
    end, side, top = (made[name] for name in ("end", "side", "top"))
    cells = {name: panel.cell(scale) for name, panel in made.items()}
    at, beside, over = cells["end"], cells["side"], cells["top"]
    end.origin = (0.0, 0.0)
    side.origin = (
        at.left - GAP_MM - beside.right if third else at.right + GAP_MM - beside.left,
        0.0,
    )
    top.origin = (0.0, at.top + GAP_MM - over.low if third else at.low - GAP_MM - over.top)
    boxes = np.array(
        [
            (p.origin[0] + c.left, p.origin[1] + c.low, p.origin[0] + c.right, p.origin[1] + c.top)
            for p, c in ((made[name], cells[name]) for name in made)
        ]
    )
    low, high = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    xs = np.arange(space.left + OFF_MM - low[0], space.right - OFF_MM - high[0] + 1e-6, GRID_MM)
    ys = np.arange(space.low + OFF_MM - low[1], space.top - TOP_MM - high[1] + 1e-6, GRID_MM)
    free = [
        (float(x), float(y))
        for x in xs
        for y in ys
        if not any(
            b[2] + x > block.left - FIELDS_MM and b[1] + y < block.top + FIELDS_MM for b in boxes
        )
    ]
    if not free:
        raise DoesNotFit("the views with their lanes are larger than the sheet")
    x, y = min(free, key=lambda o: (o[0], -o[1]))  # upper left: tables and words go to the right
    for panel in made.values():
        panel.origin = (panel.origin[0] + x, panel.origin[1] + y)


TITLES = {
    "end": "From the tailstock's end",
    "side": "From where you stand",
    "top": "From above",
}


def _title(panel: Panel, scale: float) -> Text:
    """What a view is, over it."""
    cell = panel.cell(scale)
    x, y = panel.origin
    return Text((x + cell.left + 1.0, y + cell.top - 3.5), TITLES[panel.name], NOTE_MM)


# ---- the swing ----


def _swing(
    panel: Panel, st: Standing, numbers: Numbers, scale: Fraction, room: Room
) -> Iterator[Item]:
    """The angles at which the swing ends, and the least and the greatest tip radius."""
    least, most = st.tip_range_mm
    if st.start_deg > SWING_FROM_DEG:
        yield _angle(panel, 0.0, st.start_deg, most, numbers, scale, room)
    yield _angle(panel, 0.0, st.end_deg, most, numbers, scale, room)
    for radius in (least, most):
        yield _radius(panel, st, radius, numbers, scale, room)


def _direction(panel: Panel, swing_deg: float) -> Point:
    """Which way the tip stands in the view along the pivot."""
    a = radians(swing_deg)
    return panel.flat((0.0, sin(a), cos(a)))


def _angle(
    panel: Panel,
    start: float,
    end: float,
    radius: float,
    numbers: Numbers,
    scale: Fraction,
    room: Room,
) -> Dimension:
    """An angle of the swing from the nose, outside the tip's way, where its words are free."""
    by = float(scale)
    legs = [_direction(panel, one) for one in (start, end)]
    legs = [(radius * u, radius * v) for u, v in legs]
    ways = [degrees(atan2(v, u)) for u, v in legs]
    if (ways[1] - ways[0]) % 360 > 180:
        legs, ways = legs[::-1], ways[::-1]
    points = ((0.0, 0.0), *legs)
    feet = tuple(panel.at(p, by) for p in points)
    sweep = (ways[1] - ways[0]) % 360
    text = numbers.drawn_angle(round(end - start))
    for out in radius * by + np.arange(ANGLE_FROM_MM, ANGLE_TO_MM, ANGLE_STEP_MM):
        for part in ANGLE_PARTS:
            middle = radians(ways[0] + sweep / 2)
            at = (
                panel.origin[0] + float(out) * cos(middle),
                panel.origin[1] + float(out) * sin(middle),
            )
            shift = radians(sweep) * float(out) * (part - ANGLE_PARTS[0])
            made = Dimension(
                *("angle", points, feet, text, at, scale),
                shift=shift,
                feature=f"{panel.name}: swing",
            )
            if _free(made, room):
                return made
    raise DoesNotFit("no place for the angle of the swing")


def _radius(
    panel: Panel, st: Standing, radius: float, numbers: Numbers, scale: Fraction, room: Room
) -> Dimension:
    """A tip radius, by a line through its way, where its words are free."""
    by = float(scale)
    text = f"R{numbers.plain.as_asked(radius)} tip"
    best: tuple[float, Dimension] | None = None
    for swing in np.arange(
        st.start_deg + RADIUS_OFF_DEG, st.end_deg - RADIUS_OFF_DEG, RADIUS_STEP_DEG
    ):
        u, v = _direction(panel, float(swing))
        points = ((0.0, 0.0), (radius * u, radius * v))
        feet = tuple(panel.at(p, by) for p in points)
        for out in np.arange(RADIUS_FROM_MM, RADIUS_TO_MM, RADIUS_STEP_MM):
            if best is not None and out >= best[0]:
                break
            at = (feet[1][0] + float(out) * u, feet[1][1] + float(out) * v)
            feature = f"{panel.name}: tip radius"
            made = Dimension(
                *("radius", points, feet, text, at, scale), inch=numbers.inch, feature=feature
            )
            if _free(made, room):
                best = (float(out), made)
    if best is None:
        raise DoesNotFit("no place for a tip radius")
    return best[1]


def _free(item: Item, room: Room) -> bool:
    """Whether all words of an item stand on nothing, and its lines run through no words."""
    piece = drawn(item)
    for text in piece.texts:
        box, off = box_of(text), WORDS_MM
        around = Box(box.left - off, box.low - off, box.right + off, box.top + off)
        if not room.empty(around):
            return False
    for stroke in piece.strokes:
        run = np.concatenate(sampled(stroke))
        columns = (run[:, 0] - room.space.left).astype(int)
        rows = (run[:, 1] - room.space.low).astype(int)
        high, wide = room.words.shape
        if (
            (columns < 0).any()
            or (rows < 0).any()
            or (columns >= wide).any()
            or (rows >= high).any()
        ):
            return False
        if room.words[rows, columns].any():
            return False
    return True


# ---- words ----


def _named(
    made: dict[str, Panel], st: Standing, numbers: Numbers, scale: float, room: Room
) -> Iterator[Item]:
    """What the phantom outlines are."""
    side = made["side"]
    chuck = -st.jaws_mm - st.jaw_reach_mm
    across = 1.0 if st.arrangement == "across" else 0.0
    up = (0.0, 1.0, 0.0) if across else (1.0, 0.0, 0.0)

    def upright(height: float, z: float) -> tuple[float, float, float]:
        return up[0] * height, up[1] * height, z

    half = st.chuck_mm / 2
    deep = [upright(sign * half, chuck - k * st.chuck_mm) for sign in (1, -1) for k in CHUCK_PARTS]
    calls: list[tuple[Panel, tuple[str, ...], list[tuple[float, float, float]]]] = [
        (side, ("chuck",), deep),
        (
            side,
            (f"largest ball, {numbers.bought_length(st.ball_mm)}",),
            [upright(st.ball_mm / 2 * sin(t), st.ball_mm / 2 * cos(t)) for t in BALL_RAD],
        ),
    ]
    if st.blank_mm > st.ball_mm + 0.01:
        calls.append(
            (
                side,
                (f"blank, {numbers.bought_length(st.blank_mm)}",),
                [upright(st.blank_mm / 2, z) for z in (st.ball_mm / 3, -st.ball_mm / 3)],
            )
        )
    if st.post is not None:
        p = st.post
        said = ("tool post",) if p.top_known else ("tool post", "height not said")
        corners = [
            (p.rear_x_mm, -st.seat_mm, z) for z in (p.far_mm, 0.3 * p.near_mm + 0.7 * p.far_mm)
        ]
        calls.append((made["top"], said, corners))
    left = side.span.left
    u0 = side.flat(upright(-st.slide_mm, 0.0))
    calls.append((side, ("cross slide",), []))
    for panel, words, points in calls:
        tips = [panel.at(panel.flat(p), scale) for p in points]
        if words == ("cross slide",):
            tips = [panel.at((left + k, u0[1]), scale) for k in SLIDE_MM]
        leader = led(words, tips, room, TRIED) or led(words, tips, room, MANY)
        if leader is None:
            raise DoesNotFit(f"no place for the words {words[0]}")
        room.take_leader([leader], leader.points)
        yield leader


def _table(st: Standing, numbers: Numbers, room: Room) -> Iterator[Item]:
    """The tightest spot at each obstacle, as the check has it."""
    plain = numbers.plain
    heads = ("obstacle", "clears by", "at least", "ball", "part", "swing", "tip radius")
    rows = [
        (
            one.obstacle,
            plain.clearance(one.clears_mm),
            plain.clearance(one.least_mm),
            one.ball,
            one.part,
            numbers.drawn_angle(float(plain.angle(one.swing_deg))),
            plain.clearance(one.tip_mm),
        )
        for one in st.tightest
    ]
    title = f"The tightest spots of all balls ({numbers.unit}), the jaws at the least distance"
    widths = [
        max(width_mm(row[k], NOTE_MM) for row in (heads, *rows)) + 4.0 for k in range(len(heads))
    ]
    wide, high = sum(widths), ROW_MM * (len(rows) + 2)
    left, top = _corner(wide + 2.0, high + 2.0, room)
    top -= 1.0
    left += 1.0
    room.take_box(Box(left - 1, top - high - 1, left + wide + 1, top + 1))
    yield Text((left, top - ROW_MM + 1.5), title, NOTE_MM)
    for number, row in enumerate((heads, *rows), 1):
        y = top - ROW_MM * (number + 1)
        x = left
        for words, cell in zip(row, widths, strict=True):
            yield Text((x + 1.0, y + 1.4), words, NOTE_MM)
            x += cell
        yield Line((left, y), (left + wide, y), "thin")


def _words(st: Standing, numbers: Numbers, room: Room) -> Iterator[Item]:
    """What must be known to set it up, and the usual caution."""
    lines = [
        "Firm: the attachment, tip on top at the largest ball's radius. Phantom: lathe and work; the"
        " head at both ends of its swing; the tip's way at its least and greatest radius.",
        "Dimensions are of the largest ball; the jaws' distance is the least, clearance included.",
    ]
    if st.post is not None and not st.post.side_known:
        lines.append("How far the post stands out beside the shank was not said: taken as flush.")
    if short := [one.obstacle for one in st.tightest if one.clears_mm < one.least_mm - 1e-6]:
        what = ", ".join(short)
        lines.append(f"IT DOES NOT CLEAR: {what}. See pommel check before anything is made.")
    if st.arrangement == "upright":
        lines.append("Pivot upright: what holds the housing on the cross slide is your own.")
    lines.append(
        "Before power: spindle stopped, chuck key out, swing it by hand from end to end at the greatest"
        " radius in use. Goggles, sleeves close, no gloves; no hand near the tip while it turns."
    )
    for wide in WIDE_MM:
        items, box = sentences(lines, (0.0, 0.0), wide)
        try:
            left, top = _corner(wide + 2.0, -box.low + 2.0, room)
        except DoesNotFit:
            continue
        placed, taken = sentences(lines, (left + 1.0, top - 1.0), wide)
        room.take_box(taken)
        yield from placed
        return
    raise DoesNotFit("no place for the words")


def _corner(wide: float, high: float, room: Room) -> Point:
    """The upper left corner of a free place, the farthest right and down. Raises DoesNotFit."""
    space = room.space
    xs = np.arange(space.left + FREE_MM, space.right - wide - FREE_MM, GRID_MM)
    ys = np.arange(space.low + FREE_MM, space.top - high - FREE_MM, GRID_MM)
    found = room.places(xs, ys, wide, high).tolist()
    if not found:
        raise DoesNotFit("no place for a table or words")
    x, y = min(found, key=lambda at: (at[1] - at[0], at[1]))
    return x, y + high
