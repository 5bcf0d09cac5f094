"""One ball: its roughing, its sweep, its passes, its hole and where it is measured."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, hypot, inf, sqrt

from msgspec.structs import replace

from parts.standard.materials import material
from parts.standard.threads import thread
from parts.value import Value
from planner.checking.behind import Room, Stand, room_behind, staircase
from planner.checking.clearance import OFF_JAWS_MM, BallClearance, allowance_mm
from planner.checking.work import bar_of, bending_mm_per_N
from planner.geometry.ball import USUAL_ANVIL_MM, anvil_off_stem_deg
from planner.geometry.envelope import OFF_STEM_MM, Outline, toward_tailstock
from planner.job.tables import Job
from planner.turning.dials import dials_of, whole_from, whole_up
from planner.turning.head import Head
from planner.turning.limits import Limits, finish_divisions, limits_of
from planner.turning.loads import give_mm_per_N, loads
from planner.turning.model import BallPlan, BallWork, Hole
from planner.turning.passes import Cylinder, Sweep, finish_feed_mm, start_radius_mm
from planner.turning.passplan import Asked, pass_plan
from planner.turning.piece import Behind, behind_of, corners_mm
from planner.turning.roughing import Roughing, Tool, Work, flank_deg, roughing
from planner.turning.second import Swinging, beyond_mm, second_holding, stem_left
from planner.turning.springing import spring_passes

STEP_PART = 1 / 12
"""A corner between two steps of roughing stands over the allowance by this part of the radius."""

LEAST_STEP_MM = 0.5
"""But by so much at least."""

SPECK, LOWERED = 0.2, 3
"""A first pass that takes less than this part of the deepest is not worth its swing; so often, at
most, are corners turned lower for it."""

GROOVE_WIDTHS = 1.5
"""The neck's groove is at least so many widths of the parting tool."""

LEAST_GROOVE_MM = 0.5
"""And so wide at least, whatever a sharp tool needs."""

WIDER_MM = 0.5
"""By so much at a time, until the next tool's flank has room in it."""

MOST_FLANK_DEG = 60.0
"""The right side of a tool ground like a screw-cutting tool stands so steep (common practice)."""

TAPER_SPARE_MM = 0.1
"""Left over a handle until the ball is done, at least."""

READINGS = 5
"""Angles at which a ball is measured across."""

OFF_STEM_DEG = 5.0
"""How far from the end of the sweep a reading is kept."""

THREAD_DEPTH = 1.5
"""Diameters of full thread where the job gives no depth (common practice)."""

TAP_RUN_OUT = 3.0
"""Pitches that a hole is drilled deeper than its full thread (common practice)."""

RING_MM = 2.0
"""How far outside a hole the tip touches the faced end."""

FACE_MM = 1.0
"""And so much farther out the faced end stays whole."""

CENTRE_MOUTH_MM = 4.0
"""Across the mouth of a centre hole (from memory: a centre drill of 1.6 to 2 mm)."""


def centre_mouth_mm(job: Job) -> float:
    """The same, mm, 3.9 to 4; in an inch job the 64th of an inch within it, 5/32."""
    return job.series.down(CENTRE_MOUTH_MM)


class _Front(Value, frozen=True):
    """The roughing in front of the groove's end, and what swings over it."""

    steps: Roughing
    work: Work
    sweep: Sweep
    first_mm: float


def ball_plan(
    ball: BallWork, clear: BallClearance, swinging: Swinging, s: Head, job: Job
) -> BallPlan:
    """How a ball that can be turned is turned; clear: of its sweep.

    Where the first pass would take next to nothing, the corners that roughing leaves are turned lower
    by as much, so that what they leave is whole passes, if that saves a pass.
    """
    height = max(LEAST_STEP_MM, STEP_PART * ball.radius_mm)
    tried = [_planned(ball, clear, swinging, s, job, height)]
    while len(tried) <= LOWERED and (speck := _speck_mm(tried[-1], job)):
        height -= speck + dials_of(job).cross_mm
        tried.append(_planned(ball, clear, swinging, s, job, height))
    return min(tried, key=lambda plan: len(plan.passes))


def _speck_mm(plan: BallPlan, job: Job) -> float:
    """What a first pass takes that is not worth its swing; 0 where it is, or the job pins it."""
    if job.turning.roughing_pitch or plan.ball.spec.rough_passes:
        return 0.0
    first, *rest = [one.depth_mm for one in plan.passes if one.cut.taken.kind == "rough"] or [0.0]
    return first if first < SPECK * max(rest, default=0.0) else 0.0


def _planned(
    ball: BallWork, clear: BallClearance, swinging: Swinging, s: Head, job: Job, height_mm: float
) -> BallPlan:
    """The plan with corners of roughing so high over the allowance."""
    turning, radius, nose_mm = job.turning, ball.radius_mm, s.nose_mm
    turner, parter = _tools(job)
    behind = behind_of(ball)
    ring = _ring_mm(ball, clear, swinging, s, job)
    front = _fronted(ball, behind, clear, job, nose_mm, ring, height_mm)
    room = _room(ball, front, clear, swinging.outlines, s)
    division = dials_of(job).carriage_mm
    needed = behind.rising(TAPER_SPARE_MM, division)
    piece = behind.rising(0.0, division)
    stands = staircase(room, front.work.groove_mm, needed, piece) if room else ()
    work = _with_behind(front.work, stands)
    steps = _steps(work, job, height_mm)
    wall = work.wall_mm
    part_off = _part_off_mm(ball, behind, job)
    far = max((step.to_mm for step in steps.steps), default=0.0) - radius
    jaws = max(
        clear.stick_out_mm,
        max(wall, far) + OFF_JAWS_MM if steps.steps else 0.0,
        part_off + max(parter.across_mm, turning.roughing_width) + OFF_JAWS_MM,
    )
    bar = bar_of(clear, job, max(wall, 1e-6), jaws, stands)
    bends = bending_mm_per_N(bar, material(ball.material).modulus_MPa)
    propped = 2.0 if turning.tailstock_centre else 1.0
    slender = max((jaws + radius) / corners_mm(ball) / propped, s.slender)
    limits = limits_of(ball, s, job, bends, slender)
    asked = _asked(ball, steps.profile, front.sweep, front.first_mm, limits, s, job, nose_mm)
    found = pass_plan(asked, limits, s)
    least = found.least_s
    if asked.rev_min or asked.passes or limits.pinned_mm < inf:
        free = replace(asked, rev_min=None, passes=None)
        least = pass_plan(free, replace(limits, pinned_mm=inf), s).least_s
    hole = _hole(ball, clear, swinging, s, job)
    second = None
    if ball.spec.stemless:
        full = hole.tap_depth_mm if hole and hole.tap_depth_mm else 0.0
        left = stem_left(work, steps.profile, front.sweep, radius + beyond_mm(job))
        second = second_holding(ball, clear, swinging, limits, asked, s, job, left, full)
    return BallPlan(
        ball=ball,
        clearance=clear,
        sweep=front.sweep,
        behind=behind,
        room=room or Room((radius,), (0.0,)),
        stands=stands,
        roughing=steps,
        flank_deg=flank_deg(work, steps.profile, turner.corner_mm),
        first_mm=front.first_mm,
        corner_mm=hypot(radius, corners_mm(ball) / 2),
        passes=loads(found, limits, s),
        least_s=least,
        one_speed=found.one_speed,
        over=found.over,
        blank_length_mm=jaws + radius,
        bends_mm_per_N=bends,
        measure_deg=_measure_deg(ball, front.sweep.end_deg),
        hole=hole,
        second=second,
        part_off_mm=part_off,
        ring_mm=ring,
    )


def _tools(job: Job) -> tuple[Tool, Tool]:
    """The turning tool, and the tool that goes behind the ball."""
    turning = job.turning
    turner = Tool(0.0, turning.roughing_corner)
    if turning.roughing_tool == "plain":
        return turner, turner
    return turner, Tool(
        turning.roughing_width, min(turning.roughing_corner, turning.roughing_width / 2)
    )


def _fronted(
    ball: BallWork,
    behind: Behind,
    clear: BallClearance,
    job: Job,
    nose_mm: float,
    ring_mm: float,
    height_mm: float,
) -> _Front:
    """The roughing of the ball itself, the neck's groove as wide as its tools need."""
    turner, parter = _tools(job)
    carriage, cross = dials_of(job).carriage_mm, dials_of(job).cross_mm
    radius = ball.radius_mm
    start = min(clear.start_deg, 89.0)
    face = min(ring_mm + FACE_MM, radius) if ring_mm else 0.0
    if not ball.behind:
        groove = whole_up(radius + parter.across_mm + 1.0, carriage) - radius
        thick = corners_mm(ball) / 2 > radius + allowance_mm(job, radius) + 1e-9
        back = groove if thick else 0.0
        work = Work(radius, corners_mm(ball) / 2, radius, None, back, face_mm=face)
        steps = _steps(work, job, height_mm)
        sweep = Sweep(start, clear.end_deg, 0.0, inf, nose_mm, OFF_STEM_MM)
        return _Front(steps, work, sweep, start_radius_mm(steps.profile, sweep))
    out = radius + allowance_mm(job, radius)
    width = max(GROOVE_WIDTHS * parter.across_mm, LEAST_GROOVE_MM)
    while True:
        neck = behind.radius_mm(behind.shoulder_mm) or ball.stem_mm / 2
        right = sqrt(max(0.0, (out + parter.corner_mm) ** 2 - (neck + parter.corner_mm) ** 2))
        groove = right - parter.corner_mm + max(width, parter.across_mm + carriage)
        groove = whole_up(radius + groove, carriage) - radius
        neck = whole_from(corners_mm(ball) / 2, max(neck, behind.radius_mm(groove)), cross)
        neck_mm = min(neck, 0.98 * radius)
        work = Work(radius, corners_mm(ball) / 2, radius, neck_mm, groove, face_mm=face)
        steps = _steps(work, job, height_mm)
        if flank_deg(work, steps.profile, turner.corner_mm) <= MOST_FLANK_DEG or width > radius:
            break
        width += WIDER_MM
    sweep = Sweep(start, clear.end_deg, neck, groove, nose_mm, OFF_STEM_MM)
    # where a handle or a dial has the neck thicker than the stem, the sweep ends a little before
    sweep = replace(sweep, end_deg=max(90.0, sweep.limits_deg(radius)[1]))
    return _Front(steps, work, sweep, start_radius_mm(steps.profile, sweep))


def _steps(work: Work, job: Job, height_mm: float) -> Roughing:
    return roughing(
        work,
        *_tools(job),
        allowance_mm(job, work.radius_mm),
        height_mm,
        pitch_mm=job.turning.roughing_pitch,
        divisions=dials_of(job),
    )


def _with_behind(work: Work, stands: tuple[Stand, ...]) -> Work:
    """The work with what stands behind it; where the neck goes on behind the groove, as a length there.

    Half a ball has no groove: its body goes back as far as the first length does.
    """
    if not stands:
        return work
    if work.stem_radius_mm is None:
        return replace(work, groove_mm=stands[0].to_mm, behind=stands[1:])
    neck = stands[0]
    if neck.to_mm <= work.groove_mm + 1e-9:
        return replace(work, behind=stands[1:])
    return replace(work, behind=(replace(neck, from_mm=work.groove_mm), *stands[1:]))


def _room(
    ball: BallWork, front: _Front, clear: BallClearance, outlines: Sequence[Outline], s: Head
) -> Room | None:
    """How thick work may stand behind; None for half a ball in a blank no thicker than it."""
    radius, work = ball.radius_mm, front.work
    if ball.behind:
        neck = clear.shoulder_mm, work.stem_radius_mm or 0.0
    elif work.groove_mm:
        neck = 0.0, min(part.radius_mm for part in front.steps.profile if part.z_from_mm <= 0.0)
    else:
        return None
    tips = radius, max(front.first_mm, radius)
    swings = front.sweep.start_deg, front.sweep.end_deg
    return room_behind(outlines, tips, swings, neck, work.blank_radius_mm, s.clearance_mm)


def _part_off_mm(ball: BallWork, behind: Behind, job: Job) -> float:
    """How far behind the centre the parting tool's right side stands."""
    if not ball.behind:
        return 0.0
    if not ball.spec.stemless:
        return behind.end_mm
    return whole_up(2 * ball.radius_mm + beyond_mm(job), dials_of(job).carriage_mm) - ball.radius_mm


def _asked(
    ball: BallWork,
    profile: tuple[Cylinder, ...],
    sweep: Sweep,
    first_mm: float,
    limits: Limits,
    s: Head,
    job: Job,
    nose_mm: float,
) -> Asked:
    turning, radius, spec = job.turning, ball.radius_mm, ball.spec
    division = s.screw_pitch_mm / s.dial_divisions
    feed = finish_feed_mm(turning.finish, nose_mm, turning.feed, radius)
    tolerance = spec.tolerance / 2 if spec.tolerance else None
    finish, _ = finish_divisions(limits, s, radius, turning.finish_depth, feed, tolerance, division)
    give = give_mm_per_N(limits, s, radius)
    spring = spring_passes(finish * division, feed, limits, give, turning.spring_passes)
    first = max(first_mm, radius + division)
    return Asked(
        profile=profile,
        sweep=sweep,
        first_mm=first,
        radius_mm=radius,
        division_mm=division,
        divisions=s.dial_divisions,
        finish=finish,
        spring=spring,
        finish_feed_mm=feed,
        speeds=tuple(job.lathe.spindle_speeds),
        rev_min=spec.spindle_speed,
        passes=spec.rough_passes,
    )


def _measure_deg(ball: BallWork, end_deg: float) -> tuple[float, ...]:
    """Angles to measure across at, from clear of the neck to the equator, in whole degrees.

    end_deg: of the sweep; the anvil across the centre then stands on the ball, off the nose's round,
    and a usual anvil's edge off the stem.
    """
    if not ball.behind:
        return (90.0,)
    off = anvil_off_stem_deg(2 * ball.radius_mm, ball.stem_mm, USUAL_ANVIL_MM)
    low = ceil(max(180.0 - end_deg + OFF_STEM_DEG, off + 0.5) - 1e-9)
    step = (90.0 - low) / (READINGS - 1)
    return tuple(float(round(low + step * i)) for i in range(READINGS))


def _bore(ball: BallWork) -> float:
    """Across a hole from the nose once tapped; 0 for none."""
    if ball.spec.thread:
        return thread(ball.spec.thread).major_mm
    return ball.spec.hole or 0.0


def _drilled_late(
    ball: BallWork, clear: BallClearance, swinging: Swinging, s: Head, job: Job
) -> bool:
    """Whether a hole is drilled after the tip's touches on the faced end.

    Where the tailstock reaches past what swings with the tip at its stem side; never where a centre
    is to bear in its mouth.
    """
    reach = job.lathe.tailstock_reach
    if reach is None or job.turning.tailstock_centre:
        return False
    far = ball.radius_mm, hypot(ball.radius_mm, corners_mm(ball) / 2)
    swings = clear.end_deg, clear.end_deg
    tail = toward_tailstock(swinging.edges, far, swings, job.lathe.chuck_diameter / 2)
    return tail.distance_mm - ball.radius_mm + s.clearance_mm <= reach


def _ring_mm(ball: BallWork, clear: BallClearance, swinging: Swinging, s: Head, job: Job) -> float:
    """How far off the axis the tip touches the faced end: outside a hole that is there before.

    So many whole divisions of the cross slide as its dial then says.
    """
    bore = _bore(ball)
    if bore and _drilled_late(ball, clear, swinging, s, job):
        return 0.0
    if not bore and job.turning.tailstock_centre:
        bore = centre_mouth_mm(job)
    off = min(bore / 2 + RING_MM, (bore / 2 + ball.radius_mm) / 2) if bore else 0.0
    return whole_up(off, job.lathe.cross_slide_division or 0.0)


def _hole(
    ball: BallWork, clear: BallClearance, swinging: Swinging, s: Head, job: Job
) -> Hole | None:
    """The hole from the nose: how deep, and whether before or after the tip's touches."""
    spec = ball.spec
    if not (spec.hole or spec.thread):
        return None
    ring = _ring_mm(ball, clear, swinging, s, job)
    if spec.thread:
        size = thread(spec.thread)
        full = spec.hole_depth or THREAD_DEPTH * size.major_mm
        drill, name = size.tap_drill_mm, size.tap_drill_name
        tapped: float | None = full
        depth: float | None = job.numbers.rule_up_mm(full + TAP_RUN_OUT * size.pitch_mm)
    else:
        assert spec.hole is not None
        drill, name, tapped, depth = spec.hole, "", None, spec.hole_depth
    return Hole(
        drill_mm=drill,
        drill_name=name,
        thread=spec.thread,
        depth_mm=depth,
        tap_depth_mm=tapped,
        order="before the touches" if ring else "after the touches",
        ring_mm=ring,
        wide_mm=_bore(ball),
    )
