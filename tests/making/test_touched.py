"""How a place is found where a dial sets it: a side of the work touched over a slip of cigarette paper,
and half of what touches it and the paper counted (common practice); an edge finder finds a side too.
"""

from __future__ import annotations

import copy
from functools import cache
from types import SimpleNamespace
from typing import Any, cast

import pytest
from making.shops import of

from parts import features as f
from parts.frame import Axis, Box
from parts.standard.fits import Limits
from planner.making.bodies import Body
from planner.making.ways.touched import by_rod, by_side
from planner.walking.walk import walk
from planner.words.numbers import INCH, METRIC

SAW = (
    "its place by the dial: the saw's side touched on the block's {} side over a slip of cigarette"
    " paper, then in by {} as drawn, half of its width and the paper"
)
ROD = (
    "; its place by the cross slide's dial: a ground rod in the chuck touched on the block's {} side"
    " over a slip of cigarette paper, then in by what is measured from J to that side less {} ({} as"
    " drawn), half of the rod and the paper"
)


def block(low: float, high: float, *notches: Box) -> Body:
    ends = {-1: low, 1: high}
    return cast(Body, SimpleNamespace(name="block", end=lambda _, sign: ends[sign], voids=notches))


def cut(i: int, at: float) -> Box:
    """A cut 2 wide with its middle at a place along an axis, from 0 to 5 along the others."""
    low, high = [0.0] * 3, [5.0] * 3
    low[i], high[i] = at - 1.0, at + 1.0
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


@pytest.mark.parametrize(
    ("at", "side", "says"),
    [
        # a block from 10 to 50: the nearer side, unless one is asked for
        (20.0, 0, ("-y", "10")), (42.5, 0, ("+y", "7.5")), (20.0, 1, ("+y", "30")),
        (42.5, -1, ("-y", "32.5")),
    ],
)  # fmt: skip
def test_a_cutter_is_touched_on_a_side(at: float, side: int, says: tuple[str, str]) -> None:
    found = by_side(METRIC, block(10.0, 50.0), cut(1, at), 1, "the saw's side", side)
    assert found == SAW.format(*says)


def test_beside_a_cut_the_side_is_the_bottom_of_its_notch() -> None:
    """A block from 0 to 40, cut back by 3.5 where the slot comes: from 3.5 to 10 are 6.5. A notch that
    lies past the slot's depth, or does not go in from that side, leaves it as it is."""
    notch = Box((-1.0, 0.0, -1.0), (30.0, 3.5, 30.0))
    beyond = Box((6.0, 0.0, -1.0), (30.0, 3.5, 30.0))
    inside = Box((-1.0, 20.0, -1.0), (30.0, 25.0, 30.0))
    back = SAW.replace(" over a slip", ", where it is cut back, over a slip")
    for notches, says in (
        ((notch,), back.format("-y", "6.5")),
        ((beyond, inside), SAW.format("-y", "10")),
    ):
        found = by_side(METRIC, block(0.0, 40.0, *notches), cut(1, 10.0), 1, "the saw's side")
        assert found == says


@pytest.mark.parametrize(
    ("along", "side", "says"),
    [
        # a slit at 20 in a block from 0 to 50, 5 from the datum at 25, or at 15
        ("-y", 1, "5 more than is measured from D to that side (30 as drawn)"),
        ("+y", 1, "5 less than is measured from D to that side (30 as drawn)"),
        ("-y", -1, "5 less than is measured from D to that side (20 as drawn)"),
        ("+y", -1, "5 more than is measured from D to that side (20 as drawn)"),
    ],
)
def test_what_lies_closely_from_a_datum_is_counted_from_there(
    along: Any, side: int, says: str
) -> None:
    place = f.Location("D", along, Limits(5.0, 0.1, -0.1, ""), "y-middle")
    found = by_side(METRIC, block(0.0, 50.0), cut(1, 20.0), 1, "the saw's side", side, place)
    whole = SAW.format("+y" if side > 0 else "-y", "@").replace("@ as drawn", says)
    assert found == whole


def test_in_inches_the_dial_has_decimals() -> None:
    found = by_side(INCH, block(0.0, 25.4), cut(2, 9.525), 2, "the saw's side", -1)
    assert found == SAW.format("-z", "3/8 = 0.375")


@pytest.mark.parametrize(
    ("along", "far", "says"),
    [
        # 21.5 from the datum face at 27, the block's ends at 27 and 67: 67 - 48.5 is 18.5
        ("+x", 48.5, ("+x", "21.5", "18.5")),
        ("-x", 45.5, ("-x", "21.5", "18.5")),
    ],
)
def test_a_hole_made_by_the_spindle_is_found_by_a_rod(
    along: Any, far: float, says: tuple[str, str, str]
) -> None:
    hole = f.ReamedHole(
        name="rod bore", datum="J", axis=Axis((far, 0.0, 0.0), "+y"), depth_mm=20.0,
        diameter=Limits(14.0, 0.018, 0.0, "H7"),
        locations=(f.Location("J", along, Limits(21.5, 0.2, -0.2, "")),),
    )  # fmt: skip
    assert by_rod(METRIC, block(27.0, 67.0), hole) == ROD.format(*says)
    bare = f.ReamedHole(name="r", datum="J", axis=hole.axis, depth_mm=20.0, diameter=hole.diameter)
    assert by_rod(METRIC, block(27.0, 67.0), bare) == ""


@cache
def planned(slide: bool) -> tuple[Any, Any, Any]:
    machine = (
        {"milling slide": {}} if slide else {"mill": {"speeds": [95, 180, 270, 500, 930, 1420]}}
    )
    return of("bench-lathe", **{"shop.machines": machine})


@pytest.mark.parametrize("slide", [True, False])
def test_every_place_that_a_dial_sets_says_what_it_counts_from(slide: bool) -> None:
    """And the walk refuses each step that no longer says it."""
    job, whole, route = planned(slide)
    setups = {one["number"]: one for one in route.setup_records()}
    steps = copy.deepcopy(route.operation_records())
    assert walk(whole.parts, job, list(setups.values()), steps, placed=whole.placed) == ()
    taken = {"cigarette paper": "what is at hand", "edge finder": "eye"}
    wanted = set()
    for one in steps:
        if one["place"] and any(words in one["text"] for words in taken):
            wanted.add(
                (one["kind"], setups[one["setup"]]["hold"]["by"] == "tool post", one["number"])
            )
            for words, other in taken.items():
                one["text"] = one["text"].replace(words, other)
    assert {(kind, post) for kind, post, _ in wanted} >= {("spot", True), ("slit", False)}
    found = walk(whole.parts, job, list(setups.values()), steps, placed=whole.placed)
    assert {one.code for one in found} == {"route-words"}
    assert {one.key for one in found} == {f"step {number}" for _, _, number in wanted}
    assert {one.limit for one in found} == {"what the dial counts from is not said"}
    assert {one.remedy for one in found} == {
        "Say what is touched on which side of the work, and over what"
    }


def test_a_dial_of_the_other_language_is_said_by_its_division() -> None:
    """An inch cross slide in a metric shop moves 0.001 in a line, 0.0254 mm exactly; the walk refuses
    each step that leaves that out."""
    slide = {"milling slide": {}}
    job, whole, route = of(
        "bench-lathe", **{"shop.machines": slide, "lathe.cross_slide_division": 0.0254}
    )
    said = "cross slide's dial (one division is 0.0254 mm = 0.001 in)"
    setups, steps = route.setup_records(), copy.deepcopy(route.operation_records())
    assert walk(whole.parts, job, setups, steps, placed=whole.placed) == ()
    told = [one for one in steps if said in one["text"]]
    assert {one["kind"] for one in told} == {"spot", "slit"}
    for one in told:
        one["text"] = one["text"].replace(said, "cross slide's dial")
    found = walk(whole.parts, job, setups, steps, placed=whole.placed)
    assert [(one.code, one.key) for one in found] == [
        ("route-words", f"step {one['number']}") for one in told
    ]
    assert {one.limit for one in found} == {"a line of that dial is 0.001 in"}
    assert {one.remedy for one in found} == {"Say so: it shows no size of the step"}
    # an own dial shows the sizes as they stand
    body = block(27.0, 67.0)
    hole = f.ReamedHole(
        name="r", datum="J", axis=Axis((48.5, 0.0, 0.0), "+y"), depth_mm=20.0,
        diameter=Limits(14.0, 0.018, 0.0, "H7"),
        locations=(f.Location("J", "+x", Limits(21.5, 0.2, -0.2, "")),),
    )  # fmt: skip
    assert by_rod(METRIC, body, hole, 0.02) == by_rod(METRIC, body, hole)
    assert "dial (one division is 0.025 mm = 0.00098 in):" in by_rod(INCH, body, hole, 0.025)
