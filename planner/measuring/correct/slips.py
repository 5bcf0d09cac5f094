"""Slips of the pen among readings, found by what a ball can plausibly be and named.

The readings of one ball lie near each other and near the ball's size; what does not was entered as a
radius, in another unit, with its decimal point moved or with two digits exchanged, or it is none.
"""

from __future__ import annotations

from collections.abc import Iterator

from parts.value import Value
from planner.measuring.correct.model import Fault, Measured, Rig
from planner.words.numbers import Numbers
from planner.words.units import MM_PER_INCH

SLIP = 0.2
"""Part of its size beyond which a ball or a reading is a slip of unit or digit, whatever is known."""

NEAR = 0.1
"""Within this part of the ball's size, a slip once undone tells what it was."""

CLOSE = 0.02
"""The same for two digits exchanged, which make many numbers of one."""

UNIT = "Look for a slip of digit, or inches among millimetres"


class _Slip(Value, frozen=True):
    """One slip: what undoes it, what it is of all readings together, and of one among others."""

    undone_by: float
    all_of_them: str
    one_of_them: str


_SLIPS = (
    _Slip(
        2.0,
        "half the ball's size: radii entered for diameters",
        "a radius entered among diameters",
    ),
    _Slip(
        0.5,
        "twice the ball's size: diameters taken for radii and doubled, or the job has the ball's "
        "radius for its diameter",
        "a diameter taken for a radius and doubled",
    ),
    _Slip(
        MM_PER_INCH,
        "a 25.4th of the ball's size: inches entered as millimetres",
        "inches entered as millimetres",
    ),
    _Slip(
        1 / MM_PER_INCH,
        "25.4 times the ball's size: millimetres entered as inches",
        "millimetres entered as inches",
    ),
    _Slip(10.0, "a tenth of the ball's size: the decimal point", "the decimal point"),
    _Slip(0.1, "ten times the ball's size: the decimal point", "the decimal point"),
)


def farthest_mm(measured: Measured, rig: Rig) -> float:
    """How far a radius, skew or offset can plausibly be off, mm.

    Rig.most_mm, and never more than half of SLIP of the ball: that is a tenth of its diameter.
    """
    part = SLIP / 2 * measured.wanted_mm
    return part if rig.most_mm is None else min(part, rig.most_mm)


def middle_mm(measured: Measured) -> float:
    """Where the readings, one or more, stand: their median; of two, the one nearer the ball's size."""
    sizes = sorted(r.diameter_mm for r in measured.readings)
    if len(sizes) == 2:
        return min(sizes, key=lambda size: abs(size - measured.wanted_mm))
    return (sizes[len(sizes) // 2] + sizes[(len(sizes) - 1) // 2]) / 2


def slipped_all(measured: Measured, numbers: Numbers) -> list[Fault]:
    """The fault of readings that all stand far from the ball's size, by its name if it has one."""
    middle, wanted = middle_mm(measured), measured.wanted_mm
    off = abs(middle - wanted) / wanted
    if off <= SLIP:
        return []
    value, ball = f"median {numbers.exact(middle, 4)}", numbers.exact(wanted, 4)
    for slip in _SLIPS:
        if abs(middle * slip.undone_by / wanted - 1) <= NEAR:
            limit = f"must be near the ball's {ball}, and is {slip.all_of_them}"
            return [Fault("reading-slip", "readings", value, limit, "Mend them and try again")]
    limit = f"must be within {SLIP:.0%} of the ball's {ball}"
    return [Fault("reading-slip", "readings", value, limit, UNIT)]


def slipped_one(
    size_mm: float, measured: Measured, rig: Rig, numbers: Numbers
) -> tuple[str, str] | None:
    """Limit and remedy of a reading far from the others; None for one that stands with them.

    Readings differ by 2 h (sin a - sin b): never by more than twice the farthest that h can be.
    """
    middle = middle_mm(measured)
    gap = min(SLIP * middle, 2 * farthest_mm(measured, rig))
    if abs(size_mm - middle) <= gap:
        return None
    stand = numbers.exact(middle, 4)
    limit = f"more than {numbers.exact(gap, 4)} from where the readings stand, {stand}"
    undone = [(size_mm * slip.undone_by, slip.one_of_them) for slip in _SLIPS]
    near = [pair for pair in undone if abs(pair[0] - middle) <= gap]
    swapped = [(other, "two digits exchanged") for other in _exchanged(size_mm, numbers.inch)]
    near += [pair for pair in swapped if abs(pair[0] - middle) <= min(gap, CLOSE * middle)]
    if not near:
        return limit, UNIT
    meant, what = min(near, key=lambda pair: abs(pair[0] - middle))
    return limit, f"{numbers.exact(meant, 4)} is likely meant: {what}. Look at it again"


def _exchanged(size_mm: float, inch: bool) -> Iterator[float]:
    """A length, mm, with two digits that stand side by side exchanged, as written in a unit."""
    unit, places = (MM_PER_INCH, 5) if inch else (1.0, 4)
    text = f"{size_mm / unit:.{places}f}"
    digits, point = text.replace(".", ""), text.index(".")
    for i in range(len(digits) - 1):
        swapped = digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :]
        yield unit * float(f"{swapped[:point]}.{swapped[point:]}")
