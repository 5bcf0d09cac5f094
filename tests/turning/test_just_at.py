"""What is just at a limit keeps it, what is a little beyond does not; and what holds along a range.

Rounding decides nothing: sizes that meet exactly count as meeting, and no step, cylinder or division is
made of what floats lose.
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf, pi, radians, sqrt
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace
from turned import NOSE_MM, coarse_job, job_of, plan_of, shares, sizes_of, turned_of

from parts.attachment import Carrier, attachment
from planner.checking.strength import cutting_load, deflection_mm, overhangs
from planner.geometry.envelope import Edge
from planner.turning.findings import ball_findings, hollow_findings
from planner.turning.hand import hand_room_mm
from planner.turning.head import Head, designed_head
from planner.turning.limits import (
    Limits,
    depths,
    finish_divisions,
    limits_of,
    speeds_for,
    spring_mm_per_N,
)
from planner.turning.model import BallPlan, SocketPlan
from planner.turning.plan import ball_works
from planner.turning.roughing import Step

BALL: dict[str, object] = {"diameter": 40, "blank_diameter": 42}


def told(plan: BallPlan, job: Any) -> set[str]:
    return {one.code for one in ball_findings(plan, sizes_of(job), job, "job.toml")}


# ---- findings ----


def at_rate(plan: BallPlan, deg_per_s: float) -> BallPlan:
    """All its passes swung so fast, at 60 turns a minute."""
    passes = tuple(
        replace(one, cut=replace(one.cut, rev_min=60.0, deg_per_turn=deg_per_s))
        for one in plan.passes
    )
    return replace(plan, passes=passes)


@pytest.mark.parametrize(
    ("code", "row", "change", "just", "beyond"),
    [
        # a quarter of a turn in 180 s is half a degree a second
        ("slow-swing", {}, at_rate, 0.5, 0.4999),
        # metal over the ball: none at all is told, a hundredth of a thousandth is some
        (
            "thin-blank",
            {},
            lambda plan, mm: replace(plan, roughing=replace(plan.roughing, least_mm=mm)),
            1e-5,
            1e-7,
        ),
        # by Pythagoras: 12 behind the centre of a ball of radius 20 it is 16 thick about the axis
        (
            "hole-neck",
            {"hole": 6, "hole_depth": 32, "stem_length": 30, "stem_diameter": 14},
            lambda plan, mm: replace(plan, hole=replace(plan.hole, drill_mm=2 * mm)),
            16.0 - 0.5,
            16.0 - 0.49,
        ),
        (
            "parting-reach",
            {},
            lambda plan, mm: replace(
                plan,
                roughing=replace(plan.roughing, steps=(Step(1, "neck", 30.0, 40.0, 9.0, 4.5, mm),)),
            ),
            24.0,
            24.001,
        ),
    ],
)
def test_a_finding_is_told_beyond_its_limit_only(
    code: str,
    row: dict[str, object],
    change: Callable[[BallPlan, float], BallPlan],
    just: float,
    beyond: float,
) -> None:
    job = coarse_job(BALL | row)
    plan = plan_of(job)
    assert code not in told(change(plan, just), job)
    assert code in told(change(plan, beyond), job)


def test_what_is_left_of_a_wall_is_said_and_none_where_there_is_none() -> None:
    job = coarse_job(BALL | {"hole": 6, "hole_depth": 32, "stem_length": 30, "stem_diameter": 14})
    plan = plan_of(job)
    assert plan.hole is not None
    for wall, said in ((0.3, "0.3 mm"), (0.0, "0 mm"), (-2.0, "0 mm")):
        drilled = replace(plan, hole=replace(plan.hole, drill_mm=2 * (16.0 - wall)))
        (found,) = [
            one
            for one in ball_findings(drilled, sizes_of(job), job, "job.toml")
            if one.code == "hole-neck"
        ]
        assert f"leaves {said} of metal about it 12 mm behind the centre" in found.text
    second = plan_of(coarse_job(BALL))
    assert second.second is not None
    for clear, said in ((1.5, "1.5 mm"), (-3.0, "0 mm")):
        near = replace(second, second=replace(second.second, clear_mm=clear))
        told_of = {one.code: one for one in ball_findings(near, sizes_of(job), job, "job.toml")}
        assert f"what swings comes within {said} of the" in told_of["second-holding"].text


def test_a_taper_goes_in_as_few_lengths_as_the_travel_lets() -> None:
    row = {"shape": "taper handle", "diameter": 36, "stem_length": 120, "large_diameter": 20}
    job = coarse_job(row)
    plan = plan_of(job)
    for travel, lengths in ((60.0, 2), (59.9, 3), (40.0, 3), (119.9, 2)):
        lathe = job.lathe.model_copy(update={"top_slide_travel": travel})
        there = job.model_copy(update={"lathe": lathe})
        found = ball_findings(plan, sizes_of(job), there, "job.toml")
        (said,) = [one for one in found if one.code == "taper-length"]
        assert f"in {lengths} lengths" in said.text


@pytest.mark.parametrize("stem", [60.0, 120.0])
def test_how_far_the_blank_sticks_out_is_said_from_the_jaws(stem: float) -> None:
    job = coarse_job(BALL | {"stem_length": stem, "stem_diameter": 14})
    plan = plan_of(job)
    (said,) = [f for f in turned_of(job).findings if f.code == "stick-out"] or [None]
    # four diameters without a centre, 42 mm thick (common practice: three to four)
    ratio = plan.blank_length_mm / 42.0
    assert (said is None) is (ratio <= 4.0), ratio
    if said is not None:
        assert f"{ratio:.1f} of its diameters" in said.text


HOLLOW: dict[str, object] = {"shape": "socket", "diameter": 160, "depth": 3, "blank_diameter": 50}


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("socket-radius", lambda plan, by: replace(plan, least_mm=plan.ball.radius_mm + by)),
        ("socket-radius", lambda plan, by: replace(plan, greatest_mm=plan.ball.radius_mm - by)),
        ("socket-depth", lambda plan, by: replace(plan, deepest_mm=plan.shape.depth_mm - by)),
        (
            "socket-mouth",
            lambda plan, by: replace(
                plan, ball=replace(plan.ball, blank_mm=2 * plan.shape.mouth_radius_mm - by)
            ),
        ),
    ],
)
def test_a_hollow_just_within_reach_is_not_refused(
    code: str, change: Callable[[SocketPlan, float], SocketPlan]
) -> None:
    job = job_of(HOLLOW)
    (plan,) = turned_of(job).sockets
    head = designed_head(attachment(sizes_of(job)), job, NOSE_MM)

    def codes(by: float) -> set[str]:
        return {one.code for one in hollow_findings(change(plan, by), head, job, "job.toml")}

    assert code not in codes(0.0) and code in codes(1e-3)


def test_a_hollow_at_all_its_bounds_has_passes() -> None:
    # as deep as the bit stands out less the clearance, as wide as its blank, of the least radius
    s = sizes_of(job_of(HOLLOW))
    deep = s.bit_stickout_mm - s.clearance_mm
    radius = s.tip_radius_min_mm + s.arm_stock.height_mm + 2 * s.bit_stickout_mm + deep
    mouth = 2 * sqrt(deep * (2 * radius - deep))
    row = {"shape": "socket", "diameter": 2 * radius, "depth": deep, "blank_diameter": mouth}
    for change, good in (
        ({}, True),
        ({"depth": deep + 1e-3, "diameter": 2 * radius + 0.1}, False),
        ({"diameter": 2 * radius - 2e-3}, False),
        ({"blank_diameter": mouth - 1e-3}, False),
    ):
        (plan,) = turned_of(job_of(row | change)).sockets
        assert bool(plan.passes) is good, change


def test_a_hand_between_chuck_and_slide_has_no_room_where_it_is_in_both() -> None:
    rod = Edge("knob", Carrier.BODY, -90.0, -10.0, 30.0, 0.0)
    lathe = coarse_job(BALL).lathe.model_copy(
        update={"spindle_over_cross_slide": 95.0, "chuck_diameter": 100.0}
    )
    assert hand_room_mm([rod], (180.0, 180.0), 10.0, lathe) == (0.0, "chuck")


# ---- limits ----


def head_and_limits(**changes: Any) -> tuple[Head, Limits]:
    job = coarse_job(BALL, **changes)
    head = designed_head(attachment(sizes_of(job)), job, NOSE_MM)
    (ball,) = ball_works(head, job)
    return head, limits_of(ball, head, job, 0.0, 3.0)


def test_the_tips_spring_is_that_of_the_parts_at_every_radius() -> None:
    s = sizes_of(coarse_job(BALL))
    head, _ = head_and_limits()
    load = cutting_load(0.1, 0.1, NOSE_MM, "C45")
    for low, high, rel in ((8.0, 40.0, 1e-2), (20.0, 23.0, 1e-3), (15.0, 15.0, 1e-12)):
        tips = np.linspace(low, high, 13)
        for tip, found in zip(tips, spring_mm_per_N(head, tips), strict=True):
            by_parts = deflection_mm(s, load, float(tip)) / load.passive_N
            assert found == pytest.approx(by_parts, rel=rel), (low, high, tip)


def test_a_pass_at_a_limit_of_whole_divisions_is_had() -> None:
    # 0.02 a division: 0.3 mm are fifteen; what a hundredth of a division less lets be is fourteen
    head, limits = head_and_limits()
    tips = np.array([20.5])
    for key in ("pinned_mm", "deepest_mm"):
        free = replace(limits, pinned_mm=inf, deepest_mm=5.0, grip_N=1e6, main_N=1e6, hand_Nm=1e6)
        for mm, most in ((0.3, 15), (0.2998, 14), (0.06, 3)):
            may = depths(replace(free, **{key: mm}), head, tips, np.array([50.0]), 0.02)
            assert may.most[0] == most
            if key == "deepest_mm":
                assert len(may.main_N) > most  # its power can be looked up
    for wanted, pinned, count in (
        (0.3, inf, 15),
        (0.2998, inf, 14),
        (0.5, 0.3, 15),
        (0.01, inf, 1),
    ):
        strong = replace(limits, pinned_mm=pinned, grip_N=1e6)
        assert finish_divisions(strong, head, 20.0, wanted, 1e-4, None, 0.02)[0] == count


def test_a_listed_speed_just_at_a_limit_is_had() -> None:
    _, limits = head_and_limits()
    listed = (100.0, 200.0, 400.0, 800.0)
    slow = replace(limits, low_m_min=1.0, high_m_min=400 * pi * 40 / 1000, most_rev_min=inf)

    def fastest(limits: Limits, feed_mm: float = 0.02) -> tuple[float, str]:
        last = speeds_for(limits, listed, 40.0, 20.0, feed_mm)[-1]
        return last.rev_min, last.by

    assert fastest(slow) == (400.0, "the cutting speed")
    assert fastest(replace(slow, high_m_min=0.9999 * slow.high_m_min)) == (
        200.0,
        "the cutting speed",
    )
    fast = replace(slow, high_m_min=1e6)
    assert fastest(replace(fast, most_rev_min=400.0)) == (400.0, "the chuck's own limit")
    assert fastest(replace(fast, most_rev_min=399.0)) == (200.0, "the chuck's own limit")
    assert fastest(fast) == (800.0, "the lathe's fastest")
    # 18 degrees a second: feed / R in radians a turn, at 200 turns a minute on a radius of 20
    feed = radians(18.0) * 20.0 * 60 / 200
    assert fastest(fast, feed * 1.0001) == (200.0, "the hand's swing")
    assert fastest(fast, feed * 0.9999) == (400.0, "the hand's swing")
    # the slowest is there whatever it cuts
    assert fastest(replace(slow, high_m_min=1e-3)) == (100.0, "the cutting speed")
    assert fastest(replace(fast, most_rev_min=50.0)) == (100.0, "the chuck's own limit")


@pytest.mark.parametrize(("stem", "centre"), [(10.0, False), (150.0, True)])
def test_depth_and_speed_are_less_by_how_far_the_work_stands_out(
    stem: float, centre: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    given: list[float] = []

    def noted(*args: Any) -> Limits:
        given.append(args[-1])
        return limits_of(*args)

    monkeypatch.setattr("planner.turning.ball.limits_of", noted)
    row = {
        "diameter": 24,
        "blank_diameter": 26,
        "stem_diameter": 9,
        "stem_length": stem,
        "name": "y",
    }
    job = coarse_job(row, **({"turning.tailstock_centre": CENTRE} if centre else {}))
    plan, s = plan_of(job), sizes_of(job)
    # out of the jaws over its thickness, half of it where a centre bears the other end
    ratio = plan.blank_length_mm / 26.0 / (2 if centre else 1)
    assert given[-1] == pytest.approx(max([ratio] + [one.ratio for one in overhangs(s)]))
    deepest = 0.25 * s.bit_stock.width_mm * shares(given[-1])[0]
    assert max(one.depth_mm for one in plan.passes) <= deepest + 1e-9


CENTRE = {"diameter": 12, "point_length": 12}
