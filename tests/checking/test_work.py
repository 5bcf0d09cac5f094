"""The work's own bending, against the textbook's cantilever and a beam integrated slice by slice."""

from __future__ import annotations

from collections.abc import Callable
from math import pi

import numpy as np
import pytest
from msgspec.structs import replace

from parts.attachment import attachment
from planner.checking.clearance import clearances
from planner.checking.strength import cutting_load
from planner.checking.work import Bar, bending_findings, bending_mm_per_N, bendings
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.turning.plan import turned

JobWith = Callable[..., Job]
STEEL_MPa = 210_000.0


def test_a_slender_stem_is_the_textbooks_cantilever() -> None:
    # P L^3 / 3 E I (any handbook): 9 thick, 101 long, I = 322.06 mm^4; 18 N bend it 0.0914 mm
    rod = Bar(9.01, 9.0, 9.0, 0.01, 101.0, 101.0)
    assert 18 * bending_mm_per_N(rod, STEEL_MPa) == pytest.approx(
        18 * 101**3 / (3 * STEEL_MPa * pi * 9**4 / 64), rel=1e-3
    )
    assert 18 * bending_mm_per_N(rod, STEEL_MPa) == pytest.approx(0.0914, abs=2e-4)


def by_slices(bar: Bar, modulus: float) -> float:
    """Deflection under one newton at the ball's centre: curvature summed twice from the jaws."""
    count = 200_001
    z = np.linspace(0.0, bar.out_mm, count)  # back from the centre
    ball = 2 * np.sqrt(np.maximum(bar.ball_mm**2 / 4 - z**2, 0.0))
    across = np.where(z < bar.shoulder_mm, np.maximum(ball, bar.stem_mm), bar.stem_mm)
    across = np.where(z > bar.relief_mm, bar.blank_mm, across)
    step = z[1] - z[0]
    inertia = pi * across**4 / 64

    def bend(moment: np.ndarray, lever: np.ndarray) -> float:
        return float(np.sum(moment * lever / (modulus * inertia)) * step)

    own = bend(z, z)
    if not bar.propped:
        return own
    # the prop's force is what brings the nose back to nothing
    ahead = z + bar.ball_mm / 2
    force = bend(z, ahead) / bend(ahead, ahead)
    return own - force * bend(ahead, z)


@pytest.mark.parametrize("propped", [False, True])
@pytest.mark.parametrize(
    "bar",
    [
        Bar(36.0, 13.0, 40.0, 16.6, 77.0, 103.0),
        Bar(50.0, 17.5, 50.0, 23.3, 76.0, 79.0),
        Bar(30.0, 30.0, 70.0, 1e-6, 5.0, 40.0),  # half a ball in a thick blank
    ],
)
def test_ball_stem_and_blank_against_slices(bar: Bar, propped: bool) -> None:
    bar = replace(bar, propped=propped)
    assert bending_mm_per_N(bar, STEEL_MPa) == pytest.approx(by_slices(bar, STEEL_MPa), rel=2e-3)


def test_a_centre_props_it() -> None:
    plain = Bar(36.0, 13.0, 40.0, 16.6, 77.0, 103.0)
    # fixed and simply supported, loaded near the prop: a small part of the cantilever's
    assert bending_mm_per_N(replace(plain, propped=True), STEEL_MPa) < 0.25 * bending_mm_per_N(
        plain, STEEL_MPa
    )


def test_each_ball_in_its_own_metal_by_the_neck_it_really_has(plan: Plan) -> None:
    for found, clear in zip(plan.bendings, plan.clearances, strict=True):
        assert found.stem_mm == clear.ball.stem_mm
        assert found.free_mm >= max(clear.stick_out_mm, clear.relief_mm)
        # no weaker than its stem from the jaws to the centre, no stiffer than the blank, and a neck
        # with room for a blade as thin as the stem, in brass (97 GPa) or steel (213 GPa)
        stem, blank = (pi * mm**4 / 64 for mm in (found.stem_mm, clear.ball.blank_mm))
        assert found.mm_per_N < found.free_mm**3 / (3 * 97_000.0 * stem)
        low, high = clear.shoulder_mm, clear.shoulder_mm + 3.0
        thick = (found.free_mm**3 - high**3) / blank + (high**3 - low**3) / stem
        assert found.mm_per_N > thick / (3 * 213_000.0)


def test_a_thin_stem_is_told_and_makes_the_passes_light(job_with: JobWith) -> None:
    thin = {"name": "x", "diameter": 30, "blank_diameter": 33, "stem_diameter": 4.0}
    deep = {"turning.depth_of_cut": 1.0, "ball": [thin]}
    job = job_with(**deep)
    made = attachment(size_up(job, "job.toml").sizes)
    (one,) = turned(made, job, "job.toml", 0.5).balls
    assert "the work's bending" in {cut.held_by for cut in one.passes}
    stiff = turned(
        made, job_with(**deep | {"ball": [thin | {"stem_diameter": 11}]}), "", 0.5
    ).balls[0]
    roughed = [
        [cut.depth_mm for cut in plan.passes if cut.cut.taken.kind == "rough"]
        for plan in (one, stiff)
    ]
    assert roughed[0][-1] < roughed[1][-1] and len(roughed[0]) > len(roughed[1])
    # what bends away is still there to be taken by the passes after
    for cut in one.passes:
        to_go = cut.cut.taken.radius_mm - 15.0
        assert cut.deflection_mm <= (to_go if cut.cut.taken.kind == "rough" else 0.05)
    found = bendings(clearances(made, job), made, job, 0.5)
    told = {f.text.split(":")[0]: f for f in bending_findings(found, job, "job.toml")}
    assert told["x"].severity == "warning" and told["smallest"].severity == "note"
    assert "stem" in told["x"].remedy
    # the force is that of the job's pass in the ball's metal
    load = cutting_load(1.0, job.turning.feed, 0.5, job.materials.dial)
    assert found[-1].passive_N == pytest.approx(load.passive_N)


def test_five_hundredths_is_the_most(bench: Plan) -> None:
    # what a spring pass still takes out (common practice): as of the tip, 0.05
    one = replace(bench.bendings[0], mm_per_N=0.0499 / bench.bendings[0].passive_N)
    assert list(bending_findings([one], bench.job, "job.toml")) == []
    more = replace(one, mm_per_N=0.0801 / one.passive_N)
    (told,) = bending_findings([more], bench.job, "job.toml")
    assert (told.code, told.key, told.severity) == ("work-bends", "ball", "warning")
    # stiffness goes with the fourth power: 17.5 (0.0801 / 0.05)^1/4 = 19.69
    assert "stem 17.5 mm, 78.5 mm out of the jaws" in told.text and "bends 0.081 mm" in told.text
    assert "19.7 mm" in told.remedy


def test_it_counts_in_the_budget(plan: Plan) -> None:
    for (_, budget), work in zip(plan.budgets, plan.bendings, strict=True):
        (share,) = [one for one in budget.shares if one.name.startswith("work")]
        assert share.form_mm == pytest.approx(0.1 * work.mm)
        assert share.size_mm == pytest.approx(0.2 * work.mm)
