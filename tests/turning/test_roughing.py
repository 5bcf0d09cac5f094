"""Step roughing against chords worked by hand and a tool's outline run over the blank here."""

from __future__ import annotations

from math import hypot, pi, sqrt

import numpy as np
import pytest

from planner.checking.behind import Stand
from planner.turning.dials import Divisions
from planner.turning.passes import Sweep, outside_mm3, start_radius_mm
from planner.turning.roughing import (
    Roughing,
    Step,
    Tool,
    Work,
    flank_deg,
    profile_after,
    roughing,
)

SHARP = Tool(0.0, 0.0)
GRID_MM = 0.005
HEIGHT_MM = 1.0


def steps_of(work: Work, tool: Tool, allowance_mm: float, **spacing: object) -> Roughing:
    """The steps with one tool on both sides of the ball."""
    height = spacing.pop("height_mm", HEIGHT_MM)
    return roughing(work, tool, tool, allowance_mm, height, **spacing)  # type: ignore[arg-type]


def readings(found: Roughing, side: str) -> dict[float, float]:
    """Diameter by carriage reading: of the stop before the equator, of the start behind it."""
    return {
        round(step.to_mm if side == "nose" else step.from_mm, 6): step.diameter_mm
        for step in found.steps
        if step.side == side
    }


def test_chords_of_a_sharp_tool_by_hand() -> None:
    # 5-12-13 triangles: a ball of radius 13 is 24 across 5 from its centre and 10 across 12 from it
    work = Work(13.0, 14.0, 13.0, 3.0, 20.0)
    found = readings(steps_of(work, SHARP, 0.0, pitch_mm=1.0), "nose")
    assert found[8.0] == pytest.approx(24.0) and found[1.0] == pytest.approx(10.0)
    assert set(found) == {float(k) for k in range(1, 13)}
    # behind the equator the right corner sets the work: the reading is more by the width of the tool
    # (common practice: two tables, the parting tool's width added for the headstock side)
    parting = steps_of(work, Tool(3.0, 0.0), 0.0, pitch_mm=1.0)
    behind = readings(parting, "stem")
    assert behind[13.0 + 5.0 + 3.0] == pytest.approx(24.0)
    assert behind[13.0 + 12.0 + 3.0] == pytest.approx(10.0)
    assert readings(parting, "nose") == found  # before it the left corner does, whatever the width


def test_a_round_corner_by_hand() -> None:
    # ball 11.5, allowance 1, corner 0.5: the corner's centre stays 13 from the ball's. With its centre
    # 5 before the equator it stands 12 out: diameter 2 (12 - 0.5) = 23, left side at z = 4.5
    work = Work(11.5, 14.0, 11.5, 3.0, 20.0)
    found = steps_of(work, Tool(2.0, 0.5), 1.0, pitch_mm=0.5)
    assert readings(found, "nose")[7.0] == pytest.approx(23.0)
    # behind: right side at z = -4.5, the left side 2 farther
    assert readings(found, "stem")[18.0] == pytest.approx(23.0)
    # a round-nosed turning tool is as wide as its nose
    plain = steps_of(work, Tool(0.0, 0.5), 1.0, pitch_mm=0.5)
    assert readings(plain, "stem")[17.0] == pytest.approx(23.0)


def test_corners_of_one_height_by_hand() -> None:
    # a ball of radius 10, corners 1 over it: 11^2 less 10^2 is 21, so the stops are root(21 k) from the
    # equator and the steps there root(100 - 21 k) thick: 4.583 and 8.888, ..., the last 9.165 and 4
    found = steps_of(Work(10.0, 10.0, 10.0, 4.0, 15.0), Tool(1.0, 0.0), 0.0)
    nose = readings(found, "nose")
    assert len(nose) == 4
    assert nose[min(nose, key=lambda at: abs(at - 5.4174))] == pytest.approx(2 * 8.8882, abs=1e-3)
    for k in (1, 2, 3, 4):
        at = round(10.0 - sqrt(21 * k), 6)
        assert nose[at] == pytest.approx(2 * sqrt(100 - 21 * k))
    # behind it by the width of the blade more; the fourth is the neck itself, 8 across
    behind = readings(found, "stem")
    assert sorted(behind) == pytest.approx([11.0 + sqrt(21 * k) for k in (1, 2, 3)])
    (neck,) = [step for step in found.steps if step.side == "neck"]
    assert neck.diameter_mm == pytest.approx(8.0)
    assert neck.from_mm == pytest.approx(10 + sqrt(100 - 16) + 1)
    assert neck.to_mm == pytest.approx(25.0)  # the end of the groove


def test_the_cross_slide_goes_in_half_of_what_the_diameter_loses() -> None:
    # common practice: the dial of a cross slide moves the radius, the diameter changes by twice
    found = steps_of(Work(12.5, 13.0, 12.5, 4.5, 16.0), Tool(2.0, 0.2), 0.3, pitch_mm=1.0)
    for step in found.steps:
        assert 26.0 - 2 * step.infeed_mm == pytest.approx(step.diameter_mm)
        assert 2 * step.radius_mm == pytest.approx(step.diameter_mm)
    assert found.steps[0].side == "body" and found.steps[0].diameter_mm == pytest.approx(25.6)


def run_tools(
    work: Work, turner: Tool, parter: Tool, steps: tuple[Step, ...]
) -> tuple[np.ndarray, np.ndarray]:
    """The half-profile left when the outline of each tool's end is run along its steps."""
    z = np.arange(-work.wall_mm + GRID_MM / 2, work.end_mm, GRID_MM)
    left = np.full_like(z, work.blank_radius_mm)
    turn = np.radians(np.linspace(0.0, 90.0, 400))
    for step in steps:
        tool = parter if step.parted else turner
        width, r = max(tool.width_mm, 2 * tool.corner_mm), tool.corner_mm
        # from the top of the left corner round to the bottom, over to the right corner and up
        across = np.concatenate([r - r * np.cos(turn), width - r + r * np.sin(turn)])
        height = np.concatenate([r - r * np.sin(turn), r - r * np.cos(turn)])
        count = max(2, int((step.to_mm - step.from_mm) / 0.02) + 2)
        for reading in np.linspace(step.from_mm, step.to_mm, count):
            side = work.end_mm - reading
            low, high = np.searchsorted(z, [side, side + width])
            bottom = np.interp(z[low:high] - side, across, height)
            left[low:high] = np.minimum(left[low:high], step.radius_mm + bottom)
    return z, left


CASES = [
    (Work(12.5, 13.0, 12.5, 4.5, 16.0), Tool(2.0, 0.2), 0.3, {"pitch_mm": 1.0}),
    (Work(12.5, 13.0, 12.5, 4.5, 16.0), Tool(2.0, 0.0), 0.3, {"height_mm": 0.8}),
    (Work(12.5, 12.5, 12.5, 4.5, 16.0), Tool(0.0, 0.8), 0.2, {"pitch_mm": 0.5}),
    (Work(12.5, 12.5, 12.5, 4.5, 16.0), Tool(1.5, 0.7), 0.2, {"height_mm": 0.5}),
    (Work(10.0, 14.0, 12.0, 3.0, 13.0), Tool(2.0, 0.4), 0.5, {"pitch_mm": 0.7}),
    (Work(10.0, 14.0, 12.0, 3.0, 13.0), Tool(2.0, 0.4), 0.0, {"height_mm": 1.1}),
    (Work(10.0, 12.0, 8.0, 3.0, 14.0), Tool(2.0, 0.2), 0.1, {"height_mm": 1.0}),
    (Work(10.0, 12.0, 10.0), Tool(2.0, 0.4), 0.2, {"pitch_mm": 0.3}),
    (Work(10.0, 12.0, 10.0, None, 5.0), Tool(2.0, 0.4), 0.2, {"height_mm": 0.7}),
    (
        Work(12.5, 13.0, 12.5, 4.5, 17.0),
        Tool(2.0, 0.1),
        0.1,
        {"pitch_mm": 1.05, "divisions": Divisions(0.5)},  # the last before the neck rounds past it
    ),
    (
        Work(12.5, 13.0, 12.5, 4.5, 17.0),
        Tool(2.0, 0.2),
        0.3,
        {"height_mm": 1.0, "divisions": Divisions(0.1, 0.05)},
    ),
    (
        Work(12.5, 15.0, 12.5, 4.5, 17.0),
        Tool(3.0, 1.2),
        0.25,
        {"pitch_mm": 1.3, "divisions": Divisions(0.25, 0.02)},
    ),
]


@pytest.mark.parametrize(("work", "tool", "allowance", "spacing"), CASES)
def test_no_step_cuts_into_the_ball_nor_leaves_more_than_stated(
    work: Work, tool: Tool, allowance: float, spacing: dict[str, float | Divisions]
) -> None:
    found = steps_of(work, tool, allowance, **spacing)
    z, left = run_tools(work, tool, tool, found.steps)
    over = np.hypot(z, left) - work.radius_mm
    parted = [step for step in found.steps if step.parted]
    assert all(step.to_mm <= work.end_mm + work.groove_mm + 1e-9 for step in found.steps)
    turned = left < work.blank_radius_mm - 1e-9
    if work.stem_radius_mm is not None:
        # the stem is turned to size, the ball keeps its allowance
        assert left[z < 0.0].min() >= work.stem_radius_mm - 1e-9
        neck = work.end_mm - min(s.from_mm for s in parted if s.side == "neck") + tool.across_mm
        turned &= z >= neck
        over_ball = over[(z >= neck) & (left > 0.0)]  # in front of it all may be faced away
    else:
        over_ball = over[z >= 0.0]
    assert over[turned].min() >= allowance - 1e-6
    thin = work.blank_radius_mm < work.radius_mm + allowance  # then the blank itself leaves less
    least = work.blank_radius_mm - work.radius_mm if thin else over[turned].min()
    assert found.least_mm == pytest.approx(least, abs=0.005)
    # a column of the grid stands half a cell off the corner; a round is stated in slices of its height
    assert over_ball.max() <= found.greatest_mm + 1e-6
    slack = 2 * GRID_MM + 0.2 * tool.corner_mm
    assert over_ball.max() == pytest.approx(found.greatest_mm, abs=slack)


@pytest.mark.parametrize(("work", "tool", "allowance", "spacing"), CASES)
def test_the_profile_is_what_the_tool_leaves_but_for_its_corners(
    work: Work, tool: Tool, allowance: float, spacing: dict[str, float | Divisions]
) -> None:
    found = steps_of(work, tool, allowance, **spacing)
    z, left = run_tools(work, tool, tool, found.steps)
    profile = np.zeros_like(z)
    for part in found.profile:
        profile[(z > part.z_from_mm) & (z <= part.z_to_mm)] = part.radius_mm
    assert profile_after(work, tool, tool, found.steps) == found.profile
    # never less than what is left, but at the cell of an edge; the round at the groove's wall, left
    # by the blade's other corner, is out of reach and not in the profile
    reach = z > -work.groove_mm + tool.across_mm / 2
    more = (profile - left)[reach]
    assert np.sum(more < -1e-6) <= len(found.steps) * (2 + 2 * (tool.corner_mm > 0) * 8)
    # and at most 0.05 r^2 more in the section of each step
    most = 0.05 * tool.corner_mm**2 * len(found.steps)
    assert abs(float(more.sum()) * GRID_MM) <= most + 0.1


@pytest.mark.parametrize(("work", "tool", "allowance", "spacing"), CASES)
def test_volumes_add_up_to_the_blank(
    work: Work, tool: Tool, allowance: float, spacing: dict[str, float | Divisions]
) -> None:
    found = steps_of(work, tool, allowance, **spacing)
    long = work.end_mm + work.groove_mm
    profile = sum(pi * c.radius_mm**2 * (c.z_to_mm - c.z_from_mm) for c in found.profile)
    blank = pi * work.blank_radius_mm**2 * long
    assert profile + found.removed_mm3 == pytest.approx(blank, rel=1e-12)
    if work.stem_radius_mm is None:  # only what is before the equator is to be swung off
        parts = [(max(0.0, c.z_from_mm), c.z_to_mm, c.radius_mm) for c in found.profile]
        profile = sum(pi * r**2 * (high - low) for low, high, r in parts if high > low)
    # ball less caps of height h, pi h^2 (3 R - h) / 3 (any handbook), and the stem behind it
    radius, stem = work.radius_mm, work.stem_radius_mm
    nose = max(0.0, radius - work.end_mm)
    kept = 2 * pi * radius**3 / 3 - pi * nose**2 * (3 * radius - nose) / 3
    if stem is not None:
        shoulder = sqrt(radius**2 - stem**2)
        h = radius - shoulder
        kept += 2 * pi * radius**3 / 3 - pi * h**2 * (3 * radius - h) / 3
        kept += pi * stem**2 * (work.groove_mm - shoulder)
    assert found.left_mm3 == pytest.approx(profile - kept, rel=1e-9)


def test_the_passes_take_what_roughing_left() -> None:
    work = Work(12.5, 13.0, 12.5, 4.5, 16.0)
    found = steps_of(work, Tool(2.0, 0.2), 0.3, pitch_mm=1.0)
    sweep = Sweep(stem_radius_mm=4.5, back_mm=16.0)
    assert outside_mm3(found.profile, 12.5, sweep) == pytest.approx(found.left_mm3, rel=1e-12)
    # with the stem turned to size nothing is met beyond the highest step: from there every pass cuts
    (neck,) = [step for step in found.steps if step.side == "neck"]
    assert neck.diameter_mm == pytest.approx(9.0)
    first = start_radius_mm(found.profile, sweep)
    assert first == pytest.approx(12.5 + found.greatest_mm)
    assert first < hypot(13.0, 12.5) - 4.0
    assert outside_mm3(found.profile, first, sweep) == pytest.approx(0.0, abs=1e-9)
    assert outside_mm3(found.profile, first - 0.01, sweep) > 0.0


def test_steps_round_away_from_the_ball_to_whole_divisions() -> None:
    work, tool = Work(12.5, 13.0, 12.5, 4.5, 17.0), Tool(2.0, 0.2)
    exact = steps_of(work, tool, 0.3)
    whole = steps_of(work, tool, 0.3, divisions=Divisions(0.1, 0.05))
    for step in whole.steps:
        for value, division in ((step.from_mm, 0.1), (step.radius_mm, 0.05)):
            assert value / division == pytest.approx(round(value / division), abs=1e-6)
        # a stop before the equator is short of the ball, a plunge behind it clear of it: the corner's
        # round stays 12.8 from the centre, by Pythagoras
        corner = step.radius_mm + 0.2
        if step.side == "nose":
            assert hypot(12.5 - step.to_mm + 0.2, corner) >= 13.0 - 1e-9
            assert step.to_mm / 0.1 == pytest.approx(round(step.to_mm / 0.1), abs=1e-6)
        if step.side == "stem":
            assert hypot(step.from_mm - 2.0 - 12.5 + 0.2, corner) >= 13.0 - 1e-9
    assert whole.least_mm >= exact.least_mm - 1e-9 == pytest.approx(0.3)
    # corners stand over by at most the division lost, in both directions
    assert whole.greatest_mm <= exact.greatest_mm + hypot(0.1, 0.05)


def test_the_cross_slide_counts_whole_divisions_from_the_blank_as_it_came() -> None:
    # 2-5/8 in is 33.3375 mm in radius, 1312.5 divisions of a thousandth: by hand, a body to 31.9 and
    # more is 1.4224 mm or less in, 56 divisions
    work, tool = Work(31.75, 33.3375, 31.75, 11.0, 35.0), Tool(3.175, 0.2)
    found = steps_of(work, tool, 0.15, divisions=Divisions(0.0254, 0.0254))
    assert found.steps[0].side == "body"
    assert found.steps[0].infeed_mm == pytest.approx(56 * 0.0254)
    for step in found.steps:
        count = step.infeed_mm / 0.0254
        assert count == pytest.approx(round(count), abs=1e-6), step
        assert step.infeed_mm + step.radius_mm == pytest.approx(33.3375)
    assert found.least_mm >= 0.15 - 1e-9


def test_each_step_finds_its_neighbour_turned_already() -> None:
    # common practice: a cut takes a step's height, not the whole depth at once; a blade is plunged
    # first where the neck is, then beside it, each plunge between its neighbours
    found = steps_of(Work(12.5, 14.0, 12.5, 4.5, 16.0), Tool(2.0, 0.2), 0.3, height_mm=0.9)
    sides = [step.side for step in found.steps]
    assert sides == sorted(sides, key=["body", "nose", "neck", "stem", "behind"].index)
    assert [step.number for step in found.steps] == list(range(1, len(found.steps) + 1))
    nose = [12.8] + [step.radius_mm for step in found.steps if step.side == "nose"]
    assert nose == sorted(nose, reverse=True)
    parted = [step for step in found.steps if step.parted]
    radii = [step.radius_mm for step in parted]
    assert radii == sorted(radii) and radii[0] == 4.5
    for inner, outer in zip(parted, parted[1:], strict=False):
        # the outer one stands nearer to the equator and goes on to the inner one's wall, over it by the
        # round of the blade's corner: no ridge is left between them
        assert outer.from_mm < inner.from_mm
        assert outer.to_mm >= inner.from_mm - 2.0 + 0.2 - 1e-9


def test_no_ridge_stands_between_two_plunges() -> None:
    work, tool = Work(12.5, 13.0, 12.5, 4.5, 17.0), Tool(2.0, 0.4)
    found = steps_of(work, tool, 0.3)
    z, left = run_tools(work, tool, tool, found.steps)
    side = left[(z < -0.5) & (z > -11.5)]  # rising from the neck to the equator, but for rounds
    falls = np.maximum.accumulate(side) - side
    assert falls.max() <= 0.01


def test_behind_the_groove_the_longest_and_thickest_is_turned_first() -> None:
    stands = (Stand(18.0, 21.0, 6.0), Stand(21.0, 26.0, 8.0), Stand(26.0, 30.0, 11.0))
    work = Work(12.5, 14.0, 12.5, 4.5, 18.0, stands)
    found = steps_of(work, Tool(2.0, 0.2), 0.3)
    behind = [step for step in found.steps if step.side == "behind"]
    assert [(s.to_mm, s.radius_mm) for s in behind] == [(42.5, 11.0), (38.5, 8.0), (33.5, 6.0)]
    assert all(step.from_mm == pytest.approx(12.5 + 18.0) for step in behind)  # out of the groove
    assert work.wall_mm == 30.0
    z, left = run_tools(work, Tool(2.0, 0.2), Tool(2.0, 0.2), found.steps)
    for stand in stands:  # each stands as thick as it should, away from the round at its wall
        within = (z < -stand.from_mm - 0.5) & (z > -stand.to_mm + 0.5)
        assert left[within] == pytest.approx(stand.radius_mm)
    # without the last the blank stands there as it came
    short = steps_of(Work(12.5, 14.0, 12.5, 4.5, 18.0, stands[:2]), Tool(2.0, 0.2), 0.3)
    assert [s.radius_mm for s in short.steps if s.side == "behind"] == [8.0, 6.0]


def test_the_pointed_tools_flank_clears_every_corner_of_the_ball() -> None:
    stands = (Stand(18.0, 21.0, 6.0),)
    work = Work(12.5, 14.0, 12.5, 4.5, 18.0, stands)
    found = steps_of(work, Tool(2.0, 0.2), 0.3)
    steep = np.tan(np.radians(flank_deg(work, found.profile, 0.2)))
    z, left = run_tools(work, Tool(2.0, 0.2), Tool(2.0, 0.2), found.steps)
    near = z > -18.0 + 0.3  # from the end of the groove's own round
    line = 4.5 + (z + 18.0) * steep  # of the tool's side, its point at the groove's end on the neck
    assert (left[near] <= line[near] + 2 * GRID_MM * steep).all()
    lower = 4.5 + (z + 18.0) * np.tan(np.radians(flank_deg(work, found.profile, 0.2) - 1.0))
    assert (left[near] > lower[near]).any()
    assert flank_deg(Work(12.5, 13.0, 12.5), found.profile, 0.2) == 0.0


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: Work(12.5, 12.0, 12.5), "give at least the ball's 12.5"),
        (lambda: Work(12.5, 13.0, 12.5, 12.5, 15.0), "under the ball's"),
        (lambda: Work(12.5, 13.0, -1.0), "end_mm -1"),
        (lambda: Tool(-1.0, 0.0), "width_mm -1"),
        (lambda: steps_of(Work(12.5, 13.0, 12.5), SHARP, 0.0, height_mm=0.0), "height_mm 0"),
        (
            lambda: steps_of(Work(12.5, 13.0, 12.5, 4.5, 13.0), Tool(3.0, 0.0), 0.0, pitch_mm=1.0),
            "farther back or take a narrower tool",
        ),
        (lambda: steps_of(Work(12.5, 13.0, 12.5), SHARP, -0.1, pitch_mm=1.0), "allowance_mm -0.1"),
    ],
)
def test_refusals_name_the_remedy(call: object, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


def test_a_groove_just_wide_enough_is_taken() -> None:
    # neck at root(12.5^2 - 4.5^2) = 11.662 behind the centre; a 3 mm tool needs 14.662
    work = Work(12.5, 13.0, 12.5, 4.5, 14.663)
    steps = steps_of(work, Tool(3.0, 0.0), 0.0, pitch_mm=1.0).steps
    assert "neck" in {step.side for step in steps}
    with pytest.raises(ValueError, match="14.6619 needed"):
        steps_of(Work(12.5, 13.0, 12.5, 4.5, 14.66), Tool(3.0, 0.0), 0.0, pitch_mm=1.0)


def test_the_turning_tool_and_the_blade_keep_their_own_corners() -> None:
    # the round corner by hand, 12 - 0.5 in front; the sharp blade behind: 2 root(12.5^2 - 7.5^2) = 20
    work = Work(11.5, 14.0, 11.5, 3.0, 20.0)
    found = roughing(work, Tool(0.0, 0.5), Tool(3.0, 0.0), 1.0, HEIGHT_MM, pitch_mm=0.5)
    assert readings(found, "nose")[7.0] == pytest.approx(23.0)
    assert readings(found, "stem")[11.5 + 7.5 + 3.0] == pytest.approx(20.0)
    z, left = run_tools(work, Tool(0.0, 0.5), Tool(3.0, 0.0), found.steps)
    assert (np.hypot(z, left) >= 12.5 - 1e-6)[z > -12.0].all()


@pytest.mark.parametrize("radius", [6.0, 15.0, 18.0, 20.0, 40.0])
def test_no_stop_lies_a_hair_behind_the_end_unless_a_tall_corner_would_stay(radius: float) -> None:
    for allowance in (0.3, 0.5, 0.8):
        height = max(0.5, radius / 12)
        work = Work(radius, radius + 2.0, radius, radius / 3, 1.4 * radius)
        found = roughing(work, Tool(0.0, 0.2), Tool(1.5, 0.2), allowance, height)
        nose = [step for step in found.steps if step.side == "nose"]
        if nose[-1].to_mm < 0.5:  # by Pythagoras: without it more than one and a half would stay
            left = hypot(radius, nose[-2].radius_mm) - radius - allowance
            assert left > 1.5 * height
        # and what was left out leaves no more than that
        assert found.greatest_mm <= allowance + 1.5 * height + 1e-9
    kept = roughing(
        Work(radius, radius + 2.0, radius, radius / 3, 1.4 * radius, face_mm=0.6 * radius),
        *(Tool(0.0, 0.2), Tool(1.5, 0.2), 0.5, height),
    )
    assert min(step.radius_mm for step in kept.steps if step.side == "nose") >= 0.6 * radius


def test_no_step_beside_the_neck_stands_a_hair_over_it() -> None:
    for neck in (5.0, 5.6, 6.3, 7.0, 8.0, 9.0):
        found = roughing(
            Work(20.0, 22.5, 20.0, neck, 27.0), Tool(0.0, 0.2), Tool(3.0, 0.2), 0.5, 1.67
        )
        beside = [step.radius_mm for step in found.steps if step.side == "stem"]
        assert min(beside) >= neck + 0.2
        assert found.greatest_mm <= 0.5 + 1.5 * 1.67
