"""How long each search of the bar cutter goes on: the numbers that its benchmark was run with.

tests/benchmarks/bench_barcut.py measures what they cost and what they find; what comes out is proven or
its gap stated whatever they are. A slip in one would show in no plan, only in time: so they stand here.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable
from math import inf
from typing import Any

import pytest

from planner.barcut.arcflow import arcs_of, pack_by_flow
from planner.barcut.columns import Known, relax
from planner.barcut.counts import CountSearch
from planner.barcut.effort import Effort
from planner.barcut.exhaust import OutOfEffort, try_all
from planner.barcut.fill import fill_bars
from planner.barcut.highs import HighsProgramme
from planner.barcut.knapsack import value_table
from planner.barcut.programme import programme

MEMORY = "what its arrays take, 8 bytes a cell: at most 128 MB"
BENCH = "tests/benchmarks/bench_barcut.py"

EFFORTS = {
    "arcflow": (
        {"MOST_STATES": 300_000, "MOST_TAKEN": 3_000_000, "MOST_ARCS": 20_000, "MOST_NODES": 20},
        BENCH,
    ),
    "columns": ({"ROUNDS": 400, "MOST_KNOWN": 1000, "PIVOTS": 400, "FINE": 1_000_000}, BENCH),
    "counts": ({"MOST_BOXES": 100_000, "MOST_CELLS": 8_000_000, "DEEP_BOXES": 2000}, MEMORY),
    "exhaust": ({"MOST_BARS": 200, "MOST_KINDS": 200}, "a call deep each; Python allows 1000"),
    "fill": ({"GRID_LIMIT": 262_144}, BENCH),
    "holding": (
        {"QUICK_STEPS": 4000, "FULL_STEPS": 60_000, "REST_STEPS": 3000, "FEW_PIECES": 40},
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
        {"STEPS": 2_000_000, "MOST_BOXES": 400_000, "MOST_VALUE": 4_611_686_018_427_387_904},
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
            "STEPS": 160_000_000,
        },
        BENCH,
    ),
}


@pytest.mark.parametrize("module", EFFORTS)
def test_the_efforts_are_those_that_were_measured(module: str) -> None:
    held, source = EFFORTS[module]
    room = importlib.import_module(f"planner.barcut.{module}")
    assert source and {name: getattr(room, name) for name in held} == held


RATES = {
    "effort": {"BITS_A_STEP": 1500, "CELLS_A_STEP": 70, "ARRAY_CALL": 30},
    "knapsack": {"STATE_STEPS": 12},
    "exhaust": {"TRY_STEPS": 12},
    "highs": {"CALL_STEPS": 40_000, "ENTRY_STEPS": 1, "PLACES_A_STEP": 2},
    "arcflow": {"STATE_STEPS": 6, "ARCS_A_STEP": 6},
}
"""Steps by what is done: within a factor of two of the CPU, at 20 million a second."""


@pytest.mark.parametrize("module", RATES)
def test_what_is_done_is_counted_at_the_rates_measured(module: str) -> None:
    room = importlib.import_module(f"planner.barcut.{module}")
    assert {name: getattr(room, name) for name in RATES[module]} == RATES[module]


def test_an_effort_is_spent_down_to_nothing() -> None:
    effort = Effort(100)
    assert effort.left == 100 and not effort.over
    effort.spend(40)
    part = effort.share(0.5)  # of 60
    assert (part.left, effort.left) == (30, 60)
    part.spend(10)
    assert (part.left, effort.left) == (20, 50)
    effort.spend(20)  # what the whole spends counts for the part too
    assert part.over and part.left == 0 and effort.left == 30 and not effort.over
    part.spend(31)  # the last may be more than is left
    assert effort.over and effort.left == 0
    assert Effort(0).over and not Effort(inf).share(0.6).over


def test_a_programme_makes_the_pivots_that_are_left(monkeypatch: pytest.MonkeyPatch) -> None:
    # 41 rows go to the general solver: (41 + 2) / 2 = 21 steps a pivot, one pivot at least
    import scipy.optimize

    asked: list[int] = []
    solver = scipy.optimize.linprog

    def watched(*args: Any, **kw: Any) -> Any:
        asked.append(kw["options"]["maxiter"])
        return solver(*args, **kw)

    monkeypatch.setattr(scipy.optimize, "linprog", watched)
    for steps, pivots, most in ((10**9, 7, 700), (2100, 7, 100), (0, 7, 1)):
        effort = Effort(steps)
        many = programme([1.0] * 41, effort)
        assert isinstance(many, HighsProgramme)
        for row in (0, 1):
            many.add([int(k == row) for k in range(41)], 1.0)
        many.solve(pivots)
        assert asked.pop() == most and not asked
        assert effort.left <= max(0, steps - 40_000 - 2 * 41)


def test_each_search_spends_what_it_does_and_stops_when_nothing_is_left() -> None:
    # twenty bars of two pieces each: what each is asked for once costs steps, and nothing is free
    rooms, sizes, most = ((100, 20),), [60, 40], [20, 20]
    searches: dict[str, Callable[[Effort], Any]] = {
        "fill": lambda effort: fill_bars(rooms, sizes, most, None, effort).complete,
        "relax": lambda effort: relax(rooms, sizes, most, Known(), effort).covered,
        "table": lambda effort: value_table([3, 2], sizes, most, 100, effort),
        "arcs": lambda effort: arcs_of(100, sizes, most, sizes, 0, effort),
        "flow": lambda effort: pack_by_flow(
            rooms, sizes, most, sizes, value_table(sizes, sizes, most, 100, effort), effort
        ),
        "counts": lambda effort: CountSearch([1], [100], [20], [100]).next(effort),
    }
    for name, search in searches.items():
        effort = Effort(10**6)
        assert search(effort), name
        assert 0 < 10**6 - effort.left < 10**5, name
    for name in ("fill", "relax", "arcs", "flow", "counts"):
        assert not searches[name](Effort(0)), name
    with pytest.raises(OutOfEffort):
        try_all(rooms, sizes, most, [], 10**6, Effort(0))
    spent = Effort(10**6)
    assert try_all(rooms, sizes, most, [], 10**6, spent) is not None and spent.left < 10**6
