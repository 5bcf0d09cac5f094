"""A ball's plan to the pictures that know no plan: the dial's readings, the cut's sense, the tight
spot.

Imported by the build; works nothing out.
"""

from __future__ import annotations

from parts.attachment import Attachment
from planner.dial.sense import reading
from planner.geometry.envelope import swinging_outlines
from planner.job.tables import Job
from planner.output.pictures.cut import cut_sense_svg
from planner.output.pictures.dial import dial_readings_svg
from planner.output.pictures.tight import tight_svg
from planner.output.pictures.tight_scene import Standing
from planner.output.sheets.dial import job_dial
from planner.output.sheets.turn_rows import whole_divisions
from planner.sizing.apply import Sizing
from planner.turning.model import BallPlan


def dials_svg(plan: BallPlan, sizing: Sizing, job: Job) -> str:
    """The dial at the start and at every reading of a ball."""
    s = sizing.sizes
    division = s.screw_pitch_mm / s.dial_divisions
    start = whole_divisions(plan.first_mm - plan.ball.radius_mm, division)
    marks = [("start", reading(start, s.dial_divisions))]
    for one in plan.passes:
        taken = one.cut.taken
        if taken.kind == "spring":
            continue  # at the reading of the last cut
        left = taken.turns * s.dial_divisions + taken.divisions
        marks.append((f"{taken.number} {taken.kind}", reading(left, s.dial_divisions)))
    return dial_readings_svg(_title(plan, job), marks, job_dial(sizing), job.numbers)


def sense_svg(plan: BallPlan, attachment: Attachment, job: Job) -> str:
    """The sense of the cut, on one ball."""
    radius = plan.ball.radius_mm
    stem = plan.ball.stem_mm if plan.ball.behind else 0.35 * 2 * radius
    return cut_sense_svg(
        f"{job.name}: the sense of the cut",
        swinging_outlines(attachment),
        2 * radius,
        stem,
        plan.sweep.limits_deg(radius),
    )


def spot_svg(plan: BallPlan, attachment: Attachment, job: Job) -> str:
    """The tightest spot of a ball's sweep: tool, neck, relief and arm there."""
    s, lathe, clear, radius = attachment.sizes, job.lathe, plan.clearance, plan.ball.radius_mm
    wall = plan.roughing.profile[0].z_from_mm
    blank = plan.corner_mm**2 - radius**2
    work = [(radius - plan.blank_length_mm, blank**0.5), (wall, blank**0.5)]
    for part in plan.roughing.profile:
        work += [(part.z_from_mm, part.radius_mm), (part.z_to_mm, part.radius_mm)]
    gap = min(clear.gaps, key=lambda one: one.distance_mm - one.least_mm)
    standing = Standing(
        jaws_mm=clear.stick_out_mm,
        jaw_reach_mm=lathe.jaw_reach,
        jaw_diameter_mm=lathe.jaw_diameter or lathe.chuck_diameter,
        chuck_diameter_mm=lathe.chuck_diameter,
        clear_mm=s.clearance_mm,
        slide_mm=lathe.spindle_over_cross_slide,
        post_x_mm=(s.post_rear_x_mm, s.post_front_x_mm),
    )
    neck = plan.ball.stem_mm / 2 if plan.ball.behind else radius
    labels = [("neck", -clear.shoulder_mm, neck)] if plan.ball.behind else []
    if wall < -clear.shoulder_mm:
        labels.append(("relief", wall, blank**0.5))
    return tight_svg(
        _title(plan, job), work, swinging_outlines(attachment), gap, standing, job.numbers, labels
    )


def _title(plan: BallPlan, job: Job) -> str:
    return f"{job.name}: {plan.ball.name}, {job.numbers.size(2 * plan.ball.radius_mm)}"
