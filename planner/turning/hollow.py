"""One hollow, turned with the bit the other way round."""

from __future__ import annotations

from math import acos, ceil, degrees, pi

import numpy as np

from parts.value import Value
from planner.checking.clearance import OFF_JAWS_MM
from planner.checking.strength import cutting_load
from planner.geometry.swept import deepest
from planner.job.tables import Job
from planner.turning.head import Head
from planner.turning.limits import (
    Speed,
    depths,
    finish_divisions,
    limits_of,
    speeds_for,
    spring_mm_per_N,
)
from planner.turning.model import BallWork, SocketPass, SocketPlan
from planner.turning.optimum import fastest, fastest_of
from planner.turning.passes import Kind, Socket, finish_feed_mm, socket
from planner.turning.springing import spring_passes


def socket_plan(ball: BallWork, s: Head, job: Job) -> SocketPlan:
    """A hollow with the bit the other way round: its point out, beyond the arm.

    The arm's outer face then runs at the tip radius less the stick-out. Inside the work only the bit
    goes: the arm is as wide as the whole overhang, so it stays in front of the face. The tip starts on
    the face, as far from the pivot as the face is, and goes out to the sphere: so far in must the head
    come.
    """
    shape = socket(ball.radius_mm, ball.spec.depth or ball.radius_mm)
    reach = s.arm_mm + 2 * s.bit_stickout_mm
    least, greatest = s.tip_radius_min_mm + reach + shape.depth_mm, s.tip_radius_max_mm + reach
    most_deep = s.bit_stickout_mm - s.clearance_mm
    fits = (
        least - 1e-9 <= ball.radius_mm <= greatest + 1e-9
        and shape.depth_mm <= most_deep + 1e-9
        and 2 * shape.mouth_radius_mm <= ball.blank_mm + 1e-9
    )
    out = _out_mm(ball, shape, s, job, reach)
    passes = _passes(ball, s, job, reach, out) if fits else ()
    turns = passes[0].rev_min if passes else min(job.lathe.spindle_speeds)
    return SocketPlan(ball, shape, least, greatest, most_deep, turns, out, passes)


def _out_mm(ball: BallWork, shape: Socket, s: Head, job: Job, reach_mm: float) -> float:
    """How far the blank stands out of the jaws: metal behind it, and what swings off the jaws."""
    lathe, clear = job.lathe, s.clearance_mm
    out = shape.depth_mm + OFF_JAWS_MM + ball.blank_mm / 4
    rest = [one for one in s.outlines if not one[0].cuts]
    tips = shape.pivot_mm - reach_mm, shape.radius_mm - reach_mm
    swings = 0.0, 180.0  # the dial is set with the tip at the tailstock's side, as at a nose
    for across, back in (
        (lathe.jaw_diameter or lathe.chuck_diameter, 0.0),
        (lathe.chuck_diameter, lathe.jaw_reach),
    ):
        found = deepest(rest, tips, swings, across / 2 + clear)
        if found:
            out = max(out, found.distance_mm + clear - back - shape.pivot_mm)
    return out


class _Speeds(Value, frozen=True):
    """The speeds that may turn a pass, from the slowest; where it ends, and how wide it is there.

    main_N: of a pass, by depth in divisions; power_W: at the edge.
    """

    slower: list[Speed]
    end_deg: float
    across_mm: float
    main_N: np.ndarray
    power_W: float

    def driven(self, depth: int) -> Speed | None:
        """The fastest that the motor drives at a depth."""
        main = self.main_N[min(depth, len(self.main_N) - 1)]
        per_rev = main * pi * self.across_mm / 1000 / 60
        good = [one for one in self.slower if per_rev * one.rev_min <= self.power_W]
        return good[-1] if good else None


def _passes(
    ball: BallWork, s: Head, job: Job, reach_mm: float, out_mm: float
) -> tuple[SocketPass, ...]:
    """The passes outward, the fastest in whole divisions within the limits."""
    turning, radius = job.turning, ball.radius_mm
    shape = socket(radius, ball.spec.depth or radius)
    division = s.screw_pitch_mm / s.dial_divisions
    slender = max(out_mm / ball.blank_mm, s.slender)
    limits = limits_of(ball, s, job, 0.0, slender)
    feed = finish_feed_mm(turning.finish, s.nose_mm, turning.feed)
    give = float(spring_mm_per_N(s, np.array([radius - reach_mm]))[0])
    left = ceil(shape.depth_mm / division - 1e-9)
    half = ball.spec.tolerance / 2 if ball.spec.tolerance else None
    at = radius - reach_mm
    finish, _ = finish_divisions(limits, s, at, turning.finish_depth, feed, half, division)
    finish = min(finish, left)
    count = left - finish
    to_go = np.arange(count + 1) + finish
    may = depths(
        limits, s, np.full(count + 1, at), to_go * division, division, lever_mm=radius
    )  # fmt: skip
    most = np.maximum(may.most, 1)
    seconds = np.full((count + 1, int(most.max()) + 1), np.inf)
    listed = (ball.spec.spindle_speed,) if ball.spec.spindle_speed else job.lathe.spindle_speeds
    speeds = []
    for k in range(left):  # divisions to go at the end of a pass
        at_mm = radius - k * division
        end = degrees(acos(min(1.0, shape.pivot_mm / at_mm)))
        across = 2 * (max(0.0, at_mm**2 - shape.pivot_mm**2)) ** 0.5
        wide = max(across, 1.0)
        slower = speeds_for(limits, tuple(listed), wide, at_mm, turning.feed)
        here = _Speeds(slower, end, wide, may.main_N, limits.power_W)
        speeds.append(here)
        if k >= finish:
            for depth in range(1, int(most[k - finish]) + 1):
                driven = here.driven(depth)
                if driven or depth == 1:  # one division at the slowest is always there to be had
                    seconds[k - finish, depth] = end / (driven or slower[0]).deg_per_s
    asked = ball.spec.rough_passes
    way = fastest_of(seconds, count, asked) if count and asked else None
    way = way or (fastest(seconds, count) if count else None)
    taken: list[tuple[Kind, int]] = [("rough", d) for d in (way.depths if way else ())]
    taken += [("finish", finish)]
    taken += [("spring", 0)] * spring_passes(
        finish * division, feed, limits, give, turning.spring_passes
    )
    return _made(ball, s, taken, left, division, feed, reach_mm, job, speeds)


def _made(
    ball: BallWork,
    s: Head,
    taken: list[tuple[Kind, int]],
    left: int,
    division_mm: float,
    feed_mm: float,
    reach_mm: float,
    job: Job,
    speeds: list[_Speeds],
) -> tuple[SocketPass, ...]:
    shape = socket(ball.radius_mm, ball.spec.depth or ball.radius_mm)
    found: list[SocketPass] = []
    before, cap_before, last = ball.radius_mm - shape.depth_mm, 0.0, 0.0
    for number, (kind, depth) in enumerate(taken, 1):
        left -= depth
        radius = ball.radius_mm - left * division_mm
        high = radius - shape.pivot_mm
        cap = pi * high**2 * (3 * radius - high) / 3
        feed = job.turning.feed if kind == "rough" else feed_mm
        step = radius - before
        last = step or last
        load = cutting_load(step or 0.1 * last, feed, s.nose_mm, ball.material)
        bent = load.passive_N * s.spring(ball.radius_mm - reach_mm)
        here = speeds[left]
        best, end = here.driven(depth if kind == "rough" else 1) or here.slower[0], here.end_deg
        rate = best.deg_per_s * feed / job.turning.feed
        found.append(
            SocketPass(
                number, kind, radius, step, left, cap - cap_before, best.rev_min, end / rate,
                load.passive_N, bent,
            )
        )  # fmt: skip
        before, cap_before = radius, cap
    return tuple(found)
