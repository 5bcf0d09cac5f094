"""A face that lies level is set by an indicator or a scribing block: a square reads what is upright.

Common practice: the square's stock stands on the table, its blade upright against the work.
"""

from __future__ import annotations

import pytest
from jobs import ROOT, planned
from making.shops import of
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


def test_a_square_is_read_to_half_a_tenth() -> None:
    """Light shows under its blade at 0.05 mm, 0.002 in (common practice). As it was, a shop without
    an indicator set a vice true by a square within two hundredths."""
    plan = planned(ROOT / "tests" / "data" / "shops" / "cellar.toml")
    setups, steps = of_parts(plan, "clamp-lever")
    (own,) = [one for one in setups if any("lever seat" in row["what"] for row in one["align"])]
    upright = own["align"][0] | {"what": "the face square to the table", "by": "square"}
    for within, refused in ((0.02, True), (0.04, True), (0.05, False), (0.1, False)):
        old = own | {"align": [upright | {"within_mm": within}]}
        told = walked(plan, [old if one is own else one for one in setups], steps)
        limits = [one.limit for one in told if one.code == "route-not-trued"]
        assert ("light shows under a square at half a tenth" in limits) is refused, within


@pytest.mark.parametrize("name", ["bench-lathe", "inch-lathe"])
def test_without_an_indicator_a_square_is_not_said_to_show_hundredths(name: str) -> None:
    _, _, route = of(name, **{"shop.measuring": {"dial_indicator": False}})
    said = [row for one in route.setup_records() for row in one["align"] if row["by"] == "square"]
    assert any("slide's travel" in row["what"] for row in said)
    assert min(row["within_mm"] for row in said) >= 0.05 - 1e-9
