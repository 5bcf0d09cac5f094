"""Set-ups and operations as the JSON of a route has them: plain dictionaries, lengths to a micrometre.

Imported by making.route.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from parts.part import Bought
from parts.placed import Placed
from planner.making.model import (
    Align,
    At,
    Centre,
    Grip,
    Hold,
    Measure,
    Plate,
    SetUp,
    Tool,
    as_record,
)

if TYPE_CHECKING:
    from planner.making.aids import Aid
    from planner.making.route import Operation

SENT = {
    "a welder's shop": "welder",
    "a shop with a grinder": "grinder",
    "a shop with a mill": "mill",
}
"""What is done elsewhere, and the machine it is done on there."""


def _r(value: Any) -> Any:
    """A value with its lengths rounded to a tenth of a micrometre."""
    kind = type(value)
    if kind is float:
        return round(value, 4)
    if kind is dict:
        return {
            key: one if one is None or type(one) in PLAIN else _r(one) for key, one in value.items()
        }
    if kind is list or kind is tuple:
        return [_r(one) for one in value]
    return value


PLAIN = (str, bool, int)
"""What is as it is."""


def surface(name: str) -> str:
    """A surface's name as the record has it: "blank.x-low" is "blank.-x"."""
    carrier, _, element = name.rpartition(".")
    for word, sign in (("low", "-"), ("high", "+")):
        if element.endswith(f"-{word}"):
            element = f"{sign}{element[0]}"
    return f"{carrier}.{element}" if carrier else element


def setup(number: int, one: SetUp, minutes: float) -> dict[str, Any]:
    """A set-up."""
    hold = one.hold
    found: dict[str, Any] = _r(
        {
            "number": number,
            "part": one.on.part.name,
            "piece": one.on.piece,
            "with_parts": list(one.with_parts),
            "stage": str(one.stage),
            "machine": machine(one.machine),
            "hold": {
                "by": hold.by,
                **_lacking(hold.chuck_instead),
                "axis": as_record(hold.axis),
                "grips": [_grip(g) for g in hold.grips],
                "centre": _centre(hold.centre),
                "driver": _at(hold.driver, "size_mm"),
                "headstock_centre": _centre(hold.headstock_centre),
                "steady": _steady(hold),
                "out_mm": hold.out_mm,
                "rests": surface(hold.rests) if hold.rests else None,
                "up": hold.up or None,
                "stop": surface(hold.stop) if hold.stop else None,
                "backed": surface(hold.backed) if hold.backed else None,
                **_plate(hold.plate),
            },
            "align": [_align(a) for a in one.align],
            "minutes": round(minutes, 1),
            "caution": one.caution,
            "holding": hold.said,
        }
    )
    return found


def _align(one: Align) -> dict[str, Any]:
    """What is set true; with what of another part is set to it, where one is."""
    found: dict[str, Any] = {
        "what": one.what,
        "surface": surface(one.surface),
        "by": one.by,
        "within_mm": one.within_mm,
    }
    part, against = one.against
    if part:
        found["against"] = {"part": part, "surface": surface(against)}
        if one.size_mm:
            found["against"]["size_mm"] = one.size_mm
    return found


def machine(name: str) -> str:
    """The machine's plain name: what is sent out goes to a shop that has one of that name."""
    if name.startswith("lathe"):
        return "lathe"
    return SENT.get(name, name)


def _steady(hold: Hold) -> dict[str, Any] | None:
    """The fixed steady or the travelling one; what the shop has none of is to be made first."""
    if hold.follows_mm:
        found: dict[str, Any] = {"at_mm": None, "diameter_mm": hold.follows_mm, "travelling": True}
    elif hold.steady:
        found = {"at_mm": hold.steady.at_mm, "diameter_mm": hold.steady.size_mm}
    else:
        return None
    return found | _lacking(hold.steady_instead)


def _lacking(instead: str) -> dict[str, Any]:
    """What a record says besides of a means that the shop has not: what serves instead."""
    return {"owned": False, "instead": instead} if instead else {}


def _grip(one: Grip) -> dict[str, Any]:
    strips = {} if one.wide_mm is None else {"wide_mm": one.wide_mm}
    return strips | {
        "surface": surface(one.surface),
        "other": surface(one.other) if one.other else None,
        "from_mm": one.from_mm,
        "to_mm": one.to_mm,
        "size_mm": one.size_mm,
        "inside": one.inside,
        "packing": one.packing or None,
    }


def _plate(one: Plate | None) -> dict[str, Any]:
    """What a record says besides of work that is clamped to the faceplate."""
    if one is None:
        return {}
    straps = [
        {"surface": surface(o.surface), "at": list(o.at), "bolts": [list(p) for p in o.bolts]}
        for o in one.straps
    ]
    against = surface(one.angle_plate) if one.angle_plate else None
    return {"plate": {"straps": straps, "angle_plate": against, "packing_mm": one.packing_mm}}


def _centre(one: Centre | None) -> dict[str, Any] | None:
    return None if one is None else {"kind": one.kind, "end": one.end, "hole_mm": one.hole_mm}


def _at(one: At | None, size: str) -> dict[str, Any] | None:
    return None if one is None else {"at_mm": one.at_mm, size: one.size_mm}


def _tool(one: Tool, sent: str = "") -> dict[str, Any]:
    """A tool; of a bar where its bit is, of a saw its teeth and collar, and of others none of them."""
    more = {
        "bit_at_mm": one.bit_at_mm,
        "centre_out_mm": one.centre_out_mm,
        "teeth": one.teeth,
        "collar_mm": one.collar_mm,
    }
    return {key: value for key, value in more.items() if value is not None} | {
        "kind": one.kind,
        "name": one.name,
        "diameter_mm": one.diameter_mm,
        "width_mm": one.width_mm,
        "reach_mm": one.reach_mm,
        "owned": one.owned and not sent,
        "instead": sent or one.instead or None,
    }


def _measure(one: Measure) -> dict[str, Any]:
    gauge = one.gauge
    return {
        "what": one.what,
        "kind": one.kind,
        "low_mm": one.low_mm,
        "high_mm": one.high_mm,
        "from": surface(one.start) if one.start else None,
        "to": surface(one.end) if one.end else None,
        "with": {
            "name": gauge.name,
            "least_mm": gauge.least_mm,
            "most_mm": gauge.most_mm,
            "resolution_mm": gauge.resolution_mm,
            "kind": gauge.kind,
        },
        "how": one.how,
        "blank": True,
    }


def _put_on(one: Placed) -> dict[str, Any]:
    bought = one.item if isinstance(one.item, Bought) else None
    return {
        "name": one.name,
        "thread": bought.thread if bought else None,
        "length_mm": bought.length_mm or None if bought else None,
    }


def aid(one: Aid, saw_mm: float | None) -> dict[str, Any]:
    """An aid; saw_mm: what the cut list saws it to, None where it has no piece of it."""
    found: dict[str, Any] = _r(
        {
            "setup": one.setup,
            "name": one.name,
            "size_mm": one.size_mm,
            "shape": one.section.shape,
            "material": one.material,
            "stock_mm": one.section.width_mm,
            "long_mm": one.length_mm,
            "deep_mm": one.deep_mm or None,
            "drill_mm": one.drill_mm or None,
            "quantity": one.quantity,
            "sawn": one.sawn,
            "saw_mm": saw_mm,
            "made": one.made,
        }
    )
    return found


def operation(one: Operation, setup: SetUp) -> dict[str, Any]:
    """An operation."""
    op = one.op
    found: dict[str, Any] = _r(
        {
            "number": one.number,
            "setup": one.setup,
            "part": setup.on.part.name,
            "piece": setup.on.piece,
            "kind": one.kind,
            "feature": op.feature.name if op.feature else "",
            "stage": str(one.stage),
            "text": one.text,
            "place": one.place,
            "note": one.note,
            "caution": one.caution,
            "cut": op.cut,
            "allowance_mm": op.allowance_mm,
            "tool": _tool(op.tool, one.machine if one.machine in SENT else ""),
            "speed_rpm": one.speed_rpm,
            "speed_from": one.speed_from,
            "feed_mm_per_rev": one.feed_mm,
            "cuts": one.cuts,
            "depth_mm": one.depth_mm,
            "stock_mm": op.stock_mm,
            "divided": dict(op.divided) or None,
            "eased": dict(op.eased) or None,
            "puts_on": [_put_on(one) for one in op.puts_on],
            "tries": op.tries or None,
            "coolant": one.coolant,
            "minutes": one.minutes,
            "minutes_basis": one.minutes_basis,
            "measure": [_measure(m) for m in op.measures],
            "needs": list(one.after),
            "makes": list(one.makes),
            "prepares": list(one.prepares),
        }
    )
    return found
