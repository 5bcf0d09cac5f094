"""What a nest is made from, worked out by hand: how sheets are divided, ranked, trimmed and begun."""

from __future__ import annotations

from itertools import combinations
from math import acos, inf, nan, pi, sqrt
from random import Random

import pytest
import shapely
from msgspec.structs import replace
from nest_cases import profile, rectangle

from planner.geometry.curves import Outline
from planner.nest.check import _sawn
from planner.nest.dxf import write_piece
from planner.nest.guillotine import CHOICES, SPLITS, Panel, Saw, room, saw_sheet
from planner.nest.guillotine import Sawing as Way
from planner.nest.model import Cut, NestSheet, NoRoom, NoSheet, Piece, Placed, Sheet
from planner.nest.nofit import RANKS, Shapes, _left_over, box_sheet, fit_sheet
from planner.nest.offset import offset
from planner.nest.outlines import area_mm2
from planner.nest.place import nest
from planner.nest.tries import Work

PANEL = Panel(0, 2.0, 3.0, 10.0, 8.0)


@pytest.mark.parametrize(
    "piece, longer, larger, shorter",
    [
        ((4, 5), True, True, False),  # rests 6 and 3: 48 and 12, or 30 and 30
        ((7, 2), False, False, True),  # rests 3 and 6: 24 and 42, or 60 and 6
        ((6, 4), False, False, True),  # rests 4 and 4: 32 and 24, or 40 and 16
        ((4, 2), False, False, True),  # rests 6 and 6: 48 and 24, or 60 and 12
        ((5, 4), True, False, False),  # rests 5 and 4: 40 and 20 either way
        ((2, 7), True, True, False),  # rests 8 and 1: 64 and 2, or 10 and 56
        ((2, 3), True, True, False),  # rests 8 and 5: 64 and 10, or 50 and 24
    ],
)
def test_the_ways_to_divide_what_is_left_beside_a_piece(
    piece: tuple[float, float], longer: bool, larger: bool, shorter: bool
) -> None:
    # the guillotine's split rules, of a panel 10 x 8: across the longer leftover, so that the larger
    # rest is largest, always, across the shorter leftover, never (the split rules of the papers on
    # packing bins by guillotine cuts, from memory)
    said = [bool(split(PANEL, *piece)) for split in SPLITS]
    assert said == [longer, larger, True, shorter, False]


@pytest.mark.parametrize(
    "piece, scores",
    [
        # rests 6 and 3 of a panel at 2, 3; the near corner's far side 6 from the sheet's left;
        # 80 - 20 left over; 3 above it
        ((4, 5), [(3, 6), (6, 3), (60, 3), (3, 2)]),
        ((9, 2), [(1, 6), (11, 3), (62, 1), (6, 2)]),
    ],
)
def test_how_good_a_panel_is_for_a_piece(
    piece: tuple[float, float], scores: list[tuple[float, float]]
) -> None:
    # best short side, farthest left, best area and lowest rest (the same papers, from memory)
    assert [choice(PANEL, *piece) for choice in CHOICES] == scores


def test_how_good_a_place_is_for_a_piece() -> None:
    # a piece 20 x 8 at 4, 6: its far corner; its place; the same the other way; mostly its far side
    found = [tuple(float(one) for one in rank(4.0, 6.0, 20.0, 8.0)) for rank in RANKS]
    assert found == [(24, 14), (4, 6), (6, 4), (2 * 4 + 20 + 14 / 4, 6)]


@pytest.mark.parametrize(
    "margin, kerf, lost",
    [(0.0, 3.0, 0.0), (0.5, 0.0, 1.0), (0.5, 3.0, 3.5), (2.0, 3.0, 5.0), (5.0, 3.0, 10.0)],
)
def test_trimming_takes_the_margins_and_at_least_a_kerf_at_the_near_edge(
    margin: float, kerf: float, lost: float
) -> None:
    # a saw cannot take off less than its blade; where the far edge falls off no matter how thin
    sheet = Sheet("s", 1000.0, 500.0, None, 0.0, margin)
    assert room(sheet, kerf) == (1000 - lost, 500 - lost)
    panel = Saw(kerf).trimmed(sheet)
    low = max(margin, kerf) if margin else 0.0
    assert (panel.x, panel.y, panel.w, panel.h) == (low, low, 1000 - lost, 500 - lost)
    for size, found in ((1000 - lost, 1), (1000 - lost + 0.01, 0)):
        way = Way(CHOICES[0], SPLITS[0])
        filled = saw_sheet(sheet, [0], [(size, 500 - lost, (0,))], kerf, way)
        assert len(filled.spots) == found


def test_nothing_to_place_is_no_work() -> None:
    sheet, boxes = Sheet("s", 100.0, 50.0), [(20.0, 10.0, (0, 90))]
    outline = rectangle(20, 10).outline
    shapes = Shapes([outline], 0.0, [(0, 90)])
    for filled in (
        box_sheet(sheet, [], boxes, 0.0, RANKS[0]),
        fit_sheet(sheet, [], shapes, RANKS[0]),
        saw_sheet(sheet, [], boxes, 0.0, Way(CHOICES[0], SPLITS[0])),
    ):
        assert (filled.spots, filled.cuts, filled.work) == ((), (), 0)


def test_the_first_box_goes_into_the_corner_and_the_next_beside_it() -> None:
    # 100 x 50 with a margin of 5 and a gap of 2: 40 x 40 at 5, 5, then at 5 + 40 + 2; no third
    sheet, sizes = Sheet("s", 100.0, 50.0, None, 0.0, 5.0), [(40.0, 40.0, (0,))]
    for rank in RANKS:
        filled = box_sheet(sheet, [0, 0, 0], sizes, 2.0, rank)
        assert [(s.x_mm, s.y_mm, s.turn_deg) for s in filled.spots] == [(5, 5, 0), (47, 5, 0)]
    wide = box_sheet(sheet, [0, 0], [(48.0, 30.0, (0, 90))], 2.0, RANKS[0])
    # upright it would stick out of a sheet 40 wide inside its margins
    assert [(s.x_mm, s.turn_deg) for s in wide.spots] == [(5, 0)]


def test_the_largest_empty_rectangles_are_kept_and_no_others() -> None:
    # on a sheet of 6 x 5 squares, against every rectangle of whole squares that nothing lies in
    chance = Random(4)
    for _ in range(40):
        free, taken = [(0.0, 0.0, 6.0, 5.0)], set()
        for _ in range(4):
            x, y = chance.randrange(5), chance.randrange(4)
            w, h = chance.randint(1, 6 - x), chance.randint(1, 5 - y)
            free = _left_over(free, (x, y, x + w, y + h))
            taken |= {(a, b) for a in range(x, x + w) for b in range(y, y + h)}
        empty = {
            (a, b, c, d)
            for a, c in combinations(range(7), 2)
            for b, d in combinations(range(6), 2)
            if not taken & {(i, j) for i in range(a, c) for j in range(b, d)}
        }
        largest = {
            one
            for one in empty
            if not any(
                one != o and o[0] <= one[0] and o[1] <= one[1] and o[2] >= one[2] and o[3] >= one[3]
                for o in empty
            )
        }
        assert {tuple(map(int, box)) for box in free} == largest and len(free) == len(largest)


def test_the_largest_go_first_by_each_measure() -> None:
    # 100 x 5 is longest, 30 x 25 largest in area, 26 x 26 widest; 100 x 5 has the most girth
    pieces = [Piece(rectangle(*size), 2) for size in ((26, 26), (30, 25), (100, 5))]
    work = Work(pieces, [Sheet("s", 200, 100)], 2.0, "saw")
    assert work.orders() == [
        [1, 1, 0, 0, 2, 2],
        [2, 2, 1, 1, 0, 0],
        [0, 0, 1, 1, 2, 2],
        [2, 2, 1, 1, 0, 0],
    ]


def leads(tmp_path, outline: Outline, lead_mm: float):  # type: ignore[no-untyped-def]
    """The lead-in to an outline by itself, as ezdxf reads it: where it starts and ends."""
    import ezdxf

    piece = profile("piece", *outline.vertices)
    write_piece(tmp_path / "piece.dxf", piece, lead_in_mm=lead_mm)
    (line,) = ezdxf.readfile(tmp_path / "piece.dxf").modelspace().query("LINE")
    return tuple(line.dxf.start)[:2], tuple(line.dxf.end)[:2]


@pytest.mark.parametrize(
    "x, y, first", [(0.0, 0.0, 0), (9000.0, 0.0, 0), (0.0, 9000.0, 1), (9000.0, 40.0, 0)]
)
def test_a_lead_in_is_the_same_wherever_the_piece_lies(  # type: ignore[no-untyped-def]
    tmp_path, x: float, y: float, first: int
) -> None:
    # a kite on its corner: the torch comes from 0, 0 to the corner nearest to it and pierces 3 mm
    # outside, halfway between the sides of that corner carried on
    corners = [complex(0, 50), complex(50, 0), complex(100, 60), complex(30, 100)]
    outline = Outline(tuple((x + c.real, y + c.imag, 0.0) for c in corners))
    start, end = leads(tmp_path, outline, 3.0)
    at, one, other = corners[first], corners[first - 1], corners[first + 1]
    between = (one - at) / abs(one - at) + (other - at) / abs(other - at)
    pierce = at - 3 * between / abs(between)
    assert end == pytest.approx((x + at.real, y + at.imag), abs=1e-6)
    assert start == pytest.approx((x + pierce.real, y + pierce.imag), abs=1e-5)


@pytest.mark.parametrize(
    "put, told",
    [
        ({"length_mm": 0.0}, "length is 0.0 mm; it must be above 0"),
        ({"width_mm": nan}, "width is nan mm; it must be above 0"),
        ({"length_mm": inf}, "length is inf mm; it must be above 0"),
        ({"margin_mm": -0.1}, "margin is -0.1 mm; it must be 0 to under half the length, 400"),
        ({"margin_mm": 50.0}, "margin is 50.0 mm; it must be 0 to under half the width, 100"),
        ({"cost": -1.0}, "cost is -1.0; it must be 0 or more"),
        ({"available": -1}, "-1 available; it must be 0 or more, or None for no limit"),
    ],
)
def test_a_sheet_that_is_none_is_refused_with_what_is_wrong(
    put: dict[str, float], told: str
) -> None:
    given = {"name": "s", "length_mm": 400.0, "width_mm": 100.0} | put
    with pytest.raises(ValueError, match="sheet") as caught:
        nest([Piece(rectangle(20, 10))], [Sheet(**given)], 0.0, "saw")  # type: ignore[arg-type]
    assert told in str(caught.value)


@pytest.mark.parametrize("put", [{"margin_mm": 44.9}, {"cost": 0.0}, {"available": 1}])
def test_a_sheet_just_within_its_bounds_is_taken(put: dict[str, float]) -> None:
    given = {"name": "s", "length_mm": 400.0, "width_mm": 100.0} | put
    found = nest([Piece(rectangle(20, 10))], [Sheet(**given)], 0.0, "saw")  # type: ignore[arg-type]
    assert len(found.sheets) == 1


def test_an_outline_that_is_none_is_refused_with_what_is_wrong() -> None:
    sheet = Sheet("s", 400, 100)
    bow = ((0.0, 0.0, 0.0), (10.0, 10.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0))
    assert not shapely.Polygon([(x, y) for x, y, _ in bow]).is_valid
    for vertices, told in (
        (((0.0, 0.0, nan), (9.0, 0.0, 1.0)), "its outline has a coordinate that is no number"),
        (((0.0, 0.0, 0.0), (9.0, 0.0, 0.0)), "its outline encloses no area"),
        (((0.0, 0.0, 1.0),), "its outline encloses no area"),
        (
            ((0.0, 0.0, 0.0), (9.0, 0.0, 0.0), (9.0, 0.0, 0.0), (0.0, 9.0, 0.0)),
            "its outline has the same corner twice in a row",
        ),
        ((*bow[:2], bow[2], (0.0, 12.0, 0.0)), "its outline crosses itself near (0, 0)"),
    ):
        with pytest.raises(ValueError) as caught:
            nest([Piece(profile("p", *vertices))], [sheet], 0.0, "saw")
        assert told in str(caught.value)
    with pytest.raises(ValueError, match="quantity is 0; it must be 1 or more"):
        nest([Piece(rectangle(20, 10), 0)], [sheet], 0.0, "saw")


def test_what_is_left_over_is_what_the_better_order_of_sheets_leaves() -> None:
    # the cheap sheet first takes one square of 90, the dear one the other and both strips beside it;
    # the dear one first would take both squares and leave the strips, 95 long, no sheet of 90: of the
    # two ways the bar of 500, which goes on neither, is told alone
    pieces = [
        Piece(rectangle(90, 90, "square"), 2),
        Piece(rectangle(95, 45, "strip"), 2),
        Piece(rectangle(500, 10, "bar")),
    ]
    sheets = [Sheet("small", 90.0, 90.0, 1, 1.0), Sheet("large", 200.0, 100.0, 1, 10.0)]
    with pytest.raises(NoSheet) as caught:
        nest(pieces, sheets, 0.0, "plasma")
    assert caught.value.unplaced == (("bar", 1),) and caught.value.missing_mm2 == 5000.0
    # 410 longer, or the large one 300 longer: 300 x 100 is less than 410 x 90
    assert caught.value.nearest == ("large", 500.0, 100.0)
    assert str(caught.value) == (
        "no sheet has room for 1 of 'bar': 5000 mm2 of piece is left over."
        " Add 1 of 500 x 100 mm (nearest: 'large')"
    )


def test_the_ways_to_turn_a_piece_that_differ_wherever_it_lies() -> None:
    # a rectangle has two, a square one, an L all four; drawn anywhere
    ell = ((0, 0, 0), (30, 0, 0), (30, 10, 0), (10, 10, 0), (10, 20, 0), (0, 20, 0))
    box = ((0, 0, 0), (20, 0, 0), (20, 10, 0), (0, 10, 0))
    for shape, turns in (
        (box, [0, 90]),
        (((0, 0, 0), (20, 0, 0), (20, 20, 0), (0, 20, 0)), [0]),
        (ell, [0, 90, 180, 270]),
    ):
        for dx, dy in ((0, 0), (3, 7), (-40, 11)):
            outline = Outline(tuple((x + dx, y + dy, bulge) for x, y, bulge in shape))
            ways = Shapes([outline], 0.0, [(0, 90, 180, 270)]).ways(0)
            assert [way.turn_deg for way in ways] == turns


@pytest.mark.parametrize("by", [-1.0, -2.5, -4.0])
def test_inside_a_half_disc_the_line_ends_where_line_and_arc_meet_first(by: float) -> None:
    # of radius 10 over its diameter: at 1 inside, y = 1 and radius 9 meet at +-root(80); a circle's
    # segment has r^2 acos(d / r) - d root(r^2 - d^2)
    half = Outline(((-10.0, 0.0, 0.0), (10.0, 0.0, 1.0)))
    line = offset(half, by)
    d, r = -by, 10.0 + by
    assert area_mm2(line) == pytest.approx(r**2 * acos(d / r) - d * sqrt(r**2 - d**2))
    ends = sorted((round(x, 6), round(y, 6)) for x, y, _ in line.vertices)
    reach = sqrt(r**2 - d**2)
    assert ends == [(pytest.approx(-reach), pytest.approx(d)), (pytest.approx(reach), d)]


def test_round_a_bite_the_line_goes_round_its_two_corners() -> None:
    # 40 x 20 with a half round bite of radius 5 in its top; 1 outside: straight sides, six corners
    # turned round, the bite 4 wide: (40 x 20 - pi 25 / 2) + girth + corners, less what the bite closes
    bite = Outline(
        ((-20, 0, 0), (20, 0, 0), (20, 20, 0), (5, 20, -1.0), (-5, 20, 0), (-20, 20, 0))
    )  # fmt: skip
    line = offset(bite, 1.0)
    girth = 40 + 20 + 20 + 15 + 15 + pi * 5
    # six outer corners of a right angle are a round and a half; the arc shrinks: - pi / 2
    assert area_mm2(line) == pytest.approx(800 - pi * 12.5 + girth + 6 * pi / 4 - pi / 2)
    with pytest.raises(
        NoRoom, match="too narrow to go round at 5 mm; use a narrower kerf or a larger"
    ):
        offset(bite, 5.0)


# ---- the saw's cuts gone over again: a panel of 100 x 50, a kerf of 2 ----


def sawn(*cuts: Cut) -> list[str]:
    sheet = NestSheet(Sheet("s", 100.0, 50.0), (), cuts, 2.0, "saw")
    return list(_sawn(sheet, ()))


FIRST = Cut(1, 0, "width", 30.0, 50.0, 1, 2)  # 30 on the near side, 68 beyond the kerf
SECOND = Cut(2, 2, "length", 20.0, 68.0, 3, 4)  # of those 20 and 28


def test_cuts_that_are_right() -> None:
    assert sawn(FIRST, SECOND) == []
    # at the far edge nothing is left over, nor at the near one
    assert sawn(replace(FIRST, position_mm=98.0, near=1, far=None)) == []
    assert sawn(replace(FIRST, position_mm=0.0, near=None, far=1)) == []


@pytest.mark.parametrize(
    ("cuts", "sentence"),
    [
        (
            (replace(FIRST, number=2),),
            "cut 2 is out of order, or its panel 0 is not there to cut",
        ),
        (
            (FIRST, replace(SECOND, panel=7)),
            "cut 2 is out of order, or its panel 7 is not there to cut",
        ),
        ((replace(FIRST, along="across"),), "cut 1 at 30 mm misses its panel of 50 mm"),
        ((replace(FIRST, position_mm=100.0),), "cut 1 at 100 mm misses its panel of 100 mm"),
        ((replace(FIRST, position_mm=-1.0),), "cut 1 at -1 mm misses its panel of 100 mm"),
        ((FIRST, replace(SECOND, position_mm=50.0)), "cut 2 at 50 mm misses its panel of 50 mm"),
        ((replace(FIRST, length_mm=49.0),), "cut 1 is 49 mm long on a panel of 50 mm"),
        ((FIRST, replace(SECOND, length_mm=70.0)), "cut 2 is 70 mm long on a panel of 68 mm"),
        ((replace(FIRST, far=None),), "cut 1 does not make the panel None it says"),
        ((replace(FIRST, near=0),), "cut 1 does not make the panel 0 it says"),
        (
            (replace(FIRST, position_mm=98.5),),
            "cut 1 does not make the panel 2 it says",
        ),
    ],
)
def test_cuts_that_are_wrong(cuts: tuple[Cut, ...], sentence: str) -> None:
    assert sawn(*cuts) == [sentence]


def test_a_piece_that_is_not_its_panel() -> None:
    piece = rectangle(30, 50, "rail")
    box = (0.0, 0.0, 30.0, 50.0)
    right = Placed(0, 1, piece, 0.0, 0.0, 0, 1)
    for placed, at, said in (
        (right, box, []),
        (
            replace(right, panel=2),
            box,
            [
                "'rail' (1): the cuts leave (32.0, 0.0, 100.0, 50.0),"
                " the piece is (0.0, 0.0, 30.0, 50.0)"
            ],
        ),
        (
            replace(right, panel=None),
            box,
            ["'rail' (1): panel None is cut up, is another piece, or was never made"],
        ),
        (
            replace(right, panel=0),
            box,
            ["'rail' (1): panel 0 is cut up, is another piece, or was never made"],
        ),
    ):
        sheet = NestSheet(Sheet("s", 100.0, 50.0), (placed,), (FIRST,), 2.0, "saw")
        assert list(_sawn(sheet, (at,))) == said


def test_which_pieces_are_their_own_rectangles() -> None:
    corner = profile("corner", (0, 0, 0), (20, 0, 0), (20, 10, 0), (10, 20, 0), (0, 20, 0))
    for outlines, boxed in (
        ([rectangle(20, 10)], True),
        ([rectangle(20, 10), rectangle(5, 5)], True),
        ([corner], False),
        ([rectangle(20, 10), corner], False),
    ):
        work = Work([Piece(one) for one in outlines], [Sheet("s", 100.0, 50.0)], 0.0, "plasma")
        assert work.boxed() is boxed and work.by_outline() is not boxed
