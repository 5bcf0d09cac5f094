"""The door in for forces, torques and powers: text and numbers come in; newtons, Nm and kW go on.

As words.units, whose registry converts what is not among the units that shops write. Imported by the
fields of a job.
"""

from __future__ import annotations

import re
from functools import cache
from math import inf, isfinite
from typing import Any

from parts.value import Value
from planner.words.quantities import KW_PER_HORSEPOWER
from planner.words.quantities import NEWTONS_PER_POUND as LBF
from planner.words.quantities import NM_PER_POUND_INCH as LBF_IN
from planner.words.short import begun
from planner.words.units import NUMBER, UnitError, number, registry

KGF = 9.80665
"""Newtons in a kilogram of force, by definition (standard gravity, CGPM 1901)."""


class Kind(Value, frozen=True, eq=False):
    """What an amount is of.

    name: as a message says it; metric, inch: the unit of a number without one, by the file's units;
    example: of either; exact: what one of a unit is; base: the unit that goes on, by its name in pint.
    """

    name: str
    metric: str
    inch: str
    example: str
    base: str
    exact: dict[str, float]


FORCE = Kind(
    "a force",
    "N",
    "lbf",
    '"250 N" or "55 lbf"',
    "newton",
    {"N": 1.0, "kN": 1000.0, "lbf": LBF, "lb": LBF, "lbs": LBF, "kgf": KGF, "kp": KGF},
)
TORQUE = Kind(
    "a torque",
    "Nm",
    "lbf*in",
    '"2 Nm" or "18 lbf·in"',
    "newton * metre",
    {
        **dict.fromkeys(("Nm", "N*m", "m*N"), 1.0),
        **dict.fromkeys(("lbf*in", "in*lbf", "lb*in", "in*lb", "in*lbs", "inlb"), LBF_IN),
        **dict.fromkeys(("lbf*ft", "ft*lbf", "lb*ft", "ft*lb", "ft*lbs", "ftlb"), 12 * LBF_IN),
    },
)
POWER = Kind(
    "a power",
    "kW",
    "hp",
    '"1.5 kW" or "2 hp"',
    "kilowatt",
    {"kW": 1.0, "W": 0.001, "hp": KW_PER_HORSEPOWER, "HP": KW_PER_HORSEPOWER},
)

_JOINED = r"\s*[·*./-]\s*|\s+"
_AMOUNT = re.compile(rf"\s*({NUMBER})\s*((?:[A-Za-z]+(?:(?:{_JOINED})[A-Za-z]+)*)?)\s*")


def amount(value: Any, unit: str | None, kind: Kind) -> float:
    """A force in N, a torque in Nm or a power in kW, by its kind.

    value: text with a unit ("2 hp", "35 lbf·in", "35 in-lb"), or a number of the kind's own unit: the
    metric one where a file's lengths are in mm, cm or m, the inch one where they are in in or ft. unit:
    what the file declares, None for nothing. Raises UnitError when it is none, or is not finite.
    """
    example = f"Write it with its unit, {kind.example}"
    wrong = UnitError("wrong-value", f"not {kind.name}", example)
    own = ""
    if isinstance(value, str):
        match = _AMOUNT.fullmatch(value)
        if not match:
            raise wrong
        many, own = number(match[1]), match[2]
    elif isinstance(value, bool) or not isinstance(value, int | float):
        raise wrong
    else:
        try:
            many = float(value)
        except OverflowError:
            many = inf
    if not own:
        if unit is None:
            limit = "a number without a unit, and the file declares none"
            raise UnitError("no-unit", limit, example)
        own = kind.inch if unit in ("in", "ft") else kind.metric
    found = many * _of_one(re.sub(_JOINED, _between, own), own, kind)
    if not isfinite(found):
        raise UnitError("wrong-value", "not a finite number", example)
    return found


def _between(found: re.Match[str]) -> str:
    """What joins two units, as pint has it."""
    return "/" if "/" in found[0] else "*"


@cache
def _of_one(unit: str, written: str, kind: Kind) -> float:
    """What one of a unit is; UnitError for what is no unit of that kind."""
    if unit in kind.exact:
        return kind.exact[unit]
    import pint

    try:
        return float(registry().Quantity(1.0, unit).to(kind.base).magnitude)
    except (pint.DimensionalityError, pint.UndefinedUnitError) as error:
        known = isinstance(error, pint.DimensionalityError)
        which = f"of {kind.name[2:]}" if known else "known here"
        limit = f"'{begun(written, 20)}' is not a unit {which}"
        raise UnitError("wrong-unit", limit, f"Write {kind.example}") from None
