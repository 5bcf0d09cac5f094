"""The block that carries rod, clamp and feed screw."""

from __future__ import annotations

from parts.sizes import DRESSING_MM, SPIGOT_SHORT_MM
from planner.sizing.draft import OURS, Rule, flat_bar
from planner.sizing.requirements.block import DIAL_BEHIND_MM, LEAST_SPIGOT, LEAST_SPIGOT_MM
from planner.sums.columns import most

BLOCK: tuple[Rule, ...] = (
    Rule(
        "flat_offset_mm",
        "from the rod's axis to the foot's flat: past the dial's rim by 1 mm, and 5 mm of metal beyond"
        " the feed screw",
        "geometry",
        lambda d: (
            d.feed_offset_mm
            + most(d.dial_diameter_mm / 2 + 1.0, d.feed_journal_diameter_mm / 2 + 5.0)
        ),
    ),
    Rule(
        "block_stock",
        "holds leaf, rod and the foot's flat; behind the rod 8 mm, 0.4 of the pivot, the spigot's 0.35"
        " diameters, or what keeps a large dial off the shank",
        OURS,
        lambda d: flat_bar(
            d,
            d.rod_diameter_mm / 2 + d.leaf_thickness_mm + d.flat_offset_mm + DRESSING_MM,
            d.rod_from_front_mm
            + d.rod_diameter_mm / 2
            + most(
                LEAST_SPIGOT_MM + SPIGOT_SHORT_MM,
                0.4 * d.pivot_diameter_mm,
                LEAST_SPIGOT * d.spigot_diameter_mm + SPIGOT_SHORT_MM,
                d.dial_diameter_mm / 2 - DIAL_BEHIND_MM - d.rod_diameter_mm / 2,
            )
            + DRESSING_MM,
        ),
        shapes=("flat", "square"),
    ),
    Rule(
        "block_length_mm",
        "two rods, and 5 mm round the shaft's spigot",
        OURS,
        lambda d: d.up(most(2 * d.rod_diameter_mm, d.spigot_diameter_mm + 10.0), 2),
    ),
    Rule(
        "block_back_wall_mm",
        "what the block leaves behind the rod",
        "geometry",
        lambda d: (
            d.block_stock.height_mm - DRESSING_MM - d.rod_from_front_mm - d.rod_diameter_mm / 2
        ),
        follows=("block_stock", "rod_from_front"),
    ),
)
