"""What turning a ball or a hollow refuses or notes; what its sweep does is checking.sweep_findings'."""

from __future__ import annotations

from collections.abc import Iterator

from parts.sizes import Sizes
from planner.checking.sweep_findings import SweepFindings, beside_blank
from planner.job.tables import Job
from planner.turning.ball import ONE_DIVISION
from planner.turning.model import BallPlan, BallWork, SocketPlan
from planner.words.findings import Finding, finding


def ball_findings(plan: BallPlan, s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    """What to look at before turning a ball."""
    ball, key, mm = plan.ball, key_of(plan.ball, job), job.numbers.length
    swept = SweepFindings(plan.clearance, s, job, file)
    if ball.behind:
        yield from swept.short_sweep()
    if plan.limited_by == ONE_DIVISION:
        yield finding(
            "pass-depth",
            file,
            key,
            "not even one division of the dial is within the limits of the check",
            "force, deflection or grip",
            "Take less feed, tighten the clamp, or see: pommel check",
        )
    if plan.roughing.least_mm < 1e-6:
        more = mm(2 * ball.radius_mm + job.series.step_mm)
        yield finding(
            "thin-blank",
            file,
            key,
            f"blank {mm(ball.blank_mm)}",
            "no thicker than the ball: its equator keeps the bar's skin",
            f"Take a blank of {more} or more, or turn it to a smaller ball",
            source="common practice",
        )
    yield from swept.stick_out("note")


def hollow_findings(plan: SocketPlan, s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    """What refuses a hollow."""
    ball, key, mm = plan.ball, key_of(plan.ball, job), job.numbers.length
    if not plan.least_mm - 1e-9 <= ball.radius_mm <= plan.greatest_mm + 1e-9:
        limit = f"this head reaches {mm(plan.least_mm)} to {mm(plan.greatest_mm)} with the bit the"
        limit += " other way round"
        value, remedy = f"radius {mm(ball.radius_mm)}", "Use a form tool or a boring head for it"
        yield finding("socket-radius", file, key, value, limit, remedy)
    if 2 * plan.shape.mouth_radius_mm > ball.blank_mm + 1e-9:
        value = f"mouth {mm(2 * plan.shape.mouth_radius_mm)}"
        limit = f"wider than its blank, {mm(ball.blank_mm)}"
        yield finding("socket-mouth", file, key, value, limit, "Hollow it less deep")
    yield from beside_blank(ball.name, ball.blank_mm, key, s, job, file)
    if plan.shape.depth_mm > plan.deepest_mm + 1e-9:
        limit = f"the arm comes to the face at {mm(plan.deepest_mm)}"
        remedy = f"Set the bit out {mm(plan.shape.depth_mm + s.clearance_mm)}, or hollow it less"
        value = f"{mm(plan.shape.depth_mm)} deep"
        yield finding("socket-depth", file, key, value, limit, remedy)


def key_of(ball: BallWork, job: Job) -> str:
    """Where a ball stands in the job; the attachment's largest where it names none."""
    return f"ball.{ball.name}" if job.ball else "attachment.max_ball_diameter"
