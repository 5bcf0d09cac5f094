"""Whether the lathe's change wheels cut a pitch, as far as the job says them.

A pitch's larger primes come from the wheels: no leadscrew of a whole number of threads has them. A
thread of the other system is cut by the chart's nearest, the half-nuts closed throughout. Imported by
making.ways.screwed.
"""

from __future__ import annotations

from parts.standard.threads import ThreadSize, thread
from planner.making.workshop import Workshop
from planner.words.units import MM_PER_INCH

SMALL_PRIMES = (2, 3, 5)
"""What every set of wheels, and every leadscrew, has of itself (common practice)."""

GRID_MM = 0.05
"""Metric pitches are whole so many millimetres (ISO 261)."""

WHEEL_TEETH = (26, 85)
"""A wheel for a lathe has so many teeth (common practice)."""


BORROWED = "borrow a "
"""Begins what is said of a thread whose change wheel the job has not: the tool itself is there."""


def kept_closed(size: ThreadSize, shop: Workshop) -> str:
    """What is said of a thread of the other system than the lathe's leadscrew, which is taken to be of
    the job's; "" of its own. No threading dial finds such a pitch again (common practice)."""
    unified = size.system == "unified"
    if unified == shop.inch:
        return ""
    return (
        "; the half-nuts stay closed till the last cut is done, the tool drawn back and the spindle run"
        f" back after each: no threading dial finds {'an inch' if unified else 'a metric'} pitch again"
    )


def lacking(size: ThreadSize, shop: Workshop) -> int:
    """The prime that none of the job's change wheels has and a thread's pitch wants; 0 for none."""
    said = shop.job.lathe.change_gears
    inch = size.system == "unified"
    if not said or inch != shop.inch:
        return 0
    left = round(MM_PER_INCH / size.pitch_mm) if inch else round(size.pitch_mm / GRID_MM)
    for prime in SMALL_PRIMES:
        while left % prime == 0:
            left //= prime
    for prime in range(7, left + 1, 2):
        while left % prime == 0:
            left //= prime
            if not any(teeth % prime == 0 for teeth in said):
                return prime
    return 0


def lacks(designation: str, shop: Workshop) -> bool:
    """Whether a thread's pitch wants a change wheel that the job has not."""
    return lacking(thread(designation), shop) > 0


def wheel_for(prime: int) -> int:
    """The teeth of the wheel to get for a prime: four times it where that is a wheel, else what is."""
    return next(
        n * prime for n in (4, 3, 2, 1, 5, 6) if WHEEL_TEETH[0] <= n * prime <= WHEEL_TEETH[1]
    )
