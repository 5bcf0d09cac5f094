"""Whether the slides of the lathe travel as far as a cut on a milling slide wants.

The milling slide travels up and down on the cross slide, which travels across the bed; the carriage is
locked along it. Imported by planner.walking.cutting and planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from math import inf

import numpy as np

from planner.walking.doing import Doing
from planner.walking.faults import Faults
from planner.walking.fixed import Fixed
from planner.walking.records import Missing, Record, direction, line, number, table, text
from planner.walking.saws import LET_IN
from planner.walking.shape import Block, even
from planner.walking.shop import Shop

SLIDE, CROSS = "milling slide", "cross slide"

WORDS = {SLIDE: "own travel for the feed", CROSS: "cross slide for the feed"}
"""What a step says of the slide that feeds."""

HOLES = ("spot", "drill", "ream", "tap", "counterbore")
"""What is done at a hole, by a tool in the spindle."""

JAW_MM, SCREW_MM = 12.0, 45.0
"""What of a small vice is under work that it closes on up and down: its fixed jaw, 10 to 15 thick; the
other one with its slide and screw (common practice)."""

STEPS = 61
"""So many points each way across what a cut takes."""


def slides_travel(do: Doing, shop: Shop) -> None:
    """A cut on a milling slide is no longer than its slides travel, nor one on the cross slide itself.

    Raises Missing.
    """
    if do.kind == "slit" and (do.setup.get("hold") or {}).get("by") == CROSS:
        _goes(do, shop, CROSS, number(table(do.operation, "cut"), "travel_mm"))
    if do.machine != SLIDE or do.kind not in ("mill", "slit"):
        return
    if not isinstance(do.held, Fixed) or do.held.up is None:
        return
    blocks = [one for one in do.cut.regions if isinstance(one, Block)]
    if not blocks:
        return
    up = do.held.up[0]
    spindle = do.held.spindle.along if do.held.spindle is not None else up
    long = _metal(do, blocks[0])
    cut = table(do.operation, "cut")
    if cut.get("feed") is not None:
        along, _ = direction(cut["feed"], "cut.feed")
        deep = next(i for i in range(3) if i not in (along, spindle))
        fed = str(cut.get("fed_by"))
        if fed not in WORDS:
            do.faults.refuse("route-record", "cut.fed_by", "is not said", "Say it")
            return
        _goes(do, shop, fed, number(cut, "travel_mm"))
        _goes(do, shop, CROSS if fed == SLIDE else SLIDE, long[deep])
        if fed == SLIDE:
            _comes_down(do, do.held, shop, blocks[0], along)
        if fed == CROSS:
            _hangs(do, shop, blocks[0], deep)
        if spindle != up and fed == CROSS:
            do.faults.refuse(
                "route-tool-reach",
                "fed by the cross slide, the milling slide's face along the bed",
                "the cross slide takes the work to the saw there",
                "Feed by the milling slide's own travel, or set its face across the bed",
            )
        if WORDS[fed] not in text(do.operation, "text"):
            do.faults.refuse(
                "route-words",
                f'"{do.operation["text"]}"',
                f"the {fed} feeds it",
                "Say which slide feeds",
            )
        return
    cutter = float(do.tool.get("diameter_mm") or 0.0)
    short, far = sorted(span for i, span in enumerate(long) if i != spindle)
    _goes(do, shop, SLIDE, short - cutter)
    _goes(do, shop, CROSS, far - cutter)


def far_apart(setup: Record, operations: Sequence[Record], shop: Shop, faults: Faults) -> None:
    """What is cut in one set-up on a milling slide lies within its slides' travel.

    What a record lacks is said at its step.
    """
    for look in (holes_apart, ends_apart):
        with suppress(Missing):
            look(setup, operations, shop, faults)


def holes_apart(setup: Record, operations: Sequence[Record], shop: Shop, faults: Faults) -> None:
    """The holes of one set-up on a milling slide stand no farther apart than its slides travel.

    The greater way goes by the one that goes farther. Raises Missing.
    """
    if setup.get("machine") != SLIDE:
        return
    at = [
        line(cut)
        for one in operations
        if one.get("kind") in HOLES and (cut := one.get("cut") or {}).get("axis")
    ]
    if len(at) < 2:
        return
    across = [i for i in range(3) if i != at[0].along]
    spans = sorted(max(o.through[i] for o in at) - min(o.through[i] for o in at) for i in across)
    travels = sorted(mm or inf for mm in (shop.slide_mm, shop.cross_mm))
    for span, most in zip(spans, travels, strict=True):
        if span > most + 0.05:
            faults.key = f"set-up {setup.get('number')}"
            faults.refuse(
                "route-tool-reach",
                f"holes {faults.mm(span)} apart on the {SLIDE}",
                f"it travels {faults.most(most)}",
                "Drill them in two set-ups, or elsewhere",
            )


def ends_apart(setup: Record, operations: Sequence[Record], shop: Shop, faults: Faults) -> None:
    """The side of a cutter passes both ends of work held once on a milling slide, or it is held twice.

    Raises Missing.
    """
    up = (setup.get("hold") or {}).get("up")
    if setup.get("machine") != SLIDE or not up or not shop.cross_mm:
        return
    ends: dict[int, list[tuple[float, float]]] = {}
    for one in operations:
        cut = one.get("cut") or {}
        if one.get("kind") == "mill" and cut.get("shape") == "flat":
            along, _ = direction(cut.get("normal"), "cut.normal")
            wide = float(table(one, "tool").get("diameter_mm") or 0.0)
            ends.setdefault(along, []).append((number(cut, "at_mm"), wide))
    ends.pop(direction(up, "hold.up")[0], None)
    for found in ends.values():
        at = [face for face, _ in found]
        wanted = max(at) - min(at) + max(wide for _, wide in found)
        most = max(shop.slide_mm, shop.cross_mm)
        if len(found) > 1 and wanted > most + 0.05:
            faults.key = f"set-up {setup.get('number')}"
            faults.refuse(
                "route-tool-reach",
                f"{faults.mm(wanted)} to go from end to end, the cutter past both",
                f"the slides travel {faults.most(most)}",
                "Mill the ends in two set-ups, each out of the jaws in turn",
            )


def _metal(do: Doing, block: Block) -> list[float]:
    """How long what a cut takes is, each way, as far as there is metal."""
    low, high = do.piece.metal.box
    ways = [
        even(max(block.low[i], low[i]) + 0.01, min(block.high[i], high[i]) - 0.01, STEPS)
        for i in range(3)
    ]
    points = np.stack(np.meshgrid(*ways, indexing="ij"), axis=-1).reshape(-1, 3)
    there = points[do.piece.metal.has(points)]
    if not len(there):
        return [0.0, 0.0, 0.0]
    return [float(there[:, i].max() - there[:, i].min()) for i in range(3)]


def _hangs(do: Doing, shop: Shop, block: Block, deep: int) -> None:
    """Fed by the cross slide a slit's depth is up and down: what hangs under it clears the cross slide.

    Else it is sawn from below, and that is said. Raises Missing.
    """
    _, sign = direction(table(do.operation, "cut").get("depth"), "cut.depth")
    low, high = do.piece.metal.box
    hung = high[deep] - block.high[deep] if sign > 0 else block.low[deep] - low[deep]
    room = shop.over_slide_mm - number(do.tool, "diameter_mm") / 2
    if hung > room + 0.05 and "upward" not in text(do.setup, "holding"):
        do.faults.refuse(
            "route-tool-reach",
            f"{do.faults.mm(hung)} of the work hangs below the saw",
            f"the cross slide is {do.faults.mm(max(room, 0.0))} below it",
            "Say that it is sawn from below, what hangs turned upward",
        )


def _comes_down(do: Doing, held: Fixed, shop: Shop, block: Block, feed: int) -> None:
    """Fed up and down by the milling slide work and vice come down by half of the travel: they stay off
    the cross slide, whichever side of the work is down. Raises Missing."""
    low, high = do.piece.metal.box
    at = (max(block.low[feed], low[feed]) + min(block.high[feed], high[feed])) / 2
    let_in = LET_IN in text(
        do.operation, "text"
    )  # its middle at the upper end, then work all below
    jaw = JAW_MM if "the fixed jaw down" in text(do.setup, "holding") else SCREW_MM
    hung = []
    for end, side in ((high[feed] - at, 1), (at - low[feed], 0)):
        jaws = [abs(ends[side] - at) + jaw for across, ends, _, _ in held.jaws if across == feed]
        hung.append(max(end, *jaws) if jaws else end)
    half = (
        (high[feed] - low[feed]) / 2
        if let_in
        else number(table(do.operation, "cut"), "travel_mm") / 2
    )
    wanted = min(hung) + half
    if shop.over_slide_mm and wanted > shop.over_slide_mm + 0.05:
        do.faults.refuse(
            "route-tool-reach",
            f"work and vice come {do.faults.mm(wanted)} under the spindle as they are fed",
            f"the cross slide is {do.faults.mm(shop.over_slide_mm)} under it",
            "Take a smaller saw, feed it by the cross slide, or saw it on that",
        )


def _goes(do: Doing, shop: Shop, slide: str, wanted_mm: float) -> None:
    """One slide travels so far; a cross slide whose travel is not said is not looked at."""
    travels = shop.slide_mm if slide == SLIDE else shop.cross_mm
    if travels and wanted_mm > travels + 0.05:
        do.faults.refuse(
            "route-tool-reach",
            f"{do.faults.mm(wanted_mm)} to go by the {slide}",
            f"it travels {do.faults.most(travels)}",
            "Lay the cut's length along the other slide, or cut it elsewhere",
        )
