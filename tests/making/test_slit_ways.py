"""A slit on every machine: under a round saw, fed past it, as deep as the metal, by its teeth.

The saw's plane, its run in and out of the work and what a plunge leaves are geometry; a thin saw of
high-speed steel takes 0.005 to 0.015 mm a tooth in steel (common practice).
"""

from __future__ import annotations

from functools import cache
from math import sqrt
from typing import Any

import pytest
from making.shops import of

from planner.making.ways.saws import saws
from planner.walking.walk import walk

MILL: dict[str, Any] = {"mill": {"speeds": [95, 180, 270, 500, 930, 1420]}}
SHOPS: dict[str, tuple[str, dict[str, Any]]] = {
    "mill": ("bench-lathe", {"shop.machines": MILL}),
    "milling slide": ("bench-lathe", {"shop.machines": {"milling slide": {"travel": "90 mm"}},
                                      "lathe.spindle_over_cross_slide": "75 mm"}),
    "low lathe": ("bench-lathe", {"shop.machines": {"milling slide": {"travel": "90 mm"}}}),
    "lower lathe": ("bench-lathe", {"shop.machines": {"milling slide": {"travel": "90 mm"}},
                                    "lathe.spindle_over_cross_slide": "58 mm"}),
    "usual slide": ("bench-lathe", {"shop.machines": {"milling slide": {}}}),
    "short slide": ("bench-lathe", {"shop.machines": {"milling slide": {"travel": "45 mm"}}}),
    "neither, small": ("bench-lathe", {"shop.machines": {}}),
    "neither, larger": ("engine-lathe", {"shop.machines": {}}),
    "inch slide": ("inch-lathe", {"shop.machines": {"milling slide": {"travel": "4 in"}},
                                  "lathe.spindle_over_cross_slide": "3 in"}),
}  # fmt: skip


@cache
def slits(name: str) -> tuple[Any, Any, list[tuple[dict[str, Any], dict[str, Any]]]]:
    example, changes = SHOPS[name]
    job, whole, route = of(example, **changes)
    setups = {one["number"]: one for one in route.setup_records()}
    steps = [one for one in route.operation_records() if one["kind"] == "slit"]
    return job, (whole, route), [(setups[one["setup"]], one) for one in steps]


def test_a_saw_that_only_goes_in_leaves_the_ends() -> None:
    """A saw of 63 in a block of 32: 31.5 - root(31.5^2 - 16^2) = 4.37 of 7, far over a limit of 0.1."""
    assert 31.5 - sqrt(31.5**2 - 16.0**2) == pytest.approx(4.37, abs=0.01)
    saw = saws(False)[0]
    assert saw.diameter_mm == 63.0 and saw.teeth == 40
    # and run past it: 19.8 in and out of the 32 at 7 deep, and 2 clear at each end
    assert saw.travel_mm(32.0, 7.0) == pytest.approx(32.0 + 2 * sqrt(31.5**2 - 24.5**2) + 4.0)


@pytest.mark.parametrize("name", SHOPS)
def test_a_slit_lies_under_its_saw_and_is_fed_past_it(name: str) -> None:
    job, (whole, route), found = slits(name)
    assert len(found) == 2
    sawn = [(setup, step) for setup, step in found if step["tool"]["kind"] == "slitting saw"]
    assert sawn, "the hinge slit, within 0.1, is never cut by hand"
    for setup, step in sawn:
        cut, tool, hold = step["cut"], step["tool"], setup["hold"]
        low, high = cut["box"]
        wide = min(range(3), key=lambda i: high[i] - low[i])
        spindle = hold["axis"]["along"] if hold["axis"] else hold["up"]
        assert "xyz".index(spindle[1]) == wide
        fed, inward = "xyz".index(cut["feed"][1]), "xyz".index(cut["depth"][1])
        assert sorted((wide, fed, inward)) == [0, 1, 2]
        if setup["machine"] == "lathe":  # the cross slide travels level
            assert cut["feed"][1] != hold["up"][1]
        radius = tool["diameter_mm"] / 2
        assert 0.005 <= step["feed_mm_per_rev"] / tool["teeth"] <= 0.015
        # no shorter than the block, which the box passes by 1 at each end, and the run of the saw
        deep = max(step["cuts"] * step["depth_mm"], 5.0)
        ends = 1 if "the saw is let in" in step["text"] else 2
        least = high[fed] - low[fed] - 2.0 + ends * sqrt(radius**2 - (radius - deep) ** 2)
        assert cut["travel_mm"] >= least
        assert radius - tool["collar_mm"] / 2 >= step["cuts"] * step["depth_mm"]
        assert step["minutes"] < 20.0
    records = route.setup_records(), route.operation_records()
    assert [one for one in walk(whole.parts, job, *records) if "slit" in one.value] == []


@pytest.mark.parametrize("name", ["mill", "milling slide", "inch slide"])
def test_a_clamp_slit_is_as_deep_as_the_metal_before_the_bore(name: str) -> None:
    _, (whole, _), found = slits(name)
    for _, step in found:
        if "clamp slit" not in step["makes"] or step["tool"]["kind"] != "slitting saw":
            continue
        part = next(one for one in whole.parts if one.name == "rotating-body")
        bore = next(one for one in part.features if one.name == "rod bore")
        block = next(m for m in part.blank.members if m.name == "block")
        front = block.blank.box.placed(block.frame).high[0]
        wall = front - bore.axis.origin[0] - bore.diameter.nominal_mm / 2
        deep = step["cuts"] * step["depth_mm"]
        assert wall <= deep <= wall + 0.8


def test_under_the_arbor_there_is_room_for_no_larger_saw() -> None:
    """The work on the cross slide, its slit upward: the saw's half and what is under the slit."""
    job, (whole, route), found = slits("neither, small")
    setups, records = route.setup_records(), route.operation_records()
    number, size = found[0][1]["number"], found[0][1]["tool"]["diameter_mm"]
    assert found[0][0]["hold"]["by"] == "cross slide" and size < 63.0
    for saw, code in ((size, False), (63.0, True)):
        (step,) = (one for one in records if one["number"] == number)
        step["tool"]["diameter_mm"] = saw
        codes = {o.code for o in walk(whole.parts, job, setups, records) if str(number) in o.key}
        assert ("route-no-rest" in codes) is code


@pytest.mark.parametrize("name", ["milling slide", "inch slide"])
def test_on_a_milling_slide_it_is_said_what_sets_and_what_feeds(name: str) -> None:
    """Arbor along the bed: two slides are left to move the work in the saw's plane; both are said."""
    _, _, found = slits(name)
    there = [step["text"] for setup, step in found if setup["machine"] == "milling slide"]
    assert len(there) == 2
    for text in there:
        assert "the depth by the cross slide's dial, the slide's own travel for the feed" in text


def fed(name: str) -> dict[str, tuple[str, str, float, bool]]:
    """Each slit: on what, fed by which slide, how far, whether the step says so."""
    _, _, found = slits(name)
    words = {
        "milling slide": "by the cross slide's dial, the slide's own travel for the feed",
        "cross slide": "the depth by the slide's own dial, the cross slide for the feed",
    }
    return {
        step["makes"][0]: (
            setup["machine"],
            by,
            step["cut"]["travel_mm"],
            words[by] in step["text"],
        )
        for setup, step in found
        if (by := step["cut"].get("fed_by", "")) in words
    }


def test_what_the_milling_slide_does_not_travel_the_cross_slide_does() -> None:
    """75 up and down (common practice) are too few for a saw of 63 past a block of 40 or so: the clamp
    slit's length lies along the cross slide; the hinge slit, the slide's face along the bed, has no
    such way: a saw of 32 is fed 63, and with 45 up and down it is sawn on the cross slide itself."""
    long = fed("milling slide")
    assert {one[1] for one in long.values()} == {"milling slide"} and len(long) == 2
    assert all(75.0 < one[2] <= 90.0 and one[3] for one in long.values())
    short = fed("usual slide")
    clamp = ("milling slide", "cross slide", long["clamp slit"][2], True)
    assert short == {
        "clamp slit": clamp,
        "hinge slit": ("milling slide", "milling slide", 63.0, True),
    }
    assert fed("short slide") == {"clamp slit": clamp}
    _, _, found = slits("short slide")
    (other,) = [setup for setup, step in found if "hinge slit" in step["makes"]]
    assert (other["machine"], other["hold"]["by"]) == ("lathe", "cross slide")


def test_work_and_vice_come_no_lower_than_the_cross_slide() -> None:
    """A block of 32 with 12 of jaw under it (common practice: 10 to 15) and the middle of a slit in its
    own: 28 hang under the slit, and the cross slide of the bench lathe is 62 under the spindle. So 33
    are left for half of the travel, 1 clear. A saw of 63 is fed 85, as it was; one of 32, whose
    collar lets it in 8.5 for 7, is fed 63; the clamp slit is fed by the cross slide. Under 58 there is
    no room even so: let in with its middle past the block's upper end, 32 and 12 under it, a saw of 63
    is fed the block and one run, 19.8, 2 over at either end."""
    assert [one.deepest_mm for one in saws(False) if one.diameter_mm == 32.0] == [8.5]
    low = fed("low lathe")
    assert {name: one[1] for name, one in low.items()} == {
        "hinge slit": "milling slide",
        "clamp slit": "cross slide",
    }
    assert low["hinge slit"][2] == 63.0 <= 2 * (62.0 - 28.0 - 1.0)
    _, _, found = slits("low lathe")
    (own,) = [one for one in found if "hinge slit" in one[1]["makes"]]
    assert ", the fixed jaw down;" in own[0]["holding"] and own[1]["tool"]["diameter_mm"] == 32.0
    (own,) = [one for one in slits("lower lathe")[2] if "hinge slit" in one[1]["makes"]]
    assert own[0]["machine"] == "milling slide" and own[1]["tool"]["diameter_mm"] == 63.0
    assert own[1]["cut"]["travel_mm"] == 56.0 and (
        "; at the work's upper end the saw is let in, or drawn out, by the cross slide, its middle just"
        " past that end: the work comes no lower;" in own[1]["text"]
    )


def test_a_vice_that_would_come_down_on_the_cross_slide_is_refused() -> None:
    """As it was: a saw of 63 fed 85; and the other jaw down, with its slide and screw."""
    job, (whole, route), found = slits("low lathe")
    (setup, step) = next(one for one in found if "hinge slit" in one[1]["makes"])
    key = f"step {step['number']}"

    def told(travel: float, words: str = ", the fixed jaw down") -> list[str]:
        steps = [
            one | {"cut": one["cut"] | {"travel_mm": travel}}
            if one["number"] == step["number"]
            else one
            for one in route.operation_records()
        ]
        setups = [
            one | {"holding": one["holding"].replace(", the fixed jaw down", words)}
            if one["number"] == setup["number"]
            else one
            for one in route.setup_records()
        ]
        found = walk(whole.parts, job, setups, steps, placed=whole.placed)
        return [
            one.value for one in found if one.key == key and one.limit.startswith("the cross slide")
        ]

    assert told(63.0) == [] == told(68.0)
    assert told(68.2) == ["work and vice come 62.1 mm under the spindle as they are fed"]
    assert told(85.0) == ["work and vice come 70.5 mm under the spindle as they are fed"]
    assert told(63.0, "") == ["work and vice come 92.5 mm under the spindle as they are fed"]


def test_only_a_saw_let_in_at_the_upper_end_needs_no_second_run() -> None:
    """Under 58: let in there the block of 32 and its jaw of 12 are all below; words gone, it is fed too
    short for a saw on to which it is fed, and half of that and 28 are under the spindle."""
    job, (whole, route), found = slits("lower lathe")
    (step,) = (one for _, one in found if "hinge slit" in one["makes"])
    records = route.operation_records()
    own = next(one for one in records if one["number"] == step["number"])

    def told(over: float = 58.0) -> set[str]:
        lathe = job.lathe.model_copy(update={"spindle_over_cross_slide": over})
        low = job.model_copy(update={"lathe": lathe})
        found = walk(whole.parts, low, route.setup_records(), records, placed=whole.placed)
        return {one.value for one in found if one.key == f"step {own['number']}"}

    assert told() == set() == told(45.0)  # the sawn block is 1 larger each way
    assert told(44.5) == {"work and vice come 45 mm under the spindle as they are fed"}
    own["text"] = own["text"].replace(
        "at the work's upper end the saw is let in", "the saw is let in"
    )
    assert "fed over 56 mm" in told()
