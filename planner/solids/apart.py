"""How the whole is taken apart: in which order things come off, which way, and how far at least.

One way for the exploded view of the drawings and for the page's: everything leaves along its own way
(parts.placed.Seat), as far as clears what it sits on and all that this sits on. Imported by
planner.drawing.exploding and planner.scene.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from parts.attachment import Placed
from parts.frame import Point, vector
from planner.solids.together import Facets, facets_in_place

GAP_MM = 8.0
"""Between a thing and its seat, at least, mm of the model."""

TOUCH_MM = 0.2
"""Boxes that reach over each other by less, across a way, do not meet along it."""


def apart(placed: Sequence[Placed], tip_radius_mm: float) -> list[Point]:
    """How far each thing is moved when the whole is taken apart, mm, the tip on top at a radius.

    Loads the CAD kernel. Raises ValueError where one sits on nothing that is there.
    """
    faces = [facets_in_place(one, tip_radius_mm, 90.0) for one in placed]
    order, on = seats(placed)
    least = least_off(placed, faces, order, on)
    moved = [np.zeros(3) for _ in placed]
    for k in order:
        seat = placed[k].seat
        if seat is not None:
            moved[k] = moved[on[k]] + least[k] * np.array(vector(seat.off))
    return [(float(x), float(y), float(z)) for x, y, z in moved]


def seats(placed: Sequence[Placed]) -> tuple[list[int], dict[int, int]]:
    """The things in an order in which each comes after what it sits on, and what that is.

    Of several of one name the nearest across its way off.
    """
    order: list[int] = []
    on: dict[int, int] = {}
    waiting = list(range(len(placed)))
    while waiting:
        for k in waiting:
            seat = placed[k].seat
            there = [n for n in order if seat is not None and placed[n].name == seat.on]
            if seat is None or there:
                if seat is not None:
                    on[k] = min(there, key=lambda n: (_across(placed[k], placed[n]), -n))
                order.append(k)
                waiting.remove(k)
                break
        else:
            names = ", ".join(placed[k].name for k in waiting)
            raise ValueError(f"{names}: sit on nothing that is there")
    return order, on


def _across(one: Placed, other: Placed) -> float:
    """How far the origins of two things lie apart across the first one's way off."""
    assert one.seat is not None
    way = vector(one.seat.off)
    apart = [a - b for a, b in zip(one.frame.origin, other.frame.origin, strict=True)]
    return round(sum(a * a for a, w in zip(apart, way, strict=True) if not w), 3)


def _boxes(faces: Facets) -> NDArray[np.float64]:
    """The upright boxes round faces: (n, 2, 3)."""
    nodes = [face.reshape(-1, 3) for face in faces]
    return np.array([(one.min(axis=0), one.max(axis=0)) for one in nodes])


def least_off(
    placed: Sequence[Placed],
    faces: Sequence[Facets],
    order: Sequence[int],
    on: dict[int, int],
) -> list[float]:
    """How far each thing must go at least, mm, on from its seat's own place, to be clear of that.

    faces: of each where it stands, the tip on top. order, on: of seats.
    """
    boxes = [_boxes(one) for one in faces]
    least = [0.0] * len(placed)
    moved = [np.zeros(3) for _ in placed]
    for k in order:
        seat = placed[k].seat
        if seat is None:
            continue
        way = np.array(vector(seat.off))
        i = int(np.flatnonzero(way)[0])
        far, below = 0.0, on.get(k)
        start = moved[on[k]]
        while below is not None:
            far = max(far, _clears(boxes[k] + start, boxes[below] + moved[below], i, way[i]))
            below = on.get(below)
        least[k] = far + GAP_MM
        moved[k] = start + least[k] * way
    return least


def _clears(own: NDArray[np.float64], other: NDArray[np.float64], i: int, sign: float) -> float:
    """How far faces must go along a way until none has any of the others' in front of it."""
    rest = [k for k in range(3) if k != i]
    low, high = own[:, None], other[None]
    over = np.ones((len(own), len(other)), bool)
    for k in rest:
        over &= (low[:, :, 0, k] < high[:, :, 1, k] - TOUCH_MM) & (
            high[:, :, 0, k] < low[:, :, 1, k] - TOUCH_MM
        )
    if not over.any():
        return 0.0
    ends = (high[:, :, 1, i], low[:, :, 0, i]) if sign > 0 else (low[:, :, 1, i], high[:, :, 0, i])
    need = ends[0] - ends[1]
    return max(0.0, float(need[over].max()))
