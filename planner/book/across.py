"""Sketches of set-ups whose work does not turn: from the saw and the vices to the tool post.

The work is drawn as its bodies, to scale and in its place; what holds it where the record's grips say,
by the outlines of planner.drawing. Imported by book.sketch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.book.bench import benched, by_hand, gripped, jaws_across
from planner.book.bodies import Body, View, Way, outside, way
from planner.book.cutting import side_mill, tool, tool_wide
from planner.book.mandrel import on_mandrel
from planner.book.plated import on_faceplate
from planner.book.sawn import at_the_edge, lying_under
from planner.drawing import setup, setup_across, setup_tools
from planner.drawing.model import Item
from planner.drawing.sketch import At

Record = Mapping[str, Any]
Cuts = Sequence[Record]

ORIGIN = At((0.0, 0.0))
OUT_MM = 12.0
"""How far a worked end is drawn out of the jaws."""

HANGS_MM = 12.0
"""What is welded on may hang so far below the face on the plate: packing makes it up."""

CARRIES_MM = 40.0
"""How long the bar is drawn on behind the saw, where the jaws hold it."""


def across(hold: Record, cuts: Cuts, bodies: Sequence[Body], chuck_mm: float) -> list[Item]:
    """The sketch's items in mm of the work; none where record and bodies do not say enough."""
    by, grips = hold["by"], hold["grips"]
    if by == "saw vice" and grips:
        return list(_sawn(grips[0]))
    if not bodies:
        return []
    if by == "bench vice" and grips and hold["up"]:
        return list(benched(hold, cuts, bodies))
    if by == "machine vice" and grips and hold["up"]:
        return list(_viced(hold, cuts, bodies))
    if by == "V-blocks" and grips and hold["up"]:
        return list(_in_v_blocks(hold, cuts, bodies))
    if by == "clamps on the table" and grips and hold["up"]:
        return list(_clamped(hold, cuts, bodies))
    if by == "cross slide" and grips and hold["up"]:
        return list(_on_slide(hold, cuts, bodies))
    if by == "tool post" and grips and hold["axis"]:
        return list(_in_post(hold, cuts, bodies))
    if by == "mandrel" and grips and hold["axis"]:
        return list(on_mandrel(hold, cuts, bodies, chuck_mm))
    if by == "faceplate" and hold.get("plate") and hold["axis"]:
        return list(on_faceplate(hold, cuts, bodies))
    if by == "flat plate" and hold["rests"]:
        return list(_on_plate(hold, bodies))
    if by == "hand":
        return list(by_hand(cuts, bodies))
    return []


def _sawn(grip: Record) -> Iterator[Item]:
    """The bar from above, the piece to the left of the blade, the rest of the bar in the jaws."""
    low, high = sorted((float(grip["from_mm"]), float(grip["to_mm"])))
    half = float(grip["size_mm"]) / 2
    far = high + max(CARRIES_MM, 1.5 * half)
    yield ORIGIN.path(((far, half), (low, half), (low, -half), (far, -half)))
    wave = 0.15 * half
    yield ORIGIN.path(((far, half), (far + wave, half / 3), (far - wave, -half / 3), (far, -half)))
    yield from setup_across.saw_jaws(ORIGIN, 2 * half, high + 6.0, far - 6.0)
    over = half + max(8.0, 0.4 * half)
    yield ORIGIN.path(((high, over), (high, -over)), "visible")


def _viced(hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    grip, up = hold["grips"][0], way(hold["up"])
    low, high = sorted(up[1] * float(one) for one in (grip["from_mm"], grip["to_mm"]))
    parallels = 6.0
    jaws = jaws_across(grip, up, bodies)
    along = 3 - jaws - up[0]
    ends = [cut for cut in cuts if cut["shape"] == "flat" and way(cut["normal"])[0] == along]
    view = View((jaws, 1), up)
    own = gripped(grip, bodies, jaws)
    if ends or (own and _hang_beside(view, own, bodies, high)):
        view = View((along, 1), up)
        yield from _from_front(view, ends, own, bodies, (low, high), parallels)
        yield from tool(view, cuts, ORIGIN)
        return
    left = view.span(own, view.u)[0] if own else -float(grip["size_mm"]) / 2
    if own is None or own.rounds:  # a round: its middle between the jaws
        middle = sum(view.span(own or bodies[0], view.u)) / 2
        left = middle - float(grip["size_mm"]) / 2
    top = max(view.whole(bodies)[3], high)
    at = ORIGIN.moved(left, low)
    yield from setup.vice(at, float(grip["size_mm"]), top - low, high - low, parallels)
    yield from view.drawn(ORIGIN, bodies)
    yield from tool(view, cuts, ORIGIN)


def _hang_beside(view: View, own: Body, bodies: Sequence[Body], jaws: float) -> bool:
    """Whether another body, seen along the jaws, would stand in one of them: it is past their end."""
    a, b = view.span(own, view.u)
    for one in bodies:
        left, low, right, _ = view.rect(one.low, one.high)
        if one is not own and low < jaws - 1.0 and (left < a - 1.0 or right > b + 1.0):
            return True
    return False


def _from_front(
    view: View,
    ends: Cuts,
    own: Body | None,
    bodies: Sequence[Body],
    held: tuple[float, float],
    parallels: float,
) -> Iterator[Item]:
    """The vice from its front: worked ends, and other bodies, out of the jaws."""
    left, right = view.span(own, view.u) if own else view.whole(bodies)[::2]
    worked = {way(cut["normal"])[1] for cut in ends}
    out = min(OUT_MM, 0.3 * (right - left))
    a = left + out if -1 in worked else left - 6.0
    b = right - out if 1 in worked else right + 6.0
    low, high = held
    for one in bodies:
        begins, ending = view.span(one, view.u)
        if one is own or own is None or view.span(one, view.v)[0] >= high:
            continue
        if begins + ending > left + right:
            b = min(b, begins - 2.0)
        else:
            a = max(a, ending + 2.0)
    if b - a < 4.0:
        a, b = left, right
    yield from setup_across.vice_front(ORIGIN.moved(a, low), b - a, high - low, parallels)
    jaw = (a, low - parallels, b, high)
    for one in bodies:
        if one.axis == view.depth:
            yield from view.drawn(ORIGIN, [one])
        else:
            yield from outside(view.rect(one.low, one.high), jaw)


def _in_v_blocks(hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """From the end on the left, where the V is seen; from the side on the right."""
    grip, up = hold["grips"][0], way(hold["up"])
    size = float(grip["size_mm"])
    axis = _round_axis(grip, bodies)
    if axis is None or axis == up[0]:
        return
    own = next(one for one in bodies if one.axis == axis)
    middle = [(a + b) / 2 for a, b in zip(own.low, own.high, strict=True)]
    side = View((axis, 1), up)
    left, lowest, _, _ = side.whole(bodies)
    centre = side.point(middle)[1]
    table = min(lowest - 2.0, centre - 0.71 * size - 8.0)
    radius, wide = size / 2, tool_wide(cuts)
    end = ORIGIN.moved(left - 1.25 * radius - 34.0, centre)
    yield from setup_across.v_block_end(end, size, table - centre)
    yield end.circle((0.0, 0.0), radius)
    yield from setup_across.strap_behind(end, size, wide, table - centre)
    yield from setup_tools.drill(end.moved(0.0, radius), wide, max(16.0, 3.0 * wide))
    low, *_, high = sorted(float(g[key]) for g in hold["grips"] for key in ("from_mm", "to_mm"))
    block = min(14.0, 0.42 * (high - low))
    for u in (low, high - block):
        yield from setup_across.v_block_side(ORIGIN.moved(u, centre), block, size, table - centre)
    yield from side.drawn(ORIGIN, bodies)
    places = [cut["axis"]["through"][axis] for cut in cuts if isinstance(cut.get("axis"), Mapping)]
    room = min(9.0, 0.3 * (high - low))
    near_low = bool(places) and abs(places[0] - low) < abs(places[0] - high)
    spot = ORIGIN.moved(high - room if near_low else low, centre + radius)
    yield from setup_across.strap_across(spot, room)
    yield ORIGIN.path(
        ((end.origin[0] - radius - 20.0, table), (side.whole(bodies)[2] + 6.0, table))
    )
    yield from tool(side, cuts, ORIGIN)


def _round_axis(grip: Record, bodies: Sequence[Body]) -> int | None:
    """The axis of the round body that is gripped, by its surface or by its diameter."""
    name = grip["surface"].rpartition(".")[0].partition("/")[0]
    rounds = [one for one in bodies if one.axis is not None]
    size = float(grip["size_mm"])
    for one in rounds:
        if one.name == name or any(abs(each.diameter_mm - size) < 0.5 for each in one.rounds):
            return one.axis
    return rounds[0].axis if rounds else None


def _clamped(hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    grip, up = hold["grips"][0], way(hold["up"])
    own = _named(grip, bodies)
    if cuts and cuts[-1].get("depth"):
        yield from at_the_edge(hold, cuts[-1], own, bodies)
        return
    wide = max((k for k in range(3) if k != up[0]), key=lambda k: own.high[k] - own.low[k])
    view = View((wide, 1), up)
    left, lowest, right, _ = view.whole(bodies)
    a, b = view.span(own, view.u)
    low, top = view.span(own, view.v)
    table = min(low - 6.0, lowest - 3.0)
    yield from setup.table(ORIGIN.moved(left - 40.0, table), right - left + 80.0)
    for u in (a, b - 0.25 * (b - a)):
        yield from setup_across.packing(ORIGIN.moved(u, low), 0.25 * (b - a), low - table)
    yield from view.drawn(ORIGIN, bodies)
    on = min(8.0, 0.15 * (b - a))
    yield from setup_across.strap(ORIGIN.moved(b, top), on, top - table)
    back = At((a, top), 1.0, 180.0, flip=True)
    yield from setup_across.strap(back, on, top - table)
    yield from tool(view, cuts, ORIGIN)


def _named(grip: Record, bodies: Sequence[Body]) -> Body:
    name = grip["surface"].rpartition(".")[0]
    return next((one for one in bodies if one.name == name), bodies[0])


def _on_slide(hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """On the cross slide: a saw on its arbor seen along it, or the spindle's tool from the left."""
    up = way(hold["up"])
    slots = [cut for cut in cuts if cut["shape"] == "slot"]
    if slots and hold["axis"]:
        arbor = way(hold["axis"]["along"])[0]
        view = View((next(k for k in range(3) if k not in (up[0], arbor)), 1), up)
        yield from _slide(view, hold, bodies)
        yield from lying_under(view, slots[-1])
        yield from tool(view, slots, ORIGIN)
        return
    jaws = jaws_across(hold["grips"][0], up, bodies)
    if len(bodies) > 1 and any(one.axis == jaws for one in bodies):  # that one lies across the bed
        flat = next((way(cut["normal"])[1] for cut in cuts if cut["shape"] == "flat"), 1)
        view = View((up[0], -up[1]), (3 - jaws - up[0], flat))
        yield from _slide(view, hold, bodies)
        yield from side_mill(view, cuts, ORIGIN)
        return
    view = View((up[0], -up[1]), (jaws, 1))
    yield from _slide(view, hold, bodies)
    yield from tool(view, cuts, ORIGIN)


def _slide(view: View, hold: Record, bodies: Sequence[Body]) -> Iterator[Item]:
    """The work on packing on the slide, a strap over it on the side away from the tool."""
    left, low, right, top = view.whole(bodies)
    own = _named(hold["grips"][0], bodies)
    a, b = view.span(own, view.u)
    bottom, roof = view.span(own, view.v)
    slide = min(low - 2.0, bottom - 8.0)
    yield from setup.table(ORIGIN.moved(left - 30.0, slide), right - left + 80.0, 2)
    yield from setup_across.packing(ORIGIN.moved(a, bottom), b - a, bottom - slide)
    yield from view.drawn(ORIGIN, bodies)
    yield from setup_across.strap(ORIGIN.moved(b, roof), min(8.0, 0.3 * (b - a)), roof - slide)


def _in_post(hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """In the tool post: bored by a bar between centres, or drilled from the headstock."""
    grip, along = hold["grips"][0], way(hold["axis"]["along"])
    if hold["rests"]:
        rest = way(hold["rests"].rpartition(".")[2])
        view = View(along, (rest[0], -rest[1]))
        a, b = sorted(along[1] * float(one) for one in (grip["from_mm"], grip["to_mm"]))
        seat = view.span(_named(grip, bodies), view.v)[0]
        yield from setup_across.tool_post(ORIGIN.moved(a, seat), b - a, float(grip["size_mm"]))
        yield from view.drawn(ORIGIN, bodies)
        yield from _bar(view, hold, cuts, bodies)
        return
    jaws = jaws_across(grip, along, bodies)
    other = 3 - along[0] - jaws
    view = View(along, (other, 1))
    longest = max(
        (one for one in bodies if one.axis == other), default=None,
        key=lambda one: one.high[other] - one.low[other],
    )  # fmt: skip
    if longest is not None:
        most = max(longest.rounds, key=lambda one: one.high - one.low)
        low, high = most.low, most.high
        middle = sum(view.span(longest, view.u)) / 2
        wide = 2.2 * most.diameter_mm
        post = ORIGIN.moved(middle, (low + high) / 2)
        yield from setup_across.tool_post_above(post, wide, high - low)
    yield from view.drawn(ORIGIN, bodies)
    yield from tool(view, cuts, ORIGIN)


def _bar(view: View, hold: Record, cuts: Cuts, bodies: Sequence[Body]) -> Iterator[Item]:
    """The boring bar between its centres through the bore."""
    bores = [cut for cut in cuts if cut["shape"] == "bore"]
    if not bores:
        return
    last, axis = bores[-1], view.u[0]
    size = float(last["after_mm"])
    bar = float((last.get("tool") or {}).get("diameter_mm") or 0.7 * size)
    bar = min(bar, 0.95 * size)
    through = list(hold["axis"]["through"])
    ends = sorted(view.u[1] * float(last[key]) for key in ("from_mm", "to_mm"))
    through[axis] = view.u[1] * (ends[0] + ends[1]) / 2
    left, _, right, _ = view.whole(bodies)
    u, v = view.point(through)
    long = 2 * max(right - u, u - left) + 16.0
    yield from setup_tools.bar_between_centres(ORIGIN.moved(u, v), bar, long, size, 4.0)
    hole = 0.4 * bar
    yield from setup.centre(ORIGIN.moved(u + long / 2, v), hole, bar)
    yield from setup.centre(At((u - long / 2, v), 1.0, 180.0), hole, bar)
    half = size / 2
    for side in (half, -half):
        yield ORIGIN.path(((ends[0], v + side), (ends[1], v + side)), "visible")


def _on_plate(hold: Record, bodies: Sequence[Body]) -> Iterator[Item]:
    """Put together to be welded, clamped on a plate, on packing under the face that it rests by."""
    own = _named({"surface": hold["rests"]}, bodies)
    rest = way(hold["rests"].rpartition(".")[2])
    ways = [(rest[0], -rest[1]), rest, *((k, sign) for k in range(3) for sign in (1, -1))]
    up = next((one for one in ways if _stands(own, bodies, one)), ways[0])
    wide = max((k for k in range(3) if k != up[0]), key=lambda k: _long(bodies, k))
    view = View((wide, 1), up)
    left, low, right, _ = view.whole(bodies)
    a, b = view.span(own, view.u)
    bottom, top = view.span(own, view.v)
    plate = low - 3.0
    long = right - left + 60.0
    yield from setup_across.surface_plate(ORIGIN.moved(left - 30.0, plate), long)
    yield from setup_across.packing(ORIGIN.moved(a, bottom), b - a, bottom - plate)
    yield from view.drawn(ORIGIN, bodies)
    others = [one for one in bodies if one is not own]
    free = b if not others or max(view.span(one, view.u)[1] for one in others) < b + 1 else a
    turn = ORIGIN.moved(b, top) if free == b else At((a, top), 1.0, 180.0, flip=True)
    yield from setup_across.clamp(turn, top - plate + 0.09 * long, 10.0)


def _stands(own: Body, bodies: Sequence[Body], up: Way) -> bool:
    """Whether a body stands on the plate with nothing else hanging far below it."""
    lows = [min(up[1] * one.low[up[0]], up[1] * one.high[up[0]]) for one in (own, *bodies)]
    return min(lows) > lows[0] - HANGS_MM


def _long(bodies: Sequence[Body], k: int) -> float:
    return max(one.high[k] for one in bodies) - min(one.low[k] for one in bodies)
