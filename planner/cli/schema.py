"""``pommel schema``: the JSON Schema of a file or an output."""

from __future__ import annotations

import click

from planner.cli.answer import say_json
from planner.output.schemas import names


@click.command()
@click.option(
    "--of",
    "what",
    type=click.Choice(names()),
    default="job",
    show_default=True,
    help="The file or the JSON output.",
)
def schema(what: str) -> None:
    """Print the JSON Schema of a file that pommel reads, or of what it prints with --json.

    \b
    Example:  pommel schema > pommel-job.schema.json
              pommel schema --of check

    job is for editors that complete and check TOML; so are readings and made (made.toml of a record);
    balls is of one line of its balls.jsonl. The others are outputs, named as their command; largest is
    that of sizes --largest, package the file package.json, findings what bad input gives. Every output
    says its format, as in "pommel.check/1"; a file says format = 1, or nothing. The number rises when a
    key goes or is renamed; keys may be added without.
    """
    from planner.output.schemas import schema_of

    say_json(schema_of(what))
