"""Instances for the tests and the benchmark of bar cutting, and two independent ways to solve
them: trying everything, and an assignment model solved by SciPy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from random import Random

from planner.barcut import Bar, Demand

Case = tuple[list[Demand], list[Bar], int]

# 5600 mm paper roll, 73 rolls, 0.401 % waste: Wikipedia, "Cutting stock problem" (seen in the copy
# at graphsearch.epfl.ch/en/concept/826868). No kerf.
ROLL_WIDTHS = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200]
ROLL_DEMAND = [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20]
ROLL: Case = (
    [Demand(w, q) for w, q in zip(ROLL_WIDTHS, ROLL_DEMAND, strict=True)],
    [Bar(5600, None, 1)],
    0,
)
# Widths and demand: GAMS cutting-stock example (seen); roll width 100 and optimum 453: from
# memory, the optimum re-proved with scipy.optimize.milp in test_barcut_known.py.
HUNDRED: Case = (
    [Demand(45, 97), Demand(36, 610), Demand(31, 395), Demand(14, 211)],
    [Bar(100, None, 1)],
    0,
)


def shop(seed: int, fold: int = 1, pieces: int = 2, kinds: int = 2) -> Case:
    """One section of a job, in tenths of a millimetre: `pieces` pieces of `kinds` lengths, three
    offcuts with their numbers, bars of 3 m and 6 m to buy; everything `fold` times."""
    rng = Random(seed)
    lengths = [rng.randint(300, 6000) for _ in range(kinds)]
    wanted = Counter(rng.choice(lengths) for _ in range(pieces))
    demands = [Demand(length, n * fold) for length, n in wanted.items()]
    bars = [
        Bar(rng.randint(2000, 15000), rng.randint(1, 3) * fold, 0, "offcut", remnant=True)
        for _ in range(3)
    ]
    bars.append(Bar(30000, None, rng.randint(2000, 3000), "3 m"))
    bars.append(Bar(60000, None, rng.randint(3500, 5500), "6 m"))
    return demands, bars, rng.choice([10, 20, 25, 30])


def attachment(seed: int, fold: int = 1) -> list[Case]:
    """One attachment: about twelve pieces out of six sections, each cut from its own bars."""
    rng = Random(seed)
    return [shop(rng.randrange(10**6), fold, rng.randint(1, 3), 2) for _ in range(6)]


def tiny(rng: Random) -> Case:
    """A random case small enough to try everything."""
    demands = [Demand(rng.randint(3, 20), rng.randint(1, 2)) for _ in range(rng.randint(1, 4))]
    bars = [
        Bar(rng.randint(8, 30), rng.randint(0, 2), rng.choice([0, 0, 3, 5, 7]))
        for _ in range(rng.randint(1, 3))
    ]
    if rng.random() < 0.6:
        bars.append(Bar(rng.randint(20, 32), None, rng.randint(0, 9)))
    return demands, bars, rng.randint(0, 3)


def triplets(rng: Random, bars: int, length: int) -> Case:
    """Pieces made by cutting `bars` bars into three without waste: so many bars are enough, and
    fewer cannot do, for the pieces are as long as the bars together."""
    wanted: Counter[int] = Counter()
    for _ in range(bars):
        a = rng.randint(length * 38 // 100, length * 49 // 100)
        b = rng.randint((length - a) * 42 // 100, (length - a) // 2)
        wanted.update([a, b, length - a - b])
    return [Demand(w, q) for w, q in wanted.items()], [Bar(length, None, 1)], 0


def single_bars(case: Case) -> list[Bar]:
    """Every bar that could be used, one by one."""
    demands, bars, _ = case
    pieces = sum(d.quantity for d in demands)
    return [
        bar
        for bar in bars
        for _ in range(pieces if bar.available is None else min(pieces, bar.available))
    ]


def try_everything(case: Case) -> tuple[int, int, int] | None:
    """Return the best (cost, drawn length, longest remnant), or None when nothing fits, by
    putting every piece into every bar in turn."""
    demands, _, kerf = case
    bars = sorted(single_bars(case), key=lambda b: (b.length, b.cost))
    pieces = sorted((d.length for d in demands for _ in range(d.quantity)), reverse=True)
    best: tuple[int, int, int] | None = None
    held = [0] * len(bars)

    def place(k: int) -> None:
        nonlocal best
        if k == len(pieces):
            used = [(bar, h) for bar, h in zip(bars, held, strict=True) if h]
            remnant = max((max(0, bar.length - h) for bar, h in used), default=0)
            found = (sum(b.cost for b, _ in used), sum(b.length for b, _ in used), -remnant)
            if best is None or found < best:
                best = found
            return
        tried = set()
        for j, bar in enumerate(bars):
            state = (bar.length, bar.cost, held[j])
            # pieces fit when sum(length + kerf) <= bar + kerf
            if state in tried or held[j] + pieces[k] + kerf > bar.length + kerf:
                continue
            tried.add(state)
            held[j] += pieces[k] + kerf
            place(k + 1)
            held[j] -= pieces[k] + kerf

    place(0)
    return None if best is None else (best[0], best[1], -best[2])


def assignment_milp(case: Case, seconds: float = 60.0) -> tuple[int, int] | None:
    """Return the least (cost, drawn length) by the assignment model (how many of each piece go
    into each single bar) with SciPy's HiGHS, level after level; None when it does not prove it."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    demands, _, kerf = case
    bars = single_bars(case)
    kinds, count = len(demands), len(bars)
    width = kinds * count + count  # pieces of kind i in bar b, then bar b used
    rows: list[np.ndarray] = []
    low: list[float] = []
    high: list[float] = []
    for b, bar in enumerate(bars):
        row = np.zeros(width)
        for i, d in enumerate(demands):
            row[i * count + b] = d.length + kerf
        row[kinds * count + b] = -(bar.length + kerf)
        rows.append(row)
        low.append(-np.inf)
        high.append(0)
        if b and bars[b - 1] == bar:  # of bars alike the first are used first
            row = np.zeros(width)
            row[kinds * count + b - 1], row[kinds * count + b] = -1, 1
            rows.append(row)
            low.append(-np.inf)
            high.append(0)
    for i, d in enumerate(demands):
        row = np.zeros(width)
        row[i * count : (i + 1) * count] = 1
        rows.append(row)
        low.append(d.quantity)
        high.append(d.quantity)
    upper = np.concatenate([np.repeat([d.quantity for d in demands], count), np.ones(count)])
    best: list[int] = []
    for worth in ([b.cost for b in bars], [b.length for b in bars]):
        goal = np.zeros(width)
        goal[kinds * count :] = worth
        answer = milp(
            goal,
            constraints=LinearConstraint(np.array(rows), low, high),
            integrality=np.ones(width),
            bounds=Bounds(0, upper),
            options={"time_limit": seconds, "mip_rel_gap": 0.0},
        )
        if answer.status != 0:
            return None
        used = [round(float(x)) for x in answer.x[kinds * count :]]
        best.append(sum(w * n for w, n in zip(worth, used, strict=True)))
        rows.append(goal)
        low.append(-np.inf)
        high.append(best[-1] + 0.5)
    return best[0], best[1]


def total_waste(lengths: Sequence[int], bar: int) -> int:
    """Return what is left of the fewest bars that are as long as all pieces together."""
    return -sum(lengths) % bar
