"""Where a weld goes there is room for it, and what is turned and milled later leaves it there.

Common practice: the torch or electrode leans into a groove and needs it open as far out as the weld's leg
and 2 mm more; a fillet weld is as large as the ledge that it stands on, less 1 mm that does not melt away.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from walking.part_walk import of_parts

from parts.features import TurnedDiameter
from parts.part import Joined, Part
from planner.output.plan import Plan
from planner.walking.walk import walk


def part_of(plan: Plan, name: str) -> Part:
    (one,) = [part for part in plan.attachment.parts if part.name == name]
    return one


def with_spigot(body: Part, end_mm: float) -> Part:
    """The body with its spigot turned so far."""
    assert isinstance(body.blank, Joined)
    shaft, block = body.blank.members
    features = tuple(
        replace(one, end_mm=end_mm)
        if isinstance(one, TurnedDiameter) and one.name == "spigot"
        else one
        for one in shaft.features
    )
    return replace(body, blank=replace(body.blank, members=(replace(shaft, features=features), block)))


def test_a_groove_that_the_shafts_shoulder_covers_is_refused(plan: Plan) -> None:
    """The spigot 1 mm longer than the block's bore once it is faced, 0.5 mm before: so the raw bar's
    shoulder stands half a millimetre off the block over the groove, as it did."""
    s, body = plan.sizing.sizes, part_of(plan, "rotating-body")
    setups, operations = of_parts(plan, "rotating-body", kind="weld")

    def told(end_mm: float) -> list[str]:
        shorter = [
            one | {"cut": one["cut"] | {"to_mm": end_mm}}
            if one["piece"] == "shaft" and "turn spigot" in one["text"].replace("rough ", "")
            else one
            for one in operations
        ]
        found = walk([with_spigot(body, end_mm)], plan.job, setups, shorter)
        return [str(one) for one in found if "over its groove" in str(one)]

    bore = s.spigot_length_mm + s.dressing_mm
    assert len(told(bore + 0.5)) == 1
    assert "shaft weld" in told(bore + 0.5)[0]
    # open as far as the leg and 2 mm, no less
    assert told(bore + s.weld_leg_mm + 2.0 + 0.1) == []
    assert len(told(bore + s.weld_leg_mm + 2.0 - 0.3)) == 1
    # and so it is made
    (spigot,) = [one for one in body.blank.members[0].features if one.name == "spigot"]  # type: ignore[union-attr]
    assert isinstance(spigot, TurnedDiameter)
    assert spigot.end_mm >= bore + max(6.0, s.weld_leg_mm + 2.0) - 0.1


@pytest.mark.parametrize(("off_mm", "kept"), [(0.5, True), (1.2, True), (1.5, False), (2.5, False)])
def test_a_weld_faced_away_is_refused(bench: Plan, off_mm: float, kept: bool) -> None:
    """A leg of 4.5 mm: its throat, 0.707 of it (ISO 2553), is 3.2, so that 1.3 may come off."""
    body = part_of(bench, "rotating-body")
    assert body.blank.welds[0].leg_mm == 4.5  # type: ignore[union-attr]
    deeper = off_mm - bench.sizing.sizes.dressing_mm
    setups, operations = of_parts(bench, "rotating-body")

    def faced(one: dict[str, Any]) -> dict[str, Any]:
        if "body thrust face, faced" in one["text"]:
            cut = one["cut"]
            to = {"at_mm": cut["at_mm"] + deeper, "off_mm": cut["off_mm"] + deeper}
            return one | {"cut": cut | to}
        return one

    found = walk([body], bench.job, setups, [faced(one) for one in operations])
    told = [str(one) for one in found if "its strength is counted on" in str(one)]
    assert (told == []) is kept, [str(one) for one in found]
    assert all("shaft weld" in one for one in told)
