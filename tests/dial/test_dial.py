"""The dial against facts of the trade, published practice, and arithmetic written out here."""

import math
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from msgspec.structs import replace

from planner.dial.design import design_dial, engraving_table, exact_mm
from planner.dial.reading import legibility, reading_in_other_unit

INCH = Fraction(254, 10)  # 1 in = 25.4 mm exactly: international yard and pound, 1959 (memory)


@pytest.mark.parametrize(
    ("pitch", "divisions", "advance", "unit"),
    [
        # Common practice: 1 mm pitch with ten divisions is 0.1 mm a division.
        (1.0, 10, Fraction(1, 10), "mm"),
        # A micrometer: 0.5 mm a turn and 50 lines is 0.01 mm (kfz-tech.de on micrometers, seen).
        (0.5, 50, Fraction(1, 100), "mm"),
        # Common practice: 1.25 mm with 125 divisions, 2 mm with 200: 0.01 mm.
        (1.25, 125, Fraction(1, 100), "mm"),
        (2, 200, Fraction(1, 100), "mm"),
        # 20 tpi is 0.050 in or 1.27 mm a turn (knaell, metric dial page, seen): 50 lines are
        # 0.001 in and 127 are 0.01 mm.
        (1.27, 50, Fraction(1, 1000), "in"),
        (1.27, 127, Fraction(1, 100), "mm"),
        # Common practice: 10 tpi with 100 divisions, 8 tpi with 125: 0.001 in.
        (2.54, 100, Fraction(1, 1000), "in"),
        (25.4 / 8, 125, Fraction(1, 1000), "in"),
        # Common practice: 40 tpi with 25 lines, the inch micrometer, 0.001 in.
        (25.4 / 40, 25, Fraction(1, 1000), "in"),
    ],
)
def test_advance_per_division(pitch, divisions, advance, unit):
    dial = design_dial(divisions, pitch, 60.0)
    assert (dial.advance_mm if unit == "mm" else dial.advance_in) == advance
    assert dial.advance_mm == dial.advance_in * INCH
    # Radial feed: the ball's diameter changes by twice the advance (common practice).
    assert dial.diameter_change_mm == dial.advance_mm + dial.advance_mm


def test_a_lead_from_a_thread_table_is_exact():
    # Lead of a screw of n threads to the inch: 1/n in, exactly (ASME B1.1 definition).
    for tpi in (4, 5, 8, 10, 11, 11.5, 12, 13, 14, 16, 18, 20, 24, 27, 28, 32, 40, 56, 80):
        assert exact_mm(25.4 / tpi) == INCH / Fraction(tpi)
    # ISO 724 pitches are decimals, and stay those decimals.
    for pitch in ("0.2", "0.35", "0.4", "0.7", "0.75", "0.8", "1", "1.25", "1.5", "1.75", "2.5"):
        assert exact_mm(float(pitch)) == Fraction(Decimal(pitch))
    assert exact_mm(Fraction(14, 11)) == Fraction(14, 11)


# Divisions on a 60 mm rim -> numerals, middle lines every.
@pytest.mark.parametrize(
    ("divisions", "numerals", "middle"),
    [
        # "Forty new graduations, with every 5th and 10th being longer than the rest" (a
        # machinist on top-slide dials, madmodder.net 2010, seen).
        (40, range(0, 40, 10), 5),
        # Common practice: dials that go by fives are numbered by tens, small ones by fives.
        (20, range(0, 20, 5), 5),
        (25, range(0, 25, 5), 5),
        (50, range(0, 50, 10), 5),
        (60, range(0, 60, 10), 5),
        (80, range(0, 80, 10), 5),
        (100, range(0, 100, 10), 5),
        (125, range(0, 125, 10), 5),
        (200, range(0, 200, 10), 5),
        # Common practice: few divisions are numbered at every line.
        (10, range(10), 1),
        (12, range(12), 1),
        # No group goes evenly into a prime: by tens, and seven from 120 to zero.
        (127, range(0, 127, 10), 5),
        # One line from 100 to zero: two numerals there could not be told apart.
        (101, range(0, 100, 10), 5),
        # Even all the way round.
        (128, range(0, 128, 8), 4),
        (24, range(0, 24, 4), 2),
    ],
)
def test_numerals_and_classes(divisions, numerals, middle):
    lines = engraving_table(design_dial(divisions, 1.0, 60.0))
    assert [line.number for line in lines] == list(range(divisions))
    assert [line.numeral for line in lines if line.numeral] == [str(n) for n in numerals]
    for line in lines:
        if line.number in numerals:
            assert line.length_class == "long"
        elif line.number % middle == 0 and middle > 1:
            assert line.length_class == "middle"
        else:
            assert line.length_class == "short"


def test_line_lengths_of_the_trade():
    # Common practice: 2.5, 3.5 and 5 mm on a 10 mm rim, and in that ratio on others.
    for rim, lengths in ((10.0, (2.5, 3.5, 5.0)), (6.0, (1.5, 2.1, 3.0))):
        lines = engraving_table(design_dial(50, 1.0, 32.0, rim_width_mm=rim))
        assert [lines[n].length_mm for n in (1, 5, 10)] == pytest.approx(lengths)


def test_every_count_from_4_to_400():
    diameter, pitch = 40.0, Fraction(3, 2)
    for divisions in range(4, 401):
        lines = engraving_table(design_dial(divisions, pitch, diameter))
        assert [line.number for line in lines] == list(range(divisions))
        angles = [line.angle_exact_deg for line in lines] + [Fraction(360)]
        steps = [after - before for before, after in pairwise(angles)]
        assert sum(steps) == 360
        assert set(steps) == {Fraction(360, divisions)}
        for line in lines:
            assert math.isclose(line.angle_deg, line.number * 360 / divisions)
            stated = line.degrees * 3600 + line.minutes * 60 + line.seconds
            assert stated + line.residue_arcsec == line.angle_exact_deg * 3600
            assert abs(line.residue_arcsec) <= Fraction(1, 2)
            assert line.advance_mm * divisions == line.number * pitch
            assert line.diameter_change_mm == 2 * line.advance_mm
            assert math.isclose(line.arc_mm, math.radians(line.angle_deg) * diameter / 2)
            assert (line.numeral != "") == (line.length_class == "long")


@pytest.mark.parametrize("diameter", [16.0, 32.0, 64.0])
def test_lines_that_stand_out_are_near_one_another(diameter):
    # Common practice: no more than four short lines together, so that none need be counted.
    for divisions in range(4, int(math.pi * diameter / 0.8) + 1):
        lines = engraving_table(design_dial(divisions, 1.0, diameter))
        assert (lines[0].numeral, lines[0].length_class) == ("0", "long")
        out = [line.number for line in lines if line.length_class != "short"]
        assert max(after - before for before, after in pairwise([*out, divisions])) <= 5


def test_numerals_do_not_touch_on_any_dial_called_legible():
    # They stand upright with the dial's axis level: their height lies along the rim, one over the
    # other. ISO 3098-0 lettering B: lines of writing stand 1.4 heights apart (memory). Across the rim a
    # digit is 3/5 as wide as high (NUREG-0700 rev. 2, 11.3.1.5-4, seen), with 0.5 mm between digits at
    # h = 2.5 (table of that standard, seen).
    for divisions in range(4, 401):
        for diameter in (8.0, 20.0, 45.0, 110.0):
            dial = design_dial(divisions, 1.0, diameter)
            if not legibility(dial).ok:
                continue
            height, strips = dial.numeral_height_mm, []
            for line in engraving_table(dial):
                digits = len(line.numeral)
                width = digits * 0.6 * height + (digits - 1) * height / 5
                assert not digits or line.length_mm + 0.5 + width <= dial.rim_width_mm
                if digits:
                    strips.append((line.arc_mm - height / 2, line.arc_mm + height / 2))
            first = strips[0][0] + math.pi * diameter
            starts = [start for start, _ in strips[1:]] + [first]
            gaps = [start - end for (_, end), start in zip(strips, starts, strict=True)]
            assert min(gaps) >= 0.4 * height - 1e-9, (divisions, diameter)


def test_wider_groups_where_numerals_would_touch():
    # Ten numerals 2.5 mm high want 3.5 mm each: 35 mm round, 11 mm across. On 8 mm there is
    # 25 mm: by fives instead of at every line.
    wide, narrow = design_dial(10, 1.0, 16.0), design_dial(10, 1.0, 8.0)
    assert (wide.numeral_every, narrow.numeral_every) == (1, 5)
    assert legibility(wide).ok
    assert legibility(narrow).numerals_ok


def test_last_numeral_where_the_last_space_is_short():
    # 125 lines: from 120 to zero are five. On 60 mm that is 7.5 mm, and "120" over "0" takes
    # 3.5; on 25 mm it is 3.1 mm.
    wide = engraving_table(design_dial(125, 1.25, 60.0))
    narrow = engraving_table(design_dial(125, 1.25, 25.0, numeral_height_mm=2.5))
    assert (wide[120].numeral, wide[120].length_class) == ("120", "long")
    assert (narrow[120].numeral, narrow[120].length_class) == ("", "middle")
    assert narrow[110].numeral == "110"
    # 101 lines: one from 100 to zero, 9 mm on a 300 mm rim. There is room for "100" there, but
    # one long line beside another would be taken for zero.
    lines = engraving_table(design_dial(101, 1.0, 300.0))
    assert lines[100].arc_mm < math.pi * 300 - 9
    assert (lines[100].numeral, lines[100].length_class) == ("", "middle")


def test_hundredths_of_a_millimetre():
    def numerals(dial):
        return [line.numeral for line in engraving_table(dial) if line.numeral]

    # Common practice: 1 mm and 50 divisions are 0.02 mm a line, so the tenth line reads 20.
    dial = design_dial(50, 1.0, 32.0, reading="hundredths")
    assert numerals(dial) == ["0", "20", "40", "60", "80"]
    # 1.27 mm and 127 divisions: a line is a hundredth (common practice).
    dial = design_dial(127, 1.27, 50.0, reading="hundredths")
    assert numerals(dial) == [str(n) for n in range(0, 127, 10)]
    # 1.25 mm and 40 divisions: ten lines are 31.25 hundredths, not whole; eight are 25.
    dial = design_dial(40, 1.25, 32.0, reading="hundredths")
    assert numerals(dial) == ["0", "25", "50", "75", "100"]
    # 1.27 mm and 50 divisions: no group is whole; ten lines are 25.4 hundredths.
    with pytest.raises(ValueError, match=r"stand 25\.4 hundredths .* must be whole. Use reading"):
        design_dial(50, 1.27, 32.0, reading="hundredths")


@pytest.mark.parametrize("divisions", [1, 0, -50, 1001, 50.0, float("nan"), "50", None, True])
def test_bad_divisions(divisions):
    for call in (
        lambda: design_dial(divisions, 1.0, 32.0),
        lambda: reading_in_other_unit(Fraction(1), divisions),
    ):
        with pytest.raises(ValueError, match="whole number from 2 to 1000. Give") as caught:
            call()
        assert repr(divisions) in str(caught.value)


BAD_SIZES = [0, 0.0, -1.0, float("nan"), float("inf"), -float("inf"), 1001.0, 1e-320, "32", None]


@pytest.mark.parametrize("size", BAD_SIZES)
@pytest.mark.parametrize(
    "name",
    ["diameter_mm", "pitch_mm", "rim_width_mm", "line_width_mm", "numeral_height_mm"],
)
def test_bad_sizes(name, size):
    if name == "numeral_height_mm" and size is None:
        return  # then it is chosen
    good = {"divisions": 50, "pitch_mm": 1.0, "diameter_mm": 32.0}
    with pytest.raises(ValueError, match="must be a number from 0.001 to 1000 mm. Give") as caught:
        design_dial(**(good | {name: size}))
    assert str(caught.value).startswith(f"dial: {name} {size!r};")
    assert str(caught.value).count("\n") == 0


@pytest.mark.parametrize("pitch", [0, -1, Fraction(-1, 2), float("nan"), 10**400, "1"])
def test_bad_leads(pitch):
    for call in (lambda: exact_mm(pitch), lambda: reading_in_other_unit(pitch, 50)):
        with pytest.raises(ValueError, match="pitch_mm .* must be a number from"):
            call()


def test_all_that_is_wrong_is_said_at_once():
    good = design_dial(50, 1.0, 32.0)
    with pytest.raises(ValueError, match="dial: ") as caught:
        replace(good, diameter_mm=-3.0, pitch_mm=2.0, numeral_every=0, reading="degrees")
    findings = str(caught.value).splitlines()
    assert [finding.split()[1] for finding in findings] == [
        "diameter_mm",
        "pitch_mm",
        "reading",
        "numeral_every",
    ]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pitch_mm": 1.0}, "must be a Fraction"),
        ({"middle_every": 3}, "must go evenly into 10"),
        ({"middle_every": 0}, "must go evenly into 10"),
        ({"middle_every": 2.5}, "must go evenly into 10"),
        ({"numeral_every": 51}, "must be from 1 to 50"),
        ({"numeral_every": 10.0}, "must be from 1 to 50"),
        ({"short_mm": 4.0}, "each must be at least"),
        ({"long_mm": 11.0}, "each must be at least"),
        ({"reading": "inches"}, "must be one of"),
        ({"divisions": 4}, "numeral_every 10; must be from 1 to 4"),
    ],
)
def test_bad_dials(change, words):
    with pytest.raises(ValueError, match=words):
        replace(design_dial(50, 1.0, 32.0), **change)


@pytest.mark.parametrize(
    ("rim", "lengths"),
    [
        # a quarter, 7/20 and half of the rim, in 64ths: 3/8 is 24 of them, so 6, 8.4 and 12
        ("3/8", ("3/32", "1/8", "3/16")),
        ("1/4", ("1/16", "3/32", "1/8")),  # 4, 5.6 and 8
        ("1/2", ("1/8", "11/64", "1/4")),  # 8, 11.2 and 16
    ],
)
def test_an_inch_dials_lines_are_whole_64ths_long(rim: str, lengths: tuple[str, ...]) -> None:
    # a cross slide's dial is set to a length, and 0.131 in is no fraction of a rule (common practice)
    step = 25.4 / 64
    wide = float(Fraction(rim)) * 25.4
    dial = design_dial(50, 1.27, 25.4, rim_width_mm=wide, line_step_mm=step)
    found = (dial.short_mm, dial.middle_mm, dial.long_mm)
    assert found == pytest.approx([float(Fraction(one)) * 25.4 for one in lengths])
