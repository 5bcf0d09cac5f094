"""Outlines of how a piece is set up for an operation: the piece, and what holds it.

Each function makes items of a sheet from plain sizes in mm: a piece in thin lines with the surfaces
that are worked thick; chuck, vice, centre, steady, stop and table that touch it where they hold it and
nowhere else. Each says where its own origin lies on the work; At puts it there. Tools are in
setup_tools. For the route's pictures; needs no solid.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from math import atan2, degrees, hypot, radians, sin, sqrt, tan
from typing import NamedTuple

from planner.drawing.model import Item, Point
from planner.drawing.sketch import At, box
from planner.geometry.curves import Arc, Curve, Line, Outline

POINT_DEG = 60.0
"""Of a lathe centre and of the hole it runs in (ISO 866 and common practice)."""


class Step(NamedTuple):
    """A stretch of a turned piece: from the end of the one before so long, of a diameter."""

    length_mm: float
    diameter_mm: float


# ---- the piece ----


def turned_edges(
    steps: Sequence[Step], centres_mm: tuple[float, float] = (0.0, 0.0)
) -> dict[str, Curve]:
    """The outline of a turned piece along its axis from u = 0, edge by edge.

    centres_mm: across the centre holes in its two ends, 0 for none, drawn as they are cut.
    Names: "face 0" to "face n", "top 0", "bottom 0" and so on for each step.
    Raises ValueError for no step, one without a length or a diameter, or a hole wider than its end.
    """
    if not steps or any(one.length_mm <= 0 or one.diameter_mm <= 0 for one in steps):
        raise ValueError(f"steps {steps!r}: give at least one, each with a length and a diameter")
    for hole, end in zip(centres_mm, (steps[0], steps[-1]), strict=True):
        if not 0 <= hole < end.diameter_mm:
            raise ValueError(f"centre hole {hole:g}: wider than the end, {end.diameter_mm:g}")
    found: dict[str, Curve] = {}
    at, before = 0.0, 0.0
    for number, (length, diameter) in enumerate(steps):
        radius = diameter / 2
        if number == 0:
            found |= _face(0, 0.0, radius, centres_mm[0], 1.0)
        elif abs(radius - before) > 1e-9:
            low, high = sorted((radius, before))
            found[f"face {number}"] = Line((at, low), (at, high))
            found[f"face {number} below"] = Line((at, -high), (at, -low))
        found[f"top {number}"] = Line((at, radius), (at + length, radius))
        found[f"bottom {number}"] = Line((at, -radius), (at + length, -radius))
        at, before = at + length, radius
    return found | _face(len(steps), at, before, centres_mm[1], -1.0)


def _face(number: int, u: float, radius: float, hole: float, inward: float) -> dict[str, Curve]:
    """An end's face, with its centre hole."""
    if not hole:
        return {f"face {number}": Line((u, -radius), (u, radius))}
    deep = u + inward * hole / 2 / tan(radians(POINT_DEG / 2))
    return {
        f"face {number}": Line((u, hole / 2), (u, radius)),
        f"face {number} below": Line((u, -radius), (u, -hole / 2)),
        f"hole {number}": Line((u, hole / 2), (deep, 0.0)),
        f"hole {number} below": Line((deep, 0.0), (u, -hole / 2)),
    }


def profile_edges(outline: Outline) -> dict[str, Curve]:
    """The outline of a flat piece, edge by edge: "edge 0" from its first corner to the next, and on."""
    found: dict[str, Curve] = {}
    ends = [*outline.vertices[1:], outline.vertices[0]]
    for number, ((x, y, bulge), (x2, y2, _)) in enumerate(zip(outline.vertices, ends, strict=True)):
        name = f"edge {number}"
        found[name] = _bulged((x, y), (x2, y2), bulge) if bulge else Line((x, y), (x2, y2))
    return found


def _bulged(start: Point, end: Point, bulge: float) -> Arc:
    """The arc between two corners whose bulge is the tangent of a quarter of its angle."""
    (ax, ay), (bx, by) = start, end
    chord, half = hypot(bx - ax, by - ay), 2 * atan2(bulge, 1.0)
    radius = abs(chord / 2 / sin(half))
    off = chord / 2 / tan(half)
    middle = ((ax + bx) / 2, (ay + by) / 2)
    centre = (
        middle[0] - off * (by - ay) / chord,
        middle[1] + off * (bx - ax) / chord,
    )
    one, two = (
        degrees(atan2(p[1] - centre[1], p[0] - centre[0])) % 360
        for p in ((start, end) if bulge > 0 else (end, start))
    )
    return Arc(centre, radius, one, two if two > one else two + 360)


def piece(at: At, edges: Mapping[str, Curve], worked: Collection[str] = ()) -> Iterator[Item]:
    """A piece in thin lines, hidden ones left out, with the edges that are worked thick.

    edges: by name, of a view of its solid or of turned_edges or profile_edges. Raises ValueError for
    a worked edge that it has not.
    """
    if missing := [name for name in worked if name not in edges]:
        raise ValueError(f"no such edge: {', '.join(missing)}; there are {', '.join(edges)}")
    for name, curve in edges.items():
        if not curve.hidden:
            yield at.curve(curve, "visible" if name in worked else "thin")


# ---- what holds it ----


def chuck(
    at: At,
    chuck_mm: float,
    work_mm: float,
    grip_mm: float,
    reach_mm: float,
    deep_mm: float = 0.0,
) -> Iterator[Item]:
    """A chuck from the side, with a jaw over and one under the work.

    Origin: on the axis in the plane of the jaws' front; u away from the chuck. chuck_mm: its diameter;
    work_mm: what it grips, over grip_mm of length; reach_mm: the jaws out of its face, no less than
    the grip; deep_mm: of its body. Raises ValueError where the work is no thinner than the chuck, or
    the grip longer than the jaws.
    """
    if not 0 < work_mm < chuck_mm or not 0 < grip_mm <= reach_mm:
        raise ValueError(f"work {work_mm:g} in a chuck of {chuck_mm:g}, {grip_mm:g} deep: no hold")
    radius, work = chuck_mm / 2, work_mm / 2
    tall = max(radius, work + 0.15 * chuck_mm)
    step = min(0.4 * (tall - work), 0.1 * chuck_mm)
    yield at.ring(box(-reach_mm - (deep_mm or 0.35 * chuck_mm), -radius, -reach_mm, radius))
    for side in (1.0, -1.0):
        # behind the grip a jaw is cut back, so that it bears where it is said to
        back = () if grip_mm == reach_mm else ((-grip_mm, work + 0.5 * step),)
        points = (
            (-reach_mm, tall),
            (-reach_mm, work + (0.5 * step if back else 0.0)),
            *back,
            (-grip_mm, work),
            (0.0, work),
            (0.0, tall - step),
            (-0.3 * reach_mm, tall - step),
            (-0.3 * reach_mm, tall),
        )
        yield at.ring([(u, side * v) for u, v in points])


def chuck_end(at: At, chuck_mm: float, work_mm: float, jaws: int = 3) -> Iterator[Item]:
    """A chuck of three or four jaws from its end, one jaw on top. Origin: on its axis.

    Raises ValueError for another number of jaws, or work no thinner than the chuck.
    """
    if jaws not in (3, 4) or not 0 < work_mm < chuck_mm:
        raise ValueError(f"{jaws} jaws on {work_mm:g} in a chuck of {chuck_mm:g}: no hold")
    radius, work = chuck_mm / 2, work_mm / 2
    half = min(0.07 * chuck_mm, 0.6 * work)
    nose, out = min(half, 0.4 * half + 0.2), sqrt(radius**2 - half**2)
    yield at.circle((0.0, 0.0), radius)
    for number in range(jaws):
        turn = At((0.0, 0.0), 1.0, 360.0 / jaws * number)
        points = ((0.0, work), (nose, work + nose), (half, work + nose), (half, out))
        ring = [*points, *((-u, v) for u, v in reversed(points[1:]))]
        yield at.ring([turn.point(p) for p in ring])


def vice(
    at: At, work_wide_mm: float, work_high_mm: float, grip_mm: float, parallels_mm: float = 0.0
) -> Iterator[Item]:
    """A machine vice from the end of its jaws, the work on parallels.

    Origin: the work's lower corner at the fixed jaw; u across to the moving jaw, v up. grip_mm: how
    far up the jaws reach on the work, no more than its height; parallels_mm: how high they are, 0 for
    none. Raises ValueError where the jaws stand over the work.
    """
    if not 0 < grip_mm <= work_high_mm or work_wide_mm <= 0 or parallels_mm < 0:
        raise ValueError(f"jaws {grip_mm:g} up work of {work_high_mm:g}: no hold")
    wide = work_wide_mm
    jaw, floor = max(12.0, 0.4 * wide), -parallels_mm
    base = floor - max(10.0, 0.3 * wide)
    yield at.ring(box(-jaw, floor, 0.0, grip_mm))
    yield at.ring(box(wide, floor, wide + 0.7 * jaw, grip_mm))
    yield at.ring(box(-jaw, base, wide + 1.6 * jaw, floor))
    spindle = (floor + grip_mm) / 2
    yield at.ring(box(wide + 0.7 * jaw, spindle - 3.0, wide + 1.6 * jaw, spindle + 3.0))
    if parallels_mm:
        thick = min(0.18 * wide, 6.0)
        yield at.ring(box(0.05 * wide, floor, 0.05 * wide + thick, 0.0))
        yield at.ring(box(0.95 * wide - thick, floor, 0.95 * wide, 0.0))


def centre(at: At, hole_mm: float, diameter_mm: float, live: bool = False) -> Iterator[Item]:
    """A lathe centre in a centre hole. Origin: on the axis in the face of the work; u out of it.

    hole_mm: across the hole; diameter_mm: of the centre, no less. live: its point turns in a body.
    Raises ValueError for a hole wider than the centre.
    """
    if not 0 < hole_mm <= diameter_mm:
        raise ValueError(f"centre of {diameter_mm:g} in a hole of {hole_mm:g}: it falls in")
    slope = tan(radians(POINT_DEG / 2))
    tip, root = -hole_mm / 2 / slope, (diameter_mm - hole_mm) / 2 / slope
    radius = diameter_mm / 2
    back = root + 0.8 * diameter_mm
    yield at.ring(((tip, 0.0), (root, -radius), (back, -radius), (back, radius), (root, radius)))
    body = 1.7 * radius if live else radius
    yield at.ring(box(back, -body, back + 1.6 * diameter_mm, body))


def steady(at: At, work_mm: float, wide_mm: float) -> Iterator[Item]:
    """A fixed steady from the side: its frame over and under, a pad on either side of the work.

    Origin: on the axis in the middle of the pads, which are wide_mm along it.
    """
    radius, half = work_mm / 2, wide_mm / 2
    pad, out = 0.5 * work_mm + 4.0, radius + 1.1 * work_mm + 12.0
    for side in (1.0, -1.0):
        rings = (
            box(-half, radius, half, radius + pad),
            box(-half - 4.0, radius + pad, half + 4.0, out),
        )
        for ring in rings:
            yield at.ring([(u, side * v) for u, v in ring])


def travelling_steady(at: At, work_mm: float, wide_mm: float) -> Iterator[Item]:
    """A travelling steady from above: its frame on the far side, over the work and beside the tool, a
    pad on the work opposite that. Origin: on the axis at its near side."""
    half, pad = work_mm / 2, max(4.0, 0.5 * work_mm)
    yield at.ring(box(0.25 * wide_mm, half, 0.75 * wide_mm, half + pad))
    yield at.ring(box(0.0, half + pad, wide_mm, half + pad + 10.0))
    yield at.path(((0.0, half + pad + 5.0), (wide_mm, half + pad + 5.0)))


def steady_end(at: At, work_mm: float) -> Iterator[Item]:
    """A fixed steady from its end: a ring, three pads on the work, one on top. Origin: on the axis."""
    radius, half = work_mm / 2, max(2.0, 0.12 * work_mm)
    out = radius + 0.5 * work_mm + 6.0
    yield at.circle((0.0, 0.0), out)
    yield at.circle((0.0, 0.0), out + 6.0)
    for number in range(3):
        turn = At((0.0, 0.0), 1.0, 120.0 * number)
        points = ((0.0, radius), (half, radius + half), (half, out), (-half, out))
        yield at.ring([turn.point(p) for p in (*points, (-half, radius + half))])


def stop(at: At, wide_mm: float, high_mm: float) -> Iterator[Item]:
    """A stop: its face at u = 0 from v = 0 up against the work, its foot away from it along -u."""
    yield at.ring(
        (
            (0.0, 0.0),
            (0.0, high_mm),
            (-0.4 * wide_mm, high_mm),
            (-0.4 * wide_mm, 0.35 * high_mm),
            (-wide_mm, 0.35 * high_mm),
            (-wide_mm, 0.0),
        )
    )


def table(at: At, long_mm: float, slots: int = 3) -> Iterator[Item]:
    """A machine's table, its top at v = 0 from u = 0, with T-slots cut across."""
    deep, slot = 0.16 * long_mm, 0.035 * long_mm
    points: list[Point] = [(0.0, 0.0)]
    for number in range(slots):
        u = long_mm * (number + 0.5) / slots
        points += [(u - slot / 2, 0.0), (u - slot / 2, -slot), (u - slot, -slot)]
        points += [(u - slot, -2 * slot), (u + slot, -2 * slot), (u + slot, -slot)]
        points += [(u + slot / 2, -slot), (u + slot / 2, 0.0)]
    points += [(long_mm, 0.0), (long_mm, -deep), (0.0, -deep)]
    yield at.ring(points)
