"""What to look at of a correction before it is followed: contradictions, and errors no ball has."""

from __future__ import annotations

from collections.abc import Iterator

from planner.measuring.correct.fit import chi2_limit
from planner.measuring.correct.model import Correction, Fault
from planner.words.numbers import METRIC, Numbers


def odd(found: Correction, numbers: Numbers = METRIC) -> tuple[Fault, ...]:
    """Warnings: measurements at odds with each other or with earlier ones, errors too far to be any."""
    return (*_contradictions(found), *_changed(found), *_far(found, numbers))


def _contradictions(found: Correction) -> Iterator[Fault]:
    """Readings, pips or sizes that scatter more than their stated accuracy allows, one rule for all."""
    remedy = "Measure again, or state the accuracy that was really reached"
    for what, one in (("readings", found.fit), ("pips", found.pips), ("sizes", found.sizes)):
        if one and one.scatter == "contradict":
            value = f"chi-square {one.chi2:.3g}"
            limit = "contradict each other: were the accuracy as stated, at most"
            limit += f" {chi2_limit(one.dof):.3g}"
            yield Fault("readings-contradict", what, value, limit, remedy)


def _changed(found: Correction) -> Iterator[Fault]:
    remedy = "If something was moved since, give these again with --moved; if not, measure again"
    for what in found.apart:
        limit = "differ from those of the balls before by more than both allow; not recorded"
        yield Fault("setting-changed", what, "", limit, remedy)


def _far(found: Correction, numbers: Numbers) -> Iterator[Fault]:
    for one in found.advice:
        if one.far and one.error:
            value = numbers.exact(abs(one.error.mm), 4)
            value += f" over {numbers.rule(one.over_mm)}" if one.over_mm else ""
            most = numbers.exact(found.farthest_mm, 4)
            limit = f"a ball turned to the dial is off by {most} at most"
            remedy = (
                "Look at the readings, and whether they are of this ball; nothing is to be moved"
            )
            yield Fault("farther-than-likely", one.what, value, limit, remedy)
