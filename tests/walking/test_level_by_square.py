"""A face that lies level is set by an indicator or a scribing block: a square reads what is upright.

Common practice: the square's stock stands on the table, its blade upright against the work.
"""

from __future__ import annotations

from jobs import ROOT, planned
from walking.part_walk import of_parts, walked


def test_a_level_seat_set_by_a_square_is_refused() -> None:
    """As it was: the clamp lever's filed seat looks up at the drill, set parallel by a square."""
    plan = planned(ROOT / "tests" / "data" / "shops" / "cellar.toml")
    setups, steps = of_parts(plan, "clamp-lever")
    what = "the lever seat parallel to the table"
    (own,) = [one for one in setups if what in [row["what"] for row in one["align"]]]
    assert [row["by"] for row in own["align"]] == ["dial indicator"]
    old = own | {"align": [row | {"by": "square"} for row in own["align"]]}
    before = walked(plan, setups, steps)
    told = walked(plan, [old if one is own else one for one in setups], steps)
    found = [one for one in told if one not in before]
    assert [(one.code, one.limit) for one in found] == [
        ("route-not-trued", "a square reads only what stands upright")
    ]
