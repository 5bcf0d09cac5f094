"""What is bored in the tool post is brought onto the bar across too: the seat gives its height alone.

A tube bored half a millimetre off its middle does not clean up, its wall is thin (common practice).
"""

from __future__ import annotations

import copy
from pathlib import Path

import pytest
from jobs import EXAMPLES, ROOT, planned
from walking.part_walk import near

SOLID = ROOT / "tests" / "data" / "shops" / "model-engineer.toml"


@pytest.mark.parametrize("path", [EXAMPLES[0], SOLID], ids=lambda path: path.stem)
def test_the_tube_is_brought_there_by_the_cross_slide(path: Path) -> None:
    plan = planned(path)
    setups, whole = copy.deepcopy(plan.route.setup_records()), plan.attachment
    steps = plan.route.operation_records()
    assert not plan.walked
    (post,) = [
        one for one in setups if one["hold"]["by"] == "tool post" and one["part"] == "housing"
    ]
    (told,) = [one for one in post["align"] if "by the cross slide" in one["what"]]
    assert ("its bore" in told["what"]) == (path != SOLID)  # bar has no hole yet
    assert told["within_mm"] == pytest.approx(0.2, abs=0.01)
    post["align"].remove(told)
    found = near(whole, plan.job, setups, steps, post["part"])
    assert [(one.code, one.value) for one in found] == [
        ("route-not-trued", "bored in the tool post")
    ]
