"""The dial against facts of the trade, published practice, and arithmetic written out here."""

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

import pytest

from planner.dial.design import (
    design_dial,
    engraving_table,
    exact_mm,
    legibility,
    reading_in_other_unit,
)

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
    # Digits of ISO 3098-0 lettering B: 0.5 mm between digits and 1.5 mm between words at
    # h = 2.5 mm (table of that standard, seen); a digit is 3/5 as wide as high (NUREG-0700
    # rev. 2, 11.3.1.5-4, seen). Strips of that width are laid round the rim here.
    height, between_digits, between_words = 2.5, 0.5, 1.5
    for divisions in range(4, 401):
        for diameter in (8.0, 20.0, 45.0, 110.0):
            dial = design_dial(divisions, 1.0, diameter)
            if not legibility(dial).ok:
                continue
            strips = []
            for line in engraving_table(dial):
                digits = len(line.numeral)
                width = digits * 0.6 * height + (digits - 1) * between_digits
                if digits:
                    strips.append((line.arc_mm - width / 2, line.arc_mm + width / 2))
            first = strips[0][0] + math.pi * diameter
            starts = [start for start, _ in strips[1:]] + [first]
            gaps = [start - end for (_, end), start in zip(strips, starts, strict=True)]
            # The allowance of 0.7 h a digit is 0.25 mm a digit over the width of digits alone.
            assert min(gaps) >= between_words - 1e-9, (divisions, diameter)


def test_wider_groups_where_numerals_would_touch():
    # Ten numerals 2.5 mm high want about 3 mm each: 30 mm round, 10 mm across. On 8 mm there is
    # 25 mm: by fives instead of at every line.
    wide, narrow = design_dial(10, 1.0, 16.0), design_dial(10, 1.0, 8.0)
    assert (wide.numeral_every, narrow.numeral_every) == (1, 5)
    assert legibility(wide).ok
    assert legibility(narrow).numerals_ok


def test_last_numeral_where_the_last_space_is_short():
    # 125 lines: from 120 to zero are five. On 60 mm that is 7.5 mm, and "120" beside "0" takes
    # about 5; on 32 mm it is 4 mm.
    wide = engraving_table(design_dial(125, 1.25, 60.0))
    narrow = engraving_table(design_dial(125, 1.25, 32.0))
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


def test_legible_spacing():
    # Common practice: lines of 0.15 to 0.2 mm want 0.8 to 1 mm between them. A line is a fifth
    # of the spacing on a micrometer thimble (a measuring-tool maker's reading guide, seen).
    for width, least in ((0.15, 0.8), (0.16, 0.8), (0.2, 1.0)):
        dial = design_dial(100, 1.0, 40.0, line_width_mm=width)
        assert legibility(dial).least_spacing_mm == pytest.approx(least)
    # A 0 to 25 mm micrometer: 50 lines on a thimble of about 16 mm are read all day (common
    # practice); 100 on it are not cut.
    assert legibility(design_dial(50, 0.5, 16.0)).lines_ok
    assert not legibility(design_dial(100, 0.5, 16.0)).lines_ok
    # 127 divisions on a 150 mm faceplate: "each space will be almost 4 mm" (homews.co.uk on
    # dividing, seen).
    assert 3.5 < legibility(design_dial(127, 1.27, 150.0)).arc_spacing_mm < 4.0


def test_least_diameter_and_most_divisions_are_the_edge():
    for divisions in (4, 10, 25, 50, 100, 127, 200, 400):
        report = legibility(design_dial(divisions, 1.0, 50.0))
        edge = report.least_diameter_mm
        dial = design_dial(divisions, 1.0, 50.0)
        assert legibility(replace(dial, diameter_mm=edge)).ok
        assert not legibility(replace(dial, diameter_mm=edge * 0.999)).ok
        most = report.most_divisions
        assert math.pi * 50.0 / most >= 0.8 > math.pi * 50.0 / (most + 1)


def test_findings_say_value_limit_and_remedy():
    report = legibility(design_dial(100, 1.0, 20.0))
    # 20 pi / 100 = 0.628 mm; 100 x 0.8 / pi = 25.46 mm; 20 pi / 0.8 = 78.5 lines.
    assert not report.ok
    (finding,) = report.findings
    assert finding == (
        "dial: 100 lines on 20 mm stand 0.63 mm apart; needs 0.8. Use a rim of at least 25.5 mm "
        "or at most 78 divisions (50, 40, 25)"
    )
    # The remedy is a remedy.
    assert legibility(design_dial(100, 1.0, 25.5)).ok
    assert legibility(design_dial(78, 1.0, 20.0)).lines_ok


def test_numerals_too_high_for_the_rim_or_the_spaces():
    # 5 mm numerals over 5 mm lines want more than a 10 mm rim.
    report = legibility(design_dial(50, 1.0, 60.0, numeral_height_mm=5.0))
    assert not report.rim_ok
    assert "has 10. Use a wider rim or numerals of at most 4.17 mm" in report.findings[0]
    assert legibility(design_dial(50, 1.0, 60.0, numeral_height_mm=4.16)).rim_ok
    # Four numbered lines on 3 mm: 2.4 mm each, and a digit with its space takes over 3.
    report = legibility(design_dial(4, 1.0, 3.0))
    assert report.lines_ok
    assert not report.numerals_ok
    assert report.numeral_gap_mm == pytest.approx(math.pi * 3 / 4)
    assert report.numeral_gap_mm < report.numeral_need_mm
    assert "numerals 2.5 mm high stand 2.36 mm apart" in report.findings[0]


def is_round(step):
    """Whether a step reads 1, 2, 25, 4 or 5 when its zeros and point are left out."""
    text = str(Decimal(step.numerator) / Decimal(step.denominator)).replace(".", "")
    return text.strip("0") in {"1", "2", "25", "4", "5"}


@pytest.mark.parametrize(
    "pitch",
    [Fraction(1), Fraction(5, 4), Fraction(3, 2), Fraction(2), Fraction(127, 100)],
)
def test_sensible_divisions(pitch):
    # 60 mm holds 235 lines 0.8 mm apart.
    found = legibility(design_dial(100, pitch, 60.0)).sensible_divisions
    expected = [n for n in range(235, 3, -1) if is_round(pitch / n) or is_round(pitch / n / INCH)]
    assert list(found) == expected
    assert found


def test_sensible_divisions_of_the_trade():
    # Common practice: 100, 50, 25 (and 20, 10) on 1 mm; 125 on 1.25 mm; 75 on 1.5 mm; and on
    # 20 tpi, 50 for thousandths of an inch and 127 for hundredths of a millimetre.
    def sensible(pitch):
        return set(legibility(design_dial(100, pitch, 60.0)).sensible_divisions)

    assert {100, 50, 25, 20, 10} <= sensible(1.0)
    assert {125} <= sensible(1.25)
    assert {75} <= sensible(1.5)
    assert {50, 127} <= sensible(1.27)
    # 13 tpi gives no round step in either unit.
    assert sensible(25.4 / 13) == set()


def test_inch_screw_read_in_millimetres():
    # 20 tpi is 1.27 mm a turn; 50 divisions read as 0.025 mm count 1.25 (common practice).
    found = reading_in_other_unit(Fraction(127, 100), 50)
    assert (found.screw_unit, found.other_unit) == ("in", "mm")
    assert found.advance_in == Fraction(1, 1000)
    assert found.read_as == Fraction(25, 1000)
    assert found.residual_per_turn_mm == Fraction(2, 100)
    assert found.residual_per_turn_in * INCH == found.residual_per_turn_mm
    assert not found.exact
    # With 127 the same screw reads hundredths exactly (common practice).
    found = reading_in_other_unit(1.27, 127)
    assert (found.read_as, found.exact) == (Fraction(1, 100), True)
    assert found.residual_per_turn_mm == 0
    assert found.exact_divisions == (127, 254)


def test_metric_screw_read_in_inches():
    # Common practice: 1.25 mm with 50 divisions read as thousandths counts 1.27 a turn.
    found = reading_in_other_unit(1.25, 50)
    assert (found.screw_unit, found.other_unit) == ("mm", "in")
    assert found.read_as == Fraction(1, 1000)
    assert found.residual_per_turn_mm == Fraction(-2, 100)
    # 0.01 mm is called four tenths of a thou (common practice): 1 mm is read as 1.016.
    found = reading_in_other_unit(1, 100)
    assert found.read_as == Fraction(4, 10000)
    assert found.residual_per_turn_mm == Fraction(-16, 1000)
    assert found.exact_divisions == ()


def test_127_is_the_translating_number():
    # "25.4 x 5 = 127": exact translation needs 127 (a model engineers' thread on change
    # wheels, seen). It is prime, so nothing smaller will do.
    assert INCH * 5 == 127
    assert all(127 % n for n in range(2, 127))
    for tpi in (5, 8, 10, 12, 16, 20, 25, 32, 40):
        pitch = INCH / tpi
        found = reading_in_other_unit(pitch, 127)
        assert all(n % 127 == 0 for n in found.exact_divisions)
        assert list(found.exact_divisions) == [n for n in range(2, 401) if is_round(pitch / n)]
        assert found.exact == (127 in found.exact_divisions)
    for pitch in ("0.2", "0.4", "0.5", "0.75", "1", "1.25", "1.5", "2", "2.5", "3", "4"):
        assert reading_in_other_unit(Fraction(pitch), 127).screw_unit == "mm"
        assert reading_in_other_unit(Fraction(pitch), 127).exact_divisions == ()


def test_residual_is_what_a_turn_leaves_over():
    for pitch in (Fraction(1), Fraction(7, 4), INCH / 20, INCH / 13, Fraction(14, 11)):
        for divisions in range(2, 401):
            found = reading_in_other_unit(pitch, divisions)
            unit = INCH if found.other_unit == "in" else 1
            read = divisions * found.read_as * unit
            assert pitch - read == found.residual_per_turn_mm
            assert is_round(found.read_as)
            assert found.exact == (divisions in found.exact_divisions)
            # No other round step is nearer.
            step = pitch / unit / divisions
            for mark in (Fraction(m) * Fraction(10) ** k for m in (1, 2, "2.5", 4, 5)
                         for k in range(-6, 2)):  # fmt: skip
                assert abs(step - found.read_as) <= abs(step - mark)


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


def test_the_dial_is_sized_by_the_spacing_it_is_judged_by():
    # five line widths, and never under 0.8 mm: common practice, stated once here and once there
    from parts.screw import LINE_SPACING_MM, LINE_WIDTH_MM

    dial = design_dial(50, 1.0, 40.0, line_width_mm=LINE_WIDTH_MM)
    assert legibility(dial).least_spacing_mm == pytest.approx(LINE_SPACING_MM)
