"""Item numbers in circles, each with a line to its item, placed where there is room: nearest first.

Imported by the sheets of the whole.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet

import numpy as np

from planner.drawing.lanes import DoesNotFit
from planner.drawing.model import Balloon, Box, Circle, Item, Point
from planner.drawing.room import Room

RADIUS_MM, RING_MM = 4.0, 4.9
"""Of a balloon, and of the ring round one whose item is bought."""

CLEAR_MM = 1.0
"""Round a balloon."""

CROSSING_MM = 7.0
"""What its line may be longer, to cross a line less."""

TRIED, MANY, AGAIN = 40, 400, 8
"""Places looked at for each tip, those where none of them is free, and how often all begin anew where
one found none."""

GRID_MM, OFF_FRAME_MM = 2.5, 1.0
"""Balloons are tried at places so far apart, and so far clear of the frame."""

NEAREST_MM, FARTHEST_MM, BARE_MM = 8.9, 70.0, 2.0
"""How short and how long a balloon's line may be; so near its tip it may cross anything."""

CROWD_MM = 25
"""How far about a tip lines are counted, to see which has the least room."""


def balloons(
    tips: Mapping[int, Sequence[Point]], room: Room, bought: AbstractSet[int] = frozenset()
) -> Iterator[Item]:
    """A balloon for each number; tips: where its line may end. bought: those with a ring.

    Raises DoesNotFit where one finds no place.
    """
    # those with the least room about them come first, then whichever found no place
    order = sorted(tips, key=lambda number: (-_crowded(tips[number], room), number))
    words, leaders = room.words.copy(), list(room.leaders)
    for _ in range(AGAIN):
        made, lost = _all(order, tips, room)
        if lost is None:
            for one in made:
                yield one
                if int(one.number) in bought:
                    yield Circle(one.at, RING_MM, "thin")
            return
        order.remove(lost)
        order.insert(0, lost)
        room.words[:], room.leaders = words, list(leaders)
        room.take(())
    raise DoesNotFit(f"no place for the balloon of item {order[0]}")


def _all(
    order: Sequence[int], tips: Mapping[int, Sequence[Point]], room: Room
) -> tuple[list[Balloon], int | None]:
    """The balloons in an order, and the first number that found no place."""
    found: list[Balloon] = []
    for number in order:
        made = _placed(number, tips[number], room)
        if made is None:
            return found, number
        x, y = made.at
        reach = RING_MM + CLEAR_MM
        room.take_box(Box(x - reach, y - reach, x + reach, y + reach))
        if made.tip is not None:
            room.leaders.append((made.at, made.tip))
        found.append(made)
    return found, None


def _crowded(tips: Sequence[Point], room: Room) -> float:
    """How much is drawn within 25 mm of a tip."""
    x, y = tips[0]
    c, r = int(x - room.space.left), int(y - room.space.low)
    return float(
        room.lines[max(r - CROWD_MM, 0) : r + CROWD_MM, max(c - CROWD_MM, 0) : c + CROWD_MM].sum()
    )


def _placed(number: int, tips: Sequence[Point], room: Room) -> Balloon | None:
    space, reach = room.space, RING_MM + CLEAR_MM
    off = reach + OFF_FRAME_MM
    xs = np.arange(space.left + off, space.right - off, GRID_MM)
    ys = np.arange(space.low + off, space.top - off, GRID_MM)
    at = room.places(xs, ys, 2 * reach, 2 * reach, (reach, reach))
    best: tuple[float, Balloon] | None = None
    for tip in tips:
        far = np.hypot(*(at - tip).T)
        where = np.flatnonzero((far > NEAREST_MM) & (far < FARTHEST_MM))
        for more in (TRIED, MANY):
            near = where[np.argsort(far[where], kind="stable")[:more]]
            hit, crossed = room.runs(tip, at[near], BARE_MM)
            cost = np.where(hit, np.inf, far[near] + CROSSING_MM * crossed)
            if len(cost) and np.isfinite(cost.min()):
                k = near[int(cost.argmin())]
                if best is None or cost.min() < best[0]:
                    place = (float(at[k, 0]), float(at[k, 1]))
                    best = (float(cost.min()), Balloon(place, str(number), tip, RADIUS_MM))
                break
            if best is not None:
                break
    return best[1] if best else None
