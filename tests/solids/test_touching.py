"""Where a cut only touches the face that another leaves, the solid has no edge, its view no line."""

from __future__ import annotations

from math import hypot

from jobs import ROOT, planned

from parts.features import Bore, DrilledHole
from parts.part import members
from planner.geometry.curves import Line
from planner.solids.build import piece
from planner.solids.views import edges_seen


def test_a_vent_along_the_floor_of_a_bore_leaves_no_line_on_it() -> None:
    """The rotating body's block: its vent lies along the bottom of the spigot's bore, and touches it.

    Seen along the bore, each edge of a floor is on its rim: a line between two of its points would be
    an edge that the metal has not.
    """
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    (part,) = [one for one in plan.attachment.parts if one.name == "rotating-body"]
    (block,) = [one for one in members(part) if one.name == "block"]
    (bore,) = [one for one in block.features if isinstance(one, Bore)]
    (vent,) = [one for one in block.features if isinstance(one, DrilledHole)]
    radius = bore.diameter.mean_mm / 2
    floor = bore.axis.at(bore.depth_mm)[2]
    assert abs(vent.axis.origin[2] + vent.diameter.mean_mm / 2 - floor) < 1e-6  # it touches
    x, y = bore.axis.origin[:2]
    seen = edges_seen(piece(block), ((0.0, 0.0, -1.0), (1.0, 0.0, 0.0)))
    inside = [  # the view's v runs along -y
        one
        for one in seen
        if isinstance(one, Line)
        and not one.hidden
        and hypot((one.start[0] + one.end[0]) / 2 - x, (one.start[1] + one.end[1]) / 2 + y) < radius
    ]
    assert inside == []
