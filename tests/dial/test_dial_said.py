"""What is told of a dial that is wrong or hard to read: whole sentences, sums beside them.

Limits are common practice: lines 0.8 mm and five widths apart, a digit 0.7 of its height wide, half a
millimetre off its line, numerals 0.4 of their height apart (ISO 3098-0 lettering B).
"""

from __future__ import annotations

from math import pi
from typing import Any

import pytest
from msgspec.structs import replace

from planner.dial.design import design_dial
from planner.dial.reading import legibility

GOOD = design_dial(50, 1.0, 32.0)  # lines 2.5, 3.5 and 5 on a rim of 10, numerals 2.5 every ten


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"pitch_mm": 1.0}, "pitch_mm 1.0; must be a Fraction over 0. Use exact_mm(pitch_mm)"),
        (
            {"reading": "inches"},
            "reading 'inches'; must be one of ('divisions', 'hundredths'). Choose one of them",
        ),
        (
            {"middle_every": 3},
            "middle_every 3; must go evenly into 10 divisions from numeral to numeral. Use 10 for no"
            " middle lines",
        ),
        (
            {"numeral_every": 51},
            "numeral_every 51; must be from 1 to 50 divisions. Give a whole number of them",
        ),
        (
            {"short_mm": 4.0},
            "short, middle and long lines and rim width (4.0, 3.5, 5.0, 10.0) mm; each must be at least"
            " the one before. Shorten the lines or widen the rim",
        ),
        (
            {"diameter_mm": -3.0},
            "diameter_mm -3.0; must be a number from 0.001 to 1000 mm. Give the size in mm",
        ),
    ],
)
def test_a_dial_that_cannot_be(change: dict[str, Any], sentence: str) -> None:
    with pytest.raises(ValueError) as caught:
        replace(GOOD, **change)
    assert str(caught.value) == f"dial: {sentence}"


def test_numerals_that_are_no_whole_hundredths() -> None:
    # ten lines of 1.27 / 50 are 25.4 hundredths
    with pytest.raises(ValueError) as caught:
        design_dial(50, 1.27, 32.0, reading="hundredths")
    assert str(caught.value) == (
        "dial: numerals stand 25.4 hundredths of a mm apart; must be whole. Use reading"
        ' "divisions", other divisions or another pitch'
    )


def test_the_limits_of_its_numbers() -> None:
    for change in ({"numeral_every": 50}, {"numeral_every": 1, "middle_every": 1}):
        replace(GOOD, **({"middle_every": 5} | change))
    for size in (0.001, 1000.0):
        assert replace(GOOD, diameter_mm=size).diameter_mm == size
    for equal in ({"short_mm": 3.5}, {"middle_mm": 5.0}, {"long_mm": 10.0}):
        replace(GOOD, **equal)


def test_lines_too_close() -> None:
    # 12 pi / 50 is 0.754; 40 / pi is 12.74; 12 pi / 0.8 is 47.1
    (found,) = legibility(replace(GOOD, diameter_mm=12.0)).findings
    assert found == (
        "dial: 50 lines on 12 mm stand 0.75 mm apart; needs 0.8 mm. Use a rim of at least 12.8 mm or at"
        " most 47 divisions (40, 25, 20)"
    )


def test_numerals_too_close() -> None:
    # every line a numeral: 32 pi / 50 is 2.01; 1.4 of 2.5 is 3.5, for which 50 x 3.5 / pi is 55.7
    close = replace(GOOD, numeral_every=1, middle_every=1)
    (found,) = legibility(close).findings
    assert found == (
        "dial: numerals 2.5 mm high stand 2.01 mm apart; need 3.50 mm. Use a rim of at least 55.8 mm,"
        " lower numerals or fewer of them"
    )


def test_numerals_too_long_for_the_rim() -> None:
    # a line of 5, half a millimetre, two digits of 0.7 x 2.5: 9; on 8 there is 2.5 for 3.5 of numerals
    (found,) = legibility(replace(GOOD, rim_width_mm=8.0)).findings
    assert found == (
        "dial: numerals 2.5 mm high beside 5 mm lines need a rim 9.00 mm wide; has 8 mm. Use a"
        " wider rim or numerals of at most 1.79 mm"
    )
    # beside a line that takes it all there is no numeral to name
    (found,) = legibility(replace(GOOD, rim_width_mm=5.0)).findings
    assert found.endswith("need a rim 9.00 mm wide; has 5 mm. Use a wider rim")


@pytest.mark.parametrize("loss, right", [(0.0, True), (1e-11, True), (1e-6, False)])
def test_what_just_meets_its_limit_is_not_failed_for_a_floats_last_bit(
    loss: float, right: bool
) -> None:
    # 50 lines 0.8 apart; 50 numerals 3.5 apart; a rim of 9 for line and numeral: as above
    lines = legibility(replace(GOOD, diameter_mm=40 / pi * (1 - loss)))
    assert (lines.lines_ok, lines.numerals_ok, lines.rim_ok) == (right, True, True)
    assert lines.most_divisions == (50 if right else 49)
    close = replace(GOOD, numeral_every=1, middle_every=1, diameter_mm=175 / pi * (1 - loss))
    assert legibility(close).numerals_ok is right
    assert legibility(replace(GOOD, rim_width_mm=9.0 * (1 - loss))).rim_ok is right


@pytest.mark.parametrize(
    ("divisions", "every"), [(24, 10), (50, 20), (99, 20), (100, 50), (200, 50), (8, 2)]
)
def test_where_no_numerals_fit_the_fewest_are_taken(divisions: int, every: int) -> None:
    # on a rim of half a millimetre: every 50th, 20th or 10th; of 8 lines four numerals
    assert design_dial(divisions, 1.0, 0.5).numeral_every == every
