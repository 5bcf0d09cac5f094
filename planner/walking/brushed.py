"""Whether aluminium is brushed when the other pieces are ready too. Imported by walking.walk."""

from __future__ import annotations

from collections.abc import Sequence

from planner.walking.faults import Faults
from planner.walking.records import Record


def brushed_in_time(setups: Sequence[Record], operations: Sequence[Record], faults: Faults) -> None:
    """From its brushing to the weld only bench work is done on the pieces of the same weldment.

    Oxide grows on bright aluminium within hours and does not melt with it, and a machine's coolant
    fouls it: it is brushed just before the arc (common practice).
    """
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
