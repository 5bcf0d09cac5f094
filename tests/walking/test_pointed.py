"""A twist drill's point goes deeper than its lips, by which a hole's depth is counted.

118 degrees (any handbook): the point of a drill is half of its size over the tangent of 59 degrees
long, 0.3 of it. In the block's spigot bore, 8 deep with 2 mm between it and the rod bore, a drill of 18
drilled 8 deep comes 3.4 mm out in the rod bore, a hole of 11. So routes had it.
"""

from __future__ import annotations

from math import radians, tan
from typing import Any

import pytest
from walking.shop_files import planned, sound, walked

from parts.part import every_feature

Data = dict[str, Any]
SHOPS = ("watch-bench", "job-shop-inch")


def _of_bore(steps: list[Data]) -> list[Data]:
    return [one for one in steps if one["feature"] == "spigot bore"]


def _past_lips_mm(drill: Data) -> float:
    return float(drill["tool"]["diameter_mm"]) / 2 / tan(radians(59))


def _told(shop: str, steps: list[Data]) -> list[tuple[str, str]]:
    parts = {one["part"] for one in _of_bore(steps)}
    found = walked(shop, planned(shop).route.setup_records(), steps, *parts)
    return [(one.code, one.key) for one in found]


@pytest.mark.parametrize("shop", SHOPS)
def test_no_point_goes_through_the_bottom_of_the_spigot_bore(shop: str) -> None:
    """Every drill's point ends at the drawn bottom, and a flat one takes the cone that is left."""
    plan = planned(shop)
    (bore,) = (
        one
        for part in plan.attachment.parts
        for _, one in every_feature(part)
        if one.name == "spigot bore"
    )
    steps = _of_bore(plan.route.operation_records())
    drills = [one for one in steps if one["kind"] == "drill"]
    assert drills
    for one in drills:
        cut = one["cut"]
        tip = abs(cut["to_mm"] - cut["from_mm"]) + _past_lips_mm(one)
        assert tip == pytest.approx(bore.depth_mm, abs=0.02)
        assert one["text"].endswith(" deep at its point")
    flat = [one for one in steps if one["tool"]["name"].startswith("flat drill")]
    (last,) = flat
    assert last["number"] == drills[-1]["number"] + 1
    assert last["tool"]["diameter_mm"] == drills[-1]["tool"]["diameter_mm"]


@pytest.mark.parametrize("shop", SHOPS)
def test_a_point_in_metal_that_stays_is_refused(shop: str) -> None:
    """As it was: the lips as deep as the bore."""
    steps = planned(shop).route.operation_records()
    drill = next(one for one in _of_bore(steps) if one["kind"] == "drill")
    cut = drill["cut"]
    way = 1 if cut["to_mm"] > cut["from_mm"] else -1
    deep = drill | {"cut": cut | {"to_mm": cut["to_mm"] + way * _past_lips_mm(drill)}}
    assert sound(shop) == []
    spoiled = [deep if one is drill else one for one in steps]
    assert ("route-spoils", f"step {drill['number']}") in _told(shop, spoiled)


def test_a_boring_bar_is_not_sent_into_the_cone_that_a_drill_left() -> None:
    """Without the flat drill the bar would have to face the bottom to its middle."""
    steps = planned("school-row").route.operation_records()
    (flat,) = (one for one in _of_bore(steps) if one["kind"] == "counterbore")
    bored = next(one for one in _of_bore(steps) if one["kind"] == "bore")
    told = _told("school-row", [one for one in steps if one is not flat])
    assert ("route-more-there", f"step {bored['number']}") in told
