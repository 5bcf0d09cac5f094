"""Limits of size: ISO 286 tolerance classes and ISO 2768-1 general tolerances."""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Iterable
from typing import Protocol, TypeVar

from parts.standard.errors import UnknownSize, unknown
from parts.standard.table import load
from parts.value import Value

GRADES = range(5, 12)

GENERAL_ISO, GENERAL_IN = "ISO 2768", "."
"""How the designation of a general tolerance begins: of ISO 2768, or by decimals of an inch, ".XXX"."""

STOCK = "stock"
"""The designation of a bought section's own size, which is as it comes."""


class Limits(Value, frozen=True):
    """A size with its limit deviations in mm (signed, from the nominal size)."""

    nominal_mm: float
    upper_mm: float
    lower_mm: float
    designation: str

    @property
    def is_general(self) -> bool:
        """Whether its limits are the general ones, said once on a sheet and not beside it."""
        return self.designation.startswith((GENERAL_ISO, GENERAL_IN))

    @property
    def is_plain(self) -> bool:
        """Whether no limits are written beside it: general ones, or a bought section's own size."""
        return self.is_general or self.designation == STOCK

    @property
    def max_mm(self) -> float:
        """The upper limit of size."""
        return self.nominal_mm + self.upper_mm

    @property
    def min_mm(self) -> float:
        """The lower limit of size."""
        return self.nominal_mm + self.lower_mm

    @property
    def mean_mm(self) -> float:
        """The size half-way between the limits."""
        return self.nominal_mm + (self.upper_mm + self.lower_mm) / 2


class Pair(Value, frozen=True):
    """What a hole and the shaft in it are made to: classes of ISO 286, and the fit of ANSI B4.1 that
    stands for them where a design is in inches.
    """

    hole: str
    shaft: str
    inch: str


SLIDING = Pair("H7", "g6", "LC5")
"""A shaft that turns or slides in its hole, located by it."""

SNUG = Pair("H7", "h7", "LC2")
"""What stands still on a shaft and comes off by hand; the inch fit's shaft is a grade finer (h6)."""

LOCATED = Pair("H8", "h8", "LC3")
"""Two pieces located in each other to be welded; the inch fit's shaft is a grade finer (h7)."""

PRESSED = Pair("H7", "p6", "LN2")
"""A bush pressed in."""


class ToleranceRow(Value, frozen=True):
    """One standard tolerance of ISO 286-1, in micrometres."""

    over_mm: float
    upto_mm: float
    grade: int
    tolerance_um: float
    source: str
    mark: str


class DeviationRow(Value, frozen=True):
    """One fundamental deviation of ISO 286-1, in micrometres, for a span of grades."""

    over_mm: float
    upto_mm: float
    letter: str
    grade_from: int
    grade_to: int
    deviation_um: float
    source: str
    mark: str


class GeneralRow(Value, frozen=True):
    """One general tolerance of ISO 2768-1, plus or minus, in mm."""

    grade: str
    over_mm: float
    upto_mm: float
    tolerance_mm: float
    source: str
    mark: str


@functools.cache
def limits(nominal_mm: float, tolerance_class: str) -> Limits:
    """The limits of a size with an ISO 286 tolerance class.

    Arguments:
        nominal_mm: the nominal size, 3 to 120 mm.
        tolerance_class: a letter and a grade 5 to 11. Shafts a to h, j (5 to 7), js, k, m, n,
            p, r, s; holes A to H, J (6 to 8), JS, K (5 to 8), M, N, P, R, S.
    Raises UnknownSize when the size or the class is outside the tables.
    Source: ISO 286-1:2010; the table values rule where its formulas round otherwise. js and
    JS are exactly half the tolerance each way.

    >>> limits(20, "g6").upper_mm
    -0.007
    """
    letter, grade = _parse(tolerance_class)
    tolerance = _tolerance_um(nominal_mm, grade)
    if letter.lower() == "js":
        upper, lower = tolerance / 2, -tolerance / 2
    elif letter.islower():
        deviation = _deviation_um(nominal_mm, letter, grade)
        upper, lower = (
            (deviation, deviation - tolerance)
            if letter <= "h"
            else (deviation + tolerance, deviation)
        )
    elif letter <= "H":
        lower = -_deviation_um(nominal_mm, letter.lower(), grade)
        upper = lower + tolerance
    else:
        upper = _upper_of_tight_hole_um(nominal_mm, letter, grade)
        lower = upper - tolerance
    return Limits(nominal_mm, _mm(upper), _mm(lower), f"{letter}{grade}")


def general_tolerance_mm(nominal_mm: float, grade: str = "m") -> float:
    """The general tolerance of a linear size, plus or minus, in mm.

    Arguments:
        nominal_mm: the nominal size, 0.5 to 2000 mm.
        grade: "f" (fine) or "m" (medium).
    Raises UnknownSize outside the table. Source: ISO 2768-1:1989 table 1.
    """
    rows = [row for row in load("iso2768.csv", GeneralRow) if row.grade == grade]
    if not rows:
        raise UnknownSize("ISO 2768 grade", grade, "m", "use f (fine) or m (medium)")
    return _in_range(rows, nominal_mm, f"ISO 2768-{grade} size").tolerance_mm


def general(nominal_mm: float) -> Limits:
    """An untoleranced size: ISO 2768-1 medium applies, or 0.1 mm below that table."""
    tolerance_mm = general_tolerance_mm(nominal_mm) if nominal_mm >= 0.5 else 0.1
    return Limits(nominal_mm, tolerance_mm, -tolerance_mm, f"{GENERAL_ISO}-m")


def _parse(tolerance_class: str) -> tuple[str, int]:
    """Letter and grade, checked against the letters the tables hold."""
    found = re.fullmatch(r"\s*([A-Za-z]{1,2})\s*(\d+)\s*", tolerance_class)
    holes = {row.letter for row in _deviations()} | {"js"}
    known = sorted({*holes, *(letter.upper() for letter in holes)})
    if not found or found[1] not in known or int(found[2]) not in GRADES:
        classes = [f"{letter}{grade}" for letter in known for grade in GRADES]
        remedy = f"use a letter of {', '.join(known)} and a grade of {GRADES[0]} to {GRADES[-1]}"
        raise unknown("ISO 286 class", tolerance_class, classes, remedy)
    return found[1], int(found[2])


def _upper_of_tight_hole_um(nominal_mm: float, letter: str, grade: int) -> float:
    """ES of the holes J to S: the shaft's ei mirrored, plus delta in the finer grades.

    ISO 286-1:2010 clause 4.3.2.5: delta = IT(n) - IT(n-1) for K, M and N up to IT8 and
    for P to S up to IT7; N coarser than IT8 has ES = 0, K coarser than IT8 is not made.
    """
    if letter == "J":
        return _deviation_um(nominal_mm, letter, grade)
    if letter == "K" and grade > 8:
        raise UnknownSize("ISO 286 class", f"K{grade}", "K8", "K is made in grades 5 to 8")
    if letter == "N" and grade > 8:
        return 0.0
    # The hole mirrors the shaft of the finer grades: k7 for K8, not k8.
    mirrored = -_deviation_um(nominal_mm, letter.lower(), min(grade, 7))
    if grade > (8 if letter in "KMN" else 7):
        return mirrored
    return mirrored + _tolerance_um(nominal_mm, grade) - _tolerance_um(nominal_mm, grade - 1)


def _tolerance_um(nominal_mm: float, grade: int) -> float:
    rows = [row for row in load("iso286_it.csv", ToleranceRow) if row.grade == grade]
    return _in_range(rows, nominal_mm, "ISO 286 size").tolerance_um


def _deviation_um(nominal_mm: float, letter: str, grade: int) -> float:
    rows = [
        row
        for row in _deviations()
        if row.letter == letter and row.grade_from <= grade <= row.grade_to
    ]
    if not rows:
        made = [row for row in _deviations() if row.letter == letter]
        first, last = min(row.grade_from for row in made), max(row.grade_to for row in made)
        nearest = f"{letter}{min(max(grade, first), last)}"
        remedy = f"{letter} is made in grades {first} to {last}; use {nearest}"
        raise UnknownSize("ISO 286 class", f"{letter}{grade}", nearest, remedy)
    return _in_range(rows, nominal_mm, "ISO 286 size").deviation_um


def _deviations() -> tuple[DeviationRow, ...]:
    key = ("over_mm", "upto_mm", "letter", "grade_from")
    return load("iso286_deviations.csv", DeviationRow, key)


class _Ranged(Protocol):
    """A row that holds for over < size <= upto."""

    @property
    def over_mm(self) -> float: ...
    @property
    def upto_mm(self) -> float: ...


RangedRow = TypeVar("RangedRow", bound=_Ranged)


def _in_range(rows: Iterable[RangedRow], size_mm: float, what: str) -> RangedRow:
    """The row with over < size <= upto; the first range takes its lower end too."""
    ordered = sorted(rows, key=lambda row: row.upto_mm)
    first, last = ordered[0].over_mm, ordered[-1].upto_mm
    if not (math.isfinite(size_mm) and first <= size_mm <= last):
        nearest = first if size_mm < first else last
        remedy = f"the table runs from {first:g} to {last:g} mm; choose a size within"
        raise UnknownSize(what, f"{size_mm:g} mm", f"{nearest:g} mm", remedy)
    return next(row for row in ordered if size_mm <= row.upto_mm)


def _mm(micrometres: float) -> float:
    """Micrometres to mm without the dust of binary fractions."""
    return round(micrometres / 1000, 6)
