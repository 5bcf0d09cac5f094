"""What is cut about the line of a finished round in the jaws is cut true to it: the round is set so.

Common practice: jaws that close together centre to a few hundredths of a millimetre, a worn chuck's to
a tenth; finished work is held again in a four-jaw chuck by an indicator, or with a slip of shim under a
jaw, or in a collet, a split bush or soft jaws bored in their place.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from making.shops import of

from planner.making.route import Route
from planner.walking.walk import walk
from planner.words.findings import Finding

SHIM = "runs true beside the jaws, a slip of shim under one of them where it does not"


@cache
def planned(large: bool) -> tuple[Any, Any, Route]:
    """With a chuck of 200 the journal of 10 is as small as the four-jaw takes; with 230 too small."""
    return of("engine-lathe", **{"lathe.chuck_diameter": "230 mm" if large else "200 mm"})


def screw(route: Route) -> dict[str, Any]:
    (found,) = [
        one
        for one in route.setup_records()
        if one["part"] == "feed-screw"
        and one["hold"]["grips"][0]["surface"] == "screw journal.round"
    ]
    return found


def refused(large: bool, **changes: Any) -> list[Finding]:
    job, whole, route = planned(large)
    setups = [one for one in route.setup_records() if one["part"] == "feed-screw"]
    numbers = {one["number"] for one in setups}
    steps = [one for one in route.operation_records() if one["setup"] in numbers]
    held = screw(route)["number"]
    setups = [one | changes if one["number"] == held else one for one in setups]
    parts = [one for one in whole.parts if one.name == "feed-screw"]
    found = walk(parts, job, setups, steps)
    return [one for one in found if one.key.startswith(("set-up ", "step "))]


@pytest.mark.parametrize("large", [False, True])
def test_the_journal_is_set_true_before_its_thread_is_turned(large: bool) -> None:
    held = screw(planned(large)[2])
    by = "three-jaw chuck" if large else "four-jaw chuck"
    assert held["hold"]["by"] == by and held["hold"]["grips"][0]["packing"] == "copper"
    (align,) = held["align"]
    assert align["what"] == (SHIM if large else "runs true beside the jaws")
    assert (align["surface"], align["by"]) == ("screw journal.round", "dial indicator")
    assert align["within_mm"] == pytest.approx(0.02)
    assert refused(large) == []


def test_in_a_three_jaw_chuck_with_nothing_set_true_it_is_refused() -> None:
    (told,) = refused(True, align=[])
    assert told.code == "route-not-trued"
    assert told.value == "jaws on the finished screw journal, then the screw diameter"
    assert told.limit == "jaws that close together are out by more than it may be"
    assert told.remedy == (
        "Set it true by an indicator: in the four-jaw chuck, or a shim under a jaw"
    )


@pytest.mark.parametrize(
    ("change", "sound"),
    [
        ({}, True),
        ({"within_mm": 0.05}, True),
        ({"within_mm": 0.06}, False),  # as a three-jaw chuck is out by itself
        ({"what": "square to the bed"}, False),
        ({"surface": "blank.+x"}, False),  # a face does not tell how a round runs
    ],
)
def test_how_it_is_set_true(change: dict[str, Any], sound: bool) -> None:
    (align,) = screw(planned(True)[2])["align"]
    found = {one.code for one in refused(True, align=[align | change])}
    assert found == (set() if sound else {"route-not-trued"})


def test_a_split_bush_holds_it_true() -> None:
    held = screw(planned(True)[2])
    grips = [held["hold"]["grips"][0] | {"packing": "split bush"}]
    words = held["holding"].replace("packed with copper", "in a split bush")
    hold = held["hold"] | {"grips": grips}
    assert refused(True, align=[], hold=hold, holding=words) == []


def test_what_stands_on_its_end_in_the_vice_is_set_upright() -> None:
    """The shank drilled in its end: the jaws set it upright one way, a square the other (common
    practice). As it was, it was only true to the slide's travel."""
    job, whole, route = of("bench-lathe")
    parts = [one for one in whole.parts if one.name == "housing"]
    setups = [one for one in route.setup_records() if one["piece"] == "shank"]
    numbers = {one["number"] for one in setups}
    steps = [one for one in route.operation_records() if one["setup"] in numbers]

    def told() -> list[str]:
        found = walk(parts, job, setups, steps)
        return [one.value for one in found if one.code == "route-not-trued"]

    assert told() == []
    (one,) = [one for one in setups if one["holding"].endswith("standing on its end")]
    assert [a["what"] for a in one["align"]] == [
        "true to the slide's travel",
        "the shank's +z side square to the table",
    ]
    # on a milling slide its face is the table
    one["align"][1]["what"] = "the shank's +z side square to the milling slide's face"
    assert told() == []
    one["align"] = one["align"][:1]
    (value,) = told()
    assert value.endswith("of it in the vice")
