"""The route sends whoever divides the dial to this table: the shop's own head stands in it.

So many turns of the crank are one of the head (plain indexing: US Army ordnance OD 16448 par. 4c(5)): a
line of 50 on a head of 60 is 60/50, one turn and a fifth.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from jobs import changed

from planner.job.reading import job_from
from planner.output.sheets.dial import dial_tables
from planner.sizing.apply import size_up


def _rows(ratio: int | None, divisions: int = 50) -> list[dict[str, Any]]:
    changes = {"shop.dividing_head_ratio": ratio, "attachment.dial_divisions": divisions}
    job = job_from(changed(**changes), "job.toml")
    tables = {one.name: one for one in dial_tables(size_up(job, "job.toml"), job)}
    table = tables["indexing"]
    return [dict(zip([c.key for c in table.columns], row, strict=True)) for row in table.rows]


@pytest.mark.parametrize(
    ("ratio", "turns", "holes"), [(40, 0, 16), (60, 1, 4), (72, 1, 11), (90, 1, 16), (5, 0, 2)]
)
def test_the_shops_own_head_comes_first(ratio: int, turns: int, holes: int) -> None:
    first = _rows(ratio)[0]
    assert (first["ratio"], first["turns"], first["holes"]) == (ratio, turns, holes)
    crank = Fraction(first["turns"]) + Fraction(first["holes"], first["circle"])
    assert crank * 50 == ratio and first["exact"]


def test_the_heads_of_the_known_sets_stand_there_without_one() -> None:
    assert {row["ratio"] for row in _rows(None)} == {40, 90} == {row["ratio"] for row in _rows(40)}
    own = [row for row in _rows(60) if row["ratio"] == 60]
    assert {row["plates"] for row in own} == {"three-plate set A", "two-sided plate set"}
    assert len({(row["plates"], row["plate"]) for row in own}) == len(own)


def test_what_the_nearest_circles_are_off_stands_in_one_way_of_writing() -> None:
    # a line of 125 on a head of 90 is 0.72 of a turn, a turn 4 degrees, 14400 seconds of arc: 31/43 is
    # 0.720930, 13.4 over; 13/18 0.722222, 32; 21/29 0.724138, 59.6; all of it 125 times over
    dial = {"attachment.dial_divisions": 125}
    job = job_from(changed("inch-lathe", **dial), "job.toml")
    (table,) = [o for o in dial_tables(size_up(job, "job.toml"), job) if o.name == "indexing"]
    off = {row[-2:] for row in table.shown}
    assert off == {("0", "0"), ("13.4", "1674.4"), ("32.0", "4000.0"), ("59.6", "7448.3")}
