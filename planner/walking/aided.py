"""The aids that are made first: whether each is there in time, fits what it is for, and is sawn.

What is wanted is read off the steps and set-ups; what is made off the aids' own records. Imported by
planner.output.plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

from parts import features as f
from parts.part import Part, every_feature
from parts.standard.threads import thread
from planner.job.tables import Job
from planner.walking import fitted
from planner.walking.faults import Faults
from planner.walking.records import Missing, Record, length_said, number, rows, text
from planner.walking.tacked import tacking
from planner.walking.wanted import Said, Wanted
from planner.words.findings import Finding
from planner.words.register import Severity

SAME_MM = 0.05
"""What is turned to a size is of it within this (common practice)."""

CHIPS_MM = 0.5
"""A bar leaves so much round it in its hole for chips at the least (common practice)."""

BUSH_WALL_MM = 2.0
"""A split bush has such a wall on either side at the least: thinner it is torn where it is slit, and
bent by the jaws (common practice)."""

SEAT_MM = 1.0
"""And a bottom so thick behind its step (common practice)."""

NUT_WALL = 1.4
"""What is tapped is so many times as thick as its thread (common practice: nuts are 1.5 to 1.6)."""

BIT_PART = 0.5
"""A bar is cross drilled for a bit of half its thickness at most (common practice: a third)."""

BIT_HELD = 0.55
"""It is held in so much of the bar's thickness at the least: past the middle, where its screw bears
(common practice)."""

HELD_MM = 15.0
"""So much of a long centre is in the drill chuck at the least (common practice)."""

GRIPPED_MM = 20.0
"""And of a stub that stands out of the jaws so much in them (common practice: all their length)."""

VEE = 0.75
"""A round lies on lines 0.707 of its diameter apart in a vee of 90 degrees; its block is wider."""

OUT = r"(\d[\d./-]*) (?:mm|in) of the stub out of the jaws"
"""How far a stub is said to stand out of the jaws, behind the work."""

SPIGOT = r"as it came out, (\d[\d./-]*) (?:mm|in) long"
"""How long what goes into the work is said to be."""

SETTING = "setting gauge for boring bars"

SHOULDER_MM = 2.0
"""A stub has a shoulder so much wider than what goes into the work (common practice)."""


def aided(
    parts: Sequence[Part],
    job: Job,
    setups: Sequence[Record],
    operations: Sequence[Record],
    aids: Sequence[Record],
    file: str = "",
    severity: Severity = "refused",
) -> tuple[Finding, ...]:
    """What is wrong with the aids; nothing where each serves. Lengths of the records in mm.

    aids: records with setup, name, size_mm, shape, material, stock_mm, long_mm, saw_mm and so on.
    """
    faults = Faults(file, job.numbers, severity)
    for one in aids:
        faults.key = f"aid {one.get('name')}"
        try:
            _made(one, faults)
            _ground(one, job, faults)
            fitted.seizes(one, job, faults)
        except Missing as missing:
            faults.refuse("route-record", missing.key, "is not said", "Say it")
    fitted.bores_read(operations, faults)
    fitted.as_told(operations, faults)
    for want in _wanted(parts, job, setups, operations, aids):
        faults.key = f"set-up {want.setup}"
        try:
            _there(want, aids, faults)
        except Missing as missing:
            faults.refuse("route-record", missing.key, "is not said of an aid", "Say it")
    return tuple(faults.found)


def _made(one: Record, faults: Faults) -> None:
    """Whether it is sawn, as long as it finishes or longer, of a bar thick enough."""
    text(one, "made")
    size, stock, long = (number(one, key) for key in ("size_mm", "stock_mm", "long_mm"))
    if text(one, "name") != "fly cutter" and stock < size - 0.01:
        faults.refuse(
            "route-aid",
            f"{faults.mm(size)} thick",
            f"its bar is {faults.mm(stock)}",
            "Make it of a thicker bar",
        )
    if not one.get("sawn"):
        return
    sawn = one.get("saw_mm")
    if sawn is None:
        faults.refuse("route-aid", "its bar", "is not in the cut list", "Saw it with the rest")
    elif float(sawn) < long - 0.01:
        faults.refuse(
            "route-aid",
            f"sawn to {faults.mm(float(sawn))}",
            f"finished it is {faults.mm(long)} long",
            "Saw it longer",
        )


def _ground(one: Record, job: Job, faults: Faults) -> None:
    """Whether it is said who grinds an edge where there is no grinder: high-speed steel is too hard for
    a file (common practice)."""
    made = text(one, "made")
    there = "grinder" in {str(name) for name in job.shop.machines}
    if "ground" in made.split() and not there and "have it ground" not in made:
        faults.refuse(
            "route-aid",
            "its edge is ground",
            "the shop has no grinder",
            "Say that it is to be had ground",
        )


def _there(want: Wanted, aids: Sequence[Record], faults: Faults) -> None:
    """Whether one of that name and size is made by then, and does what it is for."""
    named = [one for one in aids if one.get("name") == want.name]
    own = [
        one for one in named
        if want.size_mm is None or abs(number(one, "size_mm") - want.size_mm) < SAME_MM
    ]  # fmt: skip
    if not own:
        sizes = ", ".join(faults.mm(number(one, "size_mm")) for one in named)
        wanted = "" if want.size_mm is None else f" of {faults.mm(want.size_mm)}"
        faults.refuse(
            "route-aid",
            f"{want.name}{wanted}",
            f"is made of {sizes}" if sizes else "is not made",
            "Make it first",
        )
        return
    if all(number(one, "setup") > want.setup for one in own):
        faults.refuse(
            "route-aid",
            want.name,
            f"is made before set-up {int(number(own[0], 'setup'))} only",
            "Make it before it is used",
        )
    fails = [[(value, limit) for asks, value, limit in want.asks if not asks(one)] for one in own]
    for value, limit in min(fails, key=len):
        faults.refuse("route-aid", f"{want.name}: {value}", limit, "Make it to suit")


def _wanted(
    parts: Sequence[Part], job: Job, setups: Sequence[Record], operations: Sequence[Record],
    aids: Sequence[Record],
) -> Iterator[Wanted]:  # fmt: skip
    mm = Faults("", job.numbers).mm
    for operation in operations:
        yield from _by_tool(job, operation, operations, aids, mm)
        for one in rows(operation, "measure"):
            if (one.get("with") or {}).get("name") == "gauge nut":
                yield _nut(parts, operation, mm)
            if (one.get("with") or {}).get("name") == "plug gauge turned to size":
                yield _gauge(operation, one, mm)
            if "V-blocks" in str(one.get("how")) and not job.shop.measuring.v_blocks:
                yield _lying(parts, operation, one, mm)
    yield from tacking(parts, job, setups, mm)
    for setup in setups:
        yield from _by_hold(parts, job, setup, mm)
        for true in rows(setup, "align"):
            if true.get("by") == "locating rod":
                yield fitted.rod(parts, setup, operations, true, mm)


def _gauge(operation: Record, one: Record, mm: Said) -> Wanted:
    """What tries a hole goes into the least of its limits, and shows the largest."""
    low, high, what = number(one, "low_mm"), number(one, "high_mm"), text(one, "what")
    least, most = what.rpartition(" ")[0].split(" to ")
    return Wanted(int(number(operation, "setup")), "plug gauge", low, (
        (lambda aid: number(aid, "long_mm") >= 2 * low,
         "too short", f"either end is {mm(low)} long at the least"),
        (lambda aid: least in text(aid, "made") and most in text(aid, "made"),
         "its two ends", f"the bore is {mm(low)} to {mm(high)}"),
    ))  # fmt: skip


def _by_tool(
    job: Job, operation: Record, operations: Sequence[Record], aids: Sequence[Record], mm: Said
) -> Iterator[Wanted]:
    """What a tool is of that no dealer has."""
    tool, setup = operation.get("tool") or {}, int(number(operation, "setup"))
    kind, name = str(tool.get("kind")), str(tool.get("name")).split(",")[0]
    cut = operation.get("cut") or {}
    if kind == "boring bar between centres":
        thick, long = number(tool, "diameter_mm"), number(tool, "reach_mm")
        hole, after = number(cut, "before_mm"), number(cut, "after_mm")
        yield Wanted(setup, name, thick, (
            (lambda one: number(one, "size_mm") <= hole - 2 * CHIPS_MM + 0.01,
             f"{mm(thick)} thick", f"the hole it goes through is {mm(hole)}"),
            (lambda one: number(one, "long_mm") >= long - 0.01,
             "too short", f"the work and the carrier want {mm(long)}"),
        ))  # fmt: skip
        out = (after - thick) / 2
        if any(one.get("name") == SETTING for one in aids):
            yield fitted.setting_gauge(setup, thick, number(tool, "width_mm"), out, job.inch, mm)
        yield Wanted(setup, f"bit for the {name}", None, (
            (lambda one: number(one, "size_mm") <= BIT_PART * thick + 0.01,
             "too thick", f"the bar is {mm(thick)}"),
            (lambda one: number(one, "long_mm") - out >= BIT_HELD * thick - 0.01,
             "too short", f"{mm(out)} of it stand out, the rest is held"),
            (lambda one: number(one, "long_mm") <= thick + out + 0.01,
             "it stands out of the bar's back, where the micrometer goes",
             f"{mm(thick + out)} at most"),
        ))  # fmt: skip
    if tool.get("centre_out_mm"):
        out = number(tool, "centre_out_mm")
        yield Wanted(setup, "long centre", None, (
            (lambda one: number(one, "long_mm") >= out + HELD_MM - 0.01,
             "too short", f"it stands {mm(out)} out of its chuck"),
            (lambda one: fitted.in_drill_chuck(job, one),
             "too thick", "no drill of the shop asks for so large a drill chuck"),
        ))  # fmt: skip
    if name.startswith("flat drill"):
        yield fitted.flat_drill(setup, name, number(tool, "diameter_mm"), operations)
    if name.startswith("counterbore bar"):
        yield from _counterbore_bar(operation, operations, name, job, mm)
    if kind == "facing cutter" and operation.get("kind") != "deburr":
        across, bar = number(tool, "diameter_mm"), number(tool, "width_mm")
        yield Wanted(setup, "facing cutter for the bar", None, (
            (lambda one: number(one, "long_mm") >= across - 0.01,
             "too short", f"it sweeps {mm(across)}"),
            (lambda one: number(one, "size_mm") <= BIT_PART * bar + 0.01,
             "too thick", f"the bar is {mm(bar)}"),
        ))  # fmt: skip
    if kind == "fly cutter":
        across = number(tool, "diameter_mm")
        yield Wanted(setup, "fly cutter", across)
        yield Wanted(setup, "bit for the fly cutter", None, (
            (lambda one: number(one, "long_mm") >= across / 2 - 0.01,
             "too short", f"its point turns {mm(across / 2)} off the axis"),
        ))  # fmt: skip


def _counterbore_bar(
    operation: Record, operations: Sequence[Record], name: str, job: Job, mm: Said
) -> Iterator[Wanted]:
    """A bar whose end runs in the hole that is counterbored, a bit across it."""
    tool, cut = operation["tool"], operation.get("cut") or {}
    setup = int(number(operation, "setup"))
    thick, across, long = (number(tool, key) for key in ("width_mm", "diameter_mm", "reach_mm"))
    axis, now, part = cut.get("axis"), number(operation, "number"), operation.get("part")
    there = [
        float(one["cut"]["after_mm"]) for one in operations
        if one.get("part") == part and number(one, "number") < now
        and (one.get("cut") or {}).get("shape") == "hole" and _one_line(one["cut"].get("axis"), axis)
        and one.get("kind") in ("drill", "ream")
    ]  # fmt: skip
    hole = max((one for one in there if one < across - 0.1), default=0.0)
    yield Wanted(setup, name, thick, (
        (lambda one: not hole or number(one, "size_mm") <= hole + 0.01,
         f"{mm(thick)} thick", f"the hole that its end runs in is {mm(hole)}"),
        (lambda one: number(one, "long_mm") >= long + thick - 0.01,
         "too short", f"it stands {mm(long)} out, and its end runs in the hole"),
        (lambda one: fitted.in_drill_chuck(job, one),
         "too thick", "no drill of the shop asks for so large a drill chuck"),
    ))  # fmt: skip
    yield Wanted(setup, f"bit for the {name}", None, (
        (lambda one: number(one, "long_mm") >= across - 0.01,
         "too short", f"it cuts {mm(across)} across"),
    ))  # fmt: skip


def _one_line(one: object, other: object) -> bool:
    """Whether two records of axes are the same line, either way."""
    if not isinstance(one, dict) or not isinstance(other, dict):
        return False
    way, off = str(one.get("along"))[-1], str(other.get("along"))[-1]
    if way != off:
        return False
    pairs = zip("xyz", one.get("through") or (), other.get("through") or (), strict=False)
    return all(abs(float(a) - float(b)) < 0.01 for letter, a, b in pairs if letter != way)


def _by_hold(parts: Sequence[Part], job: Job, setup: Record, mm: Said) -> Iterator[Wanted]:
    """What work is held in or on."""
    hold, place = setup.get("hold") or {}, int(number(setup, "number"))
    grips, by = rows(hold, "grips"), hold.get("by")
    for grip in grips:
        if grip.get("packing") == "split bush":
            yield _bush(place, grip, mm)
        if str(grip.get("packing")).startswith("soft jaws, bored"):
            yield _plug(place, number(grip, "size_mm"), mm)
        if by == "mandrel":
            yield _stub(parts, setup, grip, job, mm)
        if by == "V-blocks" and not job.shop.measuring.v_blocks:
            yield _vee(place, number(grip, "size_mm"), mm)
    if by == "mandrel" and not grips:
        yield Wanted(place, "mandrel")


def _bush(place: int, grip: Record, mm: Said) -> Wanted:
    deep = abs(number(grip, "to_mm") - number(grip, "from_mm"))
    return Wanted(place, "split bush", number(grip, "size_mm"), (
        (lambda one: number(one, "stock_mm") >= number(one, "size_mm") + 2 * BUSH_WALL_MM,
         "its wall is too thin to be slit", f"at least {mm(BUSH_WALL_MM)} on either side"),
        (lambda one: number(one, "long_mm") >= number(one, "deep_mm") + SEAT_MM - 0.01,
         "no step is left at its bottom", "the work seats there"),
        (lambda one: number(one, "deep_mm") >= deep - SEAT_MM - 0.01,
         "not bored deep enough", f"{mm(deep)} of the work go in"),
    ))  # fmt: skip


def _plug(place: int, size: float, mm: Said) -> Wanted:
    return Wanted(place, "soft-jaw plug", None, (
        (lambda one: number(one, "size_mm") < size - 2 * SEAT_MM + 0.01,
         "it is in the way of the boring", f"the jaws are bored to {mm(size)}"),
    ))  # fmt: skip


def _vee(place: int, size: float, mm: Said) -> Wanted:
    return Wanted(place, "V-block", None, (
        (lambda one: number(one, "stock_mm") >= VEE * size - 0.01,
         "too narrow", f"the work is {mm(size)}, and lies in its vee"),
        (lambda one: number(one, "quantity") >= 2, "one alone", "they are a pair"),
    ))  # fmt: skip


def _lying(parts: Sequence[Part], operation: Record, measure: Record, mm: Said) -> Wanted:
    """The pair that a round lies in while a height is read from it."""
    round_ = str(measure.get("from")).rpartition(".")[0].rpartition("/")[2]
    own = _feature(parts, operation, round_)
    size = own.diameter.nominal_mm if isinstance(own, f.TurnedDiameter) else 0.0
    return _vee(int(number(operation, "setup")), size, mm)


def _stub(parts: Sequence[Part], setup: Record, grip: Record, job: Job, mm: Said) -> Wanted:
    """What work is turned on by its hole: a thread for a tapped one, else a spigot."""
    place, hole = int(number(setup, "number")), str(grip.get("surface")).rpartition(".")[0]
    own = _feature(parts, setup, hole)
    if isinstance(own, f.TappedHole):
        name, size = "threaded stub", thread(own.thread).major_mm
    else:
        name, size = "stub mandrel", number(grip, "size_mm")
    deep = abs(number(grip, "to_mm") - number(grip, "from_mm"))
    out = length_said(OUT, text(setup, "holding"), job.inch) or 0.0
    least = min(GRIPPED_MM, fitted.in_chuck_mm(inf, job)) if out else HELD_MM
    stands = f", {mm(out)} stand out behind it" if out else ""
    tapped = name == "threaded stub"
    return Wanted(place, name, size, (
        (lambda one: number(one, "stock_mm") >= size + SHOULDER_MM - 0.01,
         "no shoulder is left", f"its bar is to be at least {mm(size + SHOULDER_MM)}"),
        (lambda one: number(one, "long_mm") >= deep + out + least - 0.01,
         "too short", f"{mm(deep)} of it are in the work{stands}, the rest in the chuck"),
        (lambda one: not out or fitted.stub_fits(one, deep + out, job),
         "too long", f"the chuck does not take the rest: more than {mm(out)} would stand out"),
        (lambda one: tapped or 0 < (length_said(SPIGOT, text(one, "made"), job.inch) or 0) < deep - 0.1,
         "the washer on its end may not bear on the work", f"that is {mm(deep)} long"),
    ))  # fmt: skip


def _nut(parts: Sequence[Part], operation: Record, mm: Said) -> Wanted:
    """A nut that tries a thread."""
    own = _feature(parts, operation, str(operation.get("feature")))
    if not isinstance(own, f.Thread):
        raise Missing("feature")
    size = thread(own.thread)
    least, most = size.major_mm - 1.3 * size.pitch_mm, size.major_mm - 0.5 * size.pitch_mm
    return Wanted(int(number(operation, "setup")), "gauge nut", size.major_mm, (
        (lambda one: number(one, "stock_mm") >= NUT_WALL * size.major_mm - 0.01,
         "its wall is too thin", f"at least {mm(NUT_WALL * size.major_mm)} across"),
        (lambda one: not one.get("drill_mm") or least <= number(one, "drill_mm") <= most,
         "drilled for another thread", f"the tap wants {mm(least)} to {mm(most)}"),
    ))  # fmt: skip


def _feature(parts: Sequence[Part], record: Record, name: str) -> f.Feature | None:
    for part in parts:
        if part.name == record.get("part"):
            for _, one in every_feature(part):
                if one.name == name:
                    return one
    return None
