"""From the governing sizes to every size of every part.

``size_up`` takes what the rules make of a job, with the user's own sizes where given, and refuses the
impossible with the number that would work. Imported by output.plan and checking.search.
"""

from __future__ import annotations

from planner.job.tables import Job
from planner.sizing.bound import LargestBall, largest_for, too_small, ways_out, with_bound
from planner.sizing.candidates import (
    Candidates,
    Request,
    SizedBy,
    Sizing,
    candidates,
)
from planner.sizing.catalogue import Catalogue
from planner.sizing.draft import public_name
from planner.sizing.own import own_sizes
from planner.sizing.trying import tried
from planner.words.findings import BadInput


def request(job: Job, file: str) -> Request:
    """A request for a job. Raises BadInput when one of its own sizes cannot be read."""
    return Request(job, file, own_sizes(job, file), Catalogue(job.shop, job.inch))


def size_up(job: Job, file: str) -> Sizing:
    """Every size for a job.

    file: what findings call the job file. Raises BadInput when one of the job's own sizes cannot be
    read, or when the job is impossible: then with the largest ball that would work on this lathe,
    found by search on the same rules.
    """
    wanted = request(job, file)
    sizing, stops = tried(wanted)
    if sizing is not None:
        return sizing
    if stops[0].code == "weldability":  # of the metal: no ball helps, nor does any other number
        raise BadInput(stops)
    best = largest_for(wanted)
    if small := too_small(wanted, stops[0], best):
        raise BadInput([small])
    ways = [] if best is not None else ways_out(wanted)
    first, *others = stops
    raise BadInput([with_bound(first, job, best, ways), *others])


def largest_ball(job: Job, file: str) -> LargestBall | None:
    """The largest ball, to 0.1 mm or 1/64 in, that the rules allow on this lathe; None when none.

    The ball is searched from 4 mm to the diameter that the swing over the cross slide would take,
    its blank and its smallest ball in proportion; everything else of the job stays. Stock comes in
    steps, so what works is not quite one range: it is walked down coarsely, then bisected.
    """
    return largest_for(request(job, file))


__all__ = [
    "Candidates",
    "LargestBall",
    "Request",
    "SizedBy",
    "Sizing",
    "candidates",
    "largest_ball",
    "public_name",
    "request",
    "size_up",
]
