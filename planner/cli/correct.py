"""``pommel correct``: what a measured ball says to move."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from planner.cli.answer import (
    CLEAN,
    FINDINGS,
    PATH,
    bad_input_told,
    job_argument,
    json_option,
    say,
    say_json,
    tell,
)
from planner.words.findings import BadInput, finding
from planner.words.formats import format_name


@click.command()
@job_argument
@click.argument("readings", metavar="READINGS", type=PATH)
@json_option
def correct(job: Path, readings: Path, as_json: bool) -> None:
    """Print what READINGS on a turned ball say, and what to move by how many divisions.

    \b
    Example:  pommel new readings.toml --readings
              pommel correct examples/bench-lathe.toml readings.toml

    Nothing is moved that the stated accuracy of the readings does not bear out. Exit code 1 when a
    correction is justified or the readings contradict each other. JSON keys: format
    ("pommel.correct/1"), ball, tables.fit[] (what,
    value, uncertainty), tables.advice[] (what, error_mm, uncertainty_mm, justified, move, amount_mm,
    divisions, sign_known, remains_mm, reason), tables.unseen[] (what); job, lengths, findings[].
    """
    from planner.job.reading import read_job
    from planner.measuring.correct import CannotFit
    from planner.measuring.correct import correct as corrected
    from planner.measuring.readings import read_readings
    from planner.output.sheets.correct import correct_tables
    from planner.words.tables import as_text

    with bad_input_told(as_json):
        read = read_job(job)
        measured, rig, name = read_readings(readings, read)
        try:
            found = corrected(measured, rig)
        except CannotFit as error:
            raise BadInput(
                [
                    finding(p.code, str(readings), p.where, p.value, p.limit, p.remedy)
                    for p in error.problems
                ]
            ) from None
        tables = correct_tables(found, measured, read, name)
    if as_json:
        records = {table.name: table.records() for table in tables}
        say_json(
            {
                "format": format_name("correct"),
                "job": read.name,
                "ball": name,
                "lengths": "mm",
                "tables": records,
                "findings": [one.as_dict() for one in read.findings],
            }
        )
    else:
        say(as_text(tables))
    for one in read.findings:
        tell(one.message)
    at_odds = found.fit is not None and found.fit.scatter == "contradict"
    first = at_odds or read.findings or any(a.justified for a in found.advice)
    sys.exit(FINDINGS if first else CLEAN)
