"""Both linear programmes of the bar cutter against SciPy's solver on random programmes."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import numpy as np
import pytest
from scipy.optimize import linprog

from planner.barcut.effort import Effort
from planner.barcut.highs import HighsProgramme
from planner.barcut.programme import FEW_ROWS, Programme, few, programme
from planner.barcut.simplex import ColumnProgramme

WAYS: dict[str, Callable[[list[float]], Programme]] = {
    "simplex": lambda limits: ColumnProgramme(limits, Effort(10**9)),
    "HiGHS": lambda limits: HighsProgramme(limits, Effort(10**9)),
    "as the bar cutter": lambda limits: programme(limits, Effort(10**9)),
}


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("rows", [1, 5, FEW_ROWS, FEW_ROWS + 1])
def test_a_programme_that_grows_stays_at_its_optimum(way: str, rows: int) -> None:
    rng = Random(rows)
    limits = [float(rng.randint(0, 30)) for _ in range(rows)]
    grown = WAYS[way](limits)
    columns: list[list[int]] = []
    profits: list[float] = []
    for _ in range(4):
        for _ in range(rows):
            column = [rng.choice([0, 0, 1, 2, 3]) for _ in range(rows)]
            column[rng.randrange(rows)] += 1
            columns.append(column)
            profits.append(float(rng.randint(1, 50)))
            grown.add(column, profits[-1])
        assert grown.solve(10_000)
        matrix = np.array(columns, dtype=float).T
        # the optimum by another algorithm of the library than ours calls: the interior point
        best = -linprog(-np.array(profits), A_ub=matrix, b_ub=limits, method="highs-ipm").fun
        amounts, prices = np.array(grown.amounts()), np.array(grown.prices)
        assert profits @ amounts == pytest.approx(best, rel=1e-6, abs=1e-6)
        assert amounts.min() >= 0 and (matrix @ amounts <= np.array(limits) + 1e-6).all()
        # its prices prove it: none below nothing, no column worth more, the limits worth as much
        assert prices.min() >= -1e-6 and (prices @ matrix >= np.array(profits) - 1e-6).all()
        assert prices @ limits == pytest.approx(best, rel=1e-6, abs=1e-6)


def test_scipy_is_loaded_for_many_rows_only() -> None:
    assert isinstance(programme([1.0] * FEW_ROWS, Effort(10**6)), ColumnProgramme)
    assert isinstance(programme([1.0] * (FEW_ROWS + 1), Effort(10**6)), HighsProgramme)
    assert few(FEW_ROWS) and not few(FEW_ROWS + 1)
