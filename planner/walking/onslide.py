"""Work that is clamped to the cross slide: is the top slide off, where does a round on it point; and
what its dial shows, where that is of the other language.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from parts.standard.sections import MM_PER_INCH
from planner.walking.faults import Faults
from planner.walking.records import Record, direction, rows, table
from planner.walking.shape import Ring
from planner.walking.state import Piece
from planner.words.numbers import INCH, METRIC

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


def other_dial_said(operation: Record, division_mm: float, inch: bool, faults: Faults) -> None:
    """Where a place is set by the cross slide's dial, and that is divided in the other language, it is
    said what a line of it moves: the step's sizes are no numbers of that dial."""
    if "cross slide's dial" not in str(operation.get("text")) or not division_mm:
        return
    own = division_mm / MM_PER_INCH * 1e4 if inch else division_mm * 1e3
    line = METRIC.exact(division_mm, 4) if inch else INCH.exact(division_mm, 5)
    if abs(own - round(own)) > 0.01 and line not in str(operation.get("text")):
        faults.refuse(
            "route-words",
            f'"{operation.get("text")}"',
            f"a line of that dial is {line}",
            "Say so: it shows no size of the step",
        )


def _square_to(hold: Record) -> int | None:
    """The axis that the gripped faces are square to."""
    first = next(iter(rows(hold, "grips")), {})
    face = str(first.get("surface")).rpartition(".")[2]
    return "xyz".index(face[1]) if len(face) == 2 and face[1] in "xyz" else None
