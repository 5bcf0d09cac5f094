"""Whether given bars can hold the pieces in fractions of patterns: yes, or prices that say no."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from parts.value import Value
from planner.barcut.counts import Rooms
from planner.barcut.effort import Effort
from planner.barcut.fill import Pattern
from planner.barcut.knapsack import Pricing
from planner.barcut.programme import few, programme

ROUNDS = 400
MOST_KNOWN = 1_000  # patterns kept per room
PIVOTS = 400
FINE = 10**6  # prices are rounded to whole numbers up to this size


class Known(Struct, dict=True):
    """Patterns met so far, per room, and whether their pricing has outgrown plain lists."""

    patterns: dict[int, dict[Pattern, None]] = field(default_factory=dict)
    arrays: bool = False

    def keep(self, room: int, pattern: Pattern) -> None:
        """Keep a pattern, up to `MOST_KNOWN` per room."""
        kept = self.patterns.setdefault(room, {})
        if len(kept) < MOST_KNOWN:
            kept.setdefault(pattern)

    def within(self, left: Sequence[int], kinds: Sequence[int]) -> Known:
        """Return the patterns that take no more than `left`, of the kinds picked only."""
        picked = {
            room: {
                tuple(pattern[k] for k in kinds): None
                for pattern in patterns
                if all(n <= q for n, q in zip(pattern, left, strict=True))
            }
            for room, patterns in self.patterns.items()
        }
        return Known(picked, self.arrays)


class Relaxed(Value, frozen=True):
    """Fractional amounts of patterns, as (room, pattern, amount), that hold all the pieces as far
    as floating point can tell; or, instead, `prices` whose cut the bars fail."""

    amounts: tuple[tuple[int, Pattern, float], ...] = ()
    prices: tuple[int, ...] | None = None
    covered: bool = False


def whole_prices(prices: Sequence[float]) -> tuple[int, ...]:
    """Return whole numbers in the proportion of `prices`, exact when a small divisor allows."""
    top = max(prices, default=0.0)
    if top <= 0:
        return (0,) * len(prices)
    for divisor in range(1, 25):
        scaled = [p * divisor for p in prices]
        if all(abs(p - round(p)) < 1e-6 for p in scaled):
            return tuple(round(p) for p in scaled)
    return tuple(round(p * FINE / top) for p in prices)


def relax(
    rooms: Rooms,
    sizes: Sequence[int],
    quantities: Sequence[int],
    known: Known,
    effort: Effort,
) -> Relaxed:
    """Decide in fractions whether the bars `rooms` hold the pieces, by column generation.

    `known` keeps the patterns met so far per room and grows; `effort` may end it sooner. Maximises
    the length held by fractions of patterns; the prices of pieces are their sizes less what the
    limits charge. When the whole numbers nearest to those prices give a cut that the bars fail, that
    is the answer.
    """
    limits = [*quantities, *(count for _, count in rooms)]
    master = programme(limits, effort)
    columns: list[tuple[int, Pattern]] = []
    seen: set[tuple[int, Pattern]] = set()

    def add(row: int, pattern: Pattern) -> None:
        effort.spend(4 * len(limits))
        if (row, pattern) in seen:
            return
        seen.add((row, pattern))
        columns.append((row, pattern))
        marks = [int(k == row) for k in range(len(rooms))]
        profit = sum(s * n for s, n in zip(sizes, pattern, strict=True))
        master.add([*pattern, *marks], profit)

    for row, (room, _) in enumerate(rooms):
        for pattern in known.patterns.get(room, {}):
            if all(n <= q for n, q in zip(pattern, quantities, strict=True)):
                add(row, pattern)
    total = sum(s * q for s, q in zip(sizes, quantities, strict=True))
    found: tuple[int, ...] | None = None
    for _ in range(ROUNDS):
        if effort.over or not master.solve(PIVOTS):
            break
        effort.spend(2 * len(columns) * len(sizes))
        held = sum(
            amount * sum(s * n for s, n in zip(sizes, pattern, strict=True))
            for amount, (_, pattern) in zip(master.amounts(), columns, strict=True)
        )
        if total - held <= 1e-6 + 1e-12 * total:
            return Relaxed(_used(master.amounts(), columns, rooms), covered=True)
        charges = master.prices
        prices = whole_prices([max(0.0, s - y) for s, y in zip(sizes, charges, strict=False)])
        try:
            pricing = Pricing(
                prices, sizes, quantities, rooms[0][0], effort, known.arrays or not few(len(limits))
            )
            known.arrays = pricing.arrays
        except MemoryError:
            break
        held_values = [pricing.best(room) for room, _ in rooms]
        need = sum(p * q for p, q in zip(prices, quantities, strict=True))
        if sum(v * n for v, (_, n) in zip(held_values, rooms, strict=True)) < need:
            found = prices
        before = len(columns)
        for row, (room, _) in enumerate(rooms):
            pattern = pricing.pattern(room)
            known.keep(room, pattern)
            add(row, pattern)
        if len(columns) == before:
            break
    return Relaxed(() if found else _used(master.amounts(), columns, rooms), found)


def _used(
    amounts: Sequence[float], columns: Sequence[tuple[int, Pattern]], rooms: Rooms
) -> tuple[tuple[int, Pattern, float], ...]:
    return tuple(
        (rooms[row][0], pattern, amount)
        for amount, (row, pattern) in zip(amounts, columns, strict=True)
        if amount > 1e-9
    )
