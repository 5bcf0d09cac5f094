"""Anvils off their angle, on the stem or on the wall, against bodies closed upon by brute force."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from planner.geometry.ball import anvil_off_stem_deg, anvil_on_wall
from planner.measuring.correct import (
    ANVIL_OFF_DEG,
    AnvilsOff,
    Measured,
    Reading,
    Rig,
    Series,
    correct,
    fit_readings,
)

RIG = Rig("across", 0.01, 0.02)


@cache
def widths(radius: float, skew: float) -> tuple[np.ndarray, np.ndarray]:
    """Angles, and the distance of two flats that close on the body a skew tip turns, along each.

    The tip's path is a circle about a point off the spindle by the skew; the body is that path turned
    about the spindle, so in the plane of the flats it and its mirror image. Points of it, no formula.
    """
    t = np.radians(np.linspace(-5, 185, 2401))
    rho, z = skew + radius * np.sin(t), radius * np.cos(t)
    angles = np.arange(15.0, 101.0, 0.2)
    a = np.radians(angles)[:, None]
    one, other = rho * np.sin(a) + z * np.cos(a), -rho * np.sin(a) + z * np.cos(a)
    high = np.maximum(one.max(1), other.max(1))
    return angles, high - np.minimum(one.min(1), other.min(1))


def drawn(
    radius: float, skew: float, angles: tuple[float, ...], u: float, balls: int, seed: int
) -> tuple[np.ndarray, np.ndarray]:
    """Skew and radius by numpy's least squares from many balls, each anvil 2 degrees off, normal."""
    rng = np.random.default_rng(seed)
    grid, width = widths(radius, skew)
    stated = np.array(angles)
    at = stated + rng.normal(0, 2.0, (1500, balls, len(angles)))
    read = np.interp(at, grid, width) + rng.normal(0, u, at.shape)
    x = np.zeros((balls * len(angles), balls + 1))
    for ball in range(balls):
        rows = slice(ball * len(angles), (ball + 1) * len(angles))
        x[rows, ball] = 2.0
        x[rows, -1] = 2 * np.sin(np.radians(stated))
    best = np.linalg.lstsq(x, read.reshape(1500, -1).T, rcond=None)[0]
    return best[-1], best[0]


CASES = [
    # radius, skew, angles, accuracy
    (25.0, 0.15, (30.0, 45.0, 60.0, 75.0, 90.0), 0.0005),
    (25.0, 0.15, (30.0, 45.0, 60.0, 75.0, 90.0), 0.004),
    (25.4, -0.3, (33.0, 62.0, 90.0), 0.0005),
    (2.0, 0.1, (40.0, 65.0, 90.0, 90.0), 0.0002),
    (150.0, 0.5, (25.0, 26.0, 90.0), 0.001),
    (12.7, 0.2, (70.0, 80.0, 90.0), 0.0005),  # all near the equator
]


@pytest.mark.parametrize(("radius", "skew", "angles", "u"), CASES)
def test_two_degrees_off_spread_the_answer_as_stated(
    radius: float, skew: float, angles: tuple[float, ...], u: float
) -> None:
    balls = 3 if len(angles) == 5 else 1
    assert ANVIL_OFF_DEG == 2.0
    grid, width = widths(radius, skew)
    rows = tuple(Reading(a, float(np.interp(a, grid, width))) for a in angles)
    fit = fit_readings(rows, u, [Series(rows, u)] * (balls - 1))
    assert fit.anvils and fit.skew and fit.radius and fit.balls == balls
    skews, radii = drawn(radius, skew, angles, u, balls, 3)
    spread = [float(np.sqrt(np.mean((found - true) ** 2)))
              for found, true in ((skews, skew), (radii, radius))]  # fmt: skip
    assert fit.anvils.skew_u_mm == pytest.approx(spread[0], rel=0.06)
    assert fit.anvils.radius_u_mm == pytest.approx(spread[1], rel=0.06)
    if u < 0.002:  # the readings' part alone would be too little: the check can fail
        assert fit.skew.u_mm < 0.8 * spread[0]


@pytest.mark.parametrize(("radius", "skew", "angles", "u"), CASES)
def test_one_reading_changes_by_no_more_than_is_said(
    radius: float, skew: float, angles: tuple[float, ...], u: float
) -> None:
    grid, width = widths(radius, skew)
    rows = tuple(Reading(a, float(np.interp(a, grid, width))) for a in angles)
    found = fit_readings(rows, 1e-6 * radius).anvils
    moved = max(
        abs(np.interp(a + way, grid, width) - np.interp(a, grid, width))
        for a in angles
        for way in (-2.0, 2.0)
    )
    assert found and found.reading_mm == pytest.approx(moved, rel=0.02)


def test_a_round_ball_does_not_mind_where_the_anvils_stand() -> None:
    rows = tuple(Reading(a, 50.0) for a in (30.0, 60.0, 90.0))
    fit = fit_readings(rows, 0.005)
    assert fit.skew and fit.anvils and fit.anvils.skew_u_mm < 1.01 * fit.skew.u_mm
    one = fit_readings((Reading(90.0, 50.0),), 0.005)
    assert one.anvils is None


def test_a_skew_that_the_anvils_may_have_made_is_left() -> None:
    # from 78 degrees to 90 the sine changes by 0.022; 2 degrees at 78 are 0.0073, at 81 0.0055 of it:
    # readings so fine that the skew is clear, and anvils that leave half of it open
    rows = tuple(Reading(a, 50.0 + 0.4 * float(np.sin(np.radians(a)))) for a in (86.0, 88.0, 90.0))
    found = correct(Measured(rows, 0.0001, 50.4), RIG)
    assert found.fit and found.fit.skew and found.fit.skew.clear
    assert isinstance(found.fit.anvils, AnvilsOff) and not found.fit.anvils.skew_clear
    skew = next(a for a in found.advice if a.what == "skew")
    assert not skew.justified and "anvil" in skew.reason
    wide = tuple(Reading(a, 50.0 + 0.4 * float(np.sin(np.radians(a)))) for a in (30.0, 60.0, 90.0))
    found = correct(Measured(wide, 0.0001, 50.4), RIG)
    assert next(a for a in found.advice if a.what == "skew").justified


# Where an anvil touches stem or wall, by points of it


def strip(radius: float, anvil: float, fold: float, long: float) -> tuple[np.ndarray, np.ndarray]:
    """Points of an anvil and its spindle, in the gauge's plane: off the axis, behind the centre."""
    a = np.radians(fold)
    along, out = np.meshgrid(np.linspace(-anvil / 2, anvil / 2, 9), np.linspace(0, long, 400))
    off = (radius + out) * np.sin(a) - along * np.cos(a)
    behind = (radius + out) * np.cos(a) + along * np.sin(a)
    return off, behind


@pytest.mark.parametrize(("ball", "stem", "anvil"), [
    (50.0, 17.5, 6.4), (50.8, 12.7, 6.35), (4.0, 1.4, 6.4), (4.0, 1.4, 0.0), (300.0, 105.0, 8.0),
    (30.0, 29.0, 6.4),
])  # fmt: skip
def test_an_anvil_clears_the_stem_by_its_points(ball: float, stem: float, anvil: float) -> None:
    least = anvil_off_stem_deg(ball, stem, anvil)
    for fold, touches in ((least - 0.1, True), (least + 0.1, False)):
        if fold >= 90:
            continue
        off, _ = strip(ball / 2, anvil, fold, 0.0)
        assert bool((off <= stem / 2).any()) is touches
    assert anvil_off_stem_deg(ball, 0.0, anvil) == 0.0


@pytest.mark.parametrize("ball", [4.0, 25.4, 300.0])
@pytest.mark.parametrize("thicker", [1.0, 1.3])
@pytest.mark.parametrize("anvil", [0.0, 3.0, 6.4])
def test_an_anvil_clears_the_wall_by_its_points(ball: float, thicker: float, anvil: float) -> None:
    blank = thicker * ball
    for fold in (20.0, 35.0, 50.0, 65.0, 80.0, 89.0):
        off, behind = strip(ball / 2, anvil, fold, 4 * ball)
        under = behind[off <= blank / 2]
        reach = float(under.max()) if under.size else None
        if reach is None:
            assert not anvil_on_wall(ball, blank, 0.001, anvil, fold)
            continue
        assert not anvil_on_wall(ball, blank, reach + 0.03 * ball, anvil, fold)
        assert anvil_on_wall(ball, blank, reach - 0.001 * ball, anvil, fold)
    assert anvil_on_wall(ball, blank, 10 * ball, anvil, 0.0)


def test_a_reading_with_an_anvil_on_the_wall_is_refused() -> None:
    # at 30 degrees an anvil of 6.4 on a ball of 50 begins 9.73 off the spindle and 23.25 behind; out to
    # 25 it goes 26.45 farther back
    from planner.measuring.correct import problems

    rows = (Reading(30.0, 50.0), Reading(150.0, 50.0), Reading(90.0, 50.0))
    free = Measured(rows, 0.005, 50.0, 10.0, 6.4, wall_mm=49.8, blank_mm=50.0)
    assert problems(free, RIG) == ()
    near = Measured(rows, 0.005, 50.0, 10.0, 6.4, wall_mm=49.6, blank_mm=50.0)
    assert [(one.code, one.where) for one in problems(near, RIG)] == [
        ("on-the-wall", "reading 1"),
        ("on-the-wall", "reading 2"),
    ]
    thick = Measured(rows, 0.005, 50.0, 10.0, 6.4, wall_mm=49.8, blank_mm=52.0)
    assert len(problems(thick, RIG)) == 2
