"""Counterbores: how long they are and whether the shop has them, in the school's and the repair shop's
routes."""

from __future__ import annotations

import copy
from typing import Any

import pytest
from jobs import ROOT, planned
from making.shops import of
from walk_asked import doing, rod
from walking.part_walk import of_parts, walked

from planner.making.outfit import outfit
from planner.making.ways.counterbored import counterbore_out_mm
from planner.walking.counterbored import stands_out_mm
from planner.walking.walk import walk

JOBS = ROOT / "tests" / "data" / "jobs"


@pytest.mark.parametrize(("size", "long"), [(6.0, 71.0), (11.0, 80.0), (15.0, 100.0)])
def test_a_counterbore_is_as_long_as_its_standard_says(size: float, long: float) -> None:
    """DIN 373 (from memory): 71 mm for M3's head, 80 for M6's, 100 for M8's; 20 of it in the chuck."""
    tool = {
        "kind": "counterbore",
        "name": "counterbore",
        "diameter_mm": size,
        "owned": True,
    }
    assert stands_out_mm(doing(rod(), kind="counterbore", tool=tool)) == long - 20.0
    assert counterbore_out_mm(size) == long - 20.0


def _seat(job: str, **tool: Any) -> list[tuple[str, str, str]]:
    """What is said of the inner wiper seat's step, its tool changed."""
    plan = planned(JOBS / f"{job}.toml")
    setups, steps = of_parts(plan, "sliding-head")
    every = plan.route.operation_records()
    setups, steps = plan.route.setup_records(), every
    seat = next(o for o in steps if o["feature"] == "inner wiper seat")
    if tool:
        steps = [o | {"tool": o["tool"] | tool} if o is seat else o for o in steps]
    found = walked(plan, setups, steps)
    return [(o.code, o.value, o.limit) for o in found if o.key == f"step {seat['number']}"]


def test_a_seat_between_rod_and_foot_is_cut_by_a_bar_made_for_it() -> None:
    """The rod stands 83 over the seat, 16 from its axis, and a chuck for its shank of 12.5 is 43
    across: 83 and the seat's 2.5 must come out of it. A counterbore of 15 is 100 long (DIN 373, from
    memory): 80 do."""
    assert _seat("school-mill") == []
    long = _seat("school-mill", name="counterbore 15 mm", width_mm=None, reach_mm=None)
    assert [code for code, _, _ in long] == ["route-tool-missing", "route-tool-reach"]
    (_, name, drills), (_, wanted, out) = long
    assert (name, drills) == ("counterbore 15 mm", "the shop has no counterbore of that size")
    assert wanted.startswith(("82.5 mm", "85.5 mm"))
    assert out.endswith("stands 80 mm out of its chuck or wrench")


def test_a_bar_is_no_more_slender_than_fifteen() -> None:
    thin = _seat("school-mill", width_mm=5.0)
    assert [code for code, _, _ in thin] == ["route-tool-reach"]  # 75 of 85.5


def test_a_counterbore_past_the_drills_is_not_the_shops_own() -> None:
    """The repair shop says no drills: the usual half inch (12.7), and 37/64 is 14.7."""
    assert _seat("repair-inch") == []
    owned = _seat("repair-inch", name="flat drill 37/64 in", width_mm=None)
    assert (
        "route-tool-missing",
        "flat drill 37/64 in",
        "the shop's drills go to 0.500 in",
    ) in owned
    bought = _seat(
        "repair-inch", name="counterbore 37/64 in", owned=False, instead="buy one", reach_mm=150.0
    )
    assert bought == []


def test_the_bar_is_made_before_it_is_used() -> None:
    plan = planned(JOBS / "school-mill.toml")
    seat = next(o for o in plan.route.operations if "inner wiper seat" in o.text)
    (aid,) = [o for o in plan.route.aids if o.name == "counterbore bar Ø9"]
    assert aid.setup == seat.setup
    # what stands beside and the seat, 25 in the chuck, and one and a half diameters in the hole
    assert 83.0 + 2.5 + 25.0 + 13.5 - 0.5 <= aid.length_mm <= 128.0


SHOPS = [
    # 6 over the heads of M3; 13 over the rod's felt rings: the set of drills goes to 13 (usual.py)
    ("bench-lathe", [], "flat drill 6 mm", "made first"),
    ("bench-lathe", [6], "counterbore 6 mm", "yes"),
    ("inch-lathe", [], "flat drill 1/4 in", "made first"),
    ("inch-lathe", ["1/4"], "counterbore 1/4 in", "yes"),
]


@pytest.mark.parametrize(("example", "said", "name", "has"), SHOPS)
def test_a_counterbore_is_the_shops_own_where_the_shop_says_so(
    example: str, said: list[Any], name: str, has: str
) -> None:
    """A shop that has a drill of a size has no counterbore of it (common practice): a second drill is
    ground flat for it first, so that the one that drills keeps its point."""
    job, whole, route = of(example, **{"shop.counterbores": said})
    items = {one.name: one for one in outfit(route, job) if "counterbore or" not in one.name}
    assert items[name].has == has
    second = [one for one in items if one.endswith(f"for the {name}")]
    assert len(second) == (has == "made first")
    records = route.setup_records(), route.operation_records()
    assert walk(whole.parts, job, *records, placed=whole.placed) == ()


def test_a_counterbore_for_a_drill_of_its_size_is_refused() -> None:
    """As it was: owned, since the drill of 6 is."""
    job, whole, route = of("bench-lathe")
    steps = copy.deepcopy(list(route.operation_records()))
    for one in steps:
        if one["kind"] == "counterbore" and one["tool"]["name"] == "flat drill 6 mm":
            one["tool"]["name"] = "counterbore or flat drill 6 mm"
    found = walk(whole.parts, job, route.setup_records(), steps, placed=whole.placed)
    assert {(one.code, one.value, one.limit) for one in found} == {
        (
            "route-tool-missing",
            "counterbore or flat drill 6 mm",
            "the shop has no counterbore of that size",
        )
    }
