"""A countersink is of high-speed steel whatever the shop turns with, and as slow as a counterbore.

Common practice: a third to half of drilling speed, or it chatters. By hand: mild steel is drilled at
36 m/min at most, so a countersink of 14 turns at 18000 / (pi x 14) = 409 rev/min at most; at 2560 its
rim goes at 113 m/min. A tool is set over on a lathe, whose top slide turns: on a mill there is none.
"""

from __future__ import annotations

import copy

from walking.shop_files import planned, walked


def test_a_shop_that_turns_with_carbide_countersinks_slowly() -> None:
    """As it was: the rod hole's mouth at 2560 rev/min on a mill, by "a tool set over 45 degrees"."""
    route = planned("tool-room").route
    setups, steps = route.setup_records(), route.operation_records()
    of = {one["number"]: one["machine"] for one in setups}
    mouths = [one for one in steps if one["tool"]["kind"] == "countersink"]
    assert [
        (of[one["setup"]], one["tool"]["name"], one["tool"]["diameter_mm"], one["speed_rpm"])
        for one in mouths
    ] == [
        ("mill", "countersink", 14.0, 320),
        ("lathe", "countersink, or a tool set over 45 degrees", 27.0, 125),
    ]
    spoiled = copy.deepcopy(steps)
    (fast,) = [one for one in spoiled if one["number"] == mouths[0]["number"]]
    fast["speed_rpm"] = 2560
    found = [one for one in walked("tool-room", setups, spoiled) if one.code == "route-speed"]
    assert [(one.key, one.value, one.limit) for one in found] == [
        (f"step {fast['number']}", "2560 rev/min", "409 rev/min at most")
    ]
