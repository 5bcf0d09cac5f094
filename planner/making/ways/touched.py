"""How a place is found by a slide's dial: something of a known width touched on a side of the work.

Imported by the ways that saw a slit or mill a slot by dials, and by making.inplace.
"""

from __future__ import annotations

from parts import features as f
from planner.making.bodies import Body
from planner.making.near import way_of
from planner.words.numbers import Numbers

PAPER = "over a slip of cigarette paper"
"""It is dragged along as the dial is turned, and caught when there is no room left but its own, 0.02 to
0.03 mm (common practice)."""

DIALLED = ("mill", "milling slide", "lathe, on the cross slide")
"""Machines on which a slot's or a slit's place is set by a dial."""


def _side(body: Body, i: int, side: int) -> str:
    return f"the {body.name}'s {'+' if side > 0 else '-'}{'xyz'[i]} side"


def by_side(
    numbers: Numbers, body: Body, across: tuple[int, float], what: str, side: int = 0
) -> str:
    """Words for a cutter's place: what is touched, on which side, and how far in from there.

    across: the axis that its width lies along, and where its middle comes to, mm. what: touches. side:
    of the body, 0 for the nearer one.
    """
    i, at = across
    side = side or min((1, -1), key=lambda one: one * (body.end(i, one) - at))
    far = numbers.plain.worked(abs(body.end(i, side) - at))
    return (
        f"its place by the dial: {what} touched on {_side(body, i, side)} {PAPER}, then in by {far} as"
        " drawn, half of its width and the paper"
    )


def by_rod(numbers: Numbers, body: Body, hole: f.Hole) -> str:
    """Words for the place of a hole that the spindle makes, the cross slide's dial read; "" for a hole
    whose place is given from nothing.

    Its datum face bears on what the part is mounted in: the side away from it is touched.
    """
    if not hole.locations:
        return ""
    where = hole.locations[0]
    i, side = way_of(where.along)
    far = numbers.plain.worked(abs(body.end(i, side) - hole.axis.origin[i]))
    return (
        "; its place by the cross slide's dial: a ground rod in the chuck touched on"
        f" {_side(body, i, side)} {PAPER}, then in by what is measured from {where.datum} to that side"
        f" less {numbers.plain.worked(where.size.nominal_mm)} ({far} as drawn), half of the rod and the"
        " paper"
    )
