"""The tool, the arm and the foot."""

from __future__ import annotations

from typing import Any

from parts.head import notch_radius_mm, wiper_deep_mm, wiper_seat_mm
from planner.sizing.requirements.model import Requirement, major_mm, no_less, no_more


def _seat_mm(s: Any) -> Any:
    """Diameter of the seats for the felt rings round the feed thread."""
    return wiper_seat_mm(s, major_mm(s.feed_thread))


LEAST_SKIN_MM = 0.7
"""Metal in front of the tool's screw, whose hole is tapped: a turn of its thread (common practice)."""

HEAD: tuple[Requirement, ...] = (
    no_less(
        "too-small",
        "bit_stock",
        "tool bit",
        lambda s: s.bit_stock.width_mm,
        lambda s: 2.0,
        "Use a larger one",
    ),
    no_less(
        "short-part",
        "bit_stickout",
        "tool bit behind its point",
        lambda s: s.bit_stickout_mm + s.arm_stock.height_mm - 1.5 * s.bit_stock.width_mm,
        lambda s: 0.0,
        "Set the bit farther out",
    ),
    no_less(
        "thin-wall",
        "tool_screw",
        "arm in front of the tool's screw",
        lambda s: (s.bit_stock.width_mm - major_mm(s.tool_screw)) / 2,
        lambda s: LEAST_SKIN_MM,
        "Use a smaller screw",
    ),
    no_less(
        "thin-wall",
        "arm_stock",
        "arm round the tool's screw",
        lambda s: (s.arm_stock.height_mm - major_mm(s.tool_screw)) / 2,
        lambda s: 1.0,
        "Use a thicker bar or a smaller screw",
    ),
    no_less(
        "thin-wall",
        "arm_overhang",
        "arm behind the tool's slot",
        lambda s: s.arm_overhang_mm - s.bit_stock.width_mm,
        lambda s: 3.0,
        "Use a smaller bit",
    ),
    no_less(
        "small-stock",
        "arm_stock",
        "arm bar width",
        lambda s: s.arm_stock.width_mm,
        lambda s: s.arm_width_mm / 2 + s.flat_offset_mm + s.foot_stock.height_mm,
        "Use a wider bar: the foot is welded under it",
    ),
    no_less(
        "thin-wall",
        "arm_lead",
        "wall between the bit and the arm's chuck side",
        lambda s: s.arm_lead_mm - s.bit_stock.width_mm / 2,
        lambda s: 2.5,
        "Make it wider",
    ),
    no_less(
        "narrow-arm",
        "arm_width",
        "thread beside the bit",
        lambda s: (s.arm_width_mm - s.bit_stock.width_mm) / 2,
        lambda s: 0.8 * major_mm(s.tool_screw),
        "Make the arm wider or the bit smaller",
    ),
    no_less(
        "narrow-arm",
        "arm_width",
        "arm beside the rod",
        lambda s: s.arm_width_mm - s.rod_diameter_mm,
        lambda s: 2.0,
        "Widen the arm",
    ),
    no_more(
        "narrow-arm",
        "arm_lead",
        "from the bit's middle to the arm's chuck side",
        lambda s: s.arm_lead_mm,
        lambda s: s.arm_width_mm,
        "Make it narrower",
    ),
    no_less(
        "narrow-arm",
        "arm_stock",
        "arm's root beside the arm in front of it",
        lambda s: s.arm_stock.width_mm - s.arm_width_mm,
        notch_radius_mm,
        "Use a wider bar, or make the arm narrower",
    ),
    no_less(
        "thin-wall",
        "arm_stock",
        "arm beyond the felt rings' seats",
        lambda s: s.arm_stock.width_mm - s.arm_width_mm / 2 - s.feed_offset_mm - _seat_mm(s) / 2,
        lambda s: 1.0,
        "Use a wider bar",
    ),
    no_less(
        "short-part",
        "arm_length",
        "arm past the rod",
        lambda s: s.arm_length_mm - s.arm_overhang_mm - s.rod_from_front_mm - s.rod_diameter_mm / 2,
        lambda s: 1.0,
        "Make the arm longer",
    ),
    no_less(
        "short-part",
        "arm_length",
        "arm past the felt rings' seats",
        lambda s: s.arm_length_mm - s.arm_overhang_mm - s.rod_from_front_mm - _seat_mm(s) / 2,
        lambda s: 1.0,
        "Make the arm longer",
    ),
    no_less(
        "thin-wall",
        "feed_offset",
        "arm between the rod and the felt rings' seats",
        lambda s: s.feed_offset_mm - s.rod_diameter_mm / 2 - _seat_mm(s) / 2,
        lambda s: 0.5,
        "Move the feed screw out",
    ),
    no_less(
        "thin-wall",
        "arm_stock",
        "feed screw's thread between the felt rings' seats",
        lambda s: s.arm_stock.height_mm - 2 * wiper_deep_mm(s),
        lambda s: major_mm(s.feed_thread),
        "Use a thicker bar",
    ),
    no_less(
        "thin-wall",
        "foot_stock",
        "foot",
        lambda s: s.foot_stock.height_mm,
        lambda s: 3.0,
        "Use a thicker bar",
    ),
)
