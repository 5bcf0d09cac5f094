"""Whether the change wheels that a job says cut the thread of a step; how one of the other system is.

Imported by planner.walking.order.
"""

from __future__ import annotations

from fractions import Fraction

from parts import features as f
from parts.standard.sections import MM_PER_INCH
from parts.standard.threads import thread
from planner.walking.doing import Doing
from planner.walking.records import table
from planner.walking.shop import Shop

LEAST_PRIME = 7
"""Smaller ones are in any set of wheels and any leadscrew (common practice)."""


def wheels_there(do: Doing, shop: Shop) -> None:
    """A thread that is screw-cut by the shop's own wheels: every larger prime of its pitch is in one of
    them. A thread of the other system is left to the lathe's chart."""
    _kept_closed(do, shop)
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    if not shop.wheels or not isinstance(feature, f.Thread):
        return
    if table(do.operation, "tool").get("owned") is not True:
        return
    size = thread(feature.thread)
    if (size.system == "unified") != shop.inch:
        return
    turns = MM_PER_INCH / size.pitch_mm if shop.inch else size.pitch_mm
    whole = Fraction(turns).limit_denominator(100)
    for prime in _primes(whole.numerator) | _primes(whole.denominator):
        if prime >= LEAST_PRIME and all(teeth % prime for teeth in shop.wheels):
            do.faults.refuse(
                "route-wheels",
                f"{size.designation} by the shop's change wheels",
                f"none of them is divided by {prime}",
                "Thread it by a die, or get a wheel for it",
            )


def _kept_closed(do: Doing, shop: Shop) -> None:
    """A thread that is screw-cut and of the other system than the leadscrew says that the half-nuts
    stay closed: opened, they fall in beside it, and the next cut ruins it (common practice)."""
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    cut = "threading tool" in str(table(do.operation, "tool").get("kind"))
    if not cut or not isinstance(feature, (f.Thread, f.TappedHole)):
        return
    size = thread(feature.thread)
    if (size.system == "unified") != shop.inch and "half-nuts" not in str(do.operation.get("text")):
        do.faults.refuse(
            "route-words",
            f"{size.designation} screw-cut",
            "the leadscrew is of the other system",
            "Say that the half-nuts stay closed till the last cut is done",
        )


def _primes(number: int) -> set[int]:
    """The primes that divide a number."""
    found, least = set(), 2
    while number > 1:
        while number % least == 0:
            found.add(least)
            number //= least
        least += 1
    return found
