"""The stub that a ball is turned on with the attachment itself: how far it stands out, how thin it is.

Imported by making.inplace and making.aids.
"""

from __future__ import annotations

from math import sqrt

from parts import features as f
from parts.attachment import Attachment
from parts.part import Part, Stock
from planner.checking.clearance import BallCase, ball_clearance
from planner.geometry.envelope import swinging_outlines
from planner.job.tables import Job
from planner.making.model import Stub

IN_THE_JAWS_MM = 25.0
"""So much of a stub is in the jaws (common practice)."""


def stub_of(one: f.TurnedBall, part: Part, attachment: Attachment, job: Job) -> Stub:
    """The stub for a ball on its flat: as far out as what swings stays clear of the jaws."""
    radius = one.diameter.nominal_mm / 2
    behind = one.end_mm - one.start_mm - radius
    flat = 2 * sqrt(max(radius**2 - behind**2, 0.0))
    assert isinstance(part.blank, Stock)
    case = BallCase(part.name, 2 * radius, part.blank.section.width_mm, flat)
    clear = ball_clearance(case, swinging_outlines(attachment), attachment.sizes, job)
    return Stub(clear.stick_out_mm - behind, flat)
