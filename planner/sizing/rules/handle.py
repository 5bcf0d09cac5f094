"""The handle and its knob."""

from __future__ import annotations

from math import radians, sin

from parts.sizes import NOSE_PAST_DEG
from planner.sizing.draft import OURS, TRADE, Rule, round_bar
from planner.sums.columns import least, most

KNOB_GAP_MM = 2.0
"""What the knob swings over the seat's height, where it may."""

NOSE_PAST = radians(NOSE_PAST_DEG)

HANDLE: tuple[Rule, ...] = (
    Rule(
        "handle_thread",
        "0.45 of the pin it goes through",
        OURS,
        lambda d: d.shop.tapped(0.45 * d.pin_diameter_mm, "any"),
    ),
    Rule(
        "handle_stock",
        "{2 mm} over its thread",
        OURS,
        lambda d: round_bar(d, d.job.materials.screw, d.handle_thread.major_mm + d.nominal(1.9)),
        shapes=("round",),
    ),
    Rule(
        "handle_length_mm",
        "three times the greatest tip radius: a third of the tangential force at the hand",
        "lever",
        lambda d: d.up(3 * d.tip_radius_max_mm, 5),
    ),
    Rule(
        "knob_diameter_mm",
        "fills the hand: {22 mm}, or three handle threads; no larger than the largest ball unless"
        " the thread needs it; at the nose's stop it swings {2 mm} over the seat",
        OURS,
        lambda d: most(
            least(
                d.up(most(d.nominal(22.0), 3 * d.handle_thread.major_mm)),
                d.max_ball_diameter_mm,
                d.down(
                    2
                    * (
                        d.spindle_over_seat_mm
                        - d.nominal(KNOB_GAP_MM)
                        - d.handle_length_mm * sin(NOSE_PAST)
                    )
                ),
            ),
            d.up(2.5 * d.handle_thread.major_mm),
        ),
    ),
    Rule(
        "knob_stock",
        "{1 mm} over the ball",
        TRADE,
        lambda d: round_bar(d, d.job.materials.dial, d.knob_diameter_mm + d.nominal(1.0)),
        shapes=("round",),
    ),
)
