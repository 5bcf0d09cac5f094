"""Long work parted off: nothing carries its far end while its neck thins. Imported by cutting."""

from __future__ import annotations

from math import inf

from planner.walking.doing import Doing
from planner.walking.held import Held
from planner.walking.shape import Line
from planner.walking.spans import spans

LONG = 4.0
"""What comes off is long over so many of its thicknesses (common practice: no more than 3 to 4 out of a
chuck without a centre)."""

MOST_RPM = 400.0
"""It turns no faster as its neck thins (common practice, as for what is out of balance)."""


def parted(do: Doing) -> None:
    """Long work is not parted right through: slowly to a neck, then sawn with the spindle still."""
    held, line = do.held, do.cut.line
    if do.kind != "part" or not isinstance(held, Held) or line is None or held.tail is not None:
        return
    off = [
        (max(ends), 2 * one.outer)
        for one in spans(do.piece.metal, Line(line.along, 1, line.through))
        if max(ends := held.span(one.low, one.high)) > max(held.span(do.cut.low, do.cut.high)) + 1
    ]
    far, thick = max((at for at, _ in off), default=-inf), max((mm for _, mm in off), default=0.0)
    free = far - max(held.span(do.cut.low, do.cut.high))
    if free <= LONG * thick:
        return
    words = f"{do.operation.get('text')} {do.operation.get('caution') or ''}"
    if "neck" not in words or "saw" not in words:
        do.faults.refuse(
            "route-overhang",
            f"{do.faults.mm(free)} of {do.faults.mm(thick)} parted right through",
            "nothing carries its far end: it whips as its neck thins, and is thrown",
            "Part it to a neck, switch off, and saw the neck through",
        )
    rpm = float(do.operation.get("speed_rpm") or 0.0)
    if rpm > MOST_RPM:
        do.faults.refuse(
            "route-speed",
            do.faults.numbers.spindle_speed(rpm),
            f"{do.faults.numbers.spindle_speed(MOST_RPM)} at most",
            "Take a slower speed of its list",
        )
