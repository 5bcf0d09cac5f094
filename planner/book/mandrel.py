"""Work on a mandrel: in the lathe's chuck, in a dividing head on the mill, on a stub for its ball.

Imported by book.across.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.book.bodies import Body, View, way
from planner.drawing import setup, setup_across, setup_tools
from planner.drawing.model import Item
from planner.drawing.sketch import At

Record = Mapping[str, Any]
Cuts = Sequence[Record]

ORIGIN = At((0.0, 0.0))


def on_mandrel(hold: Record, cuts: Cuts, bodies: Sequence[Body], chuck_mm: float) -> Iterator[Item]:
    """The work on what holds it by its bore, its tool, and what of it is cut."""
    grip, along = hold["grips"][0], way(hold["axis"]["along"])
    side = next(k for k in (2, 1, 0) if k != along[0])
    view = View(along, (side, 1))
    left, low, right, top = view.whole(bodies)
    size = float(grip["size_mm"])
    inside = max(along[1] * float(one) for one in (grip["from_mm"], grip["to_mm"]))
    through = inside >= right - 1.0
    divided = any(cut.get("op") == "engrave" for cut in cuts)
    balls = [cut for cut in cuts if _swings(cut) and cut.get("size_mm")]
    front = left - (18.0 if balls else 6.0)
    chuck = max(2.2 * (top - low), 2.2 * size)
    if divided:
        yield from setup_across.dividing_head(ORIGIN.moved(front), size, 1.3 * (top - low))
    else:
        yield from setup.chuck(ORIGIN.moved(front), min(chuck, chuck_mm), size, 10.0, 10.0, 8.0)
    end = right + 8.0 if through else inside
    within = min(inside, right) - left
    yield from setup_across.mandrel(ORIGIN.moved(left), size, end - left, within)
    yield ORIGIN.path(((front, size / 2), (left, size / 2)))
    yield ORIGIN.path(((front, -size / 2), (left, -size / 2)))
    yield from view.drawn(ORIGIN, bodies)
    yield ORIGIN.path(((front - 24.0, 0.0), (right + 14.0, 0.0)), "centre")
    for cut in balls:
        middle = right - float(cut["size_mm"]) / 2
        yield from _swung(ORIGIN.moved(middle), float(cut["size_mm"]))
    if balls:
        return
    for cut in cuts:
        if "from_mm" in cut and "to_mm" in cut:
            a, b = sorted(along[1] * float(cut[key]) for key in ("from_mm", "to_mm"))
            near = [r for one in bodies for r in one.rounds if r.low - 1e-6 <= a < r.high]
            half = near[0].diameter_mm / 2 if near else top
            for edge in (half, -half):
                yield ORIGIN.path(((a, edge), (b, edge)), "visible")
            if divided:
                yield from setup_tools.pointed_tool(ORIGIN.moved((a + b) / 2, half), 8.0)
                continue
            point = At(((a + b) / 2, -half), 1.0, 0.0, flip=True)
            yield from setup_tools.turning_tool(point, 8.0)


def _swings(cut: Record) -> bool:
    """Whether it is turned with the attachment."""
    return (cut.get("tool") or {}).get("kind") == "attachment"


def _swung(at: At, size_mm: float) -> Iterator[Item]:
    """The ball from the front, about its middle, and the tip over its top on its way from the nose."""
    radius = size_mm / 2
    yield at.circle((0.0, 0.0), radius, "visible")
    for end in ((4.0, 0.0), (0.0, 4.0)):
        yield at.path(((-end[0], -end[1]), end), "centre")
    yield from setup_tools.ball_bit(at.moved(0.0, radius), 6.0, 1.6 * radius)
    yield from setup_tools.swing(at, radius + 5.0, -10.0, 150.0)
