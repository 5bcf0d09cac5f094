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
    # it would be a swing of half a minute for a speck: the corners are roughed that much lower
    for one in plan.turned.balls:
        assert first_of_usual(one) >= 0.2, one.ball.name


@pytest.mark.parametrize("across", [26, 38])
def test_corners_are_roughed_lower_where_that_saves_a_pass(
    across: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    ball = {"diameter": across, "blank_diameter": across + 2}
    lower = plan_of(job_of(ball))
    monkeypatch.setattr("planner.turning.ball.SPECK", 0.0)
    plain = plan_of(job_of(ball | {"name": "plain"}))
    # without it one more pass came first that takes a speck: a twentieth of a millimetre or so
    assert len(plain.passes) == len(lower.passes) + 1 and plain.passes[0].depth_mm < 0.1
    assert lower.seconds < plain.seconds
    taken = plain.roughing.greatest_mm - lower.roughing.greatest_mm
    assert taken >= plain.passes[0].depth_mm - 1e-9
    # every pass, the first too, keeps the limits: no deeper than the deepest of the others
    assert first_of_usual(lower) <= 1.0 + 1e-9
    # at most a stop or two of the carriage more
    assert len(lower.roughing.steps) - len(plain.roughing.steps) in (0, 1, 2)


def test_a_pitch_or_a_number_of_passes_that_the_job_gives_is_let_be() -> None:
    ball = {"diameter": 40, "blank_diameter": 42}
    pitched = plan_of(job_of(ball, **{"turning.roughing_pitch": 2.0}))
    stops = [step.to_mm for step in pitched.roughing.steps if step.side == "nose"]
    assert stops and all(mm / 2.0 == pytest.approx(round(mm / 2.0)) for mm in stops)
    asked = plan_of(job_of(ball | {"rough_passes": 6}))
    assert sum(one.cut.taken.kind == "rough" for one in asked.passes) == 6
    assert asked.roughing.greatest_mm >= 0.5 + 20.0 / 12 - 0.02  # not lowered: corners of a twelfth


@pytest.mark.parametrize("depth", [0.1, 0.2, 0.22])
def test_a_depth_that_the_job_gives_is_kept_by_the_first_pass_too(depth: float) -> None:
    ball = {"diameter": 28, "blank_diameter": 32, "depth_of_cut": depth}
    plan = plan_of(job_of(ball))
    assert max(one.depth_mm for one in plan.passes) <= depth + 1e-9
