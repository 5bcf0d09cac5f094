"""What is cut in a set-up whose work does not turn, and the tool at it, for its sketch.

Imported by book.across.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.book.bodies import View, way
from planner.drawing import setup_tools
from planner.drawing.model import Item
from planner.drawing.sketch import At, box

Record = Mapping[str, Any]
Cuts = Sequence[Record]


def tool(view: View, cuts: Cuts, at: At) -> Iterator[Item]:
    """What is cut, thick, and the last tool at it, where one comes along v or works along u."""
    last: list[Item] = []
    for cut in cuts:
        shape = cut["shape"]
        if shape in ("hole", "thread", "bore") and isinstance(cut.get("axis"), Mapping):
            yield from _drilled(view, cut, at)
            last = list(_drill(view, cut, at)) or last
        elif shape in ("flat", "slot") and "box" in cut:
            left, low, right, top = view.rect(*cut["box"])
            if shape == "slot":
                yield at.ring(box(left, low, right, top), "visible")
                continue
            axis, sign = way(cut["normal"])
            mill = "mill" in str((cut.get("tool") or {}).get("kind", "mill"))  # else it is filed
            size = float((cut.get("tool") or {}).get("diameter_mm") or 10.0)
            if (axis, sign) == view.v:
                yield at.path(((left, low), (right, low)), "visible")
                middle = at.moved((left + right) / 2, low)
                last = list(setup_tools.end_mill(middle, size, 3 * size)) if mill else []
            elif axis == view.u[0]:
                u, out = (left, 1.0) if sign == view.u[1] else (right, -1.0)
                yield at.path(((u, low), (u, top)), "visible")
                middle = at.moved(u + out * size / 2, low - 2.0)
                tall = top - low + 2.0 + 2 * size
                last = list(setup_tools.end_mill(middle, size, tall)) if mill else []
    yield from last


def side_mill(view: View, cuts: Cuts, at: At) -> Iterator[Item]:
    """A face that looks up, and the side of a cutter at it that comes level from the left."""
    for cut in cuts:
        if cut["shape"] == "flat" and "box" in cut and way(cut["normal"]) == view.v:
            left, low, right, _ = view.rect(*cut["box"])
            size = float((cut.get("tool") or {}).get("diameter_mm") or 10.0)
            yield at.path(((left, low), (right, low)), "visible")
            level = At(at.point((right + 2.0, low + size / 2)), at.scale, at.turn_deg + 90.0)
            yield from setup_tools.end_mill(level, size, right - left + 2.0 + 2 * size)


def _drilled(view: View, cut: Record, at: At) -> Iterator[Item]:
    """The walls of a hole that lies along u or v, by hidden lines; its rim where it is seen from its
    end."""
    axis, _ = way(cut["axis"]["along"])
    half = float(cut.get("after_mm") or cut.get("diameter_mm") or 0.0) / 2
    through = list(cut["axis"]["through"])
    if axis == view.depth:
        yield at.circle(view.point(through), half, "visible")
        return
    ends = []
    for key in ("from_mm", "to_mm"):
        through[axis] = float(cut[key])
        ends.append(view.point(through))
    (a, b), (c, d) = ends
    for side in (half, -half):
        off = (side, 0.0) if axis == view.v[0] else (0.0, side)
        yield at.path(((a + off[0], b + off[1]), (c + off[0], d + off[1])), "hidden")


def _drill(view: View, cut: Record, at: At) -> Iterator[Item]:
    """A drill at the mouth of a hole that is cut downwards along v or from the left along u."""
    axis, sign = way(cut["axis"]["along"])
    down = 1.0 if float(cut["to_mm"]) >= float(cut["from_mm"]) else -1.0
    across = float(cut.get("after_mm") or cut.get("diameter_mm") or 0.0)
    through = list(cut["axis"]["through"])
    through[axis] = float(cut["from_mm"])
    u, v = view.point(through)
    long = max(16.0, 3.0 * across)
    if axis == view.v[0] and down * view.v[1] < 0:
        yield from setup_tools.drill(at.moved(u, v), across, long)
    elif axis == view.u[0] and down * view.u[1] > 0:
        turned = At(at.point((u - 1.0, v)), at.scale, at.turn_deg + 90.0)
        yield from setup_tools.drill(turned, across, long)


def tool_wide(cuts: Cuts) -> float:
    """How wide the widest tool of some cuts is, mm, or a little where they do not say."""
    sizes = [float(one.get("after_mm") or one.get("diameter_mm") or 0.0) for one in cuts]
    return max([*sizes, 2.0])
