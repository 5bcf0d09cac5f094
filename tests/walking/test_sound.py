"""What a shop would do by common practice is walked without a word against it."""

from __future__ import annotations

import pytest
from walk_shops import shop
from walk_sound import SOUND

from planner.walking.walk import walk


@pytest.mark.parametrize("name", SOUND)
def test_a_sound_route_is_walked_to_its_end(name: str) -> None:
    route = SOUND[name]()
    assert [str(one) for one in walk(route.parts, shop(), route.setups, route.operations)] == []


def test_there_are_at_least_ten_of_them_and_each_kind_of_work_is_in_one() -> None:
    assert len(SOUND) >= 10
    steps = [step for make in SOUND.values() for step in make().operations]
    kinds = {step["kind"] for step in steps}
    assert {
        "saw",
        "face",
        "centre",
        "turn",
        "bore",
        "drill",
        "spot",
        "ream",
        "tap",
        "thread",
    } <= kinds
    assert {"knurl", "engrave", "part", "mill", "slit", "weld", "tack", "dress"} <= kinds


def test_nothing_done_is_everything_left_out() -> None:
    route = SOUND["stepped_shaft"]()
    found = walk(route.parts, shop(), [], [])
    assert [one.code for one in found] == ["route-left-out"] * 4
    assert [one.value for one in found][-1] == "shaft"
