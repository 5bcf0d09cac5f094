"""The tip's reach, the arm over the blank, the lathe's own room."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.feed_nut import TAPPED, TAPPED_MOST
from planner.sizing.requirements.model import Requirement, major_mm, no_less, no_more


def _half_in_the_nut_mm(s: Any) -> Any:
    """How far the feed screw is in the arm to be in half of what is tapped, at the far side."""
    thick, major = s.arm_stock.height_mm, major_mm(s.feed_thread)
    drilled_clear = thick > TAPPED_MOST * major
    return np.where(drilled_clear, thick - TAPPED / 2 * major, thick / 2)


REACH: tuple[Requirement, ...] = (
    no_less(
        "tip-reach",
        "tip_radius_max",
        "greatest tip radius",
        lambda s: s.tip_radius_max_mm,
        lambda s: np.hypot(s.max_blank_diameter_mm / 2, s.max_ball_diameter_mm / 2),
        "The tip must clear the corner of the blank",
    ),
    no_less(
        "arm-reach",
        "arm_overhang",
        "arm overhang",
        lambda s: s.arm_overhang_mm,
        lambda s: s.max_blank_diameter_mm / 2 + 0.5,
        "The arm must reach over half the blank",
    ),
    no_less(
        "short-part",
        "rod_length",
        "rod in its clamp with the head right out",
        lambda s: s.block_length_mm / 2 - s.tip_radius_max_mm - s.bit_stickout_mm + s.rod_length_mm,
        lambda s: s.rod_diameter_mm,
        "Make the rod longer",
    ),
    no_less(
        "short-part",
        "foot_length",
        "foot on its flat with the head right out",
        lambda s: (
            s.block_length_mm / 2 - s.tip_radius_max_mm - s.bit_stickout_mm + s.foot_length_mm
        ),
        lambda s: 5.0,
        "Make the foot longer",
    ),
    no_less(
        "short-part",
        "feed_thread_length",
        "feed thread in the arm with the head right out",
        lambda s: (
            s.feed_thread_length_mm
            + s.feed_collar_thickness_mm
            + s.block_length_mm / 2
            - s.tip_radius_max_mm
            - s.bit_stickout_mm
        ),
        _half_in_the_nut_mm,
        "Make the thread longer",
    ),
    no_more(
        "too-large",
        "feed_thread_length",
        "feed thread over the collar",
        lambda s: s.feed_thread_length_mm,
        lambda s: (
            s.tip_radius_max_mm
            + s.bit_stickout_mm
            - s.block_length_mm / 2
            - s.feed_collar_thickness_mm
            + s.arm_stock.height_mm
            + s.travel_mm
        ),
        "Make it shorter: the arm never reaches so far, and the rest stands in the open",
    ),
    no_less(
        "dial-gap",
        "bit_stickout",
        "from the arm to the feed screw's collar at the smallest ball",
        lambda s: (
            s.tip_radius_min_mm
            + s.bit_stickout_mm
            - s.block_length_mm / 2
            - s.feed_collar_thickness_mm
        ),
        lambda s: 0.5,
        "Set the bit farther out",
    ),
    no_more(
        "cross-slide",
        "tube_stock",
        "housing below the axis, with clearance,",
        lambda s: s.tube_stock.width_mm / 2 + s.clearance_mm,
        lambda s: s.spindle_over_cross_slide_mm,
        "Use a smaller tube",
    ),
    no_more(
        "cross-slide",
        "dial_diameter",
        "dial's rim from the pivot axis",
        lambda s: s.feed_offset_mm + s.dial_diameter_mm / 2,
        lambda s: s.spindle_over_cross_slide_mm,
        "Make the dial smaller, or move the feed screw in",
    ),
)
