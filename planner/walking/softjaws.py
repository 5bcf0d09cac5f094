"""Soft jaws: the chuck has them, a bar goes into them as they are bored, they are closed on something.

Imported by planner.walking.lathe.
"""

from __future__ import annotations

from planner.walking.faults import Faults
from planner.walking.records import Record, number, rows
from planner.walking.shop import Shop

LEAST_MM = 10.0
"""Jaws are bored to no less: no bar goes in (common practice)."""


def soft_jaws(setup: Record, shop: Shop, faults: Faults) -> None:
    """What is asked of soft jaws in a chuck. Raises Missing."""
    hold = setup.get("hold") or {}
    for grip in rows(hold, "grips"):
        if not str(grip.get("packing") or "").startswith("soft jaws"):
            continue
        size = number(grip, "size_mm")
        if not shop.soft_jaws:
            faults.refuse(
                "route-grip-range", "soft jaws", "the chuck has none", "Bore a split bush to it"
            )
        elif size < LEAST_MM:
            faults.refuse(
                "route-grip-range",
                faults.mm(size),
                f"soft jaws are bored to no less than {faults.mm(LEAST_MM)}: no bar goes in",
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
