"""A head that exists, by its measured sizes: against the attachment that they were taken from."""

from __future__ import annotations

from math import cos, hypot, pi, radians
from pathlib import Path

import pytest
from commands import call
from jobs import ROOT, planned

from planner.job.own_head import OwnHead
from planner.job.reading import job_from, read_job
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.output.sheets.turn import turn_tables
from planner.turning.head import Head, designed_head
from planner.turning.measured_head import measured_head, own_give_mm_per_N
from planner.turning.plan import turned_by
from planner.words.findings import BadInput

BALL = {
    "name": "knob",
    "diameter": 30,
    "blank_diameter": 32,
    "stem_diameter": 11,
    "stem_length": 10,
    "material": "CW614N",
}


def measured_of(plan: Plan, head: Head) -> dict[str, object]:
    """What a user with a rule and a caliper would write down of the attachment of a plan."""
    s = plan.sizing.sizes
    arm = next(o for o in head.outlines if o[0].name == "arm")
    return {
        "largest_ball": s.max_ball_diameter_mm,
        "smallest_ball": s.min_ball_diameter_mm,
        "screw_pitch": s.screw_pitch_mm,
        "dial_divisions": s.dial_divisions,
        "rod_diameter": s.rod_diameter_mm,
        "overhang": -s.rod_x_mm,
        "beside": head.stands_mm,
        "bit_stickout": s.bit_stickout_mm,
        "bit_width": s.bit_stock.width_mm,
        "arm_height": s.arm_stock.height_mm,
        "arm_width": 2 * max(abs(e.z_mm) for e in arm),
        "tail": max(
            -e.y_mm - (s.max_ball_diameter_mm / 2 if e.carrier.name == "HEAD" else 0.0)
            for o in head.outlines
            for e in o
        ),
        "body_radius": max(
            (e.y_mm**2 + e.z_mm**2) ** 0.5 + e.round_mm
            for o in head.outlines
            for e in o
            if e.carrier.name == "BODY" and o[0].name not in ("handle", "knob", "feed screw")
        ),
        "handle_length": s.handle_length_mm,
        "grip": head.grip_N,
        "clearance": head.clearance_mm,
    }


@pytest.fixture
def both() -> tuple[Job, Head, Head]:
    """The bench lathe's job with a ball, its designed head, and the same head as measured."""
    data = {**_data(), "ball": [BALL]}
    designed = job_from(data, "job.toml")
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    head = designed_head(plan.attachment, designed)
    own = {k: v for k, v in data.items() if k not in ("attachment", "tool_post")}
    job = job_from({**own, "own_head": measured_of(plan, head)}, "own.toml")
    assert job.own_head is not None
    return job, head, measured_head(job.own_head, job)


def _data() -> dict[str, object]:
    import tomllib

    return tomllib.loads((ROOT / "examples" / "bench-lathe.toml").read_text())


def test_the_sweep_of_a_measured_head_is_the_designed_ones(both: tuple[Job, Head, Head]) -> None:
    job, head, own = both
    (one,) = turned_by(head, job, "job.toml").balls
    (other,) = turned_by(own, job, "job.toml").balls
    # all is measured by its farthest points, an arm by its wider side: the measured head ends its sweep
    # no later than the designed one, a degree or two sooner, and stands no nearer to the jaws
    assert one.clearance.end_deg - 2.0 <= other.clearance.end_deg <= one.clearance.end_deg + 1e-9
    assert other.blank_length_mm >= one.blank_length_mm - 0.5
    # readings are of the same dial
    assert own.division_mm == head.division_mm
    assert other.passes[-1].cut.taken.radius_mm == one.passes[-1].cut.taken.radius_mm == 15.0


def test_what_a_measured_head_gives_is_three_times_rod_and_arm(
    both: tuple[Job, Head, Head],
) -> None:
    job, head, own = both
    o = job.own_head
    assert o is not None
    # P o^3 / 3EI of the arm and (P o) o L / EI of the rod (any handbook of mechanics), steel 206 GPa
    arm = o.overhang**3 / (3 * 206e3 * o.arm_width * o.arm_height**3 / 12)
    free = o.largest_ball / 2 + o.bit_stickout - o.body_radius
    rod = o.overhang**2 * max(1.0, free) / (206e3 * pi * o.rod_diameter**4 / 64)
    assert own_give_mm_per_N(o) == pytest.approx(3 * (arm + rod))
    # measured: 0.05 mm under 100 N
    measured = o.model_copy(update={"gives": 0.05})
    assert own_give_mm_per_N(measured) == pytest.approx(5e-4)
    assert measured_head(measured, job).spring(20.0) == pytest.approx(5e-4)


def test_a_clamp_that_slips_sooner_makes_the_passes_lighter(both: tuple[Job, Head, Head]) -> None:
    job, _, own = both
    assert job.own_head is not None
    weak = measured_head(job.own_head.model_copy(update={"grip": 60.0}), job)
    strong = turned_by(own, job, "job.toml").balls[0]
    light = turned_by(weak, job, "job.toml").balls[0]
    assert max(p.depth_mm for p in light.passes) < max(p.depth_mm for p in strong.passes)
    assert light.seconds > strong.seconds and light.limited_by == "the clamp's grip"
    # the push at twice the feed, for a hand swings unevenly, is half of the grip at most
    assert all(2 * p.load.passive_N * 0.8 <= 60.0 for p in light.passes)


@pytest.mark.parametrize("part", ["bit_stickout", "arm_width", "tail", "body_radius"])
def test_a_larger_part_never_clears_more(part: str, both: tuple[Job, Head, Head]) -> None:
    job, _, own = both
    o = job.own_head
    assert o is not None
    wider = measured_head(o.model_copy(update={part: 1.1 * getattr(o, part)}), job)
    a, b = (turned_by(h, job, "job.toml").balls[0] for h in (own, wider))
    if part == "bit_stickout":  # farther out, the arm stands farther off the stem
        assert b.clearance.end_deg >= a.clearance.end_deg - 1e-9
    elif part == "arm_width":
        assert b.clearance.end_deg < a.clearance.end_deg
    else:
        assert b.blank_length_mm >= a.blank_length_mm


def near_head(job: Job, knob: float) -> OwnHead:
    """The job's own head, its knob so far along the pivot."""
    assert job.own_head is not None
    return job.own_head.model_copy(update={"knob": knob, "handle_length": 40.0})


def test_the_knob_is_looked_at_only_where_it_is_known(both: tuple[Job, Head, Head]) -> None:
    job, _, own = both
    assert job.own_head is not None
    assert not own.knob_known
    near = measured_head(job.own_head.model_copy(update={"knob": 60.0}), job)
    told = {f.code for f in turned_by(near, job, "job.toml").findings}
    assert "hand-room" in told
    # high over the slide, the room is that to the chuck's rim: along the pivot to the knob, 15 thick,
    # and along the spindle from the jaws to as deep as the swing's end brings it (Pythagoras)
    high = job.lathe.model_copy(update={"spindle_over_cross_slide": 300.0})
    tall = job.model_copy(update={"lathe": high})
    found = turned_by(measured_head(near_head(job, 90.0), tall), tall, "job.toml")
    (plan,) = found.balls
    jaws = plan.blank_length_mm - 15.0
    deep = 15.0 + near_head(job, 90.0).handle_length * -cos(radians(plan.sweep.end_deg))
    room = hypot(90.0 - 15.0 - tall.lathe.chuck_diameter / 2, jaws - deep)
    assert jaws - deep > 0.0 and room < 40.0
    said = next(f for f in found.findings if f.code == "hand-room")
    assert said.value == f"the knob comes within {room:.1f} mm of the chuck"
    assert "hand-room" not in {f.code for f in turned_by(own, job, "job.toml").findings}


def test_a_new_file_for_a_head_turns_and_corrects_and_builds_nothing(tmp_path: Path) -> None:
    job = tmp_path / "head.toml"
    assert call("new", str(job), "--own-head").exit_code == 0
    answer = call("turn", str(job))
    assert "knob: in this order" in answer.stdout
    for command in ("sizes", "check", "route", "cutlist", "dial", "build"):
        refused = call(command, str(job))
        assert refused.exit_code == 2 and "nothing-built" in refused.stderr, command
    inch = tmp_path / "inch.toml"
    assert call("new", str(inch), "--own-head", "--inch").exit_code == 0
    assert read_job(inch).inch and call("turn", str(inch)).stdout.count(" in ") > 20


def test_a_head_that_exists_is_given_no_other_sizes(both: tuple[Job, Head, Head]) -> None:
    job, head, own = both
    low = job.model_copy(
        update={"lathe": job.lathe.model_copy(update={"spindle_over_cross_slide": 30.0})}
    )
    assert low.own_head is not None
    told = turned_by(measured_head(low.own_head, low), low, "job.toml").findings
    (slide,) = [f for f in told if f.code == "cross-slide"]
    assert "choose the sizes" not in slide.remedy and "smaller ball" in slide.remedy


def test_a_head_whose_smallest_ball_is_no_smaller_is_refused() -> None:
    data = {k: v for k, v in _data().items() if k not in ("attachment", "tool_post")}
    own = {
        **{"largest_ball": 20, "smallest_ball": 20, "screw_pitch": 1, "dial_divisions": 50},
        **{"rod_diameter": 12, "overhang": 30, "beside": 20, "bit_stickout": 10, "bit_width": 6},
        **{"arm_height": 15, "arm_width": 14, "tail": 40, "body_radius": 24},
        **{"handle_length": 100, "grip": 200},
    }
    with pytest.raises(BadInput) as caught:
        job_from({**data, "own_head": own}, "own.toml")
    assert "balls-reversed" in str([f.code for f in caught.value.findings])
    own["smallest_ball"] = 10
    assert job_from({**data, "own_head": own}, "own.toml").attachment.max_ball_diameter == 20.0


def test_a_measured_head_is_told_of_no_lever_that_it_may_not_have(
    both: tuple[Job, Head, Head],
) -> None:
    job, head, own = both
    for s, lever in ((head, True), (own, False)):
        rows = turn_tables(turned_by(s, job, "job.toml"), job)[0].records()
        (each,) = [row for row in rows if row["what"] == "each pass"]
        assert ("lever" in each["how"]) is lever and ("slits" in each["caution"]) is lever
        assert "away from the chuck" in each["caution"]


@pytest.mark.parametrize("tail", [60.0, 120.0])
def test_a_long_tail_stays_off_the_jaws_where_the_dial_of_a_hollow_is_set(tail: float) -> None:
    data = {k: v for k, v in _data().items() if k not in ("attachment", "tool_post")}
    own = {
        **{"largest_ball": 50, "smallest_ball": 15, "screw_pitch": 1, "dial_divisions": 50},
        **{"rod_diameter": 12, "overhang": 40, "beside": 32, "bit_stickout": 22, "bit_width": 6},
        **{"arm_height": 14, "arm_width": 16, "tail": tail, "body_radius": 30},
        **{"handle_length": 100, "grip": 500, "clearance": 2},
    }
    dish = {"shape": "socket", "diameter": 160, "depth": 3, "blank_diameter": 50, "name": "dish"}
    job = job_from({**data, "own_head": own, "ball": [dish]}, "own.toml")
    assert job.own_head is not None
    (hollow,) = turned_by(measured_head(job.own_head, job), job, "job.toml").sockets
    # the bit turned round: its point is two stick-outs and an arm farther out than it was, 58; at the
    # first touch 77 from the pivot, so the rod is in by 25 - 19 and its end so much farther behind
    behind = tail + 50 / 2 - (77 - 58)
    assert hollow.out_mm >= behind + 2 - 77 - 0.01


def test_stops_are_set_only_where_the_head_has_some(both: tuple[Job, Head, Head]) -> None:
    """Counted from the attachment's things: what is not there cannot be locked (common practice)."""
    job, head, own = both

    def said(s: Head, job: Job) -> str:
        rows = turn_tables(turned_by(s, job, "job.toml"), job)[0].records()
        (how,) = {row["how"].rpartition("neck; ")[2] for row in rows if row["what"] == "sweep"}
        return str(how)

    small = planned(ROOT / "tests" / "data" / "shops" / "watch-bench.toml")
    for plan in (planned(ROOT / "examples" / "bench-lathe.toml"), small):
        there = any(part.name == "stop-bar" for part in plan.attachment.parts)
        words = said(designed_head(plan.attachment, plan.job), plan.job)
        assert ("stops set and locked" in words) is there
        assert ("no stops" in words and "pencil line" in words) is not there
    assert "where it has none" in said(own, job)  # a head that exists: it is not asked
