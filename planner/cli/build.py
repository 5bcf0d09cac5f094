"""``pommel build``: the whole package."""

from __future__ import annotations

from pathlib import Path

import click

from planner.cli.answer import (
    PATH,
    bad_input_told,
    finish,
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
@click.option("--out", type=PATH, help="The folder to write. [default: exports/JOB-NAME]")
@json_option
def build(job: Path, out: Path | None, as_json: bool) -> None:
    """Write the whole package: sizes, cut list, route, dial, DXF and STEP.

    \b
    Example:  pommel build examples/bench-lathe.toml
              pommel build my-lathe.toml --out ~/attachment

    An earlier package in the folder is replaced only if nothing in it was changed.

    JSON keys: format ("pommel.build/1"), folder, and those of package.json, whose format is
    "pommel.package/1": job, made_by, job_file_sha256, findings[], files[] (path, what, bytes, sha256).
    """
    from planner.output.plan import Plan
    from planner.output.topics import build_findings

    with bad_input_told(as_json):
        plan = Plan(job)
        target = out or Path("exports") / plan.job.name
        from planner.output.package import build as write_package
        from planner.solids import KernelMissing

        try:
            manifest = write_package(plan, target, tell)
        except KernelMissing as missing:
            stop = finding("kernel-missing", str(job), "", "", str(missing), "Then build again")
            raise BadInput([stop]) from None
        found = build_findings(plan)
    if as_json:
        say_json(manifest | {"format": format_name("build"), "folder": str(target)})
    else:
        say(f"{target}: {len(manifest['files'])} files, listed in package.json\n")
    finish(found)
