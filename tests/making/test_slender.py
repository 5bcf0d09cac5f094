"""Slender, deep and out-of-balance work, as a toolmaker asks of it; limits typed from the trade."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Sequence
from functools import cache
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from drawn_shops import drawn
from making.shops import of as planned
from msgspec.structs import replace

from parts import features as f
from parts.attachment import Attachment, attachment
from parts.bought import bought_items
from parts.part import Bought, every_feature
from parts.screw import dial
from parts.standard.fasteners import set_screw
from parts.standard.sections import Section
from parts.standard.threads import thread
from planner.job.reading import job_from
from planner.job.tables import Job
from planner.making.model import SetUp
from planner.making.route import Route, whole_route
from planner.making.workshop import sawing_minutes
from planner.output.sheets.route import route_text
from planner.sizing.apply import size_up
from planner.walking.walk import walk

of = cache(planned)
"""Each job planned once for all that is asked of it."""

JOBS = Path(__file__).parents[1] / "benchmarks" / "accepted-jobs.json"


def on_centres(route: Route) -> list[SetUp]:
    found = [one for one in route.setups if one.hold.centre and one.on.member is not None]
    assert found
    return found


def least_turned(setup: SetUp) -> float:
    """The least diameter turned in a set-up."""
    cuts = [op.cut for op in setup.ops if op.cut.get("shape") == "turn" and op.kind == "turn"]
    return min(float(cut["after_mm"]) for cut in cuts)


@pytest.mark.parametrize("pitch", [1.0, 1.5])
def test_a_steady_follows_where_work_on_a_centre_is_over_ten_diameters(pitch: float) -> None:
    # common practice: eight to ten diameters on chuck and centre, beyond it a travelling steady
    _, _, route = of(**{"attachment.screw_pitch": f"{pitch:g} mm"})
    for one in on_centres(route):
        if one.hold.by in ("three-jaw chuck", "four-jaw chuck"):
            assert one.hold.out_mm is not None
            slender = one.hold.out_mm > 10 * least_turned(one)
            assert one.hold.follows_mm is not None or not slender
            assert one.hold.out_mm <= 20 * least_turned(one)
            assert ("travelling steady" in one.hold.words) == (one.hold.follows_mm is not None)


def slender_job(**changes: object) -> tuple[Job, Attachment]:
    """A user's job whose feed thread is thirteen diameters long."""
    kept = json.loads(JOBS.read_text(encoding="utf-8"))["jobs"]
    data = tomllib.loads("\n".join(list(kept.values())[137]))
    data["lathe"] |= changes
    job = job_from(data, "job.toml")
    return job, attachment(size_up(job, "job.toml").sizes)


def walked(**changes: object) -> tuple[Route, set[str]]:
    """Its route, and what the walk says."""
    job, whole = slender_job(**changes)
    route = whole_route(whole, job)
    found = walk(whole.parts, job, route.setup_records(), route.operation_records())
    return route, {one.code for one in found}


def test_without_a_travelling_steady_it_is_missing_and_the_walk_says_so() -> None:
    route, codes = walked()
    assert codes == set()
    # a drill of 11 mm is 195 long at most (DIN 340, from memory): beside 200 of rod it is lengthened
    tools = [o["tool"] for o in route.operation_records()]
    made = [one for one in tools if "lengthened" in str(one["name"])]
    assert made and all(one["reach_mm"] > 164 and "braze" in one["instead"] for one in made)
    assert any(one.hold.follows_mm for one in route.setups)
    route, codes = walked(travelling_steady=False)
    assert any("travelling steady" in one.what for one in route.missing)
    assert codes == set()  # it is to be made first, and each set-up says so
    held = [one["hold"] for one in route.setup_records() if one["hold"]["steady"]]
    followed = [one["steady"] for one in held if one["steady"].get("travelling")]
    assert followed and all(
        one["owned"] is False and "bracket" in one["instead"] for one in followed
    )


def test_what_serves_instead_is_said_where_the_work_is_held() -> None:
    """And the walk refuses a set-up that leans on it without a word of it."""
    route, _ = walked(travelling_steady=False)
    setups = route.setup_records()
    led = [one for one in setups if (one["hold"]["steady"] or {}).get("owned") is False]
    assert led and all("no such steady: make" in one["holding"] for one in led)
    for one in led:
        one["holding"] = one["holding"].split("; the shop has no such")[0]
    job, whole = slender_job(travelling_steady=False)
    found = walk(whole.parts, job, setups, route.operation_records())
    assert {one.code for one in found} == {"route-words"} and len(found) == len(led)


@pytest.mark.parametrize(
    ("example", "diameter"),
    [
        *(("bench-lathe", size) for size in (24.0, 27.0, 30.0, 36.0, 48.0, 60.0)),
        *(("inch-lathe", 25.4 * size) for size in (1.0, 1.25, 1.5, 2.0, 2.5)),
    ],
)
def test_the_dials_thread_is_within_a_taps_reach(example: str, diameter: float) -> None:
    # DIN 352: an M3 tap's thread is 11 long and its shank 3.5 thick, so no deeper than about 3.5 d;
    # what stands before the thread lets the screw and its key pass
    bar = Section("round", diameter + 2.0)
    s = replace(of(example)[1].sizes, dial_diameter_mm=diameter, dial_stock=bar)
    part, rim = dial(s), diameter / 2
    (hole,) = [one for one in part.features if isinstance(one, f.TappedHole)]
    wide = [one for one in part.features if isinstance(one, f.DrilledHole)]
    size = thread(hole.thread)
    threaded = hole.axis.origin[2] - s.feed_journal_diameter_mm / 2
    assert threaded <= 3.5 * size.major_mm + 1e-6
    if hole.axis.origin[2] < rim - 1e-6:
        (clear,) = wide
        assert clear.axis.origin[2] == pytest.approx(rim)
        assert clear.depth_mm == pytest.approx(rim - hole.axis.origin[2])
        assert clear.diameter.min_mm > size.major_mm
        assert threaded >= 2.0 * size.major_mm  # and it holds: common practice, one and a half
        edge = s.dial_length_mm - clear.axis.origin[0] - clear.diameter.nominal_mm / 2
        assert edge >= 0.95  # brass beside it
    else:
        assert not wide
    (screw,) = [p.item for p in bought_items(s) if getattr(p.item, "use", "") == "holds the dial"]
    assert isinstance(screw, Bought)
    assert screw.length_mm in set_screw(hole.thread).lengths_mm
    assert screw.length_mm >= 0.6 * threaded - 1e-6


def test_a_lever_turned_on_a_centre_keeps_its_ball() -> None:
    # what a centre takes of a ball: r - sqrt(r^2 - m^2), m half the mouth of its hole
    job, whole, route = of("inch-lathe")
    lever = [one for one in route.setups if one.on.part.name == "clamp-lever" and one.hold.centre]
    assert lever, "the inch lever stands out more than four diameters"
    part = next(one for one in whole.parts if one.name == "clamp-lever")
    ball = next(o for _, o in every_feature(part) if isinstance(o, f.TurnedBall)).diameter
    for one in lever:
        assert one.hold.centre is not None
        radius, mouth = ball.nominal_mm / 2, one.hold.centre.hole_mm / 2
        assert radius - sqrt(radius**2 - mouth**2) < 0.2  # ISO 2768-m: 0.2 up to 30 mm, 0.3 beyond
    del job


def test_what_is_out_of_balance_or_on_a_carrier_turns_slowly() -> None:
    # common practice: not over about 400 rev/min, or the machine's slowest
    for example in ("bench-lathe", "inch-lathe"):
        job, _, route = of(example)
        slow = max(400.0, min(job.lathe.spindle_speeds))
        told = 0
        for op in route.operations:
            setup = route.setups[op.setup - 1]
            unbalanced = "Out of balance" in setup.caution or "driven by a carrier" in op.holding
            if unbalanced and op.speed_rpm:
                told += 1
                assert op.speed_rpm <= slow, op.text
        assert told > 3


def test_a_hacksaw_takes_minutes_and_not_half_an_hour() -> None:
    # common practice: a 25 mm round of mild steel, 491 mm2, in six or seven minutes by hand
    assert 6.0 <= sawing_minutes(491.0, "hacksaw") <= 7.0
    assert sawing_minutes(491.0, "bandsaw") < 2.0


def test_cross_holes_of_a_nut_say_how_it_is_turned_on() -> None:
    # its spanner holes stand a quarter, a half and three quarters of a turn from the lock screw's
    _, _, route = of("bench-lathe")
    words = [s.hold.words for s in route.setups if s.on.part.name == "pivot-nut" and s.hold.up]
    turned = [w.rpartition("; turned ")[2] for w in words if "; turned " in w]
    assert [w.split(" from ")[0] for w in turned] == [
        "a quarter turn counter-clockwise",
        "half a turn",
        "a quarter turn clockwise",
    ]


@pytest.mark.parametrize("wide", [60, 100, 140])
def test_the_sheet_is_as_wide_as_it_is_asked(wide: int) -> None:
    job, whole, route = of("bench-lathe")
    lines = route_text(route, whole, job, True, wide=wide).splitlines()
    assert max(len(line) for line in lines) <= wide
    assert max(len(line) for line in lines) > wide - 12


@cache
def small_bore() -> tuple[Job, Attachment, Route]:
    """A large lathe whose spindle takes 10 alone: a feed thread of 127.5, a journal of 10 by 98."""
    _, data = drawn(110021)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    return job, whole, whole_route(whole, job)


def refused_with(setups: Sequence[dict[str, Any]]) -> set[tuple[str, str]]:
    job, whole, route = small_bore()
    found = walk(whole.parts, job, setups, route.operation_records(), placed=whole.placed)
    return {(one.code, one.key.split()[0]) for one in found}


def test_a_long_thread_is_held_by_the_journal_beside_it() -> None:
    """Jaws of 86.5 on a journal that does not go into the bore, the tail of 12.6 behind them: by hand
    244.6 - 12.6 - 86.5 is 145.5 out, 14.7 diameters; by its tail it was 233 and refused: no travelling
    steady serves over 20 (common practice)."""
    _, _, route = small_bore()
    setups = [dict(one) for one in route.setup_records()]
    assert refused_with(setups) == set()
    (screw,) = [
        one
        for one in setups
        if one["part"] == "feed-screw" and "copper" in str(one["hold"]["grips"])
    ]
    assert screw["hold"]["out_mm"] == pytest.approx(145.5, abs=0.2)
    tail = {"surface": "tail diameter.round", "from_mm": 233.0, "to_mm": 244.6, "size_mm": 7.91}
    grips = [screw["hold"]["grips"][0] | tail]
    old = [
        one | {"hold": one["hold"] | {"grips": grips, "out_mm": 233.0}} if one is screw else one
        for one in setups
    ]
    assert ("route-overhang", "step") in refused_with(old)


def test_a_rod_goes_no_farther_into_the_chuck_than_its_bore_lets_it() -> None:
    """The rod of 36 was gripped at its end, its other end back in a spindle of 10."""
    _, _, route = small_bore()
    setups = [dict(one) for one in route.setup_records()]
    (rod,) = [one for one in setups if one["piece"] == "rod" and "made end" in one["holding"]]
    (grip,) = rod["hold"]["grips"]
    # all 86.5 of the jaws' length hold it, its spigot of 40 long too: 108.5 stands out, 2.7 diameters
    assert (grip["to_mm"], rod["hold"]["out_mm"]) == (pytest.approx(86.5), pytest.approx(108.5))
    assert rod["hold"]["steady"] is None
    high = grip["to_mm"] + 108.5 - 2.5
    back = grip | {"from_mm": high - 86.5, "to_mm": high, "surface": "rod.round", "size_mm": 39.983}
    old = [
        one | {"hold": one["hold"] | {"grips": [back], "out_mm": 2.5, "steady": None}}
        if one is rod
        else one
        for one in setups
    ]
    assert ("route-grip-blocked", "set-up") in refused_with(old)


def test_the_end_that_goes_farther_into_the_jaws_is_made_last() -> None:
    """A handle of 5/8, a lathe whose spindle passes 10 mm: an end turned to 3/8 stands within the jaws
    as the other is made, which are 24.6 deep. Of 21 too little is left of them, of 12 half an inch
    (common practice: grip at least half a diameter, where a steady carries the end)."""
    _, data = drawn(690041)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), route.operation_records()
    made = [one for one in steps if one["part"] == "handle" and one["kind"] == "turn"]
    assert [one["feature"] for one in made] == ["knob end", "shaft end"]
    last = next(one for one in setups if one["number"] == made[-1]["setup"])
    (grip,) = last["hold"]["grips"]
    assert abs(grip["to_mm"] - grip["from_mm"]) > 0.5 * grip["size_mm"]
    found = walk(whole.parts, job, setups, steps, placed=whole.placed)
    assert [one.code for one in found] == []
