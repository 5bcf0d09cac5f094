"""What is said of work clamped to the cross slide: its top slide off, which way a round on it points.

Imported by making.holds.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.making.bodies import Body
from planner.making.model import Hold
from planner.making.near import way_of

SLIDE = "cross slide"
"""What such work is held by."""

OFF = "top slide and post off; "
"""The work lies where the top slide stands, with the tool post on it (common practice)."""

ARBOR = "side to be slit"
"""Under an arbor that side looks up, and which way a round points is said with the arbor."""

BETWEEN, ONE_DOWN = "apart between stops", "apart, one of them down, against stops"
"""A round that lies across the bed along two gripped faces has one of them under it."""


def said(hold: Hold, words: str, bodies: Sequence[Body]) -> str:
    """The words of a hold; of one on the cross slide with what is said of that besides."""
    if hold.by != SLIDE:
        return words
    level = len(bodies) > 1 and hold.up and ARBOR not in words
    for one in bodies if level else ():
        if one.axis is None:
            continue
        words += f"; the {one.name} {points(one, _clamped(hold, bodies), hold.up)}"
        upward = way_of(hold.up)[0]
        if one.axis not in (upward, _gripped(hold)):
            words = words.replace(BETWEEN, ONE_DOWN)
    return OFF + words


def _clamped(hold: Hold, bodies: Sequence[Body]) -> list[Body]:
    """What a round on it stands out of: the body that is clamped, or all that are no round."""
    flat = [one for one in bodies if one.axis is None]
    named = hold.grips[0].surface.partition(".")[0] if hold.grips else ""
    return [one for one in flat if one.name == named] or flat


def points(one: Body, others: Sequence[Body], up: str) -> str:
    """Which way a round points whose work looks to the spindle with one side: level, so across the bed,
    else out of that side of others or of the other."""
    upward, sign = way_of(up)
    if one.axis != upward:
        return "across the bed"
    before = max(sign * other.end(upward, sign) for other in others)
    behind = min(sign * other.end(upward, -sign) for other in others)
    out, back = sign * one.end(upward, sign) - before, behind - sign * one.end(upward, -sign)
    return "toward the spindle" if out > back else "toward the tailstock"


def _gripped(hold: Hold) -> int | None:
    """The axis that the gripped faces are square to, None where a round is gripped."""
    face = hold.grips[0].surface.rpartition(".")[2] if hold.grips else ""
    return "xyz".index(face[1]) if len(face) == 2 and face[1] in "xyz" else None
