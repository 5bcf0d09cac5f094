"""What a package was made from, as hashes: an unchanged job is not built again, nor its solids.

Loads nothing that plans: the versions of the libraries are read without importing them.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.output.package.manifest import whole
from planner.output.topics import TOPICS
from planner.record.files import record_folder
from planner.record.names import MADE

if TYPE_CHECKING:
    from planner.output.plan import Plan

LIBRARIES = (
    *(
        "cadquery",
        "cadquery-ocp",
        "click",
        "ezdxf",
        "msgspec",
        "numpy",
        "pint",
        "pydantic",
        "pydantic-core",
    ),
    *("scipy", "shapely", "tabulate", "tomlkit", "typst"),
)
"""Distributions that a package's bytes may depend on: all that the project needs, and what those
bring that computes (a test compares them with pyproject.toml)."""

INTERFERENCE = "interference"
"""The name in ``solids_from`` of what was held to find whether parts stand in each other."""


def made_from(job: Path) -> dict[str, Any]:
    """What a package of this job would be made from; taken before the job is read.

    job_file_sha256: of its bytes, "" when it cannot be read. made_from: job_file, its name;
    record_sha256, of what is recorded as made, "" where nothing is; program_sha256, of every source and
    table; libraries, the version of each, and of Python.
    """
    of_job, of_record = read_hashes(job)
    return {
        "job_file_sha256": of_job,
        "made_from": {
            "job_file": job.name,
            "record_sha256": of_record,
            "program_sha256": _program_sha256(),
            "libraries": _libraries(),
        },
    }


def read_files(job: Path) -> tuple[Path, Path]:
    """All of the user's that a package is made from: the job file, and what is recorded as made."""
    return job, record_folder(job) / MADE


def read_hashes(job: Path) -> tuple[str, str]:
    """The hash of each of these files' bytes, "" where one cannot be read."""
    of_job, of_record = read_files(job)
    return job_sha256(of_job), job_sha256(of_record)


def job_sha256(job: Path) -> str:
    """The hash of a job file's bytes, "" when it cannot be read."""
    try:
        return sha256(job.read_bytes()).hexdigest()
    except OSError:
        return ""


def unchanged(job: Path, target: Path) -> dict[str, Any] | None:
    """The manifest of the package at the target when a build would make the same again; else None.

    It does when job, program and libraries are the same and every file is there as it was written.
    """
    try:
        manifest = whole(target)
    except OSError:
        return None
    if manifest is None:
        return None
    origin = made_from(job)
    return manifest if all(manifest.get(key) == origin[key] for key in origin) else None


def solids_from(plan: Plan, origin: Mapping[str, Any]) -> dict[str, str]:
    """For all that loads the kernel, a hash of what it makes its files from, by the topic's name.

    origin: of made_from. The same hash, the same files: they may be taken over from an earlier package.
    """
    made_by = origin["made_from"]
    ground = (made_by["program_sha256"], sorted(made_by["libraries"].items()))

    def hashed(made_of: Any) -> str:
        return sha256(repr((ground, made_of)).encode()).hexdigest()

    found = {INTERFERENCE: hashed(plan.attachment)}
    return found | {one.name: hashed(one.made_of(plan)) for one in TOPICS if one.made_of}


@cache
def _program_sha256() -> str:
    import parts
    import planner

    total = sha256()
    for package in (parts, planner):
        floor = Path(str(package.__file__)).parent
        for file in sorted(floor.rglob("*")):
            if file.suffix != ".pyc" and file.is_file():
                total.update(f"{floor.name}/{file.relative_to(floor).as_posix()}\n".encode())
                total.update(file.read_bytes())
    return total.hexdigest()


@cache
def _libraries() -> dict[str, str]:
    import sys
    from importlib.metadata import PackageNotFoundError, version

    found = {"python": ".".join(str(number) for number in sys.version_info[:3])}
    for name in LIBRARIES:
        try:
            found[name] = version(name)
        except PackageNotFoundError:
            found[name] = "none"
    return found
