"""What a pass may be: how deep at each place of the dial, and how fast the spindle may run, with what
says so.

A hand swings unevenly and an edge may meet a step left by roughing at once and whole: push, grip, hand
force, bending and strength are judged at HAND_FACTOR times the feed. Springing while roughing leaves
metal on; it counts against what is left to take after the pass, no more. In the last cut it counts
against the ball's tolerance. The forces are sums.cutting's, springing and grip checking.strength's.
Numbers of divisions are whole; columns are numpy's, one entry a number of divisions left to go.
"""

from __future__ import annotations

from math import floor, pi

import numpy as np

from parts.standard.cutting_forces import FEED_SHARE, PASSIVE_SHARE
from parts.standard.materials import material
from parts.standard.overhang import overhang_factors
from parts.standard.speeds import speed_m_min
from parts.value import Value
from planner.checking.strength import (
    LEAST_GRIP,
    MOST_DEFLECTION_MM,
    MOST_HAND_N,
    cutting_load,
)
from planner.job.tables import Job
from planner.turning.head import Head
from planner.turning.model import BallWork

HAND_FACTOR = 2.0
"""A hand on the knob goes up to twice as fast as meant (common practice)."""

PART_OF_BIT = 0.25
"""The deepest cut of a bit, of its width, before the overhang counts (common practice)."""

MOST_DEG_PER_S = 18.0
"""No swing by hand is faster: 90 degrees in 5 s."""

AIR_RATE = 5.0
"""How much faster the handle is swung where nothing is cut (common practice)."""

MOTOR_EFFICIENCY = 0.7
"""Of a small lathe's motor power, what comes to the edge (common practice)."""

GRIP, HAND, SPRING, BENDING, STRENGTH, CHATTER, POWER, PINNED = (
    "the clamp's grip",
    "the force at the hand",
    "the tool's spring",
    "the work's bending",
    "the strength of a part",
    "chatter",
    "the motor's power",
    "the job's depth of cut",
)
"""What may stop a pass from being deeper."""

CUTTING, SWINGING, CHUCK, FASTEST = (
    "the cutting speed",
    "the hand's swing",
    "the chuck's own limit",
    "the lathe's fastest",
)
"""What may stop the spindle from being faster."""


class Limits(Value, frozen=True):
    """What holds for every pass of one ball.

    grip_N, hand_Nm: the clamp's grip, and the torque the hand may need at the pivot; main_N: the main
    force that the weakest part bears; deepest_mm: of the bit, overhang counted; pinned_mm: the job's
    own greatest depth, infinite without one; low_m_min, high_m_min: cutting speed of the table, the
    high one with the overhang counted; power_W: at the edge, infinite where it is not known;
    most_rev_min: of the chuck; work_mm_per_N: how the work bends; slender: the greater overhang ratio
    of head and work.
    """

    material: str
    feed_mm: float
    nose_mm: float
    grip_N: float
    hand_Nm: float
    main_N: float
    weakest: str
    deepest_mm: float
    pinned_mm: float
    low_m_min: float
    high_m_min: float
    power_W: float
    most_rev_min: float
    work_mm_per_N: float
    slender: float


def limits_of(ball: BallWork, s: Head, job: Job, work_mm_per_N: float, slender: float) -> Limits:
    """The limits of one ball; work_mm_per_N, slender: of the work as it stands out of the jaws."""
    turning, lathe = job.turning, job.lathe
    metal = material(ball.material)
    speed = speed_m_min("turn", job.shop.tool_material, metal.group, metal.name)
    depth = ball.spec.depth_of_cut or turning.pinned_depth
    factors = overhang_factors(slender)
    return Limits(
        material=ball.material,
        feed_mm=turning.feed,
        nose_mm=s.nose_mm,
        grip_N=s.grip_N,
        hand_Nm=MOST_HAND_N * s.handle_length_mm / 1000,
        main_N=s.main_N,
        weakest=s.weakest,
        deepest_mm=PART_OF_BIT * s.bit_mm * factors.depth,
        pinned_mm=depth if depth is not None else np.inf,
        low_m_min=speed.low_m_min,
        high_m_min=max(speed.high_m_min * factors.speed, speed.low_m_min),
        power_W=MOTOR_EFFICIENCY * 1000 * lathe.motor_power if lathe.motor_power else np.inf,
        most_rev_min=lathe.chuck_limit or np.inf,
        work_mm_per_N=work_mm_per_N,
        slender=slender,
    )


class Depths(Value, frozen=True):
    """How deep passes may be that end with so many divisions to go; entry k for k divisions.

    most: in whole divisions, 0 where not even one holds; by: what stops one more, as a number of
    REASONS. main_N: by depth in divisions, at the feed as meant, entry 0 for none; passive_N: at the
    hand's worst.
    """

    most: np.ndarray
    by: np.ndarray
    main_N: np.ndarray
    passive_N: np.ndarray


REASONS = (GRIP, HAND, SPRING, BENDING, STRENGTH, CHATTER, PINNED)


def depths(
    limits: Limits,
    s: Head,
    radius_mm: np.ndarray,
    left_mm: np.ndarray,
    division_mm: float,
    lever_mm: float | None = None,
) -> Depths:
    """The deepest passes that end at each tip radius, with so much left to take after it.

    lever_mm: the edge's distance from the pivot where that is not the tip radius that the head's spring
    goes by.
    """
    count = max(1, floor(limits.deepest_mm / division_mm + 1e-9)) + 1  # one more than may be
    main, passive = np.zeros(count + 1), np.zeros(count + 1)
    for k in range(1, count + 1):
        fine = cutting_load(k * division_mm, limits.feed_mm, limits.nose_mm, limits.material)
        worst = cutting_load(
            k * division_mm, HAND_FACTOR * limits.feed_mm, limits.nose_mm, limits.material
        )
        main[k], passive[k] = fine.main_N, worst.passive_N
    spring = spring_mm_per_N(s, radius_mm)
    bends = limits.work_mm_per_N
    lever = radius_mm if lever_mm is None else np.full_like(radius_mm, lever_mm)
    with np.errstate(divide="ignore"):
        allowed = np.stack(
            [
                np.full_like(radius_mm, limits.grip_N / LEAST_GRIP),
                limits.hand_Nm * 1000 / lever / FEED_SHARE * PASSIVE_SHARE,
                np.where(spring >= bends, left_mm / (spring + bends), np.inf),
                np.where(spring < bends, left_mm / (spring + bends), np.inf),
                np.full_like(radius_mm, limits.main_N * PASSIVE_SHARE),
            ]
        )
    by_force = np.searchsorted(passive, allowed * (1 + 1e-12), side="right") - 1
    by_size = [
        np.full(len(radius_mm), floor(mm / division_mm + 1e-9) if mm < np.inf else 10**9)
        for mm in (limits.deepest_mm, limits.pinned_mm)
    ]
    every = np.vstack([by_force, *by_size])
    every[:5][every[:5] >= count] = 10**9
    return Depths(every.min(axis=0), every.argmin(axis=0), main, passive)


SPRING_RADII = 5
"""So many radii stand for all between them: within a hundredth of what it is there."""


def spring_mm_per_N(s: Head, radius_mm: np.ndarray) -> np.ndarray:
    """How far the tip springs for one newton of passive force, with the main force that goes with it.

    Worked out at a few radii and taken straight between them: it is smooth.
    """
    low, high = float(radius_mm.min()), float(radius_mm.max())
    at = np.linspace(low, high, SPRING_RADII if low < high else 1)
    given = [s.spring(float(r)) for r in at]
    return np.asarray(np.interp(radius_mm, at, given))


def finish_divisions(
    limits: Limits,
    s: Head,
    radius_mm: float,
    wanted_mm: float,
    feed_mm: float,
    tolerance_mm: float | None,
    division_mm: float,
) -> tuple[int, str]:
    """The last cut in whole divisions, at least one, and what made it less than wanted.

    feed_mm: of finishing; tolerance_mm: of the radius, what the ball may be off. Its spring may be
    MOST_DEFLECTION_MM, that a spring pass still mends, and no more than the tolerance.
    """
    most = min(MOST_DEFLECTION_MM, tolerance_mm or np.inf)
    give = float(spring_mm_per_N(s, np.array([radius_mm]))[0]) + limits.work_mm_per_N
    count = max(1, floor(min(wanted_mm, limits.pinned_mm) / division_mm + 1e-9))
    stopped = "the job's finishing depth"
    while count > 1:
        load = cutting_load(
            count * division_mm, HAND_FACTOR * feed_mm, limits.nose_mm, limits.material
        )
        if load.passive_N * give <= most and load.passive_N <= limits.grip_N / LEAST_GRIP:
            break
        stopped = SPRING
        count -= 1
    return count, stopped


class Speed(Value, frozen=True):
    """A spindle speed for a pass: rev/min; swing where it cuts, deg/s; what stops a faster one."""

    rev_min: float
    deg_per_s: float
    by: str


def speeds_for(
    limits: Limits, listed: tuple[float, ...], across_mm: float, radius_mm: float, feed_mm: float
) -> list[Speed]:
    """The listed speeds that may turn a pass, from the slowest, without regard to the motor's power.

    n = 1000 v / (pi D) at the greatest diameter cut; the slowest of all where all are faster. A swing
    that would be quicker than the hand's goes at the hand's, with less feed.
    """
    ordered = sorted(listed)
    found: list[Speed] = []
    for number, rev_min in enumerate(ordered):
        rate = feed_mm / radius_mm * 180 / pi * rev_min / 60
        after = ordered[number + 1] if number + 1 < len(ordered) else np.inf
        by = FASTEST
        if after < np.inf:
            by = CHUCK if after > limits.most_rev_min else CUTTING
        if rate >= MOST_DEG_PER_S:
            rate, by = MOST_DEG_PER_S, SWINGING
        too_fast = rev_min * pi * across_mm / 1000 > limits.high_m_min * (1 + 1e-9)
        if found and (too_fast or rev_min > limits.most_rev_min):
            break
        found.append(Speed(rev_min, rate, by))
        if by == SWINGING:
            break
    return found
