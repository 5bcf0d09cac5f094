"""What a set of sizes must satisfy before anything is drawn: walls, clearances, materials.

Each check is a line with the place, the value, the limit and the remedy. Imported by planner.sizing.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, pi, sqrt

from parts.attachment import attachment
from parts.sizes import DRESSING_MM, Sizes
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.envelope import lowest, stick_out_mm, swinging_edges
from planner.findings import Finding, refused
from planner.job import Job
from planner.units import show_length, unit_name

LEAST_WALL_MM = 3.0
"""Metal left round a bore that carries load (common practice)."""


def check_sizes(s: Sizes, job: Job, file: str) -> list[Finding]:
    """Every finding on the sizes of a job; none when it may be built as it stands."""
    say = _Speaker(job, file)
    if s.tip_radius_min_mm >= s.tip_radius_max_mm:
        return [
            say.refuse(
                "attachment.min_ball_diameter",
                f"smallest tip radius {say.mm(s.tip_radius_min_mm)}",
                f"must be under the greatest, {say.mm(s.tip_radius_max_mm)}",
                "Make the smallest ball smaller",
            )
        ]
    found = list(_walls(s, say))
    found += _welding(s, say)
    if any(finding.severity == "refused" for finding in found):
        return found
    found += _clearances(s, job, say)
    return found


class _Speaker:
    """Says lengths in the job's unit and makes findings for its file."""

    def __init__(self, job: Job, file: str) -> None:
        self.file, self.inch = file, job.inch

    def mm(self, value: float) -> str:
        return f"{show_length(round(value, 1), self.inch)} {unit_name(self.inch)}"

    def refuse(self, key: str, value: str, limit: str, remedy: str) -> Finding:
        return refused(self.file, key, value, limit, remedy)

    def warn(self, key: str, value: str, limit: str, remedy: str) -> Finding:
        text = f"{value}: {limit}. {remedy}"
        return Finding("warning", self.file, key, value, limit, remedy, text)

    def least(
        self, key: str, what: str, value: float, least: float, remedy: str
    ) -> Iterator[Finding]:
        if value < least - 1e-6:
            yield self.refuse(
                f"attachment.sizes.{key}",
                f"{what} {self.mm(value)}",
                f"needs {self.mm(least)}",
                remedy,
            )


def _walls(s: Sizes, say: _Speaker) -> Iterator[Finding]:
    wall = (s.tube_stock.width_mm - s.pivot_diameter_mm) / 2
    if wall < LEAST_WALL_MM - 1e-6:
        tube, bore = s.tube_stock, s.pivot_diameter_mm
        yield say.refuse(
            "attachment.sizes.tube_stock",
            f"bore {say.mm(bore)} leaves a {say.mm(wall)} wall in {say.mm(tube.width_mm)} tube",
            f"needs {say.mm(LEAST_WALL_MM)}",
            f"Use {say.mm(bore + 2 * LEAST_WALL_MM)} tube or a bore of at most"
            f" {say.mm(tube.width_mm - 2 * LEAST_WALL_MM)}",
        )
    if s.tube_stock.shape == "tube":
        hole = s.tube_stock.width_mm - 2 * s.tube_stock.thickness_mm
        if hole > s.pivot_diameter_mm - 0.2:
            yield say.refuse(
                "attachment.sizes.tube_stock",
                f"the tube's hole is {say.mm(hole)}",
                f"must be under the bore, {say.mm(s.pivot_diameter_mm)}, to clean up",
                "Use a thicker wall or a larger pivot",
            )
    radius = s.tube_stock.width_mm / 2
    flat = min(max(s.shank_flat_mm, 0.0), radius)
    bed = sqrt(2 * radius * flat - flat**2) - (s.spindle_over_seat_mm - s.shank_stock.width_mm)
    if bed < 1.0:
        yield say.refuse(
            "attachment.sizes.shank_stock",
            f"the shank's top lies {say.mm(s.spindle_over_seat_mm - s.shank_stock.width_mm)}"
            " below the bore's axis",
            f"the tube beds on it by {say.mm(max(bed, 0.0))} only, needs 1 mm",
            "Use a taller shank, pack it up, or use a larger tube",
        )
    if s.shank_stock.width_mm > s.largest_shank_mm + 1e-6:
        yield say.refuse(
            "attachment.sizes.shank_stock",
            f"shank {say.mm(s.shank_stock.width_mm)}",
            f"the tool post takes {say.mm(s.largest_shank_mm)}",
            "Use a smaller square",
        )
    least = say.least
    yield from least(
        "leaf_thickness", "clamp leaf", s.leaf_thickness_mm, 3.0, "Make the leaf thicker"
    )
    yield from least(
        "block_stock",
        "metal behind the rod",
        s.block_back_wall_mm,
        5.0,
        "Use a thicker block",
    )
    yield from least(
        "feed_offset",
        "from the dial to the rod's tail",
        s.feed_offset_mm - s.dial_diameter_mm / 2 - s.rod_diameter_mm / 2,
        0.5,
        "Move the feed screw out or make the dial smaller",
    )
    yield from least(
        "feed_offset",
        "metal between rod and feed screw",
        s.feed_offset_mm - s.rod_diameter_mm / 2 - s.feed_journal_diameter_mm / 2,
        2.0,
        "Move the feed screw out",
    )
    yield from least(
        "block_stock",
        "metal beyond the feed screw",
        s.flat_offset_mm - s.feed_offset_mm - s.feed_journal_diameter_mm / 2,
        3.0,
        "Use a wider block",
    )
    yield from least(
        "block_stock",
        "block bar width",
        s.block_stock.width_mm,
        s.flat_offset_mm - s.leaf_z_mm + DRESSING_MM,
        "Use a wider bar",
    )
    yield from least(
        "block_length",
        "block round the shaft's spigot",
        (s.block_length_mm - s.spigot_diameter_mm) / 2,
        3.0,
        "Make the block longer",
    )
    yield from least(
        "foot_stock",
        "block front beyond the foot",
        s.rod_from_front_mm - s.foot_stock.width_mm / 2,
        0.0,
        "Use a narrower foot: it must not stand out toward the blank",
    )
    yield from least(
        "arm_stock",
        "arm bar width",
        s.arm_stock.width_mm,
        s.arm_width_mm / 2 + s.flat_offset_mm + s.foot_stock.height_mm,
        "Use a wider bar: the foot is welded under it",
    )
    yield from least(
        "arm_lead",
        "wall between the bit and the arm's chuck side",
        s.arm_lead_mm - s.bit_stock.width_mm / 2,
        2.5,
        "Make it wider",
    )
    yield from least(
        "arm_width",
        "thread beside the bit",
        (s.arm_width_mm - s.bit_stock.width_mm) / 2,
        0.8 * thread(s.tool_screw).major_mm,
        "Make the arm wider or the bit smaller",
    )
    yield from least(
        "arm_width", "arm beside the rod", s.arm_width_mm - s.rod_diameter_mm, 2.0, "Widen the arm"
    )
    yield from least(
        "shaft_stock",
        "shaft bar",
        s.shaft_stock.width_mm,
        s.spigot_diameter_mm,
        "Use a thicker bar",
    )
    yield from least(
        "rod_stock", "rod bar", s.rod_stock.width_mm, s.rod_diameter_mm, "Use a thicker bar"
    )
    yield from least(
        "dial_stock", "dial bar", s.dial_stock.width_mm, s.dial_diameter_mm, "Use a thicker bar"
    )
    yield from least(
        "feed_stock",
        "feed screw bar",
        s.feed_stock.width_mm,
        s.feed_collar_diameter_mm,
        "Use a thicker bar",
    )
    yield from least(
        "knob_stock", "knob bar", s.knob_stock.width_mm, s.knob_diameter_mm, "Use a thicker bar"
    )
    yield from least(
        "feed_collar_diameter",
        "shoulder of the feed screw's collar",
        (s.feed_collar_diameter_mm - s.feed_journal_diameter_mm) / 2,
        1.5,
        "Make the collar larger",
    )
    yield from least(
        "pin_diameter",
        "metal beside the handle's thread",
        (s.pin_diameter_mm - thread(s.handle_thread).major_mm) / 2,
        1.5,
        "Use a smaller handle thread",
    )
    yield from least(
        "arm_overhang",
        "arm overhang",
        s.arm_overhang_mm,
        s.max_blank_diameter_mm / 2 + 0.5,
        "The arm must reach over half the blank",
    )
    yield from least(
        "tip_radius_max",
        "greatest tip radius",
        s.tip_radius_max_mm,
        hypot(s.max_blank_diameter_mm / 2, s.max_ball_diameter_mm / 2),
        "The tip must clear the corner of the blank",
    )
    if s.bit_stickout_mm > 5 * s.bit_stock.width_mm:
        yield say.refuse(
            "attachment.min_ball_diameter",
            f"the bit sticks out {say.mm(s.bit_stickout_mm)} for a ball of"
            f" {say.mm(s.min_ball_diameter_mm)}",
            f"at most five of its own widths, {say.mm(5 * s.bit_stock.width_mm)}",
            "Use a thicker bit, or turn smaller balls with a smaller attachment",
        )
    spacing = s.dial_diameter_mm * pi / s.dial_divisions
    if spacing < 0.8:
        yield say.warn(
            "attachment.sizes.dial_diameter",
            f"lines {say.mm(spacing)} apart",
            "closer than 0.8 mm, hard to read",
            "Use a larger dial or fewer divisions",
        )


def _welding(s: Sizes, say: _Speaker) -> Iterator[Finding]:
    for key, name in (("structure", s.structure_material), ("shaft", s.shaft_material)):
        weldable = material(name).weldable
        if weldable == "no":
            yield say.refuse(
                f"materials.{key}", name, "is not weldable, and this is welded", "Use S355 or 1018"
            )
        elif weldable == "preheat":
            yield say.warn(
                f"materials.{key}",
                name,
                "welds only with preheat and slow cooling",
                "Use S355 or 1018, or preheat by the steel maker's sheet",
            )


def _clearances(s: Sizes, job: Job, say: _Speaker) -> Iterator[Finding]:
    whole = attachment(s)
    edges = swinging_edges(whole)
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    down = lowest(edges, radii, (0.0, 180.0))
    have = s.spindle_over_cross_slide_mm
    need = down.distance_mm + s.clearance_mm
    ball = f"max ball diameter {say.mm(s.max_ball_diameter_mm)}"
    if need > have + 1e-6:
        yield say.refuse(
            "attachment.max_ball_diameter",
            ball,
            f"needs {say.mm(need)} over the cross slide ({down.name}); this lathe has"
            f" {say.mm(have)}",
            "Make the ball or its blank smaller",
        )
    blank = s.max_blank_diameter_mm / 2 + s.clearance_mm
    if blank > have + 1e-6:
        yield say.refuse(
            "attachment.max_blank_diameter",
            f"blank {say.mm(s.max_blank_diameter_mm)}",
            f"needs {say.mm(blank)} over the cross slide; this lathe has {say.mm(have)}",
            "Use a thinner blank",
        )
    swing = max(
        hypot(s.block_stock.width_mm + s.leaf_z_mm, s.block_length_mm / 2),
        hypot(s.leaf_z_mm, s.block_length_mm / 2),
    )
    if swing + 1.0 > have:
        yield say.refuse(
            "attachment.sizes.block_stock",
            f"the block swings {say.mm(swing)} when its journal is turned",
            f"this lathe has {say.mm(have)} over the cross slide",
            "Use a smaller block or pivot",
        )
    out = stick_out_mm(whole, s, job.lathe.chuck_diameter / 2)
    slender = (out.distance_mm + s.max_ball_diameter_mm / 2) / s.max_blank_diameter_mm
    if slender > 4.0:
        yield say.warn(
            "attachment.max_ball_diameter",
            f"the ball's centre stands {say.mm(out.distance_mm)} from the jaws",
            "the blank sticks out more than four diameters",
            "Hold a thicker blank, or use the tailstock for roughing",
        )
