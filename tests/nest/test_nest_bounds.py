"""The bounds of a nest, what is said where pieces find no place, and which nest is the better."""

from __future__ import annotations

from itertools import product
from math import pi
from operator import mul
from random import Random

import pytest
import shapely
from msgspec.structs import replace
from nest_cases import ANGLE, disc, profile, rectangle
from scipy.optimize import linprog

from planner.nest.guillotine import Filled, Spot
from planner.nest.model import Nest
from planner.nest.place import (
    NestError,
    NoSheet,
    Piece,
    Sheet,
    _bounds,
    _rank,
    _Use,
    check_nest,
    nest,
)
from planner.nest.tries import Work


@pytest.fixture(autouse=True)
def few_tries(monkeypatch: pytest.MonkeyPatch) -> None:
    """The bounds and the words hang on the first tries alone."""
    monkeypatch.setattr("planner.nest.tries.WORK", 5_000)


@pytest.mark.parametrize(
    "process, piece, needed",
    [
        # half a gap of 4 all round: 54 x 34 under a saw; under a torch its corners are round, that
        # is area + perimeter 2 + pi 2^2 (Steiner); a disc of 50 becomes one of 54
        ("saw", rectangle(50, 30), 54 * 34),
        ("plasma", rectangle(50, 30), 50 * 30 + 160 * 2 + pi * 2**2),
        ("saw", disc(25), 54 * 54),
        ("plasma", disc(25), pi * 27**2),
    ],
)
def test_the_least_that_so_many_pieces_can_cost(process: str, piece: object, needed: float) -> None:
    # the sheet too has half a gap more all round: 300 x 200 with margins of 10 is 284 x 184 under a
    # torch; a saw loses the margin and at the near edge at least its kerf, here the same
    sheet = Sheet("s", 300.0, 200.0, None, 40.0, 10.0)
    for count in (3, 30):
        found = nest([Piece(piece, count)], [sheet], 4.0, process)  # type: ignore[arg-type]
        sheets = count * needed / (284 * 184)
        assert found.least_cost == pytest.approx(40 * sheets)
        assert found.least_sheets == -int(-sheets // 1)
        assert len(found.sheets) >= found.least_sheets and found.cost >= found.least_cost


def test_the_cheapest_room_counts_first_for_the_cost_and_the_largest_for_the_number() -> None:
    # six of 96 x 46 and a gap of 4 take six times 100 x 50 = 30 000; the remnant of 196 x 96 has room
    # for 200 x 100 = 20 000 at 5, the sheet of 396 x 96 for 40 000 at 20: 5 + 20 / 4, on one sheet
    sheets = [Sheet("full", 396.0, 96.0, None, 20.0), Sheet("remnant", 196.0, 96.0, 1, 5.0)]
    found = nest([Piece(rectangle(96, 46), 6)], sheets, 4.0, "saw")
    assert found.least_cost == pytest.approx(5 + 20 * 10_000 / 40_000)
    assert found.least_sheets == 1
    # all six on the full sheet cost 20, four on the remnant and two on a full one 25
    assert [(s.sheet.name, len(s.placed)) for s in found.sheets] == [("full", 6)]
    dear = [replace(sheets[0], cost=2.0, available=1), replace(sheets[1], available=2)]
    found = nest([Piece(rectangle(96, 46), 6)], dear, 4.0, "saw")
    assert found.cost == 2.0


@pytest.mark.parametrize("gap", [0.0, 4.0])
@pytest.mark.parametrize("margin", [0.0, 1.5, 10.0])
def test_the_least_length_is_what_columns_without_waste_use(margin: float, gap: float) -> None:
    # three columns of four 40 x 30 fill the width but for gaps: no nest of them is shorter, and the
    # bound says so to within what it forgives of rounding (a billionth of the area)
    for process in ("saw", "plasma"):
        near = max(margin, gap) if margin and process == "saw" else margin
        wide = near + 4 * 30 + 3 * gap + margin
        pieces = [Piece(rectangle(40, 30), 12, may_turn=False)]
        sheet = Sheet("s", 400.0, wide, 3, 7.0, margin)
        used = near + 3 * 40 + 2 * gap
        found = nest(pieces, [sheet], gap, process)
        assert found.sheets[0].used_length_mm == pytest.approx(used)
        fewest, cost, shortest = _bounds(Work(pieces, [sheet], gap, process))
        if process == "plasma":  # a torch might round their corners: Steiner's formula, by shapely
            grown = shapely.box(0, 0, 40, 30).buffer(gap / 2, quad_segs=2000).area
            used = near + 12 * grown / (wide - 2 * margin + gap) - gap
        assert shortest == pytest.approx(used, rel=1e-7) and shortest <= used
        room = (400 - near - margin + gap) * (wide - near - margin + gap)
        needed = 12 * (44 * 34 if gap else 1200) if process == "saw" else 12 * grown
        assert (fewest, cost) == (1, pytest.approx(7 * needed / room))
        # two sheets, or another kind that might do, and no length is known
        assert _bounds(Work([Piece(rectangle(40, 30), 50)], [sheet], gap, process))[2] == 0.0
        other = Sheet("t", 90.0, 90.0, None, 5.0)
        assert _bounds(Work(pieces, [sheet, other], gap, process))[2] == 0.0


@pytest.mark.parametrize("seed", range(12))
def test_no_nest_costs_less_than_the_bounds_of_cost_and_number(seed: int) -> None:
    # by brute force: every number of every sheet that has the area, in parts for the cost
    draw = Random(seed)
    gap = draw.choice([0.0, 3.0])
    pieces = [Piece(rectangle(draw.randint(20, 60), draw.randint(20, 60)), draw.randint(2, 9))]
    sheets = [
        Sheet(
            name, draw.randint(150, 400), 200.0, draw.choice([1, 2, None]), draw.choice([0, 3, 8])
        )
        for name in "abc"
    ]
    if all(sheet.available for sheet in sheets):
        sheets[0] = replace(sheets[0], available=None)
    work = Work(pieces, sheets, gap, "saw")
    (length, width, _), count = work.sizes[0], pieces[0].quantity
    needed = count * (length + gap) * (width + gap)
    rooms = [(s.length_mm + gap) * (200 + gap) for s in sheets]
    most = [9 if s.available is None else s.available for s in sheets]
    numbers = product(*(range(m + 1) for m in most))
    fewest = min(sum(n) for n in numbers if sum(map(mul, n, rooms)) >= needed)
    # in parts: a linear programme
    priced = linprog(
        [s.cost for s in sheets],
        A_ub=[[-room for room in rooms]],
        b_ub=[-needed],
        bounds=[(0, m) for m in most],
    )
    said = _bounds(work)
    assert said[0] == fewest and said[1] == pytest.approx(priced.fun, abs=1e-6)


def test_which_of_two_nests_is_better() -> None:
    # cost before number, number before area, area before length used, that before the longest rest;
    # less than a thousandth apart is alike
    work = Work([Piece(rectangle(50, 20))], [Sheet("s", 300.0, 100.0)], 0.0, "saw")

    def nested(
        *ends: float, cost: float = 5.0, wide: float = 100.0, long: float = 300.0
    ) -> list[_Use]:
        sheet = Sheet("s", long, wide, None, cost)
        return [_Use(sheet, Filled((Spot(0, end - 50, 0, 0), Spot(0, 0, 30, 90)))) for end in ends]

    order = [
        nested(250, 250, cost=2.4),
        nested(290, cost=5.0, wide=150),
        nested(60, 70, cost=2.5),  # as dear, on two sheets; used 130 in all, one rest 240 long
        nested(55, 75, cost=2.5, wide=100.001),  # a little more sheet
    ]
    ranks = [_rank(uses, work) for uses in order]
    assert ranks == sorted(ranks) and len(set(ranks)) == len(ranks)
    used = [
        _rank(nested(*ends), work) for ends in ((60, 69), (55, 75), (60, 70), (65, 65), (60, 71))
    ]
    assert used == sorted(used) and len(set(used)) == 5
    # the rest is what is long, not what is used: a longer sheet of the same area leaves more
    rest = [_rank(nested(60, long=a, wide=b), work) for a, b in ((600, 50), (300, 100))]
    assert rest == sorted(rest) and rest[0][:4] == rest[1][:4]
    for hair in (nested(60.0004), nested(60, cost=5.0004), nested(60, long=300.000004)):
        assert _rank(hair, work)[:4] == _rank(nested(60), work)[:4]
    for more in (nested(60.001), nested(60, cost=5.001), nested(60, long=300.00001)):
        assert _rank(more, work)[:4] > _rank(nested(60), work)[:4]
    # turned, the piece is 20 long: 0 to 20
    assert _rank([_Use(Sheet("s", 300.0, 100.0), Filled((Spot(0, 0, 0, 90),)))], work)[3] == 20.0


def test_of_sheets_as_good_the_first_named_is_opened() -> None:
    for names in ("ab", "ba"):
        sheets = [Sheet(name, 100.0, 50.0, None, 3.0) for name in names]
        found = nest([Piece(rectangle(90, 40), 2)], sheets, 2.0, "saw")
        assert [s.sheet.name for s in found.sheets] == [names[0]] * 2


def test_of_nests_that_cost_alike_the_one_on_fewer_then_smaller_sheets() -> None:
    pieces = [Piece(rectangle(90, 40), 4)]
    small, wide = Sheet("small", 190.0, 90.0, None, 0.0), Sheet("wide", 300.0, 200.0, None, 0.0)
    for sheets in ([small, wide], [wide, small]):
        found = nest(pieces, sheets, 5.0, "saw")
        assert [s.sheet.name for s in found.sheets] == ["small"]  # all four go on either
        found = nest([Piece(rectangle(90, 40), 6)], sheets, 5.0, "saw")
        assert [s.sheet.name for s in found.sheets] == ["wide"]  # one sheet, not two small ones
    assert (
        found.sheets[0].used_length_mm + found.sheets[0].remnant_mm == 300 - 5
    )  # and the kerf between


def test_what_finds_no_place_is_told_with_the_sheet_that_would_do() -> None:
    # one of 90 x 40 goes on 100 x 50; two are left, of 3600 each; another such sheet for each
    with pytest.raises(NoSheet) as caught:
        nest([Piece(rectangle(90, 40, "leaf"), 3)], [Sheet("s", 100.0, 50.0, 1)], 2.0, "saw")
    short = caught.value
    assert [tuple(one) for one in short.unplaced] == [("leaf", 2)]
    assert short.missing_mm2 == pytest.approx(7200)
    assert (*short.nearest, short.needed) == ("s", 100.0, 50.0, 2)
    # too long for it: the sheet as much longer as is wanted, its margins kept
    for process, wide in (("saw", 50.0), ("plasma", 50.0)):
        with pytest.raises(NoSheet) as caught:
            piece = replace(rectangle(120, 30, "arm"))
            nest([Piece(piece, 1)], [Sheet("s", 100.0, wide, 1, 0.0, 5.0)], 2.0, process)
        assert (*caught.value.nearest, caught.value.needed) == ("s", 130.0, wide, 1)
    # turned it wants 30 mm of width more, held as it lies 20 mm of length and no width
    for turn, nearest in ((True, ("s", 120.0, 90.0)), (False, ("s", 120.0, 90.0))):
        with pytest.raises(NoSheet) as caught:
            nest([Piece(rectangle(120, 60), 1, turn)], [Sheet("s", 100.0, 90.0, 1)], 2.0, "saw")
        assert caught.value.nearest == nearest


@pytest.mark.parametrize(
    "put, told",
    [
        ({"process": "laser"}, "process is 'laser'; use plasma or saw"),
        ({"gap_mm": -0.1}, "gap is -0.1 mm; it must be 0 or more"),
        ({"gap_mm": float("nan")}, "gap is nan mm; it must be 0 or more"),
        ({"pieces": []}, "no pieces; give at least one"),
        ({"sheets": []}, "no sheets; give at least one"),
        (
            {"pieces": [Piece(rectangle(5, 5), 2001)]},
            "2001 pieces; at most 2000 in one nest: share them out",
        ),
        (
            {"pieces": [Piece(rectangle(5, 5)), Piece(replace(rectangle(5, 6), thickness_mm=8.0))]},
            "pieces of different plates (S355 10 mm, S355 8 mm); nest each plate by itself",
        ),
        (
            {"sheets": [Sheet("s", 99, 99), Sheet("s", 88, 88)]},
            "2 sheets are called 's'; give each kind its own name",
        ),
        (
            {"pieces": [Piece(rectangle(5, 5)), Piece(rectangle(6, 6, "leaf"), 0)]},
            "piece 2, 'leaf': quantity is 0; it must be 1 or more",
        ),
        ({"sheets": [Sheet("s", 99, -1)]}, "sheet 's': width is -1 mm; it must be above 0"),
    ],
)
def test_what_is_asked_wrongly_is_told_whole(put: dict[str, object], told: str) -> None:
    asked = {
        "pieces": [Piece(rectangle(20, 10))],
        "sheets": [Sheet("s", 400.0, 100.0)],
        "gap_mm": 0.0,
        "process": "saw",
    } | put
    with pytest.raises(ValueError) as caught:
        nest(*asked.values())  # type: ignore[arg-type]
    assert told in str(caught.value).split("; ", 0)[0]


def sound() -> tuple[list[Piece], list[Sheet], Nest]:
    pieces, sheets = (
        [Piece(ANGLE, 2), Piece(rectangle(30, 20), 1, False)],
        [Sheet("s", 400.0, 200.0, 1)],
    )
    return pieces, sheets, nest(pieces, sheets, 8.0, "plasma")


@pytest.mark.parametrize(
    "turn, may, fault",
    [
        (0, False, False),
        (90, False, True),
        (180, False, True),
        (270, True, False),
        (45, True, True),
    ],
)
def test_a_piece_is_turned_only_where_it_may_be(turn: int, may: bool, fault: bool) -> None:
    piece = Piece(profile("p", (0.0, 0.0, 0.0), (40.0, 0.0, 0.0), (0.0, 30.0, 0.0)), 1, may)
    sheets = [Sheet("s", 400.0, 200.0, 1)]
    found = nest([piece], sheets, 8.0, "plasma")
    (lying,) = found.sheets
    turned = replace(lying, placed=(replace(lying.placed[0], turn_deg=turn),))
    changed = replace(found, sheets=(turned,))
    if not fault:
        check_nest([piece], sheets, changed)
        return
    with pytest.raises(NestError, match=f"'p' may not be turned {turn} degrees"):
        check_nest([piece], sheets, changed)


def test_pieces_too_close_or_over_the_margin_are_told_by_how_much() -> None:
    pieces, sheets = [Piece(rectangle(40, 30, "a"), 2)], [Sheet("s", 200.0, 100.0, 1, 0.0, 5.0)]
    found = nest(pieces, sheets, 8.0, "plasma")
    (lying,) = found.sheets
    one, other = (replace(p, turn_deg=0) for p in lying.placed)

    def told(x: float, y: float) -> str:
        placed = (replace(one, x_mm=5.0, y_mm=5.0), replace(other, x_mm=x, y_mm=y))
        try:
            check_nest(pieces, sheets, replace(found, sheets=(replace(lying, placed=placed),)))
        except NestError as error:
            return str(error)
        return ""

    # 5 + 40 + 8 = 53 is far enough, and so is 5 + 30 + 8 = 43 above; a micrometre short passes
    for x, y in ((53.0, 5.0), (5.0, 43.0), (52.9995, 5.0), (155.0, 65.0)):
        assert told(x, y) == ""
    assert "'a' (1) and 'a' (2) are 7.5 mm apart; the gap is 8 mm" in told(52.5, 5.0)
    assert "'a' (1) and 'a' (2) are 2 mm apart; the gap is 8 mm" in told(5.0, 37.0)
    assert "'a' (1) and 'a' (2) overlap" in told(44.0, 5.0)
    assert "'a' (1) and 'a' (2) overlap" in told(5.0, 5.0)
    for x, y in ((155.5, 5.0), (5.0, 65.5), (4.5, 50.0), (60.0, 4.5)):
        assert "'a' (2) runs 0.5 mm into the margin or off the sheet" in told(x, y)


def test_each_piece_is_there_once_on_a_sheet_that_is() -> None:
    pieces, sheets, found = sound()
    check_nest(pieces, sheets, found)
    (lying,) = found.sheets
    for changed, told in (
        (replace(lying, placed=lying.placed[1:]), "is there 0 times instead of once"),
        (
            replace(lying, placed=(*lying.placed, lying.placed[0])),
            "is there 2 times instead of once",
        ),
        (
            replace(lying, sheet=replace(lying.sheet, length_mm=401.0)),
            "there is no sheet 's' of this",
        ),
        (
            replace(lying, placed=(replace(lying.placed[0], x_mm=float("nan")), *lying.placed[1:])),
            "no place given for",
        ),
        (
            replace(lying, placed=(*lying.placed, replace(lying.placed[0], piece=9))),
            "piece (9, 1) is not asked for",
        ),
    ):
        with pytest.raises(NestError) as caught:
            check_nest(pieces, sheets, replace(found, sheets=(changed,)))
        assert told in str(caught.value)
    with pytest.raises(NestError, match="2 of sheet 's' drawn and 1 there"):
        check_nest(pieces, sheets, replace(found, sheets=(lying, lying)))
    other = replace(lying.placed[0], profile=rectangle(9, 9, "other"))
    changed = replace(lying, placed=(other, *lying.placed[1:]))
    with pytest.raises(NestError, match="'other' is not the profile asked for"):
        check_nest(pieces, sheets, replace(found, sheets=(changed,)))
