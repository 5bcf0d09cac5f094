"""Quick packing of given bars: each bar as full as it goes, large pieces first, then at random."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from parts.value import Value
from planner.barcut.counts import Rooms
from planner.barcut.effort import BITS_A_STEP, Effort
from planner.barcut.knapsack import chunks

GRID_LIMIT = 1 << 18  # a longer bar is filled on a coarser grid, pieces rounded up

Pattern = tuple[int, ...]


class Load(Value, frozen=True):
    """`count` bars of `room`, each holding `pattern`: how many of each kind of piece."""

    room: int
    pattern: Pattern
    count: int


class Filling(Value, frozen=True):
    """Loaded bars, and how many of each kind of piece are left over."""

    loads: tuple[Load, ...]
    left: tuple[int, ...]

    @property
    def complete(self) -> bool:
        """Whether nothing is left over."""
        return not any(self.left)


def full_pattern(
    room: int, sizes: Sequence[int], left: Sequence[int], order: Sequence[int], rng: Random | None
) -> Pattern:
    """Return a pattern that fills `room` as far as any does, pieces late in `order` preferred;
    with `rng` it takes, now and then, fewer of a kind than it could."""
    mask = (1 << (room + 1)) - 1
    stages = [1]
    for kind in order:
        bits = stages[-1]
        for part in chunks(min(left[kind], room // sizes[kind])):
            bits |= (bits << (sizes[kind] * part)) & mask
        stages.append(bits)
    counts = [0] * len(sizes)
    at = stages.pop().bit_length() - 1
    for kind in reversed(order):
        size, before = sizes[kind], stages.pop()
        n = min(left[kind], at // size)
        while not before >> (at - n * size) & 1:
            n -= 1
        if rng is not None and n and rng.random() < 0.3:
            fewer = rng.randrange(n)
            if before >> (at - fewer * size) & 1:
                n = fewer
        counts[kind] = n
        at -= n * size
    return tuple(counts)


def _steps(room: int, sizes: Sequence[int], left: Sequence[int], kinds: Sequence[int]) -> int:
    """Return the steps that a full pattern of these kinds takes."""
    parts = sum(min(left[k], room // sizes[k]).bit_length() for k in kinds)
    return 15 * len(sizes) + (parts + len(kinds)) * (6 + room // BITS_A_STEP)


def fill_bars(
    rooms: Rooms,
    sizes: Sequence[int],
    quantities: Sequence[int],
    rng: Random | None,
    effort: Effort,
    slack: int | None = None,
) -> Filling:
    """Fill the bars one after the other, shortest first, or in random order with `rng`; gives up
    when the effort is over, and as soon as more than `slack` is wasted (default: all that the bars have
    over the pieces)."""
    longest = max((room for room, _ in rooms), default=0)
    grid = -(-longest // GRID_LIMIT)
    steps = [-(-s // grid) for s in sizes] if grid > 1 else list(sizes)
    left = list(quantities)
    pending = sum(s * q for s, q in zip(sizes, quantities, strict=True))
    if slack is None:
        slack = sum(room * count for room, count in rooms) - pending
    bars = [list(pair) for pair in reversed(rooms)]
    if rng is not None and rng.random() < 0.7:
        rng.shuffle(bars)
    loads: list[Load] = []
    order = sorted(range(len(sizes)), key=lambda k: sizes[k])
    for room, count in bars:
        while count and pending and slack >= 0 and not effort.over:
            if rng is not None:
                order.sort(key=lambda k: sizes[k] * (0.6 + 0.8 * rng.random()))
            kinds = [k for k in order if left[k]]
            effort.spend(_steps(room // grid, steps, left, kinds))
            pattern = full_pattern(room // grid, steps, left, kinds, rng)
            held = sum(s * n for s, n in zip(sizes, pattern, strict=True))
            if not held:
                break
            times = min(count, min(q // n for q, n in zip(left, pattern, strict=True) if n))
            if rng is not None and times > 1 and rng.random() < 0.5:
                times = rng.randint(1, times)
            left = [q - n * times for q, n in zip(left, pattern, strict=True)]
            loads.append(Load(room, pattern, times))
            pending -= held * times
            count -= times
            if pending:
                slack -= (room - held) * times
        if pending:
            slack -= room * count
    return Filling(tuple(loads), tuple(left))
