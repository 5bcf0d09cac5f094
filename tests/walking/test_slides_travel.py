"""A cut on a milling slide is no longer than the slides travel: up and down its own, across the bed the
cross slide's, the carriage locked (common practice: 60 to 100 mm up and down on a small lathe's).
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from jobs import ROOT, changed
from jobs import planned as job_plan
from making.shops import SHOPS, of
from making.shops import shop as shop_route
from msgspec.structs import replace

from planner.job.reading import job_from
from planner.walking.faults import Faults
from planner.walking.shop import shop_of
from planner.walking.travels import holes_apart
from planner.walking.walk import walk
from planner.words.findings import Finding

FAR = {
    "lathe.post_nearest": "20 mm",
    "lathe.post_farthest": "180 mm",
    "lathe.spindle_over_cross_slide": "75 mm",  # room for work and vice at the end of the travel
}


@cache
def planned(travel: str = "100 mm") -> tuple[Any, Any, Any]:
    return of("bench-lathe", **{"shop.machines": {"milling slide": {"travel": travel}}}, **FAR)


def walked(steps: list[dict[str, Any]], travel: str, **others: Any) -> list[Finding]:
    """The steps planned for a slide of 100, in a shop whose own goes so far."""
    _, whole, route = planned()
    shop = {"shop.machines": {"milling slide": {"travel": travel}}}
    job = job_from(changed("bench-lathe", **shop, **(FAR | others)), "job.toml")
    setups = copy.deepcopy(route.setup_records())
    for one in setups:  # of the clamp slit what hangs is asked by a test of its own
        one["holding"] += "; the shaft upward" if one["number"] == slit(steps)["setup"] else ""
    found = walk(whole.parts, job, setups, steps, placed=whole.placed)
    return [one for one in found if one.key.startswith("step")]


def slit(steps: list[dict[str, Any]], name: str = "clamp slit") -> dict[str, Any]:
    (found,) = [one for one in steps if one["kind"] == "slit" and name in one["makes"]]
    return found


def test_a_slide_that_goes_less_far_does_not_feed_the_slit() -> None:
    """As it was: the slit fed 85 and more by a slide of 75."""
    steps = copy.deepcopy(planned()[2].operation_records())
    assert walked(steps, "100 mm") == []
    one = slit(steps)
    far = one["cut"]["travel_mm"]
    assert one["cut"]["fed_by"] == "milling slide" and far > 75
    assert walked(steps, f"{far} mm") == []
    told = {one.key: one for one in walked(steps, "75 mm")}[f"step {one['number']}"]
    assert told.code == "route-tool-reach"
    assert told.value == f"{far:g} mm to go by the milling slide"
    assert told.limit == "it travels 75 mm"
    assert told.remedy == "Lay the cut's length along the other slide, or cut it elsewhere"


@pytest.mark.parametrize(
    ("name", "cut", "text", "code"),
    [
        ("clamp slit", {"fed_by": "cross slide"}, "the cross slide for the feed", ""),
        ("clamp slit", {"fed_by": "cross slide"}, "", "route-words"),
        ("clamp slit", {"fed_by": None}, "", "route-record"),
        ("clamp slit", {"fed_by": "carriage"}, "", "route-record"),
        # its face along the bed: the cross slide takes the work to the saw, nothing else feeds
        (
            "hinge slit",
            {"fed_by": "cross slide"},
            "the cross slide for the feed",
            "route-tool-reach",
        ),
    ],
)
def test_it_is_said_which_slide_feeds(name: str, cut: dict[str, Any], text: str, code: str) -> None:
    steps = copy.deepcopy(planned()[2].operation_records())
    one = slit(steps, name)
    one["cut"].update(cut)
    if text:
        one["text"] = one["text"].replace("the slide's own travel for the feed", text)
    found = walked(steps, "100 mm")
    assert {one.code for one in found} == ({code} if code else set())


def test_the_cross_slide_goes_as_far_as_the_tool_post_is_said_to() -> None:
    steps = copy.deepcopy(planned()[2].operation_records())
    one = slit(steps)
    one["cut"]["fed_by"] = "cross slide"
    one["text"] = one["text"].replace(
        "the slide's own travel for the feed", "the cross slide for the feed"
    )
    far = one["cut"]["travel_mm"]
    for goes, refused in ((far, False), (far - 1.0, True)):
        there = {"lathe.post_farthest": f"{20.0 + goes} mm"}
        told = [o for o in walked(steps, "100 mm", **there) if o.key == f"step {one['number']}"]
        assert [o.code for o in told] == ["route-tool-reach"] * refused
    assert told[0].value == f"{far:g} mm to go by the cross slide"


def test_a_face_is_no_wider_than_the_slide_and_its_cutter() -> None:
    """What is milled with the work on the slide: the shorter way by the slide, less the cutter."""
    steps = planned()[2].operation_records()
    setups = {one["number"]: one["machine"] for one in planned()[2].setup_records()}
    milled = {
        f"step {one['number']}"
        for one in steps
        if one["kind"] == "mill" and setups[one["setup"]] == "milling slide"
    }
    assert milled and not milled & {one.key for one in walked(steps, "90 mm")}
    told = {one.key: one for one in walked(steps, "10 mm") if one.key in milled}
    assert told and all(one.code == "route-tool-reach" for one in told.values())
    job, whole, route = planned("10 mm")  # and the planner goes another way
    records = route.setup_records(), route.operation_records()
    found = walk(whole.parts, job, *records, placed=whole.placed)
    assert [one for one in found if "milling slide" in one.value] == []


def test_holes_of_one_set_up_stand_no_farther_apart_than_the_slides_go() -> None:
    """A hole moved 150 along from its fellow, the slide goes 100, the cross slide 140: it is not
    reached without another set-up."""
    job, _, _ = planned()
    setup = {"number": 1, "machine": "milling slide"}
    hole = {"setup": 1, "kind": "drill", "cut": {"axis": {"along": "-z", "through": [0, 0, 0]}}}
    shop = replace(shop_of(job), slide_mm=100.0, cross_mm=140.0)

    def told(x: float, y: float, machine: str = "milling slide", cross: float = 140.0) -> list[str]:
        other = {**hole, "cut": {"axis": {"along": "-z", "through": [x, y, 90.0]}}}
        faults = Faults("job.toml", job.numbers)
        asked = {**setup, "machine": machine}
        holes_apart(asked, [hole, other], replace(shop, cross_mm=cross), faults)
        assert {one.key for one in faults.found} <= {"set-up 1"}
        return [f"{one.value}: {one.limit}" for one in faults.found]

    assert told(140.0, 100.0) == told(100.0, 140.0) == told(99.0, 0.0) == []
    assert told(150.0, 0.0) == told(0.0, 150.0)
    assert told(150.0, 0.0) == ["holes 150 mm apart on the milling slide: it travels 140 mm"]
    assert told(101.0, 101.0) == ["holes 101 mm apart on the milling slide: it travels 100 mm"]
    assert told(150.0, 0.0, "mill") == []
    assert told(150.0, 0.0, cross=0.0) == []  # one whose travel is not said is not looked at


def test_a_slit_on_the_cross_slide_is_no_longer_than_that_travels() -> None:
    """As it was: the work on packing on the cross slide was fed past the saw however far."""
    _, whole, route = shop_route("no mill")
    setups, steps = route.setup_records(), route.operation_records()
    one = slit(steps, "hinge slit")
    (on,) = [o for o in setups if o["number"] == one["setup"]]
    assert on["hold"]["by"] == "cross slide"
    far, told = one["cut"]["travel_mm"], []
    for goes in (far, far - 1.0):
        there = {"lathe.post_nearest": "20 mm", "lathe.post_farthest": f"{20.0 + goes} mm"}
        example, changes = SHOPS["no mill"]
        job = job_from(changed(example, **(changes | there)), "job.toml")
        found = walk(whole.parts, job, setups, steps, placed=whole.placed)
        told.append([o.value for o in found if o.key == f"step {one['number']}"])
    assert told == [[], [f"{far:g} mm to go by the cross slide"]]


def test_a_cutter_passes_both_ends_of_what_is_held_once_or_it_is_held_twice() -> None:
    """As it was: a shank of 195 mm, milled at both ends in one set-up, the cross slide goes 150:
    each end wants half of the way and the cutter's own width beyond it."""
    slide = {"shop.machines": {"milling slide": {}, "drill press": {}, "bandsaw": {}, "welder": {}}}
    there = {"lathe.post_nearest": "110 mm", "lathe.post_farthest": "260 mm"}
    job, whole, route = of("engine-lathe", **slide, **there)
    setups, steps = route.setup_records(), route.operation_records()
    first, second = [
        one for one in setups if one["piece"] == "shank" and one["machine"] == "milling slide"
    ]
    assert "first end out" in first["holding"] and "other end out" in second["holding"]
    assert list(walk(whole.parts, job, setups, steps, placed=whole.placed)) == []
    for one in steps:
        if one["setup"] == second["number"]:
            one["setup"] = first["number"]
    kept = [one for one in setups if one is not second]
    (told,) = walk(whole.parts, job, kept, steps, placed=whole.placed)
    assert (told.code, told.key) == ("route-tool-reach", f"set-up {first['number']}")
    assert told.value == "211 mm to go from end to end, the cutter past both"  # 195 and 16
    assert (told.limit, told.remedy) == (
        "the slides travel 150 mm",
        "Mill the ends in two set-ups, each out of the jaws in turn",
    )


def test_what_hangs_under_a_slit_that_the_cross_slide_feeds_is_turned_up() -> None:
    """As it was: the depth up and down, and nobody said that the shaft, 200 and more, stands up: 105 mm
    over the cross slide, a saw of 63 in the spindle, 73.5 are left under it."""
    slide = {"shop.machines": {"milling slide": {}, "drill press": {}, "bandsaw": {}, "welder": {}}}
    job, whole, route = of("engine-lathe", **slide)
    setups, steps = route.setup_records(), route.operation_records()
    one = slit(steps)
    assert one["cut"]["fed_by"] == "cross slide"
    (on,) = [o for o in setups if o["number"] == one["setup"]]
    up = "; the shaft upward, the side to be slit down on to the saw"
    assert on["holding"].endswith(up)
    on["holding"] = on["holding"].removesuffix(up)
    side, told = walk(whole.parts, job, setups, steps, placed=whole.placed)
    assert side.limit == "which side is up is not said"  # those words said that too
    assert (told.code, told.key) == ("route-tool-reach", f"step {one['number']}")
    assert told.limit == "the cross slide is 73.5 mm below it"
    assert float(told.value.split()[0]) > 200 and told.value.endswith(
        "of the work hangs below the saw"
    )
    assert told.remedy == "Say that it is sawn from below, what hangs turned upward"
    # fed by the milling slide's own travel it lies across the bed, and nothing hangs
    other = planned()[2]
    where = slit(other.operation_records())["setup"]
    assert ["upward" in o["holding"] for o in other.setup_records() if o["number"] == where] == [
        False
    ]


@pytest.mark.parametrize("key", ["normal", "at_mm"])
def test_what_a_milled_end_lacks_is_said_at_its_step(key: str) -> None:
    """A face milled on the slide whose record lacks a key: a finding of its step, and no stop."""
    setups = {one["number"]: one["machine"] for one in planned()[2].setup_records()}
    steps = copy.deepcopy(planned()[2].operation_records())
    one = next(
        o
        for o in steps
        if o["kind"] == "mill"
        and o["cut"]["shape"] == "flat"
        and setups[o["setup"]] == "milling slide"
    )
    del one["cut"][key]
    told = {o.key: o.code for o in walked(steps, "100 mm")}
    assert told[f"step {one['number']}"] == "route-record"


def test_a_small_slides_vice_has_low_jaws() -> None:
    """The smallest vices, that open some 50, have jaws 20 to 25 high (common practice). As it was: 34
    of a block gripped on the slide of a lathe of 42 over its cross slide, as in a vice of 100."""
    plan = job_plan(ROOT / "tests" / "data" / "jobs" / "small-slide.toml")
    parts = plan.attachment.parts
    setups, steps = list(plan.route.setup_records()), plan.route.operation_records()
    assert walk(parts, plan.job, setups, steps, placed=plan.attachment.placed) == ()
    own = [
        one for one in setups
        if one["machine"] == "milling slide" and one["hold"]["by"] == "machine vice"
    ]  # fmt: skip
    high = {one["number"]: _high(one) for one in own}
    assert 20.0 < max(high.values()) < 25.0
    block = next(one for one in own if one["piece"] == "block" and high[one["number"]] > 20.0
                 and "24 mm between the jaws" in one["holding"])  # fmt: skip
    old = copy.deepcopy(block)
    (grip,) = old["hold"]["grips"]
    grip["to_mm"] = grip["from_mm"] + 34.0
    if old["hold"]["up"][0] == "-":
        grip["from_mm"], grip["to_mm"] = (
            block["hold"]["grips"][0]["to_mm"] - 34.0,
            (block["hold"]["grips"][0]["to_mm"]),
        )
    spoiled = [old if one is block else one for one in setups]
    found = walk(parts, plan.job, spoiled, steps, placed=plan.attachment.placed)
    assert ("route-jaws-room", "34 mm of the height gripped") in [(o.code, o.value) for o in found]


def _high(setup: dict[str, Any]) -> float:
    (grip,) = setup["hold"]["grips"]
    return float(grip["to_mm"] - grip["from_mm"])
