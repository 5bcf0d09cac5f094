"""A bore in the solid where the largest drill leaves room for too slender a bar only."""

from __future__ import annotations

from making.shops import of
from route_digest import made_of

from planner.walking.walk import walk

LARGEST_MM = 8.0


def test_a_wider_drill_is_asked_for_before_a_bar_goes_in_that_bends() -> None:
    """A bar between centres reaches at most twelve of its diameters (common practice: the walk's)."""
    job, whole, route = of(
        **{
            "shop.drills_to": LARGEST_MM,
            "shop.reamers": [],
            "lathe.chuck_diameter": 80,
            "shop.machines": {},
        }
    )
    records = route.operation_records()
    bars = [one for one in records if one["tool"]["kind"] == "boring bar between centres"]
    assert bars
    for one in bars:
        assert one["tool"]["reach_mm"] <= 12 * one["tool"]["diameter_mm"]
    wide = [one["tool"] for one in records if one["feature"] == "pivot bore"]
    assert [one["diameter_mm"] for one in wide if one["kind"] == "drill"] in ([], [8.0, 15.0])
    found = walk(whole.parts, job, route.setup_records(), records)
    assert "route-tool-reach" not in {one.code for one in found}


def test_a_bar_too_long_for_the_lathe_is_told() -> None:
    """50 of the housing pass it twice, with a carrier besides, and its shank runs on beside the barrel
    by 40 more than the centre stands out: 172, for which a lathe of 120 has no room."""
    job, whole, route = of(**{"lathe.between_centres": 120})
    told = [one.what for one in route.missing if "between its centres" in one.what]
    assert len(told) == 1 and "172" in told[0]
    setups, records = route.setup_records(), route.operation_records()
    bars = [one["tool"] for one in records if one["tool"].get("bit_at_mm")]
    assert {one["owned"] for one in bars if one["reach_mm"] > 120} == {False}
    assert "route-tool-reach" not in {one.code for one in walk(whole.parts, job, setups, records)}
    for one in bars:  # said to be there all the same
        one["owned"] = True
    found = walk(whole.parts, job, setups, records)
    assert [one.code for one in found if "between centres" in one.value] == ["route-tool-reach"] * 2


def test_a_block_is_drilled_so_wide_that_a_bar_that_goes_in_reaches_the_bottom() -> None:
    """Four diameters out, four fifths of the hole (common practice: the walk's)."""
    seen = 0
    for seed in (66, 2, 5, 34):
        job, whole, route = made_of(f"kit {seed}")
        records = route.operation_records()
        for one in (o for o in records if o["tool"]["kind"] == "boring bar"):
            cut = one["cut"]
            deep = abs(cut["to_mm"] - cut["from_mm"])
            assert deep <= 4 * one["tool"]["diameter_mm"] + 1e-6, one["text"]
            assert one["tool"]["diameter_mm"] <= 0.8 * cut["before_mm"] + 0.05, one["text"]
            seen += 1
    assert seen > 8
