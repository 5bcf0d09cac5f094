"""The tool post as an obstacle: how near it comes to the pivot axis.

Imported by the sizing and the checks; needs no solid.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.sizes import Sizes
from parts.value import Value
from planner.job.tables import Job

BORING_BAR = 0.6
"""Diameter of the boring bar over the bore it makes (common practice)."""

BORING_GAP_MM = 2.0
"""What the boring bar clears the tool post by, at least."""


def post_near_mm(s: Any, job: Job) -> Any:
    """From the pivot axis to the nearest of the tool post, mm; negative where it covers the axis.

    Its side is a plane that stands out beside the shank; where its height is known and lower than the
    axis, its upper edge is nearer or not at all. s: Sizes or columns; a post whose side is unknown is
    taken as flush with the shank.
    """
    side = s.shank_inner_z_mm - (job.tool_post.stands_out or 0.0)
    height = job.tool_post.height
    if height is None:
        return side
    below = np.maximum(0.0, s.spindle_over_seat_mm - height)
    return np.where(np.asarray(below) > 0, np.hypot(np.maximum(side, 0.0), below), side)


BORING_LENGTH_MM = 30.0
"""A boring bar between supports is longer than two bores by so much: for its dog and the cutter's run
(common practice)."""


class PostPlan(Value, frozen=True):
    """How the tool post holds the shank, and where it must be able to stand; all mm.

    beside_nut: whether it stands beside the pivot's nut. front_mm: its front face from the spindle
    axis, turning. near_mm: from the pivot axis to the post; turning_mm, boring_mm: its middle from the
    spindle axis for turning, and turned a quarter for boring the housing. bar_mm: greatest boring bar
    that passes it; bar_wanted_mm: the usual one. out_mm: how far its middle stands from the ball's
    centre along the bed, away from the chuck. screws: how many bear on the shank. known: whether it is
    said how far the jaws stand out.
    """

    beside_nut: bool
    front_mm: float
    near_mm: float
    turning_mm: float
    boring_mm: float
    bar_mm: float
    bar_wanted_mm: float
    out_mm: float
    screws: int
    known: bool


def post_plan(s: Sizes, job: Job) -> PostPlan:
    """How the tool post holds the shank of one sizing."""
    post = job.tool_post
    near = float(post_near_mm(s, job))
    to_middle = post.slot_to_middle
    if to_middle is None:
        to_middle = max(0.0, s.post_depth_mm / 2 - s.largest_shank_mm)
    out = s.shank_inner_z_mm + s.shank_stock.width_mm + to_middle
    wanted = BORING_BAR * s.pivot_diameter_mm
    return PostPlan(
        beside_nut=s.beside_nut,
        front_mm=-s.post_front_x_mm,
        near_mm=near,
        turning_mm=-s.post_front_x_mm + s.post_depth_mm / 2,
        boring_mm=out,
        bar_mm=2 * (near - BORING_GAP_MM),
        bar_wanted_mm=wanted,
        out_mm=out,
        screws=_screws(s, job),
        known=post.stands_out is not None,
    )


def _screws(s: Sizes, job: Job) -> int:
    """How many of the post's screws find the shank, half its side from its end at least."""
    post, depth = job.tool_post, s.post_depth_mm
    spacing = post.screw_spacing or depth / (post.screws + 1)
    first = post.first_screw
    if first is None:
        first = (depth - (post.screws - 1) * spacing) / 2
    held = min(depth, s.post_front_x_mm - s.shank_end_x_mm)
    last = held - s.shank_stock.width_mm / 2 if held < depth else depth
    return sum(1 for n in range(post.screws) if 0.0 < first + n * spacing <= last + 1e-6)
