"""What each kind of work asks of what was done before it, and of the machine and tool it is done with.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

import re

from parts import features as f
from parts.standard.threads import thread
from planner.walking.counterbored import counterbore_there
from planner.walking.doing import Doing
from planner.walking.fineness import (
    FINE_BAND_MM,
    FINISH_DEPTH_MM,
    rough_before_fine,
    set_by_packing,
)
from planner.walking.finished import TAP_SLACK, line_of
from planner.walking.flames import by_flame
from planner.walking.records import Missing, number, table, text
from planner.walking.runout import by_die, runs_out_inside, time_to_stop
from planner.walking.shape import NEAR_MM, Line
from planner.walking.shop import HAND, WORK, Shop
from planner.walking.sold import serves, sold
from planner.walking.spans import bored_mm, bottoms, spans
from planner.walking.speeds import speed
from planner.walking.state import Mark
from planner.walking.tacks import minded
from planner.walking.tipped import tip_kept_whole, wheel_clear
from planner.walking.wheels import wheels_there

SIZED = ("spot", "centre", "drill", "ream", "tap", "mill", "slit", "counterbore")
"""Work whose tool has a diameter that must be said."""

MOST_REAMED_MM = 0.8
"""A reamer takes no more off the diameter (an old rule: 1/32 in)."""

LEAST_REAMED_MM = 0.03
"""And no less, or it rubs (common practice)."""

LEAD_PITCHES = 2.0
"""A bottoming tap's lead is so many pitches (DIN 2197 form C: 2 to 3)."""


def work_done_here(do: Doing, shop: Shop) -> None:
    """The machine does this kind of work; the tool is there or said to be missing."""
    faults, machine, kind = do.faults, do.machine, do.kind
    if kind not in WORK.get(machine, ()):
        faults.refuse(
            "route-machine-cannot",
            f"{kind} on the {machine}",
            "is not its work",
            "Take a machine that does it",
        )
    by_flame(do)
    minded(do)
    tool = table(do.operation, "tool")
    if machine in HAND and "end mill" in str(tool.get("name")):
        faults.refuse(
            "route-machine-cannot",
            f"an end mill on the {machine}",
            "nothing turns it there",
            "File it, or mill it on a slide on the lathe",
        )
    if machine == "bench" and re.search(r"\bdrill \d", str(do.operation.get("text"))):
        faults.refuse(
            "route-machine-cannot",
            "a hole drilled in the bench vice",
            "nothing turns a drill there",
            "Drill it with the holes, on the machine that drills them",
        )
    if machine == "shaper" and not re.search(r"\bram\b", str(do.setup.get("caution"))):
        faults.refuse(
            "route-words",
            f"{kind} on the shaper",
            "its ram comes out before and behind, and its chips fly",
            "Say to stand beside it, its stroke tried by hand first",
        )
    tip_kept_whole(do)
    wheel_clear(do)
    owned = tool.get("owned")
    if not isinstance(owned, bool):
        raise Missing("tool.owned")
    text(tool, "name")
    if not owned and not tool.get("instead"):
        faults.refuse(
            "route-tool-missing",
            text(tool, "name"),
            "the shop has none",
            "Say what serves instead, or get one",
        )
    elsewhere = machine not in (*HAND, "lathe", *shop.machines)
    if elsewhere and "buy" in str(tool.get("instead")):
        faults.refuse(
            "route-words",
            text(tool, "name"),
            f"is to be bought for the {machine}, which the shop has not",
            "Say who does it: what it is done with is there",
        )
    if owned and kind == "ream" and shop.reamers:
        size = number(tool, "diameter_mm")
        if not any(abs(size - one) < 0.02 for one in shop.reamers):
            faults.refuse(
                "route-tool-missing",
                f"reamer {faults.mm(size)}",
                "is not on the shop's list",
                "Bore the hole, or get the reamer",
            )
    sold(do, shop)
    if kind == "counterbore":
        counterbore_there(do, shop)
    if kind == "thread" and machine == "lathe" and not by_die(do):
        wheels_there(do, shop)
        time_to_stop(do, shop)
        runs_out_inside(do, shop)
    if kind in SIZED and machine not in (*HAND, "shaper"):  # its tool is no cutter that turns
        number(tool, "diameter_mm")
    speed(do, shop)


def machine_there(machine: str, owned: list[bool], shop: Shop) -> bool:
    """Whether the shop has a machine, or the work goes out; owned: of the tools of its steps."""
    if machine in HAND or machine == "lathe" or machine in shop.machines:
        return True
    return bool(owned) and not any(owned)


def before_it(do: Doing) -> None:
    """What the kind of work finds: a spot to drill at, a hole to ream, metal to centre in."""
    rough_before_fine(do)
    set_by_packing(do)
    kind, cut = do.kind, do.cut
    rules = {"drill": _drill, "spot": _spot, "centre": _spot, "ream": _ream, "tap": _tap}
    if kind in rules:
        if cut.line is None:
            raise Missing("cut.axis")
        rules[kind](do, cut.line)
    elif kind == "counterbore" and cut.line is not None:
        if _present(do, cut.line) <= 0 and not _spotted(do, cut.line):
            do.faults.refuse(
                "route-order", "a counterbore with no hole", "its pilot runs in one", "Drill first"
            )
        if any(mark.kind == "thread" and mark.line.same(cut.line) for mark in do.piece.marks):
            do.faults.refuse(
                "route-order",
                "a counterbore on a thread that is cut",
                "its pilot runs in the plain hole: it bruises a thread",
                "Counterbore first, and tap after it",
            )
    elif cut.shape == "bore" and cut.line is not None:
        _bore(do, cut.line)
    elif cut.shape == "turn":
        _turn(do)
    elif cut.shape == "thread" and cut.line is not None and not cut.inside:
        _thread(do, cut.line)


def _present(do: Doing, axis: Line) -> float:
    """The diameter of the hole that is there all along a cut, 0 in the solid."""
    return bored_mm(do.piece.metal, axis, do.cut.low, do.cut.high, do.cut.radius)


def _spotted(do: Doing, axis: Line) -> list[Mark]:
    return [
        mark
        for mark in do.piece.marks
        if mark.kind in ("spot", "centre") and mark.line.same(axis, 0.05)
    ]


def _drill(do: Doing, axis: Line) -> None:
    tool = number(do.tool, "diameter_mm")
    if abs(tool - 2 * do.cut.radius) > 0.05:
        do.faults.refuse(
            "route-words",
            f"drill {do.faults.mm(tool)}",
            f"the hole is {do.faults.mm(2 * do.cut.radius)}",
            "Take the drill of the hole",
        )
    present = _present(do, axis)
    if present > tool - 0.05 or present > 0:
        return
    entry = do.cut.low if axis.sign > 0 else do.cut.high
    if bottoms(do.piece.metal, axis, entry) > tool:  # the cone that a larger drill left centres it
        return
    near = [m for m in _spotted(do, axis) if abs(m.low - entry) < 1.5 + m.high - m.low]
    if not near:
        do.faults.refuse(
            "route-order",
            f"drill {do.faults.mm(tool)} with nothing to start it",
            "a drill is started in a spot on the line of its hole",
            "Spot it first with a centre drill",
        )


def _spot(do: Doing, axis: Line) -> None:
    entry = do.cut.low if axis.sign > 0 else do.cut.high
    inner = entry + axis.sign * NEAR_MM
    beyond = entry - axis.sign * 3 * NEAR_MM
    within, before = do.piece.metal.at(axis.point(inner), axis.point(beyond))
    if not within or before:
        do.faults.refuse(
            "route-order",
            f"{do.kind} where there is no face",
            "a centre drill needs solid metal on its line, and the face it enters",
            "Spot before the larger hole is there, from the face that is there",
        )


def _ream(do: Doing, axis: Line) -> None:
    tool, present = number(do.tool, "diameter_mm"), _present(do, axis)
    if abs(tool - 2 * do.cut.radius) > 0.05:
        do.faults.refuse(
            "route-words",
            f"reamer {do.faults.mm(tool)}",
            f"the hole is {do.faults.mm(2 * do.cut.radius)}",
            "Take the reamer of the hole",
        )
    left = 2 * do.cut.radius - present
    if present <= 0 or not LEAST_REAMED_MM <= left <= MOST_REAMED_MM:
        do.faults.refuse(
            "route-order",
            f"reamed from {do.faults.mm(present)}",
            f"a reamer takes {do.faults.least(LEAST_REAMED_MM)} to {do.faults.most(MOST_REAMED_MM)}",
            "Drill or bore it to just under the reamer",
        )


def _tap(do: Doing, axis: Line) -> None:
    feature = _feature(do)
    if not isinstance(feature, f.TappedHole):
        return
    size, present = thread(feature.thread), _present(do, axis)
    most = size.tap_drill_mm + TAP_SLACK * size.pitch_mm
    if not size.minor_internal_mm - 0.06 <= present <= most:
        do.faults.refuse(
            "route-tap-drill",
            f"tapped from {do.faults.mm(present)}",
            f"{feature.thread} wants {do.faults.mm(size.tap_drill_mm)}",
            "Drill it to the tap drill, to the tap's depth and its lead",
        )
    serves(do, size.designation, size.minor_internal_mm, size.pitch_mm)
    _whole_thread(do, feature, size.pitch_mm)
    _room_for_lead(do, axis, size.pitch_mm)
    if abs(2 * do.cut.radius - size.major_mm) > 0.1:
        do.faults.refuse(
            "route-words",
            f"a tap of {do.faults.mm(2 * do.cut.radius)}",
            f"{feature.thread} is {do.faults.mm(size.major_mm)}",
            "Take its tap",
        )


def _room_for_lead(do: Doing, axis: Line, pitch_mm: float) -> None:
    """A tap cuts full threads only where its lead goes on past them."""
    end = do.cut.high if axis.sign > 0 else do.cut.low
    past = [end + axis.sign * pitch_mm * part for part in (0.5, LEAD_PITCHES - 0.05)]
    if do.piece.metal.has(axis.cloud(past, [0.05, 0.5 * do.cut.radius], 8)).any():
        do.faults.refuse(
            "route-tap-drill",
            f"the hole ends less than {LEAD_PITCHES:g} pitches past the thread",
            f"a tap's lead wants {do.faults.least(LEAD_PITCHES * pitch_mm)} more",
            "Drill it deeper than the thread",
        )


def _whole_thread(do: Doing, feature: f.TappedHole, pitch_mm: float) -> None:
    """The tap goes as deep as the thread is long, and has its pitch."""
    line = line_of(feature.axis)
    base = line.through[line.along]
    low, high = sorted((base, base + line.sign * feature.depth_mm))
    if do.cut.low > low + pitch_mm / 2 or do.cut.high < high - pitch_mm / 2:
        do.faults.refuse(
            "route-not-made",
            f"{feature.name}: {do.faults.mm(do.cut.high - do.cut.low)} tapped",
            f"its thread is {do.faults.mm(feature.depth_mm)} deep",
            "Tap all of it",
        )
    said = table(do.operation, "cut").get("pitch_mm")
    if said is not None and abs(float(said) - pitch_mm) > 0.002:
        do.faults.refuse(
            "route-words",
            f"pitch {do.faults.numbers.pitch(float(said))}",
            f"{feature.thread} has {do.faults.numbers.pitch(pitch_mm)}",
            "Take its tap",
        )


def _feature(do: Doing) -> f.Feature | None:
    name = text(do.operation, "feature")
    return do.piece.features.get(name)


def _bore(do: Doing, axis: Line) -> None:
    cut, present = do.cut, _present(do, axis)
    if present < 2 * cut.before - 0.15:
        do.faults.refuse(
            "route-more-there",
            f"the hole is {do.faults.mm(present)}",
            f"said to be {do.faults.mm(2 * cut.before)} before",
            "Drill it so far first",
        )
    elif present > 2 * cut.before + 0.15:
        do.faults.refuse(
            "route-cuts-nothing",
            f"the hole is {do.faults.mm(present)} already",
            f"said to be {do.faults.mm(2 * cut.before)} before",
            "Say the size that is there",
        )
    _last_cut(do, 2 * (cut.radius - cut.before))


def _turn(do: Doing) -> None:
    cut = do.cut
    assert cut.line is not None
    axis = Line(cut.line.along, 1, cut.line.through)
    stretches = [
        s for s in spans(do.piece.metal, axis) if min(s.high, cut.high) - max(s.low, cut.low) > 0.02
    ]
    outer = max((s.outer for s in stretches), default=0.0)
    if outer > cut.before + 0.1:
        do.faults.refuse(
            "route-more-there",
            f"the work is {do.faults.mm(2 * outer)} there",
            f"said to be {do.faults.mm(2 * cut.before)} before",
            "Turn it down in the order of its diameters",
        )
    elif outer < cut.before - 0.4:
        do.faults.refuse(
            "route-cuts-nothing",
            f"the work is {do.faults.mm(2 * outer)} there",
            f"said to be {do.faults.mm(2 * cut.before)} before",
            "Say the size that is there",
        )
    _last_cut(do, 2 * (min(outer, cut.before) - cut.radius))


def _last_cut(do: Doing, off_mm: float) -> None:
    """A fine size is not come to from the rough in one cut."""
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    size = getattr(feature, "diameter", None)
    if size is None or feature is None or feature.name not in (do.operation.get("makes") or ()):
        return
    if size.upper_mm - size.lower_mm <= FINE_BAND_MM and off_mm > 2 * FINISH_DEPTH_MM + 0.05:
        do.faults.refuse(
            "route-order",
            f"finished with {do.faults.mm(off_mm)} on the diameter still there",
            f"at most {do.faults.most(2 * FINISH_DEPTH_MM)} for a fine size",
            "Rough it first, then measure and finish",
        )


def _thread(do: Doing, axis: Line) -> None:
    cut, pitch = do.cut, number(table(do.operation, "cut"), "pitch_mm")
    line = Line(axis.along, 1, axis.through)
    stretches = [
        s for s in spans(do.piece.metal, line) if min(s.high, cut.high) - max(s.low, cut.low) > 0.1
    ]
    outer = max((s.outer for s in stretches), default=0.0)
    if not cut.radius - 0.2 * pitch <= outer <= cut.radius + 0.06:
        do.faults.refuse(
            "route-order",
            f"threaded on {do.faults.mm(2 * outer)}",
            f"its diameter is {do.faults.mm(2 * cut.radius)}",
            "Turn the thread's diameter first",
        )
    full = sum(
        min(s.high, cut.high) - max(s.low, cut.low)
        for s in stretches
        if s.outer > cut.radius - 0.3 * pitch
    )
    if cut.high - cut.low - full > 0.6 * pitch:
        do.faults.refuse(
            "route-words",
            f"{do.faults.mm(cut.high - cut.low)} of thread",
            f"{do.faults.mm(full)} of it stands: the rest is a groove",
            "Say how long the full thread is",
        )
    feature = _feature(do)
    if isinstance(feature, f.Thread):
        size = thread(feature.thread)
        if abs(size.pitch_mm - pitch) > 0.002 or abs(size.major_mm - 2 * cut.radius) > 0.02:
            do.faults.refuse(
                "route-words",
                f"pitch {do.faults.numbers.pitch(pitch)}",
                f"{feature.thread} has {do.faults.numbers.pitch(size.pitch_mm)}",
                "Set the gears for its pitch",
            )
