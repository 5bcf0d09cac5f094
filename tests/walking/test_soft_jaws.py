"""Soft jaws in a chuck: there are some, a boring bar goes in, and they are closed on a plug as they are
bored (common practice: bored open, they give another size and a taper once they are tightened)."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest
from making.shops import of
from walk_asked import Told
from walk_edges import words
from walk_records import Data, grip
from walking.shop_files import planned, walked

from planner.walking.shop import shop_of
from planner.walking.softjaws import soft_jaws
from planner.walking.walk import walk

SOFT = {"lathe.soft_jaws": True}


def held(said: str = "closed on a plug", **more: Any) -> Data:
    own = grip("rim.round", 0.0, 9.0, 24.0, packing="soft jaws, bored to it") | more
    return {"holding": said, "hold": {"by": "three-jaw chuck", "grips": [own]}}


def told(setup: Data, soft: bool = True) -> list[str]:
    job, _, _ = of(**(SOFT if soft else {}))
    faults = Told()
    soft_jaws(setup, shop_of(job), faults)
    return [one.partition(": ")[2] for one in words(faults.found)]


def test_jaws_that_are_bored_on_a_plug_are_sound() -> None:
    assert told(held()) == []
    assert told(held(size_mm=10.0)) == []


def test_what_is_refused_of_soft_jaws() -> None:
    assert told(held("in soft jaws")) == [
        'route-words: "in soft jaws": jaws that close on nothing as they are bored give another size'
        " under load. Say the plug that they are closed on"
    ]
    assert told(held(size_mm=9.9)) == [
        "route-grip-range: 9.9 mm: soft jaws are bored to no less than 10 mm: no bar goes in. Bore a"
        " split bush to it, or take a collet"
    ]
    assert told(held(), soft=False) == [
        "route-grip-range: soft jaws: the chuck has none. Bore a split bush to it"
    ]
    # a bar of 6 is four fifths of 7.5
    assert told(held("in a split bush", packing="split bush", size_mm=7.5)) == []
    assert told(held("in a split bush", packing="split bush", size_mm=7.4)) == [
        "route-grip-range: 7.4 mm: a split bush is bored to no less than 7.5 mm: no bar goes in. Grip a"
        " thicker place, or finish that end by a file"
    ]
    # the bench lathe's three-jaw chuck grips to 95: a bush of 89 has a wall of 3
    assert told(held("in a split bush", packing="split bush", size_mm=89.0)) == []
    assert told(held("in a split bush", packing="split bush", size_mm=89.2)) == [
        "route-grip-range: a split bush round 89.2 mm: 95.2 mm at the least: the chuck grips to 95 mm."
        " Take a larger chuck, or copper between jaws and work"
    ]
    # what a split bush or copper goes between is asked nothing of this
    assert told(held("in a split bush", packing="split bush"), soft=False) == []
    assert told(held("", packing=None), soft=False) == []


def _old_words(setup: Data) -> None:
    setup["holding"] = setup["holding"].replace(", closed on a plug as they are bored", "")


def _a_thread(setup: Data) -> None:
    """As it was: jaws bored to a thread of M5."""
    setup["hold"]["grips"][0]["size_mm"] = 4.91


SPOILT: dict[str, tuple[Callable[[Data], None], str]] = {
    "no plug": (_old_words, "route-words"),
    "too small to be bored": (_a_thread, "route-grip-range"),
}


@pytest.mark.parametrize("name", SPOILT)
def test_the_old_route_is_refused(name: str) -> None:
    """The dial of the bench lathe, its second side faced in the jaws."""
    spoil, code = SPOILT[name]
    job, whole, route = of(**SOFT)
    setups = copy.deepcopy(list(route.setup_records()))
    operations = route.operation_records()
    (dial,) = [
        one for one in setups
        if one["part"] == "dial" and "soft jaws" in one["holding"] and one["machine"] == "lathe"
    ]  # fmt: skip
    assert dial["holding"] == (
        "three-jaw chuck, on the made end, 9 mm gripped on Ø24, in soft jaws, bored to it, closed on a"
        " plug as they are bored, 6 mm out"
    )
    assert walk(whole.parts, job, setups, operations, placed=whole.placed) == ()
    assert "soft-jaw plug" in {aid.name for aid in route.aids}
    spoil(dial)
    assert code in {one.code for one in walk(whole.parts, job, setups, operations)}


def test_a_shop_without_them_takes_a_split_bush() -> None:
    _, _, route = of()
    packed = {g.packing for one in route.setups if one.machine == "lathe" for g in one.hold.grips}
    assert "split bush" in packed and not any("soft" in one for one in packed)


def test_a_thread_too_thin_for_a_bush_is_not_gripped_in_one() -> None:
    """As it was: the drag screw by its M5 in a bush bored to 4.91, 15.5 deep: no bar goes in."""
    route = planned("tool-room").route
    setups, steps = route.setup_records(), route.operation_records()
    (filed,) = [one for one in steps if one["part"] == "drag-screw" and one["kind"] == "file"]
    assert filed["text"].startswith("file the parted end flat")
    faced = next(one for one in setups if "in soft jaws" in one["holding"])
    spoiled = copy.deepcopy(setups)
    worn = spoiled[faced["number"] - 1]
    (old,) = worn["hold"]["grips"]
    worn["hold"]["grips"] = [old | {"packing": "split bush", "size_mm": 4.91}]
    found = [
        one for one in walked("tool-room", spoiled, steps) if "split bush is bored" in one.limit
    ]
    assert [(one.key, one.value) for one in found] == [(f"set-up {faced['number']}", "4.91 mm")]
