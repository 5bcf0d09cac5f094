"""Balls of one setting taken together: against numpy's least squares, on balls of known truth."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from planner.measuring.correct import (
    Correction,
    Earlier,
    Measured,
    Pip,
    Reading,
    Rig,
    Series,
    Size,
    correct,
    fit_readings,
    odd,
)

RIG = Rig("across", 0.01, 0.02)
ANGLES = (35.0, 50.0, 70.0, 90.0)


def read(
    rng: np.random.Generator, size: float, skew: float, u: float, angles: tuple[float, ...] = ANGLES
) -> tuple[Reading, ...]:
    """Noisy readings of a ball whose tip circle passes the spindle at a skew: D = 2 R + 2 h sin a."""
    true = size + 2 * skew * np.sin(np.radians(angles))
    rows = zip(angles, true + rng.normal(0, u, len(angles)), strict=True)
    return tuple(Reading(a, float(d)) for a, d in rows)


def by_numpy(balls: list[Series]) -> tuple[np.ndarray, np.ndarray]:
    """R of each ball and the skew they share, with their covariance, weighted by their accuracies."""
    rows, right = [], []
    for number, ball in enumerate(balls):
        for one in ball.readings:
            row = np.zeros(len(balls) + 1)
            row[number], row[-1] = 2.0, 2 * np.sin(np.radians(one.angle_deg))
            rows.append(row / ball.accuracy_mm)
            right.append(one.diameter_mm / ball.accuracy_mm)
    x = np.array(rows)
    return np.linalg.lstsq(x, np.array(right), rcond=None)[0], np.linalg.inv(x.T @ x)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("scale", [0.1, 1.0, 25.4 / 2])
def test_against_numpys_least_squares(seed: int, scale: float) -> None:
    rng = np.random.default_rng(seed)
    sets = [(35.0, 60.0, 90.0), (30.0, 45.0, 75.0, 90.0, 120.0), (90.0,), (50.0, 85.0)]
    made = zip((25.0, 30.0, 24.9, 18.0), (4e-3, 2e-3, 5e-3, 1e-3), sets, strict=True)
    balls = [
        Series(read(rng, size * scale, 0.05 * scale, u, angles), u) for size, u, angles in made
    ]
    for now in range(len(balls)):
        earlier = [one for one in balls if one is not balls[now]]
        fit = fit_readings(balls[now].readings, balls[now].accuracy_mm, earlier)
        best, cov = by_numpy([balls[now], *earlier])
        assert fit.skew and fit.radius
        assert (fit.radius.mm, fit.skew.mm) == pytest.approx((best[0], best[-1]), rel=1e-9)
        assert fit.radius.u_mm == pytest.approx(np.sqrt(cov[0, 0]))
        assert fit.skew.u_mm == pytest.approx(np.sqrt(cov[-1, -1]))
        assert fit.correlation == pytest.approx(cov[0, -1] / np.sqrt(cov[0, 0] * cov[-1, -1]))
        # the third ball, read at one angle, tells nothing of the skew
        assert fit.balls == (4 if now == 2 else 3)


def test_every_ball_more_sharpens_the_answer_by_the_root_of_their_number() -> None:
    truth, u, drawn = 0.03, 0.004, 300
    rng = np.random.default_rng(11)
    stated, spread = [], []
    for balls in (1, 2, 4):
        found = []
        for _ in range(drawn):
            sets = [Series(read(rng, 30.0 + rng.normal(0, 0.2), truth, u), u) for _ in range(balls)]
            fit = fit_readings(sets[0].readings, u, sets[1:])
            assert fit.skew
            found.append(fit.skew.mm)
        stated.append(fit.skew.u_mm)
        spread.append(float(np.sqrt(np.mean((np.array(found) - truth) ** 2))))
    # of normal errors the spread of 300 is known to 1 in root(600), four per cent
    assert spread == pytest.approx(stated, rel=0.12)
    assert stated == pytest.approx([stated[0], stated[0] / 2**0.5, stated[0] / 2])


def skew_of(found: Correction) -> tuple[float, float, bool]:
    (one,) = [a for a in found.advice if a.what == "skew"]
    assert one.error
    return one.error.mm, one.error.u_mm, one.justified


def test_a_second_ball_bears_out_what_the_first_could_not() -> None:
    rng = np.random.default_rng(4)
    u = 0.006  # readings without noise: one ball leaves the skew at 1.6 uncertainties, four at 3.2
    sines = np.sin(np.radians(ANGLES))
    truth = 1.6 * u / 2 / float(np.sqrt(np.sum((sines - sines.mean()) ** 2)))
    balls = [Series(read(rng, size, truth, 0.0), u) for size in (30.0, 30.1, 29.9, 30.05)]
    alone = correct(Measured(balls[0].readings, u, 30.0), RIG)
    assert not skew_of(alone)[2]
    first = Earlier(tuple(balls[1:]))
    together = correct(Measured(balls[0].readings, u, 30.0), RIG, first)
    assert skew_of(together)[2] and skew_of(together)[1] == pytest.approx(skew_of(alone)[1] / 2)
    assert together.apart == () and together.fit and together.fit.balls == 4


def test_balls_of_another_skew_are_left_out_and_told() -> None:
    rng = np.random.default_rng(6)
    u = 0.003
    before = Earlier((Series(read(rng, 30.0, 0.05, u), u),))
    moved = Measured(read(rng, 30.0, 0.0, u), u, 30.0)
    found = correct(moved, RIG, before)
    assert found.apart == ("readings",) and found.fit == correct(moved, RIG).fit
    assert [(one.code, one.where) for one in odd(found)] == [("setting-changed", "readings")]
    # readings that contradict each other are no help either, but tell of no move
    rough = list(read(rng, 30.0, 0.0, u))
    rough[1] = replace(rough[1], diameter_mm=rough[1].diameter_mm + 0.1)
    found = correct(moved, RIG, Earlier((Series(tuple(rough), u),)))
    assert found.apart == () and found.fit and found.fit.balls == 1
    # of balls at one setting hardly one in a hundred is told apart by chance
    told = 0
    for _ in range(600):
        one, other = (read(rng, 30.0, 0.05, u) for _ in range(2))
        told += bool(correct(Measured(one, u, 30.0), RIG, Earlier((Series(other, u),))).apart)
    assert told < 600 * 0.025


# Pips: the tip's offset and the pivot's squareness


def pip(radius: float, offset: float, tilt_deg: float, noise: float = 0.0) -> Pip:
    """What a tip leaves at the nose: its nearest to the spindle, by points of its path in space.

    The pivot lies across the bed, turned by the tilt in the plane of bed and pivot about the ball's
    centre; the tip stands off along it by the offset.
    """
    t = np.radians(np.arange(0.0, 20.0, 0.01))
    along, far, up = np.full_like(t, offset), radius * np.cos(t), radius * np.sin(t)
    turn = np.radians(tilt_deg)
    across = along * np.cos(turn) - far * np.sin(turn)
    return Pip(2 * float(np.hypot(across, up).min()) + noise, 0.01, 2 * radius)


@pytest.mark.parametrize("scale", [0.4, 1.0])
def test_balls_of_two_sizes_tell_the_offset_from_the_squareness(scale: float) -> None:
    offset, tilt = 0.3 * scale, 0.4
    small, large = pip(8.0 * scale, offset, tilt), pip(20.0 * scale, offset, tilt)
    # alone either ball's pip is taken for an offset, and a wrong one
    alone = correct(Measured((), 0.003, 40.0 * scale, pips=(large,)), RIG)
    assert alone.pips and not alone.pips.answers
    assert abs(alone.pips.offset.mm - offset) > 0.1 * scale
    both = correct(Measured((), 0.003, 40.0 * scale, pips=(large,)), RIG, Earlier(pips=(small,)))
    assert both.pips and any(
        one.tilt_deg == pytest.approx(tilt, rel=0.01)
        and abs(one.offset.mm) == pytest.approx(offset, rel=0.01)
        for one in both.pips.answers
    )
    assert [a.what for a in both.advice] == ["squareness", "offset"]
    # a third between them leaves that answer alone, and the same whichever was measured last
    middle = pip(14.0 * scale, offset, tilt)
    for now, before in ((large, (small, middle)), (small, (middle, large))):
        three = correct(Measured((), 0.003, 40.0 * scale, pips=(now,)), RIG, Earlier(pips=before))
        assert three.pips and len(three.pips.answers) == 1
        assert three.pips.answers[0].tilt_deg == pytest.approx(tilt, rel=0.01)
        assert three.advice[0].justified and not three.advice[1].justified


def test_without_a_tilt_pips_of_two_sizes_sharpen_the_offset() -> None:
    rng = np.random.default_rng(9)
    found = []
    for _ in range(300):
        noisy = [pip(r, 0.25, 0.0, float(rng.normal(0, 0.01))) for r in (10.0, 10.1, 9.9, 10.0)]
        one = correct(
            Measured((), 0.003, 20.0, pips=(noisy[0],)), RIG, Earlier(pips=tuple(noisy[1:]))
        )
        assert one.pips
        if not one.apart:  # a hundredth of them, by chance
            found.append(one.pips.offset.mm)
            # a radius from a diameter, four of them
            assert one.pips.offset.u_mm == pytest.approx(0.005 / 2)
    assert len(found) > 290
    assert float(np.std(found)) == pytest.approx(0.0025, rel=0.12)


def test_pips_and_sizes_at_odds_with_those_before_are_judged_by_themselves() -> None:
    now = Measured((), 0.003, 20.0, pips=(Pip(0.1, 0.01, 20.0),), sizes=(Size(20.0, 20.1, 0.004),))
    before = Earlier(pips=(Pip(0.5, 0.01, 20.0),), sizes=(Size(20.0, 20.0, 0.004),))
    found = correct(now, RIG, before)
    assert found.apart == ("pips", "sizes")
    assert (found.pips, found.sizes) == (correct(now, RIG).pips, correct(now, RIG).sizes)
    assert [one.code for one in odd(found)] == ["setting-changed", "setting-changed"]
    near = Earlier(pips=(Pip(0.11, 0.01, 20.0),), sizes=(Size(30.0, 30.102, 0.004),))
    found = correct(now, RIG, near)
    assert found.apart == () and found.sizes and found.sizes.screw
