"""How far work and tools may stand out, how much is gripped, and how fine each way of working gets."""

from __future__ import annotations

from parts.standard.errors import unknown
from parts.standard.fits import ToleranceRow
from parts.standard.table import load
from parts.value import Value

FIFTH_STEP = 5
"""ISO 286-1: from IT6 up every fifth grade is ten times as wide."""


IN_CHUCK_MM = 20.0
"""A chuck holds so much of a drill's shank (common practice)."""

IN_WRENCH_MM = 12.0
"""And a wrench so much of a tap's end: its square and what is clear of it (DIN 352, from memory)."""


class LimitRow(Value, frozen=True):
    """A ratio at which work or a tool is no longer held: of what, measured how."""

    what: str
    measure: str
    limit: float
    note: str
    source: str
    mark: str


class ProcessRow(Value, frozen=True):
    """The finest tolerance grade of ISO 286 that a way of working holds."""

    process: str
    grade: int
    note: str
    source: str
    mark: str


def holding_limit(what: str, measure: str) -> float:
    """A limit of the table; a ratio. Raises UnknownSize where there is no such row.

    >>> holding_limit("tool", "boring bar of steel")
    4.0
    """
    rows = load("holding_limits.csv", LimitRow, ("what", "measure"))
    for row in rows:
        if (row.what, row.measure) == (what, measure):
            return row.limit
    raise unknown(f"limit of a {what}", measure, [row.measure for row in rows])


def drill_out_mm(diameter_mm: float, long: bool = False) -> float:
    """How far a straight-shank drill stands out of its chuck, mm; a lower bound for 2.5 to 13 mm.

    Its length (jobber series DIN 338, long series DIN 340: from memory) less 20 mm in the chuck.

    >>> drill_out_mm(5.0), drill_out_mm(5.0, long=True)
    (61.0, 102.5)
    """
    if long:
        return min(65.0 + 11.5 * diameter_mm, 184.0) - IN_CHUCK_MM
    return min(31.0 + 10.0 * diameter_mm, 151.0) - IN_CHUCK_MM


CENTRE_DRILLS = ((3.15, 50.0), (2.5, 45.0), (2.0, 40.0), (1.6, 35.5), (1.0, 31.5))
"""The pilots of centre drills and how long each is, mm (DIN 333 form A, from memory)."""


def centre_drill_out_mm(pilot_mm: float) -> float:
    """How far a centre drill stands out of its chuck, mm; a lower bound.

    It has a point at both ends: of the size that is no thicker than asked for, less 20 mm in the chuck.

    >>> centre_drill_out_mm(3.0), centre_drill_out_mm(2.5)
    (25.0, 25.0)
    """
    long = next((long for pilot, long in CENTRE_DRILLS if pilot <= pilot_mm), CENTRE_DRILLS[-1][1])
    return long - IN_CHUCK_MM


def tap_out_mm(diameter_mm: float) -> float:
    """How far a hand tap stands out of its wrench, mm; a lower bound for M3 to M12.

    Its length (DIN 352: from memory) less 12 mm of its square.

    >>> tap_out_mm(6.0)
    37.6
    """
    return round(40.0 + 3.2 * (diameter_mm - 3.0), 3) - IN_WRENCH_MM


def finest_band_mm(process: str, size_mm: float) -> float | None:
    """The narrowest band of limits that a way of working holds at a size, mm; None where none is known.

    >>> finest_band_mm("file", 33.0)
    0.062
    """
    for row in load("process_grades.csv", ProcessRow, ("process",)):
        if row.process == process:
            return grade_mm(row.grade, size_mm)
    return None


def grade_mm(grade: int, size_mm: float) -> float:
    """The band of a tolerance grade at a size, mm, IT5 to IT18; a size beyond the table is taken as its
    nearest range's.

    >>> grade_mm(12, 33.0)
    0.25
    """
    if grade > 11:
        return 10 * grade_mm(grade - FIFTH_STEP, size_mm)
    rows = sorted(
        (row for row in load("iso286_it.csv", ToleranceRow) if row.grade == grade),
        key=lambda row: row.upto_mm,
    )
    for row in rows:
        if size_mm <= row.upto_mm:
            return row.tolerance_um / 1000
    return rows[-1].tolerance_um / 1000
