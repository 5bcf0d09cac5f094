"""What a dial counts from is touched beside the cut: in a notch its floor stands there.

Common practice; the distances are worked out by hand from the parts' sizes.
"""

from __future__ import annotations

import copy
from typing import Any

import pytest
from jobs import ROOT, planned

from planner.output.plan import Plan
from planner.walking.walk import walk

Data = dict[str, Any]


@pytest.fixture(scope="module", params=["bench-lathe", "inch-lathe"])
def one(request: pytest.FixtureRequest) -> Plan:
    """A metric and an inch shop."""
    return planned(ROOT / "examples" / f"{request.param}.toml")


def _limit(plan: Plan, kind: str, cut: str, was: str, now: str) -> str:
    """What is said of a step in which some words are others, and of no other step."""
    setups, steps = (
        copy.deepcopy(rows) for rows in (plan.route.setup_records(), plan.route.operation_records())
    )
    (step,) = (row for row in steps if (row["kind"], row["feature"]) == (kind, cut))
    assert was in step["text"]
    step["text"] = step["text"].replace(was, now)
    whole = plan.attachment
    (one,) = walk(whole.parts, plan.job, setups, steps, placed=whole.placed)
    assert (one.code, one.key) == ("route-words", f"step {step['number']}")
    assert one.remedy == "Count from the side that the cutter comes to there"
    return one.limit


def _beside(plan: Plan, metric: str, inch: str) -> str:
    return f"beside the cut that side lies {inch if plan.job.inch else metric} from its middle"


def test_a_slot_in_the_notched_tip_is_not_counted_from_the_bar_s_side(one: Plan) -> None:
    """The bar's side is 9 or 3/8 in from the rod's line, but stands only at the root, in the jaws:
    beside the tip its notch is 2.5 or 1/8 in deep."""
    was, now = "in by 6.5 as drawn", "in by 9 as drawn"
    if one.job.inch:
        was, now = "in by 1/4 = 0.250 as drawn", "in by 3/8 = 0.375 as drawn"
    assert _limit(one, "mill", "tool slot", was, now) == _beside(one, "6.5 mm", "0.250 in")


def test_a_saw_is_not_touched_on_the_other_side(one: Plan) -> None:
    """The hinge slit lies 21.5 - 5.6 or 0.734 - 0.225 in from the thrust face, and 23.6 or 0.975 in
    from the front."""
    limit = _limit(one, "slit", "hinge slit", "block's +x side", "block's -x side")
    assert limit == _beside(one, "15.9 mm", "0.509 in")


def test_a_rod_is_touched_so_far_from_the_bore(one: Plan) -> None:
    """The rod bore's line lies 18 or 3/4 in from the block's front."""
    was = "(3/4 = 0.750 as drawn)" if one.job.inch else "(18 as drawn)"
    limit = _limit(one, "spot", "rod bore", was, "(1 = 1.000 as drawn)")
    assert limit == _beside(one, "18 mm", "0.750 in")
