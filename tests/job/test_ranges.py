"""What a job's values may be: every range typed by hand, tried just inside and just outside.

The ranges are wide: what a shop with a small lathe can have, and past that a slip of the unit. They and
the defaults are common practice; the contradictions are facts of geometry, each just met and just not.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, get_args

import pytest

from planner.job.balls import Ball
from planner.job.base import Table
from planner.job.fields import Read
from planner.job.lathe import Lathe
from planner.job.shop import Shop
from planner.job.tables import Job
from planner.words.findings import BadInput, Finding
from planner.words.numbers import Numbers

JobWith = Callable[..., Job]
LONGEST = 20_000.0

RANGES: dict[str, tuple[float, float]] = {
    "lathe.spindle_over_seat": (3, 400),
    "lathe.spindle_over_cross_slide": (10, 800),
    "lathe.chuck_diameter": (20, 1000),
    "lathe.jaw_reach": (0, 300),
    "lathe.spindle_bore": (5, 300),
    "lathe.jaw_diameter": (10, 1200),
    "lathe.top_slide_travel": (5, 500),
    "lathe.cross_slide_division": (0.001, 1),
    "lathe.carriage_division": (0.001, 5),
    "lathe.between_centres": (50, 6000),
    "lathe.chuck_bore": (2, 300),
    "lathe.chuck_depth": (5, 3000),
    "lathe.three_jaw_outside.0": (0, 1000),
    "lathe.three_jaw_inside.0": (0, 1000),
    "lathe.four_jaw_outside.0": (0, 1000),
    "lathe.collets.0": (0.5, 60),
    "lathe.faceplate": (0, 2000),
    "lathe.steady": (0, 500),
    "tool_post.largest_shank": (4, 100),
    "lathe.post_nearest": (0, 800),
    "lathe.post_farthest": (5, 1500),
    "lathe.post_to_jaws": (0, 800),
    "lathe.tailstock_reach": (1, 500),
    "tool_post.depth": (10, 400),
    "tool_post.stands_out": (0, 200),
    "tool_post.height": (4, 400),
    "tool_post.first_screw": (1, 300),
    "tool_post.screw_spacing": (3, 200),
    "tool_post.slot_to_middle": (0, 200),
    "attachment.max_ball_diameter": (4, 1000),
    "attachment.min_ball_diameter": (2, 1000),
    "attachment.max_blank_diameter": (4, 1200),
    "attachment.clearance": (0.2, 20),
    "attachment.screw_pitch": (0.3, 6),
    "turning.depth_of_cut": (0.01, 5),
    "turning.feed": (0.005, 1),
    "turning.allowance": (0.05, 10),
    "turning.finish_depth": (0.005, 1),
    "turning.finish": (0.0001, 0.1),
    "turning.roughing_width": (0.5, 20),
    "turning.roughing_corner": (0, 10),
    "turning.roughing_pitch": (0.1, 50),
    "turning.tailstock_centre.diameter": (2, 200),
    "turning.tailstock_centre.point_length": (1, 300),
    "shop.kerf": (0, 10),
    "shop.turn_down": (0, 50),
    "shop.torch.kerf": (0, 10),
    "shop.torch.lead_in": (0, 20),
    "shop.torch.least_hole": (0, 100),
    "shop.machines.milling slide.travel": (10, 600),
    "shop.drills_to": (3, 60),
    "shop.drills.0": (0.3, 100),
    "shop.reamers.0": (1, 100),
    "shop.end_mills.0": (1, 60),
    "shop.counterbores.0": (1, 60),
    "shop.slitting_saws.0": (0.2, 10),
    "shop.boring_bars.0": (2, 60),
    "shop.measuring.micrometers.0": (0, 1000),
    "shop.tool_bits.0": (2, 40),
    "shop.rack.0.length": (5, LONGEST),
    "shop.buy.0.length": (50, LONGEST),
    "shop.sheet.0.thickness": (0.3, 60),
    "shop.sheet.0.width": (20, LONGEST),
    "shop.sheet.0.length": (20, LONGEST),
    "piece.0.length": (1, LONGEST),
    "ball.0.diameter": (2, 1000),
    "ball.0.tolerance": (0.001, 5),
    "ball.0.blank_diameter": (2, 1200),
    "ball.0.stem_diameter": (1, 1000),
    "ball.0.stem_length": (0, 2000),
    "ball.0.large_diameter": (2, 1000),
    "ball.0.depth": (0.5, 500),
    "ball.0.hole": (0.5, 500),
    "ball.0.hole_depth": (0.5, 1000),
    "ball.0.skin": (0, 10),
    "ball.0.depth_of_cut": (0.01, 10),
}

ROWS: dict[str, Any] = {
    "shop.rack": {"section": "round 20", "material": "S355", "length": 300},
    "shop.buy": {"section": "round 20", "material": "S355", "length": 300, "price": 1},
    "shop.sheet": {"thickness": 3, "width": 120, "length": 180, "material": "S235"},
    "piece": {"name": "spacer", "section": "round 20", "material": "S355", "length": 30},
    "ball": {"diameter": 30},
    "turning.tailstock_centre": {"diameter": 12, "point_length": 10},
}


SPANS = ("three_jaw_outside", "three_jaw_inside", "four_jaw_outside", "micrometers")
"""Keys that say from what to what."""


def with_value(key: str, value: float) -> dict[str, Any]:
    """The changes that put a value at a key; a number in it is the row of a list."""
    words = key.split(".")
    if "0" in words:
        place = words.index("0")
        table = ".".join(words[:place])
        rest = words[place + 1 :]
        if words[-2] in SPANS:
            span = [value, 1000] if value < 1000 else [0, value]
            return {table: [span] if words[-2] == "micrometers" else span}
        return {table: [ROWS[table] | {rest[0]: value}] if rest else [value]}
    if key.startswith("turning.tailstock_centre."):
        return {"turning.tailstock_centre": ROWS["turning.tailstock_centre"] | {words[-1]: value}}
    return {key: value}


def told(job_with: JobWith, changes: dict[str, Any], example: str = "bench-lathe") -> list[Finding]:
    try:
        job_with(example, **changes)
    except BadInput as problem:
        return list(problem.findings)
    return []


@pytest.mark.parametrize(("key", "low", "high"), [(k, *v) for k, v in RANGES.items()])
def test_a_length_just_inside_and_just_outside(
    job_with: JobWith, key: str, low: float, high: float
) -> None:
    for inside in (low, high):
        codes = {one.code for one in told(job_with, with_value(key, inside))}
        assert "out-of-range" not in codes, inside
    outsides = [high * 1.001] + ([low * 0.999] if low else [-0.001])
    for outside in outsides:
        (found,) = told(job_with, with_value(key, outside))
        assert (found.code, found.severity) == ("out-of-range", "refused"), outside
        assert re.sub(r"\[\d\]", "", found.key).split(".")[-1] in key


def test_every_length_of_the_tables_has_its_range_here() -> None:
    def ranged(kind: Any) -> bool:
        if isinstance(kind, Read):
            return kind.low is not None and kind.said is Numbers.size
        return any(ranged(one) for one in (*getattr(kind, "__metadata__", ()), *get_args(kind)))

    lengths = {
        (table.__name__, name)
        for table in Table.__subclasses__()
        if table.__module__ in (Job.__module__, Lathe.__module__, Ball.__module__, Shop.__module__)
        for name, field in table.model_fields.items()
        if any(ranged(one) for one in (*field.metadata, field.annotation))
    }
    assert len(lengths) == len(RANGES), sorted(lengths)
    ends = {key.removesuffix(".0").split(".")[-1] for key in RANGES}
    assert {name for _, name in lengths} == ends


HEAD = {
    **{"largest_ball": 50, "smallest_ball": 12, "screw_pitch": 1, "dial_divisions": 50},
    **{"rod_diameter": 14, "overhang": 45, "beside": 30, "bit_stickout": 14, "bit_width": 8},
    **{"nose": 0.5, "arm_height": 20, "arm_width": 18, "tail": 45, "body_radius": 26},
    **{"handle_length": 110, "knob": 160, "grip": 250, "gives": 0.05, "clearance": 2},
}
HEAD_RANGES: dict[str, tuple[float, float]] = {
    "largest_ball": (12.001, 1000),
    "smallest_ball": (2, 49.999),
    "rod_diameter": (3, 200),
    "overhang": (2, 600),
    "beside": (2, 600),
    "bit_stickout": (1, 200),
    "bit_width": (2, 40),
    "nose": (0.05, 10),
    "arm_height": (3, 200),
    "arm_width": (3, 300),
    "tail": (5, 800),
    "body_radius": (5, 400),
    "handle_length": (10, 1000),
    "knob": (2, 1500),
    "grip": (1, 50_000),
    "gives": (0.0005, 5),
    "clearance": (0.2, 20),
}


@pytest.mark.parametrize(("key", "low", "high"), [(k, *v) for k, v in HEAD_RANGES.items()])
def test_each_range_of_a_head_just_inside_and_just_outside(
    job_with: JobWith, key: str, low: float, high: float
) -> None:
    for value in (low, high):
        assert getattr(job_with(own_head=HEAD | {key: value}).own_head, key) == value
    for value in (low - 1e-3 * low, high * 1.001, -1.0):
        assert told(job_with, {"own_head": HEAD | {key: value}}), value


def test_what_an_out_of_range_length_is_told(job_with: JobWith) -> None:
    (found,) = told(job_with, {"lathe.jaw_reach": 301})
    assert "a length here lies between 0 and 300 mm, this is 301 mm. Check the unit" in found.text
    (found,) = told(job_with, {"lathe.chuck_diameter": -3})
    assert "between 20 and 1000 mm, this is -3 mm. Give it as a size above zero" in found.text
    (found,) = told(job_with, {"attachment.screw_pitch": 6.1})
    assert "a screw pitch here lies between 0.3 and 6 mm, this is 6.1 mm" in found.text


def test_a_range_is_told_in_round_inches_inside_of_it(job_with: JobWith) -> None:
    # 20 to 1000 mm are 0.787 to 39.37 in: nobody's figures in an inch shop
    (found,) = told(job_with, {"lathe.chuck_diameter": -3}, "inch-lathe")
    assert "between 0.79 and 39 in, this is -3 in. Give it as a size above zero" in found.text
    (found,) = told(job_with, {"attachment.screw_pitch": 20}, "inch-lathe")
    assert "a screw pitch here lies between 0.012 and 0.23 in, this is 20 in" in found.text


def test_defaults_by_hand(job_with: JobWith) -> None:
    turning = job_with().turning
    assert (turning.depth_of_cut, turning.feed) == (0.25, 0.08)
    assert (turning.allowance, turning.finish_depth, turning.spring_passes) == (0.5, 0.05, None)
    assert (turning.finish, turning.roughing_tool) == (0.001, "parting")
    assert (turning.roughing_width, turning.roughing_corner) == (3.0, 0.2)
    bare = job_with(**{"shop": {}, "materials": {}})
    assert (bare.shop.kerf, bare.shop.tool_material, bare.shop.currency) == (2.0, "HSS", "")
    assert bare.materials.model_dump() == {
        "structure": "S355", "shaft": "S355", "screw": "C45", "dial": "CW614N",
    }  # fmt: skip
    assert (bare.attachment.quantity, bare.shop.torch.kerf, bare.shop.torch.labels) == (
        1,
        0.0,
        False,
    )


COUNTS = {
    "attachment.dial_divisions": (4, 400),
    "attachment.quantity": (1, 1000),
    "turning.spring_passes": (0, 10),
    "shop.dividing_head_ratio": (2, 360),
}


@pytest.mark.parametrize(("key", "low", "high"), [(k, *v) for k, v in COUNTS.items()])
def test_a_count_just_inside_and_just_outside(
    job_with: JobWith, key: str, low: int, high: int
) -> None:
    for inside in (low, high):
        assert told(job_with, {key: inside}) == []
    for outside in (low - 1, high + 1):
        (found,) = told(job_with, {key: outside})
        assert found.severity == "refused" and found.key == key
    (found,) = told(job_with, {key: low + 0.5})
    assert found.code == "wrong-value"


def test_one_to_eight_screws_hold_the_shank(job_with: JobWith) -> None:
    close = {"tool_post.screw_spacing": 3}  # eight of them in the post's 56 mm, from 11 on
    for inside in (1, 8):
        assert told(job_with, close | {"tool_post.screws": inside}) == []
    for outside in (0, 9, 1.5):
        (found,) = told(job_with, close | {"tool_post.screws": outside})
        assert found.severity == "refused" and found.key == "tool_post.screws"


NAMES = {"name": 0, "ball.0.name": 0, "piece.0.name": 1}
"""The least letters of each name; the most are what a line of a sheet holds beside its figures."""


@pytest.mark.parametrize(("key", "least"), NAMES.items())
def test_a_name_just_short_enough_and_just_too_long(
    job_with: JobWith, key: str, least: int
) -> None:
    for inside in ("x" * least, "x" * 60):
        assert told(job_with, with_value(key, inside)) == []
    for outside in ["x" * 61] + ["x" * (least - 1)] * bool(least):
        (found,) = told(job_with, with_value(key, outside))
        assert (found.code, found.severity) == ("out-of-range", "refused")


@pytest.mark.parametrize("table", ["shop.rack", "shop.sheet", "piece"])
def test_so_many_of_a_row_and_no_more(job_with: JobWith, table: str) -> None:
    for count, good in ((1, True), (100_000, True), (0, False), (100_001, False)):
        found = told(job_with, {table: [ROWS[table] | {"quantity": count}]})
        assert [one.code for one in found] == ([] if good else ["out-of-range"])


@pytest.mark.parametrize(
    ("table", "key"),
    [
        *(("shop.rack", "cost"), ("shop.sheet", "cost"), ("shop.buy", "price")),
        *(("shop.buy", "cutting_charge"),),
    ],
)
def test_money_is_none_or_a_million_at_most(job_with: JobWith, table: str, key: str) -> None:
    for money, good in ((0, True), (1_000_000, True), (-0.01, False), (1_000_000.01, False)):
        found = told(job_with, {table: [ROWS[table] | {key: money}]})
        assert [one.code for one in found] == ([] if good else ["out-of-range"])


@pytest.mark.parametrize(
    ("key", "right", "wrong"),
    [
        ("lathe.spindle_speeds", [20_000], [20_001]),
        ("lathe.spindle_speeds", [1], [0.9]),
        ("turning.clamp_torque", 200, 201),
        ("turning.clamp_torque", 0.01, 0),
    ],
)
def test_speeds_and_torque(job_with: JobWith, key: str, right: Any, wrong: Any) -> None:
    assert told(job_with, {key: right}) == []
    assert len(told(job_with, {key: wrong})) == 1


BALL = {"diameter": 40}


@pytest.mark.parametrize(
    ("code", "right", "wrong", "says"),
    [
        (
            "balls-reversed",
            {"attachment.min_ball_diameter": 50},
            {"attachment.min_ball_diameter": 50.1},
            "the smallest ball is larger than the largest. Exchange them, or leave the smallest out",
        ),
        # the bench lathe's post goes from 38 to 165, and is 56 deep: screws at 11, 28 and 45 of it
        (
            "travel-reversed",
            {"lathe.post_nearest": 164.9},
            {"lathe.post_nearest": 165},
            "goes no farther out than in. Exchange post_nearest and post_farthest",
        ),
        (
            "screw-row",
            {"tool_post.screw_spacing": 22.4},
            {"tool_post.screw_spacing": 22.5},
            "stand in a row longer than the post is deep. Measure depth, first_screw and"
            " screw_spacing again",
        ),
        (
            "blank-size",
            {"attachment.max_blank_diameter": 50},
            {"attachment.max_blank_diameter": 49.9},
            "the blank is thinner than the ball. Give at least the ball's diameter, or leave it out",
        ),
        (
            "blank-size",
            {"ball": [BALL | {"blank_diameter": 40}]},
            {"ball": [BALL | {"blank_diameter": 39.9}]},
            "the blank is thinner than the ball. Give at least the ball's diameter",
        ),
        (
            "stem-size",
            {"ball": [BALL | {"stem_diameter": 39.9}]},
            {"ball": [BALL | {"stem_diameter": 40}]},
            "the stem is as thick as the ball. Give a thinner stem",
        ),
        (
            "hole-size",
            {"ball": [BALL | {"hole": 31.9}]},
            {"ball": [BALL | {"hole": 32}]},
            "the hole leaves no ball. Give one under 0.8 of the ball's diameter",
        ),
        (
            "hole-size",
            {"ball": [BALL | {"thread": "M8"}]},
            {"ball": [BALL | {"thread": "M8", "hole": 5}]},
            "a hole and a thread. Give one of them",
        ),
        (
            "hole-size",
            {"ball": [{"diameter": 10.1, "thread": "M8"}]},
            {"ball": [{"diameter": 10, "thread": "M8"}]},
            "the hole leaves no ball. Give one under 0.8 of the ball's diameter",
        ),
        (
            "taper-handle",
            {"ball": [BALL | {"shape": "taper handle", "large_diameter": 20, "stem_length": 90}]},
            {"ball": [BALL | {"shape": "taper handle", "large_diameter": 20}]},
            "a taper handle needs its large_diameter and its stem_length. Give both",
        ),
        (
            "socket-depth",
            {"ball": [BALL | {"shape": "socket", "depth": 20}]},
            {"ball": [BALL | {"shape": "socket", "depth": 20.1}]},
            "a socket needs its depth, at most half its diameter. Give depth from the face",
        ),
        (
            "one-price",
            {"shop.buy": [ROWS["shop.buy"]]},
            {"shop.buy": [ROWS["shop.buy"] | {"price_per_metre": 2}]},
            "one price is needed. Give price, price_per_metre or price_per_foot, one of them",
        ),
    ],
)
def test_values_that_contradict_each_other(
    job_with: JobWith, code: str, right: dict[str, Any], wrong: dict[str, Any], says: str
) -> None:
    assert told(job_with, right) == []
    (found,) = told(job_with, wrong)
    assert (found.code, found.severity) == (code, "refused")
    assert says in found.text


def test_a_bar_costs_its_price_or_its_metres_and_the_cut(job_with: JobWith) -> None:
    # 1.5 m at 8 a metre is 12, and 2.50 to cut; a price is a price
    row = {"section": "round 20", "material": "S355", "length": 1500, "cutting_charge": 2.5}
    feet = {"length": "6 ft", "price_per_foot": 2}
    rows = [row | {"price_per_metre": 8}, row | {"price": 9}, row | feet]
    job = job_with(**{"shop.buy": rows})
    assert [bar.bar_price for bar in job.shop.buy] == pytest.approx([14.5, 11.5, 14.5])


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"lathe.jaw_reach": "26 lb"}, "wrong-unit"),
        ({"lathe.jaw_reach": "about"}, "not-a-length"),
        ({"lathe.jaw_reach": 26, "units": None}, "no-unit"),
        ({"lathe.jaw_reach": [1]}, "not-a-length"),
        ({"attachment.screw_pitch": "0 tpi"}, "not-a-pitch"),
        ({"shop.rack": [ROWS["shop.rack"] | {"section": "oval 20"}]}, "not-a-section"),
        ({"materials.dial": "cheese"}, "unknown-name"),
        ({"attachment.prefer": "cheap"}, "not-a-choice"),
        ({"lathe.colour": "green"}, "unknown-key"),
        ({"lathe.jaw_reach": None}, "missing-key"),
    ],
)
def test_each_way_a_value_can_be_wrong(
    job_with: JobWith, changes: dict[str, Any], code: str
) -> None:
    found = told(job_with, changes)
    assert code in {one.code for one in found}
    assert all(one.severity == "refused" and one.remedy for one in found)
