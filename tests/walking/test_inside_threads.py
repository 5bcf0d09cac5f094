"""A nut's thread is cut by a single point where the shop has no tap for it and the hole takes a bar.

M20 has 2.5 mm of pitch and M24 3 (ISO 261), their holes are 17.5 and 21 (ISO 2306, from memory). A hand
stops a tool in no less than a second, one pitch past the thread at least (common practice).
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import of
from walking.part_walk import near

FARM = ROOT / "tests" / "data" / "shops" / "farm-shed.toml"


@cache
def farm() -> Any:
    return planned(FARM)


def steps() -> list[dict[str, Any]]:
    return copy.deepcopy(list(farm().route.operation_records()))


def single(operations: list[dict[str, Any]]) -> dict[str, Any]:
    return next(one for one in operations if one["makes"] == ["nut thread"])


def walked(operations: list[dict[str, Any]]) -> list[tuple[str, str, str]]:
    whole, job = farm().attachment, farm().job
    setups = farm().route.setup_records()
    found = near(whole, job, setups, operations, single(operations)["part"])
    return [(one.code, one.value, one.limit) for one in found]


def test_a_shop_without_the_tap_cuts_its_nut_by_a_single_point() -> None:
    step = single(steps())
    assert step["kind"] == "thread" and step["cut"]["inside"]
    assert (step["cut"]["diameter_mm"], step["cut"]["pitch_mm"]) == (20.0, 2.5)
    assert "M20" not in farm().job.shop.taps
    # 20.5 of hole, 13 of thread: three pitches, and a second at 180 rev/min
    assert 0 < step["speed_rpm"] <= 180.0
    assert not [one for one in farm().route.missing if "M20" in one.what]
    assert not farm().walked


@pytest.mark.parametrize(
    ("taps", "kind"), [(["M3", "M4", "M5", "M6", "M16"], "tap"), (["M3", "M4", "M5"], "thread")]
)
def test_a_tap_that_is_there_is_used(taps: list[str], kind: str) -> None:
    _, _, route = of("bench-lathe", **{"shop.taps": taps})
    step = single(list(route.operation_records()))
    assert step["kind"] == kind and step["cut"]["diameter_mm"] == 16.0


def test_a_small_hole_takes_no_threading_tool() -> None:
    """The cellar's nut is M10: 8.5 of hole."""
    plan = planned(ROOT / "tests" / "data" / "shops" / "cellar.toml")
    assert single(list(plan.route.operation_records()))["kind"] == "tap"


def test_a_hole_that_ends_where_its_thread_does_is_refused() -> None:
    operations = steps()
    end = single(operations)["cut"]["to_mm"]
    for one in operations:
        if one["feature"] == "nut thread" and one["cut"].get("shape") in ("hole", "bore"):
            one["cut"]["to_mm"] = end + 1.0
    found = walked(operations)
    (room,) = [(value, limit) for code, value, limit in found if "bottom of its hole" in value]
    assert room[0].startswith("the thread ends 1") and room[1].startswith(
        "at least 2.38"
    )  # 0.95 of a pitch


def test_no_hand_stops_it_at_four_hundred() -> None:
    operations = steps()
    single(operations)["speed_rpm"] = 400.0
    found = walked(operations)
    assert [code for code, value, _ in found if "before the bottom" in value] == ["route-speed"]


def test_where_no_speed_is_slow_enough_the_chuck_is_turned_by_hand() -> None:
    """As it was: screw-cut at 260 rev/min, the slowest there is, and stopped at the mark by hand."""
    job, whole, route = of(
        "bench-lathe",
        **{"shop.taps": ["M3", "M4", "M5"], "lathe.spindle_speeds": [260, 500, 1000, 2000]},
    )
    setups, operations = route.setup_records(), list(route.operation_records())
    step = single(operations)
    assert (step["kind"], step["speed_rpm"]) == ("thread", 260.0)
    assert "turn the chuck by hand" in step["caution"]
    assert near(whole, job, setups, operations, step["part"]) == []
    stop = (
        "Stop at the mark by hand, or cut outward from the hole's bottom with the spindle reversed"
    )
    for old, code in (({"caution": stop}, "route-words"), ({"speed_rpm": 500.0}, "route-speed")):
        spoiled = [one | old if one is step else one for one in operations]
        (told,) = near(whole, job, setups, spoiled, step["part"])
        assert told.code == code and "before the bottom" in told.value
