"""Routes spoiled by hand are refused for the reason they were spoiled by."""

from __future__ import annotations

import pytest
from jobs import changed
from msgspec.structs import replace
from walk_edges import found_at, tracked, words
from walk_records import Route
from walk_shops import shop
from walk_sound import SOUND
from walk_spoiled import SPOILED, spoiled

from parts.features import DrilledHole, Location, general
from parts.frame import Axis
from parts.part import Datum
from planner.job.reading import job_from
from planner.walking.walk import walk
from planner.words.register import kinds

_, SAID = tracked()


@pytest.mark.parametrize("name", SPOILED)
def test_a_spoiled_route_is_refused_for_the_right_reason(name: str) -> None:
    route, code = spoiled(name)
    found = walk(route.parts, shop(), route.setups, route.operations, "job.toml")
    assert code in {one.code for one in found}, [str(one) for one in found]
    for one in found:
        assert one.severity == "refused"
        assert one.file == "job.toml"
        assert one.key and one.value and one.limit and one.remedy
    assert words(found) == SAID[name], "look at it; if it was meant: python tests/walk_edges.py"


def test_every_reason_but_the_datum_has_a_route_spoiled_by_it() -> None:
    reasons = {code for _, _, code in SPOILED.values()}
    known = {code for code in kinds() if code.startswith("route-")}
    assert known - reasons == {
        "route-aid",  # aids are asked apart: test_aids_fit
        "route-bends",  # of depth and feed: test_bends
        "route-tips",  # test_tips
        "route-wheels",  # test_wheels
        "route-divided",  # test_divided
        "route-no-nut",  # test_nuts
        "route-no-datum",
        "route-no-surface",
        "route-record",
        "route-grip-range",
        "route-spot-guide",  # of two parts: test_held_across
    }


def _codes(route: Route, **changes: object) -> set[str]:
    job = job_from(changed("bench-lathe", **changes), "job.toml") if changes else shop()
    return {one.code for one in walk(route.parts, job, route.setups, route.operations)}


def test_a_chuck_too_small_for_the_bar() -> None:
    route = SOUND["tube"]()
    deep = {"lathe.jaw_reach": 30, "lathe.chuck_bore": 40}
    assert _codes(route, **deep, **{"lathe.three_jaw_outside": [2, 34]}) == {"route-grip-range"}
    assert _codes(route, **deep, **{"lathe.three_jaw_outside": [2, 36]}) == set()


def test_a_feature_begun_before_its_datum() -> None:
    """The seat is measured from the shank's hole, which is drilled after it."""
    key = SOUND["flat_on_the_slide"]().parts[0]
    hole = DrilledHole(
        name="pin hole",
        datum="B",
        axis=Axis((30.0, 0.0, 8.0), "-z"),
        depth_mm=16.0,
        diameter=general(6.0),
    )
    seat = replace(
        key.features[1],
        locations=(*key.features[1].locations, Location("P", "+x", general(31.0), "x-high")),
    )
    part = replace(
        key,
        features=(key.features[0], seat, hole),
        datums={**key.datums, "P": Datum("pin hole", "axis", "pin")},
    )
    route = SOUND["flat_on_the_slide"]()
    found = walk([part], shop(), route.setups, route.operations)
    assert [one.code for one in found].count("route-no-datum") == 1
    assert "route-left-out" in {one.code for one in found}


def test_a_surface_that_is_not_there() -> None:
    route = SOUND["flat_on_the_slide"]()
    route.setups[3]["hold"]["grips"][0]["surface"] = "seat.+z"
    assert "route-no-surface" in _codes(route)


def test_a_bar_is_sawn_gripped_by_a_side_that_it_has() -> None:
    """Bar is drawn to h11, and a vice's jaws give: a tenth either way, of either side of a flat."""
    for route, sizes in (("stepped_shaft", (20.0,)), ("block_with_bore", (50.0, 40.0))):
        for size in sizes:
            for off, said in ((0.109, False), (-0.109, False), (0.112, True), (-0.112, True)):
                where = "set-up 1: hold.grips.0.size_mm"
                assert bool(found_at(route, where, size + off)) is said, (size, off)


def test_a_four_jaw_chuck_opens_to_the_farthest_face_and_closes_to_the_nearest() -> None:
    """Each jaw goes for itself: from the spindle to a face is half of what the chuck opens to."""
    route = SOUND["block_with_bore"]()  # 32 by 50, its bore 25 from the two that are 50 apart
    for opens, codes in (
        ([5, 60], set()), ([5, 49], {"route-grip-range"}), ([33, 60], {"route-grip-range"}),
    ):  # fmt: skip
        assert _codes(route, **{"lathe.four_jaw_outside": opens}) == codes, opens
    (setup,) = [one for one in route.setups if one["hold"]["by"] == "four-jaw chuck"]
    held = setup["hold"]
    held |= {"owned": False, "instead": "bolt it to the faceplate"}
    assert _codes(route, **{"lathe.four_jaw_outside": [5, 49]}) == {"route-words"}
    setup["holding"] += "; bolt it to the faceplate"
    assert _codes(route, **{"lathe.four_jaw_outside": [5, 49]}) == set()
    held["instead"] = ""
    assert _codes(route, **{"lathe.four_jaw_outside": [5, 49]}) == {"route-grip-range"}
