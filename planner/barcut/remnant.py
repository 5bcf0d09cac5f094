"""Leaves the longest offcut: packs one bar as short as the others allow."""

from __future__ import annotations

import heapq
from collections.abc import Sequence

from msgspec import Struct

from planner.barcut.counts import Counts, Rooms, fits_within, pool
from planner.barcut.fill import Load
from planner.barcut.holding import Holder
from planner.barcut.problem import Problem
from planner.barcut.sequence import StockLoad

TRIES = 24  # packings asked for in all


def assign(
    problem: Problem, counts: Counts, loads: Sequence[Load], short: tuple[int, int] | None = None
) -> list[StockLoad]:
    """Give loads their kinds of bar: `counts` bars of each stock kind, of which one of kind
    `short[0]` was packed as if it had room `short[1]`."""
    waiting = {
        room: [[j, n] for j, n in enumerate(counts) if n and problem.stock[j].room == room]
        for room in {stock.room for stock in problem.stock}
    }
    if short is not None:
        for bars in waiting[problem.stock[short[0]].room]:
            bars[1] -= bars[0] == short[0]
        waiting.setdefault(short[1], []).append([short[0], 1])
    assigned = []
    for load in loads:
        count = load.count
        for bars in waiting[load.room]:
            take = min(count, bars[1])
            if take:
                assigned.append(StockLoad(bars[0], load.pattern, take))
                bars[1] -= take
                count -= take
    return assigned


def longest_of(problem: Problem, loads: Sequence[StockLoad]) -> int:
    """Return the longest remnant of these bars, in the caller's unit."""
    remnants = (
        problem.stock[load.stock].length
        - problem.unit * sum(s * n for s, n in zip(problem.sizes, load.pattern, strict=True))
        for load in loads
    )
    return max((max(0, remnant) for remnant in remnants), default=0)


class _Option(Struct, dict=True):
    """One bar of kind `stock`, out of `counts`, to be left with a remnant."""

    counts: Counts
    stock: int


class RemnantSearch:
    """Bisects, for each choice of bars and each kind among them, how long a remnant can be."""

    def __init__(self, problem: Problem, holder: Holder, best: Sequence[StockLoad]) -> None:
        self._problem = problem
        self._holder = holder
        self._tries = TRIES
        self.loads = list(best)
        self.best = longest_of(problem, best)

    def _others(self, option: _Option) -> list[tuple[int, int]]:
        return [
            (stock.room, n - (j == option.stock))
            for j, (stock, n) in enumerate(zip(self._problem.stock, option.counts, strict=True))
        ]

    def rooms(self, option: _Option, remnant: int) -> Rooms:
        """Return the bars with one shortened by `remnant`."""
        length = self._problem.stock[option.stock].length
        return pool([*self._others(option), (self._problem.room_of(length - remnant), 1)])

    def _limit(self, option: _Option) -> int:
        """Return the longest remnant that no cut and no exclusion forbids; the bar's length when the
        effort is over."""
        kinds = len(option.counts)
        if self._holder.effort.over:
            return self._problem.stock[option.stock].length
        proofs = len(self._holder.cuts) + 2 * len(self._holder.excluded)
        self._holder.effort.spend(20 * kinds * (1 + proofs))
        others = pool(self._others(option))
        room: int | None = 0
        for cut in self._holder.cuts:
            least = cut.table.least_room(-cut.slack(others))
            room = None if least is None or room is None else max(room, least)
        for excluded in self._holder.excluded:
            barred = [r for r, _ in excluded if fits_within(pool([*others, (r, 1)]), excluded)]
            if barred and room is not None and room <= max(barred):
                # On to the next length that pieces reach.
                least = self._holder.cuts[0].table.least_room(max(barred) + 1)
                room = None if least is None else max(least, max(barred) + 1)
        if room is None:
            return 0
        return max(0, self._problem.stock[option.stock].length - room * self._problem.unit)

    def run(self, choices: Sequence[Counts]) -> int:
        """Improve `loads` over these choices of counts; return the bound proven for them."""
        waiting: list[tuple[int, int, _Option]] = []
        for counts in choices:
            for stock, n in enumerate(counts):
                if n:
                    option = _Option(counts, stock)
                    waiting.append((-self._limit(option), len(waiting), option))
        heapq.heapify(waiting)
        bound = self.best
        while waiting and -waiting[0][0] > max(self.best, bound):
            limit, number, option = heapq.heappop(waiting)
            now = min(-limit, self._limit(option))
            if now < -limit:
                heapq.heappush(waiting, (-now, number, option))
            elif self._tries <= 0 or self._holder.effort.over:
                return max(bound, now)
            else:
                bound = max(bound, self._improve(option, now))
        return max(bound, self.best)

    def _improve(self, option: _Option, limit: int) -> int:
        """Return the bound proven for one option."""
        aim = top = limit  # `top`: longest still worth trying; `limit`: longest not disproven
        while top > self.best and self._tries > 0 and not self._holder.effort.over:
            self._tries -= 1
            rooms = self.rooms(option, aim)
            verdict = self._holder.decide(rooms, tries=8, full=False)
            if verdict.loads is not None:
                length = self._problem.stock[option.stock].length
                short = (option.stock, self._problem.room_of(length - aim))
                loads = assign(self._problem, option.counts, verdict.loads, short)
                self.loads, self.best = loads, max(aim, longest_of(self._problem, loads))
            elif verdict.cut is not None or verdict.excluded:
                limit = min(limit, aim - 1, self._limit(option))
                top = min(top, limit)
            else:
                top = aim - 1
            aim = (self.best + top + 1) // 2
        return limit if limit > self.best else self.best
