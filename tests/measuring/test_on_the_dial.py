"""A move on a dial is told in whole divisions: inward none too many, outward none too few.

A half division cannot be set by a line (common practice): the last one in is left for the next pass,
and the tip drawn back goes to the end of the one begun, since what is off stays off.
"""

from __future__ import annotations

from typing import Any

import pytest

from planner.measuring.correct import Advice, Estimate
from planner.output.sheets.correct import _on_the_dial
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
