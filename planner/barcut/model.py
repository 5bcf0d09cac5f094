"""What goes into a cutting of bars and what comes out: plain frozen data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import to_builtins

from parts.value import Value

PROVEN = "proven"
GAP = "gap"
LEVELS = ("cost", "drawn length", "longest remnant", "stop settings")


class Demand(Value, frozen=True):
    """Pieces wanted: `quantity` of `length`, in whole units of length (1 or more each)."""

    length: int
    quantity: int
    name: str = ""


class Bar(Value, frozen=True):
    """A stock length: whole units of length; `available` bars of it (None: any number);
    `cost` of one in whole money units (0: free); `remnant` marks an offcut from the rack."""

    length: int
    available: int | None
    cost: int
    name: str = ""
    remnant: bool = False


class Layout(Value, frozen=True):
    """One bar sawn `count` times alike: `pieces` are demand indices in sawing order, `remnant`
    the length left over after the last kerf (0 when the kerf takes it all)."""

    bar: Bar
    pieces: tuple[int, ...]
    count: int
    remnant: int


class LevelStatus(Value, frozen=True):
    """How one level of the objective stands: its `value`, the `bound` no plan that is as good on
    the levels before can pass, and `status`: "proven" when the two meet, else "gap"."""

    level: str
    value: int
    bound: int
    status: str


class PriceCut(Value, frozen=True):
    """What any plan must satisfy: sum_j `bar_values[j]` n_j >= `need`, where `prices` are whole
    numbers per demand, bar_values[j] the most that one bar j can hold of them, n_j the number of
    bars j used, and need = sum_i prices[i] * quantity[i]."""

    prices: tuple[int, ...]
    bar_values: tuple[int, ...]
    need: int


class Exclusion(Value, frozen=True):
    """Bars shown by trying everything not to hold the pieces, as (room, count) pairs; room is
    bar length + kerf, and every piece takes its length + kerf of it."""

    rooms: tuple[tuple[int, int], ...]


class Proof(Value, frozen=True):
    """Why nothing better exists: price cuts and exclusions; `check_proof` re-checks it."""

    cuts: tuple[PriceCut, ...] = ()
    exclusions: tuple[Exclusion, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """Return the proof as dicts, lists and ints, ready for JSON."""
        return {
            "cuts": [
                {"prices": list(c.prices), "bar_values": list(c.bar_values), "need": c.need}
                for c in self.cuts
            ],
            "exclusions": [[list(pair) for pair in e.rooms] for e in self.exclusions],
        }

    @classmethod
    def from_dict(cls, data: Mapping[str, Any]) -> Proof:
        """Return the proof that `to_dict` wrote."""
        cuts = tuple(
            PriceCut(tuple(c["prices"]), tuple(c["bar_values"]), c["need"]) for c in data["cuts"]
        )
        exclusions = tuple(
            Exclusion(tuple((room, count) for room, count in pairs)) for pairs in data["exclusions"]
        )
        return cls(cuts, exclusions)


class CutPlan(Value, frozen=True):
    """A cutting of bars: the layouts in sawing order, the four levels of the objective, how each
    level stands, and the proof of the bounds of the first three."""

    layouts: tuple[Layout, ...]
    cost: int
    drawn_length: int
    longest_remnant: int
    stop_settings: int
    status: tuple[LevelStatus, ...]
    proof: Proof

    def level(self, name: str) -> LevelStatus:
        """Return the status of the level called `name` (one of `LEVELS`)."""
        for status in self.status:
            if status.level == name:
                return status
        raise KeyError(f"no level {name!r}; the levels are {', '.join(LEVELS)}")

    def to_dict(self) -> dict[str, Any]:
        """Return the plan as dicts, lists, ints and strings, ready for JSON."""
        data: dict[str, Any] = to_builtins(self)
        data["layouts"] = [
            {
                "bar": to_builtins(layout.bar),
                "pieces": list(layout.pieces),
                "count": layout.count,
                "remnant": layout.remnant,
            }
            for layout in self.layouts
        ]
        data["status"] = [to_builtins(status) for status in self.status]
        data["proof"] = self.proof.to_dict()
        return data


class Unplaced(Value, frozen=True):
    """Pieces that found no room: `quantity` of demand number `demand`, each of `length`."""

    demand: int
    name: str
    length: int
    quantity: int


class NotEnoughBars(ValueError):
    """The bars cannot hold the pieces.

    Attributes: `unplaced`, the pieces left over by the fullest cutting found; `short_by`, their
    total length with kerfs; `nearest_bar`, the bar length that would do, and `bars_needed`, how
    many of it, on top of the bars given; `proven`, whether the bars were proven not to suffice
    (False: no cutting was found in the time given).
    """

    def __init__(
        self,
        unplaced: tuple[Unplaced, ...],
        short_by: int,
        nearest_bar: int,
        bars_needed: int,
        proven: bool,
    ) -> None:
        self.unplaced = unplaced
        self.short_by = short_by
        self.nearest_bar = nearest_bar
        self.bars_needed = bars_needed
        self.proven = proven
        pieces = ", ".join(
            f"{u.quantity} x {u.length}" + (f" ({u.name})" if u.name else "") for u in unplaced
        )
        verdict = "cannot hold" if proven else "were not found, in the time given, to hold"
        super().__init__(
            f"bars: those given {verdict} the pieces; left over {pieces}, "
            f"{short_by} with kerfs. Add {bars_needed} of length {nearest_bar}"
        )
