"""The job file: TOML to Job, with every problem of the file told at once.

Only the door reads it: output.plan, the commands and the tests.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from difflib import get_close_matches
from itertools import islice
from pathlib import Path
from typing import Any, TypeVar, get_args

from pydantic import ValidationError

from planner import __version__
from planner.job import grammar
from planner.job.base import FileTable
from planner.job.causes import folded, meant_unit
from planner.job.oldkeys import OldKey, renamed
from planner.job.tables import Job
from planner.job.unlikely import unlikely
from planner.job.wording import complaint, known_keys, lists_of, shown
from planner.words.findings import BadInput, Finding, finding
from planner.words.short import path_said, printed

Read = TypeVar("Read", bound=FileTable)

MOST_FILES = 200
"""So many files of a folder are looked at for one that is nearly called so."""


def read_job(path: Path) -> Job:
    """The job in a file.

    Raises BadInput with every problem of the file: missing, unreadable, not TOML, unknown keys
    (with the nearest known one), wrong units, sizes out of range.
    """
    return job_from(
        read_toml(path, f"Make one with: pommel new {path_said(path, 'FILE')}"), str(path)
    )


def read_table(path: Path, model: type[Read]) -> Read:
    """A file of another table than the job's. Raises BadInput as read_job does."""
    data = read_toml(path, "Check its name")
    return validated(data, str(path), model)


def read_toml(path: Path, remedy: str) -> dict[str, Any]:
    """The TOML in a file; remedy: what to do when there is none. Raises BadInput."""
    return toml_from(read_bytes(path, remedy), str(path))


def read_bytes(path: Path, remedy: str) -> bytes:
    """What a file holds; remedy: what to do when there is none. Raises BadInput."""

    def bad(code: str, limit: str, remedy: str) -> BadInput:
        return BadInput([finding(code, str(path), "", "", limit, remedy)])

    try:
        return path.read_bytes()
    except FileNotFoundError:
        meant = _near_file(path)
        remedy = f"Did you mean {path_said(meant, meant.name)}?" if meant else remedy
        raise bad("no-file", "no such file", remedy) from None
    except IsADirectoryError:
        raise bad("not-a-file", "a folder, not a file", "Name the .toml file in it") from None
    except OSError as error:
        limit = f"cannot be read ({error.strerror})"
        raise bad("unreadable", limit, "Check its permissions") from None


def _near_file(path: Path) -> Path | None:
    """The file beside a path that it was perhaps meant as: the same with .toml, or nearly so called."""
    with suppress(OSError, ValueError):
        with_end = path.with_name(f"{path.name}.toml")
        if with_end.is_file():
            return with_end
        there = [one.name for one in islice(path.parent.glob("*.toml"), MOST_FILES)]
        near = get_close_matches(path.name, there, 1, 0.8)
        return path.with_name(near[0]) if near else None
    return None


def toml_from(data: bytes, file: str) -> dict[str, Any]:
    """The TOML in a file's bytes; ``file`` is what findings call it. Raises BadInput."""
    try:
        return grammar.loads(data.decode("utf-8"), lambda: lists_of(Job))
    except UnicodeDecodeError as error:
        limit, remedy = "not a text file in UTF-8", "Save it as UTF-8 text"
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            limit = "text in UTF-16, not in UTF-8"
        line = data[: error.start].count(b"\n") + 1
        raise BadInput([finding("not-text", file, "", "", limit, remedy, line=line)]) from None
    except grammar.Broken as broken:
        value, limit, remedy = broken.value, broken.limit, broken.remedy
        found = finding("not-toml", file, "", value, limit, remedy, line=broken.line)
        raise BadInput([found]) from None


def job_from(data: dict[str, Any], file: str, keys: Sequence[OldKey] | None = None) -> Job:
    """A job from parsed TOML; ``file`` is what findings call it. Raises BadInput.

    keys: those that were renamed, by default job.oldkeys.OLD_KEYS; an old one is a warning among the
    job's findings, and so is a size that the others belie (job.unlikely).
    """
    refuse_format(data, file, Job)
    data, found = renamed(data, file, keys)
    job = validated(data, file, Job)
    if not job.name:
        job = job.model_copy(update={"name": printed(Path(file).stem)})
    job._findings = (*found, *unlikely(job, file))
    return job


def refuse_format(data: dict[str, Any], file: str, model: type[FileTable], key: str = "") -> None:
    """Raise BadInput when a file's format is none that ``model`` reads; key: where in the file."""
    known = get_args(model.model_fields["format"].annotation)
    given = data.get("format", 1)
    number = isinstance(given, int) and not isinstance(given, bool)
    if number and given in known:
        return
    value, read = shown(given), ", ".join(map(str, known))
    key = f"{key}.format" if key else "format"
    if number and given > max(known):
        limit = f"this is pommel {__version__}, which reads {read}"
        remedy = "Work on it with the pommel that wrote it, or a newer one"
        raise BadInput([finding("newer-format", file, key, value, limit, remedy)])
    limit, remedy = f"no such format; known here: {read}", f"Write format = {max(known)}"
    raise BadInput([finding("unknown-format", file, key, value, limit, remedy)])


def validated(data: dict[str, Any], file: str, model: type[Read]) -> Read:
    """A file's table from parsed TOML or JSON. Raises BadInput with every problem of it.

    file: what findings call it. A format that is not read is told alone.
    """
    refuse_format(data, file, model)
    unit = meant_unit(data.get("units"))
    if unit is None and "units" in data:
        unit = "mm"  # the unit itself is reported; do not report every number with it
    try:
        return model.model_validate(data, context={"unit": unit})
    except ValidationError as error:
        found = _complaints(error, file, model)

    def known(table: str) -> list[str]:
        return known_keys(model, [*table.split(".")])

    def again(unit: str) -> list[Finding]:
        return _tried(data, file, model, unit)

    raise BadInput(folded(found, data, file, again, known))


def _complaints(error: ValidationError, file: str, model: type[FileTable]) -> list[Finding]:
    details = error.errors(include_url=False)
    for detail in details:
        if detail["type"] in ("value_error", "assertion_error"):
            ours: Exception = detail["ctx"]["error"]  # not of fields.problem: a mistake of ours
            raise ours from None
    return [complaint(file, model, detail) for detail in details]


def _tried(data: dict[str, Any], file: str, model: type[FileTable], unit: str) -> list[Finding]:
    """What would be wrong with a file in another unit."""
    try:
        model.model_validate(data | {"units": unit}, context={"unit": unit})
    except ValidationError as error:
        return _complaints(error, file, model)
    return []
