"""Tries everything: whether given bars hold the pieces, decided for certain or not at all."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.barcut.counts import Rooms
from planner.barcut.effort import Effort
from planner.barcut.fill import Load, Pattern
from planner.barcut.knapsack import Table

MOST_BARS = 200  # the search goes one call deeper per bar,
MOST_KINDS = 200  # and per kind of piece
TRY_STEPS = 12  # of the effort, that one step of the search takes


class OutOfEffort(Exception):
    """The search ended undecided."""


class _Search:
    def __init__(
        self,
        rooms: Rooms,
        sizes: Sequence[int],
        cuts: Sequence[tuple[Sequence[int], Table]],
        steps: int,
        effort: Effort,
    ) -> None:
        self._bars = [room for room, count in rooms for _ in range(count)]
        self._sizes = sizes
        self.steps = steps
        self._effort = effort
        self._a_bar = 2 * len(self._bars) + 3 * len(sizes) * (1 + len(cuts))
        self._a_pattern = len(sizes) * (2 + len(cuts))
        self._dead: set[tuple[int, Pattern]] = set()
        # What the bars from each one on can hold at most, in each cut's prices.
        self._cuts: list[tuple[Sequence[int], list[int]]] = []
        for prices, table in cuts:
            tail = [0]
            for room in reversed(self._bars):
                tail.append(tail[-1] + table.best(room))
            self._cuts.append((prices, tail[::-1]))

    def _spend(self) -> None:
        self.steps -= 1
        if self.steps < 0:
            raise OutOfEffort

    def _count(self, steps: int) -> None:
        self._effort.spend(steps)
        if self._effort.over:
            raise OutOfEffort

    def _patterns(
        self, room: int, left: Pattern, need: int, lead: bool
    ) -> Iterator[tuple[int, ...]]:
        """Yield the patterns that no further piece fits and that hold at least `need`; with
        `lead` they hold one of the largest pieces left."""
        sizes, last = self._sizes, len(self._sizes)
        rest = [0] * (last + 1)
        for kind in range(last - 1, -1, -1):
            rest[kind] = rest[kind + 1] + sizes[kind] * left[kind]
        counts = [0] * last

        def extend(kind: int, free: int, need: int, lead: bool) -> Iterator[tuple[int, ...]]:
            self._spend()
            if min(free, rest[kind]) < need:
                return
            if kind == last:
                if all(n == q or s > free for n, q, s in zip(counts, left, sizes, strict=True)):
                    yield tuple(counts)
                return
            least = 1 if lead and left[kind] else 0
            for n in range(min(left[kind], free // sizes[kind]), least - 1, -1):
                counts[kind] = n
                held = n * sizes[kind]
                yield from extend(kind + 1, free - held, need - held, lead and not left[kind])
            counts[kind] = 0

        return extend(0, room, need, lead)

    def run(self, at: int, left: Pattern) -> list[Load] | None:
        if not any(left):
            return []
        if at == len(self._bars) or (at, left) in self._dead:
            return None
        self._count(self._a_bar)
        room = self._bars[at]
        needs = []
        for prices, tail in self._cuts:
            wanted = sum(p * q for p, q in zip(prices, left, strict=True))
            if wanted > tail[at]:
                return None
            needs.append((prices, wanted - tail[at + 1]))
        held = sum(s * q for s, q in zip(self._sizes, left, strict=True))
        # Bars all alike: one of the largest pieces may as well go into the first.
        lead = self._bars[-1] == room
        for pattern in self._patterns(room, left, held - sum(self._bars[at + 1 :]), lead):
            self._count(self._a_pattern)
            if any(
                sum(p * n for p, n in zip(prices, pattern, strict=True)) < need
                for prices, need in needs
            ):
                continue
            after = tuple(q - n for q, n in zip(left, pattern, strict=True))
            rest = self.run(at + 1, after)
            if rest is not None:
                return [Load(room, pattern, 1), *rest] if any(pattern) else rest
        self._dead.add((at, left))
        return None


def try_all(
    rooms: Rooms,
    sizes: Sequence[int],
    quantities: Sequence[int],
    cuts: Sequence[tuple[Sequence[int], Table]],
    steps: int,
    effort: Effort,
) -> list[Load] | None:
    """Return a packing of the pieces into the bars, or None when there is certainly none.

    `rooms`: the bars, longest first; `cuts`: price vectors with their tables, used to turn back
    early; `steps`: of the search at most. Raises OutOfEffort when undecided by then, or when the
    effort is over. Bars are filled
    one by one with patterns that leave no room for a further piece: some packing of that kind
    exists whenever any does.
    """
    if sum(count for _, count in rooms) > MOST_BARS or len(sizes) > MOST_KINDS:
        raise OutOfEffort
    search = _Search(rooms, sizes, cuts, int(min(steps, effort.left // TRY_STEPS)), effort)
    at_first = search.steps
    try:
        return search.run(0, tuple(quantities))
    finally:
        effort.spend(TRY_STEPS * (at_first - search.steps))
