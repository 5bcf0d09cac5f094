"""The most that one bar can hold: exact bounded knapsacks in whole numbers."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from typing import Any, Protocol

from planner.barcut.effort import ARRAY_CALL, BITS_A_STEP, CELLS_A_STEP, Effort

BIT_LIMIT = 1 << 26  # longest bar, in units, whose reachable sums are kept as bits, 8 MB,
BIT_WORK = 1 << 31  # and bits gone through in all
LIST_LIMIT = 1 << 12  # states beyond which arrays beat lists
ARRAY_LIMIT = 1 << 24  # array cells in all, 128 MB
ARRAY_WORK = 1 << 28  # cells gone through in all; beyond it the units are made coarser


class Table(Protocol):
    """Most value for every room at once; `best` never falls as the room grows."""

    def best(self, room: int) -> int:
        """Return the most value that `room` can hold (or a proven upper bound of it)."""
        ...

    def least_room(self, value: int) -> int | None:
        """Return the least room whose best is at least `value`; None when there is none."""
        ...


def chunks(quantity: int) -> Iterator[int]:
    """Split a quantity so that sums of the parts give every number from 0 to it."""
    part = 1
    while quantity > 0:
        take = min(part, quantity)
        yield take
        quantity -= take
        part *= 2


def reachable(sizes: Sequence[int], quantities: Sequence[int], limit: int) -> int:
    """Return the sums up to `limit` that the pieces can make, as the bits of one whole number."""
    bits, mask = 1, (1 << (limit + 1)) - 1
    for size, quantity in zip(sizes, quantities, strict=True):
        for part in chunks(min(quantity, limit // size)):
            bits |= (bits << (size * part)) & mask
    return bits


class LengthTable:
    """Most length held, when the prices are `scale` times the sizes."""

    def __init__(self, bits: int, scale: int) -> None:
        self._bits = bits
        self._scale = scale

    def best(self, room: int) -> int:
        held = self._bits & ((1 << (room + 1)) - 1)
        return (held.bit_length() - 1) * self._scale

    def least_room(self, value: int) -> int | None:
        least = max(0, -(-value // self._scale))
        above = self._bits >> least
        return least + (above & -above).bit_length() - 1 if above else None


class FrontTable:
    """Most value held, as the rooms at which it rises and the value from there on."""

    def __init__(self, rooms: list[int], values: list[int]) -> None:
        self._rooms = rooms
        self._values = values

    def best(self, room: int) -> int:
        return self._values[bisect_right(self._rooms, room) - 1]

    def least_room(self, value: int) -> int | None:
        at = bisect_left(self._values, value)
        return self._rooms[at] if at < len(self._rooms) else None


class CappedTable:
    """Most length held by bars too long for bits: no more than `table` says, nor than the room."""

    def __init__(self, table: FrontTable, scale: int) -> None:
        self._table = table
        self._scale = scale

    def best(self, room: int) -> int:
        return min(self._table.best(room), room * self._scale)

    def least_room(self, value: int) -> int | None:
        least = self._table.least_room(value)
        return None if least is None else max(0, least, -(-value // self._scale))


Front = tuple[list[int], list[int]]

STATE_STEPS = 12
"""Steps it takes to bring one state of a front forward by a piece."""


def _grow(front: Front, size: int, price: int, limit: int, effort: Effort) -> Front:
    """Return the front with one more piece allowed, worse states dropped."""
    rooms, values = front
    effort.spend(5 + STATE_STEPS * len(rooms))
    taken = [(r + size, v + price) for r, v in zip(rooms, values, strict=True) if r + size <= limit]
    merged = sorted([*zip(rooms, values, strict=True), *taken])
    new_rooms: list[int] = []
    new_values: list[int] = []
    top = -1
    for room, value in merged:
        if value > top:
            if new_rooms and new_rooms[-1] == room:
                new_values[-1] = value
            else:
                new_rooms.append(room)
                new_values.append(value)
            top = value
    return new_rooms, new_values


def value_table(
    prices: Sequence[int],
    sizes: Sequence[int],
    quantities: Sequence[int],
    limit: int,
    effort: Effort,
) -> Table:
    """Return the most value for every room up to `limit`; spends what it does, and ends it.

    Prices are whole numbers >= 0 per kind of piece; sizes and quantities whole numbers > 0.
    Exact, except that a bar of more states than memory allows is measured in coarser units with
    the pieces rounded down: the values are then upper bounds, and a cut made of them still holds.
    """
    limit = min(limit, sum(s * q for s, q in zip(sizes, quantities, strict=True)))
    scale = max((p // s for p, s in zip(prices, sizes, strict=True)), default=0)
    if scale and all(p == scale * s for p, s in zip(prices, sizes, strict=True)):
        work = limit * sum(
            len(list(chunks(min(q, limit // s)))) for s, q in zip(sizes, quantities, strict=True)
        )
        if limit <= BIT_LIMIT and work <= BIT_WORK:
            effort.spend(6 * len(sizes) + work // BITS_A_STEP)
            return LengthTable(reachable(sizes, quantities, limit), scale)
        return CappedTable(_front_table(prices, sizes, quantities, limit, effort), scale)
    return _front_table(prices, sizes, quantities, limit, effort)


def _front_table(
    prices: Sequence[int],
    sizes: Sequence[int],
    quantities: Sequence[int],
    limit: int,
    effort: Effort,
) -> FrontTable:
    front: Front = ([0], [0])
    for price, size, quantity in zip(prices, sizes, quantities, strict=True):
        if price == 0:
            continue
        for part in chunks(min(quantity, limit // size)):
            front = _grow(front, size * part, price * part, limit, effort)
            if len(front[0]) > LIST_LIMIT:
                return _array_table(prices, sizes, quantities, limit, effort)
    return FrontTable(*front)


def _array(limit: int) -> Any:
    import numpy as np  # late: only bars of very many states come here

    return np.zeros(limit + 1, dtype=np.int64)


def _raise_array(best: Any, step: int, price: int, effort: Effort) -> None:
    """Allow one more piece of `step` units and `price` in an array of values, in place."""
    import numpy as np

    effort.spend(ARRAY_CALL + len(best) // CELLS_A_STEP)
    if step == 0:
        best += price
    elif step < len(best):
        np.maximum(best[step:], best[:-step] + price, out=best[step:])


def _array_table(
    prices: Sequence[int],
    sizes: Sequence[int],
    quantities: Sequence[int],
    limit: int,
    effort: Effort,
) -> FrontTable:
    import numpy as np

    steps = [
        (size, price, part)
        for price, size, quantity in zip(prices, sizes, quantities, strict=True)
        if price
        for part in chunks(min(quantity, limit // size))
    ]
    grid = max(1, -(-8 * limit // ARRAY_LIMIT), -(-limit * len(steps) // ARRAY_WORK))
    best = _array(limit // grid)
    for size, price, part in steps:
        # Each piece is rounded down on its own, so that the coarse bar holds no less.
        _raise_array(best, size // grid * part, price * part, effort)
    rises = np.flatnonzero(np.diff(best)) + 1
    effort.spend(6 * len(rises))
    rooms = [0, *(int(r) * grid for r in rises)]
    return FrontTable(rooms, [int(best[0]), *(int(v) for v in best[rises])])


class Pricing:
    """Best-valued patterns: as a value table, and able to say which pieces make the value up."""

    def __init__(
        self,
        prices: Sequence[int],
        sizes: Sequence[int],
        quantities: Sequence[int],
        limit: int,
        effort: Effort,
        arrays: bool = False,
    ) -> None:
        """Raises MemoryError when the states are more than memory allows; `arrays` asks for
        arrays at once, quicker for many kinds of piece."""
        self._prices, self._sizes, self._quantities = prices, sizes, quantities
        self._effort = effort
        self._fronts: list[Front] = [([0], [0])]
        self._arrays: list[Any] = []
        if arrays and (limit + 1) * (len(sizes) + 1) <= ARRAY_LIMIT:
            self._fill_arrays(limit)
            return
        for price, size, quantity in zip(prices, sizes, quantities, strict=True):
            front = self._fronts[-1]
            if price > 0:
                for part in chunks(min(quantity, limit // size)):
                    front = _grow(front, size * part, price * part, limit, effort)
            self._fronts.append(front)
            if len(front[0]) > LIST_LIMIT or len(front[0]) * len(sizes) > 8 * LIST_LIMIT:
                self._fronts.clear()
                self._fill_arrays(limit)
                return

    def _fill_arrays(self, limit: int) -> None:
        if (limit + 1) * (len(self._sizes) + 1) > ARRAY_LIMIT:
            raise MemoryError("too many states to price the patterns of one bar")
        best = _array(limit)
        self._arrays.append(best)
        for price, size, quantity in zip(self._prices, self._sizes, self._quantities, strict=True):
            if price > 0:
                best = best.copy()
                self._effort.spend(len(best) // CELLS_A_STEP)
                for part in chunks(min(quantity, limit // size)):
                    _raise_array(best, size * part, price * part, self._effort)
            self._arrays.append(best)

    @property
    def arrays(self) -> bool:
        """Whether arrays were needed."""
        return bool(self._arrays)

    def _best(self, stage: int, room: int) -> int:
        if self._arrays:
            return int(self._arrays[stage][room])
        rooms, values = self._fronts[stage]
        return values[bisect_right(rooms, room) - 1]

    def best(self, room: int) -> int:
        """Return the most value that `room` can hold."""
        return self._best(len(self._sizes), room)

    def pattern(self, room: int) -> tuple[int, ...]:
        """Return how many of each piece make up the best value of `room`."""
        counts = [0] * len(self._sizes)
        value = self.best(room)
        for kind in range(len(counts) - 1, -1, -1):
            size, price = self._sizes[kind], self._prices[kind]
            while self._best(kind, room - size * counts[kind]) != value - price * counts[kind]:
                counts[kind] += 1
            room -= size * counts[kind]
            value -= price * counts[kind]
        return tuple(counts)
