"""A facing cutter in a boring bar sweeps a circle: it covers the face that it makes and turns clear of
what stands beside the mouth (common practice: the bit is ground to length, the bar turned by hand).
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from making.shops import of

from planner.walking.walk import walk
from planner.words.findings import Finding

SHOPS = ("bench-lathe", "engine-lathe", "inch-lathe")


@cache
def planned(name: str) -> tuple[Any, Any, Any]:
    found: tuple[Any, Any, Any] = of(name)
    return found


def cutters(name: str) -> tuple[list[dict[str, Any]], dict[str, Any], dict[str, Any]]:
    """The steps, that of the front face and that of the far mouth."""
    steps = copy.deepcopy(planned(name)[2].operation_records())
    front, far = (one for one in steps if one["tool"]["kind"] == "facing cutter")
    return steps, front, far


def told(name: str, steps: list[dict[str, Any]], step: dict[str, Any]) -> list[Finding]:
    job, whole, route = planned(name)
    found = walk(whole.parts, job, route.setup_records(), steps, placed=whole.placed)
    return [one for one in found if one.key == f"step {step['number']}"]


@pytest.mark.parametrize("name", SHOPS)
def test_one_as_wide_as_the_tube_strikes_the_shank_at_the_far_mouth(name: str) -> None:
    """As it was: the second cutter was like the first, longer than the tube is thick. Behind the tube
    the shank runs on, nearer to the axis than half of the tube."""
    steps, front, far = cutters(name)
    whole = planned(name)[1].sizes
    beside = whole.shank_inner_z_mm
    assert 2 * beside < whole.tube_stock.width_mm and not told(name, steps, far)
    # as wide as the nut that bears there, which ISO 2768-m lets be 0.2 mm over its size
    assert whole.nut_diameter_mm + 0.2 < far["tool"]["diameter_mm"] < front["tool"]["diameter_mm"]
    far["tool"]["diameter_mm"] = front["tool"]["diameter_mm"]
    (one,) = (found for found in told(name, steps, far) if found.code == "route-tool-reach")
    assert one.limit == "it strikes what stands beside the mouth"
    assert one.remedy == "Grind one for this mouth that turns clear of it"


def test_the_pivots_nut_bears_on_nothing_but_what_was_trued() -> None:
    """As it was: where the shank is relieved for a wide nut, the cutter was kept clear of the shank as
    it is beside the relief, and the light cut left a rim standing, on which the nut came to bear."""
    sizes = {"attachment.sizes": {"nut_diameter": 32}, "tool_post.holding": "behind the nut"}
    job, whole, route = of("bench-lathe", **sizes)
    steps = copy.deepcopy(route.operation_records())
    _, far = (one for one in steps if one["tool"]["kind"] == "facing cutter")
    beside = whole.sizes.shank_inner_z_mm
    assert 2 * beside < 32 <= far["tool"]["diameter_mm"] < whole.sizes.tube_stock.width_mm

    def found(parts: Any) -> list[str]:
        every = walk(parts, job, route.setup_records(), steps, placed=whole.placed)
        return [one.limit for one in every if one.code == "route-tool-reach"]

    assert found(whole.parts) == []
    far["tool"]["diameter_mm"] = 29.5  # 2 x (14.9 - 0.1): as the shank left room
    far["text"] = far["text"].replace("Ø32.5", "Ø29.5")
    assert found(whole.parts) == [
        "the pivot-nut bears 32 mm wide there, on the rim it leaves standing"
    ]
    assert found([one for one in whole.parts if one.name != "pivot-nut"]) == []


def test_how_long_it_is_is_said() -> None:
    steps, _, far = cutters("bench-lathe")
    del far["tool"]["diameter_mm"]
    assert [one.code for one in told("bench-lathe", steps, far)] == ["route-record"]


def test_a_short_one_leaves_the_rim_of_the_face() -> None:
    """The thrust face is the tube's own, 35 mm: one of 30 leaves a step."""
    steps, front, _ = cutters("bench-lathe")
    assert not told("bench-lathe", steps, front)
    front["tool"]["diameter_mm"] = 30.0
    (one,) = told("bench-lathe", steps, front)
    assert (one.value, one.limit) == ("a cutter 30 mm across", "the face is 35 mm wide")
    assert one.remedy == "Grind one longer than the face is wide"


@pytest.mark.parametrize("name", SHOPS)
def test_the_knobs_mouth_is_countersunk_before_it_is_tapped(name: str) -> None:
    """As it was: tapped, and nothing said of the burr that the handle's shoulder came against (common
    practice: a mouth is countersunk to the thread's outside)."""
    steps = copy.deepcopy(planned(name)[2].operation_records())
    (tap,) = (one for one in steps if one["kind"] == "tap" and one["part"] == "knob")
    assert tap["note"].startswith("its mouth countersunk to the thread's outside before the tap")
    assert told(name, steps, tap) == []
    tap["note"] = ""
    assert [(one.code, one.limit) for one in told(name, steps, tap)] == [
        ("route-words", "a shoulder seats on it, and not on a burr")
    ]
