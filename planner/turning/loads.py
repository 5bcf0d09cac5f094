"""What each pass of a plan asks of head, clamp and work, at the feed as meant."""

from __future__ import annotations

import numpy as np

from planner.checking.budget import SPRING_LEAVES
from planner.checking.strength import cutting_load
from planner.turning.head import Head
from planner.turning.limits import Limits, spring_mm_per_N
from planner.turning.model import PassLoad
from planner.turning.passplan import PassPlan


def loads(found: PassPlan, limits: Limits, s: Head) -> tuple[PassLoad, ...]:
    """What each pass asks: the metal it takes where it takes most.

    A spring pass is counted as a tenth of the last cut: what the cut's deflection left.
    """
    made, last = [], 0.0
    for one in found.passes:
        taken = one.cut.taken
        last = taken.depth_mm or last
        depth = taken.depth_mm or SPRING_LEAVES * last
        load = cutting_load(depth, one.cut.feed_mm, limits.nose_mm, limits.material)
        sprung = load.passive_N * give_mm_per_N(limits, s, taken.radius_mm)
        grip = limits.grip_N / load.passive_N
        made.append(
            PassLoad(one.cut, taken.depth_mm, load, sprung, grip, one.held_by, one.speed_by)
        )
    return tuple(made)


def give_mm_per_N(limits: Limits, s: Head, radius_mm: float) -> float:
    """How far tip and work give way for one newton of passive force, the main force counted in."""
    return float(spring_mm_per_N(s, np.array([radius_mm]))[0]) + limits.work_mm_per_N
