"""Lengths, pitches and sections as they are written in a job file."""

from __future__ import annotations

import re

import pint
import pytest

from planner.words.units import EXACT, UnitError, length_mm, pitch_mm, section, show_length


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        # 1 in = 25.4 mm exactly: International Yard and Pound Agreement, 1959
        ("12 mm", 12.0),
        ("1/2 in", 12.7),
        ("3-7/8 in", 98.425),
        ("3 7/8 in", 98.425),
        ("0.5in", 12.7),
        ('1-1/4"', 31.75),
        ("2.5 cm", 25.0),
        ("1 m", 1000.0),
        ("1 ft", 304.8),
        ("1e1 mm", 10.0),
    ],
)
def test_a_length_with_its_unit_needs_no_declared_one(text: str, mm: float) -> None:
    assert length_mm(text, None) == pytest.approx(mm, abs=1e-9)


def test_a_bare_number_takes_the_declared_unit() -> None:
    assert length_mm(2, "in") == pytest.approx(50.8)
    assert length_mm("7/8", "in") == pytest.approx(22.225)
    assert length_mm(2, "mm") == 2.0


@pytest.mark.parametrize(
    "bad",
    [
        12,
        "12",
        "12 kg",
        "12 furlongs",
        "twelve",
        "",
        "nan mm",
        float("nan"),
        float("inf"),
        True,
        None,
        [1],
        "1/0 in",
        "1/2/3 in",
        "12 mm mm",
        # larger than a float holds: as it is written, and only once it is in millimetres
        "1e308 in",
        "9" * 400 + " mm",
        "9" * 400 + "/2 in",
        "1-" + "9" * 400 + "/2 in",
        10**400,
    ],
)
def test_what_is_no_length_is_refused_with_a_remedy(bad: object) -> None:
    with pytest.raises(UnitError) as caught:
        length_mm(bad, None)
    assert caught.value.limit and caught.value.remedy


def test_threads_per_inch_are_a_pitch() -> None:
    # 20 threads per inch is 25.4/20 = 1.27 mm: common practice
    assert pitch_mm("20 tpi", "mm") == pytest.approx(1.27)
    assert pitch_mm("1 mm", None) == 1.0
    with pytest.raises(UnitError):
        pitch_mm("0 tpi", "mm")
    with pytest.raises(UnitError):
        pitch_mm("9" * 400 + " tpi", "mm")
    with pytest.raises(UnitError):
        section("tube 1e308x1", "in")


@pytest.mark.parametrize(
    ("text", "unit", "label"),
    [
        ("round 20", "mm", "round 20"),
        ("flat 50 x 20 mm", None, "flat 50x20"),
        ("flat 20x50", "mm", "flat 50x20"),
        ("tube 40x5 mm", None, "tube 40x5"),
        ("square 16mm", None, "square 16"),
    ],
)
def test_sections_are_read(text: str, unit: str | None, label: str) -> None:
    assert section(text, unit).label() == label


def test_inch_sections_are_read() -> None:
    assert section("tube 1-1/2 x 1/4 in", None).label(inch=True) == "tube 1-1/2 x 1/4 in"


@pytest.mark.parametrize(
    "bad",
    [
        "round",
        "round 20x5 mm",
        "flat 20 mm",
        "tube 20x10 mm",
        "tube 20x12 mm",
        "oval 20 mm",
        "round 0 mm",
        20,
        "flat 20x0 mm",
    ],
)
def test_what_is_no_section_is_refused(bad: object) -> None:
    with pytest.raises(UnitError):
        section(bad, None)


@pytest.mark.parametrize(
    ("mm", "inch", "text"),
    [
        (12.5, False, "12.5"),
        (12.0, False, "12"),
        (98.425, True, "3-7/8"),
        (12.7, True, "1/2"),
        (10.0, True, "0.394"),
        (25.4, True, "1"),
        (-0.0001, False, "0"),
    ],
)
def test_lengths_are_shown_as_the_shop_writes_them(mm: float, inch: bool, text: str) -> None:
    assert show_length(mm, inch) == text


def test_the_section_of_the_example_is_one() -> None:
    with pytest.raises(UnitError) as caught:
        section("a plank", "mm")
    assert caught.value.remedy == (
        'Write a section such as "round 20 mm", "flat 50x20 mm" or "tube 40x5 mm"'
    )
    for text in re.findall('"(.*?)"', caught.value.remedy):
        assert section(text, None).label() == text.removesuffix(" mm")


def test_the_units_read_without_pint_are_as_pint_has_them() -> None:
    lengths = pint.get_application_registry()
    assert {unit: lengths.Quantity(1.0, unit).to("mm").magnitude for unit in EXACT} == EXACT
