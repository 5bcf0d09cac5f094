"""Whether a request makes a sizing: the shop's own stock first, then the leanest; one ball or many.

Imported by sizing.apply and sizing.bound.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from planner.sizing.candidates import Request, Sizing, candidates
from planner.sizing.requirements import tail_reach_mm
from planner.words.findings import BadInput, Finding


def tried(wanted: Request) -> tuple[Sizing | None, list[Finding]]:
    """The sizing that keeps to the shop's own stock, else the leanest; or why neither will do."""
    stops: list[Finding] = []
    before: dict[str, Any] | None = None
    for trial in (wanted, wanted.lean()):
        try:
            found = candidates(trial, 1)
            if found.chosen(0) == before:
                break
            before = found.chosen(0)
            sizing = found.sizing(0)
            refusals = [one for one in sizing.findings if one.severity == "refused"]
        except BadInput as problem:
            refusals = list(problem.findings)
        if not refusals:
            return sizing, []
        stops = stops or refusals
    return None, stops


def works(wanted: Request) -> bool:
    """Whether ``tried`` makes a sizing, without the words: what the columns strike out is not built."""
    return any(balls_that_work(wanted, [wanted.job.attachment.max_ball_diameter]))


def balls_that_work(wanted: Request, balls_mm: Sequence[float]) -> Iterator[bool]:
    """For each largest ball in turn, whether ``tried`` makes a sizing; asked for one after another.

    Rows are struck out by what reaches down to the cross slide before a part of them is built.
    """
    trials = []
    for trial in (wanted, wanted.lean()):
        try:
            found = candidates(trial, 1, balls_mm)
        except BadInput:
            continue
        s = found.draft
        reach = np.broadcast_to(tail_reach_mm(s) + s.clearance_mm, (found.rows,))
        clear = reach <= s.spindle_over_cross_slide_mm + 1e-6
        balls = np.broadcast_to(s.max_ball_diameter_mm, (found.rows,))
        trials.append((found, {float(balls[row]): int(row) for row in np.flatnonzero(clear)}))
    for ball in balls_mm:
        asked = wanted.with_ball(ball)
        before: dict[str, Any] | None = None
        for found, rows in trials:
            chosen = found.chosen(rows[ball]) if ball in rows else before
            if chosen == before:
                continue
            before = chosen
            if not any(f.severity == "refused" for f in found.sizing(rows[ball], asked).findings):
                yield True
                break
        else:
            yield False
