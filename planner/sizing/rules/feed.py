"""The feed screw and its dial."""

from __future__ import annotations

from math import pi

from parts.screw import FINE_DIVISIONS, FINE_SPACING_MM, LINE_SPACING_MM
from planner.sizing.draft import OURS, TRADE, Rule, round_bar
from planner.sums.columns import least, most

FEED: tuple[Rule, ...] = (
    Rule(
        "feed_thread",
        "of the pitch asked for, 0.4 (or {10 mm}) to 0.65 of the rod",
        OURS,
        lambda d: d.shop.of_pitch(
            d.job.attachment.screw_pitch,
            least(d.nominal(10.0), 0.4 * d.rod_diameter_mm),
            0.65 * d.rod_diameter_mm,
        ),
    ),
    Rule(
        "feed_journal_diameter_mm",
        "not under the thread, and room for a nut thread {1.5 mm} under it; a reamer's size",
        OURS,
        lambda d: d.shop.reamer(
            most(d.feed_thread.major_mm, 7.9 if d.job.inch else 6.0),
            1.3 * d.feed_thread.major_mm,
        ),
    ),
    Rule(
        "feed_collar_diameter_mm",
        "{6 mm} over the journal",
        OURS,
        lambda d: d.up(d.feed_journal_diameter_mm + d.nominal(6.0)),
    ),
    Rule("feed_collar_thickness_mm", "{5 mm|3/16 in}", OURS, lambda d: d.up(4.7)),
    Rule(
        "feed_tail_thread",
        "the largest whose thin nuts pass over, {1.5 mm} under the journal",
        OURS,
        lambda d: d.shop.nut_thread(d.feed_journal_diameter_mm - d.nominal(1.5)),
        sold="thin nut",
    ),
    Rule(
        "dial_diameter_mm",
        f"lines {{{LINE_SPACING_MM:g} mm|0.04 in}} apart on the rim, {{{FINE_SPACING_MM:g}|0.035}}"
        f" where there are more than {FINE_DIVISIONS}; and room for fingers and a set screw",
        TRADE,
        lambda d: d.up(
            most(
                d.dial_divisions
                * (LINE_SPACING_MM if d.dial_divisions <= FINE_DIVISIONS else FINE_SPACING_MM)
                / pi,
                3.0 * d.feed_journal_diameter_mm,
                d.nominal(22.0),
            ),
            2,
        ),
    ),
    Rule(
        "dial_stock",
        "{1 mm} to turn off the rim",
        TRADE,
        lambda d: round_bar(d, d.job.materials.dial, d.dial_diameter_mm + d.nominal(1.0)),
        shapes=("round",),
    ),
    Rule(
        "dial_rim_mm",
        "room for the longest line and its numeral beside it: 0.6 of the rod, {7} to {9 mm}, {9} over"
        " 100 divisions",
        OURS,
        lambda d: d.up(
            least(
                d.nominal(9.0),
                most(d.nominal(7.0 if d.dial_divisions <= 100 else 9.0), 0.6 * d.rod_diameter_mm),
            )
        ),
    ),
    Rule(
        "dial_set_screw",
        "a small one, a quarter of the dial's wall: a hand tap's thread is four of its diameters long",
        OURS,
        lambda d: d.shop.tapped(
            most(2.9, (d.dial_diameter_mm - d.feed_journal_diameter_mm) / 8),
            "set screw",
            own_to=1.2,
        ),
        sold="set screw",
    ),
    Rule(
        "dial_length_mm",
        "the rim and as much knurl less {4 mm}, which the index ring takes; the set screw with {1 mm}"
        " of metal at both sides",
        OURS,
        lambda d: d.up(
            d.dial_rim_mm
            + most(d.dial_rim_mm - d.nominal(4.0), d.dial_set_screw.major_mm + 2 * d.nominal(1.0)),
            0.5,
        ),
    ),
    Rule(
        "index_screw",
        "{M3|No.6}: two of them only keep the ring from turning",
        OURS,
        lambda d: d.shop.tapped(2.8, "socket screw", 1.15),
        sold="socket screw",
    ),
    Rule(
        "index_ring_mm",
        "its screws' heads sunk, and {1.5 mm} of metal under them",
        OURS,
        lambda d: d.up(d.index_head_mm + d.nominal(1.5), 0.5),
    ),
    Rule(
        "feed_offset_mm",
        "the dial clears the rod's tail by {1 mm}",
        "geometry",
        lambda d: d.up(d.dial_diameter_mm / 2 + d.rod_diameter_mm / 2 + d.nominal(1.0)),
    ),
)

FEED_LENGTH: tuple[Rule, ...] = (
    Rule(
        "feed_thread_length_mm",
        "from the collar through the arm with the head right out",
        "geometry",
        lambda d: d.up(
            d.tip_radius_max_mm
            + d.bit_stickout_mm
            + d.arm_stock.height_mm
            - d.block_length_mm / 2
            - d.feed_collar_thickness_mm
        ),
    ),
    Rule(
        "feed_stock",
        "{0.5 mm} to turn off the collar",
        TRADE,
        lambda d: round_bar(d, d.job.materials.screw, d.feed_collar_diameter_mm + d.nominal(0.5)),
        shapes=("round",),
    ),
)
