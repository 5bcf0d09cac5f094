"""A drill over 10 mm wants a wider chuck than a thinner one: the repair shop with a screw of M12, whose
nut thread lies beside the rod."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
from jobs import ROOT
from walk_asked import doing, rod
from walking.changed_aids import with_one_changed
from walking.part_walk import near

from planner.making.ways import beside
from planner.output.plan import Plan
from planner.walking.aided import aided
from planner.walking.counterbored import chuck_mm


def _told(plan: Plan, steps: list[dict[str, Any]], number: int) -> list[tuple[str, str, str]]:
    """What is said of one step of the route."""
    whole = plan.attachment
    part = next(one["part"] for one in steps if one["number"] == number)
    found = near(whole, plan.job, plan.route.setup_records(), steps, part)
    return [(o.code, o.value, o.limit) for o in found if o.key == f"step {number}"]


def test_a_drill_for_m12_is_long_beside_a_rod_that_its_chuck_does_not_pass(tmp_path: Path) -> None:
    """The rod, of 24, stands 102 over the arm, its side 31 - 12 = 19 from the drill's axis: a chuck of
    10 mm, some 34 across, would pass it, but takes no drill of 10.2 (DIN 13, M12's); one of 13 mm is 43
    across (common practice). A drill of 10.2 is 133 long (DIN 338, from memory): 113 of it stand out,
    and rod and arm are together over that. As it was: the short one, its chuck against the rod."""
    text = (ROOT / "examples" / "engine-lathe.toml").read_text(encoding="utf-8")
    own = text.replace('screw_pitch = "2 mm"', 'screw_pitch = "1.75 mm"')
    (tmp_path / "job.toml").write_text(own, encoding="utf-8")
    plan = Plan(tmp_path / "job.toml")
    sizes = plan.attachment.sizes
    beside_mm = sizes.feed_offset_mm - sizes.rod_diameter_mm / 2
    assert 17.0 < beside_mm < 20.0 and sizes.rod_length_mm > 100.0  # what the test stands on
    steps = copy.deepcopy(plan.route.operation_records())
    (drilled,) = [o for o in steps if o["feature"] == "feed nut thread" and o["kind"] == "drill"]
    assert drilled["tool"]["name"] == "long drill 10.2 mm"
    assert drilled["tool"]["reach_mm"] >= sizes.rod_length_mm + 15.0
    assert _told(plan, steps, drilled["number"]) == []
    short = {"name": "drill 10.2 mm", "reach_mm": None, "owned": True, "instead": None}
    drilled["tool"] = {**drilled["tool"], **short}
    ((code, value, limit),) = _told(plan, steps, drilled["number"])
    assert code == "route-tool-reach"
    assert value.endswith("from under what stands beside to the bottom")
    assert limit == "drill 10.2 mm stands 113 mm out of its chuck or wrench"


@pytest.mark.parametrize(
    ("size", "wide"), [(2.5, False), (10.0, False), (10.2, True), (13.0, True)]
)
def test_a_chuck_of_10_mm_takes_drills_and_bars_up_to_10(size: float, wide: bool) -> None:
    """Chucks of 10 and 13 mm are some 34 and 43 across (common practice)."""
    across = 2 * beside.chuck_mm(size)
    assert (across > 39.0) == wide and 32.0 <= across <= 44.0
    tool = {
        "kind": "counterbore",
        "name": "counterbore bar",
        "width_mm": size,
        "diameter_mm": size + 7.0,
        "owned": True,
    }
    told = 2 * chuck_mm(doing(rod(), kind="counterbore", tool=tool))
    assert (told > 39.0) == wide and 32.0 <= told <= 44.0


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """The repair shop's lathe a size up, for balls of 110, with the drills for its screw of M16."""
    text = (ROOT / "examples" / "engine-lathe.toml").read_text(encoding="utf-8")
    for old, new in (
        ('spindle_over_seat = "32 mm"', 'spindle_over_seat = "38 mm"'),
        ('spindle_over_cross_slide = "105 mm"', 'spindle_over_cross_slide = "125 mm"'),
        ('jaw_reach = "40 mm"', 'jaw_reach = "42 mm"'),
        ('max_ball_diameter = "80 mm"', 'max_ball_diameter = "110 mm"'),
        ('min_ball_diameter = "25 mm"', 'min_ball_diameter = "35 mm"'),
        ('max_blank_diameter = "85 mm"\n', ""),
        ('"M24", "Tr10x2", "Tr12x3"]', '"M16", "M24"]\ndrills = ["14 mm", "20 mm"]'),
    ):
        assert old in text, old
        text = text.replace(old, new)
    path = tmp_path_factory.mktemp("large") / "job.toml"
    path.write_text(text, encoding="utf-8")
    return Plan(path)


def _seat(plan: Plan) -> tuple[list[dict[str, Any]], dict[str, Any]]:
    """The route's steps and the one that counterbores the arm between rod and foot."""
    steps = copy.deepcopy(plan.route.operation_records())
    return steps, next(o for o in steps if "inner wiper seat" in o["text"])


def test_the_spindle_s_nose_behind_a_chuck_clears_what_the_chuck_passes(large: Plan) -> None:
    """The rod stands over 110 beside the seat: a chuck of 13 mm, 43 across, passes it, but is only 90
    to 95 long, and the quill behind it, 60 to 85 across, comes down on the rod's end (common practice).
    As it was: a bar that stood its own bit and the seat's depth out."""
    sizes = large.attachment.sizes
    assert sizes.feed_offset_mm - sizes.rod_diameter_mm / 2 > 21.5 and sizes.rod_length_mm > 110
    steps, seat = _seat(large)
    tool = seat["tool"]
    assert tool["name"].startswith("counterbore bar")
    assert tool["reach_mm"] >= sizes.rod_length_mm - 90.0
    assert _told(large, steps, seat["number"]) == []
    tool["reach_mm"] = tool["diameter_mm"] + 2.5
    ((code, value, limit),) = _told(large, steps, seat["number"])
    assert code == "route-tool-reach" and value.startswith("the spindle's nose comes ")
    assert limit.endswith("out of a chuck that is 95 mm long")


def test_a_bar_thicker_than_the_drill_chuck_takes_is_turned_down_there(large: Plan) -> None:
    """A bar of 14 in a chuck of 13 mm: as it was, turned to 14 from end to end."""
    (aid,) = [o for o in large.route.aids if o.name.startswith("counterbore bar")]
    assert aid.size_mm == 14.0 and aid.made.endswith("down to 13 mm for the drill chuck")
    whole, _, down = aid.made.rpartition(", ")
    assert down.startswith("25 mm of its other end")
    route, told = large.route, []
    for changes in ({}, {"made": whole}):
        made = with_one_changed(route.aids, large.job, aid.name, changes)
        records = (route.setup_records(), route.operation_records())
        told.append(aided(large.attachment.parts, large.job, *records, made))
    assert [{(o.value, o.limit) for o in found} for found in told] == [
        set(),
        {(f"{aid.name}: too thick", "no drill of the shop asks for so large a drill chuck")},
    ]
