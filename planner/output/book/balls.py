"""Chapters of the balls: how each is set up, roughed, turned and measured, with its pictures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec.structs import replace

from planner.book.model import Block, Chapter, Line, Step, Words, boxes, only, rows_of
from planner.book.route import FIRST
from planner.measuring.readings import FIRST_BALL
from planner.output.book.pages import Pages
from planner.output.book.pictures import picture
from planner.output.sheets.turn_cuts import HELD_BY
from planner.turning.model import BallPlan, Turned
from planner.words.tables import Table

if TYPE_CHECKING:
    from planner.output.plan import Plan

PLANNED = ("depth", "takes", "push", "springs", "grip x", "held by")
"""How heads of the passes' table begin that are of the planning: not read at the lathe."""


OF_A_BAR = ("blank", "face", "carriage zero", "part off")
"""Steps of a ball that is turned from a bar and parted off."""


def every(of: Pages) -> Iterator[Chapter]:
    """A chapter a ball that can be turned, then one a hollow."""
    from planner.output.sheets.turn import ball_sheets

    pictures = dict(_pictures(of))
    balls = len(of.plan.turned.balls)
    for number, (name, tables) in enumerate(ball_sheets(of.plan.turned, of.job)):
        kind = "Ball" if number < balls else "Hollow"
        yield Chapter(
            f"{kind}: {name}",
            (*(block for table in tables for block in _set(table, of)), *pictures.get(name, ())),
        )


def knob(of: Pages) -> Iterator[Chapter]:
    """The first ball: the knob of the attachment's own handle, on its stub; none without one."""
    from planner.output.pictures.turning_spots import dials_svg

    plan = of.plan.knob
    sheets = knob_sheets(of.plan)
    if plan is None or sheets is None:
        return
    words, tables = sheets
    setup, *cuts, measuring = (tuple(_set(table, of)) for table in tables)
    name = plan.ball.name
    yield Chapter(
        FIRST,
        (
            Words(words),
            *setup,
            _sense(plan, of),
            *(block for table in cuts for block in table),
            *measuring,
            picture(dials_svg(plan, of.plan.sizing, of.job), f"Dial at each reading, {name}"),
        ),
        FIRST,
    )


def knob_sheets(plan: Plan) -> tuple[str, list[Table]] | None:
    """What the knob is turned on, and its tables; none where it is not turned so."""
    from planner.output.sheets.turn import ball_sheets, for_each

    knob, stub, numbers = plan.knob, plan.stub, plan.job.numbers
    if knob is None or stub is None:
        return None
    many = plan.job.attachment.quantity
    turned = f" {many} of them are turned." if many > 1 else ""
    ((_, tables),) = ball_sheets(Turned(plan.turned.head, (knob,), (), ()), plan.job)
    words = (
        f"The attachment's own knob, on the threaded stub, {numbers.rule_up(stub.out_mm)} of it out of"
        f" the jaws, a nut on the handle's end. The knob is screwed up to the stub's shoulder,"
        f" {numbers.size(stub.seat_mm)} across, no wider than the knob's flat. Its end is to length: it"
        f" is not faced again, and nothing is parted off.{turned}"
    )
    return words, [_own(for_each(table, many)) for table in tables]


def _own(table: Table) -> Table:
    """A table of the knob, of the steps those that are not of a ball turned from a bar; of measuring,
    what a file of readings calls it."""
    if table.name == "measuring":
        *notes, then = table.notes
        return replace(table, notes=(*notes, f'{then} There: ball = "{FIRST_BALL}".'))
    keys = [column.key for column in table.columns]
    if "what" not in keys:
        return table
    at = keys.index("what")
    kept = [k for k, row in enumerate(table.rows) if row[at] not in OF_A_BAR]
    rows, shown = (
        tuple((str(number), *every[k][1:]) for number, k in enumerate(kept, 1))
        for every in (table.rows, table.shown or table.rows)
    )
    return replace(table, rows=rows, shown=shown)


def _set(table: Table, of: Pages) -> Iterator[Block]:
    """A table of a ball: the steps as steps, of the passes what is read at the lathe."""
    if {"how", "caution"} <= {column.key for column in table.columns}:
        yield from _steps(table)
        return
    rows = rows_of(table)
    if "dial at" in rows.heads and "rev/min" in rows.heads:
        rows = only(rows, [head for head in rows.heads if not head.startswith(PLANNED)])
        title = rows.title.rpartition(" (")[0] + f" ({of.numbers.unit})"
        rows = replace(rows, title=title, notes=tuple(one for one in table.notes if one != HELD_BY))
    yield rows


def _steps(table: Table) -> Iterator[Block]:
    many = max((boxes(str(row[-1])) for row in table.shown or ()), default=1)
    for one in table.records():
        words = f"{one['what']}: {one['value']}" if one["value"] else str(one["what"])
        under = [Line(str(one["how"]))]
        if one["caution"]:
            under.append(Line(str(one["caution"]), "caution"))
        yield Step(str(one["number"]), words, tuple(under), boxes=many)
    yield from (Words(note) for note in table.notes)


def _sense(ball: BallPlan, of: Pages) -> Block:
    """How spindle and tip go round, for the first ball that is turned."""
    from planner.output.pictures.turning_spots import sense_svg

    return picture(sense_svg(ball, of.plan.attachment, of.job), "The sense of the cut")


def _pictures(of: Pages) -> Iterator[tuple[str, tuple[Block, ...]]]:
    """The pictures of each ball by its name: the dial's readings and the passes that they are of, which
    share a page, stand beside each other."""
    from planner.output.pictures.hollow import hollow_svg
    from planner.output.pictures.turning import turning_svg
    from planner.output.pictures.turning_spots import dials_svg, spot_svg

    plan = of.plan
    for hollow in plan.turned.sockets:
        if hollow.passes:
            name = hollow.ball.name
            yield name, (picture(hollow_svg(hollow, plan.job), f"Sizes and passes, {name}"),)
    for number, ball in enumerate(plan.turned.balls):
        name = ball.ball.name
        first = number == 0 and (plan.knob is None or plan.stub is None)
        yield (
            name,
            (
                *([_sense(ball, of)] if first else []),
                picture(dials_svg(ball, plan.sizing, plan.job), f"Dial at each reading, {name}"),
                picture(turning_svg(ball, plan.job), f"Steps and passes, {name}"),
                picture(spot_svg(ball, plan.attachment, plan.job), f"Tightest spot, {name}"),
            ),
        )
