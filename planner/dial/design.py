"""The engraved dial on the feed screw: how its lines are set out, and the table to engrave them by.

dial.reading judges a dial; the solids and the dial's sheet engrave it. Plain numbers; imports only
the indexing of this room.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any

from msgspec.structs import asdict

from parts.value import Value
from planner.dial.indexing import FULL_TURN_DEG, check_divisions, is_whole, to_dms
from planner.dial.sense import line_turn

INCH_MM = Fraction(127, 5)
# Line lengths as parts of the rim's width: 2.5, 3.5 and 5 mm on a 10 mm rim (common practice).
LENGTHS = {"short": 0.25, "middle": 0.35, "long": 0.5}
# Numerals stand upright with the tip at the nose (dial.sense): they run along the dial's axis, and
# their height lies along the rim. Parts of that height, of ISO 3098-0:1997 lettering B: a digit with
# its space of 0.2, and from the foot of one numeral to the next, as from line to line of writing
# (memory).
DIGIT, LINE_PITCH = 0.7, 1.4
# Between the end of a long line and its numeral (common practice).
OFF_LINE_MM = 0.5
# Heights of ISO 3098 that a graver cuts on a small dial, the usual one first.
HEIGHTS_MM = (2.5, 1.8)
# The same in an inch shop, by its punches and templates: 3/32 and 1/16 in (common practice).
INCH_HEIGHTS_MM = (2.38125, 1.5875)
READINGS = ("divisions", "hundredths")
SMALLEST_MM, LARGEST_MM = 0.001, 1000


class Dial(Value, frozen=True):
    """A cylinder with equal division lines round its rim, fixed to a feed screw.

    divisions: 2 to 1000. diameter_mm: of the rim. pitch_mm: the screw's lead, exact.
    numeral_every, middle_every: divisions from one numeral (and long line) to the next, and from
    one middle line to the next; equal when there are no middle lines.
    short_mm, middle_mm, long_mm: line lengths from the edge beside the index mark.
    reading: what the numerals count: "divisions", or "hundredths" of a mm of the tip's advance.
    Raises ValueError that lists all that is wrong.
    """

    divisions: int
    diameter_mm: float
    pitch_mm: Fraction
    numeral_every: int
    middle_every: int
    short_mm: float
    middle_mm: float
    long_mm: float
    line_width_mm: float
    numeral_height_mm: float
    rim_width_mm: float
    reading: str = "divisions"

    def __post_init__(self) -> None:
        check_divisions(self.divisions)
        findings = list(_dial_findings(self))
        if findings:
            raise ValueError("\n".join(f"dial: {finding}" for finding in findings))

    @property
    def advance_mm(self) -> Fraction:
        """How far one division moves the tip, exact."""
        return self.pitch_mm / self.divisions

    @property
    def advance_in(self) -> Fraction:
        """How far one division moves the tip, in inches, exact."""
        return self.advance_mm / INCH_MM

    @property
    def diameter_change_mm(self) -> Fraction:
        """By how much one division changes the ball's diameter: twice the advance."""
        return 2 * self.advance_mm


class Line(Value, frozen=True):
    """One line of the engraving table; angles grow from line 0 as the reading grows, in the sense of
    dial.sense.

    degrees, minutes, seconds: the angle to the nearest second; residue_arcsec: exact less that.
    length_class: "short", "middle" or "long". arc_mm: along the rim, for a paper template.
    advance_mm, diameter_change_mm: from zero, exact, without sign.
    """

    number: int
    angle_exact_deg: Fraction
    angle_deg: float
    degrees: int
    minutes: int
    seconds: int
    residue_arcsec: Fraction
    length_class: str
    length_mm: float
    numeral: str
    advance_mm: Fraction
    diameter_change_mm: Fraction
    arc_mm: float


def design_dial(
    divisions: int,
    pitch_mm: Fraction | float,
    diameter_mm: float,
    *,
    rim_width_mm: float = 10.0,
    line_width_mm: float = 0.15,
    numeral_height_mm: float | None = None,
    heights_mm: tuple[float, ...] = HEIGHTS_MM,
    reading: str = "divisions",
    line_step_mm: float = 0.0,
) -> Dial:
    """A dial with its long, middle and short lines set out for any number of divisions.

    A numeral stands at each long line. Up to twelve divisions every line is long. Counts of fives
    go by tens with middle lines at the fives, the smaller ones by fives; other counts in the
    largest group of 8, 4, 6, 3 or 2 that goes evenly. Where none does, as at 127, they go by tens
    (by fives under 25) and the last space is short; its numeral is left off, and its line not long,
    where under half a space or too little for it remains to zero. The next grouping is taken when
    numerals would touch; if all would, the one needing the least diameter: see `reading.legibility`.

    Arguments:
        divisions: 2 to 1000 (4 to 400 are usual).
        pitch_mm: the screw's lead, over 0, mm; a float is read as in `exact_mm`.
        diameter_mm: of the rim, over 0.
        rim_width_mm: over 0; lines are 1/4, 7/20 and 1/2 of it long (common practice).
        line_width_mm, numeral_height_mm: over 0; by default the first of heights_mm that the rim has
            room for beside a long line, else the last.
        reading: "divisions", or "hundredths" of a mm of the tip's advance.
        line_step_mm: the short and the middle lines are whole steps of it long, a 64th in an inch
            shop; 0 for any length.
    Raises ValueError for input out of range, or numerals that are not whole hundredths.

    >>> dial = design_dial(50, 1.0, 32.0)
    >>> dial.numeral_every, dial.middle_every, dial.advance_mm
    (10, 5, Fraction(1, 50))
    """
    check_divisions(divisions)
    pitch = exact_mm(pitch_mm)
    groups = _groups(divisions)
    if reading == "hundredths":
        # With no grouping in whole hundredths, the first goes on to be refused with its reason.
        groups = [g for g in groups if (g[0] * 100 * pitch / divisions).denominator == 1] or groups
    # A rim that is no size goes on as it is, to be refused once and not in each line's length.
    scale = rim_width_mm if _is_size(rim_width_mm) else LARGEST_MM
    length = {name: _stepped(part * scale, line_step_mm) for name, part in LENGTHS.items()}
    dials = [
        Dial(
            divisions=divisions,
            diameter_mm=diameter_mm,
            pitch_mm=pitch,
            numeral_every=numeral_every,
            middle_every=middle_every,
            short_mm=length["short"],
            middle_mm=length["middle"],
            long_mm=LENGTHS["long"] * scale,
            line_width_mm=line_width_mm,
            numeral_height_mm=(
                _height_mm(divisions, pitch, numeral_every, reading, scale, heights_mm)
                if numeral_height_mm is None
                else numeral_height_mm
            ),
            rim_width_mm=rim_width_mm,
            reading=reading,
        )
        for numeral_every, middle_every in groups
    ]
    fitting = (dial for dial in dials if numeral_diameter_mm(dial) <= diameter_mm)
    return next(fitting, min(dials, key=numeral_diameter_mm))


def _stepped(mm: float, step_mm: float) -> float:
    """A length to the nearest whole step, one at the least; as it is without a step."""
    return max(1, round(mm / step_mm)) * step_mm if step_mm else mm


@lru_cache(maxsize=8)
def engraving_table(dial: Dial) -> tuple[Line, ...]:
    """Every line of the dial, 0 to divisions - 1, each from the exact fraction of a turn.

    >>> [line.numeral for line in engraving_table(design_dial(10, 1.0, 20.0))][:3]
    ['0', '1', '2']
    """
    lines, advance_mm = [], dial.advance_mm
    for number in range(dial.divisions):
        part = line_turn(number, dial.divisions)
        angle = to_dms(part * FULL_TURN_DEG)
        length_class = _length_class(dial, number)
        lines.append(
            Line(
                number=number,
                angle_exact_deg=angle.angle_deg,
                angle_deg=float(angle.angle_deg),
                degrees=angle.degrees,
                minutes=angle.minutes,
                seconds=angle.seconds,
                residue_arcsec=angle.residue_arcsec,
                length_class=length_class,
                length_mm=getattr(dial, f"{length_class}_mm"),
                numeral=_label(dial, number) if length_class == "long" else "",
                advance_mm=number * advance_mm,
                diameter_change_mm=2 * number * advance_mm,
                arc_mm=float(part) * math.pi * dial.diameter_mm,
            )
        )
    return tuple(lines)


def exact_mm(pitch_mm: Fraction | float) -> Fraction:
    """A lead in mm as an exact fraction.

    A float is the decimal it prints as, unless it is 25.4 mm over a whole or half number of
    threads per inch to twelve figures: then it is that inch lead.
    Raises ValueError unless it is a number over 0.

    >>> exact_mm(25.4 / 13), exact_mm(0.1)
    (Fraction(127, 65), Fraction(1, 10))
    """
    if not _is_size(pitch_mm, Fraction):
        raise ValueError(f"dial: {_size_finding('pitch_mm', pitch_mm)}")
    if not isinstance(pitch_mm, float):
        return Fraction(pitch_mm)
    half_threads = round(2 * float(INCH_MM) / pitch_mm)
    if half_threads and math.isclose(2 * float(INCH_MM) / half_threads, pitch_mm, rel_tol=1e-12):
        return 2 * INCH_MM / half_threads
    return Fraction(repr(float(pitch_mm)))


def numeral_need_mm(dial: Dial) -> float:
    """What two numerals take along the rim from centre to centre: their height and a space."""
    return dial.numeral_height_mm * LINE_PITCH


def numeral_run_mm(dial: Dial) -> float:
    """What a long line and the widest numeral, the last, take of the rim's width."""
    digits = _digits(dial.divisions, dial.pitch_mm, dial.numeral_every, dial.reading)
    return dial.long_mm + OFF_LINE_MM + DIGIT * digits * dial.numeral_height_mm


def _digits(divisions: int, pitch_mm: Fraction, every: int, reading: str) -> int:
    """Of the widest numeral, the last."""
    last = (divisions - 1) // every * every
    return len(str(last if reading == "divisions" else last * pitch_mm / divisions * 100))


def _height_mm(
    divisions: int,
    pitch_mm: Fraction,
    every: int,
    reading: str,
    rim_mm: float,
    heights_mm: tuple[float, ...],
) -> float:
    """The first of heights_mm whose widest numeral has room on the rim beside a long line."""
    room = rim_mm * (1 - LENGTHS["long"]) - OFF_LINE_MM
    digits = _digits(divisions, pitch_mm, every, reading)
    fitting = (height for height in heights_mm if DIGIT * digits * height <= room)
    return next(fitting, heights_mm[-1])


def numeral_diameter_mm(dial: Dial) -> float:
    """The least rim diameter on which no two numerals come too close."""
    return numeral_need_mm(dial) / dial.numeral_every * dial.divisions / math.pi


def _has_numeral(dial: Dial, number: int) -> bool:
    """Every `numeral_every` lines; not too near zero, where the last space is a short one."""
    to_zero, every = dial.divisions - number, dial.numeral_every
    if number % every or number == 0 or to_zero >= every:
        return number % every == 0
    spacing_mm = math.pi * dial.diameter_mm / dial.divisions
    return 2 * to_zero >= every and to_zero * spacing_mm >= numeral_need_mm(dial)


def _label(dial: Dial, number: int) -> str:
    return str(number if dial.reading == "divisions" else number * dial.advance_mm * 100)


def _length_class(dial: Dial, number: int) -> str:
    if _has_numeral(dial, number):
        return "long"
    return "short" if number % dial.middle_every else "middle"


def _groups(divisions: int) -> list[tuple[int, int]]:
    """(numeral every, middle line every), the most readable first."""
    even = [
        (every, middle)
        for every, middle in ((8, 4), (4, 2), (6, 3), (3, 3), (2, 2))
        if divisions % every == 0 and 4 <= divisions // every <= 16
    ]
    tens, fives = (10, 5), (5, 5)
    by_tens = [tens, fives] if divisions >= 50 or divisions == 40 else [fives, tens]
    uneven = [tens, fives] if divisions >= 25 else [fives, tens]
    groups = by_tens + even if divisions % 5 == 0 else even + uneven
    groups = [group for group in [*groups, (20, 10), (50, 10)] if 2 * group[0] <= divisions]
    return groups if divisions > 12 else [(1, 1), *groups]


def _is_size(value: Any, *also: type) -> bool:
    """A plain number (or one of the types in `also`) between the limits; NaN is between none."""
    if not (isinstance(value, (float, *also)) or is_whole(value)):
        return False
    return bool(SMALLEST_MM <= value <= LARGEST_MM)


def _size_finding(name: str, value: object) -> str:
    limits = f"{SMALLEST_MM:g} to {LARGEST_MM:g} mm"
    return f"{name} {value!r}; must be a number from {limits}. Give the size in mm"


def _dial_findings(dial: Dial) -> Iterator[str]:
    """All that is wrong with a dial whose number of divisions is right."""
    sizes = {name: size for name, size in asdict(dial).items() if name.endswith("_mm")}
    wrong = [name for name, size in sizes.items() if name != "pitch_mm" and not _is_size(size)]
    yield from (_size_finding(name, sizes[name]) for name in wrong)
    if not (isinstance(dial.pitch_mm, Fraction) and _is_size(dial.pitch_mm, Fraction)):
        yield f"pitch_mm {dial.pitch_mm!r}; must be a Fraction over 0. Use exact_mm(pitch_mm)"
    if dial.reading not in READINGS:
        yield f"reading {dial.reading!r}; must be one of {READINGS}. Choose one of them"
    lengths = (dial.short_mm, dial.middle_mm, dial.long_mm, dial.rim_width_mm)
    if not wrong and list(lengths) != sorted(lengths):
        yield (
            f"short, middle and long lines and rim width {lengths} mm; each must be at least "
            "the one before. Shorten the lines or widen the rim"
        )
    every, middle = dial.numeral_every, dial.middle_every
    if not is_whole(every) or not 1 <= every <= dial.divisions:
        yield (
            f"numeral_every {every!r}; must be from 1 to {dial.divisions} divisions. "
            "Give a whole number of them"
        )
        return
    if not is_whole(middle) or middle < 1 or every % middle:
        yield (
            f"middle_every {middle!r}; must go evenly into {every} divisions from numeral to "
            f"numeral. Use {every} for no middle lines"
        )
    if dial.reading == "hundredths" and isinstance(dial.pitch_mm, Fraction):
        apart = every * dial.advance_mm * 100
        if apart.denominator != 1:
            yield (
                f"numerals stand {float(apart):g} hundredths of a mm apart; must be whole. "
                'Use reading "divisions", other divisions or another pitch'
            )
