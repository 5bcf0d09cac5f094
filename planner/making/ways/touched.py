"""How a place is found by a slide's dial: something of a known width touched on a side of the work.

Imported by the ways that saw a slit or mill a slot by dials, and by making.inplace.
"""

from __future__ import annotations

from parts import features as f
from parts.frame import Box
from planner.making.bodies import Body
from planner.making.near import face_of, middle, overlap, way_of, within
from planner.words.numbers import Numbers

PAPER = "over a slip of cigarette paper"
"""It is dragged along as the dial is turned, and caught when there is no room left but its own, 0.02 to
0.03 mm (common practice)."""

DIALLED = ("mill", "milling slide", "lathe, on the cross slide")
"""Machines on which a slot's or a slit's place is set by a dial."""


def _side(body: Body, i: int, side: int) -> str:
    return f"the {body.name}'s {'+' if side > 0 else '-'}{'xyz'[i]} side"


def by_side(numbers: Numbers, body: Body, i: int, place: Box, what: str, side: int = 0) -> str:
    """Words for a cutter's place: what is touched, on which side, and how far in from there.

    i: the axis that its width lies along; place: what it cuts out. what: touches. side: of the body, 0
    for the nearer one. Where a notch was sawn beside the cut the touched side lies in it.
    """
    at = middle(place)[i]
    floors = {one: _floor(body, i, one, place) for one in (1, -1)}
    ends = {one: body.end(i, one) if in_it is None else in_it for one, in_it in floors.items()}
    side = side or min(ends, key=lambda one: one * (ends[one] - at))
    where = "" if floors[side] is None else ", where it is notched,"
    far = numbers.plain.worked(abs(ends[side] - at))
    return (
        f"its place by the dial: {what} touched on {_side(body, i, side)}{where} {PAPER}, then in by"
        f" {far} as drawn, half of its width and the paper"
    )


def _floor(body: Body, i: int, side: int, place: Box) -> float | None:
    """Where a side lies beside a cut, in a notch that is sawn there; None where there is none."""
    for void in body.voids:
        beside = all(
            overlap((void.low[k], void.high[k]), (place.low[k], place.high[k]))
            for k in range(3)
            if k != i
        )
        if beside and within(body.end(i, side), void.low[i], void.high[i]):
            return face_of(void, i, -side)
    return None


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
