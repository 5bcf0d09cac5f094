"""What is wrong with a sheet as it is drawn: measured on its strokes and texts with shapely."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import cos, radians, sin

from msgspec.structs import replace
from shapely.geometry import LineString, Polygon
from shapely.strtree import STRtree

from planner.drawing import frame
from planner.drawing.apart import drawn
from planner.drawing.lettering import corners
from planner.drawing.model import (
    Arc,
    Balloon,
    Circle,
    GeometricTolerance,
    Leader,
    Line,
    Polyline,
    Sheet,
    Stroke,
    TextureSymbol,
    WeldSymbol,
)

TOUCH_MM = 0.1
"""Words may come this near to a line before they count as standing on it."""


def shape(stroke: Stroke) -> LineString:
    """A stroke as shapely has it; an arc in steps of 3 degrees."""
    match stroke:
        case Line(start, end):
            return LineString([start, end])
        case Polyline(points):
            return LineString([*points, points[0]] if stroke.closed else points)
        case Circle(centre, radius):
            return _arc(centre, radius, 0.0, 360.0)
        case Arc(centre, radius, start_deg, end_deg):
            return _arc(centre, radius, start_deg, end_deg)
    raise TypeError(type(stroke).__name__)


def _arc(centre: tuple[float, float], radius: float, start: float, end: float) -> LineString:
    count = max(2, int(abs(end - start) / 3))
    turns = [radians(start + (end - start) * k / count) for k in range(count + 1)]
    return LineString([(centre[0] + radius * cos(t), centre[1] + radius * sin(t)) for t in turns])


def overlaps(sheet: Sheet) -> Iterator[str]:
    """Text on text, text on a line, either off the sheet or in its data fields, leaders crossing."""
    space, block = frame.inside(sheet), frame.block(sheet)
    fields = Polygon(
        [
            (block.left, block.low),
            (block.right, block.low),
            (block.right, block.top),
            (block.left, block.top),
        ]
    ).buffer(-TOUCH_MM)
    texts, lines = [], []
    for item in sheet.items:
        piece = drawn(item)
        texts += [(text.words, Polygon(corners(text))) for text in piece.texts]
        lines += [(type(item).__name__, shape(stroke)) for stroke in piece.strokes]
    for words, area in texts:
        left, low, right, top = area.bounds
        if left < space.left or right > space.right or low < space.low or top > space.top:
            yield f"{words!r} off the sheet"
    for name, line in lines:
        left, low, right, top = line.bounds
        if left < space.left or right > space.right or low < space.low or top > space.top:
            yield f"a line of a {name} off the sheet"
    yield from (
        f"{name} in the data fields" for name, what in (*texts, *lines) if what.intersects(fields)
    )
    inner = [area.buffer(-TOUCH_MM) for _, area in texts]
    frames = [("frame", shape(s)) for item in sheet.frame for s in drawn(item).strokes]
    every = [*lines, *frames]
    words_tree, line_tree = STRtree(inner), STRtree([line for _, line in every])
    for number, area in enumerate(inner):
        for other in words_tree.query(area, predicate="intersects"):
            if other > number:
                yield f"{texts[number][0]!r} on {texts[other][0]!r}"
        for other in line_tree.query(area, predicate="intersects"):
            yield f"{texts[number][0]!r} on a line of a {every[other][0]}"
    leaders = list(_leaders(sheet))
    for one, two in combinations(leaders, 2):
        if one[1].crosses(two[1]):
            yield f"the leaders of {one[0]} and {two[0]} cross"


def _leaders(sheet: Sheet) -> Iterator[tuple[object, LineString]]:
    """Every line from words or a sign to what they are of."""
    for item in sheet.items:
        if isinstance(item, Leader):
            yield item.words, LineString(item.points)
        elif isinstance(item, Balloon) and item.tip is not None:
            yield item.number, LineString([item.at, item.tip])
        elif isinstance(item, WeldSymbol):
            yield item.feature, LineString(item.points)
        elif isinstance(item, TextureSymbol | GeometricTolerance) and item.leader:
            goes_on = isinstance(item, TextureSymbol) and item.end == "none"
            yield from () if goes_on else [(item.feature, LineString(item.leader[:2]))]


def mutations(sheet: Sheet) -> Iterator[tuple[str, Sheet]]:
    """The sheet with each thing that it says removed, and with each repeated."""
    for number, item in enumerate(sheet.items):
        mark = getattr(item, "feature", "")
        if mark:
            rest = sheet.items[:number] + sheet.items[number + 1 :]
            yield f"without {mark}", replace(sheet, items=rest)
            yield f"twice {mark}", replace(sheet, items=(*sheet.items, item))
