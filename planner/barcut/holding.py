"""Can these bars hold the pieces? A packing, or a proof that they cannot, or undecided."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from parts.value import Value
from planner.barcut.columns import Known, Relaxed, relax
from planner.barcut.counts import Rooms, fits_within, pool
from planner.barcut.effort import Effort
from planner.barcut.exhaust import OutOfEffort, try_all
from planner.barcut.fill import Load, Pattern, fill_bars
from planner.barcut.knapsack import Table, value_table
from planner.barcut.programme import few

QUICK_STEPS = 4_000
FULL_STEPS = 60_000
REST_STEPS = 3_000
FEW_PIECES = 40


class Cut(Value, frozen=True):
    """Whole-number prices per kind of piece, what a bar of each room can hold of them at most,
    and what all the pieces are worth."""

    prices: tuple[int, ...]
    table: Table
    need: int

    def slack(self, rooms: Rooms) -> int:
        """Return how much more than needed the bars can hold; below 0 they cannot do."""
        return sum(self.table.best(room) * count for room, count in rooms) - self.need


class Verdict(Value, frozen=True):
    """`loads` when the bars hold the pieces; else `cut` or `excluded` when they cannot."""

    loads: tuple[Load, ...] | None = None
    cut: Cut | None = None
    excluded: bool = False


class Holder:
    """Answers for one set of pieces and any bars; keeps the cuts, the exclusions and the patterns
    found on the way."""

    def __init__(
        self,
        sizes: Sequence[int],
        quantities: Sequence[int],
        longest: int,
        effort: Effort,
        seed: int,
    ) -> None:
        self.sizes, self.quantities = tuple(sizes), tuple(quantities)
        self.effort = effort
        self.cuts: list[Cut] = []
        self.excluded: list[Rooms] = []
        self._longest = longest
        self._rng = Random(seed)
        self._known = Known()
        self.add_cut(self.sizes)

    def add_cut(self, prices: Sequence[int]) -> Cut:
        """Keep and return the cut of these prices."""
        table = value_table(prices, self.sizes, self.quantities, self._longest, self.effort)
        need = sum(p * q for p, q in zip(prices, self.quantities, strict=True))
        self.cuts.append(Cut(tuple(prices), table, need))
        return self.cuts[-1]

    def ruled_out(self, rooms: Rooms) -> bool:
        """Say whether the cuts and exclusions found so far rule these bars out."""
        return any(cut.slack(rooms) < 0 for cut in self.cuts) or any(
            fits_within(rooms, excluded) for excluded in self.excluded
        )

    def quick(self, rooms: Rooms, tries: int) -> tuple[Load, ...] | None:
        """Return a packing that filling finds at once, or None."""
        return self._fill(rooms, self.quantities, tries)

    def _fill(self, rooms: Rooms, left: Sequence[int], tries: int) -> tuple[Load, ...] | None:
        for attempt in range(tries):
            if self.effort.over and attempt:
                break
            filling = fill_bars(
                rooms, self.sizes, left, self._rng if attempt else None, self.effort
            )
            for load in filling.loads:
                self._known.keep(load.room, load.pattern)
            if filling.complete:
                return filling.loads
        return None

    def decide(self, rooms: Rooms, tries: int = 12, full: bool = True) -> Verdict:
        """Return the verdict on these bars, not yet ruled out; with `full` all means are used."""
        cuts_before = len(self.cuts)
        loads = self._fill(rooms, self.quantities, tries)
        if loads is not None:
            return Verdict(loads)
        if sum(self.quantities) <= FEW_PIECES:
            verdict = self._try_all(rooms, QUICK_STEPS, keep=False)
            if verdict is not None and verdict.loads is not None:
                return verdict
        many = not few(len(self.sizes) + len(rooms))
        if many and full:
            loads = self._flow(rooms)
            if loads is not None:
                return Verdict(loads)
        relaxed = relax(rooms, self.sizes, self.quantities, self._known, self.effort)
        if relaxed.prices is not None:
            cut = self.add_cut(relaxed.prices)
            if cut.slack(rooms) < 0:
                return Verdict(cut=cut)
        loads = self._round(rooms, relaxed, 4 if full else 2)
        if loads is not None:
            return Verdict(loads)
        verdict = self._try_all(rooms, FULL_STEPS if full else QUICK_STEPS, keep=True)
        if verdict is not None:
            return verdict
        if full and (not many or len(self.cuts) > cuts_before):
            loads = self._flow(rooms)
            if loads is not None:
                return Verdict(loads)
        return Verdict()

    def _flow(self, rooms: Rooms) -> tuple[Load, ...] | None:
        """Return a packing by flow, in the prices that leave the least slack."""
        if self.effort.over:
            return None
        from planner.barcut.arcflow import pack_by_flow

        cut = min(self.cuts, key=lambda c: c.slack(rooms) / max(1, c.need))
        return pack_by_flow(rooms, self.sizes, self.quantities, cut.prices, cut.table, self.effort)

    def _try_all(self, rooms: Rooms, steps: int, keep: bool) -> Verdict | None:
        pairs = [(cut.prices, cut.table) for cut in self.cuts]
        try:
            loads = try_all(rooms, self.sizes, self.quantities, pairs, steps, self.effort)
        except OutOfEffort:
            return None
        if loads is not None:
            return Verdict(tuple(loads))
        if keep:
            self.excluded.append(rooms)
        return Verdict(excluded=True)

    def _round(self, rooms: Rooms, relaxed: Relaxed, dives: int) -> tuple[Load, ...] | None:
        """Dive: keep the whole part of the fractional patterns, pack what is left exactly, or
        round one more pattern up and solve the rest in fractions again."""
        for dive in range(dives):
            loads = self._dive(rooms, relaxed, dive)
            if loads is not None:
                return loads
        return None

    def _dive(self, rooms: Rooms, relaxed: Relaxed, dive: int) -> tuple[Load, ...] | None:
        kept: list[Load] = []
        left, bars = self.quantities, dict(rooms)
        while not self.effort.over:
            whole = [Load(room, pattern, int(x + 1e-6)) for room, pattern, x in relaxed.amounts]
            if dive and whole:
                # Another start: a few patterns give one bar back to the rest.
                whole = [
                    Load(w.room, w.pattern, w.count - (w.count > 0 and self._rng.random() < 0.4))
                    for w in whole
                ]
            fixed = [load for load in whole if load.count]
            kept += fixed
            left, bars = _take_off(left, bars, fixed)
            rest = self._pack_rest(pool(list(bars.items())), left)
            if rest is not None:
                return (*kept, *rest)
            parts = [(x - int(x + 1e-6), room, pattern) for room, pattern, x in relaxed.amounts]
            parts = [
                part
                for part in parts
                if bars.get(part[1], 0) and all(n <= q for n, q in zip(part[2], left, strict=True))
            ]
            if not parts:
                return None
            parts.sort(reverse=True)
            _, room, pattern = parts[self._rng.randrange(min(dive + 1, len(parts)))]
            fixed = [Load(room, pattern, 1)]
            kept += fixed
            left, bars = _take_off(left, bars, fixed)
            remaining = pool(list(bars.items()))
            if not any(left):
                return tuple(kept)
            if not remaining:
                return None
            kinds = [k for k, q in enumerate(left) if q]
            part = relax(
                remaining,
                [self.sizes[k] for k in kinds],
                [left[k] for k in kinds],
                self._known.within(left, kinds),
                self.effort,
            )
            if part.prices is not None:
                return None
            relaxed = Relaxed(
                tuple(
                    (room, _spread(pattern, kinds, len(left)), x)
                    for room, pattern, x in part.amounts
                )
            )
        return None

    def _pack_rest(self, rooms: Rooms, left: Pattern) -> tuple[Load, ...] | None:
        loads = self._fill(rooms, left, 3)
        if loads is not None or sum(left) > 3 * FEW_PIECES:
            return loads
        table = self.cuts[0].table  # what whole pieces reach can only be less with fewer pieces
        try:
            found = try_all(rooms, self.sizes, left, [(self.sizes, table)], REST_STEPS, self.effort)
        except OutOfEffort:
            return None
        return None if found is None else tuple(found)


def _take_off(
    left: Pattern, bars: dict[int, int], loads: Sequence[Load]
) -> tuple[Pattern, dict[int, int]]:
    """Return the pieces and bars that remain beside `loads`."""
    bars = dict(bars)
    for load in loads:
        left = tuple(q - n * load.count for q, n in zip(left, load.pattern, strict=True))
        bars[load.room] -= load.count
    return left, bars


def _spread(pattern: Pattern, kinds: Sequence[int], width: int) -> Pattern:
    """Return a pattern of the kinds picked as one of all kinds."""
    counts = [0] * width
    for kind, n in zip(kinds, pattern, strict=True):
        counts[kind] = n
    return tuple(counts)
