"""A thick tap is turned by a bar wrench, and a counterbore's pilot runs in a plain hole: the boat
yard's sliding head, whose nut thread lies between rod and foot."""

from __future__ import annotations

import copy
from typing import Any

from jobs import ROOT, planned

from planner.walking.walk import walk

JOB = ROOT / "tests" / "data" / "shops" / "boat-yard.toml"

Data = dict[str, Any]


def _told(steps: list[Data], number: int) -> list[tuple[str, str, str]]:
    """What is said of one step of the route."""
    plan = planned(JOB)
    whole = plan.attachment
    setups = plan.route.setup_records()
    found = walk(whole.parts, plan.job, setups, steps, placed=whole.placed)
    return [(o.code, o.value, o.limit) for o in found if o.key == f"step {number}"]


def _head() -> tuple[list[Data], Data, Data, Data]:
    """The route's steps, and of the nut thread its drilling, its tapping and the outer seat."""
    steps = copy.deepcopy(planned(JOB).route.operation_records())
    thread = [one for one in steps if one["feature"] == "feed nut thread"]
    drilled = [one for one in thread if one["kind"] == "drill"][-1]
    tapped = next(one for one in thread if one["kind"] == "tap")
    seat = next(one for one in steps if one["feature"] == "outer wiper seat")
    return steps, drilled, tapped, seat


def test_a_bar_wrench_does_not_turn_between_rod_and_foot() -> None:
    """M16 between a rod that stands over 80 out, 25 from its axis to the rod's side, and the foot: a
    tap of M16 is 102 long (DIN 352, from memory), and the wrench for it is a bar of 200 to 300
    (common practice): tapped with the arm turned over."""
    steps, drilled, tapped, _ = _head()
    assert tapped["setup"] != drilled["setup"] and tapped["cut"]["axis"]["along"] == "-y"
    assert _told(steps, tapped["number"]) == []
    tapped["setup"] = drilled["setup"]
    tapped["cut"] = {**tapped["cut"], "axis": drilled["cut"]["axis"]}
    for edge in ("from_mm", "to_mm"):
        tapped["cut"][edge] = drilled["cut"][edge]
    moved = [one for one in steps if one is not tapped]
    moved.insert(moved.index(drilled) + 1, tapped)
    code, value, limit = next(
        one for one in _told(moved, tapped["number"]) if one[0] == "route-tool-reach"
    )
    assert value.endswith("from under what stands beside to the bottom")
    assert limit.startswith("tap M16 stands") and code


def test_a_thread_is_cut_after_the_counterbore_round_it() -> None:
    """A counterbore's pilot, or a bar's end, fits the hole as drilled: in a thread it bruises the
    crests (common practice)."""
    steps, _, tapped, seat = _head()
    order = [one["number"] for one in steps]
    assert order.index(tapped["number"]) > order.index(seat["number"])
    assert _told(steps, seat["number"]) == []
    moved = [one for one in steps if one is not tapped]
    moved.insert(moved.index(seat), tapped)
    assert _told(moved, seat["number"]) == [
        (
            "route-order",
            "a counterbore on a thread that is cut",
            "its pilot runs in the plain hole: it bruises a thread",
        )
    ]
