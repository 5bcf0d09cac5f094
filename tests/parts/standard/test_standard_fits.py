"""Limits of size against published rows, an independent library, and ISO 2768-1."""

from __future__ import annotations

import itertools
from pathlib import Path

import pressfit  # type: ignore[import-untyped]
import pytest

from parts.standard.errors import UnknownSize
from parts.standard.fits import GRADES, general_tolerance_mm, limits
from parts.standard.table import load
from parts.value import Value

DATA = Path(__file__).parent / "data"
RANGES = [(3, 6), (6, 10), (10, 18), (18, 30), (30, 40), (40, 50), (50, 65), (65, 80)]
RANGES += [(80, 100), (100, 120)]


class PublishedLimits(Value, frozen=True):
    tolerance_class: str
    over_mm: float
    upto_mm: float
    upper_um: float
    lower_um: float
    source: str
    mark: str


PUBLISHED = load(
    DATA / "iso286_limits.csv", PublishedLimits, ("tolerance_class", "over_mm", "source")
)


def micrometres(size_mm: float, tolerance_class: str) -> tuple[float, float]:
    found = limits(size_mm, tolerance_class)
    return round(found.upper_mm * 1000, 6), round(found.lower_mm * 1000, 6)


def sizes_of(over_mm: float, upto_mm: float) -> tuple[float, float, float]:
    """Just inside the lower end, the middle, and the upper end, which belongs to the range."""
    return over_mm + 0.001, (over_mm + upto_mm) / 2, upto_mm


@pytest.mark.parametrize("tolerance_class", sorted({row.tolerance_class for row in PUBLISHED}))
def test_limits_match_the_published_rows(tolerance_class: str) -> None:
    rows = [row for row in PUBLISHED if row.tolerance_class == tolerance_class]
    for row in rows:
        for size in sizes_of(row.over_mm, row.upto_mm):
            assert micrometres(size, tolerance_class) == (row.upper_um, row.lower_um), (size, row)


@pytest.mark.parametrize("letter", ["c", "d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "s"])
def test_shafts_match_an_independent_library(letter: str) -> None:
    # pressfit 0.1.0 (PyPI): its own hand-entered ISO 286-1 tables.
    for grade, ends in itertools.product(GRADES, RANGES):
        for size in sizes_of(*ends):
            other = pressfit.fit(f"H{grade}/{letter}{grade}", size)
            assert micrometres(size, f"{letter}{grade}") == (other.shaft_es_um, other.shaft_ei_um)
            assert micrometres(size, f"H{grade}") == (other.hole_es_um, other.hole_ei_um)


@pytest.mark.parametrize("letter", ["C", "D", "E", "F", "G"])
def test_clearance_holes_mirror_the_shafts_of_an_independent_library(letter: str) -> None:
    # ISO 286-1: EI = -es for A to H. Shafts from pressfit 0.1.0.
    for grade, ends in itertools.product(GRADES, RANGES):
        for size in sizes_of(*ends):
            shaft = pressfit.fit(f"H{grade}/{letter.lower()}{grade}", size)
            mirrored = (-shaft.shaft_ei_um, -shaft.shaft_es_um)
            assert micrometres(size, f"{letter}{grade}") == mirrored


# ISO 286-1:2010 table of es for a and b, by the sub-ranges above, as tabulated in
# github.com/rf-ghofmockel/rf-tolerance DIN286TypeData (A and B, mirrored); seen.
LOOSE = {
    "a": (-270, -280, -290, -300, -310, -320, -340, -360, -380, -410),
    "b": (-140, -150, -150, -160, -170, -180, -190, -200, -220, -240),
}


@pytest.mark.parametrize("letter", LOOSE)
def test_the_loosest_shafts_and_holes(letter: str) -> None:
    for ends, deviation in zip(RANGES, LOOSE[letter], strict=True):
        for size in sizes_of(*ends):
            assert micrometres(size, f"{letter}11")[0] == deviation
            assert micrometres(size, f"{letter.upper()}11")[1] == -deviation


# Published limits of the coarser and the finer tight classes, micrometres; from memory of
# ISO 286-2 tables (S7 and N9 are also in DIN 7157 and key-way tables).
FROM_MEMORY = [
    (8, "N9", 0, -36),
    (25, "N9", 0, -52),
    (8, "P9", -15, -51),
    (25, "P9", -22, -74),
    (25, "S7", -27, -48),
    (60, "S7", -42, -72),
    (70, "S7", -48, -78),
    (25, "R7", -20, -41),
    (70, "R7", -32, -62),
    (25, "K8", 10, -23),
    (25, "k8", 33, 0),
    (25, "M8", 4, -29),
    (25, "N8", -3, -36),
    (25, "A11", 430, 300),
    (25, "c11", -110, -240),
    (45, "c11", -130, -290),
    (25, "r6", 41, 28),
    (100, "r6", 73, 51),
    (25, "j6", 9, -4),
    (25, "J7", 12, -9),
    (25, "K5", 1, -8),
    (8, "H9", 36, 0),
]


@pytest.mark.parametrize(("size", "tolerance_class", "upper", "lower"), FROM_MEMORY)
def test_classes_from_memory_of_iso_286_2(
    size: float, tolerance_class: str, upper: float, lower: float
) -> None:
    assert micrometres(size, tolerance_class) == (upper, lower)


def test_ranges_take_their_upper_end_and_the_first_its_lower_end() -> None:
    # ISO 286-1: over 18 up to and including 30 has IT7 = 21, over 30 up to 50 has 25.
    assert micrometres(30, "H7") == (21, 0)
    assert micrometres(30.001, "H7") == (25, 0)
    assert micrometres(3, "H7") == (12, 0)


def test_limits_of_size() -> None:
    # Worked example of any text book: 20 g6 is 19.993 to 19.980 mm (seen: -7, -20).
    found = limits(20.0, "g6")
    assert (found.max_mm, found.min_mm) == pytest.approx((19.993, 19.980), abs=1e-9)
    assert found.mean_mm == pytest.approx(19.9865, abs=1e-9)
    assert (found.nominal_mm, found.designation) == (20.0, "g6")


@pytest.mark.parametrize(
    ("size", "tolerance_class", "remedy"),
    [
        (2.9, "H7", "3 to 120 mm"),
        (120.1, "H7", "3 to 120 mm"),
        (float("nan"), "H7", "3 to 120 mm"),
        (-20.0, "H7", "3 to 120 mm"),
        (20.0, "H4", "grade of 5 to 11"),
        (20.0, "H12", "grade of 5 to 11"),
        (20.0, "x6", "use a letter"),
        (20.0, "hH7", "use a letter"),
        (20.0, "", "use a letter"),
        (20.0, "j8", "use j7"),
        (20.0, "J5", "use J6"),
        (20.0, "K9", "5 to 8"),
    ],
)
def test_what_is_outside_the_tables_is_refused(
    size: float, tolerance_class: str, remedy: str
) -> None:
    with pytest.raises(UnknownSize, match=remedy):
        limits(size, tolerance_class)


@pytest.mark.parametrize(
    ("size", "grade", "tolerance"),
    # ISO 2768-1:1989 table 1, seen in a DIN ISO 2768-1 sheet.
    [
        (0.5, "m", 0.1),
        (6, "m", 0.1),
        (6.01, "m", 0.2),
        (30, "m", 0.2),
        (120, "m", 0.3),
        (400, "m", 0.5),
        (1000, "m", 0.8),
        (2000, "m", 1.2),
        (3, "f", 0.05),
        (30, "f", 0.1),
        (31, "f", 0.15),
        (121, "f", 0.2),
        (2000, "f", 0.5),
    ],
)
def test_general_tolerances(size: float, grade: str, tolerance: float) -> None:
    assert general_tolerance_mm(size, grade) == tolerance


def test_general_tolerances_outside_the_table_are_refused() -> None:
    for size, grade in ((0.4, "m"), (4000.1, "m"), (2000.1, "f"), (20, "x"), (float("inf"), "m")):
        with pytest.raises(UnknownSize, match="ISO 2768"):
            general_tolerance_mm(size, grade)
