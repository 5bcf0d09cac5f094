"""``pommel new``: a commented file to fill in."""

from __future__ import annotations

from pathlib import Path

import click

from planner.cli.answer import PATH, bad_input_told, json_option, say, say_json
from planner.words.formats import format_name


@click.command()
@click.argument("file", metavar="FILE", type=PATH)
@click.option("--inch", is_flag=True, help="Write it in inches.")
@click.option("--readings", is_flag=True, help="A file for readings of a ball, for pommel correct.")
@json_option
def new(file: Path, inch: bool, readings: bool, as_json: bool) -> None:
    """Write a commented job FILE to fill in.

    \b
    Example:  pommel new my-lathe.toml
              pommel new my-lathe.toml --inch
              pommel new readings.toml --readings

    JSON keys: format ("pommel.new/1"), written (the file's name), units. An existing file is left
    alone.
    """
    from planner.job.template import job_template, readings_template, write_new

    with bad_input_told(as_json):
        write_new(file, readings_template(inch) if readings else job_template(inch))
    if as_json:
        say_json(
            {"format": format_name("new"), "written": str(file), "units": "in" if inch else "mm"}
        )
    elif readings:
        say(f"wrote {file}: fill in what you measured, then: pommel correct JOB {file}\n")
    else:
        say(f"wrote {file}: fill in your lathe, then: pommel sizes {file}\n")
