"""How far the tip goes, and what it must reach over."""

from __future__ import annotations

import numpy as np

from planner.sizing.draft import Rule

REACH: tuple[Rule, ...] = (
    Rule(
        "tip_radius_max_mm",
        "clears the corner of the thickest blank: root of (blank/2)^2 + (ball/2)^2, plus clearance",
        "geometry: the blank's end is faced at the ball's nose",
        lambda d: d.up(
            np.hypot(d.max_blank_diameter_mm / 2, d.max_ball_diameter_mm / 2) + d.clearance_mm
        ),
    ),
    Rule(
        "tip_radius_min_mm",
        "half the smallest ball",
        "geometry",
        lambda d: d.min_ball_diameter_mm / 2,
        follows=("attachment.min_ball_diameter",),
    ),
    Rule(
        "travel_mm",
        "from the smallest ball out to the blank's corner",
        "geometry",
        lambda d: d.tip_radius_max_mm - d.tip_radius_min_mm,
        follows=("tip_radius_max",),
    ),
    Rule(
        "arm_overhang_mm",
        "half the thickest blank plus clearance: the body stands beside the blank",
        "geometry",
        lambda d: d.up(d.max_blank_diameter_mm / 2 + d.clearance_mm),
    ),
)
