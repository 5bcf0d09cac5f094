"""How loose a shaft may run that is turned to its bore: by the size, as published fits grow.

Imported by the parts' sizes, which say it in the job's series.
"""

from __future__ import annotations

from typing import Any

from parts.standard.fits import limits
from parts.standard.series import Series

PIVOT_PLAY_MM = 0.015
"""Greatest clearance of a pivot of PIVOT_MM or less in its own bore: it sets the ball's form."""

ROD_PLAY_MM = 0.012
"""Greatest clearance of a rod of ROD_MM or less in its own bore: what the clamp must close."""

PIVOT_MM, ROD_MM = 30.0, 18.0
"""The greatest sizes of the ranges of ISO 286 that those two were taken in, of 20 and of 14."""

RANGES_MM = (18.0, 30.0, 50.0, 80.0, 120.0)
"""Ranges of nominal size from there up, each to so much (ISO 286-1, the main ones of its table)."""

CLOSE = "g5"
"""What a shaft in its own bore, as that came out, grows like: its lower limit lies 14 um under the size
to 18 mm, 16 to 30, 20 to 50, 23 to 80, 27 to 120 (ISO 286-2, table of g)."""


SAME_MM = 1e-6
"""A size so near to a range's end lies in it."""


def greatest_play_mm(least_mm: float, upto_mm: float, size_mm: Any, series: Series) -> float:
    """The greatest clearance of a shaft in the bore that it is turned to; of a column too, for sizing.

    least_mm: that of sizes to upto_mm, one of RANGES_MM, from where it grows by as much as the lower
    limit of CLOSE falls, so that what is left of it to hit stays as wide as the work grows. series: by
    whose steps it is said.

    >>> from parts.standard.series import METRIC
    >>> [round(greatest_play_mm(0.012, 18.0, mm, METRIC), 3) for mm in (14.0, 24.0, 35.0)]
    [0.012, 0.014, 0.018]
    """
    first = limits(upto_mm, CLOSE).lower_mm
    play: Any = series.limit(least_mm)
    before = play
    for over, upto in zip(RANGES_MM, RANGES_MM[1:], strict=False):
        if over >= upto_mm:
            own = series.limit(round(least_mm + first - limits(upto, CLOSE).lower_mm, 6))
            play, before = play + (own - before) * (size_mm > over + SAME_MM), own
    found: float = play
    return found
