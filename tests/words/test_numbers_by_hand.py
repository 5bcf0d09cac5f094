"""How each kind of quantity is written, in both languages, digit by digit.

12.3456 mm is 0.486047... in (25.4 mm to the inch, exact since 1959); the places are those of the gauge
that each is read by (tests of test_numbers name the standards).
"""

from __future__ import annotations

from typing import Any

import pytest

from parts.standard.drills import Drill
from parts.standard.fits import STOCK, Limits
from parts.standard.sections import Section
from parts.standard.series import INCH as INCH_SERIES
from parts.standard.series import METRIC as METRIC_SERIES
from planner.output.schemas import FILES, outputs
from planner.words.formats import OUTPUTS, format_name
from planner.words.numbers import INCH, METRIC

WRITTEN: list[tuple[str, tuple[Any, ...], str, str]] = [
    # what, of what, in millimetres, in inches
    ("length", (12.3456,), "12.35 mm", "0.486 in"),
    ("length", (12.3456, 1), "12.3 mm", "0.5 in"),
    ("bare", (12.3456, 3), "12.346", "0.486"),
    ("size", (12.7,), "12.7 mm", "1/2 in"),
    ("rule", (300.0,), "300 mm", "11-13/16 in"),  # 755.9 of 64
    ("rule", (40.43,), "40.5 mm", "1-19/32 in"),  # 101.9 of 64
    ("rule_up", (40.51,), "41 mm", "1-39/64 in"),  # 102.1 of 64
    ("rule_down", (40.43,), "40 mm", "1-37/64 in"),
    ("rule_up", (12.7,), "13 mm", "1/2 in"),
    ("rule_down", (123456.5,), "123456.5 mm", "4860-31/64 in"),  # 4860.492
    ("caliper", (12.3456,), "12.35 mm", "0.486 in"),
    ("micrometer", (12.3456,), "12.346 mm", "0.4860 in"),
    ("fine", (0.0123456,), "0.012 mm", "0.0005 in"),
    ("error", (0.0123456,), "0.0123 mm", "0.0005 in"),
    ("deflection", (0.0123456,), "0.0123 mm", "0.00049 in"),
    ("clearance", (12.3456,), "12.3 mm", "0.486 in"),
    ("clearance", (4.7625,), "4.8 mm", "0.188 in"),  # 3/16: halves to even
    ("as_asked", (34.925,), "34.9 mm", "1-3/8 in"),
    ("over", (0.01,), "0.1 mm", "0.001 in"),  # never nothing
    ("within", (0.02,), "0.02 mm", "0.001 in"),  # 0.79 thousandths
    ("within", (0.01,), "0.01 mm", "0.0005 in"),
    ("within", (0.2,), "0.2 mm", "0.008 in"),
    ("apart", (1.57, 1.5875), ("1.5 mm", "1.6 mm"), ("0.061 in", "0.063 in")),
    # a rule of the trade, on its safe side: 0.5118, 1.5748, 0.1181, 0.0315 and 0.0012 in
    ("bound", (13.0, False), "13 mm", "0.500 in"),
    ("bound", (40.0, False), "40 mm", "1.500 in"),
    ("bound", (3.0, True), "3 mm", "0.125 in"),
    ("bound", (0.8, False), "0.8 mm", "0.030 in"),
    ("bound", (0.03, True), "0.03 mm", "0.002 in"),
    ("bound", (152.4, False), "152.4 mm", "6.000 in"),
    ("bound", (12.7, True), "12.7 mm", "0.500 in"),
    # a tool has its own language's size on it (common practice); 8 / 25.4 = 0.31496, 6 / 25.4 = 0.23622
    ("tool", (8.0,), "8 mm", "8 mm (0.315 in)"),
    ("tool", (6.0,), "6 mm", "6 mm (0.2362 in)"),
    ("tool", (6.35,), "1/4 in (6.35 mm)", "1/4 in"),
    ("tool", (12.5,), "12.5 mm", "12.5 mm (0.4921 in)"),
    ("stock_at_least", (5.0,), "5 mm", "1/4 in"),  # 3.15 sixteenths
    # a bar of the other language is ordered by its own name (common practice): 25 / 25.4 = 0.9843
    ("stock", (Section("round", 25.0),), "round 25", "round 25 mm (0.984 in)"),
    ("stock", (Section("tube", 40.0, 5.0),), "tube 40x5", "tube 40x5 mm (1.575 x 0.197 in)"),
    ("stock", (Section("round", 25.4),), "round 1 in (25.4)", "round 1 in"),
    ("stock", (Section("flat", 50.8, 12.7),), "flat 2 x 1/2 in (50.8x12.7)", "flat 2 x 1/2 in"),
    (
        "stock",
        (Section("flat", 63.5, 38.1),),
        "flat 2-1/2 x 1-1/2 in (63.5x38.1)",
        "flat 2-1/2 x 1-1/2 in",
    ),
    ("gripped", (11.99,), "12 mm", "0.472 in"),
    ("gripped", (7.9324,), "7.9 mm", "5/16 in"),  # 0.3123: a journal of 5/16 by LC2
    ("gripped", (14.28,), "14.3 mm", "9/16 in"),  # 0.5622
    ("at_least", (12.3456,), "12.4 mm", "1/2 in"),
    ("at_least", (25.4,), "25.4 mm", "1 in"),
    ("at_least", (254.0,), "254 mm", "10 in"),
    ("at_least", (254.254,), "254.3 mm", "10-1/64 in"),  # 10.01
    ("at_most", (12.3456,), "12.3 mm", "31/64 in"),
    ("at_most", (254.0,), "254 mm", "10 in"),
    ("at_most", (254.254,), "254.2 mm", "10 in"),
    ("faced", (1.0,), "1 mm", "0.039 in"),
    ("engraved", (2.54,), "2.5 mm", "0.100 in"),
    ("division", (0.0254,), "0.0254 mm", "0.001 in"),
    ("division_of", (0.0254, 1.27), "0.0254 mm = 0.001 in", "0.001 in"),
    ("division_of", (0.02, 1.0), "0.02 mm", "0.00079 in = 0.02 mm"),
    ("slide_division", (0.05,), "0.05 mm", "0.05 mm = 0.00197 in"),  # 1.97 thousandths
    ("slide_division", (0.0254,), "0.0254 mm", "0.001 in"),
    # a line by a rule, rounded down: 4.51 is 2.84 of 1/16, 4.7625 is 3/16; 3/32 is no line's
    ("scribed", (4.51,), "4 mm", "1/8 in"),
    ("scribed", (4.7625,), "4 mm", "3/16 in"),
    ("scribed", (120.2,), "120 mm", "4-11/16 in"),  # 75.7 of 16
    ("dial", (9.525,), "9.53 mm", "0.375 in"),
    # 57/64 is 0.890625; 14 is 0.551181 in, no 64th; 3 in is whole
    ("worked", (22.621875,), "22.62 mm", "57/64 = 0.891 in"),
    ("worked", (14.0,), "14 mm", "14 mm = 0.551 in"),
    ("worked", (76.2,), "76.2 mm", "3 in"),
    # 40 mm is 1.574803 in, 0.1 mm 0.003937; 1-1/4 is 31.75, 0.0762 mm 0.003 in, 0.0127 mm 0.0005
    ("asked", (40.0, 0.1), "40 mm ±0.1", "40 mm = 1.5748 in ±0.0039"),
    ("asked", (31.75, 0.0762), "31.75 mm ±0.076", "1.250 in ±0.003"),
    ("asked", (31.75, 0.0127), "31.75 mm ±0.013", "1.2500 in ±0.0005"),
    ("asked", (25.4,), "25.4 mm", "1.000 in"),
    ("bought_length", (20.0,), "20 mm", "20 mm = 0.787 in"),
    ("value", (16.0,), "16 mm", "16 mm = 0.630 in"),
    ("screw_length", (30.1625, False, True), "30.16", "1-3/16 in"),
    ("screw_length", (30.1625, True, True), "30.16 mm", "1-3/16"),
    ("screw_length", (20.0, False), "20", "20 mm"),
    # a washer is sold by the screw's size, whatever its threads (ASME B18.21.1, ISO 7089)
    ("washer", ("5/16-24 UNF",), "5/16", "5/16"),
    ("washer", ("No.10-24 UNC",), "No.10", "No.10"),
    ("washer", ("1-1/8-7 UNC",), "1-1/8", "1-1/8"),
    ("washer", ("M10x1",), "M10", "M10"),
    ("bought_length", (15.875,), "15.88 mm", "5/8 in"),
    ("exact", (0.0254,), "0.0254 mm", "0.001 in"),
    ("exact", (1 / 3,), "0.333333 mm", "0.013123 in"),
    ("exact", (1 / 3, 2), "0.33 mm", "0.01 in"),
    ("feed", (0.03,), "0.03 mm/rev", "0.001 in/rev"),
    ("feed", (0.12,), "0.12 mm/rev", "0.0045 in/rev"),  # 0.0047
    ("feed", (0.25,), "0.25 mm/rev", "0.010 in/rev"),
    ("feed", (1.27,), "1.27 mm/rev", "0.050 in/rev"),  # a saw's, of 50 teeth
    ("cut_depth", (0.1,), "0.1 mm", "0.004 in"),
    ("cut_depth", (0.4064,), "0.406 mm", "0.016 in"),
    ("cut_depth", (0.0127,), "0.013 mm", "0.0005 in"),
    ("screw_pitch", (1.27,), "20 tpi (1.27 mm)", "20 tpi"),
    ("screw_pitch", (25.4 / 18,), "18 tpi (1.411 mm)", "18 tpi"),
    ("screw_pitch", (1.5,), "1.5 mm", "1.5 mm (16.93 tpi)"),
    ("knurl", (1.0,), "1 mm pitch", "25.4 teeth per inch"),
    ("knurl", (25.4 / 21,), "1.21 mm pitch", "21 teeth per inch"),
    ("screw_length", (6.0, False), "6", "6 mm"),
    ("screw_length", (15.875, True), "5/8 in", "5/8"),
    ("pitch", (1.25,), "1.25 mm", "1.25 mm = 0.049213 in"),  # by 25.4
    ("pitch", (1.27,), "1.27 mm = 0.05 in", "0.050 in"),  # 20 threads an inch
    ("pitch", (0.79375,), "0.79375 mm = 0.03125 in", "0.03125 in"),  # 32
    ("micrometer_range", (24.9,), "0 to 25 mm", "0 to 1 in"),
    ("micrometer_range", (25.3,), "25 to 50 mm", "0 to 1 in"),
    ("micrometer_range", (50.8,), "50 to 75 mm", "2 to 3 in"),
    ("thread", ("M8",), "M8", "M8"),
    # ASME B1.1: 2A outside, 2B inside, where nothing closer is asked for; ISO 965-1: 6g and 6H, which
    # are said beside those
    ("thread_made", ("M8", True), "M8", "M8-6H"),
    ("thread_made", ("M8x1", False), "M8x1", "M8x1-6g"),
    ("thread_made", ("1/4-20 UNC", True), "1/4-20 UNC-2B", "1/4-20 UNC-2B"),
    ("thread_made", ("No.10-32 UNF", False), "No.10-32 UNF-2A", "No.10-32 UNF-2A"),
    # ASME B94.11M: letter F is 0.257 in, #7 0.201 and #25 0.1495; 5/32 is 0.15625, 29/32 0.90625
    ("drill", (Drill("F", 6.5278),), "letter F, 6.53 mm (or 6.5 mm)", "letter F, 0.257 in"),
    ("drill", (Drill("#7", 5.1054),), "#7, 5.11 mm (or 5.1 mm)", "#7, 0.201 in"),
    ("drill", (Drill("#25", 3.7973),), "#25, 3.8 mm (or 3.8 mm)", "#25, 0.1495 in"),
    ("drill", (Drill("5/32 in", 3.96875),), "5/32 in, 3.97 mm (or 4 mm)", "5/32, 0.1562 in"),
    ("drill", (Drill("29/32 in", 23.01875),), "29/32 in, 23.02 mm (or 23 mm)", "29/32, 0.9062 in"),
    ("drill", (Drill("1 in", 25.4),), "1 in, 25.4 mm", "1, 1.000 in"),
    # 4.2 / 25.4, #19 is 0.166; 7 / 25.4, J is 0.277; 5 / 25.4 is 0.1969 and #8 0.199, 0.055
    # more: M6 is then from #9, 0.196, as charts have it (from memory)
    ("drill", (Drill("4.2 mm", 4.2),), "4.2 mm", "4.2 mm, 0.1654 in (or #19, 0.166)"),
    # ASME B94.11M: #39 is 0.0995, no thousandths
    ("drill", (Drill("2.5 mm", 2.5),), "2.5 mm", "2.5 mm, 0.0984 in (or #39, 0.0995)"),
    ("drill", (Drill("7 mm", 7.0),), "7 mm", "7 mm, 0.2756 in (or letter J, 0.277)"),
    ("drill", (Drill("5 mm", 5.0),), "5 mm", "5 mm, 0.1969 in (or #9, 0.196)"),
    ("drill", (Drill("4.95 mm", 4.95),), "4.95 mm", "4.95 mm, 0.1949 in (or #9, 0.196)"),
    ("drill", (Drill("19.75 mm", 19.75),), "19.75 mm", "19.75 mm, 0.7776 in"),
    (
        "drill",
        (Drill("0.173 in", 4.3942),),
        "0.173 in, 4.39 mm (or 4.4 mm)",
        "0.173 in",
    ),  # sold by no name
    # a size without limits: 12.7 is 0.5, 14.2875 is 9/16, 47.625 is 1-7/8; 50.8 is 2 exactly
    # 16.94 is 0.66693 in, no 64th and no thousandth: 42.7 of 64, so 21/32 under it; 6.25 is of 0.05
    ("turned_length", (16.94,), "16.5", "21/32"),
    ("turned_length", (6.25,), "6.25", "0.246"),
    ("turned_length", (25.4,), "25.4", "1.000"),
    ("turned_length", (49.5,), "49.5", "1.949"),  # a size of the other language is one
    ("column", (0.05, 3), "0.050 mm", "0.002 in"),
    ("general", (12.7,), "12.7", "1/2"),
    ("general", (14.2875,), "14.29", "9/16"),
    ("general", (47.625,), "47.625", "1-7/8"),
    ("general", (30.48,), "30.48", "1.20"),
    ("general", (50.8,), "50.8", "2.00"),
    ("general", (127.0,), "127", "5.0"),
    ("value", (12.7,), "12.7 mm", "1/2 in"),
    ("value", (12,), "12", "12"),
    ("value", ("M8",), "M8", "M8"),
    ("force", (61.7,), "62 N", "13.9 lbf"),
    ("force", (61.72, 1), "61.7 N", "13.9 lbf"),
    ("cutting_force", (31.1376,), "31 N", "7.0 lbf"),  # 7 lbf, by the pound of 4.44822 N
    ("cutting_force", (109.87,), "110 N", "24.7 lbf"),
    ("torque", (3.14159,), "3.1 Nm", "28 lbf·in"),
    ("fine_torque", (3.14159,), "3.14 Nm", "27.8 lbf·in"),
    ("stress", (355.4,), "355 MPa", "51500 psi"),
    ("mass", (1.2345,), "1.23 kg", "2.72 lb"),
    ("mass_change", (1.2345,), "+1.23 kg", "+2.72 lb"),
    ("mass_change", (-1.2345,), "-1.23 kg", "-2.72 lb"),
    ("roughness", (1.6,), "Ra 1.6", "Ra 63 µin"),
    ("trueness", (0.0189,), "0.018", "0.0007"),  # rounded down
    ("trueness", (0.02,), "0.02", "0.0007"),
    ("framed", (0.02,), "0.02 mm", "0.0007 in"),
    ("drawn_mass", (0.00783,), "7.8 g", "0.28 oz"),
    ("drawn_mass", (0.425,), "425 g", "15 oz"),  # an ounce is 28.35 g
    ("drawn_mass", (1.2345,), "1.23 kg", "2.72 lb"),
    ("area", (123_456.0,), "1235 cm2", "191.4 in2"),
    ("borne", (100.0,), "100 N", "20 lbf"),  # 22.5 lbf: no more than was reckoned with
    ("run", (43.65625,), "43 mm", "1-23/32 in"),  # 110 64ths
    ("run", (69.82,), "69 mm", "2-11/16 in"),  # 2.749
    ("cutting_speed", (29.6,), "30 m/min", "97 ft/min"),
    ("spindle_speed", (1250.0,), "1250 rev/min", "1250 rev/min"),
    ("volume", (16_387.064,), "16.387 cm3", "1.000 cu in"),
    ("removal_rate", (16_387.064,), "16.387 cm3/min", "1.000 cu in/min"),
    ("chip", (123.4,), "123 mm3", "0.0075 cu in"),
    ("angle", (12.34,), "12 deg", "12 deg"),
    ("angle", (12.34, 1), "12.3 deg", "12.3 deg"),
    ("swing", (0.4, 158.9), "0 to 159 deg", "0 to 159 deg"),
    ("drawn_angle", (60.0,), "60°", "60°"),
    ("dms", (7, 5, 9), "7° 05' 09\"", "7° 05' 09\""),
    ("seconds", (89.6,), "90 s", "90 s"),
    ("minutes", (89.0,), "1 min", "1 min"),
    ("minutes", (150.1,), "3 min", "3 min"),
]


@pytest.mark.parametrize(("what", "given", "metric", "inch"), WRITTEN)
def test_a_quantity_in_both_languages(
    what: str, given: tuple[Any, ...], metric: str, inch: str
) -> None:
    assert getattr(METRIC, what)(*given) == metric
    assert getattr(INCH, what)(*given) == inch


@pytest.mark.parametrize("loss", [0.0, 4e-7, -4e-7])
def test_a_bound_on_a_step_stays_on_it_whatever_a_float_loses(loss: float) -> None:
    # a limit of 12.3 that comes out of sums as 12.3000004 is 12.3 still
    assert METRIC.at_least(12.3 + loss / 10) == METRIC.at_most(12.3 + loss / 10) == "12.3 mm"
    mm = 25.4 * (0.484375 + loss / 100)
    assert INCH.at_least(mm) == INCH.at_most(mm) == "31/64 in"


def test_what_the_saw_is_set_in() -> None:
    # half millimetres, 16ths of an inch; bars are reckoned in tenths of one and 64ths of the other
    assert METRIC.saw_step_mm == 0.5 and INCH.saw_step_mm == 1.5875
    assert METRIC.bar_grain_mm == 0.1 and INCH.bar_grain_mm == 0.396875
    assert [METRIC.saw_stop_mm(mm) for mm in (10.0, 10.00002, 10.0001, 10.01)] == [
        *(10.0, 10.0, 10.5, 10.5)
    ]
    assert [METRIC.saw_stop_mm(mm) for mm in (10.000004, 9.999996)] == [10.0, 10.0]
    assert INCH.saw_stop_mm(25.4) == 25.4 and INCH.saw_stop_mm(25.5) == 26.9875
    # 4-11/32 with nothing to face stays so, and is 4-3/8 with some; in millimetres by halves either way
    assert INCH.sawn_to_mm(110.33125, 0.0) == pytest.approx(25.4 * (4 + 11 / 32))
    assert INCH.sawn_to_mm(110.33125, 1.0) == pytest.approx(25.4 * 4.375)
    assert METRIC.sawn_to_mm(110.2, 0.0) == METRIC.sawn_to_mm(110.2, 1.0) == 110.5


def test_a_step_that_cuts_a_thread_says_no_feed() -> None:
    assert INCH.set_feed(0.12, "turn") == ("feed 0.0045 in/rev",)
    assert INCH.set_feed(1.27, "slot") == ("feed 0.050 in/rev",)
    assert INCH.set_feed(1.27, "thread") == METRIC.set_feed(None, "turn") == ()


def test_cuts_are_said_as_a_dial_has_them() -> None:
    # 3/64 in is 46.875 thousandths: three cuts of 15.6; 1 mm: three of 0.333
    assert INCH.cut_step_mm(1.190625, 3) == 0.0254 and METRIC.cut_step_mm(1.0, 3) == 0.05
    # two of 0.05 mm: a whole step each would leave the second nothing, and so would two thousandths
    assert METRIC.cut_step_mm(0.05, 2) == 0.005 and INCH.cut_step_mm(0.0254, 2) == 0.0127
    assert INCH.cuts(3, 0.4064) == ("3 cuts of 0.016 in at most",)
    assert METRIC.cuts(3, 0.35) == ("3 cuts of 0.35 mm at most",)
    assert INCH.cuts(1, 0.4064) == INCH.cuts(3, 0.0) == ()


def test_a_hole_and_a_shaft_of_a_fit_have_as_many_decimals() -> None:
    # LC3 of 5/8 in: hole +1.0/0, shaft 0/-0.6 thousandths (ANSI B4.1)
    hole, shaft = Limits(15.875, 0.0254, 0.0, "LC3"), Limits(15.875, 0.0, -0.01524, "LC3")
    assert INCH.limits(hole) == "0.6250 LC3 (+0.0010/0.0000)"
    assert INCH.limits(shaft) == "0.6250 LC3 (0.0000/-0.0006)"
    # no fit: whole thousandths need three
    assert INCH.limits(Limits(15.875, 0.0254, 0.0, "")) == "0.625 (+0.001/0.000)"


def test_a_column_of_sizes_is_written_in_one_way() -> None:
    # 40 mm is 1.5748 in, which is no 64th: then all are decimals, as one reads down a column
    assert INCH.alike(31.75, 12.7, 38.1) == ("1-1/4", "1/2", "1-1/2")
    assert INCH.alike(31.75, 12.7, 40.0) == ("1.250", "0.500", "1.575")
    assert METRIC.alike(31.75, 40.0) == ("31.75", "40")


def test_a_hole_for_a_metric_tap_is_drilled_to_a_64th_in_an_inch_shop() -> None:
    # 11/32 in and three pitches of 0.7 are 0.4264 in: 27/64 is 0.4219, 7/16 0.4375
    assert INCH.drilled(8.73125 + 2.1) == "27/64"
    assert METRIC.drilled(8.0 + 2.1) == "10.1" and INCH.drilled(25.4) == "1.000"


def test_a_bar_bought_by_millimetres_has_them_beside_its_inches_on_a_drawing() -> None:
    # 60 / 25.4 is 2.3622, 16 / 25.4 is 0.62992; 5/8 in bar is 15.875 mm, 60.15 mm is sold by nobody
    def drawn(mm: float) -> str:
        return INCH.dimensioned(Limits(mm, 0.0, 0.0, STOCK))[0]

    assert drawn(60.0) == "2.362 (60 mm)" and drawn(16.0) == "0.630 (16 mm)"
    assert drawn(15.875) == "5/8" and drawn(60.15) == "2.3681"
    assert METRIC.dimensioned(Limits(60.0, 0.0, 0.0, STOCK))[0] == "60"


def test_a_size_without_limits_that_is_worked_to_has_its_decimals_beside_it() -> None:
    assert INCH.worked_limits(INCH_SERIES.general(135.73125)) == "5-11/32 = 5.344"
    assert INCH.worked_limits(INCH_SERIES.general(9.525)) == "3/8 = 0.375"
    assert INCH.worked_limits(INCH_SERIES.general(76.2)) == "3.00"
    assert INCH.worked_limits(Limits(9.525, 0.0508, -0.0508, "")) == "0.375 ±0.002"
    assert METRIC.worked_limits(METRIC_SERIES.general(9.5)) == "9.5"


def test_what_an_output_says_of_its_format() -> None:
    assert OUTPUTS == {
        **{"new": 1, "build": 1, "package": 1, "correct": 1, "explain": 1, "list": 1, "ready": 1},
        **{"record": 1, "findings": 1, "draw": 1, "scene": 1, "sheets": 1},
    }
    assert format_name("build") == "pommel.build/1"
    assert format_name("check", 2) == "pommel.check/2"
    assert set(FILES).isdisjoint(outputs())


def test_the_least_error_that_is_told_is_not_told_as_nothing() -> None:
    for numbers in (METRIC, INCH):
        told = numbers.plain.error(numbers.least_error_mm)
        assert float(told) == 0.0001 and not float(numbers.plain.error(numbers.least_error_mm / 3))
