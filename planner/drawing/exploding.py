"""How far each thing leaves its seat on an exploded view, and from which corner one looks.

Everything leaves as planner.solids.apart has it, as far as clears what it sits on, and on until it
covers nothing on the paper that was put there before. Imported by exploded.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.attachment import Attachment, Placed
from parts.frame import Point, vector
from parts.value import Value
from planner.solids.apart import least_off, seats
from planner.solids.together import corner, facets_in_place, flat, spread

CORNERS = ((-1, 1, 1), (1, 1, 1), (1, 1, -1), (-1, 1, -1))
"""From above: the operator's right, then round by the tailstock, the rear and the chuck."""

STEP_MM, FARTHEST_MM = 4.0, 120.0
"""How far on places are tried, and how far at most."""

DEAR = 8.0
"""Going on so far is worth a cell of the paper that is not covered."""

CELL_MM = 2.0
"""Of the paper's cells, mm of the model: what is in one covers it, and all round it."""

POINTS = 0.9
"""Points on faces are nearer than a cell by this, so that no cell is missed."""

SIDE = 1000
"""Cells of the paper, either way: it is as large as any attachment needs."""


class Exploded(Value, frozen=True):
    """Every thing at its place: the corner, and in the order of the attachment how far it was moved.

    points: of each thing's surface, moved, (n, 3). covered: how many square millimetres of the paper
    things take from one another.
    """

    corner: tuple[Point, Point]
    order: tuple[int, ...]
    moved: tuple[Point, ...]
    points: tuple[NDArray[np.float64], ...]
    covered: float


def exploded(attachment: Attachment, tip_radius_mm: float) -> Exploded:
    """The whole taken apart, seen from the corner from which least is covered."""
    placed = attachment.placed
    faces = [facets_in_place(one, tip_radius_mm, 90.0) for one in placed]
    points = [spread(np.concatenate(one), POINTS * CELL_MM)[0] for one in faces]
    order, on = seats(placed)
    least = least_off(placed, faces, order, on)
    found = [_placed_from(way, placed, points, order, on, least) for way in CORNERS]
    return min(found, key=lambda one: (one.covered, CORNERS.index(_sense(one))))


def _sense(one: Exploded) -> Any:
    return tuple(int(x) for x in one.corner[0])


def _placed_from(
    way: tuple[int, int, int],
    placed: Sequence[Placed],
    points: Sequence[NDArray[np.float64]],
    order: Sequence[int],
    on: dict[int, int],
    least: Sequence[float],
) -> Exploded:
    """Everything moved, seen from one corner."""
    towards, right = corner(*way)
    cells = [_cells(flat(one, towards, right)) for one in points]
    taken = np.zeros(SIDE * SIDE, bool)
    moved = [np.zeros(3) for _ in placed]
    covered = 0.0
    for k in order:
        seat = placed[k].seat
        shift = 0
        if seat is not None:
            off = np.array(vector(seat.off))
            tries = []
            for more in np.arange(0.0, FARTHEST_MM + 1e-6, STEP_MM):
                at = moved[on[k]] + (least[k] + more) * off
                shift = _shift(flat(at, towards, right))
                over = int(taken[cells[k] + shift].sum())
                tries.append((over + more / DEAR, over, float(more), shift))
                if not over or more / DEAR > min(tries)[0]:
                    break
            _, over, more, shift = min(tries)
            covered += over
            moved[k] = moved[on[k]] + (least[k] + more) * off
        for a in (-SIDE, 0, SIDE):
            for b in (-1, 0, 1):
                taken[cells[k] + (shift + a + b)] = True
    return Exploded(
        (towards, right),
        tuple(order),
        tuple((float(m[0]), float(m[1]), float(m[2])) for m in moved),
        tuple(p + m for p, m in zip(points, moved, strict=True)),
        covered,
    )


def _cells(paper: NDArray[np.float64]) -> NDArray[np.intp]:
    """The cells that points fall in, each once, as numbers row by row."""
    at = np.floor(paper / CELL_MM).astype(np.intp) + SIDE // 2
    grid = np.zeros(SIDE * SIDE, bool)
    grid[at[:, 1] * SIDE + at[:, 0]] = True
    return np.flatnonzero(grid)


def _shift(by: NDArray[np.float64]) -> int:
    """What cells' numbers change by."""
    du, dv = np.round(by / CELL_MM).astype(int)
    return int(dv) * SIDE + int(du)
