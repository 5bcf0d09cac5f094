"""What is decided for one ball besides its passes, each rule by hand and its bound from both sides."""

from __future__ import annotations

from math import asin, atan2, ceil, cos, degrees, hypot, pi, radians, sin, sqrt
from typing import Any

import numpy as np
import pytest
from jobs import changed
from msgspec.structs import replace
from turned import NOSE_MM, coarse_job, codes_of, plan_of, sizes_of, swung, turned_of

from parts.attachment import Carrier, attachment
from planner.checking.strength import cutting_load, deflection_mm
from planner.geometry.envelope import Edge, swinging_outlines
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.turning.findings import ball_findings, hand_findings
from planner.turning.hand import hand_room_mm
from planner.turning.model import BallPlan
from planner.turning.second import Swinging
from planner.words.findings import BadInput

BALL: dict[str, object] = {"diameter": 40, "blank_diameter": 42}


def told(plan: BallPlan, job: Job) -> set[str]:
    return {one.code for one in ball_findings(plan, sizes_of(job), job, "job.toml")}


def springs(plan: BallPlan) -> int:
    return sum(1 for one in plan.passes if one.cut.taken.kind == "spring")


# Spring passes


def test_one_spring_pass_two_where_the_second_still_cuts_none_where_metal_hardens() -> None:
    # a tenth of a cut's spring is left by a pass more, and a chip is five thousandths at the least
    # (common practice): a second only from 0.05 of spring on
    assert springs(plan_of(coarse_job(BALL))) == 1
    thin = {"diameter": 30, "blank_diameter": 31, "material": "C45"}
    seen = set()
    for stem in (11, 4):
        job = coarse_job(thin | {"stem_diameter": stem}, **{"attachment.dial_divisions": 4})
        plan, s = plan_of(job), sizes_of(job)
        finish = next(one for one in plan.passes if one.cut.taken.kind == "finish")
        load = cutting_load(finish.depth_mm, finish.cut.feed_mm, NOSE_MM, "C45")
        sprung = deflection_mm(s, load, 15.0) + plan.bends_mm_per_N * load.passive_N
        assert springs(plan) == (2 if 0.1 * sprung >= 0.005 else 1)
        seen.add(springs(plan))
    assert seen == {1, 2}
    # no edge may rub stainless steel: it hardens (common practice)
    assert springs(plan_of(coarse_job(BALL | {"material": "304"}))) == 0
    own = {"turning.spring_passes": 3}
    assert springs(plan_of(coarse_job(BALL | {"material": "304"}, **own))) == 3
    assert springs(plan_of(coarse_job(BALL, **{"turning.spring_passes": 0}))) == 0


def test_the_last_cut_is_lighter_where_the_tip_would_spring_farther_than_the_tolerance() -> None:
    # half of it is of the radius; the spring at twice the feed is held to that
    wide = {"turning.finish_depth": 0.4, "turning.finish": 0.01, "attachment.dial_divisions": 50}
    depths = []
    for tolerance in (0.2, 0.02, 0.01):
        job = coarse_job(BALL | {"material": "C45", "tolerance": tolerance}, **wide)
        plan, s = plan_of(job), sizes_of(job)
        finish = next(one for one in plan.passes if one.cut.taken.kind == "finish")
        load = cutting_load(finish.depth_mm, 2 * finish.cut.feed_mm, NOSE_MM, "C45")
        sprung = deflection_mm(s, load, 20.0) + plan.bends_mm_per_N * load.passive_N
        assert sprung <= min(0.05, tolerance / 2) * (1 + 1e-6)
        depths.append(finish.depth_mm)
    assert depths[0] > depths[1] > depths[2]


# Holes


def test_a_thread_without_a_depth_is_one_and_a_half_diameters() -> None:
    # common practice; M6 has a pitch of 1 (ISO 724), three of them for the tap's lead: 9 and 12 mm
    hole = plan_of(coarse_job(BALL | {"thread": "M6"})).hole
    assert hole is not None and (hole.tap_depth_mm, hole.depth_mm) == (9.0, 12.0)
    assert hole.drill_mm == pytest.approx(5.0)
    own = plan_of(coarse_job(BALL | {"thread": "M6", "hole_depth": 14})).hole
    assert own is not None and (own.tap_depth_mm, own.depth_mm) == (14.0, 17.0)
    plain = plan_of(coarse_job(BALL | {"hole": 6.5})).hole
    assert plain is not None and (plain.drill_mm, plain.depth_mm) == (6.5, None)


@pytest.mark.parametrize("chuck", [60, 100])
def test_a_hole_waits_for_the_touches_where_the_tailstock_reaches_past_the_head(chuck: int) -> None:
    # the tip stands at its stem side: the farthest toward the tailstock of all that swings within the
    # chuck's radius of the spindle, less the ball's half, and the clearance
    base = {"lathe.chuck_diameter": chuck}
    job = coarse_job(BALL | {"thread": "M6"}, **base)
    plan, s = plan_of(job), sizes_of(job)
    outlines = [
        one
        for one in swinging_outlines(attachment(s))
        if max(edge.x_high_mm for edge in one) > -chuck / 2
    ]
    end = plan.clearance.end_deg
    far = max(along.max() for _, along, _ in swung(outlines, (20.0, plan.first_mm), (end, end)))
    needed = far - 20.0 + s.clearance_mm
    for reach, order in ((needed + 0.05, "after"), (needed - 0.05, "before"), (None, "before")):
        hole = plan_of(
            coarse_job(BALL | {"thread": "M6"}, **base, **{"lathe.tailstock_reach": reach})
        ).hole
        assert hole is not None and hole.order == f"{order} the touches"
        # beside a hole the tip touches 2 mm outside its widest
        assert hole.ring_mm == (0.0 if order == "after" else 5.0)


# Blanks and handles


def test_a_longer_stem_sticks_out_farther() -> None:
    short, long = (plan_of(coarse_job(BALL | {"stem_length": mm})) for mm in (5, 200))
    assert long.blank_length_mm > short.blank_length_mm + 100.0
    # 200 behind the shoulder root(20^2 - 7^2), the blade of 3 and 3 mm off the jaws
    assert long.part_off_mm == pytest.approx(sqrt(20**2 - 7**2) + 200.0)
    assert long.blank_length_mm == pytest.approx(20.0 + long.part_off_mm + 3.0 + 3.0)
    assert {f.code for f in turned_of(coarse_job(BALL | {"stem_length": 200})).findings} >= {
        "stick-out"
    }


@pytest.mark.parametrize(("large", "good"), [(42.0, True), (42.1, False)])
def test_a_handle_no_thicker_than_its_blank(large: float, good: bool) -> None:
    row = {"name": "x", "shape": "taper handle", "stem_length": 90, "large_diameter": large} | BALL
    if good:
        assert job_from(changed(ball=[row]), "job.toml").ball[0].large_diameter == large
        return
    with pytest.raises(BadInput) as refused:
        job_from(changed(ball=[row]), "job.toml")
    assert [finding.code for finding in refused.value.findings] == ["taper-handle"]


@pytest.mark.parametrize(
    ("shape", "corners"), [("round", 40.0), ("square", 40 * 2**0.5), ("hexagon", 80 / 3**0.5)]
)
def test_a_bar_that_is_not_round_is_met_at_its_corners(shape: str, corners: float) -> None:
    row = {"diameter": 38, "blank_diameter": 40, "blank_shape": shape}
    plan = plan_of(
        coarse_job(row, **{"attachment.max_blank_diameter": 60, "lathe.post_farthest": 200})
    )
    assert plan.corner_mm == pytest.approx(hypot(19.0, corners / 2))
    (body,) = [step for step in plan.roughing.steps if step.side == "body"]
    assert body.infeed_mm == pytest.approx(corners / 2 - body.radius_mm)  # from the corners in
    assert plan.clearance.ball.blank_mm == pytest.approx(corners)


@pytest.mark.parametrize(("skin", "good"), [(0.9, True), (1.0, True), (1.01, False)])
@pytest.mark.parametrize("shape", ["round", "square"])
def test_no_ball_larger_than_the_sound_metal_under_the_skin(
    skin: float, good: bool, shape: str
) -> None:
    wide = {"attachment.max_blank_diameter": 62, "lathe.post_farthest": 200}
    row = BALL | {"skin": skin, "blank_shape": shape}
    found = turned_of(coarse_job(row, **wide))
    assert ("skin" in {f.code for f in found.findings if f.severity == "refused"}) is not good
    assert len(found.balls) == int(good)


@pytest.mark.parametrize(("deep", "good"), [(24.0, True), (24.1, False)])
def test_a_parting_blade_stands_out_by_eight_of_its_widths(deep: float, good: bool) -> None:
    # common practice; a blade 3 wide goes 24 deep: from the blank of 62 to a stem of 14
    job = coarse_job(BALL)
    plan = plan_of(job)
    steps = tuple(
        replace(step, infeed_mm=deep) if step.side == "neck" else step
        for step in plan.roughing.steps
    )
    assert ("parting-reach" in told(with_steps(plan, steps), job)) is not good
    wider = coarse_job(BALL, **{"turning.roughing_width": 4.0})
    assert "parting-reach" not in told(with_steps(plan, steps), wider)


def with_steps(plan: BallPlan, steps: tuple[Any, ...]) -> BallPlan:
    return replace(plan, roughing=replace(plan.roughing, steps=steps))


def test_the_deepest_plunge_is_from_the_blank_to_the_neck() -> None:
    plan = plan_of(coarse_job(BALL | {"stem_diameter": 14}))
    assert max(step.infeed_mm for step in plan.roughing.steps if step.parted) == 14.0


@pytest.mark.parametrize(("travel", "good"), [(120.0, True), (119.9, False)])
def test_a_taper_longer_than_the_top_slide_goes_is_turned_in_lengths(
    travel: float, good: bool
) -> None:
    row = {"shape": "taper handle", "diameter": 36, "stem_length": 120, "large_diameter": 20}
    found = turned_of(coarse_job(row, **{"lathe.top_slide_travel": travel})).findings
    said = [one for one in found if one.code == "taper-length"]
    assert (not said) is good
    assert all("2 lengths" in one.text for one in said)


# The second holding


@pytest.mark.parametrize(
    ("row", "jaws", "holding"),
    [
        ({"thread": "M6"}, True, "threaded stub"),
        ({"hole": 6}, True, "soft jaws"),
        ({}, True, "soft jaws"),
        ({}, False, "cup"),
        ({"thread": "M6", "second_holding": "cup"}, True, "cup"),
        ({"second_holding": "soft jaws"}, False, "soft jaws"),
    ],
)
def test_how_a_ball_without_a_stem_is_held(
    row: dict[str, object], jaws: bool, holding: str
) -> None:
    second = plan_of(coarse_job(BALL | row, **{"lathe.soft_jaws": jaws})).second
    assert second is not None and second.holding == holding
    # past where the first holding ended by ten degrees, by the same last cut
    assert second.to_deg == pytest.approx(second.blend_deg + 10.0)
    assert second.passes[-1].cut.taken.divisions == second.passes[-1].cut.taken.turns == 0
    if holding != "threaded stub":
        # the mouth a tenth of the radius past the middle: the ball cannot come out
        assert second.mouth_diameter_mm / 2 == pytest.approx(sqrt(20**2 - 2**2))


@pytest.mark.parametrize("row", [{"stem_length": 30}, {"shape": "hemisphere"}])
def test_what_keeps_a_stem_or_has_no_back_is_held_once(row: dict[str, object]) -> None:
    assert plan_of(coarse_job(BALL | row)).second is None


def test_the_second_sweep_takes_the_stub_off_and_no_more() -> None:
    # a cylinder of the stub's radius from the ball's skin to its end, less the ball's cap inside it
    plan = plan_of(coarse_job(BALL | {"stem_diameter": 14}))
    second = plan.second
    assert second is not None
    high = 20.0 - sqrt(20.0**2 - 7.0**2)
    stub = pi * 7.0**2 * (high + 1.0) - pi * high**2 * (60.0 - high) / 3
    assert sum(one.cut.removed_mm3 for one in second.passes) == pytest.approx(stub, rel=1e-9)
    assert second.first_mm == pytest.approx(hypot(7.0, 21.0))


@pytest.mark.parametrize("row", [BALL, {"diameter": 26, "blank_diameter": 28}])
def test_what_swings_clears_the_second_holding_by_what_is_said(row: dict[str, object]) -> None:
    job = coarse_job(row, **{"lathe.soft_jaws": True})
    plan, s = plan_of(job), sizes_of(job)
    second = plan.second
    assert second is not None
    nearest = min(
        float(along[over < second.outside_mm / 2 + s.clearance_mm].min(initial=np.inf))
        for _, along, over in swung(
            swinging_outlines(attachment(s)),
            (plan.ball.radius_mm, second.first_mm),
            (0.0, second.to_deg),
        )
    )
    # in front of the mouth, which stands past the equator toward the tip; felt for in quarters of a mm
    assert second.clear_mm == pytest.approx(nearest - second.mouth_mm, abs=0.3)


@pytest.mark.parametrize(("clear", "good"), [(2.0, True), (1.99, False)])
def test_a_second_holding_in_the_way_is_told(clear: float, good: bool) -> None:
    job = coarse_job(BALL)
    plan = plan_of(job)
    assert plan.second is not None
    near = replace(plan, second=replace(plan.second, clear_mm=clear))
    assert ("second-holding" in told(near, job)) is not good


@pytest.mark.parametrize(("part", "good"), [(1.0, True), (1.001, False)])
def test_a_ball_that_would_slip_in_its_jaws_is_told(part: float, good: bool) -> None:
    # friction 0.15 of 3 kN (from memory) at the ball's radius against the cut at the stub's
    job = coarse_job(BALL | {"stem_diameter": 14})
    plan = plan_of(job)
    second = plan.second
    assert second is not None
    assert second.slips_N == pytest.approx(0.15 * 3000.0 * 20.0 / 7.0)
    worst = max(one.load.main_N for one in second.passes)
    assert second.worst_N == pytest.approx(2 * worst)
    pushed = replace(plan, second=replace(second, worst_N=part * second.slips_N))
    assert ("second-slips" in told(pushed, job)) is not good
    # a thread screws itself home
    stub = plan_of(coarse_job(BALL | {"thread": "M6"})).second
    assert stub is not None and stub.slips_N == float("inf")


# Room for head and hand


@pytest.mark.parametrize(("high", "good"), [(54.0, True), (53.9, False)])
def test_a_hand_needs_forty_millimetres_round_the_knob(high: float, good: bool) -> None:
    # from memory; the knob, 28 across, hangs 14 under the spindle's height at the nose
    job = coarse_job(BALL)
    plan, s = plan_of(job), sizes_of(job)
    swinging = Swinging(swinging_outlines(attachment(s)))
    far = min(edge.x_low_mm for edge in swinging.edges)
    (below,) = {abs(edge.z_mm) for edge in swinging.edges if edge.x_low_mm == far}
    assert below == pytest.approx(14.0)
    lathe = job.lathe.model_copy(update={"spindle_over_cross_slide": high})
    near = job.model_copy(update={"lathe": lathe})
    found = list(hand_findings(plan, swinging, near, "job.toml"))
    assert [one.code for one in found] == ([] if good else ["hand-room"])
    assert all("cross slide" in one.text for one in found)


def test_a_wide_chuck_near_the_knob_is_told() -> None:
    job = coarse_job(BALL)
    plan, s = plan_of(job), sizes_of(job)
    swinging = Swinging(swinging_outlines(attachment(s)))
    far = min(edge.x_low_mm for edge in swinging.edges)
    knob = [edge for edge in swinging.edges if edge.x_low_mm == far]
    # at the stem side the knob goes so far toward the jaws as its corner is out, past straight back
    end = radians(plan.sweep.end_deg)
    deep = max(-edge.y_mm * cos(a) - edge.z_mm * sin(a) for edge in knob for a in (end, end - 0.02))
    beside = -max(edge.x_high_mm for edge in knob)
    jaws = plan.blank_length_mm - 20.0
    assert (
        jaws < deep
    )  # it swings by in front of the chuck's face, so only the chuck's radius keeps it
    for chuck, good in ((2 * (beside - 40.1), True), (2 * (beside - 39.9), False)):
        wide = job.lathe.model_copy(update={"chuck_diameter": chuck})
        found = list(
            hand_findings(plan, swinging, job.model_copy(update={"lathe": wide}), "job.toml")
        )
        assert [one.code for one in found] == ([] if good else ["hand-room"])


def test_a_handle_that_the_head_runs_into_is_told_from_where_it_does() -> None:
    job = coarse_job(BALL | {"stem_length": 60, "stem_diameter": 14})
    plan = plan_of(job)
    assert "stem-fouled" not in told(plan, job)
    # the room's own step: a piece as thick as it from its end on clears, a tenth more does not
    room = plan.room
    level = next(
        k for k in range(len(room.radii_mm) - 2, 0, -1)
        if room.from_mm[k] < room.from_mm[k + 1] < plan.behind.end_mm
    )  # fmt: skip
    stop, clears = room.from_mm[level + 1], room.radii_mm[level]
    long = stop - plan.behind.shoulder_mm
    for over, good in ((0.02, True), (0.2, False)):
        # a taper that has just this thickness where the room's next step begins
        rise = (clears + over - 7.0) / long * plan.behind.length_mm
        piece = replace(plan.behind, large_mm=2 * (7.0 + rise))
        found = told(replace(plan, behind=piece, room=only(plan, level)), job)
        assert ("stem-fouled" in found) is not good


def only(plan: BallPlan, level: int) -> Any:
    """A room with a single step in it: up to where the next begins all else clears."""
    room = plan.room
    return replace(
        room,
        radii_mm=(room.radii_mm[level], room.radii_mm[-1]),
        from_mm=(room.from_mm[0], room.from_mm[level + 1]),
    )


def test_one_division_that_no_limit_lets_be_is_said() -> None:
    coarse = {"attachment.dial_divisions": 4, "turning.clamp_torque": 0.2}
    job = coarse_job(BALL | {"material": "C45"}, **coarse)
    plan = plan_of(job)
    load = cutting_load(0.25, 0.16, NOSE_MM, "C45")
    assert plan.passes[0].load.passive_N * plan.passes[0].grip_factor / load.passive_N < 2.0
    assert plan.over and "pass-depth" in codes_of(job)
    assert "pass-depth" not in codes_of(coarse_job(BALL))


def test_measuring_keeps_off_the_neck_and_ends_at_the_equator() -> None:
    plan = plan_of(coarse_job(BALL))
    # an anvil 6.4 mm wide (from memory) has its edge on the stem where R sin a - 3.2 cos a is its
    # radius: a = asin(stem / root(R^2 + 3.2^2)) + atan(3.2 / R)
    ball = plan.ball
    half = hypot(ball.radius_mm, 3.2)
    anvil = degrees(asin(ball.stem_mm / 2 / half)) + degrees(atan2(3.2, ball.radius_mm))
    low = ceil(max(180.0 - plan.clearance.end_deg + 5.0, anvil + 0.5))
    assert plan.measure_deg[0] == low and plan.measure_deg[-1] == 90.0
    assert len(plan.measure_deg) == 5
    # the anvil across the centre stands on the ball where the tip has been
    assert 20.0 * sin(radians(low)) > 7.0


def test_the_hands_room_by_a_right_triangle() -> None:
    # a rod 30 out along the tip and 40 toward the tailstock with the tip on top; at the nose the tip
    # points along the spindle, and the rod hangs 40 under it
    rod = Edge("knob", Carrier.BODY, -90.0, -80.0, 30.0, 40.0)
    lathe = coarse_job(BALL).lathe.model_copy(
        update={"spindle_over_cross_slide": 95.0, "chuck_diameter": 100.0}
    )
    assert hand_room_mm([rod], (0.0, 0.0), 500.0, lathe) == (pytest.approx(55.0), "cross slide")
    # at 90 it is 40 toward the tailstock; at 180 it stands 30 toward the jaws, and over the spindle
    room, near = hand_room_mm([rod], (180.0, 180.0), 60.0, lathe)
    assert (room, near) == (pytest.approx(hypot(80.0 - 50.0, 60.0 - 30.0)), "chuck")
    room, near = hand_room_mm([rod], (90.0, 90.0), 5.0, lathe)
    assert (room, near) == (pytest.approx(hypot(30.0, 45.0)), "chuck")
