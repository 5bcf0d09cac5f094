"""What a set of sizes must satisfy before anything is drawn: walls, clearances, materials.

Each check is a line with the place, the value, the limit and the remedy. Imported by sizing.apply.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import hypot, pi, sqrt
from typing import Any

import numpy as np

from parts.attachment import attachment
from parts.sizes import DRESSING_MM, Sizes
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.geometry.envelope import lowest, swinging_edges
from planner.job.tables import Job
from planner.sums.columns import most
from planner.words.findings import Finding, finding

LEAST_WALL_MM = 3.0
"""Metal left round a bore that carries load (common practice)."""


MOST_STICKOUT = 5.0
"""A bit that sticks out more of its own widths bends and chatters (common practice: four to five)."""

CLOSEST_LINES_MM = 0.8
"""Lines of a dial that stand closer are hard to read (common practice)."""


@dataclass(frozen=True)
class Requirement:
    """A size that must be at least another.

    code: of its finding; key: the size to change; what: what is measured; value, least: functions of
    Sizes, or of columns of them; remedy: what to do.
    """

    code: str
    key: str
    what: str
    value: Callable[[Any], Any]
    least: Callable[[Any], Any]
    remedy: str

    def met(self, s: Any) -> Any:
        """Whether it is met: a truth, or one for each row."""
        return self.value(s) >= self.least(s) - 1e-6


def major_mm(size: Any) -> Any:
    """The diameter of a thread, by its name or as a column."""
    return thread(size).major_mm if isinstance(size, str) else size.major_mm


REQUIREMENTS: tuple[Requirement, ...] = (
    Requirement(
        "thin-wall",
        "leaf_thickness",
        "clamp leaf",
        lambda s: s.leaf_thickness_mm,
        lambda s: 3.0,
        "Make the leaf thicker",
    ),
    Requirement(
        "thin-wall",
        "hinge",
        "slit behind the rod for the hinge",
        lambda s: s.hinge_z_mm - s.leaf_z_mm,
        lambda s: 2.0,
        "Make the leaf thicker or the hinge thinner",
    ),
    Requirement(
        "thin-wall",
        "block_stock",
        "metal behind the rod",
        lambda s: s.block_back_wall_mm,
        lambda s: 5.0,
        "Use a thicker block",
    ),
    Requirement(
        "dial-gap",
        "feed_offset",
        "from the dial to the rod's tail",
        lambda s: s.feed_offset_mm - s.dial_diameter_mm / 2 - s.rod_diameter_mm / 2,
        lambda s: 0.5,
        "Move the feed screw out or make the dial smaller",
    ),
    Requirement(
        "thin-wall",
        "feed_offset",
        "metal between rod and feed screw",
        lambda s: s.feed_offset_mm - s.rod_diameter_mm / 2 - s.feed_journal_diameter_mm / 2,
        lambda s: 2.0,
        "Move the feed screw out",
    ),
    Requirement(
        "thin-wall",
        "block_stock",
        "metal beyond the feed screw",
        lambda s: s.flat_offset_mm - s.feed_offset_mm - s.feed_journal_diameter_mm / 2,
        lambda s: 3.0,
        "Use a wider block",
    ),
    Requirement(
        "small-stock",
        "block_stock",
        "block bar width",
        lambda s: s.block_stock.width_mm,
        lambda s: s.flat_offset_mm - s.leaf_z_mm + DRESSING_MM,
        "Use a wider bar",
    ),
    Requirement(
        "dial-gap",
        "flat_offset",
        "from the dial's rim to the foot",
        lambda s: s.flat_offset_mm - s.feed_offset_mm - s.dial_diameter_mm / 2,
        lambda s: 0.5,
        "Move the foot out or make the dial smaller",
    ),
    Requirement(
        "thin-wall",
        "block_length",
        "block round the shaft's spigot",
        lambda s: (s.block_length_mm - s.spigot_diameter_mm) / 2,
        lambda s: 3.0,
        "Make the block longer",
    ),
    Requirement(
        "foot-front",
        "foot_stock",
        "block front beyond the foot",
        lambda s: s.rod_from_front_mm - s.foot_stock.width_mm / 2,
        lambda s: 0.0,
        "Use a narrower foot: it must not stand out toward the blank",
    ),
    Requirement(
        "small-stock",
        "arm_stock",
        "arm bar width",
        lambda s: s.arm_stock.width_mm,
        lambda s: s.arm_width_mm / 2 + s.flat_offset_mm + s.foot_stock.height_mm,
        "Use a wider bar: the foot is welded under it",
    ),
    Requirement(
        "thin-wall",
        "arm_lead",
        "wall between the bit and the arm's chuck side",
        lambda s: s.arm_lead_mm - s.bit_stock.width_mm / 2,
        lambda s: 2.5,
        "Make it wider",
    ),
    Requirement(
        "narrow-arm",
        "arm_width",
        "thread beside the bit",
        lambda s: (s.arm_width_mm - s.bit_stock.width_mm) / 2,
        lambda s: 0.8 * major_mm(s.tool_screw),
        "Make the arm wider or the bit smaller",
    ),
    Requirement(
        "narrow-arm",
        "arm_width",
        "arm beside the rod",
        lambda s: s.arm_width_mm - s.rod_diameter_mm,
        lambda s: 2.0,
        "Widen the arm",
    ),
    Requirement(
        "small-stock",
        "shaft_stock",
        "shaft bar",
        lambda s: s.shaft_stock.width_mm,
        lambda s: s.spigot_diameter_mm,
        "Use a thicker bar",
    ),
    Requirement(
        "small-stock",
        "rod_stock",
        "rod bar",
        lambda s: s.rod_stock.width_mm,
        lambda s: s.rod_diameter_mm,
        "Use a thicker bar",
    ),
    Requirement(
        "small-stock",
        "dial_stock",
        "dial bar",
        lambda s: s.dial_stock.width_mm,
        lambda s: s.dial_diameter_mm,
        "Use a thicker bar",
    ),
    Requirement(
        "small-stock",
        "feed_stock",
        "feed screw bar",
        lambda s: s.feed_stock.width_mm,
        lambda s: s.feed_collar_diameter_mm,
        "Use a thicker bar",
    ),
    Requirement(
        "small-stock",
        "knob_stock",
        "knob bar",
        lambda s: s.knob_stock.width_mm,
        lambda s: s.knob_diameter_mm,
        "Use a thicker bar",
    ),
    Requirement(
        "collar-shoulder",
        "feed_collar_diameter",
        "shoulder of the feed screw's collar",
        lambda s: (s.feed_collar_diameter_mm - s.feed_journal_diameter_mm) / 2,
        lambda s: 1.5,
        "Make the collar larger",
    ),
    Requirement(
        "thin-wall",
        "pin_diameter",
        "metal beside the handle's thread",
        lambda s: (s.pin_diameter_mm - major_mm(s.handle_thread)) / 2,
        lambda s: 1.5,
        "Use a smaller handle thread",
    ),
    Requirement(
        "arm-reach",
        "arm_overhang",
        "arm overhang",
        lambda s: s.arm_overhang_mm,
        lambda s: s.max_blank_diameter_mm / 2 + 0.5,
        "The arm must reach over half the blank",
    ),
    Requirement(
        "tip-reach",
        "tip_radius_max",
        "greatest tip radius",
        lambda s: s.tip_radius_max_mm,
        lambda s: np.hypot(s.max_blank_diameter_mm / 2, s.max_ball_diameter_mm / 2),
        "The tip must clear the corner of the blank",
    ),
)
"""Least sizes: what must be left, checked on one sizing or on columns of many."""


def tail_reach_mm(s: Any) -> Any:
    """The least that the tail reaches below the spindle: of the rod, the foot and the dial.

    Corners of theirs, each of which passes straight down on its way, so the whole (geometry.envelope)
    reaches no less. s: sizes, or columns of them.
    """
    inward = s.tip_radius_min_mm + s.bit_stickout_mm  # the arm's inner face, right in
    return most(
        np.hypot(s.rod_length_mm - inward, s.rod_diameter_mm / 2),
        np.hypot(s.foot_length_mm - inward, s.flat_offset_mm),
        np.hypot(
            s.block_length_mm / 2 + s.dial_length_mm, s.feed_offset_mm + s.dial_diameter_mm / 2
        ),
    )


def check_sizes(s: Sizes, job: Job, file: str) -> list[Finding]:
    """Every finding on the sizes of a job; none when it may be built as it stands."""
    mm = job.numbers.rough
    if s.tip_radius_min_mm >= s.tip_radius_max_mm:
        return [
            finding(
                "tip-reach",
                file,
                "attachment.min_ball_diameter",
                f"smallest tip radius {mm(s.tip_radius_min_mm)}",
                f"must be under the greatest, {mm(s.tip_radius_max_mm)}",
                "Make the smallest ball smaller",
            )
        ]
    found = list(_walls(s, job, file))
    found += _welding(s, file)
    if any(one.severity == "refused" for one in found):
        return found
    found += _clearances(s, job, file)
    return found


def _walls(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    mm = job.numbers.rough
    wall = (s.tube_stock.width_mm - s.pivot_diameter_mm) / 2
    if wall < LEAST_WALL_MM - 1e-6:
        tube, bore = s.tube_stock, s.pivot_diameter_mm
        yield finding(
            "thin-wall",
            file,
            "attachment.sizes.tube_stock",
            f"bore {mm(bore)} leaves a {mm(wall)} wall in {mm(tube.width_mm)} tube",
            f"needs {mm(LEAST_WALL_MM)}",
            f"Use {mm(bore + 2 * LEAST_WALL_MM)} tube or a bore of at most"
            f" {mm(tube.width_mm - 2 * LEAST_WALL_MM)}",
        )
    if s.tube_stock.shape == "tube":
        hole = s.tube_stock.width_mm - 2 * s.tube_stock.thickness_mm
        if hole > s.pivot_diameter_mm - 0.2:
            yield finding(
                "tube-hole",
                file,
                "attachment.sizes.tube_stock",
                f"the tube's hole is {mm(hole)}",
                f"must be under the bore, {mm(s.pivot_diameter_mm)}, to clean up",
                "Use a thicker wall or a larger pivot",
            )
    radius = s.tube_stock.width_mm / 2
    flat = min(max(s.shank_flat_mm, 0.0), radius)
    bed = sqrt(2 * radius * flat - flat**2) - (s.spindle_over_seat_mm - s.shank_stock.width_mm)
    if bed < 1.0 and s.cheek_stock is None:
        yield finding(
            "shank-bed",
            file,
            "attachment.sizes.shank_stock",
            f"the shank's top lies {mm(s.spindle_over_seat_mm - s.shank_stock.width_mm)}"
            " below the bore's axis",
            f"the tube beds on it by {mm(max(bed, 0.0))} only, needs 1 mm",
            "Use a taller shank, pack it up, use a larger tube, or put a cheek between",
        )
    if s.cheek_stock is not None and s.cheek_stock.width_mm < s.spindle_over_seat_mm:
        yield finding(
            "cheek-height",
            file,
            "attachment.sizes.cheek_stock",
            f"cheek {mm(s.cheek_stock.width_mm)} high",
            f"must reach the axis, {mm(s.spindle_over_seat_mm)} over the seat",
            "Use a wider flat",
        )
    if s.shank_stock.width_mm > s.largest_shank_mm + 1e-6:
        yield finding(
            "shank-size",
            file,
            "attachment.sizes.shank_stock",
            f"shank {mm(s.shank_stock.width_mm)}",
            f"the tool post takes {mm(s.largest_shank_mm)}",
            "Use a smaller square",
        )
    for asked in REQUIREMENTS:
        if not asked.met(s):
            yield finding(
                asked.code,
                file,
                f"attachment.sizes.{asked.key}",
                f"{asked.what} {mm(asked.value(s))}",
                f"needs {mm(asked.least(s))}",
                asked.remedy,
            )
    if s.bit_stickout_mm > MOST_STICKOUT * s.bit_stock.width_mm:
        yield finding(
            "bit-stickout",
            file,
            "attachment.min_ball_diameter",
            f"the bit sticks out {mm(s.bit_stickout_mm)} for a ball of"
            f" {mm(s.min_ball_diameter_mm)}",
            f"at most five of its own widths, {mm(MOST_STICKOUT * s.bit_stock.width_mm)}",
            "Use a thicker bit, or turn smaller balls with a smaller attachment",
        )
    spacing = s.dial_diameter_mm * pi / s.dial_divisions
    if spacing < CLOSEST_LINES_MM:
        yield finding(
            "dial-lines",
            file,
            "attachment.sizes.dial_diameter",
            f"lines {job.numbers.length(spacing)} apart",
            f"closer than {job.numbers.length(CLOSEST_LINES_MM)}, hard to read",
            "Use a larger dial or fewer divisions",
        )


def _welding(s: Sizes, file: str) -> Iterator[Finding]:
    for key, name in (("structure", s.structure_material), ("shaft", s.shaft_material)):
        weldable = material(name).weldable
        if weldable == "no":
            yield finding(
                "weldability",
                file,
                f"materials.{key}",
                name,
                "is not weldable, and this is welded",
                "Use S355 or 1018",
                severity="refused",
            )
        elif weldable == "preheat":
            yield finding(
                "weldability",
                file,
                f"materials.{key}",
                name,
                "welds only with preheat and slow cooling",
                "Use S355 or 1018, or preheat by the steel maker's sheet",
                severity="warning",
            )


def _clearances(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    mm = job.numbers.rough
    whole = attachment(s)
    edges = swinging_edges(whole)
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    down = lowest(edges, radii, (0.0, 180.0))
    have = s.spindle_over_cross_slide_mm
    need = down.distance_mm + s.clearance_mm
    ball = f"max ball diameter {mm(s.max_ball_diameter_mm)}"
    if need > have + 1e-6:
        yield finding(
            "cross-slide",
            file,
            "attachment.max_ball_diameter",
            ball,
            f"needs {mm(need)} over the cross slide ({down.name}); this lathe has {mm(have)}",
            "Make the ball or its blank smaller",
        )
    blank = s.max_blank_diameter_mm / 2 + s.clearance_mm
    if blank > have + 1e-6:
        yield finding(
            "blank-swing",
            file,
            "attachment.max_blank_diameter",
            f"blank {mm(s.max_blank_diameter_mm)}",
            f"needs {mm(blank)} over the cross slide; this lathe has {mm(have)}",
            "Use a thinner blank",
        )
    swing = max(
        hypot(s.block_stock.width_mm + s.leaf_z_mm, s.block_length_mm / 2),
        hypot(s.leaf_z_mm, s.block_length_mm / 2),
    )
    if swing + 1.0 > have:
        yield finding(
            "block-swing",
            file,
            "attachment.sizes.block_stock",
            f"the block swings {mm(swing)} when its journal is turned",
            f"this lathe has {mm(have)} over the cross slide",
            "Use a smaller block or pivot",
        )
