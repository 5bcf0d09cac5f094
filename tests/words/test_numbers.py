"""How numbers are written: read back by pint, held against hand-worked fractions and standards.

1 in = 25.4 mm exactly: International Yard and Pound Agreement, 1959.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from random import Random

import pint
import pytest

from parts.standard.drills import drill_at_least, drill_at_most
from parts.standard.fits import Limits, limits
from parts.standard.sections import Section
from planner.words.numbers import INCH, METRIC, Numbers
from planner.words.tables import Table, as_csv, as_json, columns

UREG = pint.get_application_registry()

BY_PINT = {
    "Nm": "newton * metre",
    "cm2": "centimetre ** 2",
    "cm3": "centimetre ** 3",
    "in2": "inch ** 2",
    "cu in": "inch ** 3",
    "lbf·in": "pound_force * inch",
    "ft/min": "foot / minute",
    "mm3": "millimetre ** 3",
    "cm3/min": "centimetre ** 3 / minute",
    "cu in/min": "inch ** 3 / minute",
    "rev/min": "revolution / minute",
    "mm/rev": "millimetre",
    "in/rev": "inch",
    "deg": "degree",
}
"""How pint spells what a shop writes shorter."""

Write = Callable[[Numbers, float], str]

LENGTHS: dict[str, tuple[Write, float, float]] = {
    # what each is read by: the smallest step it is written to, mm and in
    "caliper": (Numbers.caliper, 0.01, 0.001),  # ISO 13385-1 and ASME B89.1.14: 0.01 mm, 0.001 in
    "micrometer": (Numbers.micrometer, 0.001, 0.0001),  # ISO 3611 and ASME B89.1.13, vernier
    "fine": (Numbers.fine, 0.001, 0.0001),
    "error": (Numbers.error, 0.0001, 0.0001),
    "deflection": (Numbers.deflection, 0.0001, 0.00001),
    "clearance": (Numbers.clearance, 0.1, 0.001),
    "feed": (Numbers.feed, 0.01, 0.001),
    "cut_depth": (Numbers.cut_depth, 0.001, 0.0005),
    # a rule's finest division: half a millimetre, or 1/64 in (common
    # practice)
    "rule": (Numbers.rule, 0.5, 1 / 64),
    "engraved": (Numbers.engraved, 0.1, 0.001),
    "division": (Numbers.division, 0.0001, 0.00001),
    "exact": (Numbers.exact, 1e-6, 1e-6),
}

OTHERS: dict[str, tuple[Write, str, float, float]] = {
    # what goes in, and the step written, of the unit written: metric, inch. A pound of a hundred and
    # more is written whole.
    "force": (Numbers.force, "newton", 1, 1),
    "torque": (Numbers.torque, "newton * metre", 0.1, 1),
    "fine_torque": (Numbers.fine_torque, "newton * metre", 0.01, 0.1),
    "stress": (Numbers.stress, "megapascal", 1, 100),
    "mass": (Numbers.mass, "kilogram", 0.01, 0.01),
    "mass_change": (Numbers.mass_change, "kilogram", 0.01, 0.01),
    "area": (Numbers.area, "millimetre ** 2", 1, 0.1),
    "volume": (Numbers.volume, "millimetre ** 3", 0.001, 0.001),
    "removal_rate": (Numbers.removal_rate, "millimetre ** 3 / minute", 0.001, 0.001),
    "chip": (Numbers.chip, "millimetre ** 3", 1, 0.0001),
    "cutting_speed": (Numbers.cutting_speed, "metre / minute", 1, 1),
    "angle": (Numbers.angle, "degree", 1, 1),
    "seconds": (Numbers.seconds, "second", 1, 1),
    "minutes": (Numbers.minutes, "second", 1, 1),
}

SAMPLES = (0.0, 0.013, 0.4999, 1.0, 6.35, 12.7, 19.999, 25.4, 47.625, 123.456, 1999.9)


def read_back(text: str) -> pint.Quantity:
    """A quantity from its text, by pint."""
    number, unit = text.split(" ", 1)
    whole, _, part = number.rpartition("-") if "/" in number else (number, "", "0")
    value = float(whole or 0) + float(Fraction(part))
    return UREG.Quantity(value, BY_PINT.get(unit, unit))


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("what", LENGTHS)
def test_a_length_read_back_is_off_by_half_its_last_place_at_most(
    numbers: Numbers, what: str
) -> None:
    write, metric, inch = LENGTHS[what]
    unit, step = ("inch", inch) if numbers.inch else ("millimetre", metric)
    for mm in SAMPLES:
        found = read_back(write(numbers, mm))
        assert found.units == UREG.Unit(unit)
        wanted = UREG.Quantity(mm, "millimetre").to(unit).magnitude
        assert abs(found.magnitude - wanted) <= step / 2 * (1 + 1e-9)


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("what", OTHERS)
def test_any_other_quantity_read_back_is_off_by_half_its_last_place_at_most(
    numbers: Numbers, what: str
) -> None:
    write, unit, metric, inch = OTHERS[what]
    step = inch if numbers.inch else metric
    for amount in (*SAMPLES, 23_456.7):
        found = read_back(write(numbers, amount))
        wanted = UREG.Quantity(amount, unit).to(found.units).magnitude
        assert abs(found.magnitude - wanted) <= step / 2 * (1 + 1e-9)


def test_a_coarse_feed_is_set_to_a_thousandth_and_a_fine_one_to_half_of_it() -> None:
    # common practice: the feeds of an inch lathe's chart
    said = [INCH.feed(inches * 25.4) for inches in (0.0015, 0.0045, 0.0153, 0.0118)]
    assert said == ["0.0015 in/rev", "0.0045 in/rev", "0.015 in/rev", "0.012 in/rev"]
    assert INCH.fed_mm(0.0153 * 25.4) == pytest.approx(0.015 * 25.4)


def test_a_spindle_speed_stands_as_the_lathe_lists_it() -> None:
    assert read_back(METRIC.spindle_speed(1250.0)) == UREG.Quantity(1250, "revolution / minute")
    assert METRIC.spindle_speed(67.5) == "67.5 rev/min"


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
@pytest.mark.parametrize("what", [*LENGTHS, *OTHERS, "size", "rule_up", "rule_down", "faced", "run",
                                  "at_least", "at_most", "spindle_speed",
                                  "within", "over", "as_asked", "stock_at_least"])  # fmt: skip
def test_plain_is_the_same_number_without_its_unit(numbers: Numbers, what: str) -> None:
    for amount in SAMPLES:
        named = getattr(numbers, what)(amount)
        plain = getattr(numbers.plain, what)(amount)
        assert re.fullmatch(r"[+-]?[\d./-]+(e[-+]\d+)?", plain)
        # a space stands between number and unit: SI Brochure, 9th edition, 5.4.3
        assert named.startswith(f"{plain} ")
        assert re.fullmatch(r"(cu )?[A-Za-z][A-Za-z0-9/·]*", named.removeprefix(f"{plain} "))


@pytest.mark.parametrize(
    ("unit", "symbol"),
    [
        # symbols of units: ISO 80000-3 (mm), ISO 80000-4 (N, Pa, kg), prefixes ISO 80000-1
        (METRIC.unit, "mm"),
        (METRIC.force_unit, "N"),
        (METRIC.stress_unit, "MPa"),
        (METRIC.mass_unit, "kg"),
        (INCH.force_unit, "lbf"),
        (INCH.torque_unit, "lbf·in"),
        (INCH.stress_unit, "psi"),
        (INCH.mass_unit, "lb"),
        (INCH.unit, "in"),
    ],
)
def test_units_have_their_standard_symbols(unit: str, symbol: str) -> None:
    assert unit == symbol


@pytest.mark.parametrize(
    ("mm", "inches"),
    [
        # fractions worked out by hand: n/64 in is n x 0.396875 mm
        (0.396875, "1/64 in"),
        (12.7, "1/2 in"),
        (22.225, "7/8 in"),
        (98.425, "3-7/8 in"),
        (25.4, "1 in"),
        (101.6, "4 in"),
        (0.0, "0 in"),
    ],
)
def test_sizes_and_rule_lengths_are_fractions_where_they_are_exact(mm: float, inches: str) -> None:
    assert INCH.size(mm) == INCH.rule(mm) == INCH.faced(mm) == inches


def test_every_sixtyfourth_of_an_inch_is_written_as_itself() -> None:
    for n in range(1, 64 * 4):
        text = INCH.plain.size(n * 25.4 / 64)
        whole, _, rest = text.rpartition("-") if "/" in text else (text, "", "0")
        assert Fraction(whole or 0) + Fraction(rest) == Fraction(n, 64)


def test_nothing_is_written_as_minus_nothing() -> None:
    for numbers in (METRIC, INCH):
        for write, _, _ in LENGTHS.values():
            assert not write(numbers, -1e-9).startswith("-")
        names = (
            "force torque fine_torque stress mass area cutting_speed volume removal_rate chip angle"
            " seconds minutes share at_least at_most"
        )
        for name in names.split():
            assert not getattr(numbers, name)(-1e-9).startswith("-"), name
        assert numbers.swing(-1e-9, -0.2) == "0 to 0 deg"
        assert numbers.mass_change(-1e-9) == f"+0.00 {numbers.mass_unit}"
    table = Table("t", "T", columns(("a", "A"), ("b", "B")), ((-0.0, 1.5),))
    assert as_csv(table) == "a,b\n0.0,1.5\n" and as_json(table.records()[0]["a"]) == "0.0\n"
    # less than half a percent is none
    assert [METRIC.share(part) for part in (0.126, -0.004, -0.3, 1.0)] == [
        "13%",
        "0%",
        "-30%",
        "100%",
    ]


def test_millimetres_end_in_no_idle_zeros() -> None:
    assert METRIC.size(12.50) == "12.5 mm"
    assert METRIC.micrometer(12.0) == "12 mm"
    assert METRIC.length(12.3456, 1) == "12.3 mm"
    assert METRIC.bare(12.3456) == "12.35"


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
def test_bounds_are_rounded_to_the_safe_side(numbers: Numbers) -> None:
    step = 25.4 / 64 if numbers.inch else 0.1
    for hundredths in range(1, 4000, 7):
        mm = hundredths / 100 + 0.003
        low = read_back(numbers.at_most(mm)).to("millimetre").magnitude
        high = read_back(numbers.at_least(mm)).to("millimetre").magnitude
        assert mm - step < low <= mm + 1e-3 * step
        assert mm - 1e-3 * step <= high < mm + step
        # bars are sold by sixteenths of an inch (common practice)
        bar = read_back(numbers.stock_at_least(mm)).to("millimetre").magnitude
        assert mm - 1e-3 * step <= bar < mm + (25.4 / 16 if numbers.inch else step)


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
def test_the_saw_stop_is_a_whole_step_and_never_short(numbers: Numbers) -> None:
    step = Fraction(254, 160) if numbers.inch else Fraction(1, 2)
    for thousandths in range(1, 90_000, 137):
        mm = thousandths / 1000
        stop = numbers.saw_stop_mm(mm)
        assert stop / float(step) == pytest.approx(round(stop / float(step)), abs=1e-4)
        assert mm - 1e-4 <= stop < mm + float(step)


@pytest.mark.parametrize(
    ("size", "metric", "inch"),
    [
        # deviations from ISO 286-2:2010: 25 H7 +21/0, 25 h6 0/-13, 20 g6 -7/-20 um; inches by hand,
        # inward: 25.021 is 0.985079, 7.8 tenths over 0.9843; 19.98 is 0.786614, 7.9 under 0.7874
        (Limits(25.0, 0.021, 0.0, "H7"), "25 H7 (+0.021/0)", "0.9843 H7 (+0.0007/0.0000)"),
        (Limits(25.4, 0.0, -0.013, "h6"), "25.4 h6 (0/-0.013)", "1.0000 h6 (0.0000/-0.0005)"),
        (
            Limits(20.0, -0.007, -0.020, "g6"),
            "20 g6 (-0.007/-0.020)",
            "0.7874 g6 (-0.0003/-0.0007)",
        ),
        (Limits(12.7, 0.1, -0.1, ""), "12.7 ±0.1", "0.5000 ±0.0039"),
        (Limits(12.7, 0.2, 0.0, ""), "12.7 (+0.2/0)", "0.5000 (+0.0078/0.0000)"),
        (Limits(40.0, 0.3, -0.3, "ISO 2768-m"), "40", "1.575"),
    ],
)
def test_limits_stand_behind_the_size_as_on_a_drawing(size: Limits, metric: str, inch: str) -> None:
    assert METRIC.limits(size) == METRIC.plain.limits(size) == metric
    assert INCH.limits(size) == inch


def test_the_standards_fit_is_written_as_the_standard_has_it() -> None:
    # ISO 286-2:2010, table of shafts g and holes H: 16 H7 +18/0, 16 g6 -6/-17 um
    hole, shaft = limits(16.0, "H7"), limits(16.0, "g6")
    assert METRIC.limits(hole) == "16 H7 (+0.018/0)"
    assert METRIC.limits(shaft) == "16 g6 (-0.006/-0.017)"
    # ISO 286-2 has 20 g6 as -7 and -20 um: both deviations have as many decimals, nought alone none
    # (ISO 129-1, from memory)
    assert METRIC.limits(limits(20.0, "g6")) == "20 g6 (-0.007/-0.020)"
    assert METRIC.limits(limits(20.0, "H8")) == "20 H8 (+0.033/0)"
    assert METRIC.play(limits(30.0, "H7"), limits(30.0, "g6")) == "0.007 to 0.041"
    # 8 H7 +15/0 and 8 h7 0/-15 um: under the others of its column, to thousandths as they are
    assert METRIC.play(limits(8.0, "H7"), limits(8.0, "h7")) == "0 to 0.030"
    assert METRIC.limits(Limits(40.0, 0.1, -0.25, "")) == "40 (+0.10/-0.25)"
    assert METRIC.limits(Limits(40.0, 0.1, -0.1, "")) == "40 ±0.1"
    assert METRIC.between(hole) == "16.000 to 16.018 mm"
    assert METRIC.between(shaft) == "15.983 to 15.994 mm"
    # a micrometer's half division is 0.005 mm (ISO 3611): nothing outside 16 to 16.018
    assert METRIC.between(hole, MICROMETER_MM) == "16.000 to 16.015 mm"
    assert METRIC.between(shaft, MICROMETER_MM) == "15.985 to 15.990 mm"
    assert METRIC.plain.between(shaft, MICROMETER_MM) == "15.985 to 15.990"
    # of 16 k6, +12/+1 um, halves of a division leave 5 of 11; of -5/-9 none, so it is read to 0.001
    assert METRIC.between(limits(16.0, "k6"), MICROMETER_MM) == "16.005 to 16.010 mm"
    assert METRIC.between(Limits(16.0, -0.006, -0.009, ""), MICROMETER_MM) == "15.991 to 15.994 mm"
    # two limits that are one
    assert METRIC.between(Limits(16.0, 0.0, 0.0, "")) == "16 to 16 mm"


def test_limits_in_inches_are_the_readings_of_a_tenths_micrometer() -> None:
    # 24.987/25.4 = 0.98374, 25/25.4 = 0.98425
    assert INCH.between(Limits(25.0, 0.0, -0.013, "h6")) == "0.9838 to 0.9842 in"


MICROMETER_MM = 0.002
"""What a micrometer is read to between its divisions (common practice)."""

CALIPER_MM = {True: 0.0254, False: 0.02}
"""What calipers read (ISO 13385-1, ASME B89.1.14): their sizes are said to 0.05 mm and 0.001 in."""


def test_limits_read_by_a_caliper_are_as_coarse_as_it_is() -> None:
    size = Limits(40.0, 0.3, -0.3, "")  # 1.56299 to 1.58661 in
    assert METRIC.between(size, CALIPER_MM[False]) == "39.7 to 40.3 mm"
    assert METRIC.between(Limits(10.0, -0.03, -0.15, ""), CALIPER_MM[False]) == "9.85 to 9.95 mm"
    assert INCH.between(size, CALIPER_MM[True]) == "1.563 to 1.586 in"
    # 0.249 to 0.244 in, whole thousandths as they are written, by either
    size = Limits(6.35, -0.0254, -0.1524, "")
    assert INCH.between(size, CALIPER_MM[True]) == "0.244 to 0.249 in"
    assert INCH.between(size) == "0.244 to 0.249 in"
    # zeros stand, as they are read: 0.2500 to 0.2509
    assert INCH.between(Limits(6.35, 0.0009 * 25.4, 0.0, "")) == "0.2500 to 0.2509 in"


@pytest.mark.parametrize("numbers", [METRIC, INCH], ids=["metric", "inch"])
def test_no_reading_of_ten_thousand_is_outside_its_limits(numbers: Numbers) -> None:
    random = Random(15)
    unit = UREG.Quantity(1.0, "inch" if numbers.inch else "mm").to("mm").magnitude
    for _ in range(5_000):
        nominal, lower = random.uniform(0.5, 150.0), random.uniform(-0.5, 0.2)
        size = Limits(nominal, lower + 10 ** random.uniform(-3, 0), lower, "")
        for reads in (CALIPER_MM[numbers.inch], MICROMETER_MM, 0.0):
            texts = numbers.plain.between(size, reads).split(" to ")
            low, high = (float(text) * unit for text in texts)
            assert size.min_mm - 1e-8 <= low < high <= size.max_mm + 1e-8, (size, texts)
            assert high - low >= (size.max_mm - size.min_mm) / 3 - 1e-8, (size, texts)
            places = {len(text.partition(".")[2]) for text in texts}
            assert len(places) == 1, texts  # one way of writing


@pytest.mark.parametrize(
    ("mm", "metric", "inch"),
    [
        # a micrometer reads over 25 mm (ISO 3611) or 1 in (ASME B89.1.13), from memory
        (12.0, "0 to 25 mm", "0 to 1 in"),
        (25.2, "25 to 50 mm", "0 to 1 in"),
        (26.0, "25 to 50 mm", "1 to 2 in"),
        (80.0, "75 to 100 mm", "3 to 4 in"),
    ],
)
def test_a_size_lies_in_the_range_of_its_micrometer(mm: float, metric: str, inch: str) -> None:
    assert METRIC.micrometer_range(mm) == metric
    assert INCH.micrometer_range(mm) == inch


def test_things_go_by_their_names() -> None:
    # tap drill of M8: 6.8 mm (common practice); #7 is 0.201 in, the tap drill of 1/4-20
    assert METRIC.drill(drill_at_most(6.8)) == "6.8 mm"
    # 25/64 in is 9.921875: a metric sheet too says what it measures, and what serves
    tap = drill_at_most(25.4 * 25 / 64, inch=True)
    assert METRIC.drill(tap) == "25/64 in, 9.92 mm (or 9.9 mm)"
    assert METRIC.plain.drill(tap) == "25/64 in, 9.92 (or 9.9 mm)"
    assert INCH.drill(drill_at_least(0.2005 * 25.4, inch=True)) == "#7, 0.201 in"
    assert METRIC.thread("M8") == INCH.thread("M8") == "M8"
    assert METRIC.stock(Section("flat", 50.0, 20.0)) == "flat 50x20"
    assert INCH.stock(Section("round", 19.05)) == "round 3/4 in"


def test_a_value_is_written_by_what_it_is() -> None:
    assert METRIC.value(12.5) == "12.5 mm"
    assert METRIC.plain.value(12.5) == "12.5"
    assert METRIC.value(100) == "100"
    assert METRIC.value("M8") == "M8"
    assert INCH.value(Section("square", 12.7)) == "square 1/2 in"


def test_drawings_have_their_own_signs() -> None:
    # no space before the signs of degree, minute and second: SI Brochure, 9th edition, 5.4.3
    assert METRIC.drawn_angle(60.0) == "60°"
    # one of 50 divisions: 360/50 = 7.2 deg = 7 deg 12 min
    assert METRIC.dms(7, 12, 0) == "7° 12' 00\""
    # preferred values of Ra: 0.8, 1.6, 3.2 um (ISO 21920-1, from memory)
    assert METRIC.roughness(1.6) == METRIC.plain.roughness(1.6) == "Ra 1.6"
    # 1 um is 39.37 uin; the preferred values of ASME B46.1 (from memory) go 16, 32, 63, 125
    assert INCH.roughness(1.6) == "Ra 63 µin" and INCH.plain.roughness(0.8) == "32"
    assert METRIC.swing(0.0, 149.6) == "0 to 150 deg"
