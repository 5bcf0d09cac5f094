"""What to correct after a ball was measured, against balls turned, gauged and mended here in space."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from math import inf, nan
from random import Random

import numpy as np
import pytest
from msgspec.structs import replace
from scipy import stats

from planner.measuring.correct import (
    UNSEEN,
    Advice,
    CannotFit,
    Correction,
    Estimate,
    Measured,
    Pip,
    Reading,
    Rig,
    Size,
    chi2_limit,
    correct,
    fit_pips,
    fit_readings,
    fit_sizes,
)
from planner.measuring.log import verdict

ANGLES = (35.0, 50.0, 65.0, 90.0, 115.0, 140.0)
RIG = Rig("across", tip_mm_per_division=0.01, slide_mm_per_division=0.02)


def path(
    rig: Rig, radius: float, height: float, slide: float, tilt_deg: float = 0.0, neck: float = 165.0
) -> np.ndarray:
    """The tip's path in the lathe's own frame: x to the rear, y up, z away from the chuck.

    Across: the pivot lies along x at a height over the spindle and the cross slide carries the tip's
    plane to the rear; the tip goes over the top, or underneath. Upright: the pivot stands along y, the
    slide carries it to the rear, the tip stands at a height and goes along the operator's side, or
    behind. tilt_deg: of the pivot about the ball's centre, toward the chuck. The sweep starts at the
    nose.
    """
    t = np.radians(np.arange(0.0, neck + 0.01, 0.05))
    along, aside = (slide, height) if rig.arrangement == "across" else (height, slide)
    out = (1.0 if rig.arrangement == "across" else -1.0) * (-1.0 if rig.other_side else 1.0)
    tilt = np.radians(tilt_deg)
    far = radius * np.cos(t)
    lengthwise = along * np.cos(tilt) - far * np.sin(tilt)
    z = along * np.sin(tilt) + far * np.cos(tilt)
    beside = aside + out * radius * np.sin(t)
    pair = (lengthwise, beside) if rig.arrangement == "across" else (beside, lengthwise)
    return np.stack([*pair, z])


def calipered(points: np.ndarray, angle_deg: float, revolved: bool = False) -> float:
    """Distance between two flats that close on the turned body, along a direction across the spindle.

    The body is every point of the path turned about the spindle; of each turned circle the two points
    in the plane of the direction are outermost. `revolved` turns them all, to show that.
    """
    rho, z = np.hypot(points[0], points[1]), points[2]
    turns = np.radians(np.arange(0, 360, 5)) if revolved else np.array([0.0, np.pi])
    x = np.multiply.outer(rho, np.cos(turns))
    a = np.radians(angle_deg)
    along = x * np.sin(a) + z[:, None] * np.cos(a)
    return float(along.max() - along.min())


def gauged(points: np.ndarray, angles: tuple[float, ...] = ANGLES) -> tuple[Reading, ...]:
    return tuple(Reading(a, calipered(points, a)) for a in angles)


def pip_of(points: np.ndarray, radius: float, accuracy: float = 0.01) -> Pip:
    """What the tip left standing: twice its nearest approach to the spindle."""
    return Pip(2 * float(np.hypot(points[0], points[1]).min()), accuracy, 2 * radius)


def advice(result: Correction, what: str) -> Advice:
    (found,) = [item for item in result.advice if item.what == what]
    return found


def spread_of(values: np.ndarray) -> float:
    return float(np.std(values, ddof=1))


# --- the model of the readings, against the swept surface ---


@pytest.mark.parametrize("radius", [6.0, 20.0])
@pytest.mark.parametrize("offset", [0.0, 0.3, -0.5])
@pytest.mark.parametrize("skew", [0.0, 0.04, -0.04, 0.15])
def test_the_fit_finds_the_skew_and_radius_of_a_swept_ball(
    radius: float, offset: float, skew: float
) -> None:
    fit = fit_readings(gauged(path(RIG, radius, skew, offset)), 0.002)
    assert fit.skew and fit.radius
    # Exact in the plane of the axis. Beside it rho is root(e^2 + (h + R s)^2), nearly
    # h + R s + e^2 / (2 (h + R s)): the skew takes h e^2 / (2 R^2 s) off the true sphere, whose line
    # over sines of 0.57 to 1 has at most 3 h e^2 / (2 R^2) of intercept. 2e-5 is the sampling.
    first_order = 1.5 * abs(skew) * offset**2 / radius**2 + 2e-5
    assert fit.skew.mm == pytest.approx(skew, abs=first_order)
    assert fit.radius.mm == pytest.approx(np.hypot(radius, offset), abs=first_order)


def test_only_the_plane_of_the_gauge_matters_and_its_supplement_is_the_same_line() -> None:
    points = path(RIG, 12.0, 0.08, 0.2)
    for angle in (40.0, 75.0, 90.0):
        assert calipered(points, angle, revolved=True) == pytest.approx(calipered(points, angle))
        assert calipered(points, 180.0 - angle) == pytest.approx(calipered(points, angle))


def test_a_pivot_above_the_spindle_under_a_tip_on_top_makes_the_equator_thick() -> None:
    high = path(RIG, 15.0, 0.1, 0.0)
    assert high[1].max() == pytest.approx(15.1)  # the tip stands at h + R over the spindle
    assert calipered(high, 90.0) > calipered(high, 30.0) + 0.09
    mended = advice(correct(Measured(gauged(high), 0.005, 30.0), RIG), "skew")
    assert mended.move == "pivot down" and mended.amount_mm == pytest.approx(0.1, abs=1e-4)


# --- the moves, made on the lathe of this file ---

MOVES = {  # how a move changes pivot height and cross slide; in is away from the operator, to the rear
    "pivot up": (1, 0),
    "pivot down": (-1, 0),
    "cross slide in": (0, 1),
    "cross slide out": (0, -1),
}


@pytest.mark.parametrize("arrangement", ["across", "upright"])
@pytest.mark.parametrize("other_side", [False, True])
@pytest.mark.parametrize("error", [0.06, -0.06])
def test_the_advice_once_followed_leaves_nothing_to_correct(
    arrangement: str, other_side: bool, error: float
) -> None:
    rig = Rig(arrangement, 0.01, 0.02, other_side)  # type: ignore[arg-type]
    place = np.array([error, 0.0] if arrangement == "across" else [0.0, error])
    radius = 15.05
    first = correct(Measured(gauged(path(rig, radius, *place)), 0.003, 30.0, stem_mm=7.0), rig)
    skew, size = advice(first, "skew"), advice(first, "size")
    assert skew.justified and size.justified and size.move == "tip in"
    assert size.divisions == pytest.approx(5.0, abs=0.1)  # 0.05 mm of radius at 0.01 mm a division
    slide = skew.move.startswith("cross slide")
    assert slide == (arrangement == "upright")
    assert skew.divisions == (pytest.approx(abs(error) / 0.02, abs=0.05) if slide else None)
    place = place + np.array(MOVES[skew.move]) * skew.amount_mm
    radius -= size.amount_mm
    again = correct(Measured(gauged(path(rig, radius, *place)), 0.003, 30.0, stem_mm=7.0), rig)
    for item in again.advice:
        assert not item.justified and item.move == "" and item.amount_mm == 0
        assert item.reason.startswith("No correction is justified")
        assert item.error and abs(item.error.mm) < 1e-4


def test_an_offset_tool_leaves_a_pip_that_the_cross_slide_takes_away() -> None:
    # A tool off the centre line leaves a pip, in facing as in ball turning; moving it by the pip's
    # radius toward the middle takes it away, the wrong way doubles it (common practice).
    for offset in (0.15, -0.15):
        before = path(RIG, 12.0, 0.0, offset)
        found = correct(Measured(gauged(before), 0.003, 24.0, pips=(pip_of(before, 12.0),)), RIG)
        move = advice(found, "offset")
        assert move.justified and not move.sign_known and move.move == "cross slide"
        assert move.divisions == pytest.approx(7.5)  # 0.15 mm at 0.02 mm a division
        tried = [path(RIG, 12.0, 0.0, offset + way * move.amount_mm) for way in (1, -1)]
        pips = sorted(pip_of(points, 12.0).diameter_mm for points in tried)
        assert pips[0] == pytest.approx(0.0, abs=1e-9) and pips[1] == pytest.approx(0.6)
        back = offset + np.sign(offset) * (1 - 2) * move.amount_mm  # grew: back twice as much
        assert pip_of(path(RIG, 12.0, 0.0, back), 12.0).diameter_mm == pytest.approx(0.0, abs=1e-9)
    assert (
        advice(
            correct(Measured((), 0.003, 24.0, pips=(Pip(0.3, 0.02, 24.0),)), Rig("upright")),
            "offset",
        ).move
        == "tip height"
    )


@pytest.mark.parametrize("skew", [0.12, -0.12])
def test_the_skews_part_of_a_pip_is_taken_out_where_it_has_one(skew: float) -> None:
    points = path(RIG, 12.0, skew, 0.2)
    measured = Measured(gauged(points), 0.003, 24.0, pips=(pip_of(points, 12.0),))
    assert measured.pips[0].diameter_mm == pytest.approx(2 * np.hypot(0.2, max(skew, 0)), abs=2e-4)
    found = correct(measured, RIG).pips
    assert found and found.offset.mm == pytest.approx(0.2, abs=2e-4)
    if skew < 0:  # forty of its uncertainties: no part in the pip's
        assert found.offset.u_mm == pytest.approx(0.005)
    # A sweep that crosses the nose leaves |e| whatever the skew.
    crossed = replace(measured, pips=(Pip(0.4, 0.01, 24.0),), before_nose=True)
    found = correct(crossed, RIG).pips
    assert found and found.offset.mm == pytest.approx(0.2)


def test_a_pip_that_the_skew_alone_leaves_moves_no_cross_slide() -> None:
    points = path(RIG, 12.0, 0.12, 0.0)
    found = correct(Measured(gauged(points), 0.003, 24.0, pips=(pip_of(points, 12.0),)), RIG)
    assert advice(found, "skew").justified and not advice(found, "offset").justified
    # A skew of 0 that may be 0.05 may leave root(0.1^2 - 0.05^2) of a pip of 0.1.
    hidden = fit_pips([Pip(0.2, 0.002, 30.0)], Estimate(0.0, 0.05)).offset
    assert hidden.u_mm > 0.1 - np.sqrt(0.1**2 - 0.05**2)


# --- squareness ---


def tilted(tilt: float, offset: float, radii: tuple[float, ...]) -> tuple[Pip, ...]:
    return tuple(pip_of(path(RIG, r, 0.0, offset, tilt), r) for r in radii)


@pytest.mark.parametrize("tilt", [0.8, -0.8])
@pytest.mark.parametrize("offset", [0.0, 0.1, -0.15, 0.3])
def test_pips_of_three_sizes_give_the_tilt_and_the_offset(tilt: float, offset: float) -> None:
    # A pip that grows with the ball is a pivot out of square (common practice); swept here in space.
    found = correct(Measured((), 0.003, 30.0, pips=tilted(tilt, offset, (8.0, 15.0, 25.0))), RIG)
    assert found.pips and len(found.pips.answers) == 1
    (answer,) = found.pips.answers
    assert answer.tilt_deg == pytest.approx(0.8, rel=1e-3)
    assert answer.offset.mm == pytest.approx(offset * np.sign(tilt), abs=1e-3)
    at_nose = [offset * np.cos(np.radians(tilt)) - r * np.sin(np.radians(tilt)) for r in (8, 25)]
    assert answer.changes_side == (at_nose[0] * at_nose[1] < 0)
    square, slide = advice(found, "squareness"), advice(found, "offset")
    assert square.justified and square.move == "swivel" and not slide.justified
    assert square.over_mm == 100 and square.amount_mm == pytest.approx(1.396, abs=0.002)  # tan 0.8
    assert found.advice.index(square) < found.advice.index(slide)


def test_two_sizes_leave_two_answers_and_no_move() -> None:
    found = correct(Measured((), 0.003, 30.0, pips=tilted(1.0, 0.3, (8.0, 25.0))), RIG)
    assert found.pips and len(found.pips.answers) == 2 and found.pips.scatter == "untested"
    assert any(
        a.tilt_deg == pytest.approx(1.0, rel=1e-3) and a.offset.mm == pytest.approx(0.3, abs=1e-3)
        for a in found.pips.answers
    )
    assert [a.changes_side for a in found.pips.answers] == [False, True]
    # With balls of nearly one size and coarse pips, the second answer is no tilt a tool post has.
    near = fit_pips([Pip(3.0, 0.01, 20.0), Pip(3.1, 0.01, 22.0)], None)
    assert [a.changes_side for a in near.answers] == [False]
    # A pip of hardly its uncertainty may lie on either side, though one of both fits better.
    faint = fit_pips([Pip(0.01, 0.02, 16.0), Pip(0.49, 0.02, 30.0), Pip(1.214, 0.02, 50.0)], None)
    assert len(faint.answers) == 2 and faint.answers[0].chi2 != pytest.approx(faint.answers[1].chi2)
    square = advice(found, "squareness")
    assert not square.justified and "More than one" in square.reason
    assert square.remains_mm and square.remains_mm > 100 * np.tan(np.radians(1.0))


def test_equal_pips_of_several_sizes_are_an_offset_and_no_tilt() -> None:
    found = correct(Measured((), 0.003, 30.0, pips=tilted(0.0, 0.2, (8.0, 15.0, 25.0))), RIG)
    assert not advice(found, "squareness").justified
    assert advice(found, "offset").amount_mm == pytest.approx(0.2)
    apart = (Pip(0.4, 0.01, 20.0), Pip(0.6, 0.01, 20.0))  # one size twice, ten uncertainties apart
    found = correct(Measured((), 0.003, 20.0, pips=apart), RIG)
    assert (
        found.pips and found.pips.scatter == "contradict" and not advice(found, "offset").justified
    )


# --- statistics ---


def test_against_numpys_least_squares() -> None:
    rng = np.random.default_rng(3)
    angles = rng.uniform(20, 160, 9)
    read = 30 + 0.1 * np.sin(np.radians(angles)) + rng.normal(0, 0.01, 9)
    fit = fit_readings([Reading(a, d) for a, d in zip(angles, read, strict=True)], 0.01)
    # D = 2 R0 + 2 h sin a, so that the unknowns are R0 and h themselves; Draper and Smith, Applied
    # Regression Analysis (3rd ed. 1998), ch. 5, from memory: covariance = variance * inverse of X'X.
    x = np.stack([np.full(9, 2.0), 2 * np.sin(np.radians(angles))], axis=1)
    best, squares, *_ = np.linalg.lstsq(x, read, rcond=None)
    cov = 0.01**2 * np.linalg.inv(x.T @ x)
    assert fit.radius and fit.skew
    assert (fit.radius.mm, fit.skew.mm) == pytest.approx(tuple(best), rel=1e-9)
    assert (fit.radius.u_mm, fit.skew.u_mm) == pytest.approx(tuple(np.sqrt(np.diag(cov))))
    assert fit.correlation == pytest.approx(cov[0, 1] / np.sqrt(cov[0, 0] * cov[1, 1]))
    assert fit.residual_mm == pytest.approx(float(np.sqrt(squares[0] / 7))) and fit.dof == 7
    assert fit.chi2 == pytest.approx(float(squares[0]) / 0.01**2)


# NIST StRD "Norris" (y, x) and its certified values (from memory: that all of them agree to nine
# figures with the data is itself a check of both).
NORRIS = """0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3
449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5
10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8
339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1
449.2 448.9 0.2 0.5"""


def test_nists_certified_line() -> None:
    values = np.array(NORRIS.split(), float).reshape(-1, 2)
    # x / 1000 as the sine and y + 5000 as the diameter: an affine change that the line goes along with.
    angles = np.degrees(np.arcsin(values[:, 1] / 1000))
    rows = zip(angles, values[:, 0] + 5000, strict=True)
    fit = fit_readings([Reading(a, d) for a, d in rows], 0.884796396144373)
    assert fit.radius and fit.skew and len(values) == 36
    assert 2 * fit.radius.mm - 5000 == pytest.approx(-0.262323073774029, rel=1e-8)
    assert 2 * fit.skew.mm / 1000 == pytest.approx(1.00211681802045, rel=1e-9)
    assert fit.residual_mm == pytest.approx(0.884796396144373, rel=1e-8)
    assert 2 * fit.radius.u_mm == pytest.approx(0.232818234301152, rel=1e-8)
    assert 2 * fit.skew.u_mm / 1000 == pytest.approx(0.429796848199937e-3, rel=1e-8)


@pytest.mark.parametrize("dof", [1, 2, 3, 5, 10, 30, 100])
def test_the_limit_of_chi_square(dof: int) -> None:
    assert chi2_limit(dof) == pytest.approx(stats.chi2.ppf(0.99, dof), rel=0.01)


def test_stated_uncertainty_is_the_actual_spread_and_two_of_it_cover() -> None:
    rng = np.random.default_rng(11)
    truth = np.array([r.diameter_mm for r in gauged(path(RIG, 15.0, 0.0, 0.1))])
    noisy = truth + rng.normal(0, 0.004, (10_000, len(ANGLES)))
    fits = [
        fit_readings([Reading(*r) for r in zip(ANGLES, row, strict=True)], 0.004) for row in noisy
    ]
    skew = np.array([f.skew.mm for f in fits if f.skew])
    radius = np.array([f.radius.mm for f in fits if f.radius])
    one = fits[0]
    assert one.skew and one.radius and one.correlation
    assert spread_of(skew) == pytest.approx(one.skew.u_mm, rel=0.03)
    assert spread_of(radius) == pytest.approx(one.radius.u_mm, rel=0.03)
    assert np.corrcoef(skew, radius)[0, 1] == pytest.approx(one.correlation, abs=0.01)
    # Without a skew, two uncertainties hold 95.45 % of normal errors: no correction is justified.
    idle = np.mean([not f.skew.clear for f in fits if f.skew])
    assert idle == pytest.approx(stats.norm.cdf(2) - stats.norm.cdf(-2), abs=0.01)
    assert np.mean([f.scatter == "contradict" for f in fits]) == pytest.approx(0.01, abs=0.004)


def test_the_offsets_uncertainty_is_its_spread_with_the_skews_part_taken_out() -> None:
    rng = np.random.default_rng(5)
    pip, skew = np.hypot(0.2, 0.15), 0.15
    drawn = [
        fit_pips([Pip(2 * (pip + a), 0.02, 30.0)], Estimate(skew + b, 0.01)).offset
        for a, b in rng.normal(0, 0.01, (10_000, 2))
    ]
    assert spread_of(np.array([e.mm for e in drawn])) == pytest.approx(
        fit_pips([Pip(2 * pip, 0.02, 30.0)], Estimate(skew, 0.01)).offset.u_mm, rel=0.03
    )
    assert np.mean([abs(e.mm - 0.2) < 2 * e.u_mm for e in drawn]) == pytest.approx(0.954, abs=0.015)
    # No offset at all: the pip is the skew's, and is seldom taken for one.
    none = [
        fit_pips([Pip(2 * (0.15 + a), 0.04, 30.0)], Estimate(0.15 + b, 0.02)).clear
        for a, b in rng.normal(0, 0.02, (4_000, 2))
    ]
    assert np.mean(none) < 0.03


def test_the_tilts_uncertainty_is_its_spread() -> None:
    rng = np.random.default_rng(8)
    radii, truth = (8.0, 15.0, 25.0), (0.3, 0.5, 0.8)
    tilts, offsets, answer = [], [], None
    for noise in rng.normal(0, 0.01, (4_000, 3)):
        rows = zip(truth, noise, radii, strict=True)
        (answer,) = fit_pips([Pip(2 * (p + q), 0.02, 2 * r) for p, q, r in rows], None).answers
        tilts.append(answer.tilt_deg)
        offsets.append(answer.offset.mm)
    assert answer
    assert spread_of(np.array(tilts)) == pytest.approx(answer.tilt_u_deg, rel=0.04)
    assert spread_of(np.array(offsets)) == pytest.approx(answer.offset.u_mm, rel=0.04)


# --- what is not determined, and what is refused ---


@pytest.mark.parametrize("angles", [(90.0,), (60.0, 60.0, 120.0)])
def test_one_angle_gives_one_diameter_and_says_so(angles: tuple[float, ...]) -> None:
    found = correct(Measured(gauged(path(RIG, 15.1, 0.0, 0.0), angles), 0.01, 30.0), RIG)
    assert found.fit and found.fit.skew is None and "one angle" in found.fit.words
    assert found.fit.mean.u_mm == pytest.approx(0.01 / len(angles) ** 0.5)
    assert not advice(found, "skew").justified and advice(found, "skew").error is None
    assert advice(found, "size").amount_mm == pytest.approx(0.1, abs=1e-4)


def test_readings_that_contradict_each_other_justify_nothing() -> None:
    readings = list(gauged(path(RIG, 15.2, 0.3, 0.0)))
    readings[2] = Reading(readings[2].angle_deg, readings[2].diameter_mm + 0.1)
    found = correct(Measured(tuple(readings), 0.005, 30.0, pips=(Pip(0.0, 0.01, 30.0),)), RIG)
    assert found.pips and not found.pips.skew_known
    assert found.fit and found.fit.scatter == "contradict" and "reading 3 most" in found.fit.words
    assert not any(item.justified for item in found.advice)


def test_a_ball_that_is_nowhere_under_its_tolerance_may_be_mended() -> None:
    # R0 = 14.96, its equator 0.2 larger: from 29.92 at the nose to 30.32, of 30 with 0.15 either way:
    # too large, nowhere too small. The pivot set right, it is a ball of 29.92, and that is allowed.
    gauges = gauged(path(RIG, 14.96, 0.2, 0.0))
    for tolerance, mended, told in (
        (0.15, True, "rework"),
        (0.04, False, "scrap"),
        (None, False, ""),
    ):
        found = correct(Measured(gauges, 0.004, 30.0, tolerance_mm=tolerance), RIG)
        size = advice(found, "size")
        assert size.justified and size.move == "tip out"
        assert ("cannot be mended" not in size.reason) is mended
        if told:
            assert verdict(found) == told


def test_what_is_said_of_a_ball_is_what_is_decided_of_it() -> None:
    # one that is told to be past mending is not to be turned further
    draw, seen = Random(41), Counter[tuple[bool, str]]()
    for _ in range(400):
        radius, skew = 15.0 + draw.uniform(-0.2, 0.2), draw.uniform(-0.3, 0.3)
        measured = Measured(
            gauged(path(RIG, radius, skew, 0.0)), 0.004, 30.0, tolerance_mm=draw.uniform(0.02, 0.3)
        )
        found = correct(measured, RIG)
        seen[advice(found, "size").undersize, verdict(found)] += 1
    assert seen[True, "rework"] == 0 and seen[True, "scrap"] > 50 and seen[False, "rework"] > 50


def test_a_small_ball_is_not_mended_but_the_next_one_is() -> None:
    for radius, skew, move in ((14.9, 0.0, "tip out"), (15.19, -0.2, "tip in")):
        found = correct(Measured(gauged(path(RIG, radius, skew, 0.0)), 0.004, 30.0), RIG)
        size = advice(found, "size")
        assert size.move == move and size.undersize and "cannot be mended" in size.reason
    # The second is small at its equator alone, by 0.01 mm: known to 0.003 mm, as all readings are near.
    # One small by 0.001 mm there, a third of that doubt, may as well be large.
    doubtful = correct(Measured(gauged(path(RIG, 15.199, -0.2, 0.0)), 0.004, 30.0), RIG)
    assert advice(doubtful, "size").justified and not advice(doubtful, "size").undersize
    large = correct(Measured(gauged(path(RIG, 15.05, 0.2, 0.0)), 0.004, 30.0), RIG)
    assert not advice(large, "size").undersize
    # Where no skew is to be mended, the size is the mean's, and as sure.
    plain = correct(Measured(gauged(path(RIG, 15.005, 0.0, 0.0)), 0.004, 30.0), RIG)
    error = advice(plain, "size").error
    assert error and error.u_mm == pytest.approx(0.004 / 2 / len(ANGLES) ** 0.5)


def refused(measured: Measured, rig: Rig = RIG) -> list[str]:
    with pytest.raises(CannotFit) as caught:
        correct(measured, rig)
    for problem in caught.value.problems:
        assert problem.value and problem.limit and problem.remedy
    return [problem.where for problem in caught.value.problems]


def test_all_problems_come_at_once() -> None:
    bad = Measured(
        *((Reading(181.0, 30.0), Reading(nan, -1.0), Reading(90.0, inf)), 0.0, nan, -1.0, nan),
        (Pip(-0.1, 0.0, 20.0), Pip(30.0, 0.1, 20.0)),
    )
    assert refused(bad, Rig("across", 0.0, -1.0)) == [
        *("accuracy", "wanted diameter", "stem diameter", "anvil diameter"),
        *("tip dial, one division", "slide dial, one division"),
        *("pip 1", "pip 1: accuracy", "pip 2"),
        *("reading 1", "reading 2", "reading 2", "reading 3"),
    ]
    assert refused(Measured((), 0.01, 30.0)) == ["readings"]


def test_a_slip_of_unit_is_found() -> None:
    mixed = (Reading(40.0, 25.4), Reading(60.0, 25.41), Reading(90.0, 1.0))
    assert refused(Measured(mixed, 0.01, 25.4)) == ["reading 3"]
    assert refused(Measured((Reading(90.0, 1.0),), 0.01, 25.4)) == ["readings"]
    assert refused(Measured((Reading(90.0, 30.0),), 0.01, 30.0, stem_mm=30.0)) == ["stem diameter"]


@pytest.mark.parametrize("anvil", [0.0, 6.35])  # 6.35 mm: usual micrometer anvils (from memory)
def test_an_anvil_on_the_stem_is_refused_from_either_end(anvil: float) -> None:
    # The ball with its stem, in the plane of the gauge: a flat whose half width reaches the stem's
    # side touches it. Its edge goes from the ball's point along the tangent toward the stem.
    radius, stem = 15.0, 6.0
    for angle in np.arange(1.0, 180.0, 1.0):
        fold = np.radians(min(angle, 180.0 - angle))
        edge = radius * np.sin(fold) - anvil / 2 * np.cos(fold)  # its distance from the spindle
        measured = Measured((Reading(angle, 30.0),), 0.01, 30.0, 2 * stem, anvil)
        if edge > stem:
            correct(measured, RIG)
        else:
            assert refused(measured) == ["reading 1"]


def test_an_anvil_on_the_pip_is_refused() -> None:
    # The pip's end is the blank's faced end, at z = R: its corner is (p, R).
    radius, pip = 15.0, 1.0
    for angle in np.arange(1.0, 90.0, 1.0):
        a = np.radians(angle)
        reading = (Reading(angle, 30.0),)
        measured = Measured(reading, 0.01, 30.0, pips=(Pip(2 * pip, 0.05, 30.0),))
        if pip * np.sin(a) + radius * np.cos(a) <= radius:
            correct(measured, RIG)
        else:
            assert refused(measured) == ["reading 1"]


def test_a_ball_of_three_lobes_measures_as_round_and_the_words_say_so() -> None:
    # A body of support R + c cos 3a has one width all round (Barbier): the three-lobed bar that a
    # micrometer passes (common practice).
    at = np.radians(ANGLES)
    width = 30 + 0.1 * (np.cos(3 * at) + np.cos(3 * (at + np.pi)))
    fit = fit_readings([Reading(*r) for r in zip(ANGLES, width, strict=True)], 0.002)
    assert fit.skew and abs(fit.skew.mm) < 1e-9 and fit.chi2 < 1e-9
    assert any("lobes" in line for line in UNSEEN)


def test_the_module_starts_without_numpy() -> None:
    code = "import sys, planner.measuring.correct; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


# Sizes at several readings of the dial


def test_sizes_tell_a_dials_zero_from_its_screw() -> None:
    # forward model: the tip's radius is what the dial says, times 1.002 of the screw, plus 0.03 of zero
    wanted = [20.0, 35.0, 50.0, 60.0]
    sizes = tuple(Size(d, 2 * (d / 2 * 1.002 + 0.03), 0.004) for d in wanted)
    found = fit_sizes(sizes)
    assert found.screw and found.screw.mm == pytest.approx(0.002, abs=1e-9)
    middle = float(np.mean([d / 2 for d in wanted]))
    assert found.zero.mm == pytest.approx(0.03 + 0.002 * middle, abs=1e-9)
    # its uncertainties, by the usual line (numpy.polyfit with the points' own)
    radii = np.array(wanted) / 2
    cov = np.polyfit(radii, radii, 1, w=[1 / 0.002] * 4, cov="unscaled")[1]
    assert found.screw.u_mm == pytest.approx(float(np.sqrt(cov[0, 0])), rel=1e-6)
    advice = {a.what: a for a in correct(Measured((), 0.004, 50.0, sizes=sizes), RIG).advice}
    assert advice["screw"].justified and advice["screw"].amount_mm == pytest.approx(
        0.2
    )  # in 100 mm
    assert advice["zero"].justified
    assert advice["zero"].divisions == pytest.approx((0.03 + 0.002 * middle) / 0.01)


def test_the_spread_of_zero_and_screw_is_what_is_stated() -> None:
    rng = np.random.default_rng(7)
    wanted = np.array([16.0, 30.0, 40.0, 52.0])
    zeros, rates, screws = [], [], 0
    for noise in rng.normal(0.0, 0.006, (4000, 4)):
        found = fit_sizes([Size(d, d + n, 0.006) for d, n in zip(wanted, noise, strict=True)])
        assert found.screw
        zeros.append(found.zero.mm)
        rates.append(found.screw.mm)
        screws += found.screw.clear
    assert np.std(zeros) == pytest.approx(found.zero.u_mm, rel=0.04)
    assert np.std(rates) == pytest.approx(found.screw.u_mm, rel=0.04)
    assert 0.035 < screws / 4000 < 0.056  # two standard uncertainties: 4.55 % of a normal


def test_one_size_says_nothing_of_the_screw_and_a_slip_is_refused() -> None:
    one = correct(Measured((), 0.01, 50.0, sizes=(Size(50.0, 50.1, 0.01),)), RIG)
    assert [a.what for a in one.advice] == ["zero"] and one.sizes and one.sizes.screw is None
    with pytest.raises(CannotFit, match="radius among diameters"):
        correct(Measured((), 0.01, 50.0, sizes=(Size(25.0, 50.1, 0.01),)), RIG)
