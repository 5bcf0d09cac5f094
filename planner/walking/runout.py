"""Whether a thread has room to run out before a shoulder, and the hand time to stop in it.

Imported by planner.walking.reach and planner.walking.order.
"""

from __future__ import annotations

import re

from parts import features as f
from parts.standard.threads import thread
from planner.walking.doing import Doing
from planner.walking.finished import line_of
from planner.walking.held import Held
from planner.walking.records import number, table
from planner.walking.shop import Shop
from planner.walking.spans import spans

RUN_OUT = 0.95
"""A thread ends before a shoulder by at least so much of its pitch (common practice: one or two)."""

LEAD = 2.0
"""So many turns of a die, on the side that it is begun with, cut no full thread (common practice: two
or three); on its other side one or less."""

STOPS_S = 0.95
"""A hand that disengages, or switches off, takes a second (common practice)."""

LEAST_BORE_MM = 12.0
"""A threading tool on a bar, its point standing out, goes into no thinner hole and stays stiff (common
practice)."""

MOST_ROOM_MM, ROUND_RAD = 40.0, (0.0, 1.0, 2.0, 3.0, 4.0, 5.0)
"""So far past a thread is looked for the bottom of its hole, at so many places round it."""

TURNED_ROUND, BY_HAND = r"the die the other way round", r"turn the chuck by hand|by a crank"


def by_die(do: Doing) -> bool:
    """Whether a thread is cut by a die."""
    said = (str(do.tool.get("kind") or "") + " " + str(do.tool.get("name") or "")).lower().split()
    return "die" in said


def runs_out(do: Doing, held: Held) -> None:
    """Before a shoulder on the headstock's side of a thread there is a groove, or room; a die is turned
    round there. Raises Missing."""
    room, pitch = _room_mm(do, held)
    faults, die = do.faults, by_die(do)
    if die and room < -0.05:  # its diameter is not turned yet, of which order asks
        return
    if room < RUN_OUT * pitch:
        faults.refuse(
            "route-tool-reach",
            "the thread runs against a shoulder",
            f"at least {faults.least(RUN_OUT * pitch)} for the {'die' if die else 'tool'} to run out",
            "Turn a run-out groove first",
        )
    elif die and room < LEAD * pitch and not re.search(TURNED_ROUND, _said(do)):
        faults.refuse(
            "route-tool-reach",
            f"a die {faults.mm(room)} before a shoulder",
            f"its lead is {faults.least(LEAD * pitch)} long",
            "Cut the last turns with the die the other way round",
        )


def time_to_stop(do: Doing, shop: Shop) -> None:
    """A tool that runs up to a shoulder is in its groove for a second; where no speed is so slow, the
    last of it is turned by hand. Raises Missing."""
    rpm, held = do.operation.get("speed_rpm"), do.held
    if not rpm or not isinstance(held, Held) or do.cut.line is None or by_die(do):
        return
    room, pitch = _room_mm(do, held)
    most = 60.0 * room / pitch / STOPS_S
    if float(rpm) <= most or room < RUN_OUT * pitch:  # of none at all runs_out asks
        return
    slowest = min(shop.speeds("lathe"), default=0.0)
    if float(rpm) > slowest + 0.5:
        do.faults.refuse(
            "route-speed",
            f"{do.faults.numbers.spindle_speed(float(rpm))}, the tool {do.faults.mm(room)} before a"
            " shoulder",
            f"{do.faults.numbers.spindle_speed(float(int(most)))} at most",
            "Take a slower speed of its list: a hand stops it in no less than a second",
        )
    elif not re.search(BY_HAND, _said(do)):
        do.faults.refuse(
            "route-words",
            f"screw-cut at {do.faults.numbers.spindle_speed(float(rpm))} up to a shoulder",
            f"the tool is in its groove for {60.0 * room / pitch / float(rpm):.1f} s",
            "Say that the chuck is turned by hand for the last of it",
        )


def runs_out_inside(do: Doing, shop: Shop) -> None:
    """A single point in a hole has hole left past the thread to stop in, and a hole that it goes into.
    Raises Missing."""
    own, cut, faults = (
        do.piece.features.get(str(do.operation.get("feature") or "")),
        do.cut,
        do.faults,
    )
    if not isinstance(own, f.TappedHole) or cut.line is None:
        return
    pitch, bore = number(table(do.operation, "cut"), "pitch_mm"), thread(own.thread).tap_drill_mm
    if bore < LEAST_BORE_MM - 0.05:
        faults.refuse(
            "route-tool-reach",
            f"a threading tool in a hole of {faults.mm(bore)}",
            f"at least {faults.least(LEAST_BORE_MM)}: its bar is thin, and springs",
            "Tap it",
        )
    sign = line_of(own.axis).sign
    end, room = (cut.high if sign > 0 else cut.low), 0.0
    while room < MOST_ROOM_MM and not any(
        do.piece.metal.at(
            *(cut.line.point(end + sign * room, bore / 2 - 0.1, t) for t in ROUND_RAD)
        )
    ):
        room += 0.1
    if room < RUN_OUT * pitch:
        faults.refuse(
            "route-tool-reach",
            f"the thread ends {faults.mm(room)} before the bottom of its hole",
            f"at least {faults.least(RUN_OUT * pitch)} for the tool to run out",
            "Drill or bore it deeper first",
        )
    elif (rpm := number(do.operation, "speed_rpm")) > 60.0 * room / pitch / STOPS_S:
        where = f"the tool {faults.mm(room)} before the bottom"
        _too_fast(do, shop, rpm, where, 60.0 * room / pitch)


def _too_fast(do: Doing, shop: Shop, rpm: float, where: str, turns_s: float) -> None:
    """A tool that stops there in less than a second: is there a slower speed, else is it said that the
    last of it is turned by hand; turns_s: a minute's turns over those there is room for."""
    spoken = do.faults.numbers.spindle_speed
    if rpm > min(shop.speeds("lathe"), default=0.0) + 0.5:
        do.faults.refuse(
            "route-speed",
            f"{spoken(rpm)}, {where}",
            f"{spoken(float(int(turns_s / STOPS_S)))} at most",
            "Take a slower speed of its list: a hand stops it in no less than a second",
        )
    elif not re.search(BY_HAND, _said(do)):
        do.faults.refuse(
            "route-words",
            f"screw-cut at {spoken(rpm)}, {where}",
            f"the tool is there in {turns_s / rpm:.1f} s",
            "Say that the chuck is turned by hand for the last of it",
        )


def _room_mm(do: Doing, held: Held) -> tuple[float, float]:
    """From where a thread is full to the shoulder on the headstock's side, and the pitch."""
    cut = do.cut
    pitch = number(table(do.operation, "cut"), "pitch_mm")
    own = do.piece.features.get(str(do.operation.get("feature") or ""))
    if isinstance(own, f.Thread):
        pitch = thread(own.thread).pitch_mm
    near, _ = held.span(cut.low, cut.high)
    there = [(*held.span(s.low, s.high), s.outer) for s in spans(do.piece.metal, held.line)]
    thick = [b for a, b, outer in there if outer > cut.radius + 0.05 and a < near - 0.05]
    room = near - max(thick, default=-1e9)
    if -0.05 <= room < RUN_OUT * pitch:
        root = cut.radius - 0.65 * pitch
        grooves = [
            b - a
            for a, b, outer in there
            if b > near and a < near + pitch and outer < root + 0.2 * pitch
        ]
        room = max([room, *grooves])
    return room, pitch


def _said(do: Doing) -> str:
    return f"{do.operation.get('text') or ''} {do.operation.get('caution') or ''}".lower()
