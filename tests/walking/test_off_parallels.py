"""Narrow work in the vice is drilled through between what it lies on, not into it: the stop bar."""

from __future__ import annotations

from jobs import ROOT, planned
from walking.part_walk import of_parts, walked

OFF = "on two short packings, clear of where it is drilled through"


def test_a_hole_through_narrow_work_does_not_come_out_on_a_parallel() -> None:
    """A square of 8 with holes of 4.5 and 3.3 along its middle: 1.75 and 2.35 are left beside them, and
    the thinnest parallels of a usual set are 3 mm thick, one along either jaw (common practice)."""
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    setups, steps = of_parts(plan, "stop-bar")
    assert walked(plan, setups, steps) == []
    told = {one["number"] for one in setups if OFF in one["holding"]}
    assert len(told) == 2
    old = []
    for one in setups:
        words = one["holding"].replace(OFF, "on parallels")
        old.append(one | {"holding": words, "hold": one["hold"]})
    found = [one for one in walked(plan, old, steps) if one.code == "route-cut-in-grip"]
    drilled = [o for o in steps if o["setup"] in told and o["kind"] == "drill"]
    assert {one.key for one in found} == {f"step {one['number']}" for one in drilled}
    assert {one.value.partition(", at")[0] for one in found} == {
        "the hole comes out into a parallel"
    }
