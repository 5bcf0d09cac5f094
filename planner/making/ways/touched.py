"""How a place is found by a slide's dial: something of a known width touched on a side of the work.

Imported by the ways that saw a slit or mill a slot by dials, and by making.inplace.
"""

from __future__ import annotations

from parts import features as f
from parts.frame import Box
from planner.job.tables import Job
from planner.making.bodies import Body
from planner.making.near import below, middle, same, way_of, within
from planner.making.ways import travels
from planner.words.numbers import Numbers

PAPER = "over a slip of cigarette paper"
"""It is dragged along as the dial is turned, and caught when there is no room left but its own, 0.02 to
0.03 mm (common practice)."""

DIALLED = ("mill", "milling slide", "lathe, on the cross slide")
"""Machines on which a slot's or a slit's place is set by a dial."""


CUT_BACK = ", where it is cut back,"


def _side(body: Body, i: int, side: int) -> str:
    return f"the {body.name}'s {'+' if side > 0 else '-'}{'xyz'[i]} side"


def _end(body: Body, box: Box, i: int, side: int) -> float:
    """Where a side lies beside a cut: at the bottom of a notch that is sawn into it there."""
    at = body.end(i, side)
    for notch in body.voids:
        beside = all(
            below(max(notch.low[j], box.low[j]), min(notch.high[j], box.high[j]))
            for j in range(3)
            if j != i
        )
        if beside and within(at, notch.low[i], notch.high[i]):
            at = notch.low[i] if side > 0 else notch.high[i]
    return at


def by_side(
    numbers: Numbers,
    body: Body,
    box: Box,
    i: int,
    what: str,
    side: int = 0,
    where: f.Location | None = None,
) -> str:
    """Words for a cutter's place: what is touched, on which side, and how far in from there.

    box: what it cuts, whose width lies along i. what: touches. side: of the body, 0 for the nearer one.
    where: its middle is placed more closely than that side lies: it is counted from there as measured.
    """
    at = middle(box)[i]
    side = side or min((1, -1), key=lambda one: one * (_end(body, box, i, one) - at))
    end = _end(body, box, i, side)
    plain = numbers.plain
    said = f"{plain.worked(abs(end - at))} as drawn"
    if where is not None:
        _, way = way_of(where.along)
        off = f"{plain.worked(where.size.nominal_mm)} {'less' if way == side else 'more'}"
        said = f"{off} than is measured from {where.datum} to that side ({said})"
    back = "" if same(end, body.end(i, side)) else CUT_BACK
    return (
        f"its place by the dial: {what} touched on {_side(body, i, side)}{back} {PAPER}, then in by"
        f" {said}, half of its width and the paper"
    )


def by_slides(job: Job, fed: str) -> str:
    """How a slit's depth is set on a milling slide, the saw in the spindle, by what feeds."""
    if fed == travels.SLIDE:
        across = _other(job.numbers, job.lathe.cross_slide_division)
        return f"the depth by the cross slide's dial{across}, the slide's own travel for the feed"
    return "the depth by the slide's own dial, the cross slide for the feed"


def _other(numbers: Numbers, division_mm: float | None) -> str:
    """What a division of a dial of the other language moves: the place is divided by it."""
    other = numbers.other_dial(division_mm)
    return f" (one division is {other})" if other else ""


def by_rod(numbers: Numbers, body: Body, hole: f.Hole, division_mm: float | None = None) -> str:
    """Words for the place of a hole that the spindle makes, the cross slide's dial read; "" for a hole
    whose place is given from nothing. division_mm: of that dial, None where it is not said.

    Its datum face bears on what the part is mounted in: the side away from it is touched.
    """
    if not hole.locations:
        return ""
    where = hole.locations[0]
    i, side = way_of(where.along)
    far = numbers.plain.worked(abs(body.end(i, side) - hole.axis.origin[i]))
    return (
        f"; its place by the cross slide's dial{_other(numbers, division_mm)}: a ground rod in the"
        f" chuck touched on {_side(body, i, side)} {PAPER}, then in by what is measured from"
        f" {where.datum} to that side less {numbers.plain.worked(where.size.nominal_mm)} ({far} as"
        " drawn), half of the rod and the paper"
    )
