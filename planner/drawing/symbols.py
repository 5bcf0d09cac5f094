"""Symbols of drawings in strokes: welds, texture, tolerance frames, datums, the projection's sign.

Proportions are those of ISO 2553 (system A), ISO 21920-1 (as ISO 1302), ISO 1101, ISO 5459 and
ISO 5456-2, from memory, in heights of the lettering.
"""

from __future__ import annotations

from math import cos, radians, sin, tan

from planner.drawing.lettering import corners, width_mm
from planner.drawing.model import (
    Arc,
    Box,
    Circle,
    DatumSymbol,
    GeometricTolerance,
    Line,
    Point,
    Polyline,
    Stroke,
    Text,
    TextureSymbol,
    WeldSymbol,
)
from planner.drawing.strokes import (
    TEXT_GAP_MM,
    Drawn,
    along,
    arrow,
    direction_deg,
    drawn,
)

FRAME_PITCH = 2.0
"""Height of a tolerance frame and of a datum's box, in heights of the lettering (ISO 1101: memory)."""

DASHED_OFF_MM = 1.5
"""Between a weld's reference line and the dashed line beside it."""


def _moved(shape: list[Point], at: Point, high: float, up: int) -> tuple[Point, ...]:
    """A shape of a unit's height at its place; up: 1 stands on the line, -1 hangs below it."""
    return tuple((at[0] + high * x, at[1] + up * high * y) for x, y in shape)


WELDS: dict[str, tuple[float, tuple[tuple[list[Point], bool], ...]]] = {
    "fillet": (1.0, (([(0.0, 0.0), (0.0, 1.0), (1.0, 0.0)], True),)),
    "square": (0.4, (([(0.0, 0.0), (0.0, 1.0)], False), ([(0.4, 0.0), (0.4, 1.0)], False))),
    "v": (1.15, (([(0.0, 1.0), (0.575, 0.0), (1.15, 1.0)], False),)),
    "bevel": (1.0, (([(0.0, 0.0), (0.0, 1.0)], False), ([(0.0, 0.0), (1.0, 1.0)], False))),
    "flare-bevel": (
        0.8,
        (
            ([(0.0, 0.0), (0.0, 1.0)], False),
            ([(0.8 * (1 - cos(radians(q))), sin(radians(q))) for q in range(0, 91, 10)], False),
        ),
    ),
    "plug": (1.4, (([(0.0, 0.0), (0.0, 0.8), (1.4, 0.8), (1.4, 0.0)], False),)),
}
"""Each weld's sign: how wide, and its strokes (closed or not), on the line, in heights."""


@drawn.register
def _weld(item: WeldSymbol) -> Drawn:
    high, knee = item.height, item.points[-1]
    rightward = knee[0] >= item.points[-2][0]
    wide, shapes = WELDS[item.kind]
    gap = TEXT_GAP_MM
    before = width_mm(item.size, high) + (gap if item.size else 0.0)
    behind = (gap if item.length else 0.0) + width_mm(item.length, high)
    lead = 3.0 if item.all_round or item.site else 1.5
    run = 2 * lead + before + wide * high + behind
    left = knee[0] if rightward else knee[0] - run
    y = knee[1]
    strokes: list[Stroke] = [
        arrow(item.points[0], direction_deg(item.points[1], item.points[0])),
        Polyline(item.points, "thin"),
        Line((left, y), (left + run, y), "thin"),
    ]
    texts: list[Text] = []
    dashed = y - DASHED_OFF_MM
    if item.system == "B":
        dashed = y
    elif item.side != "both":
        strokes.append(Line((left, dashed), (left + run, dashed), "hidden"))
    feet = {"arrow": ((y, 1),), "other": ((dashed, -1),), "both": ((y, 1), (y, -1))}[item.side]
    if item.system == "B" and item.side != "both":
        feet = ((y, -1 if item.side == "arrow" else 1),)
    sign = left + lead + before
    for foot, up in feet:
        strokes += [
            Polyline(_moved(shape, (sign, foot), high, up), "thin", closed)
            for shape, closed in shapes
        ]
        base = foot + gap if up > 0 else foot - gap - high
        if item.size:
            texts.append(Text((sign - gap, base), item.size, high, "right"))
        if item.length:
            texts.append(Text((sign + wide * high + gap, base), item.length, high))
    if item.all_round:
        strokes.append(Circle(knee, 1.5, "thin"))
    if item.site:
        top = y + 2.2 * high
        strokes.append(Line(knee, (knee[0], top), "thin"))
        flag = ((knee[0], top), (knee[0], top - high), (knee[0] + high, top - high / 2))
        strokes.append(Polyline(flag, "thin", True, True))
    if item.tail:
        end = left + run if rightward else left
        out = 1 if rightward else -1
        fork = ((end + out * high, y + high), (end, y), (end + out * high, y - high))
        strokes.append(Polyline(fork, "thin"))
        at = (end + out * (high + gap), y - high / 2)
        texts.append(Text(at, item.tail, high, "left" if rightward else "right"))
    return Drawn(tuple(strokes), tuple(texts))


@drawn.register
def _texture(item: TextureSymbol) -> Drawn:
    """The sign with legs of 1.4 and 3 heights at 60 degrees, its words under the bar."""
    high, turn = item.height, item.rotation_deg
    short, long = 1.4 * high, 3.0 * high
    lean = 1 / tan(radians(60))

    def at(x: float, y: float) -> Point:
        return along(along(item.at, turn, x), turn + 90, y)

    wide = width_mm(item.words, high) + 2 * TEXT_GAP_MM
    corner, reach = long * lean, long * lean + wide
    strokes: list[Stroke] = [
        Polyline((at(-short * lean, short), at(0, 0), at(corner, long), at(reach, long)), "thin")
    ]
    if item.removal == "required":
        strokes.append(Line(at(-short * lean, short), at(short * lean, short), "thin"))
    elif item.removal == "barred":
        strokes.append(Circle(at(0, short * 2 / 3), short / 3, "thin"))
    foot = at(corner + TEXT_GAP_MM, long - TEXT_GAP_MM - high)
    texts = [Text(foot, item.words, high, "left", turn)]
    if item.leader:
        strokes.append(Polyline(item.leader, "thin"))
        if item.end == "arrow":
            strokes.append(arrow(item.leader[0], direction_deg(item.leader[1], item.leader[0])))
    if item.bracketed:
        x = reach + high
        plain = (at(x + high, short), at(x + high + short * lean, 0))
        leg = at(x + high + short * lean + corner, long)
        strokes.append(Polyline((*plain, leg), "thin"))
        x_end = x + 2 * high + short * lean + corner
        for middle, way in ((x + 2.6 * high, 180.0), (x_end - 2.6 * high + high, 0.0)):
            arc_at = at(middle, long / 2)
            strokes.append(Arc(arc_at, 2.6 * high, turn + way - 35, turn + way + 35, "thin"))
    return Drawn(tuple(strokes), tuple(texts))


CHARACTERISTICS: dict[
    str, tuple[tuple[tuple[Point, ...], ...], tuple[tuple[Point, float], ...]]
] = {
    # name: (strokes, circles), in a box of 1 by 1
    "straightness": ((((0.0, 0.5), (1.0, 0.5)),), ()),
    "flatness": ((((0.0, 0.2), (0.7, 0.2), (1.0, 0.8), (0.3, 0.8), (0.0, 0.2)),), ()),
    "roundness": ((), (((0.5, 0.5), 0.45),)),
    "cylindricity": (
        (((0.0, 0.05), (0.45, 0.95)), ((0.55, 0.05), (1.0, 0.95))),
        (((0.5, 0.5), 0.28),),
    ),
    "parallelism": ((((0.1, 0.0), (0.5, 1.0)), ((0.5, 0.0), (0.9, 1.0))), ()),
    "perpendicularity": ((((0.0, 0.0), (1.0, 0.0)), ((0.5, 0.0), (0.5, 1.0))), ()),
    "angularity": ((((1.0, 0.0), (0.0, 0.0), (0.87, 0.5)),), ()),
    "position": (
        (((0.0, 0.5), (1.0, 0.5)), ((0.5, 0.0), (0.5, 1.0))),
        (((0.5, 0.5), 0.3),),
    ),
    "concentricity": ((), (((0.5, 0.5), 0.45), ((0.5, 0.5), 0.22))),
    "symmetry": (
        (((0.2, 0.25), (0.8, 0.25)), ((0.0, 0.5), (1.0, 0.5)), ((0.2, 0.75), (0.8, 0.75))),
        (),
    ),
    "run-out": ((((0.1, 0.0), (0.9, 1.0)), ((0.86, 0.6), (0.9, 1.0), (0.55, 0.8))), ()),
    "total run-out": (
        (
            ((0.0, 0.0), (0.5, 1.0)),
            ((0.5, 0.6), (0.5, 1.0), (0.17, 0.75)),
            ((0.5, 0.0), (1.0, 1.0)),
            ((1.0, 0.6), (1.0, 1.0), (0.67, 0.75)),
            ((0.0, 0.0), (0.5, 0.0)),
        ),
        (),
    ),
}
"""Signs of ISO 1101."""


def _cells(item: GeometricTolerance) -> list[float]:
    """How wide the fields of a tolerance frame are."""
    high = item.height
    tall = FRAME_PITCH * high
    return [tall, *(max(width_mm(w, high) + high, tall) for w in (item.value, *item.datums))]


def frame_width_mm(item: GeometricTolerance) -> float:
    """How wide a tolerance frame is."""
    return sum(_cells(item))


@drawn.register
def _tolerance(item: GeometricTolerance) -> Drawn:
    high, (left, low) = item.height, item.at
    tall = FRAME_PITCH * high
    cells = _cells(item)
    edges = [left]
    for cell in cells:
        edges.append(edges[-1] + cell)
    strokes: list[Stroke] = [
        Polyline(
            ((left, low), (edges[-1], low), (edges[-1], low + tall), (left, low + tall)),
            "thin",
            True,
        )
    ]
    strokes += [Line((x, low), (x, low + tall), "thin") for x in edges[1:-1]]
    lines, rings = CHARACTERISTICS[item.characteristic]
    size, off = 1.2 * high, (tall - 1.2 * high) / 2
    place = (left + off, low + off)
    strokes += [Polyline(_moved(list(line), place, size, 1), "thin") for line in lines]
    strokes += [
        Circle((place[0] + size * x, place[1] + size * y), size * r, "thin") for (x, y), r in rings
    ]
    texts = tuple(
        Text(((a + b) / 2, low + (tall - high) / 2), words, high, "middle")
        for a, b, words in zip(edges[1:], edges[2:], (item.value, *item.datums), strict=False)
    )
    if item.leader:
        strokes.append(Polyline(item.leader, "thin"))
        strokes.append(arrow(item.leader[0], direction_deg(item.leader[1], item.leader[0])))
    return Drawn(tuple(strokes), texts)


@drawn.register
def _datum(item: DatumSymbol) -> Drawn:
    high, way = item.height, item.away_deg
    tall = FRAME_PITCH * high
    tip = along(item.at, way, high * cos(radians(30)))
    triangle = (along(item.at, way + 90, high / 2), along(item.at, way - 90, high / 2), tip)
    x, y = along(item.at, way, item.reach + tall / 2)
    half = tall / 2
    box = ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))
    strokes: tuple[Stroke, ...] = (
        Polyline(triangle, "thin", True, True),
        Line(tip, along(item.at, way, item.reach), "thin"),
        Polyline(box, "thin", True),
    )
    if item.extension:
        strokes += (Polyline(item.extension, "thin"),)
    return Drawn(strokes, (Text((x, y - high / 2), item.letter, high, "middle"),))


def texture_box(item: TextureSymbol) -> Box:
    """The rectangle round a texture's sign."""
    return _around(item)


def weld_box(item: WeldSymbol) -> Box:
    """The rectangle round a weld's symbol."""
    return _around(item)


def _around(item: TextureSymbol | WeldSymbol) -> Box:
    piece = drawn(item)
    points = [p for stroke in piece.strokes for p in _ends(stroke)]
    points += [corner for text in piece.texts for corner in corners(text)]
    xs, ys = zip(*points, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def _ends(stroke: Stroke) -> tuple[Point, ...]:
    match stroke:
        case Line(start, end):
            return start, end
        case Polyline(points):
            return points
        case Circle((x, y), r) | Arc((x, y), r):
            return (x - r, y - r), (x + r, y + r)
    raise TypeError(type(stroke).__name__)


def projection_sign(at: Point, high: float, first: bool) -> tuple[Stroke, ...]:
    """The sign of first- or third-angle projection (ISO 5456-2), so high, from its lower left corner.

    A cone's frustum lies on its side, its small end to the left; from the left (its small end first)
    the view stands to the right of it in first angle, to the left in third.
    """
    x, y = at
    middle, gap = y + high / 2, high * 0.4
    cone_x, ring_x = (x, x + high + gap) if first else (x + high + gap, x)
    small, half = high / 4, high / 2
    frustum = (
        (cone_x, middle - small),
        (cone_x + high, middle - half),
        (cone_x + high, middle + half),
        (cone_x, middle + small),
    )
    centre = (ring_x + half, middle)
    over = high * 0.12
    return (
        Polyline(frustum, "thin", True),
        Circle(centre, half, "thin"),
        Circle(centre, small, "thin"),
        Line((x - over, middle), (x + 2 * high + gap + over, middle), "centre"),
        Line((centre[0], middle - half - over), (centre[0], middle + half + over), "centre"),
    )
