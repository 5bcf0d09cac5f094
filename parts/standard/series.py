"""The series that a design's own sizes come from: millimetres, or inches in 64ths and thousandths.

What a part adds to its neighbours (an allowance, a wall, a depth) is written down once, in millimetres.
Here it becomes the size that a drawing in inches has: a fraction as a rule and a fractional drill have
it, or thousandths where it is a limit. In a metric design everything stays as it is written. What
rounds a size that was worked out takes columns too.
"""

from __future__ import annotations

import re
from typing import Any

from parts.standard import inch_limits
from parts.standard.fits import Limits, Pair, general, limits
from parts.standard.sections import MM_PER_INCH, inch_text
from parts.standard.threads import ThreadSize
from parts.value import Value

SIXTYFOURTH_MM = MM_PER_INCH / 64
"""The finest fraction on a rule and between fractional drills (ASME B94.11M; common practice)."""

PUNCHED_MM = 0.5
"""What a punched hole is made to in a metric shop (common practice)."""

COARSE_FROM = 8
"""From so many 64ths, an eighth of an inch, an allowance is a whole 32nd (common practice)."""

THOUSANDTH_MM = MM_PER_INCH / 1000
"""What limits are written in; those under it in tenths of it (common practice)."""

KNURLS_PER_INCH = (14, 21, 33)
"""Teeth per inch of knurling wheels: coarse, medium and fine (common practice)."""

GRAIN = 1e-6
"""What worked out in mm is a whole step within so much of one."""


class Series(Value, frozen=True):
    """Metric, or inch."""

    inch: bool

    @property
    def step_mm(self) -> float:
        """The step of the governing sizes: 1 mm, or 1/16 in."""
        return MM_PER_INCH / 16 if self.inch else 1.0

    @property
    def line_step_mm(self) -> float:
        """What a dial's shorter lines are whole steps of: a 64th in inches, else 0, of any length."""
        return SIXTYFOURTH_MM if self.inch else 0.0

    def nominal(self, mm: float) -> float:
        """An allowance of the design, above 0: inch, the nearest fraction, or a limit if under them.

        To a 64th below 1/8 in and to a 32nd above, unless it is a 64th already.

        >>> INCH.nominal(2.0) / MM_PER_INCH, METRIC.nominal(2.0)
        (0.078125, 2.0)
        """
        if not self.inch:
            return mm
        parts = mm / SIXTYFOURTH_MM
        if abs(parts - round(parts)) < 1e-4 and round(parts):
            return round(parts) * SIXTYFOURTH_MM
        whole = 2 * round(parts / 2) if parts >= COARSE_FROM else round(parts)
        return whole * SIXTYFOURTH_MM if whole else self.limit(mm)

    def punched(self, mm: float) -> float:
        """A hole punched in felt, no smaller than asked for: inch, to a 64th, metric to a half.

        >>> METRIC.punched(11.1125), METRIC.punched(10.0), INCH.punched(8.0) / MM_PER_INCH
        (11.5, 10.0, 0.328125)
        """
        return float(self.up(mm)) if self.inch else self._up(mm, PUNCHED_MM)

    def whole(self, mm: float) -> float:
        """An allowance between sizes that tools are sold in: inch, to the nearest governing step."""
        return round(mm / self.step_mm) * self.step_mm if self.inch else mm

    def whole_up(self, mm: float) -> float:
        """The same to the next governing step up."""
        return self._up(mm, self.step_mm) if self.inch else mm

    def knurl(self, mm: float) -> float:
        """The pitch of a knurl: inch, of the wheel nearest to it among KNURLS_PER_INCH."""
        if not self.inch:
            return mm
        return min((MM_PER_INCH / n for n in KNURLS_PER_INCH), key=lambda own: abs(own - mm))

    def limit(self, mm: float) -> float:
        """A play or a deviation, of either sign: inch, to thousandths, or tenths of them under one.

        >>> round(INCH.limit(-0.1) / MM_PER_INCH, 4)
        -0.004
        """
        if not self.inch:
            return mm
        step = THOUSANDTH_MM if abs(mm) >= THOUSANDTH_MM - GRAIN else THOUSANDTH_MM / 10
        return round(mm / step) * step

    def tolerance(self, mm: float) -> float:
        """How true a thing lies, or what it may be off, of either sign: inch, to thousandths, under one
        to the half of one; as ``limit`` where that would be nothing.

        >>> [round(INCH.tolerance(mm) / MM_PER_INCH, 4) for mm in (-0.1, 0.02, 0.01, 0.005)]
        [-0.004, 0.001, 0.0005, 0.0002]
        """
        parts = abs(mm) / THOUSANDTH_MM
        if not self.inch or parts < 0.25:
            return self.limit(mm)
        step = THOUSANDTH_MM * (1.0 if parts >= 0.75 else 0.5)
        return round(mm / step) * step

    def nearest(self, mm: float, step_mm: float | None = None) -> float:
        """A size worked out: inch, to the nearest 64th; metric, to whole steps, or as it is."""
        step = SIXTYFOURTH_MM if self.inch else step_mm
        return mm if step is None else _rounded(_rounded(mm / step, 0) * step, 9)

    def up(self, mm: float, step_mm: float | None = None) -> float:
        """The same rounded up."""
        step = SIXTYFOURTH_MM if self.inch else step_mm
        return mm if step is None else self._up(mm, step)

    def down(self, mm: float, step_mm: float | None = None) -> float:
        """The same rounded down."""
        step = SIXTYFOURTH_MM if self.inch else step_mm
        return mm if step is None else self._down(mm, step)

    def _up(self, mm: float, step: float) -> float:
        whole: float = _rounded((0.0 - (GRAIN - mm / step) // 1.0) * step, 9)
        return whole

    def _down(self, mm: float, step: float) -> float:
        whole: float = _rounded((mm / step + GRAIN) // 1.0 * step, 9)
        return whole

    def thousandths(self, mm: float) -> float:
        """A size worked out that has limits of its own beside it, rounded down: inch, to thousandths.

        Such a size is written in decimals, as many as its limits have, where a 64th has up to six.

        >>> round(INCH.thousandths(36.115625) / MM_PER_INCH, 6), METRIC.thousandths(36.115625)
        (1.421, 36.115625)
        """
        return self._down(mm, THOUSANDTH_MM) if self.inch else mm

    def thousandths_up(self, mm: float) -> float:
        """The same rounded up."""
        return self._up(mm, THOUSANDTH_MM) if self.inch else mm

    def within(self, nominal_mm: float, upper_mm: float, lower_mm: float) -> Limits:
        """A size with the two deviations written beside it, as ``tolerance`` has them.

        In inches both ends are whole thousandths, or tenths of them where a deviation is or the size
        would lie off the middle: so a drawing says them, and a gauge reads them (inch_limits.hard).

        >>> one = INCH.within(0.65625 * MM_PER_INCH, 0.1, -0.1)
        >>> [round(mm / MM_PER_INCH, 6) for mm in (one.min_mm, one.max_mm)]
        [0.652, 0.66]
        """
        upper, lower = self.tolerance(upper_mm), self.tolerance(lower_mm)
        return self.hard(Limits(nominal_mm, upper, lower, ""))

    def major(self, size: ThreadSize, upper_mm: float, lower_mm: float) -> Limits:
        """What is turned before a thread is cut on it: with these deviations, as ``within``; inch, a
        unified thread's own limits of class 2A, to thousandths inward of them.

        >>> from parts.standard.threads import thread
        >>> one = INCH.major(thread("3/4-10 UNC"), -0.03, -0.15)
        >>> [round(mm / MM_PER_INCH, 4) for mm in (one.max_mm, one.min_mm)]
        [0.748, 0.736]
        """
        if not self.inch or size.system != "unified":
            return self.within(size.major_mm, upper_mm, lower_mm)
        most, least = size.major_2a_mm
        step = THOUSANDTH_MM
        upper = self._down(most, step) - size.major_mm
        lower = self._up(least, step) - size.major_mm
        return Limits(size.major_mm, upper, lower, "")

    def hard(self, size: Limits) -> Limits:
        """The same size with its ends where decimals say them: as ``within``; metric, as it is."""
        return inch_limits.hard(size) if self.inch else size

    def general(self, nominal_mm: float) -> Limits:
        """A size without limits of its own: those of ISO 2768-1 medium, or inch, by its decimals."""
        return inch_limits.general(nominal_mm) if self.inch else general(nominal_mm)

    def hole(self, nominal_mm: float, pair: Pair) -> Limits:
        """A hole and the limits of its fit: of ISO 286, or inch, of ANSI B4.1.

        Raises UnknownSize as ``limits`` does.
        """
        return inch_limits.hole(nominal_mm, pair) if self.inch else limits(nominal_mm, pair.hole)

    def shaft(self, nominal_mm: float, pair: Pair) -> Limits:
        """A shaft, as ``hole``."""
        return inch_limits.shaft(nominal_mm, pair) if self.inch else limits(nominal_mm, pair.shaft)

    def words(self, text: str) -> str:
        """A sentence with its sizes in braces, "{2 mm}", "{7} to {9 mm}", in the series' own words.

        Where the inch words do not follow from the metric ones they stand behind a bar.

        >>> INCH.words("{1.5} to {2 mm} over it; {5 mm|3/16 in} thick")
        '1/16 to 5/64 in over it; 3/16 in thick'
        """
        return _SIZE.sub(self._size, text)

    def _size(self, found: re.Match[str]) -> str:
        metric, _, inch = found[1].partition("|")
        if inch or not self.inch:
            return inch if self.inch else metric
        said = inch_text(self.nominal(float(metric.removesuffix(" mm"))))
        return f"{said} in" if metric.endswith(" mm") else said


def _rounded(value: Any, places: int) -> Any:
    """A number or a column to so many decimals."""
    return value.round(places) if hasattr(value, "round") else round(value, places)


_SIZE = re.compile(r"\{([^{}]*)\}")
"""A size in a sentence."""

METRIC, INCH = Series(inch=False), Series(inch=True)
