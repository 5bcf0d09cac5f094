"""What a nest refuses, and what its check finds wrong."""

import math

import pytest
from msgspec.structs import replace
from nest_cases import ANGLE, disc, judge, profile, rectangle

from planner.nest.place import (
    NestError,
    NoSheet,
    Piece,
    Sheet,
    check_nest,
    nest,
)

GOOD = Sheet("s", 200, 100)


def test_pieces_too_large_say_which_and_what_would_do(quick):
    pieces = [Piece(rectangle(300, 80, "beam"), 2), Piece(rectangle(50, 50, "pad"), 3)]
    with pytest.raises(NoSheet) as caught:
        nest(pieces, [Sheet("s", 200, 100, None, 1, 5), Sheet("tiny", 60, 60)], 5.0, "plasma")
    assert caught.value.unplaced == (("beam", 2),)
    assert caught.value.missing_mm2 == pytest.approx(2 * 300 * 80)
    # 300 and two margins of 5: the sheet of 200 x 100 is nearer than that of 60 x 60.
    assert caught.value.nearest == ("s", 310, 100)
    assert caught.value.needed == 2
    assert "2 of 'beam'" in str(caught.value) and "310 x 100" in str(caught.value)
    larger = [Sheet("s", 310, 100, None, 1, 5)]
    judge(pieces, larger, 5.0, nest(pieces, larger, 5.0, "plasma"))


@pytest.mark.parametrize("process", ["plasma", "saw"])
def test_a_stock_that_runs_out_says_how_much_more(quick, process):
    # Two of 90 x 90 go on 200 x 100; seven need four sheets, and there are two.
    pieces = [Piece(rectangle(90, 90, "pad"), 7)]
    with pytest.raises(NoSheet) as caught:
        nest(pieces, [replace(GOOD, available=2)], 5.0, process)
    assert caught.value.unplaced == (("pad", 3),)
    assert caught.value.missing_mm2 == pytest.approx(3 * 8100)
    assert (caught.value.nearest, caught.value.needed) == (("s", 200, 100), 2)
    nest(pieces, [replace(GOOD, available=4)], 5.0, process)


def test_everything_wrong_is_said_at_once():
    nan = float("nan")
    bow = profile("bow", (0.0, 0.0, 0.0), (9.0, 9.0, 0.0), (9.0, 0.0, 0.0), (0.0, 5.0, 0.0))
    pieces = [
        Piece(rectangle(0, 30, "flat")),
        Piece(rectangle(nan, 30, "lost"), 0),
        Piece(bow),
        Piece(replace(ANGLE, thickness_mm=8.0, name="thin")),
        Piece(profile("twice", (0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (9.0, 9.0, 0.0), (9.0, 0.0, 0.0))),
    ]
    sheets = [
        Sheet("a", -5, nan),
        Sheet("b", 100, 100, -1, -2, 50),
        Sheet("b", 100, 100, 1, nan, -1),
    ]
    with pytest.raises(ValueError) as caught:
        nest(pieces, sheets, -1.0, "laser")
    for says in (
        "process is 'laser'; use plasma or saw",
        "gap is -1.0 mm",
        "piece 1, 'flat': its outline encloses no area",
        "piece 2, 'lost': quantity is 0",
        "piece 2, 'lost': its outline has a coordinate that is no number",
        "'bow': its outline crosses itself",
        "'twice': its outline has the same corner twice",
        "S355 10 mm, S355 8 mm",
        "2 sheets are called 'b'",
        "'a': length is -5 mm",
        "'a': width is nan mm",
        "'b': margin is 50 mm",
        "'b': margin is -1 mm",
        "'b': cost is -2",
        "'b': cost is nan",
        "'b': -1 available",
    ):
        assert says in str(caught.value)
    with pytest.raises(ValueError, match="no pieces.*no sheets"):
        nest([], [], math.inf, "saw")


def test_the_check_finds_what_is_wrong(quick):
    pieces, sheets = [Piece(ANGLE, 2), Piece(disc(10))], [Sheet("s", 300, 200, 1, 0, 5)]
    good = nest(pieces, sheets, 4.0, "plasma")
    (sheet,) = good.sheets

    def faults(placed, stock=sheets, **more):
        with pytest.raises(NestError) as caught:
            changed = replace(sheet, placed=tuple(placed), **more)
            check_nest(pieces, stock, replace(good, sheets=(changed,)))
        return "; ".join(caught.value.faults)

    one, two, small = sorted(sheet.placed, key=lambda p: (p.piece, p.copy))
    assert "copy 1 of 'disc' is there 0 times" in faults([one, two])
    assert "copy 1 of 'angle' is there 2 times" in faults([one, one, two, small])
    assert "not asked for" in faults([one, two, small, replace(small, piece=7)])
    assert "not the profile" in faults([one, two, replace(small, profile=ANGLE)])
    assert "into the margin" in faults([replace(one, x_mm=4.9), two, small])
    assert "no place given" in faults([replace(one, x_mm=math.nan), two, small])
    assert "may not be turned 45" in faults([replace(one, turn_deg=45), two, small])
    assert "no sheet 's' of this size" in faults(sheet.placed, [replace(sheets[0], cost=1)])
    # Moved on to each other; and a disc wholly within the angle's wide leg.
    on_top = [one, replace(two, x_mm=one.x_mm + 1, y_mm=one.y_mm, turn_deg=one.turn_deg), small]
    assert "'angle' (1) and 'angle' (2) overlap" in faults(on_top)
    one = replace(one, x_mm=5, y_mm=5, turn_deg=0)
    far = replace(two, x_mm=150, y_mm=100, turn_deg=0)
    within = replace(small, x_mm=5 + 70, y_mm=5 + 30)
    assert "overlap" in faults([one, far, within])
    # In the notch, 3.99 mm above the leg and far from the fillet: 0.01 mm too near.
    near = replace(small, x_mm=25, y_mm=5 + 20 + 3.99)
    assert "3.99 mm apart; the gap is 4 mm" in faults([one, far, near])
    # the tolerance is a micrometre: two too near are told, half of one is not
    assert "apart; the gap is 4 mm" in faults([one, far, replace(near, y_mm=29.0 - 0.002)])
    for y in (29.0, 29.0 - 0.0005):
        check = replace(sheet, placed=(one, far, replace(near, y_mm=y)))
        check_nest(pieces, sheets, replace(good, sheets=(check,)))
    two_sheets = replace(
        good, sheets=(replace(sheet, placed=(one, far)), replace(sheet, placed=(small,)))
    )
    with pytest.raises(NestError, match="2 of sheet 's' drawn and 1 there"):
        check_nest(pieces, sheets, two_sheets)


def test_the_check_follows_the_saw():
    pieces, sheets = [Piece(rectangle(60, 40), 4)], [Sheet("s", 200, 100)]
    good = nest(pieces, sheets, 3.0, "saw")
    (sheet,) = good.sheets
    assert len(sheet.cuts) > 3

    def faults(**change):
        with pytest.raises(NestError) as caught:
            check_nest(pieces, sheets, replace(good, sheets=(replace(sheet, **change),)))
        return "; ".join(caught.value.faults)

    cuts, placed = sheet.cuts, sheet.placed
    assert "cut up, is another piece" in faults(cuts=cuts[:-1])
    assert "out of order" in faults(cuts=cuts[::-1])
    moved_cut = replace(cuts[0], position_mm=cuts[0].position_mm + 0.5)
    assert "the cuts leave" in faults(cuts=(moved_cut, *cuts[1:]))
    assert "misses its panel" in faults(cuts=(replace(cuts[0], position_mm=999.0), *cuts[1:]))
    assert "mm long on a panel" in faults(cuts=(replace(cuts[0], length_mm=1.0), *cuts[1:]))
    assert "does not make the panel" in faults(cuts=(replace(cuts[0], far=None), *cuts[1:]))
    same = [replace(placed[0], panel=placed[1].panel), *placed[1:]]
    assert "is another piece" in faults(placed=tuple(same))
    assert "never made" in faults(placed=(replace(placed[0], panel=None), *placed[1:]))
