"""The linear programme of the bar cutter: the one door to its two solvers.

Both stay, for neither does the other's work in its time. CPU, least of three runs in turns, by
tests/benchmarks/bench_barcut.py: the ten-fold and fifty-fold attachments take 1.8 and 1.6 times as long
by HiGHS alone, and SciPy's loading on top; fifty lengths out of one section, ten-fold, take 2.7 times
as long by the simplex of this room alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from planner.barcut.effort import Effort
from planner.barcut.simplex import ColumnProgramme

FEW_ROWS = 40
"""Up to here the simplex of this room is quicker than starting SciPy."""


class Programme(Protocol):
    """Maximise profit . x subject to A x <= limits, x >= 0, for limits >= 0; grows by columns.

    prices: per row, the dual solution. Floating point: amounts and prices are suggestions, checked in
    whole numbers.
    """

    prices: list[float]

    def add(self, column: Sequence[int], profit: float) -> None:
        """Allow one more column."""

    def solve(self, pivots: int) -> bool:
        """Solve for the columns given so far; False when the pivots or the effort did not do."""

    def amounts(self) -> list[float]:
        """How much of each column is used."""


def few(rows: int) -> bool:
    """Whether a programme of so many rows is solved without SciPy."""
    return rows <= FEW_ROWS


def programme(limits: Sequence[float], effort: Effort) -> Programme:
    """An empty programme with these limits, to be solved with the effort left."""
    if few(len(limits)):
        return ColumnProgramme(limits, effort)
    from planner.barcut.highs import HighsProgramme

    return HighsProgramme(limits, effort)
