"""What a counterbore is cut by, as far as the shop has it: a counterbore, or a drill ground flat.

Imported by making.ways.holes, making.ways.counterbored and whatever makes or lists a flat drill.
"""

from __future__ import annotations

from planner.making.model import Tool
from planner.making.workshop import Workshop

FLAT = "flat drill"
"""A drill whose end is ground square across; it is made first of a second drill of its size."""

INSTEAD = "buy or borrow one, or grind a drill of that size flat"
"""What does for a counterbore that is not there (common practice)."""


def has_counterbore(size_mm: float, shop: Workshop) -> bool:
    """Whether the shop says that it has a counterbore of a size: they are in no usual kit."""
    return any(abs(one - size_mm) < 0.01 for one in shop.kit.counterbores)


def counterbore(size_mm: float, shop: Workshop) -> Tool:
    """What cuts a counterbore of a size: its own tool, else a flat drill where a drill is to be had."""
    said = shop.numbers.tool(size_mm)
    if has_counterbore(size_mm, shop):
        return Tool("counterbore", f"counterbore {said}", size_mm)
    if shop.has_drill(size_mm):
        return Tool("counterbore", f"{FLAT} {said}", size_mm)
    return Tool("counterbore", f"counterbore {said}", size_mm, owned=False, instead=INSTEAD)
