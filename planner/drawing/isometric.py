"""A small picture of a part or piece on its own sheet, to know it by: in free space, without sizes.

Imported by the layout, which calls it last: it takes no place from anything, and is left out where
there is none.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from parts.features import Hole
from parts.frame import Point
from planner.drawing.leaders import NOTE_MM
from planner.drawing.lettering import width_mm
from planner.drawing.model import Item, Text
from planner.drawing.room import Room
from planner.drawing.subjects import Subject
from planner.drawing.whole import on_paper
from planner.solids.together import (
    Path,
    corner,
    facets,
    flat,
    meshed,
    seen_together,
    spread,
)

CORNERS = ((1, 1, 1), (-1, 1, 1), (1, 1, -1), (-1, 1, -1))
"""From above, what is drawn in the main view in front first."""

SIDES_MM = (70.0, 60.0, 50.0, 42.0, 35.0, 28.0)
"""How large it may be, the larger of width and height; smaller shows nothing."""

CLEAR_MM = 4.0
"""Round it."""

CELLS = 16
"""How many cells a part is wide, when it is looked at what it shows."""

GRID_MM, OFF_MM, CAPTION_MM = 4.0, 2.0, 3.0
"""It is tried at places so far apart, so far off the frame; and so much is between it and its words."""

COARSE = 1.2
"""A cell is wider by this than points on faces are apart, so that none shows through."""

CAPTION = "isometric, not to scale"


def isometric(subject: Subject, room: Room) -> Iterator[Item]:
    """The picture with its caption, as large as there is room for; nothing where there is none."""
    paths = seen_best(subject)
    points = np.array([p for path in paths for p in path])
    low, high = points.min(axis=0), points.max(axis=0)
    space = room.space
    for side in SIDES_MM:
        by = side / float(max(high - low))
        wide, high_mm = (float(x) for x in by * (high - low))
        width = max(wide, width_mm(CAPTION, NOTE_MM))
        whole = (width + 2 * CLEAR_MM, high_mm + NOTE_MM + CAPTION_MM + 2 * CLEAR_MM)
        xs = np.arange(space.left + OFF_MM, space.right - whole[0] - OFF_MM, GRID_MM)
        ys = np.arange(space.low + OFF_MM, space.top - whole[1] - OFF_MM, GRID_MM)
        free = room.places(xs, ys, *whole)
        if not len(free):
            continue
        # the middle of the places that are free, so that it stands clear of what is round it
        x, y = free[np.hypot(*(free - free.mean(axis=0)).T).argmin()]
        left, foot = float(x) + CLEAR_MM, float(y) + CLEAR_MM
        origin = (
            left + (width - wide) / 2 - by * float(low[0]),
            foot + NOTE_MM + CAPTION_MM - by * float(low[1]),
        )
        yield from on_paper(paths, origin, by, "thin")
        yield Text((left + width / 2, foot), CAPTION, NOTE_MM, "middle")
        return


def seen_best(subject: Subject) -> tuple[Path, ...]:
    """The lines of it seen from the best corner, mm of the view."""
    return seen_together([meshed(subject.member or subject.part)], *corner(*best_corner(subject)))[
        0
    ]


def best_corner(subject: Subject) -> tuple[int, int, int]:
    """The corner from which most of its faces are seen, and the mouths of its holes."""
    thing = subject.member or subject.part
    faces = facets(thing)
    every = np.concatenate(faces)
    step = float(max(np.ptp(every.reshape(-1, 3), axis=0))) / CELLS
    points, facet = spread(every, step)
    of = np.repeat(np.arange(len(faces)), [len(face) for face in faces])[facet]

    def shown(one: tuple[int, int, int]) -> float:
        return _shown(points, of, corner(*one), step) + _mouths(subject, one)

    return max(CORNERS, key=shown)


def _mouths(subject: Subject, seen_from: tuple[int, int, int]) -> int:
    """How many holes open toward a corner: a small one has no cell of its own."""
    found = 0
    for one in subject.features:
        if isinstance(one, Hole):
            k, inward = "xyz".index(one.axis.along[1]), 1 if one.axis.along[0] == "+" else -1
            found += seen_from[k] != inward
    return found


def _shown(
    points: NDArray[np.float64], of: NDArray[np.int_], way: tuple[Point, Point], step: float
) -> float:
    """How much is seen of the faces that points are of, a face that is large counting little more."""
    cells = np.floor(flat(points, *way) / (COARSE * step)).astype(int)
    cells -= cells.min(axis=0)
    number = cells[:, 0] * (cells[:, 1].max() + 1) + cells[:, 1]
    nearest = np.lexsort((points @ np.array(way[0]), number))
    last = np.flatnonzero(np.diff(number[nearest], append=-1))
    seen = np.bincount(of[nearest[last]])
    return round(float(np.sqrt(seen).sum()), 1)
