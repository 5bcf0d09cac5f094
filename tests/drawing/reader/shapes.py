"""A few solids of the kernel, upright in the space of a reading, mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations, product
from typing import Any

import cadquery as cq

FAR_MM = 2000.0

Triple = tuple[float, float, float]


def unit(axis: int, sense: float = 1.0) -> Triple:
    """A direction of the space."""
    return tuple(sense if i == axis else 0.0 for i in range(3))  # type: ignore[return-value]


def cylinder(axis: int, centre: Triple, low: float, high: float, radius: float) -> Any:
    """A cylinder along an axis between two places on it."""
    low, high = min(low, high), max(low, high)
    start = tuple(low if i == axis else centre[i] for i in range(3))
    return cq.Solid.makeCylinder(radius, high - low, cq.Vector(*start), cq.Vector(*unit(axis)))


def box(low: Triple, high: Triple) -> Any:
    """An upright box between two corners."""
    ends = [sorted(pair) for pair in zip(low, high, strict=True)]
    sizes = [b - a for a, b in ends]
    return cq.Solid.makeBox(*sizes, cq.Vector(*(a for a, _ in ends)))


def slab(axis: int, low: float, high: float) -> Any:
    """All space between two places along an axis."""
    lows = [-FAR_MM] * 3
    highs = [FAR_MM] * 3
    lows[axis], highs[axis] = min(low, high), max(low, high)
    return box(tuple(lows), tuple(highs))  # type: ignore[arg-type]


def sphere(centre: Triple, radius: float, axis: int = 0) -> Any:
    """A whole ball, its poles on an axis."""
    return cq.Solid.makeSphere(radius, cq.Vector(*centre), cq.Vector(*unit(axis)), -90, 90, 360)


def prism(corners: list[tuple[float, float]], axes: tuple[int, int, int]) -> Any:
    """An outline in the plane of two axes, far along the third."""
    u, v, w = axes
    points = []
    for a, b in corners:
        p = [0.0, 0.0, 0.0]
        p[u], p[v], p[w] = a, b, -FAR_MM
        points.append(cq.Vector(*p))
    wire = cq.Wire.makePolygon(points, close=True)
    way = [0.0, 0.0, 0.0]
    way[w] = 2 * FAR_MM
    return cq.Solid.extrudeLinear(wire, [], cq.Vector(*way))


def inside(body: Any, axis: int, at: Triple) -> list[tuple[float, float]]:
    """Where a straight line along an axis through a point runs in the metal."""
    ends = [cq.Vector(*(at[i] + (s * FAR_MM if i == axis else 0.0) for i in range(3)))
            for s in (-1, 1)]  # fmt: skip
    line = cq.Edge.makeLine(*ends)
    found = []
    for edge in line.intersect(body).Edges():
        a, b = edge.startPoint().toTuple()[axis], edge.endPoint().toTuple()[axis]
        found.append((min(a, b), max(a, b)))
    found.sort()
    merged: list[tuple[float, float]] = []
    for a, b in found:
        if merged and a - merged[-1][1] < 1e-6:
            merged[-1] = (merged[-1][0], max(b, merged[-1][1]))
        else:
            merged.append((a, b))
    return merged


def volume(shape: Any) -> float:
    """The volume of what may be nothing."""
    return float(sum(s.Volume() for s in shape.Solids())) if shape is not None else 0.0


NEAR_MM = 1e-4
"""So near the kernel is told that faces are one, where it lost a body of two that touch."""

SAME = 1e-6
"""What a volume may be off by rounding, as a share."""


def together(solids: Sequence[Any]) -> Any:
    """Solids as one body, with all their metal: the kernel now and then loses one of two that touch.

    No way of joining them adds metal, so that the one with most is the one that lost none.
    """
    first, *rest = solids
    if not rest:
        return first
    most = sum(volume(one) for one in solids) * (1 + SAME)
    found = [first.fuse(*rest)]
    if volume(found[0]) < most * (1 - 2 * SAME):
        last, *before = reversed(solids)
        found += [last.fuse(*before), first.fuse(*rest, tol=NEAR_MM)]
    whole = max((one for one in found if volume(one) <= most), key=volume, default=found[0])
    return whole.clean()


def turns() -> Iterator[cq.Location]:
    """The 24 ways an upright thing may lie."""
    for order in permutations(range(3)):
        for signs in product((1, -1), repeat=3):
            x, y, z = ([0.0] * 3 for _ in range(3))
            for row, axis, sign in zip((x, y, z), order, signs, strict=True):
                row[axis] = sign
            cross = (
                x[1] * y[2] - x[2] * y[1],
                x[2] * y[0] - x[0] * y[2],
                x[0] * y[1] - x[1] * y[0],
            )
            if list(cross) == z:
                yield cq.Location(cq.Plane((0, 0, 0), tuple(x), tuple(z)))
