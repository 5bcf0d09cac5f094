"""A thick drill follows a thinner one: its web cuts nothing, and a small machine has no thrust for it.

Common practice: over 13 mm (half an inch) a hole is drilled first with one of about half the size; past
20 mm (3/4 in) it must be.
"""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from jobs import ROOT
from walking.shop_files import planned, walked

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk

SHOPS = ROOT / "tests" / "data" / "shops"


@pytest.mark.parametrize(
    ("pilot", "thick", "refused"), [(13.0, 24.5, True), (9.6, 16.0, False), (8.4, 14.0, False)]
)
def test_a_thick_drill_into_the_solid_is_refused(pilot: float, thick: float, refused: bool) -> None:
    """As it was: after a centre drill the boat yard's rod hole at once by 25.5 (24.5 now), its
    feed screw hole by 16 and its feed nut by 14. All are drilled thinner first now."""
    route = planned("boat-yard").route
    setups, steps = route.setup_records(), route.operation_records()
    found = [
        (before, one)
        for before, one in zip(steps, steps[1:], strict=False)
        if (one["kind"], before["kind"], one["tool"]["diameter_mm"]) == ("drill", "drill", thick)
    ]
    ((before, step),) = found
    assert before["tool"]["diameter_mm"] == pilot and before["setup"] == step["setup"]
    spoiled = [one for one in steps if one is not before]
    told = [one for one in walked("boat-yard", setups, spoiled) if one.code == "route-order"]
    what = (f"step {step['number']}", f"a drill of {thick:g} mm into the solid")
    assert (what in [(one.key, one.value) for one in told]) == refused


def test_a_thick_drill_into_solid_work_in_the_tool_post_is_refused() -> None:
    """As it was: a housing of solid bar, held by its shank, drilled at once by 16 for its pivot bore.
    Half an inch is the most there (common practice): the post gives way under more thrust."""
    data = tomllib.loads((SHOPS / "school-row.toml").read_text(encoding="utf-8"))
    data["shop"]["drills"] = [14, 16]
    data["attachment"]["sizes"] = {"rod_diameter": 14, "tube_stock": "round 28"}
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), route.operation_records()
    drills = [o for o in steps if (o["kind"], o["feature"]) == ("drill", "pivot bore")]
    pilot, thick = drills
    assert (pilot["tool"]["diameter_mm"], thick["tool"]["diameter_mm"]) == (9.6, 16.0)

    def told(records: list[dict[str, Any]]) -> list[tuple[str, str]]:
        found = walk(whole.parts, job, setups, records, placed=whole.placed)
        return [(one.key, one.value) for one in found if one.code == "route-order"]

    assert told(steps) == []
    what = (f"step {thick['number']}", "a drill of 16 mm into the solid")
    assert told([one for one in steps if one is not pilot]) == [what]


def test_an_inch_shop_is_told_a_bound_that_is_said_in_inches() -> None:
    """Past three quarters of an inch (common practice), not past 0.787, which is 20 mm turned into
    inches; and a reamer takes 0.002 to 0.030, not 0.001 to 0.031."""
    route = planned("job-shop-inch").route
    setups, steps = route.setup_records(), route.operation_records()
    told = set()
    for kind in ("drill", "ream"):
        for at, one in enumerate(steps):
            if one["kind"] == kind:
                cut, tool = one["cut"], one["tool"]
                grown = 2.0 if kind == "ream" else 24.0
                cut = cut | {"after_mm": float(cut["after_mm"]) + grown}
                tool = tool | {"diameter_mm": float(tool["diameter_mm"]) + grown}
                spoiled = [*steps[:at], one | {"cut": cut, "tool": tool}, *steps[at + 1 :]]
                found = walked("job-shop-inch", setups, spoiled)
                told |= {said.limit for said in found if said.code == "route-order"}
                break
    assert any("past 0.750 in its web" in one for one in told), told
    assert "a reamer takes 0.002 in to 0.030 in" in told
