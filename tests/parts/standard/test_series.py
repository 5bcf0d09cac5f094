"""The series of a design's sizes: what becomes of millimetres in an inch job, by hand."""

from __future__ import annotations

import numpy as np
import pytest

from parts.standard.drills import drills
from parts.standard.series import INCH, METRIC

MM = 25.4


@pytest.mark.parametrize(
    ("mm", "inches"),
    [
        # a 64th is 0.396875 mm: 0.5 is 1.26 of them, 1 is 2.52, 1.8 is 4.54, 2.5 is 6.30, 2.97 is 7.48
        (0.2, 1 / 64), (0.5, 1 / 64), (1.0, 3 / 64), (1.8, 5 / 64), (2.5, 3 / 32), (2.97, 7 / 64),
        # from 1/8 in 32nds: 4 is 5.04 of them, 5 is 6.30, 7 is 8.82; what is a 64th stays one
        (3.0, 1 / 8), (4.0, 5 / 32), (5.0, 3 / 16), (7.0, 9 / 32), (MM * 13 / 64, 13 / 64),
        # half a 64th and less is no fraction: 0.15 is 5.9 thousandths, 0.02 is 7.9 tenths of one
        (0.15, 0.006), (0.02, 0.0008),
    ],
)  # fmt: skip
def test_an_allowance_in_inches(mm: float, inches: float) -> None:
    assert INCH.nominal(mm) == pytest.approx(MM * inches, abs=1e-9)
    assert METRIC.nominal(mm) == mm


def test_a_hole_of_an_allowance_is_a_drills() -> None:
    # fractional drills run by 64ths from 1/32 to 1 in (ASME B94.11M)
    sold = [drill.diameter_mm for drill in drills(inch=True)]
    for mm in np.arange(0.9, 25.0, 0.37):
        assert min(abs(INCH.nominal(float(mm)) - one) for one in sold) < 1e-6


@pytest.mark.parametrize(
    ("mm", "inches"),
    [(0.1, 0.004), (-0.2, -0.008), (0.05, 0.002), (0.03, 0.001), (0.012, 0.0005), (0.0, 0.0)],
)
def test_a_deviation_in_inches(mm: float, inches: float) -> None:
    assert INCH.limit(mm) == pytest.approx(MM * inches, abs=1e-9)
    assert METRIC.limit(mm) == mm
    # a tolerance the same, but for what is under a thousandth: the half of one
    assert INCH.tolerance(mm) == pytest.approx(MM * inches, abs=1e-9)
    assert METRIC.tolerance(mm) == mm
    ten = INCH.within(10 * MM, abs(mm), -abs(mm))
    assert ten.upper_mm == pytest.approx(abs(MM * inches), abs=1e-9)


@pytest.mark.parametrize(
    ("mm", "inches"), [(0.02, 0.001), (0.01, 0.0005), (-0.015, -0.0005), (0.005, 0.0002)]
)
def test_a_tolerance_under_a_thousandth_is_the_half_of_one(mm: float, inches: float) -> None:
    # 0.79, 0.39 and 0.59 thousandths; 0.2 of one is left in tenths
    assert INCH.tolerance(mm) == pytest.approx(MM * inches, abs=1e-9)


def test_sizes_worked_out_are_rounded_to_64ths_or_metric_steps() -> None:
    # 5 mm is 12.6 64ths
    worked = (INCH.nearest(5.0), INCH.up(5.0), INCH.down(5.0), INCH.up(MM * 3 / 64))
    assert [mm / MM * 64 for mm in worked] == pytest.approx([13, 13, 12, 3], abs=1e-9)
    assert (METRIC.nearest(5.26, 0.5), METRIC.up(5.26, 0.5), METRIC.down(5.26, 0.5)) == (
        5.5,
        5.5,
        5.0,
    )
    assert (METRIC.nearest(5.26), METRIC.up(5.26), METRIC.down(5.26)) == (5.26, 5.26, 5.26)
    assert METRIC.nearest(2.2499, 0.1) == 2.2
    column = INCH.up(np.array([5.0, 10.0]))
    assert list(column / MM * 64) == pytest.approx([13, 26], abs=1e-9)
    assert list(METRIC.nearest(np.array([0.26, 1.04]), 0.1)) == [0.3, 1.0]


def test_steps_between_tools() -> None:
    # reamers run by sixteenths, 1.5875 mm (ASME B94.2)
    assert (INCH.whole(2.0), METRIC.whole(2.0)) == (MM / 16, 2.0)
    assert (INCH.step_mm, METRIC.step_mm) == (MM / 16, 1.0)


def test_sizes_in_a_sentence() -> None:
    text = "{1.5} to {2 mm} over it, at most {0.015 mm}; {5 mm|3/16 in} thick"
    assert METRIC.words(text) == "1.5 to 2 mm over it, at most 0.015 mm; 5 mm thick"
    assert INCH.words(text) == "1/16 to 5/64 in over it, at most 0.0006 in; 3/16 in thick"


def test_a_hole_in_felt_is_no_size_that_nobody_punches() -> None:
    # a 7/16 thread is 11.1125: a metric shop punches felt 11.5, and has no 11.11 (common practice)
    assert METRIC.punched(11.1125) == 11.5 and METRIC.punched(8.0) == 8.0
    assert INCH.punched(8.0) == 21 / 64 * 25.4 and INCH.punched(9.525) == 9.525
