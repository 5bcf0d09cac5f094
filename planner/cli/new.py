"""``pommel new``: a commented file to fill in."""

from __future__ import annotations

from pathlib import Path

import click

from planner.cli.answer import PATH, bad_input_told, json_option, say, say_json
from planner.words.findings import BadInput, finding
from planner.words.formats import format_name


@click.command()
@click.argument("file", metavar="FILE", type=PATH)
@click.option("--inch", is_flag=True, help="Write it in inches.")
@click.option("--readings", is_flag=True, help="A file for readings of a ball, for pommel correct.")
@click.option("--own-head", is_flag=True, help="A job for turning with a head that exists.")
@json_option
def new(file: Path, inch: bool, readings: bool, own_head: bool, as_json: bool) -> None:
    """Write a commented job FILE to fill in.

    \b
    Example:  pommel new my-lathe.toml
              pommel new my-lathe.toml --inch
              pommel new readings.toml --readings --inch
              pommel new my-head.toml --own-head

    JSON keys: format ("pommel.new/1"), written (the file's name), units. An existing file is left
    alone.
    """
    from planner.job.template import (
        job_template,
        own_head_template,
        readings_template,
        write_new,
    )

    with bad_input_told(as_json):
        if readings and own_head:
            limit, remedy = "--readings and --own-head are different files", "Ask for one of them"
            raise BadInput([finding("wrong-value", str(file), "", "", limit, remedy)])
        made = own_head_template if own_head else readings_template if readings else job_template
        write_new(file, made(inch))
    if as_json:
        say_json(
            {"format": format_name("new"), "written": str(file), "units": "in" if inch else "mm"}
        )
    elif readings:
        say(f"wrote {file}: fill in what you measured, then: pommel correct JOB {file}\n")
    elif own_head:
        say(f"wrote {file}: fill in your lathe and your head, then: pommel turn {file}\n")
    else:
        say(f"wrote {file}: fill in your lathe, then: pommel sizes {file}\n")
