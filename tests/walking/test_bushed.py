"""A bore beside the hinge of a clamp is not bushed: what a bush's seat takes is what bends.

A pressed-in bush carries nothing of a hinge's bending (common practice).
"""

from __future__ import annotations

import copy

import pytest
from jobs import EXAMPLES, planned
from walking.part_walk import near


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda one: str(one.stem))
def test_no_step_tells_of_a_bush_beside_the_hinge(path) -> None:  # type: ignore[no-untyped-def]
    """As it was: shake of the rod was taken out by a bush in its bore."""
    plan = planned(path)
    setups, steps = plan.route.setup_records(), plan.route.operation_records()
    whole = plan.attachment
    assert not any("bush the" in one["text"] for one in steps)
    (rod,) = (i for i, one in enumerate(steps) if one["tries"] == "slide")
    for words, told in (("bush the rod bore", ["route-spoils"]), ("bush the oil hole", [])):
        spoiled = copy.deepcopy(steps)
        spoiled[rod]["text"] += f", {words} and ream it anew"
        found = near(whole, plan.job, setups, spoiled, spoiled[rod]["part"])
        assert [one.code for one in found] == told
