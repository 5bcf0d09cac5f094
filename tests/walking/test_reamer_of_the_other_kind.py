"""A metric reamer in a shop of inches: it follows a drill that is sold, or a bored hole.

Sizes of drills: ASME B94.11M, 29/64 = 0.4531 in (from memory); 0.4604 in lies between it and 15/32.
"""

from __future__ import annotations

from typing import Any

from drawn_shops import drawn

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk


def test_a_metric_reamer_follows_no_inch_drill_that_nobody_makes() -> None:
    """As it was: the rod bore of 12 mm was to be drilled 0.4604 in."""
    _, data = drawn(1020042)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), route.operation_records()

    def told(steps: list[Any]) -> list[tuple[str, str]]:
        found = walk(whole.parts, job, setups, steps, placed=whole.placed)
        return [(one.code, one.limit) for one in found]

    assert told(steps) == []
    drills = [o for o in steps if (o["kind"], o["feature"]) == ("drill", "rod bore")]
    last = drills[-1]
    assert last["tool"]["name"] == "drill 29/64, 0.4531 in"
    name = "drill 0.4604 in"
    old = last | {"tool": last["tool"] | {"name": name, "diameter_mm": 0.4604 * 25.4}}
    spoiled = [old if one is last else one for one in steps]
    assert ("route-tool-missing", "no drill of that size is sold") in told(spoiled)
