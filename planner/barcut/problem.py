"""Checks what is asked and brings it to its smallest whole-number form."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from math import gcd

from parts.value import Value
from planner.barcut.model import Bar, Demand

MAX_LENGTH = 10**9  # 1000 km in mm, 1 km in micrometres: beyond it a unit slip is likelier
MAX_PIECES = 5_000_000
MAX_BARS = 10**9
MAX_COST = 10**12
MAX_DEMANDS = 5_000
MAX_STOCK = 1_000


class Stock(Value, frozen=True):
    """One kind of bar: those of like length and cost together; `members` index the bars asked."""

    length: int
    cost: int
    limit: int
    room: int
    members: tuple[int, ...]


class Problem(Value, frozen=True):
    """Piece lengths with their kerf in units of their common divisor, longest first, each with
    its quantity and its demands; a bar's room is its length + kerf in the same units."""

    kerf: int
    unit: int
    sizes: tuple[int, ...]
    quantities: tuple[int, ...]
    members: tuple[tuple[int, ...], ...]
    stock: tuple[Stock, ...]
    demands: tuple[Demand, ...]
    bars: tuple[Bar, ...]

    @cached_property
    def total_size(self) -> int:
        """All pieces together, with kerfs, in units."""
        return sum(s * q for s, q in zip(self.sizes, self.quantities, strict=True))

    @cached_property
    def piece_length(self) -> int:
        """All pieces together without kerfs, in the caller's unit: no plan draws less."""
        return sum(d.length * d.quantity for d in self.demands)

    def room_of(self, length: int) -> int:
        """Room in units for pieces that, kerfs counted, take at most `length`."""
        return max(0, length) // self.unit


class TooMuch(ValueError):
    """More pieces, or longer or dearer ones, than are planned at once; the message lists them."""


def check_input(demands: Sequence[Demand], bars: Sequence[Bar], kerf: int) -> None:
    """Raise TooMuch for what is out of bounds, ValueError for what is no whole number, all at once."""
    faults: list[str] = []
    fractions = 0

    def whole(where: str, value: object, least: int, most: int) -> bool:
        nonlocal fractions
        if not isinstance(value, int) or isinstance(value, bool):
            fractions += 1
            faults.append(f"{where} {value!r} is not a whole number; round it to whole units")
        elif not least <= value <= most:
            faults.append(f"{where} {value} is outside {least} to {most}; check its unit")
        else:
            return True
        return False

    whole("kerf", kerf, 0, MAX_LENGTH)
    if len(demands) > MAX_DEMANDS:
        faults.append(f"demands: {len(demands)} entries; at most {MAX_DEMANDS}. Split the job")
    if len(bars) > MAX_STOCK:
        faults.append(f"bars: {len(bars)} entries; at most {MAX_STOCK}. Group bars of like length")
    pieces = 0
    for i, demand in enumerate(demands):
        whole(f"demand {i}: length", demand.length, 1, MAX_LENGTH)
        if whole(f"demand {i}: quantity", demand.quantity, 1, MAX_PIECES):
            pieces += demand.quantity
    if pieces > MAX_PIECES:
        faults.append(f"demands: {pieces} pieces in all; at most {MAX_PIECES}. Split the job")
    for j, bar in enumerate(bars):
        whole(f"bar {j}: length", bar.length, 1, MAX_LENGTH)
        whole(f"bar {j}: cost", bar.cost, 0, MAX_COST)
        if bar.available is not None:
            whole(f"bar {j}: available", bar.available, 0, MAX_BARS)
    if faults:
        raise (ValueError if fractions else TooMuch)("; ".join(faults))


def reduce(demands: Sequence[Demand], bars: Sequence[Bar], kerf: int) -> Problem:
    """Return the problem in whole units; raises ValueError for bad input (`check_input`)."""
    check_input(demands, bars, kerf)
    by_length: dict[int, list[int]] = {}
    for i, demand in enumerate(demands):
        by_length.setdefault(demand.length, []).append(i)
    lengths = sorted(by_length, reverse=True)
    unit = gcd(*(length + kerf for length in lengths)) or 1
    quantities = tuple(sum(demands[i].quantity for i in by_length[length]) for length in lengths)
    pieces = sum(quantities)
    by_kind: dict[tuple[int, int], list[int]] = {}
    for j, bar in enumerate(bars):
        # A bar shorter than every piece is of no use and would only widen the search.
        if bar.available != 0 and lengths and bar.length >= lengths[-1]:
            by_kind.setdefault((bar.length, bar.cost), []).append(j)
    stock = []
    for (length, cost), members in sorted(by_kind.items(), key=lambda kind: kind[0]):
        # Offcuts off the rack first, then counted bars, then the ones without end.
        order = sorted(members, key=lambda j: (bars[j].available is None, not bars[j].remnant, j))
        limit = sum(
            pieces if (available := bars[j].available) is None else available for j in order
        )
        room = (length + kerf) // unit
        stock.append(Stock(length, cost, min(limit, pieces), room, tuple(order)))
    return Problem(
        kerf=kerf,
        unit=unit,
        sizes=tuple((length + kerf) // unit for length in lengths),
        quantities=quantities,
        members=tuple(tuple(by_length[length]) for length in lengths),
        stock=tuple(stock),
        demands=tuple(demands),
        bars=tuple(bars),
    )
