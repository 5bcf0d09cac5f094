"""Work at the bench: in its vice, on a V or on the grinder's rest, what is worked by hand drawn thick.

Imported by book.across.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.book.bodies import Body, Rect, View, Way, way
from planner.drawing import setup, setup_across
from planner.drawing.model import Item
from planner.drawing.sketch import At

Record = Mapping[str, Any]
Cuts = Sequence[Record]

ORIGIN = At((0.0, 0.0))

WHEEL_MM = 110.0
"""Of the grinder's wheel, for looks alone."""

BESIDE_MM, LEAST_MM = 2.0, 4.0
"""The jaws are drawn so far from what stands before a face, and at least so long."""

MARK_MM = 0.5
"""Within so much an edge of the work counts as in what is worked."""


def benched(hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """In the bench vice, from the end of its jaws or from their front: where most of what is worked is
    seen."""
    grip, up = hold["grips"][0], way(hold["up"])
    low, high = sorted(up[1] * float(one) for one in (grip["from_mm"], grip["to_mm"]))
    jaws = jaws_across(grip, up, bodies)
    own = gripped(grip, bodies, jaws)
    end, front = View((jaws, 1), up), View((3 - jaws - up[0], 1), up)
    if _seen(front, cuts, bodies) > _seen(end, cuts, bodies):
        left, right = front.span(own, front.u) if own else front.whole(bodies)[::2]
        size = float(grip["size_mm"])
        thick = [r for r in (own.rounds if own else ()) if abs(r.diameter_mm - size) < MARK_MM]
        if own and thick and own.axis == front.u[0]:
            left, right = sorted(front.u[1] * at for at in (thick[0].low, thick[0].high))
        left, right = _clear(front, own, bodies, (left, right), (low, high), jaws)
        inset = 0.12 * (right - left)
        yield from setup_across.vice_front(
            ORIGIN.moved(left + inset, low), right - left - 2 * inset, high - low, 0.0
        )
        yield from front.drawn(ORIGIN, bodies)
        yield from marked(front, cuts, bodies)
        return
    size = float(grip["size_mm"])
    left = end.span(own, end.u)[0] if own else -size / 2
    if own is None or own.rounds:  # a round: its middle between the jaws
        left = sum(end.span(own or bodies[0], end.u)) / 2 - size / 2
    top = max(end.whole(bodies)[3], high)
    yield from setup.vice(ORIGIN.moved(left, low), size, top - low, high - low, 0.0)
    yield from end.drawn(ORIGIN, bodies)
    yield from marked(end, cuts, bodies)


def _clear(
    front: View,
    own: Body | None,
    bodies: Sequence[Body],
    span: tuple[float, float],
    held: tuple[float, float],
    jaws: int,
) -> tuple[float, float]:
    """What of a span of the work the jaws close on: where nothing stands before its two faces."""
    for one in bodies:
        if own is None or one is own:
            continue
        before = (
            one.low[jaws] < own.low[jaws] - MARK_MM or one.high[jaws] > own.high[jaws] + MARK_MM
        )
        left, low, right, top = front.rect(one.low, one.high)
        if not before or top <= held[0] or low >= held[1]:
            continue
        sides = (
            (span[0], min(span[1], left - BESIDE_MM)),
            (max(span[0], right + BESIDE_MM), span[1]),
        )
        best = max(sides, key=lambda side: side[1] - side[0])
        span = best if best[1] - best[0] > LEAST_MM else span
    return span


def jaws_across(grip: Record, up: Way, bodies: Sequence[Body]) -> int:
    """Which way the jaws close."""
    letter = grip["surface"].rpartition(".")[2][-1:]
    if letter in "xyz" and grip["surface"][-2] in "+-":
        return "xyz".index(letter)
    axis = next((one.axis for one in bodies if one.axis is not None), None)
    free = [k for k in range(3) if k not in (up[0], axis)]
    return free[0]


def gripped(grip: Record, bodies: Sequence[Body], jaws: int) -> Body | None:
    """The body whose surface is gripped."""
    name = grip["surface"].rpartition(".")[0]
    found = [one for one in bodies if one.name == name]
    if found:
        return found[0]
    size = float(grip["size_mm"])
    for one in bodies:
        if any(abs(each.diameter_mm - size) < MARK_MM for each in one.rounds):
            return one
    near = [one for one in bodies if abs(one.high[jaws] - one.low[jaws] - size) < 1.0]
    return near[0] if near else None


# ---- what is worked ----


def marked(view: View, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """What is cleaned, dressed, filed or scribed, thick: a box, or edges of the work in it."""
    for cut in cuts:
        if "box" not in cut:
            continue
        mask = view.rect(*cut["box"])
        if cut["shape"] == "flat":
            yield from (ORIGIN.path(ends, "visible") for ends in _face(view, cut, bodies))
            continue
        if cut["shape"] != "near":
            left, low, right, top = mask
            corners = ((left, low), (right, low), (right, top), (left, top))
            yield ORIGIN.ring(corners, "visible")
            continue
        for a, b in _edges(view, mask, bodies):
            yield ORIGIN.path((a, b), "visible")
        for one in bodies:
            if one.axis == view.depth and one.rounds and _round_in(view, one, cut["box"]):
                wide = max(each.diameter_mm for each in one.rounds)
                middle = [(a + b) / 2 for a, b in zip(one.low, one.high, strict=True)]
                yield ORIGIN.circle(view.point(middle), wide / 2, "visible")


def _seen(view: View, cuts: Cuts, bodies: Sequence[Body]) -> float:
    """How much of what is worked a view shows, in mm of its lines."""
    long = 0.0
    for cut in cuts:
        if "box" not in cut:
            continue
        mask = view.rect(*cut["box"])
        if cut["shape"] == "flat":
            long += sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in _face(view, cut, bodies))
        elif cut["shape"] == "near":
            long += sum(abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in _edges(view, mask, bodies))
        else:
            long += mask[2] - mask[0] + mask[3] - mask[1]
    return long


def _face(
    view: View, cut: Record, bodies: Sequence[Body]
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """A filed face as a line across the work, where a view shows it from its side."""
    axis, at = way(cut["normal"])[0], float(cut["at_mm"])
    mask, work = view.rect(*cut["box"]), view.whole(bodies)
    left, low = max(mask[0], work[0]), max(mask[1], work[1])
    right, top = min(mask[2], work[2]), min(mask[3], work[3])
    if axis == view.u[0]:
        yield (view.u[1] * at, low), (view.u[1] * at, top)
    elif axis == view.v[0]:
        yield (left, view.v[1] * at), (right, view.v[1] * at)


def _edges(
    view: View, mask: Rect, bodies: Sequence[Body]
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """The sides of the work, as far as they lie in a rectangle."""
    left, low, right, top = mask
    for rect in _rects(view, bodies):
        a, c = max(rect[0], left), min(rect[2], right)
        for v in (rect[1], rect[3]):
            if c - a > MARK_MM and low - MARK_MM <= v <= top + MARK_MM:
                yield (a, v), (c, v)
        b, d = max(rect[1], low), min(rect[3], top)
        for u in (rect[0], rect[2]):
            if d - b > MARK_MM and left - MARK_MM <= u <= right + MARK_MM:
                yield (u, b), (u, d)


def _rects(view: View, bodies: Sequence[Body]) -> Iterator[Rect]:
    """The work's outlines, of a round across the view each of its steps."""
    for one in bodies:
        if one.axis is None or not one.rounds:
            yield view.rect(one.low, one.high)
        elif one.axis != view.depth:
            for each in one.rounds:
                yield view.step(one, each)


def _round_in(view: View, one: Body, near: Sequence[Sequence[float]]) -> bool:
    """Whether an end of a round that is looked at from its end lies in a box."""
    k = view.depth
    low, high = sorted(float(end[k]) for end in near)
    return any(low - MARK_MM <= at <= high + MARK_MM for at in (one.low[k], one.high[k]))


# ---- by hand ----


def by_hand(cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """By hand on the grinder's rest, on a V to be stamped, or put together on the bench."""

    def extent(k: int) -> float:
        return max(one.high[k] for one in bodies) - min(one.low[k] for one in bodies)

    if any(cut.get("op") == "stamp" for cut in cuts) and bodies[0].axis is not None:
        yield from _stamped(bodies[0])
        return
    long = max(range(3), key=extent)
    high = next(k for k in (2, 1, 0) if k != long)
    ground = any((cut.get("tool") or {}).get("kind") == "grinding wheel" for cut in cuts)
    view = View((long, 1), (high, 1))
    left, low, right, top = view.whole(bodies)
    if ground:
        yield from setup_across.grinding_wheel(
            ORIGIN.moved(left, (low + top) / 2), WHEEL_MM, (top - low) / 2
        )
        yield from view.drawn(ORIGIN, bodies)
        return
    yield from setup_across.bench_top(ORIGIN.moved(left - 30.0, low), right - left + 60.0)
    yield from view.drawn(ORIGIN, bodies)


def _stamped(own: Body) -> Iterator[Item]:
    """The rim on a V on the bench, from its end; over it the guide block and the punch in it."""
    size = max(one.diameter_mm for one in own.rounds)
    radius = size / 2
    low = -1.1 * size
    yield from setup_across.v_block_end(ORIGIN, size, low)
    yield ORIGIN.circle((0.0, 0.0), radius)
    yield from setup_across.bench_top(ORIGIN.moved(-1.8 * size, low), 3.6 * size)
    yield from setup_across.punch(ORIGIN.moved(0.0, radius), 0.25 * size, 1.3 * size)
    half = 0.06 * size
    yield ORIGIN.path(((-half, radius), (half, radius)), "visible")
