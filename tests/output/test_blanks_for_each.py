"""Where several balls are turned alike, each has its own blanks to write its readings in."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from jobs import ROOT, planned
from msgspec.structs import replace

from planner.output.plan import Plan
from planner.output.sheets.turn import ball_sheets, turn_tables
from planner.turning.model import Turned
from planner.words.tables import Table


@cache
def engine() -> Plan:
    return planned(ROOT / "examples" / "engine-lathe.toml")


def turned(many: int) -> Turned:
    """The job's balls and hollows, so many of each."""
    found = engine().turned

    def times(plan: Any) -> Any:
        spec = plan.ball.spec.model_copy(update={"quantity": many})
        return replace(plan, ball=replace(plan.ball, spec=spec))

    return replace(
        found,
        balls=tuple(times(one) for one in found.balls),
        sockets=tuple(times(one) for one in found.sockets),
    )


def measuring(many: int) -> list[Table]:
    return [
        table
        for _, tables in ball_sheets(turned(many), engine().job)
        for table in tables
        if "measuring" in table.name
    ]


@pytest.mark.parametrize(("many", "blanks"), [(1, 1), (2, 2), (6, 6), (9, 6)])
def test_each_has_a_blank_at_every_place(many: int, blanks: int) -> None:
    found = measuring(many)
    assert len(found) == 3  # two balls and a hollow
    for table in found:
        assert table.shown
        for row in table.shown:
            assert [cell for cell in row if set(cell) == {"_"}] == ["________"] * blanks
        told = f"{many} are turned" in table.notes[-1]
        assert told is (many > blanks)


def test_what_machines_read_has_one_column() -> None:
    """One reading a row, as a file of readings has it."""
    keys = [
        [column.key for column in table.columns]
        for table in turn_tables(turned(4), engine().job)
        if "measuring" in table.name
    ]
    assert keys and all(one[-1] == "reading_mm" for one in keys)
