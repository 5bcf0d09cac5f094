"""Cutting bars into pieces: fewest money units, then least length, proven in whole numbers.

Everything is in whole units of length: take one fine enough that all lengths and the kerf are
whole (tenths of a millimetre, 1/64 in). `cut_bars` plans; `check_plan` goes through a plan piece
by piece; `check_proof` re-checks its bounds without a solver; `first_fit_decreasing` is the plain
way to measure against.

>>> from barcut import Bar, Demand, check_proof, cut_bars
>>> demands = [Demand(1200, 3, "pivot arm"), Demand(800, 2, "base")]
>>> bars = [Bar(2500, 1, 0, "offcut", remnant=True), Bar(3000, None, 900)]
>>> plan = cut_bars(demands, bars, kerf=20)
>>> plan.cost, plan.drawn_length, [s.status for s in plan.status][:2]
(900, 5500, ['proven', 'proven'])
>>> check_proof(demands, bars, 20, plan)
True
"""

from planner.barcut.baseline import first_fit_decreasing
from planner.barcut.check import PlanError, check_plan
from planner.barcut.model import (
    Bar,
    CutPlan,
    Demand,
    Exclusion,
    Layout,
    LevelStatus,
    NotEnoughBars,
    PriceCut,
    Proof,
    Unplaced,
)
from planner.barcut.problem import TooMuch
from planner.barcut.proof import ProofError, check_proof
from planner.barcut.solve import cut_bars

__all__ = [
    "Bar",
    "CutPlan",
    "Demand",
    "Exclusion",
    "Layout",
    "LevelStatus",
    "NotEnoughBars",
    "PlanError",
    "PriceCut",
    "Proof",
    "ProofError",
    "TooMuch",
    "Unplaced",
    "check_plan",
    "check_proof",
    "cut_bars",
    "first_fit_decreasing",
]
