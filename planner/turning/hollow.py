"""One hollow, turned with the bit the other way round."""

from __future__ import annotations

from math import ceil, pi

from parts.sizes import Sizes
from parts.standard.materials import material
from parts.standard.speeds import speed_m_min
from planner.checking.strength import cutting_load, deflection_mm
from planner.job.tables import Job
from planner.turning.loads import pass_depth_mm
from planner.turning.model import BallWork, SocketPass, SocketPlan
from planner.turning.passes import socket, spindle_rev_min


def socket_plan(ball: BallWork, s: Sizes, job: Job, nose_mm: float) -> SocketPlan:
    """A hollow with the bit the other way round: its point out, beyond the arm.

    The arm's outer face then runs at the tip radius less the stick-out. Inside the work only the bit
    goes: the arm is as wide as the whole overhang, so it stays in front of the face. nose_mm: of the
    ground bit.
    """
    turning = job.turning
    shape = socket(ball.radius_mm, ball.spec.depth or ball.radius_mm)
    reach = s.arm_stock.height_mm + 2 * s.bit_stickout_mm
    least, greatest = s.tip_radius_min_mm + reach, s.tip_radius_max_mm + reach
    deepest = s.bit_stickout_mm - s.clearance_mm
    speed = speed_m_min("turn", job.shop.tool_material, material(ball.material).group)
    turns = spindle_rev_min(job.lathe.spindle_speeds, speed.low_m_min, 2 * shape.mouth_radius_mm)
    fits = (
        least <= ball.radius_mm <= greatest
        and shape.depth_mm <= deepest
        and 2 * shape.mouth_radius_mm <= ball.blank_mm
    )
    passes: list[SocketPass] = []
    if fits:
        division = s.screw_pitch_mm / s.dial_divisions
        depth, _ = pass_depth_mm(ball, ball.radius_mm, s, job, nose_mm, division)
        depth = max(depth, division)
        count = ceil(shape.depth_mm / depth - 1e-9)
        before, taken = ball.radius_mm - shape.depth_mm, 0.0
        for number in range(1, count + 1):
            radius = ball.radius_mm - (count - number) * depth
            high = radius - shape.pivot_mm
            cap = pi * high**2 * (3 * radius - high) / 3
            load = cutting_load(radius - before, turning.feed, nose_mm, ball.material)
            bent = float(deflection_mm(s, load, radius - reach))
            passes.append(
                SocketPass(number, radius, radius - before, cap - taken, load.passive_N, bent)
            )
            before, taken = radius, cap
    return SocketPlan(ball, shape, least, greatest, deepest, turns, tuple(passes))
