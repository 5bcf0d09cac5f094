"""Work that is clamped to the cross slide: is the top slide off, where does a round on it point.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from planner.walking.faults import Faults
from planner.walking.records import Record, direction, rows, table
from planner.walking.shape import Ring
from planner.walking.state import Piece

OFF = "top slide and post off"
"""It stands where the work is to lie, and the tool post on it (common practice)."""

ARBOR = "side to be slit"
"""Under an arbor a side of the work does look up; what stands out along the arbor is said with it."""


def slide_cleared(setup: Record, piece: Piece | None, faults: Faults) -> None:
    """On the cross slide the top slide is off first; of a weldment it is said where its round points.

    Two faces with that round along them, level, are not both upright between stops. Raises Missing.
    """
    hold, said = table(setup, "hold"), str(setup.get("holding"))
    if setup.get("machine") != "lathe" or hold.get("by") != "cross slide":
        return
    if OFF not in said:
        faults.refuse(
            "route-words",
            f'"{said}"',
            "the top slide stands where the work is to lie",
            "Say that it comes off first",
        )
    bodies = piece.metal.bodies if piece is not None else []
    if not hold.get("up") or len(bodies) < 2 or ARBOR in said:
        return
    along, sign = direction(hold["up"], "hold.up")
    flat = [one for one in bodies if not isinstance(one.stock, Ring)]
    held = str(next(iter(rows(hold, "grips")), {}).get("surface")).rpartition(".")[0]
    own_ends = [one for one in flat if one.name == held] or flat  # not of what else is welded on
    ends = [sign * edge for one in own_ends for edge in one.stock.edges(along)]
    for one in bodies:
        if not isinstance(one.stock, Ring):
            continue
        own = [sign * edge for edge in one.stock.edges(along)]
        way = "across the bed"
        if one.stock.along == along:
            out = max(own) - max(ends) > min(ends) - min(own)
            way = "toward the spindle" if out else "toward the tailstock"
        if f"the {one.name} {way}" not in said:
            faults.refuse(
                "route-words",
                f'"{said}"',
                f"where the {one.name} points is not said",
                f"Say that it lies {way}" if way[0] == "a" else f"Say that it points {way}",
            )
        if one.stock.along not in (along, _square_to(hold)) and "apart between stops" in said:
            faults.refuse(
                "route-words",
                f'"{said}"',
                f"with the {one.name} across the bed one of these faces is down",
                "Say so",
            )


def _square_to(hold: Record) -> int | None:
    """The axis that the gripped faces are square to."""
    first = next(iter(rows(hold, "grips")), {})
    face = str(first.get("surface")).rpartition(".")[2]
    return "xyz".index(face[1]) if len(face) == 2 and face[1] in "xyz" else None
