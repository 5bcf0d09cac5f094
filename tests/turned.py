"""Balls of a job turned, for the tests; and the cost of their passes worked out here.

What a pass may be is asked of the strength checks one depth at a time, at twice the feed; where
it is in metal is felt for along the swing. No code of the planner's turning has a hand in it but the
profile that roughing leaves and the sweep.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from math import ceil, inf, pi

import numpy as np
from jobs import changed
from scipy.spatial import ConvexHull

from parts.attachment import Carrier, attachment
from parts.sizes import Sizes
from parts.standard.materials import material
from parts.standard.overhang import overhang_rows
from parts.standard.speeds import speed_m_min
from planner.checking.strength import (
    clamp_hold,
    cutting_load,
    deflection_mm,
    overhangs,
    strengths,
)
from planner.geometry.envelope import Outline
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.sizing.apply import size_up
from planner.turning.model import BallPlan, Turned
from planner.turning.plan import turned

JobWith = Callable[..., Job]
NOSE_MM = 0.5
KNOB = {"name": "knob", "diameter": 40, "blank_diameter": 42, "stem_diameter": 14}


_jobs: dict[str, Job] = {}
_found: dict[int, tuple[Job, Turned]] = {}


def job_of(ball: dict[str, object], example: str = "bench-lathe", **changes: object) -> Job:
    """An example's job with one ball; the same one each time it is asked for."""
    key = repr((ball, example, changes))
    if key not in _jobs:
        data = changed(example, ball=[{"name": "x"} | ball], **changes)
        _jobs[key] = job_from(data, "job.toml")
    return _jobs[key]


def coarse_job(ball: dict[str, object], **changes: object) -> Job:
    """The same with twenty divisions to the dial's turn: sooner worked out."""
    return job_of(ball, **{"attachment.dial_divisions": 20, **changes})


def sizes_of(job: Job) -> Sizes:
    return size_up(job, "job.toml").sizes


def turned_of(job: Job) -> Turned:
    """What turning it comes to, worked out once."""
    if id(job) not in _found:
        made = turned(attachment(sizes_of(job)), job, "job.toml", NOSE_MM)
        _found[id(job)] = job, made  # the job is kept, so that no other takes its place
    return _found[id(job)][1]


def plan_of(job: Job) -> BallPlan:
    (found,) = turned_of(job).balls
    return found


def codes_of(job: Job) -> set[str]:
    return {finding.code for finding in turned_of(job).findings}


def divisions_of(plan: BallPlan, s: Sizes) -> list[int]:
    """What the roughing passes take, in whole divisions; the first with the air before it."""
    division = s.screw_pitch_mm / s.dial_divisions
    radius = plan.ball.radius_mm
    at = [ceil((plan.first_mm - radius) / division - 1e-9)]
    at += [
        round((one.cut.taken.radius_mm - radius) / division)
        for one in plan.passes
        if one.cut.taken.kind == "rough"
    ]
    return [a - b for a, b in zip(at, at[1:], strict=False)]


def arcs_of(plan: BallPlan, radius_mm: float) -> tuple[list[tuple[float, float]], float]:
    """Where a tip at a radius is in metal, felt for along the swing; and the whole swing, degrees.

    The swing ends where the nose comes to the stem: (R + r) sin of it is the stem, r and 0.05 mm; or at
    the sweep's own end. A hundredth of a degree at a time, each edge then halved to.
    """
    sweep = plan.sweep
    edges = np.array([part.z_from_mm for part in plan.roughing.profile] + [inf])
    heights = np.array([part.radius_mm for part in plan.roughing.profile] + [0.0])
    top = plan.roughing.profile[-1].z_to_mm
    last = sweep.end_deg
    if sweep.stem_radius_mm:
        kept = sweep.stem_radius_mm + 0.05 + sweep.nose_mm
        last = min(last, 180 - np.degrees(np.arcsin(kept / (radius_mm + sweep.nose_mm))))
    if sweep.back_mm < radius_mm:
        last = min(last, 90 + np.degrees(np.arcsin(sweep.back_mm / radius_mm)))

    def metal(angle: np.ndarray) -> np.ndarray:
        z = radius_mm * np.cos(np.radians(angle))
        rho = radius_mm * np.sin(np.radians(angle))
        high = heights[np.clip(np.searchsorted(edges, z, side="right") - 1, 0, len(heights) - 1)]
        return (rho < high) & (z < top) & (z > edges[0])

    angles = np.linspace(sweep.start_deg, last, max(2, int((last - sweep.start_deg) * 100)))
    solid = metal(angles)
    turns = np.flatnonzero(solid[1:] != solid[:-1])
    low, high, was = angles[turns], angles[turns + 1], solid[turns]
    for _ in range(30):
        middle = (low + high) / 2
        same = metal(middle) == was
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    ends = [*([angles[0]] if solid[0] else []), *high, *([angles[-1]] if solid[-1] else [])]
    return list(zip(ends[::2], ends[1::2], strict=True)), last - sweep.start_deg


@cache
def shares(ratio: float) -> tuple[float, float]:
    """Of depth and speed at an overhang, straight between the table's rows."""
    rows = overhang_rows()
    at = [row.ratio for row in rows]
    return (
        float(np.interp(ratio, at, [row.depth for row in rows])),
        float(np.interp(ratio, at, [row.speed for row in rows])),
    )


@dataclass(frozen=True)
class Costs:
    """The roughing of one ball by hand: count divisions down to the last cut, of finish divisions.

    seconds: by the divisions to rough at a pass's end, its depth and the spindle's speed; none where a
    limit is passed by more than two parts in a thousand. sure: the passes that keep every limit by so
    much. why: by end and depth, the limits that are passed.
    """

    count: int
    finish: int
    seconds: dict[tuple[int, int], dict[float, float]]
    sure: set[tuple[int, int]]
    why: dict[tuple[int, int], set[str]]

    def least(self, sure: bool = False) -> dict[tuple[int, int], float]:
        """At each pass's fastest speed."""
        return {
            at: min(by.values())
            for at, by in self.seconds.items()
            if by and (not sure or at in self.sure)
        }


EASE = 0.002


def costs_of(plan: BallPlan, s: Sizes, job: Job) -> Costs:
    """Every pass there is, each limit looked at by itself."""
    turning, lathe, radius = job.turning, job.lathe, plan.ball.radius_mm
    division = s.screw_pitch_mm / s.dial_divisions
    name, torque, feed = plan.ball.material, turning.clamp_torque, turning.feed
    left = ceil((plan.first_mm - radius) / division - 1e-9)
    finish = left - sum(divisions_of(plan, s))
    count = left - finish
    across_flats = {"round": 1.0, "square": 2**0.5, "hexagon": 2 / 3**0.5}
    thick = plan.ball.blank_mm * across_flats[plan.ball.spec.blank_shape]
    propped = 2.0 if turning.tailstock_centre else 1.0
    depth_share, speed_share = shares(
        max([plan.blank_length_mm / thick / propped] + [one.ratio for one in overhangs(s)])
    )
    row = speed_m_min("turn", job.shop.tool_material, material(name).group)
    fastest_m_min = max(row.high_m_min * speed_share, row.low_m_min)
    pinned = plan.ball.spec.depth_of_cut or turning.pinned_depth or inf
    deepest = max(0.25 * s.bit_stock.width_mm * depth_share, division)
    one_speed = plan.ball.spec.spindle_speed
    speeds = sorted([one_speed] if one_speed else lathe.spindle_speeds)
    watts_there = 700.0 * (lathe.motor_power or inf)
    worst, main, fixed = {}, {}, {}
    for k in range(1, int(deepest / division + 1e-9) + 2):
        load = cutting_load(k * division, 2 * feed, NOSE_MM, name)
        worst[k] = load
        main[k] = cutting_load(k * division, feed, NOSE_MM, name).main_N
        weak = min(
            one.safety
            for one in strengths(s, load, torque)
            if one.code in ("bar-stress", "weld-throat")
        )
        fixed[k] = {
            "the clamp's grip": clamp_hold(s, load, torque).factor / 2.0,
            "the strength of a part": weak / 1.5,
            "chatter": inf if k * division <= deepest + 1e-9 else 0.0,
            "the job's depth of cut": inf if k * division <= pinned + 1e-9 else 0.0,
        }
    seconds: dict[tuple[int, int], dict[float, float]] = {}
    why: dict[tuple[int, int], set[str]] = {}
    sure: set[tuple[int, int]] = set()
    for end in range(max(count, 1)):
        to_go = (end + finish) * division
        tip = radius + to_go
        arcs, swing = arcs_of(plan, tip)
        cutting = sum(high - low for low, high in arcs)
        sines = [np.sin(np.radians(np.clip(90.0, low, high))) for low, high in arcs]
        across = 2 * tip * max(sines, default=1.0)
        tool_per_N = deflection_mm(s, worst[1], tip) / worst[1].passive_N  # both forces are linear
        bends = plan.bends_mm_per_N
        over = "the tool's spring" if tool_per_N >= bends else "the work's bending"
        for k, load in worst.items():
            room = fixed[k] | {
                # a lever: hand times handle is the feed force times the tip's radius
                "the force at the hand": 60.0 / (load.feed_N * tip / s.handle_length_mm),
                over: to_go / ((tool_per_N + bends) * load.passive_N),
            }
            why[end, k] = {what for what, factor in room.items() if factor < 1.0}
            if min(room.values()) < 1.0 - EASE and k > 1:
                continue
            at = {}
            for n in speeds:
                slow = n == speeds[0]
                fast = pi * across * n / 1000 > fastest_m_min * (1 + 1e-9)
                watts = main[k] * pi * across / 1000 * n / 60
                if not slow and (fast or n > (lathe.chuck_limit or inf)):
                    continue
                if watts > watts_there and not (slow and k == 1):
                    continue
                rate = min(18.0, np.degrees(feed / tip) * n / 60)
                air = min(18.0, 5 * rate)
                at[n] = float(cutting / rate + (swing - cutting) / air)
            seconds[end, k] = at
            if min(room.values()) >= 1.0 + EASE or k == 1:
                sure.add((end, k))
    return Costs(count, finish, seconds, sure, why)


def every_way(
    count: int, costs: dict[tuple[int, int], float]
) -> Iterator[tuple[tuple[int, ...], float]]:
    """Every order of passes down from so many divisions, one after another, and its seconds."""
    if count == 0:
        yield (), 0.0
    for depth in range(1, count + 1):
        taken = costs.get((count - depth, depth))
        if taken is not None:
            for rest, seconds in every_way(count - depth, costs):
                yield (depth, *rest), taken + seconds


def swung(
    outlines: Sequence[Outline],
    tips_mm: tuple[float, float],
    swings_deg: tuple[float, float],
    each_deg: float = 0.5,
    each_mm: float = 0.25,
) -> list[tuple[Outline, np.ndarray, np.ndarray]]:
    """Points all over each outline's sides and along the tip's travel, through the swing.

    For each outline, z from the ball's centre toward the tailstock, and the radius from the spindle's
    axis at which a point of it comes by. Turned by hand: with the tip at an angle a from the nose,
    what stands y out along it and z square to it is at y cos a + z sin a along the spindle,
    y sin a - z cos a over it.
    """
    found = []
    first, last = swings_deg
    turn = np.radians(np.append(np.arange(first, last, each_deg), last))[:, None]
    for outline in outlines:
        about = np.radians(np.arange(0.0, 360.0, 5.0))
        ends = np.array(
            [
                (edge.y_mm + edge.round_mm * np.cos(a), edge.z_mm + edge.round_mm * np.sin(a))
                for edge in outline
                for a in (about if edge.round_mm else (0.0,))
            ]
        )
        ends = ends[ConvexHull(ends).vertices] if len(ends) > 2 else ends
        points = []
        for one, other in zip(ends, np.roll(ends, -1, axis=0), strict=True):
            count = max(2, int(np.hypot(*(other - one)) / each_mm) + 1)
            points.append(np.linspace(one, other, count))
        y, z = np.concatenate(points).T
        tips = np.linspace(*tips_mm, 5) if outline[0].carrier is Carrier.HEAD else np.zeros(1)
        y = np.concatenate([y + tip for tip in tips])[None, :]
        z = np.tile(z, len(tips))[None, :]
        x_low = min(edge.x_low_mm for edge in outline)
        x_high = max(edge.x_high_mm for edge in outline)
        off = max(0.0, x_low, -x_high)
        along = y * np.cos(turn) + z * np.sin(turn)
        over = np.hypot(y * np.sin(turn) - z * np.cos(turn), off)
        found.append((outline, along, over))
    return found
