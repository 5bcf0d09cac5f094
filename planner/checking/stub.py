"""The stub that a ball of the attachment's own is turned on with it: clear of jaws and stub all round.

Imported by output.plan, for the route and the book. It loads nothing that plans a cut.
"""

from __future__ import annotations

from math import sqrt

from parts.attachment import Attachment
from parts.features import TurnedBall
from parts.part import Part, Stock
from planner.checking.clearance import BallCase, ball_clearance
from planner.geometry.envelope import swinging_outlines
from planner.job.tables import Job

PAST_MM = 2.0
"""The stub is thin so much farther than what swings comes (common practice)."""

BY_HAND_MM = 15.0
"""A file passes the jaws behind what is rounded by hand (common practice: 10 to 20)."""


def own_ball(attachment: Attachment) -> tuple[Part, TurnedBall] | None:
    """The part with a ball that is turned with the attachment itself, and the ball; or None."""
    found = (
        (one, o) for one in attachment.parts for o in one.features if isinstance(o, TurnedBall)
    )
    return next(found, None)


def seat_mm(ball: TurnedBall) -> float:
    """The diameter of the flat that a ball seats on."""
    radius = ball.diameter.nominal_mm / 2
    return 2 * sqrt(max(radius**2 - (ball.end_mm - radius) ** 2, 0.0))


def stub_of(attachment: Attachment, job: Job) -> tuple[float, float, float] | None:
    """What that ball is turned on, mm; None without one.

    How far the stub's shoulder stands out of the jaws, so that what swings clears them; the diameter it
    is turned to, as a rule reads, no wider than the ball's seat; and how far behind its shoulder the
    stub is no thicker than that, so that what swings clears the rest of it, which is no thicker than
    the ball. A ball smaller than the attachment turns is rounded by hand, close to the jaws.
    """
    found = own_ball(attachment)
    if found is None:
        return None
    part, ball = found
    wide, seat = ball.diameter.nominal_mm, job.numbers.rule_down_mm(seat_mm(ball))
    if wide < attachment.sizes.min_ball_diameter_mm:
        return BY_HAND_MM, seat, BY_HAND_MM
    assert isinstance(part.blank, Stock)
    outlines, behind = swinging_outlines(attachment), ball.end_mm - wide / 2
    bar, stub = (
        ball_clearance(BallCase(part.name, wide, across, seat), outlines, attachment.sizes, job)
        for across in (part.blank.section.width_mm, wide)
    )
    out = bar.stick_out_mm - behind
    return out, seat, min(stub.relief_mm - behind + PAST_MM, out)
