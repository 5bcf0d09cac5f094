"""What a pass asks of the attachment and how deep it may be: checking.strength's sums at its radius."""

from __future__ import annotations

from parts.sizes import Sizes
from planner.checking.strength import (
    LEAST_GRIP,
    MOST_DEFLECTION_MM,
    MOST_HAND_N,
    clamp_hold,
    cutting_load,
    deflection_mm,
)
from planner.job.tables import Job
from planner.turning.model import BallWork, PassLoad
from planner.turning.passes import Cut, deepest_mm


def pass_depth_mm(
    ball: BallWork,
    tip_mm: float,
    s: Sizes,
    job: Job,
    nose_mm: float,
    division_mm: float,
    work_mm_per_N: float = 0.0,
) -> tuple[float, str]:
    """The deepest pass with the tip at a radius within the check's limits, and which stopped it.

    nose_mm: of the ground bit; division_mm: what one division of the dial moves the tip; work_mm_per_N:
    how far the work itself bends.
    """
    turning, stopped = job.turning, "the job's depth of cut"

    def ok(depth_mm: float) -> bool:
        nonlocal stopped
        load = cutting_load(depth_mm, turning.feed, nose_mm, ball.material)
        hold = clamp_hold(s, load, turning.clamp_torque_Nm, tip_mm)
        sprung, bent = deflection_mm(s, load, tip_mm), load.passive_N * work_mm_per_N
        more = "the deflection" if sprung >= bent else "the work's bending"
        for good, what in (
            (sprung + bent <= MOST_DEFLECTION_MM, more),
            (hold.factor >= LEAST_GRIP, "the clamp's grip"),
            (hold.hand_N <= MOST_HAND_N, "the force at the hand"),
        ):
            if not good:
                stopped = what
                return False
        return True

    return deepest_mm(ok, turning.depth_of_cut, division_mm), stopped


def loaded(
    cut: Cut, ball: BallWork, s: Sizes, job: Job, nose_mm: float, work_mm_per_N: float = 0.0
) -> PassLoad:
    """What a pass asks at its worst: the metal it takes where it takes most.

    A spring pass is counted as a tenth of the last cut: what the cut's deflection left. work_mm_per_N:
    how far the work itself bends, which is counted with the tip's deflection.
    """
    turning, one = job.turning, cut.taken
    depth = one.depth_mm or 0.1 * turning.finish_depth
    tip = one.radius_mm
    load = cutting_load(depth, cut.feed_mm, nose_mm, ball.material)
    hold = clamp_hold(s, load, turning.clamp_torque_Nm, tip)
    sprung = float(deflection_mm(s, load, tip)) + load.passive_N * work_mm_per_N
    return PassLoad(cut, one.depth_mm, load, sprung, hold.factor)
