"""The lathe's own circle on the dial's sheet: so many spaces to a line, by hand."""

from __future__ import annotations

import pytest
from jobs import changed
from making.shops import of

from planner.job.reading import job_from
from planner.output.sheets.dial import dial_tables
from planner.sizing.apply import size_up


@pytest.mark.parametrize(
    ("divisions", "circles", "said"),
    [
        (50, [60, 100], "every 2 of 100"),  # 50 x 2 = 100, and 60 is no whole times 50
        (60, [60], "every one of 60"),
        (40, [60, 48], "none goes"),
        (40, [], "none listed"),
    ],
)
def test_a_line_is_so_many_of_a_circle(divisions: int, circles: list[int], said: str) -> None:
    job = job_from(
        changed(**{"attachment.dial_divisions": divisions, "lathe.dividing_circles": circles}), "j"
    )
    ways = next(one for one in dial_tables(size_up(job, "j"), job) if one.name == "ways")
    assert dict(row[:2] for row in ways.rows)["the lathe's own circle"] == said


@pytest.mark.parametrize(
    ("more", "said"),
    [
        # fifty teeth have fifty spaces; a hundred lines are its half spaces; seventy-five its own wheel
        (
            {"attachment.dial_divisions": 50},
            "a change gear of 50 teeth on the spindle: a pin in every",
        ),
        (
            {"lathe.dividing_circles": [100]},
            "the circle of 100 on the spindle: the pin or pointer to",
        ),
        (
            {"attachment.dial_divisions": 100},
            "a change gear of 50 teeth on the spindle, two pins half a space apart: 1 half space",
        ),
    ],
)
def test_the_sheet_has_the_way_that_the_route_takes(more: dict[str, object], said: str) -> None:
    """As it was: the sheet had plates for heads that the shop has not, a rotary table and no circle,
    and not a word of the wheel that the route sets the lines out by."""
    alone = {"shop.machines": {}, "shop.dividing_head_ratio": None, "lathe.change_gears": [20, 50]}
    job, _, route = of("bench-lathe", **alone, **more)
    ways = next(one for one in dial_tables(size_up(job, "j"), job) if one.name == "ways")
    way = dict(row[:2] for row in ways.rows)["as the route divides it"]
    assert way.startswith(said)
    (step,) = [one for one in route.operation_records() if "divisions on" in one["text"]]
    by, _, line = way.partition(": ")
    assert f"by {by}: {line}" in step["text"]
