"""A bit with a brazed carbide tip: which wheel grinds it, and that it is never dipped."""

from __future__ import annotations

import copy

import pytest
from jobs import ROOT, planned
from making.shops import shop
from walking.part_walk import of_parts, walked

from planner.walking.walk import walk

JOB = ROOT / "tests" / "data" / "shops" / "tool-room.toml"

OLD = {
    "saw": ("abrasive wheel", "Goggles; keep it cool in water"),
    "grind": (
        "grinding wheel and slip stone",
        "Goggles; the rest at most 2 mm off the wheel; dip the bit, never gloves",
    ),
}
"""What was said of a bit of high-speed steel, and is right of that."""


@pytest.mark.parametrize("kind", ["saw", "grind"])
def test_a_brazed_tip_is_ground_by_diamond_or_green_grit_and_never_dipped(kind: str) -> None:
    """Common practice: the corundum wheel of a bench grinder does not cut cemented carbide, and a hot
    tip that goes into water cracks."""
    setups, steps = of_parts(planned(JOB), "tool-bit")
    assert walked(planned(JOB), setups, steps) == []
    told = next(one for one in steps if one["kind"] == kind)
    old = copy.deepcopy(told)
    old["tool"]["name"], old["caution"] = OLD[kind]
    found = walked(planned(JOB), setups, [old if one is told else one for one in steps])
    assert {one.key for one in found} == {f"step {told['number']}"}
    values = [(one.code, one.value) for one in found]
    assert (
        values
        == [
            ("route-machine-cannot", "grinding wheel and slip stone on carbide"),
            ("route-words", "carbide cooled in water"),
        ][kind == "saw" :]
    )


def test_a_bit_of_high_speed_steel_is_dipped_as_ever() -> None:
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    setups, steps = of_parts(plan, "tool-bit")
    ground = next(one for one in steps if one["kind"] == "grind")
    assert "dip the bit" in ground["caution"] and walked(plan, setups, steps) == []


def test_no_wheel_dresses_aluminium() -> None:
    """Common practice: it clogs a wheel, and a clogged one gets hot and may burst."""
    job, whole, route = shop("aluminium")
    assert "grinder" in job.shop.machines
    setups, steps = route.setup_records(), route.operation_records()
    assert list(walk(whole.parts, job, setups, steps, placed=whole.placed)) == []
    told = [o for o in steps if o["kind"] == "dress" and "dress the welds" in o["text"]]
    assert [o["tool"]["name"] for o in told] == ["chisel and file"] * 3  # three weldments
    for one in told:
        one["tool"]["name"] = "chisel, file, grinder"
    found = list(walk(whole.parts, job, setups, steps, placed=whole.placed))
    assert [(o.code, o.value) for o in found] == [
        ("route-machine-cannot", "chisel, file, grinder on 6082-T6")
    ] * 3
    assert (found[0].limit, found[0].remedy) == (
        "it clogs the wheel, which may burst",
        "Dress it by chisel and file",
    )
