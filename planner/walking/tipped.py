"""What a grinder's wheel may cut: a tool whose tip is brazed on, and what cracks that; no aluminium.

Imported by planner.walking.order.
"""

from __future__ import annotations

from parts.part import Joined, members
from parts.standard.materials import material
from planner.walking.doing import Doing

CUTS_IT = ("diamond", "green")
"""Words of the wheels that grind cemented carbide: diamond, and green silicon carbide; on the grey or
white corundum of a bench grinder it only gets hot (common practice)."""

COOLED = ("dip the bit", "cool in water")
"""Words by which a bit of plain steel is cooled: a hot brazed tip cracks in water (common practice)."""


def wheel_clear(do: Doing) -> None:
    """No aluminium on a grinder's wheel: it clogs, heats, and may burst (common practice)."""
    name, own = str(do.tool.get("name")), do.piece.member
    metals = [own] if own else list(members(do.piece.part))
    light = next((m for m in metals if material(m.blank.material).group == "aluminium"), None)
    if do.kind in ("dress", "grind") and "grinder" in name and light is not None:
        do.faults.refuse(
            "route-machine-cannot",
            f"{name} on {light.blank.material}",
            "it clogs the wheel, which may burst",
            "Dress it by chisel and file",
        )


def tip_kept_whole(do: Doing) -> None:
    """A brazed tip is ground by a wheel that cuts it, and not cooled as steel is."""
    blank = (do.piece.member or do.piece.part).blank
    if do.kind not in ("saw", "grind") or isinstance(blank, Joined):
        return
    if not material(blank.material).condition.startswith("tipped"):
        return
    name, said = str(do.tool.get("name")), str(do.operation.get("caution") or "")
    if do.kind == "grind" and not any(word in name for word in CUTS_IT):
        do.faults.refuse(
            "route-machine-cannot",
            f"{name} on {blank.material}",
            "common grit only heats it",
            "Take a green or a diamond wheel",
        )
    if any(word in said for word in COOLED):
        do.faults.refuse(
            "route-words",
            f"{blank.material} cooled in water",
            "a hot tip cracks in it",
            "Let it cool in the air",
        )
