"""What a set of sizes must satisfy before anything is drawn: walls, clearances, materials.

Each check is a line with the place, the value, the limit and the remedy. Imported by sizing.apply.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, pi
from typing import Any

import numpy as np

from parts.attachment import attachment
from parts.sizes import Sizes
from parts.standard.materials import material, not_welded
from planner.geometry.envelope import lowest, swinging_edges
from planner.job.tables import Job
from planner.sizing.requirements.block import BLOCK
from planner.sizing.requirements.clamp import CLAMP
from planner.sizing.requirements.feed import FEED
from planner.sizing.requirements.handle import HANDLE
from planner.sizing.requirements.head import HEAD
from planner.sizing.requirements.housing import HOUSING
from planner.sizing.requirements.model import Requirement
from planner.sizing.requirements.pivot import PIVOT, PIVOT_NUT
from planner.sizing.requirements.post import post_findings
from planner.sizing.requirements.reach import REACH
from planner.sizing.requirements.running import running
from planner.sizing.requirements.stop import STOP
from planner.sums.columns import most
from planner.words.findings import Finding, finding
from planner.words.numbers import Numbers
from planner.words.units import lengths_said

MOST_STICKOUT = 5.0
"""A bit that sticks out more of its own widths bends and chatters (common practice: four to five)."""

WELDS_WELL = "{S355|1018}"
"""A steel of either series that welds with no preheat (EN 10025-2; ASTM A108), as the shop buys it."""

CLOSEST_LINES_MM = 0.8
"""Lines of a dial that stand closer are hard to read (common practice)."""


REQUIREMENTS: tuple[Requirement, ...] = (
    *HOUSING,
    *CLAMP,
    *PIVOT,
    *PIVOT_NUT,
    *BLOCK,
    *FEED,
    *HEAD,
    *HANDLE,
    *STOP,
    *REACH,
)
"""What must be left, checked on one sizing or on columns of many; by subject in this folder.

Whatever the constructor of a part would refuse, one of these refuses first, with the key to change.
"""


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
            s.block_length_mm / 2 + s.index_ring_mm + s.dial_length_mm,
            s.feed_offset_mm + s.dial_diameter_mm / 2,
        ),
    )


def check_sizes(s: Sizes, job: Job, file: str) -> list[Finding]:
    """Every finding on the sizes of a job; none when it may be built as it stands."""
    if s.tip_radius_min_mm >= s.tip_radius_max_mm:
        greatest, smallest = job.numbers.apart(s.tip_radius_max_mm, s.tip_radius_min_mm)
        return [
            finding(
                "tip-reach",
                file,
                "attachment.min_ball_diameter",
                f"smallest tip radius {smallest}",
                f"must be under the greatest, {greatest}",
                "Make the smallest ball smaller",
            )
        ]
    found = list(_walls(s, job, file))
    found += _welding(s, job, file)
    if any(one.severity == "refused" for one in found):
        return found
    found += _clearances(s, job, file)
    return found


def _words_of(asked: Requirement, s: Sizes, numbers: Numbers) -> tuple[str, str, str]:
    """A requirement's words, to as many places as tell what is there from what it needs."""
    for mm in (numbers.clearance, numbers.micrometer):
        value, limit, remedy = asked.words(s, mm)
        said = lengths_said(value)
        if not said or not said & lengths_said(limit):
            break
    return value, limit, remedy


def _walls(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    for asked in REQUIREMENTS:
        if not asked.met(s):
            value, limit, remedy = _words_of(asked, s, job.numbers)
            key = f"attachment.sizes.{asked.key}"
            yield finding(asked.code, file, key, value, limit, remedy, severity="refused")
    if s.bit_stickout_mm > MOST_STICKOUT * s.bit_stock.width_mm:
        most, out = job.numbers.apart(MOST_STICKOUT * s.bit_stock.width_mm, s.bit_stickout_mm)
        yield finding(
            "bit-stickout",
            file,
            "attachment.min_ball_diameter",
            f"the bit sticks out {out} for a ball of"
            f" {job.numbers.bought_length(s.min_ball_diameter_mm)}",
            f"at most five of its own widths, {most}",
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
            severity="warning",
        )


def _welding(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    steel = job.series.words(WELDS_WELL)
    named = (("structure", s.structure_material), ("shaft", s.shaft_material))
    for key, name in named:
        weldable = material(name).weldable
        if weldable == "no":
            yield finding(
                "weldability",
                file,
                f"materials.{key}",
                name,
                "is not weldable, and this is welded",
                f"Use {steel}",
                severity="refused",
            )
        elif weldable == "preheat":
            yield finding(
                "weldability",
                file,
                f"materials.{key}",
                name,
                "welds only with preheat and slow cooling",
                f"Use {steel}, or preheat by the steel maker's sheet",
                severity="warning",
            )
    reason = not_welded(s.structure_material, s.shaft_material)
    if reason and all(material(name).weldable != "no" for _, name in named):
        yield finding(
            "weldability",
            file,
            "materials.shaft",
            f"{s.shaft_material} and {s.structure_material}",
            f"are not welded to each other ({reason}), and shaft and rod are to be",
            f"Use {steel} for both, or one aluminium alloy for both",
            severity="refused",
        )
    elif _stainless(s.structure_material) != _stainless(s.shaft_material):
        yield finding(
            "weldability",
            file,
            "materials.shaft",
            f"{s.shaft_material} and {s.structure_material}",
            "weld to each other only with a filler for dissimilar steels",
            f"Use {steel} for both, or a 309 filler by a welder who knows it",
            severity="warning",
        )


def _stainless(name: str) -> bool:
    return material(name).group == "stainless steel"


def _clearances(s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    mm = job.numbers.clearance
    whole = attachment(s)
    edges = swinging_edges(whole)
    yield from post_findings(s, edges, job, file)
    yield from running(whole, job, file)
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    down = lowest(edges, radii, (0.0, 180.0))
    have = s.spindle_over_cross_slide_mm
    need = down.distance_mm + s.clearance_mm
    ball = f"max ball diameter {job.numbers.bought_length(s.max_ball_diameter_mm)}"
    if need > have + 1e-6:
        there, needs = job.numbers.apart(have, need)
        yield finding(
            "cross-slide",
            file,
            "attachment.max_ball_diameter",
            ball,
            f"needs {needs} over the cross slide ({down.name}, {mm(s.clearance_mm)} clear of it);"
            f" this lathe has {there}",
            "Make the ball or its blank smaller",
        )
    blank = s.max_blank_diameter_mm / 2 + s.clearance_mm
    if blank > have + 1e-6:
        there, needs = job.numbers.apart(have, blank)
        yield finding(
            "blank-swing",
            file,
            "attachment.max_blank_diameter",
            f"blank {job.numbers.bought_length(s.max_blank_diameter_mm)}",
            f"needs {needs} over the cross slide ({mm(s.clearance_mm)} of it clear); this lathe has"
            f" {there}",
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
