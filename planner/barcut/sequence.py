"""Saws the bars in an order that sets the saw stop seldom."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from parts.value import Value
from planner.barcut.fill import Pattern

MOST_CHAINED = 600  # more bars than this are kept in runs of like bars
WORK = 150_000
MOST_TRIES = 40


class StockLoad(Value, frozen=True):
    """`count` bars of stock kind `stock`, each holding `pattern` (pieces per kind)."""

    stock: int
    pattern: Pattern
    count: int


class Run(Value, frozen=True):
    """`count` bars of stock kind `stock` sawn alike: (kind of piece, pieces) in sawing order."""

    stock: int
    cuts: tuple[tuple[int, int], ...]
    count: int


def settings_of(runs: Sequence[Run]) -> int:
    """Return how often the stop is set when the runs are sawn in order."""
    settings, last = 0, -1
    for run in runs:
        first, final, within = run.cuts[0][0], run.cuts[-1][0], len(run.cuts) - 1
        settings += (first != last) + within + (run.count - 1) * (within + (first != final))
        last = final
    return settings


def least_settings(loads: Sequence[StockLoad]) -> int:
    """Return settings that no order of these bars comes below: each length once, and for every
    bar as many as it has lengths, less the one it may begin with."""
    lengths = {k for load in loads for k, n in enumerate(load.pattern) if n}
    changes = sum(load.count * (sum(map(bool, load.pattern)) - 1) for load in loads)
    return max(len(lengths), 1 + changes)


def chain(loads: Sequence[StockLoad], seed: int) -> list[Run]:
    """Return the loads in sawing order, each bar begun, where it can be, with the length the last
    one ended with; the best of several greedy chains."""
    bars = sum(load.count for load in loads)
    if bars > MOST_CHAINED:
        runs = [
            Run(x.stock, tuple((k, n) for k, n in enumerate(x.pattern) if n), x.count)
            for x in loads
        ]
        return sorted(runs, key=lambda run: run.cuts)
    rng = Random(seed)
    tries = max(1, min(MOST_TRIES, WORK // max(1, bars * len(loads))))
    least = least_settings(loads)
    best: list[Run] = []
    for attempt in range(tries):
        runs = _greedy(loads, rng if attempt else None)
        if not best or settings_of(runs) < settings_of(best):
            best = runs
        if settings_of(best) == least:
            break
    return best


def _greedy(loads: Sequence[StockLoad], rng: Random | None) -> list[Run]:
    def noise() -> float:
        return 0.0 if rng is None else 2.5 * rng.random()

    waiting = [[k, load.count] for k, load in enumerate(loads)]
    kinds = [[k for k, n in enumerate(load.pattern) if n] for load in loads]
    demand: dict[int, int] = {}  # bars still waiting that hold a kind
    for load, held in zip(loads, kinds, strict=True):
        for kind in held:
            demand[kind] = demand.get(kind, 0) + load.count
    last = -1
    runs: list[Run] = []
    while waiting:
        best: tuple[float, int, int, int] | None = None
        for place, (number, _) in enumerate(waiting):
            held = kinds[number]
            linked = last in held
            # Begin a new chain with a length that few bars wait for, leave by one that many do.
            first = last if linked else min(held, key=lambda k: demand[k])
            others = [k for k in held if k != first]
            final = max(others, key=lambda k: demand[k] + noise()) if others else first
            # Linked bars first, single lengths before all.
            score = (1000.0 if linked else 0.0) + (0.0 if others else 500.0)
            score += demand[final] - (0 if linked else 2 * demand[first]) + noise()
            if best is None or score > best[0]:
                best = (score, place, first, final)
        assert best is not None
        _, place, first, final = best
        number, count = waiting[place]
        held = kinds[number]
        times = count if len(held) == 1 else 1
        inner = [k for k in held if k not in (first, final)]
        order = [first, *inner, *([final] if final != first else [])]
        load = loads[number]
        runs.append(Run(load.stock, tuple((k, load.pattern[k]) for k in order), times))
        last = final
        for kind in held:
            demand[kind] -= times
        waiting[place][1] -= times
        if not waiting[place][1]:
            waiting.pop(place)
    return runs
