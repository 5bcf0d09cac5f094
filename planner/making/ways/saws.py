"""Slitting saws: which diameter is to be had, how deep its collar lets it in, how fast it is fed.

Imported by making.ways.slits.
"""

from __future__ import annotations

from math import pi, sqrt

from parts.standard.fits import Limits
from parts.standard.sections import MM_PER_INCH
from parts.value import Value

USUAL_MM, USUAL_IN = 63.0, 2.5
"""Diameter of a usual slitting saw: metric (ISO 2296), and in inches (common practice)."""

METRIC = (
    (25.0, 8.0, 12.0),
    (32.0, 8.0, 14.0),
    (40.0, 10.0, 18.0),
    (50.0, 13.0, 25.0),
    (63.0, 16.0, 32.0),
    (80.0, 22.0, 36.0),
    (100.0, 22.0, 40.0),
    (125.0, 22.0, 40.0),
)
"""Diameter and bore (ISO 2296) and the collar of its arbor (DIN 1837's d1), mm; all from memory."""

INCH = (
    (1.25, 0.5, 0.75),
    (1.75, 0.625, 0.9375),
    (2.0, 0.625, 1.0),
    (2.5, 0.875, 1.375),
    (3.0, 1.0, 1.5),
    (4.0, 1.0, 1.5),
    (5.0, 1.0, 1.5),
)
"""The same in inches, as dealers list them (common practice, from memory)."""

PITCH_MM = 5.0
"""From tooth to tooth of a coarse one, about (common practice: 40 teeth on 63; ISO 2296 has half as
many as on a fine one)."""

TOOTH_FEED_MM = 0.01
"""Feed for each tooth, by hand, in steel (common practice: 0.005 to 0.015 for a thin one of HSS)."""

CLEAR_MM = 0.5
"""Between the collar and the work, at the saw's full depth (common practice)."""

PAST_MM = 0.5
"""A saw that breaks through into a bore goes so far past its wall (common practice)."""

OVER_MM = 2.0
"""And runs so far clear of the work at either end (common practice)."""


WIDE_MM = (0.5, 0.6, 0.8, 1.0, 1.2, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0)
"""How wide saws are made, metric (ISO 2296, from memory)."""

WIDE_IN = (1 / 32, 3 / 64, 1 / 16, 5 / 64, 3 / 32, 1 / 8, 5 / 32, 3 / 16)
"""The same in inches, as dealers list them (common practice, from memory)."""

WANDERS_MM = 0.05
"""A saw cuts so much wider than it is (common practice)."""


class Saw(Value, frozen=True):
    """A slitting saw on its arbor: diameter, bore and the arbor's collar, mm."""

    diameter_mm: float
    bore_mm: float
    collar_mm: float

    @property
    def deepest_mm(self) -> float:
        """How deep it cuts before its collar comes to the work."""
        return (self.diameter_mm - self.collar_mm) / 2 - CLEAR_MM

    @property
    def teeth(self) -> int:
        """About how many it has: an even number."""
        return 2 * round(pi * self.diameter_mm / PITCH_MM / 2)

    @property
    def feed_mm(self) -> float:
        """Feed for each turn."""
        return TOOTH_FEED_MM * self.teeth

    def travel_mm(self, long_mm: float, deep_mm: float, ends: int = 2) -> float:
        """How far it is fed over so long a work at such a depth: in and out besides, or at one end."""
        half = self.diameter_mm / 2
        run = sqrt(max(half**2 - (half - deep_mm) ** 2, 0.0))
        return long_mm + ends * run + 2 * OVER_MM


def saws(inch: bool) -> tuple[Saw, ...]:
    """All that are to be had, the usual one first, then the larger, then the smaller."""
    scale, usual = (MM_PER_INCH, USUAL_IN * MM_PER_INCH) if inch else (1.0, USUAL_MM)
    listed = [Saw(*(scale * one for one in row)) for row in (INCH if inch else METRIC)]
    larger = [one for one in listed if one.diameter_mm > usual - 1e-6]
    smaller = [one for one in listed if one.diameter_mm < usual - 1e-6]
    return (*larger, *reversed(smaller))


def to_buy_mm(width: Limits, inch: bool) -> float:
    """How wide a saw to buy for a slit; the slit's own width where none that is made cuts it."""
    made = [MM_PER_INCH * one for one in WIDE_IN] if inch else WIDE_MM
    fit = [one for one in made if width.min_mm <= one + WANDERS_MM <= width.max_mm]
    return min(fit, key=lambda one: abs(one - width.nominal_mm), default=width.nominal_mm)
