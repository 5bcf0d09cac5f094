"""Limits of size in inches: the fits of ANSI B4.1, and general tolerances by number of decimals.

Imported by parts.standard.series, which decides whether a design has these or the ISO ones.
"""

from __future__ import annotations

from math import ceil, floor

from msgspec.structs import replace

from parts.standard.errors import UnknownSize
from parts.standard.fits import GENERAL_IN, Limits, Pair, limits
from parts.standard.sections import MM_PER_INCH
from parts.standard.table import load
from parts.value import Value

THOU_MM = MM_PER_INCH / 1000
"""A thousandth of an inch, which the table of fits is written in."""

EXACT_IN = 1e-6
"""What differs by less is the same size, and said exactly by its decimals."""


class AnsiRow(Value, frozen=True):
    """One fit of ANSI B4.1 over one range of sizes, deviations in thousandths of an inch.

    hole, shaft: the symbols that the standard has for the limits of either.
    """

    fit: str
    over_in: float
    upto_in: float
    hole: str
    hole_upper_thou: float
    hole_lower_thou: float
    shaft: str
    shaft_upper_thou: float
    shaft_lower_thou: float
    source: str
    mark: str


def ansi_rows() -> tuple[AnsiRow, ...]:
    """The table."""
    return load("ansi_b4_1.csv", AnsiRow, ("fit", "over_in"))


def ansi_row(nominal_mm: float, fit: str) -> AnsiRow | None:
    """The row of a fit that a size, mm, falls in; None where the table has none."""
    inches = nominal_mm / MM_PER_INCH
    for row in ansi_rows():
        if row.fit == fit and row.over_in + EXACT_IN < inches <= row.upto_in + EXACT_IN:
            return row
    return None


def hole(nominal_mm: float, pair: Pair) -> Limits:
    """The limits of a fit's hole, of a size that ISO 286's table has too, 3 to 120 mm.

    Those of ANSI B4.1, "LC5 [H7]": in brackets the ISO class that they are like. Where its table has
    no row, those of ISO 286, and they are named so: "ISO H7". Raises UnknownSize as ``fits.limits``.
    """
    iso, row = limits(nominal_mm, pair.hole), ansi_row(nominal_mm, pair.inch)
    if row is None:
        return replace(iso, designation=f"ISO {iso.designation}")
    upper, lower = row.hole_upper_thou * THOU_MM, row.hole_lower_thou * THOU_MM
    return Limits(nominal_mm, upper, lower, f"{row.fit} [{row.hole}]")


def shaft(nominal_mm: float, pair: Pair) -> Limits:
    """The limits of a fit's shaft, as ``hole``: "LC5 [g6]"."""
    iso, row = limits(nominal_mm, pair.shaft), ansi_row(nominal_mm, pair.inch)
    if row is None:
        return replace(iso, designation=f"ISO {iso.designation}")
    upper, lower = row.shaft_upper_thou * THOU_MM, row.shaft_lower_thou * THOU_MM
    return Limits(nominal_mm, upper, lower, f"{row.fit} [{row.shaft}]")


def _is_64th(inches: float) -> bool:
    return abs(inches * 64 - round(inches * 64)) < 64 * EXACT_IN


class GeneralInchRow(Value, frozen=True):
    """One general tolerance, plus or minus, in, of sizes written with so many decimals of an inch."""

    decimals: int
    over_in: float
    upto_in: float
    tolerance_in: float
    source: str
    mark: str


WHOLE = 1e-3
"""Of a thousandth or a tenth of one: what a float may be off a whole one."""

FINE_IN = 0.001
"""No more than so much either way, a size is written to tenths where thousandths do not say it: half of
one would be half of its band."""


def hard(size: Limits) -> Limits:
    """A size, mm, with its ends on whole thousandths of an inch, or tenths of them.

    On tenths where a deviation is none of whole thousandths, or where the size is none and may
    be off by FINE_IN at most: 13/16 ±0.001 is 0.8125 ±0.0010, not 0.812 ±0.001. Deviations that are
    alike go both ways from the size as it is written, to so many decimals (halves to even:
    ASTM E29, from memory). Of others the end nearer the size is rounded away from it, and the other is
    as far off that as it was. The size itself stays.
    """
    deviations = [one / THOU_MM for one in (size.upper_mm, size.lower_mm)]
    places = 3 if all(abs(one - round(one)) < WHOLE for one in deviations) else 4
    step, inches = 10.0**-places, size.nominal_mm / MM_PER_INCH
    upper, lower = (one / MM_PER_INCH for one in (size.upper_mm, size.lower_mm))
    if abs(upper + lower) < EXACT_IN:
        middle = round(round(inches, 8), places)
        if upper < FINE_IN + EXACT_IN and abs(middle - inches) > EXACT_IN:
            middle = round(round(inches, 8), 4)
        upper, lower = middle + upper - inches, middle + lower - inches
    else:
        wide = upper - lower
        if abs(lower) < abs(upper):
            lower = ceil((inches + lower) / step - WHOLE) * step - inches
            upper = lower + wide
        else:
            upper = floor((inches + upper) / step + WHOLE) * step - inches
            lower = upper - wide
    return replace(size, upper_mm=upper * MM_PER_INCH, lower_mm=lower * MM_PER_INCH)


FINEST_DECIMALS = 3
"""So many decimals at most call a general tolerance; a size that they do not say has theirs."""


def general_rows() -> tuple[GeneralInchRow, ...]:
    """The table."""
    return load("general_inch.csv", GeneralInchRow, ("decimals", "over_in"))


def general(nominal_mm: float) -> Limits:
    """A size without limits of its own, 0 to 2032 mm: those of the decimals that it is written with.

    A size with a fraction of an inch, to a 64th, is written so and has the limits of three decimals.
    Another has the fewest decimals that say it exactly and that the table has at its size, else three,
    and the limits of three about the size as these say it, so that a drill of 0.1695 in is 0.170
    ±0.003. The decimals are its designation, ".XX". Raises UnknownSize where the size is beyond the
    table.
    """
    inches = abs(nominal_mm) / MM_PER_INCH
    parts = inches * 64
    fraction = abs(parts - round(parts)) < 64 * EXACT_IN and round(parts) % 64 != 0
    for row in general_rows():
        exact = not fraction and abs(inches - round(inches, row.decimals)) < EXACT_IN
        if row.decimals < FINEST_DECIMALS and not exact:
            continue
        if row.over_in - EXACT_IN <= inches <= row.upto_in + EXACT_IN:
            most = row.tolerance_in * MM_PER_INCH
            size = Limits(nominal_mm, most, -most, GENERAL_IN + "X" * row.decimals)
            said = abs(inches - round(inches, row.decimals)) < EXACT_IN or _is_64th(inches)
            return size if said else hard(size)
    largest = max(row.upto_in for row in general_rows())
    remedy = f"the table ends at {largest:g} in; choose a size within"
    raise UnknownSize("general tolerance", f"{inches:g} in", f"{largest:g} in", remedy)
