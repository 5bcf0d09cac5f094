"""Measured balls to the record beside the job and back: what was measured at one setting is one body.

Imported by the commands.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from hashlib import sha256
from typing import Literal

from planner.measuring.correct import Correction, Earlier, Measured, Pip, Reading, Rig, Series, Size
from planner.record.model import BallReading, BallTurned, PipSeen, Setting, SizeTurned

SHARED = 0.5
"""Two files with this part of their readings alike, to the digit, are of one ball, measured on."""

DIGITS = 7
"""Decimals of a millimetre that are kept: finer than any gauge in either unit."""


def as_turned(measured: Measured, rig: Rig, ball: str, piece: str, job_sha256: str) -> BallTurned:
    """A measured ball as a line of the record, its verdict still unknown and its setting unnumbered.

    ball: its name in the job; piece: what tells it from another of that name, or "".
    """
    readings = [
        BallReading(angle_deg=one.angle_deg, diameter_mm=round(one.diameter_mm, DIGITS))
        for one in measured.readings
    ]
    pips = [
        PipSeen(
            ball_diameter_mm=round(pip.ball_diameter_mm, DIGITS),
            diameter_mm=round(pip.diameter_mm, DIGITS),
            accuracy_mm=round(pip.accuracy_mm, DIGITS),
        )
        for pip in measured.pips
    ]
    sizes = [
        SizeTurned(
            set_mm=round(size.set_mm, DIGITS),
            diameter_mm=round(size.diameter_mm, DIGITS),
            accuracy_mm=round(size.accuracy_mm, DIGITS),
        )
        for size in measured.sizes
    ]
    line = BallTurned(
        ball=ball,
        setting=Setting(diameter_mm=round(measured.wanted_mm, DIGITS), arrangement=rig.arrangement),
        readings=readings,
        accuracy_mm=round(measured.accuracy_mm, DIGITS),
        pips=pips,
        sizes=sizes,
        before_nose=measured.before_nose,
        piece=piece,
        verdict="unknown",
        job_file_sha256=job_sha256,
    )
    return line.model_copy(update={"readings_sha256": readings_sha256(line)})


def readings_sha256(ball: BallTurned) -> str:
    """Sixteen digits that change when what was measured does, or of which ball, and else not."""
    what = ball.model_dump(include={"ball", "piece", "readings", "accuracy_mm", "pips", "sizes"})
    what |= {"before_nose": ball.before_nose, "arrangement": ball.setting.arrangement}
    return sha256(json.dumps(what, sort_keys=True).encode()).hexdigest()[:16]


def verdict(found: Correction) -> Literal["good", "rework", "scrap", "unknown"]:
    """What a ball is by its tolerance: too small somewhere it is scrap; without one, unknown."""
    if not found.tolerance or found.tolerance.standing == "cannot be told":
        return "unknown"
    if found.tolerance.standing == "within":
        return "good"
    return "scrap" if found.tolerance.small else "rework"


def earlier_of(balls: Sequence[BallTurned], now: BallTurned, setting: int) -> Earlier:
    """What was measured before ``now`` at a setting, each measurement once.

    Of lines that are of one ball the last counts, and none that is of the ball now measured. A pip or
    a size that stands in several, to the digit, counts once: files may repeat those of earlier balls.
    Pips are compared where the sweep began at the same place.
    """
    kept: list[BallTurned] = []
    for ball in balls:
        if ball.setting.number == setting and ball.setting.arrangement == now.setting.arrangement:
            kept = [one for one in kept if not same_ball(one, ball)] + [ball]
    kept = [one for one in kept if not same_ball(one, now)]
    pips = {_pip(p) for one in kept if one.before_nose == now.before_nose for p in one.pips}
    sizes = {_size(s) for one in kept for s in one.sizes}
    return Earlier(
        tuple(
            Series(
                tuple(Reading(r.angle_deg, r.diameter_mm) for r in one.readings), one.accuracy_mm
            )
            for one in kept
            if one.readings and one.accuracy_mm
        ),
        tuple(sorted(pips - {_pip(p) for p in now.pips}, key=lambda pip: pip.ball_diameter_mm)),
        tuple(sorted(sizes - {_size(s) for s in now.sizes}, key=lambda size: size.set_mm)),
    )


def same_ball(one: BallTurned, other: BallTurned) -> bool:
    """Whether two lines are of one ball: by piece where both name one, else by shared readings."""
    if one.ball != other.ball:
        return False
    if one.piece and other.piece:
        return one.piece == other.piece
    mine, theirs = (
        Counter((r.angle_deg, r.diameter_mm) for r in ball.readings) for ball in (one, other)
    )
    fewer = min(mine.total(), theirs.total())
    return bool(fewer) and (mine & theirs).total() >= SHARED * fewer


def _pip(pip: PipSeen) -> Pip:
    return Pip(pip.diameter_mm, pip.accuracy_mm, pip.ball_diameter_mm)


def _size(size: SizeTurned) -> Size:
    return Size(size.set_mm, size.diameter_mm, size.accuracy_mm)
