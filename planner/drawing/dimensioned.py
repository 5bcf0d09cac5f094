"""How dimensions are drawn: extension lines, dimension line, arrows, text and limits (ISO 129-1).

The rules of ISO 129-1 are from memory: extension lines run past the dimension line, words stand over it
and are read from below or from the right; arrows point from outside where there is no room between.
"""

from __future__ import annotations

from math import cos, degrees, radians, sin

from planner.drawing.lettering import width_mm
from planner.drawing.model import Arc, Dimension, Line, Point, Polyline, Stroke, Text
from planner.drawing.strokes import (
    ARROW_MM,
    TEXT_GAP_MM,
    Drawn,
    along,
    arrow,
    direction_deg,
    distance,
    drawn,
    readable_deg,
)

OVERRUN_MM = 2.0
"""Of an extension line past its dimension line: eight narrow widths."""

EDGE_GAP_MM = 1.0
"""Between the part's edge and the extension line, so that the edge is seen to end."""

OUTSIDE_MM = 7.0
"""Of a dimension line beyond arrows that point from outside."""

ROOM_MM = 2 * ARROW_MM + 2.0
"""Least room for two arrows between two extension lines."""

SAME_DEG = 1e-3
"""Words that read a way nearer to their line's are not turned round."""

LOW_MM = 1.0
"""What letters reach below their foot, at most, of the usual height."""

LIMIT = 0.7
"""Height of limits over one another, as part of the dimension's: a step of ISO 3098's series."""

LIMIT_STEP = 1.45
"""From the lower to the upper limit's foot, in heights of the limits."""


@drawn.register
def _dimension(item: Dimension) -> Drawn:
    if item.kind == "angle":
        return _angle(item)
    if item.kind == "radius":
        return _pointing(item, item.feet[1], None)
    if item.kind == "diameter":
        near, far = sorted(item.feet, key=lambda foot: distance(foot, item.at))
        centre = ((near[0] + far[0]) / 2, (near[1] + far[1]) / 2)
        if distance(item.at, centre) > distance(near, centre):
            return _pointing(item, near, far)
        left, right = sorted(item.feet)
        return _line(item, left, right, direction_deg(left, right))
    return _linear(item)


def words_width_mm(item: Dimension) -> float:
    """How wide a dimension's words are, limits and all."""
    return width_mm(item.text, item.height) + _limits_width_mm(item)


def _limits_width_mm(item: Dimension) -> float:
    limits = [words for words in (item.upper, item.lower) if words]
    if not limits:
        return 0.0
    high = LIMIT * item.height
    return TEXT_GAP_MM + max(width_mm(words, high) for words in limits)


def _words(item: Dimension, foot: Point, rotation_deg: float) -> tuple[Text, ...]:
    """The text and its limits, their whole width about the middle of their foot."""
    start = along(foot, rotation_deg, -words_width_mm(item) / 2)
    if not item.upper and not item.lower:
        return (Text(start, item.text, item.height, "left", rotation_deg),)
    high = LIMIT * item.height
    step = LIMIT_STEP * high
    raised = (step + high - item.height) / 2
    main = along(start, rotation_deg + 90, raised)
    texts = [Text(main, item.text, item.height, "left", rotation_deg)]
    limits = along(start, rotation_deg, width_mm(item.text, item.height) + TEXT_GAP_MM)
    for words, up in ((item.lower, 0.0), (item.upper, step)):
        if words:
            at = along(limits, rotation_deg + 90, up)
            texts.append(Text(at, words, high, "left", rotation_deg))
    return tuple(texts)


def _linear(item: Dimension) -> Drawn:
    first, second = item.feet
    way = direction_deg(first, second) if item.along_deg is None else item.along_deg
    right = (cos(radians(way)), sin(radians(way)))

    def onto(point: Point) -> tuple[float, Point]:
        """How far along the dimension line a foot comes out, and the place there."""
        dx, dy = point[0] - item.at[0], point[1] - item.at[1]
        run = dx * right[0] + dy * right[1]
        return run, (item.at[0] + run * right[0], item.at[1] + run * right[1])

    (_, p), (_, q) = sorted((onto(first), onto(second)))
    lines: list[Stroke] = []
    for foot in (first, second):
        end = onto(foot)[1]
        reach = distance(foot, end)
        if reach > EDGE_GAP_MM:
            out = direction_deg(foot, end)
            start = along(foot, out, EDGE_GAP_MM)
            lines.append(Line(start, along(end, out, OVERRUN_MM), "thin"))
    rest = _line(item, p, q, way)
    return Drawn((*lines, *rest.strokes), rest.texts)


def _line(item: Dimension, p: Point, q: Point, way: float) -> Drawn:
    """The dimension line from p to q, which lies on in direction way, with arrows and words."""
    reads = readable_deg(way)
    if abs((reads - way + 180) % 360 - 180) > SAME_DEG:
        p, q, way = q, p, reads
    long, wide = distance(p, q), words_width_mm(item)
    inside = long >= ROOM_MM
    start, end = (0.0, long) if inside else (-OUTSIDE_MM, long + OUTSIDE_MM)
    if item.shift is not None:
        middle = long / 2 + item.shift
    elif wide <= long - (2 * TEXT_GAP_MM if inside else 0.0):
        middle = long / 2
    else:
        middle = max(long, end) + TEXT_GAP_MM + wide / 2
    if middle - wide / 2 > long or middle + wide / 2 < 0:
        start, end = min(start, middle - wide / 2), max(end, middle + wide / 2)
    strokes: list[Stroke] = [Line(along(p, way, start), along(p, way, end), "thin")]
    strokes += (
        [arrow(p, way + 180), arrow(q, way)] if inside else [arrow(p, way), arrow(q, way + 180)]
    )
    foot = along(along(p, way, middle), way + 90, TEXT_GAP_MM)
    return Drawn(tuple(strokes), _words(item, foot, way))


def _pointing(item: Dimension, near: Point, far: Point | None) -> Drawn:
    """A line from the shoulder to the circle, and across it to the far end of a diameter."""
    way = direction_deg(item.at, near)
    rightward = cos(radians(way)) <= 1e-9
    wide = words_width_mm(item)
    end = (item.at[0] + (wide if rightward else -wide), item.at[1])
    across = distance(near, far) if far else 0.0
    if far and across >= ROOM_MM:
        line = Polyline((far, item.at, end), "thin")
        tips = (arrow(far, way), arrow(near, way + 180))
        return Drawn((line, *tips), _level(item, end))
    line = Polyline((near, item.at, end), "thin")
    return Drawn((line, arrow(near, way)), _level(item, end))


def _level(item: Dimension, end: Point) -> tuple[Text, ...]:
    """Level words over the shoulder."""
    return _words(item, ((item.at[0] + end[0]) / 2, item.at[1] + TEXT_GAP_MM), 0.0)


def _angle(item: Dimension) -> Drawn:
    vertex, *legs = item.feet
    radius = distance(vertex, item.at)
    first, second = (direction_deg(vertex, leg) for leg in legs)
    sweep = (second - first) % 360
    strokes: list[Stroke] = []
    for leg, deg in zip(legs, (first, second), strict=True):
        reach = distance(vertex, leg)
        if radius > reach + EDGE_GAP_MM:
            ends = (reach + EDGE_GAP_MM, radius + OVERRUN_MM)
            strokes.append(Line(along(vertex, deg, ends[0]), along(vertex, deg, ends[1]), "thin"))
    per_mm = degrees(1 / radius)
    long, wide = sweep / per_mm, words_width_mm(item)
    inside = long >= ROOM_MM
    beyond = 0.0 if inside else OUTSIDE_MM
    if item.shift is not None:
        middle = long / 2 + item.shift
    elif wide <= long - 2 * TEXT_GAP_MM:
        middle = long / 2
    else:
        middle = long + beyond + TEXT_GAP_MM + wide / 2
    low, high = -beyond, long + beyond
    if not 0 <= middle <= long:
        low, high = min(low, middle - wide / 2), max(high, middle + wide / 2)
    strokes.append(Arc(vertex, radius, first + low * per_mm, first + high * per_mm, "thin"))
    # an arrow lies along the chord of its own length, so that its foot is on the arc
    lean = degrees(ARROW_MM / (2 * radius))
    ways = (first + lean - 90, second - lean + 90)
    if not inside:
        ways = (first - lean + 90, second + lean - 90)
    strokes += [arrow(along(vertex, first, radius), ways[0])]
    strokes += [arrow(along(vertex, second, radius), ways[1])]
    at_deg = first + middle * per_mm
    reads = readable_deg(at_deg - 90)
    off = radius + TEXT_GAP_MM
    if abs((reads - at_deg + 90 + 180) % 360 - 180) > SAME_DEG:
        # read with its head to the vertex: inside the arc, its ends clear of it, or else outside
        reach = radius - TEXT_GAP_MM
        fits = reach - item.height > wide / 2
        off = (reach**2 - wide**2 / 4) ** 0.5 if fits else off + LOW_MM + item.height
    return Drawn(tuple(strokes), _words(item, along(vertex, at_deg, off), reads))
