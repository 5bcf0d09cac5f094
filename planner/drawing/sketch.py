"""A few lines in mm of a thing, put on a paper somewhere, at a scale, turned or flipped.

Imported by setup and setup_tools, whose outlines are made of it; needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import cos, radians, sin

from parts.value import Value
from planner.drawing.model import Arc, Circle, Item, Line, Point, Polyline, Style
from planner.geometry import curves


class At(Value, frozen=True):
    """Where a sketch stands on the paper.

    origin: of the sketch's own u and v, mm of the paper; scale: paper over thing, above 0; turn_deg:
    anticlockwise; flip: mirrored first, v for -v, for what comes from below or from the other hand.
    """

    origin: Point
    scale: float = 1.0
    turn_deg: float = 0.0
    flip: bool = False

    def point(self, point: Point) -> Point:
        """A point of the sketch on the paper."""
        u, v = point[0], -point[1] if self.flip else point[1]
        c, s = cos(radians(self.turn_deg)), sin(radians(self.turn_deg))
        x, y = self.origin
        return x + self.scale * (u * c - v * s), y + self.scale * (u * s + v * c)

    def moved(self, u: float, v: float = 0.0) -> At:
        """The same with its origin at another place of the sketch."""
        return At(self.point((u, v)), self.scale, self.turn_deg, self.flip)

    def ring(self, points: Iterable[Point], style: Style = "thin") -> Item:
        """A closed outline."""
        return Polyline(tuple(self.point(p) for p in points), style, closed=True)

    def path(self, points: Iterable[Point], style: Style = "thin") -> Item:
        """An open line."""
        return Polyline(tuple(self.point(p) for p in points), style)

    def circle(self, centre: Point, radius: float, style: Style = "thin") -> Item:
        """A circle."""
        return Circle(self.point(centre), self.scale * radius, style)

    def curve(self, curve: curves.Curve, style: Style = "thin") -> Item:
        """A plane curve of a solid's view or of a profile."""
        match curve:
            case curves.Line(start, end):
                return Line(self.point(start), self.point(end), style)
            case curves.Polyline(points):
                return self.path(points, style)
            case curves.Arc(centre, radius, start_deg, end_deg):
                if end_deg - start_deg >= 360.0 - 1e-6:
                    return self.circle(centre, radius, style)
                ends = (-end_deg, -start_deg) if self.flip else (start_deg, end_deg)
                low, high = (end + self.turn_deg for end in ends)
                return Arc(self.point(centre), self.scale * radius, low, high, style)
        raise TypeError(type(curve).__name__)


def box(left: float, low: float, right: float, top: float) -> Sequence[Point]:
    """The corners of an upright rectangle, anticlockwise."""
    return (left, low), (right, low), (right, top), (left, top)
