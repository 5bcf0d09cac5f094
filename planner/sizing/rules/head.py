"""The tool, the arm, the foot and the rod's length."""

from __future__ import annotations

import numpy as np

from parts.head import wiper_deep_mm, wiper_seat_mm
from planner.geometry.envelope import USUAL_STEM
from planner.sizing.draft import OURS, TRADE, Rule, flat_bar
from planner.sums.columns import most

HEAD: tuple[Rule, ...] = (
    Rule(
        "bit_stock",
        "0.14 of the greatest tip radius; a stocked bit",
        OURS,
        lambda d: d.shop.tool_bit(most(4.7, 0.14 * d.tip_radius_max_mm)),
        shapes=("square",),
    ),
    Rule(
        "tool_screw",
        "0.6 of the bit: its hole lies behind the end of the arm, and leaves metal in front of it",
        OURS,
        lambda d: d.shop.tapped(0.6 * d.bit_stock.width_mm, "set screw", own_to=1.14),
        sold="set screw",
    ),
    Rule(
        "arm_lead_mm",
        "from the bit's middle to the arm's chuck side: half the bit and {3.5 mm}, so that it reaches"
        " behind the ball",
        OURS,
        lambda d: d.up(d.bit_stock.width_mm / 2 + d.nominal(3.5), 0.5),
    ),
    Rule(
        "bit_stickout_mm",
        "one and a half bits; what keeps the arm off the feed screw's collar at the smallest ball;"
        " and what keeps its corner off the usual stem with the tip at the neck",
        "geometry",
        lambda d: d.up(
            most(
                1.5 * d.bit_stock.width_mm,
                d.block_length_mm / 2
                + d.feed_collar_thickness_mm
                + d.nominal(1.0)
                - d.tip_radius_min_mm,
                (d.clearance_mm + d.arm_lead_mm * np.sqrt(1 - USUAL_STEM**2)) / USUAL_STEM,
            ),
            0.5,
        ),
    ),
    Rule(
        "arm_width_mm",
        "the bit with one tool screw's diameter of thread each side, or the rod and {4 mm}",
        OURS,
        lambda d: d.up(
            most(
                d.bit_stock.width_mm + 2 * d.tool_screw.major_mm,
                d.rod_diameter_mm + d.nominal(4.0),
            )
        ),
    ),
    Rule(
        "foot_stock",
        "as wide as 1.25 rods, {8 mm|5/16 in} thick",
        OURS,
        lambda d: flat_bar(d, 1.25 * d.rod_diameter_mm, 7.9),
        shapes=("flat", "square"),
    ),
    Rule(
        "arm_stock",
        "wide enough for arm, feed nut and foot; thick for 1.5 diameters of feed thread, or 1.2"
        " between the felt rings' seats, and 1/1.8 of the overhang",
        OURS,
        lambda d: flat_bar(
            d,
            d.arm_width_mm / 2 + d.flat_offset_mm + d.foot_stock.height_mm,
            most(
                1.5 * d.feed_thread.major_mm,
                1.2 * d.feed_thread.major_mm + 2 * wiper_deep_mm(d),
                d.arm_overhang_mm / 1.8,
                0.7 * d.rod_diameter_mm,
            ),
        ),
        shapes=("flat", "square"),
    ),
    Rule(
        "arm_length_mm",
        "overhang, to the rod, and past it by half the foot or the rod and {4 mm}",
        "geometry",
        lambda d: d.up(
            d.arm_overhang_mm
            + d.rod_from_front_mm
            + most(
                d.foot_stock.width_mm / 2,
                d.rod_diameter_mm / 2 + d.nominal(4.0),
                # felt rings wider than that, round a feed thread thicker than the rod
                wiper_seat_mm(d, d.feed_thread.major_mm) / 2 + d.nominal(1.0),
            )
        ),
    ),
    Rule(
        "foot_length_mm",
        "still on the flat by {15 mm} or 0.75 rods with the head right out",
        OURS,
        lambda d: d.up(
            d.tip_radius_max_mm
            + d.bit_stickout_mm
            - d.block_length_mm / 2
            + most(d.nominal(15.0), 0.75 * d.rod_diameter_mm)
        ),
    ),
    Rule(
        "rod_length_mm",
        "below the arm: still 1.5 diameters in the clamp with the head right out",
        TRADE,
        lambda d: d.up(
            d.tip_radius_max_mm
            + d.bit_stickout_mm
            - d.block_length_mm / 2
            + 1.5 * d.rod_diameter_mm
        ),
    ),
)
