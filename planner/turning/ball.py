"""One ball: its roughing, its sweep, its passes and where it is measured."""

from __future__ import annotations

from math import atan2, ceil, degrees, hypot, inf

from parts.sizes import Sizes
from parts.standard.materials import material
from parts.standard.speeds import speed_m_min
from planner.checking.clearance import OFF_JAWS_MM, BallClearance, allowance_mm
from planner.checking.work import bar_of, bending_mm_per_N
from planner.geometry.envelope import OFF_STEM_MM, USUAL_STEM
from planner.job.tables import Ball, Job
from planner.turning.loads import loaded, pass_depth_mm
from planner.turning.model import BallPlan, BallWork
from planner.turning.passes import (
    Sweep,
    cuts,
    finish_feed_mm,
    schedule,
    start_radius_mm,
)
from planner.turning.roughing import Divisions, Roughing, Tool, Work, roughing

PITCHES = 12
"""Steps of roughing in a ball's diameter, unless the job says otherwise."""

READINGS = 5
"""Angles at which a ball is measured across."""

OFF_STEM_DEG = 5.0
"""How far from the end of the sweep a reading is kept."""

ONE_DIVISION = "one division of the dial"
"""What sets the depth of a pass where even the least that can be set is over the limits."""


def ball_plan(ball: BallWork, clear: BallClearance, s: Sizes, job: Job, nose_mm: float) -> BallPlan:
    """How a ball that can be turned is turned; clear: of its sweep; nose_mm: of the ground bit."""
    turning, radius = job.turning, ball.radius_mm
    steps, relief = _roughed(ball, clear.relief_mm, job)
    stem = ball.stem_mm / 2 if ball.behind else 0.0
    start, behind = min(clear.start_deg, 89.0), relief if ball.behind else inf
    sweep = Sweep(start, clear.end_deg, stem, behind, nose_mm, OFF_STEM_MM)
    division = s.screw_pitch_mm / s.dial_divisions
    first = start_radius_mm(steps.profile, sweep)
    jaws = max(clear.stick_out_mm, relief + OFF_JAWS_MM if relief else 0.0)
    metal = material(ball.material)
    bends = bending_mm_per_N(bar_of(clear, job, relief, jaws), metal.modulus_MPa)
    most, limited = pass_depth_mm(ball, first, s, job, nose_mm, division, bends)
    depth = max(most, division)
    finish = min(max(turning.finish_depth, division), depth)
    passes = schedule(
        max(first, radius + division), radius, depth, finish, turning.spring_passes, division,
        s.dial_divisions,
    )  # fmt: skip
    feed = finish_feed_mm(turning.finish, nose_mm, turning.feed, radius)
    speed = speed_m_min("turn", job.shop.tool_material, metal.group)
    made = cuts(
        steps.profile, passes, sweep, turning.feed, feed, job.lathe.spindle_speeds, speed.low_m_min
    )
    return BallPlan(
        ball=ball,
        clearance=clear,
        sweep=sweep,
        roughing=steps,
        first_mm=first,
        corner_mm=hypot(radius, ball.blank_mm / 2),
        passes=tuple(loaded(one, ball, s, job, nose_mm, bends) for one in made),
        depth_mm=depth,
        limited_by=limited if most >= division else ONE_DIVISION,
        blank_length_mm=jaws + radius,
        measure_deg=_measure_deg(ball, clear.end_deg),
    )


def _roughed(ball: BallWork, relief_mm: float, job: Job) -> tuple[Roughing, float]:
    """The roughing steps, the relief set farther back where the tool is too wide for it."""
    turning = job.turning
    plain = turning.roughing_tool == "plain"
    tool = Tool(0.0 if plain else turning.roughing_width, turning.roughing_corner)
    pitch = turning.roughing_pitch or max(0.5, round(ball.radius_mm / PITCHES * 4) / 2)
    stem = ball.stem_mm / 2 if ball.behind else None
    carriage = job.lathe.carriage_division or 0.0
    if stem:
        # behind the centre the tool's corner stands off by less than ball, allowance and corner
        room = ball.radius_mm + turning.allowance + tool.corner_mm + tool.across_mm + carriage
        relief_mm = max(relief_mm, room)
    if carriage and relief_mm:
        relief_mm = ceil((ball.radius_mm + relief_mm) / carriage - 1e-9) * carriage - ball.radius_mm
    work = Work(ball.radius_mm, ball.blank_mm / 2, ball.radius_mm, stem, relief_mm)
    found = roughing(
        work,
        tool,
        allowance_mm(job, ball.radius_mm),
        pitch_mm=pitch,
        stem_allowance_mm=0.0,
        divisions=Divisions(carriage, job.lathe.cross_slide_division or 0.0),
    )
    return found, relief_mm


def _measure_deg(ball: BallWork, end_deg: float) -> tuple[float, ...]:
    """Angles to measure across at, from clear of the neck to the equator, in whole degrees.

    end_deg: of the sweep; the anvil across the centre then stands on the ball, off the nose's round.
    """
    if not ball.behind:
        return (90.0,)
    low = ceil(180.0 - end_deg + OFF_STEM_DEG - 1e-9)
    step = (90.0 - low) / (READINGS - 1)
    return tuple(float(round(low + step * i)) for i in range(READINGS))


def taper_deg(ball: Ball) -> float:
    """The angle a taper handle's side makes with its axis: the top slide's set-over."""
    if not (ball.large_diameter and ball.stem_length):
        return 0.0
    small = ball.stem_diameter or USUAL_STEM * ball.diameter
    return degrees(atan2((ball.large_diameter - small) / 2, ball.stem_length))
