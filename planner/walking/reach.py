"""Whether the tool comes to its cut: past jaws, centres and collars, deep and slender enough.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

from msgspec.structs import replace

from parts import features as f
from parts.standard.holding import holding_limit
from parts.standard.threads import thread
from planner.walking import bars
from planner.walking.above import FEED_MM, from_the_spindle, under_tool
from planner.walking.bending import bends
from planner.walking.beneath import nothing_beneath
from planner.walking.blind import middle_reached, point_stays
from planner.walking.centres import beside_cat_head
from planner.walking.clamped import clamps_spared
from planner.walking.depths import depth_said
from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.held import Held
from planner.walking.lathe import JAW_CLEAR_MM
from planner.walking.overhang import overhang
from planner.walking.records import number, table, text
from planner.walking.runout import by_die, runs_out
from planner.walking.shape import Line, even
from planner.walking.shop import Shop
from planner.walking.spans import spans
from planner.walking.tipping import stays_down

CARRIER_MM = 6.0
"""Half of what a carrier takes along the work (common practice)."""

LEAST_MADE_MM = 4.5
"""A boring bar is made no thinner: a bit of 2 mm goes across it, and its screw (common practice: 5)."""

TOOL_ROOM_MM = 6.0
"""A turning tool comes in between a collar and the jaws where there is so much (common practice)."""

GROOVE_ROOM_MM = 2.0
"""A grooving tool needs as much."""

THIN_SHANKED_MM = 9.5
"""From M10, 3/8 in, up a tap's shank is thinner than its hole (DIN 376)."""

OUTSIDE = ("turn", "face", "part", "thread", "knurl", "groove")
ENDWISE = ("drill", "spot", "centre", "ream", "tap", "counterbore", "bore")


def reachable(do: Doing, shop: Shop) -> None:
    """Every question of reach that the way of holding raises. Raises Missing."""
    if isinstance(do.held, Held) and do.machine == "lathe":
        _turned(do, do.held)
    elif isinstance(do.held, Fixed) and do.held.axis is not None:
        from_the_spindle(do, do.held.axis)
        nothing_beneath(do, do.held)
    elif (
        isinstance(do.held, Fixed)
        and do.held.up
        and do.machine not in ("bench", "hacksaw", "bandsaw")
    ):
        under_tool(do, do.held)
        clamps_spared(do, do.held)
        nothing_beneath(do, do.held)
        stays_down(do, do.held)
    _slender(do)
    depth_said(do)
    point_stays(do)
    middle_reached(do)
    bars.goes_through(do)
    if do.kind == "bore" and do.machine == "lathe" and "between" in _named(do):
        bars.passes(do, shop)


def _turned(do: Doing, held: Held) -> None:
    cut, faults = do.cut, do.faults
    if cut.line is None or do.kind in ("check", "deburr", "engrave", "mill", "slit"):
        return
    if not cut.line.same(held.line):
        faults.refuse(
            "route-off-line",
            "the cut is about another line",
            "than the one that runs with the spindle",
            "Set the work so that this line runs true",
        )
        return
    near, far = held.span(cut.low, cut.high)
    outside = do.kind in OUTSIDE and not cut.inside
    if outside:
        _clear_of_jaws(do, held, near, far)
        beside_cat_head(held, near, far, faults)
    if do.kind in ENDWISE or cut.inside:
        _from_the_end(do, held, near, far)
    elif cut.shape == "turn" or do.kind in ("groove", "knurl"):
        _between_collars(do, held, near, far)
    if cut.shape == "thread" and not cut.inside:
        _threaded(do, held, near, far)
    _clear_of_centre(do, held, far)
    rough = float(do.operation.get("allowance_mm") or 0.0) > 0
    fingers = cut.before if do.kind == "groove" else cut.radius
    if by_die(do) and held.tail is None:  # its holder on the tailstock keeps the end it runs on
        held = replace(held, tail=far)
    overhang(do.piece, held, (near, far), do.kind, rough, faults, fingers)
    bends(do, held)


def _clear_of_jaws(do: Doing, held: Held, near: float, far: float) -> None:
    """Not in the jaws, the carrier or the steady."""
    outer = [g for g in held.grips if not g[3]]
    front = max((high for _, high, _, _ in outer), default=None)
    if front is not None and near < front + JAW_CLEAR_MM - 1e-6:
        do.faults.refuse(
            "route-cut-in-grip",
            f"the cut begins {do.faults.mm(near - front)} from the jaws",
            f"at least {do.faults.least(JAW_CLEAR_MM)} clear of them",
            "Let the work stand out farther",
        )
    back = do.cut.shape == "face" and do.kind != "part" and do.cut.keeps == held.line.sign
    if back and front is not None and far - front < GROOVE_ROOM_MM:
        do.faults.refuse(
            "route-tool-reach",
            f"{do.faults.mm(far - front)} before the face",
            "the tool has no room between it and the jaws",
            "Turn the work end for end",
        )
    if held.driver is not None and near - CARRIER_MM < held.driver < far + CARRIER_MM:
        do.faults.refuse(
            "route-cut-in-grip",
            "the carrier is where the cut is",
            f"{do.faults.least(CARRIER_MM)} clear of it",
            "Put the carrier at the other end",
        )
    if held.steady is not None and near - 3 < held.steady < far + 3:
        do.faults.refuse(
            "route-cut-in-grip", "the steady is where the cut is", "clear of it", "Move the steady"
        )


def _from_the_end(do: Doing, held: Held, near: float, far: float) -> None:
    """Drills, reamers, taps and boring bars come from the tailstock's side, along the spindle."""
    cut, faults = do.cut, do.faults
    if cut.shape == "hole" and cut.line is not None and cut.line.sign == held.line.sign:
        faults.refuse(
            "route-tool-reach",
            "the tool would come from the headstock",
            "it feeds toward it",
            "Turn the work end for end",
        )
        return
    bar = "between" in str(do.tool.get("kind") or "") + str(do.tool.get("name") or "")
    if held.tail is not None and not bar:
        faults.refuse(
            "route-tail-in-way",
            f"{do.kind} from the end",
            "the tailstock's centre stands there",
            "Take the centre away; hold it shorter or in a steady",
        )
        return
    radius = max(cut.radius - 0.3, cut.radius * 0.6)
    steps = [held.line.sign * (far + s) for s in (0.3, 2.0, 8.0, 20.0, FEED_MM)]
    if do.piece.metal.has(held.line.cloud(steps, [0.05, radius / 2, radius], 12)).any():
        faults.refuse(
            "route-tool-reach",
            "metal stands before the hole",
            "the tool cannot come to it from the tailstock",
            "Turn the work end for end, or make the hole first",
        )


def _between_collars(do: Doing, held: Held, near: float, far: float) -> None:
    """A turning tool behind a collar needs room between it and what stands on the other side."""
    cut, stretches = (
        do.cut,
        [(*held.span(s.low, s.high), s) for s in spans(do.piece.metal, held.line)],
    )
    outboard = any(a < far + 0.3 < b and s.outer > cut.radius + 0.1 for a, b, s in stretches)
    if not outboard:
        return
    if do.kind == "turn" and held.tail is not None:
        _no_recess(do, held, far)
    inner = [b for a, b, s in stretches if b <= near + 0.1 and s.outer > cut.radius + 0.1]
    stops = [*inner, *([held.front] if held.front is not None else [])]
    room = far - max(stops, default=-1e9)
    least = TOOL_ROOM_MM if do.kind == "turn" else GROOVE_ROOM_MM
    wide = do.tool.get("width_mm")
    if do.kind in ("groove", "part") and wide is not None:
        least = float(wide) - 0.02  # a grooving tool goes into a gap of its own width
    if room < least:
        do.faults.refuse(
            "route-tool-reach",
            f"{do.faults.mm(room)} between collar and jaws",
            f"the tool needs {do.faults.least(least)}",
            "Turn it from the other end, the work turned about",
        )
        return
    inboard = any(a < near - 0.3 < b and s.outer > cut.radius + 0.1 for a, b, s in stretches)
    if do.kind == "turn" and inboard and do.tool.get("kind") == "turning tool":
        do.faults.refuse(
            "route-tool-reach",
            _named(do),
            "what is thicker on both sides keeps its corner out",
            "Take a round-nosed or a grooving tool",
        )


def _no_recess(do: Doing, held: Held, far: float) -> None:
    """What is to be as thin or thinner out to the tailstock is turned with it, from the end."""
    cut = do.cut
    stays = [
        (*held.span(s.low, s.high), s)
        for s in spans(do.piece.kept, held.line)
        if s.outer > cut.radius + 0.1
    ]
    if not any(b > far + 0.3 for _, b, _ in stays):
        do.faults.refuse(
            "route-order",
            f"turned to {do.faults.mm(2 * cut.radius)} behind thicker metal that is to go",
            "a recess to plunge into",
            "Turn from the tailstock's end, the thickest first",
        )


def _threaded(do: Doing, held: Held, near: float, far: float) -> None:
    cut, faults = do.cut, do.faults
    pitch = number(table(do.operation, "cut"), "pitch_mm")
    own = do.piece.features.get(str(do.operation.get("feature") or ""))
    if isinstance(own, f.Thread):
        pitch = thread(own.thread).pitch_mm
    stretches = [(*held.span(s.low, s.high), s) for s in spans(do.piece.metal, held.line)]
    root = cut.radius - 0.65 * pitch
    runs_out(do, held)
    outboard = [s for a, b, s in stretches if b > far + 0.3 and s.outer > root]
    if by_die(do):
        if held.tail is not None:
            faults.refuse(
                "route-tail-in-way",
                "a die from the tailstock",
                "its centre stands there",
                "Take the centre away, or cut the thread by a single point",
            )
        if any(s.outer > cut.radius + 0.05 for s in outboard):
            faults.refuse(
                "route-tool-reach",
                "thicker metal before the thread",
                "a die does not pass it",
                "Turn the work end for end",
            )
        return
    thicker = [s for s in outboard if s.outer > cut.radius + 0.05]
    if thicker:
        room = far - max(
            [
                held.front or -1e9,
                *[b for a, b, s in stretches if b <= near and s.outer > cut.radius],
            ]
        )
        if room - (far - near) < TOOL_ROOM_MM:
            faults.refuse(
                "route-tool-reach",
                "a thread between collar and jaws",
                f"the tool needs {faults.least(TOOL_ROOM_MM)} to come in and to run out",
                "Turn the work end for end",
            )


def _clear_of_centre(do: Doing, held: Held, far: float) -> None:
    """No parting and no facing away of the end that runs on the centre."""
    if held.tail is None:
        return
    if do.kind == "part":
        do.faults.refuse(
            "route-tail-in-way",
            "parting off work that runs on a centre",
            "it jams the tool and is thrown",
            "Take the centre away first",
        )
    elif do.cut.shape == "face" and do.cut.keeps == -held.line.sign and abs(far - held.tail) < 3.0:
        said = str(do.tool.get("kind") or "") + str(do.tool.get("name") or "")
        if do.cut.before == 0 and "half" not in said:
            do.faults.refuse(
                "route-tail-in-way",
                "facing the end that runs on the centre",
                "the centre stands there",
                "Face it before, from the chuck, or with a half centre",
            )


def _slender(do: Doing) -> None:
    """Drills, reamers, taps and boring bars not too long for their thickness."""
    cut, tool, kind, faults = do.cut, do.tool, do.kind, do.faults
    if (
        kind in ("drill", "ream", "tap")
        and cut.line is not None
        and cut.shape in ("hole", "thread")
    ):
        size = number(tool, "diameter_mm") if kind != "tap" else 2 * cut.radius
        depth = _metal_depth(do, cut.line)
        named = {"drill": "drill", "ream": "reamer", "tap": "tap"}[kind]
        if kind == "tap" and size >= THIN_SHANKED_MM:
            named = "tap, 10 mm and over"
        limit = holding_limit("tool", named)
        if depth > limit * size + 0.5:
            faults.refuse(
                "route-tool-reach",
                f"{faults.mm(depth)} deep by {faults.mm(size)}",
                f"at most {limit:g} diameters",
                "Drill it out from one end until no more is left to thread"
                if kind == "tap"
                else "Come from both ends, or bore it",
            )
    if kind == "part" and number(tool, "reach_mm") < _solid(do) - 0.05:
        faults.refuse(
            "route-tool-reach",
            f"a parting tool that reaches {faults.mm(number(tool, 'reach_mm'))}",
            f"the work is {faults.mm(_solid(do))} deep there",
            "Take a longer one, or saw it off",
        )
    if kind == "bore" and cut.line is not None and do.machine == "lathe":
        _bar(do)


def _solid(do: Doing) -> float:
    """From the outside of the work to where a parting tool breaks through, mm."""
    line = do.cut.line
    if line is None:
        return 0.0
    stretches = spans(do.piece.metal, Line(line.along, 1, line.through))
    cut = [s for s in stretches if min(s.high, do.cut.high) - max(s.low, do.cut.low) > 0.01]
    return max((s.outer - s.bore for s in cut), default=0.0)


def _metal_depth(do: Doing, axis: Line) -> float:
    """How much of the hole's length is in metal: what bridges an open bore does not count, mm."""
    cut, many = do.cut, 24
    steps = even(cut.low + 0.05, cut.high - 0.05, many)
    around = axis.cloud(steps, [cut.radius + 0.2], 8)
    within = do.piece.metal.has(around).reshape(many, 8)
    return float((within.mean(axis=1) > 0.3).mean()) * (cut.high - cut.low)


def _named(do: Doing) -> str:
    return (str(do.tool.get("kind") or "") + " " + text(do.tool, "name")).lower()


def _bar(do: Doing) -> None:
    cut, faults, tool = do.cut, do.faults, do.tool
    name = _named(do)
    if "facing" in name and "bar" not in name:
        return
    thick, reach = number(tool, "diameter_mm"), number(tool, "reach_mm")
    deep = cut.high - cut.low
    if tool.get("kind") == "boring bar" and tool.get("owned") is False and thick < LEAST_MADE_MM:
        faults.refuse(
            "route-tool-missing",
            f"a boring bar of {faults.mm(thick)} that is to be made",
            f"under {faults.mm(LEAST_MADE_MM)} no bit goes across it",
            "Drill the hole wider first",
        )
    if reach < deep - 0.05:
        faults.refuse(
            "route-tool-reach",
            f"a bar that reaches {faults.mm(reach)}",
            f"the bore is {faults.mm(deep)} deep",
            "Take a longer bar",
        )
    measure = (
        "boring bar between centres"
        if "between" in name
        else ("boring bar of carbide" if "carbide" in name else "boring bar of steel")
    )
    limit = holding_limit("tool", measure)
    if reach > limit * thick + 0.05:
        faults.refuse(
            "route-tool-reach",
            f"a bar of {faults.mm(thick)} that reaches {faults.mm(reach)}",
            f"at most {limit:g} diameters",
            "Drill larger, for a thicker bar"
            if "between" in name
            else "Take a thicker bar, or one between centres",
        )
    most = holding_limit("tool", "boring bar in its bore") * 2 * cut.before
    if thick > most + 0.05:
        faults.refuse(
            "route-tool-reach",
            f"a bar of {faults.mm(thick)} in a hole of {faults.mm(2 * cut.before)}",
            f"at most {faults.most(most)}: chips need room",
            "Drill larger, or take a thinner bar",
        )
