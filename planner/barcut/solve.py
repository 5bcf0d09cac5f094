"""Cuts bars: bar counts first, in order of cost and drawn length, then the packing."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from random import Random

from planner.barcut.baseline import pack_first_fit
from planner.barcut.check import check_plan
from planner.barcut.counts import Counts, CountSearch, pool
from planner.barcut.effort import Effort
from planner.barcut.fill import fill_bars
from planner.barcut.holding import Holder, Verdict
from planner.barcut.layouts import make_plan, remnant_limit
from planner.barcut.model import Bar, CutPlan, Demand, Exclusion, NotEnoughBars, PriceCut, Proof
from planner.barcut.problem import Problem, reduce
from planner.barcut.remnant import RemnantSearch, assign, longest_of
from planner.barcut.sequence import Run, StockLoad, chain, least_settings, settings_of
from planner.barcut.shortage import not_enough

MOST_UNDECIDED = 3  # choices of bars given every means; those after them only a quick look
MOST_PASSED = 200
MOST_NEARER = 16  # choices of bars tried between the best found and its bound
ANY_LENGTH = 10**30
MOST_TIES = 24
MOST_REPACKED = 80  # bars
REPACKINGS = 8
SHORTAGE_PACKINGS = 20
STEPS = 160_000_000
"""Of work, unless another effort is asked for: eight to ten seconds on a machine of 2020."""


def cut_bars(
    demands: Sequence[Demand],
    bars: Sequence[Bar],
    kerf: int,
    *,
    effort: int = STEPS,
    seed: int = 0,
) -> CutPlan:
    """Plan the cutting of bars into pieces, best and proven so.

    demands: the pieces, lengths and quantities whole numbers of 1 or more.
    bars: the stock lengths, how many there are of each and what one costs.
    kerf: width of the saw cut, 0 or more.
    All lengths are whole units of one kind; take a unit fine enough that every length and the
    kerf are whole (tenths of a millimetre, 1/64 in), at most 10**9 of them per bar. Costs are
    whole money units (cents). At most 5 000 000 pieces.
    effort: steps of work to spend, above 0: a step is about an addition in a Python list, twenty
    million a second on a machine of 2020. What is begun is finished, so that the last search may go
    beyond. seed: of the random packings. No clock is read: the same input, effort and seed give
    the same plan on any machine with the same SciPy, whatever else it does.

    Pieces fit a bar exactly when the sum of their (length + kerf) <= bar + kerf. Best means, one
    level after the other: least cost of the bars used; least total length of the bars used;
    longest remnant left on any one of them; fewest settings of the saw stop. Cost and drawn length
    are least and proven, the remnant is proven or its gap stated, the stop settings are few by a
    good rule of thumb; `status` says how each level stands, and `proof` can be re-checked with
    `check_proof`. When the effort is spent the best plan found is returned with the bounds proven
    so far and "gap".

    Returns the plan. Raises ValueError listing every fault of the input; NotEnoughBars when the
    bars cannot hold the pieces.

    >>> plan = cut_bars([Demand(300, 4), Demand(450, 2)], [Bar(1000, None, 500)], 3)
    >>> plan.cost, plan.drawn_length, plan.level("cost").status
    (1500, 3000, 'proven')
    """
    if not (isinstance(effort, int | float) and isfinite(effort) and effort > 0):
        raise ValueError(f"effort {effort!r} is not a number above 0; give the steps to spend")
    budget = Effort(effort)
    problem = reduce(demands, bars, kerf)
    if not problem.sizes:
        return make_plan(problem, [], (0, 0, 0), Proof())
    if not problem.stock or problem.sizes[0] > max(stock.room for stock in problem.stock):
        raise _shortage(problem, budget, seed, proven=True)
    plan = _Solver(problem, budget, seed).solve()
    check_plan(demands, bars, kerf, plan)
    return plan


def _size(problem: Problem, left: Sequence[int]) -> int:
    return sum(s * q for s, q in zip(problem.sizes, left, strict=True))


def _shortage(problem: Problem, effort: Effort, seed: int, proven: bool) -> NotEnoughBars:
    """Return the exception for the fullest of several packings of all the bars."""
    rooms = pool([(stock.room, stock.limit) for stock in problem.stock])
    best = pack_first_fit(problem)[1]
    rng = Random(seed)
    for _ in range(SHORTAGE_PACKINGS):
        if effort.over:
            break
        # With waste unlimited it goes on to the last bar.
        waste = problem.total_size + sum(room * count for room, count in rooms)
        left = fill_bars(rooms, problem.sizes, problem.quantities, rng, effort, waste).left
        if _size(problem, left) < _size(problem, best):
            best = list(left)
    return not_enough(problem, best, proven)


class _Solver:
    """One run of `cut_bars`: the least bars, then the longest remnant, then the sawing order."""

    def __init__(self, problem: Problem, effort: Effort, seed: int) -> None:
        stock = problem.stock
        self._problem, self._effort, self._seed = problem, effort, seed
        self._rooms = [s.room for s in stock]
        longest = max((bar.length + problem.kerf) // problem.unit for bar in problem.bars)
        self._holder = Holder(problem.sizes, problem.quantities, longest, effort, seed)
        self._search = CountSearch(
            [s.cost for s in stock],
            [s.length for s in stock],
            [s.limit for s in stock],
            self._rooms,
        )
        self._told = 0  # cuts of the holder that the search knows
        self._best: tuple[tuple[int, int], Counts, list[StockLoad]] | None = None

    def solve(self) -> CutPlan:
        bound = self._least_bars()
        if self._best is None:
            raise _shortage(self._problem, self._effort, self._seed, proven=bound is None)
        key, counts, loads = self._best
        search = RemnantSearch(self._problem, self._holder, loads)
        limit = remnant_limit(self._problem)
        if bound == key:
            ties = self._ties(key, counts)
            every = len(ties) <= MOST_TIES and not self._effort.over
            remnant = search.run(ties[:MOST_TIES])
            if not every:
                remnant = max(remnant, limit)
            bounds = (*key, remnant)
        else:
            assert bound is not None
            search.run([counts])
            level = bound[1] if bound[0] == key[0] else self._problem.piece_length
            bounds = (bound[0], level, limit)
        runs = self._few_settings(search.loads)
        return make_plan(self._problem, runs, bounds, self._proof())

    def _key(self, counts: Counts) -> tuple[int, int]:
        stock = self._problem.stock
        return (
            sum(s.cost * n for s, n in zip(stock, counts, strict=True)),
            sum(s.length * n for s, n in zip(stock, counts, strict=True)),
        )

    def _keep(self, loads: list[StockLoad]) -> None:
        """Keep the loads when they are better than the best so far."""
        used = [0] * len(self._rooms)
        for load in loads:
            used[load.stock] += load.count
        key = self._key(tuple(used))
        if self._best is None or key < self._best[0]:
            self._best = (key, tuple(used), loads)

    def _tell_search(self) -> None:
        """Hand the search the cuts found since."""
        for cut in self._holder.cuts[self._told :]:
            self._search.add_cut([cut.table.best(room) for room in self._rooms], cut.need)
        self._told = len(self._holder.cuts)

    def _least_bars(self) -> tuple[int, int] | None:
        """Find the bars of least (cost, length); return the bound proven, None when no bars do."""
        loads, left = pack_first_fit(self._problem)
        if not any(left):
            self._keep(loads)
        else:
            everything = tuple(s.limit for s in self._problem.stock)
            verdict = self._holder.decide(self._search.rooms_of(everything))
            if verdict.loads is not None:
                self._keep(assign(self._problem, everything, verdict.loads))
            elif verdict.cut is not None or verdict.excluded:
                return None
        undecided = 0
        bound: tuple[int, int] | None = None
        effort = self._effort.share(0.6)  # what is left goes to better plans when none is proven
        while undecided < MOST_PASSED:
            self._tell_search()
            counts = self._search.next(effort)
            if counts is None:
                break
            key = self._key(counts)
            if self._best is not None and key >= self._best[0]:
                break
            rooms = self._search.rooms_of(counts)
            if undecided < MOST_UNDECIDED:
                verdict = self._holder.decide(rooms)
            else:
                verdict = Verdict(self._holder.quick(rooms, 8))
            if verdict.loads is not None:
                self._keep(assign(self._problem, counts, verdict.loads))
                break
            if verdict.excluded:
                self._search.exclude(rooms)
            elif verdict.cut is None:
                bound = bound or key
                self._search.pass_over(counts)
                undecided += 1
        bound = bound or self._search.bound()
        if self._best is None or bound is None:
            return bound
        if bound < self._best[0]:
            self._come_nearer(bound)
        return min(bound, self._best[0])

    def _come_nearer(self, bound: tuple[int, int]) -> None:
        """Look for better bars than the best so far between them and the bound not reached."""
        part = 1 / 32
        for _ in range(MOST_NEARER):
            assert self._best is not None
            best = self._best[0]
            if best[0] == bound[0]:
                most = (best[0], bound[1] + int((best[1] - bound[1]) * part))
            else:
                most = (bound[0] + int((best[0] - bound[0]) * part), ANY_LENGTH)
            self._tell_search()
            counts = self._search.some_within(min(most, (best[0], best[1] - 1)), self._effort)
            if counts is None:
                if part >= 1:
                    break
                part *= 2
                continue
            verdict = self._holder.decide(self._search.rooms_of(counts), full=False)
            if verdict.loads is not None:
                self._keep(assign(self._problem, counts, verdict.loads))
            elif verdict.excluded:
                self._search.exclude(self._search.rooms_of(counts))
            elif verdict.cut is None:
                self._search.pass_over(counts)
                part = min(1.0, part * 2)

    def _ties(self, key: tuple[int, int], counts: Counts) -> list[Counts]:
        """Return all choices of counts of this (cost, length) not ruled out, and one more than
        `MOST_TIES` at most."""
        ties = [counts]
        self._search.pass_over(counts)
        while len(ties) <= MOST_TIES:
            other = self._search.next(self._effort)
            if other is None or self._key(other) > key:
                break
            ties.append(other)
            self._search.pass_over(other)
        return ties

    def _few_settings(self, loads: Sequence[StockLoad]) -> list[Run]:
        """Return the sawing order of the loads, packed anew a few times to set the stop less."""
        problem = self._problem
        runs = chain(loads, self._seed)
        bars = sum(load.count for load in loads)
        if bars > MOST_REPACKED or settings_of(runs) == len(problem.sizes):
            return runs
        remnant = longest_of(problem, loads)
        counts = tuple(
            sum(load.count for load in loads if load.stock == j) for j in range(len(self._rooms))
        )
        tightest = next(load for load in loads if longest_of(problem, [load]) == remnant)
        held = _size(problem, tightest.pattern)
        rooms = pool(
            [
                *(
                    (room, n - (j == tightest.stock))
                    for j, (room, n) in enumerate(zip(self._rooms, counts, strict=True))
                ),
                (held, 1),
            ]
        )
        for attempt in range(REPACKINGS):
            packed = None if self._effort.over else self._holder.quick(rooms, 1 + (attempt > 0))
            if packed is None or sum(load.count for load in packed) != bars:
                continue
            other = assign(problem, counts, packed, (tightest.stock, held))
            if longest_of(problem, other) < remnant or least_settings(other) >= settings_of(runs):
                continue
            anew = chain(other, self._seed)
            if settings_of(anew) < settings_of(runs):
                runs = anew
        return runs

    def _proof(self) -> Proof:
        problem = self._problem
        kind_of = {i: k for k, group in enumerate(problem.members) for i in group}
        cuts = tuple(
            PriceCut(
                tuple(cut.prices[kind_of[i]] for i in range(len(problem.demands))),
                tuple(
                    cut.table.best((bar.length + problem.kerf) // problem.unit)
                    for bar in problem.bars
                ),
                cut.need,
            )
            for cut in self._holder.cuts
        )
        exclusions = tuple(
            Exclusion(tuple((room * problem.unit, count) for room, count in rooms))
            for rooms in self._holder.excluded
        )
        return Proof(cuts, exclusions)
