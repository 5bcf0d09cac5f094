"""Whether a bar through the spindle is drawn out where more of it stands out than before, each piece of
several parted off it before the next is begun, and its far end spoken of, which whips.

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

IN_TURN = "one after the other"
"""Words of several pieces off one bar: it has one end, and the next one's is within it."""

BEHIND = "behind the headstock"
"""Words of a caution about a bar's far end: unsupported it bends, and flails what stands there (common
practice; the guarding of stock bars is asked of every shop)."""

SAME_MM = 0.5
"""Drawn by less, nobody opens a chuck."""


def drawn_out(
    setups: Sequence[Record], operations: Sequence[Record], faults: Faults, quantity: int = 1
) -> None:
    """Each set-up that has more of a bar out of the jaws than the one before says that it is drawn.

    quantity: of each part; of several the step that draws the bar says that they go one by one.
    """
    for one in operations:
        if one.get("kind") != "rest" or (one.get("cut") or {}).get("shape") != "saw":
            continue
        if BEHIND not in str(one.get("caution")):
            faults.key = f"step {one.get('number')}"
            faults.refuse(
                "route-words",
                "a bar drawn out of the spindle, its far end not spoken of",
                "what stands out behind the headstock whips",
                "Say that it ends in the spindle, or runs in a fixed tube",
            )
        if quantity == 1:
            continue
        if IN_TURN not in f"{one.get('text')} {one.get('note')}":
            faults.key = f"step {one.get('number')}"
            faults.refuse(
                "route-words",
                f"{quantity} off one bar, each step done for all of them",
                "the bar has one end to work on",
                "Say that they are made one after the other, each parted off before the next",
            )
        _in_one_go(one, operations, faults)
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


def _in_one_go(drawn: Record, operations: Sequence[Record], faults: Faults) -> None:
    """Of several off one bar each is made to its parting off: nothing else comes between."""
    own, others = (drawn.get("part"), drawn.get("piece")), []
    for one in operations[list(operations).index(drawn) :]:
        if (one.get("part"), one.get("piece")) != own:
            others.append(one)
        elif one.get("kind") == "part":
            break
    else:
        return
    if others:
        faults.key = f"step {drawn.get('number')}"
        faults.refuse(
            "route-order",
            f"step {others[0].get('number')} before it is parted off",
            "of several off one bar the next is begun when the one before is off",
            "Draw the bar when all that its piece waits for is made",
        )
