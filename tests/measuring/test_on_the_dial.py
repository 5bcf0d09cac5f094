"""A move on a dial is told in whole divisions: inward none too many, outward none too few.

A half division cannot be set by a line (common practice): the last one in is left for the next pass,
and the tip drawn back goes to the end of the one begun, since what is off stays off.
"""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from planner.measuring.correct import Advice, Estimate
from planner.output.sheets.correct import _advice, _on_the_dial, _shown
from planner.words.numbers import INCH, METRIC, counted


def advice(what: Any, error_mm: float, division_mm: float) -> Advice:
    size = abs(error_mm)
    return Advice(
        what, Estimate(error_mm, 0.001), True, "a move", size, size / division_mm, 0.002, ""
    )


@pytest.mark.parametrize(
    ("what", "error_mm", "words"),
    [
        # the dial's division is 0.02 mm of radius
        ("size", 0.178, ", 8 div and 0.018"),
        ("size", -0.178, ", 9 div: 0.002 more"),
        ("size", 0.1, ", 5 div"),
        ("size", -0.1, ", 5 div"),
        ("size", 0.1005, ", 5 div"),  # a fortieth of a division over
        ("size", 0.012, ", less than 1 div"),
        ("size", -0.012, ", 1 div: 0.008 more"),
        ("zero", 0.05, ", 2 div and 0.01"),
        ("zero", -0.05, ", 3 div: 0.01 more"),
        ("skew", -0.05, ", 2 div and 0.01"),  # no metal is lost either way
        ("offset", 0.05, ", 2 div and 0.01"),
    ],
)
def test_whole_divisions_to_the_safe_side(what: str, error_mm: float, words: str) -> None:
    assert _on_the_dial(advice(what, error_mm, 0.02), METRIC.plain) == words


def test_an_inch_dial_says_its_rest_in_inches() -> None:
    # 8.9 thousandths on a dial of thousandths
    one = advice("size", 8.9 * 0.0254, 0.0254)
    assert _on_the_dial(one, INCH.plain) == ", 8 div and 0.0009"


def test_one_of_a_thing_is_no_plural() -> None:
    assert [counted(n, "pip") for n in (0, 1, 2)] == ["0 pips", "1 pip", "2 pips"]
    assert [counted(n, "pass") for n in (1, 6)] == ["1 pass", "6 passes"]


@pytest.mark.parametrize(("numbers", "length"), [(METRIC.plain, "100"), (INCH.plain, "4")])
@pytest.mark.parametrize("justified", [True, False])
def test_what_is_told_over_a_length_says_over_which(
    numbers: Any, length: str, justified: bool
) -> None:
    """An error of travel is so much in so much, whether it is mended or left (common practice)."""
    over = 101.6 if numbers.inch else 100.0
    found = replace(advice("screw", 0.8, 0.02), justified=justified, divisions=None, over_mm=over)
    (row,) = _advice((found,), numbers).shown or ()
    assert row[0] == f"travel of the feed screw over {length}"
    assert row[2] == ("a move" if justified else "leave it")


@pytest.mark.parametrize(
    ("of_one", "told"),
    [(0.008, "0.00800"), (0.00566, "0.00566"), (0.000039, "0.00004"), (-0.000001, "0.00000")],
)
def test_what_a_screws_travel_is_off_and_its_doubt_have_the_same_decimals(
    of_one: float, told: str
) -> None:
    """A value and its uncertainty are stated to the same place (JCGM 100:2008, 7.2.6)."""
    assert _shown("screw's travel off, of one", of_one, INCH.plain) == told
