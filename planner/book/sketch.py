"""A sketch of a set-up from its record: chuck and centres as outlines. The work in them and its tool
are book.turned, what does not turn is book.across.

Only what the record and the work's bodies say is drawn; where they say too little there is no sketch.
Outlines are those of planner.drawing.setup and setup_tools. Imported by the route's blocks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from msgspec.structs import replace

from planner.book import turned
from planner.book.across import across
from planner.book.bodies import Body
from planner.book.model import Picture
from planner.drawing import setup
from planner.drawing.model import Arc, Circle, Fields, Item, Line, Point, Polyline, Sheet
from planner.drawing.sketch import At
from planner.drawing.svg import svg

Record = Mapping[str, Any]

WIDE_MM, HIGH_MM = 54.0, 34.0
"""The most that a sketch usually takes beside the words."""

LOW_MM, WIDEST_MM, HIGHEST_MM = 24.0, 120.0, 62.0
"""One that would be lower than three quarters of the first is wider, at most the second; one that would
be narrower so is higher, at most the third."""

CLEAR_MM = 1.0
"""Round it."""

SHOWN_MM = 3.0
"""So much behind the jaws is drawn."""

GRIPS = 4.0
"""A chuck is drawn as wide as it is, or at least so many times as wide as thin work in it."""

CHUCKS = ("three-jaw chuck", "four-jaw chuck", "collet")


class Shop(NamedTuple):
    """Plain sizes of the lathe that the sketches show, mm."""

    chuck_mm: float
    jaw_reach_mm: float


def sketched(
    hold: Record,
    cuts: Sequence[Record],
    shop: Shop,
    name: str,
    bodies: Sequence[Body] = (),
    before: Sequence[Record] = (),
) -> Picture | None:
    """The sketch; None where the record does not say enough for one.

    bodies: of the work, which need not be known for what turns in a chuck or between centres;
    before: what was cut from the same piece in earlier set-ups.
    """
    items = drawn(hold, cuts, shop, bodies, before)
    return _fitted(items, f"{name}, how it is held") if items else None


def drawn(
    hold: Record,
    cuts: Sequence[Record],
    shop: Shop,
    bodies: Sequence[Body] = (),
    before: Sequence[Record] = (),
) -> list[Item]:
    """What the sketch shows, in mm of the work, as for ``sketched``; nothing where that is None."""
    at, by = At((0.0, 0.0)), hold["by"]
    if by in CHUCKS and hold["axis"] and hold["grips"] and hold["out_mm"]:
        return list(_chucked(hold, cuts, shop, at, bodies, before))
    if by == "between centres" and hold["centre"] and hold["headstock_centre"]:
        return list(_between(hold, cuts, at))
    if by not in (*CHUCKS, "between centres"):
        return across(hold, cuts, bodies, shop.chuck_mm)
    return []


# ---- on the lathe ----


def _behind(hold: Record, bodies: Sequence[Body]) -> float:
    """How much of the work lies behind the jaws, mm."""
    grip, axis = hold["grips"][0], "xyz".index(hold["axis"]["along"][1])
    sign = 1.0 if hold["axis"]["along"].startswith("+") else -1.0
    last = min(sign * float(grip["from_mm"]), sign * float(grip["to_mm"]))
    ends = [sign * one[axis] for body in bodies for one in (body.low, body.high)]
    return max(0.0, last - min(ends)) if ends else 0.0


def _chucked(
    hold: Record,
    cuts: Sequence[Record],
    shop: Shop,
    at: At,
    bodies: Sequence[Body],
    before: Sequence[Record],
) -> Iterator[Item]:
    grip = hold["grips"][0]
    sign = 1.0 if hold["axis"]["along"].startswith("+") else -1.0
    ends = sorted(sign * one for one in (grip["from_mm"], grip["to_mm"]))
    front, deep, out = ends[1], ends[1] - ends[0], float(hold["out_mm"])
    size = float(grip["size_mm"])
    if grip["inside"] or not 0 < size < 0.95 * shop.chuck_mm or deep <= 0:
        return
    along = turned.Along("xyz".index(hold["axis"]["along"][1]), sign, front)
    reach, rear = max(shop.jaw_reach_mm, deep), _behind(hold, bodies)
    profile = turned.before_it(size, bodies, before, cuts, along, (-deep - rear, out))
    # the jaws are as long as they are; the chuck is no higher than leaves the work large enough to see
    wide = min(shop.chuck_mm, max(GRIPS * size, HIGH_MM / WIDE_MM * (reach + out)))
    yield from setup.chuck(at, wide, size, min(deep, reach), reach, 0.12 * wide)
    if rear > SHOWN_MM:  # past the chuck's own back, through the spindle
        yield from turned.behind(profile, deep, reach + 0.12 * wide, at)
    follows = bool(hold["steady"] and hold["steady"].get("travelling"))
    yield from turned.work(profile, -deep, out, cuts, along, at, follows)
    if hold["centre"]:
        hole = max(2.0, float(hold["centre"]["hole_mm"] or 4.0))
        hole = min(hole, 0.6 * size)
        live = hold["centre"]["kind"] == "live"
        yield from setup.centre(at.moved(out), hole, max(12.0, hole), live)
    if (
        hold["steady"] and hold["steady"]["at_mm"] is not None
    ):  # a travelling one goes with the tool
        place = sign * float(hold["steady"]["at_mm"]) - front
        if 0 < place < out:
            yield from setup.steady(at.moved(place), float(hold["steady"]["diameter_mm"]), 6.0)


def _between(hold: Record, cuts: Sequence[Record], at: At) -> Iterator[Item]:
    turning = [cut for cut in cuts if cut["shape"] in ("turn", "thread")]
    if not turning or not hold["out_mm"]:
        return
    sign = 1.0 if hold["axis"]["along"].startswith("+") else -1.0
    size = max(float(cut.get("before_mm") or cut["diameter_mm"]) for cut in turning)
    out = float(hold["out_mm"])
    start = min(sign * float(cut[end]) for cut in turning for end in ("from_mm", "to_mm"))
    along = turned.Along("xyz".index(hold["axis"]["along"][1]), sign, min(0.0, start))
    yield from turned.work(turned.Profile([(0.0, out, size)]), 0.0, out, cuts, along, at)
    hole = 0.4 * size
    yield from setup.centre(at.moved(out), hole, max(10.0, hole), hold["centre"]["kind"] == "live")
    back = At(at.origin, at.scale, 180.0)
    yield from setup.centre(back, hole, max(10.0, hole))


# ---- on the paper ----


def _fitted(items: Sequence[Item], name: str) -> Picture:
    """The items as an SVG no larger than a sketch may be, never larger than the thing."""
    points = [p for item in items for p in _points(item)]
    left, right = min(p[0] for p in points), max(p[0] for p in points)
    low, top = min(p[1] for p in points), max(p[1] for p in points)
    across, up = WIDE_MM / (right - left), HIGH_MM / (top - low)
    if across * (top - low) < 0.75 * LOW_MM:
        across = min(LOW_MM / (top - low), WIDEST_MM / (right - left))
    elif up * (right - left) < 0.75 * LOW_MM:
        up = min(LOW_MM / (right - left), HIGHEST_MM / (top - low))
    scale = min(across, up, 1.0)
    wide, high = scale * (right - left) + 2 * CLEAR_MM, scale * (top - low) + 2 * CLEAR_MM
    off = (CLEAR_MM - scale * left, CLEAR_MM - scale * low)
    moved = tuple(_moved(item, scale, off) for item in items)
    sheet = Sheet("", wide, high, Fields(name, ""), items=moved)
    return Picture(svg(sheet, with_font=False), wide, high, name)


def _points(item: Item) -> list[Point]:
    match item:
        case Line(start, end):
            return [start, end]
        case Polyline(points):
            return list(points)
        case Circle((x, y), r) | Arc((x, y), r):
            return [(x - r, y - r), (x + r, y + r)]
    raise TypeError(type(item).__name__)


def _moved(item: Item, scale: float, off: Point) -> Item:
    def at(p: Point) -> Point:
        return scale * p[0] + off[0], scale * p[1] + off[1]

    match item:
        case Line(start, end):
            return replace(item, start=at(start), end=at(end))
        case Polyline(points):
            return replace(item, points=tuple(at(p) for p in points))
        case Circle(centre, radius) | Arc(centre, radius):
            return replace(item, centre=at(centre), radius=scale * radius)
    raise TypeError(type(item).__name__)
