"""A column of a sheet is written one way from top to bottom, so that it is read at a glance.

A handbook's tables of decimals, of feeds and of forces keep their places from row to row (common
practice): what ends in a nought shows it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from jobs import ROOT, planned

from planner.output.topics import TOPICS

SHOPS = ROOT / "tests" / "data"
JOBS = (
    ROOT / "examples" / "inch-lathe.toml",
    SHOPS / "inch-jobs" / "tool-room.toml",
    SHOPS / "inch-jobs" / "metric-feed.toml",
)

WORKED_OUT = {"turn": ("push",), "check": ("lbf",)}
"""Columns of what is worked out, in decimals throughout."""


def columns_of(path: Path, topic: str) -> Iterator[tuple[str, list[str]]]:
    """The columns of a topic's tables, each with its head."""
    plan = planned(path)
    one = next(one for one in TOPICS if one.name == topic)
    for table in one.tables(plan, one.asked(one.packaged)):
        heads = table.heads or tuple(column.heading for column in table.columns)
        for at, head in enumerate(heads):
            yield head, [str(row[at]) for row in table.shown or () if row[at]]


def places(text: str) -> int:
    return len(text.partition(".")[2])


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
@pytest.mark.parametrize("topic", WORKED_OUT)
def test_decimals_of_a_column_of_forces_stand_under_each_other(path: Path, topic: str) -> None:
    found: dict[str, set[int]] = {}
    for head, column in columns_of(path, topic):
        if any(re.search(rf"^{word}\b", head) for word in WORKED_OUT[topic]) and column:
            found.setdefault(head, set()).update(map(places, column))
    assert found and all(found[head] == {1} for head in found), found
