"""Hollows: closed forms of caps and mouths, the order of their sheet, the dial falling to 0."""

from __future__ import annotations

import re
from math import acos, atan2, ceil, degrees, hypot, pi, sqrt
from typing import Any

import numpy as np
import pytest
from turned import NOSE_MM, job_of, sizes_of, turned_of

from planner.checking.strength import clamp_hold, cutting_load, deflection_mm
from planner.job.tables import Job
from planner.output.plan import Plan
from planner.output.sheets.turn import turn_tables
from planner.turning.model import SocketPlan

DISH: dict[str, object] = {"shape": "socket", "diameter": 160, "depth": 3, "blank_diameter": 50}


def hollow_of(job: Job) -> SocketPlan:
    (plan,) = turned_of(job).sockets
    return plan


@pytest.mark.parametrize(
    ("diameter", "depth", "changes"),
    [(160, 3, {}), (150, 4, {}), (160, 0.5, {"attachment.dial_divisions": 10})],
)
def test_a_dish_takes_a_cap_off_the_face(
    diameter: float, depth: float, changes: dict[str, Any]
) -> None:
    plan = hollow_of(job_of(DISH | {"diameter": diameter, "depth": depth}, **changes))
    radius = diameter / 2
    assert plan.passes, plan
    # pi h^2 (3R - h) / 3 (any handbook), of all passes together and after each: the tip swings about a
    # pivot R - h before the face, so a pass at r leaves a cap r - (R - h) high
    cap = pi * depth**2 * (3 * radius - depth) / 3
    assert sum(one.removed_mm3 for one in plan.passes) == pytest.approx(cap)
    gone = 0.0
    for one in plan.passes:
        gone += one.removed_mm3
        high = one.radius_mm - (radius - depth)
        assert gone == pytest.approx(pi * high**2 * (3 * one.radius_mm - high) / 3)
    assert plan.passes[-1].radius_mm == pytest.approx(radius)
    assert plan.shape.mouth_radius_mm == pytest.approx(sqrt(radius**2 - (radius - depth) ** 2))
    assert plan.shape.pivot_mm == pytest.approx(radius - depth)
    assert plan.shape.end_deg == pytest.approx(degrees(acos((radius - depth) / radius)))


def test_the_dial_falls_to_nothing_in_whole_divisions_outward() -> None:
    plan = hollow_of(job_of(DISH))  # 3 deep by 0.02
    radii = [77.0] + [one.radius_mm for one in plan.passes]
    cuts = [one for one in plan.passes if one.kind != "spring"]
    assert all(b > a for a, b in zip(radii, [one.radius_mm for one in cuts], strict=False))
    to_go = [one.to_go for one in plan.passes]
    assert to_go == sorted(to_go, reverse=True) and to_go[-1] == 0
    for one in plan.passes:
        assert one.radius_mm == pytest.approx(80.0 - 0.02 * one.to_go)
    assert plan.passes[0].to_go < 150 and [one.kind for one in plan.passes[-2:]] == [
        "finish",
        "spring",
    ]
    rows = table(job_of(DISH), "socket_passes")
    assert [row["reads"] for row in rows] == [one.to_go % 50 for one in plan.passes]


def table(job: Job, name: str) -> list[dict[str, Any]]:
    found = turn_tables(turned_of(job), job)
    (one,) = [made for made in found if made.name == name]
    return list(one.records())


def test_each_pass_swings_to_its_own_mouth_at_a_speed_for_it() -> None:
    # 60 wide and steel: the mouth of a pass at r is 2 root(r^2 - p^2), the swing acos(p / r)
    job = job_of(DISH | {"depth": 6, "material": "C45", "blank_diameter": 64})
    plan = hollow_of(job)
    assert len(plan.passes) > 4
    for one in plan.passes:
        mouth = 2 * sqrt(one.radius_mm**2 - 74.0**2)
        swing = degrees(atan2(mouth / 2, 74.0))
        # n = 1000 v / (pi d), C45 with high-speed steel up to 30 m/min, less for overhang
        assert pi * mouth * one.rev_min / 1000 <= 30.0 or one.rev_min == 80
        feed = job.turning.feed if one.kind == "rough" else None
        if feed:
            rate = min(18.0, degrees(feed / one.radius_mm) * one.rev_min / 60)
            assert one.seconds == pytest.approx(swing / rate)
        assert one.seconds >= swing / 18.0
    speeds = [one.rev_min for one in plan.passes]
    assert speeds == sorted(speeds, reverse=True)  # as the mouth grows


def test_hollow_passes_keep_within_grip_and_spring() -> None:
    job = job_of(
        DISH | {"depth": 6, "material": "C45", "blank_diameter": 62},
        **{"turning.clamp_torque": 0.5},
    )
    plan, s = hollow_of(job), sizes_of(job)
    # the bit is turned round: the arm runs in by its height and twice the stick-out
    tip = 80.0 - s.arm_stock.height_mm - 2 * s.bit_stickout_mm
    deepest = max(one.depth_mm for one in plan.passes)
    for depth, holds in ((deepest, True), (deepest + 0.02, False)):
        load = cutting_load(depth, 2 * job.turning.feed, NOSE_MM, "C45")
        assert (clamp_hold(s, load, 0.5).factor >= 2.0) is holds
    for one in plan.passes:
        if one.kind == "rough":
            load = cutting_load(one.depth_mm, 2 * job.turning.feed, NOSE_MM, "C45")
            assert deflection_mm(s, load, tip) <= 0.02 * one.to_go * (1 + 1e-6)
    loose = hollow_of(job_of(DISH | {"depth": 6, "material": "C45", "blank_diameter": 62}))
    assert sum(one.seconds for one in loose.passes) < sum(one.seconds for one in plan.passes)


@pytest.mark.parametrize(
    ("row", "code"),
    [
        ({"diameter": 20, "depth": 2}, "socket-radius"),
        ({"diameter": 160, "depth": 25, "blank_diameter": 50}, "socket-depth"),
        ({"diameter": 160, "depth": 9, "blank_diameter": 30}, "socket-mouth"),
    ],
)
def test_a_dish_out_of_reach_is_refused_with_the_reason(row: dict[str, object], code: str) -> None:
    found = turned_of(job_of({"shape": "socket"} | row))
    assert code in {f.code for f in found.findings if f.severity == "refused"}
    assert not found.sockets[0].passes


def test_what_a_head_hollows_is_said_across_as_the_job_has_it() -> None:
    # a job gives a hollow's sphere by its diameter: a radius would have to be doubled to be compared
    found = turned_of(job_of({"shape": "socket", "diameter": 20, "depth": 2}))
    (least, most) = (2 * one for one in (found.sockets[0].least_mm, found.sockets[0].greatest_mm))
    said = next(one.message for one in found.findings if one.code == "socket-radius")
    assert "diameter 20 mm: this head turns" in said
    low, high = map(float, re.findall(r"([0-9.]+) mm", said.partition("turns")[2])[:2])
    assert least <= low < least + 0.11 and most - 0.11 < high <= most


@pytest.mark.parametrize(("over", "good"), [(-0.01, True), (0.01, False)])
def test_a_dish_at_its_bounds(over: float, good: bool) -> None:
    s = sizes_of(job_of(DISH))
    # the arm comes to the face where the bit is as far in as it stands out, less the clearance
    deep = s.bit_stickout_mm - s.clearance_mm
    plan = hollow_of(job_of(DISH | {"depth": deep + over, "blank_diameter": 120}))
    codes = {f.code for f in turned_of(job_of(DISH | {"depth": deep + over})).findings}
    assert ("socket-depth" not in codes) is good
    assert plan.deepest_mm == pytest.approx(deep)
    # the mouth as wide as the blank: 2 root(h (2R - h)) = 50 at h = 80 - root(6400 - 625)
    rim = 80.0 - sqrt(80.0**2 - 25.0**2)
    codes = {f.code for f in turned_of(job_of(DISH | {"depth": rim + over})).findings}
    assert ("socket-mouth" not in codes) is good


def test_the_arm_stays_before_the_face_all_through_the_swing() -> None:
    # whatever swings but the bit is before the face, or within the sphere, at every degree
    job = job_of(DISH | {"depth": 6, "blank_diameter": 60})
    plan, s = hollow_of(job), sizes_of(job)
    arm = plan.shape.radius_mm - s.bit_stickout_mm
    for angle in np.radians(np.linspace(0.0, plan.shape.end_deg, 200)):
        assert arm * np.cos(angle) <= plan.shape.pivot_mm - s.clearance_mm + 1e-9
    assert hypot(plan.shape.mouth_radius_mm, plan.shape.pivot_mm) == pytest.approx(80.0)
    # the head comes in until the tip is on the face, 6 short of the sphere
    assert plan.least_mm - s.tip_radius_min_mm == pytest.approx(
        s.arm_stock.height_mm + 2 * s.bit_stickout_mm + 6.0
    )


HOLLOW_BEFORE = (
    ("blank", "bit", "an end is faced before the tip touches it"),
    ("bit", "dial zero", "the dial is set to the bit as it stands"),
    ("dial zero", "pivot", "the pivot is set off by the dial"),
    ("pivot", "cross slide", "the tip is on the face when it seeks the middle"),
    ("pivot", "swing", "the carriage is locked before the head is swung"),
    ("cross slide", "swing", "the tip is on the axis before the head is swung"),
    ("spindle", "each pass", "the speed is set before the cut"),
    ("swing", "each pass", "a swing is tried by hand before it is made under power"),
    ("each pass", "measure", "a hollow is measured once it is turned"),
)


def out_of_order(rows: list[dict[str, Any]]) -> list[str]:
    at = {row["what"]: number for number, row in enumerate(rows)}
    found = [
        f"{early} after {late}: {why}"
        for early, late, why in HOLLOW_BEFORE
        if at.get(early, 10**6) >= at.get(late, -1)
    ]
    locked = [row for row in rows if row["what"] == "pivot" and "lock the carriage" in row["how"]]
    return found + ([] if locked else ["the carriage is not locked"])


def test_the_hollows_rows_stand_in_order_and_a_moved_row_is_noticed() -> None:
    rows = table(job_of(DISH), "socket")
    assert out_of_order(rows) == []
    for number, row in enumerate(rows):
        if row["what"] in {name for rule in HOLLOW_BEFORE for name in rule[:2]}:
            rest = rows[:number] + rows[number + 1 :]
            assert out_of_order([row, *rest]) or out_of_order([*rest, row]), row["what"]
            assert out_of_order(rest)
    said = {row["what"]: row for row in rows}
    assert said["sphere"]["value"] == "160 mm"
    assert said["pivot"]["value"] == "77 mm before the face"
    assert f"by {ceil(3 / 0.02)} divisions" in said["pivot"]["how"]
    # spindle over the cross slide, 62, and half the sphere
    assert "142 mm" in said["dial zero"]["how"]
    for what, words in (("blank", "key is out"), ("swing", "isolated"), ("measure", "stopped")):
        assert words in said[what]["caution"]


def test_the_examples_dish(plan: Plan) -> None:
    for one in plan.turned.sockets:
        assert one.passes and one.ball.name == "dish"
        assert one.shape.mouth_radius_mm == pytest.approx(sqrt(5 * (220 - 5)))
    assert len(plan.turned.sockets) == (1 if plan.job.name == "engine-lathe" else 0)


def test_a_dish_in_a_bar_too_thick_is_told_what_the_body_stands_beside() -> None:
    job = job_of(DISH | {"blank_diameter": 90})
    s = sizes_of(job)
    (said,) = [f for f in turned_of(job).findings if f.code == "beside-blank"]
    assert f"{2 * (s.arm_overhang_mm - s.clearance_mm):g} mm" in said.limit


def test_a_hollow_keeps_to_the_motor_and_to_the_jobs_passes() -> None:
    free = turned_of(job_of(DISH)).sockets[0].passes
    for kW in (0.02, 0.05):
        slow = turned_of(job_of(DISH, **{"lathe.motor_power": kW})).sockets[0]
        assert sum(one.seconds for one in slow.passes) > sum(one.seconds for one in free)
        for one in slow.passes:
            if one.kind != "rough" or one.depth_mm < 0.021:  # one division may always be taken
                continue
            # P = F v at the mouth, where the work is fastest; seven tenths come to the edge
            edge = cutting_load(one.depth_mm, 0.08, 0.5, slow.ball.material).main_N
            across = 2 * sqrt(one.radius_mm**2 - slow.shape.pivot_mm**2)
            metres = pi * across / 1000 * one.rev_min / 60
            assert edge * metres <= 700 * kW * (1 + 1e-6)
    usual = sum(one.kind == "rough" for one in free)
    asked = turned_of(job_of(DISH | {"rough_passes": usual + 3})).sockets[0].passes
    assert sum(one.kind == "rough" for one in asked) == usual + 3


def test_the_dial_of_a_hollow_is_set_where_its_line_is_in_sight() -> None:
    # the one place where the dial is seen: tip toward the tailstock (planner.dial.sense, and the parts)
    said = {row["what"]: row["how"] for row in table(job_of(DISH), "socket")}
    assert "tailstock's side" in said["dial zero"] and "tailstock's side" in said["each pass"]
    # fed out at the axis the point would be pressed into work that does not move there
    assert "in to the axis" in said["each pass"]


def test_a_hollow_is_measured_with_room_to_write_beside_what_is_wanted() -> None:
    for tolerance in (None, 0.2):
        job = job_of(DISH | ({"tolerance": tolerance} if tolerance else {}))
        rows = table(job, "socket_measuring")
        wanted = {row["what"]: row for row in rows}
        # the mouth of a cap is 2 root(h (2R - h)) (any handbook): 2 root(3 x 157)
        assert wanted["mouth, across the face"]["wanted_mm"] == pytest.approx(2 * sqrt(3 * 157))
        assert wanted["depth in the middle"]["wanted_mm"] == 3.0
        radius = wanted["radius by both"]
        # the job's tolerance is plus or minus, on the diameter: half of it on the radius
        low_high = (79.9, 80.1) if tolerance else (None, None)
        assert (radius["least_mm"], radius["most_mm"]) == pytest.approx(low_high)
        (made,) = [
            one for one in turn_tables(turned_of(job), job) if one.name == "socket_measuring"
        ]
        assert made.shown is not None and {row[-1] for row in made.shown} == {"________"}
        assert ("79.9 to 80.1" in made.shown[2]) is bool(tolerance)


@pytest.mark.parametrize(("depth", "blank"), [(0.5, 50), (3, 50), (8, 75)])
def test_what_a_misread_depth_makes_of_the_radius_is_said(depth: float, blank: float) -> None:
    job = job_of(DISH | {"depth": depth, "blank_diameter": blank})
    (made,) = [one for one in turn_tables(turned_of(job), job) if one.name == "socket_measuring"]
    numbers = [float(x) for x in re.findall(r"([0-9.]+) mm", made.notes[0])]

    def radius(mouth: float, deep: float) -> float:  # of a cap, by its half mouth and depth
        return ((mouth / 2) ** 2 + deep**2) / (2 * deep)

    mouth, off = 2 * sqrt(depth * (160 - depth)), 0.02
    less = (radius(mouth, depth - off) - radius(mouth, depth + off)) / 2
    more = (radius(mouth + off, depth) - radius(mouth - off, depth)) / 2
    assert numbers == pytest.approx([off, less, more], rel=0.02, abs=0.0006)
    assert "less of the radius" in made.notes[0]


@pytest.mark.parametrize(
    ("has", "by"),
    [
        ({"height_gauge": True}, "a height gauge on the cross slide reads 142 mm at the point"),
        (
            {},
            "the point is 142 mm over the cross slide, a straight edge from gauge blocks",
        ),
        (
            {"gauge_blocks": False},
            "a straight edge from a rod filed to that by the caliper just on it",
        ),
    ],
)
def test_the_points_height_is_known_by_what_the_shop_has(has: dict[str, bool], by: str) -> None:
    """As it was: by a height gauge, which a shop has only where it says so (shop.measuring)."""
    job = job_of(DISH, **{"shop.measuring": has})
    (said,) = [row["how"] for row in table(job, "socket") if row["what"] == "dial zero"]
    assert by in said and ("height gauge" in said) == has.get("height_gauge", False)
