"""``pommel build``: the whole package."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from planner.cli.answer import (
    PATH,
    bad_input_told,
    end,
    findings_record,
    job_argument,
    json_option,
    say,
    say_json,
    tell,
)
from planner.output.topic import BOOK
from planner.words.findings import BadInput, finding, read_back
from planner.words.formats import format_name

if TYPE_CHECKING:
    from planner.words.findings import Finding

LETTERS = r"[\w .-]+"
"""Of a job's name, as its table has it."""

MEMORY = {"trim": (-1, 1 << 30), "pad": (-2, 1 << 25), "mapped": (-3, 1 << 25), "arenas": (-8, 1)}
"""What the C library is told of memory, by numbers of its malloc.h (glibc, from memory): how much may
lie free before the system gets it back, how much is asked for at once, from which size on a piece is
asked for by itself (bytes all three), and how many stores there are, one for all threads."""


@click.command()
@job_argument
@click.option("--out", type=PATH, help="The folder to write. [default: exports/JOB-NAME]")
@click.option("--fresh", is_flag=True, help="Make every file anew, whatever is there already.")
@click.option("--watch", is_flag=True,
              help="Build again whenever the job is saved; a browser shows the page.")  # fmt: skip
@json_option
def build(job: Path, out: Path | None, fresh: bool, watch: bool, as_json: bool) -> None:
    """Write the whole package: the build book, sizes, cut list, route, dial, drawings and STEP.

    \b
    Example:  pommel build examples/bench-lathe.toml
              pommel build my-lathe.toml --out ~/attachment
              pommel build my-lathe.toml --watch

    An earlier package in the folder is replaced only if nothing in it was changed. When job and
    program are the same and it is whole, it is left as it is; when only prices or the rack are other,
    its drawings and solids are taken over. The job's name stands on the sheets, so that a new one has
    them drawn anew.

    With --watch it is built again when the job or what is recorded of it was saved, until ctrl-C. The
    address that it says shows the page, always the last good one, and above it what is wrong with the
    job, to this computer alone.

    JSON keys: format ("pommel.build/1"), folder, and those of package.json, whose format is
    "pommel.package/1": job, made_by, job_file_sha256, made_from, solids_from, open_first, findings[],
    files[] (path, what, bytes, sha256), manifest_sha256.
    """
    anew = [fresh]  # at the first of several builds alone

    def one() -> tuple[Path, dict[str, Any]]:
        return _packaged(job, out, anew.pop() if anew else False)

    def told(
        found: Sequence[Finding], folder: Path | None = None, made: dict[str, Any] | None = None
    ) -> None:
        """What was built; with findings alone, what was not."""
        if folder is None or made is None:
            for wrong in found:
                tell(wrong.message)
            if as_json:
                say_json(findings_record(found))
        else:
            _said(job, folder, made, as_json)

    with bad_input_told(as_json):
        if watch:
            from planner.cli.watch import watched

            watched(job, one, told)
        target, manifest = one()
    end(_said(job, target, manifest, as_json))


def _packaged(job: Path, out: Path | None, fresh: bool) -> tuple[Path, dict[str, Any]]:
    """The package's folder and manifest, built where it is not there already. Raises BadInput."""
    from planner.output.package import mended, unchanged

    target = out or _default_folder(job)
    mended(target)
    manifest = None if fresh else unchanged(job, target)
    if manifest is not None:
        tell("unchanged")
        return target, manifest
    return target, _made(job, target, fresh)


def _said(job: Path, target: Path, manifest: dict[str, Any], as_json: bool) -> list[Finding]:
    """Say what was built and what to open; returns what was found."""
    from planner.output.page_files import PAGE

    found = [read_back(entry, str(job)) for entry in manifest["findings"]]
    for one in found:
        tell(one.message)
    if as_json:
        say_json(manifest | {"format": format_name("build"), "folder": str(target)})
        return found
    say(f"{target}: {len(manifest['files'])} files, listed in package.json\n")
    say(f"open first: {target / manifest['open_first']}\n")
    there = {file["path"] for file in manifest["files"]}
    for path, what in ((BOOK, "print and build by"), (PAGE, "at the lathe, in a phone's browser")):
        if path in there:
            say(f"{what}: {target / path}\n")
    return found


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

    _memory_kept()
    origin = made_from(job)
    try:
        return write_package(Plan(job), target, tell, fresh, origin)
    except KernelMissing as missing:
        stop = finding("kernel-missing", str(job), "", "", str(missing), "Then build again")
        raise BadInput([stop]) from None


def _memory_kept() -> None:
    """Memory is asked of the system in large pieces and kept to the end, where the C library can: a
    build takes half a gigabyte, and gave it back and took it anew a page at a time."""
    if sys.platform != "linux":
        return
    import ctypes

    with suppress(OSError, AttributeError):  # another C library
        told = ctypes.CDLL(None).mallopt
        for number, value in MEMORY.values():
            told(number, value)
