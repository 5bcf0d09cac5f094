"""What is left of a flat bar round its notches, as upright boxes. Imported by geometry.envelope."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import sqrt

from parts.features import SawnNotch
from parts.frame import Box

CORNER_SLABS = 4
"""Slabs that stand for the radius in a notch's corner, outside it."""


def without(box: Box, notches: list[Box]) -> list[Box]:
    """The box less notches along its sides, cut into slabs along x with the width left in each."""
    stations = {box.low[0], box.high[0]}
    stations |= {x for n in notches for x in (n.low[0], n.high[0]) if box.low[0] < x < box.high[0]}
    slabs = []
    for start, end in pairwise(sorted(stations)):
        low_y, high_y = box.low[1], box.high[1]
        for notch in notches:
            if notch.low[0] < (start + end) / 2 < notch.high[0]:
                if notch.high[1] >= box.high[1]:
                    high_y = min(high_y, notch.low[1])
                elif notch.low[1] <= box.low[1]:
                    low_y = max(low_y, notch.high[1])
        slabs.append(Box((start, low_y, box.low[2]), (end, high_y, box.high[2])))
    return slabs


def corner(notch: SawnNotch, blank: Box) -> Iterator[Box]:
    """Slabs that hold what the radius in a notch's inner corner leaves standing.

    At a distance t from the corner it stands r - (r^2 - (r - t)^2)^1/2 out of the notch's bottom; each
    slab is as wide as it is at its end toward the corner.
    """
    r = notch.corner_radius_mm
    from_start = notch.box.low[0] <= blank.low[0]
    upper = notch.box.high[1] >= blank.high[1]
    x, toward_x = (notch.box.high[0], -1.0) if from_start else (notch.box.low[0], 1.0)
    y, toward_y = (notch.box.low[1], 1.0) if upper else (notch.box.high[1], -1.0)
    for near, far in pairwise(r * step / CORNER_SLABS for step in range(CORNER_SLABS + 1)):
        out = r - sqrt(r**2 - (r - near) ** 2)
        xs = sorted((x + toward_x * near, x + toward_x * far))
        ys = sorted((y, y + toward_y * out))
        if out > 1e-9 and xs[1] > xs[0]:
            yield Box((xs[0], ys[0], blank.low[2]), (xs[1], ys[1], blank.high[2]))
