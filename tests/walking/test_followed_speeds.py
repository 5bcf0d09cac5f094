"""What a travelling steady follows turns no faster than its fingers bear.

They rub on what was just turned (common practice: plain fingers, oiled, up to about 60 m/min). By hand,
a bar of 14: 60000 / (pi x 14) = 1364 rev/min; at 3000 they rub at 132 m/min.
"""

from __future__ import annotations

import copy

from walking.shop_files import planned, walked


def test_a_carbide_tool_is_kept_to_what_the_fingers_bear() -> None:
    """As it was: the feed screw at 3000 rev/min from its first cut to its last, the steady behind."""
    route = planned("tool-room").route
    setups, steps = route.setup_records(), route.operation_records()
    (here,) = [one["number"] for one in setups if "travelling steady behind" in one["holding"]]
    turned = [one for one in steps if one["setup"] == here and one["kind"] == "turn"]
    least = [(one["cut"]["after_mm"], one["speed_rpm"]) for one in turned]
    # 14 mm: 1364 at most; 8.5: 2246; 5.91: 3231; 7.9925: 2389; each the lathe's next slower speed
    assert least == [(14.0, 1250), (14.0, 1250), (8.5, 2000), (5.91, 3000), (7.9925, 2000)]
    spoiled = copy.deepcopy(steps)
    for one in spoiled:
        if one in turned:
            one["speed_rpm"] = 3000
    found = [one for one in walked("tool-room", setups, spoiled) if one.code == "route-speed"]
    assert [(one.key, one.limit) for one in found] == [
        (f"step {one['number']}", f"{most} rev/min at most")
        for one, most in zip(turned, (1364, 1364, 2246, 0, 2389), strict=True)
        if most
    ]
