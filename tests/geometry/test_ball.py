"""The turned surface and its error budget, against a sweep and a simulation written here."""

from __future__ import annotations

from collections.abc import Callable
from math import pi, radians, sin, sqrt

import numpy as np
import pytest

from planner.checking.budget import (
    Tolerances,
    budget,
    budget_findings,
    shares,
    simulate,
    tolerances_of,
)
from planner.checking.clearance import ball_cases
from planner.geometry.ball import (
    Setting,
    diameter_mm,
    form_error_mm,
    pip_radius_mm,
    point_radius_mm,
    profile,
    setting,
    squareness_pip_mm,
)
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.words.findings import Finding


def swept(radius: float, skew: float, offset: float, angles: np.ndarray) -> np.ndarray:
    """The tip's circle in space, turned about the spindle: rho and z of every point."""
    circle = np.stack(
        [np.full_like(angles, offset), skew + radius * np.sin(angles), radius * np.cos(angles)]
    )
    turn = 0.7  # any turn of the work about the spindle leaves rho and z as they are
    x = circle[0] * np.cos(turn) - circle[1] * np.sin(turn)
    y = circle[0] * np.sin(turn) + circle[1] * np.cos(turn)
    return np.stack([np.hypot(x, y), circle[2]])


@pytest.mark.parametrize("offset", [0.0, 0.3, -4.0])
def test_without_skew_the_ball_is_a_true_sphere_whatever_the_offset(offset: float) -> None:
    rho, z = swept(25.0, 0.0, offset, np.linspace(0, pi, 721))
    spread = np.hypot(rho, z)
    assert spread.max() - spread.min() < 1e-12
    assert spread[0] == pytest.approx(sqrt(25.0**2 + offset**2))
    assert form_error_mm(25.0, Setting(0.0, offset)) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("skew", "offset"), [(0.05, 0.0), (-0.08, 0.2), (0.5, -0.5)])
@pytest.mark.parametrize("neck", [180.0, 155.0, 80.0])
def test_form_is_the_swept_surfaces_peak_to_valley(skew: float, offset: float, neck: float) -> None:
    rho, z = swept(25.0, skew, offset, np.linspace(0, radians(neck), 20_001))
    spread = np.hypot(rho, z)
    place = Setting(skew, offset)
    assert form_error_mm(25.0, place, neck) == pytest.approx(spread.max() - spread.min(), abs=1e-7)
    if neck > 90:
        # to first order the form error is |h|
        assert form_error_mm(25.0, place, neck) == pytest.approx(abs(skew), rel=0.03)
    middle = profile(25.0, place, neck / 2)
    assert middle == pytest.approx((rho[10_000], z[10_000]))


def test_diameters_across_follow_the_sine() -> None:
    # two-point diameter of the swept surface across the ball at 60 degrees, by brute force
    place = Setting(0.06, 0.0)
    angles = np.linspace(0, pi, 200_001)
    rho, z = swept(25.0, place.skew_mm, 0.0, angles)
    polar = np.arctan2(rho, z)
    at = 2 * np.interp(radians(60.0), polar, np.hypot(rho, z))
    assert diameter_mm(25.0, place, 60.0) == pytest.approx(at, abs=3e-4)


def test_an_off_centre_tip_leaves_a_pip_and_the_cross_slide_removes_it() -> None:
    # common practice: a pip at the nose is taken out by moving the cross slide, height is not
    assert pip_radius_mm(setting("across", 0.0, 0.4)) == 0.4
    assert pip_radius_mm(setting("across", 0.0, 0.0)) == 0.0
    rho, _ = swept(25.0, 0.3, 0.4, np.linspace(0, pi / 2, 10_001))
    assert pip_radius_mm(Setting(0.3, 0.4)) == pytest.approx(rho.min()) == pytest.approx(0.5)
    rho, _ = swept(25.0, -0.3, 0.4, np.linspace(0, pi / 2, 1_000_001))
    assert pip_radius_mm(Setting(-0.3, 0.4)) == pytest.approx(rho.min(), abs=1e-6)


def test_upright_exchanges_the_roles() -> None:
    across, upright = setting("across", 0.02, 0.3), setting("upright", 0.02, 0.3)
    assert (across.skew_mm, across.offset_mm) == (upright.offset_mm, upright.skew_mm)


def test_a_pivot_out_of_square_leaves_a_pip_that_grows_with_the_ball() -> None:
    pips = [squareness_pip_mm(r, 0.1, 0.0) for r in (10.0, 20.0, 30.0)]
    assert pips[1] == pytest.approx(2 * pips[0]) and pips[2] == pytest.approx(3 * pips[0])
    # and a correction hides it for one size only
    offset = 20.0 * sin(radians(0.1))
    assert squareness_pip_mm(20.0, 0.1, offset) == pytest.approx(0.0, abs=1e-6)
    assert squareness_pip_mm(30.0, 0.1, offset) > 0.01


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 0.0, -5.0])
def test_absurd_settings_are_refused(bad: float) -> None:
    with pytest.raises(ValueError):
        point_radius_mm(bad, Setting(0.0, 0.0), 30.0)
    with pytest.raises(ValueError):
        budget(Tolerances(0, 0, 0, 0, 0, 0, 0, 0), bad)


def only(**bands: float) -> Tolerances:
    """Tolerances of one source alone."""
    none = dict.fromkeys(Tolerances.__struct_fields__, 0.0) | {"lever": 1.0}
    return Tolerances(**(none | bands))


@pytest.mark.parametrize("source", ["skew_mm", "clearance_mm", "dial_mm"])
def test_the_simulation_agrees_with_the_first_order(source: str) -> None:
    t = only(**{source: 0.02})
    size, form = simulate(t, 25.0, 200_000)
    first = shares(t, 25.0)
    half_size = sum(one.size_mm for one in first)
    half_form = sum(one.form_mm for one in first)
    if source == "dial_mm":
        # the diameter is 2 R: uniform in the band, so its greatest is the band
        assert np.abs(size).max() == pytest.approx(half_size, rel=0.01)
        assert form.max() < 1e-4
    else:
        # |h| uniform up to the band: form's mean is half of it, its greatest all of it
        assert form.max() == pytest.approx(half_form, rel=0.01)
        assert form.mean() == pytest.approx(half_form / 2, rel=0.02)
        assert np.abs(size).max() == pytest.approx(half_size, rel=0.01)


def test_the_likely_form_lies_between_the_largest_share_and_the_worst_case(plan: Plan) -> None:
    found = plan.budgets[0][1]
    largest = max(one.form_mm for one in found.shares)
    assert largest <= found.rss_form_mm <= found.worst_form_mm
    assert found.form_95_mm <= found.worst_form_mm
    assert found.dominates_form in {one.name for one in found.shares}


def test_the_budget_uses_the_tolerances_on_the_sheets(plan: Plan) -> None:
    t = tolerances_of(plan.sizing.sizes, 0.01)
    made = {feature.name: feature for part in plan.attachment.parts for feature in part.features}
    (height,) = (location.size for location in made["pivot bore"].locations)
    assert (height.upper_mm, height.lower_mm) == pytest.approx((t.skew_mm, -t.skew_mm))
    # 0.015 mm, or 0.0006 in, which is 0.01524
    said, mm = ("0.0006 in", 0.01524) if plan.job.inch else ("0.015 mm", 0.015)
    assert f" to {said} less" in made["journal"].note
    assert t.clearance_mm == pytest.approx(mm, abs=1e-9)


def test_a_band_is_as_wide_whichever_way_the_tip_springs(bench: Plan) -> None:
    # upright, the arm can outdo the rest and spring the tip toward the work: below nothing
    sizes = bench.sizing.sizes
    off, toward = (tolerances_of(sizes, mm, "upright") for mm in (0.02, -0.02))
    assert off == toward and off.deflection_mm == 0.02
    for share in shares(toward, 20.0):
        assert share.size_mm >= 0 and share.form_mm >= 0, share
    (left,) = (one for one in shares(toward, 20.0) if one.name == "deflection left at the end")
    assert (left.size_mm, left.form_mm) == pytest.approx((0.004, 0.002))  # a tenth, twice across


def test_the_same_seed_gives_the_same_balls() -> None:
    t = only(skew_mm=0.02)
    assert budget(t, 25.0) == budget(t, 25.0)


def test_a_tolerance_that_the_budget_passes_is_told(job_with: Callable[..., Job]) -> None:
    def codes(tolerance: float) -> dict[str, Finding]:
        job = job_with(ball=[{"name": "knob", "diameter": 40, "tolerance": tolerance}])
        sizes = size_up(job, "job.toml").sizes
        made = budget(tolerances_of(sizes, 0.016), 20.0, 20_000)
        (case,) = [c for c in ball_cases(sizes, job) if c.name == "knob"]
        # bands of the budget itself: about 0.054 on the diameter and 0.03 of form
        assert 0.02 < made.form_95_mm < 0.04 < made.size_95_mm < 0.07
        return {f.code: f for f in budget_findings([(case, made)], job, "job.toml")}

    assert codes(0.1) == {}
    assert codes(0.045)["ball-diameter"].severity == "note"
    form = codes(0.01)["ball-form"]
    assert form.severity == "warning" and "pivot bore height" in form.remedy


def test_run_out_and_spring_add_to_the_form_of_a_simulated_ball() -> None:
    # alone, each is a band from nothing up: half the run-out, and a tenth of the deflection
    for alone, most in (
        ({"run_out_mm": 0.01}, 0.005),
        ({"deflection_mm": 0.02, "spring_passes": 1}, 0.002),
    ):
        form = simulate(only(**alone), 20.0, 20_000)[1]
        assert form.min() >= -1e-5 and form.max() == pytest.approx(most, rel=0.02)
        assert form.mean() == pytest.approx(most / 2, rel=0.05)
