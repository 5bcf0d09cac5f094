"""Twist drills: metric, number, letter and fractional sizes."""

from __future__ import annotations

import functools
import math
import re

from parts.standard.errors import UnknownSize
from parts.standard.sections import MM_PER_INCH
from parts.standard.table import load
from parts.value import Value

# Sizes worked out from inches differ from the table's by less than this.
SAME_MM = 1e-5

COARSE_MM = 0.25
"""Drills thicker than the table goes come by quarters of a millimetre (ISO 235, from memory)."""

SAME_DRILL_MM = 1e-3
"""No two drills of a series are so near each other."""


class Drill(Value, frozen=True):
    """A drill as it is marked ("6.8 mm", "#7", "F", "5/16 in") and its diameter in mm."""

    name: str
    diameter_mm: float


class DrillRow(Value, frozen=True):
    """One row of drills.csv; `series` is metric, number, letter or fractional."""

    series: str
    name: str
    diameter_mm: float
    source: str
    mark: str


def drills(inch: bool = False) -> tuple[Drill, ...]:
    """All metric drills, or all number, letter and fractional ones, by diameter."""
    return _drills(inch)


def drill_at_most(diameter_mm: float, inch: bool = False) -> Drill:
    """The largest drill that is no larger than a diameter.

    Arguments:
        diameter_mm: from the smallest drill (1.0 mm; inch 1/32 in) upwards.
        inch: choose among number, letter and fractional drills.
    Raises UnknownSize when every drill is larger.
    """
    fitting = [d for d in _asked_for(inch) if d.diameter_mm <= diameter_mm + SAME_MM]
    if not fitting or not math.isfinite(diameter_mm):
        raise _no_drill(diameter_mm, inch)
    return fitting[-1]


def drill_at_least(diameter_mm: float, inch: bool = False) -> Drill:
    """The smallest drill that is no smaller than a diameter.

    Arguments:
        diameter_mm: up to the largest drill (25 mm; inch 1 in).
        inch: choose among number, letter and fractional drills.
    Raises UnknownSize when every drill is smaller.
    """
    fitting = [d for d in _asked_for(inch) if d.diameter_mm >= diameter_mm - SAME_MM]
    if not fitting or not math.isfinite(diameter_mm):
        raise _no_drill(diameter_mm, inch)
    return fitting[0]


def sold_at_most(diameter_mm: float, inch: bool = False) -> float:
    """The largest drill that is sold and no larger than a diameter, mm.

    Thicker than the table goes drills have taper shanks and come by quarters of a millimetre, or by
    64ths of an inch (ISO 235; ASME B94.11M, to 1-3/4 in; from memory). Raises UnknownSize where every
    drill is larger.

    >>> sold_at_most(25.7), sold_at_most(28.25, inch=True) / 25.4 * 64
    (25.5, 71.0)
    """
    most = drill_at_most(diameter_mm, inch).diameter_mm
    if most < _drills(inch)[-1].diameter_mm:
        return most
    step = MM_PER_INCH / 64 if inch else COARSE_MM
    return math.floor(diameter_mm / step + SAME_MM) * step


def drill_of(diameter_mm: float, inch: bool = False) -> Drill | None:
    """The drill of a diameter, mm, within a micrometre; None where there is none."""
    for one in _asked_for(inch):
        if abs(one.diameter_mm - diameter_mm) < SAME_DRILL_MM:
            return one
    return None


def drill_named(name: str) -> Drill | None:
    """The number or letter drill called "#7", "No.7", "F" or "letter F" in a shop; None for others."""
    said = re.fullmatch(r"(?i)(?:(?:no\.?|number|#) *(\d+)|(?:letter +)?([a-z]))", name.strip())
    mark = said and (f"#{said[1]}" if said[1] else said[2].upper())
    return next((one for one in _drills(True) if one.name == mark), None)


def _no_drill(diameter_mm: float, inch: bool) -> UnknownSize:
    first, last = _drills(inch)[0], _drills(inch)[-1]
    nearest = first.name if diameter_mm < first.diameter_mm else last.name
    remedy = f"the drills run from {first.name} to {last.name}; bore larger holes"
    return UnknownSize("drill", f"{diameter_mm:g} mm", nearest, remedy)


@functools.cache
def _drills(inch: bool) -> tuple[Drill, ...]:
    rows = load("drills.csv", DrillRow, ("name",))
    chosen = (Drill(row.name, row.diameter_mm) for row in rows if (row.series != "metric") == inch)
    return tuple(sorted(chosen, key=lambda drill: drill.diameter_mm))


@functools.cache
def _asked_for(inch: bool) -> tuple[Drill, ...]:
    """The drills that are looked up: of two of one size, letter E and 1/4 in, the fraction, which is
    what every set has and what a drawing says (common practice)."""
    sizes = {round(one.diameter_mm, 4) for one in _drills(inch) if one.name.endswith(" in")}
    return tuple(
        one
        for one in _drills(inch)
        if one.name.endswith(" in") or round(one.diameter_mm, 4) not in sizes
    )
