"""A bore's wall that lies level with the seat is read by an indicator run from one to the other.

Sets of gauge blocks begin at 1 mm (ISO 3650 sets of 47 and of 32, from memory): where the spindle lies
half of a bore over the seat there is nothing to put between.
"""

from __future__ import annotations

import pytest
from drawn_shops import drawn

from parts.attachment import attachment
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.walk import walk


@pytest.mark.parametrize(("number", "low"), [(310006, 0.0), (570007, 0.985)])
def test_no_block_goes_under_a_wall_that_is_level(number: int, low: float) -> None:
    """As it was in a shop without an indicator: gauge blocks of nothing, or of less than 1 mm."""
    _, data = drawn(number)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    route = whole_route(whole, job)
    setups, steps = route.setup_records(), route.operation_records()
    (bored,) = (one for one in steps if one["makes"] == ["pivot bore"])
    height = bored["measure"][1]
    assert height["low_mm"] == pytest.approx(low, abs=0.01)
    assert height["with"]["name"] == "dial indicator"

    def told() -> list[tuple[str, str]]:
        found = walk(whole.parts, job, setups, steps, placed=whole.placed)
        return [(one.code, one.key) for one in found]

    assert told() == []
    blocks = {"name": "gauge blocks and a straight edge", "most_mm": 300.0, "resolution_mm": 0.001}
    height["with"] = height["with"] | blocks
    assert told() == [("route-gauge-range", f"step {bored['number']}")]
