"""The pivot shaft, its thread and its plain end."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.pivot_nut import nut_material, pellet_mm, spanner_deep_mm
from parts.standard.sections import MM_PER_INCH
from planner.sizing.draft import OURS, TRADE, Draft, Rule, round_bar
from planner.sizing.requirements.block import LEAST_ROUND_SPIGOT_MM
from planner.sizing.requirements.pivot import DEEPEST_LOCK
from planner.sums.columns import most


def _wall_mm(d: Draft) -> float:
    """Metal of the nut round its thread, at least: the spanner's holes and 2 mm under them."""
    return spanner_deep_mm(d) + d.nominal(2.0)


def _bears_on_mm(d: Draft) -> Any:
    """The nut over the bore that it bears on round, at least."""
    return d.pivot_diameter_mm + 2 * d.nominal(2.0)


PIVOT: tuple[Rule, ...] = (
    Rule(
        "pivot_diameter_mm",
        "1.2 rods",
        OURS,
        lambda d: d.shop.reamer(1.2 * d.rod_diameter_mm, 1.5 * d.rod_diameter_mm),
    ),
    Rule(
        "pivot_thread",
        "the largest that a nut passes over, {2 mm} under the pivot; own taps down to 0.9 of it first",
        OURS,
        lambda d: d.shop.made_nut_thread(d.pivot_diameter_mm - d.nominal(2.0)),
        sold="thin nut",
    ),
    Rule(
        "spigot_diameter_mm",
        "{2 mm|1/8 in} over the pivot, so that all of the journal is turned after welding",
        OURS,
        lambda d: d.pivot_diameter_mm + (2.0 if not d.job.inch else MM_PER_INCH / 8),
    ),
    Rule(
        "leaf_thickness_mm",
        "0.45 of the rod, at least {4 mm}: the lever on its hinge, stiff; metal round"
        " the shaft's spigot",
        OURS,
        lambda d: d.up(
            most(
                d.nominal(4.0),
                0.45 * d.rod_diameter_mm,
                d.nominal(LEAST_ROUND_SPIGOT_MM) + d.spigot_diameter_mm / 2 - d.rod_diameter_mm / 2,
            )
        ),
    ),
    Rule(
        "shaft_stock",
        "{1 mm} to turn off the spigot",
        TRADE,
        lambda d: round_bar(d, d.job.materials.shaft, d.spigot_diameter_mm + d.nominal(1.0)),
        shapes=("round",),
    ),
    Rule(
        "pin_diameter_mm",
        "clear of the nut: under the pivot thread's root",
        OURS,
        lambda d: d.down(d.pivot_thread.minor_external_mm - 0.3, 0.5),
    ),
)

PIVOT_NUT: tuple[Rule, ...] = (
    Rule(
        "nut_screw",
        "0.15 of the nut's thread, {3 mm} at least; a small one: its length goes into the nut's wall,"
        " but for a wall deeper than its tap goes",
        OURS,
        lambda d: d.shop.tapped(
            most(
                2.9,
                0.15 * d.pivot_thread.major_mm,
                (_bears_on_mm(d) - d.pivot_thread.major_mm) / 2 / DEEPEST_LOCK,
            ),
            "set screw",
            own_to=1.25,
        ),
        sold="set screw",
    ),
    Rule(
        "nut_diameter_mm",
        "1.45 of its thread; all round it {3.8 mm}, and the shortest lock screw on its pellet;"
        " {2 mm} to bear on round the pivot bore: round, so that it turns beside the tool post",
        OURS,
        lambda d: d.up(
            most(
                1.45 * d.pivot_thread.major_mm,
                _bears_on_mm(d),
                d.pivot_thread.major_mm + 2 * _wall_mm(d),
                2
                * np.hypot(
                    d.pivot_thread.major_mm / 2 + pellet_mm(d) + d.nut_screw_mm,
                    d.nut_screw.major_mm / 2,
                ),
            ),
            0.5,
        ),
    ),
    Rule(
        "nut_length_mm",
        "0.6 of its thread, at least {8 mm}: a nut of 0.8 is full strength, this one sets end play",
        OURS,
        lambda d: d.up(most(0.6 * d.pivot_thread.major_mm, 7.9)),
    ),
    Rule(
        "nut_stock",
        "{0.5 mm} to turn off the rim",
        TRADE,
        lambda d: round_bar(
            d,
            nut_material(d.job.materials.shaft, d.job.materials.screw),
            d.nut_diameter_mm + d.nominal(0.5),
        ),
        shapes=("round",),
    ),
)
