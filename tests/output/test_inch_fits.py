"""One fit, one class, the same limits wherever an inch job speaks of it; drills and threads as a chart
has them.

Classes and limits are typed from ANSI B4.1 (tests/parts/standard/data/ansi_b4_1.csv), in thousandths:
LC5 over 0.40 to 0.71 in +0.7/0 and -0.25/-0.65, over 0.71 to 1.19 +0.8/0 and -0.3/-0.8; LC2 over 0.24
to 0.40 +0.6/0 and 0/-0.4; LC3 over 0.40 to 0.71 +1.0/0 and 0/-0.7, over 0.71 to 1.19 +1.2/0 and 0/-0.8.
The example has a pivot of 3/4 in, a rod of 9/16, a feed journal of 5/16, spigots of 7/8 and 7/16.
"""

from __future__ import annotations

import re

import pytest
from jobs import ROOT, planned

from planner.output.plan import Plan
from planner.output.sheets.sizes import sizes_tables
from planner.output.topics import topic

PRINTED = {
    ("housing", "pivot bore"): "0.7500 LC5 [H7] (+0.0008/0.0000)",
    ("rotating-body", "journal"): "0.7500 LC5 [g6] (-0.0003/-0.0008)",
    ("rotating-body", "rod bore"): "0.5625 LC5 [H7] (+0.0007/0.0000)",
    ("sliding-head", "rod"): "0.5625 LC5 [g6] (-0.0003/-0.0006)",  # inward: -0.25 and -0.65
    ("rotating-body", "spigot bore"): "0.8750 LC3 [H8] (+0.0012/0.0000)",
    ("rotating-body", "spigot"): "0.8750 LC3 [h7] (0.0000/-0.0008)",
    ("sliding-head", "rod hole"): "0.4375 LC3 [H8] (+0.0010/0.0000)",
    ("sliding-head", "rod spigot"): "0.4375 LC3 [h7] (0.0000/-0.0007)",
    ("dial", "dial bore"): "0.3125 LC2 [H7] (+0.0006/0.0000)",
    ("feed-screw", "screw journal"): "0.3125 LC2 [h6] (0.0000/-0.0004)",
}


@pytest.fixture
def inch() -> Plan:
    return planned(ROOT / "examples" / "inch-lathe.toml")


def test_the_sizes_list_every_fit_with_its_class_and_limits(inch: Plan) -> None:
    _, fits, _ = sizes_tables(inch.sizing, inch.attachment, inch.job, explain=False)
    assert fits.shown is not None
    said = {cell for row in fits.shown for cell in row[1:3]}
    assert said == set(PRINTED.values())
    named = {record["fit"]: record for record in fits.records()}
    pivot = named["journal in pivot bore"]
    assert (pivot["hole_class"], pivot["shaft_class"]) == ("LC5 [H7]", "LC5 [g6]")
    # 0.0003 in of least play, 0.0016 of most: the table's own fit column has 0.3 and 1.6
    assert pivot["play_least_mm"] == pytest.approx(0.3 * 0.0254, abs=1e-5)
    assert pivot["play_most_mm"] == pytest.approx(1.6 * 0.0254, abs=1e-5)


def test_the_route_has_the_same_limits_and_what_is_read_lies_within(inch: Plan) -> None:
    for (part, name), printed in PRINTED.items():
        op = next(op for op in inch.operations if op.part == part and name in op.makes)
        assert f"Ø{printed}" in op.text, (part, name)
        nominal, high, low = (float(one) for one in re.findall(r"[+-]?\d\.\d{4}", printed))
        read = re.match(r"([\d.]+) to ([\d.]+) in", op.measure)
        assert read, op.measure
        assert nominal + low - 1e-9 <= float(read[1]) < float(read[2]) <= nominal + high + 1e-9


def test_every_drill_of_the_route_has_its_decimal_and_every_unified_thread_its_class(
    inch: Plan,
) -> None:
    drills, threads = 0, 0
    for op in inch.operations:
        if op.tool.startswith("drill ") and "shanks" not in op.tool:
            assert re.fullmatch(r"drill (#\d+|letter [A-Z]|[\d/-]+), \d\.\d{3,4} in", op.tool), (
                op.tool
            )
            drills += 1
        if op.kind in ("tap", "thread"):
            side = "2B" if op.kind == "tap" else "2A"
            said = re.findall(r"\d+-\d+ UN[CF](?:-\d[AB])?", op.text)
            assert said and all(one.endswith(f"-{side}") for one in said), op.text
            threads += 1
    assert drills > 20 and threads > 10


def test_no_iso_tolerance_governs_an_inch_job(inch: Plan) -> None:
    text = " ".join(topic("route").text(inch, {"explain": False}).split())
    assert "ISO 2768" not in text and ".XXX ±0.003 to 0.250, ±0.005 over" in text
    assert "UN" in text and not re.search(r"(?<!\[)\b[Hgh][678]\b(?!\])", text)
