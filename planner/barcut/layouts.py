"""Turns packed bars into a plan in the caller's own demands, bars and units."""

from __future__ import annotations

from collections.abc import Sequence

from planner.barcut.check import count_settings, remnant_of
from planner.barcut.model import GAP, LEVELS, PROVEN, CutPlan, Layout, LevelStatus, Proof
from planner.barcut.problem import Problem
from planner.barcut.sequence import Run


def lay_out(problem: Problem, runs: Sequence[Run]) -> tuple[Layout, ...]:
    """Give the runs their bars and demands, each used up in turn, like neighbours joined."""
    owed = [[[i, problem.demands[i].quantity] for i in group] for group in problem.members]
    racks = [[[j, problem.bars[j].available] for j in stock.members] for stock in problem.stock]
    layouts: list[Layout] = []
    for run in runs:
        count, rack = run.count, racks[run.stock]
        while count:
            number, on_rack = rack[0]
            assert number is not None
            times = count if on_rack is None else min(count, on_rack)
            times = max(1, min(times, *(owed[k][0][1] // n for k, n in run.cuts)))
            pieces: list[int] = []
            for kind, n in run.cuts:
                pieces += _take(owed[kind], n, times)
            bar = problem.bars[number]
            layout = Layout(bar, tuple(pieces), times, 0)
            left = remnant_of(layout, problem.demands, problem.kerf)
            if layouts and layouts[-1].bar == bar and layouts[-1].pieces == layout.pieces:
                times += layouts.pop().count
            layouts.append(Layout(bar, layout.pieces, times, left))
            count -= layout.count
            if on_rack is not None:
                rack[0][1] = on_rack - layout.count
                if not rack[0][1]:
                    rack.pop(0)
    return tuple(layouts)


def _take(owed: list[list[int]], n: int, times: int) -> list[int]:
    """Take `n` pieces `times` over off the demands of one length; return the demands of one bar."""
    pieces: list[int] = []
    while n:
        take = min(n, owed[0][1])
        pieces += [owed[0][0]] * take
        owed[0][1] -= take * times
        n -= take
        if not owed[0][1]:
            owed.pop(0)
    return pieces


def remnant_limit(problem: Problem) -> int:
    """Return a remnant that no plan passes: every bar used holds one piece at least."""
    least = problem.sizes[-1] * problem.unit if problem.sizes else 0
    return max((max(0, stock.length - least) for stock in problem.stock), default=0)


def make_plan(
    problem: Problem,
    runs: Sequence[Run],
    bounds: tuple[int, int, int],
    proof: Proof,
) -> CutPlan:
    """Return the plan of these runs; `bounds` are those of cost, drawn length and remnant."""
    layouts = lay_out(problem, runs)
    values = (
        sum(x.bar.cost * x.count for x in layouts),
        sum(x.bar.length * x.count for x in layouts),
        max((x.remnant for x in layouts), default=0),
        count_settings(layouts, problem.demands),
    )
    # Every length wanted is set once at least.
    status = tuple(
        LevelStatus(level, value, bound, PROVEN if value == bound else GAP)
        for level, value, bound in zip(LEVELS, values, (*bounds, len(problem.sizes)), strict=True)
    )
    return CutPlan(layouts, *values, status=status, proof=proof)
