"""Turning a job's balls: the plan's figures against closed forms, tables and facts of the trade."""

from __future__ import annotations

import json
from math import atan, degrees, floor, hypot, pi, radians, sin, sqrt
from xml.etree import ElementTree

import pytest
from commands import call
from jobs import ROOT, changed
from msgspec.structs import replace
from turned import KNOB, JobWith, job_of, plan_of, turned_of

from parts.attachment import attachment
from parts.standard.materials import material
from parts.standard.speeds import speed_m_min
from planner.checking.clearance import clearances
from planner.checking.strength import (
    LEAST_GRIP,
    clamp_hold,
    cutting_load,
    deflection_links,
    deflection_mm,
)
from planner.checking.sweep_findings import clearance_findings
from planner.job.reading import job_from
from planner.output.pictures.turning import error_svg, turning_svg
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.turning.plan import ball_works
from planner.words.findings import BadInput

WIDE = {"lathe.chuck_diameter": 160}
"""A chuck so wide that the tail meets it: a small ball must then stand far out."""


# Geometry and volumes


def test_roughing_and_passes_take_the_blank_less_ball_and_stem(job_with: JobWith) -> None:
    # closed forms (any handbook): a cylinder; a sphere less the cap that the stem stands in; the stem
    sharp = {"turning.roughing_corner": 0}
    fine = {f"lathe.{slide}_division": 0.001 for slide in ("carriage", "cross_slide")}
    plan = plan_of(job_with(ball=[KNOB], **sharp, **fine))
    (neck_step,) = [step for step in plan.roughing.steps if step.side == "neck"]
    groove = neck_step.to_mm - 20.0
    assert neck_step.diameter_mm == pytest.approx(14.0)
    neck = sqrt(20.0**2 - 7.0**2)
    high = 20.0 - neck
    ball = 4 / 3 * pi * 20**3 - pi * high**2 * (3 * 20 - high) / 3
    kept = ball + pi * 7.0**2 * (groove - neck)
    wall = groove
    for step in sorted(plan.roughing.steps, key=lambda step: step.to_mm):
        if step.side == "behind":  # a step of the staircase from where the one before it ends
            kept += pi * step.radius_mm**2 * (step.to_mm - 20.0 - wall)
            wall = step.to_mm - 20.0
    assert wall > groove + 5.0
    blank = pi * 21.0**2 * (20.0 + wall)
    taken = plan.roughing.removed_mm3 + sum(one.cut.removed_mm3 for one in plan.passes)
    # the stop at the neck leaves a sliver of the roughing's last step beside the stem
    assert 0.0 <= blank - kept - taken < 3e-4 * taken


def test_the_tip_starts_outside_the_work_and_comes_down_to_the_ball(plan: Plan) -> None:
    for one in plan.turned.balls:
        radius = one.ball.radius_mm
        corners = [
            hypot(part.radius_mm, z)
            for part in one.roughing.profile
            for z in (part.z_from_mm, part.z_to_mm)
            if z > -radius
        ]
        assert one.first_mm >= max(corners) - 1e-6
        assert one.first_mm < one.corner_mm  # so that the swing tool takes little
        radii = [p.cut.taken.radius_mm for p in one.passes if p.depth_mm]
        assert all(a > b for a, b in zip(radii, radii[1:], strict=False))
        assert radii[-1] == pytest.approx(radius)
        last = one.passes[-1].cut.taken
        assert (last.kind, last.turns, last.divisions) == ("spring", 0, 0)


def test_readings_are_of_radius_and_ten_divisions_of_a_millimetre_are_a_tenth_each(
    job_with: JobWith,
) -> None:
    # common practice: 1 mm pitch with ten divisions is 0.1 mm a division, twice that on the diameter
    job = job_with(**{"attachment.dial_divisions": 10, "ball": [KNOB], "turning.depth_of_cut": 0.4})
    plan = plan_of(job)
    for one in plan.passes:
        taken = one.cut.taken
        to_go = 0.1 * (10 * taken.turns + taken.divisions)
        assert taken.radius_mm == pytest.approx(20.0 + to_go)
    depths = [one.depth_mm / 0.1 for one in plan.passes[1:]]
    assert depths == pytest.approx([round(d) for d in depths])  # whole divisions


def test_set_up_figures(job_with: JobWith) -> None:
    job = job_with(ball=[KNOB])
    from planner.output.sheets.turn import turn_tables

    tables = turn_tables(turned_of(job), job)
    rows = {row["what"]: row for row in tables[0].records()}
    # half the diameter from the face sets the centre (common practice)
    assert rows["set-over"]["value"].startswith("20 mm")
    # work left 41 thick by roughing stands half a millimetre over the ball: 25 divisions of 0.02, so
    # the dial of 50, which grows to 0 at the ball, shows 25
    assert rows["dial zero"]["value"] == "at 25" and "41 mm" in rows["dial zero"]["how"]
    # the nose of 0.5 swings with its middle at 20.5 and stops 0.05 over the stem of 14
    shoulder = 20 * sqrt(1 - ((7 + 0.5 + 0.05) / 20.5) ** 2)
    assert f"{floor(10 * shoulder) / 10:g} mm behind" in rows["sweep"]["how"]
    assert "0.04" in rows["dial"]["how"]


@pytest.mark.parametrize(
    ("said", "carriage", "cross"),
    # a vernier caliper reads 0.05 (DIN 862), a carriage's dial is divided in tenths (common practice)
    [
        ({}, 0.05, 0.05),
        ({"lathe.carriage_division": 0.1, "lathe.cross_slide_division": 0.02}, 0.1, 0.02),
    ],
)
def test_no_reading_is_finer_than_what_shows_it(
    job_with: JobWith, said: dict[str, float], carriage: float, cross: float
) -> None:
    from planner.output.sheets.turn import turn_tables

    job = job_with(ball=[KNOB | {"thread": "M10"}], **said)
    plan = plan_of(job)
    steps = plan.roughing.steps
    stops = [step.from_mm if step.parted else step.to_mm for step in steps]
    rows = {row["what"]: row for row in turn_tables(turned_of(job), job)[0].records()}
    named = [rows[what]["value"] for what in ("carriage zero", "part off")]
    stops += [float(value.removeprefix("carriage ").removesuffix(" mm")) for value in named]
    assert [mm for mm in stops if abs(mm / carriage - round(mm / carriage)) > 1e-6] == []
    infeeds = [step.infeed_mm for step in steps]
    assert [mm for mm in infeeds if abs(mm / cross - round(mm / cross)) > 1e-6] == []


# Limits


def test_passes_keep_within_the_checks_limits(plan: Plan) -> None:
    for one in plan.turned.balls:
        assert one.passes and not one.over
        finish = next(cut for cut in one.passes if cut.cut.taken.kind == "finish")
        assert finish.deflection_mm <= 0.05  # what one more pass at the reading takes out
        for cut in one.passes:
            name, nose = one.ball.material, plan.nose_mm
            if cut.depth_mm:  # at twice the feed, for a hand swings unevenly
                worst = cutting_load(cut.depth_mm, 2 * cut.cut.feed_mm, nose, name)
                share = cut.load.passive_N / worst.passive_N
                assert cut.grip_factor * share >= LEAST_GRIP * (1 - 1e-9)
            if cut.cut.taken.kind == "rough":  # what springs away is still there to be taken
                to_go = cut.cut.taken.radius_mm - one.ball.radius_mm
                assert cut.deflection_mm <= to_go


def test_a_loose_clamp_makes_the_passes_light_and_says_so(job_with: JobWith) -> None:
    ball = [KNOB | {"material": "C45"}]
    free = plan_of(job_with(ball=ball))
    job = job_with(ball=ball, **{"turning.clamp_torque": 0.3})
    loose = plan_of(job)
    deepest = max(one.depth_mm for one in loose.passes)
    assert deepest < max(one.depth_mm for one in free.passes)
    assert loose.limited_by == "the clamp's grip"
    # at twice the feed, for a hand swings unevenly, one division more would pass the limit
    s = size_up(job, "job.toml").sizes
    for depth, holds in ((deepest, True), (deepest + 0.02, False)):
        load = cutting_load(depth, 2 * 0.08, 0.5, "C45")
        assert (clamp_hold(s, load, 0.3).factor >= LEAST_GRIP) is holds


def test_the_spindle_keeps_under_the_handbooks_speed(plan: Plan) -> None:
    for one in plan.turned.balls:
        group = material(one.ball.material).group
        most = speed_m_min("turn", plan.job.shop.tool_material, group).high_m_min
        for cut in one.passes:
            assert cut.cut.rev_min in plan.job.lathe.spindle_speeds
            surface = pi * cut.cut.across_mm * cut.cut.rev_min / 1000
            slowest = min(plan.job.lathe.spindle_speeds)
            assert surface <= most * 1.001 or cut.cut.rev_min == slowest


def test_finishing_leaves_no_more_than_the_ridges_asked_for(job_with: JobWith) -> None:
    # f^2 / 8 r (any textbook of metal cutting); on a ball the surface falls away, so no higher
    plan = plan_of(job_with(**{"ball": [KNOB], "turning.finish": 0.001}))
    finish = next(one for one in plan.passes if one.cut.taken.kind == "finish")
    assert finish.cut.feed_mm**2 / (8 * 0.5) <= 0.001
    # degrees a turn times the tip radius is the feed
    assert finish.cut.deg_per_turn * pi / 180 * 20.0 == pytest.approx(finish.cut.feed_mm)


def test_time_is_swing_over_rate_and_air_goes_faster(job_with: JobWith) -> None:
    plan = plan_of(job_with(ball=[KNOB]))
    spring = plan.passes[-1]
    low, high = spring.cut.swing_deg
    by_hand = (high - low) / spring.cut.deg_per_turn / spring.cut.rev_min * 60
    assert spring.seconds == pytest.approx(by_hand)
    first = plan.passes[0]
    low, high = first.cut.swing_deg
    # five times as fast where nothing is cut, a quarter turn in 5 s at most (common practice)
    rate = first.cut.deg_per_turn * first.cut.rev_min / 60
    cutting = sum(b - a for a, b in first.cut.arcs_deg)
    air = high - low - cutting
    assert air > 90.0
    assert first.seconds == pytest.approx(cutting / rate + air / min(18.0, 5 * rate))


# Kinds of ball


def test_a_taper_handle_is_set_over_by_half_its_taper() -> None:
    lever: dict[str, object] = {
        "shape": "taper handle", "diameter": 36, "stem_diameter": 13,
        "stem_length": 120, "large_diameter": 20,
    }  # fmt: skip
    behind = plan_of(job_of(lever)).behind
    assert behind.taper_deg == pytest.approx(degrees(atan(3.5 / 120)))  # 3.5 mm in 120
    # from the shoulder, where a stem of 13 meets the ball: root(18^2 - 6.5^2)
    assert behind.shoulder_mm == pytest.approx(sqrt(18**2 - 6.5**2))
    assert behind.end_mm - behind.shoulder_mm == pytest.approx(120.0)
    assert 2 * behind.radius_mm(behind.shoulder_mm + 60.0) == pytest.approx(16.5)
    # without a stem of its own: 0.35 of the ball, 12.6 mm
    plain = plan_of(job_of({k: v for k, v in lever.items() if k != "stem_diameter"}))
    assert plain.behind.taper_deg == pytest.approx(degrees(atan(3.7 / 120)))


def test_a_hemisphere_ends_at_its_equator(job_with: JobWith) -> None:
    plan = plan_of(job_with(ball=[{"name": "half", "diameter": 40, "shape": "hemisphere"}]))
    assert plan.passes[-1].cut.swing_deg[1] == pytest.approx(90.0)
    assert not [s for s in plan.roughing.steps if s.side in ("stem", "neck")]
    # blank in front of the equator less half a sphere, closed form
    taken = plan.roughing.removed_mm3 + sum(one.cut.removed_mm3 for one in plan.passes)
    assert taken == pytest.approx(pi * 20**2 * 20 - 2 / 3 * pi * 20**3, rel=1e-3)


def test_readings_keep_off_the_stem(plan: Plan) -> None:
    for one in plan.turned.balls:
        for angle in one.measure_deg:
            from math import radians, sin

            # either anvil stands the same distance from the spindle: beyond the stem
            assert one.ball.radius_mm * sin(radians(angle)) > one.ball.stem_mm / 2


# Findings


@pytest.mark.parametrize(
    ("row", "code", "severity"),
    [
        ({"diameter": 60}, "ball-size", "refused"),
        ({"diameter": 8}, "ball-size", "refused"),
        ({"diameter": 40, "blank_diameter": 80}, "beside-blank", "refused"),
        ({"diameter": 40, "stem_diameter": 6}, "sweep", "warning"),
        ({"diameter": 40}, "thin-blank", "note"),
        ({"diameter": 18}, "stick-out", "note"),
    ],
)
def test_what_does_not_go_is_told(
    job_with: JobWith, row: dict[str, object], code: str, severity: str
) -> None:
    found = turned_of(job_with(**WIDE, ball=[{"name": "x"} | row]))
    (said,) = [f for f in found.findings if f.code == code]
    assert said.severity == severity and said.limit and said.remedy and "x" in said.key
    assert len(found.balls) == (severity != "refused")


def test_a_thick_blank_does_not_stick_out_too_far(job_with: JobWith) -> None:
    # four diameters of the blank and no more (common practice)
    plan = plan_of(job_with(ball=[{"name": "x", "diameter": 50, "blank_diameter": 50}]))
    assert plan.clearance.stick_out_mm + 25 < 4 * 50
    found = turned_of(job_with(ball=[{"name": "x", "diameter": 50, "blank_diameter": 50}]))
    assert "stick-out" not in {f.code for f in found.findings}


@pytest.mark.parametrize(
    "row",
    [
        {"diameter": 40, "stem_diameter": 40},
        {"diameter": 40, "blank_diameter": 30},
        {"diameter": 40, "hole": 36},
        {"diameter": 40, "hole": 5, "thread": "M6"},
        {"diameter": 40, "shape": "taper handle"},
        {"diameter": 40, "shape": "socket"},
        {"diameter": 40, "shape": "socket", "depth": 30},
        {"diameter": float("nan")},
        {"diameter": 40, "tolerance": -1},
    ],
)
def test_balls_that_cannot_be_are_refused_at_the_door(row: dict[str, object]) -> None:
    with pytest.raises(BadInput):
        job_from(changed(ball=[row]), "job.toml")


# The command and the pictures


def test_the_command_prints_one_ball_or_all() -> None:
    job = str(ROOT / "examples" / "engine-lathe.toml")
    every = call("turn", job, "--json")
    assert every.exit_code == 0, every.output
    record = json.loads(every.stdout)
    balls = {row["ball"] for row in record["tables"]["passes"]}
    assert balls == {"knob", "lever"}
    assert {row["ball"] for row in record["tables"]["socket_passes"]} == {"dish"}
    one = call("turn", job, "--ball", "knob")
    assert "knob: passes" in one.stdout and "lever: passes" not in one.stdout
    none = call("turn", job, "--ball", "nix")
    assert none.exit_code == 2 and "knob, lever, dish" in none.stderr


def test_pictures_carry_their_figures(plan: Plan) -> None:
    for one in plan.turned.balls:
        picture = turning_svg(one, plan.job)
        ElementTree.fromstring(picture)
        assert "set-over" in picture and "to the jaws" in picture
        shape = error_svg(one, plan.job, 0.02, 0.05)
        ElementTree.fromstring(shape)
        # the equator stands h over the nose, to first order: the pivot is too high by so much
        assert ("0.02 mm over the nose" in shape) or ("0.0008 in over the nose" in shape)


def test_corners_of_roughing_stand_over_by_a_twelfth_of_the_radius() -> None:
    for across in (24.0, 40.0):
        plan = plan_of(job_of({"diameter": across, "blank_diameter": across + 2}))
        corners = [
            hypot(part.radius_mm, part.z_to_mm) - across / 2
            for part in plan.roughing.profile
            if part.z_from_mm > 0.0
        ]
        assert max(corners) == pytest.approx(plan.roughing.greatest_mm, abs=0.2)
        # but where a stop would lie within 0.5 mm of the end: there by a half more
        corner = across / 24
        nose = [step for step in plan.roughing.steps if step.side == "nose"]
        assert nose[-1].to_mm >= 0.5
        # and where a first pass would take a speck of what the others do, lower by that
        speck = 0.2 * max(one.depth_mm for one in plan.passes)
        assert 0.5 + corner - speck - 0.02 <= plan.roughing.greatest_mm <= 0.5 + 1.5 * corner


def test_with_dials_the_steps_are_read_in_whole_divisions(job_with: JobWith) -> None:
    from planner.output.sheets.turn import turn_tables, turn_text

    dials = {"lathe.carriage_division": 0.1, "lathe.cross_slide_division": 0.05}
    job = job_with(**dials, ball=[KNOB])
    rows = next(t for t in turn_tables(turned_of(job), job) if t.name == "roughing").records()
    for row in rows:
        stop = row["from_mm"] if row["side"] in ("neck", "stem") else row["to_mm"]
        assert row["carriage_div"] == pytest.approx(stop / 0.1, abs=0.051)
        if row["side"] != "neck":
            assert row["carriage_div"] == pytest.approx(round(row["carriage_div"]))
        assert row["cross_slide_div"] == pytest.approx(
            (42 - row["diameter_mm"]) / 2 / 0.05, abs=0.051
        )
    assert "in by div" in turn_text(turned_of(job), job)


def test_where_no_ball_can_be_turned_the_sheet_says_so(job_with: JobWith) -> None:
    from planner.output.sheets.turn import turn_text

    job = job_with(ball=[KNOB | {"diameter": 190, "blank_diameter": 195}])
    found = turned_of(job)
    assert not found.balls and not found.sockets and found.findings
    said = "no ball of the job can be turned; pommel turn says why, and what helps."
    assert turn_text(found, job) == f"{job.name}: {said}\n"


def test_the_picture_draws_a_thread_as_thick_as_it_is(job_with: JobWith) -> None:
    # M12 is 12 mm: two dashed lines, 6 mm either side of the axis
    job = job_with(ball=[KNOB | {"thread": "M12", "hole_depth": 18}])
    picture = turning_svg(plan_of(job), job)
    for y in ("-6.00", "6.00"):
        assert f'd="M20.00,{y} L2.00,{y}"' in picture


def test_roughing_keeps_off_the_jaws(plan: Plan) -> None:
    for one in plan.turned.balls:
        jaws = one.blank_length_mm  # from the faced end, as the carriage reads
        assert max(step.to_mm for step in one.roughing.steps) <= jaws - 3.0 + 1e-6
        assert jaws - one.ball.radius_mm >= one.clearance.stick_out_mm - 1e-9


@pytest.mark.parametrize(
    "row",
    [
        {"diameter": 60},
        {"diameter": 8},
        {"diameter": 40, "blank_diameter": 80},
        {"diameter": 40, "stem_diameter": 6},
        {"diameter": 18},
    ],
)
def test_the_check_and_the_turning_say_the_same_of_a_sweep(
    job_with: JobWith, row: dict[str, object]
) -> None:
    job = job_with(**WIDE, ball=[{"name": "x"} | row])
    s = size_up(job, "job.toml").sizes
    checked = clearance_findings(clearances(attachment(s), job), s, job, "job.toml")
    told = {f.code: f for f in turned_of(job).findings}
    both = {f.code: f for f in checked if f.code in told and f.key == "ball.x"}
    assert both, told
    for code, one in both.items():
        assert one.text == told[code].text and one.key == told[code].key
        assert one.text.startswith("x: ")


@pytest.mark.parametrize("tip_mm", [8.0, 20.0])
def test_forces_and_springing_at_a_tip_radius_are_those_of_a_ball_of_it(
    bench: Plan, tip_mm: float
) -> None:
    # a smaller ball in the same attachment: only the tip's radius differs
    s = bench.sizing.sizes
    smaller = replace(s, max_ball_diameter_mm=2 * tip_mm)
    load = cutting_load(0.2, 0.08, 0.5, "CW614N")
    assert deflection_mm(s, load, tip_mm) == deflection_mm(smaller, load) != deflection_mm(s, load)
    assert clamp_hold(s, load, 1.0, tip_mm) == clamp_hold(smaller, load, 1.0)
    links = deflection_links(s, load, tip_mm)
    assert sum(x.deflection_mm + x.main_mm for x in links) == pytest.approx(
        deflection_mm(s, load, tip_mm)
    )
    # hand force times handle is the moment of the feed force about the pivot (a lever)
    hold = clamp_hold(s, load, 1.0, tip_mm)
    assert hold.hand_N * s.handle_length_mm == pytest.approx(load.feed_N * tip_mm)


def test_balls_without_a_name_are_numbered_from_one(job_with: JobWith) -> None:
    nameless = {"diameter": 40, "blank_diameter": 42}
    job = job_with(ball=[nameless, KNOB, nameless])
    works = ball_works(size_up(job, "job.toml").sizes, job)
    assert [work.name for work in works] == ["ball 1", "knob", "ball 3"]


# Where the tip stops, and half a ball


def test_no_pass_brings_the_nose_into_the_stem(plan: Plan) -> None:
    # the middle of the nose's round stands that much farther out than the tip: plain trigonometry
    nose = plan.nose_mm
    for one in plan.turned.balls:
        assert one.ball.behind
        for cut in one.passes:
            tip, (_, end) = cut.cut.taken.radius_mm, cut.cut.swing_deg
            lowest = (tip + nose) * sin(radians(end)) - nose
            assert lowest >= one.ball.stem_mm / 2 + 0.05 - 1e-9
        last = one.passes[-1].cut
        # a taper's neck, left thicker for the groove's width, ends the sweep sooner
        assert last.swing_deg[1] <= one.clearance.end_deg + 1e-9
        assert last.swing_deg[1] >= one.clearance.end_deg - (1.0 if one.behind.taper_deg else 1e-6)
        assert min(one.measure_deg) >= 180.0 - one.clearance.end_deg + 5.0 - 1e-9


def test_half_a_ball_in_a_thicker_blank_is_turned_down_behind_its_equator(
    job_with: JobWith,
) -> None:
    row = {"name": "half", "diameter": 30, "shape": "hemisphere"}
    # ten more of blank keep the body ten farther out: more cross travel than the example's lathe has
    wide = {"attachment.max_blank_diameter": 70, "lathe.post_farthest": 200}
    plan = plan_of(job_with(**wide, ball=[row | {"blank_diameter": 70}]))
    bit = size_up(job_with(**wide), "job.toml").sizes.bit_stock.width_mm
    assert plan.clearance.end_limit == "the equator" and plan.sweep.end_deg == 90.0
    (body,) = [step for step in plan.roughing.steps if step.side == "body"]
    assert body.to_mm == 19.0 and body.diameter_mm < 32.0  # the blade and a millimetre behind 15
    # the bit stands up beside the work at the equator, half of it on the chuck's side, as wide as its
    # stock from so far up as its point is long; the blank is as thick as it came behind that alone
    wall = max(step.to_mm for step in plan.roughing.steps) - 15.0
    assert wall >= bit / 2 + 0.2
    assert plan.blank_length_mm >= 15.0 + wall + 3.0
    # one in a blank of its own size needs none
    plain = plan_of(job_with(ball=[row | {"blank_diameter": 30}]))
    assert plain.clearance.relief_mm == 0.0
    assert not [step for step in plain.roughing.steps if step.side == "body"]
