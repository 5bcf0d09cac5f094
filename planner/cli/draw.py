"""``pommel draw``: the sheets to make the parts by."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import click

from planner.cli.answer import (
    PATH,
    bad_input_told,
    finish,
    job_argument,
    json_option,
    say,
    say_json,
)
from planner.words.findings import BadInput, finding
from planner.words.formats import format_name


@click.command()
@job_argument
@click.argument("part", metavar="[PART]", required=False)
@click.option(
    "--sheet",
    type=click.Choice(("A4", "A3", "Letter", "Tabloid")),
    help="The paper; what it does not hold goes on the next larger. [default: A4, or Letter in inches]",
)
@click.option(
    "--projection",
    type=click.Choice(("first", "third")),
    help="How views stand to one another. [default: first, or third in inches]",
)
@click.option(
    "--arrangement",
    type=click.Choice(("across", "upright")),
    default="across",
    help="How the pivot lies on the general arrangement.",
    show_default=True,
)
@click.option("--out", type=PATH, help="The new folder to write. [default: sheets-JOB-FILE]")
@json_option
def draw(
    job: Path,
    part: str | None,
    sheet: str | None,
    projection: Literal["first", "third"] | None,
    arrangement: Literal["across", "upright"],
    out: Path | None,
    as_json: bool,
) -> None:
    """Draw the whole on the lathe, in section and taken apart, and every part, on sheets to print.

    \b
    Example:  pommel draw examples/bench-lathe.toml
              pommel draw examples/bench-lathe.toml feed-screw --sheet A4 --out screw

    PART may be one of the sheets of the whole too: general-arrangement, section, exploded-view. Each
    piece has a sheet for before it is welded, each weldment one for after.

    Writes SVG and DXF of each sheet and one PDF of all. Print them full size and hold a rule to the
    bar on each. Limits stand on the dimensions that need them; all others are general. pommel build
    puts the same PDF and DXF into its package.

    JSON keys: format ("pommel.draw/1"), job, folder, sheets[] (number, name, title, paper, scale,
    projection, dimensions), files[], findings[].
    """
    with bad_input_told(as_json):
        from planner.output.answers import pdf_findings
        from planner.output.part_sheets import drawings, place_for, write_drawings
        from planner.output.plan import Plan
        from planner.solids import KernelMissing

        plan = Plan(job, arrangement)
        folder = out or Path(f"sheets-{job.stem}")
        with place_for(folder) as place:
            try:
                made = drawings(plan, part, sheet, projection)
            except KernelMissing as missing:
                stop = finding("kernel-missing", str(job), "", "", str(missing), "Then draw again")
                raise BadInput([stop]) from None
            files = write_drawings(place, made)
    found = (*plan.findings, *made.findings, *pdf_findings(plan, {}))
    rows = made.rows()
    if as_json:
        say_json(
            {
                "format": format_name("draw"),
                "job": plan.job.name,
                "folder": str(folder),
                "sheets": rows,
                "files": files,
                "findings": [one.as_dict() for one in found],
            }
        )
    else:
        for row in rows:
            said = f"{row['number']:3}  {row['name']:24}  {row['paper']:7}  {row['scale']}"
            say(f"{said}\n")
        say(f"{folder}: {len(files)} files\n")
    finish(found)
