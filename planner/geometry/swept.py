"""How deep what swings comes behind the ball's centre, within a height of the spindle; closed form.

An obstacle about the spindle (the blank behind its relief, the jaws, the chuck) turns, so it is a solid
of revolution: what swings meets it only where it comes within its radius of the spindle's axis. The
outlines are those of geometry.envelope: convex, and as long along the pivot as their edges. Of a convex
outline that is swept over swing and tip radius, the deepest point within a height is

- a corner straight behind the pivot, or at the end of the swing nearest to that; or
- in one of the two end poses, at a corner, or where a side or a corner's own travel with the tip radius
  crosses that height.

Nowhere else: while it turns, the place where a side crosses a fixed height goes least deep where the
side stands square to the line to the pivot, so it is deepest at an end of the swing or of the side. And
depth and height over the spindle both grow with the tip radius. Imported by the checks; needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import pairwise
from math import asin, atan2, cos, degrees, hypot, pi, radians, sin, sqrt

import numpy as np

from parts.attachment import Carrier
from planner.geometry.envelope import Outline, Reach

ROUND = 12
"""Corners that stand for a round, outside it: by a thirtieth of its radius at most."""

_SLACK = 1e-9

Point = tuple[float, float]
"""Of an outline: out along the tip's direction, and square to it, away from the chuck with the tip on
top. Of a pose: behind the ball's centre, and over the spindle's axis."""


def from_spindle_mm(outline: Outline) -> float:
    """How far an outline stands off the plane in which the tip swings, along the pivot."""
    return max(0.0, min(e.x_low_mm for e in outline), -max(e.x_high_mm for e in outline))


def deepest(
    outlines: Sequence[Outline],
    tip_radii_mm: tuple[float, float],
    swing_deg: tuple[float, float],
    within_mm: float,
    beyond_mm: float = 0.0,
) -> Reach | None:
    """The deepest behind the ball's centre of all that comes within a radius of the spindle's axis.

    tip_radii_mm: least and greatest; swing_deg: the first and the last, within 0 to 180; within_mm:
    above 0; beyond_mm: how far behind the centre a depth counts from, less than 0 for in front of it.
    None where nothing behind that comes within it.
    """
    best: Reach | None = None
    for outline in outlines:
        off = from_spindle_mm(outline)
        if off >= within_mm:
            continue
        height = sqrt(within_mm**2 - off**2)
        slides = outline[0].carrier is Carrier.HEAD
        tips = tip_radii_mm if slides else (0.0, 0.0)
        if best and _farthest_mm(outline, tips) < best.distance_mm:
            continue
        for (depth, high), swing, tip in _depths(outline, tips, swing_deg, height):
            if depth > (best.distance_mm if best else beyond_mm):
                at_tip = tip if slides else tip_radii_mm[1]
                best = Reach(depth, outline[0].name, swing, at_tip, high)
    return best


def depths_within(
    outlines: Sequence[Outline],
    tip_radii_mm: tuple[float, float],
    swing_deg: tuple[float, float],
    within_mm: np.ndarray,
) -> np.ndarray:
    """How deep behind the ball's centre anything comes within each of many radii; 0 where nothing does.

    The same as ``deepest`` for each; within_mm: above 0.
    """
    sides: list[tuple[float, float, float, float, float]] = []
    points: list[tuple[float, float, float]] = []
    for outline in outlines:
        off = from_spindle_mm(outline)
        tips = tip_radii_mm if outline[0].carrier is Carrier.HEAD else (0.0,)
        hull = corners(outline)
        for tip in dict.fromkeys(tips):
            at = [(out + tip, across) for out, across in hull]
            points += [(*_straight(point, swing_deg), off) for point in at]
            for swing in swing_deg:
                posed = [_posed(point, swing) for point in at]
                sides += [(*a, *b, off) for a, b in pairwise([*posed, posed[0]])]
        if len(set(tips)) > 1:
            for swing in swing_deg:
                for out, across in hull:
                    a, b = (_posed((out + tip, across), swing) for tip in tips)
                    sides.append((*a, *b, off))
    if not sides:
        return np.zeros(len(within_mm))
    b0, h0, b1, h1, off = np.array(sides).T[:, :, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        room = np.sqrt(within_mm[None, :] ** 2 - off**2)
        rise = h1 - h0
        flat = np.abs(rise) < _SLACK
        one, two = ((limit - h0) / rise for limit in (-room, room))
        low = np.where(flat, 0.0, np.maximum(0.0, np.minimum(one, two)))
        high = np.where(flat, 1.0, np.minimum(1.0, np.maximum(one, two)))
        met = (off < within_mm[None, :]) & np.where(flat, np.abs(h0) <= room, low <= high)
        deep = np.maximum(b0 + (b1 - b0) * low, b0 + (b1 - b0) * high)
        best = np.where(met, deep, 0.0).max(axis=0)
        depth, height, off = np.array(points).T[:, :, None]
        room = np.sqrt(within_mm[None, :] ** 2 - off**2)
        there = (off < within_mm[None, :]) & (height <= room + _SLACK)
    return np.asarray(np.maximum(best, np.where(there, depth, 0.0).max(axis=0)))


def _posed(point: Point, swing_deg: float) -> Point:
    """A point of an outline in a pose: behind the ball's centre, and over the spindle's axis."""
    up, back = sin(radians(swing_deg)), -cos(radians(swing_deg))
    out, across = point
    return out * back - across * up, out * up + across * back


def _straight(point: Point, swings: tuple[float, float]) -> Point:
    """A corner where it comes nearest to straight behind the pivot: its depth, and how far from there
    in height; not behind the centre at all where the swing does not bring it there."""
    radius, ahead = hypot(*point), degrees(atan2(*point)) - 90.0
    low, high = (swing + ahead for swing in swings)
    best = (0.0, 0.0)
    for straight in (-180.0, 180.0):
        apart = radians(min(max(straight, low), high) - straight)
        if abs(apart) <= pi / 2 and radius * cos(apart) > best[0]:
            best = radius * cos(apart), abs(radius * sin(apart))
    return best


def _farthest_mm(outline: Outline, tips: tuple[float, float]) -> float:
    """How far from the pivot anything of an outline comes, at the most."""
    hull = corners(outline)
    return max(hypot(out + tip, across) for tip in dict.fromkeys(tips) for out, across in hull)


def _depths(
    outline: Outline, tips: tuple[float, float], swings: tuple[float, float], height_mm: float
) -> Iterator[tuple[Point, float, float]]:
    """Depth and height, swing and tip radius wherever the deepest may be."""
    hull = corners(outline)
    for tip in dict.fromkeys(tips):
        for out, across in hull:
            yield from _turned((out + tip, across), swings, height_mm, tip)
    for swing in swings:
        for tip in dict.fromkeys(tips):
            at = [(out + tip, across) for out, across in hull]
            for one, other in pairwise([*at, at[0]]):
                for there, _ in _crossing(one, other, swing, height_mm):
                    yield there, swing, tip
        if tips[0] != tips[1]:
            for out, across in hull:
                inner, outer = ((out + tip, across) for tip in tips)
                for there, part in _crossing(inner, outer, swing, height_mm):
                    yield there, swing, tips[0] + (tips[1] - tips[0]) * part


def _turned(
    point: Point, swings: tuple[float, float], height_mm: float, tip_mm: float
) -> Iterator[tuple[Point, float, float]]:
    """A corner where it comes nearest to straight behind the pivot, if it is low enough there."""
    radius = hypot(*point)
    ahead = degrees(atan2(*point)) - 90.0
    low, high = (swing + ahead for swing in swings)
    for straight in (-180.0, 180.0):
        there = min(max(straight, low), high)
        apart = radians(there - straight)
        if abs(apart) <= pi / 2 and abs(radius * sin(apart)) <= height_mm + _SLACK:
            yield (radius * cos(apart), -radius * sin(apart)), there - ahead, tip_mm


def _crossing(
    one: Point, other: Point, swing_deg: float, height_mm: float
) -> Iterator[tuple[Point, float]]:
    """The ends of what of a side lies within the height of the spindle: depth and height, and which
    part of the side lies before."""
    up, back = sin(radians(swing_deg)), -cos(radians(swing_deg))
    (h0, b0), (h1, b1) = (
        (out * up + across * back, out * back - across * up) for out, across in (one, other)
    )
    low, high = 0.0, 1.0
    rise = h1 - h0
    for limit in (-height_mm, height_mm):
        if abs(rise) < _SLACK:
            if abs(h0) > height_mm:
                return
            continue
        t = (limit - h0) / rise
        if (rise > 0) == (limit > 0):
            high = min(high, t)
        else:
            low = max(low, t)
    if low <= high:
        for t in (low, high):
            yield (b0 + (b1 - b0) * t, h0 + rise * t), t


@lru_cache(maxsize=4096)
def corners(outline: Outline) -> tuple[Point, ...]:
    """The corners of an outline's hull in order, its rounds as polygons outside them."""
    points: set[Point] = set()
    for e in outline:
        if e.round_mm == 0.0:
            points.add((e.y_mm, e.z_mm))
            continue
        far = e.round_mm / cos(pi / ROUND)
        for k in range(ROUND):
            a = 2 * pi * k / ROUND
            points.add((e.y_mm + far * cos(a), e.z_mm + far * sin(a)))
    ordered = sorted(points)
    if len(ordered) < 3:
        return tuple(ordered)
    return tuple(_half(ordered)[:-1] + _half(ordered[::-1])[:-1])


def _half(ordered: Sequence[Point]) -> list[Point]:
    """One side of the hull of sorted points."""
    kept: list[Point] = []
    for point in ordered:
        while len(kept) > 1 and _left(kept[-2], kept[-1], point) <= 0.0:
            kept.pop()
        kept.append(point)
    return kept


def _left(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def stem_end_deg(point: Point, height_mm: float) -> float:
    """The swing at which a corner comes down to a height over the spindle behind the ball.

    point: with the tip's radius added; r sin(a + p) = height on its falling side, so
    a = 180 - asin(height / r) - p.
    """
    radius, ahead = hypot(*point), degrees(atan2(*point)) - 90.0
    if radius <= height_mm:
        return 90.0 - ahead
    return 180.0 - degrees(asin(height_mm / radius)) - ahead
