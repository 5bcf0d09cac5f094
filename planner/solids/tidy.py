"""Plane curves without doubles: spans along the lines and circles that carry them."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import degrees, dist

from msgspec import Struct, field

from planner.geometry.curves import Arc, Curve, Line, Point2, Polyline

Spans = list[tuple[float, float]]

SNAP_MM = 0.005
"""Projected edges are drawn at the model's own coordinates when they come this near to them."""

FINE_MM, CHORD_MM = 0.002, 0.01
"""How near points must follow a curve that is to be recognised, and one that is not."""

LEAST_MM = 0.01
"""Anything shorter is dust of the tilt."""


def turn(a: Point2, b: Point2, c: Point2) -> float:
    """Twice the area of a triangle, positive when it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def off_line(point: Point2, start: Point2, end: Point2) -> float:
    """How far a point lies from the line through two others."""
    return abs(turn(start, end, point)) / dist(start, end)


def rounded(value: float) -> float:
    """To 0.0001 mm, and no minus before a zero."""
    return round(value, 4) + 0.0


def _joined(spans: Spans, gap: float) -> Spans:
    """The spans, rising, with those that touch or overlap made one."""
    out: Spans = []
    for low, high in sorted(spans):
        if out and low <= out[-1][1] + gap:
            out[-1] = (out[-1][0], max(out[-1][1], high))
        else:
            out.append((low, high))
    return out


def _less_spans(spans: Spans, taken: Spans) -> Spans:
    """What the taken spans leave of the spans; both joined."""
    for low, high in taken:
        pieces = [((a, min(b, low)), (max(a, high), b)) for a, b in spans]
        spans = [piece for pair in pieces for piece in pair if piece[0] < piece[1]]
    return spans


class _Carrier(Struct, dict=True):
    """A straight line or a circle with the spans of it that are visible and hidden.

    Spans are mm from ``origin`` along ``along``, or degrees round ``origin`` at ``radius_mm``.
    """

    origin: Point2
    along: Point2 = (0.0, 0.0)
    radius_mm: float = 0.0
    visible: Spans = field(default_factory=list)
    hidden: Spans = field(default_factory=list)

    def add(self, low: float, high: float, hidden: bool) -> None:
        (self.hidden if hidden else self.visible).append((low, high))

    def settled(self, least: float) -> list[tuple[float, float, bool]]:
        """Its spans without overlaps, hidden only where not visible, none shorter than dust."""
        visible = _joined(self.visible, least)
        hidden = _less_spans(_joined(self.hidden, least), visible)
        spans = [(a, b, h) for h, found in ((False, visible), (True, hidden)) for a, b in found]
        return [span for span in spans if span[1] - span[0] >= least]


def tidied(curves: Sequence[Curve]) -> tuple[Curve, ...]:
    """The curves without overlaps, hidden under visible ones included, in an order of their own."""
    straight = _straight([curve for curve in curves if isinstance(curve, Line)])
    curved = _round([curve for curve in curves if isinstance(curve, Arc)])
    paths: list[Polyline] = []
    rest = [curve for curve in curves if isinstance(curve, Polyline)]
    for path in sorted(rest, key=lambda c: (c.hidden, -len(c.points), c.points)):
        if not all(_beside(point, paths) for point in path.points):
            paths.append(path)
    return (
        *sorted(straight, key=lambda c: (c.hidden, c.start, c.end)),
        *sorted(curved, key=lambda c: (c.hidden, c.centre, c.radius_mm, c.start_deg)),
        *sorted(paths, key=lambda c: (c.hidden, c.points)),
    )


def _straight(lines: Sequence[Line]) -> list[Line]:
    carriers: list[_Carrier] = []
    # Longest first: a short line says little about its direction.
    for line in sorted(lines, key=lambda c: (-dist(c.start, c.end), c.start, c.end)):
        for carrier in carriers:
            ahead = _ahead(carrier, 1.0)
            ends = (line.start, line.end)
            if all(off_line(p, carrier.origin, ahead) <= SNAP_MM for p in ends):
                break
        else:
            length = dist(line.start, line.end)
            step = [(b - a) / length for a, b in zip(line.start, line.end, strict=True)]
            carrier = _Carrier(line.start, (step[0], step[1]))
            carriers.append(carrier)
        at = sorted(_along(carrier, p) for p in (line.start, line.end))
        carrier.add(at[0], at[1], line.hidden)
    return [
        Line(_ahead(carrier, low), _ahead(carrier, high), hidden)
        for carrier in carriers
        for low, high, hidden in carrier.settled(LEAST_MM)
    ]


def _along(carrier: _Carrier, point: Point2) -> float:
    offset = zip(point, carrier.origin, carrier.along, strict=True)
    return sum((p - o) * a for p, o, a in offset)


def _ahead(carrier: _Carrier, distance: float) -> Point2:
    x, y = (o + a * distance for o, a in zip(carrier.origin, carrier.along, strict=True))
    return (rounded(x), rounded(y))


def _round(arcs: Sequence[Arc]) -> list[Arc]:
    carriers: list[_Carrier] = []
    for arc in arcs:
        for carrier in carriers:
            size = abs(carrier.radius_mm - arc.radius_mm)
            if dist(carrier.origin, arc.centre) <= SNAP_MM and size <= SNAP_MM:
                break
        else:
            carrier = _Carrier(arc.centre, radius_mm=arc.radius_mm)
            carriers.append(carrier)
        carrier.add(arc.start_deg, min(arc.end_deg, 360.0), arc.hidden)
        if arc.end_deg > 360.0:
            carrier.add(0.0, arc.end_deg - 360.0, arc.hidden)
    out = []
    for carrier in carriers:
        spans = carrier.settled(degrees(LEAST_MM / carrier.radius_mm))
        for hidden in (False, True):
            out += [
                Arc(carrier.origin, carrier.radius_mm, round(low, 6), round(high, 6), hidden)
                for low, high in _through_zero([s[:2] for s in spans if s[2] is hidden])
            ]
    return out


def _through_zero(spans: Spans) -> Spans:
    """Arcs that end and begin again at 0 degrees made one."""
    if len(spans) > 1 and spans[0][0] <= 1e-6 and spans[-1][1] >= 360.0 - 1e-6:
        return [*spans[1:-1], (spans[-1][0], spans[0][1] + 360.0)]
    return spans


def _beside(point: Point2, paths: Sequence[Polyline]) -> bool:
    """Whether a point lies on one of the paths, as near as the paths follow their curves."""
    return any(
        dist(p, point) + dist(point, q) <= dist(p, q) + CHORD_MM
        and (p == point or off_line(point, p, q) <= 2 * CHORD_MM)
        for path in paths
        for p, q in itertools.pairwise(path.points)
    )
