"""Welding with a flame: what is said of it is not what is said of an arc.

Imported by planner.walking.order.
"""

from __future__ import annotations

import re

from planner.walking.doing import Doing

FLAME, JOINED = "gas", ("tack", "weld")

CURRENT = r"return clamp|screen, mask|\barc\b"
"""What is said where a current flows."""


def by_flame(do: Doing) -> None:
    """A torch wants no return clamp; oil near oxygen and what stands in cylinders want a caution."""
    if do.kind not in JOINED or do.tool.get("name") != FLAME:
        return
    caution = f"{do.setup.get('caution') or ''} {do.operation.get('caution') or ''}"
    said = f"{do.setup.get('holding') or ''} {caution}"
    if found := re.search(CURRENT, said):
        do.faults.refuse(
            "route-words",
            f'"{found.group()}"',
            "a torch has no current",
            "Say how it is held and what is minded with a flame",
        )
    if not ("oxygen" in caution and "cylinders" in caution):
        do.faults.refuse(
            "route-words",
            f"{do.kind} by {FLAME}",
            "nothing is said of oil near oxygen and of the cylinders",
            "Say both with the set-up's cautions",
        )
