"""Geometry of closed outlines of lines and arcs: area, bounds, turning, distance; in mm.

Exact for arcs except where a function says that it flattens them. Imports only the plane curves.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import acos, atan, atan2, ceil, cos, floor, hypot, inf, pi, sin

from planner.geometry.curves import Outline, Point2

CHORD_MM = 0.02
"""Farthest that a flattened outline lies from its arcs."""

Segment = tuple[Point2, Point2, float]
"""A line or arc: from, to, and the bulge."""


def segments(outline: Outline) -> Iterator[Segment]:
    """Each vertex with the next, and the bulge between them."""
    for p, q in pairwise([*outline.vertices, outline.vertices[0]]):
        yield p[:2], q[:2], p[2]


def arc_of(segment: Segment) -> tuple[Point2, float]:
    """Centre and radius of an arc: the bulge is the tangent of a quarter of its angle."""
    (x0, y0), (x1, y1), bulge = segment
    off = (1 - bulge**2) / (4 * bulge)
    radius = hypot(x1 - x0, y1 - y0) * (1 + bulge**2) / (4 * abs(bulge))
    return ((x0 + x1) / 2 - off * (y1 - y0), (y0 + y1) / 2 + off * (x1 - x0)), radius


def area_mm2(outline: Outline) -> float:
    """The area, above 0 when the outline runs anticlockwise."""
    total = 0.0
    for (x0, y0), (x1, y1), bulge in segments(outline):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            _, radius = arc_of(((x0, y0), (x1, y1), bulge))
            sweep = 4 * atan(bulge)
            total += radius**2 * (sweep - sin(sweep)) / 2
    return total


def bounds(outline: Outline) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of the outline, its arcs with it."""
    boxes = [_box(segment) for segment in segments(outline)]
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def _box(segment: Segment) -> tuple[float, float, float, float]:
    p, q, bulge = segment
    points = [p, q]
    if bulge:
        (x, y), r = arc_of(segment)
        sides = ((x + r, y), (x, y + r), (x - r, y), (x, y - r))
        points += [side for side in sides if _on_arc(segment, side)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _on_arc(segment: Segment, point: Point2) -> bool:
    """Whether a point of the arc's circle (or of the ray from its centre) is on the arc itself."""
    (x, y), r = arc_of(segment)
    dx, dy = point[0] - x, point[1] - y
    far = hypot(dx, dy)
    if not far:
        return True
    (x0, y0), (x1, y1), bulge = segment
    # The arc lies right of the chord of a left turn, left of the chord of a right turn.
    turn = (x1 - x0) * (y + dy * r / far - y0) - (y1 - y0) * (x + dx * r / far - x0)
    return turn * bulge < 0


def moved(outline: Outline, dx_mm: float, dy_mm: float) -> Outline:
    """The outline elsewhere."""
    return Outline(tuple((x + dx_mm, y + dy_mm, b) for x, y, b in outline.vertices))


def turned_point(point: Point2, turn_deg: int) -> Point2:
    """A point turned about (0, 0) by 0, 90, 180 or 270 degrees anticlockwise, exactly."""
    x, y = point
    return {0: (x, y), 90: (-y, x), 180: (-x, -y), 270: (y, -x)}[turn_deg]


def turned(outline: Outline, turn_deg: int) -> Outline:
    """The outline turned about (0, 0) by 0, 90, 180 or 270 degrees anticlockwise, exactly."""
    return Outline(tuple((*turned_point((x, y), turn_deg), b) for x, y, b in outline.vertices))


def reversed_outline(outline: Outline) -> Outline:
    """The outline run the other way from the same vertex."""
    back = (outline.vertices[0], *outline.vertices[:0:-1])
    bulges = [-vertex[2] for vertex in outline.vertices[::-1]]
    return Outline(tuple((x, y, b) for (x, y, _), b in zip(back, bulges, strict=True)))


def anticlockwise(outline: Outline) -> Outline:
    """The outline run anticlockwise, whichever way it was given."""
    return outline if area_mm2(outline) >= 0 else reversed_outline(outline)


def starting_at(outline: Outline, vertex: int) -> Outline:
    """The same outline from another of its vertices."""
    return Outline(outline.vertices[vertex:] + outline.vertices[:vertex])


def flattened(outline: Outline, chord_mm: float = CHORD_MM) -> list[Point2]:
    """A polygon that contains an anticlockwise outline and lies within chord_mm of it.

    Arcs that turn left get tangents, arcs that turn right chords: neither cuts into the piece.
    """
    points: list[Point2] = []
    for segment in segments(outline):
        p, _, bulge = segment
        points.append(p)
        if not bulge:
            continue
        (x, y), radius = arc_of(segment)
        sweep = 4 * atan(bulge)
        # Tangents over a step meet at radius / cos(step / 2); a little less, to stay within it.
        step = 2 * acos(1 / (1 + 0.95 * chord_mm / radius))
        count = max(2, 2 * ceil(abs(sweep) / step / 2))
        first = atan2(p[1] - y, p[0] - x)
        if bulge > 0:
            out = radius / cos(sweep / count / 2)
            angles = [first + sweep * (k + 0.5) / count for k in range(count)]
        else:
            out = radius
            angles = [first + sweep * k / count for k in range(1, count)]
        points += [(x + out * cos(angle), y + out * sin(angle)) for angle in angles]
    return points


def contains(outline: Outline, point: Point2) -> bool:
    """Whether a point not on the outline is inside it: how often a ray along x crosses it."""
    x, y = point
    inside = False
    for segment in segments(outline):
        (x0, y0), (x1, y1), bulge = segment
        if not bulge:
            if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
                inside = not inside
            continue
        (cx, cy), radius = arc_of(segment)
        # Parted at the circle's top and bottom, each part of the arc rises or falls throughout.
        levels = [y0, *_turning_levels(segment), y1]
        for from_y, to_y in pairwise(levels):
            if (from_y > y) != (to_y > y):
                half = abs(radius**2 - (y - cy) ** 2) ** 0.5  # below 0 by rounding alone
                right_side = (to_y > from_y) == (bulge > 0)
                if x < cx + (half if right_side else -half):
                    inside = not inside
    return inside


def _turning_levels(segment: Segment) -> list[float]:
    """The heights of the circle's top and bottom where an arc passes them, in its order."""
    (x0, y0), _, bulge = segment
    (cx, cy), radius = arc_of(segment)
    first, sweep = atan2(y0 - cy, x0 - cx), 4 * atan(bulge)
    last = first + sweep
    low, high = min(first, last), max(first, last)
    steps = range(ceil(low / pi - 0.5), floor(high / pi - 0.5) + 1)
    found = [cy + radius * (1 if k % 2 == 0 else -1) for k in steps]
    return found if sweep > 0 else found[::-1]


# ---- distance ----


def apart_mm(one: Outline, other: Outline, enough_mm: float = inf) -> float:
    """The least distance between two outlines, 0 when they cross; inf when over enough_mm."""
    far = [(segment, _box(segment)) for segment in segments(other)]
    least = inf
    for a in segments(one):
        left, bottom, right, top = _box(a)
        for b, box in far:
            if (
                max(box[0] - right, left - box[2]) <= enough_mm
                and max(box[1] - top, bottom - box[3]) <= enough_mm
            ):
                least = min(least, _segments_apart(a, b))
    return least if least <= enough_mm else inf


def from_point_mm(outline: Outline, point: Point2) -> float:
    """The least distance of a point from an outline."""
    return min(_from_point(segment, point) for segment in segments(outline))


def _segments_apart(a: Segment, b: Segment) -> float:
    if meetings(a, b):
        return 0.0
    best = min(
        *(_from_point(b, end) for end in a[:2]),
        *(_from_point(a, end) for end in b[:2]),
    )
    # Two curves that do not cross can also be nearest abreast of an arc's centre.
    for one, other in ((a, b), (b, a)):
        if one[2]:
            (x, y), radius = arc_of(one)
            towards = arc_of(other)[0] if other[2] else _foot(other, (x, y))
            far = hypot(towards[0] - x, towards[1] - y)
            for side in (radius, -radius) if far else ():
                at = (x + side * (towards[0] - x) / far, y + side * (towards[1] - y) / far)
                if _on_arc(one, at):
                    best = min(best, _from_point(other, at))
    return best


def _foot(line: Segment, point: Point2) -> Point2:
    """The point of a line nearest to another."""
    (x0, y0), (x1, y1), _ = line
    dx, dy = x1 - x0, y1 - y0
    share = ((point[0] - x0) * dx + (point[1] - y0) * dy) / ((dx * dx + dy * dy) or 1.0)
    share = min(1.0, max(0.0, share))
    return x0 + share * dx, y0 + share * dy


def _from_point(segment: Segment, point: Point2) -> float:
    if not segment[2]:
        x, y = _foot(segment, point)
        return hypot(point[0] - x, point[1] - y)
    (x, y), radius = arc_of(segment)
    if _on_arc(segment, point):
        return abs(hypot(point[0] - x, point[1] - y) - radius)
    return min(hypot(point[0] - px, point[1] - py) for px, py in segment[:2])


def meetings(a: Segment, b: Segment, beyond: bool = False) -> list[Point2]:
    """Where two segments cross or touch; beyond: where their lines and circles do.

    Lines that lie on each other, and arcs of one circle, have no meeting.
    """
    if not a[2] and not b[2]:
        found = _lines_meet(a, b)
    elif a[2] and b[2]:
        found = _circles_meet(arc_of(a), arc_of(b))
    else:
        line, arc = (a, b) if b[2] else (b, a)
        found = _line_meets_circle(line, arc_of(arc))
    if beyond:
        return found
    return [point for point in found if _within(a, point) and _within(b, point)]


def _within(segment: Segment, point: Point2) -> bool:
    if segment[2]:
        return _on_arc(segment, point)
    (x0, y0), (x1, y1), _ = segment
    dx, dy = x1 - x0, y1 - y0
    return 0 <= (point[0] - x0) * dx + (point[1] - y0) * dy <= dx * dx + dy * dy


def _lines_meet(a: Segment, b: Segment) -> list[Point2]:
    (x0, y0), (x1, y1), _ = a
    (u0, v0), (u1, v1), _ = b
    dx, dy, du, dv = x1 - x0, y1 - y0, u1 - u0, v1 - v0
    cross = dx * dv - dy * du
    if abs(cross) <= 1e-12 * hypot(dx, dy) * hypot(du, dv):
        return []
    share = ((u0 - x0) * dv - (v0 - y0) * du) / cross
    return [(x0 + share * dx, y0 + share * dy)]


def _line_meets_circle(line: Segment, circle: tuple[Point2, float]) -> list[Point2]:
    (x0, y0), (x1, y1), _ = line
    (cx, cy), radius = circle
    length = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    along = (cx - x0) * ux + (cy - y0) * uy
    off = (cx - x0) * uy - (cy - y0) * ux
    if abs(off) > radius:
        return []
    half = (radius**2 - off**2) ** 0.5
    return [(x0 + s * ux, y0 + s * uy) for s in (along - half, along + half)]


def _circles_meet(one: tuple[Point2, float], other: tuple[Point2, float]) -> list[Point2]:
    ((x, y), r), ((u, v), s) = one, other
    d = hypot(u - x, v - y)
    if not d or d > r + s or d < abs(r - s):
        return []
    along = (d * d + r * r - s * s) / (2 * d)
    half = abs(r * r - along * along) ** 0.5  # below 0 by rounding alone, where they touch
    ux, uy = (u - x) / d, (v - y) / d
    return [(x + along * ux - t * uy, y + along * uy + t * ux) for t in (half, -half)]
