"""The rod and the clamp that holds it."""

from __future__ import annotations

from typing import Any

import numpy as np

from planner.sizing.draft import OURS, TRADE, Draft, Rule, round_bar
from planner.sums.columns import most

SLENDERNESS = 2.75
"""Free length of the rod over its diameter at the largest ball."""

LEAST_ROD_MM = 9.5
"""A thinner rod leaves its clamp and the handle's thread too little metal."""


LEAST_STUD_MM = 4.8
"""A thinner stud of the clamp is overloaded by a hand on its lever."""

LEVER_BOSS = 1.8
"""The clamp lever's boss over its stud: as much metal round the thread as a nut has."""


THIN_SAW_MM, WIDE_SAW_MM = 1.0, 2.2
"""A thinner slitting saw wanders so deep, a wider one takes a thin rod's clamp (common practice)."""


def _slit_mm(d: Draft) -> Any:
    usual = d.nominal(1.6)
    own = [saw for saw in d.job.shop.slitting_saws if THIN_SAW_MM - 1e-6 <= saw <= WIDE_SAW_MM]
    return min(own, key=lambda saw: (round(abs(saw - usual), 6), saw), default=usual)


def _rod_mm(d: Draft) -> Any:
    return most(LEAST_ROD_MM, d.tip_radius_max_mm / SLENDERNESS)


ROD: tuple[Rule, ...] = (
    Rule(
        "rod_diameter_mm",
        f"free length at the largest ball at most {SLENDERNESS:g} diameters, at least"
        f" {{{LEAST_ROD_MM:g} mm}}; a reamer's size",
        f"{TRADE}: a steel bar is steady to about four diameters; kept well inside",
        lambda d: d.shop.reamer(_rod_mm(d), 1.4 * _rod_mm(d)),
    ),
    Rule(
        "rod_stock",
        "{1 mm} to turn off the rod",
        TRADE,
        lambda d: round_bar(d, d.job.materials.shaft, d.rod_diameter_mm + d.nominal(1.0)),
        shapes=("round",),
    ),
    Rule(
        "clamp_screw",
        f"the clamp's stud: 0.25 of the rod, at least {{{LEAST_STUD_MM:g} mm (M5)|0.19 in (No.10)}}, so"
        " that a hand on its lever does not overload it",
        OURS,
        lambda d: d.shop.tapped(most(LEAST_STUD_MM, 0.25 * d.rod_diameter_mm), "stud", own_to=1.25),
        sold="stud",
    ),
    Rule(
        "lever_boss_mm",
        f"of the clamp's lever, its nut: {LEVER_BOSS:g} studs",
        OURS,
        lambda d: d.up(LEVER_BOSS * d.clamp_screw.major_mm, 0.5),
    ),
    Rule(
        "lever_stock",
        "{0.5 mm} or more to turn off the lever's boss",
        TRADE,
        lambda d: round_bar(d, d.job.materials.screw, d.lever_boss_mm + d.nominal(0.5)),
        shapes=("round",),
    ),
    Rule(
        "slit_width_mm",
        f"a slitting saw's: of the shop's own from {{{THIN_SAW_MM:g} mm|3/64 in}} to"
        f" {{{WIDE_SAW_MM:g} mm|5/64 in}} the nearest to {{1.6 mm}}; else that",
        TRADE,
        _slit_mm,
    ),
    Rule(
        "hinge_mm",
        "0.2 of the rod, at least {2.6 mm}: thin enough to turn, thick enough to hold",
        OURS,
        lambda d: np.round(d.series.up(most(d.nominal(2.6), 0.2 * d.rod_diameter_mm), 0.1), 6),
    ),
)
