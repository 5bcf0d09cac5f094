"""Whether a drill is sold in the size that a step says. Imported by planner.walking.cutting."""

from __future__ import annotations

import re

from parts.standard.drills import drills
from planner.walking.doing import Doing
from planner.walking.records import number
from planner.walking.shop import Shop

METRIC = re.compile(r"^(?:long )?drill (\d+(?:\.\d+)?) mm$")
"""A drill that is asked for by millimetres alone."""

FLAT = re.compile(r"\bflat drill\b")
"""A counterbore that is ground from a drill."""

SAME_MM = 0.006
"""Sizes are said to a hundredth."""

COARSE_MM = 0.25
"""Thicker than the table goes, drills come by quarters of a millimetre (ISO 235)."""


def sold(do: Doing, shop: Shop) -> None:
    """A drill bought by millimetres is one that is made: by tenths, past 13 mm by quarters. One of a
    number, a letter or a fraction of an inch is asked for by its own name. Raises Missing."""
    name = str(do.tool.get("name"))
    said = METRIC.match(name)
    if do.kind == "drill" and said:
        size, made = float(said[1]), [one.diameter_mm for one in drills()]
    elif do.kind == "counterbore" and FLAT.search(name):
        size = number(do.tool, "diameter_mm")
        made = [one.diameter_mm for inch in (False, True) for one in drills(inch)]
    else:
        return
    thick = size > max(made) and abs(size / COARSE_MM - round(size / COARSE_MM)) < SAME_MM
    if not thick and not any(abs(size - one) < SAME_MM for one in (*made, *shop.drills)):
        do.faults.refuse(
            "route-tool-missing",
            name,
            "no drill of that size is sold",
            "Ask for one that is, or for an inch one by its number, letter or fraction",
        )
