"""The largest ball that a lathe can take."""

from __future__ import annotations

from typing import Any

from planner.job.tables import Job
from planner.sizing.bound import LEAST_BALL_MM, LargestBall


def largest_text(best: LargestBall | None, job: Job) -> str:
    """What the largest ball is, and what binds it; None when none works."""
    if best is None:
        least = job.numbers.size(job.series.nominal(LEAST_BALL_MM))
        return f"no ball of {least} or more works with the rest of the job as it is\n"
    numbers = job.numbers
    size = numbers.at_most(best.diameter_mm) if job.inch else numbers.length(best.diameter_mm, 1)
    return f"largest ball: {size}, the rest of the job as it is\nwhat binds: {best.bound}\n"


def largest_record(best: LargestBall | None, job: Job) -> dict[str, Any]:
    """The same for machines."""
    return {
        "job": job.name,
        "largest_ball_mm": best and best.diameter_mm,
        "bound": best and best.bound,
    }
