"""A thin piece that stands out of its weld springs from the cutter: backed by a block, or refused.

A bar built in at one end bends by F L3 / (3 E I) under a force at the other (handbooks of mechanics);
50 N is an estimate of what a small end mill's last cut presses away (common practice).
"""

from __future__ import annotations

import copy
from typing import Any

import pytest
from jobs import ROOT, planned
from walking.part_walk import of_parts, walked

from parts.part import members
from planner.output.plan import Plan

PRESSED_N, STEEL_MPA = 50.0, 206_000.0


@pytest.fixture(scope="module", params=["bench-lathe", "engine-lathe", "inch-lathe"])
def one(request: pytest.FixtureRequest) -> Plan:
    """Each example."""
    return planned(ROOT / "examples" / f"{request.param}.toml")


def _refused(plan: Plan, **hold: Any) -> list[str]:
    setups, steps = (copy.deepcopy(rows) for rows in of_parts(plan, "sliding-head"))
    last = next(i for i, row in enumerate(steps) if "foot bearing face" in row["makes"])
    kept = {row["setup"] for row in steps[: last + 1]}
    own = next(row for row in setups if row["number"] == steps[last]["setup"])
    assert own["hold"]["backed"].startswith("foot.")
    own["hold"].update(hold)
    found = walked(plan, [row for row in setups if row["number"] in kept], steps[: last + 1])
    for row in found:
        assert row.value.startswith("foot, ") and row.value.endswith(" out: foot bearing face")
        assert row.limit.startswith("its end springs ") and " from the cutter, where " in row.limit
        assert row.limit.endswith(" is all it may be out")
        assert row.remedy == "Back it near its end by a block or a jack"
    return [row.code for row in found]


def test_the_foot_is_backed_where_it_springs_more_than_it_may(one: Plan) -> None:
    assert _refused(one) == []
    head = next(part for part in one.attachment.parts if part.name == "sliding-head")
    foot, arm = (next(m for m in members(head) if m.name == name) for name in ("foot", "arm"))
    box, stem = foot.blank.box.placed(foot.frame), arm.blank.box.placed(arm.frame)
    out = max(stem.low[1] - box.low[1], box.high[1] - stem.high[1])
    wide, thick = box.high[0] - box.low[0], box.high[2] - box.low[2]
    springs = PRESSED_N * out**3 / (3 * STEEL_MPA * wide * thick**3 / 12)
    (true,) = (row.value_mm for row in head.trueness if row.of.startswith("foot bearing face"))
    assert springs > 1.1 * true
    assert _refused(one, backed=None) == _refused(one, backed="arm.-z") == ["route-overhang"]
