"""The first ball: the knob of the attachment's own handle, turned on a threaded stub.

Imported by output.plan, which gives it to the book, and its stub to the route.
"""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

from parts.attachment import Attachment
from parts.features import TurnedBall
from parts.part import Stock
from planner.checking.clearance import BallCase
from planner.checking.sweep_findings import SweepFindings
from planner.job.tables import Ball, Job
from planner.turning.ball import ball_plan
from planner.turning.head import designed_head
from planner.turning.model import BallPlan, BallWork
from planner.turning.second import Swinging

ON_THE_STUB = ("neck", "behind")
"""Sides of roughing that lie behind the knob's seat, where the stub is turned before."""

PAST_MM = 2.0
"""The stub is thin so much farther than a tool runs (common practice)."""


def knob_plan(attachment: Attachment, job: Job, nose_mm: float) -> BallPlan | None:
    """How the knob is turned; None for an attachment without one, or one that it cannot turn.

    nose_mm: of the ground bit. Its stem is its seat, and nothing of it is cut behind that.
    """
    found = (
        (one, o) for one in attachment.parts for o in one.features if isinstance(o, TurnedBall)
    )
    part, ball = next(found, (None, None))
    if part is None or ball is None or not isinstance(part.blank, Stock):
        return None
    radius, behind = ball.diameter.nominal_mm / 2, ball.end_mm - ball.diameter.nominal_mm / 2
    seat = 2 * sqrt(max(radius**2 - behind**2, 0.0))
    wide, metal = part.blank.section.width_mm, part.blank.material
    spec = Ball.model_construct(name=part.name, diameter=2 * radius, stem_length=0.0)
    work = BallWork(part.name, spec, radius, wide, seat, metal)
    head = designed_head(attachment, job, nose_mm)
    clear = head.clear(BallCase(part.name, 2 * radius, wide, seat))
    if next(SweepFindings(clear, head, job, "").refusals(), None) is not None:
        return None
    plan = ball_plan(work, clear, Swinging(head.outlines), head, job)
    steps = [one for one in plan.roughing.steps if one.side not in ON_THE_STUB]
    kept = tuple(replace(one, number=number) for number, one in enumerate(steps, 1))
    return replace(plan, roughing=replace(plan.roughing, steps=kept))


def stub_of(plan: BallPlan) -> tuple[float, float, float]:
    """What the knob is turned on, mm: how far it stands out of the jaws, so that the head clears them;
    the diameter of the seat, and how far it is no thicker behind that: as far as the tools run."""
    ball = plan.ball
    behind = sqrt(ball.radius_mm**2 - (ball.stem_mm / 2) ** 2)
    last = max((one.to_mm for one in plan.roughing.steps), default=0.0)
    free = max(last - ball.radius_mm, plan.sweep.back_mm) - behind + PAST_MM
    return plan.clearance.stick_out_mm - behind, ball.stem_mm, free
