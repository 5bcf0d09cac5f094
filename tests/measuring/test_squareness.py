"""Squareness from answers given outright: when two tilts count as one, and what is left of it."""

from __future__ import annotations

from math import radians, tan

import pytest

from planner.measuring.correct import Advice, Estimate, Measured, Pip, PipFit, Rig, correct
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
