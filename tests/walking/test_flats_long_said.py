"""A flat that stops within the work is said with one end and how long it is.

Common practice: a place by which the dials are set is no place without its other end; the cutter is
narrower than the flat and does not give it.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from drawn_shops import drawn
from walk_asked import Told

from parts import features as f
from parts.attachment import attachment
from parts.frame import Box
from planner.job.reading import job_from
from planner.making.route import whole_route
from planner.sizing.apply import size_up
from planner.walking.said import place_said
from planner.walking.walk import walk

WORK = ((0.0, -6.0, -6.0), (80.0, 6.0, 6.0))


def flat(low: float, high: float) -> f.MilledFlat:
    edge = f.Location("V", "+x", f.general(low), "x-low")
    where = f.Location("R", "-z", f.general(9.3), "z-high")
    box = Box((low, -7.0, -7.0), (high, 7.0, -3.3))
    return f.MilledFlat(name="relief", datum="R", box=box, locations=(where, edge))


@pytest.mark.parametrize(
    ("high", "place", "inch", "refused"),
    [
        (53.5, "9.3 -z from R, edge 33 +x from V", False, True),
        (53.5, "9.3 -z from R, edge 33 +x from V, 20.5 long", False, False),
        (53.5, "9.3 -z from R, edge 33 +x from V, 14.5 long", False, True),
        (58.4, "0.366 -z from R, edge 1.299 +x from V, 1 = 1.000 long", True, False),
        (58.4, "0.366 -z from R, edge 1.299 +x from V, 0.900 long", True, True),
        (81.0, "9.3 -z from R, edge 33 +x from V", False, False),  # to the end of the work
        (53.5, "", False, False),  # said by the step that began it
    ],
)
def test_its_length_is_said(high: float, place: str, inch: bool, refused: bool) -> None:
    told = Told()
    place_said({"text": "mill relief", "place": place}, flat(33.0, high), inch, told, WORK)
    assert told.codes == ["route-words"] * refused


@cache
def relieved() -> tuple[Any, Any, Any]:
    _, data = drawn(3330051)
    job = job_from(data, "job.toml")
    whole = attachment(size_up(job, "job.toml").sizes)
    return job, whole, whole_route(whole, job)


def test_a_relief_without_its_far_end_is_refused() -> None:
    """As it was: an edge, and nothing of where the nut's relief ends in the shank's side."""
    job, whole, route = relieved()
    setups, steps = route.setup_records(), route.operation_records()
    (one,) = [o for o in steps if "nut relief" in o["makes"]]
    assert one["place"].endswith(" long")
    assert list(walk(whole.parts, job, setups, steps, placed=whole.placed)) == []
    one["place"] = one["place"].rpartition(", ")[0]
    (told,) = walk(whole.parts, job, setups, steps, placed=whole.placed)
    assert (told.code, told.key) == ("route-words", f"step {one['number']}")
    assert told.limit.startswith("it ends within the work")
