"""The tool, the arm and the foot."""

from __future__ import annotations

from parts.head import NOTCH_RADIUS_MM
from planner.sizing.requirements.model import Requirement, at_least, at_most, major_mm

HEAD: tuple[Requirement, ...] = (
    at_least(
        "too-small",
        "bit_stock",
        "tool bit",
        lambda s: s.bit_stock.width_mm,
        lambda s: 2.0,
        "Use a larger one",
    ),
    at_least(
        "short-part",
        "bit_stickout",
        "tool bit behind its point",
        lambda s: s.bit_stickout_mm + s.arm_stock.height_mm - 1.5 * s.bit_stock.width_mm,
        lambda s: 0.0,
        "Set the bit farther out",
    ),
    at_least(
        "thin-wall",
        "tool_screw",
        "arm in front of the tool's screw",
        lambda s: (s.bit_stock.width_mm - major_mm(s.tool_screw)) / 2,
        lambda s: 0.2,
        "Use a smaller screw",
    ),
    at_least(
        "thin-wall",
        "arm_stock",
        "arm round the tool's screw",
        lambda s: (s.arm_stock.height_mm - major_mm(s.tool_screw)) / 2,
        lambda s: 1.0,
        "Use a thicker bar or a smaller screw",
    ),
    at_least(
        "thin-wall",
        "arm_overhang",
        "arm behind the tool's slot",
        lambda s: s.arm_overhang_mm - s.bit_stock.width_mm,
        lambda s: 3.0,
        "Use a smaller bit",
    ),
    at_least(
        "small-stock",
        "arm_stock",
        "arm bar width",
        lambda s: s.arm_stock.width_mm,
        lambda s: s.arm_width_mm / 2 + s.flat_offset_mm + s.foot_stock.height_mm,
        "Use a wider bar: the foot is welded under it",
    ),
    at_least(
        "thin-wall",
        "arm_lead",
        "wall between the bit and the arm's chuck side",
        lambda s: s.arm_lead_mm - s.bit_stock.width_mm / 2,
        lambda s: 2.5,
        "Make it wider",
    ),
    at_least(
        "narrow-arm",
        "arm_width",
        "thread beside the bit",
        lambda s: (s.arm_width_mm - s.bit_stock.width_mm) / 2,
        lambda s: 0.8 * major_mm(s.tool_screw),
        "Make the arm wider or the bit smaller",
    ),
    at_least(
        "narrow-arm",
        "arm_width",
        "arm beside the rod",
        lambda s: s.arm_width_mm - s.rod_diameter_mm,
        lambda s: 2.0,
        "Widen the arm",
    ),
    at_most(
        "narrow-arm",
        "arm_lead",
        "from the bit's middle to the arm's chuck side",
        lambda s: s.arm_lead_mm,
        lambda s: s.arm_width_mm,
        "Make it narrower",
    ),
    at_least(
        "narrow-arm",
        "arm_stock",
        "arm's root beside the arm in front of it",
        lambda s: s.arm_stock.width_mm - s.arm_width_mm,
        lambda s: NOTCH_RADIUS_MM,
        "Use a wider bar, or make the arm narrower",
    ),
    at_least(
        "thin-wall",
        "arm_stock",
        "arm beyond the feed screw's thread",
        lambda s: (
            s.arm_stock.width_mm
            - s.arm_width_mm / 2
            - s.feed_offset_mm
            - major_mm(s.feed_thread) / 2
        ),
        lambda s: 2.0,
        "Use a wider bar",
    ),
    at_least(
        "short-part",
        "arm_length",
        "arm past the rod",
        lambda s: s.arm_length_mm - s.arm_overhang_mm - s.rod_from_front_mm - s.rod_diameter_mm / 2,
        lambda s: 1.0,
        "Make the arm longer",
    ),
    at_least(
        "short-part",
        "arm_length",
        "arm past the feed screw's thread",
        lambda s: (
            s.arm_length_mm - s.arm_overhang_mm - s.rod_from_front_mm - major_mm(s.feed_thread) / 2
        ),
        lambda s: 1.0,
        "Make the arm longer",
    ),
    at_least(
        "thin-wall",
        "foot_stock",
        "foot",
        lambda s: s.foot_stock.height_mm,
        lambda s: 3.0,
        "Use a thicker bar",
    ),
)
