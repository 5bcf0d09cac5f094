"""The same input gives the same plan, however slow the machine and whatever its clock says."""

from __future__ import annotations

import importlib
import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest
from barcut_cases import Case

import planner
from planner.barcut import Bar, Demand, cut_bars

ROOM = "planner.barcut"
CLOCKS = ("time", "monotonic", "perf_counter", "process_time", "thread_time")


def mixed(lengths: int) -> Case:
    """So many different lengths out of 3 m and 6 m bars and three offcuts, in tenths of a mm."""
    rng = Random(lengths)
    demands = [Demand(n, rng.randint(1, 3)) for n in rng.sample(range(300, 20_000), lengths)]
    offcuts = [Bar(rng.randint(2000, 15_000), 2, 0, "offcut", remnant=True) for _ in range(3)]
    return demands, [*offcuts, Bar(30_000, None, 2500), Bar(60_000, None, 4700)], 20


One = tuple[int, int]
CASES: list[One] = [
    (60, 300_000),
    (60, 10_000_000),
    (150, 100_000),
    (300, 1_000_000),
    (300, 3_000_000),
]
"""Lengths, and an effort; the lesser ones are spent before all is tried."""


def plan_of(one: One, cut: Callable[..., Any]) -> str:
    lengths, effort = one
    return repr(cut(*mixed(lengths), effort=effort))


@pytest.fixture(scope="module")
def plans() -> dict[One, str]:
    """The plans as they come out here."""
    return {one: plan_of(one, cut_bars) for one in CASES}


def test_the_lesser_efforts_run_out(plans: dict[One, str]) -> None:
    # or the plans below would be the same under any limit: with more of it they come out otherwise
    assert plans[60, 300_000] != plans[60, 10_000_000]
    assert plans[300, 1_000_000] != plans[300, 3_000_000]


def test_clocks_that_say_nonsense_change_no_plan(
    plans: dict[One, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # the room is imported anew under these clocks, so that none that it took by name is missed
    for path in Path(planner.__path__[0], "barcut").glob("*.py"):
        importlib.import_module(f"{ROOM}.{path.stem}".removesuffix(".__init__"))
    for name in [name for name in sys.modules if f"{name}.".startswith(f"{ROOM}.")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setattr(planner, "barcut", None)
    nonsense = Random(0)
    for clock in CLOCKS:
        monkeypatch.setattr(time, clock, lambda: nonsense.uniform(-1e9, 1e9))
        monkeypatch.setattr(time, f"{clock}_ns", lambda: nonsense.randrange(10**18))
    anew = importlib.import_module(ROOM)
    assert anew.cut_bars is not cut_bars
    for one, plan in plans.items():
        assert plan_of(one, anew.cut_bars) == plan, one


def test_a_slow_machine_makes_the_same_plans(
    plans: dict[One, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    # each bar filled and each programme solved takes it many times as long
    from planner.barcut import columns, fill

    def slowed(call: Callable[..., Any], pause_s: float) -> Callable[..., Any]:
        def slow(*args: Any, **kw: Any) -> Any:
            time.sleep(pause_s)
            return call(*args, **kw)

        return slow

    monkeypatch.setattr(fill, "full_pattern", slowed(fill.full_pattern, 0.001))
    monkeypatch.setattr(columns, "programme", slowed(columns.programme, 0.3))
    for one, plan in plans.items():
        assert plan_of(one, cut_bars) == plan, one
