"""How long each search of the bar cutter goes on: the numbers that its benchmark was run with.

tests/benchmarks/bench_barcut.py measures what they cost and what they find; what comes out is proven or
its gap stated whatever they are. A slip in one would show in no plan, only in time: so they stand here.
"""

from __future__ import annotations

import importlib

import pytest

from planner.barcut.clock import Clock
from planner.barcut.highs import HighsProgramme
from planner.barcut.programme import programme

MEMORY = "what its arrays take, 8 bytes a cell: at most 128 MB"
BENCH = "tests/benchmarks/bench_barcut.py"

EFFORTS = {
    "arcflow": ({"MOST_STATES": 300_000, "MOST_ARCS": 40_000, "LONGEST_RUN_S": 5.0}, BENCH),
    "columns": ({"ROUNDS": 400, "MOST_KNOWN": 1000, "PIVOTS": 400, "FINE": 1_000_000}, BENCH),
    "counts": ({"MOST_BOXES": 100_000, "MOST_CELLS": 8_000_000, "DEEP_BOXES": 2000}, MEMORY),
    "exhaust": ({"MOST_BARS": 200, "MOST_KINDS": 200}, "a call deep each; Python allows 1000"),
    "fill": ({"GRID_LIMIT": 262_144}, BENCH),
    "holding": (
        {"QUICK_EFFORT": 4000, "FULL_EFFORT": 60_000, "REST_EFFORT": 3000, "FEW_PIECES": 40},
        BENCH,
    ),
    "knapsack": (
        {
            "BIT_LIMIT": 67_108_864,
            "BIT_WORK": 2_147_483_648,
            "LIST_LIMIT": 4096,
            "ARRAY_LIMIT": 16_777_216,
            "ARRAY_WORK": 268_435_456,
        },
        MEMORY,
    ),
    "programme": ({"FEW_ROWS": 40}, BENCH + ": up to here quicker than starting SciPy"),
    "proof": (
        {"EFFORT": 2_000_000, "MOST_BOXES": 400_000, "MOST_VALUE": 4_611_686_018_427_387_904},
        "2^62: a sum of two is still a whole number of 64 bits",
    ),
    "remnant": ({"TRIES": 24}, BENCH),
    "sequence": ({"MOST_CHAINED": 600, "WORK": 150_000, "MOST_TRIES": 40}, BENCH),
    "simplex": ({"EPSILON": 1e-9}, "far above what floats lose in forty rows"),
    "solve": (
        {
            "MOST_UNDECIDED": 3,
            "MOST_PASSED": 200,
            "MOST_NEARER": 16,
            "MOST_TIES": 24,
            "MOST_REPACKED": 80,
            "REPACKINGS": 8,
            "SHORTAGE_PACKINGS": 20,
        },
        BENCH,
    ),
}


@pytest.mark.parametrize("module", EFFORTS)
def test_the_efforts_are_those_that_were_measured(module: str) -> None:
    held, source = EFFORTS[module]
    room = importlib.import_module(f"planner.barcut.{module}")
    assert source and {name: getattr(room, name) for name in held} == held


def test_a_programme_has_the_time_that_is_left() -> None:
    # many rows go to the general solver, with what the clock has left; a tenth of a second at least
    many = programme([1.0] * 41, Clock(60.0))
    assert isinstance(many, HighsProgramme) and 50.0 < many._seconds <= 60.0
    late = programme([1.0] * 41, Clock(-1.0))
    assert isinstance(late, HighsProgramme) and late._seconds == 0.1
