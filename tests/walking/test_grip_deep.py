"""A chuck's jaws grip no deeper than they stand out of its face (common practice: work too thick to go
back through the chuck comes against the face first).
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from making.shops import of
from walking.part_walk import near
from walking.shop_files import planned
from walking.shop_files import walked as in_shop

from parts.part import members
from planner.making.holding import Hold, holding, least_grip_mm
from planner.walking.walk import walk


@cache
def short() -> tuple[Any, Any, Any]:
    return of("engine-lathe", **{"lathe.jaw_reach": "30 mm"})


def chucked(setups: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [one for one in setups if one["hold"]["by"] in ("three-jaw chuck", "four-jaw chuck")]


def deep(setup: dict[str, Any]) -> float:
    return max(abs(g["to_mm"] - g["from_mm"]) for g in setup["hold"]["grips"])


def test_no_jaw_grips_deeper_than_it_stands_out() -> None:
    job, whole, route = short()
    setups = chucked(list(route.setup_records()))
    assert len(setups) > 20
    assert max(deep(one) for one in setups) == pytest.approx(30.0)
    records = route.setup_records(), route.operation_records()
    assert walk(whole.parts, job, *records, placed=whole.placed) == ()


def test_where_it_is_not_said_the_chuck_says_it() -> None:
    """A fifth of its diameter (common practice)."""
    _, _, route = of("engine-lathe", **{"lathe.jaw_reach": "0 mm"})
    assert max(map(deep, chucked(list(route.setup_records())))) == pytest.approx(40.0)


def test_what_the_jaws_barely_hold_has_a_steady() -> None:
    """The spare of round 35 is too short for jaws of 30, a diameter of which is 35: it is worked from
    both its ends; the bar of the shaft, 40 thick, stands in the steady."""
    _, _, route = short()
    held = [one["holding"] for one in route.setup_records() if one["machine"] == "lathe"]
    assert any("30 mm gripped on Ø35, " in one and "the steady" in one for one in held)


def test_the_old_grip_is_refused() -> None:
    """As it was: 40 of the tube gripped, since a fifth of the chuck's diameter is that."""
    job, whole, route = short()
    setups = copy.deepcopy(list(route.setup_records()))
    tube = next(one for one in chucked(setups) if one["piece"] == "tube")
    (grip,) = tube["hold"]["grips"]
    grip["from_mm" if grip["from_mm"] < grip["to_mm"] else "to_mm"] -= 10.0
    found = walk(whole.parts, job, setups, route.operation_records(), placed=whole.placed)
    (told,) = [one for one in found if one.code == "route-grip-range"]
    assert told.value == "40 mm gripped"
    assert told.limit == "the jaws stand 30 mm out of the chuck"
    assert told.remedy == "Grip less of it"


def test_what_is_parted_off_the_bar_goes_back_through_the_jaws() -> None:
    """The rod turned off a bar of 18: parted off it is a piece of its own, 82 and 1 to face, and what
    is neither gripped nor out is behind the jaws."""
    _, _, route = of("bench-lathe", **{"lathe.spindle_bore": 30})
    rod = [one["holding"] for one in route.setup_records() if one["piece"] == "rod"]
    assert any("the bar through the spindle" in one for one in rod)
    assert [one for one in rod if "on the made end" in one] == [
        "three-jaw chuck, on the made end, 26 mm gripped on Ø14, packed with copper or card, 2.5 mm"
        " out, 54.5 mm back through the jaws"
    ]
    assert 26.0 + 2.5 + 54.5 == 82.0 + 1.0


def test_a_bar_that_stands_out_farther_is_drawn_out() -> None:
    """As it was: faced and centred close to the jaws, then turned 60 and more out of them, and nobody
    opened the chuck."""
    job, whole, route = of("bench-lathe", **{"lathe.spindle_bore": 30})
    setups = copy.deepcopy(list(route.setup_records()))
    steps = route.operation_records()
    assert walk(whole.parts, job, setups, steps, placed=whole.placed) == ()
    drawn = [one for one in setups if ", drawn out for it" in one["holding"]]
    assert drawn and all(one["hold"]["centre"] for one in drawn)
    for one in drawn:
        one["holding"] = one["holding"].replace(", drawn out for it", "")
    found = walk(whole.parts, job, setups, steps, placed=whole.placed)
    assert {one.key for one in found} == {f"set-up {one['number']}" for one in drawn}
    assert {one.code for one in found} == {"route-words"}
    assert {one.remedy for one in found} == {"Say that the bar is drawn out"}


@cache
def knob() -> tuple[Any, Any, Any]:
    """A knob of round 28, 22.25 long as it is parted off; the chuck has a bore of 20 and jaws of 18."""
    return of("bench-lathe", **{"lathe.jaw_reach": "18 mm"})


def second(setups: list[dict[str, Any]]) -> dict[str, Any]:
    return next(
        one for one in chucked(setups) if one["part"] == "knob" and "made end" in one["holding"]
    )


def test_what_the_bore_does_not_take_comes_against_the_chuck() -> None:
    """22.25 - 18: it stands out by 4.25, and was said to stand out by 2.5 with 18 gripped."""
    job, whole, route = knob()
    setups = list(route.setup_records())
    one = second(setups)
    (grip,) = one["hold"]["grips"]
    assert abs(grip["to_mm"] - grip["from_mm"]) == pytest.approx(18.0)
    assert one["hold"]["out_mm"] == pytest.approx(22.25 - 18.0, abs=0.05)
    records = route.operation_records()
    assert walk(whole.parts, job, setups, records, placed=whole.placed) == ()


def test_thick_work_said_to_go_on_behind_the_jaws_is_refused() -> None:
    job, whole, route = knob()
    setups = copy.deepcopy(list(route.setup_records()))
    one = second(setups)
    (grip,) = one["hold"]["grips"]
    for key in ("from_mm", "to_mm"):
        grip[key] += 1.75
    one["hold"]["out_mm"] -= 1.75
    found = walk(whole.parts, job, setups, route.operation_records(), placed=whole.placed)
    assert [f.code for f in found] == ["route-grip-blocked"]
    assert "the jaws are 18 mm long, the bore behind them 20 mm wide" in str(found[0])


def test_flat_work_does_not_go_back_into_the_chucks_face() -> None:
    """Both ends of the arm's flat are faced in the four-jaw chuck, whose bore does not take it: it
    comes against the chuck's face. As it was: jaws of 26 on work that ended 27 behind their front, by
    the 1 that the first end has to lose; and the second end said to stand 1 less out than it does."""
    plan = planned("cellar")
    setups, steps = list(plan.route.setup_records()), plan.route.operation_records()
    first, second = (
        one for one in setups if one["piece"] == "arm" and "on its four sides" in one["holding"]
    )
    jaws = plan.job.lathe.jaw_reach
    assert deep(first) == pytest.approx(jaws) and deep(second) == pytest.approx(jaws)
    assert first["hold"]["out_mm"] == pytest.approx(second["hold"]["out_mm"] + 1.0)
    assert in_shop("cellar", setups, steps) == []

    def told(setup: dict[str, Any], moved_mm: float) -> list[tuple[str, str]]:
        old = copy.deepcopy(setup)
        for grip in old["hold"]["grips"]:
            grip["from_mm"] += moved_mm
            grip["to_mm"] += moved_mm
        old["hold"]["out_mm"] += moved_mm
        spoiled = [old if one is setup else one for one in setups]
        return [(one.value, one.limit) for one in in_shop("cellar", spoiled, steps)]

    limit = f"the jaws stand {jaws:g} mm out of the chuck's face"
    assert (f"{jaws + 1:g} mm back from the jaws' front", limit) in told(first, -1.0)
    said = second | {"hold": second["hold"] | {"out_mm": second["hold"]["out_mm"] - 2.0}}
    found = in_shop("cellar", [said if one is second else one for one in setups], steps)
    assert [one.remedy for one in found] == ["Say how far it stands out of the jaws"]


def test_a_collet_has_no_jaws() -> None:
    """As it was: a bar in a collet went "back through the jaws"."""
    job, whole, route = of(
        "bench-lathe", **{"lathe.collets": [8.0, 10.0], "lathe.spindle_bore": 20}
    )
    setups, steps = list(route.setup_records()), route.operation_records()
    assert walk(whole.parts, job, setups, steps, placed=whole.placed) == ()
    through = [one for one in setups if "back through the collet" in one["holding"]]
    assert through and all(one["hold"]["by"] == "collet" for one in through)
    old = through[0] | {"holding": through[0]["holding"].replace("the collet", "the jaws")}
    spoiled = [old if one is through[0] else one for one in setups]
    (told,) = walk(whole.parts, job, spoiled, steps, placed=whole.placed)
    assert (told.code, told.limit) == ("route-words", "a collet has no jaws")


def test_no_steady_stands_in_the_jaws() -> None:
    """As it was: a tube of 35 in jaws of 18, 17.5 mm out, with a steady 18.5 mm from its end. A round
    that stands out no more than its diameter is held by half of that (common practice)."""
    job, whole, route = of("bench-lathe", **{"lathe.jaw_reach": "18 mm", "lathe.spindle_bore": 40})
    setups, steps = list(route.setup_records()), route.operation_records()
    tubes = [one for one in chucked(setups) if one["piece"] == "tube"]
    assert tubes and all("17.5 mm out, " in one["holding"] for one in tubes)
    assert not any(one["hold"].get("steady") for one in tubes)
    first = tubes[0]
    (grip,) = first["hold"]["grips"]
    front, sign = (
        (grip["from_mm"], -1) if first["hold"]["axis"]["along"] == "-x" else (grip["to_mm"], 1)
    )
    said = first["holding"] + ", the steady, on bright bar; a black one on a band there"
    for before, told in ((-1.0, "fingers 1 mm behind"), (4.0, "fingers 4 mm before")):
        steady = {"at_mm": front + sign * before, "diameter_mm": 35.0, "owned": True}
        old = first | {"holding": said, "hold": first["hold"] | {"steady": steady}}
        spoiled = [old if one is first else one for one in setups]
        found = near(whole, job, spoiled, steps, "housing")
        (one,) = [one for one in found if one.code == "route-steady"]
        assert one.value == f"{told} the jaws' front"
        assert one.limit == "at least 6 mm before it"


def test_what_short_jaws_do_not_hold_on_its_bar_is_held_by_its_own_end() -> None:
    """As it was: the knob, parted off its spare, stood 34.5 mm out of jaws of 18 that gripped it by
    less than six tenths of its diameter (common practice)."""
    job, whole, route = of("engine-lathe", **{"lathe.jaw_reach": "18 mm"})
    setups, steps = list(route.setup_records()), route.operation_records()
    own = {f"set-up {one['number']}" for one in setups if one["part"] == "knob"}
    assert not own & {one.key for one in near(whole, job, setups, steps, "knob")}
    held = [one for one in chucked(setups) if one["part"] == "knob"]
    assert len(held) == 2 and not any(one["hold"].get("steady") for one in held)
    assert max(one["hold"]["out_mm"] for one in held) <= 18.0


def test_what_ends_in_balls_is_not_held_by_its_end() -> None:
    """As it was: a lever of 14 in jaws of less was to be turned over its whole length with 1 mm
    of it gripped. Off a spare it is held as deep as the jaws go (common practice)."""
    job, whole, route = of("engine-lathe", **{"lathe.jaw_reach": "18 mm"})
    lever = next(part for part in whole.parts if part.name == "clamp-lever")
    assert lever.blank.section.width_mm == 14.0
    held = holding(members(lever)[0], False, job.series, 12.0)
    assert (held.hold, held.grip_mm) == (
        Hold.PARTED,
        12.0 + 3.0 + 1.0,
    )  # and parting tool, and clear
    setups, steps = list(route.setup_records()), route.operation_records()
    turned = [one for one in chucked(setups) if one["part"] == lever.name]
    spoiled = []
    for one in setups:
        if one in turned:
            (grip,) = one["hold"]["grips"]
            low, high = sorted((grip["from_mm"], grip["to_mm"]))
            one = one | {
                "hold": one["hold"] | {"grips": [grip | {"from_mm": low, "to_mm": low + 1}]}
            }
            assert high - low > 10.0
        spoiled.append(one)
    found = near(whole, job, spoiled, steps, lever.name)
    short = [one for one in found if one.code == "route-grip-short"]
    assert len(short) == len(turned) and {one.value for one in short} == {"1 mm gripped"}


@pytest.mark.parametrize(
    ("thick", "out", "whole", "least"),
    [
        (32.0, 16.0, 58.0, 16.0),  # a stub: half of its diameter
        (32.0, 34.0, 60.0, 19.2),  # short work: six tenths
        (32.0, 15.0, 30.0, 13.5),  # a short end of it: half of its length
        (20.0, 40.0, 90.0, 20.0),  # long work: a diameter
        (6.0, 40.0, 90.0, 10.0),  # no less, however thin
    ],
)
def test_how_much_holds(thick: float, out: float, whole: float, least: float) -> None:
    """Common practice, as parts/standard/holding_limits.csv has it."""
    assert least_grip_mm(thick, out, whole) == pytest.approx(least)


def test_jaws_that_barely_hold_let_so_much_out_that_the_steady_has_room() -> None:
    """As it was: a tube of 35, 17.5 mm out of jaws of 14, on a steady 17.5 mm from its end. The fingers
    are 10 mm wide and more (common practice)."""
    _, _, route = of("bench-lathe", **{"lathe.jaw_reach": "14 mm", "lathe.spindle_bore": 40})
    tubes = [one for one in chucked(list(route.setup_records())) if one["piece"] == "tube"]
    assert len(tubes) == 2
    for one in tubes:
        (grip,), at = one["hold"]["grips"], one["hold"]["steady"]["at_mm"]
        assert min(abs(at - grip["from_mm"]), abs(at - grip["to_mm"])) == pytest.approx(8.0)


def test_a_steady_that_takes_the_thin_end_is_not_made_for_it() -> None:
    """As it was: a steady that opens to 30 was missing for the pin as for the bar of 35."""
    changes = {"lathe.jaw_reach": "18 mm", "lathe.steady": "30 mm"}
    job, whole, route = of("engine-lathe", **changes)
    setups, steps = list(route.setup_records()), route.operation_records()
    steadied = [one for one in setups if "the fixed steady" in one["holding"]]
    thick = [one["hold"]["steady"]["diameter_mm"] > 30.0 for one in steadied]
    assert thick == [True, False]
    assert ["no such steady" in one["holding"] for one in steadied] == thick
    bar, pin = (one["hold"]["steady"] for one in steadied)
    made = bar | {key: pin[key] for key in ("at_mm", "diameter_mm")}
    old = steadied[1] | {"hold": steadied[1]["hold"] | {"steady": made}}
    for second, told in ((steadied[1], []), (old, [f"set-up {old['number']}"])):
        changed = [second if one is steadied[1] else one for one in setups]
        found = near(whole, job, changed, steps, "rotating-body")
        assert [one.key for one in found if one.remedy == "Use it"] == told
