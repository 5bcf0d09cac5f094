"""An end mill with flutes over twice its diameter is one of the long series, which no set has."""

from __future__ import annotations

from jobs import ROOT, planned
from walking.part_walk import of_parts, walked


def test_a_long_end_mill_is_bought() -> None:
    """The engine lathe's foot is milled by the cutter's side, deeper than 32: an end mill of 16 has
    32 of flutes in the short series and 63 in the long one (ISO 1641-1), and sets are of the short
    (common practice)."""
    plan = planned(ROOT / "examples" / "engine-lathe.toml")
    setups, steps = of_parts(plan, "sliding-head")
    mills = [one for one in steps if str(one["tool"].get("name")).startswith("long end mill")]
    assert mills and all(
        (one["tool"]["owned"], one["tool"]["instead"]) == (False, "buy one of the long series")
        for one in mills
    )
    there = [
        one | {"tool": one["tool"] | {"owned": True, "instead": None}} if one in mills else one
        for one in steps
    ]
    before, after = walked(plan, setups, steps), walked(plan, setups, there)
    found = [one for one in after if one not in before]
    assert [(one.code, one.value) for one in found] == [
        ("route-tool-missing", mills[0]["tool"]["name"])
    ] * len(mills)
