"""A ball against its tolerance: inside, outside or not to be told, by its readings' uncertainty."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace
from scipy import stats

from planner.measuring.correct import Measured, Reading, Rig, correct

RIG = Rig("across", 0.01, 0.02)
ANGLES = (35.0, 55.0, 72.0, 90.0)
SIZES = [4.0, 25.4, 300.0]


def ball(size: float, skew: float, wanted: float, tolerance: float | None, u: float) -> Measured:
    """Readings of a body whose diameter is size + 2 skew sin a, as the readings' model has it."""
    rows = tuple(Reading(a, size + 2 * skew * float(np.sin(np.radians(a)))) for a in ANGLES)
    return Measured(rows, u, wanted, 0.35 * wanted, tolerance_mm=tolerance)


def standing(measured: Measured) -> str | None:
    found = correct(measured, RIG)
    return found.tolerance.standing if found.tolerance else None


@pytest.mark.parametrize("wanted", SIZES)
@pytest.mark.parametrize("sign", [1, -1])
def test_two_uncertainties_inside_or_outside_at_one_angle(wanted: float, sign: int) -> None:
    # one reading: its own uncertainty u is the diameter's; k = 2 (JCGM 106:2012, from memory: accepted
    # within the tolerance less the expanded uncertainty, rejected beyond it plus that)
    u, tolerance = 0.002, 0.02
    one = Measured((Reading(90.0, wanted),), u, wanted, 0.0, tolerance_mm=tolerance)
    for off, said in (
        (0.0, "within"),
        (0.0159, "within"),
        (0.0161, "cannot be told"),
        (0.0239, "cannot be told"),
        (0.0241, "outside"),
    ):
        rows = (Reading(90.0, wanted + sign * off),)
        found = correct(replace(one, readings=rows), RIG)
        assert found.tolerance and found.tolerance.standing == said
        (size,) = [a for a in found.advice if a.what == "size"]
        assert size.justified is (said == "outside")
        assert found.tolerance.small is (said == "outside" and sign < 0)
    assert correct(replace(one, tolerance_mm=None), RIG).tolerance is None


@pytest.mark.parametrize("wanted", SIZES)
def test_what_stands_outside_may_be_the_equator_or_the_neck(wanted: float) -> None:
    # right in the middle of the line, then the equator is farthest off; right at the equator, the neck
    for skew in (0.015, -0.015):
        for size, most in ((wanted - skew, 0.015), (wanted - 2 * skew, 0.0195)):
            for tolerance, said in ((0.05, "within"), (0.002, "outside")):
                found = correct(ball(size, skew, wanted, tolerance, 0.0005), RIG).tolerance
                assert found and found.standing == said
                assert abs(found.worst.mm) == pytest.approx(most, abs=1e-9)


def test_a_ball_within_needs_no_correction_and_one_in_doubt_gets_none() -> None:
    # a skew of 0.01 known to 0.001 is clear, and moved where no tolerance is stated
    for tolerance, said in ((None, ""), (0.1, "within its tolerance and needs none"), (0.013, "")):
        found = correct(ball(30.0, 0.01, 30.0, tolerance, 0.0006), RIG)
        skew = next(a for a in found.advice if a.what == "skew")
        assert skew.justified is not bool(said) and said in skew.reason
    doubtful = correct(ball(30.0, 0.01, 30.0, 0.0205, 0.0006), RIG)
    skew = next(a for a in doubtful.advice if a.what == "skew")
    assert not skew.justified and "cannot be told" in skew.reason


def test_contradicting_readings_tell_nothing_of_a_tolerance() -> None:
    rows = (Reading(90.0, 30.0), Reading(89.0, 30.1), Reading(60.0, 30.0), Reading(50.0, 30.0))
    assert standing(Measured(rows, 0.002, 30.0, tolerance_mm=1.0)) == "cannot be told"


def test_balls_called_within_or_outside_are_so_all_but_seldom() -> None:
    # seeded balls of known size and skew, measured with noise: judged wrongly no oftener than k = 2
    # allows at one end of the tolerance (2.3 % of a normal distribution beyond two deviations), at two
    # places of the ball
    rng = np.random.default_rng(20)
    wrong, told, u = 0, 0, 0.004
    beyond = 1 - stats.norm.cdf(2)
    for _ in range(900):
        size, skew = 30.0 + rng.normal(0, 0.012), rng.normal(0, 0.006)
        true = ball(size, skew, 30.0, 0.02, u)
        noisy = tuple(Reading(r.angle_deg, r.diameter_mm + rng.normal(0, u)) for r in true.readings)
        said = standing(replace(true, readings=noisy))
        inside = all(abs(size + 2 * skew * s - 30.0) <= 0.02 for s in (0.35, 1.0))
        told += said != "cannot be told"
        wrong += said == ("outside" if inside else "within")
    assert told > 200 and wrong / 900 < 2 * beyond
