"""Threads on the outside of a round piece: by a die, or by a single point with room to run out.

Imported by making.ways.onaxis and by making.turned.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec.structs import replace

from parts import features as f
from parts.standard.threads import thread
from planner.job.usual import LARGEST_DIE_MM
from planner.making import cuts
from planner.making.gauges import by_thread
from planner.making.model import Hold, Line, Op, Tool
from planner.making.near import Span, below, outside
from planner.making.profile import THICKER_MM, Stretch
from planner.making.ways import wheels
from planner.making.workshop import Workshop

if TYPE_CHECKING:
    from planner.making.ways.onaxis import OnAxis

STOPPED = "Switch off before the shoulder and turn the chuck by hand to it, the tool in its groove"
"""Where even the slowest speed crosses the groove too fast."""

STOPPED_INSIDE = "Switch off before the mark and turn the chuck by hand to it"
"""And in a hole, past the end of its thread."""

DIE_DIAMETERS = 3.0
"""A thread no longer than so many diameters is cut by a die; a longer one drifts (common practice)."""

DIE_LEAD = 3.0
"""So many turns of a die cut no full thread on the side it is begun with, one or less on the other
(common practice)."""

RUN_OUT = 1.0
"""A threading tool stopped by hand wants so many pitches to run out (common practice)."""

STOPS_S = 1.0
"""A hand stops a threading tool in no less: so long it is in its groove (common practice)."""

MOST_RUN_OUT = 2.5
"""What a thread leaves before a shoulder is a groove up to so many pitches (common practice)."""


LEAST_OUTSIDE_MM = 6.0
"""A thread thinner than this bends under a single point: its die is bought (common practice)."""

BY_HAND_MM = 16.0
"""A die in the tailstock is turned by hand up to here, where no wheels cut the thread (common practice:
M16, 5/8 in)."""


def by_die(designation: str, long_mm: float, shop: Workshop) -> bool:
    """Whether a thread is short and thin enough for a die, and the shop has it or can do no other."""
    size, no_wheels = thread(designation), wheels.lacks(designation, shop)
    major, owned = size.major_mm, shop.die(size.designation).owned
    if not no_wheels and not owned and not below(major, LEAST_OUTSIDE_MM):
        return False
    most = BY_HAND_MM if no_wheels else LARGEST_DIE_MM
    return not below(DIE_DIAMETERS * major, long_mm) and major <= most


GAUGE_NUT = "gauge nut"
"""What tries a thread that no nut of a shop has: tapped for it with the tap that its mate wants."""

OFFCUT = "of an offcut"
"""What it is made of, as its words begin: no bar is laid out for it."""

LARGEST_NUT_MM = 19.05
"""Fine unified nuts lie in a shop up to 3/4 in (common practice)."""


def no_nut(designation: str) -> bool:
    """Whether no shop has a nut of a thread: a fine metric one, or a fine unified one that is large."""
    size = thread(designation)
    if size.system == "metric":
        return "x" in size.designation
    return "UNC" not in designation and ("UNF" not in designation or size.major_mm > LARGEST_NUT_MM)


def threaded(feature: f.Thread, on: OnAxis) -> list[Op]:
    """The operations that cut a thread where its diameter is turned."""
    low, high = on.span(feature)
    size, name = thread(feature.thread), on.numbers.thread_made(feature.thread, False)
    said = f"{feature.name} {on.said(feature)}"
    gauge = "nut or thread gauge"
    if no_nut(feature.thread):
        gauge, tap = GAUGE_NUT, on.shop.tap(size.designation)
        if not tap.owned:
            on.shop.lacks(on.on.part.name, tap.name, "Buy or borrow one")
    measures = (by_thread(f"{name}: nut runs without shake", on.surface(feature), gauge),)
    before = feature.name in on.grooved  # while the centre held its end
    grooves = on.grooved.get(feature.name) or run_out(feature, on, low, high)
    whole = [(op.cut["from_mm"], op.cut["to_mm"]) for op in grooves]
    full = next((left for gone in whole for left in outside((low, high), gone)), (low, high))
    cut = cuts.thread(on.axis, full, size.major_mm, size.pitch_mm, False)
    rest = ""
    if below(full[1] - full[0], high - low):
        rest = f", {on.numbers.rule(full[1] - full[0])} of it full: the groove takes the rest"
    die = by_die(feature.thread, high - low, on.shop) and not on.setup.hold.centre
    if die and on.shop.kit.die_holder:
        gaps = [gap for _, gap in _shoulders(on, *full, size.major_mm)]
        if gaps and not below(DIE_LEAD * size.pitch_mm, min(gaps)):
            turned = "; the last turns with the die the other way round, close to the shoulder"
        else:
            turned = ""
        tool = on.shop.die(size.designation)
        if not tool.owned:
            on.shop.lacks(on.on.part.name, tool.name, "Buy or borrow one")
        return [
            *(() if before else grooves),
            Op("thread", f"thread {said} by the die{rest}{turned}", tool, feature,
               True, cut, minutes=4.0, measures=measures, note=feature.note,
               caution="Turn the chuck by hand, the switch off")
        ]  # fmt: skip
    close = _before_a_shoulder(on, low, high, size.major_mm)
    ground = ", its point ground close to the shoulder's side" if close else ""
    tool = Tool("threading tool", f"{on.shop.tool} threading tool, set by the gauge{ground}")
    pitch, by = on.numbers.screw_pitch(size.pitch_mm), "the lathe's chart"
    if prime := wheels.lacking(size, on.shop):
        teeth = wheels.wheel_for(prime)
        by = f"calculation, one of {teeth} teeth among them,"
        what = f"a change wheel of {teeth} teeth, or another that {prime} divides"
        on.shop.lacks(on.on.part.name, what, "Buy or borrow one")
        tool = replace(tool, owned=False, instead=f"{wheels.BORROWED}change wheel of {teeth} teeth")
    tried = wheels.kept_closed(size, on.shop) + to_try(on.setup.hold, (low + high) / 2)
    room = min((gap for _, gap in _shoulders(on, *full, size.major_mm)), default=None)
    most = None if room is None else 60.0 * room / size.pitch_mm / STOPS_S
    slow = most is None or not below(most, min(on.shop.speeds("lathe"), default=0.0))
    stop = "Stop before the shoulder by hand" if slow else STOPPED
    return [
        *grooves,
        Op("thread", f"screw-cut {said}{rest}: wheels by {by} for {pitch}{tried}", tool, feature, True,
           cut, speed=("thread", size.major_mm), rate="thread", length_mm=full[1] - full[0],
           stock_mm=(size.major_mm - size.minor_external_mm) / 2, measures=measures,
           note=feature.note, most_rpm=most,
           caution=f"{stop}, or cut away from it with the spindle reversed"),
    ]  # fmt: skip


LEAST_INSIDE_MM = 12.0
"""A threading tool on a bar goes into no hole under so much, its point standing out of the bar, and
stays stiff (common practice)."""


def inside(feature: f.TappedHole, line: Line, span: Span, room_mm: float, work: OnAxis) -> list[Op]:
    """A hole's thread cut by a single point, where the shop has not the tap; [] where it is no way.

    span: as far as it is threaded; room_mm: of hole past that, for the tool to run out in.
    """
    shop, numbers, size = work.shop, work.numbers, thread(feature.thread)
    room = room_mm >= RUN_OUT * size.pitch_mm
    small = size.tap_drill_mm < LEAST_INSIDE_MM
    if shop.tap(size.designation).owned or small or not room or wheels.lacks(feature.thread, shop):
        return []
    pitch, name = numbers.screw_pitch(size.pitch_mm), numbers.thread_made(size.designation, True)
    wide = shop.job.series.down(size.tap_drill_mm / 2, 1.0)
    said = f"{shop.tool} internal threading tool, set by the gauge"
    tool = Tool("internal threading tool", said, wide)
    deep, most = abs(span[1] - span[0]), 60.0 * room_mm / size.pitch_mm / STOPS_S
    slow = not below(most, min(shop.speeds("lathe"), default=0.0))
    stop = "Stop at the mark by hand" if slow else STOPPED_INSIDE
    return [
        Op("thread", f"screw-cut {feature.name} {numbers.thread(size.designation)} inside, the tool run"
           f" out {numbers.rule(deep + RUN_OUT * size.pitch_mm)} deep, a mark on its bar: wheels by the"
           f" lathe's chart for {pitch}{wheels.kept_closed(size, shop)}",
           tool, feature, True, cuts.thread(line, span, size.major_mm, size.pitch_mm, True),
           speed=("thread", size.major_mm), rate="thread", length_mm=deep,
           stock_mm=(size.major_mm - size.tap_drill_mm) / 2, note=feature.note,
           most_rpm=most,
           measures=(by_thread(f"{name}: screw runs in by hand", f"{feature.name}.bore",
                               "screw or thread gauge"),),
           caution=f"{stop}, or cut outward from the hole's bottom with the spindle reversed")
    ]  # fmt: skip


def to_try(hold: Hold, at_mm: float) -> str:
    """What goes out of a nut's way to a thread at a coordinate; "" where its end is free.

    No nut passes a centre or a steady.
    """
    if hold.headstock_centre:
        return (
            "; to try the nut it comes out from between the centres, and goes back with its carrier the"
            " same way round"
        )
    away = []
    if hold.centre:
        away.append("the tailstock is drawn back")
    gripped = [at for grip in hold.grips for at in (grip.from_mm, grip.to_mm)]
    foot = sum(gripped) / len(gripped) if gripped else at_mm
    if hold.follows_mm or (hold.steady and (hold.steady.at_mm - at_mm) * (at_mm - foot) > 0):
        away.append("the steady taken off")
    return f"; to try the nut {', '.join(away)}, the work left as it is held" if away else ""


def run_out(feature: f.Thread, on: OnAxis, low: float, high: float) -> list[Op]:
    """A groove to the thread's root in what the thread leaves before the shoulder."""
    size = thread(feature.thread)
    for one, gap in _shoulders(on, low, high, size.major_mm):
        if gap > MOST_RUN_OUT * size.pitch_mm:
            continue
        if gap < RUN_OUT * size.pitch_mm:  # at the cost of the first turn of the thread
            gap = on.numbers.rule_up_mm(RUN_OUT * size.pitch_mm)
        span = (one.low - gap, one.low) if one.low >= high else (one.high, one.high + gap)
        cut = cuts.turn(on.axis, span, on.profile.largest(*span), size.minor_external_mm)
        wide, deep = on.numbers.size(round(gap, 6)), on.numbers.caliper(size.minor_external_mm)
        return [
            Op("groove", f"run-out groove {wide} wide to Ø{deep} between the {feature.name} and the"
               " shoulder", Tool("grooving tool", "HSS grooving tool, corners rounded", None, gap),
               feature, False, cut, speed=("part", one.diameter), rate="part", length_mm=1.0)
        ]  # fmt: skip
    return []


def _shoulders(on: OnAxis, low: float, high: float, major_mm: float) -> list[tuple[Stretch, float]]:
    """What is thicker than a thread on either side of it, each with how far off it begins."""
    thick = [s for s in on.profile.stretches if s.diameter > major_mm + THICKER_MM]
    found = [(s, gap) for s in thick for gap in (s.low - high, low - s.high)]
    return [(s, gap) for s, gap in found if not below(gap, 0.0)]


def _before_a_shoulder(on: OnAxis, low: float, high: float, major_mm: float) -> bool:
    """Whether a thread's tool comes so close to a shoulder that its flank would meet it: it leans 30
    degrees, and the shoulder is as high."""
    found = _shoulders(on, low, high, major_mm)
    return any(gap < (s.diameter - major_mm) / 2 for s, gap in found)
