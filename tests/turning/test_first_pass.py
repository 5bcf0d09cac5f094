"""The first pass: it meets the corners of roughing alone, and is worth its swing."""

from __future__ import annotations

import pytest
from turned import job_of, plan_of

from planner.output.plan import Plan
from planner.turning.model import BallPlan


def first_of_usual(plan: BallPlan) -> float:
    """The first pass over the deepest of the rest."""
    rough = [one.depth_mm for one in plan.passes if one.cut.taken.kind == "rough"]
    return rough[0] / max(rough[1:]) if len(rough) > 1 else 1.0


def test_no_first_pass_takes_next_to_nothing(plan: Plan) -> None:
    # it would be a swing of half a minute for a speck; the next takes it along
    for one in plan.turned.balls:
        assert 0.1 <= first_of_usual(one) <= 1.15, one.ball.name


@pytest.mark.parametrize("depth", [0.1, 0.2, 0.22])
def test_a_depth_that_the_job_gives_is_kept_by_the_first_pass_too(depth: float) -> None:
    ball = {"diameter": 28, "blank_diameter": 32, "depth_of_cut": depth}
    plan = plan_of(job_of(ball))
    assert max(one.depth_mm for one in plan.passes) <= depth + 1e-9
