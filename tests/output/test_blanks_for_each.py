"""Where several balls are turned alike, each has its own blanks to write its readings in."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from jobs import ROOT, planned
from msgspec.structs import replace

from planner.book.model import Step, boxes
from planner.output.book.balls import _own, _set
from planner.output.plan import Plan
from planner.output.sheets.turn import ball_sheets, for_each, turn_tables
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


@pytest.mark.parametrize("many", [1, 4, 9])
def test_each_has_a_box_at_every_step(many: int) -> None:
    """As it was: of four one box a step, while what is ticked says how far each has come (common
    practice: a traveller has a box a piece)."""
    beside = min(many, 6)
    for name, tables in ball_sheets(turned(many), engine().job):
        done = [one for one in tables if one.heads and one.heads[-1].startswith("done")]
        assert len(done) >= 2, name
        for table in done:
            assert table.shown
            assert {boxes(row[-1]) for row in table.shown} == {beside}
            assert table.heads and (table.heads[-1] == "done") is (many == 1)
            assert any(f"{many} are turned" in one for one in table.notes) is (many > beside)
            assert all(boxes(cell) == 0 for row in table.shown for cell in row[:-1])


def test_the_book_has_a_box_a_step_for_each() -> None:
    """The knob too, where two attachments have one each."""
    (first, *_) = (tables for _, tables in ball_sheets(turned(4), engine().job))
    steps = [one for table in first[:1] for one in _set(table, None) if isinstance(one, Step)]  # type: ignore[arg-type]
    assert len(steps) > 10 and {one.boxes for one in steps} == {4}
    (alone, *_) = (tables for _, tables in ball_sheets(turned(1), engine().job))
    assert {
        one.boxes
        for table in alone[:1]
        for one in _set(table, None)  # type: ignore[arg-type]
        if isinstance(one, Step)
    } == {1}
    knob = [_own(for_each(table, 2)) for table in alone[:1]]
    own = [one for one in _set(knob[0], None) if isinstance(one, Step)]  # type: ignore[arg-type]
    assert {one.boxes for one in own} == {2} and 1 < len(own) < len(steps)
