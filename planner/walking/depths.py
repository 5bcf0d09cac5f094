"""A depth that is not counted from the face of the work is said from where; one that is read too.

Imported by planner.walking.reach.
"""

from __future__ import annotations

from parts import features as f
from planner.walking.doing import Doing
from planner.walking.finished import line_of
from planner.walking.records import rows, table

SUNK_MM = 0.05
"""A hole begins at the bottom of another where it begins so near it, on its axis."""


def depth_said(do: Doing) -> None:
    """A drill or a tap that begins at the bottom of another hole says so with its depth."""
    feature = do.piece.features.get(str(do.operation.get("feature") or ""))
    start = table(do.operation, "cut").get("from_mm")
    said = str(do.operation.get("text"))
    if not isinstance(feature, f.Hole) or start is None or " deep" not in said:
        return
    line = line_of(feature.axis)
    for other in do.piece.features.values():
        if not isinstance(other, f.Hole) or not line_of(other.axis).same(line, SUNK_MM):
            continue
        own = line_of(other.axis)
        bottom = own.through[own.along] + own.sign * other.depth_mm
        sunk = own.sign == line.sign and abs(bottom - float(start)) <= SUNK_MM
        if sunk and f"deep from the bottom of the {other.name}" not in said:
            do.faults.refuse(
                "route-words",
                f'"{said}"',
                f"it begins at the bottom of the {other.name}",
                "Say from where the depth is counted",
            )


def reading_said(do: Doing) -> None:
    """Where a step reads several sizes, one that is read from a face says from which."""
    readings = [one for one in rows(do.operation, "measure") if one.get("low_mm") is not None]
    for one in readings if len(readings) > 1 else ():
        if one.get("kind") == "depth" and not one.get("how"):
            do.faults.refuse(
                "route-words",
                f'"{one.get("what")}"',
                "another size is read in this step, and what this one is of is not said",
                "Say from where it is read",
            )
