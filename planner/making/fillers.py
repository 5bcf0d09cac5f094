"""What welds are filled with, by the metals that they join and the shop's own process.

Imported by making.welding and making.outfit.
"""

from __future__ import annotations

from planner.making import flame
from planner.making.workshop import Workshop

FILLERS = {
    "mild steel": (
        "{G3Si1 (ER70S-6), TIG W3Si1|ER70S-6, TIG ER70S-2}; stick {E42 4 B (E7018)|E7018}, dry"
    ),
    "medium carbon steel": "{E42 4 B (E7018)|E7018}, dry, preheated",
    "stainless steel": "308L for 304, 316L for 316",
    "aluminium": "4043 or 5356, TIG with AC",
}
"""Classes of filler by group of material, in braces those of ISO 14341, 636 and 2560 with AWS behind,
and those of AWS A5.18 and A5.1 alone, for an inch shop; of two metals the one that stands later decides
(common practice)."""

OWN_FILLERS = {
    ("MIG", "mild steel"): "{G3Si1 (ER70S-6)|ER70S-6}",
    ("MIG", "medium carbon steel"): "{G3Si1 (ER70S-6)|ER70S-6}, preheated",
    ("MIG", "aluminium"): "4043 or 5356, MIG with argon",
    ("TIG", "mild steel"): "{W3Si1 (ER70S-6)|ER70S-2}",
    ("TIG", "medium carbon steel"): "{W3Si1 (ER70S-6)|ER70S-2}, preheated",
    ("stick", "mild steel"): "{E42 4 B (E7018)|E7018}, dry",
}
"""Those of the shop's own welder where its process is said and FILLERS has more or others (ISO 14341,
636 and 2560, AWS A5.18 and A5.1; common practice)."""


def fillers(shop: Workshop) -> dict[str, str]:
    """By group of material what a weld is filled with: of the shop's own process where that is said."""
    if flame.by_flame(shop):
        return flame.RODS
    owned = shop.job.shop.machines.get("welder")
    own = owned.process if owned else None
    return {group: OWN_FILLERS.get((own or "", group), said) for group, said in FILLERS.items()}


UNLIKE = "309L, as stainless to mild steel asks"
"""Of stainless steel to another: what 308L gives with the plain steel's share melted in cracks; the
other's filler rusts and is brittle (AWS A5.9, from memory; common practice)."""


def filler_of(groups: set[str], shop: Workshop) -> str:
    """What one weldment of these groups of metal is filled with, in braces for either series."""
    if "stainless steel" in groups and len(groups) > 1:
        return UNLIKE + (", with its flux" if flame.by_flame(shop) else "")
    known = fillers(shop)
    return next((known[g] for g in reversed(known) if g in groups), "by the filler maker's table")
