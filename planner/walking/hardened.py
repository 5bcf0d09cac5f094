"""Is a hole in metal that hardens drilled so that it does not? Imported by planner.walking.speeds."""

from __future__ import annotations

from parts.part import members
from parts.standard.materials import material
from planner.walking.doing import Doing

SPOILT = "stainless steel"
"""Its austenitic grades harden under an edge that rubs (common practice)."""

INWARD = ("spot", "drill", "counterbore")
"""Work that stands on the bottom of its hole when the feed stops."""

OILED = (*INWARD, "ream", "tap")

THICK = ("sulph", "paste")
"""Oil with sulphur in it, or paste, stays on the edge; soluble oil does not (common practice)."""


def hardened(do: Doing) -> None:
    """A thick oil is put on, and it is said that the edge must not rub."""
    own = do.piece.member or members(do.piece.part)[0]
    if do.kind not in OILED or material(own.blank.material).group != SPOILT:
        return
    if do.tool.get("owned") is False and do.machine.startswith("a shop"):
        return  # sent out: who does it knows
    put_on = str(do.operation.get("coolant") or "")
    if do.machine != "bench" and not any(one in put_on for one in THICK):
        do.faults.refuse(
            "route-words",
            f"{do.kind} of stainless steel with {put_on or 'nothing on the edge'}",
            "it runs off, and the chip welds to the edge",
            "Say a sulphurised oil or a paste",
        )
    said = str(do.operation.get("caution") or "").lower()
    if do.kind in INWARD and not ("feed" in said and ("dwell" in said or "rub" in said)):
        do.faults.refuse(
            "route-words",
            f"{do.kind} of stainless steel, no word of how it is fed",
            "it hardens where an edge rubs, and the next one slides on it",
            "Say that it is fed without a stop",
        )
