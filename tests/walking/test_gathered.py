"""All that the attachment has is put on in an order in which it goes on, and each fit tried in time.

That a pivot is felt before a head hangs on it, a slide before a screw is in it, and a screw's play with
the clamp slack: common practice.
"""

from __future__ import annotations

import copy
import re
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, ROOT, planned
from making.shops import SHOPS, of, shop, walked_whole
from msgspec.structs import replace

from parts.bought import order
from parts.frame import Frame
from parts.part import every_feature
from parts.placed import Carrier, Placed, Seat
from planner.making.route import whole_route
from planner.walking.faults import Faults
from planner.walking.gathered import Gathered
from planner.walking.walk import WITH_ALL, walk

EVERY = (
    *EXAMPLES,
    *(
        ROOT / "tests" / "data" / "inch-jobs" / f"{name}.toml"
        for name in ("tool-room", "twelve-inch")
    ),
    ROOT / "tests" / "data" / "shops" / "cellar.toml",
)

Steps = list[dict[str, Any]]


@cache
def bench() -> tuple[Any, Any, Any]:
    return of("bench-lathe")


def refused(spoil: Callable[[Steps], None]) -> list[tuple[str, str]]:
    job, whole, route = bench()
    operations = route.operation_records()
    spoil(operations)
    faults = Faults("", job.numbers, "refused")
    gathered = Gathered(whole.placed, faults, WITH_ALL)
    for one in operations:
        gathered.look(one)
    gathered.all_on()
    return [(one.code, f"{one.value} {one.limit}") for one in faults.found]


def step_of(operations: Steps, name: str) -> dict[str, Any]:
    """The step that puts a thing on."""
    return next(one for one in operations if name in names_of(one))


def names_of(step: dict[str, Any]) -> list[str]:
    return [one["name"] for one in step["puts_on"]]


def take_off(step: dict[str, Any], name: str) -> dict[str, Any]:
    """One thing of a name is put on no more; returns it."""
    one: dict[str, Any] = next(o for o in step["puts_on"] if o["name"] == name)
    step["puts_on"].remove(one)
    return one


@pytest.mark.parametrize("name", SHOPS)
def test_all_that_is_made_and_bought_is_put_on(name: str) -> None:
    _, whole, route = shop(name)
    on = Counter(item for one in route.operation_records() for item in names_of(one))
    assert on == Counter(one.name for one in whole.placed)


def test_a_route_is_walked_for_it() -> None:
    job, whole, route = bench()
    operations = copy.deepcopy(list(route.operation_records()))
    assert not walked_whole()
    take_off(step_of(operations, "dial"), "dial")
    found = walk(whole.parts, job, route.setup_records(), operations, placed=whole.placed)
    assert {one.code for one in found} == {"route-left-out", "route-order"}


ITEMS = sorted({one.name for one in bench()[1].placed})


@pytest.mark.parametrize("item", ITEMS)
def test_what_is_left_out_is_missed(item: str) -> None:
    def spoil(operations: Steps) -> None:
        take_off(step_of(operations, item), item)

    found = refused(spoil)
    assert any(code == "route-left-out" and words.startswith(item) for code, words in found)


@pytest.mark.parametrize(
    ("item", "under"),
    [
        ("dial", "holds the index ring"),  # covers the screws' heads
        ("handle", "pivot-nut"),  # the nut would not pass it
        ("clamp-lever", "sliding-head"),  # the hinge is bent where no rod is in the bore
        ("sliding-head", "wipes the feed thread, oiled"),
        ("locks the pivot's nut, on a brass pellet", "pellet under the pivot nut's lock screw"),
        ("stops the swing at the neck", "locks the stop screws"),
        ("behind the dial", "dial"),
    ],
)
def test_what_goes_on_over_or_on_another_comes_after_it(item: str, under: str) -> None:
    def spoil(operations: Steps) -> None:
        """What is under it is put on when all else is."""
        step = step_of(operations, under)
        taken = [take_off(step, under) for _ in range(names_of(step).count(under))]
        last = [one for one in operations if one["puts_on"]][-1]
        if last is step_of(operations, item):
            last = operations[operations.index(last) + 1]
        last["puts_on"] = [*last["puts_on"], *taken]

    found = refused(spoil)
    assert ("route-order", f"{item} is put on {under} is to be on before") in found


@pytest.mark.parametrize("tried", ["end play", "swing", "slide", "end float", "screw play"])
def test_every_fit_is_tried(tried: str) -> None:
    def spoil(operations: Steps) -> None:
        (one,) = (o for o in operations if o["tries"] == tried)
        one["tries"] = None

    assert ("route-left-out", f"{tried} no step tries it") in refused(spoil)


@pytest.mark.parametrize(
    ("tried", "late"),
    [
        ("slide", "feed-screw"),
        ("swing", "sliding-head"),
        ("swing", "stop-bar"),
        ("end float", "holds the dial"),
        ("screw play", "clamp-lever"),
    ],
)
def test_a_fit_is_tried_before_what_hides_it_is_on(tried: str, late: str) -> None:
    def spoil(operations: Steps) -> None:
        (one,) = (o for o in operations if o["tries"] == tried)
        step_of(operations, late)["tries"], one["tries"] = tried, None

    found = refused(spoil)
    assert ("route-order", f"{tried} is tried {late} is on: it is not felt") in found


def test_a_dial_is_held_before_what_is_read_by_it_is_tried() -> None:
    def spoil(operations: Steps) -> None:
        last = next(one for one in operations if "tool-bit" in names_of(one))
        last["puts_on"].append(take_off(step_of(operations, "holds the dial"), "holds the dial"))

    found = refused(spoil)
    assert found == [("route-order", "screw play is tried holds the dial is not on yet")]


def test_a_swing_is_tried_with_its_pivot_upright() -> None:
    """Level, the block hangs to one side of the pivot and pulls the handle round: common practice."""

    def spoil(operations: Steps) -> None:
        (one,) = (o for o in operations if o["tries"] == "swing")
        one["text"] = "the swing by a spring balance at the handle's end: the same all round"

    (found,) = refused(spoil)
    assert found[0] == "route-words"


def test_the_weight_beside_the_pivot_pulls_more_than_a_free_pivot() -> None:
    """Steel is 7.85 g a cm3 (EN 10025's tables of masses): the block's own weight, off the pivot's
    axis, pulls the handle's end with more than a tenth of a newton."""
    _, whole, _ = bench()
    s = whole.sizes
    off = (s.flat_offset_mm + s.leaf_z_mm) / 2
    width, deep = s.block_length_mm, s.flat_offset_mm - s.leaf_z_mm
    newtons = 7.85e-6 * width * deep * s.block_thickness_mm * 9.81
    assert newtons * abs(off) / s.handle_length_mm > 0.1


def test_what_is_turned_with_the_rest_is_put_on_when_it_is_turned() -> None:
    def spoil(operations: Steps) -> None:
        knob = take_off(step_of(operations, "knob"), "knob")
        step_of(operations, "handle")["puts_on"].append(knob)

    assert refused(spoil) == [
        ("route-order", "knob is put on its ball is turned with all the rest first")
    ]


@pytest.mark.parametrize("path", EVERY, ids=lambda path: path.stem)
def test_the_rod_is_in_its_bore_before_the_screw_meets_its_thread_or_that_is_said(
    path: Path,
) -> None:
    """Both hang from the arm and stand on the block: what is longer comes first (arithmetic of the
    parts' lengths). As it was, every rod went into its bore first; in some jobs the screw is longer."""
    plan = planned(path)
    made = {part.name: dict(featured(part)) for part in plan.attachment.parts}
    rod, seat = made["sliding-head"]["rod"], made["sliding-head"]["inner wiper seat"]
    screw = made["feed-screw"]["collar"].end_mm - seat.depth_mm
    (step,) = (o for o in plan.route.operation_records() if "sliding-head" in names_of(o))
    screw_first = "started in its thread" in step["text"]
    assert screw_first == (rod.end_mm - rod.start_mm - screw < 1.0)
    if rod.end_mm - rod.start_mm <= screw:
        faults = Faults("", plan.job.numbers, "refused")
        Gathered(plan.attachment.placed, faults, WITH_ALL)._led("the rod into its bore")
        assert [one.code for one in faults.found] == ["route-order"]


def featured(part: Any) -> list[tuple[str, Any]]:
    return [(one.name, one) for _, one in every_feature(part)]


def test_what_has_no_words_of_its_own_is_put_on_what_it_sits_on() -> None:
    """A new bought item asks for no words: it has its step, and is missed without it."""
    job, whole, _ = bench()
    plug = order("set screw", "M4", "plugs the oil hole", 1, 5.0)
    placed = Placed(plug, Frame((-60.0, 20.0, 0.0)), Carrier.POST, seat=Seat("housing", "+y"))
    route = whole_route(replace(whole, placed=(*whole.placed, placed)), job)
    steps = list(route.operation_records())
    assert step_of(steps, "plugs the oil hole")["text"] == "the set screw M4 x 5 on the housing"


def test_what_is_not_there_is_not_put_on_twice() -> None:
    def spoil(operations: Steps) -> None:
        step_of(operations, "dial")["puts_on"].append({"name": "dial"})

    assert ("route-no-work", "dial is put on there are 1 to put on") in refused(spoil)


def test_a_screw_is_told_as_long_as_the_one_that_sits_there() -> None:
    def spoil(operations: Steps) -> None:
        for one in step_of(operations, "holds the bit")["puts_on"]:
            one["length_mm"] = one["length_mm"] and 30.0

    (found,) = refused(spoil)
    assert found == (
        "route-no-work",
        "holds the bit: M4, 30 mm long M4, 6 mm long sits there",
    )


def test_the_stud_stands_out_as_far_as_washer_and_lever_take() -> None:
    """Its thread in the lever: no less than eight tenths of its diameter, a nut's height (ISO 4032)."""
    _, whole, route = bench()
    stud: Any = next(o for o in whole.placed if o.name == "clamps the rod, set in the block")
    washer: Any = next(o for o in whole.placed if o.name == "under the clamp lever")
    lever: Any = next(o for o in whole.placed if o.name == "clamp-lever")
    out = whole.sizes.leaf_z_mm - (stud.frame.origin[2] - stud.item.length_mm)
    text = step_of(list(route.operation_records()), stud.name)["text"]
    (said,) = re.findall(r"until ([\d.]+) mm of it stands out", text)
    assert float(said) == pytest.approx(out, abs=0.25)  # by a rule, to half millimetres
    under = abs(lever.frame.origin[2] - whole.sizes.leaf_z_mm)
    assert out > under >= 0.8 and washer.item.thread == stud.item.thread == "M5"


def mounted(spoil: Callable[[dict[str, Any]], None], nut_is_made: bool = True) -> list[str]:
    """What is found where a part is mounted in the one it runs in, alone."""
    job, whole, route = bench()
    setups = copy.deepcopy(list(route.setup_records()))
    (one,) = (o for o in setups if "in its own housing" in o["holding"])
    spoil(one)
    faults = Faults("", job.numbers, "refused")
    gathered = Gathered(whole.placed, faults, WITH_ALL)
    gathered.drawn_home(one, lambda part: nut_is_made or part.name != "pivot-nut")
    return [f"{one.code}: {one.value}, {one.limit}" for one in faults.found]


def test_what_is_bored_in_its_own_housing_is_drawn_home_by_its_nut() -> None:
    """A shaft that is free along its bore moves under the drill: the hole comes off its place from the
    thrust face (common practice: what is worked where it runs is seated first)."""

    def loose(setup: dict[str, Any]) -> None:
        setup["holding"] = setup["holding"].replace("drawn home", "slipped")

    assert not mounted(lambda one: None)
    assert mounted(loose) == [
        "route-not-held: rotating-body in its own housing, loose along its axis"
    ]
    late = mounted(lambda one: None, nut_is_made=False)
    assert late == ["route-order: rotating-body in its own housing, the pivot nut is not made yet"]


def test_a_route_makes_the_nut_before_it_draws_the_body_home() -> None:
    """Put after the body's bore, the nut's set-ups are refused by the walk of the route."""
    job, whole, route = bench()
    setups, operations = list(route.setup_records()), list(route.operation_records())
    last = [one["number"] for one in setups if one["part"] == "pivot-nut"][-1]
    left = [one for one in operations if one["setup"] != last]
    found = walk(whole.parts, job, setups, left, placed=whole.placed)
    assert any("the pivot nut is not made yet" in f"{one.limit}" for one in found)
