"""The dial's sheet: every line and numeral, how long and how far apart, and which way it turns.

The rim is shown folded out round its free end and seen from there, so that its outside faces the eye:
the graduated edge is the outer circle, and the lines run inward from it. A part of it is unrolled.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import degrees, pi

from msgspec.structs import replace

from planner.dial.design import Dial
from planner.dial.sense import DEEPER, NUMBERED, UPRIGHT
from planner.drawing.dial_rim import RimLine, rim_lines
from planner.drawing.dimensioned import OUTSIDE_MM, ROOM_MM
from planner.drawing.frame import (
    USUAL_MM,
    NoRoom,
    blank,
    block,
    inside,
    usual_projection,
    wrapped,
)
from planner.drawing.lettering import width_mm
from planner.drawing.model import (
    Arc,
    Box,
    Circle,
    Dimension,
    Fields,
    Item,
    Line,
    Point,
    Polyline,
    Sheet,
    Text,
    factor,
)
from planner.drawing.strokes import ARROW_MM, LINE_PITCH, TEXT_GAP_MM, along, arrow
from planner.words.numbers import Numbers

SCALES = ("10:1", "5:1", "2:1", "1:1", "1:2", "1:5")
"""Scales of ISO 5455, the largest first (from memory)."""

RING_MM = 118.0
"""How wide the folded rim may be on the paper."""

PART_WIDE_MM, PART_HIGH_MM = 46.0, 48.0
"""How large the unrolled part may be on the paper."""

OVER_MM, UNDER_MM, LOW_LANE_MM = 14.0, 23.0, 13.0
"""What dimensions take over the unrolled part, dimension and title under it, and that dimension's line:
clear of arrows that point at the edge from below."""

LEAST_INNER_MM, CROSS_MM = 24.0, 4.0
"""Least inner radius with its diameter's words beside the centre, and half of the centre's cross."""

HEAD_MM = 44.0
"""How wide the words beside the folded rim may be."""

LANE_MM = 9.0
"""From one dimension line to the next, and from what is drawn to the first (common practice)."""

NOTES_MM = 108.0
"""From the left of the frame to the notes."""

NOTE_MM = 2.5
"""Height of the notes (the least on A4)."""

CLEAR_MM = 7.0
"""Free round what is drawn."""

BOW_MM, BOW_DEG, BOW_WORDS_MM = 6.0, (195.0, 235.0), 2.0
"""The arrow that says deeper: outside of the rim, from its tip on, and its word outside of that."""

ACROSS_DEG = -45.0
"""Which way the diameter's line runs: down to the right, clear of the angle's."""

EDGE_MM, LAST_MM = 1.0, 2.0
"""The unrolled edge goes on past its first numeral and its last line."""


def dial_sheet(dial: Dial, fields: Fields, numbers: Numbers, paper: str = "A4") -> Sheet:
    """The sheet of a dial, on one upright page.

    fields: of the sheet, but its unit. paper: a name of frame.PAPERS, A4 or larger. Raises ValueError
    for an unknown paper, NoRoom for a dial that no scale of SCALES brings on the page.
    """
    scale = _largest(RING_MM, dial.diameter_mm + 2 * dial.rim_width_mm)
    fields = replace(fields, unit="in" if numbers.inch else "mm")
    sheet = blank(fields, paper, scale=scale, projection=usual_projection(numbers.inch))
    space, low = inside(sheet), block(sheet).top
    lines = rim_lines(dial)
    times = float(factor(scale))
    out = (dial.diameter_mm / 2 + dial.rim_width_mm) * times
    head = wrapped(
        f"Rim folded out round its free end, seen from there, {scale}", HEAD_MM, USUAL_MM
    )
    title = (
        Text(
            (space.left + CLEAR_MM, space.top - CLEAR_MM - USUAL_MM - row * LINE_PITCH * USUAL_MM),
            line,
        )
        for row, line in enumerate(head)
    )
    beside = space.right - CLEAR_MM - LANE_MM - RING_MM / 2
    centre = (beside, space.top - CLEAR_MM - 1.5 * LANE_MM - out)
    free = Box(space.left, low, space.right, centre[1] - out - USUAL_MM)
    items = (
        *title,
        *_ring(dial, lines, numbers, centre, times),
        *_part(dial, lines, numbers, free),
        *_notes(dial, numbers, free),
    )
    return replace(sheet, items=items)


def _largest(most: float, *sizes: float) -> str:
    """The largest scale at which no size is more on the paper."""
    for scale in SCALES:
        if max(sizes) * float(factor(scale)) <= most:
            return scale
    raise NoRoom(f"{max(sizes):.0f} across: no scale brings it to {most:.0f}")


def _ring(
    dial: Dial, lines: tuple[RimLine, ...], numbers: Numbers, centre: Point, times: float
) -> Iterator[Item]:
    radius = dial.diameter_mm / 2
    inner, outer = radius * times, (radius + dial.rim_width_mm) * times
    yield Circle(centre, inner)
    yield Circle(centre, outer)
    x, y = centre
    for line in lines:
        # line 0 stands on top; the numbers grow counter-clockwise, seen from the free end
        deg = 90.0 + 360.0 * line.turn

        def place(dx: float, up: float, deg: float = deg) -> Point:
            """From a point of the unrolled rim, from its line and from the graduated edge."""
            foot = along(centre, deg, outer - up * times)
            return along(foot, deg + 90.0, dx * times)

        yield Line(place(0.0, 0.0), place(0.0, line.length_mm), "thin")
        for stroke in line.strokes:
            yield Polyline(tuple(place(dx, up) for dx, up in stroke), "thin")
    # which way it is turned deeper: clockwise
    bow = outer + BOW_MM
    yield Arc(centre, bow, *BOW_DEG, "thin")
    # an arrow lies along the chord of its own length
    tip_deg = BOW_DEG[0]
    yield arrow(along(centre, tip_deg, bow), tip_deg - 90.0 + degrees(ARROW_MM / (2 * bow)))
    at = along(centre, sum(BOW_DEG) / 2, bow + BOW_WORDS_MM)
    yield Text((at[0], at[1] - USUAL_MM), "deeper", USUAL_MM, "right")
    across = ((-radius, 0.0), (radius, 0.0))
    feet = (along(centre, ACROSS_DEG, -inner), along(centre, ACROSS_DEG, inner))
    beside = inner >= LEAST_INNER_MM
    if beside:
        yield Line((x - CROSS_MM, y), (x + CROSS_MM, y), "centre")
        yield Line((x, y - CROSS_MM), (x, y + CROSS_MM), "centre")
    yield Dimension(
        "diameter",
        across,
        feet,
        f"Ø {numbers.plain.caliper(dial.diameter_mm)}",
        along(centre, ACROSS_DEG, inner / 2),
        _scale(times),
        inch=numbers.inch,
        shift=inner / 2 if beside else 0.0,
        feature="rim",
    )
    # from numeral to numeral; where that goes too far round, from line to line
    spaces = dial.numeral_every if 4 * dial.numeral_every <= dial.divisions else 1
    every = 360.0 * spaces / dial.divisions
    reach = outer + LANE_MM
    ends = ((0.0, 0.0), along((0.0, 0.0), 90.0, radius), along((0.0, 0.0), 90.0 + every, radius))
    yield Dimension(
        "angle",
        ends,
        (centre, along(centre, 90.0, outer), along(centre, 90.0 + every, outer)),
        numbers.drawn_angle(every),
        along(centre, 90.0 + every / 2, reach),
        feature="lines",
    )


def _part(dial: Dial, lines: tuple[RimLine, ...], numbers: Numbers, free: Box) -> Iterator[Item]:
    """The rim unrolled from line 0 to before the first middle line, less where they are far apart."""
    apart, high, half = (
        pi * dial.diameter_mm / dial.divisions,
        dial.rim_width_mm,
        dial.numeral_height_mm / 2,
    )
    room = free.top - free.low - OVER_MM - UNDER_MM
    scale = _largest(1.0, high / min(PART_HIGH_MM, room), 2 * half / PART_WIDE_MM)
    times = float(factor(scale))
    last = max(1, min(dial.middle_every, dial.numeral_every) - 1)
    while last and (last * apart + half) * times > PART_WIDE_MM:
        last -= 1
    shown = lines[: last + 1]
    x0 = free.left + CLEAR_MM + 2.5 * LANE_MM + half * times
    y0 = free.top - OVER_MM - high * times
    foot = y0 - UNDER_MM + TEXT_GAP_MM

    def place(x: float, y: float) -> Point:
        return x0 + x * times, y0 + y * times

    left = x0 - half * times - EDGE_MM
    yield Text((left, foot), f"Rim unrolled, {scale}", USUAL_MM)
    right = x0 + last * apart * times + max(half * times, LAST_MM) + EDGE_MM
    for y in (0.0, high):
        yield Line((left, y0 + y * times), (right, y0 + y * times))
    for line in shown:
        x = line.number * apart
        yield Line(place(x, 0.0), place(x, line.length_mm))
        for stroke in line.strokes:
            yield Polyline(tuple(place(x + dx, y) for dx, y in stroke), "thin")

    def upright(x: float, length: float, at: float, feature: str, low: bool = False) -> Dimension:
        """low: words that have no room between the arrows stand under them, not over."""
        words, long = numbers.plain.caliper(length), length * times
        wide = width_mm(words, USUAL_MM) + 2 * TEXT_GAP_MM
        shift = None
        if low and wide > long:
            shift = -(long + wide) / 2 - (OUTSIDE_MM if long < ROOM_MM else 0.0)
        return Dimension(
            "linear",
            ((x, 0.0), (x, length)),
            (place(x, 0.0), place(x, length)),
            words,
            (at, y0),
            _scale(times),
            90.0,
            inch=numbers.inch,
            shift=shift,
            feature=feature,
        )

    yield upright(0.0, lines[0].length_mm, left - LANE_MM, "long line", low=True)
    yield upright(-half, high, left - 2 * LANE_MM, "rim")
    if shown[-1].length_class == "short":
        yield upright(last * apart, shown[-1].length_mm, right + LANE_MM, "short line")
    if last:
        yield Dimension(
            "linear",
            ((0.0, 0.0), (apart, 0.0)),
            (place(0.0, 0.0), place(apart, 0.0)),
            numbers.plain.caliper(apart),
            (x0, y0 - LOW_LANE_MM),
            _scale(times),
            inch=numbers.inch,
            feature="lines",
        )


def _notes(dial: Dial, numbers: Numbers, free: Box) -> Iterator[Item]:
    """What the drawing does not show."""
    moves, changes = (
        numbers.division(float(one)) for one in (dial.advance_mm, dial.diameter_change_mm)
    )
    classes = {line.length_class: line.length_mm for line in rim_lines(dial)}
    lengths = [f"{name} ones {numbers.caliper(length)}" for name, length in classes.items()]
    words = (
        f"{dial.divisions} divisions: line n stands n / {dial.divisions} of a turn from line 0.",
        f"Numbered {NUMBERED}.",
        f"Turned {DEEPER}.",
        f"Numerals {numbers.size(dial.numeral_height_mm)} high, {UPRIGHT}.",
        f"Lines {numbers.caliper(dial.line_width_mm)} wide: {', '.join(lengths)} long.",
        f"1 division moves the tip {moves}; the ball's diameter changes by {changes}.",
    )
    left = free.left + NOTES_MM
    wide = free.right - CLEAR_MM - left
    for high in (USUAL_MM, NOTE_MM):  # the larger where it has room
        rows = [line for one in words for line in wrapped(one, wide, high)]
        if len(rows) * LINE_PITCH * high <= free.top - free.low:
            break
    for row, line in enumerate(rows):
        yield Text((left, free.top - high - row * LINE_PITCH * high), line, high)


def _scale(times: float) -> Fraction:
    return Fraction(times).limit_denominator(1000)
