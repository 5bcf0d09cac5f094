"""Squareness from answers given outright: when two tilts count as one, and what is left of it."""

from __future__ import annotations

from math import hypot, radians, tan

import pytest

from planner.measuring.correct import (
    Advice,
    Estimate,
    Measured,
    Pip,
    PipFit,
    Rig,
    correct,
    fit_pips,
)
from planner.measuring.correct.model import Squareness

OFFSET = Estimate(0.2, 0.01)
PIPS = (Pip(0.4, 0.02, 20.0), Pip(0.5, 0.02, 40.0))


def square(
    monkeypatch: pytest.MonkeyPatch, rig: Rig, *tilts: tuple[float, float]
) -> tuple[Advice, Advice]:
    """What is advised for the pivot and for the offset, where these tilts with their doubts fit."""
    found = tuple(Squareness(tilt, u, OFFSET, False, 0.0) for tilt, u in tilts)
    fit = PipFit(OFFSET, True, False, found, 0.0, 0, "fits")
    monkeypatch.setattr("planner.measuring.correct.advice.fit_pips", lambda *_: fit)
    first, second = correct(Measured((), 0.01, 30.0, pips=PIPS), rig).advice
    return first, second


@pytest.mark.parametrize("far, told", [(0.139, False), (0.141, True), (0.4, True)])
def test_two_tilts_are_one_within_twice_the_doubt_of_the_least(
    monkeypatch: pytest.MonkeyPatch, far: float, told: bool
) -> None:
    # 0.1 and 0.14 degrees stand two doubts of 0.02 apart; how doubtful the larger is tells nothing
    # of whether the smaller, which is what is packed, can be it (twice, k = 2: JCGM 100:2008, 6.3.3)
    for doubt in (0.001, 0.02, 0.5):
        advice, _ = square(monkeypatch, Rig("across", 0.01, 0.02), (0.1, 0.02), (far, doubt))
        assert advice.what == "squareness" and advice.justified is not told
        assert ("More than one tilt fits the pips" in advice.reason) is told
        # over 100 mm, by the tangent: what is not moved is left, and the larger may be the true one
        apart = 100 * (tan(radians(far)) - tan(radians(0.1)))
        kept = 100 * (2 * tan(radians(0.02)) + tan(radians(0.1)) * told)
        assert advice.remains_mm == pytest.approx(kept + apart)
        assert advice.amount_mm == pytest.approx(0.0 if told else 0.17453, abs=1e-5)
        assert (advice.sign_known, advice.over_mm) == (False, 100.0)


@pytest.mark.parametrize(
    "arrangement, move, first, slide",
    [
        ("across", "swivel", "Swivel the tool post one way by this", "cross slide"),
        (
            "upright",
            "pivot lean",
            "Pack the pivot's base along the bed one way by this",
            "tip height",
        ),
    ],
)
def test_a_tilt_is_mended_where_each_arrangement_lets_it(
    monkeypatch: pytest.MonkeyPatch, arrangement: str, move: str, first: str, slide: str
) -> None:
    # a pivot across the bed is swivelled with the tool post, an upright one packed (common practice)
    rig = Rig(arrangement, 0.01, 0.02)  # type: ignore[arg-type]
    again = " and turn two sizes again: if their pips differ more, go back twice as much."
    pivot, offset = square(monkeypatch, rig, (0.1, 0.02))
    assert (pivot.move, pivot.reason) == (move, first + again)
    assert not offset.justified and offset.reason.startswith(
        "No correction is justified. The pip ch"
    )
    pivot, offset = square(monkeypatch, rig, (0.03, 0.02))  # within twice its own doubt
    assert not pivot.justified and offset.justified and offset.move == slide
    # the offset's dial: 0.2 mm at 0.02 mm a line is 10 lines; the tip's height has none
    assert offset.divisions == (pytest.approx(10.0) if slide == "cross slide" else None)


@pytest.mark.parametrize(
    "pip, accuracy, skew, doubt, offset, by_hand",
    [
        # of a square the variance is 4 m^2 u^2 + 2 u^4 (normal variables, any handbook of statistics);
        # the root of what is left is doubtful by its square's doubt over twice itself.
        # h = 0 +-0.1: u(h^2) = 2^0.5 0.01 = 0.014142, with p = 1 +-0.001, u(p^2) = 0.002: over 2
        (1.0, 0.002, 0.0, 0.1, 0.5, hypot(2 * 0.5 * 0.001, 2**0.5 * 0.001**2, 2**0.5 * 0.01)),
        # h = 0.3 +-0.01 beside a pip's radius of 0.5: 0.4 is left (3-4-5)
        (
            1.0,
            0.002,
            0.3,
            0.01,
            0.4,
            hypot(2 * 0.5 * 0.001, 2**0.5 * 0.001**2, 2 * 0.3 * 0.01, 2**0.5 * 0.01**2) / 0.8,
        ),
        # without a skew the pip's own
        (1.0, 0.002, 0.0, 0.0, 0.5, 0.001),
        # where nothing is left of it, the root of its square's doubt
        (
            0.6,
            0.002,
            0.3,
            0.01,
            0.0,
            hypot(0.6 * 0.001, 2**0.5 * 1e-6, 0.006, 2**0.5 * 1e-4) ** 0.5,
        ),
    ],
)
def test_what_the_skew_leaves_of_a_pip(
    pip: float, accuracy: float, skew: float, doubt: float, offset: float, by_hand: float
) -> None:
    found = fit_pips([Pip(pip, accuracy, 30.0)], Estimate(skew, doubt)).offset
    assert found.mm == pytest.approx(offset, abs=1e-9)
    assert found.u_mm == pytest.approx(by_hand, rel=1e-6)
