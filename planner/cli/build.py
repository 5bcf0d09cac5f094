"""``pommel build``: the whole package."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from planner.cli.answer import (
    PATH,
    bad_input_told,
    end,
    job_argument,
    json_option,
    say,
    say_json,
    tell,
)
from planner.output.topic import BOOK
from planner.words.findings import BadInput, finding, read_back
from planner.words.formats import format_name

LETTERS = r"[\w .-]+"
"""Of a job's name, as its table has it."""


@click.command()
@job_argument
@click.option("--out", type=PATH, help="The folder to write. [default: exports/JOB-NAME]")
@click.option("--fresh", is_flag=True, help="Make every file anew, whatever is there already.")
@json_option
def build(job: Path, out: Path | None, fresh: bool, as_json: bool) -> None:
    """Write the whole package: the build book, sizes, cut list, route, dial, drawings and STEP.

    \b
    Example:  pommel build examples/bench-lathe.toml
              pommel build my-lathe.toml --out ~/attachment

    An earlier package in the folder is replaced only if nothing in it was changed. When job and
    program are the same and it is whole, it is left as it is; when only prices or the rack are other,
    its drawings and solids are taken over. The job's name stands on the sheets, so that a new one has
    them drawn anew.

    JSON keys: format ("pommel.build/1"), folder, and those of package.json, whose format is
    "pommel.package/1": job, made_by, job_file_sha256, made_from, solids_from, open_first, findings[],
    files[] (path, what, bytes, sha256), manifest_sha256.
    """
    from planner.output.package import mended, unchanged

    with bad_input_told(as_json):
        target = out or _default_folder(job)
        mended(target)
        manifest = None if fresh else unchanged(job, target)
        if manifest is None:
            manifest = _made(job, target, fresh)
        else:
            tell("unchanged")
    found = [read_back(entry, str(job)) for entry in manifest["findings"]]
    for one in found:
        tell(one.message)
    if as_json:
        say_json(manifest | {"format": format_name("build"), "folder": str(target)})
    else:
        say(f"{target}: {len(manifest['files'])} files, listed in package.json\n")
        say(f"open first: {target / manifest['open_first']}\n")
        if any(file["path"] == BOOK for file in manifest["files"]):
            say(f"print and build by: {target / BOOK}\n")
    end(found)


def _default_folder(job: Path) -> Path:
    """exports/JOB-NAME, by the file alone; what else is wrong with the file is told when it is read."""
    from planner.job import grammar
    from planner.output.package import unsafe

    try:
        name = grammar.loads(job.read_text(encoding="utf-8")).get("name")
    except (OSError, ValueError, grammar.Broken):
        name = ""
    name = name if name and isinstance(name, str) else job.stem
    if why := unsafe(name, LETTERS):
        from planner.job.reading import read_job

        read_job(job)
        limit, remedy = f"names no folder: {why}", "Give another name, or a folder with --out"
        raise BadInput([finding("unsafe-name", str(job), "name", name, limit, remedy)])
    return Path("exports") / name


def _made(job: Path, target: Path, fresh: bool) -> dict[str, Any]:
    """The manifest of the package, built. Raises BadInput."""
    from planner.output.package import build as write_package
    from planner.output.package import made_from
    from planner.output.plan import Plan
    from planner.solids import KernelMissing

    origin = made_from(job)
    try:
        return write_package(Plan(job), target, tell, fresh, origin)
    except KernelMissing as missing:
        stop = finding("kernel-missing", str(job), "", "", str(missing), "Then build again")
        raise BadInput([stop]) from None
