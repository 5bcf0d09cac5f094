"""Work on a milling slide is said to be held as it is there: before the spindle, not under it."""

from __future__ import annotations

import re

import pytest
from making.shops import of

from planner.making.wayup import held_on
from planner.walking.walk import walk

SHOP = {"shop.machines": {"milling slide": {"travel": "90 mm"}}, "shop.dividing_head_ratio": None}


def test_what_is_said_of_a_table_is_said_of_the_slide_s_face() -> None:
    for said, slide in (
        (
            "clamped to the table on the arm, flat, its +y side up, level on packing of 84 mm, the"
            " rest hanging free",
            "clamped to the milling slide's face on the arm, flat, its +y side toward the spindle, on"
            " even packing of 84 mm, the rest free behind it",
        ),
        ("35 gripped, standing on its end", "35 gripped, its end toward the spindle"),
        (
            "V-blocks under the Ø19, a jack under the work beside it",
            "V-blocks under the Ø19, a block between it and the face beside it",
        ),
    ):
        assert held_on("milling slide", said) == slide
        assert held_on("mill", said) == held_on("drill press", said) == said


@pytest.mark.parametrize("example", ["bench-lathe", "engine-lathe"])
def test_a_route_on_a_milling_slide_says_what_looks_to_the_spindle(example: str) -> None:
    """Its face stands upright before the spindle (common practice): nothing on it is up."""
    job, whole, route = of(example, **SHOP)
    setups = [one for one in route.setup_records() if one["machine"] == "milling slide"]
    assert len(setups) > 10
    numbers = {one["number"] for one in setups}
    said = [one["holding"] for one in setups]
    said += [one["text"] for one in route.operation_records() if one["setup"] in numbers]
    wrong = r"\bup\b|the table|hanging|standing on|under the cutter"
    assert [one for one in said if re.search(wrong, one)] == []
    found = walk(whole.parts, job, route.setup_records(), route.operation_records())
    assert [one for one in found if one.code in ("route-words", "route-not-trued")] == []
