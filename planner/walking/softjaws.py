"""Soft jaws: the chuck has them, a bar goes into them as they are bored, they are closed on something;
and a bar goes into a split bush.

Imported by planner.walking.lathe.
"""

from __future__ import annotations

from math import inf

from planner.walking.faults import Faults
from planner.walking.records import Record, number, rows
from planner.walking.shop import Shop

LEAST_MM = 10.0
"""Jaws are bored to no less: no bar goes in (common practice)."""

LEAST_WALL_MM = 3.0
"""A split bush has a wall of so much at the least (common practice: 3 to 6)."""

LEAST_BUSH_MM = 7.5
"""A split bush is bored to no less: a bar of 6 fills four fifths of the hole (common practice)."""


def soft_jaws(setup: Record, shop: Shop, faults: Faults) -> None:
    """What is asked of soft jaws, or of a split bush, in a chuck. Raises Missing."""
    hold = setup.get("hold") or {}
    for grip in rows(hold, "grips"):
        size, packing = number(grip, "size_mm"), str(grip.get("packing") or "")
        if packing == "split bush" and size < LEAST_BUSH_MM:
            faults.refuse(
                "route-grip-range",
                faults.mm(size),
                f"a split bush is bored to no less than {faults.least(LEAST_BUSH_MM)}: no bar goes in",
                "Grip a thicker place, or finish that end by a file",
            )
        most = (shop.grips(str(hold.get("by")), False) or (0.0, inf))[1]
        thick = size + 2 * LEAST_WALL_MM
        if packing == "split bush" and thick > most + 0.05 and hold.get("owned") is not False:
            faults.refuse(
                "route-grip-range",
                f"a split bush round {faults.mm(size)}: {faults.least(thick)} at the least",
                f"the chuck grips to {faults.most(most)}",
                "Take a larger chuck, or copper between jaws and work",
            )
        if not packing.startswith("soft jaws"):
            continue
        if not shop.soft_jaws:
            faults.refuse(
                "route-grip-range", "soft jaws", "the chuck has none", "Bore a split bush to it"
            )
        elif size < LEAST_MM:
            faults.refuse(
                "route-grip-range",
                faults.mm(size),
                f"soft jaws are bored to no less than {faults.least(LEAST_MM)}: no bar goes in",
                "Bore a split bush to it, or take a collet",
            )
        said = str(setup.get("holding") or "")
        if "plug" not in said:
            faults.refuse(
                "route-words",
                f'"{said}"',
                "jaws that close on nothing as they are bored give another size under load",
                "Say the plug that they are closed on",
            )
