"""Tables whose figures no outside table at hand holds cell by cell: each figure typed a second time.

Where a figure comes from stands in its row. Washers, tolerances and metric holes are typed from memory
of the standards; ranges of speeds, of which each handbook has its own, as the rows had them when they
were read over: a slip of one digit in either place is noticed. Where a row names what it is by another
name (feet a minute, a drill), the figure is worked out from that name.
"""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from pathlib import Path

import pytest

import parts.standard

FOLDER = Path(parts.standard.__file__).parent


def rows(name: str) -> list[dict[str, str]]:
    lines = (FOLDER / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


# Hole, outside and thickness. ISO 7089 in mm; ASME B18.21.1 type A narrow in inches.
WASHERS = """
M3 3.2 7 0.5     M4 4.3 9 0.8     M5 5.3 10 1      M6 6.4 12 1.6    M8 8.4 16 1.6
M10 10.5 20 2    M12 13 24 2.5    M16 17 30 3      M20 21 37 3      M24 25 44 4
No.6 .156 .375 .049    No.8 .188 .438 .049    No.10 .219 .500 .049    No.12 .250 .562 .065
1/4 .281 .625 .065     5/16 .344 .688 .065    3/8 .406 .812 .065      7/16 .469 .922 .065
1/2 .531 1.062 .095    9/16 .594 1.156 .095   5/8 .656 1.312 .095     3/4 .812 1.469 .134
7/8 .938 1.750 .134    1 1.062 2.000 .134
"""


def test_washers() -> None:
    words = WASHERS.split()
    wanted = {
        words[at]: [
            float(one) * (1.0 if words[at].startswith("M") else 25.4)
            for one in words[at + 1 : at + 4]
        ]
        for at in range(0, len(words), 4)
    }
    found = {r["size"]: r for r in rows("washers.csv")}
    assert set(found) == set(wanted) and len(wanted) == 24
    for size, row in found.items():
        sizes = [float(row[key]) for key in ("inside_mm", "outside_mm", "thickness_mm")]
        assert sizes == pytest.approx(wanted[size], abs=1e-6), size


# ISO 286-1, table 1: micrometres of IT4 to IT11, by the end of the range
GRADES = {
    6: (4, 5, 8, 12, 18, 30, 48, 75),
    10: (4, 6, 9, 15, 22, 36, 58, 90),
    18: (5, 8, 11, 18, 27, 43, 70, 110),
    30: (6, 9, 13, 21, 33, 52, 84, 130),
    50: (7, 11, 16, 25, 39, 62, 100, 160),
    80: (8, 13, 19, 30, 46, 74, 120, 190),
    120: (10, 15, 22, 35, 54, 87, 140, 220),
}


def test_standard_tolerances() -> None:
    found = {
        (int(r["upto_mm"]), int(r["grade"])): int(r["tolerance_um"]) for r in rows("iso286_it.csv")
    }
    wanted = {(end, 4 + at): um for end, row in GRADES.items() for at, um in enumerate(row)}
    assert found == {key: um for key, um in wanted.items() if key in found}
    assert len(found) == 56


# metres a minute, least and most
SPEEDS = {
    ("turn", "HSS"): "alloy 15-25 aluminium 60-150"
    " bearing 18.288-60.96 brass 45-120 free-cutting 40-55 medium 20-30"
    " mild 25-45 stainless 9-18 tool 10-20",
    ("turn", "carbide"): "alloy 100-180 aluminium 250-600"
    " bearing 36.576-121.92 brass 200-400 free-cutting 150-250"
    " medium 120-220 mild 150-250 stainless 100-180 tool 60-120",
    ("drill", "HSS"): "aluminium 60-120"
    " bearing 9.144-30.48 brass 60-75 mild 30-36 stainless 6-15 tool 8-15",
    ("drill", "carbide"): "alloy 40-80 aluminium 100-250"
    " bearing 18.288-60.96 brass 100-200 free-cutting 70-110"
    " medium 50-90 mild 60-100 stainless 30-60 tool 30-50",
    ("ream", "HSS"): "aluminium 40-60 bearing 4.572-20.1168 brass 30-45 tool 6-10",
    ("ream", "carbide"): "alloy 30-60 aluminium 80-150"
    " bearing 9.144-40.2336 brass 60-120 free-cutting 60-100 tool 15-30",
    ("mill", "HSS"): "aluminium 60-150"
    " bearing 13.716-45.72 brass 60-150 free-cutting 30-40 medium 18-28 mild 25-35"
    " stainless 9-20",
    ("mill", "carbide"): "alloy 60-120 aluminium 150-400"
    " bearing 27.432-91.44 brass 120-250 free-cutting 100-180"
    " medium 80-140 mild 80-150 stainless 50-100 tool 40-80",
    ("tap", "HSS"): "alloy 5-10 aluminium 12-25"
    " bearing 8-15 brass 15-25 free-cutting 8-15 medium 8-15 mild 8-15"
    " stainless 4-8 tool 3-6",
    ("saw", "HSS"): "alloy 40-60 aluminium 100-200"
    " bearing 50-80 brass 80-120 free-cutting 70-90 medium 50-70"
    " mild 60-80 stainless 25-40 tool 25-40",
}


def test_cutting_speeds_of_one_figure_are_the_feet_a_minute_of_their_source() -> None:
    seen = 0
    for row in rows("cutting_speeds.csv"):
        feet = re.search(r"published (\d+) ft/min", row["source"])
        assert bool(feet) == (row["low_m_min"] == row["high_m_min"]), row
        if feet:
            assert float(row["low_m_min"]) == pytest.approx(float(feet[1]) * 0.3048, abs=1e-9), row
            seen += 1
    assert seen == 32


def test_cutting_speeds_of_two_figures() -> None:
    found: dict[tuple[str, str], list[str]] = {}
    for row in rows("cutting_speeds.csv"):
        if row["low_m_min"] != row["high_m_min"]:
            group = row["group"].split()[0]
            text = f"{group} {row['low_m_min']}-{row['high_m_min']}"
            found.setdefault((row["operation"], row["tool"]), []).append(text)
    assert {key: " ".join(texts) for key, texts in found.items()} == SPEEDS


def test_speeds_that_are_a_share_of_turning() -> None:
    # boring and facing as turning; parting and knurling at about half; threading at a third to a half
    found = {r["operation"]: (r["base"], r["low_factor"], r["high_factor"])
             for r in rows("speed_factors.csv")}  # fmt: skip
    assert found == {
        "bore": ("turn", "1", "1"),
        "face": ("turn", "1", "1"),
        "part": ("turn", "0.4", "0.6"),
        "thread": ("turn", "0.33", "0.5"),
        "knurl": ("turn", "0.4", "0.6"),
        "form": ("turn", "0.25", "0.4"),  # a wide edge at about a third
        "counterbore": ("drill", "0.3", "0.5"),  # a third to half of drilling
    }


# ISO 273, fine and medium series
METRIC_HOLES = """
M3 3.2 3.4  M4 4.3 4.5  M5 5.3 5.5  M6 6.4 6.6  M8 8.4 9  M10 10.5 11  M12 13 13.5  M16 17 17.5
M18 19 20  M20 21 22  M22 23 24  M24 25 26
"""


def test_clearance_holes() -> None:
    words = METRIC_HOLES.split()
    wanted = {words[at]: (words[at + 1], words[at + 2]) for at in range(0, len(words), 3)}
    drills = {r["name"]: float(r["diameter_mm"]) for r in rows("drills.csv")}
    metric: dict[str, list[str]] = {}
    for row in rows("clearance_holes.csv"):
        name, hole = row["hole_name"], float(row["hole_mm"])
        number, _, unit = name.partition(" ")
        if unit == "mm":
            assert hole == float(number), row
            metric.setdefault(row["size"], []).append(row["hole_mm"])
        elif unit == "in":
            whole, _, part = number.rpartition("-")
            assert hole == pytest.approx((float(whole or 0) + float(Fraction(part))) * 25.4), row
        else:
            assert hole == pytest.approx(drills[name], abs=1e-6), row
    assert {size: tuple(holes) for size, holes in metric.items()} == wanted
