"""Dimensions that say what they measure, and scales."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from drawing_cases import ANGLE, DIAMETER, INCH, LIMITED, LINEAR, RADIUS, polar
from msgspec.structs import replace

from planner.drawing.model import Dimension, factor, printed


@pytest.mark.parametrize(
    ("text", "size", "last"),
    [
        ("160", 160, 1),
        ("2× Ø 6.60 H13", 6.6, 0.01),
        ("4 × R 2.5", 2.5, 0.1),
        ("SØ 30", 30, 1),
        (".250", 0.25, 0.001),
        ("1-1/2", 1.5, 0),
        ("3/8", 0.375, 0),
        ("Ø 1 3/16", 1.1875, 0),
        ("30° 15'", 30.25, 1 / 60),
        ("45°", 45, 1),
        ("12.5 ± 0.02", 12.5, 0.1),
    ],
)
def test_the_size_that_a_text_says(text: str, size: float, last: float) -> None:
    said, worth = printed(text)
    assert said == pytest.approx(size) and worth == pytest.approx(last, abs=1e-5)


@pytest.mark.parametrize("text", ["", "M8", "Ø", "about 3"])
def test_words_without_a_size_are_none(text: str) -> None:
    with pytest.raises(ValueError, match="no number"):
        printed(text)


def test_what_is_measured() -> None:
    assert LINEAR.measured == pytest.approx(160) and LIMITED.measured == pytest.approx(120)
    assert DIAMETER.measured == pytest.approx(60) and RADIUS.measured == pytest.approx(30)
    assert ANGLE.measured == pytest.approx(30)
    slanting = Dimension("linear", ((0, 0), (30, 40)), ((0, 0), (30, 40)), "50", (0, 10))
    assert slanting.measured == pytest.approx(50)  # 3-4-5
    along_x = replace(slanting, text="30", along_deg=0.0)
    assert along_x.measured == pytest.approx(30)
    back = ((0, 0), polar((0, 0), 30, 10), (10, 0))
    assert Dimension("angle", back, back, "330°", (20, 0)).measured == pytest.approx(330)


@pytest.mark.parametrize(
    ("dimension", "change"),
    [
        (LINEAR, {"text": "161"}),
        (LINEAR, {"text": "160.6 ± 0.1"}),
        (LINEAR, {"inch": True}),
        (LINEAR, {"scale": Fraction(1)}),
        (LINEAR, {"feet": ((40, 130), (120.1, 130))}),
        (LINEAR, {"points": ((0, 0), (160.6, 0))}),
        (LINEAR, {"along_deg": 10.0}),
        (INCH, {"text": "1.001"}),
        (INCH, {"inch": False}),
        (DIAMETER, {"text": "Ø 30"}),
        (RADIUS, {"text": "R 60"}),
        (ANGLE, {"text": "31°"}),
        (ANGLE, {"points": ANGLE.points[:2]}),
    ],
)
def test_a_dimension_that_lies_is_refused(dimension: Dimension, change: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="prints|to scale|points"):
        replace(dimension, **change)


def test_a_size_is_true_to_half_of_its_last_digit() -> None:
    points = ((0.0, 0.0), (6.2832, 0.0))
    assert Dimension("linear", points, points, "6.28", (0, 5)).text == "6.28"
    with pytest.raises(ValueError, match="prints"):
        Dimension("linear", points, points, "6.29", (0, 5))


def test_scales_as_they_are_printed() -> None:
    assert [factor(one) for one in ("1:1", "1:2", "5:1", "1/4", "FULL")] == [
        *(1, Fraction(1, 2), 5, Fraction(1, 4), 1)
    ]
    for wrong in ("2", "1:0", "half", "0:1", "1:2.5"):
        with pytest.raises(ValueError, match="scale"):
            factor(wrong)
