"""What a counterbore is: whether the shop has one of its size, and how far one stands out.

Imported by planner.walking.order and planner.walking.above.
"""

from __future__ import annotations

from parts.standard.holding import IN_CHUCK_MM, drill_out_mm
from planner.walking.doing import Doing
from planner.walking.records import number
from planner.walking.shop import Shop

LONG_MM = {6.0: 71.0, 11.0: 80.0, 18.0: 100.0}
"""How long a counterbore with a straight shank is, by the diameter it goes up to (DIN 373, from
memory)."""

BAR_OUT = 15.0
"""A bar with a bit across it stands out so many times its thickness where its end runs in the hole
(common practice)."""


WIDE_CHUCK_MM, THIN_SHANK_MM = 20.0, 11.0
"""Half of what a chuck is wide that takes shanks of 12.5: those of counterbores over so much (a 13 mm
chuck, common practice; DIN 373, from memory)."""


SMALL_CHUCK_MM, TAKEN_MM = 17.0, 10.0
"""And of a 10 mm one, and the thickest that one takes (common practice: 34 across)."""


def chuck_mm(do: Doing) -> float:
    """Half of what the chuck is wide that a step's counterbore is held in, mm."""
    if _bar(str(do.tool.get("name"))):
        thick = number(do.tool, "width_mm") > TAKEN_MM + 0.01
    else:
        thick = number(do.tool, "diameter_mm") > THIN_SHANK_MM
    return WIDE_CHUCK_MM if thick else SMALL_CHUCK_MM


def counterbore_there(do: Doing, shop: Shop) -> None:
    """A counterbore said to be the shop's own is one that it says it has, a drill of its own ground
    flat, or a bar that it makes: counterbores are in no usual kit."""
    size, name = number(do.tool, "diameter_mm"), str(do.tool.get("name"))
    if do.tool.get("owned") is not True or _bar(name):
        return
    if not name.startswith("flat drill"):
        if not any(abs(size - one) < 0.01 for one in shop.counterbores):
            do.faults.refuse(
                "route-tool-missing",
                name,
                "the shop has no counterbore of that size",
                "Grind a second drill flat, make a bar for it, or say that it is to be bought",
            )
        return
    if not shop.drills_to_mm:
        return
    if size > shop.drills_to_mm + 0.01 and not any(abs(size - o) < 0.01 for o in shop.drills):
        do.faults.refuse(
            "route-tool-missing",
            name,
            f"the shop's drills go to {do.faults.most(shop.drills_to_mm)}",
            "Make a bar with a bit across it, or say that it is to be bought",
        )


def stands_out_mm(do: Doing) -> float:
    """How far the counterbore of a step comes out of its chuck, mm."""
    size, name = number(do.tool, "diameter_mm"), str(do.tool.get("name"))
    if _bar(name):
        return min(number(do.tool, "reach_mm"), BAR_OUT * number(do.tool, "width_mm"))
    if "counterbore" not in name:
        return drill_out_mm(size)  # a drill ground flat
    if do.tool.get("owned") is False and do.tool.get("reach_mm"):
        return number(do.tool, "reach_mm")  # got for it, so long
    return next((long for most, long in LONG_MM.items() if size <= most), 0.0) - IN_CHUCK_MM


def _bar(name: str) -> bool:
    return "bar" in name.split()
