"""A route from which any one support is taken is refused: a grip, a centre, a step, a size, a gauge."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

import pytest
from walk_records import Data, Route
from walk_removals import removals
from walk_shops import shop
from walk_sound import SOUND

from planner.walking.walk import walk

EVERY = 61
"""The default set looks at one removal in so many; the slow one at all."""


def _all() -> Iterator[tuple[str, Route, tuple[str, list[Data], list[Data]]]]:
    for name, make in SOUND.items():
        route = make()
        for one in removals(route):
            yield name, route, one


def _unnoticed(step: int) -> tuple[int, list[str]]:
    job, looked, missed = shop(), 0, []
    for name, route, (what, setups, operations) in islice(_all(), 3, None, step):
        looked += 1
        if not walk(route.parts, job, setups, operations):
            missed.append(f"{name}: {what}")
    return looked, missed


def test_removals_are_noticed() -> None:
    looked, missed = _unnoticed(EVERY)
    assert looked > 50
    assert missed == []


@pytest.mark.slow
def test_every_removal_is_noticed() -> None:
    looked, missed = _unnoticed(1)
    assert looked > 3000
    assert missed == []


def test_a_removal_takes_one_thing_away() -> None:
    route = SOUND["die_in_tailstock"]()
    whats = [what for what, _, _ in removals(route)]
    assert len(whats) == len(set(whats))
    for want in (
        "set-up 2",
        "set-up 2: hold.grips.0",
        "step 3",
        "step 3: cut.after_mm",
        "step 3: measure.0",
    ):
        assert want in whats
    assert "step 3: measure.0.with.resolution_mm" in whats
    assert "step 4: tool.name" in whats
