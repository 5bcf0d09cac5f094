"""Keys of a ball that say nothing of its shape: it is turned without them, and that is told."""

from __future__ import annotations

from collections.abc import Iterator

from planner.job.balls import Ball
from planner.job.tables import Job
from planner.turning.findings import key_of
from planner.turning.model import BallWork
from planner.words.findings import Finding, finding

STEM = ("stem_diameter", "stem_length", "large_diameter", "second_holding")
IN_A_BALL = ("hole", "thread", "hole_depth")


def unused_findings(ball: BallWork, job: Job, file: str) -> Iterator[Finding]:
    """A note of each reason for which keys of a ball are not heeded."""
    for names, why, instead in _without_use(ball.spec):
        given = [name for name in names if getattr(ball.spec, name) is not None]
        if job.ball and given:
            remedy = f"Leave {'it' if len(given) == 1 else 'them'} out{instead}"
            yield finding("unused-key", file, key_of(ball, job), ", ".join(given), why, remedy)


def _without_use(spec: Ball) -> Iterator[tuple[tuple[str, ...], str, str]]:
    """Keys, why they say nothing of such a ball, and what else to do about it."""
    if spec.shape == "hemisphere":
        half = "half of a ball is parted off at its equator, nothing is left behind it"
        yield STEM, half, ", or turn a whole ball on a stem and face it"
    if spec.shape == "socket":
        yield (
            (*STEM, *IN_A_BALL),
            "a hollow is turned into a face, by its sphere and depth alone",
            "",
        )
    if spec.shape == "ball":
        yield (
            ("large_diameter",),
            "only a taper handle has a large end",
            ', or say its shape, "taper handle"',
        )
    if spec.shape != "socket":
        yield ("depth",), "only a hollow has a depth", ', or say its shape, "socket"'
    if spec.shape != "socket" and not spec.hole and not spec.thread:
        yield ("hole_depth",), "there is neither a hole nor a thread", ", or give hole or thread"
    if spec.shape in ("ball", "taper handle") and not spec.stemless:
        held = "with a stem left behind it is turned in one holding"
        yield ("second_holding",), held, ", or leave stem_length out"
