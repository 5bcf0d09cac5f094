"""Steps and sweeps where sizes meet exactly: no step, cylinder or stop is made of what floats lose."""

from __future__ import annotations

from math import cos, degrees, radians, sin, sqrt
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace
from turned import coarse_job, plan_of
from turning.test_roughing import CASES

from planner.checking.behind import Stand
from planner.turning.dials import whole_up
from planner.turning.measured_head import own_outlines
from planner.turning.passes import Cylinder, Sweep, start_radius_mm
from planner.turning.roughing import Divisions, Tool, Work, flank_deg, roughing
from planner.turning.second import stem_left

DIALS = (Divisions(), Divisions(0.1, 0.05), Divisions(0.25, 0.02), Divisions(0.0, 0.025))


@pytest.mark.parametrize("dials", DIALS[:2])
@pytest.mark.parametrize("case", range(0, len(CASES), 3))
def test_no_step_takes_nothing_and_no_cylinder_is_a_sliver(case: int, dials: Divisions) -> None:
    work, tool, allowance, spacing = CASES[case]
    given = {"height_mm": 1.0, **spacing, "divisions": dials}
    if work.groove_mm:
        work = replace(work, groove_mm=work.groove_mm + 0.3)
    height = given.pop("height_mm")
    found = roughing(work, tool, tool, allowance, height, **given)  # type: ignore[arg-type]
    for step in found.steps:
        assert step.infeed_mm > 1e-6
        assert step.to_mm > step.from_mm + 1e-6 or step.parted
    ends = [-work.wall_mm]
    for part in found.profile:
        assert part.z_to_mm - part.z_from_mm > 1e-7
        assert part.z_from_mm >= ends[-1] - 1e-9
        ends.append(part.z_to_mm)
    # a body as thick as the blank is no step, nor a neck as thick as the body
    full = roughing(replace(work, blank_radius_mm=work.radius_mm + allowance), tool, tool, allowance,
                    height, **given)  # type: ignore[arg-type]  # fmt: skip
    assert "body" not in {step.side for step in full.steps} or dials.cross_mm
    assert all(step.infeed_mm > 1e-6 for step in full.steps)


def test_what_meets_exactly_is_no_step() -> None:
    # body 13 of a blank of 13; a neck that the dial rounds up to 13 as well
    found = roughing(Work(12.5, 13.0, 12.5, 4.5, 17.0), Tool(2.0, 0.2), Tool(2.0, 0.2), 0.5, 1.0)
    assert {step.side for step in found.steps} == {"nose", "neck", "stem"}
    neck = Work(13.0, 14.0, 13.0, 12.99, 19.0)
    none = roughing(neck, Tool(2.0, 0.0), Tool(2.0, 0.0), 0.0, 1.0, divisions=Divisions(0.0, 0.5))
    assert {step.side for step in none.steps} == {"body", "nose"}
    # a groove exactly as wide as the blade needs: 12 to the neck (5-12-13) and 3 wide
    just = roughing(Work(13.0, 14.0, 13.0, 5.0, 15.0), Tool(3.0, 0.0), Tool(3.0, 0.0), 0.0, 1.0)
    (at,) = [step for step in just.steps if step.side == "neck"]
    assert (at.from_mm, at.to_mm) == (pytest.approx(28.0), pytest.approx(28.0))
    # what stands behind up to the groove's end is within it
    stands = (Stand(15.0, 18.0, 8.0),)
    within = roughing(
        Work(12.5, 14.0, 12.5, 4.5, 18.0, stands), Tool(2.0, 0.2), Tool(2.0, 0.2), 0.3, 1
    )
    assert "behind" not in {step.side for step in within.steps}
    # and a stop at the faced end, where a whole pitch ends, is none
    whole = roughing(Work(13.0, 14.0, 13.0), Tool(0.0, 0.0), Tool(2.0, 0.0), 0.0, 1.0, pitch_mm=1.0)
    assert min(step.to_mm for step in whole.steps if step.side == "nose") == pytest.approx(1.0)


@pytest.mark.parametrize("tool", [Tool(0.0, 0.0), Tool(2.0, 0.4), Tool(3.0, 1.2)])
@pytest.mark.parametrize("pitch", [0.5, 1.0, 1.3])
def test_with_a_pitch_every_stop_is_used_that_takes_something(pitch: float, tool: Tool) -> None:
    # by hand, from the equator on: at each whole pitch from the faced end the chord of the corner's
    # centre; none that takes less than two hundredths more than the one before
    radius, allowance, end = 13.0, 0.25, 13.0
    found = roughing(
        Work(radius, 15.0, end, 4.0, 20.0), tool, Tool(2.0, 0.2), allowance, 1.0, pitch_mm=pitch
    )
    out, before, wanted = radius + allowance + tool.corner_mm, radius + allowance, []
    for number in range(int(end / pitch + 1e-6), 0, -1):
        centre = end - number * pitch + tool.corner_mm
        if centre >= out:
            break
        chord = sqrt(out**2 - centre**2) - tool.corner_mm
        if 0.0 <= chord <= before - 0.02:
            wanted.append((number * pitch, chord))
            before = chord
    made = [(step.to_mm, step.radius_mm) for step in found.steps if step.side == "nose"]
    assert len(made) == len(wanted)
    for one, other in zip(made, wanted, strict=True):
        assert one == pytest.approx(other, abs=1e-9)


@pytest.mark.parametrize("stem", [4.5, 4.52, 6.0])
@pytest.mark.parametrize("dials", DIALS)
@pytest.mark.parametrize("nose", [0.0, 0.2])
def test_the_flank_is_as_steep_as_the_corners_let_it(
    stem: float, dials: Divisions, nose: float
) -> None:
    stands = (Stand(18.0, 21.0, 7.0),)
    work = Work(12.5, 14.0, 12.5, stem, 18.0, stands)
    tool = Tool(2.0, 0.2)
    found = roughing(work, tool, tool, 0.3, 1.0, divisions=dials)
    angle = flank_deg(work, found.profile, nose)
    assert 20.0 < angle < 85.0
    # the nose stands on the neck at the groove's end; its side touches its round and rises so
    corners = [
        (part.z_from_mm + 18.0, part.radius_mm) for part in found.profile if part.z_from_mm > -17.5
    ]

    def clear(deg: float) -> float:
        """The least distance of a corner over the side, square to it; below 0 it is in the tool."""
        a = radians(deg)
        return min((x - nose) * sin(a) - (y - stem - nose) * cos(a) - nose for x, y in corners)

    assert clear(angle) == pytest.approx(0.0, abs=1e-9) and clear(angle - 0.5) < 0.0


def test_what_is_left_counts_what_the_swing_comes_to_alone() -> None:
    # metal behind the groove is the turning tool's, not the swing's: the same with any of it there
    tool = Tool(2.0, 0.2)
    plain = roughing(Work(12.5, 14.0, 12.5, 4.5, 18.0), tool, tool, 0.3, 1.0)
    for stands in (
        (Stand(18.0, 21.0, 6.0),),
        (Stand(18.0, 21.0, 6.0), Stand(21.0, 30.0, 11.0)),
    ):
        found = roughing(Work(12.5, 14.0, 12.5, 4.5, 18.0, stands), tool, tool, 0.3, 1.0)
        assert found.left_mm3 == pytest.approx(plain.left_mm3, rel=1e-9)
        assert found.greatest_mm == pytest.approx(plain.greatest_mm)


def test_whole_divisions_stay_what_they_are() -> None:
    for division in (0.1, 0.05, 0.02, 0.025):
        for k in range(1, 60):
            assert whole_up(k * division, division) == pytest.approx(k * division, abs=1e-12)
            assert whole_up(k * division + 1e-4, division) == pytest.approx((k + 1) * division)
    assert whole_up(1.2345, 0.0) == 1.2345


@pytest.mark.parametrize(("blank", "down"), [(41.0, False), (41.2, True)])
def test_half_a_ball_in_a_blank_no_thicker_than_its_allowance_needs_no_room_behind(
    blank: float, down: bool
) -> None:
    plan = plan_of(coarse_job({"diameter": 40, "blank_diameter": blank, "shape": "hemisphere"}))
    assert ("body" in {step.side for step in plan.roughing.steps}) is down
    lowest = min(part.z_from_mm for part in plan.roughing.profile)
    assert (lowest < 0.0) is down


# ---- the sweep, and the second holding ----


@pytest.mark.parametrize("start", [0.0, 0.05, 3.0, 20.0])
@pytest.mark.parametrize("nose", [0.0, 0.5])
def test_the_first_touch_is_where_the_sweep_meets_metal_first(start: float, nose: float) -> None:
    # felt for: the farthest metal that the tip, its nose with it, sweeps over
    profile = (Cylinder(-17.0, 6.0, 13.0), Cylinder(6.0, 12.5, 9.0), Cylinder(12.5, 20.0, 1.5))
    found = start_radius_mm(profile, Sweep(start_deg=start, nose_mm=nose, back_mm=8.0))
    reached = 0.0
    for part in profile:
        z = np.linspace(max(part.z_from_mm, -8.0), part.z_to_mm, 20001)
        far = np.hypot(z, part.radius_mm)
        side = np.hypot(part.radius_mm, max(part.z_to_mm, 0.0))
        first = start - degrees(np.arcsin(min(1.0, nose / side))) if start else 0.0
        seen = np.degrees(np.arctan2(part.radius_mm, z)) >= first - 1e-9
        reached = max(reached, float(far[seen].max(initial=0.0)))
    assert found == pytest.approx(reached, abs=5e-3)


def test_what_is_left_of_a_stem_keeps_its_thickness_behind_the_groove() -> None:
    # neck 4.5 to the groove's end at 18, then 6 thick; parted at 20, or just where a length ends
    profile = (
        Cylinder(-30.0, -22.0, 9.0),
        Cylinder(-22.0, -18.0, 6.0),
        Cylinder(-18.0, -11.0, 4.5),
        Cylinder(-11.0, 12.5, 13.0),
    )
    work, sweep = Work(12.5, 13.0, 12.5, 4.5, 18.0), Sweep(0.0, 159.0, 4.5, 18.0, 0.2, 0.05)
    left = stem_left(work, profile, sweep, 20.0)
    assert [(p.z_from_mm, p.z_to_mm) for p in left] == [(0.0, 11.0), (11.0, 18.0), (18.0, 20.0)]
    assert [p.radius_mm for p in left][1:] == [4.5, 6.0]
    for end, last in ((18.0, 4.5), (22.0, 6.0), (22.5, 9.0)):
        parts = stem_left(work, profile, sweep, end)
        assert parts[-1].z_to_mm == end and parts[-1].radius_mm == last


def test_the_ground_bits_flanks_touch_its_nose() -> None:
    # its side runs from where the bit is full width down to the nose's round, 0.4 from its middle
    half = radians(19.0)  # a bit ground to 38 degrees goes by a stem of 0.35 of its ball
    for nose in (0.2, 0.4, 1.0):
        bit = next(o for o in own_outlines(OWN, nose) if o[0].name == "tool bit")
        middle = next(edge for edge in bit if edge.round_mm)
        assert (middle.y_mm, middle.round_mm) == (nose, nose)
        shoulder = min(e.y_mm for e in bit if not e.round_mm)
        # square to a side at 60 degrees to the other (thirty to the axis)
        away = OWN.bit_width / 2 * cos(half) - (shoulder - nose) * sin(half)
        assert away == pytest.approx(nose)


OWN: Any = SimpleNamespace(
    bit_width=8.0, bit_stickout=20.0, arm_height=16.0, arm_width=14.0, rod_diameter=12.0, overhang=30.0,
    tail=25.0, largest_ball=50.0, body_radius=20.0, beside=26.0, handle_length=100.0, knob=60.0,
)  # fmt: skip


def test_a_measured_heads_outlines_are_as_wide_as_they_were_measured() -> None:
    # x along the pivot, y along the rod from the tip: what each part takes up, added up by hand
    boxes = {
        outline[0].name: (
            min(e.x_low_mm for e in outline),
            max(e.x_high_mm for e in outline),
            min(e.y_mm - e.round_mm for e in outline),
            max(e.y_mm + e.round_mm for e in outline),
            max(abs(e.z_mm) + e.round_mm for e in outline),
        )
        for outline in own_outlines(OWN, 0.4)
    }
    assert boxes == {
        "tool bit": (-8.0, 0.0, 0.0, 36.0, 4.0),
        "arm": (-36.0, 0.0, 20.0, 36.0, 7.0),
        "rod": (-36.0, -24.0, -50.0, 36.0, 6.0),
        "body": (-50.0, -26.0, -20.0, 20.0, 20.0),
        "knob": (-75.0, -45.0, 85.0, 115.0, 15.0),
    }
    # without a knob, and with a body slimmer than its rod
    slim = SimpleNamespace(**{**vars(OWN), "knob": None, "body_radius": 4.0})
    found = {outline[0].name: outline for outline in own_outlines(slim, 0.4)}  # type: ignore[arg-type]
    assert set(found) == {"tool bit", "arm", "rod", "body"}
    assert found["body"][0].x_low_mm == -36.0
