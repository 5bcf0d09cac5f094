"""Where the tip may go, held against sampled points of what swings (tests/sweep_cases.py).

Forty random balls on random attachments here; two hundred, and more, by
tests/benchmarks/sample_sweep.py. A check that found nothing would prove nothing: with the sweep longer
by half a degree, or relief or stick-out shorter by half a millimetre, each ball must be complained of.
"""

from __future__ import annotations

from functools import cache

import pytest
from sweep_cases import Case, complaints, governed, random_cases

SEED, COUNT = 1, 40
WRONG = {"longer_deg": 0.5, "relief_mm": 0.5, "out_mm": 0.5}


@cache
def cases() -> tuple[Case, ...]:
    return tuple(random_cases(SEED, COUNT))


def test_nothing_comes_nearer_than_it_may() -> None:
    found = cases()
    assert len(found) == COUNT
    # balls and half balls, and sweeps that the stem, the bit and the equator end
    assert {case.found.end_limit for case in found} >= {"the stem", "tool bit", "the equator"}
    for case in found:
        assert complaints(case) == {}, case.found.ball


@pytest.mark.parametrize("wrong", list(WRONG))
def test_half_a_degree_or_half_a_millimetre_is_noticed(wrong: str) -> None:
    tried = 0
    for case in cases()[::4]:
        if wrong == "longer_deg" and not case.found.ball.behind:
            continue
        if wrong == "relief_mm" and not governed(case):
            continue
        tried += 1
        assert complaints(case, **{wrong: WRONG[wrong]}), case.found.ball
    assert tried >= 6
