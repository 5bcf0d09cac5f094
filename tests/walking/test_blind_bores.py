"""The block's spigot bore is blind: 2 mm behind its bottom the rod runs.

A drill of 118 degrees goes 0.300 of its size past its full diameter (half of it over the tangent of
59): 13 mm by 3.9, 22 by 6.6. A bar in a bore comes to the middle with its bit where it is no thicker
than from there to the far wall (both plain geometry).
"""

from __future__ import annotations

from math import radians, tan
from typing import Any

import pytest
from walking.shop_files import planned, sound, walked

Data = dict[str, Any]

SHOPS = ("tool-room", "boat-yard")


def _bore(shop: str) -> tuple[list[Data], list[Data], list[Data]]:
    """A shop's set-ups and steps, and those of them that make the spigot bore."""
    route = planned(shop).route
    steps = route.operation_records()
    own = [one for one in steps if one["feature"] == "spigot bore"]
    return route.setup_records(), steps, own


def point_mm(drill_mm: float) -> float:
    """How far a drill of 118 degrees goes past its full diameter, mm."""
    return drill_mm / 2 / tan(radians(59))


def _bottom(one: Data) -> float:
    return float(one["cut"]["to_mm"])


@pytest.mark.parametrize("shop", SHOPS)
def test_no_point_goes_past_the_bottom(shop: str) -> None:
    _, _, own = _bore(shop)
    bottom = max(_bottom(one) for one in own if one["makes"])
    drilled = [one for one in own if one["kind"] == "drill"]
    assert drilled
    for one in drilled:
        tip = _bottom(one) + point_mm(one["tool"]["diameter_mm"])
        assert bottom - 1.5 < tip <= bottom + 0.02
    kinds = [one["kind"] for one in own]
    assert kinds.index("drill") < kinds.index("counterbore") < kinds.index("bore")


@pytest.mark.parametrize("shop", SHOPS)
def test_a_drill_to_the_full_depth_is_refused(shop: str) -> None:
    """As it was: drilled as deep as the bore, its point stood in the rod's bore to come."""
    setups, steps, own = _bore(shop)
    assert sound(shop) == []
    bottom = max(_bottom(one) for one in own if one["makes"])
    drill = next(one for one in own if one["kind"] == "drill")
    old = drill | {"cut": drill["cut"] | {"to_mm": bottom}}
    spoiled = [old if one is drill else one for one in steps]
    told = walked(shop, setups, spoiled, drill["part"])
    told = [one for one in told if one.code == "route-spoils"]
    assert [one.key for one in told] == [f"step {drill['number']}"]
    assert told[0].value.startswith("the point of a drill of ")


def test_a_stout_bar_does_not_flatten_the_middle() -> None:
    """A bar of 10 in a bore of 19.5: its bit no nearer the middle than 0.25, and from there the cone
    rises. One of 9 comes to it."""
    shop = "farm-shed"
    setups, steps, own = _bore(shop)
    flat = next(one for one in own if one["kind"] == "counterbore")
    rough = next(one for one in own if one["kind"] == "bore")
    radius = rough["cut"]["after_mm"] / 2
    for thick, refused in ((radius + 0.5, True), (radius - 0.5, False)):
        bar = rough["tool"] | {"diameter_mm": thick, "reach_mm": 4 * thick}
        spoiled = [one | {"tool": bar} if one is rough else one for one in steps if one is not flat]
        told = [
            one
            for one in walked(shop, setups, spoiled, rough["part"])
            if one.key == f"step {rough['number']}" and "from the middle" in one.value
        ]
        assert bool(told) == refused
