"""Whether the lines of a scale come even round: so many steps of what divides them are one turn; and
whether a mark's line runs out.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

import re
from math import pi

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.finished import line_of
from planner.walking.held import Held
from planner.walking.records import Record, number, table, text
from planner.walking.shop import Shop
from planner.walking.spans import spans

CLOSES_MM = 0.05
"""A tape that is so far out where it closes on a disc is turned to (common practice)."""

SADDLE_MM = 28.0
"""A small lathe's cross slide lies so far over its bed (common practice: 25 to 60)."""

FLANK_MM, SUNK_MM = 0.5, 0.3
"""A tool of 60 degrees is about so wide beside its point at the depth of a line and somewhat over, and
so deep a line is cut at the most (common practice)."""

ON_SPINDLE = ("plate", "wheel", "wheel, two pins", "tape")
ON_TABLE = ("dividing head", "rotary table")


def engraved(do: Doing, feature: f.Feature | None, shop: Shop) -> None:
    """Lines that run out, and those of a scale even round. Raises Missing."""
    if isinstance(feature, f.EngravedScale):
        divided(do, feature, shop)
    elif isinstance(feature, f.IndexMark):
        runs_out(do, feature)


def divided(do: Doing, feature: f.EngravedScale, shop: Shop) -> None:
    """As many lines as the scale has, by what the shop has, where it is held. Raises Missing."""
    record = table(do.operation, "divided")
    by = text(record, "by")
    if number(record, "lines") != feature.divisions:
        _refuse(do, f"{number(record, 'lines'):g} lines", f"the scale has {feature.divisions}")
    places = {**dict.fromkeys(ON_SPINDLE, "lathe"), **dict.fromkeys(ON_TABLE, "mill")}
    if places.get(by) != do.machine:
        _refuse(do, f"divided by a {by} on the {do.machine}", f"it is on the {places.get(by)}")
    if by in ("plate", "wheel", "wheel, two pins"):
        _closes(do, record, feature.divisions, shop.circles if by == "plate" else shop.gears)
    elif by == "tape":
        across, step = number(record, "across_mm"), number(record, "step_mm")
        round_mm, swings = pi * across, 2 * (shop.over_slide_mm + SADDLE_MM)
        if shop.over_slide_mm and across > swings:
            _refuse(
                do,
                f"a disc of {do.faults.mm(across)}",
                f"over the bed swings {do.faults.most(swings)} or little more",
            )
        if abs(round_mm - step * feature.divisions) > CLOSES_MM:
            _refuse(
                do,
                f"{feature.divisions} times {do.faults.mm(step)} of tape",
                f"the disc is {do.faults.mm(round_mm)} round",
            )
    elif not (shop.head if by == "dividing head" else by in shop.machines):
        _refuse(do, f"divided by a {by}", "the shop has none")
    elif by == "rotary table" and "on its edge" not in text(do.operation, "text"):
        _refuse(
            do, "a rotary table laid flat", "the lines lie along its axis, which stands upright"
        )


def runs_out(do: Doing, feature: f.IndexMark) -> None:
    """A line runs out at its ends: the tool's flank strikes what stands up there."""
    held = do.held
    if not isinstance(held, Held):
        return
    line, rim = line_of(feature.axis), feature.diameter.nominal_mm / 2
    base = line.through[line.along]
    near, far = held.span(
        *sorted(base + line.sign * at for at in (feature.start_mm, feature.end_mm))
    )
    for one in spans(do.piece.metal, held.line):
        low, high = held.span(one.low, one.high)
        beside = low < far + FLANK_MM - 0.05 and high > near - FLANK_MM + 0.05
        if one.outer > rim + SUNK_MM and beside and not near + 0.05 < (low + high) / 2 < far - 0.05:
            do.faults.refuse(
                "route-tool-reach",
                f"the {feature.name} up to a shoulder of {do.faults.mm(one.outer - rim)}",
                "the tool's flank strikes it before its point is at the end",
                f"Turn that down for {do.faults.least(FLANK_MM)} first",
            )
            return


def _closes(do: Doing, record: Record, lines: int, owned: tuple[int, ...]) -> None:
    """So many steps of a circle's spaces are once round it, and the words say that circle and step."""
    circle, step = int(number(record, "circle")), int(number(record, "step"))
    if circle not in owned:
        _refuse(do, f"a circle of {circle}", "the shop has none")
    pins = 2 if text(record, "by") == "wheel, two pins" else 1
    if step * lines != circle * pins:
        _refuse(
            do,
            f"{lines} steps of {step}",
            f"once round is {circle * pins}",
        )
    words = re.findall(r"\d+", text(do.operation, "text"))
    if str(circle) not in words or step > 1 and str(step) not in words:
        _refuse(do, f"by a circle of {circle}, a step of {step}", "the step says other numbers")


def _refuse(do: Doing, value: str, limit: str) -> None:
    do.faults.refuse("route-divided", value, limit, "Divide it by what goes round in whole steps")
