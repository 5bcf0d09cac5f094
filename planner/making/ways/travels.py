"""How far the slides of a lathe travel with a milling slide on them, and what they must for a cut.

Imported by the ways that mill a face, a slot, an end or a slit or drill a corner, and by making.across.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from parts.frame import Box, Point
from planner.making.bodies import Body
from planner.making.near import below
from planner.making.workshop import Workshop

SLIDE = "milling slide"
"""It travels up and down on the cross slide, which travels across the bed."""

JAW_MM = 12.0
"""The fixed jaw of a small vice is so thick (common practice: 10 to 15)."""

ROOM_MM = 1.0
"""It comes no nearer to the cross slide (common practice)."""

PAST_END_MM = 2.0
"""A saw's middle is so far past the end where it is let in (common practice)."""

LET_IN = (
    "; at the work's upper end the saw is let in, or drawn out, by the cross slide, its middle just"
    " past that end: the work comes no lower"
)
"""What is said of such a slit."""

JAW_DOWN = ", the fixed jaw down"
"""What is said of a vice that closes up and down: its screw and handle stand above the work."""

MOVED = ", moved along until the slides reach it"
"""What is said of work that is held as before, for what lay too far off."""


def reaches(
    shop: Workshop, machine: str, bodies: Sequence[Body], box: Box, spindle: int, cutter_mm: float
) -> bool:
    """Whether a machine travels over what of a box is metal, square to its spindle.

    spindle: the work's axis along it. The longer way goes by the cross slide; a cutter so wide need not
    pass the shorter right over. Of a mill it is not asked.
    """
    if machine != SLIDE:
        return True
    spans = []
    for i in range(3):
        low = max(box.low[i], min(one.low(i) for one in bodies))
        high = min(box.high[i], max(one.high(i) for one in bodies))
        spans.append(max(high - low, 0.0))
    short, long = sorted(span for i, span in enumerate(spans) if i != spindle)
    own, cross = shop.kit.slide_travel_mm, shop.kit.cross_travel_mm
    return not below(own, short - cutter_mm) and (
        cross is None or not below(cross, long - cutter_mm)
    )


def fed_by(
    shop: Workshop, travel_mm: float, deep_mm: float, turned: bool = False, under_mm: float = 0.0
) -> str:
    """The slide that feeds a slit past a saw in the spindle, the depth by the other one.

    The milling slide's own travel, else the cross slide; "" where neither goes so far. turned: whether
    the milling slide's face is along the bed, so that it alone can feed; under_mm: how far work and
    vice hang under the slit's middle: the milling slide's travel takes them down by half of it.
    """
    own, cross = shop.kit.slide_travel_mm, shop.kit.cross_travel_mm
    room = shop.job.lathe.spindle_over_cross_slide - under_mm - ROOM_MM if under_mm else inf
    if not below(min(own, 2 * room), travel_mm) and (cross is None or not below(cross, deep_mm)):
        return SLIDE
    if turned or below(own, deep_mm) or (cross is not None and below(cross, travel_mm)):
        return ""
    return "cross slide"


def from_below(
    shop: Workshop,
    others: Sequence[Body],
    opens: tuple[int, int],
    bottom: float,
    saw_mm: float,
    by: str,
) -> str:
    """Which way up a slit is sawn that the cross slide feeds, so that its depth is up and down.

    Over the saw, where what hangs under the work would come on to the cross slide; "" where either way
    does. opens: its open side; bottom: of the slit; saw_mm: half of the saw; by: the slide that feeds.
    """
    axis, sign = opens
    room = shop.job.lathe.spindle_over_cross_slide - saw_mm
    hung = [one.name for one in others if below(room, -sign * (one.end(axis, -sign) - bottom))]
    if by == SLIDE or not hung:
        return ""
    return (
        f"; the {' and '.join(dict.fromkeys(hung))} upward, the side to be slit down on to the saw"
    )


def under(bodies: Sequence[Body], own: Body, at: Point, feed: int, closes: int) -> float:
    """How far work and vice hang under a slit that is fed up and down, the nearer side of it down, mm.

    at: the slit's middle; feed: the axis that it is fed along; closes: the one the jaws close along.
    """
    hung = []
    for sign in (1, -1):
        ends = [sign * (one.end(feed, sign) - at[feed]) for one in bodies]
        jaw = sign * (own.end(feed, sign) - at[feed]) + JAW_MM if closes == feed else 0.0
        hung.append(max(*ends, jaw))
    return min(hung)


def stays_over(
    shop: Workshop, bodies: Sequence[Body], own: Body, feed: int, closes: int,
    goes: tuple[float, float],
) -> bool:  # fmt: skip
    """Whether a slit is fed up and down where the saw is let in with its middle past the upper end.

    goes: how far by the slide, from there until the saw is clear of the other end, and by the cross
    slide, in and out. One end or the other is down.
    """
    room = shop.job.lathe.spindle_over_cross_slide - ROOM_MM - PAST_END_MM
    hung = []
    for sign in (1, -1):
        top = own.end(feed, -sign)
        ends = [sign * (one.end(feed, sign) - top) for one in bodies]
        hung.append(max(*ends, own.size(feed) + JAW_MM if closes == feed else 0.0))
    cross = shop.kit.cross_travel_mm
    far = below(shop.kit.slide_travel_mm, goes[0]) or (cross is not None and below(cross, goes[1]))
    return not far and not below(room, min(hung))


def passes_both(shop: Workshop, machine: str, long_mm: float, cutter_mm: float) -> bool:
    """Whether the side of a cutter passes both ends of work held once: a mill's table goes so far."""
    if machine != SLIDE:
        return True
    own, cross = shop.kit.slide_travel_mm, shop.kit.cross_travel_mm
    return cross is None or not below(max(own, cross), long_mm + cutter_mm)


def apart(shop: Workshop, machine: str, at: Sequence[Point], spindle: int) -> bool:
    """Whether points lie farther apart than a milling slide and its cross slide travel.

    spindle: the work's axis along it. The greater way goes by the slide that goes farther. Of another
    machine it is not asked.
    """
    if machine != SLIDE:
        return False
    spans = sorted(max(o[i] for o in at) - min(o[i] for o in at) for i in range(3) if i != spindle)
    cross = shop.kit.cross_travel_mm
    travels = sorted((shop.kit.slide_travel_mm, inf if cross is None else cross))
    return any(below(most, span) for span, most in zip(spans, travels, strict=True))
