"""Whether a drill, a saw or a countersink is sold in the size that is said.

Imported by planner.walking.order.
"""

from __future__ import annotations

import re

from parts.standard.drills import drills
from parts.standard.sections import MM_PER_INCH
from planner.walking.doing import Doing
from planner.walking.records import number
from planner.walking.shop import Shop

METRIC = re.compile(r"^(?:long )?drill (\d+(?:\.\d+)?) mm$")
"""A drill that is asked for by millimetres alone."""

INCHES = re.compile(r"^(?:long )?drill \d*\.\d+ in$")
"""And one by a decimal of an inch: what is sold has a fraction, a number or a letter."""

FLAT = re.compile(r"\bflat drill\b")
"""A counterbore that is ground from a drill."""

SAME_MM = 0.006
"""Sizes are said to a hundredth."""

COARSE_MM = 0.25
"""Thicker than the table goes, drills come by quarters of a millimetre (ISO 235)."""


SAWS_MM = (0.5, 0.6, 0.8, 1.0, 1.2, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0)
"""How wide slitting saws are made (ISO 2296, from memory)."""

SAWS_IN = 64
"""And in whole parts of an inch (common practice)."""


COUNTERSINKS_MM = 31.0
"""Countersinks of 90 degrees are made so wide (DIN 335 form C, from memory)."""

OTHER = re.compile(r"\(or [^,()]+, (\d?\.\d+)\)")
"""An inch drill that is named beside the metric one of a tap."""

OVER_D1_MM = (
    *((0.5, 0.14), (0.6, 0.16), (0.7, 0.18), (0.75, 0.19), (0.8, 0.2), (1.0, 0.236), (1.25, 0.265)),
    *((1.5, 0.3), (1.75, 0.335), (2.0, 0.375), (2.5, 0.45), (3.0, 0.5)),
)
"""By pitch, how much over D1 the hole of a metric thread of class 6H may be (ISO 965-1, table of TD1,
from memory)."""


NAMED = re.compile(
    r"^(?:long )?(?:reamer|end mill|boring bar|counterbore|flat drill) (\d*\.\d+) (in|mm)\b"
)
"""A tool that is asked for by a decimal alone."""

JUST_MM = 1e-3
"""A tool's own size is so near the one that it is marked with."""


def marked(do: Doing) -> None:
    """A tool of the other language is asked for by what is marked on it: 8 mm, not 0.315 in, which no
    tool is; 1/4 in, not 6.35 mm. Those of an inch shop go by fractions (common practice)."""
    name = str(do.tool.get("name"))
    said = NAMED.match(name)
    if said is None:
        return
    size, inch = number(do.tool, "diameter_mm"), said[2] == "in"
    marks = size * 10 if inch else size / MM_PER_INCH * SAWS_IN
    grain = 0.1 if inch else MM_PER_INCH / SAWS_IN
    own = not inch and abs(2 * size - round(2 * size)) < JUST_MM
    if not own and abs(marks - round(marks)) * grain < JUST_MM:
        do.faults.refuse(
            "route-words",
            name,
            "the tool is marked in the other language",
            "Name it by its own size, with this one beside it",
        )


def serves(do: Doing, name: str, least_mm: float, pitch_mm: float) -> None:
    """The drill that a tap's step names for one of millimetres leaves a hole within its class."""
    found = OTHER.search(str(do.operation.get("text")))
    if found is None:
        return
    own = float(found[1]) * MM_PER_INCH
    over = next(mm for pitch, mm in OVER_D1_MM if pitch_mm <= pitch + 1e-6)
    if not least_mm - SAME_MM <= own <= least_mm + over + SAME_MM:
        do.faults.refuse(
            "route-tap-drill",
            f"{name} tapped from {do.faults.mm(own)}",
            f"its hole is {do.faults.mm(least_mm)} to {do.faults.mm(least_mm + over)}",
            "Name a drill within them, or none",
        )


def _saw(do: Doing, name: str) -> None:
    """A slitting saw to be bought is of a width that is made."""
    wide = number(do.tool, "width_mm")
    parts = wide / MM_PER_INCH * SAWS_IN
    of_inches = do.faults.numbers.inch and abs(parts - round(parts)) < SAME_MM
    if not of_inches and not any(abs(wide - one) < SAME_MM for one in SAWS_MM):
        do.faults.refuse(
            "route-tool-missing",
            name,
            "no saw of that width is made",
            "Ask for the next one that leaves the slit within its limits",
        )


def _countersink(do: Doing, name: str) -> None:
    wide = number(do.tool, "diameter_mm")
    if "countersink" in name and wide > COUNTERSINKS_MM + SAME_MM:
        do.faults.refuse(
            "route-tool-missing",
            f"{name} {do.faults.mm(wide)} wide",
            f"countersinks are made to {do.faults.mm(COUNTERSINKS_MM)}",
            "Set a tool over in the lathe, or file it",
        )


def sold(do: Doing, shop: Shop) -> None:
    """A drill bought by millimetres is one that is made: by tenths, past 13 mm by quarters. One of a
    number, a letter or a fraction of an inch is asked for by its own name. Raises Missing."""
    marked(do)
    name = str(do.tool.get("name"))
    if do.tool.get("kind") == "slitting saw" and do.tool.get("owned") is False:
        _saw(do, name)
    if do.tool.get("kind") == "countersink" and do.kind == "chamfer":
        _countersink(do, name)
    said = METRIC.match(name)
    if do.kind == "drill" and INCHES.match(name):
        size, made = number(do.tool, "diameter_mm"), [one.diameter_mm for one in drills(True)]
    elif do.kind == "drill" and said:
        size, made = float(said[1]), [one.diameter_mm for one in drills()]
    elif do.kind == "counterbore" and FLAT.search(name):
        size = number(do.tool, "diameter_mm")
        made = [one.diameter_mm for inch in (False, True) for one in drills(inch)]
    else:
        return
    coarse = MM_PER_INCH / SAWS_IN if name.endswith(" in") else COARSE_MM
    thick = size > max(made) and abs(size / coarse - round(size / coarse)) < SAME_MM
    if not thick and not any(abs(size - one) < SAME_MM for one in (*made, *shop.drills)):
        do.faults.refuse(
            "route-tool-missing",
            name,
            "no drill of that size is sold",
            "Ask for one that is, or for an inch one by its number, letter or fraction",
        )
