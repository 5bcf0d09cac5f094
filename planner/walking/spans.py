"""The work along a line: how thick it is from end to end, and the hole in its middle.

Bars whose cuts lie about their own axis are read off; weldments and blocks are sampled. Imported by the
checks of holding, reach and order.
"""

from __future__ import annotations

from math import hypot, sqrt
from typing import cast

import numpy as np

from parts.value import Value
from planner.walking.metal import Body, Metal
from planner.walking.shape import FAR_MM, NEAR_MM, Block, Line, OffBall, Region, Ring, others

LEAST_HOLE_MM = 0.8
"""A hole that is thinner is none: no drill of a set is."""

AROUND = 24
"""Directions in which sampled work is looked at."""


class Span(Value, frozen=True):
    """A stretch along a line: its largest and its surely solid radius, and the hole in its middle."""

    low: float
    high: float
    outer: float
    bore: float


def spans(metal: Metal, line: Line) -> tuple[Span, ...]:
    """The work along a line, end to end, in stretches between the edges of its cuts."""
    key = Line(line.along, 1, line.through)
    if key not in metal.kept:
        found = _read(metal.bodies[0], key) if len(metal.bodies) == 1 else None
        metal.kept[key] = tuple(_sampled(metal, key) if found is None else found)
    return cast(tuple[Span, ...], metal.kept[key])


def bored_mm(metal: Metal, line: Line, low: float, high: float, radius: float) -> float:
    """The diameter of the hole that is there all along a stretch of a line, 0 in the solid.

    Stretches without metal round the hole of ``radius``, mm, do not count: an open bore or slot.
    """
    regions = [one for body in metal.bodies for one in _holes(body, line)]
    edges = sorted(
        {low, high} | {e for one in regions for e in (one.low, one.high) if low < e < high}
    )
    pairs = [(a, b) for a, b in zip(edges, edges[1:], strict=False) if b - a > 0.3]
    if not pairs:
        return 0.0
    middles = [a + (b - a) * part for a, b in pairs for part in (0.25, 0.75)]
    around = metal.has(line.cloud(middles, [radius + 0.2], 8)).reshape(len(pairs), 2, 8)
    bores = [
        max(
            (one.outer for one in regions if one.low <= a + 0.01 and one.high >= b - 0.01),
            default=0.0,
        )
        for (a, b), there in zip(pairs, around, strict=True)
        if there.any()
    ]
    least = 2 * min(bores, default=0.0)
    return least if least > LEAST_HOLE_MM else 0.0


def bottoms(metal: Metal, line: Line, at: float) -> float:
    """The diameter of the hole about a line that has its bottom at a station, 0 without one, mm.

    A hole has a wall: what was faced off a whole end is none.
    """
    found = 0.0
    for body in metal.bodies:
        for one in _holes(body, line):
            bottom = one.high if line.sign > 0 else one.low
            if abs(bottom - at) < 1.0 and one.outer > found:
                wall = line.cloud([bottom - line.sign * 0.5], [one.outer + 0.3], 8)
                if metal.has(wall).mean() > 0.3:
                    found = one.outer
    return 2 * found


def _holes(body: Body, line: Line) -> list[Ring]:
    """The holes of a body about a line: drilled, or a tube's own."""
    found = [
        one for one in body.cuts if isinstance(one, Ring) and one.inner == 0 and _about(one, line)
    ]
    stock = body.stock
    if isinstance(stock, Ring) and stock.inner > 0 and _about(stock, line):
        found.append(Ring(stock.along, stock.centre, stock.low, stock.high, stock.inner))
    return found


def _about(ring: Ring, line: Line) -> bool:
    j, k = others(line.along)
    off = hypot(ring.centre[j] - line.through[j], ring.centre[k] - line.through[k])
    return ring.along == line.along and off < NEAR_MM


def _read(body: Body, line: Line) -> list[Span] | None:
    """The spans of a bar about its own axis; None where that cannot be read off."""
    stock = body.stock
    if not isinstance(stock, Ring) or not _about(stock, line):
        return None
    along = line.along
    edges = {stock.low, stock.high}
    for cut in body.cuts:
        edges |= {e for e in cut.edges(along) if stock.low < e < stock.high}
        if isinstance(cut, OffBall):
            low, high = max(cut.low, stock.low), min(cut.high, stock.high)
            edges |= {low + (high - low) * part / 8 for part in range(1, 8)}
    ordered = sorted(edges)
    found = []
    for a, b in zip(ordered, ordered[1:], strict=False):
        if b - a < 1e-6:
            continue
        outer, bore = _radii_at(body, stock, line, (a + b) / 2)
        if outer > bore + 1e-9:
            found.append(Span(a, b, outer, bore))
    return found


def _radii_at(body: Body, stock: Ring, line: Line, at: float) -> tuple[float, float]:
    """The outer radius and the hole's at a station; equal where nothing is left."""
    outer, bore = stock.outer, stock.inner
    rings = [
        c for c in body.cuts if isinstance(c, Ring) and _about(c, line) and c.low < at < c.high
    ]
    again = True
    while again and outer > bore:
        again = False
        for ring in rings:
            if ring.inner <= bore + 1e-6 and ring.outer > bore + 1e-9:
                bore, again = ring.outer, True
            elif ring.outer >= outer - 1e-6 and ring.inner < outer - 1e-9:
                outer, again = ring.inner, True
    for cut in body.cuts:
        if isinstance(cut, OffBall) and cut.low < at < cut.high:
            off = cut.radius**2 - (at - cut.middle[line.along]) ** 2
            outer = min(outer, sqrt(off)) if off > 0 else 0.0
        elif isinstance(cut, Block) and _swallows(cut, line, at, outer):
            outer = 0.0
    return max(outer, min(bore, outer)), bore


def _swallows(block: Block, line: Line, at: float, outer: float) -> bool:
    """Whether a box takes all of a round at a station."""
    if not block.low[line.along] < at < block.high[line.along]:
        return False
    return all(
        block.low[i] <= line.through[i] - outer and block.high[i] >= line.through[i] + outer
        for i in others(line.along)
    )


def _sampled(metal: Metal, line: Line) -> list[Span]:
    regions = [one for body in metal.bodies for one in body.regions]
    low, high = (float(corner[line.along]) for corner in metal.box)
    edges = {low, high} | {e for one in regions for e in one.edges(line.along) if low < e < high}
    ordered = sorted(edges)
    pairs = [(a, b) for a, b in zip(ordered, ordered[1:], strict=False) if b - a > 1e-3]
    radii = _radii(metal, line)
    points = line.cloud([(a + b) / 2 for a, b in pairs], [r - NEAR_MM / 2 for r in radii], AROUND)
    there = metal.has(points).reshape(len(pairs), len(radii), AROUND)
    found: list[Span] = []
    for (a, b), rows in zip(pairs, there, strict=True):
        some = np.flatnonzero(rows.any(axis=1))
        if len(some):
            first = int(some[0])
            found.append(Span(a, b, radii[int(some[-1])], radii[first - 1] if first else 0.0))
    return found


def _radii(metal: Metal, line: Line) -> list[float]:
    """Radii about a line at which something may begin or end, from the least."""
    found = {0.4}
    for body in metal.bodies:
        found |= set(_corners(metal, line, body.stock))
        for one in body.cuts:
            if isinstance(one, Block):
                found |= set(_corners(metal, line, one))
            elif isinstance(one, Ring) and one.along == line.along:
                found |= set(_offset(one, line))
    kept: list[float] = []
    for radius in sorted(found):
        if 0.05 < radius < FAR_MM / 2 and (not kept or radius - kept[-1] > NEAR_MM):
            kept.append(radius)
    return kept


def _offset(ring: Ring, line: Line) -> list[float]:
    j, k = others(line.along)
    off = hypot(ring.centre[j] - line.through[j], ring.centre[k] - line.through[k])
    sizes = [r for r in (ring.outer, ring.inner) if 0 < r < FAR_MM]
    return [off + r for r in sizes] + ([abs(r - off) for r in sizes] if off > NEAR_MM else [])


def _corners(metal: Metal, line: Line, one: Region) -> list[float]:
    if isinstance(one, Ring) and one.along == line.along:
        return _offset(one, line)
    j, k = others(line.along)
    low, high = metal.box
    ways = []
    for i in (j, k):
        ways.append([e - line.through[i] for e in one.edges(i) if low[i] - 1 < e < high[i] + 1])
    return [abs(e) for way in ways for e in way] + [hypot(a, b) for a in ways[0] for b in ways[1]]
