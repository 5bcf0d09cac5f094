"""``pommel schema``: the job file's JSON Schema."""

from __future__ import annotations

import click

from planner.cli.answer import say_json


@click.command()
def schema() -> None:
    """Print the JSON Schema of a job file, for editors that complete and check TOML.

    \b
    Example:  pommel schema > pommel-job.schema.json
    """
    from planner.job.reading import json_schema

    say_json(json_schema())
