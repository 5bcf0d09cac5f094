"""By what a diameter that has a little too much metal is brought to its size.

Imported by record.judge and making.asmade, so that both say the same of one size.
"""

from __future__ import annotations

EMERY_MM = 0.0254
"""So much of a diameter goes with emery alone: it cuts slowly, and after more the work is no longer
round (common practice: two hundredths, a thousandth of an inch)."""

FILE_MM = 0.0508
"""And so much by a fine file first, outside: after more it is no longer round (common practice: twice
that)."""


GRAIN_MM = 1e-6
"""Finer than any gauge."""


def off_a_shaft(least_mm: float) -> str:
    """By what so much at least is taken off an outside diameter."""
    if least_mm < EMERY_MM + GRAIN_MM:
        return "by fine emery, the strip held by its ends and never wrapped round"
    if least_mm < FILE_MM + GRAIN_MM:
        return "by a fine file with a handle on it, then emery held by its ends"
    return "by another cut, the work trued by an indicator first"


def out_of_a_hole(least_mm: float, reamed: bool = False) -> str:
    """By what so much at least is taken out of a hole."""
    if least_mm < EMERY_MM + GRAIN_MM:
        return "by a lap, or emery on a split stick, never on a finger"
    return (
        "by the reamer again" if reamed else "by another cut, the hole trued by an indicator first"
    )
