"""Plane curves of a drawing: what the solid's views and the flat profiles are made of, in mm.

solids and geometry.profiles make them; it imports nothing.
"""

from __future__ import annotations

from parts.value import Value

Point2 = tuple[float, float]


class Line(Value, frozen=True):
    """A straight line."""

    start: Point2
    end: Point2
    hidden: bool = False


class Arc(Value, frozen=True):
    """An arc, anticlockwise from ``start_deg`` to ``end_deg``; a full circle when 360 apart."""

    centre: Point2
    radius_mm: float
    start_deg: float
    end_deg: float
    hidden: bool = False


class Polyline(Value, frozen=True):
    """A curve that is neither, as points close enough together to draw it."""

    points: tuple[Point2, ...]
    hidden: bool = False


Curve = Line | Arc | Polyline


class Outline(Value, frozen=True):
    """A closed outline as vertices, each with the bulge of the arc to the next (0 for a line).

    The bulge is the tangent of a quarter of the arc's angle, positive when it turns left: the
    convention of DXF polylines. A circle is two vertices with a bulge of 1.
    """

    vertices: tuple[tuple[float, float, float], ...]


class FlatProfile(Value, frozen=True):
    """A piece cut from flat bar or plate: what is cut right through, and what is only marked.

    name: file-name form; title: as on a sheet. outline is cut last, holes first; marks are centre
    marks of holes drilled later; thickness_mm of the plate.
    """

    name: str
    title: str
    material: str
    thickness_mm: float
    outline: Outline
    holes: tuple[Outline, ...]
    marks: tuple[Point2, ...]
