"""Step roughing against chords worked by hand and a tool's outline run over the blank here."""

from __future__ import annotations

from math import hypot, pi, sqrt

import numpy as np
import pytest

from planner.turning.passes import Sweep, cuts, schedule, start_radius_mm
from planner.turning.roughing import Divisions, Roughing, Step, Tool, Work, profile_after, roughing

SHARP = Tool(0.0, 0.0)
GRID_MM = 0.005


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
    found = readings(roughing(work, SHARP, 0.0, pitch_mm=1.0), "nose")
    assert found[8.0] == pytest.approx(24.0) and found[1.0] == pytest.approx(10.0)
    assert set(found) == {float(k) for k in range(1, 13)}
    # behind the equator the right corner sets the work: the reading is more by the width of the tool
    # (common practice: two tables, the parting tool's width added for the headstock side)
    parting = roughing(work, Tool(3.0, 0.0), 0.0, pitch_mm=1.0)
    behind = readings(parting, "stem")
    assert behind[13.0 + 5.0 + 3.0] == pytest.approx(24.0)
    assert behind[13.0 + 12.0 + 3.0] == pytest.approx(10.0)
    assert readings(parting, "nose") == found  # before it the left corner does, whatever the width


def test_a_round_corner_by_hand() -> None:
    # ball 11.5, allowance 1, corner 0.5: the corner's centre stays 13 from the ball's. With its centre
    # 5 before the equator it stands 12 out: diameter 2 (12 - 0.5) = 23, left side at z = 4.5
    work = Work(11.5, 14.0, 11.5, 3.0, 20.0)
    found = roughing(work, Tool(2.0, 0.5), 1.0, pitch_mm=0.5)
    assert readings(found, "nose")[7.0] == pytest.approx(23.0)
    # behind: right side at z = -4.5, the left side 2 farther
    assert readings(found, "stem")[18.0] == pytest.approx(23.0)
    # a round-nosed turning tool is as wide as its nose
    plain = roughing(work, Tool(0.0, 0.5), 1.0, pitch_mm=0.5)
    assert readings(plain, "stem")[17.0] == pytest.approx(23.0)


def test_steps_of_equal_height_by_hand() -> None:
    # 3-4-5 and the half: a ball of radius 10 is 10 across 8.660 from its centre (four-figure tables,
    # cos 30 = 0.8660), 12 across 8 from it, 16 across 6 from it
    found = roughing(Work(10.0, 10.0, 10.0, 4.0, 15.0), Tool(1.0, 0.0), 0.0, height_mm=1.0)
    nose = {round(d, 6): reading for reading, d in readings(found, "nose").items()}
    assert nose[10.0] == pytest.approx(1.340, abs=5e-4)
    assert nose[12.0] == pytest.approx(2.0) and nose[16.0] == pytest.approx(4.0)
    assert sorted(nose) == pytest.approx([2.0 * k for k in range(1, 10)])
    behind = {round(d, 6): reading for reading, d in readings(found, "stem").items()}
    assert behind[12.0] == pytest.approx(10 + 8 + 1) and behind[16.0] == pytest.approx(10 + 6 + 1)
    neck = found.steps[-1]
    assert neck.side == "neck" and neck.diameter_mm == pytest.approx(8.0)
    assert neck.from_mm == pytest.approx(10 + sqrt(100 - 16) + 1)
    assert neck.to_mm == pytest.approx(25.0)  # the wall of the relief


def test_what_stands_in_front_of_the_ball_is_faced_away() -> None:
    found = roughing(Work(10.0, 11.0, 12.0, 3.0, 14.0), Tool(1.0, 0.0), 0.0, height_mm=1.0)
    assert readings(found, "nose")[2.0] == 0.0
    assert found.profile[-1].z_to_mm == pytest.approx(10.0)


def test_the_cross_slide_goes_in_half_of_what_the_diameter_loses() -> None:
    # common practice: the dial of a cross slide moves the radius, the diameter changes by twice
    found = roughing(Work(12.5, 13.0, 12.5, 4.5, 16.0), Tool(2.0, 0.2), 0.3, pitch_mm=1.0)
    for step in found.steps:
        assert 26.0 - 2 * step.infeed_mm == pytest.approx(step.diameter_mm)
        assert 2 * step.radius_mm == pytest.approx(step.diameter_mm)
    assert found.steps[0].side == "body" and found.steps[0].diameter_mm == pytest.approx(25.6)


def run_tool(work: Work, tool: Tool, steps: tuple[Step, ...]) -> tuple[np.ndarray, np.ndarray]:
    """The half-profile left when the outline of the tool's end is run along every step."""
    width, r = max(tool.width_mm, 2 * tool.corner_mm), tool.corner_mm
    turn = np.radians(np.linspace(0.0, 90.0, 400))
    # from the top of the left corner round to the bottom, over to the right corner and up
    across = np.concatenate([r - r * np.cos(turn), width - r + r * np.sin(turn)])
    height = np.concatenate([r - r * np.sin(turn), r - r * np.cos(turn)])
    z = np.arange(-work.relief_mm + GRID_MM / 2, work.end_mm, GRID_MM)
    left = np.full_like(z, work.blank_radius_mm)
    for step in steps:
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
    found = roughing(work, tool, allowance, **spacing)  # type: ignore[arg-type]
    z, left = run_tool(work, tool, found.steps)
    over = np.hypot(z, left) - work.radius_mm
    turned = left < work.blank_radius_mm - 1e-9
    assert over[turned].min() >= allowance - 1e-6
    thin = work.blank_radius_mm < work.radius_mm + allowance  # then the blank itself leaves less
    least = work.blank_radius_mm - work.radius_mm if thin else over[turned].min()
    assert found.least_mm == pytest.approx(least, abs=0.005)
    assert all(step.to_mm <= work.end_mm + work.relief_mm + 1e-9 for step in found.steps)
    if work.stem_radius_mm is not None:
        assert left[z < 0.0].min() >= work.stem_radius_mm + allowance - 1e-9
        neck = work.end_mm - found.steps[-1].from_mm + tool.across_mm
        over = over[(z >= neck) & (left > 0.0)]  # in front of the ball all may be faced away
    else:
        over = over[z >= 0.0]
    # a column of the grid stands half a cell off the corner; a round is stated in slices of its height
    assert over.max() <= found.greatest_mm + 1e-6
    assert over.max() == pytest.approx(found.greatest_mm, abs=2 * GRID_MM + 0.2 * tool.corner_mm)


@pytest.mark.parametrize(("work", "tool", "allowance", "spacing"), CASES)
def test_the_profile_is_what_the_tool_leaves_but_for_its_corners(
    work: Work, tool: Tool, allowance: float, spacing: dict[str, float | Divisions]
) -> None:
    found = roughing(work, tool, allowance, **spacing)  # type: ignore[arg-type]
    z, left = run_tool(work, tool, found.steps)
    profile = np.zeros_like(z)
    for part in found.profile:
        profile[(z > part.z_from_mm) & (z <= part.z_to_mm)] = part.radius_mm
    assert profile_after(work, tool, found.steps) == found.profile
    # never less than what is left, but at the cell of an edge; the round at the relief's wall, left
    # by the groove's other corner, is out of reach and not in the profile
    reach = z > -work.relief_mm + tool.across_mm / 2
    more = (profile - left)[reach]
    assert np.sum(more < -1e-6) <= len(found.steps) * (2 + 2 * (tool.corner_mm > 0) * 8)
    # and at most 0.05 r^2 more in the section of each step
    most = 0.05 * tool.corner_mm**2 * len(found.steps)
    assert abs(float(more.sum()) * GRID_MM) <= most + 0.1


@pytest.mark.parametrize(("work", "tool", "allowance", "spacing"), CASES)
def test_volumes_add_up_to_the_blank(
    work: Work, tool: Tool, allowance: float, spacing: dict[str, float | Divisions]
) -> None:
    found = roughing(work, tool, allowance, **spacing)  # type: ignore[arg-type]
    long = work.end_mm + work.relief_mm
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
        kept += pi * stem**2 * (work.relief_mm - shoulder)
    assert found.left_mm3 == pytest.approx(profile - kept, rel=1e-9)


def test_the_passes_take_what_roughing_left() -> None:
    work = Work(12.5, 13.0, 12.5, 4.5, 16.0)
    found = roughing(work, Tool(2.0, 0.2), 0.3, pitch_mm=1.0)
    sweep = Sweep(stem_radius_mm=4.5, back_mm=16.0)
    passes = schedule(start_radius_mm(found.profile, sweep), 12.5, 0.25, 0.1, 1, 0.1, 10)
    taken = cuts(found.profile, passes, sweep, 0.1, 0.05, (200.0, 400.0), 30.0)
    assert sum(cut.removed_mm3 for cut in taken) == pytest.approx(found.left_mm3, rel=1e-12)
    # with the stem turned to size nothing is met beyond the highest step, and far fewer are needed
    done = roughing(work, Tool(2.0, 0.2), 0.3, pitch_mm=1.0, stem_allowance_mm=0.0)
    assert done.steps[-1].diameter_mm == pytest.approx(9.0)
    first = start_radius_mm(done.profile, sweep)
    assert first == pytest.approx(12.5 + done.greatest_mm)
    few = schedule(first, 12.5, 0.25, 0.1, 1, 0.1, 10)
    assert len(few) < len(schedule(hypot(13.0, 12.5), 12.5, 0.25, 0.1, 1, 0.1, 10)) / 2


def test_steps_round_away_from_the_ball_to_whole_divisions() -> None:
    work = Work(12.5, 13.0, 12.5, 4.5, 17.0)
    exact = roughing(work, Tool(2.0, 0.2), 0.3, height_mm=1.0)
    whole = roughing(work, Tool(2.0, 0.2), 0.3, height_mm=1.0, divisions=Divisions(0.1, 0.05))
    assert len(exact.steps) == len(whole.steps)
    for a, b in zip(exact.steps, whole.steps, strict=True):
        for value, division in ((b.from_mm, 0.1), (b.to_mm, 0.1), (b.radius_mm, 0.05)):
            assert value / division == pytest.approx(round(value / division), abs=1e-6)
        if a.side == "nose":
            assert a.to_mm - 0.1 < b.to_mm <= a.to_mm + 1e-9
        assert a.from_mm - 1e-9 <= b.from_mm < a.from_mm + 0.1
    assert whole.least_mm >= exact.least_mm - 1e-9 == pytest.approx(0.3)


def test_steps_go_from_the_equator_down() -> None:
    # common practice: each cut takes a step's height, not the whole depth at once
    found = roughing(Work(12.5, 14.0, 12.5, 4.5, 16.0), Tool(2.0, 0.2), 0.3, height_mm=0.9)
    sides = [step.side for step in found.steps]
    assert sides == sorted(sides, key=["body", "nose", "stem", "neck"].index)
    assert [step.number for step in found.steps] == list(range(1, len(found.steps) + 1))
    for side in ("nose", "stem"):
        radii = [12.8] + [step.radius_mm for step in found.steps if step.side == side]
        falls = [a - b for a, b in zip(radii, radii[1:], strict=False)]
        assert min(falls) > 0.0 and max(falls) <= 0.9 + 1e-9


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: Work(12.5, 12.0, 12.5), "give at least the ball's 12.5"),
        (lambda: Work(12.5, 13.0, 12.5, 12.5, 15.0), "under the ball's"),
        (lambda: Work(12.5, 13.0, -1.0), "end_mm -1"),
        (lambda: Tool(-1.0, 0.0), "width_mm -1"),
        (lambda: roughing(Work(12.5, 13.0, 12.5), SHARP, 0.0), "either the pitch"),
        (
            lambda: roughing(Work(12.5, 13.0, 12.5, 4.5, 13.0), Tool(3.0, 0.0), 0.0, pitch_mm=1.0),
            "farther back or take a narrower tool",
        ),
        (lambda: roughing(Work(12.5, 13.0, 12.5), SHARP, -0.1, pitch_mm=1.0), "allowance_mm -0.1"),
    ],
)
def test_refusals_name_the_remedy(call: object, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        call()  # type: ignore[operator]


def test_a_relief_just_wide_enough_is_taken() -> None:
    # neck at root(12.5^2 - 4.5^2) = 11.662 behind the centre; a 3 mm tool needs 14.662
    work = Work(12.5, 13.0, 12.5, 4.5, 14.663)
    assert roughing(work, Tool(3.0, 0.0), 0.0, pitch_mm=1.0).steps[-1].side == "neck"
    with pytest.raises(ValueError, match="14.6619 needed"):
        roughing(Work(12.5, 13.0, 12.5, 4.5, 14.66), Tool(3.0, 0.0), 0.0, pitch_mm=1.0)
