"""The block round rod, shaft and feed screw."""

from __future__ import annotations

from typing import Any

import numpy as np

from planner.sizing.requirements.model import Requirement, no_less, no_more
from planner.sums.columns import most

LEAST_SPIGOT_MM = 6.0
"""The shaft's spigot enters its block by so much: it sets the shaft square until it is welded."""

LEAST_SPIGOT = 0.35
"""And by so many of its diameters (common practice: a third)."""

LEAST_ROUND_SPIGOT_MM = 2.5
"""Metal round the spigot's bore: a weld's leg of 2 mm, that faced by DRESSING_MM keeps its throat, and
GROOVE_EDGE_MM beside it."""


def dial_behind_mm(s: Any) -> Any:
    """So far the dial may reach behind the thrust face: it swings past the shank, which stands back."""
    return s.setback_mm - s.series.nominal(1.0)


def _dial_behind_mm(s: Any) -> Any:
    """How far the dial may reach behind the thrust face: not at all where the tube is in its way."""
    nearest = np.hypot(-s.dial_y_mm, s.feed_offset_mm - s.dial_diameter_mm / 2)
    return np.where(nearest >= s.tube_stock.width_mm / 2 + 0.5, dial_behind_mm(s), -0.5)


BLOCK: tuple[Requirement, ...] = (
    no_less(
        "dial-gap",
        "rod_from_front",
        "block in front of the rod, where the dial turns",
        lambda s: s.rod_from_front_mm,
        lambda s: s.dial_diameter_mm / 2,
        "Set the rod farther back, or make the dial smaller: it must not stand out toward the blank",
    ),
    no_less(
        "thin-wall",
        "block_stock",
        "metal behind the rod",
        lambda s: s.block_back_wall_mm,
        lambda s: 5.0,
        "Use a thicker block",
    ),
    no_less(
        "short-part",
        "block_stock",
        "shaft's spigot in the block",
        lambda s: s.spigot_length_mm,
        lambda s: most(LEAST_SPIGOT_MM, LEAST_SPIGOT * s.spigot_diameter_mm),
        "Use a thicker block",
    ),
    no_more(
        "dial-gap",
        "dial_diameter",
        "dial behind the thrust face",
        lambda s: (
            s.dial_diameter_mm / 2 - (s.block_stock.height_mm - s.dressing_mm - s.rod_from_front_mm)
        ),
        _dial_behind_mm,
        "Make the dial smaller, or use a thicker block: it swings past tube and shank",
    ),
    no_less(
        "dial-gap",
        "feed_offset",
        "from the dial to the rod's tail",
        lambda s: s.feed_offset_mm - s.dial_diameter_mm / 2 - s.rod_diameter_mm / 2,
        lambda s: 0.5,
        "Move the feed screw out or make the dial smaller",
    ),
    no_less(
        "thin-wall",
        "feed_offset",
        "metal between rod and feed screw",
        lambda s: s.feed_offset_mm - s.rod_diameter_mm / 2 - s.feed_journal_diameter_mm / 2,
        lambda s: 2.0,
        "Move the feed screw out",
    ),
    no_less(
        "thin-wall",
        "block_stock",
        "metal beyond the feed screw",
        lambda s: s.flat_offset_mm - s.feed_offset_mm - s.feed_journal_diameter_mm / 2,
        lambda s: 3.0,
        "Use a wider block",
    ),
    no_less(
        "small-stock",
        "block_stock",
        "block bar width",
        lambda s: s.block_stock.width_mm,
        lambda s: s.flat_offset_mm - s.leaf_z_mm + s.dressing_mm,
        "Use a wider bar",
    ),
    no_less(
        "dial-gap",
        "flat_offset",
        "from the dial's rim to the foot",
        lambda s: s.flat_offset_mm - s.feed_offset_mm - s.dial_diameter_mm / 2,
        lambda s: 0.5,
        "Move the foot out or make the dial smaller",
    ),
    no_less(
        "thin-wall",
        "block_length",
        "block round the shaft's spigot",
        lambda s: (s.block_length_mm - s.spigot_diameter_mm) / 2,
        lambda s: 3.0,
        "Make the block longer",
    ),
    no_less(
        "thin-wall",
        "leaf_thickness",
        "block between the shaft's spigot and the leaf's face",
        lambda s: -s.leaf_z_mm - s.spigot_diameter_mm / 2,
        lambda s: s.series.nominal(LEAST_ROUND_SPIGOT_MM),
        "Make the leaf thicker or the spigot thinner: the shaft's weld lies between them",
    ),
    no_less(
        "thin-wall",
        "flat_offset",
        "block between the shaft's spigot and the foot's flat",
        lambda s: s.flat_offset_mm - s.spigot_diameter_mm / 2,
        lambda s: s.series.nominal(LEAST_ROUND_SPIGOT_MM),
        "Move the foot out or make the spigot thinner: the shaft's weld lies between them",
    ),
    no_less(
        "foot-front",
        "foot_stock",
        "block front beyond the foot",
        lambda s: s.rod_from_front_mm - s.foot_stock.width_mm / 2,
        lambda s: 0.0,
        "Use a narrower foot: it must not stand out toward the blank",
    ),
)
