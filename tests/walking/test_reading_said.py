"""Where a step has several blanks to write in, each says what is written there (common practice)."""

from __future__ import annotations

import copy

import pytest
from jobs import ROOT, planned
from walking.part_walk import of_parts, walked


@pytest.mark.parametrize(
    ("example", "part", "feature", "datum"),
    [
        ("bench-lathe", "sliding-head", "tool slot", "N"),
        ("inch-lathe", "sliding-head", "tool slot", "N"),
        ("bench-lathe", "sliding-head", "chuck-side notch", "M"),
        ("bench-lathe", "rotating-body", "hinge slit", "E"),
    ],
)
def test_a_depth_beside_another_size_says_from_where(
    example: str, part: str, feature: str, datum: str
) -> None:
    """As it was: a slot 6.1 to 6.2 wide and 5.9 to 6.1 deep had two blanks, and which was which was
    not said."""
    plan = planned(ROOT / "examples" / f"{example}.toml")
    setups, steps = of_parts(plan, part)
    steps = copy.deepcopy(steps)

    def refused() -> list[str]:
        found = walked(plan, setups, steps)
        of = "another size is read in this step, and what this one is of is not said"
        return [
            one.value
            for one in found
            if (one.limit, one.remedy) == (of, "Say from where it is read")
        ]

    deep = [
        row
        for step in steps
        if step["feature"] == feature
        for row in step["measure"]
        if row["kind"] == "depth" and row["how"] == f"from {datum}"
    ]
    assert len(deep) == 1 and refused() == []
    deep[0]["how"] = ""
    assert refused() == [f'"{deep[0]["what"]}"']
