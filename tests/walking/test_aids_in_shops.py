"""Aids of the drawn shops and the examples, walked: what each is for, one size taken away at a time.

A stub that a ball is turned on has its thread in the ball, so much out of the jaws behind it as is
said, and no less than 20 in the jaws: the smallest chucks' are so long (common practice).
"""

from __future__ import annotations

import copy
import re
from typing import Any

import pytest
from drawn_shops import drawn
from jobs import EXAMPLES, ROOT, planned
from walking.changed_aids import with_one_changed

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.output.plan import Plan
from planner.sizing.apply import size_up
from planner.stock.aidpieces import aid_records
from planner.walking.aided import aided

Data = dict[str, Any]
JOBS = {one.stem: one for one in (*EXAMPLES, *(ROOT / "tests" / "data" / "shops").glob("*.toml"))}


def plan_of(name: str) -> Plan:
    return planned(JOBS[name])


def found(name: str, aid: str = "", **changes: Any) -> list[tuple[str, str]]:
    """What is said where the records of an aid have other values; ``gone``: where it is left out."""
    plan = plan_of(name)
    made = with_one_changed(plan.route.aids, plan.job, aid, changes)
    steps = plan.route.setup_records(), plan.route.operation_records()
    return [(o.value, o.limit) for o in aided(plan.attachment.parts, plan.job, *steps, made)]


@pytest.mark.parametrize("name", ["bench-lathe", "engine-lathe", "boat-yard", "watch-bench"])
def test_the_aids_of_a_job_are_fit_for_it(name: str) -> None:
    assert found(name) == []


@pytest.mark.parametrize(
    ("name", "deep", "out", "was"),
    # as it was: what is out of the jaws and 25, the thread in the ball forgotten
    [("engine-lathe", 12.5, 86.5, 112.0), ("boat-yard", 12.5, 15.0, 40.0)],
)
def test_a_stubs_thread_is_not_what_the_chuck_holds(
    name: str, deep: float, out: float, was: float
) -> None:
    (stub,) = (one for one in plan_of(name).route.aids if one.name == "threaded stub")
    assert stub.length_mm >= deep + out + 24.0
    assert found(name, "threaded stub", long_mm=deep + out + 20.5) == []
    said = [
        (
            "threaded stub: too short",
            f"{deep:g} mm of it are in the work, {out:g} mm stand out behind it, the rest in the chuck",
        )
    ]
    assert found(name, "threaded stub", long_mm=was) == said
    assert found(name, "threaded stub", long_mm=deep + out + 19.5) == said


def test_no_more_of_a_stub_is_gripped_than_goes_into_the_chuck() -> None:
    """The clock mender's jaws stand 20 out (the job), and the bar of 12 goes through his spindle of 14;
    through one of 10 it does not (arithmetic), and what is left stands out beside what is said."""
    plan = plan_of("watch-bench")
    job = plan.job.model_copy(
        update={"lathe": plan.job.lathe.model_copy(update={"spindle_bore": 10.0})}
    )
    stubs = []
    for one in (plan.job, job):
        route = whole_route(plan.attachment, one, plan.stub)
        stubs += [aid for aid in route.aids if aid.name == "threaded stub"]
    passed, gripped = stubs
    assert passed.section.width_mm == 12.0 and passed.length_mm - gripped.length_mm == 5.0
    made = copy.deepcopy(aid_records(route.aids, job))
    steps = route.setup_records(), route.operation_records()
    assert aided(plan.attachment.parts, job, *steps, made) == ()
    for record in made:
        if record["name"] == "threaded stub":
            record["long_mm"] += 5.0  # as it was
            record["saw_mm"] += 5.0
    said = [(o.value, o.limit) for o in aided(plan.attachment.parts, job, *steps, made)]
    assert said == [
        (
            "threaded stub: too long",
            "the chuck does not take the rest: more than 45 mm would stand out",
        )
    ]


@pytest.mark.parametrize(
    ("name", "past"),
    # the shank of 111 begins 4.5 behind the tube's front, and the tube is 50.5 long; the engine lathe's
    # post stands out to 14.9 from the axis and is 92 deep
    [("bench-lathe", 65.0), ("engine-lathe", 93.0)],
)
def test_the_barrel_stays_behind_what_runs_on_beside_the_tube(name: str, past: float) -> None:
    """A barrel is 32 thick, and its centre stands 25 out of it (both common practice); as it was the
    plug was 40 long whatever ran on."""
    plan = plan_of(name)
    (plug,) = (one for one in plan.route.aids if one.name == "tacking plug")
    assert plug.length_mm - 15.0 + 25.0 >= past and "runs on beside" in plug.made
    said = f"{past:g} mm run on behind the tube beside the tailstock's barrel"
    assert found(name, "tacking plug", long_mm=40.0) == [("tacking plug: too short", said)]
    assert found(name, "tacking plug", long_mm=past - 25.0 + 10.5) == []


@pytest.mark.parametrize(
    ("changes", "value"),
    [
        ({"gone": True}, "tacking plug of 19 mm"),
        ({"size_mm": 20.0}, "tacking plug of 19 mm"),  # as bored, and the tube is not bored yet
        ({"setup": 999}, "tacking plug"),
        ({"saw_mm": 50.0}, "sawn to 50 mm"),
        ({"made": "a shoulder of 20 mm, centred; paper"}, "tacking plug: no shoulder is left"),
        (
            {"made": "a shoulder of 31 mm, centred; paper"},
            "tacking plug: its shoulder is in the way of what runs past it",
        ),
        ({"made": "a shoulder of 27 mm; paper"}, "tacking plug: it has no centre hole"),
        (
            {"made": "a shoulder of 27 mm, centred"},
            "tacking plug: nothing lies between it and the tube",
        ),
    ],
)
def test_a_tacking_plug_that_does_not_serve_is_refused(changes: Data, value: str) -> None:
    assert [one for one, _ in found("bench-lathe", "tacking plug", **changes)] == [value]


@pytest.mark.parametrize("name", ["cellar", "watch-bench"])
def test_no_plug_is_wanted_where_it_is_welded_elsewhere(name: str) -> None:
    assert all(one.name != "tacking plug" for one in plan_of(name).route.aids)
    assert found(name) == []


def test_a_setting_gauge_sits_down_on_its_bar_beside_a_thick_bit() -> None:
    """A vee of 90 degrees on a bar of 26: its bottom is (root 2 - 1) x 13 = 5.4 over the bar, and a
    hole of 8 cuts its sides away to 1.4. A bit of 8 stands 7 out in a bore of 40: in that hole, as it
    was. A bit of 5 goes into it, as in the bench lathe's bar of 15."""
    (gauge,) = (
        one for one in plan_of("boat-yard").route.aids if one.name.startswith("setting gauge")
    )
    assert (
        "a hole of 8 mm along it for the indicator's stem, its mouth at the vee opened to 10 mm"
        in (gauge.made)
    )
    aid = "setting gauge for boring bars"
    said = found("boat-yard", aid, made="a hole of 8 mm along it for the indicator's stem")
    assert {one for one, _ in said} == {f"{aid}: it does not sit down on the bar"}
    assert ("the bit, 8 mm thick, stands out 7 mm, into its hole") in {
        one.replace("7.01", "7") for _, one in said
    }
    said = found("boat-yard", aid, made="its mouth at the vee opened to 8.4 mm for the bit")
    assert said and found("boat-yard", aid, made="its mouth at the vee opened to 8.5 mm") == []
    assert found("bench-lathe", aid, made="a hole of 8 mm along it") == []
    # lines 0.707 of 15 apart
    assert (
        found("bench-lathe", aid, stock_mm=10.5) != [] == found("bench-lathe", aid, stock_mm=10.7)
    )


def test_a_rod_through_two_parts_is_as_thick_as_both_holes_and_comes_out_again() -> None:
    plan = plan_of("boat-yard")
    (rod,) = (one for one in plan.route.aids if one.name == "locating rod")
    holes = {o.name: o for p in plan.attachment.parts for o in p.features}
    deep = sum(holes[name].depth_mm for name in ("feed screw hole", "ring bore"))  # type: ignore[attr-defined]
    assert rod.length_mm >= deep + 10.0
    assert found("boat-yard", "locating rod", long_mm=deep + 5.5) == []
    assert [one for one, _ in found("boat-yard", "locating rod", long_mm=deep + 4.5)] == [
        "locating rod: too short"
    ]
    for changes in ({"size_mm": 15.5}, {"gone": True}):
        assert [one for one, _ in found("boat-yard", "locating rod", **changes)] == [
            "locating rod of 16 mm"
        ]
    assert [one for one, _ in found("boat-yard", "locating rod", setup=999)] == ["locating rod"]


def test_the_washer_of_a_stub_mandrel_bears_on_the_work() -> None:
    """The dial is 14 long: on a spigot as long, or of no length, a washer may bear on that alone."""
    (stub,) = (one for one in plan_of("bench-lathe").route.aids if one.name == "stub mandrel")
    assert "to the bore as it came out, 13 mm long, less than the work," in stub.made
    for length in ("14 mm", "15 mm", "as long as will do"):
        made = stub.made.replace("13 mm long", f"{length} long")
        assert found("bench-lathe", "stub mandrel", made=made) == [
            ("stub mandrel: the washer on its end may not bear on the work", "that is 14 mm long")
        ]


def test_a_plug_in_a_small_tube_has_a_narrow_shoulder() -> None:
    """A tube of 18 with a wall of 3.5, the shank 8.02 from its axis: a shoulder of 11 + 8, as it
    was, stood in the shank. 1 clear leaves 14."""
    job = job_from(drawn(110_060)[1], "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    (plug,) = (one for one in route.aids if one.name == "tacking plug")
    assert plug.size == "11 mm" and "a shoulder of 14 mm against it" in plug.made
    made = aid_records(route.aids, job)
    steps = route.setup_records(), route.operation_records()
    assert aided(whole.parts, job, *steps, made) == ()
    (own,) = (one for one in made if one["name"] == "tacking plug")
    own["made"] = own["made"].replace("a shoulder of 14 mm", "a shoulder of 19 mm")
    (told,) = aided(whole.parts, job, *steps, made)
    assert (told.value, told.limit) == (
        "tacking plug: its shoulder is in the way of what runs past it",
        "that is 8.02 mm from the tube's axis",
    )


def test_a_plugs_shoulder_is_no_wider_than_its_tube(job_with: Any) -> None:
    """A tube of 18 with a wall of 3.5 and nothing near it: a shoulder of 11 + 8 stood over the tube's
    end all round, where the cheek beside it is tacked (common practice: a plug ends with the tube)."""
    job = job_with(**{"attachment.sizes": {"tube_stock": "tube 18x3.5", "pivot_diameter": 12},
                      "attachment.max_ball_diameter": 34})  # fmt: skip
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    (plug,) = (one for one in route.aids if one.name == "tacking plug")
    made = aid_records(route.aids, job)
    steps = route.setup_records(), route.operation_records()
    assert aided(whole.parts, job, *steps, made) == ()
    (said,) = re.findall(r"a shoulder of ([0-9.]+) mm", plug.made)
    assert float(said) == 18.0
    (own,) = (one for one in made if one["name"] == "tacking plug")
    own["made"] = own["made"].replace(f"a shoulder of {said} mm", "a shoulder of 19 mm")
    (told,) = aided(whole.parts, job, *steps, made)
    assert told.value == "tacking plug: its shoulder is in the way of what runs past it"


def test_a_long_centre_goes_into_the_drill_chuck() -> None:
    """Drill chucks are made for 6.5, 8, 10 and 13 (common practice): a shop whose drills end at 9.8 has
    one of 10. As it was: a long centre of 12 in it."""
    plan = planned(ROOT / "tests" / "data" / "jobs" / "small-slide.toml")
    route, parts, job = plan.route, plan.attachment.parts, plan.job
    steps = route.setup_records(), route.operation_records()
    made = aid_records(route.aids, job)
    assert aided(parts, job, *steps, made) == ()
    (own,) = (one for one in made if one["name"] == "long centre")
    down = ", 25 mm of it down to 10 mm for the drill chuck"
    assert own["size_mm"] == 12.0 and down in own["made"]
    for spoiled in (own["made"].replace(down, ""), own["made"].replace("10 mm", "11 mm")):
        told = aided(parts, job, *steps, [o | {"made": spoiled} if o is own else o for o in made])
        assert {one.value for one in told} == {"long centre: too thick"}
