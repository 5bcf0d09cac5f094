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
