"""Work on a milling slide is said to be held as it is there: before the spindle, not under it."""

from __future__ import annotations

import re

import pytest
from drawn_shops import drawn
from making.shops import of, walked_whole
from walking.part_walk import near

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.making.wayup import held_on
from planner.sizing.apply import size_up
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
    _, _, route = of(example, **SHOP)
    setups = [one for one in route.setup_records() if one["machine"] == "milling slide"]
    assert len(setups) > 10
    numbers = {one["number"] for one in setups}
    said = [one["holding"] for one in setups]
    said += [one["text"] for one in route.operation_records() if one["setup"] in numbers]
    wrong = r"\bup\b|the table|hanging|standing on|under the cutter"
    assert [one for one in said if re.search(wrong, one)] == []
    found = walked_whole(example, **SHOP)
    assert [one for one in found if one.code in ("route-words", "route-not-trued")] == []


def test_a_rod_shorter_than_the_foot_points_where_it_stands_out_of_the_arm() -> None:
    """The arm is clamped, and the rod comes out of its -y side; the foot reaches past the rod's end,
    which made the rod point the other way."""
    _, data = drawn(890_098)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), route.operation_records()
    assert not walk(whole.parts, job, setups, steps, placed=whole.placed)
    said = {
        one["hold"]["up"]: one
        for one in setups
        if one["part"] == "sliding-head"
        and one["hold"]["by"] == "cross slide"
        and one["hold"]["up"]
    }
    assert "the rod toward the spindle" in said["-y"]["holding"]
    assert "the rod toward the tailstock" in said["+y"]["holding"]
    for one, right, wrong in (
        (said["-y"], "toward the spindle", "toward the tailstock"),
        (said["+y"], "toward the tailstock", "toward the spindle"),
    ):
        as_is = one["holding"]
        one["holding"] = as_is.replace(f"the rod {right}", f"the rod {wrong}")
        found = near(whole, job, setups, steps, one["part"])
        assert {x.key for x in found if x.code == "route-words"} == {f"set-up {one['number']}"}
        one["holding"] = as_is
