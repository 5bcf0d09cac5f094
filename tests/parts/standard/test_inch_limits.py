"""Fits and general tolerances of inch designs: against ANSI B4.1, ISO 286, ISO 2768."""

from __future__ import annotations

from pathlib import Path

import pressfit  # type: ignore[import-untyped]
import pytest

from parts.standard.errors import UnknownSize
from parts.standard.fits import LOCATED, PRESSED, SLIDING, SNUG, Limits, Pair
from parts.standard.inch_limits import ansi_row, ansi_rows, general_rows
from parts.standard.series import INCH, METRIC
from parts.standard.table import load
from parts.value import Value

MM = 25.4


class Published(Value, frozen=True):
    fit: str
    over_in: float
    upto_in: float
    hole: str
    hole_upper_thou: float
    hole_lower_thou: float
    shaft: str
    shaft_upper_thou: float
    shaft_lower_thou: float
    source: str
    mark: str


PUBLISHED = load(
    Path(__file__).parent / "data" / "ansi_b4_1.csv", Published, ("fit", "over_in", "upto_in")
)
PAIRS = (SLIDING, SNUG, LOCATED, PRESSED)
RANGES = [(0.12, 0.24), (0.24, 0.4), (0.4, 0.71), (0.71, 1.19), (1.19, 1.97), (1.97, 3.15)]
RANGES += [(3.15, 4.72)]
"""Of ANSI B4.1; the first reaches down to 0.118 in here, the last to 4.73, of what ISO 286 has."""


def ends(over: float, upto: float) -> tuple[float, float, float]:
    """Inside the lower end of a range, in it, and its upper end, which belongs to it, mm."""
    return (over + 1e-5) * MM, (over + upto) / 2 * MM, upto * MM


def thou(size: Limits) -> tuple[float, float]:
    return round(size.upper_mm / MM * 1000, 6), round(size.lower_mm / MM * 1000, 6)


def rows_at(over: float, upto: float) -> list[Published]:
    """The published rows of a range; force fits have finer ones within it."""
    return [row for row in PUBLISHED if row.over_in < upto - 0.02 and over + 0.02 < row.upto_in]


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.inch)
def test_fits_are_the_published_rows(pair: Pair) -> None:
    rows = [row for row in PUBLISHED if row.fit == pair.inch and row.over_in >= 0.12]
    for row in rows:
        for mm in ends(row.over_in, min(row.upto_in, 4.72)):
            hole, shaft = INCH.hole(mm, pair), INCH.shaft(mm, pair)
            assert thou(hole) == (row.hole_upper_thou, row.hole_lower_thou), (mm, row)
            assert thou(shaft) == (row.shaft_upper_thou, row.shaft_lower_thou), (mm, row)
            assert hole.designation == f"{row.fit} [{row.hole}]"
            assert shaft.designation == f"{row.fit} [{row.shaft}]"
    assert len(rows) >= (0 if pair is LOCATED else 4)  # of LC3 one row was seen, to 0.12 in


@pytest.mark.parametrize(("over", "upto"), [(0.0, 0.12), *RANGES])
def test_each_limit_is_that_of_its_symbol_in_every_other_fit(over: float, upto: float) -> None:
    """H7 is one hole, whatever shaft goes in; grades 6 and 7 are as wide in every letter; g is g."""
    rows, seen = rows_at(over, upto), set()
    for mine in (ansi_row((over + upto) / 2 * MM, pair.inch) for pair in PAIRS):
        if mine is None:
            continue
        wide = mine.shaft_upper_thou - mine.shaft_lower_thou
        for row in rows:
            where = (mine.fit, row.fit, over)
            if row.hole == mine.hole:
                assert (mine.hole_upper_thou, mine.hole_lower_thou) == (
                    row.hole_upper_thou,
                    row.hole_lower_thou,
                ), where
                seen.add((mine.fit, "hole"))
            if row.shaft[-1] == mine.shaft[-1]:
                other = row.shaft_upper_thou - row.shaft_lower_thou
                assert wide == pytest.approx(other, abs=1e-9), where
                seen.add((mine.fit, "width"))
            if row.shaft[:-1] == mine.shaft[:-1] == "g":
                assert mine.shaft_upper_thou == row.shaft_upper_thou, where
                seen.add((mine.fit, "g"))
        if mine.shaft.startswith("h"):  # by the standard: an h shaft has the nominal size at most
            assert mine.shaft_upper_thou == 0.0
    # not a limit of LC2, LC3 and LC5 that was not held against something published
    assert seen >= {
        *((fit, what) for fit in ("LC2", "LC3", "LC5") for what in ("hole", "width")),
        ("LC5", "g"),
    }


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.inch)
def test_a_fit_is_like_the_iso_fit_in_its_brackets(pair: Pair) -> None:
    # pressfit 0.1.0 (PyPI): its own ISO 286-1 tables. The ABC system rounds the same grades to tenths
    # of a thousandth, 2.54 um, so that they are 1.7 um apart at most; H8 2.6, p6 4
    most = {PRESSED: 4.0, LOCATED: 2.6}.get(pair, 1.7)
    for row in (row for row in ansi_rows() if row.fit == pair.inch and row.over_in >= 0.12):
        other = pressfit.fit(f"{row.hole}/{row.shaft}", (row.over_in + row.upto_in) / 2 * MM)
        for mine, iso in (
            (row.hole_upper_thou, other.hole_es_um),
            (row.hole_lower_thou, other.hole_ei_um),
            (row.shaft_upper_thou, other.shaft_es_um),
            (row.shaft_lower_thou, other.shaft_ei_um),
        ):
            assert abs(mine * 25.4 - iso) < most, (row, mine, iso)


def test_ranges_follow_one_another_and_a_gap_has_no_row() -> None:
    for fit in {row.fit for row in ansi_rows()}:
        rows = [row for row in ansi_rows() if row.fit == fit]
        for one, other in zip(rows, rows[1:], strict=False):
            assert one.upto_in == other.over_in, fit
        assert rows[0].over_in == 0.0
        assert rows[-1].upto_in == (3.15 if fit == "LN2" else 4.73)


def test_where_the_standard_was_not_seen_the_limits_are_isos_and_say_so() -> None:
    # ISO 286-2: over 80 up to 100 mm H7 is 0 to 35 um, p6 37 to 59
    mm = 3.5 * MM
    hole, shaft = INCH.hole(mm, PRESSED), INCH.shaft(mm, PRESSED)
    assert (hole.upper_mm, hole.lower_mm, hole.designation) == (0.035, 0.0, "ISO H7")
    assert (shaft.upper_mm, shaft.lower_mm, shaft.designation) == (0.059, 0.037, "ISO p6")
    # at 3.15 in, 80.01 mm, the standard's row holds still
    assert INCH.shaft(3.15 * MM, PRESSED).designation == "LN2 [p6]"


def test_a_metric_design_keeps_iso_286() -> None:
    # ISO 286-2: 20 H7 0 to 21 um, g6 -7 to -20, h7 0 to -21; 10 H8 0 to 22, h8 0 to -22
    assert METRIC.hole(20.0, SLIDING) == Limits(20.0, 0.021, 0.0, "H7")
    assert METRIC.shaft(20.0, SLIDING) == Limits(20.0, -0.007, -0.020, "g6")
    assert METRIC.shaft(20.0, SNUG) == Limits(20.0, 0.0, -0.021, "h7")
    assert METRIC.hole(10.0, LOCATED) == Limits(10.0, 0.022, 0.0, "H8")
    assert METRIC.shaft(10.0, LOCATED) == Limits(10.0, 0.0, -0.022, "h8")


@pytest.mark.parametrize("series", [INCH, METRIC])
def test_sizes_beyond_the_tables_are_refused(series: object) -> None:
    for mm in (2.99, 120.01):
        with pytest.raises(UnknownSize):
            series.hole(mm, SLIDING)  # type: ignore[attr-defined]
        with pytest.raises(UnknownSize):
            series.shaft(mm, SLIDING)  # type: ignore[attr-defined]


ISO_2768_M = [(6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5), (1000.0, 0.8), (2000.0, 1.2)]
"""ISO 2768-1:1989 table 1, medium: up to so many mm, plus or minus (memory)."""


@pytest.mark.parametrize(
    ("inches", "decimals", "tolerance"),
    [
        # common practice: .XXX 0.005, .XX 0.010; to 1/4 in 0.003, for ISO 2768-m has 0.0039 to 6 mm
        (0.01, 3, 0.003), (0.125, 3, 0.003), (0.25, 3, 0.003), (0.251, 3, 0.005),
        (0.5, 3, 0.005), (1.0, 3, 0.005), (1.19, 3, 0.005), (1.2, 2, 0.010), (2.0, 2, 0.010),
        (4.74, 2, 0.010), (1.23, 2, 0.010),
        # a fraction has that of three decimals, whatever it is in decimals
        (1.25, 3, 0.005), (1.5, 3, 0.005), (1.375, 3, 0.005), (1 + 1 / 64, 3, 0.005),
        # .X from 4.75 in where the size is so exactly
        (5.4, 1, 0.015), (6.0, 1, 0.015), (6.24, 2, 0.010), (6.125, 3, 0.005), (27 / 64, 3, 0.005),
        (5.5, 3, 0.005), (6.25, 3, 0.005),
        (2 + 27 / 64, 3, 0.005), (79.9, 1, 0.015),
    ],
)  # fmt: skip
def test_decimals_carry_the_general_tolerance(
    inches: float, decimals: int, tolerance: float
) -> None:
    found = INCH.general(inches * MM)
    assert found.designation == "." + "X" * decimals and found.is_general
    assert found.nominal_mm == inches * MM
    assert found.upper_mm == -found.lower_mm == pytest.approx(tolerance * MM, abs=1e-12)


@pytest.mark.parametrize(
    ("inches", "least", "most"),
    [
        # drills of ASME B94.11M: #18 0.1695, #17 0.173, letter F 0.257; halves to even
        # (ASTM E29, from memory); 0.003 to 1/4 in, 0.005 over (common practice)
        (0.1695, 0.167, 0.173), (0.173, 0.170, 0.176), (0.257, 0.252, 0.262),
        (0.2501, 0.245, 0.255), (1.9488, 1.944, 1.954),
    ],
)  # fmt: skip
def test_what_three_decimals_do_not_say_is_within_its_tolerance_about_what_they_say(
    inches: float, least: float, most: float
) -> None:
    found = INCH.general(inches * MM)
    assert found.nominal_mm == inches * MM
    assert (found.min_mm / MM, found.max_mm / MM) == pytest.approx((least, most), abs=1e-9)


@pytest.mark.parametrize(
    ("inches", "upper", "lower", "least", "most"),
    [
        # by hand: 0.65625 is written 0.656, 0.53125 0.531; 0.004 either way of those
        (0.65625, 0.1, -0.1, 0.652, 0.660), (0.53125, 0.1, -0.1, 0.527, 0.535),
        (0.328125, 0.1, -0.1, 0.324, 0.332), (0.21875, 0.05, -0.05, 0.217, 0.221),
        # 0.02 mm is 0.00079 in: a thousandth; 0.01 mm 0.00039: half of one
        (2.735, 0.02, 0.0, 2.735, 2.736), (1.25, 0.02, -0.02, 1.249, 1.251),
        (0.5, 0.01, -0.01, 0.4995, 0.5005),
        # a thousandth about 0.812 would be half of one off 13/16: such ends on tenths
        (0.8125, 0.02, -0.02, 0.8115, 0.8135), (0.46875, 0.02, -0.02, 0.4678, 0.4698),
        (0.1875, 0.05, -0.05, 0.186, 0.190), (0.812, 0.02, -0.02, 0.811, 0.813),
        # of one side: never past the size, and as wide
        (0.1915, 0.1, 0.0, 0.192, 0.196), (0.1915, 0.0, -0.1, 0.187, 0.191),
    ],
)  # fmt: skip
def test_limits_end_on_thousandths(
    inches: float, upper: float, lower: float, least: float, most: float
) -> None:
    found = INCH.within(inches * MM, upper, lower)
    assert found.nominal_mm == inches * MM
    assert (found.min_mm / MM, found.max_mm / MM) == pytest.approx((least, most), abs=1e-9)
    assert METRIC.within(10.0, upper, lower) == Limits(10.0, upper, lower, "")


def test_no_general_tolerance_allows_more_than_what_the_parts_are_laid_out_for() -> None:
    for parts in range(1, 64 * 70):
        mm = parts * MM / 64
        most = next(within for upto, within in ISO_2768_M if mm <= upto)
        assert INCH.general(mm).upper_mm <= most, mm
        # a size of three decimals may be rounded by half a thousandth, and allows no more then
        assert INCH.general(mm).upper_mm + 0.0005 * MM <= most or parts % 8 == 0, mm


def test_general_tolerances_end_with_their_table() -> None:
    largest = max(row.upto_in for row in general_rows())
    assert INCH.general(largest * MM).upper_mm == pytest.approx(0.015 * MM)
    with pytest.raises(UnknownSize, match="80.5 in"):
        INCH.general(80.5 * MM)
    assert METRIC.general(20.0) == Limits(20.0, 0.2, -0.2, "ISO 2768-m")
