"""Which weldments shut air in: a weld all round the mouth of a blind bore (common practice: vented)."""

from __future__ import annotations

from parts.part import Joined
from planner.making.welding import closed_pockets, weld_sheet
from planner.making.workshop import Workshop
from planner.output.plan import Plan


def test_only_the_shafts_blind_bore_is_closed_by_its_weld(plan: Plan) -> None:
    """The rod goes right through the arm and the tube's welds run along two sides: both stay open."""
    shut = {
        (part.name, weld.name, bore, vent)
        for part in plan.attachment.parts
        if isinstance(part.blank, Joined)
        for weld, bore, vent in closed_pockets(part.blank)
    }
    assert shut == {("rotating-body", "shaft weld", "spigot bore", "vent")}


def test_the_weld_sheet_names_the_pocket_where_there_is_one(plan: Plan) -> None:
    shop = Workshop(plan.job)
    said = {
        part.name: [line for line in weld_sheet(part, shop) if "shut air in" in line]
        for part in plan.attachment.parts
        if isinstance(part.blank, Joined)
    }
    assert {name: len(lines) for name, lines in said.items()} == {
        "housing": 0,
        "rotating-body": 1,
        "sliding-head": 0,
    }
    assert "spigot bore" in said["rotating-body"][0]
    assert "see that the vent is clear before it is welded" in said["rotating-body"][0]
