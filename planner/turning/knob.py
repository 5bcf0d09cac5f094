"""The first ball: the knob of the attachment's own handle, turned on a threaded stub.

Imported by output.plan, which gives it to the book.
"""

from __future__ import annotations

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.part import Stock
from planner.checking.clearance import BallCase
from planner.checking.stub import own_ball, seat_mm
from planner.checking.sweep_findings import SweepFindings
from planner.job.tables import Ball, Job
from planner.turning.ball import ball_plan
from planner.turning.head import designed_head
from planner.turning.model import BallPlan, BallWork
from planner.turning.second import Swinging

ON_THE_STUB = ("neck", "behind")
"""Sides of roughing that lie behind the knob's seat, where the stub is turned before."""


def knob_plan(attachment: Attachment, job: Job, nose_mm: float) -> BallPlan | None:
    """How the knob is turned; None for an attachment without one, or one that it cannot turn.

    nose_mm: of the ground bit. Its stem is its seat, and nothing of it is cut behind that.
    """
    found = own_ball(attachment)
    if found is None or not isinstance(found[0].blank, Stock):
        return None
    part, ball = found
    radius, seat = ball.diameter.nominal_mm / 2, seat_mm(ball)
    assert isinstance(part.blank, Stock)
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
