"""The lathe's own circle on the dial's sheet: so many spaces to a line, by hand."""

from __future__ import annotations

import pytest
from jobs import changed

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
