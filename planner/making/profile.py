"""The state of a piece on the lathe: its outside along the axis, its ends, what is finished on it.

Imported by making.turned, which turns it, and by what grips it.
"""

from __future__ import annotations

from dataclasses import dataclass

FINE_MM = 0.1
"""Limits closer than this are a fine surface: it is gripped with packing only (common practice)."""


@dataclass(frozen=True)
class Stretch:
    """A cylinder of the outside: from where to where, its diameter, its surface's name, whether
    fine."""

    low: float
    high: float
    diameter: float
    name: str
    fine: bool = False

    @property
    def long(self) -> float:
        """How long it is."""
        return self.high - self.low


class Profile:
    """The outside of a round piece as it is now, from its low end to its high end."""

    def __init__(self, low: float, high: float, diameter: float) -> None:
        self.stretches = [Stretch(low, high, diameter, "blank.round")]

    @property
    def low(self) -> float:
        """Where it begins."""
        return self.stretches[0].low

    @property
    def high(self) -> float:
        """Where it ends."""
        return self.stretches[-1].high

    def largest(self, low: float, high: float) -> float:
        """The largest diameter between two places."""
        return max(
            [s.diameter for s in self.stretches if s.low < high - 1e-6 and s.high > low + 1e-6]
            or [0.0]
        )

    def least(self, low: float, high: float) -> float:
        """The least diameter between two places."""
        return min(
            [s.diameter for s in self.stretches if s.low < high - 1e-6 and s.high > low + 1e-6]
            or [0.0]
        )

    def crop(self, low: float, high: float) -> None:
        """Cut off what lies beyond."""
        kept = []
        for one in self.stretches:
            a, b = max(one.low, low), min(one.high, high)
            if b - a > 1e-6:
                kept.append(Stretch(a, b, one.diameter, one.name, one.fine))
        self.stretches = kept

    def turn(self, low: float, high: float, diameter: float, name: str, fine: bool) -> None:
        """A stretch is turned to a diameter."""
        kept = [Stretch(low, high, diameter, name, fine)]
        for one in self.stretches:
            for a, b in ((one.low, min(one.high, low)), (max(one.low, high), one.high)):
                if b - a > 1e-6:
                    kept.append(Stretch(a, b, one.diameter, one.name, one.fine))
        self.stretches = sorted(kept, key=lambda one: one.low)

    def mark(self, low: float, high: float, name: str) -> None:
        """What lies between is too good to bite into: a thread, a knurl, a scale."""
        marked = []
        for one in self.stretches:
            inside = one.low < high - 1e-6 and one.high > low + 1e-6
            marked.append(Stretch(one.low, one.high, one.diameter, one.name, one.fine or inside))
        self.stretches = marked
