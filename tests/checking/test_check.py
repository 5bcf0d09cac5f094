"""The check: clearance against a brute-force sweep, the load path against sums, findings that come."""

from __future__ import annotations

import json
from collections.abc import Callable
from math import cos, hypot, radians
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from commands import call
from jobs import ROOT
from msgspec.structs import replace

from parts.attachment import Carrier, attachment
from planner.checking.clearance import ball_cases, clearances
from planner.checking.strength import (
    cutting_load,
    deflection_links,
    strength_findings,
    strength_report,
)
from planner.checking.sweep_findings import clearance_findings
from planner.geometry.envelope import Edge, swinging_edges
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.output.topics import build_findings
from planner.sizing.apply import size_up

JobWith = Callable[..., Job]


def swept(edge: Edge, tip: float, swings: Any) -> tuple[Any, Any]:
    """Height over the spindle and distance in front of the ball's centre, from the rotation alone."""
    y, a = edge.y_mm + (tip if edge.carrier is Carrier.HEAD else 0.0), np.radians(swings)
    return y * np.sin(a) - edge.z_mm * np.cos(a), y * np.cos(a) + edge.z_mm * np.sin(a)


def test_a_fine_sweep_never_passes_the_clearances(plan: Plan) -> None:
    s = plan.sizing.sizes
    edges = swinging_edges(plan.attachment)
    chuck = plan.job.lathe.chuck_diameter / 2 + s.clearance_mm
    for found in clearances(plan.attachment, plan.job):
        radius, blank = found.ball.diameter_mm / 2, found.ball.blank_mm / 2
        tips = [radius, (radius + hypot(radius, blank)) / 2, hypot(radius, blank) + s.clearance_mm]
        swings = np.linspace(found.start_deg, found.end_deg, 601)
        places = [(e, *swept(e, t, swings)) for e in edges for t in tips]
        back = max(
            float(np.max((e.round_mm - z)[np.hypot(y, e.x_high_mm) < chuck], initial=0.0))
            for e, y, z in places
            if -chuck < e.x_high_mm <= 0.0
        )
        assert back <= found.stick_out_mm - s.clearance_mm + 1e-9
        low = max(float(np.max(e.round_mm - y)) for e, y, _ in places)
        gap = s.spindle_over_cross_slide_mm - low
        assert found.cross_slide_mm <= gap + 1e-9 and gap - found.cross_slide_mm < 0.05


def test_behind_the_ball_the_stem_is_never_touched(plan: Plan) -> None:
    edges = swinging_edges(plan.attachment)
    for found in clearances(plan.attachment, plan.job):
        radius, stem = found.ball.diameter_mm / 2, found.ball.stem_mm / 2
        beside = [
            e for e in edges if e.carrier is Carrier.HEAD and e.x_high_mm > -found.ball.blank_mm / 2
        ]
        assert beside
        for edge in beside:
            height, z = swept(edge, radius, np.linspace(90.0, found.end_deg, 401))
            behind = z < -radius * cos(radians(180 - found.neck_deg))
            assert np.all(height[behind] >= stem - 1e-6), edge.name
            in_blank = behind & (height < found.ball.blank_mm / 2)
            assert np.all(-z[in_blank] <= found.relief_mm + 1e-6)


def test_what_swings_stays_clear_of_the_blank_behind_the_relief(plan: Plan) -> None:
    # the first passes too, with the tip right out: their arm comes farthest back beside the stem
    edges = swinging_edges(plan.attachment)
    s = plan.sizing.sizes
    for found in clearances(plan.attachment, plan.job):
        radius, blank = found.ball.diameter_mm / 2, found.ball.blank_mm / 2
        farthest = hypot(radius, blank) + s.clearance_mm
        for tip in (radius + (farthest - radius) * i / 12 for i in range(13)):
            for edge in edges:
                if edge.carrier is not Carrier.HEAD or edge.x_high_mm <= -blank:
                    continue
                height, z = swept(edge, tip, np.linspace(90.0, found.end_deg, 401))
                near = height < blank + s.clearance_mm - 1e-9
                assert np.all(-z[near] <= found.relief_mm - s.clearance_mm + 0.02), edge.name


def test_the_sweep_reaches_the_neck_of_the_usual_stem(plan: Plan) -> None:
    for found in clearances(plan.attachment, plan.job):
        assert found.end_deg == pytest.approx(found.neck_deg)
        assert found.reaching_bit_mm is None


def test_a_thinner_stem_than_the_bit_reaches_is_told_with_the_bit_that_would(
    job_with: JobWith,
) -> None:
    job = job_with(ball=[{"name": "knob", "diameter": 40, "stem_diameter": 8}])
    made = attachment(size_up(job, "job.toml").sizes)
    found = clearances(made, job)
    findings = clearance_findings(found, made.sizes, job, "job.toml")
    (sweep,) = [f for f in findings if f.code == "sweep"]
    assert "knob" in sweep.text and found[-1].end_deg < found[-1].neck_deg


def test_balls_and_blanks_the_attachment_cannot_take_are_refused(job_with: JobWith) -> None:
    balls = [
        {"name": "big", "diameter": 60},
        {"name": "small", "diameter": 6},
        {"name": "fat", "diameter": 50, "blank_diameter": 60},
    ]
    job = job_with(ball=balls)
    made = attachment(size_up(job, "job.toml").sizes)
    findings = clearance_findings(clearances(made, job), made.sizes, job, "job.toml")
    codes = {(f.code, f.text.split(":")[0]) for f in findings if f.severity == "refused"}
    assert {("ball-size", "big"), ("ball-size", "small"), ("beside-blank", "fat")} <= codes
    for finding in findings:
        assert finding.limit and finding.remedy and finding.source and finding.key


def test_a_tailstock_centre_begins_the_sweep_above_the_nose(job_with: JobWith) -> None:
    centre = {"diameter": 12, "point_length": 10}
    job = job_with(**{"turning.tailstock_centre": centre})
    made = attachment(size_up(job, "job.toml").sizes)
    largest = clearances(made, job)[0]
    assert largest.start_deg > 10.0
    for edge in swinging_edges(made):
        if edge.carrier is Carrier.HEAD and edge.x_high_mm > -25:
            assert swept(edge, 25.0, largest.start_deg)[0] >= 6.0


def test_every_ball_of_the_job_is_a_case(job_with: JobWith) -> None:
    job = job_with(ball=[{"diameter": 30}, {"name": "handle", "diameter": 25}])
    sizes = size_up(job, "job.toml").sizes
    assert [c.name for c in ball_cases(sizes, job)] == ["largest", "smallest", "ball 1", "handle"]


def test_shares_add_up_and_follow_the_sizes(plan: Plan) -> None:
    s = plan.sizing.sizes
    load = cutting_load(0.25, 0.08, 0.5, "S355")
    links = deflection_links(s, load)
    assert sum(link.share for link in links) == pytest.approx(1.0)
    by_name = {link.name: link.deflection_mm for link in links}
    # a disc on a half-space turns by the third power of its radius (contact mechanics)
    thick = replace(s, rod_diameter_mm=s.rod_diameter_mm * 2)
    clamp = {link.name: link.deflection_mm for link in deflection_links(thick, load)}
    assert clamp["rod in its clamp"] == pytest.approx(by_name["rod in its clamp"] / 8)


def test_the_rod_tips_the_arm_as_a_frame_does(bench: Plan) -> None:
    # unit-load sum over the rod's free length: the moment is force times lever everywhere
    s, load = bench.sizing.sizes, cutting_load(0.25, 0.08, 0.5, "S355")
    lever, free = -s.rod_x_mm, s.max_ball_diameter_mm / 2 + s.bit_stickout_mm - s.block_tip_y_mm
    second, area = 3.14159265 * s.rod_diameter_mm**4 / 64, 3.14159265 * s.rod_diameter_mm**2 / 4
    slices = 1000
    bent = sum(load.passive_N * lever * lever / (210_000 * second) * free / slices
               for _ in range(slices))  # fmt: skip
    stretched = load.passive_N * free / (210_000 * area)
    rod = next(link for link in deflection_links(s, load) if link.name == "rod")
    assert rod.deflection_mm == pytest.approx(bent + stretched, rel=1e-6)


def test_forces_are_chip_area_times_a_published_specific_force() -> None:
    # S355, 0.25 x 0.08 mm: catalogue 1350 and textbook 1990 MPa at 1 mm; the chip is some 0.04 mm
    # thick, so kc is 2.0 to 4.7 GPa and the main force 0.02 mm2 of it: 40 to 95 N
    load = cutting_load(0.25, 0.08, 0.5, "S355")
    assert 40 <= load.main_N <= 95
    assert load.passive_N < load.main_N and load.feed_N < load.main_N


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_absurd_cuts_are_refused(bad: float) -> None:
    with pytest.raises(ValueError):
        cutting_load(bad, 0.08, 0.5, "S355")
    with pytest.raises(ValueError):
        cutting_load(0.25, bad, 0.5, "S355")


def test_an_over_tightened_screw_and_a_loose_one_are_found(job_with: JobWith) -> None:
    def codes(torque: float) -> set[str]:
        job = job_with(**{"turning.clamp_torque": torque})
        sizes = size_up(job, "job.toml").sizes
        report = strength_report(sizes, job, 0.5)
        return {f.code for f in strength_findings(report, sizes, job, "job.toml")}

    assert codes(1.4) == set()  # 56 N at the end of a lever of 25
    assert codes(2.0) == {"lever-force"}
    assert "screw-preload" in codes(12.0)
    assert "grip" in codes(0.2)


def test_a_thin_rod_in_steel_is_found_and_named(job_with: JobWith) -> None:
    heavy = {
        "turning.depth_of_cut": 2.0,
        "turning.feed": 0.3,
        "ball": [{"diameter": 50, "material": "42CrMo4"}],
    }
    job = job_with(**heavy)
    sizes = size_up(job, "job.toml").sizes
    report = strength_report(sizes, job, 0.5)
    assert report.load.material == "42CrMo4"
    found = strength_findings(report, sizes, job, "job.toml")
    assert any(f.code == "deflection" for f in found)
    for finding in found:
        assert finding.key.startswith(("attachment.sizes.", "turning."))


def test_the_examples_may_be_built(plan: Plan) -> None:
    result = call("check", plan.file)
    assert result.exit_code == 0, result.stderr
    assert "grip on the rod" in result.stdout


def test_the_examples_have_nothing_to_look_at_before_building(plan: Plan) -> None:
    assert [f.text for f in build_findings(plan) if f.severity != "note"] == []


def test_a_job_that_says_do_not_build_is_exit_1(tmp_path: Path) -> None:
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    job = tmp_path / "big.toml"
    job.write_text(text + "\n[[ball]]\ndiameter = 64\n", encoding="utf-8")
    result = call("check", str(job), "--json")
    assert result.exit_code == 1
    findings = json.loads(result.stdout)["findings"]
    assert any(f["code"] == "ball-size" and f["severity"] == "refused" for f in findings)


def test_a_carbide_tipped_bit_springs_as_its_shank_of_steel(job_with: Callable[..., Job]) -> None:
    # a carbide tip is brazed on a shank of steel (common practice), which is what bends
    found = []
    for kind in ("HSS", "carbide"):
        job = job_with(**{"shop.tool_material": kind})
        s = size_up(job, "job.toml").sizes
        assert s.tool_material == kind
        found.append(strength_report(s, job, 0.5, "across"))
    steel, carbide = (
        next(link for link in report.links if link.name == "tool bit") for report in found
    )
    assert carbide.mm_per_N == pytest.approx(steel.mm_per_N) and steel.mm_per_N > 0.0
