"""A table's rows for an inch shop: each column in the unit that its key then names.

Imported by words.tables, for CSV, and by output.listing, for its text: JSON is for programs and
stays in mm, N, MPa and kg.
"""

from __future__ import annotations

import re
from math import ceil, floor
from typing import Any

from parts.standard.sections import Section
from planner.words.numbers import INCH
from planner.words.quantities import (
    KG_PER_LB,
    MM_PER_FOOT,
    NEWTONS_PER_POUND,
    PSI_PER_MEGAPASCAL,
)
from planner.words.units import DUST_PLACES, MM_PER_INCH, UnitError, section

UNITS = (
    # how a key ends, how it ends in inches, and what a number is multiplied by
    ("mm_per_N", "in_per_lbf", NEWTONS_PER_POUND / MM_PER_INCH),
    ("_mm3", "_in3", MM_PER_INCH**-3),
    ("_mm2", "_in2", MM_PER_INCH**-2),
    ("_mm", "_in", 1 / MM_PER_INCH),
    ("_N", "_lbf", 1 / NEWTONS_PER_POUND),
    ("_MPa", "_psi", PSI_PER_MEGAPASCAL),
    ("_kg", "_lb", 1 / KG_PER_LB),
    ("_kg_m3", "_lb_in3", (MM_PER_INCH / 1000) ** 3 / KG_PER_LB),
    ("_kg_m", "_lb_ft", MM_PER_FOOT / 1000 / KG_PER_LB),
    ("_m_min", "_ft_min", 1000 / MM_PER_FOOT),
)

DIGITS = 5
"""Figures of what is no length."""

PLACES, SMALL_PLACES, SMALL_IN = 4, 6, 0.001
"""Decimals of a length in inches, as the finest gauge reads; of what is smaller than a thousandth, a
deflection say, so many."""

LIMIT = re.compile(r"(?:.*_)?(?:(least)|most|greatest)_mm")
"""Keys of what is a limit: rounded inward, as on the sheets, to tenths of a thousandth."""

PLAYS = {
    "play_least_mm": ("hole_least_mm", "shaft_most_mm"),
    "play_most_mm": ("hole_most_mm", "shaft_least_mm"),
}
"""What the play of a fit is the difference of, limits rounded inward."""

LIMIT_DUST = 0.01
"""Of the last place: what a limit that came rounded in millimetres is off."""

ROUNDED_MM = 0.00051
"""Names of sections in rows are rounded to 0.001 mm."""

_ROW = re.compile(r"[\d.]+( [\d.]+)*")

_SECTION = re.compile(r"(round|square|flat|tube|sheet) [\d.]+(x[\d.]+)?")


def converted(keys: tuple[str, ...], row: tuple[Any, ...], lengths: tuple[str, ...]) -> list[Any]:
    """A row with its numbers in the units of ``heads``, and sections by their inch names.

    lengths: keys of columns that hold lengths in mm and name no unit. The play of a fit is that of the
    limits as they stand in the row.
    """
    cells = {key: _cell(key, value, lengths) for key, value in zip(keys, row, strict=True)}
    for key, (hole, shaft) in PLAYS.items():
        if {key, hole, shaft} <= cells.keys():
            cells[key] = round(cells[hole] - cells[shaft], PLACES)
    return [cells[key] for key in keys]


def heads(keys: tuple[str, ...], lengths: tuple[str, ...]) -> list[str]:
    """The keys, each with the inch unit in the place of the metric one."""
    return [f"{key}_in" if key in lengths else _unit(key)[0] for key in keys]


def _unit(key: str) -> tuple[str, float]:
    for ends, inch, factor in UNITS:
        if key.endswith(ends):
            return key.removesuffix(ends) + inch, factor
    return key, 1.0


def _whole(mm: float) -> float:
    """A size that came rounded to a micrometre, on its 64th of an inch where it is one."""
    near = round(mm / MM_PER_INCH * 64) / 64 * MM_PER_INCH
    return near if abs(near - mm) < ROUNDED_MM else mm


def _cell(key: str, value: Any, lengths: tuple[str, ...]) -> Any:
    if isinstance(value, str) and _SECTION.fullmatch(value):
        try:
            read = section(value, "mm")
            return INCH.stock(Section(read.shape, *map(_whole, (read.width_mm, read.thickness_mm))))
        except UnitError:
            return value
    unit, factor = _unit(key)
    length = key in lengths or unit.endswith("_in")
    if isinstance(value, str) and factor != 1.0 and _ROW.fullmatch(value):  # a row of lengths
        return " ".join(f"{_inches(float(one)):g}" for one in value.split())
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    if key in lengths:  # a count is none
        return _inches(value) if isinstance(value, float) else value
    if length and factor != 1.0:
        limit = LIMIT.fullmatch(key)
        return _inward(value, up=bool(limit[1])) if limit else _inches(value)
    return value if factor == 1.0 else float(f"{value * factor:.{DIGITS}g}")


def _inward(mm: float, up: bool) -> float:
    """A limit in inches to whole tenths of a thousandth, the least rounded up, the most down."""
    tenths = _whole(mm) / MM_PER_INCH * 10**PLACES
    whole = ceil(tenths - LIMIT_DUST) if up else floor(tenths + LIMIT_DUST)
    return float(whole / 10**PLACES)


def _inches(mm: float) -> float:
    inches = round(_whole(mm) / MM_PER_INCH, DUST_PLACES)
    return round(inches, PLACES if abs(inches) >= SMALL_IN else SMALL_PLACES)
