"""What a tool comes to, and what it finds done, by hand: just inside a limit, and just outside."""

from __future__ import annotations

from typing import Any

import pytest
from walk_asked import (
    TENTH,
    Told,
    X,
    codes,
    doing,
    held,
    rod,
    turned,
)
from walk_records import bar

from parts import features as f
from parts.standard.sections import Section
from planner.walking.cuts import Cut
from planner.walking.cutting import _marked, _small, _within_limits, finished_sizes
from planner.walking.fixed import Fixed, _height
from planner.walking.order import _bore, _last_cut, _ream, _spot, _turn
from planner.walking.reach import (
    _bar,
    _between_collars,
    _clear_of_centre,
    _clear_of_jaws,
    _from_the_end,
    _slender,
)
from planner.walking.shape import FAR_MM, Line, Ring
from planner.walking.state import Mark, sawn


def test_a_cut_stays_clear_of_jaws_carrier_and_steady() -> None:
    for near, far, kind, keeps, code in (
        (30.5, 60.0, "turn", 0, ""), (30.49, 60.0, "turn", 0, "route-cut-in-grip"),
        (30.5, 32.0, "face", 1, ""), (30.5, 31.9, "face", 1, "route-tool-reach"),
        (30.5, 31.9, "part", 1, ""),
    ):  # fmt: skip
        do = doing(
            rod(), Cut("face" if kind != "turn" else "turn", X, near, far, keeps=keeps), kind
        )
        _clear_of_jaws(do, held(30.0), near, far)
        assert codes(do) == [code] * bool(code), (near, kind)
    for key, at, clear in (
        ("driver", 94.0, True), ("driver", 94.1, False), ("driver", 126.0, True),
        ("driver", 125.9, False),
        ("steady", 97.0, True), ("steady", 97.1, False), ("steady", 123.0, True),
        ("steady", 122.9, False),
    ):  # fmt: skip
        do, one = doing(rod(), Cut("turn", X, 100.0, 120.0)), held(30.0)
        setattr(one, key, at)
        _clear_of_jaws(do, one, 100.0, 120.0)
        assert codes(do) == ([] if clear else ["route-cut-in-grip"]), (key, at)


def test_a_tool_behind_a_collar_wants_room_before_the_jaws() -> None:
    """Between jaws at 30 and a collar: six millimetres, two to groove, a blade its own width."""
    for kind, room, wide, good in (
        ("turn", 6.0, None, True), ("turn", 5.9, None, False), ("groove", 2.0, None, True),
        ("groove", 1.9, None, False), ("groove", 1.5, 1.5, True), ("groove", 1.5, 1.53, False),
        ("part", 1.5, 1.51, True), ("turn", 5.9, 1.0, False),
    ):  # fmt: skip
        do = doing(rod(), Cut("turn", X, 30.0, 30.0 + room, 8.0), kind)
        do.operation["tool"]["width_mm"] = wide  # type: ignore[index]
        _between_collars(do, held(30.0), 30.0, 30.0 + room)
        assert codes(do) == ([] if good else ["route-tool-reach"]), (kind, room, wide)
    do = doing(rod(20.0, 0.0, 36.0), Cut("turn", X, 32.0, 36.0, 8.0))
    _between_collars(do, held(30.0), 32.0, 36.0)
    assert codes(do) == []  # nothing stands before it


def test_holes_are_come_to_from_the_tailstock() -> None:
    back = Line(0, -1, (0.0, 0.0, 0.0))
    for line, tail, name, code in (
        (back, None, "drill", ""), (X, None, "drill", "route-tool-reach"),
        (back, 101.0, "drill", "route-tail-in-way"), (back, 101.0, "bar between centres", ""),
    ):  # fmt: skip
        do = doing(
            rod(20.0, 0.0, 100.0), Cut("hole", line, 80.0, 100.0, 3.0), "drill", tool={"name": name}
        )
        one = held(30.0)
        one.tail = tail
        _from_the_end(do, one, 80.0, 100.0)
        assert codes(do) == [code] * bool(code)
    for begins, good in ((100.0, True), (99.0, False)):  # metal before the hole
        do = doing(rod(20.0, 0.0, 100.0), Cut("hole", back, 80.0, begins, 3.0), "drill")
        _from_the_end(do, held(30.0), 80.0, begins)
        assert codes(do) == ([] if good else ["route-tool-reach"])


def test_nothing_is_faced_away_that_runs_on_a_centre() -> None:
    for far, keeps, before, name, clear in (
        (100.0, -1, 0.0, "x", False), (97.1, -1, 0.0, "x", False), (97.0, -1, 0.0, "x", True),
        (103.0, -1, 0.0, "x", True), (100.0, 1, 0.0, "x", True), (100.0, -1, 4.0, "x", True),
        (100.0, -1, 0.0, "half centre", True),
    ):  # fmt: skip
        do = doing(
            rod(), Cut("face", X, far - 1, far, 10.0, before, keeps), "face", tool={"name": name}
        )
        one = held(30.0)
        one.tail = 100.0
        _clear_of_centre(do, one, far)
        assert codes(do) == ([] if clear else ["route-tail-in-way"]), (far, keeps)


@pytest.mark.parametrize(
    ("kind", "size", "most"),
    [
        ("drill", 6.0, 8.0),
        ("ream", 6.0, 8.0),
        ("tap", 6.0, 4.0),
        ("tap", 9.4, 4.0),
        ("tap", 9.5, 8.0),
    ],
)
def test_a_tool_goes_so_many_diameters_deep(kind: str, size: float, most: float) -> None:
    for over, good in ((0.49, True), (0.6, False)):
        deep = most * size + over
        do = doing(rod(40.0), Cut("hole", X, 10.0, 10.0 + deep, size / 2), kind)
        do.operation["tool"]["diameter_mm"] = size  # type: ignore[index]
        _slender(do)
        assert codes(do) == ([] if good else ["route-tool-reach"]), over
    # turns tapped from two ends never meet (common practice): it was said to come from both
    (one,) = do.faults.found
    assert ("both ends" in one.remedy) == (kind != "tap") and "end" in one.remedy
    # an open bore on the way does not count: half of the way is in metal, the first or the last
    for low, high in ((10.0, 10.0 + deep / 2), (10.0 + deep / 2, 10.0 + deep)):
        piece = rod(40.0)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), low, high, 15.0))
        do = doing(piece, Cut("hole", X, 10.0, 10.0 + deep, size / 2), kind)
        do.operation["tool"]["diameter_mm"] = size  # type: ignore[index]
        _slender(do)
        assert codes(do) == [], low


def test_a_parting_tool_reaches_from_the_outside_to_where_it_breaks_through() -> None:
    for bore, reach, good in (
        (0.0, 10.0, True),
        (0.0, 9.9, False),
        (4.0, 6.0, True),
        (4.0, 5.9, False),
    ):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 90.0, bore))
        do = doing(piece, Cut("face", X, 50.0, 53.0, 10.0), "part", tool={"reach_mm": reach})
        _slender(do)
        assert codes(do) == ([] if good else ["route-tool-reach"]), (bore, reach)


def test_a_boring_bar_is_long_thick_and_thin_enough() -> None:
    for name, thick, reach, before, deep, refused in (
        ("boring bar", 10.0, 40.0, 12.5, 40.0, 0), ("boring bar", 10.0, 39.9, 12.5, 40.0, 1),
        ("boring bar", 10.0, 40.1, 12.5, 40.0, 1), ("boring bar, carbide", 10.0, 80.0, 12.5, 40.0, 0),
        ("boring bar, carbide", 10.0, 80.1, 12.5, 40.0, 1), ("boring bar", 10.0, 40.0, 12.4, 40.0, 1),
        ("bar between centres", 10.0, 120.0, 12.5, 40.0, 0),
        ("bar between centres", 10.0, 120.1, 12.5, 40.0, 1),
        ("facing tool", 1.0, 1.0, 1.0, 40.0, 0),
    ):  # fmt: skip
        do = doing(rod(40.0), Cut("bore", X, 10.0, 10.0 + deep, 8.0, before / 2), "bore",
                   tool={"name": name, "diameter_mm": thick, "reach_mm": reach})  # fmt: skip
        _bar(do)
        assert codes(do) == ["route-tool-reach"] * refused, (name, reach)


def test_what_a_reamer_and_a_bore_find() -> None:
    for there, good in ((5.97, True), (5.98, False), (5.2, True), (5.19, False), (0.0, False)):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, there / 2))
        do = doing(piece, Cut("hole", X, 0.0, 30.0, 3.0), "ream", tool={"diameter_mm": 6.0})
        _ream(do, X)
        assert codes(do) == ([] if good else ["route-order"]), there
    for size, good in ((6.05, True), (6.06, False), (5.94, False)):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, 2.8))
        do = doing(piece, Cut("hole", X, 0.0, 30.0, 3.0), "ream", tool={"diameter_mm": size})
        _ream(do, X)
        assert codes(do) == ([] if good else ["route-words"])
    for before, code in (
        (10.0, ""),
        (10.14, ""),
        (10.16, "route-more-there"),
        (9.86, ""),
        (9.84, "route-cuts-nothing"),
    ):
        piece = rod(40.0)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 0.0, 40.0, 5.0))
        do = doing(piece, Cut("bore", X, 0.0, 30.0, 6.0, before / 2), "bore")
        _bore(do, X)
        assert codes(do) == [code] * bool(code), before


def test_what_turning_finds() -> None:
    for before, code in (
        (20.0, ""),
        (19.82, ""),
        (19.78, "route-more-there"),
        (20.78, ""),
        (20.82, "route-cuts-nothing"),
    ):
        do = doing(rod(), Cut("turn", X, 10.0, 30.0, 8.0, before / 2))
        _turn(do)
        assert codes(do) == [code] * bool(code), before
    # limits within 0.05 are come to by a last cut of 1.5 a side, and a twentieth
    for band, off, code in ((0.05, 3.04, ""), (0.05, 3.06, "route-order"), (0.051, 9.0, "")):
        feature = turned(
            f.TurnedDiameter, start_mm=0.0, end_mm=10.0, diameter=f.Limits(20.0, band, 0.0, "")
        )
        do = doing(rod(20.0, 0.0, 200.0, feature), feature="x", makes=["x"])
        _last_cut(do, off)
        assert codes(do) == [code] * bool(code), (band, off)
    for sign, entry, good in (
        (1, 0.0, True),
        (1, 1.0, False),
        (-1, 200.0, True),
        (-1, 199.0, False),
        (1, 201.0, False),
    ):
        line = Line(0, sign, (0.0, 0.0, 0.0))
        low, high = sorted((entry, entry + 3.0 * sign))
        do = doing(rod(), Cut("hole", line, low, high, 2.0), "spot")
        _spot(do, line)
        assert codes(do) == ([] if good else ["route-order"]), (sign, entry)


def test_a_cut_is_worked_to_within_its_limits() -> None:
    feature = turned(
        f.TurnedDiameter, start_mm=0.0, end_mm=10.0, diameter=f.Limits(20.0, 0.02, -0.01, "")
    )
    for size, left, code in (
        (20.021, 0.0, ""),
        (20.022, 0.0, "x"),
        (19.989, 0.0, ""),
        (19.988, 0.0, "x"),
        (20.0, 0.1, "x"),
    ):
        do = doing(rod(), Cut("turn", X, 0.0, 10.0, size / 2), allowance_mm=left)
        _within_limits(do, feature)
        assert codes(do) == ["route-not-made"] * bool(code), size
    small = [
        (Cut("turn", X, 0, 1, 8.0, 10.0), "groove", True),
        (Cut("turn", X, 0, 1, 8.0, 10.1), "groove", False),
        (Cut("hole", X, 0, 1, 7.0), "centre", True), (Cut("hole", X, 0, 1, 7.1), "centre", False),
        (Cut("hole", X, 0, 1, 3.0), "drill", False), (Cut("flat"), "deburr", True),
        (Cut("flat"), "mill", False),
    ]  # fmt: skip
    assert [_small(doing(rod(), cut, kind)) for cut, kind, _ in small] == [
        one for _, _, one in small
    ]


def test_a_thread_or_knurl_is_cut_over_its_length() -> None:
    """A thread may lack a pitch and a half, as a groove leaves it; each of them 0.6 mm."""
    for kind, word, lacks in (
        (f.Thread, "thread", 2.1),
        (f.Knurl, "knurl", 0.6),
        (f.EngravedScale, "engraved", 0.6),
    ):
        more = {"thread": "M8x1"} if kind is f.Thread else {"diameter": TENTH}
        more |= {"pitch_mm": 1.0} if kind is f.Knurl else {}
        more |= {"divisions": 9, "line_width_mm": 0.2} if kind is f.EngravedScale else {}
        feature: Any = turned(kind, start_mm=5.0, end_mm=25.0, **more)
        for less, good in ((lacks - 0.01, True), (lacks + 0.01, False)):
            piece = rod()
            piece.marks.append(Mark(word, X, 5.0, 25.0 - less, 4.0))
            assert _marked(piece, feature) is good, (word, less)
            piece.marks[0] = Mark("spot", X, 5.0, 25.0, 4.0)
            assert not _marked(piece, feature)


def test_nothing_is_left_where_a_feature_is_to_be() -> None:
    feature = turned(
        f.TurnedDiameter, start_mm=150.0, end_mm=200.0, diameter=f.Limits(16.0, 0.1, -0.1, "")
    )
    for radius, done in ((8.05, True), (8.1, False)):
        piece = rod(20.0, 0.0, 200.0, feature)
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 150.0, 200.0, FAR_MM, radius))
        assert finished_sizes(piece) is done


def test_enough_of_the_height_is_in_the_vice() -> None:
    """A third of it, three millimetres at least, fifteen at most (common practice)."""
    for tall, least in ((30.0, 9.9), (6.0, 3.0), (60.0, 15.0)):
        for short, good in ((0.04, True), (0.06, False)):
            piece = sawn(bar("b", Section("square", tall), 50.0, "S355"), "b", 0.0, 50.0)
            faults = Told()
            _height(piece, Fixed("machine vice"), 2, -tall, -tall / 2 + least - short, faults)
            assert faults.codes == ([] if good else ["route-vice-height"]), (tall, short)
            _height(piece, Fixed("bench vice"), 2, -tall, -tall / 2, faults)
            assert len(faults.codes) == (not good)
