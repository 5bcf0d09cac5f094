"""Which way, and how far, each thing of the attachment goes when the whole is taken apart.

What swings leaves the bearing along the pivot, the head then slides out along the feed, and what is
left goes along its own axis, away from the middle of what carries it: as far as clears what it would
pass, and a gap. Imported by planner.scene.scene.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.frame import Point
from parts.placed import Carrier, Placed
from planner.scene.model import Points

GAP_MM = 10.0
"""Between two things that left the same way, along it."""

Box = tuple[Points, Points]
"""The least and the greatest corner of what is boxed."""


def apart(placed: Sequence[Placed], boxes: Sequence[Box]) -> list[Point]:
    """How far each thing is moved, mm, in the frame of the whole; the first of each carrier is what
    carries the others of it. boxes: of each in that frame, the tip on top and at radius zero."""
    carriers = list(dict.fromkeys(one.carrier for one in placed))
    groups = {
        carrier: [n for n, one in enumerate(placed) if one.carrier is carrier]
        for carrier in carriers
    }
    moved = [np.zeros(3) for _ in placed]
    for own in groups.values():
        _beads(placed, boxes, own, moved)
    before: list[int] = []
    for carrier, own in groups.items():
        axis = {Carrier.POST: None, Carrier.BODY: 0, Carrier.HEAD: 1}[carrier]
        if axis is not None and before:
            main = own[0]
            step = max(0.0, float(boxes[before[-1]][1][axis] - boxes[main][0][axis])) + GAP_MM
            for n in own:
                moved[n] = moved[n] + moved[before[-1]]
                moved[n][axis] += step
        before.append(own[0])
    return [(float(one[0]), float(one[1]), float(one[2])) for one in moved]


def _beads(
    placed: Sequence[Placed], boxes: Sequence[Box], own: Sequence[int], moved: list[Points]
) -> None:
    """Move the things of one carrier off the first, each clear of what it would pass."""
    main = own[0]
    centre = (boxes[main][0] + boxes[main][1]) / 2
    ways: dict[tuple[int, int], list[int]] = {}
    for n in own[1:]:
        axis = placed[n].frame.turned(0)
        middle = (boxes[n][0] + boxes[n][1]) / 2
        ways.setdefault((axis, 1 if middle[axis] >= centre[axis] else -1), []).append(n)
    for (axis, sign), group in sorted(ways.items()):
        group.sort(key=lambda n: (sign * float(boxes[n][0][axis] + boxes[n][1][axis]), n))
        passed = [main]
        for n in group:
            step = 0.0
            for other in passed:
                if _in_line(boxes[n], boxes[other], axis):
                    there = _end(boxes[other], axis, sign) + sign * float(moved[other][axis])
                    step = max(step, there + GAP_MM + _end(boxes[n], axis, -sign))
            moved[n][axis] = sign * step
            passed.append(n)


def _in_line(one: Box, other: Box, axis: int) -> bool:
    """Whether two boxes cover each other, seen along an axis."""
    return all(one[0][k] < other[1][k] and other[0][k] < one[1][k] for k in range(3) if k != axis)


def _end(box: Box, axis: int, sign: int) -> float:
    """How far a box reaches along a signed axis."""
    return float(box[1][axis] if sign > 0 else -box[0][axis])
