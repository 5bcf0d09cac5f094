"""The door out for numbers: how a job's language of numbers writes each kind of quantity.

No sheet, picture, call-out, step or finding formats a unit by itself: it asks ``job.numbers`` by what
the quantity is for, so that another language of numbers is filled in here alone. Lengths are asked for
by what reads them (a rule, a caliper, a micrometer) or by what they are (a size, a clearance, an
error). Any room may import it; quantities come in as the planner has them: mm, N, Nm, MPa, kg, deg, s.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING, Any

from parts.standard.fits import GENERAL_ISO
from parts.standard.inch_limits import general_rows
from parts.standard.sections import Section
from parts.standard.series import INCH as INCH_SERIES
from parts.standard.series import METRIC as METRIC_SERIES
from parts.standard.series import THOUSANDTH_MM
from planner.words.quantities import Quantities
from planner.words.units import MM_PER_INCH, show_length, trimmed, unit_name

if TYPE_CHECKING:
    from parts.standard.drills import Drill
    from parts.standard.fits import Limits

SLACK = 0.05
"""Limits are rounded inward but for so much of their last place, which no gauge reads."""

DUST_PLACES = 8
"""Of an inch: what comes of binary fractions lies beyond."""

MICROMETER_MM = 25.0
"""What one micrometer reads over, metric; an inch one reads over 1 in (common practice)."""


@dataclass(frozen=True)
class Numbers(Quantities):
    """A job's language of numbers.

    inch: inches, pounds and feet, else metric. named: write the
    unit behind the number; ``plain`` is the same language without, for a column or a call-out whose
    head names the unit once (``unit``, ``force_unit`` and the like).
    """

    inch: bool
    named: bool = True

    @property
    def plain(self) -> Numbers:
        """The same language of numbers with the unit left off."""
        return Numbers(self.inch, named=False)

    # ---- the units, for heads of columns ----

    @property
    def unit(self) -> str:
        """The unit lengths are shown in."""
        return unit_name(self.inch)

    # ---- lengths, by what reads them or what they are ----

    def length(self, mm: float, places: int | None = None) -> str:
        """A length to so many decimals; by default as ``size``. The others say what a length is for."""
        return self._said(show_length(mm, self.inch, places), self.unit)

    def bare(self, mm: float, places: int | None = None) -> str:
        """``length`` without its unit."""
        return self.plain.length(mm, places)

    def _to(self, mm: float, metric: int, inch: int) -> str:
        """A length to so many decimals of either unit."""
        return self.length(mm, inch if self.inch else metric)

    def size(self, mm: float) -> str:
        """A nominal size, as drawings name it: to 0.01 mm; a fraction to 1/64, or 0.001 in."""
        return self.length(mm)

    def rule(self, mm: float) -> str:
        """A length laid off, sawn, faced or set by a rule or a stop: bars, blanks, positions."""
        return self.length(mm)

    def caliper(self, mm: float) -> str:
        """A length as a caliper reads it, in decimals: to 0.01 mm or 0.001 in."""
        return self._to(mm, 2, 3)

    def micrometer(self, mm: float) -> str:
        """A length as a micrometer or an indicator reads it: to 0.001 mm or 0.0001 in."""
        return self._to(mm, 3, 4)

    def fine(self, mm: float) -> str:
        """A small length in a finding, as a micrometer reads it."""
        return self.micrometer(mm)

    def error(self, mm: float) -> str:
        """A deflection or an error worked out, one place past any gauge: to 0.0001 mm or 0.00001 in."""
        return self._to(mm, 4, 5)

    def clearance(self, mm: float) -> str:
        """A distance kept clear, or how far a thing reaches: to 0.1 mm or 0.01 in."""
        return self._to(mm, 1, 2)

    def rough(self, mm: float) -> str:
        """A length in a finding, rounded to 0.1 mm first, then to 0.1 mm or 0.01 in."""
        return self.clearance(round(mm, 1))

    def at_least(self, mm: float) -> str:
        """A least length, rounded up to 0.1 mm or 0.01 in so that it still does."""
        unit, parts = (MM_PER_INCH, 100) if self.inch else (1.0, 10)
        return self._said(f"{ceil(mm / unit * parts - 1e-6) / parts:zg}", self.unit)

    def at_most(self, mm: float) -> str:
        """A greatest length, rounded down to 0.1 mm or 0.01 in so that it still does."""
        unit, parts = (MM_PER_INCH, 100) if self.inch else (1.0, 10)
        return self._said(f"{floor(mm / unit * parts + 1e-6) / parts:zg}", self.unit)

    def faced(self, mm: float) -> str:
        """What is faced off a shoulder: as ``size``."""
        return self.length(mm)

    def run(self, mm: float) -> str:
        """How long a weld is: to a whole millimetre, or 1/16 in."""
        step = MM_PER_INCH / 16 if self.inch else 1.0
        return self.length(round(mm / step) * step)

    def engraved(self, mm: float) -> str:
        """How long an engraved line is: to 0.1 mm or 0.001 in."""
        return self._to(mm, 1, 3)

    def division(self, mm: float) -> str:
        """What one division of the feed dial moves: to 0.001 mm or 0.00001 in, no zeros at the end."""
        return self.exact(mm, 5) if self.inch else self._to(mm, 3, 5)

    def slide_division(self, mm: float) -> str:
        """What one division of the lathe's own dial moves: to 0.0001 of either unit."""
        return self.length(mm, 4)

    def exact(self, mm: float, places: int = 6) -> str:
        """A dial's figure as exact as it is: to so many decimals, zeros at the end left off."""
        return self._said(trimmed(mm / MM_PER_INCH if self.inch else mm, places), self.unit)

    def feed(self, mm: float) -> str:
        """A feed per turn: to 0.01 mm or 0.0001 in."""
        return self._to(mm, 2, 4)

    def screw_pitch(self, mm: float) -> str:
        """The pitch of a screw to ask for, in both languages: threads are named either way."""
        return f"{mm:.4g} mm ({MM_PER_INCH / mm:.4g} tpi)"

    def asked_pitch(self, mm: float) -> str:
        """The pitch of a screw as a job file has it: "1.5 mm", or "20 tpi" in an inch shop."""
        return self.threads_per_inch(MM_PER_INCH / mm) if self.inch else f"{mm:.4g} mm"

    def threads_per_inch(self, number: float) -> str:
        """Threads per inch as a job file has them, "20 tpi"."""
        return f"{number:g} tpi"

    def pitch(self, mm: float) -> str:
        """The pitch of a screw or a knurl, as a length."""
        return self.length(mm)

    # ---- the saw ----

    @property
    def saw_step_mm(self) -> float:
        """What the stop of the saw is set in, mm: tenths of a millimetre, or 64ths of an inch."""
        return MM_PER_INCH / 64 if self.inch else 0.1

    def saw_stop_mm(self, mm: float) -> float:
        """A length rounded up to a whole step of the saw's stop, mm."""
        return round(ceil(round(mm / self.saw_step_mm, 4)) * self.saw_step_mm, 6)

    # ---- sizes with limits ----

    def limits(self, size: Limits) -> str:
        """A size as a call-out has it, never with a unit: "12 H7 (+0.018/0)", "40 ±0.1", "40".

        What is left off, and how limits are rounded, is that of ``dimensioned``.
        """
        text, upper, lower = self.dimensioned(size)
        return f"{text} ({upper}/{lower})" if upper or lower else text

    def general(self, mm: float) -> str:
        """A size without limits of its own, as a drawing has it, never with a unit."""
        return self.dimensioned(SERIES[self.inch].general(mm))[0]

    def dimensioned(self, size: Limits) -> tuple[str, str, str]:
        """A size as a dimension on a drawing has it: its text, and the limits over one another.

        Never with a unit. The general tolerance and a bought section's are left off; limits that are
        alike stand in the text as "40 ±0.1". Limits are rounded so that they allow no more than was
        meant; raises ValueError where nothing is left. In inches a size has as many decimals as its
        limits, or those that stand for its general tolerance (".XX"), also where it came with a metric
        one; what is bought has a fraction where it is one.
        """
        if self.inch and size.is_general:
            places = SERIES[True].general(size.nominal_mm).designation.count("X")
            return _decimals(size.nominal_mm / MM_PER_INCH, places), "", ""
        if size.is_plain:
            short = self.plain.size(size.nominal_mm)
            exact = self.plain.exact(size.nominal_mm, 3 if self.inch else 2)
            return short if self.inch and "/" in short else exact, "", ""
        places, unit = (_places(size), MM_PER_INCH) if self.inch else (3, 1.0)
        nominal, step = _decimals(size.nominal_mm / unit, places), 10.0**places
        upper = floor((size.max_mm / unit - float(nominal)) * step + SLACK) / step
        lower = ceil((size.min_mm / unit - float(nominal)) * step - SLACK) / step
        if upper < lower:
            raise ValueError(f"{size}: no limits left at this fineness")
        alike = abs(size.upper_mm + size.lower_mm) < 1e-9 and upper >= 0 >= lower
        if alike:  # as far either way as the rounded size allows
            upper = min(upper, -lower)
            lower = -upper
        high, low, nominal = (
            f"{one:z.{places}f}" if self.inch else trimmed(one, places)
            for one in (upper, lower, float(nominal))
        )
        if abs(upper + lower) < 1e-9:
            return f"{nominal} ±{high}", "", ""
        fit = f" {size.designation}" if size.designation else ""
        return f"{nominal}{fit}", _signed(high), _signed(low)

    def general_rule(self) -> tuple[str, ...]:
        """The general tolerance that sizes without limits have: a standard, or by decimals of an inch.

        >>> INCH.general_rule()
        ('.X ±0.015', '.XX ±0.010', '.XXX ±0.003 to 0.250', '±0.005 over')
        """
        if not self.inch:
            return (f"{GENERAL_ISO}-m",)
        rows = general_rows()
        *coarse, small, large = (f".{'X' * row.decimals} ±{row.tolerance_in:.3f}" for row in rows)
        return (*coarse, f"{small} to {rows[-2].upto_in:.3f}", f"{large.partition(' ')[2]} over")

    def basic(self, size: Limits) -> str:
        """The size alone of ``dimensioned``: where another sheet gives its limits."""
        return self.dimensioned(size)[0].partition(" ")[0]

    def between(self, size: Limits) -> str:
        """A size as the two readings it must lie between, as a micrometer has them, rounded inward.

        Limits closer together than a reading's last place stand as they are nearest.
        """
        places, unit = (4, MM_PER_INCH) if self.inch else (3, 1.0)
        step = 10.0**places
        low = ceil(size.min_mm / unit * step - SLACK) / step
        high = floor(size.max_mm / unit * step + SLACK) / step
        if low > high:
            low, high = size.min_mm / unit, size.max_mm / unit
        return self._said(f"{trimmed(low, places)} to {trimmed(high, places)}", self.unit)

    def micrometer_range(self, nominal_mm: float) -> str:
        """The micrometer that a size is measured with, by what it reads over: "25 to 50 mm"."""
        step = 1 if self.inch else 25
        low = int(nominal_mm // (MM_PER_INCH if self.inch else MICROMETER_MM)) * step
        return self._said(f"{low} to {low + step}", self.unit)

    # ---- things by their names ----

    def stock(self, section: Section) -> str:
        """A stock section by its name."""
        return section.label(self.inch)

    def drill(self, drill: Drill) -> str:
        """A drill as it is marked, in inches with its decimal beside: "letter F, 0.257 in"."""
        if not self.inch:
            return drill.name
        name = drill.name.removesuffix(" in")
        decimal = _decimals(drill.diameter_mm / MM_PER_INCH, 4)
        size = self._said(decimal.removesuffix("0"), self.unit)
        if "." in name and not name.endswith(" mm"):
            return size
        return f"{f'letter {name}' if name.isalpha() else name}, {size}"

    def thread(self, designation: str) -> str:
        """A thread by its designation, the same in every language of numbers."""
        return designation

    def thread_made(self, designation: str, inside: bool) -> str:
        """A thread to be cut: a unified one with its class, 2B inside a hole and 2A outside, which is
        what they are made to where nothing closer is asked for (ASME B1.1)."""
        return f"{designation}-{'2B' if inside else '2A'}" if " UN" in designation else designation

    def value(self, value: Any) -> str:
        """One of the attachment's sizes, whatever it is: a length, a section, a count or a name."""
        if isinstance(value, Section):
            return self.stock(value)
        return self.size(value) if isinstance(value, float) else str(value)

    def trueness(self, mm: float) -> str:
        """A geometrical tolerance in its frame, without unit, rounded down to 0.001 mm, 0.0001 in."""
        unit, places = (MM_PER_INCH, 4) if self.inch else (1.0, 3)
        step = 10.0**places
        return trimmed(floor(mm / unit * step + SLACK) / step, places)


def _signed(text: str) -> str:
    """A deviation with its sign, zero without."""
    return text if text.startswith("-") or not float(text) else f"+{text}"


def _decimals(value: float, places: int) -> str:
    """A size to so many decimals, halves to even: 9/16 is 0.562, 7/16 0.438 (ASTM E29, from memory)."""
    return f"{round(value, DUST_PLACES):.{places}f}"


def _places(size: Limits) -> int:
    """The decimals of an inch that a size and its limits need: three, or four."""
    parts = [mm / THOUSANDTH_MM for mm in (size.nominal_mm, size.upper_mm, size.lower_mm)]
    return 3 if all(abs(one - round(one)) < 1e-3 for one in parts) else 4


SERIES = {False: METRIC_SERIES, True: INCH_SERIES}
"""The series of sizes of either language."""

METRIC, INCH = Numbers(inch=False), Numbers(inch=True)
"""The languages by themselves: for what is in one, or in both, whatever the job says."""
