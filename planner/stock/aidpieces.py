"""The aids that a route makes first, as pieces of the cut list: one of each however many are made.

Imported by output.plan.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from planner.job.tables import Job
from planner.making.aids import Aid
from planner.making.holding import facing_mm, sawn
from planner.making.records import aid
from planner.stock.pieces import Piece

AIDS = "aids"
"""Whose the pieces are in the cut list."""


def aid_records(aids: Iterable[Aid], job: Job) -> list[dict[str, Any]]:
    """The aids as data, each with what the cut list saws it to."""
    sawn_to = {piece.piece: piece.cut_mm for piece in aid_pieces(aids, job)}
    return [aid(one, sawn_to.get(one.piece)) for one in aids]


def aid_pieces(aids: Iterable[Aid], job: Job) -> tuple[Piece, ...]:
    """A piece for each aid that is sawn from bar; both ends are faced."""
    return tuple(
        Piece(
            AIDS,
            aid.piece,
            aid.section,
            aid.material,
            aid.quantity,
            aid.length_mm,
            *sawn(aid.length_mm, 2 * facing_mm(job.series), aid.grip_mm, job),
        )
        for aid in aids
        if aid.sawn
    )
