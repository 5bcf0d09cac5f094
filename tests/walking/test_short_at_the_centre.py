"""A short diameter at a bar's end bears on the centre itself: a bar gives least there."""

from __future__ import annotations

import copy

from drawn_shops import drawn
from walking.part_walk import near

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk

SEED = 840_071
"""A shop whose chuck takes nothing through: its feed screw is held by its far end, 73 mm out, Ø13."""


def test_the_tail_of_a_feed_screw_is_turned_on_its_centre_not_without_and_not_amid_the_bar() -> (
    None
):
    """Seven of 73 mm beside the centre give 0.56 of the length's worst place, by the cube root of the
    propped beam's formula (any handbook); ten diameters are the utmost (common practice)."""
    _, data = drawn(SEED)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), copy.deepcopy(route.operation_records())

    found = walk(whole.parts, job, setups, steps, placed=whole.placed)
    assert [one for one in found if one.code == "route-overhang"] == []
    (tail,) = [one for one in steps if one["feature"] == "tail diameter"]

    def refused() -> set[str]:
        found = near(whole, job, setups, steps, tail["part"])
        return {one.key for one in found if one.code == "route-overhang"}

    held = next(one for one in setups if one["number"] == tail["setup"])
    key, cut = f"step {tail['number']}", dict(tail["cut"])
    assert held["hold"]["centre"] and cut["to_mm"] - cut["from_mm"] < 10.0
    tail["cut"] |= {"from_mm": cut["from_mm"] - 30.0, "to_mm": cut["to_mm"] - 30.0}
    assert key in refused()  # as long, where the bar gives most
    tail["cut"] = cut
    centre, held["hold"]["centre"] = held["hold"]["centre"], None
    assert key in refused()
    held["hold"]["centre"] = centre
    assert refused() == set()
