"""A small linear programme, grown column by column: highest profit within limits.

Floating point: its prices and amounts are only ever suggestions, checked in whole numbers.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.barcut.effort import Effort

EPSILON = 1e-9


class ColumnProgramme:
    """Maximise profit . x subject to A x <= limits, x >= 0, for limits >= 0 and few rows.

    Revised simplex with the inverse of the basis kept in full; the slacks are the first basis.
    """

    def __init__(self, limits: Sequence[float], effort: Effort) -> None:
        self._effort = effort
        rows = len(limits)
        self._columns: list[Sequence[int]] = []
        self._profits: list[float] = []
        self._inverse = [[float(i == k) for k in range(rows)] for i in range(rows)]
        self._basis: list[int | None] = [None] * rows  # None: the row's slack
        self._amounts = [float(limit) for limit in limits]
        self.prices = [0.0] * rows  # per row; the dual solution

    def add(self, column: Sequence[int], profit: float) -> None:
        """Allow one more column."""
        self._columns.append(column)
        self._profits.append(profit)

    def solve(self, pivots: int) -> bool:
        """Improve until no column helps; False when `pivots` steps or the effort left did not
        get there."""
        rows = len(self.prices)
        for _ in range(pivots):
            if self._effort.over:
                return False
            self._effort.spend(rows * (len(self._columns) + 4 * rows))
            best, entering = EPSILON * (1 + max(self._profits, default=0.0)), None
            for k, column in enumerate(self._columns):
                gain = self._profits[k] - sum(
                    a * p for a, p in zip(column, self.prices, strict=True) if a
                )
                if gain > best:
                    best, entering = gain, k
            slack = min(range(len(self.prices)), key=lambda i: self.prices[i])
            if -self.prices[slack] > best:
                if not self._pivot(None, [row[slack] for row in self._inverse]):
                    return False
            elif entering is None:
                return True
            else:
                column = self._columns[entering]
                used = [(i, a) for i, a in enumerate(column) if a]
                if not self._pivot(
                    entering, [sum(row[i] * a for i, a in used) for row in self._inverse]
                ):
                    return False
        return False

    def _pivot(self, entering: int | None, direction: list[float]) -> bool:
        rows = range(len(direction))
        leaving, least = -1, 0.0
        for i in rows:
            if direction[i] > EPSILON:
                ratio = self._amounts[i] / direction[i]
                if (
                    leaving < 0
                    or ratio < least - EPSILON
                    or (ratio < least + EPSILON and direction[i] > direction[leaving])
                ):
                    leaving, least = i, ratio
        if leaving < 0:
            return False
        pivot = [value / direction[leaving] for value in self._inverse[leaving]]
        amount = self._amounts[leaving] / direction[leaving]
        for i in rows:
            factor = direction[i]
            if i != leaving and factor:
                self._inverse[i] = [
                    v - factor * p for v, p in zip(self._inverse[i], pivot, strict=True)
                ]
                self._amounts[i] = max(0.0, self._amounts[i] - factor * amount)
        self._inverse[leaving], self._amounts[leaving] = pivot, amount
        self._basis[leaving] = entering
        self.prices = [0.0] * len(direction)
        for basic, row in zip(self._basis, self._inverse, strict=True):
            if basic is not None:
                profit = self._profits[basic]
                self.prices = [p + profit * v for p, v in zip(self.prices, row, strict=True)]
        return True

    def amounts(self) -> list[float]:
        """Return how much of each column is used."""
        used = [0.0] * len(self._columns)
        for basic, amount in zip(self._basis, self._amounts, strict=True):
            if basic is not None:
                used[basic] = amount
        return used
