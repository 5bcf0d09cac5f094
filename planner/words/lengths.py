"""Lengths by what reads them or what they are: a rule, a caliper, a micrometer; a size, a clearance.

The part of the language of numbers that is of lengths alone: planner.words.numbers.Numbers, which alone
imports it.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, log10

from planner.words.limited import GRAIN, SERIES, Limited, of_metric
from planner.words.units import DUST_PLACES, MM_PER_INCH, fraction_text, show_length, trimmed

RULE_MM, RULE_IN = 0.5, 1 / 64
"""What a rule and a bar are read to (common practice)."""

FITTED_IN = 0.0015
"""What a fit takes off a round 64th or puts on: jaws are opened by its name (common practice)."""

ROUND_IN = (0.5, 0.25, 0.125, 0.05, 0.025, 0.01, 0.005, 0.001)
"""What rules of the trade are said to in inches: halves to eighths, then decimals (common practice)."""

ROUND_PART = 0.08
"""What a bound may lose of itself at most to be a rounder number: no rule of the trade is finer."""

OWN_LINES = 1e-3
"""A dial's division so near whole ten thousandths of an inch, or micrometres, is of that language."""

SCRIBED_MM, SCRIBED_IN = 1.0, 1 / 16
"""What a scribed line is long by a rule (common practice)."""


class Lengths(Limited):
    """What of ``Numbers`` is of lengths."""

    def length(self, mm: float, places: int | None = None) -> str:
        """A length to so many decimals; by default as ``size``. The others say what a length is for."""
        return self._said(show_length(mm, self.inch, places), self.unit)

    def bare(self, mm: float, places: int | None = None) -> str:
        """``length`` without its unit."""
        return self.plain.length(mm, places)

    def _to(self, mm: float, metric: int, inch: int) -> str:
        """A length to so many decimals of either unit."""
        return self.length(mm, inch if self.inch else metric)

    def column(self, mm: float, places: int) -> str:
        """A length in a column of such, to so many decimals, the noughts at the end too."""
        value = round(mm / MM_PER_INCH if self.inch else mm, DUST_PLACES)
        return self._said(f"{value:z.{places}f}", self.unit)

    def size(self, mm: float) -> str:
        """A nominal size, as drawings name it: to 0.01 mm; a fraction to 1/64, or 0.001 in."""
        return self.length(mm)

    def rule(self, mm: float) -> str:
        """A length laid off, sawn or set by a rule or a stop: to the nearest 0.5 mm or 1/64 in."""
        return self._ruled(round(mm / self._rule_mm))

    def rule_up(self, mm: float) -> str:
        """The same rounded up: what must be so long at least."""
        return self._ruled(ceil(mm / self._rule_mm - GRAIN))

    def rule_down(self, mm: float) -> str:
        """The same rounded down: what is left of a bar, say."""
        return self._ruled(floor(mm / self._rule_mm + GRAIN))

    def gripped(self, mm: float) -> str:
        """What jaws close on: to 0.1 mm, or the 64th of an inch that it is within limits of."""
        if not self.inch:
            return self.length(mm, 1)
        inches = mm / MM_PER_INCH
        near = round(inches * 64) / 64
        return self.size((near if abs(near - inches) < FITTED_IN else inches) * MM_PER_INCH)

    def rule_up_mm(self, mm: float) -> float:
        """A length rounded up to what a rule reads, mm: what is chosen so is set so, and told so."""
        return round(ceil(mm / self._rule_mm - GRAIN) * self._rule_mm, 6)

    def rule_down_mm(self, mm: float) -> float:
        """The same rounded down."""
        return round(floor(mm / self._rule_mm + GRAIN) * self._rule_mm, 6)

    @property
    def _rule_mm(self) -> float:
        return RULE_IN * MM_PER_INCH if self.inch else RULE_MM

    def _ruled(self, steps: int) -> str:
        """So many steps of a rule: a fraction of an inch, or millimetres and half ones."""
        text = fraction_text(Fraction(steps, 64)) if self.inch else trimmed(steps * RULE_MM, 1)
        return self._said(text, self.unit)

    def drilled(self, mm: float) -> str:
        """How deep a drawing has a hole drilled, without unit: in inches a 64th, as a drill is set by,
        also where the lead of a metric tap is none."""
        parts = mm / self._rule_mm
        whole = not self.inch or abs(parts - round(parts)) < 1e-3
        return self.general(mm) if whole else self.plain.rule(mm)

    def laid(self, mm: float) -> str:
        """How far one piece lies from another before it is welded, without unit: as a drawing has it,
        in inches a 64th, as it is laid by a rule."""
        return self.drilled(mm)

    def caliper(self, mm: float) -> str:
        """A length in decimals, worked out or as a caliper finds it: to 0.01 mm or 0.001 in."""
        return self._to(mm, 2, 3)

    def slide_reading(self, mm: float, division_mm: float) -> str:
        """What the lathe's own dial is set to, to 0.01 mm or 0.001 in; by a dial whose screw is of the
        other language, which shows no such number, in its divisions too.

        >>> INCH.slide_reading(30.0, 0.5), INCH.slide_reading(30.099, 0.127)
        ('1.181 in (60 div)', '1.185 in')
        """
        text = self.caliper(mm)
        other = self.other_dial(division_mm)
        return f"{text} ({trimmed(mm / division_mm, 1)} div)" if other else text

    def other_dial(self, division_mm: float | None) -> str:
        """What one division of the lathe's own dial moves, in both languages, where its screw is of the
        other one: sizes are then divided by it. "" where it is not, or not said.

        >>> INCH.other_dial(0.025), METRIC.other_dial(0.0254), INCH.other_dial(0.0254)
        ('0.025 mm = 0.00098 in', '0.0254 mm = 0.001 in', '')
        """
        lines = (division_mm or 0.0) * (10_000 / MM_PER_INCH if self.inch else 1000)
        if not division_mm or abs(lines - round(lines)) < OWN_LINES:
            return ""
        return f"{trimmed(division_mm, 4)} mm = {trimmed(division_mm / MM_PER_INCH, 5)} in"

    def radius(self, mm: float) -> str:
        """Half of a diameter, a radius that a dial stands at, or what one is worked out of: to 0.01 mm
        or 0.0001 in, since half of a thousandth is five tenths.

        >>> INCH.radius(20.6375), METRIC.radius(12.75)
        ('0.8125 in', '12.75 mm')
        """
        return self._to(mm, 2, 4)

    def micrometer(self, mm: float) -> str:
        """A length as a micrometer or an indicator reads it: to 0.001 mm or 0.0001 in."""
        return self._to(mm, 3, 4)

    def fine(self, mm: float) -> str:
        """A small length in a finding, as a micrometer reads it."""
        return self.micrometer(mm)

    def fine_up(self, mm: float) -> str:
        """The same rounded up: what is more than a limit reads so."""
        step = MM_PER_INCH / 10_000 if self.inch else 0.001
        return self.fine(ceil(mm / step - GRAIN) * step)

    def read_between(self, least_mm: float, greatest_mm: float) -> tuple[str, str]:
        """Two limits in a column of what a micrometer read, rounded inward as ``between`` has them.

        >>> INCH.plain.read_between(3.89255, 4.04495), METRIC.plain.read_between(19.98, 19.993)
        (('0.1533', '0.1592'), ('19.980', '19.993'))
        """
        step = MM_PER_INCH / 10_000 if self.inch else 0.001
        low, high = ceil(least_mm / step - GRAIN), floor(greatest_mm / step + GRAIN)
        if low > high:  # nearer together than it reads
            return self.micrometer(least_mm), self.micrometer(greatest_mm)
        return self.micrometer(low * step), self.micrometer(high * step)

    def within(self, mm: float) -> str:
        """How true a thing is set or made: to 0.001 mm, or the series' own thousandths of an inch."""
        if not self.inch:
            return self.micrometer(mm)
        inches = SERIES[True].tolerance(mm) / MM_PER_INCH
        whole = abs(inches * 1000 - round(inches * 1000)) < GRAIN
        return self.length(inches * MM_PER_INCH, 3 if whole else 4)

    def error(self, mm: float) -> str:
        """An error worked out: to 0.0001 mm, or 0.0001 in as the finest gauge reads."""
        return self._to(mm, 4, 4)

    @property
    def least_error_mm(self) -> float:
        """The least that ``error`` tells apart from nothing, mm."""
        return MM_PER_INCH / 10_000 if self.inch else 0.0001

    def deflection(self, mm: float) -> str:
        """How far a thing gives, one place past any gauge: to 0.0001 mm or 0.00001 in."""
        return self._to(mm, 4, 5)

    def clearance(self, mm: float) -> str:
        """A distance kept clear, or how far a thing reaches: to 0.1 mm or 0.001 in."""
        return self._to(mm, 1, 3)

    def apart(self, less_mm: float, more_mm: float) -> tuple[str, str]:
        """Two lengths of which one is the less, as clearances: what is refused and what it needs.

        Where both would read the same, the less is rounded down and the more up.
        """
        less, more = self.clearance(less_mm), self.clearance(more_mm)
        if less != more or more_mm <= less_mm:
            return less, more
        step = MM_PER_INCH / 1000 if self.inch else 0.1
        return (
            self.clearance(floor(less_mm / step + GRAIN) * step),
            self.clearance(ceil(more_mm / step - GRAIN) * step),
        )

    def unlike(self, one_mm: float, other_mm: float) -> tuple[str, str]:
        """Two lengths that differ, as a micrometer reads them; to as many more places as show it, down
        to the millionth that records are held to.

        >>> METRIC.unlike(19.99, 19.985), METRIC.unlike(12.3456, 12.3458), INCH.unlike(25.4, 25.4005)
        (('19.99 mm', '19.985 mm'), ('12.3456 mm', '12.3458 mm'), ('1.00000 in', '1.00002 in'))
        """
        pair = self.micrometer(one_mm), self.micrometer(other_mm)
        places = 4 if self.inch else 3
        while pair[0] == pair[1] and places < DUST_PLACES:
            places += 1
            pair = self.length(one_mm, places), self.length(other_mm, places)
        return pair

    def bought_length(self, mm: float) -> str:
        """A length, and in an inch shop a whole one of millimetres in both: "20 mm = 0.787 in"."""
        if self.inch and of_metric(mm):
            return f"{show_length(mm, False)} mm = {self.caliper(mm)}"
        return self.size(mm)

    def as_asked(self, mm: float) -> str:
        """A size that a job asks for, or how far a thing stands from another, on a drawing: to 0.1 mm,
        or as ``size`` in inches."""
        return self.size(mm) if self.inch else self.clearance(mm)

    def over(self, mm: float) -> str:
        """How far a thing is too far or too long: a clearance rounded up, never nothing."""
        step = MM_PER_INCH / 1000 if self.inch else 0.1
        return self.clearance(ceil(mm / step - GRAIN) * step)

    def lacking(self, has_mm: float, wants_mm: float) -> tuple[str, str, str]:
        """What a slide has, what is wanted of it, and what it lacks, so that they add up: in inches as
        the rule has them that the slide was measured by.

        >>> INCH.lacking(165.1, 165.89), METRIC.lacking(165.0, 165.84)
        (('6-1/2 in', '6-17/32 in', '1/32 in'), ('165 mm', '165.8 mm', '0.9 mm'))
        """
        off = abs(has_mm - wants_mm)
        if not self.inch:
            less, more = self.apart(min(has_mm, wants_mm), max(has_mm, wants_mm))
            has, wants = (less, more) if has_mm <= wants_mm else (more, less)
            return has, wants, self.over(off)
        step = MM_PER_INCH / 64  # what it lacks is a line of the rule at the least
        if has_mm <= wants_mm:
            wants = self.rule_up(max(wants_mm, has_mm + step))
        else:
            wants = self.rule_down(min(wants_mm, has_mm - step))
        return self.size(has_mm), wants, self.rule_up(max(off, step))

    def at_least(self, mm: float) -> str:
        """A least length, rounded up to 0.1 mm or 1/64 in so that it still does."""
        if self.inch:
            return self.rule_up(mm)
        return self._said(f"{ceil(mm * 10 - 1e-6) / 10:zg}", self.unit)

    def at_most(self, mm: float) -> str:
        """A greatest length, rounded down to 0.1 mm or 1/64 in so that it still does."""
        if self.inch:
            return self.rule_down(mm)
        return self._said(f"{floor(mm * 10 + 1e-6) / 10:zg}", self.unit)

    def stock_at_least(self, mm: float) -> str:
        """The least thickness of a bar, rounded up to 0.1 mm, or to 1/16 in as bars are sold."""
        if self.inch:
            return self._ruled(4 * ceil(mm / MM_PER_INCH * 16 - GRAIN))
        return self.at_least(mm)

    def bound(self, mm: float, up: bool) -> str:
        """What a rule of the trade wants at least (up) or allows at most: to 0.01 mm, or in inches the
        roundest number on its safe side that is near it.

        >>> INCH.bound(40.0, up=False), INCH.bound(3.0, up=True), INCH.bound(0.03, up=True)
        ('1.500 in', '0.125 in', '0.002 in')
        """
        if not self.inch:
            return self.caliper(mm)
        inches = mm / MM_PER_INCH
        for step in ROUND_IN:
            steps = ceil(inches / step - GRAIN) if up else floor(inches / step + GRAIN)
            if abs(steps * step - inches) <= ROUND_PART * inches:
                break
        return self.caliper(steps * step * MM_PER_INCH)

    def end_of_range(self, mm: float, up: bool) -> str:
        """An end of what a job may say, of any sign: in inches two figures, to the side that is inside.

        up: whether it is the lower end.

        >>> INCH.end_of_range(20.0, up=True), INCH.end_of_range(1000.0, up=False)
        ('0.79 in', '39 in')
        """
        inches = abs(mm) / MM_PER_INCH
        if not self.inch or not inches:
            return self.size(mm)
        grain = 10.0 ** (floor(log10(inches)) - 1)
        steps = ceil(inches / grain - GRAIN) if up == (mm > 0) else floor(inches / grain + GRAIN)
        return self._said(f"{(1 if mm > 0 else -1) * steps * grain:.6g}", self.unit)

    def faced(self, mm: float) -> str:
        """What is faced off a shoulder: as ``size``."""
        return self.length(mm)

    def run(self, mm: float) -> str:
        """How long a weld is, no longer than its joint: to a whole millimetre, or 1/16 in.

        In inches a whole 64th is said as it is, 1-23/32 and not 1-3/4.
        """
        if self.inch and abs(mm / self._rule_mm - round(mm / self._rule_mm)) < GRAIN:
            return self.length(mm)
        step = MM_PER_INCH / 16 if self.inch else 1.0
        return self.length(floor(mm / step + GRAIN) * step)

    def engraved(self, mm: float) -> str:
        """How long an engraved line is: to 0.1 mm or 0.001 in."""
        return self._to(mm, 1, 3)

    def scribed(self, mm: float) -> str:
        """How long a line scribed by a rule is: a whole millimetre or 1/16 in, rounded down."""
        step = SCRIBED_IN * MM_PER_INCH if self.inch else SCRIBED_MM
        return self.size(floor(mm / step + GRAIN) * step)
