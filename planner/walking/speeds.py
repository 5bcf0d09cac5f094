"""How fast each kind of work may turn. Imported by planner.walking.order."""

from __future__ import annotations

from math import floor, pi

from parts.part import members
from parts.standard.materials import material
from parts.standard.sections import MM_PER_INCH
from parts.standard.speeds import speed_m_min
from planner.walking.doing import Doing
from planner.walking.hardened import hardened
from planner.walking.held import Held
from planner.walking.records import Missing, number, table
from planner.walking.runout import by_die
from planner.walking.shop import HAND, Shop

SPINNING = (
    "face",
    "centre",
    "turn",
    "groove",
    "bore",
    "drill",
    "spot",
    "counterbore",
    "knurl",
    "part",
    "ball",
)
"""Work that needs a spindle speed wherever it is done by machine."""

REAMED_RPM = 600.0
"""A reamer fed by hand chatters above (common practice)."""

WIDE_EDGE = 0.4
"""An edge as wide as the face it cuts chatters above so much of the turning speed: form tools run at
about a third of it (common practice)."""

WIDE_FEED_MM = 0.05
"""And it is fed no more a turn: it cuts the whole face at once, and breaks a thin bit (common practice:
form tools 0.01 to 0.04)."""

FORMED = 0.6
"""A form tool turns no faster than a parting blade, and what is filed to a template beside the jaws no
faster either (common practice)."""

COUNTERBORED = 0.5
"""A counterbore or a countersink runs at no more than half of the drilling speed (common practice)."""

FINGERS_M_MIN = 60.0
"""Faster than this, work seizes in the plain fingers of a steady (common practice)."""

THICK_MM, THICK_FEED_MM = 10.0, 0.12
"""From so thick a drill wants less than the middle of its speeds in a small machine, and a gentle feed
(common practice)."""


def speed(do: Doing, shop: Shop) -> None:
    """A speed of the machine's list, no faster than the kind of work bears. Raises Missing."""
    hardened(do)
    hand = do.machine in (*HAND, "welder", "torch table", "grinder", "bandsaw", "shaper")
    rpm = do.operation.get("speed_rpm")
    if rpm is None:
        turns = do.kind in (*SPINNING, "mill", "slit", "ream")
        single = do.kind == "thread" and do.machine == "lathe" and not by_die(do)
        out = table(do.operation, "tool").get("owned") is False  # sent out: who does it knows
        if ((turns and not hand) or single) and not out:
            raise Missing("speed_rpm")
        return
    listed = shop.speeds(do.machine)
    if do.kind == "ream" and float(rpm) > max(REAMED_RPM, min(listed, default=0.0)):
        do.faults.refuse(
            "route-speed",
            do.faults.numbers.spindle_speed(float(rpm)),
            f"a reamer turns no faster than {do.faults.numbers.spindle_speed(REAMED_RPM)}",
            "Take a slow speed, or ream by hand",
        )
    if listed and not any(abs(float(rpm) - one) < 0.51 for one in listed):
        do.faults.refuse(
            "route-speed",
            do.faults.numbers.spindle_speed(float(rpm)),
            f"the {do.machine} has no such speed",
            "Take one of its list",
        )
    _no_faster(do, float(rpm), min(listed, default=0.0))


def _fed_gently(do: Doing, most_mm: float, what: str, advice: str) -> None:
    """A feed a turn that is said is no more than the tool bears."""
    feed = do.operation.get("feed_mm_per_rev")
    if feed is not None and float(feed) > most_mm:
        numbers = do.faults.numbers
        step = MM_PER_INCH / 2000 if numbers.inch else 0.01  # as feeds are said
        limit = f"{what} is fed {numbers.feed(floor(most_mm / step + 1e-6) * step)} at most"
        do.faults.refuse("route-feed", numbers.fine_up(float(feed)), limit, advice)


def _no_faster(do: Doing, rpm: float, slowest: float) -> None:
    """A wide edge, a counterbore, a countersink and a thick drill run slower than a tool's point, and
    so does a blade not said to be of carbide; a knurl slower than what was turned; what a steady holds,
    or follows, no faster than fingers bear."""
    own = do.piece.member or members(do.piece.part)[0]
    metal, kind = material(own.blank.material), str(do.tool.get("kind"))
    group = metal.group
    most = None
    if kind in ("facing cutter", "form tool"):
        _fed_gently(
            do, WIDE_FEED_MM, "an edge that cuts a whole face", "Feed it by hand, and lightly"
        )
    if kind == "facing cutter":
        wide = number(table(do.operation, "cut"), "diameter_mm")
        most = WIDE_EDGE * speed_m_min("turn", "HSS", group).high_m_min, wide
    elif do.kind == "counterbore" or kind == "countersink":
        wide = number(do.tool, "diameter_mm")
        most = COUNTERBORED * speed_m_min("drill", "HSS", group).high_m_min, wide
    elif do.kind == "drill" and (wide := number(do.tool, "diameter_mm")) > THICK_MM:
        drilled = speed_m_min("drill", "HSS", group)
        most = (drilled.low_m_min + drilled.high_m_min) / 2, wide
        advice = "Feed it gently: a small lathe has no power for more"
        _fed_gently(do, THICK_FEED_MM, f"a drill of {do.faults.mm(wide)}", advice)
    elif do.kind == "ream" and rpm <= REAMED_RPM and (wide := number(do.tool, "diameter_mm")):
        edge = "carbide" if "carbide" in str(do.tool.get("name")) else "HSS"
        most = speed_m_min("ream", edge, group, metal.name).high_m_min, wide
    elif kind == "form tool":  # of high-speed steel: it is ground to its template
        wide = 2 * max(do.cut.before, do.cut.radius)
        most = (FORMED * speed_m_min("turn", "HSS", group).high_m_min, wide) if wide else None
    elif do.kind in ("part", "groove") and "carbide" not in str(do.tool.get("name")):
        wide = 2 * max(do.cut.before, do.cut.radius)
        most = (speed_m_min("part", "HSS", group).high_m_min, wide) if wide else None
    if most is not None and rpm > slowest:
        _at_most(do, rpm, 1000 * most[0] / (pi * most[1]))
    if isinstance(do.held, Held) and do.held.steady_mm and rpm > slowest:
        _at_most(do, rpm, 1000 * FINGERS_M_MIN / (pi * do.held.steady_mm))
    if isinstance(do.held, Held) and do.held.travelling and do.kind == "turn":
        _at_most(do, rpm, 1000 * FINGERS_M_MIN / (pi * 2 * do.cut.radius))
    if do.kind == "knurl" and do.piece.turned_rpm:
        _at_most(do, rpm, do.piece.turned_rpm)
    if do.kind == "turn":
        do.piece.turned_rpm = rpm


def _at_most(do: Doing, rpm: float, most: float) -> None:
    spoken = do.faults.numbers.spindle_speed
    if rpm > most + 0.5:
        do.faults.refuse(
            "route-speed",
            spoken(rpm),
            f"{spoken(float(int(most)))} at most",
            "Take a slower speed of its list",
        )
