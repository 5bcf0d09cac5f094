"""What is milled elsewhere, and why the shop's own machines do not do it.

Imported by making.ways.milled.
"""

from __future__ import annotations

from collections.abc import Sequence

from parts import features as f
from planner.making import bodies as b
from planner.making.holds import Holds
from planner.making.near import middle, way_of
from planner.making.wayup import ON_SLIDE


def no_mill(
    work: Holds,
    feature: f.Removed,
    ways: Sequence[tuple[tuple[str, str], float]],
    deepest_mm: float,
) -> None:
    """Note that a flat is milled elsewhere: a milling slide's vice would hold it, or none does.

    ways: the way up, the cutter's face or side, and how deep it goes along the way up; deepest_mm: of a
    cutter's side.
    """
    what, remedy = f"a mill with a table for the {feature.name}", "Have that one face milled"
    opens = work.shop.vice_opens_mm(ON_SLIDE)
    held = any(
        b.vice(work.bodies, up, [middle(feature.box)], floor, None, opens)
        for (up, way), floor in ways
        if way == "face" or feature.box.size()[way_of(up)[0]] <= deepest_mm
    )
    if held and not work.shop.owns(ON_SLIDE):
        what = f"a mill or a milling slide for the {feature.name}"
        remedy += ", or borrow a milling slide for the lathe"
    else:
        what += " (no milling slide's vice holds it)"
    work.shop.lacks(work.on.part.name, what, remedy)
