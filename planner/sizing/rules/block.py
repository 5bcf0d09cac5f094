"""The block that carries rod, clamp and feed screw."""

from __future__ import annotations

from typing import Any

from parts.sizes import SPIGOT_SHORT_MM
from parts.standard.fasteners import clearance_hole_mm, washer
from planner.sizing.draft import OURS, Draft, Rule, flat_bar
from planner.sizing.requirements.block import LEAST_SPIGOT, LEAST_SPIGOT_MM, dial_behind_mm
from planner.sums.columns import most


def _clamp_hole_mm(d: Draft) -> Any:
    return d.clamp_screw.of(lambda size: clearance_hole_mm(size.designation))


def _screw_to_rod_mm(d: Draft) -> Any:
    """From the clamp's stud back to the rod's axis: half of both, and 2 mm of metal between them."""
    return _clamp_hole_mm(d) / 2 + d.nominal(2.0) + d.rod_diameter_mm / 2


BLOCK: tuple[Rule, ...] = (
    Rule(
        "clamp_screw_from_front_mm",
        "half its clearance hole plus {3 mm} of metal in front, and half its washer or its lever's"
        " boss: nothing of them stands out of the block's front; nor does a large dial",
        OURS,
        lambda d: d.up(
            most(
                _clamp_hole_mm(d) / 2 + d.nominal(3.0),
                d.clamp_screw.of(lambda size: washer(size.designation).outside_mm) / 2,
                d.lever_boss_mm / 2,
                d.down(d.dial_diameter_mm / 2 - _screw_to_rod_mm(d), 0.5),
            ),
            0.5,
        ),
    ),
    Rule(
        "rod_from_front_mm",
        "behind the clamp stud's hole, {2 mm} of metal between them; half a large dial",
        OURS,
        lambda d: most(
            d.up(d.clamp_screw_from_front_mm + _screw_to_rod_mm(d)), d.dial_diameter_mm / 2
        ),
    ),
    Rule(
        "flat_offset_mm",
        "from the rod's axis to the foot's flat: past the dial's rim by {1 mm}, and {5 mm} of metal"
        " beyond the feed screw",
        "geometry",
        lambda d: d.series.thousandths(
            d.feed_offset_mm
            + most(
                d.dial_diameter_mm / 2 + d.nominal(1.0),
                d.feed_journal_diameter_mm / 2 + d.nominal(5.0),
            )
        ),
    ),
    Rule(
        "block_stock",
        "holds leaf, rod and the foot's flat; behind the rod {8 mm|21/64 in}, 0.4 of the pivot, the"
        " spigot's 0.35 diameters, or what keeps a large dial off the shank",
        OURS,
        lambda d: flat_bar(
            d,
            d.rod_diameter_mm / 2 + d.leaf_thickness_mm + d.flat_offset_mm + d.dressing_mm,
            d.rod_from_front_mm
            + d.rod_diameter_mm / 2
            + most(
                d.nominal(LEAST_SPIGOT_MM) + d.nominal(SPIGOT_SHORT_MM),
                0.4 * d.pivot_diameter_mm,
                LEAST_SPIGOT * d.spigot_diameter_mm + d.nominal(SPIGOT_SHORT_MM),
                d.dial_diameter_mm / 2 - dial_behind_mm(d) - d.rod_diameter_mm / 2,
            )
            + d.dressing_mm,
        ),
        shapes=("flat", "square"),
    ),
    Rule(
        "block_length_mm",
        "two rods, and {5 mm} round the shaft's spigot",
        OURS,
        lambda d: d.up(most(2 * d.rod_diameter_mm, d.spigot_diameter_mm + 2 * d.nominal(5.0)), 2),
    ),
    Rule(
        "block_back_wall_mm",
        "what the block leaves behind the rod",
        "geometry",
        lambda d: (
            d.block_stock.height_mm - d.dressing_mm - d.rod_from_front_mm - d.rod_diameter_mm / 2
        ),
        follows=("block_stock", "rod_from_front"),
    ),
)
