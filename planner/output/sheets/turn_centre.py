"""The rows that a tailstock centre adds to a ball's sheet: when it is up, when away, and the nose."""

from __future__ import annotations

from collections.abc import Iterator

from planner.job.tables import Job
from planner.output.sheets.turn_rows import Row, row
from planner.turning.ball import centre_mouth_mm
from planner.turning.model import BallPlan

OVERLAP_DEG = 5.0
"""How far the nose is swung past where the sweep with the centre up begins."""


def centre_up(plan: BallPlan, job: Job) -> Iterator[Row]:
    """The centre in the faced end, before roughing."""
    mouth = job.numbers.size(centre_mouth_mm(job))
    if plan.hole:
        how = "in the mouth of the hole, its edge chamfered to the centre's angle"
    else:
        how = (
            f"in a centre hole drilled in the faced end, no more than {mouth} across its mouth: it"
            " stays in the ball's nose"
        )
    yield row("centre up", "for roughing", how, "Spindle stopped; greased, its quill clamped.")


def with_centre(job: Job) -> str:
    """What comes before the head goes into the post."""
    if job.turning.tailstock_centre is None:
        return ""
    return "the centre drawn back, the tailstock out of the way: the head is set without it; "


def nose_rows(plan: BallPlan, job: Job) -> Iterator[Row]:
    """The nose, which the centre leaves no way to: swung first; then the centre is up again."""
    numbers, start = job.numbers, plan.sweep.start_deg
    yield row(
        "nose first",
        numbers.swing(0.0, start + OVERLAP_DEG),
        "the centre still away: a stop there, and all readings of the passes' table one after another,"
        " each set as for a pass; so the tip is clear of the work afterwards wherever it is fed",
        "The work is held by the jaws alone: each depth in two halves or more, slowly.",
    )
    yield row(
        "centre up again",
        f"from {numbers.angle(start)}",
        "the near stop there, so that nothing that swings comes to the centre, and the other back"
        " where the sweep ends; then the table again from its first reading. To set the dial: spindle"
        " stopped, centre drawn back, tip to the nose, and all as it was before the spindle runs",
        "Spindle stopped, one full swing by hand with the centre up.",
    )
