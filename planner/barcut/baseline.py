"""First-fit decreasing: the plan a careful hand makes, to measure better ones against."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.barcut.layouts import make_plan, remnant_limit
from planner.barcut.model import Bar, CutPlan, Demand, Proof
from planner.barcut.problem import Problem, reduce
from planner.barcut.sequence import StockLoad, chain
from planner.barcut.shortage import not_enough


def pack_first_fit(problem: Problem) -> tuple[list[StockLoad], list[int]]:
    """Return the bars packed longest piece first, and how many of each kind found no room.

    A piece goes into the first bar begun that has room, else a new bar is begun: of those it
    fits, the one that costs least per length, the shortest of equals, offcuts so before all.
    """
    opening = sorted(
        range(len(problem.stock)),
        key=lambda j: (
            Fraction(problem.stock[j].cost, problem.stock[j].length),
            problem.stock[j].length,
        ),
    )
    unopened = [stock.limit for stock in problem.stock]
    begun: list[tuple[int, list[int], int, int]] = []  # stock, pattern, room left, count
    left = list(problem.quantities)
    kinds = len(problem.sizes)
    for kind, size in enumerate(problem.sizes):
        packed: list[tuple[int, list[int], int, int]] = []

        def put(
            stock: int,
            pattern: list[int],
            room: int,
            count: int,
            kind: int = kind,
            size: int = size,
            packed: list[tuple[int, list[int], int, int]] = packed,
        ) -> None:
            """Put as many pieces as go into `count` bars alike."""
            per_bar = room // size
            full = min(count, left[kind] // per_bar) if per_bar else 0
            some = left[kind] - full * per_bar if per_bar and full < count else 0
            for bars, n in ((full, per_bar), (1 if some else 0, some)):
                if bars:
                    held = [p + n * (k == kind) for k, p in enumerate(pattern)]
                    packed.append((stock, held, room - n * size, bars))
                    left[kind] -= n * bars
                    count -= bars
            if count:
                packed.append((stock, pattern, room, count))

        for number, bars in enumerate(begun):
            if not left[kind]:
                packed += begun[number:]
                break
            if bars[2] < size:
                packed.append(bars)
            else:
                put(*bars)
        for j in opening:
            per_bar = problem.stock[j].room // size
            if per_bar and left[kind] and unopened[j]:
                count = min(unopened[j], -(-left[kind] // per_bar))
                unopened[j] -= count
                put(j, [0] * kinds, problem.stock[j].room, count)
        begun = packed
    return [StockLoad(j, tuple(pattern), count) for j, pattern, _, count in begun], left


def first_fit_decreasing(demands: Sequence[Demand], bars: Sequence[Bar], kerf: int) -> CutPlan:
    """Return the first-fit-decreasing plan: valid, quick, and no better than that.

    demands, bars, kerf: as for `cut_bars`. Bounds in `status` are the ones plain at sight (cost
    0, drawn length of the pieces alone). Raises ValueError for bad input, NotEnoughBars (with
    `proven` False) when this way of packing leaves pieces over.
    """
    problem = reduce(demands, bars, kerf)
    loads, left = pack_first_fit(problem)
    if any(left):
        raise not_enough(problem, left, proven=False)
    bounds = (0, problem.piece_length, remnant_limit(problem))
    return make_plan(problem, chain(loads, 0), bounds, Proof())
