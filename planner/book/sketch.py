"""A sketch of a set-up from its record: chuck and centres as outlines, the work in them, the tool; what
does not turn is book.across.

Only what the record and the work's bodies say is drawn; where they say too little there is no sketch.
Outlines are those of planner.drawing.setup and setup_tools. Imported by the route's blocks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from planner.book.across import across
from planner.book.bodies import Body
from planner.book.model import Picture
from planner.drawing import setup, setup_tools
from planner.drawing.model import Arc, Circle, Fields, Item, Line, Point, Polyline, Sheet
from planner.drawing.setup import Step
from planner.drawing.sketch import At, box
from planner.drawing.svg import svg

Record = Mapping[str, Any]

WIDE_MM, HIGH_MM = 54.0, 34.0
"""The most that a sketch takes beside the words."""

LOW_MM, WIDEST_MM = 24.0, 120.0
"""One that would be lower than three quarters of the first is wider, at most the second."""

CLEAR_MM = 1.0
"""Round it."""

SHOWN_MM = 3.0
"""So much behind the jaws is drawn."""

CHUCKS = ("three-jaw chuck", "four-jaw chuck", "collet")


class Shop(NamedTuple):
    """Plain sizes of the lathe that the sketches show, mm."""

    chuck_mm: float
    jaw_reach_mm: float


def sketched(
    hold: Record, cuts: Sequence[Record], shop: Shop, name: str, bodies: Sequence[Body] = ()
) -> Picture | None:
    """The sketch; None where the record does not say enough for one.

    bodies: of the work, which need not be known for what turns in a chuck or between centres.
    """
    at = At((0.0, 0.0))
    by = hold["by"]
    items: list[Item] = []
    if by in CHUCKS and hold["axis"] and hold["grips"] and hold["out_mm"]:
        items = list(_chucked(hold, cuts, shop, at, _behind(hold, bodies)))
    elif by == "between centres" and hold["centre"] and hold["headstock_centre"]:
        items = list(_between(hold, cuts, at))
    elif by not in (*CHUCKS, "between centres"):
        items = across(hold, cuts, bodies, shop.chuck_mm)
    return _fitted(items, f"{name}, how it is held") if items else None


# ---- on the lathe ----


def _behind(hold: Record, bodies: Sequence[Body]) -> float:
    """How much of the work lies behind the jaws, mm."""
    grip, axis = hold["grips"][0], "xyz".index(hold["axis"]["along"][1])
    sign = 1.0 if hold["axis"]["along"].startswith("+") else -1.0
    last = min(sign * float(grip["from_mm"]), sign * float(grip["to_mm"]))
    ends = [sign * one[axis] for body in bodies for one in (body.low, body.high)]
    return max(0.0, last - min(ends)) if ends else 0.0


def _chucked(
    hold: Record, cuts: Sequence[Record], shop: Shop, at: At, behind: float
) -> Iterator[Item]:
    grip = hold["grips"][0]
    sign = 1.0 if hold["axis"]["along"].startswith("+") else -1.0
    ends = sorted(sign * one for one in (grip["from_mm"], grip["to_mm"]))
    front, deep, out = ends[1], ends[1] - ends[0], float(hold["out_mm"])
    size = float(grip["size_mm"])
    if grip["inside"] or not 0 < size < 0.95 * shop.chuck_mm or deep <= 0:
        return
    reach = max(shop.jaw_reach_mm, deep)
    # a long piece is drawn to scale with its chuck; only the chuck's body is cut short
    yield from setup.chuck(at, shop.chuck_mm, size, min(deep, reach), reach, 0.12 * shop.chuck_mm)
    if behind > SHOWN_MM:  # past the chuck's own back, through the spindle
        back = reach + 0.12 * shop.chuck_mm
        yield at.ring(box(-deep - behind, -size / 2, -deep, size / 2), "hidden")
        if deep + behind > back:
            yield at.ring(box(-deep - behind, -size / 2, -back, size / 2))
    follows = bool(hold["steady"] and hold["steady"].get("travelling"))
    yield from _work(sign, front, -deep, out, size, cuts, at, follows)
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
    turned = [cut for cut in cuts if cut["shape"] in ("turn", "thread")]
    if not turned or not hold["out_mm"]:
        return
    sign = 1.0 if hold["axis"]["along"].startswith("+") else -1.0
    size = max(float(cut.get("before_mm") or cut["diameter_mm"]) for cut in turned)
    out = float(hold["out_mm"])
    start = min(sign * float(cut[end]) for cut in turned for end in ("from_mm", "to_mm"))
    yield from _work(sign, min(0.0, start), 0.0, out, size, cuts, at)
    hole = 0.4 * size
    yield from setup.centre(at.moved(out), hole, max(10.0, hole), hold["centre"]["kind"] == "live")
    back = At(at.origin, at.scale, 180.0)
    yield from setup.centre(back, hole, max(10.0, hole))


def _work(
    sign: float,
    front: float,
    start: float,
    out: float,
    size: float,
    cuts: Sequence[Record],
    at: At,
    follows: bool = False,
) -> Iterator[Item]:
    """The work as it is held, thin; what is cut in this set-up thick; the last tool at it, and the
    travelling steady where one follows it."""
    yield from setup.piece(at.moved(start), setup.turned_edges((Step(out - start, size),)))
    yield at.path(((start - 4.0, 0.0), (out + 6.0, 0.0)), "centre")
    tool: list[Item] = []
    for cut in cuts:
        shape = cut["shape"]
        if shape == "face":
            u = sign * float(cut["at_mm"]) - front
            if start <= u <= out + 1e-6:
                half = min(float(cut["diameter_mm"]), size) / 2
                yield at.path(((u, -half), (u, half)), "visible")
                tool = list(setup_tools.facing_tool(_near(at, u, half), 8.0))
        elif shape in ("turn", "bore", "thread", "hole"):
            low, high = sorted(sign * float(cut[key]) - front for key in ("from_mm", "to_mm"))
            low, high = max(low, start), min(high, out)
            wide = float(cut.get("after_mm") or cut.get("diameter_mm") or 0.0)
            if high - low <= 0 or not 0 < wide <= 1.02 * size:
                continue
            half = wide / 2
            for side in (half, -half):
                yield at.path(((low, side), (high, side)), "visible")
            inner = shape in ("bore", "hole") or bool(cut.get("inside"))
            if inner:
                yield at.path(((low, -half), (low, half)), "visible")
                if shape != "thread":
                    tool = list(_in_line(at.moved(out), wide))
            else:
                yield at.path(((low, half), (low, size / 2)), "visible")
                yield at.path(((low, -half), (low, -size / 2)), "visible")
                stands = (low + high) / 2 if follows else high
                tool = list(setup_tools.turning_tool(_near(at, stands, half), 8.0))
                if follows:
                    tool += setup.travelling_steady(at.moved(stands + 3.0), wide, 6.0)
    yield from tool


def _near(at: At, u: float, half: float) -> At:
    """On the work's near side, where the tool stands, seen from above."""
    return At(at.point((u, -half)), at.scale, at.turn_deg, flip=True)


def _in_line(at: At, wide: float) -> Iterator[Item]:
    """A drill before the end of the work, in line with it."""
    yield from setup_tools.drill(
        At(at.point((2.0, 0.0)), at.scale, at.turn_deg - 90.0), wide, max(18.0, 2.5 * wide)
    )


# ---- on the paper ----


def _fitted(items: Sequence[Item], name: str) -> Picture:
    """The items as an SVG no larger than a sketch may be, never larger than the thing."""
    points = [p for item in items for p in _points(item)]
    left, right = min(p[0] for p in points), max(p[0] for p in points)
    low, top = min(p[1] for p in points), max(p[1] for p in points)
    room = WIDE_MM / (right - left)
    if room * (top - low) < 0.75 * LOW_MM:
        room = min(LOW_MM / (top - low), WIDEST_MM / (right - left))
    scale = min(room, HIGH_MM / (top - low), 1.0)
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
