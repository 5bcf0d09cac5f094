"""What is advised after a ball was measured: the move, how far, what may remain, and every sentence.

An error is acted on when it is more than twice its uncertainty (GUM: about 95 %). The figures are such
that each sum can be done in one's head.
"""

from __future__ import annotations

from math import radians, tan
from types import SimpleNamespace
from typing import Any

import pytest

from planner.measuring.correct import advice as said
from planner.measuring.correct.model import Advice, Estimate

FAR, LARGEST = 1e6, 50.0
"""No correction is too far to be likely, in mm; the largest ball that its tilt is judged by."""


def rig(arrangement: str = "across", other_side: bool = False) -> Any:
    """A rig whose cross slide has divisions of 0.05 mm and whose dial has of 0.02."""
    return SimpleNamespace(
        over_mm=100.0,
        arrangement=arrangement,
        other_side=other_side,
        slide_mm_per_division=0.05,
        tip_mm_per_division=0.02,
    )


def fit(**found: Any) -> Any:
    usual = {"skew": None, "radius": None, "correlation": None, "words": "", "anvils": None}
    usual |= {"scatter": "within"}
    return SimpleNamespace(**(usual | {"mean": Estimate(40.0, 0.004)} | found))


SKEWS = [
    # error, where the pivot lies, from which side it was measured: what to move and why
    (
        0.1,
        "across",
        False,
        "pivot down",
        "The pivot is too high: less packing, or scrape its seat.",
    ),
    (-0.1, "across", False, "pivot up", "The pivot is too low: shim under the shank."),
    (0.1, "across", True, "pivot up", "The pivot is too low: shim under the shank."),
    (
        -0.1,
        "across",
        True,
        "pivot down",
        "The pivot is too high: less packing, or scrape its seat.",
    ),
    (0.1, "upright", False, "cross slide in", "The pivot stands off toward the operator."),
    (-0.1, "upright", False, "cross slide out", "The pivot stands off away from the operator."),
]


@pytest.mark.parametrize(("error", "arrangement", "other", "move", "reason"), SKEWS)
def test_a_skew(error: float, arrangement: str, other: bool, move: str, reason: str) -> None:
    found = said._skew(fit(skew=Estimate(error, 0.01)), rig(arrangement, other), "", FAR)
    # 0.1 is two divisions of a slide's 0.05; twice 0.01 may remain
    divisions = pytest.approx(2.0) if arrangement == "upright" else None
    assert (found.move, found.amount_mm, found.divisions) == (move, pytest.approx(0.1), divisions)
    assert (found.justified, found.remains_mm, found.reason) == (True, pytest.approx(0.02), reason)


def test_no_correction_is_justified() -> None:
    within = said._skew(fit(skew=Estimate(0.019, 0.01)), rig(), "", FAR)
    assert (within.justified, within.move, within.amount_mm) == (False, "", 0.0)
    assert within.remains_mm == pytest.approx(0.039)
    assert within.reason == (
        "No correction is justified. The error is within twice its uncertainty."
    )
    doubted = said._skew(
        fit(skew=Estimate(0.1, 0.01)), rig(), "The readings contradict each other.", FAR
    )
    assert doubted.reason == "No correction is justified. The readings contradict each other."
    unknown = said._skew(fit(words="All stand at one angle."), rig(), "", FAR)
    assert unknown.reason == "No correction is justified. All stand at one angle."
    assert (unknown.error, unknown.remains_mm) == (None, None)


def sized(diameter: float, **found: Any) -> Advice:
    return said._size(
        fit(mean=Estimate(diameter, 0.004), **found), rig(), 40.0, bool(found), "", FAR
    )


def test_a_size() -> None:
    large = sized(40.08)
    # 0.08 on the diameter is 0.04 on the radius, two divisions of 0.02; half of 0.004 twice remains
    assert (large.move, large.amount_mm) == ("tip in", pytest.approx(0.04))
    assert large.divisions == pytest.approx(2.0) and large.remains_mm == pytest.approx(0.004)
    assert large.reason.startswith("The ball is large: advance the tip. ")
    assert not large.undersize
    small = sized(39.92)
    assert (small.move, small.amount_mm) == ("tip out", pytest.approx(0.04))
    assert small.reason.startswith(
        "For the next ball draw the tip back past this and come in to it, the play taken up. "
    )
    assert small.undersize
    assert small.reason.endswith(" This ball is too small somewhere and cannot be mended.")
    assert sized(39.998).reason == (
        "No correction is justified. The error is within twice its uncertainty."
    )


def test_a_size_that_the_skews_correction_leaves() -> None:
    # R0 = 20.03 of 20, and a skew of -0.05: at the equator it is 20.03 - 0.05, 0.02 too small, with
    # root(0.003^2 + 0.004^2 + 2 x 0 x ...) = 0.005 of doubt: clear of twice that
    known = {"radius": Estimate(20.03, 0.003), "skew": Estimate(-0.05, 0.004), "correlation": 0.0}
    found = sized(39.99, **known)
    assert (found.move, found.amount_mm) == ("tip in", pytest.approx(0.03))
    assert found.undersize
    # with a correlation of 1 the doubts add: 0.007, and 0.02 is clear still; at 0.013 it is not
    nearer = known | {"skew": Estimate(-0.043, 0.004)}
    assert sized(39.99, **(nearer | {"correlation": 0.0})).undersize
    assert not sized(39.99, **(nearer | {"correlation": 1.0})).undersize
    # a ball that is thickest at its equator is nowhere smaller than R0
    thick = known | {"skew": Estimate(0.05, 0.004)}
    assert not sized(39.99, **thick).undersize


def answer(tilt: float, u: float) -> Any:
    return SimpleNamespace(tilt_deg=tilt, tilt_u_deg=u)


def pips(*answers: Any, clear: bool = True, known: bool = True) -> Any:
    return SimpleNamespace(
        answers=answers, clear=clear, skew_known=known, offset=Estimate(0.1, 0.01)
    )


@pytest.mark.parametrize(
    ("arrangement", "move", "reason"),
    [
        ("across", "swivel", "Swivel the tool post one way by this"),
        ("upright", "pivot lean", "Pack the pivot's base along the bed one way by this"),
    ],
)
def test_an_out_of_square(arrangement: str, move: str, reason: str) -> None:
    # half a degree over 100 mm is 0.873; a tenth is 0.175, twice that may remain, and to 0.55 degrees
    found = said._square(
        pips(answer(0.5, 0.1), answer(0.55, 0.1)), rig(arrangement), "", FAR, LARGEST
    )
    slope = [100 * tan(radians(x)) for x in (0.5, 0.1, 0.55)]
    assert (found.move, found.amount_mm, found.over_mm) == (move, pytest.approx(slope[0]), 100.0)
    assert found.remains_mm == pytest.approx(2 * slope[1] + slope[2] - slope[0])
    assert found.reason == (
        f"{reason} and turn two sizes again: if their pips differ more, go back twice as much."
    )
    assert not found.sign_known
    apart = said._square(pips(answer(0.5, 0.1), answer(0.71, 0.1)), rig(), "", FAR, LARGEST)
    assert apart.reason == (
        "No correction is justified. More than one tilt fits the pips, which do not tell their side:"
        " turn a ball of a size between and measure its pip too."
    )
    assert said._square(pips(answer(0.5, 0.1), answer(0.7, 0.1)), rig(), "", FAR, LARGEST).justified


def test_an_offset() -> None:
    found = said._offset(pips(), rig(), "", FAR)
    assert (found.move, found.divisions, found.sign_known) == (
        "cross slide",
        pytest.approx(2.0),
        False,
    )
    own = (
        "A pip does not tell its side: move one way, the play taken up, and turn again; if the pip"
        " grew, go back twice as much."
    )
    assert found.reason == own
    assert said._offset(pips(known=False), rig(), "", FAR).reason == own + (
        " The skew is not known: if the pip grows either way, that is what leaves it."
    )
    high = said._offset(pips(), rig("upright"), "", FAR)
    assert (high.move, high.divisions) == ("tip height", None)
    assert said._offset(pips(clear=False), rig(), "", FAR).reason == (
        "No correction is justified. The pip is within twice its uncertainty of what the skew alone"
        " leaves."
    )
    changing = pips(answer(0.21, 0.1), answer(0.3, 0.1))
    assert said._offset(changing, rig(), "", FAR).reason == (
        "No correction is justified. The pip changes with the ball: square the pivot, or it goes for"
        " one size only."
    )
    assert said._offset(pips(answer(0.2, 0.1), answer(0.3, 0.1)), rig(), "", FAR).justified


def test_a_dial() -> None:
    def dial(zero: float, screw: float | None = None, doubt: str = "") -> list[Advice]:
        found = SimpleNamespace(zero=Estimate(zero, 0.002), screw=screw and Estimate(screw, 0.0001))
        return said._dial(found, rig(), doubt, FAR)  # type: ignore[arg-type]

    (larger,) = dial(0.05)
    assert (larger.what, larger.move, larger.divisions) == ("zero", "dial zero", pytest.approx(2.5))
    assert larger.reason == (
        "Slack the dial and set it to a lower number by this, the screw still: balls come out larger"
        " than it says."
    )
    (smaller,) = dial(-0.05)
    assert smaller.amount_mm == pytest.approx(0.05) and smaller.reason == (
        "Slack the dial and set it to a higher number by this, the screw still: balls come out smaller"
        " than it says."
    )
    # a thousandth of the travel is 0.1 mm in 100
    screw, zero = dial(0.05, 0.001)
    assert (screw.what, screw.move, screw.amount_mm, screw.over_mm, screw.divisions) == (
        *("screw", "feed screw", pytest.approx(0.1), 100.0, None),
    )
    assert screw.reason == (
        "The screw moves more, or less, than its dial says: look for wear, or another pitch."
    )
    assert zero == larger
    assert dial(0.05, doubt="The sizes contradict each other.")[0].reason == (
        "No correction is justified. The sizes contradict each other."
    )
