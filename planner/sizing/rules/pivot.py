"""The pivot shaft, its thread and its plain end."""

from __future__ import annotations

from planner.sizing.draft import OURS, TRADE, Rule, round_bar

PIVOT: tuple[Rule, ...] = (
    Rule(
        "pivot_diameter_mm",
        "1.2 rods",
        OURS,
        lambda d: d.shop.reamer(1.2 * d.rod_diameter_mm, 1.5 * d.rod_diameter_mm),
    ),
    Rule(
        "pivot_thread",
        "the largest that leaves its thin nuts room to pass over, 2 mm under the pivot",
        OURS,
        lambda d: d.shop.nut_thread(d.pivot_diameter_mm - 2.0),
        sold="thin nut",
    ),
    Rule(
        "spigot_diameter_mm",
        "2 mm or 1/8 in over the pivot, so that all of the journal is turned after welding",
        OURS,
        lambda d: d.pivot_diameter_mm + (2.0 if not d.job.inch else 25.4 / 8),
    ),
    Rule(
        "shaft_stock",
        "1 mm to turn off the spigot",
        TRADE,
        lambda d: round_bar(d, d.job.materials.shaft, d.spigot_diameter_mm + 1.0),
        shapes=("round",),
    ),
    Rule(
        "pin_diameter_mm",
        "clear of the nuts: under the pivot thread's root",
        OURS,
        lambda d: d.down(d.pivot_thread.minor_external_mm - 0.3, 0.5),
    ),
)
