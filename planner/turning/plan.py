"""Turning the balls of a job: for each its setting up, its roughing, its passes, its measuring.

The geometry is that of passes and roughing beside it, the clearance checking.clearance's, forces and
deflection checking.strength's; turning.ball and turning.hollow make one plan of them. Imported by
output.plan and the sheets; needs no solid.
"""

from __future__ import annotations

from parts.attachment import Attachment
from planner.checking.clearance import BallCase
from planner.checking.sweep_findings import SweepFindings
from planner.geometry.ball import USUAL_STEM
from planner.job.own_head import OwnHead
from planner.job.tables import Ball, Job
from planner.turning.ball import ball_plan
from planner.turning.findings import (
    ball_findings,
    blank_findings,
    hand_findings,
    hollow_findings,
    key_of,
)
from planner.turning.head import Head, designed_head
from planner.turning.hollow import socket_plan
from planner.turning.measured_head import measured_head
from planner.turning.model import BallPlan, BallWork, SocketPlan, Turned
from planner.turning.piece import corners_mm
from planner.turning.second import Swinging
from planner.turning.unused import unused
from planner.words.findings import BadInput, Finding, finding
from planner.words.short import few


def ball_works(s: Head, job: Job) -> tuple[BallWork, ...]:
    """The balls of a job; the attachment's largest where it names none."""
    largest = s.max_ball_diameter_mm
    listed = job.ball or [Ball.model_construct(name="largest", diameter=largest, stem_length=0.0)]
    found = []
    for number, ball in enumerate(listed, 1):
        blank = ball.blank_diameter or ball.diameter
        if not job.ball:
            blank = s.max_blank_diameter_mm
        found.append(
            BallWork(
                ball.name or f"ball {number}",
                ball,
                ball.diameter / 2,
                blank,
                ball.stem_diameter or USUAL_STEM * ball.diameter,
                ball.material or job.materials.dial,
            )
        )
    return tuple(found)


def turned(
    attachment: Attachment, job: Job, file: str, nose_mm: float, only: str | None = None
) -> Turned:
    """The turning of every ball of a job.

    nose_mm: of the ground bit; file: what findings call the job file. A ball that this attachment
    cannot turn has a finding and no plan. only: the name of one ball; None for all. Raises BadInput
    when the job has none of that name.
    """
    return turned_by(designed_head(attachment, job, nose_mm), job, file, only)


def turned_with_own(own: OwnHead, job: Job, file: str, only: str | None = None) -> Turned:
    """The same with a head that exists."""
    return turned_by(measured_head(own, job), job, file, only)


def turned_by(s: Head, job: Job, file: str, only: str | None = None) -> Turned:
    """The same with any head."""
    swinging = Swinging(s.outlines)
    plans: list[BallPlan] = []
    hollows: list[SocketPlan] = []
    findings: list[Finding] = []
    balls = ball_works(s, job)
    if only is not None:
        names = few(ball.name for ball in balls)
        balls = tuple(ball for ball in balls if ball.name == only)
        if not balls:
            limit = "no ball of that name in the job"
            remedy = f"Name one: {names}"
            raise BadInput([finding("unknown-ball", file, "ball", only, limit, remedy)])
    for ball in balls:
        findings += unused(ball.spec, key_of(ball, job), job, file)
        if ball.spec.shape == "socket":
            hollow = socket_plan(ball, s, job)
            hollows.append(hollow)
            findings += hollow_findings(hollow, s, job, file)
            continue
        across = 2 * ball.radius_mm
        case = BallCase(
            ball.name, across, corners_mm(ball), ball.stem_mm, not job.ball, ball.behind
        )
        clear = s.clear(case)
        refusals = [
            *SweepFindings(clear, s, job, file).refusals(),
            *blank_findings(ball, job, file),
        ]
        findings += refusals
        if refusals:
            continue
        plan = ball_plan(ball, clear, swinging, s, job)
        plans.append(plan)
        findings += ball_findings(plan, s, job, file)
        if s.knob_known:
            findings += hand_findings(plan, swinging, job, file)
    return Turned(s, tuple(plans), tuple(hollows), tuple(findings))
