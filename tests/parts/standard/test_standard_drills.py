"""Drills against published number, letter and fractional sizes."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from parts.standard.drills import DrillRow, drill_at_least, drill_at_most, drill_of, drills
from parts.standard.errors import UnknownSize
from parts.standard.table import load
from parts.standard.threads import threads
from parts.value import Value

DATA = Path(__file__).parent / "data"


class Published(Value, frozen=True):
    series: str
    name: str
    diameter_in: float
    source: str
    mark: str


PUBLISHED = load(DATA / "drill_sizes.csv", Published)
OURS = {row.name: row for row in load("drills.csv", DrillRow, ("name",))}
# The library rounds these to three decimals. #25 and #18 by a drill/tap chart (seen: #25,
# .1495); the others from memory of ASME B94.11M.
ROUNDED = {"#25": 0.1495, "#5": 0.2055, "#10": 0.1935, "#18": 0.1695, "#28": 0.1405}


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: row.name)
def test_number_and_letter_drills(row: Published) -> None:
    inches = OURS[row.name].diameter_mm / 25.4
    assert inches == pytest.approx(ROUNDED.get(row.name, row.diameter_in), abs=1e-6)
    assert abs(inches - row.diameter_in) <= 0.00051
    assert OURS[row.name].series == row.series


def test_every_number_and_letter_is_there_once_and_in_order() -> None:
    numbers = [row for row in OURS.values() if row.series == "number"]
    assert sorted(int(row.name[1:]) for row in numbers) == list(range(1, 61))
    by_number = sorted(numbers, key=lambda row: int(row.name[1:]))
    sizes = [row.diameter_mm for row in by_number]
    assert sizes == sorted(sizes, reverse=True)  # higher number, thinner drill: common practice
    letters = sorted((row for row in OURS.values() if row.series == "letter"), key=lambda r: r.name)
    assert "".join(row.name for row in letters) == "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    assert [row.diameter_mm for row in letters] == sorted(row.diameter_mm for row in letters)


def test_fractional_drills_are_exact_64ths() -> None:
    rows = [row for row in OURS.values() if row.series == "fractional"]
    assert len(rows) == 63  # 2/64 to 64/64
    for row in rows:
        inches = Fraction(row.name.removesuffix(" in"))
        assert 64 % inches.denominator == 0
        assert row.diameter_mm == pytest.approx(float(inches) * 25.4, abs=1e-6)


def test_metric_drills_run_by_tenths_to_13_and_halves_to_25() -> None:
    # ISO 235 jobber series; from memory.
    sizes = {row.diameter_mm for row in OURS.values() if row.series == "metric"}
    assert {n / 10 for n in range(10, 131)} | {n / 2 for n in range(26, 51)} <= sizes
    assert min(sizes) == 1.0 and max(sizes) == 25.0


@pytest.mark.parametrize("size", threads(), ids=lambda size: size.designation)
def test_every_tap_drill_is_a_drill_of_that_name(size: object) -> None:
    # The threads' drills come from tap charts, the drills from drill charts.
    name, diameter = getattr(size, "tap_drill_name"), getattr(size, "tap_drill_mm")  # noqa: B009
    assert OURS[name].diameter_mm == pytest.approx(diameter, abs=1e-4)


def test_choosing_a_drill() -> None:
    # Drill charts: #7 is .201 in, F is .257 in, G is .261 in.
    assert drill_at_most(6.84).name == "6.8 mm"
    assert drill_at_most(6.8).name == drill_at_least(6.8).name == "6.8 mm"
    assert drill_at_least(6.81).name == "6.9 mm"
    assert drill_at_most(0.201 * 25.4, inch=True).name == "#7"
    assert drill_at_least(0.258 * 25.4, inch=True).name == "G"
    assert drill_at_most(0.258 * 25.4, inch=True).name == "F"
    assert drill_at_most(5 / 16 * 25.4, inch=True).name == "5/16 in"
    assert drill_at_most(1000.0).name == "25 mm"
    # a quarter of an inch is a 1/4 drill wherever one asks for it, not a letter E (common practice)
    for quarter in (drill_at_most(6.35, inch=True), drill_at_least(6.35, inch=True)):
        assert quarter.name == "1/4 in"
    assert drill_of(6.35, inch=True) == quarter
    assert "E" in {drill.name for drill in drills(inch=True)}  # and is sold all the same


@pytest.mark.parametrize("inch", [False, True])
def test_drills_are_sorted(inch: bool) -> None:
    sizes = [drill.diameter_mm for drill in drills(inch)]
    assert sizes == sorted(sizes) and len(sizes) > 100


def test_no_such_drill() -> None:
    for look_up, wrong in (
        (drill_at_most, 0.9),
        (drill_at_most, float("nan")),
        (drill_at_most, float("inf")),
        (drill_at_least, 25.1),
        (drill_at_least, float("nan")),
        (drill_at_least, float("-inf")),
    ):
        with pytest.raises(UnknownSize, match="1 mm to 25 mm"):
            look_up(wrong)
