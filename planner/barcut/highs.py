"""Linear programmes and integer ones by SciPy's HiGHS, imported late and kept quiet."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from planner.barcut.effort import Effort

CALL_STEPS = 40_000
"""Steps it takes to hand a programme over and back,"""
ENTRY_STEPS = 1
"""and for each entry of it;"""
PLACES_A_STEP = 2
"""rows and columns that a pivot goes through in a step."""


@contextmanager
def quiet() -> Iterator[None]:
    """Keep what compiled code prints off the standard output."""
    sys.stdout.flush()
    try:
        kept = os.dup(1)
    except OSError:  # no standard output to keep clean
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(nowhere)
        os.close(kept)


class HighsProgramme:
    """The same programme as `simplex.ColumnProgramme`, solved afresh by HiGHS each time."""

    def __init__(self, limits: Sequence[float], effort: Effort) -> None:
        self._limits = list(limits)
        self._effort = effort
        self._columns: list[Sequence[int]] = []
        self._profits: list[float] = []
        self._amounts: list[float] = []
        self.prices = [0.0] * len(self._limits)

    def add(self, column: Sequence[int], profit: float) -> None:
        """Allow one more column."""
        self._columns.append(column)
        self._profits.append(profit)

    def solve(self, pivots: int) -> bool:
        """Solve for the columns given so far; False when HiGHS did not."""
        if not self._columns:
            return True
        import numpy as np
        from scipy.optimize import linprog
        from scipy.sparse import csc_matrix

        rows, columns = len(self._limits), len(self._columns)
        a_pivot = (rows + columns) // PLACES_A_STEP
        most = int(min(pivots * 100, max(1, self._effort.left // a_pivot)))
        with quiet():
            answer = linprog(
                -np.array(self._profits),
                A_ub=csc_matrix(np.array(self._columns, dtype=float).T),
                b_ub=self._limits,
                method="highs",
                options={"maxiter": most},
            )
        self._effort.spend(CALL_STEPS + ENTRY_STEPS * rows * columns + a_pivot * answer.nit)
        if answer.status != 0:
            return False
        self._amounts = [float(x) for x in answer.x]
        self.prices = [-float(y) for y in answer.ineqlin.marginals]
        return True

    def amounts(self) -> list[float]:
        """Return how much of each column is used."""
        return self._amounts + [0.0] * (len(self._columns) - len(self._amounts))
