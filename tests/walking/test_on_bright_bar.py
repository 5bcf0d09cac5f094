"""A fixed steady on a bar as it was bought: said what a black one runs in.

Common practice: a hot rolled bar is neither round nor clean, so that the fingers of a steady follow its
shape and are worn by its scale; it runs in a cat head, whose screws set it true, or on a turned band.
"""

from __future__ import annotations

import pytest
from jobs import ROOT, planned
from walking.part_walk import of_parts, walked

from planner.making.outfit import outfit

SAID = ", on bright bar; a black one in a cat head there, set true by its screws"
DATA = ROOT / "tests" / "data"


@pytest.mark.parametrize(
    ("name", "times"),
    # the last steady of the body's shaft stands on its pin, as turned; aluminium is drawn
    [("jobs/school-mill.toml", 2), ("shops/watch-bench.toml", 3), ("jobs/small-alone.toml", 0)],
)
def test_a_steady_on_a_bar_as_it_was_bought_says_what_a_black_one_runs_in(
    name: str, times: int
) -> None:
    plan = planned(DATA / name)
    setups, steps = of_parts(plan, "rotating-body")
    own = [one for one in setups if SAID in one["holding"]]
    steadied = [one for one in setups if one["hold"].get("steady")]
    assert len(own) == times and len(steadied) >= max(times, 1)
    listed = [one.name for one in outfit(plan.route, plan.job)]
    assert ("cat head, for a black bar in the steady" in listed) == (times > 0)
    bare = [one | {"holding": one["holding"].replace(SAID, "")} for one in setups]
    before = {(o.key, o.code) for o in walked(plan, setups, steps)}
    found = {(o.key, o.code) for o in walked(plan, bare, steps)}
    assert found - before == {(f"set-up {one['number']}", "route-words") for one in own}


BAND = ", on bright bar; a black one on a band there, turned true first by light cuts"


@pytest.mark.parametrize(
    ("name", "number", "at"),
    # as it was: the fingers half of a bar of 10, or of 15, from what is turned
    [("bench-lathe", 48, 102.5), ("bench-lathe", 47, 20.0), ("watch-bench", 31, 20.5)],
)
def test_a_cat_head_has_room_between_the_jaws_and_what_is_cut(
    name: str, number: int, at: float
) -> None:
    """A cat head is 20 mm long or more (common practice): a row of screws on either side of the track
    that the fingers run on. Where there is no such room a black bar runs on a turned band."""
    folder = ROOT / "examples" if name == "bench-lathe" else DATA / "shops"
    plan = planned(folder / f"{name}.toml")
    setups = plan.route.setup_records()
    own = next(one for one in setups if one["number"] == number)
    setups, steps = of_parts(plan, own["part"])
    room = own["hold"]["out_mm"] - 24.0 - 1.0
    deep = max(
        abs(o["cut"]["from_mm"] - o["cut"]["to_mm"])
        for o in steps
        if o["setup"] == number and o["kind"] == "turn"
    )
    assert own["holding"].endswith(SAID if deep <= room else BAND)
    before = walked(plan, setups, steps)
    words = own["holding"].replace(BAND, SAID)
    old = own | {
        "hold": own["hold"] | {"steady": own["hold"]["steady"] | {"at_mm": at}},
        "holding": words,
    }
    found = walked(plan, [old if one["number"] == number else one for one in setups], steps)
    new = [one for one in found if one not in before]
    assert new and {one.code for one in new} == {"route-steady"}
    assert {one.limit for one in new} == {"a cat head under them is 24 mm long"}
    # with the words of a band there it is held as it was
    old["holding"] = words.replace(SAID, BAND)
    assert (
        walked(plan, [old if one["number"] == number else one for one in setups], steps) == before
    )


def test_a_cat_head_has_room_beside_the_jaws_too() -> None:
    """The bench lathe's shaft stands 114.5 out: fingers 10 from the jaws leave a cat head none."""
    plan = planned(ROOT / "examples" / "bench-lathe.toml")
    setups, steps = of_parts(plan, "rotating-body")
    own = next(one for one in setups if one["number"] == 36)
    assert SAID in own["holding"] and own["hold"]["grips"][0]["to_mm"] == 25.0
    for at, told in ((34.9, True), (37.1, False)):
        moved = own | {"hold": own["hold"] | {"steady": own["hold"]["steady"] | {"at_mm": at}}}
        found = walked(plan, [moved if one is own else one for one in setups], steps)
        assert ("route-steady" in {one.code for one in found if one.key == "set-up 36"}) is told
