"""A small picture of a part or piece on its own sheet, to know it by: in free space, without sizes.

Imported by the layout, which calls it last: it takes no place from anything, and is left out where there
is none.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

import numpy as np

from planner.drawing.leaders import NOTE_MM
from planner.drawing.lettering import width_mm
from planner.drawing.model import Item, Text
from planner.drawing.room import Room
from planner.drawing.subjects import Subject
from planner.drawing.whole import on_paper
from planner.solids.together import Path, corner, meshed, seen_together

CORNERS = ((1, 1, 1), (-1, 1, 1), (1, 1, -1), (-1, 1, -1))
"""From above, what is drawn in the main view in front first."""

SIDES_MM = (70.0, 60.0, 50.0, 42.0, 35.0, 28.0)
"""How large it may be, the larger of width and height; smaller shows nothing."""

CLEAR_MM = 4.0
"""Round it."""

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
        whole = (width + 2 * CLEAR_MM, high_mm + NOTE_MM + 3.0 + 2 * CLEAR_MM)
        xs, ys = np.meshgrid(
            np.arange(space.left + 2.0, space.right - whole[0] - 2.0, 4.0),
            np.arange(space.low + 2.0, space.top - whole[1] - 2.0, 4.0),
        )
        xs, ys = xs.ravel(), ys.ravel()
        good = np.flatnonzero(room.free(xs, ys, *whole)) if len(xs) else np.array([], int)
        if not len(good):
            continue
        # the middle of the places that are free, so that it stands clear of what is round it
        middle = (xs[good].mean(), ys[good].mean())
        best = good[np.hypot(xs[good] - middle[0], ys[good] - middle[1]).argmin()]
        left, foot = float(xs[best]) + CLEAR_MM, float(ys[best]) + CLEAR_MM
        origin = (
            left + (width - wide) / 2 - by * float(low[0]),
            foot + NOTE_MM + 3.0 - by * float(low[1]),
        )
        yield from on_paper(paths, origin, by, "thin")
        yield Text((left + width / 2, foot), CAPTION, NOTE_MM, "middle")
        return


def seen_best(subject: Subject) -> tuple[Path, ...]:
    """The lines of it seen from the corner from which most of them are, mm of the view."""
    shape = meshed(subject.member or subject.part)
    found = [seen_together([shape], *corner(*one))[0] for one in CORNERS]
    return max(found, key=_length)


def _length(paths: tuple[Path, ...]) -> float:
    """How long lines are together."""
    steps = (hypot(b[0] - a[0], b[1] - a[1]) for p in paths for a, b in zip(p, p[1:], strict=False))
    return round(sum(steps), 1)
