"""``pommel explain``: what the code of a finding means, and what helps."""

from __future__ import annotations

import sys

import click
from msgspec.structs import asdict

from planner.cli.answer import findings_record, say_json
from planner.words.formats import format_name


def _codes_begun(_ctx: click.Context, _param: click.Parameter, begun: str) -> list[str]:
    """The codes that a shell may complete a beginning to."""
    from planner.words.register import kinds

    return [code for code in kinds() if code.startswith(begun)]


@click.command()
@click.argument("code", metavar="[CODE]", required=False, shell_complete=_codes_begun)
@click.option("--json", "as_json", is_flag=True, help="Print for machines.")
def explain(code: str | None, as_json: bool) -> None:
    """Print what the CODE of a finding means and what helps; without one, every code.

    \b
    Example:  pommel explain thin-wall
              pommel explain

    Findings carry their code in brackets: refused [thin-wall]: ... JSON keys: format
    ("pommel.explain/1"), codes[] (code, about,
    severities[], meaning, remedy).
    """
    from difflib import get_close_matches

    from planner.words.findings import finding
    from planner.words.register import kinds

    if code is not None and code not in kinds():
        near = get_close_matches(code, kinds(), 1)
        remedy = f"Did you mean {near[0]}?" if near else "See all of them with: pommel explain"
        stop = finding("unknown-code", "explain", code, "", "no finding has that code", remedy)
        click.echo(stop.message, err=True)
        if as_json:
            say_json(findings_record([stop]))
        sys.exit(2)
    asked = [kinds()[code]] if code is not None else list(kinds().values())
    if as_json:
        rows = [asdict(kind) for kind in asked]
        say_json({"format": format_name("explain"), "codes": rows})
    elif code is not None:
        kind = asked[0]
        click.echo(f"{kind.code}: {' or '.join(kind.severities)}\n{kind.meaning}\n{kind.remedy}")
    else:
        about = ""
        for kind in asked:
            if kind.about != about:
                click.echo(f"\n{kind.about}" if about else kind.about)
                about = kind.about
            click.echo(f"  {kind.code} ({', '.join(kind.severities)})\n    {kind.meaning}")
