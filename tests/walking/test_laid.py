"""On what a weldment is laid, and what drives the tool in the headstock: taken wrong, it is refused.

Common practice: nothing hangs under a face that lies on a plate, no seam lies on the plate, and a bar
between centres takes the drill chuck's place in the spindle.
"""

from __future__ import annotations

import copy
from typing import Any

import pytest
from walking.part_walk import of_parts, walked

from planner.output.plan import Plan
from planner.walking.walk import walk


def _plate(setups: list[dict[str, Any]], part: str) -> dict[str, Any]:
    laid = [s for s in setups if s["part"] == part and s["hold"]["by"] == "flat plate"]
    assert len(laid) == 1
    return laid[0]


@pytest.mark.parametrize(
    ("rests", "word"),
    [("arm.-y", "rod hangs"), ("arm.+y", "rod weld: all round in arm.+y"), ("arm.-z", "")],
)
def test_the_head_lies_where_nothing_hangs_under_it(plan: Plan, rests: str, word: str) -> None:
    """Rod and foot stand out of -y, the rod's weld lies in +y: it is stood on its edge."""
    setups, operations = of_parts(plan, "sliding-head", kind="weld")
    setups = copy.deepcopy(setups)
    assert _plate(setups, "sliding-head")["hold"]["rests"] in ("arm.-x", "arm.-z")
    _plate(setups, "sliding-head")["hold"]["rests"] = rests
    found = walked(plan, setups, operations)
    assert {one.code for one in found} == ({"route-no-rest"} if word else set())
    assert all(word in one.value for one in found)


def test_the_headstock_is_changed_between_chuck_and_centre(plan: Plan) -> None:
    """The rod's bore is drilled, bored by a bar on the centres, reamed: two changes, either needed."""
    route, parts = plan.route, plan.attachment.parts
    setups, operations = route.setup_records(), route.operation_records()
    changes = [one for one in operations if one["tool"]["kind"].startswith("headstock ")]
    bars = {one["setup"] for one in operations if "between centres" in one["tool"]["kind"]}
    drills = {one["setup"] for one in operations if one["tool"]["kind"] == "drill"}
    assert {one["setup"] for one in changes} == bars & drills
    for gone in changes:
        rest = [one for one in operations if one is not gone]
        found = walk(parts, plan.job, setups, rest)
        assert {one.code for one in found} == {"route-order"}
        assert found[0].limit.endswith("still in the headstock")
