"""Sizing: that the sizes obey the geometry, and that the impossible is refused with a true bound."""

from __future__ import annotations

import re
from collections.abc import Callable
from math import hypot, pi

import pytest
from msgspec.structs import replace

from parts.errors import NotMakeable
from parts.standard.threads import thread
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import largest_ball, size_up
from planner.sizing.rules import RULES
from planner.words.findings import BadInput

JobWith = Callable[..., Job]


def bound_mm(job: Job) -> float | None:
    found = largest_ball(job, "job.toml")
    return found and found.diameter_mm


def test_examples_are_sized_without_a_finding(plan: Plan) -> None:
    assert plan.sizing.findings == ()


def test_the_tip_clears_the_corner_of_the_blank(plan: Plan) -> None:
    # The end of the blank is faced at the nose of the ball, so the tip first meets the corner at
    # the root of Rb^2 + R^2; with Rb = R that is R times root 2 (Pythagoras).
    s = plan.sizing.sizes
    corner = hypot(s.max_blank_diameter_mm / 2, s.max_ball_diameter_mm / 2)
    assert s.tip_radius_max_mm > corner
    assert s.travel_mm == pytest.approx(s.tip_radius_max_mm - s.min_ball_diameter_mm / 2)


def test_the_arm_overhangs_more_than_half_the_blank(plan: Plan) -> None:
    s = plan.sizing.sizes
    assert s.arm_overhang_mm > s.max_blank_diameter_mm / 2


def test_the_head_stays_in_the_clamp_over_the_whole_travel(plan: Plan) -> None:
    s = plan.sizing.sizes
    out = s.tip_radius_max_mm + s.bit_stickout_mm  # the arm's inner face, right out
    assert s.block_tip_y_mm - (out - s.rod_length_mm) >= 1.5 * s.rod_diameter_mm - 1e-6
    assert s.block_tip_y_mm - (out - s.foot_length_mm) > 10
    inward = s.tip_radius_min_mm + s.bit_stickout_mm
    assert inward - s.block_tip_y_mm > s.feed_collar_thickness_mm


def test_the_screw_reaches_through_the_arm_over_the_whole_travel(plan: Plan) -> None:
    s = plan.sizing.sizes
    end = s.block_tip_y_mm + s.feed_collar_thickness_mm + s.feed_thread_length_mm
    assert end >= s.tip_radius_max_mm + s.bit_stickout_mm + s.arm_stock.height_mm - 1e-6
    assert thread(s.feed_thread).pitch_mm == pytest.approx(s.screw_pitch_mm)


def test_dial_lines_can_be_read(plan: Plan) -> None:
    # common practice: lines much closer than a millimetre are hard to read at arm's length
    s = plan.sizing.sizes
    assert pi * s.dial_diameter_mm / s.dial_divisions >= 0.8


def test_what_the_shop_owns_is_chosen_first(job_with: JobWith) -> None:
    own = size_up(job_with(**{"shop.reamers": [15, 19]}), "job.toml").sizes
    assert (own.rod_diameter_mm, own.pivot_diameter_mm) == (15, 19)
    none = size_up(job_with(**{"shop.reamers": []}), "job.toml").sizes
    assert none.rod_diameter_mm == 14


def test_own_sizes_are_taken_and_carry_through(job_with: JobWith) -> None:
    sizing = size_up(job_with(**{"attachment.sizes": {"rod_diameter": "16 mm"}}), "job.toml")
    assert sizing.sizes.rod_diameter_mm == 16
    assert sizing.sizes.rod_stock.width_mm >= 17
    assert {step.name: step.origin for step in sizing.steps}["rod_diameter"] == "own size"


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("rod_diametre", "16 mm", "rod_diameter"),
        ("rod_diameter", "16 kg", "unit of length"),
        ("rod_diameter", "-3 mm", "between"),
        ("tube_stock", "tube 22x5 mm", "needs"),
        ("clamp_screw", "M7", "no"),
        ("spindle_over_seat", "10 mm", "no size of that name"),
        ("foot_stock", "flat 60x8 mm", "foot"),
        ("pivot_diameter", "2000 mm", ""),
    ],
)
def test_own_sizes_that_will_not_do_are_refused(
    job_with: JobWith, key: str, value: str, says: str
) -> None:
    with pytest.raises(BadInput) as caught:
        size_up(job_with(**{"attachment.sizes": {key: value}}), "job.toml")
    assert any(says in str(finding) for finding in caught.value.findings)
    assert all(finding.key for finding in caught.value.findings)


def test_the_wall_message_gives_both_ways_out(job_with: JobWith) -> None:
    own = {"tube_stock": "tube 29x5 mm", "pivot_diameter": "26 mm"}
    with pytest.raises(BadInput) as caught:
        size_up(job_with(**{"attachment.sizes": own}), "job.toml")
    text = str(caught.value)
    # by hand: (29 - 26) / 2 = 1.5; 26 + 2 x 3 = 32; 29 - 2 x 3 = 23
    assert "bore 26 mm leaves a 1.5 mm wall in 29 mm tube" in text
    assert "32 mm tube or a bore of at most 23 mm" in text


@pytest.mark.parametrize("height", [42, 48, 62, 80, 110])
def test_an_impossible_ball_is_refused_with_a_bound_that_holds(
    job_with: JobWith, height: float
) -> None:
    wanted = job_with(
        **{"lathe.spindle_over_cross_slide": height, "attachment.max_ball_diameter": 3 * height}
    )
    with pytest.raises(BadInput) as caught:
        size_up(wanted, "job.toml")
    found = largest_ball(wanted, "job.toml")
    best = found and found.diameter_mm
    assert best is not None
    assert f"at most {best:g} mm" in str(caught.value)
    at_bound = job_with(
        **{"lathe.spindle_over_cross_slide": height, "attachment.max_ball_diameter": best}
    )
    assert size_up(at_bound, "job.toml").sizes.max_ball_diameter_mm == best
    over = job_with(
        **{"lathe.spindle_over_cross_slide": height, "attachment.max_ball_diameter": best + 0.6}
    )
    with pytest.raises(BadInput):
        size_up(over, "job.toml")


def test_the_bound_of_an_inch_lathe_is_a_whole_64th_and_no_less_than_its_own_ball(
    job_with: JobWith,
) -> None:
    # a rule reads 64ths: the largest ball is one, the next 64th is none, and a job that is taken with
    # that ball is told of no smaller one
    height = {"lathe.spindle_over_cross_slide": "2-1/4"}
    best = bound_mm(job_with("inch-lathe", **height))
    assert best is not None
    grain = 25.4 / 64
    assert best / grain == pytest.approx(round(best / grain), abs=1e-5)
    own = height | {"attachment.max_ball_diameter": best / 25.4}
    assert bound_mm(job_with("inch-lathe", **own)) == pytest.approx(best)
    assert (
        size_up(job_with("inch-lathe", **own), "job.toml").sizes.max_ball_diameter_mm < best + 1e-3
    )
    over = height | {"attachment.max_ball_diameter": (best + grain) / 25.4}
    with pytest.raises(BadInput, match=r"of at most \d-?[\d/]* in\."):
        size_up(job_with("inch-lathe", **over), "job.toml")


def test_the_pitch_that_an_inch_lathe_is_told_of_is_one_of_its_own(job_with: JobWith) -> None:
    # No.4-40 is the thickest of 40 to the inch (ASME B1.1, from memory), too thin for a feed screw
    with pytest.raises(BadInput) as caught:
        size_up(job_with("inch-lathe", **{"attachment.screw_pitch": "40 tpi"}), "job.toml")
    said = str(caught.value)
    assert re.search(r'screw_pitch = "\d+ tpi"', said) and "mm" not in said


def test_the_bound_grows_with_the_lathe(job_with: JobWith) -> None:
    bounds = [
        bound_mm(job_with(**{"lathe.spindle_over_cross_slide": h})) for h in (42, 60, 80, 100)
    ]
    assert None not in bounds
    assert bounds == sorted(bounds)  # type: ignore[type-var]


def test_a_lathe_too_small_for_any_ball_says_so(job_with: JobWith) -> None:
    tiny = job_with(**{"lathe.spindle_over_cross_slide": 20})
    with pytest.raises(BadInput, match="no ball works; one would with"):
        size_up(tiny, "job.toml")


def test_brass_is_not_welded(job_with: JobWith) -> None:
    # leaded brass is not arc-welded: common practice
    with pytest.raises(BadInput, match="not weldable"):
        size_up(job_with(**{"materials.structure": "CW614N"}), "job.toml")
    warned = size_up(job_with(**{"materials.shaft": "C45"}), "job.toml")
    assert [finding.severity for finding in warned.findings] == ["warning"]


def test_sizes_are_plain_data(bench: Plan) -> None:
    s = bench.sizing.sizes
    assert replace(s) == s and hash(s) == hash(replace(s))


@pytest.mark.parametrize(
    ("key", "value", "lever", "farther"),
    [
        # a lathe twice its size, as far as its heights go: the seat never lies under the cross slide
        ("lathe.spindle_over_seat", 200, "lathe.spindle_over_seat", 0.5),
        ("tool_post.largest_shank", 5, "tool_post.largest_shank", -0.5),
        ("attachment.dial_divisions", 400, "attachment.dial_divisions", 2),
        ("lathe.spindle_over_cross_slide", 21, "lathe.spindle_over_cross_slide", -0.5),
    ],
)
def test_what_stands_in_the_way_of_every_ball_is_named_with_the_number_that_would_work(
    job_with: JobWith, key: str, value: float, lever: str, farther: float
) -> None:
    given = {key: value}
    if key == "lathe.spindle_over_seat":
        given["lathe.spindle_over_cross_slide"] = 230
    with pytest.raises(BadInput) as caught:
        size_up(job_with(**given), "job.toml")
    name = lever.split(".")[1]
    number = re.search(rf"{name} at (?:least|most) ([\d.]+)", str(caught.value))
    assert number
    bound = float(number.group(1))
    whole = int(bound) if bound == int(bound) else bound
    size_up(job_with(**(given | {lever: whole})), "job.toml")
    with pytest.raises(BadInput):
        size_up(job_with(**(given | {lever: whole + farther})), "job.toml")


def test_a_pitch_no_thread_has_names_those_that_would_do(job_with: JobWith) -> None:
    # ISO 261 and ASME B1.1 have no 0.37 mm pitch; 0.5 mm stops at M3 among common sizes
    for pitch in ("0.37 mm", "0.5 mm"):
        with pytest.raises(BadInput) as caught:
            size_up(job_with(**{"attachment.screw_pitch": pitch}), "job.toml")
        named = re.search(r'screw_pitch = "([\d.]+) mm"', str(caught.value))
        assert named
        size_up(job_with(**{"attachment.screw_pitch": f"{named.group(1)} mm"}), "job.toml")


def test_of_the_pitches_that_would_do_the_nearest_is_named(job_with: JobWith) -> None:
    # the bench lathe's own 1 mm does as well, and is farther off; of the coarse pitches of ISO 261
    # next to 5 mm (4, 3.5, 3, 2.5 and 2) the last is the first that works there
    with pytest.raises(BadInput) as caught:
        size_up(job_with(**{"attachment.screw_pitch": "5 mm"}), "job.toml")
    assert set(re.findall(r"screw_pitch = ([^;,]+)", str(caught.value))) == {'"2 mm"'}


@pytest.mark.parametrize("mistake", [TypeError, ValueError, ZeroDivisionError, AttributeError])
def test_a_mistake_inside_a_rule_is_not_told_as_one_of_the_jobs(
    monkeypatch: pytest.MonkeyPatch, job_with: JobWith, mistake: type[Exception]
) -> None:
    def fails(draft: object) -> object:
        raise mistake("a slip of ours")

    broken = tuple(replace(r, value=fails) if r.name == "rod_length_mm" else r for r in RULES)
    monkeypatch.setattr("planner.sizing.candidates.RULES", broken)
    with pytest.raises(mistake, match="a slip of ours"):
        size_up(job_with(), "job.toml")


def test_a_mistake_inside_a_check_of_sizes_is_not_told_as_one_of_the_jobs(
    monkeypatch: pytest.MonkeyPatch, job_with: JobWith
) -> None:
    def fails(sizes: object) -> object:
        raise TypeError("a slip of ours")

    monkeypatch.setattr("planner.sizing.requirements.check.attachment", fails)
    with pytest.raises(TypeError, match="a slip of ours"):
        size_up(job_with(), "job.toml")


def test_sizes_that_make_no_part_are_a_finding(
    monkeypatch: pytest.MonkeyPatch, job_with: JobWith
) -> None:
    def fails(sizes: object) -> object:
        raise NotMakeable(
            ["handle: pin 13 mm thick and -25 mm long", "rod: shorter than its block"]
        )

    monkeypatch.setattr("planner.sizing.requirements.check.attachment", fails)
    with pytest.raises(BadInput) as caught:
        size_up(job_with(), "job.toml")
    (found,) = caught.value.findings
    assert found.code == "not-makeable"
    assert "-25 mm long" in found.limit and "shorter than its block" in found.limit
