"""The blanks of a job's balls, for the cut list: the piece, its parting and facing, its grip."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from parts.standard.sections import Section
from planner.job.tables import Job
from planner.job.usual import THROUGH_MM
from planner.turning.model import BallWork, Turned

FACING_MM = 1.0
"""Faced off the end that the ball's nose is at (common practice)."""

LEAST_GRIP_MM = 10.0
"""Gripped in the jaws: a diameter, and this at least (common practice)."""


def gripped_mm(blank_mm: float, job: Job) -> float:
    """Over so much the jaws hold a blank: one thicker than they are long ends on the chuck."""
    return min(max(LEAST_GRIP_MM, blank_mm), job.lathe.jaw_reach or inf)


class Blank(NamedTuple):
    """A blank as the cut list has its pieces: whose, section, material, how many; its lengths, mm.

    finished_mm: of the piece and its parting; grip_mm: the rest, that stays in the jaws or before them.
    from_bar: it is turned off the bar itself, one grip for all of a bar.
    """

    part: str
    piece: str
    section: Section
    material: str
    quantity: int
    finished_mm: float
    facing_mm: float
    grip_mm: float
    from_bar: bool
    shared_grip_mm: float


def blank_pieces(turned: Turned, job: Job) -> Iterator[Blank]:
    """The blank of every ball and hollow that can be turned; a hexagon is in no list of bars."""
    width = job.turning.roughing_width
    for plan in turned.balls:
        finished = plan.ball.radius_mm + plan.part_off_mm + width
        yield from _blank(plan.ball, finished, plan.blank_length_mm, job)
    for hollow in turned.sockets:
        if hollow.passes:
            yield from _blank(hollow.ball, hollow.out_mm, hollow.out_mm, job)


def _blank(ball: BallWork, finished_mm: float, out_mm: float, job: Job) -> Iterator[Blank]:
    if ball.spec.blank_shape == "hexagon":
        return
    bore = job.lathe.spindle_bore
    through = bore is not None and ball.blank_mm + THROUGH_MM <= bore
    through = through and ball.spec.blank_shape == "round"
    # a length off a bar, which a rule is laid on
    facing, finished_mm = job.series.nominal(FACING_MM), job.numbers.rule_up_mm(finished_mm)
    grip = out_mm - finished_mm + gripped_mm(ball.blank_mm, job)
    if job.inch and not through:  # what the saw's stop is over, gripped too
        grip = job.numbers.saw_stop_mm(finished_mm + facing + grip) - finished_mm - facing
    yield Blank(
        "balls",
        ball.name,
        Section(ball.spec.blank_shape, ball.blank_mm),
        ball.material,
        ball.spec.quantity,
        finished_mm,
        facing,
        0.0 if through else grip,
        through,
        grip if through else 0.0,
    )
