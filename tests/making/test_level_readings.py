"""A bore whose wall lies nearly level with the seat: no gauge block is so thin.

Sets of 47 and of 32 gauge blocks begin at 1 mm (common practice): a reading whose limits go under that,
if only by hundredths, is taken by an indicator run from one face to the other.
"""

from __future__ import annotations

from typing import Any

import pytest
from making.shops import of

from parts.standard.fits import Limits
from planner.making.gauges import Gauges
from planner.making.workshop import Workshop
from planner.stock.aidpieces import aid_records
from planner.walking.aided import aided
from planner.walking.walk import walk

Data = dict[str, Any]

LOW = {"tool_post.height": None, "tool_post.largest_shank": 12}


def _level(seat: float) -> tuple[Data, list[str]]:
    """The reading from the seat to the bore's wall; what a walk finds where blocks are its gauge."""
    job, whole, route = of("bench-lathe", **({"lathe.spindle_over_seat": seat} | LOW))
    steps = route.operation_records()
    bore = [o for o in steps if o["part"] == "housing" and o["kind"] == "bore"][-1]
    reading: Data = bore["measure"][-1]
    blocks = reading["with"] | {"name": "gauge blocks and a straight edge", "most_mm": 300.0}
    old = bore | {"measure": [*bore["measure"][:-1], reading | {"with": blocks}]}
    setups = route.setup_records()
    assert not walk(whole.parts, job, setups, steps, placed=whole.placed)
    spoiled = [old if one is bore else one for one in steps]
    found = walk(whole.parts, job, setups, spoiled, placed=whole.placed)
    return reading, [one.code for one in found]


@pytest.mark.parametrize(("seat", "low"), [(10.5, 0.475), (11.0, 0.975)])
def test_it_is_read_by_an_indicator_alone(seat: float, low: float) -> None:
    """The bore is 20: its wall lies half a millimetre, or a whole one, over the seat."""
    reading, told = _level(seat)
    assert reading["low_mm"] == pytest.approx(low, abs=0.01) and reading["low_mm"] < 1.0
    assert reading["with"]["name"] == "dial indicator"
    assert reading["with"]["most_mm"] >= reading["high_mm"]
    assert told == ["route-gauge-range"]  # as it was at 11: blocks under 1 mm


def test_over_the_thinnest_block_it_is_read_over_blocks() -> None:
    reading, told = _level(11.5)
    assert reading["with"]["name"] == "dial indicator over gauge blocks"
    assert told == []


def test_a_flat_over_the_plate_is_read_as_it_is_told_without_blocks() -> None:
    """As it was: V-blocks and an indicator were told of, and a straight edge was the gauge."""
    job, whole, route = of("inch-lathe", **{"shop.measuring.gauge_blocks": False})
    setups, steps = route.setup_records(), route.operation_records()
    aids = aid_records(route.aids, job)
    told = [one for o in steps for one in o["measure"] if "indicator" in str(one.get("how") or "")]
    assert told and {one["with"]["name"] for one in told} == {"dial indicator over gauge blocks"}
    assert aided(whole.parts, job, setups, steps, aids) == ()
    for one in told:
        one["with"] |= {"name": "gauge blocks and a straight edge"}
    (said,) = aided(whole.parts, job, setups, steps, aids)
    assert said.code == "route-not-measured"
    assert said.limit == (
        "it is told by an indicator, and is to be read with gauge blocks and a straight edge"
    )


def test_a_height_gauge_reads_it_where_the_shop_has_one() -> None:
    """As it was: an indicator was told of against blocks, and a height gauge was to read it."""
    owned = {"shop.measuring.height_gauge": True, "shop.measuring.gauge_blocks": False}
    job, whole, route = of("bench-lathe", **owned)
    steps = route.operation_records()
    told = [one for o in steps for one in o["measure"] if one["with"]["name"] == "height gauge"]
    assert told and all("height gauge from the round's top" in one["how"] for one in told)
    aids = aid_records(route.aids, job)
    assert aided(whole.parts, job, route.setup_records(), steps, aids) == ()


def test_a_shop_without_an_indicator_is_told() -> None:
    """As it was: gauge blocks and a straight edge for less than a millimetre."""
    job, _, _ = of("bench-lathe", **{"shop.measuring.dial_indicator": False})
    shop = Workshop(job)
    size = Limits(1.0, 0.01, -0.02, "")
    reading = Gauges(shop).length(size, "shank.-y", "bore.bore", "height")
    assert reading.gauge.name == "dial indicator"
    assert [one.what for one in shop.missing] == ["a dial indicator with its stand"]
