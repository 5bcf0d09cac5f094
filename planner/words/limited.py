"""How a job's language of numbers writes sizes with limits: call-outs, dimensions, readings, frames.

Made of words.quantities, and words.numbers, whose Numbers it is a part of, is made of it; nothing else
imports it.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from parts.standard.fits import GENERAL_ISO, STOCK
from parts.standard.inch_limits import FINEST_DECIMALS, general_rows
from parts.standard.series import INCH as INCH_SERIES
from parts.standard.series import METRIC as METRIC_SERIES
from parts.standard.series import THOUSANDTH_MM
from planner.words.quantities import Quantities
from planner.words.units import DUST_PLACES, MM_PER_INCH, fraction_text, trimmed

if TYPE_CHECKING:
    from parts.standard.fits import Limits
    from planner.words.numbers import Numbers

SLACK = 0.05
"""Limits on a drawing are rounded inward but for so much of their last place, which no gauge reads."""

GRAIN = 1e-6
"""Of a last place: what a float may be off, and no more, where limits are rounded inward."""

READ_MM = (0.05, 0.01, 0.005, 0.001)
"""What a metric reading is written to, by what the gauge reads: a caliper's vernier of 0.05 mm, a depth
micrometer's division, half of a micrometer's, and what stands over gauge blocks (common practice)."""

READ_IN = (0.001, 0.0001)
"""The same in inches: a caliper to thousandths, a micrometer to tenths of them (common practice)."""

WELDED_ISO = "ISO 13920-BF"
WELDED_IN = (1 / 32, 1 + 1 / 4, 1 / 16, 1 / 32)
"""What is left as welded: lengths of class B, ±1 mm to 30, ±2 to 400, and straight and flat of class F,
1 mm from 30 to 120 (ISO 13920, tables 1 and 3, from memory); in inches how much to which length, how
much over, and how flat, by the fractions that a welder's rule has, none that allows more."""

LEAST_BAND = 1 / 3
"""What limits rounded inward must keep of their band at least; else they are read finer."""

COARSE_THOUSANDTHS = 5
"""So many thousandths apart, limits are read to thousandths, by whatever (common practice)."""

DUST_IN = 1e-7
"""Of an inch: what the ends of limits are off a whole thousandth by sums of floats."""

SAID_IN = 1e-9
"""What decimals leave of a size that they say exactly: dust."""

SERIES = {False: METRIC_SERIES, True: INCH_SERIES}
"""The series of sizes of either language."""


class Limited(Quantities):
    """Needs of what is made of it, besides what Quantities needs: ``plain`` and the unit of lengths."""

    @property
    def plain(self) -> Numbers:
        """The same language of numbers with the unit left off."""
        raise NotImplementedError

    @property
    def unit(self) -> str:
        """The unit lengths are shown in."""
        raise NotImplementedError

    def limits(self, size: Limits) -> str:
        """A size as a call-out has it, never with a unit: "12 H7 (+0.018/0)", "40 ±0.1", "40".

        What is left off, and how limits are rounded, is that of ``dimensioned``.
        """
        text, upper, lower = self.dimensioned(size)
        return f"{text} ({upper}/{lower})" if upper or lower else text

    def worked_limits(self, size: Limits) -> str:
        """``limits`` where it is worked to by dial or caliper: a fraction with its decimals beside it.

        >>> INCH.worked_limits(INCH_SERIES.general(135.73125))
        '5-11/32 = 5.344'
        """
        text = self.limits(size)
        if self.inch and "/" in text and "." not in text:
            return f"{text} = {inch_decimals(size.nominal_mm / MM_PER_INCH, FINEST_DECIMALS)}"
        return text

    def lined(self, size: Limits) -> str:
        """``limits`` where it is worked to by a line: whole inches are said as a rule has them.

        >>> INCH.lined(INCH_SERIES.general(25.4)), INCH.lined(INCH_SERIES.general(20.6375))
        ('1', '13/16')
        """
        text = self.limits(size)
        return text.partition(".")[0] if self.inch and re.fullmatch(r"\d+\.0+", text) else text

    def lined_mm(self, mm: float) -> str:
        """``lined`` of a size without limits of its own."""
        return self.lined(SERIES[self.inch].general(mm))

    def general(self, mm: float) -> str:
        """A size without limits of its own, as a drawing has it, never with a unit."""
        return self.dimensioned(SERIES[self.inch].general(mm))[0]

    def dimensioned(self, size: Limits) -> tuple[str, str, str]:
        """A size as a dimension on a drawing has it: its text, and the limits over one another.

        Never with a unit. The general tolerance and a bought section's are left off; limits that are
        alike stand in the text as "40 ±0.1". Limits are rounded so that they allow no more than was
        meant; raises ValueError where nothing is left. A metric size without limits has two decimals,
        and a third where that says it exactly; in inches as ``_inch`` says.
        """
        if self.inch:
            return _inch(size)
        if size.is_plain:
            exact = abs(round(size.nominal_mm, 3) - size.nominal_mm) < GRAIN
            return trimmed(size.nominal_mm, 3 if exact else 2), "", ""
        return _limited(size, 3, False)

    def general_rule(self) -> tuple[str, ...]:
        """The general tolerance that sizes without limits have: a standard, or by decimals of an inch.

        >>> INCH.general_rule()
        ('.X ±0.015', '.XX ±0.010', '.XXX ±0.003 to 0.250', '±0.005 over', 'fractions as .XXX')
        """
        if not self.inch:
            return (f"{GENERAL_ISO}-m",)
        rows = general_rows()
        *coarse, small, large = (f".{'X' * row.decimals} ±{row.tolerance_in:.3f}" for row in rows)
        small, large = f"{small} to {rows[-2].upto_in:.3f}", f"{large.partition(' ')[2]} over"
        return (*coarse, small, large, f"fractions as .{'X' * FINEST_DECIMALS}")

    def welded_rule(self) -> str:
        """What sizes may be off that are left as welded: the standard, or written out in inches.

        >>> INCH.welded_rule()
        'as welded ±1/32 to 1-1/4, ±1/16 over, flat 1/32'
        """
        if not self.inch:
            return f"{WELDED_ISO}, as welded"
        small, upto, large, flat = (_fraction(one) for one in WELDED_IN)
        return f"as welded ±{small} to {upto}, ±{large} over, flat {flat}"

    def basic(self, size: Limits) -> str:
        """The size alone of ``dimensioned``: where another sheet gives its limits."""
        return self.dimensioned(size)[0].partition(" ")[0]

    def between(self, size: Limits, reads_mm: float = 0.0) -> str:
        """A size as the two readings it must lie between, never outside its limits.

        reads_mm: what the gauge reads, by default the finest there is. Both are rounded inward to
        what such a gauge is written to (READ_MM, READ_IN), finer where that would leave too little:
        to a millionth at last, which is what two limits that are one are written to. In inches
        limits five thousandths or more apart, and two or more where they are whole ones, are read to
        thousandths, as they are written.
        """
        low, high, places = self._ends(size, reads_mm)
        return self._said(f"{low:z.{places}f} to {high:z.{places}f}", self.unit)

    def play(self, hole: Limits, shaft: Limits) -> str:
        """What a shaft has in its hole, never with a unit, by the limits of both as ``between`` has
        them: from the largest shaft in the smallest hole to the other way about."""
        least_hole, most_hole, more = self._ends(hole, 0.0)
        least_shaft, most_shaft, places = self._ends(shaft, 0.0)
        places = max(places, more, 4 if self.inch else 3)
        low, high = least_hole - most_shaft, most_hole - least_shaft
        return " to ".join(
            "0" if not self.inch and abs(mm) < GRAIN else f"{mm:z.{places}f}" for mm in (low, high)
        )

    def _ends(self, size: Limits, reads_mm: float) -> tuple[float, float, int]:
        """The two readings of ``between``, in the unit, and how many decimals they have."""
        unit, steps = (MM_PER_INCH, READ_IN) if self.inch else (1.0, READ_MM)
        reads = (reads_mm or READ_MM[-1]) / unit
        coarsest = min((step for step in steps if reads <= step + GRAIN), default=steps[0])
        ends = (size.max_mm / unit, size.min_mm / unit)
        written = all(abs(one - round(one, FINEST_DECIMALS)) < DUST_IN for one in ends)
        least_in = READ_IN[0] * (2 if written else COARSE_THOUSANDTHS)
        if self.inch and ends[0] - ends[1] >= least_in - GRAIN:
            coarsest = steps[0]
        finer = [step for step in (*steps, steps[-1] / 10, 1e-6) if step <= coarsest]
        least = LEAST_BAND * (size.max_mm - size.min_mm) / unit
        for step in finer:
            low = ceil(size.min_mm / unit / step - GRAIN) * step
            high = floor(size.max_mm / unit / step + GRAIN) * step
            if high - low >= least - GRAIN * step:
                break
        # inches have all places of their step, as a caliper or a micrometer is read
        places = max(
            _written_places(one) for one in ((step, low, high) if self.inch else (low, high))
        )
        return low, high, places

    def trueness(self, mm: float) -> str:
        """A geometrical tolerance in its frame, without unit, rounded down to 0.001 mm, 0.0001 in."""
        unit, places = (MM_PER_INCH, 4) if self.inch else (1.0, 3)
        step = 10.0**places
        return trimmed(floor(mm / unit * step + GRAIN) / step, places)

    def framed(self, mm: float) -> str:
        """``trueness`` with its unit, where a sentence says what a frame has."""
        return self._said(self.trueness(mm), self.unit)


def _written_places(value: float) -> int:
    """Decimals of a number of six at most, zeros at the end left off."""
    return len(f"{value:.6f}".rstrip("0").partition(".")[2])


def _as_fine(one: float, other: float, places: int) -> list[str]:
    """Two limits in millimetres with as many decimals, so many at most; nothing is "0" (ISO 129-1,
    from memory)."""
    needed = max(_written_places(round(value, places)) for value in (one, other))
    texts = [f"{value:z.{needed}f}" for value in (one, other)]
    return [text if float(text) else "0" for text in texts]


def _signed(text: str) -> str:
    """A deviation with its sign, zero without."""
    return text if text.startswith("-") or not float(text) else f"+{text}"


def inch_decimals(value: float, places: int) -> str:
    """A size to so many decimals, halves to even: 9/16 is 0.562, 7/16 0.438 (ASTM E29, from memory)."""
    return f"{round(value, DUST_PLACES):.{places}f}"


def of_metric(mm: float) -> bool:
    """Whether a length is of whole tenths of a millimetre, and none of thousandths of an inch."""
    tenths, thousandths = mm * 10, mm / MM_PER_INCH * 1000
    return abs(tenths - round(tenths)) < GRAIN < 1e-3 < abs(thousandths - round(thousandths))


def in_64ths(mm: float) -> bool:
    """Whether a length is of whole 64ths of an inch."""
    parts = mm / MM_PER_INCH * 64
    return abs(parts - round(parts)) < 1e-4


def of_inches(mm: float) -> bool:
    """Whether it is that, and none of whole or half millimetres."""
    return in_64ths(mm) and abs(2 * mm - round(2 * mm)) > 1e-4


def charted(mm: float) -> str:
    """A drill's size in inches as a chart of drills has it: to four places, the last left off at 0."""
    return inch_decimals(mm / MM_PER_INCH, 4).removesuffix("0")


def _inch(size: Limits) -> tuple[str, str, str]:
    """``Limited.dimensioned`` in inches: a size is printed so that nothing of it is lost.

    With limits beside it, it has as many decimals as they have (ASME Y14.5: an inch dimension and its
    tolerance have the same number of decimal places, from memory): three where its ends are whole
    thousandths, "0.656 ±0.004", else four, as no micrometer reads more; what that leaves over is
    rounded inward. Without, what is a 64th is a fraction, which has the general tolerance of three
    decimals: "7/16". Of others and of whole inches, one to three decimals call their general
    tolerance. What these do not say exactly, a number drill say, has three decimals too, and its limits
    are about those (Series.general): "0.170". What is bought has a fraction where it is one, and
    by millimetres both: "2.362 (60 mm)".
    """
    inches = size.nominal_mm / MM_PER_INCH
    if size.is_general:
        if "/" in _fraction(inches):
            return _fraction(inches), "", ""
        general = SERIES[True].general(size.nominal_mm)
        places = general.designation.count("X")
        if _says(inches, places):
            return inch_decimals(inches, places), "", ""
        return _fraction(inches) or inch_decimals(inches, places), "", ""
    if size.designation == STOCK:
        return _fraction(inches) or _bought(size.nominal_mm), "", ""
    ends = (one / THOUSANDTH_MM for one in (size.max_mm, size.min_mm))
    # a fit: its hole and its shaft, whatever their limits, read alike
    whole = not size.designation and all(abs(one - round(one)) < 1e-3 for one in ends)
    return _limited(size, FINEST_DECIMALS + (0 if whole else 1), True)


def _bought(mm: float) -> str:
    """A bar's size that is no 64th of an inch: a metric one by both, "2.362 (60 mm)"."""
    if abs(mm * 10 - round(mm * 10)) < GRAIN:
        return f"{inch_decimals(mm / MM_PER_INCH, FINEST_DECIMALS)} ({trimmed(mm, 1)} mm)"
    return trimmed(mm / MM_PER_INCH, FINEST_DECIMALS + 1)


def _limited(size: Limits, places: int, inch: bool) -> tuple[str, str, str]:
    """A size to so many decimals with its limits to as many, rounded inward."""
    unit, step = MM_PER_INCH if inch else 1.0, 10.0**places
    nominal = inch_decimals(size.nominal_mm / unit, places)
    upper = floor((size.max_mm / unit - float(nominal)) * step + SLACK) / step
    lower = ceil((size.min_mm / unit - float(nominal)) * step - SLACK) / step
    if upper < lower:
        raise ValueError(f"{size}: no limits left at this fineness")
    alike = abs(size.upper_mm + size.lower_mm) < 1e-9 and upper >= 0 >= lower
    if alike:  # as far either way as the rounded size allows
        upper = min(upper, -lower)
        lower = -upper
    if inch:
        high, low = f"{upper:z.{places}f}", f"{lower:z.{places}f}"
    else:
        nominal = trimmed(float(nominal), places)
        high, low = _as_fine(upper, lower, places)
    if abs(upper + lower) < 1e-9:
        return f"{nominal} ±{high}", "", ""
    fit = f" {size.designation}" if size.designation else ""
    return f"{nominal}{fit}", _signed(high), _signed(low)


def _says(inches: float, places: int) -> bool:
    """Whether so many decimals say a size exactly."""
    return abs(round(inches, places) - inches) < SAID_IN


def _fraction(inches: float) -> str:
    """A size as a fraction to 1/64, "" where it is none."""
    sixtyfourths = round(inches * 64)
    exact = abs(sixtyfourths / 64 - inches) < SAID_IN
    return fraction_text(Fraction(sixtyfourths, 64)) if exact and sixtyfourths else ""
