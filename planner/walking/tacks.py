"""What is minded from the first tack on: steel that cracks cold is hot by then, slag goes off again.

Imported by planner.walking.order.
"""

from __future__ import annotations

from parts.part import members
from parts.standard.materials import material
from planner.walking.doing import Doing

COATED = "stick"
"""An electrode whose coating lies on the weld as slag (common practice)."""

UNDER_IT = ("tack", "weld", "rest", "check")
"""What may be done before the slag of the last run is off."""


def minded(do: Doing) -> None:
    """Preheat is said with the first tack and with each run, how slag comes off, what fume is worse."""
    said = str(do.operation.get("text"))
    coated = do.tool.get("name") == COATED
    caution = f"{do.setup.get('caution') or ''} {do.operation.get('caution') or ''}"
    if do.kind == "tack":
        metals = [one.blank.material for one in members(do.piece.part)]
        _heated(do, metals, caution)
        rustless = any(material(one).group == "stainless steel" for one in metals)
        if rustless and not ("chromium" in caution and "drawn off" in caution):
            do.faults.refuse(
                "route-words",
                f"{do.kind} on stainless steel",
                "its fume has chromium(VI) and nickel in it, which cause cancer",
                "Say that it is drawn off at the weld",
            )
        if coated and not ("slag" in said and "Goggles" in caution):
            do.faults.refuse(
                "route-words",
                f"{do.kind} by {COATED}",
                "the next run shuts its slag in, and slag that is chipped off flies hot",
                "Say that it is chipped and brushed off between runs, with goggles",
            )
    elif do.kind == "weld":
        weld = do.piece.features.get(str(do.operation.get("feature") or ""))
        own = [one for one in members(do.piece.part) if one.name in getattr(weld, "members", ())]
        _heated(do, [one.blank.material for one in own], caution)
        do.piece.slagged = coated
    elif do.piece.slagged and do.kind not in UNDER_IT:
        do.piece.slagged = False
        if "slag" not in said:
            do.faults.refuse(
                "route-order",
                f"{do.kind} on a weld with its slag on it",
                "it hides cracks, blunts a file and gets into what runs",
                "Chip it off first",
            )


def _heated(do: Doing, metals: list[str], caution: str) -> None:
    """A steel that welds only with preheat has it from the first tack on: a tack cools at once, and
    cracks (EN 1011-2, from memory)."""
    cold = next((one for one in metals if material(one).weldable == "preheat"), None)
    if cold is not None and "preheat" not in caution:
        do.faults.refuse(
            "route-words",
            f"{do.kind} on cold {cold}",
            "it cracks in or beside the weld",
            "Say that it is preheated before the first tack, and kept so",
        )
