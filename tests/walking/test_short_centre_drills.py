"""A centre drill is short: its chuck comes on what stands beside before its point is down.

DIN 333 form A (from memory): one with a pilot of 2.5 mm is 45 mm long, of 3.15 mm 50, with a point at
both ends; 20 of it in the chuck (common practice) it stands out 25 or 30. A drill of 2.5 is 57 long.
The arm's tip lies some 30 mm under its root, 12 to 16 mm from the hole for the tool's screw: a chuck
for 10 mm is 34 across.
"""

from __future__ import annotations

import pytest
from walking.shop_files import planned, sound, walked

FARTHEST_OUT_MM = 30.0


@pytest.mark.parametrize("shop", ["cellar", "model-engineer"])
def test_a_spot_deep_beside_the_root_wants_a_long_centre_drill(shop: str) -> None:
    """As it was: a short one, taken for as long as a drill."""
    route = planned(shop).route
    setups, steps = route.setup_records(), route.operation_records()
    (spot,) = (o for o in steps if (o["kind"], o["feature"]) == ("spot", "tool screw hole"))
    tool = spot["tool"]
    assert (tool["name"], tool["owned"]) == ("long centre drill", False)
    assert tool["reach_mm"] > FARTHEST_OUT_MM
    short = spot | {"tool": tool | {"name": "centre drill", "reach_mm": None, "owned": True}}
    stub = spot | {"tool": tool | {"reach_mm": FARTHEST_OUT_MM - 5.0}}
    key = f"step {spot['number']}"
    assert ("route-tool-reach", key) not in [(o.code, o.key) for o in sound(shop)]
    for one in (short, stub):
        spoiled = [one if o is spot else o for o in steps]
        told = walked(shop, setups, spoiled, spot["part"])
        assert ("route-tool-reach", key) in [(o.code, o.key) for o in told]


@pytest.mark.parametrize("shop", ["school-row"])
def test_where_the_chuck_comes_down_the_usual_one_is_taken(shop: str) -> None:
    """Nothing stands beside nearer than the chuck is wide: no tool is to be bought."""
    steps = planned(shop).route.operation_records()
    (spot,) = (o for o in steps if (o["kind"], o["feature"]) == ("spot", "tool screw hole"))
    assert (spot["tool"]["name"], spot["tool"]["owned"]) == ("centre drill", True)
