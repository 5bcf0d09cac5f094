"""The line at a distance from an outline of lines and arcs, exactly: where the torch's centre goes.

Imports the plane curves, the geometry of outlines and the errors of nesting only.
"""

from __future__ import annotations

from math import atan, atan2, cos, hypot, pi, sin, tan

from planner.geometry.curves import Outline, Point2
from planner.nest.model import NoRoom
from planner.nest.outlines import Segment, arc_of, area_mm2, from_point_mm, meetings, segments

SMOOTH = 1e-6
"""Sine of the least angle between two curves that counts as a corner."""


def offset(outline: Outline, by_mm: float) -> Outline:
    """The line at a distance from an anticlockwise outline, outside it (inside when below 0).

    Arcs keep their centres; where the corner opens the line goes round it as an arc about the
    corner, where it closes the neighbours are cut back to where they meet.
    Raises NoRoom when a detail is too narrow for the distance, such as an inner corner of a
    smaller radius.
    """
    if not by_mm:
        return outline
    old = [s for s in segments(outline) if hypot(s[1][0] - s[0][0], s[1][1] - s[0][1]) > 1e-9]
    new = [_shifted(segment, by_mm) for segment in old]
    starts, ends = [s[0] for s in new], [s[1] for s in new]
    rounds: dict[int, Segment] = {}
    for k in range(len(old)):
        before, corner = k - 1, old[k][0]
        (ax, ay), (bx, by) = heading(old[before])[1], heading(old[k])[0]
        cross, dot = ax * by - ay * bx, ax * bx + ay * by
        if abs(cross) < SMOOTH and dot > 0:
            middle = (
                (ends[before][0] + starts[k][0]) / 2,
                (ends[before][1] + starts[k][1]) / 2,
            )
            starts[k] = ends[before] = middle
        elif cross * by_mm > 0:
            rounds[k] = (ends[before], starts[k], tan(atan2(cross, dot) / 4))
        else:
            found = meetings(new[before], new[k], beyond=True)
            if not found:
                raise _narrow(corner, by_mm)
            near = min(found, key=lambda p: hypot(p[0] - corner[0], p[1] - corner[1]))
            starts[k] = ends[before] = near
    made: list[Segment] = []
    for k, segment in enumerate(new):
        if k in rounds:
            made.append(rounds[k])
        made.append(_cut_back(segment, starts[k], ends[k], by_mm))
    for i, one in enumerate(made):
        for j in range(i + 2, len(made) - (i == 0)):
            if meetings(one, made[j]):
                raise _narrow(one[0], by_mm)
    line = Outline(tuple((*p, bulge) for p, _, bulge in made))
    if _nearest_mm(line, outline) < abs(by_mm) - 1e-6 or area_mm2(line) <= 0:
        raise _narrow(made[0][0], by_mm)
    return line


def _nearest_mm(line: Outline, outline: Outline) -> float:
    """The least distance of the line's vertices from the outline."""
    return min(from_point_mm(outline, (x, y)) for x, y, _ in line.vertices)


def _narrow(at: Point2, by_mm: float) -> NoRoom:
    return NoRoom(
        f"a detail near ({at[0]:.6g}, {at[1]:.6g}) is too narrow to go round at {abs(by_mm):g} mm;"
        " use a narrower kerf or a larger inner corner"
    )


def heading(segment: Segment) -> tuple[Point2, Point2]:
    """Unit vectors along the segment at its start and at its end."""
    (x0, y0), (x1, y1), bulge = segment
    chord, half = atan2(y1 - y0, x1 - x0), 2 * atan(bulge)
    return (cos(chord - half), sin(chord - half)), (cos(chord + half), sin(chord + half))


def _shifted(segment: Segment, by_mm: float) -> Segment:
    """The segment moved to its right; an arc keeps its centre and angle."""
    p, q, bulge = segment
    if bulge and arc_of(segment)[1] + (by_mm if bulge > 0 else -by_mm) < 1e-6:
        raise _narrow(p, by_mm)
    (ax, ay), (bx, by) = heading(segment)
    return (
        (p[0] + by_mm * ay, p[1] - by_mm * ax),
        (q[0] + by_mm * by, q[1] - by_mm * bx),
        bulge,
    )


def _cut_back(segment: Segment, start: Point2, end: Point2, by_mm: float) -> Segment:
    """The part of a segment between two of its points; refused when nothing is left of it."""
    p, q, bulge = segment
    if not bulge:
        if (end[0] - start[0]) * (q[0] - p[0]) + (end[1] - start[1]) * (q[1] - p[1]) <= 0:
            raise _narrow(start, by_mm)
        return start, end, 0.0
    (x, y), _ = arc_of(segment)
    whole = 4 * atan(bulge)
    sign = 1 if bulge > 0 else -1

    def after(a: Point2, b: Point2) -> float:
        """The angle from a to b about the centre, within half a turn either way."""
        turn = atan2(b[1] - y, b[0] - x) - atan2(a[1] - y, a[0] - x)
        return ((turn + pi) % (2 * pi)) - pi

    sweep = whole - after(p, start) - after(end, q)
    if sweep * sign <= 0 or abs(sweep) >= 2 * pi:
        raise _narrow(start, by_mm)
    return start, end, tan(sweep / 4)
