"""Which piece of a weldment a feature is made on, and how far the whole swings, by hand."""

from __future__ import annotations

from math import hypot, sqrt

import pytest

from parts.features import Bore, Feature, TurnedDiameter, general
from parts.frame import Axis, Frame
from parts.part import Joined, Member, Part, Stock
from parts.standard.sections import Section
from planner.making.pieces import _under, swing_mm

# a block of 40 x 20 along x, stout; a round of 12 along z, its axis through (30, 0); a tube along y
BLOCK = Member("block", Stock(Section("flat", 40.0, 20.0), 60.0, "S355"), Frame())
PIN = Member("pin", Stock(Section("round", 12.0), 50.0, "S355"), Frame((30, 0, 10), x="+z", z="+x"))
TUBE = Member(
    "tube", Stock(Section("tube", 16.0, 3.0), 30.0, "S355"), Frame((5, 20, 4), "+y", "+x")
)
WHOLE = Part("w", "Weldment", Joined((BLOCK, PIN, TUBE), ()), (), {}, (0, 0, 0))


def turned(origin: tuple[float, float, float], along: str) -> TurnedDiameter:
    return TurnedDiameter(
        name="t", datum="A", axis=Axis(origin, along), start_mm=0.0, end_mm=10.0, diameter=general(8.0)
    )  # fmt: skip


@pytest.mark.parametrize(
    ("feature", "piece"),
    [
        # about a piece's own axis, wherever along it and whichever way: on that piece
        (turned((30.0, 0.0, 40.0), "+z"), "pin"),
        (turned((30.0, 0.0, -200.0), "-z"), "pin"),
        (turned((5.0, 3.0, 4.0), "-y"), "tube"),
        (turned((17.0, 0.0, 0.0), "+x"), "block"),
        # beside every axis, or across them, or with none: on the stoutest
        (turned((30.0, 0.1, 40.0), "+z"), "block"),
        (turned((31.0, 0.0, 10.0), "+z"), "block"),
        (turned((5.0, 20.0, 5.0), "+y"), "block"),
        (turned((30.0, 0.0, 10.0), "+y"), "block"),
        (Feature(name="f", datum="A"), "block"),
        # a hole along a piece's axis as well
        (
            Bore(
                name="b", datum="A", axis=Axis((5, 20, 4), "+y"), depth_mm=5, diameter=general(9.0)
            ),
            "tube",
        ),
    ],
)
def test_what_a_feature_of_a_weldment_is_made_on(feature: Feature, piece: str) -> None:
    assert _under(WHOLE, feature).name == piece


def test_how_far_a_weldment_swings() -> None:
    # about x: the pin's square in its round, 12 / sqrt 2 across, to z 60: hypot(4.24, 60); the tube's
    # end at y 50; about the pin: the block's corner at (0, +-20), 30 away along x, and the tube's end
    # at y 50, 25 + 8 / sqrt 2 away along x
    half = 12 / sqrt(2) / 2
    assert swing_mm(WHOLE, turned((0, 0, 0), "+x")) == pytest.approx(2 * hypot(half, 60.0))
    tube = hypot(30 - (5 - 8 / sqrt(2)), 50.0)
    assert swing_mm(WHOLE, turned((30, 0, 0), "+z")) == pytest.approx(2 * tube)
    alone = Part("a", "Alone", Joined((BLOCK,), ()), (), {}, (0, 0, 0))
    assert swing_mm(alone, turned((30, 0, 0), "-z")) == pytest.approx(2 * hypot(30.0, 20.0))
    assert swing_mm(alone, turned((0, 0, 0), "+y")) == pytest.approx(2 * hypot(60.0, 10.0))
    # a weld has no axis of its own: the widest piece
    assert swing_mm(WHOLE, Feature(name="f", datum="A")) == 40.0
