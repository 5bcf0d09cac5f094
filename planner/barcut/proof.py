"""Re-checks the bounds of a plan in whole numbers, without any solver."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import gcd, inf

from planner.barcut.check import check_plan
from planner.barcut.counts import Counts, Rooms, fits_within, pool
from planner.barcut.effort import Effort
from planner.barcut.exhaust import OutOfEffort, try_all
from planner.barcut.knapsack import Table, value_table
from planner.barcut.model import GAP, Bar, CutPlan, Demand, Exclusion, PriceCut

STEPS = 2_000_000  # steps of one exclusion
MOST_BOXES = 400_000
MOST_VALUE = 1 << 62  # of all pieces in the prices of a cut; arrays hold no more


class ProofError(ValueError):
    """A proof that does not hold, or does not reach the bounds claimed."""


def check_proof(demands: Sequence[Demand], bars: Sequence[Bar], kerf: int, plan: CutPlan) -> bool:
    """Return True when the plan is valid and its bounds follow from its proof.

    demands, bars, kerf: as given to `cut_bars`; plan: the plan with its proof.
    Recomputes what each bar can hold of every price vector by exact bounded knapsacks, tries the
    excluded bars again, and searches all bar counts for one that the proof does not rule out:
    below the bounds of cost and drawn length there must be none, and at them none that leaves a
    remnant above its bound. Raises PlanError for a plan that does not add up (`check_plan`) and
    ProofError for a proof that does not hold.
    """
    check_plan(demands, bars, kerf, plan)
    case = _Case(demands, bars, kerf)
    for number, cut in enumerate(plan.proof.cuts):
        case.add_cut(number, cut)
    for number, exclusion in enumerate(plan.proof.exclusions):
        case.add_exclusion(number, exclusion)
    cost, length, remnant, settings = plan.status
    lengths = {d.length for d in demands}
    if settings.bound > len(lengths):
        raise ProofError(f"stop settings: bound {settings.bound}; at most {len(lengths)} holds")
    # No plan draws less than its pieces; a bound up to that needs no proof, one beyond it holds
    # at the cost proven only.
    plain = length.bound <= sum(d.length * d.quantity for d in demands)
    if cost.status == GAP and not plain:
        raise ProofError("drawn length: beyond the pieces' own, the bound needs a proven cost")
    least = (cost.bound, 0 if plain else length.bound)
    for counts in case.not_ruled_out(least[0], least[1] - 1):
        raise ProofError(
            f"cost and drawn length: {case.key(counts)} not ruled out, bound claimed {least}"
        )
    usable = [bar.length for bar in bars if bar.available != 0]
    longest = max(usable, default=0) - min(lengths, default=0) - kerf
    if remnant.bound >= longest:
        return True
    if GAP in (cost.status, length.status):
        raise ProofError("remnant: a bound needs a proven cost and drawn length")
    for counts in case.not_ruled_out(cost.bound, length.bound):
        case.check_remnant(counts, remnant.bound)
    return True


class _Case:
    """The pieces by length, the bars by kind, and all that the proof rules out of them."""

    def __init__(self, demands: Sequence[Demand], bars: Sequence[Bar], kerf: int) -> None:
        self._demands, self._bars, self._kerf = demands, bars, kerf
        self._unit = gcd(*(d.length + kerf for d in demands)) or 1
        wanted: dict[int, int] = {}
        for d in sorted(demands, key=lambda d: d.length, reverse=True):
            wanted[d.length] = wanted.get(d.length, 0) + d.quantity
        self._lengths = list(wanted)
        self._sizes = [self._room(length) for length in wanted]
        self._quantities = list(wanted.values())
        pieces = sum(self._quantities)
        kinds: dict[tuple[int, int], int] = {}
        for bar in bars:
            number = pieces if bar.available is None else bar.available
            kind = (bar.cost, bar.length)
            kinds[kind] = min(pieces, kinds.get(kind, 0) + number)
        self._kinds = sorted(kinds)
        self._limits = tuple(kinds[kind] for kind in self._kinds)
        self._rooms = [self._room(length) for _, length in self._kinds]
        self._longest = max(self._rooms, default=0)
        # (cost, length) as one exact number: no length that comes up reaches the scale.
        self._scale = 1 + sum(
            n * length for n, (_, length) in zip(self._limits, self._kinds, strict=True)
        )
        self._weights = [cost * self._scale + length for cost, length in self._kinds]
        self._cuts: list[tuple[list[int], Table, int]] = []
        self._excluded: list[Rooms] = []

    def _room(self, length: int) -> int:
        return (length + self._kerf) // self._unit

    def key(self, counts: Counts) -> tuple[int, int]:
        """Return cost and drawn length of these counts."""
        return divmod(sum(w * n for w, n in zip(self._weights, counts, strict=True)), self._scale)

    def add_cut(self, number: int, cut: PriceCut) -> None:
        """Recompute a price cut and keep it; raises ProofError when it is not as claimed."""
        where = f"cut {number}"
        if len(cut.prices) != len(self._demands) or min(cut.prices, default=0) < 0:
            raise ProofError(f"{where}: needs {len(self._demands)} prices of 0 or more")
        price_of = {d.length: p for d, p in zip(self._demands, cut.prices, strict=True)}
        if any(price_of[d.length] != p for d, p in zip(self._demands, cut.prices, strict=True)):
            raise ProofError(f"{where}: pieces of one length have different prices")
        prices = [price_of[length] for length in self._lengths]
        if sum(p * q for p, q in zip(prices, self._quantities, strict=True)) > MOST_VALUE:
            raise ProofError(f"{where}: the pieces are worth more than {MOST_VALUE}")
        table = value_table(prices, self._sizes, self._quantities, self._longest, Effort(inf))
        need = sum(p * q for p, q in zip(prices, self._quantities, strict=True))
        values = tuple(table.best(self._room(bar.length)) for bar in self._bars)
        if (values, need) != (cut.bar_values, cut.need):
            raise ProofError(
                f"{where}: claims bar values {cut.bar_values} and need {cut.need}; "
                f"recomputed {values} and {need}"
            )
        self._cuts.append((prices, table, need))

    def add_exclusion(self, number: int, exclusion: Exclusion) -> None:
        """Try the excluded bars again and keep them; raises ProofError when they do hold."""
        rooms = pool([(room // self._unit, count) for room, count in exclusion.rooms])
        cuts = [(prices, table) for prices, table, _ in self._cuts]
        try:
            packing = try_all(rooms, self._sizes, self._quantities, cuts, STEPS, Effort(inf))
        except OutOfEffort:
            raise ProofError(f"exclusion {number}: undecided after {STEPS} steps") from None
        if packing is not None:
            raise ProofError(f"exclusion {number}: the bars {exclusion.rooms} do hold the pieces")
        self._excluded.append(rooms)

    def check_remnant(self, counts: Counts, bound: int) -> None:
        """Raise ProofError unless, of these bars, none can keep more than `bound`."""
        for j, n in enumerate(counts):
            length = self._kinds[j][1]
            if not n or length <= bound:
                continue
            others = [
                (r, c - (k == j)) for k, (r, c) in enumerate(zip(self._rooms, counts, strict=True))
            ]
            rooms = pool([*others, ((length - bound - 1) // self._unit, 1)])
            held = (
                sum(table.best(room) * count for room, count in rooms) < need
                for _, table, need in self._cuts
            )
            if not any(held) and not any(fits_within(rooms, e) for e in self._excluded):
                raise ProofError(f"remnant: above {bound} on a bar of {length} not ruled out")

    def not_ruled_out(self, cost: int, length: int) -> Iterator[Counts]:
        """Yield the bar counts of at most this (cost, length) that the proof leaves possible.

        A box of counts is dropped when even its fullest use cannot meet a cut within the cost and
        length, and halved otherwise."""
        budget = cost * self._scale + length
        rows = []
        for _, table, need in self._cuts:
            values = [table.best(room) for room in self._rooms]
            order = [j for j, v in enumerate(values) if v]
            order.sort(key=lambda j: Fraction(self._weights[j], values[j]))
            rows.append((values, need, order))
        boxes = [((0,) * len(self._limits), self._limits)]
        for _ in range(MOST_BOXES):
            if not boxes:
                return
            low, top = boxes.pop()
            spare = budget - sum(w * n for w, n in zip(self._weights, low, strict=True))
            if spare < 0:
                continue
            high = tuple(
                min(t, n + spare // w) for t, n, w in zip(top, low, self._weights, strict=True)
            )
            split = self._where_to_split(low, high, spare, rows)
            everything = pool(list(zip(self._rooms, high, strict=True)))
            if split is None or any(fits_within(everything, e) for e in self._excluded):
                continue
            j, most = split
            if low == high:
                yield low
            else:
                boxes.append(((*low[:j], most + 1, *low[j + 1 :]), high))
                boxes.append((low, (*high[:j], most, *high[j + 1 :])))
        if boxes:
            raise ProofError(f"bar counts: undecided after {MOST_BOXES} boxes")

    def _where_to_split(
        self,
        low: Counts,
        high: Counts,
        spare: int,
        rows: Sequence[tuple[list[int], int, list[int]]],
    ) -> tuple[int, int] | None:
        """Return (kind, most of it in the lower half), or None when a cut cannot be met."""
        widths = [h - n for h, n in zip(high, low, strict=True)]
        widest = max(range(len(low)), key=lambda j: widths[j], default=0)
        split = (widest, low[widest] + (widths[widest] - 1) // 2) if low else (0, 0)
        tightest = None
        for values, need, order in rows:
            reach = sum(v * n for v, n in zip(values, low, strict=True)) - need
            left, stop = spare, None
            for j in order:
                take = min(widths[j], left // self._weights[j])
                reach += values[j] * take
                left -= self._weights[j] * take
                if take < widths[j]:
                    reach += values[j] * left // self._weights[j]
                    stop = (j, low[j] + take)
                    break
            if reach < 0:
                return None
            if stop is not None and (tightest is None or reach < tightest):
                tightest, split = reach, stop
        return split
