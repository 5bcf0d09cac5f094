"""Chapters of the balls: how each is set up, roughed, turned and measured, with its pictures."""

from __future__ import annotations

from collections.abc import Iterator

from planner.book.model import Block, Chapter, Line, Step, Words, only, rows_of
from planner.output.book.pages import Pages
from planner.output.book.pictures import picture
from planner.words.tables import Table

PLANNED = ("depth", "takes", "push", "springs", "grip x", "held by")
"""How heads of the passes' table begin that are of the planning: not read at the lathe."""


def every(of: Pages) -> Iterator[Chapter]:
    """A chapter a ball that can be turned, then one a hollow."""
    from planner.output.sheets.turn import ball_sheets

    pictures = dict(_pictures(of))
    balls = len(of.plan.turned.balls)
    for number, (name, tables) in enumerate(ball_sheets(of.plan.turned, of.job)):
        kind = "Ball" if number < balls else "Hollow"
        yield Chapter(
            f"{kind}: {name}",
            (*(block for table in tables for block in _set(table)), *pictures.get(name, ())),
            f"{kind} {name}",
        )


def _set(table: Table) -> Iterator[Block]:
    """A table of a ball: the steps as steps, of the passes what is read at the lathe."""
    if {"how", "caution"} <= {column.key for column in table.columns}:
        yield from _steps(table)
        return
    rows = rows_of(table)
    if "dial at" in rows.heads and "rev/min" in rows.heads:
        rows = only(rows, [head for head in rows.heads if not head.startswith(PLANNED)])
    yield rows


def _steps(table: Table) -> Iterator[Block]:
    for one in table.records():
        words = f"{one['what']}: {one['value']}" if one["value"] else str(one["what"])
        under = [Line(str(one["how"]))]
        if one["caution"]:
            under.append(Line(str(one["caution"]), "caution"))
        yield Step(str(one["number"]), words, tuple(under))
    yield from (Words(note) for note in table.notes)


def _pictures(of: Pages) -> Iterator[tuple[str, tuple[Block, ...]]]:
    """The pictures of each ball by its name."""
    from planner.output.pictures.turning import turning_svg
    from planner.output.pictures.turning_spots import dials_svg, sense_svg, spot_svg

    plan = of.plan
    for number, ball in enumerate(plan.turned.balls):
        name = ball.ball.name
        sense = (
            [picture(sense_svg(ball, plan.attachment, plan.job), "The sense of the cut")]
            if number == 0
            else []
        )
        yield (
            name,
            (
                *sense,
                picture(dials_svg(ball, plan.sizing, plan.job), f"Dial at each reading, {name}"),
                picture(spot_svg(ball, plan.attachment, plan.job), f"Tightest spot, {name}"),
                picture(turning_svg(ball, plan.job), f"Steps and passes, {name}"),
            ),
        )
