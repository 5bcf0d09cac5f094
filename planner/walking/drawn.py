"""Whether a bar through the spindle is drawn out where more of it stands out than before.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.walking.faults import Faults
from planner.walking.records import Record

BAR = "bar through the spindle"
"""Words of a hold whose work goes on behind it."""

DRAWN = ("drawn out", "draw the bar")
"""Words of who draws it."""

SAME_MM = 0.5
"""Drawn by less, nobody opens a chuck."""


def drawn_out(setups: Sequence[Record], operations: Sequence[Record], faults: Faults) -> None:
    """Each set-up that has more of a bar out of the jaws than the one before says that it is drawn."""
    out: dict[object, float] = {}
    for setup in setups:
        said, hold = str(setup.get("holding")), setup.get("hold") or {}
        if BAR not in said:
            continue
        own = setup.get("part"), setup.get("piece")
        stands = float(hold.get("out_mm") or 0.0)
        texts = [str(o.get("text")) for o in operations if o.get("setup") == setup.get("number")]
        told = any(word in one for word in DRAWN for one in (said, *texts))
        if stands > out.get(own, 0.0) + SAME_MM and not told:
            faults.key = f"set-up {setup.get('number')}"
            faults.refuse(
                "route-words",
                f"{faults.mm(stands)} of the bar out of the jaws",
                f"{faults.mm(out.get(own, 0.0))} were, and nobody draws it",
                "Say that the bar is drawn out",
            )
        out[own] = stands
