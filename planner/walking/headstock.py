"""What drives the tool while work stands in the tool post: a chuck in the spindle, or its centre.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.walking.faults import Faults
from planner.walking.records import Record

BETWEEN = ("between centres", "between spindle and tailstock", "facing cutter")
"""Words of the tools that a bar between the centres carries."""

CHUCKED = ("drill", "centre drill", "long drill", "reamer", "countersink", "end mill")
"""Tools that a chuck in the spindle drives."""


def headstock_ready(setup: Record, operations: Sequence[Record], faults: Faults) -> None:
    """Between a tool in the chuck and a bar on the centres stands a step that changes the one."""
    if str((setup.get("hold") or {}).get("by")) != "tool post":
        return
    there = ""
    for operation in operations:
        kind = str((operation.get("tool") or {}).get("kind") or "")
        if kind in ("headstock centre", "headstock chuck"):
            there = kind.rpartition(" ")[2]
            continue
        need = "centre" if any(word in kind for word in BETWEEN) else ""
        need = need or ("chuck" if kind in CHUCKED else "")
        if need and there and need != there:
            faults.key = f"step {operation.get('number')}"
            faults.refuse(
                "route-order",
                f"{kind} on the {need}",
                f"the {there} is still in the headstock",
                "Change it first, as a step of its own, the work left as it is held",
            )
        there = need or there
