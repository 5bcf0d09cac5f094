"""What the job asks for: the lathe, the balls, the screw, the materials."""

from __future__ import annotations

from parts.standard.sections import MM_PER_INCH
from planner.sizing.draft import TRADE, Draft, Rule


def _clearance(d: Draft) -> float:
    return d.job.attachment.clearance or (MM_PER_INCH / 16 if d.job.inch else 2.0)


GOVERNING: tuple[Rule, ...] = (
    Rule(
        "spindle_over_seat_mm", "the lathe's", "job file", lambda d: d.job.lathe.spindle_over_seat
    ),
    Rule(
        "spindle_over_cross_slide_mm",
        "the lathe's",
        "job file",
        lambda d: d.job.lathe.spindle_over_cross_slide,
    ),
    Rule(
        "largest_shank_mm", "the tool post's", "job file", lambda d: d.job.tool_post.largest_shank
    ),
    Rule(
        "post_depth_mm",
        "how deep the tool post is along the shank; three of its largest shanks unless given",
        "job file",
        lambda d: d.job.tool_post.depth or d.up(3 * d.largest_shank_mm),
        key="tool_post.depth",
    ),
    Rule(
        "max_ball_diameter_mm",
        "the largest ball wanted",
        "job file",
        lambda d: d.job.attachment.max_ball_diameter,
    ),
    Rule(
        "min_ball_diameter_mm",
        "the smallest ball wanted, or a third of the largest",
        "job file",
        lambda d: d.job.attachment.min_ball_diameter or d.down(d.max_ball_diameter_mm / 3),
        key="attachment.min_ball_diameter",
    ),
    Rule(
        "max_blank_diameter_mm",
        "the thickest blank wanted, or the largest ball's diameter",
        "job file",
        lambda d: d.job.attachment.max_blank_diameter or d.max_ball_diameter_mm,
        key="attachment.max_blank_diameter",
    ),
    Rule(
        "screw_pitch_mm", "advance for one turn", "job file", lambda d: d.job.attachment.screw_pitch
    ),
    Rule(
        "dial_divisions", "lines on the dial", "job file", lambda d: d.job.attachment.dial_divisions
    ),
    Rule(
        "clearance_mm",
        "kept between what moves and what stands; {2 mm|1/16 in} unless given",
        TRADE,
        _clearance,
        key="attachment.clearance",
    ),
    Rule("structure_material", "welded parts", "job file", lambda d: d.job.materials.structure),
    Rule("shaft_material", "pivot shaft and rod", "job file", lambda d: d.job.materials.shaft),
    Rule("screw_material", "feed screw and handle", "job file", lambda d: d.job.materials.screw),
    Rule("dial_material", "dial and knob", "job file", lambda d: d.job.materials.dial),
    Rule("tool_material", "cutting tool", "job file", lambda d: d.job.shop.tool_material),
)
