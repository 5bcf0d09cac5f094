"""What work is set true by, and within what. Imported by making.holds and making.ways.slits."""

from __future__ import annotations

from planner.job.tables import Job

SET_TRUE_MM = {"dial indicator": 0.02, "square": 0.05}
"""By what, within what: light shows under a square's blade at half a tenth (common practice)."""


def sets_true(job: Job) -> tuple[str, float]:
    """By an indicator where the shop has one, else by a square; and within what reading."""
    by = "dial indicator" if job.shop.measuring.dial_indicator else "square"
    return by, SET_TRUE_MM[by]
