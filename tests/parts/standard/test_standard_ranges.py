"""Tables by ranges and by names, cell by cell against formulas and values typed by hand."""

from __future__ import annotations

import csv
from collections import defaultdict
from fractions import Fraction
from itertools import pairwise
from math import sqrt
from pathlib import Path

import pytest

import parts.standard

FOLDER = Path(parts.standard.__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table, read here and not by its own loader."""
    lines = (FOLDER / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("iso286_it.csv", ("grade",)),
        ("iso286_deviations.csv", ("letter", "grade_from")),
        ("iso2768.csv", ("grade",)),
        ("bolts.csv", ("kind", "name")),
    ],
)
def test_ranges_follow_one_another_without_gap_or_overlap(name: str, keys: tuple[str, ...]) -> None:
    groups: dict[tuple[str, ...], list[tuple[float, float]]] = defaultdict(list)
    for row in rows(name):
        span = (float(row["over_mm"]), float(row["upto_mm"]))
        groups[tuple(row[key] for key in keys)].append(span)
    ends = defaultdict(set)
    for key, spans in groups.items():
        assert all(low < high for low, high in spans), key
        assert all(one[1] == two[0] for one, two in pairwise(sorted(spans))), key
        ends[key[0] if name != "iso286_deviations.csv" else ""].add((min(spans)[0], max(spans)[1]))
    if name.startswith("iso286"):
        assert {end for found in ends.values() for end in found} == {(3.0, 120.0)}


def test_standard_tolerances_follow_the_formula() -> None:
    # ISO 286-1 annex: i = 0.45 D^(1/3) + 0.001 D, D the mean proportional of the range; IT5 to IT11
    # are 7, 10, 16, 25, 40, 64 and 100 of it, rounded: to within a micrometre or seven hundredths
    factor = {5: 7, 6: 10, 7: 16, 8: 25, 9: 40, 10: 64, 11: 100}
    seen = 0
    for row in rows("iso286_it.csv"):
        if int(row["grade"]) not in factor:
            continue
        mean = sqrt(float(row["over_mm"]) * float(row["upto_mm"]))
        i = 0.45 * mean ** (1 / 3) + 0.001 * mean
        found = float(row["tolerance_um"])
        assert found == pytest.approx(factor[int(row["grade"])] * i, rel=0.07, abs=1.0), row
        seen += 1
    assert seen == 7 * 7  # seven grades in seven ranges from 3 to 120


def test_general_tolerances_cell_by_cell() -> None:
    # ISO 2768-1 table 1, as on the back of many a drawing's title block (memory)
    ends = (0.5, 3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)
    fine = (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5)
    medium = (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0)
    wanted = {
        (grade, low, high, tolerance)
        for grade, cells in (("f", fine), ("m", medium))
        for (low, high), tolerance in zip(pairwise(ends), cells, strict=False)
    }
    assert {
        (r["grade"], float(r["over_mm"]), float(r["upto_mm"]), float(r["tolerance_mm"]))
        for r in rows("iso2768.csv")
    } == wanted


def test_screws_proof_and_finish() -> None:
    # ISO 898-1 table 3: proof stress 580 (600 over 16 mm), 830, 970 MPa; torque coefficients of
    # Shigley, Mechanical Engineering Design, table 8-15 (memory)
    found = {
        (r["name"], float(r["over_mm"])): float(r["proof_MPa"] or r["torque_coefficient"])
        for r in rows("bolts.csv")
    }
    assert found == {
        ("8.8", 0.0): 580.0, ("8.8", 16.0): 600.0, ("10.9", 0.0): 830.0, ("12.9", 0.0): 970.0,
        ("plain black", 0.0): 0.3, ("zinc plated", 0.0): 0.2, ("lubricated", 0.0): 0.18,
        ("cadmium plated", 0.0): 0.16, ("anti-seize", 0.0): 0.12,
    }  # fmt: skip


def named_mm(name: str) -> float:
    """A length by its name: "16 mm", "1-3/4 in", "1/4 in"."""
    number, unit = name.replace(";", " ").split()[:2]
    whole, _, part = number.rpartition("-")
    value = float(whole or 0) + float(Fraction(part))
    return value * (25.4 if unit == "in" else 1.0)


def test_lengths_are_those_of_their_names() -> None:
    for row in rows("screw_lengths.csv"):
        assert float(row["length_mm"]) == pytest.approx(named_mm(row["length_name"])), row
    for name in ("set_screws.csv", "socket_screws.csv"):
        for row in rows(name):
            assert float(row["key_mm"]) == pytest.approx(named_mm(row["key_name"]), abs=0.001), row
    for row in rows("drills.csv"):
        if row["series"] in ("metric", "fractional"):
            assert float(row["diameter_mm"]) == pytest.approx(named_mm(row["name"])), row


def test_lists_of_dealers_by_hand() -> None:
    # ISO 236 reamers, ISO 5421 bits, ISO 888 screw lengths; ASME B94.2 and B94.10 in inches (memory)
    def metric(name: str, column: str, system: str = "metric", **keys: str) -> list[float]:
        return [
            float(r[column])
            for r in rows(name)
            if r["system"] == system and all(r[k] == v for k, v in keys.items())
        ]

    assert metric("reamers.csv", "diameter_mm") == [
        4, 5, 6, 8, 10, 12, 14, 15, 16, 18, 20, 22, 24, 25, 28, 30, 32, 35, 40, 45, 50,
    ]  # fmt: skip
    assert metric("tool_bits.csv", "side_mm") == [5, 6, 8, 10, 12, 16]
    lengths = [3, 4, 5, 6, 8, 10, 12, 16, *range(20, 75, 5), *range(80, 170, 10), 180, 200]
    socket = metric("screw_lengths.csv", "length_mm", family="socket screw")
    assert socket == [mm for mm in lengths if mm >= 5]
    grub = metric("screw_lengths.csv", "length_mm", family="set screw")
    assert grub == [mm for mm in lengths if mm <= 60]
    # sixteenths: reamers 1/8 to 7/8, then 1 to 1-1/2 by eighths; bits
    sixteenths = [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 16, 18, 20, 22, 24]
    inch = metric("reamers.csv", "diameter_mm", "inch")
    assert inch == pytest.approx([n * 25.4 / 16 for n in sixteenths], abs=1e-4)
    bits = metric("tool_bits.csv", "side_mm", "inch")
    assert bits == pytest.approx([n * 25.4 / 16 for n in (3, 4, 5, 6, 8, 10)], abs=1e-4)
