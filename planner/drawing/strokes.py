"""What every item of a sheet looks like: plain strokes and texts, the same for all writers.

The layout's checks ask the same function, so that what they find is what is printed.
"""

from __future__ import annotations

from functools import singledispatch
from itertools import pairwise
from math import atan2, cos, degrees, hypot, radians, sin
from typing import NamedTuple

from planner.drawing.lettering import width_mm
from planner.drawing.model import (
    Arc,
    Balloon,
    Circle,
    Hatch,
    Leader,
    Line,
    Point,
    Polyline,
    Stroke,
    Style,
    Text,
)


class Pen(NamedTuple):
    """How a line is drawn: its width, its layer in DXF, and its linetype there (dxf.drawing)."""

    width: float
    layer: str
    linetype: str


WIDE, NARROW, FRAME = 0.5, 0.25, 0.7
"""Line widths of A4 and A3, 2:1 (common practice), and of the frame (ISO 5457, from memory)."""

PENS: dict[Style, Pen] = {
    "visible": Pen(WIDE, "VISIBLE", "CONTINUOUS"),
    "hidden": Pen(NARROW, "HIDDEN", "HIDDEN"),
    "centre": Pen(NARROW, "CENTER", "CENTER"),
    "thin": Pen(NARROW, "THIN", "CONTINUOUS"),
    "cutting": Pen(WIDE, "CUTTING", "CUTTING"),
    "phantom": Pen(NARROW, "PHANTOM", "PHANTOM"),
    "frame": Pen(FRAME, "FRAME", "CONTINUOUS"),
}
"""By what a line shows: ISO 128-2 types 01.2, 02.1, 04.1, 01.1, 04.2, 05.1 (from memory)."""

ARROW_MM, ARROW_WIDTH_MM = 3.0, 1.0
"""An arrow's length and width, 3:1 (ASME Y14.2)."""

DOT_MM = 1.5
"""Across a leader's dot (ASME Y14.2)."""

TEXT_GAP_MM = 1.0
"""Between a line and the figures that stand on it (common practice)."""

SHELF_GAP_MM = 1.4
"""The same of words on a leader's shelf, whose g, p and y go down by 1.0 mm: clear of the line, and of
a datum's triangle that hangs under it (common practice)."""

LINE_PITCH = 1.6
"""From line to line of writing, in heights: a space of 0.6 (ASME Y14.2: 0.5 to 1)."""


class Drawn(NamedTuple):
    """An item taken apart. What is filled among the strokes is black."""

    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()


@singledispatch
def drawn(item: object) -> Drawn:
    """The strokes and texts of one item."""
    raise TypeError(f"no rule to draw a {type(item).__name__}")


@drawn.register(Line)
@drawn.register(Polyline)
@drawn.register(Arc)
@drawn.register(Circle)
def _stroke(item: Stroke) -> Drawn:
    return Drawn((item,))


@drawn.register
def _text(item: Text) -> Drawn:
    return Drawn((), (item,))


@drawn.register
def _hatch(item: Hatch) -> Drawn:
    """Level lines through the area turned back by the hatching's angle; in where crossings are odd."""
    turn = radians(item.angle_deg)
    c, s = cos(turn), sin(turn)
    loops = [[(x * c + y * s, y * c - x * s) for x, y in loop] for loop in item.loops]
    edges = [pair for loop in loops for pair in pairwise([*loop, loop[0]])]
    low = min(y for loop in loops for _, y in loop)
    top = max(y for loop in loops for _, y in loop)
    lines: list[Line] = []
    # half a step off, so that no line runs along an edge that lies on the grid
    for row in range(int(low / item.spacing) - 1, int(top / item.spacing) + 2):
        level = (row + 0.5) * item.spacing
        crossed = sorted(
            ax + (level - ay) * (bx - ax) / (by - ay)
            for (ax, ay), (bx, by) in edges
            if (ay <= level) != (by <= level)
        )
        for left, right in zip(crossed[::2], crossed[1::2], strict=True):
            ends = [(x * c - level * s, x * s + level * c) for x in (left, right)]
            lines.append(Line(ends[0], ends[1], "thin"))
    return Drawn(tuple(lines))


@drawn.register
def _leader(item: Leader) -> Drawn:
    points = item.points
    strokes: list[Stroke] = []
    if item.end == "arrow":
        strokes.append(arrow(points[0], direction_deg(points[1], points[0])))
    elif item.end == "dot":
        strokes.append(dot(points[0]))
    widest = max((width_mm(words, item.height) for words in item.words), default=0.0)
    rightward = points[-1][0] >= points[-2][0]
    x, y = points[-1]
    shoulder = (x + (widest if rightward else -widest), y)
    strokes.append(Polyline((*points, shoulder) if widest else points, "thin"))
    foot = y + SHELF_GAP_MM
    texts = tuple(
        Text(
            (min(x, shoulder[0]), foot + LINE_PITCH * item.height * up),
            words,
            item.height,
        )
        for up, words in enumerate(reversed(item.words))
    )
    return Drawn(tuple(strokes), texts)


@drawn.register
def _balloon(item: Balloon) -> Drawn:
    x, y = item.at
    strokes: list[Stroke] = [Circle(item.at, item.radius, "thin")]
    if item.tip is not None:
        way = direction_deg(item.at, item.tip)
        strokes.append(Line(along(item.at, way, item.radius), item.tip, "thin"))
        strokes.append(arrow(item.tip, way) if item.end == "arrow" else dot(item.tip))
    text = Text((x, y - item.height / 2), item.number, item.height, "middle")
    return Drawn(tuple(strokes), (text,))


def along(point: Point, deg: float, by: float) -> Point:
    """A point so far on in a direction."""
    return point[0] + by * cos(radians(deg)), point[1] + by * sin(radians(deg))


def direction_deg(start: Point, end: Point) -> float:
    """The direction from one point to another, -180 to 180; 0 where they are the same."""
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))


def distance(one: Point, other: Point) -> float:
    """How far two points are apart."""
    return hypot(other[0] - one[0], other[1] - one[1])


def readable_deg(deg: float) -> float:
    """A line's direction so that words along it are read from below or from the right: -90 to 90."""
    turned = deg % 180
    return turned - 180 if turned > 90 + 1e-6 else turned


def arrow(tip: Point, deg: float) -> Polyline:
    """A filled arrow that points in a direction."""
    foot = along(tip, deg, -ARROW_MM)
    half = ARROW_WIDTH_MM / 2
    return Polyline(
        (tip, along(foot, deg + 90, half), along(foot, deg - 90, half)), "thin", True, True
    )


def dot(at: Point) -> Polyline:
    """A filled dot, as a polygon of 24 sides."""
    ring = tuple(along(at, 15.0 * k, DOT_MM / 2) for k in range(24))
    return Polyline(ring, "thin", True, True)
