"""The metal of a piece, by hand: a bar 20 thick and 100 long, and a block 40 by 30 by 20."""

from __future__ import annotations

import pytest

from parts.features import MilledFlat, TurnedDiameter, general
from parts.frame import Axis, Box, Frame
from parts.metal import Piece, metal, piece
from parts.part import Stock
from parts.standard.sections import Section

BLOCK = Stock(Section("flat", 30.0, 20.0), 40.0, "S355")
ROUND = Stock(Section("round", 20.0), 100.0, "S355")


@pytest.fixture
def bar() -> Piece:
    return piece("bar", ROUND, Frame())


@pytest.fixture
def block() -> Piece:
    return piece("block", BLOCK, Frame())


def test_pieces_lie_where_their_stock_does(bar: Piece, block: Piece) -> None:
    assert (bar.low, bar.high, bar.along, bar.radius_mm) == ([0, -10, -10], [100, 10, 10], 0, 10.0)
    assert (block.low, block.high, block.radius_mm) == ([0, -15, -10], [40, 15, 10], 0.0)


@pytest.mark.parametrize(
    ("x", "z", "radius", "inside"),
    [
        # across a bar 20 thick: off its middle and half the hole together under 10
        (50.0, 0.0, 9.9, True),
        (50.0, 0.0, 10.0, False),
        (50.0, 4.0, 5.9, True),
        (50.0, -4.0, 5.9, True),
        (50.0, 4.0, 6.0, False),
        # and clear of either end
        (6.0, 0.0, 5.9, True),
        (6.0, 0.0, 6.1, False),
        (94.0, 0.0, 5.9, True),
        (94.0, 0.0, 6.1, False),
    ],
)
def test_a_hole_across_a_bar_has_metal_all_round(
    bar: Piece, x: float, z: float, radius: float, inside: bool
) -> None:
    assert bar.surrounds((x, 10.0, z), 1, radius) is inside
    assert bar.surrounds((x, z, 10.0), 2, radius) is inside


def test_where_a_bar_is_turned_it_is_thinner(bar: Piece) -> None:
    bar.turned.append(((40.0, 60.0), 7.0))
    assert bar.thinnest_mm((0.0, 40.0)) == 10.0 and bar.thinnest_mm((0.0, 41.0)) == 7.0
    assert bar.thinnest_mm((60.0, 99.0)) == 10.0 and bar.thinnest_mm((59.0, 99.0)) == 7.0
    assert bar.surrounds((50.0, 10.0, 0.0), 1, 6.9) and not bar.surrounds((50.0, 10.0, 0.0), 1, 7.0)
    # a hole of 5 at 34 ends at 39, at 36 it reaches into the turned stretch
    assert bar.extent((34.0, 10.0, 0.0), 1, 5.0) == (-10.0, 10.0)
    assert bar.extent((36.0, 10.0, 0.0), 1, 5.0) == (-7.0, 7.0)
    assert bar.extent((0.0, 0.0, 0.0), 0, 5.0) == (0.0, 100.0)


def test_a_hole_along_a_bar(bar: Piece) -> None:
    # 3-4-5: 5 off the axis
    assert bar.surrounds((0.0, 3.0, 4.0), 0, 4.9) and not bar.surrounds((0.0, 3.0, 4.0), 0, 5.0)
    assert bar.about((5.0, 0.0, 0.0), 0) and not bar.about((5.0, 0.1, 0.0), 0)
    assert not bar.about((5.0, 0.0, 0.0), 1)


def test_a_hole_in_a_block(block: Piece) -> None:
    # from above: 40 by 30 round it, the middle at (20, 0)
    assert block.surrounds((20.0, 0.0, 10.0), 2, 14.9)
    assert not block.surrounds((20.0, 0.0, 10.0), 2, 15.0)
    assert block.surrounds((26.0, 0.0, 10.0), 2, 13.9)
    assert not block.surrounds((26.0, 0.0, 10.0), 2, 14.0)
    assert block.extent((20.0, 0.0, 10.0), 2, 5.0) == (-10.0, 10.0)


def test_boxes_meet_and_cover(block: Piece) -> None:
    top = Box((-1.0, -16.0, 8.0), (41.0, 16.0, 11.0))
    assert block.meets(top) and block.covered(top) == [True, True, False]
    assert not block.meets(Box((-1.0, -16.0, 10.0), (41.0, 16.0, 11.0)))
    assert block.covered(Box((0.0, -15.0, -9.9), (40.0, 14.9, 10.0))) == [True, False, False]


def flat(low: float, high: float) -> MilledFlat:
    return MilledFlat(name="flat", datum="A", box=Box((-1.0, -16.0, low), (41.0, 16.0, high)))


def test_a_flat_right_across_leaves_it_thinner() -> None:
    for low, high, left in ((8.0, 11.0, (-10, 8.0)), (-11.0, -6.0, (-6.0, 10)),
                            (-2.0, 2.0, (-10, 10))):  # fmt: skip
        (one,) = metal("block", BLOCK, (flat(low, high),)).pieces
        assert (one.low[2], one.high[2]) == left


def test_a_thread_finds_the_cylinder_it_is_cut_on() -> None:
    def cylinder(name: str, start: float, end: float) -> TurnedDiameter:
        return TurnedDiameter(
            name=name, datum="A", axis=Axis(), start_mm=start, end_mm=end, diameter=general(16.0)
        )

    made = metal("bar", ROUND, (cylinder("first", 0.0, 30.0), cylinder("second", 30.0, 60.0)))
    assert made.pieces[0].turned == [((0.0, 30.0), 8.0), ((30.0, 60.0), 8.0)]
    for low, high, name in ((5.0, 30.0, "first"), (30.0, 60.0, "second"), (5.0, 31.0, None)):
        found = made.diameter_at(cylinder("thread", low, high))
        assert (found.name if found else None) == name
    assert made.bar(cylinder("thread", 0.0, 5.0)) is made.pieces[0]
    named = made.named("second")
    assert named is not None and named.name == "second" and made.named("third") is None
