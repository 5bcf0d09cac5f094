"""A route told of the thicker rounds that its cut list takes: what is turned down before it is begun.

Imported by output.plan. The cut list is laid out after the route, which holds and turns each piece by
the section that it was drawn with.
"""

from __future__ import annotations

from msgspec.structs import replace

from planner.job.tables import Job
from planner.making.route import Operation, Route
from planner.stock.aidpieces import AIDS
from planner.stock.bars import CutList
from planner.stock.pieces import Piece


def told(route: Route, cuts: CutList, job: Job) -> Route:
    """The route with a word at each aid and each first step of a piece that a thicker round serves.

    The same route where there is none.
    """
    thicker = {(p.part, p.piece): p for group in cuts.groups for p in group.pieces if p.stock}
    if not thicker:
        return route
    aids = tuple(
        replace(aid, made=f"{aid.made}; {_sawn(thicker[AIDS, aid.piece], job)}")
        if (AIDS, aid.piece) in thicker
        else aid
        for aid in route.aids
    )
    steps = []
    for op in route.operations:
        piece = thicker.pop((op.part, op.piece), None)
        steps.append(op if piece is None else _noted(op, piece, job))
    return replace(route, operations=tuple(steps), aids=aids)


def _noted(op: Operation, piece: Piece, job: Job) -> Operation:
    words = _from_bar(piece, job) if piece.from_bar else _sawn(piece, job)
    return replace(op, note="; ".join(filter(None, (op.note, words))))


def _sawn(piece: Piece, job: Job) -> str:
    """A piece by itself is turned down all along."""
    taken, own = (job.numbers.stock(one) for one in (piece.taken_from, piece.section))
    return f"the cut list takes {taken} for it: turned down to {own} first, end for end"


def _from_bar(piece: Piece, job: Job) -> str:
    """Of a bar through the spindle what the jaws hold stays as it is."""
    taken, own = (job.numbers.stock(one) for one in (piece.taken_from, piece.section))
    return (
        f"the cut list takes {taken} for it: the jaws grip that, and what stands out of them is turned"
        f" down to {own} first, each time it is drawn"
    )
