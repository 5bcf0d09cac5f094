"""The stem side of a ball without a stem, finished in a second holding by its finished side.

Frame: the ball's centre is the origin, z away from the chuck: what is left of the stem now points out.
The ball sits on a threaded stub where it is tapped, else in jaws or a split cup bored to it whose mouth
is a little in front of the equator, so that it cannot be pushed out. The tip swings from the stem's
pole over the place where the first holding ended.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import acos, cos, degrees, hypot, inf, radians, sin, sqrt

from msgspec.structs import replace

from parts.standard.threads import thread
from parts.value import Value
from planner.checking.clearance import BallClearance
from planner.geometry.envelope import OFF_STEM_MM, Edge, Outline
from planner.geometry.swept import deepest
from planner.job.tables import Job
from planner.turning.head import Head
from planner.turning.limits import HAND_FACTOR, Limits
from planner.turning.loads import loads
from planner.turning.model import BallWork, Holding, SecondHolding
from planner.turning.passes import Cylinder, Sweep, start_radius_mm
from planner.turning.passplan import Asked, pass_plan
from planner.turning.piece import corners_mm
from planner.turning.roughing import Work

BEYOND_MM = 1.0
"""A ball whose stem side is still to be finished is parted so far behind it."""


def beyond_mm(job: Job) -> float:
    """BEYOND_MM in the job's own series."""
    return job.series.nominal(BEYOND_MM)


OVER_DEG = 10.0
"""How far the second sweep goes on over what the first has finished."""

MOUTH_PART = 0.1
"""The mouth of jaws or cup stands in front of the equator by this part of the radius: it closes on a
twohundredth of the ball's diameter (common practice: just past the middle)."""

OFF_MOUTH_DEG = 5.0
"""How far from the mouth the tip stops when it feels its way over the finished zone."""

LEAST_WALL_MM = 5.0
"""Of jaws or cup round the ball, a fifth of the radius at least."""

THINNEST_WALL_MM = 2.0
"""Jaws or cup are made no thinner where the body that swings beside them leaves less room."""

JAW_FORCE_N = 3000.0
"""What three jaws bear on the work together, tightened with care on soft metal (from memory; a small
chuck gives two to four times as much)."""

JAW_FRICTION = 0.15
"""Of a ball in clean, dry soft metal (common practice)."""


class Swinging(Value, frozen=True):
    """What swings, as outlines and as their edges."""

    outlines: tuple[Outline, ...]

    @property
    def edges(self) -> tuple[Edge, ...]:
        """All edges of all outlines."""
        return tuple(edge for outline in self.outlines for edge in outline)


def holding_of(ball: BallWork, job: Job) -> Holding:
    """How a ball is held the second time: as the job says, else by its thread, soft jaws or a cup."""
    if ball.spec.second_holding:
        return ball.spec.second_holding
    if ball.spec.thread:
        return "threaded stub"
    return "soft jaws" if job.lathe.soft_jaws else "cup"


def second_holding(
    ball: BallWork,
    clear: BallClearance,
    swinging: Swinging,
    limits: Limits,
    asked: Asked,
    s: Head,
    job: Job,
    left: Sequence[Cylinder],
    stub_length_mm: float,
) -> SecondHolding:
    """The second holding of a ball; stub_length_mm: of full thread in it.

    limits, asked: of the first; left: of the stem, as it stands now (stem_left). The work is short in
    its holding: its bending does not count.
    """
    radius, stub = ball.radius_mm, max(part.radius_mm for part in left)
    holding = holding_of(ball, job)
    end = radius + beyond_mm(job)
    blend = 180.0 - asked.sweep.limits_deg(radius)[1]
    to = min(blend + OVER_DEG, 85.0)
    low = radius * cos(radians(min(to, 80.0)))
    profile = tuple(replace(p, z_from_mm=max(p.z_from_mm, low)) for p in left if p.z_to_mm > low)
    sweep = Sweep(0.0, to, 0.0, inf, asked.sweep.nose_mm, OFF_STEM_MM)
    first = max(start_radius_mm(profile, sweep), radius + asked.division_mm)
    held = replace(limits, work_mm_per_N=0.0)
    plan = pass_plan(replace(asked, profile=profile, sweep=sweep, first_mm=first), held, s)
    passes = loads(plan, held, s)
    mouth = MOUTH_PART * radius if holding != "threaded stub" else 0.0
    room = corners_mm(ball) / 2 + clear.beside_mm - s.clearance_mm - radius
    wall = min(max(LEAST_WALL_MM, 0.2 * radius), max(room, THINNEST_WALL_MM))
    outside = _turned_mm(2 * radius + 2 * wall, 2 * radius + 2 * THINNEST_WALL_MM, job)
    if holding == "threaded stub":
        outside = job.numbers.rule_down_mm(2 * min(stub_shoulder_mm(ball), 0.9 * radius))
        mouth = -sqrt(radius**2 - (outside / 2) ** 2)
    around = swinging.outlines, (radius, first), outside / 2, mouth, s
    touch = _touch_deg(radius, mouth, to, *around)
    worst = max(one.load.main_N for one in passes) * HAND_FACTOR
    slips = inf if holding == "threaded stub" else JAW_FRICTION * JAW_FORCE_N * radius / stub
    return SecondHolding(
        holding=holding,
        stub_radius_mm=stub,
        stub_end_mm=end,
        blend_deg=blend,
        to_deg=to,
        touch_deg=touch,
        mouth_mm=mouth,
        mouth_diameter_mm=2 * sqrt(radius**2 - mouth**2),
        outside_mm=outside,
        thread=ball.spec.thread,
        stub_length_mm=stub_length_mm,
        slips_N=slips,
        first_mm=first,
        sweep=sweep,
        passes=passes,
        clear_mm=_clear_mm((0.0, to), *around),
        worst_N=worst,
    )


def stem_left(
    work: Work, profile: Sequence[Cylinder], sweep: Sweep, end_mm: float
) -> tuple[Cylinder, ...]:
    """What is left of the stem once parted end_mm behind the centre, the other way round.

    profile: as it was roughed; sweep: of the first holding. In front of the groove's end nothing stands
    higher than the tip's nose came down to: where the sweep ends before the stem that is over the neck.
    """
    neck, end = work.stem_radius_mm or 0.0, sweep.limits_deg(work.radius_mm)[1]
    came = (work.radius_mm + sweep.nose_mm) * sin(radians(end)) - sweep.nose_mm
    high = came if came > neck + 2 * OFF_STEM_MM else neck
    found = []
    for part in reversed(profile):
        near, far = max(0.0, -part.z_to_mm), min(-part.z_from_mm, end_mm)
        if near < far - 1e-9:
            ahead = near < work.groove_mm - 1e-9
            thick = max(neck, min(part.radius_mm, high)) if ahead else part.radius_mm
            found.append(Cylinder(near, far, thick))
    return tuple(found)


def stub_shoulder_mm(ball: BallWork) -> float:
    """The radius of the shoulder that a ball on a threaded stub bears on: well outside its mouth."""
    return max(thread(ball.spec.thread).major_mm if ball.spec.thread else 0.0, 0.3 * ball.radius_mm)


def _turned_mm(most_mm: float, least_mm: float, job: Job) -> float:
    """What a cup is turned to outside: as a rule reads, below what there is room for if it may."""
    down = job.numbers.rule_down_mm(most_mm)
    return down if down >= least_mm else job.numbers.rule_up_mm(least_mm)


def _touch_deg(
    radius_mm: float,
    mouth_mm: float,
    to_deg: float,
    outlines: Sequence[Outline],
    tips_mm: tuple[float, float],
    outside_mm: float,
    in_front_mm: float,
    s: Head,
) -> float:
    """How far toward the mouth the tip may feel its way over the finished zone, what swings clear."""
    most = min(90.0, degrees(acos(max(0.0, mouth_mm) / radius_mm)) - OFF_MOUTH_DEG)
    while most - TRY_DEG > to_deg:
        room = _clear_mm((0.0, most), outlines, tips_mm, outside_mm, in_front_mm, s)
        if room >= s.clearance_mm:
            break
        most -= TRY_DEG
    return most


TRY_DEG = 5.0
"""By so much less at a time."""


def _clear_mm(
    swings_deg: tuple[float, float],
    outlines: Sequence[Outline],
    tips_mm: tuple[float, float],
    outside_mm: float,
    mouth_mm: float,
    s: Head,
) -> float:
    """From what swings to the mouth of jaws or cup; infinite where nothing comes by."""
    found = deepest(
        outlines, tips_mm, swings_deg, outside_mm + s.clearance_mm, beyond_mm=-hypot(*tips_mm)
    )
    return inf if found is None else -found.distance_mm - mouth_mm
