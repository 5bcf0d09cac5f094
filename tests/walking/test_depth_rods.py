"""A depth micrometer's rod, 4 mm thick or 2.5 at the least, goes into no slit of a saw's width (common
practice).
"""

from __future__ import annotations

import copy
from typing import Any

import pytest
from jobs import ROOT, planned

from planner.output.plan import Plan
from planner.walking.walk import walk

Data = dict[str, Any]


def _walked(plan: Plan, cut: str, name: str) -> list[tuple[str, str, str, str]]:
    """What is found where a cut's depth is read with an instrument."""
    steps = copy.deepcopy(plan.route.operation_records())
    deep = [
        reading
        for row in steps
        if row["feature"] == cut
        for reading in row["measure"]
        if reading["kind"] == "depth"
    ]
    assert deep
    for reading in deep:
        reading["with"] |= {"name": name, "resolution_mm": 0.01}
    whole = plan.attachment
    setups = plan.route.setup_records()
    found = walk(whole.parts, plan.job, setups, steps, placed=whole.placed)
    return [(one.code, one.value, one.limit, one.remedy) for one in found]


@pytest.mark.parametrize(
    ("example", "wide", "rod"),
    [("bench-lathe", "1.6 mm", "2.5 mm"), ("inch-lathe", "0.062 in", "0.100 in")],
)
def test_no_rod_goes_into_a_slit(example: str, wide: str, rod: str) -> None:
    plan = planned(ROOT / "examples" / f"{example}.toml")
    assert _walked(plan, "hinge slit", "depth micrometer") == [
        (
            "route-anvil",
            f"depth micrometer in the hinge slit, {wide} wide",
            f"its rod is {rod} thick at the least",
            "Take a caliper's depth blade, or measure over a slip of sheet",
        )
    ]
    assert _walked(plan, "hinge slit", "vernier caliper") == []
    # 6.1 or 0.254 in wide: it goes in
    assert _walked(plan, "tool slot", "depth micrometer") == []


def test_how_deep_a_head_or_a_ring_lies_is_read() -> None:
    """A head that stands out of its ring is in the dial's way, a felt too deep wipes nothing (common
    practice): each counterbore's depth has a reading between what the part's general limits give."""
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    operations = copy.deepcopy(plan.route.operation_records())
    sunk = [one for one in operations if one["kind"] == "counterbore" and one["makes"]]
    assert len(sunk) == 4
    for one in sunk:
        (deep,) = [o for o in one["measure"] if o["kind"] == "depth"]
        assert deep["high_mm"] - deep["low_mm"] == pytest.approx(0.2)  # ISO 2768-m up to 6: 0.1
        one["measure"].remove(deep)
    setups, placed = plan.route.setup_records(), plan.attachment.placed
    found = walk(plan.attachment.parts, plan.job, setups, operations, placed=placed)
    assert [one.code for one in found] == ["route-not-measured"] * 4
    assert all(" deep" in one.value for one in found)
