"""The state of a piece on the lathe: its outside along the axis, its ends, what is finished on it.

Imported by making.turned, which turns it, and by what grips it.
"""

from __future__ import annotations

from msgspec.structs import replace

from parts.value import Value
from planner.making.near import below, outside, overlap, same

THICKER_MM = 0.1
"""What is thicker by more is in the way of a tool that runs past."""

FINE_MM = 0.1
"""Limits closer than this are a fine surface: it is gripped with packing only (common practice)."""


class Stretch(Value, frozen=True):
    """A cylinder of the outside: from where to where, its diameter, its surface's name, whether
    fine."""

    low: float
    high: float
    diameter: float
    name: str
    fine: bool = False


class Profile:
    """The outside of a round piece as it is now, from its low end to its high end."""

    def __init__(self, *stretches: Stretch) -> None:
        self.stretches = sorted(stretches, key=lambda one: one.low)
        self.cores: list[Stretch] = []
        """What threads leave of it, to their roots."""

    @property
    def low(self) -> float:
        """Where it begins."""
        return self.stretches[0].low

    @property
    def high(self) -> float:
        """Where it ends."""
        return self.stretches[-1].high

    def between(self, low: float, high: float) -> list[Stretch]:
        """The stretches that lie between two places, or partly."""
        return [s for s in self.stretches if overlap((s.low, s.high), (low, high))]

    def beside(self, low: float, high: float) -> list[Stretch]:
        """The stretches that end where a span begins, or begin where it ends."""
        return [s for s in self.stretches if same(s.high, low) or same(s.low, high)]

    def largest(self, low: float, high: float) -> float:
        """The largest diameter between two places."""
        return max((s.diameter for s in self.between(low, high)), default=0.0)

    def least(self, low: float, high: float) -> float:
        """The least diameter between two places."""
        return min((s.diameter for s in self.between(low, high)), default=0.0)

    def crop(self, low: float, high: float) -> None:
        """Cut off what lies beyond."""
        kept = []
        for one in self.stretches:
            a, b = max(one.low, low), min(one.high, high)
            if below(a, b):
                kept.append(replace(one, low=a, high=b))
        self.stretches = kept

    def turn(self, low: float, high: float, diameter: float, name: str, fine: bool) -> None:
        """A stretch is turned to a diameter."""
        kept = [Stretch(low, high, diameter, name, fine)]
        for one in self.stretches:
            left = outside((one.low, one.high), (low, high))
            kept += [replace(one, low=a, high=b) for a, b in left]
        self.stretches = sorted(kept, key=lambda one: one.low)

    def mark(self, low: float, high: float) -> None:
        """What lies between is too good to bite into: a thread, a knurl, a scale."""
        inside = self.between(low, high)
        self.stretches = [replace(s, fine=s.fine or s in inside) for s in self.stretches]
