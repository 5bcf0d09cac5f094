"""Welding with a flame: what is said of it is not what is said of an arc; cutting out by torch or saw.

Imported by planner.walking.order.
"""

from __future__ import annotations

import re

from parts.part import members
from parts.standard.materials import material
from planner.walking.doing import Doing

FLAME, JOINED = "gas", ("tack", "weld")

CURRENT = r"return clamp|screen, mask|\barc\b"
"""What is said where a current flows."""


FLUXED, WASHED = ("aluminium", "stainless steel"), ("wash", "flux", "water")
"""Metals that a torch welds with a flux, and the words of its being washed off: left, it eats the metal
and the vice, and its chips get into what runs (common practice)."""

HELD = ("tack", "weld", "rest", "check")
"""What may be done before that."""


def washed(do: Doing) -> None:
    """The flux of a weld is off before anything else is done to the work."""
    said = str(do.operation.get("text"))
    if do.kind == "weld" and do.tool.get("name") == FLAME:
        metals = [material(one.blank.material).group for one in members(do.piece.part)]
        do.piece.fluxed = any(one in FLUXED for one in metals)
    elif do.piece.fluxed and all(word in said for word in WASHED):
        do.piece.fluxed = False
    elif do.piece.fluxed and do.kind not in HELD:
        do.piece.fluxed = False
        do.faults.refuse(
            "route-order",
            f"{do.kind} on a weld with its flux on it",
            "flux eats the metal, and gets into what runs",
            "Wash it off with hot water and a brush, and dry it",
        )


CLEAN = (FLAME, "TIG")
"""They throw no drops: no electrode melts off (common practice)."""


def no_drops(do: Doing) -> None:
    """Nothing is said of drops where none fly; nothing that burns is wrapped round work at a flame."""
    said = str(do.operation.get("text"))
    if do.kind == "weld":
        do.piece.drops = do.tool.get("name") not in CLEAN
        said = str(do.operation.get("note"))
    if not do.piece.drops and "spatter" in said:
        do.faults.refuse(
            "route-words",
            "spatter of a torch or of TIG",
            "no drops fly from it",
            "Say that the weld is dressed",
        )
    if do.kind == "dress" and "a flame" in str(do.operation.get("caution")) and "wrap all" in said:
        do.faults.refuse(
            "route-words",
            "work wrapped beside a torch's flame",
            "what it is wrapped in burns",
            "Say that the flame is kept off it, and nothing is wrapped round it that burns",
        )


def by_flame(do: Doing) -> None:
    """A torch wants no return clamp; oil near oxygen and what stands in cylinders want a caution."""
    washed(do)
    no_drops(do)
    cut_out(do)
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


MINDED = {
    "torch table": ("fire", "extinguisher", "eyes", "fume", "hot"),
    "bandsaw": ("stick, not fingers",),
}
"""What can hurt where something is cut out by a torch, or by a saw that it is fed to by hand (common
practice), by words of its caution."""


def cut_out(do: Doing) -> None:
    """Plate cut by a torch burns, blinds and fumes; what is fed to a bandsaw by hand takes fingers."""
    if do.kind != "saw" or do.machine not in MINDED:
        return
    by_hand = "by hand" in str(do.setup.get("holding"))
    if do.machine == "bandsaw" and not by_hand:
        return
    caution = f"{do.setup.get('caution') or ''} {do.operation.get('caution') or ''}"
    words = list(MINDED[do.machine])
    metals = [material(one.blank.material).group for one in members(do.piece.part)]
    if do.machine == "torch table" and "stainless steel" in metals:
        words.append("chromium")
    if missing := [one for one in words if one not in caution]:
        do.faults.refuse(
            "route-words",
            f"cut on the {do.machine}",
            f"nothing is said of {', '.join(missing)}",
            "Say what can hurt as a caution",
        )
