"""Indexing against handbook examples, facts of the trade, and enumeration written out here."""

from decimal import Decimal, localcontext
from fractions import Fraction

import pytest

from parts.standard.index_plates import IndexPlate, plate_sets
from planner.dial.indexing import (
    angle_indexing,
    by_degrees,
    direct_indexing,
    index_on_plates,
    simple_indexing,
    to_dms,
)

# The three-plate 40:1 set, as listed in an article on compound indexing (schsm.org, seen).
PLATE_1, PLATE_2, PLATE_3 = (
    (15, 16, 17, 18, 19, 20),
    (21, 23, 27, 29, 31, 33),
    (37, 39, 41, 43, 47, 49),
)
THREE_PLATES = PLATE_1 + PLATE_2 + PLATE_3
# The two-sided 40:1 plate: US Army ordnance OD 16448, figure 11 (seen).
TWO_SIDED = (24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43) + (
    46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66,
)  # fmt: skip


def movements(found):
    """{(turns, holes, circle)}: the setting and all its alternatives."""
    return {(s.turns, s.holes, s.circle) for s in (found.setting, *found.alternatives)}


# (ratio, divisions, circles to hand, movements of the answer)
DIVISIONS = [
    # US Army ordnance OD 16448, plain indexing (seen): 6 turns + 12 on 18 or 26 on 39.
    (40, 6, (18, 39), {(6, 12, 18), (6, 26, 39)}),
    # The same (seen): 42 divisions, 40 spaces on 42 or 20 on 21.
    (40, 42, (21, 42), {(0, 20, 21), (0, 40, 42)}),
    # Dividing head practice sheet (seen): 15 divisions, 2 turns + 18 on 27 or 24 on 36; the
    # sheet's five circles also hold 30, by exact arithmetic 20.
    (40, 15, (27, 30, 32, 35, 36), {(2, 18, 27), (2, 20, 30), (2, 24, 36)}),
    # Memory (exact arithmetic): 36 divisions, 1 turn + 2 on 18.
    (40, 36, (18,), {(1, 2, 18)}),
    # A letter on indexing by slide rule, learntimeonline.com (seen): 7 divisions, 5 15/21, 5 35/49.
    (40, 7, THREE_PLATES, {(5, 15, 21), (5, 35, 49)}),
    # Dividing head practice sheet, problem and circles seen, answers from memory: 7 1/2 turns on
    # any even circle; 1 4/5, 24 on 30 (32 on 40 too); 2 1/22, 1 on 22.
    (90, 12, (22, 24, 26, 28, 30), {(7, c // 2, c) for c in (22, 24, 26, 28, 30)}),
    (90, 50, (30, 33, 36, 38, 40), {(1, 24, 30), (1, 32, 40)}),
    (90, 44, (22, 24, 26, 28, 30), {(2, 1, 22)}),
]


@pytest.mark.parametrize(("ratio", "divisions", "circles", "answer"), DIVISIONS)
def test_published_divisions(ratio, divisions, circles, answer):
    found = simple_indexing(divisions, ratio, circles)
    assert found.exact
    assert movements(found) == answer
    assert found.error_deg == found.closing_error_deg == 0


# (ratio, angle, circles to hand, movements of the answer)
ANGLES = [
    # Machinery's Handbook 1916, indexing for angles (seen): 1 deg is 2 on 18 or 3 on 27; 35 deg
    # is 3 turns + 16 on 18; 11 1/2 deg is 1 turn + 5 on 18; 20 minutes is 1 on 27.
    (40, Fraction(1), (18, 27), {(0, 2, 18), (0, 3, 27)}),
    (40, 35, (18,), {(3, 16, 18)}),
    (40, (11, 30, 0), (18,), {(1, 5, 18)}),
    (40, (0, 20, 0), (27,), {(0, 1, 27)}),
    # Fox Valley Technical College, angular indexing (seen): 45 deg is 5 turns; 19 deg is 2 turns
    # + 6 on 54; 8 deg 50 min is 530/540 = 53/54 turn.
    (40, Fraction(45), (54,), {(5, 0, 54)}),
    (40, 19, (54,), {(2, 6, 54)}),
    (40, (8, 50, 0), (54,), {(0, 53, 54)}),
    # Dividing head practice sheet (seen): 15 deg is 1 turn + 18 on 27 or 24 on 36.
    (40, 15, (27, 36), {(1, 18, 27), (1, 24, 36)}),
    # US Army ordnance OD 16448 (seen): 54 minutes is 2 holes on 20.
    (40, (0, 54, 0), (20,), {(0, 2, 20)}),
]


@pytest.mark.parametrize(("ratio", "angle", "circles", "answer"), ANGLES)
def test_published_angles(ratio, angle, circles, answer):
    found = angle_indexing(angle, ratio, circles)
    assert found.exact
    assert movements(found) == answer


# Machinery's Handbook 27th ed. p. 1995, angular indexing (seen): part of a turn, then all the
# simple movements the table gives for the three-plate set and for the two-sided plate.
# A blank column is a compound movement or none, so no circle of that set gives it.
HANDBOOK_TURNS = [
    (0.1915, ["9/47"], ["9/47"]),
    (0.1935, ["6/31"], ["12/62"]),
    (0.1951, ["8/41"], ["8/41"]),
    (0.1957, [], ["9/46"]),
    (0.2000, ["3/15", "4/20"], ["5/25", "6/30"]),
    (0.2034, [], ["12/59"]),
    (0.2037, [], ["11/54"]),
    (0.2041, ["10/49"], ["10/49"]),
    (0.2051, ["8/39"], ["8/39"]),
    (0.2222, ["4/18", "6/27"], ["12/54"]),
    (0.2245, ["11/49"], ["11/49"]),
    (0.2258, ["7/31"], ["14/62"]),
    (0.2308, ["9/39"], ["9/39"]),
    (0.2326, ["10/43"], ["10/43"]),
    (0.2333, [], ["7/30"]),
    (0.2353, ["4/17"], ["8/34", "12/51"]),
]


@pytest.mark.parametrize(("turn", "three_plates", "two_sided"), HANDBOOK_TURNS)
def test_handbook_parts_of_a_turn(turn, three_plates, two_sided):
    exact = Fraction((three_plates or two_sided)[0])
    assert round(float(exact), 4) == turn
    for circles, answer in ((THREE_PLATES, three_plates), (TWO_SIDED, two_sided)):
        found = angle_indexing(exact * 9, 40, circles)
        assert found.exact == bool(answer)
        if answer:
            assert {f"{holes}/{circle}" for _, holes, circle in movements(found)} == set(answer)


def test_nearest_hole_as_the_army_takes_it():
    # US Army ordnance OD 16448 (seen): 24 minutes is one hole on a circle of 22.5; "a 23-hole
    # circle would be used".
    found = angle_indexing((0, 24, 0), 40, THREE_PLATES)
    assert not found.exact
    assert (found.setting.holes, found.setting.circle) == (1, 23)
    # One hole on 23 is 540/23 = 23.478 minutes: 0.522 minutes, or 31.3 seconds, short.
    assert found.error_arcsec == pytest.approx(-31.3, abs=0.05)
    assert found.moves == 900
    assert found.closing_error_deg == 900 * (Fraction(9, 23) - Fraction(24, 60))


def test_what_the_sets_are_known_to_do():
    # Common practice: the three plates give every number to 50 and 51 is the first to need
    # differential gearing; 96 needs it too.
    missed = [n for n in range(2, 101) if not simple_indexing(n, 40, THREE_PLATES).exact]
    assert missed[0] == 51
    assert {53, 57, 59, 61, 63, 96, 97, 99} < set(missed)
    # Common practice: the two-sided plate gives all numbers to 60, and all even numbers and
    # those divisible by 5 to 120.
    missed = [n for n in range(2, 121) if not simple_indexing(n, 40, TWO_SIDED).exact]
    assert missed[0] == 61
    assert all(n % 2 and n % 5 for n in missed)
    # Article on compound indexing, schsm.org (seen): 127 cannot be had by plain indexing.
    assert not simple_indexing(127, 40, THREE_PLATES).exact
    # A machinist's question, industryarena.com (seen): nor 106, on the three plates.
    assert not simple_indexing(106, 40, THREE_PLATES).exact


def by_counting(divisions, ratio, circles):
    """Settings whose closing error is least, by stepping every hole of every circle.

    `divisions` moves of `spaces` on a circle should make ratio x circle holes in all; the miss,
    as a part of a crank turn, is (that - ratio x circle) / circle. Whole numbers throughout.
    """
    best, settings = None, set()
    for circle in circles:
        for spaces in range(1, 2 * ratio * circle // divisions + 2):
            miss = abs(divisions * spaces - ratio * circle)
            # miss / circle against best[0] / best[1], multiplied out.
            order = 1 if best is None else best[0] * circle - miss * best[1]
            if order > 0:
                best, settings = (miss, circle), set()
            if order >= 0:
                settings.add((spaces // circle, spaces % circle, circle))
    return Fraction(*best), settings


@pytest.mark.parametrize(
    ("ratio", "circles"),
    [(40, THREE_PLATES), (40, TWO_SIDED), (90, THREE_PLATES), (60, PLATE_2), (5, (8,))],
)
def test_all_divisions_by_counting_holes(ratio, circles):
    for divisions in range(2, 101):
        found = simple_indexing(divisions, ratio, circles)
        miss, settings = by_counting(divisions, ratio, circles)
        assert found.exact == (miss == 0)
        assert movements(found) <= settings
        if found.exact:
            assert movements(found) == settings
        assert abs(found.closing_error_deg) == miss * 360 / ratio
        assert found.closing_error_deg == divisions * found.error_deg
        assert found.closing_error_arcsec == pytest.approx(float(found.closing_error_deg) * 3600)
        # Walking round: every move of the setting, and what is left over to a full turn.
        turns = found.setting.turns + Fraction(found.setting.holes, found.setting.circle)
        assert divisions * turns * 360 / ratio - 360 == found.closing_error_deg
        # The largest circle leads, and no circle is named twice.
        others = [setting.circle for setting in found.alternatives]
        assert [found.setting.circle, *others] == sorted({found.setting.circle, *others})[::-1]


def test_divisions_are_angles():
    for divisions in range(2, 101):
        angle = Fraction(360, divisions)
        assert angle_indexing(angle, 40, TWO_SIDED) == simple_indexing(divisions, 40, TWO_SIDED)


def test_sector_arms_hold_one_hole_more_than_the_spaces_moved():
    # Common practice: the hole the pin is in is not counted as moved, so 12 spaces show 13 holes.
    assert simple_indexing(6, 40, (18,)).setting.sector_holes == 13
    # Whole turns come back to the same hole: the arms have nothing to measure.
    assert simple_indexing(8, 40, (18,)).setting.sector_holes == 0


def test_nearest_is_never_to_stand_still():
    # 1/200 turn on a 15 circle: no hole at all would be nearer than one, and divide nothing.
    found = simple_indexing(1000, 5, (15,))
    assert (found.setting.turns, found.setting.holes) == (0, 1)
    assert found.closing_error_deg == 1000 * Fraction(72, 15) - 360


def test_of_two_equally_near_the_larger_circle():
    # 7/24 turn: one hole on 3 is 1/24 turn over, one hole on 4 is 1/24 turn under.
    found = simple_indexing(24, 7, (3, 4))
    assert movements(found) == {(0, 1, 4)}
    assert found.closing_error_deg == -24 * Fraction(1, 24) * 360 / 7


def test_angle_that_does_not_close():
    # 7 deg goes 51 whole times into 360; 7/9 turn is 14 on 18, exact.
    found = angle_indexing(7, 40, (18,))
    assert (found.moves, found.exact) == (51, True)
    assert angle_indexing(200, 40, (18,)).moves == 1


def test_plates_exact_first_then_by_closing_error():
    plates = [
        IndexPlate("three plates", 40, "1", PLATE_1),
        IndexPlate("three plates", 40, "2", PLATE_2),
        IndexPlate("three plates", 40, "3", PLATE_3),
    ]
    # 7 divisions want a circle of sevens: 21 on the second plate, 49 on the third (above).
    rows = index_on_plates(7, plates)
    assert [row.plate for row in rows] == ["2", "3", "1"]
    assert [row.indexing.exact for row in rows] == [True, True, False]
    errors = [abs(row.indexing.closing_error_deg) for row in index_on_plates(127, plates)]
    assert errors == sorted(errors)
    assert errors[0] > 0


def test_a_dial_of_125_lines_wants_the_two_sided_plate():
    # 40/125 is 8/25: the two-sided plate has a 25 circle, the three 40:1 plates have none (lists
    # of circles above); at 90:1, 18/25 wants one too.
    plates = [plate for plates in plate_sets().values() for plate in plates]
    exact = [row for row in index_on_plates(125, plates) if row.indexing.exact]
    assert {(row.set_name, row.plate) for row in exact} == {("two-sided plate set 40:1", "side 1")}
    assert movements(exact[0].indexing) == {(0, 8, 25)}


# A direct plate of 24 holes steps 15 deg a hole (Fox Valley Technical College, seen); only
# numbers that go evenly into 24, 30 and 36 can be had from those plates (a text on direct
# indexing, racelife.me, seen). Steps from memory.
@pytest.mark.parametrize(
    ("divisions", "step", "that_do"),
    [
        (2, 12, (24, 30, 36, 60)),
        (3, 8, (24, 30, 36, 60)),
        (4, 6, (24, 36, 60)),
        (5, None, (30, 60)),
        (6, 4, (24, 30, 36, 60)),
        (8, 3, (24,)),
        (9, None, (36,)),
        (10, None, (30, 60)),
        (12, 2, (24, 36, 60)),
        (24, 1, (24,)),
        (7, None, ()),
        (48, None, ()),
    ],
)
def test_direct_plates(divisions, step, that_do):
    found = direct_indexing(divisions)
    assert (found.step_holes, found.circles_that_do) == (step, that_do)


def test_direct_plate_of_ones_own():
    assert direct_indexing(40, 40).step_holes == 1
    assert direct_indexing(40, 40).circles_that_do == (40,)
    assert direct_indexing(50, 60, (100,)).circles_that_do == (100,)


def test_rotary_table_of_seven():
    # Heptagon angles as printed in bolt-circle tables (from memory): 51 25 43, 102 51 26, ...
    table = by_degrees(7)
    assert [str(line) for line in table.lines[:4]] == [
        "0° 00′ 00″",
        "51° 25′ 43″",
        "102° 51′ 26″",
        "154° 17′ 09″",
    ]
    # Stepping on by the rounded step would close 1 second over: the cumulative angles do not.
    assert 7 * (51 * 3600 + 25 * 60 + 43) == 360 * 3600 + 1


def test_rotary_table_lines_against_decimal_arithmetic():
    for divisions in range(2, 201):
        table = by_degrees(divisions)
        assert len(table.lines) == divisions
        assert table.lines[0].angle_deg == 0
        assert table.step == table.lines[1]
        with localcontext() as context:
            context.prec = 50
            for number, line in enumerate(table.lines):
                exact = Decimal(360 * 3600) * number / divisions
                stated = line.degrees * 3600 + line.minutes * 60 + line.seconds
                assert abs(exact - stated) <= Decimal("0.5") + Decimal("1e-40")
                assert float(exact - stated) == pytest.approx(float(line.residue_arcsec), abs=1e-9)
                assert line.minutes < 60
                assert line.seconds < 60
        steps = [
            after.angle_deg - before.angle_deg
            for before, after in zip(table.lines, table.lines[1:], strict=False)
        ]
        assert sum(steps) + 360 - table.lines[-1].angle_deg == 360
        assert set(steps) == {Fraction(360, divisions)}


def test_seconds_carry():
    # 59.6 seconds is a minute to the nearest second, and 59 min 59.6 s a degree.
    just_under = to_dms(1 - Fraction(4, 36000))
    assert (just_under.degrees, just_under.minutes, just_under.seconds) == (1, 0, 0)
    assert just_under.residue_arcsec == Fraction(-4, 10)


@pytest.mark.parametrize("divisions", [1, 0, -4, 1001, 7.0, 7.5, float("nan"), "7", None, True])
def test_bad_divisions(divisions):
    for call in (
        lambda: simple_indexing(divisions, 40, THREE_PLATES),
        lambda: direct_indexing(divisions),
        lambda: by_degrees(divisions),
        lambda: index_on_plates(divisions, [IndexPlate("set", 40, "1", PLATE_1)]),
    ):
        with pytest.raises(ValueError, match="whole number from 2 to 1000. Give") as caught:
            call()
        assert repr(divisions) in str(caught.value)


@pytest.mark.parametrize("ratio", [0, -40, 40.0, float("nan"), "40", True])
def test_bad_ratio(ratio):
    with pytest.raises(ValueError, match="1 or more. Give the crank turns"):
        simple_indexing(6, ratio, THREE_PLATES)


@pytest.mark.parametrize("circles", [(), (0,), (18, -20), (18.0,), (float("nan"),), (True,)])
def test_bad_circles(circles):
    with pytest.raises(ValueError, match="hole circles .* Give at least one circle"):
        simple_indexing(6, 40, circles)


def test_bad_direct_circle():
    with pytest.raises(ValueError, match="hole circles"):
        direct_indexing(6, 0)


@pytest.mark.parametrize(
    ("angle", "words"),
    [
        (11.5, "must be exact"),
        (float("nan"), "must be exact"),
        ("11", "must be exact"),
        (True, "must be exact"),
        (0, "over 0 up to 360"),
        (Fraction(-1, 2), "over 0 up to 360"),
        (361, "over 0 up to 360"),
        ((360, 0, 1), "over 0 up to 360"),
        ((1, 2), "three numbers"),
        ((1, 2.5, 0), "three numbers"),
        ((1, 2, 0.5), "three numbers"),
        ((1, 60, 0), "0 to under 60"),
        ((1, 0, 60), "0 to under 60"),
        ((-1, 0, 0), "degrees must be 0 or more"),
    ],
)
def test_bad_angles(angle, words):
    with pytest.raises(ValueError, match=words) as caught:
        angle_indexing(angle, 40, THREE_PLATES)
    assert str(caught.value).startswith("angle ")


def test_negative_angle_has_no_setting():
    with pytest.raises(ValueError, match="the least is 0"):
        to_dms(Fraction(-1))
