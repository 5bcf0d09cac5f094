"""What stands beside a cut: whether drills and taps come past it, what a strap presses on.

Imported by making.across and making.ways.slits.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot

from msgspec.structs import replace

from parts import features as f
from parts.frame import Point
from parts.standard.holding import centre_drill_out_mm, drill_out_mm, tap_out_mm
from parts.standard.threads import thread
from planner.making.bodies import Body, Gripped
from planner.making.holds import Holds
from planner.making.model import Grip, Hold, Op
from planner.making.near import Span, against, below, on_axis, overlap, same, way_of
from planner.making.ways.holes import drill_mm, size_of
from planner.making.wayup import OFF_PARALLELS
from planner.making.workshop import Workshop

CHUCK_MM = 17.0
"""Half of what a drill chuck, or a tap's wrench, is wide (common practice: a 10 mm chuck)."""

WIDE_CHUCK_MM, TAKEN_MM = 21.0, 10.0
"""Half of what a chuck for thicker drills is wide, and the thickest that the usual one takes (common
practice: a 13 mm chuck is 43 across)."""

NOSE_MM, CHUCK_LONG_MM, WIDE_CHUCK_LONG_MM = 40.0, 70.0, 90.0
"""Half of what a quill, or a spindle's nose, is wide, and how far a chuck of 10 mm and one of 13 mm
hold it off their jaws' ends (common practice: quills of 60 to 85; chucks of 70 to 75 and 90 to 95)."""

HANDLE_MM = 10.0
"""Half of what a T-handled tap wrench is wide (common practice: 18 across for M3 to M6)."""

LARGEST_T_MM, BAR_WRENCH_MM = 12.7, 110.0
"""The thickest tap that a T-handled wrench takes, and half of the bar wrench that turns a thicker one:
it sweeps as wide (common practice: one of 200 to 300 mm for taps of 16)."""


STRAP_MM, STRAPPED = 20.0, "copper or card"
"""A strap is so wide, and what goes between it and a turned round (common practice)."""

PARALLEL_MM = 3.0
"""The thinnest parallels of a usual set are so thick, one along either jaw (common practice)."""

BREAKS_MM = 2.0
"""A hole that comes out below stays so clear of what the work lies on (common practice)."""


def come_out(group: Sequence[f.Hole], own: Body, shop: Workshop) -> list[Span]:
    """Where along a round holes across it come out on its far side, with the room that wants."""
    if own.axis is None:
        return []
    found = []
    for one in group:
        if one.through and not one.opens_into and way_of(one.axis.along)[0] != own.axis:
            at, half = one.axis.origin[own.axis], drill_mm(one, shop) / 2 + BREAKS_MM
            found.append((at - half, at + half))
    return found


def off_parallels(hold: Hold, held: Gripped, group: Sequence[f.Hole], shop: Workshop) -> Hold:
    """A vice's hold, its parallels taken away where a hole in narrow work comes out on one."""
    i = held.across
    for one in group:
        if one.through and not one.opens_into:
            ends, at = (held.body.low(i), held.body.high(i)), one.axis.origin[i]
            beside = min(abs(end - at) for end in ends) - drill_mm(one, shop) / 2
            if beside < PARALLEL_MM + BREAKS_MM / 4:
                return replace(hold, words=hold.words.replace("on parallels", OFF_PARALLELS))
    return hold


def long_drill(work: Holds, op: Op, tall_mm: float) -> Op:
    """A drilling with a long drill, where the chuck does not come down beside what stands so tall."""
    size = size_of(op.tool)
    out, centre = tall_mm + op.length_mm, op.tool.kind == "centre drill"
    if not tall_mm or out <= (centre_drill_out_mm(size) if centre else drill_out_mm(size)):
        return op
    name, instead = f"long {op.tool.name}", "buy one of the long series"
    if out > drill_out_mm(size, long=True):
        name, instead = f"lengthened {op.tool.name}", "braze one into a bored rod, no thicker"
        work.shop.lacks(
            work.on.part.name,
            f"{name} that stands {work.numbers.rule(out)} out",
            "Turn a drill's shank down and braze it into a bored rod no thicker than the drill",
        )
    op.tool = replace(op.tool, name=name, reach_mm=out, owned=False, instead=instead)
    return op


def long_tap(work: Holds, op: Op, sunk_mm: float) -> Op:
    """A tapping with a long tap, where the thread lies deeper than a hand tap's wrench comes."""
    size = size_of(op.tool)
    out = sunk_mm + op.length_mm
    if op.kind != "tap" or not sunk_mm or out <= tap_out_mm(size):
        return op
    name = op.tool.name.replace("tap", "long tap", 1)
    work.shop.lacks(work.on.part.name, f"{name} that stands {work.numbers.rule(out)} out",
                    "Buy one, or braze a rod with a square to a tap's end")  # fmt: skip
    op.tool = replace(op.tool, name=name, reach_mm=out, owned=False, instead="buy one")
    return op


def chuck_mm(size_mm: float) -> float:
    """Half of what the chuck is wide that a drill of a diameter is held in, mm."""
    return WIDE_CHUCK_MM if below(TAKEN_MM, size_mm) else CHUCK_MM


def wrench_mm(one: f.Hole) -> float:
    """How far from a hole's axis nothing may stand where the wrench of its tap turns, mm."""
    thick = isinstance(one, f.TappedHole) and thread(one.thread).major_mm > LARGEST_T_MM
    return BAR_WRENCH_MM if thick else CHUCK_MM


def wrench_comes(one: f.Hole, tall_mm: float) -> bool:
    """Whether a tap is long enough for its wrench to turn over what stands beside."""
    if not isinstance(one, f.TappedHole) or not tall_mm or not one.through or one.opens_into:
        return True
    return tall_mm + one.depth_mm <= tap_out_mm(thread(one.thread).major_mm)


def turned_over(one: f.Hole, tall_mm: float, feed: str, own: Sequence[f.Feature]) -> str:
    """Why a hole is tapped with the work turned over, in words; "" where it is tapped from here."""
    if not wrench_comes(one, tall_mm):
        return "the wrench does not come in beside what stands here"
    if isinstance(one, f.TappedHole) and one.through and not one.opens_into:
        for seat in own:
            there = isinstance(seat, f.Counterbore) and seat.axis.along == against(feed)
            if isinstance(seat, f.Hole) and there and on_axis(one, seat):
                return f"the {seat.name} is cut before it, while the hole is plain"
    return ""


def stands_beside(bodies: Sequence[Body], up: str, at: Point, own: Body, wide_mm: float) -> float:
    """How far metal stands up beside a point of one body, nearer to it than ``wide_mm``; mm, or 0."""
    upward, sign = way_of(up)
    tall = 0.0
    over = [at[i] + (sign if i == upward else 0.0) for i in range(3)]
    for void in own.voids:  # a notch's own walls
        if all(void.low[i] < over[i] < void.high[i] for i in range(3)):
            walls = [
                abs(edge - at[i])
                for i in range(3)
                if i != upward
                for edge, end in ((void.low[i], own.low(i)), (void.high[i], own.high(i)))
                if not same(edge, end) and own.low(i) < edge < own.high(i)
            ]
            if min(walls, default=wide_mm) < wide_mm:
                tall = sign * (own.end(upward, sign) - at[upward])
    for other in bodies:
        if other is own:
            continue
        near = [
            max(other.low(i) - at[i], at[i] - other.high(i), 0.0) for i in range(3) if i != upward
        ]
        if hypot(*near) < wide_mm:
            tall = max(tall, sign * (other.end(upward, sign) - at[upward]))
    return tall


def under_the_nose(bodies: Sequence[Body], up: str, at: Point, own: Body, chuck_mm: float) -> float:
    """How far over a point of one body what is in a chuck must stand out of it, mm, or 0.

    chuck_mm: half of what the chuck is wide. What it passes may still stand higher than the chuck is
    long: the spindle's nose behind the chuck comes down on it.
    """
    long = CHUCK_LONG_MM if chuck_mm < WIDE_CHUCK_MM else WIDE_CHUCK_LONG_MM
    nose = stands_beside(bodies, up, at, own, max(NOSE_MM, chuck_mm)) - long
    return max(stands_beside(bodies, up, at, own, chuck_mm), nose, 0.0)


def strapped(own: Body, others: Sequence[Body], axis: int, past: float) -> tuple[Grip, ...]:
    """The strap over a round that stands out of a body along an axis: so far past its face, mm."""
    for other in others:
        out = 1 if other.high(axis) > own.high(axis) else -1
        at = own.end(axis, out) + out * past
        low, high = sorted((at, at + out * STRAP_MM))
        found = [
            Grip(
                one.surface, one.diameter, max(low, one.low), min(high, one.high), packing=STRAPPED
            )
            for one in other.rounds
            if other.axis == axis and overlap((one.low, one.high), (low, high))
        ]
        if found:
            return (max(found, key=lambda grip: grip.to_mm - grip.from_mm),)
    return ()
