"""What is read as a length, a pitch or a section, to the last figure; every sentence where it is none.

A fraction is worked out by hand; 25.4 mm to the inch, exact since 1959.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from planner.words.units import (
    UnitError,
    fraction_text,
    length_mm,
    number,
    pitch_mm,
    section,
    show_length,
    trimmed,
    unit_name,
)

LENGTH = 'Write a length such as "12 mm" or "1/2 in"'
SECTION = 'Write a section such as "round 20 mm", "flat 50x20 mm" or "tube 40x5 mm"'
UNIT = 'Write mm, cm, m, in or ft, as in "12 mm"'


def refused(read: Any, *given: Any) -> tuple[str, str, str]:
    with pytest.raises(UnitError) as caught:
        read(*given)
    return caught.value.code, caught.value.limit, caught.value.remedy


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12 mm", 12.0), ("-12 mm", -12.0), ("+12 mm", 12.0), ("- 1/2 in", -12.7), ("1.5 cm", 15.0),
        ("0.02 m", 20.0), ("1 ft", 304.8), ("1'", 304.8), ('2"', 50.8), ("3-7/8 in", 98.425),
        ("3 7/8 in", 98.425), ("3 - 7/8 inches", 98.425), ("1 meter", 1000.0), ("2 feet", 609.6),
    ],
)  # fmt: skip
def test_a_length(text: str, mm: float) -> None:
    assert length_mm(text, None) == pytest.approx(mm, rel=1e-12)
    assert length_mm(text, "in") == pytest.approx(mm, rel=1e-12)


def test_a_number_is_in_the_files_unit() -> None:
    assert (length_mm(2, "mm"), length_mm(2.5, "in"), length_mm("2", "in")) == (2.0, 63.5, 50.8)
    assert [number(text) for text in ("12", "0.5", "1/2", "3-7/8", "1 1/4")] == [
        *(12.0, 0.5, 0.5, 3.875, 1.25),
    ]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ((True, "mm"), ("not-a-length", "not a length", LENGTH)),
        ((None, "mm"), ("not-a-length", "not a length", LENGTH)),
        (("much", "mm"), ("not-a-length", "not a length", LENGTH)),
        (
            ("1/0 mm", None),
            ("not-a-length", "'1/0' divides by zero", "Write a fraction such as 3/8"),
        ),
        (
            (float("nan"), "mm"),
            ("not-a-length", "not a finite number", 'Write a length such as "12 mm"'),
        ),
        (
            (10**400, "mm"),
            ("not-a-length", "not a finite number", 'Write a length such as "12 mm"'),
        ),
        (
            (1e308, "in"),
            ("not-a-length", "too large to be a length", 'Write one such as "1/2 in"'),
        ),
        (("12 parsnips", None), ("wrong-unit", "'parsnips' is not a unit known here", UNIT)),
        (("12 s", None), ("wrong-unit", "'s' is not a unit of length", UNIT)),
        (
            (12, None),
            (
                "no-unit",
                "a number without a unit, and the file declares none",
                'Write a unit, as in "12 mm" or "1/2 in",'
                ' or put units = "mm" or "in" at the top of the file',
            ),
        ),
    ],
)
def test_no_length(given: tuple[Any, Any], told: tuple[str, str, str]) -> None:
    assert refused(length_mm, *given) == told


INCH_LENGTH = 'Write a length such as "1/2", "3-7/8 in" or 0.125'
INCH_SECTION = 'Write a section such as "round 3/4", "flat 2 x 3/4" or "tube 1-1/2 x 1/4 in"'


@pytest.mark.parametrize(
    ("read", "given", "told"),
    [
        (length_mm, "much", ("not-a-length", "not a length", INCH_LENGTH)),
        (
            length_mm,
            10**400,
            ("not-a-length", "not a finite number", 'Write a length such as "1/2 in"'),
        ),
        (
            length_mm,
            "12 parsnips",
            (
                "wrong-unit",
                "'parsnips' is not a unit known here",
                'Write in, ft or mm, as in "1/2 in"',
            ),
        ),
        # a thou is a thousandth of an inch, a tenth a tenth of that; a foot is 12 in (common practice)
        (
            length_mm,
            "7 thou",
            ("wrong-unit", "'thou' is not a unit known here", 'Write "0.007 in"'),
        ),
        (
            length_mm,
            "2 tenths",
            ("wrong-unit", "'tenths' is not a unit known here", 'Write "0.0002 in"'),
        ),
        (length_mm, "1 ft 3 in", ("not-a-length", "not a length", 'Write "15 in"')),
        (length_mm, "2' 6-1/2\"", ("not-a-length", "not a length", 'Write "30.5 in"')),
        (
            length_mm,
            "1/2 h7",
            ("not-a-length", "not a length", 'Write "1/2 in": the size alone, or its unit'),
        ),
        (
            length_mm,
            ".0O1",
            ("not-a-length", "not a length", 'Write ".001", with a nought for the letter O'),
        ),
        (section, "a plank", ("not-a-section", "not a stock section", INCH_SECTION)),
        (section, "flat 2", ("not-a-section", "a flat takes two sizes", INCH_SECTION)),
        (section, "rd 1-1/4", ("not-a-section", "not a stock section", 'Write "round 1-1/4"')),
        (
            section,
            "tube 1-1/2 x .120 wall",
            (
                *("not-a-section", "'wall' is no unit: the second size of a tube is its thickness"),
                'Write "tube 1-1/2 x .120"',
            ),
        ),
    ],
)
def test_an_inch_file_is_told_in_inches(read: Any, given: Any, told: tuple[str, str, str]) -> None:
    assert refused(read, given, "in") == told


def test_what_an_inch_file_is_told_to_write_can_be_read() -> None:
    assert [length_mm(one, "in") for one in ("1/2", "3-7/8 in", 0.125)] == pytest.approx(
        [12.7, 98.425, 3.175]
    )
    for text in INCH_SECTION.split('"')[1::2]:
        assert section(text, "in").label(True).removesuffix(" in") == text.removesuffix(" in")
    assert section("tube 1-1/2 x .120", "in").thickness_mm == pytest.approx(0.12 * 25.4)


def test_a_pitch() -> None:
    assert pitch_mm("20 tpi", None) == pytest.approx(1.27)
    assert pitch_mm("11-1/2 tpi", None) == pytest.approx(25.4 / 11.5)
    assert pitch_mm("1.5 mm", None) == 1.5 and pitch_mm(2, "mm") == 2.0
    told = ("not-a-pitch", "no pitch", 'Write threads per inch such as "20 tpi"')
    assert refused(pitch_mm, "0 tpi", None) == told
    assert refused(pitch_mm, "1e-400 tpi", None) in (told, ("not-a-length", "not a length", LENGTH))


@pytest.mark.parametrize(
    ("text", "shape", "width", "thickness"),
    [
        ("round 20 mm", "round", 20.0, 0.0), ("square 5/8 in", "square", 15.875, 0.0),
        ("flat 50x20 mm", "flat", 50.0, 20.0), ("flat 20 x 50 mm", "flat", 50.0, 20.0),
        ("flat 20 X 20 mm", "flat", 20.0, 20.0), ("tube 40 × 5 mm", "tube", 40.0, 5.0),
        ("tube 1-1/2 * 1/4 in", "tube", 38.1, 6.35), ('round 1"', "round", 25.4, 0.0),
        ("tube 40x19.9", "tube", 40.0, 19.9),
    ],
)  # fmt: skip
def test_a_section(text: str, shape: str, width: float, thickness: float) -> None:
    found = section(text, "mm")
    assert (found.shape, found.width_mm, found.thickness_mm) == (
        shape,
        pytest.approx(width),
        pytest.approx(thickness),
    )


@pytest.mark.parametrize(
    ("given", "limit"),
    [
        (20, "not a stock section"),
        ("hexagon 20 mm", "not a stock section"),
        ("flat 50 mm", "a flat takes two sizes"),
        ("tube 50 mm", "a tube takes two sizes"),
        ("round 20x5 mm", "a round takes one size"),
        ("square 20x20 mm", "a square takes one size"),
        ("round 0 mm", "a section has no size of zero"),
        ("flat 20x0 mm", "a section has no size of zero"),
        ("tube 0x5 mm", "a section has no size of zero"),
        ("tube 40x20 mm", "the wall is thicker than the tube's radius"),
        ("tube 40x30 mm", "the wall is thicker than the tube's radius"),
    ],
)
def test_no_section(given: Any, limit: str) -> None:
    assert refused(section, given, "mm") == ("not-a-section", limit, SECTION)


def test_how_lengths_are_shown() -> None:
    # a 64th is named where it is within 0.002 mm: 12.7019 is 1/2, 12.7021 is 0.500
    shown = [show_length(mm, True) for mm in (12.7, 12.7019, 12.7021, 98.425, -12.7, 0.4, -0.004)]
    assert shown == ["1/2", "1/2", "0.500", "3-7/8", "-1/2", "0.016", "0.000"]
    assert [show_length(12.3456, inch, 1) for inch in (False, True)] == ["12.3", "0.5"]
    assert show_length(12.7, True, 4) == "0.5000" and show_length(12.3456, False) == "12.35"
    assert [fraction_text(Fraction(n, 8)) for n in (0, 4, 8, 31, -31)] == [
        *("0", "1/2", "1", "3-7/8", "-3-7/8"),
    ]
    assert [trimmed(x, 3) for x in (1.5, 2.0, -0.0001, 100.0, 0.12345)] == [
        *("1.5", "2", "0", "100", "0.123"),
    ]
    assert trimmed(100.0, 0) == "100" and (unit_name(True), unit_name(False)) == ("in", "mm")
