"""Which way the dial turns, is numbered and reads, and where its zero is: the one place that knows.

The feed screw has a right-hand thread, stays where it is along its axis and turns; the nut is in the
arm, which cannot turn and moves. The dial sits on the screw's tail, its free end away from the tip.
Turned clockwise as seen from that end, a right-hand screw drives away from the eye through a fixed nut;
held itself, it draws the nut toward the eye: the tip comes in and the cut is deeper, as clockwise feeds
in on any machine (common practice). For a number that grows with the depth the lines must come past the
index in rising order as the dial turns clockwise, so they are numbered counter-clockwise as seen from
the free end: by the right-hand rule about the dial's own axis, which runs from the graduated edge to
the free end.

With the tip at the nose the free end points at the chuck, to the operator's left: turned deeper, the
side toward him goes down and the numbers on it grow upward. There, and only there, he sees the dial.
Zero is the finished ball. Imported by the solids, the turning, the route and the sheets. Plain numbers.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor

from parts.value import Value

DEEPER = "clockwise, seen from the dial's free end, draws the tip in and the numbers grow"
"""What turning the dial does: of the route, the turning and the correcting alike."""

NUMBERED = (
    "counter-clockwise seen from its free end: at the nose they grow upward on the side toward you"
)
"""How the lines are numbered."""

UPRIGHT = (
    "upright with the tip at the nose: along the dial's axis, from the free end toward the index"
    " ring"
)
"""How the numerals stand."""

READ_AT = (
    "Read and set the dial with the tip at the nose, the only place where its line is in sight; swung"
    " back from anywhere else it reads the same."
)
"""Where the dial is read."""

_SLACK = 1e-9


class Reading(Value, frozen=True):
    """What the dial shows: whole turns still to go, and the number under the line.

    turns: 0 or more, to be turned past that number. number: from 0 to under the divisions, in
    divisions.
    """

    turns: int
    number: float


def reading(to_go: float, divisions: int) -> Reading:
    """What a dial reads with so many divisions still to go to the finished ball, 0 or more.

    It reads 0 there and grows with the depth: with 36 of 100 to go it shows 64, and no whole turn.

    >>> reading(36, 100), reading(136, 100), reading(100, 100)
    (Reading(turns=0, number=64), Reading(turns=1, number=64), Reading(turns=1, number=0))
    """
    if divisions < 1 or not to_go >= 0:
        raise ValueError(f"{to_go} of {divisions} divisions to go: give at least 0 of at least 1")
    turns = floor(to_go / divisions + _SLACK)
    rest = max(to_go - turns * divisions, 0)
    return Reading(turns, divisions - rest if rest > _SLACK else 0)


def said(shown: Reading) -> str:
    """A reading in words of the sheets: the number under the line, and whole turns to go."""
    turns = f", {shown.turns} turn{'s' if shown.turns > 1 else ''} to go" if shown.turns else ""
    return f"at {shown.number:g}{turns}"


def line_turn(number: int, divisions: int) -> Fraction:
    """Where a line stands: the part of a turn from line 0, by the right-hand rule about the dial's own
    axis, from its graduated edge to its free end."""
    return Fraction(number, divisions)
