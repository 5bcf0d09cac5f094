"""The turning of the balls, a sheet a ball: set-up, roughing, passes, measuring; then the hollows."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from planner.job.tables import Job
from planner.measuring.correct import UNSEEN
from planner.output.sheets.turn_cuts import passes_table, roughing_table, second_table
from planner.output.sheets.turn_hollows import hollow_tables
from planner.output.sheets.turn_setup import setup_table
from planner.turning.head import Head
from planner.turning.model import BallPlan, Turned
from planner.words.elsewhere import american
from planner.words.numbers import Numbers
from planner.words.tables import Table, as_text, columns

NONE_TURNED = "no ball of the job can be turned; pommel turn says why, and what helps."


def turn_text(turned: Turned, job: Job) -> str:
    """Every ball's sheets, one ball after another."""
    sheets = [as_text(tables) for _, tables in ball_sheets(turned, job)]
    said = "\n".join(sheets)
    names = "".join(f"{line}\n\n" for line in american(job.inch, said))
    return names + said or f"{job.name}: {NONE_TURNED}\n"


def ball_sheets(turned: Turned, job: Job) -> Iterator[tuple[str, list[Table]]]:
    """The tables of each ball under its name, then of each hollow that can be turned."""
    s = turned.head
    for plan in turned.balls:
        tables = _ball_tables((plan,), s, job, plan.ball.name)
        yield plan.ball.name, [_alone(table, plan.ball.spec.quantity) for table in tables]
    for hollow in turned.sockets:
        if hollow.passes:
            tables = hollow_tables((hollow,), s, job)
            yield hollow.ball.name, [_alone(table, hollow.ball.spec.quantity) for table in tables]


MOST_BLANKS = 6
"""So many turned alike have room to write beside each other on a sheet."""


REST = "{many} are turned: the rest on another print of this sheet."

DONE = "done"
"""The head of a column of boxes."""


def _alone(table: Table, many: int) -> Table:
    """A table of one ball without its first column, the ball's name, for as many as are turned."""
    return for_each(_without_ball(table), many)


def for_each(table: Table, many: int) -> Table:
    """Where readings are written or steps ticked, with room for each of so many, six at most."""
    if many < 2 or table.shown is None:
        return table
    if table.columns[-1].key != "reading_mm":
        return _boxes_for_each(table, many)
    beside = min(many, MOST_BLANKS)
    more = "" if many == beside else f" {REST.format(many=many)}"
    each = tuple((f"reading_{n}_mm", f"no. {n}") for n in range(1, beside + 1))
    heads = tuple(name for _, name in each)
    return replace(
        table,
        columns=(*table.columns[:-1], *columns(*each)),
        heads=(*table.heads[:-1], *heads) if table.heads else None,
        rows=tuple((*row[:-1], *[row[-1]] * beside) for row in table.rows),
        shown=tuple((*row[:-1], *[row[-1]] * beside) for row in table.shown),
        notes=(*table.notes[:-1], table.notes[-1] + more),
    )


def _boxes_for_each(table: Table, many: int) -> Table:
    """A table of steps, a box for each of so many in every row that has one, six at most."""
    if not table.heads or not table.shown or table.heads[-1] != DONE:
        return table
    beside = min(many, MOST_BLANKS)
    more = () if many == beside else (REST.format(many=many),)
    return replace(
        table,
        heads=(*table.heads[:-1], f"{DONE}, 1-{beside}"),
        shown=tuple((*row[:-1], " ".join([row[-1]] * beside)) for row in table.shown),
        notes=(*table.notes, *more),
    )


def _without_ball(table: Table) -> Table:
    """A table of one ball without its first column, the ball's name."""
    shown = table.shown or tuple(tuple(str(v) for v in row) for row in table.rows)
    return replace(
        table,
        columns=table.columns[1:],
        heads=table.heads and table.heads[1:],
        rows=tuple(row[1:] for row in table.rows),
        shown=tuple(row[1:] for row in shown),
    )


def turn_tables(turned: Turned, job: Job) -> list[Table]:
    """All balls in one table of each kind, for machines."""
    s = turned.head
    tables = _ball_tables(turned.balls, s, job, job.name) if turned.balls else []
    return tables + (hollow_tables(turned.sockets, s, job) if turned.sockets else [])


def _ball_tables(plans: tuple[BallPlan, ...], s: Head, job: Job, title: str) -> list[Table]:
    second = [second_table(plans, job, title)] if any(plan.second for plan in plans) else []
    return [
        setup_table(plans, s, job, title),
        roughing_table(plans, job, title),
        passes_table(plans, job, title),
        _measuring(plans, job.numbers, title),
        *second,
    ]


def _measuring(plans: tuple[BallPlan, ...], numbers: Numbers, title: str) -> Table:
    rows = [
        (plan.ball.name, angle, mark, None)
        for plan in plans
        for angle in plan.measure_deg
        for mark in ("A", "B")
    ]
    ink = "Mark two meridians, A and B, a quarter turn apart, with ink from the nose to the stem."
    unseen = " ".join(UNSEEN)
    return Table(
        "measuring",
        f"{title}: measuring across, before it comes out of the chuck ({numbers.unit})",
        columns(
            ("ball", "ball"),
            ("angle_deg", "deg from the nose"),
            ("meridian", "meridian"),
            ("reading_mm", "reads"),
        ),
        tuple(rows),
        tuple(
            (name, numbers.plain.angle(angle), mark, "________") for name, angle, mark, _ in rows
        ),
        notes=(
            f"{ink} An anvil at the angle, the other across the centre. Spindle stopped, ball cool.",
            f"Two-point readings cannot show: {unseen}",
            "So also: an indicator on the turning ball at each angle (reading over a turn), and the"
            " ball in a V-block of 90 degrees or a three-point gauge, turned under an indicator.",
            "Then: pommel correct JOB READINGS (a file to fill in: pommel new READINGS"
            f" --readings{' --inch' if numbers.inch else ''}).",
        ),
    )
