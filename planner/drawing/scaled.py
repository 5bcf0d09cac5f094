"""A dial's scale on its part's sheet: the rim unrolled, its lines of each length, and what is to know.

Imported by layout, callouts and choose; how the lines are set out, planner.dial says.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import pi

from parts import features as f
from parts.value import Value
from planner.dial.design import HEIGHTS_MM, INCH_HEIGHTS_MM, Dial, design_dial
from planner.dial.sense import DEEPER, NUMBERED, UPRIGHT
from planner.drawing.dial_rim import RimLine, rim_lines
from planner.drawing.dimensioned import OUTSIDE_MM, ROOM_MM
from planner.drawing.lettering import width_mm
from planner.drawing.model import Box, Dimension, Item, Line, Point, Polyline, Text, factor
from planner.drawing.strokes import TEXT_GAP_MM
from planner.words.numbers import Numbers

SCALES = ("10:1", "5:1", "2:1", "1:1")
"""Of the unrolled part, the largest first."""

WIDE_MM, HIGH_MM = 56.0, 50.0
"""How large the unrolled part may be on the paper."""

CLEAR_MM = 5.0
"""From the frame to the unrolled part and what stands beside it."""

LANE_MM, WORDS_MM = 9.0, 3.5
"""From one dimension line to the next (common practice), and the height of words."""

BELOW_MM, ABOVE_MM = 24.0, 14.0
"""What the spacing's dimension takes below the part, and its two lines of title above."""


def dial_of(scale: f.EngravedScale, inch: bool) -> Dial:
    """The dial that a scale is of; its screw's lead has no say in where the lines stand."""
    run = scale.end_mm - scale.start_mm
    return design_dial(
        scale.divisions,
        1.0,
        scale.diameter.nominal_mm,
        rim_width_mm=2 * run,
        line_width_mm=scale.line_width_mm,
        heights_mm=INCH_HEIGHTS_MM if inch else HEIGHTS_MM,
        line_step_mm=scale.line_step_mm,
    )


def sentences(scale: f.EngravedScale, numbers: Numbers) -> Iterator[str]:
    """What the unrolled part does not show."""
    dial = dial_of(scale, numbers.inch)
    high = numbers.size(dial.numeral_height_mm)
    yield (
        f"{scale.name}: line n stands n / {dial.divisions} of a turn from line 0; numbered {NUMBERED}."
    )
    yield (
        f"{scale.name}: lines {numbers.caliper(dial.line_width_mm)} wide; numerals {high} high,"
        f" {UPRIGHT}."
    )
    yield f"{scale.name}: turned {DEEPER}."


class Unrolled(Value, frozen=True):
    """A part of the rim, from line 0 to past the first middle line, at a scale of its own."""

    name: str
    dial: Dial
    numbers: Numbers
    scale: str
    last: int

    @property
    def larger(self) -> float:
        """What is on the paper, over what is."""
        return float(factor(self.scale))

    @property
    def apart_mm(self) -> float:
        """From line to line along the rim."""
        return pi * self.dial.diameter_mm / self.dial.divisions

    @property
    def shown(self) -> tuple[RimLine, ...]:
        """The lines that are drawn."""
        return rim_lines(self.dial)[: self.last + 1]

    @property
    def left_mm(self) -> float:
        """What stands left of line 0: half a numeral and the long line's dimension."""
        return self.dial.numeral_height_mm / 2 * self.larger + 2 * LANE_MM + 2.0

    @property
    def size_mm(self) -> tuple[float, float]:
        """How wide and high it is with all that stands beside it."""
        lanes = LANE_MM * (len({line.length_class for line in self.shown}) - 1)
        wide = self.left_mm + self.last * self.apart_mm * self.larger + lanes + LANE_MM
        title = width_mm(self.title[0], WORDS_MM)
        return max(wide, title), self.dial.rim_width_mm * self.larger + BELOW_MM + ABOVE_MM

    @property
    def title(self) -> tuple[str, str]:
        """Its title, and which way is up."""
        return f"Rim unrolled, {self.scale}", "free end up, numbers grow to the right"

    def items(self, at: Point) -> Iterator[Item]:
        """All of it; at: its lower left corner."""
        x0, y0 = at[0] + self.left_mm, at[1] + BELOW_MM
        larger, high = self.larger, self.dial.rim_width_mm

        def place(x: float, y: float) -> Point:
            return x0 + x * larger, y0 + y * larger

        left = x0 - self.dial.numeral_height_mm / 2 * larger - 2.0
        right = x0 + self.last * self.apart_mm * larger + 2.0
        for y in (0.0, high):
            yield Line((left, y0 + y * larger), (right, y0 + y * larger))
        for line in self.shown:
            x = line.number * self.apart_mm
            yield Line(place(x, 0.0), place(x, line.length_mm))
            for stroke in line.strokes:
                points = tuple(place(x + dx, y) for dx, y in stroke)
                if max(p[0] for p in points) <= right:
                    yield Polyline(points, "thin")
        foot = y0 + high * larger + 3.0
        yield Text((at[0], foot + 1.6 * WORDS_MM), self.title[0], WORDS_MM)
        yield Text((at[0], foot), self.title[1], 2.5)
        yield from self._sized(left, right, y0, place)

    def _sized(self, left: float, right: float, y0: float, place: object) -> Iterator[Dimension]:
        """One dimension for each length of line, and one from line to line."""
        assert callable(place)
        lanes = {"long": left - LANE_MM}
        out = right + LANE_MM - 2.0
        for line in reversed(self.shown):
            if line.length_class not in lanes:
                lanes[line.length_class] = out
                out += LANE_MM
        done: set[str] = set()
        for line in (*self.shown[:1], *reversed(self.shown)):
            kind = line.length_class
            if kind in done:
                continue
            done.add(kind)
            x = line.number * self.apart_mm
            yield self._dimension(
                ((x, 0.0), (x, line.length_mm)),
                (place(x, 0.0), place(x, line.length_mm)),
                (lanes[kind], y0),
                f"{kind} line",
                90.0,
            )
        yield self._dimension(
            ((0.0, 0.0), (self.apart_mm, 0.0)),
            (place(0.0, 0.0), place(self.apart_mm, 0.0)),
            (place(0.0, 0.0)[0], y0 - 12.0),
            "spacing",
            0.0,
        )

    def _dimension(
        self,
        points: tuple[Point, Point],
        feet: tuple[Point, Point],
        at: Point,
        what: str,
        along_deg: float,
    ) -> Dimension:
        long = max(abs(points[1][k] - points[0][k]) for k in (0, 1))
        words = self.numbers.plain.caliper(long)
        wide, drawn = width_mm(words, WORDS_MM) + 2 * TEXT_GAP_MM, long * self.larger
        shift = None
        if along_deg and wide > drawn:  # under the part, where nothing stands
            shift = -(drawn + wide) / 2 - (OUTSIDE_MM if drawn < ROOM_MM else 0.0)
        return Dimension(
            "linear",
            points,
            feet,
            words,
            at,
            Fraction(self.larger),
            along_deg,
            inch=self.numbers.inch,
            shift=shift,
            feature=f"{self.name}|{what}",
        )


def unrolled(scale: f.EngravedScale, numbers: Numbers) -> Unrolled:
    """The part of a rim to draw, at the largest scale at which it is no larger than it may be."""
    dial = dial_of(scale, numbers.inch)
    lines = rim_lines(dial)
    kinds = {line.length_class for line in lines}
    last = 1
    while last < len(lines) - 1 and {one.length_class for one in lines[: last + 1]} != kinds:
        last += 1
    last = min(last + 1, len(lines) - 1)
    apart = pi * dial.diameter_mm / dial.divisions
    for name in SCALES:
        larger = float(factor(name))
        if last * apart * larger <= WIDE_MM and dial.rim_width_mm * larger <= HIGH_MM:
            break
    return Unrolled(scale.name, dial, numbers, name, last)


def corners_taken(details: list[Unrolled], space: Box) -> tuple[list[Point], Box]:
    """Where each detail stands, from the upper right corner down, and the rectangle they take."""
    top, left, places = space.top - CLEAR_MM, space.right, []
    for one in details:
        wide, high = one.size_mm
        top -= high
        places.append((space.right - CLEAR_MM - wide, top))
        left = min(left, space.right - CLEAR_MM - wide)
    return places, Box(left, top if details else space.top, space.right, space.top)
