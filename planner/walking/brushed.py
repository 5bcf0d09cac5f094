"""Whether aluminium is brushed when the other pieces are ready too, and eased without grit.

Imported by walking.walk.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from parts.part import Joined, Part, members
from parts.standard.materials import material
from planner.walking.faults import Faults
from planner.walking.records import Record

GRIT = re.compile(r"(?<!no )\bemery\b")
"""Of what is done with emery; where none is to be taken, that is said."""


def eased_clean(operations: Sequence[Record], parts: Iterable[Part], faults: Faults) -> None:
    """What slides in aluminium, or is of it, is eased without emery as the whole is tried.

    Its grit stays in the soft metal and goes on lapping what runs there (common practice).
    """
    built = [one for part in parts if isinstance(part.blank, Joined) for one in members(part)]
    if "aluminium" not in {material(one.blank.material).group for one in built}:
        return
    for one in operations:
        if one.get("kind") in ("check", "assemble") and GRIT.search(str(one.get("text"))):
            faults.key = f"step {one.get('number')}"
            faults.refuse(
                "route-spoils",
                "emery on aluminium that runs",
                "its grit stays in the metal",
                "Ease it with a fine file, and wash it",
            )


def brushed_in_time(
    setups: Sequence[Record], operations: Sequence[Record], parts: Iterable[Part], faults: Faults
) -> None:
    """From its brushing to the weld only bench work is done on the pieces of the same weldment.

    Oxide grows on bright aluminium within hours and does not melt with it, and a machine's coolant
    fouls it: it is brushed just before the arc (common practice).
    """
    eased_clean(operations, parts, faults)
    machines = {one.get("number"): one.get("machine") for one in setups}
    for i, brush in enumerate(operations):
        tool = str((brush.get("tool") or {}).get("name"))
        if brush.get("kind") != "dress" or not brush.get("piece") or "brush" not in tool:
            continue
        for one in operations[i + 1 :]:
            if one.get("part") != brush.get("part"):
                continue
            if not one.get("piece"):  # they are joined
                break
            if machines.get(one.get("setup")) != "bench":
                faults.key = f"step {brush.get('number')}"
                faults.refuse(
                    "route-weld",
                    f"{brush.get('piece')} is brushed",
                    f"before the {one.get('piece')} is ready",
                    "Brush it when the other pieces are made, just before it is welded",
                )
                break
