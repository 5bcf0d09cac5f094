"""``pommel list``: the tables that names and sizes are taken from."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

import click

from planner.cli.answer import (
    FINDINGS,
    bad_input_told,
    findings_record,
    json_option,
    say,
    say_json,
    tell,
)

if TYPE_CHECKING:
    from planner.output.listing import Kind


class ListCommand(click.Command):
    """A command whose long help names the kinds and their keys, when it is asked for."""

    def whole_help(self) -> str:
        """The help, the kinds from the table of kinds."""
        from planner.output.listing import KINDS

        names = "\n".join(f"  {one.name:<12}{one.about}" for one in KINDS)
        keys = ", ".join(f"{one.name}[] ({', '.join(one.keys)})" for one in KINDS)
        return (
            f"{HELP}\n\n\b\nKinds:\n{names}\n\nJSON keys: kind, and its rows: {keys}; findings[]."
        )

    def format_help_text(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the whole help."""
        self.help = self.whole_help()
        super().format_help_text(ctx, formatter)


def _kinds_begun(_ctx: click.Context, _param: click.Parameter, begun: str) -> tuple[str, ...]:
    """The kinds that a shell may complete a beginning to."""
    from planner.output.listing import KINDS

    return tuple(one.name for one in KINDS if one.name.startswith(begun))


HELP = """Print a KIND of material, stock, tool or figure, each row with its source; no KIND, the kinds.

\b
Example:  pommel list threads --like M8
          pommel list sections --shape round --inch
          pommel list materials --like S355

A source is marked seen (read in what it names), computed, common practice or memory."""


@click.command(
    cls=ListCommand, short_help="Print what there is of materials, sections, threads ..."
)
@click.argument("name", metavar="[KIND]", required=False, shell_complete=_kinds_begun)
@click.option("--like", metavar="TEXT", help="Only rows in which a word begins so.")
@click.option(
    "--metric/--inch", "metric", default=None, help="Only the one series, its text in its units."
)
@click.option(
    "--shape", metavar="SHAPE", help="Only sections of a shape: round, square, flat, tube."
)
@json_option
def list(
    name: str | None, like: str | None, metric: bool | None, shape: str | None, as_json: bool
) -> None:
    """Print a kind of thing from the tables."""
    from planner.output.listing import KINDS, kinds_text, listed
    from planner.output.listing_table import list_table
    from planner.words.findings import finding
    from planner.words.formats import format_name
    from planner.words.tables import as_text

    if name is None:
        if as_json:
            say_json(
                {
                    "format": format_name("list"),
                    "kinds": [{"kind": one.name, "about": one.about} for one in KINDS],
                }
            )
        else:
            say(kinds_text())
        return
    with bad_input_told(as_json):
        one = _asked(name, metric, shape)
        rows = listed(one, like, None if metric is None else not metric, shape)
    if not rows:
        remedy = f"See all of them with: pommel list {name}"
        told = finding("none-listed", "list", name, like or "", "no row is like that", remedy)
        tell(told.message)
        if as_json:
            say_json(
                findings_record([told]) | {"format": format_name("list"), "kind": name, name: []}
            )
        sys.exit(FINDINGS)
    table = list_table(one, rows, metric is False)
    if as_json:
        rows_said = {"format": format_name("list"), "kind": name, name: table.records()}
        say_json(findings_record([]) | rows_said)
    else:
        say(as_text([table]))


def _asked(name: str, metric: bool | None, shape: str | None) -> Kind:
    """The kind asked for. Raises BadInput where there is none, or it has no such filter."""
    from difflib import get_close_matches

    from planner.output.listing import INCH_INSTEAD, KINDS, UnknownKind, kind, shapes
    from planner.words.findings import BadInput, finding

    try:
        one = kind(name)
    except UnknownKind:
        near = get_close_matches(name, [one.name for one in KINDS], 1)
        remedy = f"Did you mean {near[0]}?" if near else "See the kinds with: pommel list"
        stop = finding("unknown-kind", "list", name, "", "there is no list of that", remedy)
        raise BadInput([stop]) from None
    problems: Any = []
    if metric is not None and one.inch is None and not one.measured:
        limit = "has no metric and inch series"
        other = INCH_INSTEAD.get(name)
        remedy = f"An inch job's limits: pommel list {other}" if other else ""
        remedy = remedy or "Leave --metric/--inch out"
        problems.append(finding("no-filter", "list", name, "", limit, remedy))
    if shape is not None and not one.shaped:
        limit = "have no shape"
        problems.append(finding("no-filter", "list", name, "", limit, "Leave --shape out"))
    elif shape is not None and shape not in shapes():
        limit = f"a shape is one of {', '.join(shapes())}"
        problems.append(finding("not-a-choice", "list", "--shape", shape, limit, "Name one"))
    if problems:
        raise BadInput(problems)
    return one
