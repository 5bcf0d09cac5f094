"""How many bars of each kind: the next-best choice of counts that no proof rules out."""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from fractions import Fraction
from math import gcd

from planner.barcut.effort import Effort

Counts = tuple[int, ...]
Rooms = tuple[tuple[int, int], ...]
Box = tuple[Counts, Counts]  # least and most of each kind

MOST_BOXES = 100_000  # gone through by the search for the least, in all,
MOST_CELLS = 8_000_000  # and counts in them, for memory's sake
DEEP_BOXES = 2_000


def pool(rooms: Sequence[tuple[int, int]]) -> Rooms:
    """Return (room, count) pairs, longest first, like rooms joined and empty ones dropped."""
    total: dict[int, int] = {}
    for room, count in rooms:
        total[room] = total.get(room, 0) + count
    return tuple((room, total[room]) for room in sorted(total, reverse=True) if total[room] > 0)


def fits_within(inner: Rooms, outer: Rooms) -> bool:
    """Say whether each bar of `inner` has its own bar of `outer` at least as long."""
    spare, at = 0, 0
    for room, count in inner:
        while at < len(outer) and outer[at][0] >= room:
            spare += outer[at][1]
            at += 1
        spare -= count
        if spare < 0:
            return False
    return True


class CountSearch:
    """Best-first branch-and-bound over bar counts, in whole numbers throughout.

    Counts are ordered by (cost, length), kept as one exact whole number cost * M + length with M
    above any length that can come up. A box of counts waits in a heap under a bound that holds
    for all of it; cuts and exclusions found later are applied when the box comes up.
    """

    def __init__(
        self,
        costs: Sequence[int],
        lengths: Sequence[int],
        limits: Sequence[int],
        rooms: Sequence[int],
    ) -> None:
        self._scale = sum(n * length for n, length in zip(limits, lengths, strict=True)) + 1
        self._weights = [c * self._scale + length for c, length in zip(costs, lengths, strict=True)]
        self._steps = (gcd(*costs) or 1, gcd(*lengths) or 1)
        self._rooms = rooms
        self._cuts: list[tuple[list[int], int, list[int]]] = []
        self._excluded: list[Rooms] = []
        self._passed: set[Counts] = set()
        self._serial = 0
        self._heap: list[tuple[int, int, Counts, Counts]] = []
        self._root: Box = ((0,) * len(limits), tuple(limits))
        self._boxes = min(MOST_BOXES, MOST_CELLS // max(1, len(limits)))
        self._push(0, *self._root)

    def _push(self, bound: int, low: Counts, high: Counts) -> None:
        self._serial -= 1  # of equal bounds the newest box first: it is nearest to an answer
        heapq.heappush(self._heap, (bound, self._serial, low, high))

    def rooms_of(self, counts: Counts) -> Rooms:
        """Return the bars counted, as rooms."""
        return pool(list(zip(self._rooms, counts, strict=True)))

    def add_cut(self, values: Sequence[int], need: int) -> None:
        """Require sum_j values[j] n_j >= need from now on."""
        order = sorted(
            (j for j, value in enumerate(values) if value > 0),
            key=lambda j: Fraction(self._weights[j], values[j]),  # exact: the bound relies on it
        )
        self._cuts.append((list(values), need, order))

    def exclude(self, rooms: Rooms) -> None:
        """Rule out these bars, and with them all that are fewer or shorter."""
        self._excluded.append(rooms)

    def pass_over(self, counts: Counts) -> None:
        """Leave these counts undecided and go on to the next."""
        self._passed.add(counts)

    def _ruled_out(self, counts: Counts) -> bool:
        rooms = self.rooms_of(counts)
        return any(fits_within(rooms, excluded) for excluded in self._excluded)

    def _round_up(self, key: int) -> int:
        cost, length = divmod(key, self._scale)
        cost_step, length_step = self._steps
        if cost % cost_step:
            return (cost + cost_step - cost % cost_step) * self._scale
        return cost * self._scale + -(-length // length_step) * length_step

    def _bound(self, low: Counts, high: Counts) -> tuple[int, tuple[int, int] | None] | None:
        """Return a lower bound of the box and where to split it ((kind, least count of the upper
        half), None when `low` meets every cut); None when nothing in the box meets them."""
        base = sum(w * n for w, n in zip(self._weights, low, strict=True))
        bound, split = base, None
        for values, need, order in self._cuts:
            lack = need - sum(v * n for v, n in zip(values, low, strict=True))
            if lack <= 0:
                continue
            key = base
            for j in order:
                room = high[j] - low[j]
                if room <= 0:
                    continue
                if values[j] * room < lack:
                    key += self._weights[j] * room
                    lack -= values[j] * room
                    continue
                key -= -self._weights[j] * lack // values[j]
                whole, part = divmod(lack, values[j])
                if split is None or key > bound:
                    bound, split = max(bound, key), (j, low[j] + whole + (1 if part else 0))
                break
            else:
                return None
        return self._round_up(bound), split

    def _look(self, low: Counts, high: Counts) -> tuple[int, list[Box]] | None:
        """Return a lower bound of the box and the boxes to search instead, none of them when
        `low` is its answer; None when there is nothing in the box."""
        if self._excluded and self._ruled_out(high):
            return None
        found = self._bound(low, high)
        if found is None:
            return None
        bound, split = found
        if split is not None:
            kind, least = split
            lower = (low, (*high[:kind], least - 1, *high[kind + 1 :]))
            return bound, [lower, ((*low[:kind], least, *low[kind + 1 :]), high)]
        if low not in self._passed and not self._ruled_out(low):
            return bound, []
        # The box without its lowest corner.
        parts = [
            ((*low[:j], least + 1, *low[j + 1 :]), (*low[:j], *high[j:]))
            for j, (least, most) in enumerate(zip(low, high, strict=True))
            if least < most
        ]
        return (bound, parts) if parts else None

    def _steps_a_box(self) -> int:
        """Return the steps that looking at a box takes."""
        return 8 * len(self._rooms) * (2 + len(self._cuts) + len(self._excluded))

    def next(self, effort: Effort) -> Counts | None:
        """Return the counts of least (cost, length) not ruled out, or None when there are none,
        or the boxes or the effort are spent; the same again until a cut, an exclusion or
        `pass_over` rules them out."""
        while self._heap and self._boxes > 0 and not effort.over:
            self._boxes -= 1
            effort.spend(self._steps_a_box())
            bound, _, low, high = self._heap[0]
            found = self._look(low, high)
            if found is None:
                heapq.heappop(self._heap)
                continue
            new_bound, parts = found
            if new_bound <= bound and not parts:
                return low
            heapq.heappop(self._heap)
            if new_bound > bound:
                self._push(new_bound, low, high)
            else:
                for part in parts:
                    self._push(bound, *part)
        return None

    def some_within(self, most: tuple[int, int], effort: Effort) -> Counts | None:
        """Return some counts of at most this (cost, length), not ruled out nor passed over, found
        by going deep at once; None when none turned up."""
        limit = most[0] * self._scale + min(most[1], self._scale - 1)
        boxes = [self._root]
        for _ in range(DEEP_BOXES):
            if not boxes or effort.over:
                return None
            effort.spend(self._steps_a_box())
            low, high = boxes.pop()
            found = self._look(low, high)
            if found is not None and found[0] <= limit:
                if not found[1]:
                    return low
                boxes += found[1]
        return None

    def bound(self) -> tuple[int, int] | None:
        """Return the least (cost, length) not ruled out yet; None when all is ruled out."""
        return divmod(self._heap[0][0], self._scale) if self._heap else None
