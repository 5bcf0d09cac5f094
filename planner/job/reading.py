"""The job file: TOML to Job, with every problem of the file told at once.

Only the door reads it: output.plan, the commands and the tests.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from difflib import get_close_matches
from math import isfinite
from pathlib import Path
from types import UnionType
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from planner import __version__
from planner.job.base import FileTable
from planner.job.oldkeys import OldKey, renamed
from planner.job.tables import Job
from planner.words.findings import BadInput, Finding, finding

Read = TypeVar("Read", bound=FileTable)

OUT_OF_RANGE = (
    "greater_than",
    "greater_than_equal",
    "less_than",
    "less_than_equal",
    "finite_number",
    "too_short",
    "too_long",
    "string_too_short",
    "string_too_long",
)
"""What pydantic calls a value of the right sort that is too large, too small, too long or too short."""


def read_job(path: Path) -> Job:
    """The job in a file.

    Raises BadInput with every problem of the file: missing, unreadable, not TOML, unknown keys
    (with the nearest known one), wrong units, sizes out of range.
    """
    return job_from(read_toml(path, f"Make one with: pommel new {path}"), str(path))


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
        raise bad("no-file", "no such file", remedy) from None
    except IsADirectoryError:
        raise bad("not-a-file", "a folder, not a file", "Name the .toml file in it") from None
    except OSError as error:
        limit = f"cannot be read ({error.strerror})"
        raise bad("unreadable", limit, "Check its permissions") from None


def toml_from(data: bytes, file: str) -> dict[str, Any]:
    """The TOML in a file's bytes; ``file`` is what findings call it. Raises BadInput."""

    def bad(code: str, limit: str, remedy: str) -> BadInput:
        return BadInput([finding(code, file, "", "", limit, remedy)])

    try:
        return tomllib.loads(data.decode("utf-8"))
    except UnicodeDecodeError:
        raise bad("not-text", "not a text file in UTF-8", "Save it as UTF-8 text") from None
    except (ValueError, RecursionError) as error:  # of the library; it has other words for some
        raise bad("not-toml", f"not TOML: {error}", "Mend that line and try again") from None


def job_from(data: dict[str, Any], file: str, keys: Sequence[OldKey] | None = None) -> Job:
    """A job from parsed TOML; ``file`` is what findings call it. Raises BadInput.

    keys: those that were renamed, by default job.oldkeys.OLD_KEYS; an old one is a warning among the
    job's findings.
    """
    refuse_format(data, file, Job)
    data, found = renamed(data, file, keys)
    job = validated(data, file, Job)
    if not job.name:
        job = job.model_copy(update={"name": Path(file).stem})
    job._findings = found
    return job


def refuse_format(data: dict[str, Any], file: str, model: type[FileTable], key: str = "") -> None:
    """Raise BadInput when a file's format is none that ``model`` reads; key: where in the file."""
    known = get_args(model.model_fields["format"].annotation)
    given = data.get("format", 1)
    number = isinstance(given, int) and not isinstance(given, bool)
    if number and given in known:
        return
    shown, read = _shown(given), ", ".join(map(str, known))
    key = f"{key}.format" if key else "format"
    if number and given > max(known):
        limit = f"this is pommel {__version__}, which reads {read}"
        remedy = "Work on it with the pommel that wrote it, or a newer one"
        raise BadInput([finding("newer-format", file, key, shown, limit, remedy)])
    limit, remedy = f"no such format; known here: {read}", f"Write format = {max(known)}"
    raise BadInput([finding("unknown-format", file, key, shown, limit, remedy)])


def validated(data: dict[str, Any], file: str, model: type[Read]) -> Read:
    """A file's table from parsed TOML or JSON. Raises BadInput with every problem of it.

    file: what findings call it. A format that is not read is told alone.
    """
    refuse_format(data, file, model)
    unit = data.get("units")
    known_unit = unit if isinstance(unit, str) and unit in ("mm", "cm", "m", "in", "ft") else None
    if known_unit is None and unit is not None:
        known_unit = "mm"  # the unit itself is reported; do not report every number with it
    try:
        return model.model_validate(data, context={"unit": known_unit})
    except ValidationError as error:
        details = error.errors(include_url=False)
        for detail in details:
            if detail["type"] in ("value_error", "assertion_error"):
                ours: Exception = detail["ctx"]["error"]  # not of fields.problem: a mistake of ours
                raise ours from None
        findings = [_finding(file, model, detail) for detail in details]
        raise BadInput(findings) from None


def _finding(file: str, root: type[BaseModel], detail: Any) -> Finding:
    place = [step for step in detail["loc"] if step != "[key]"]
    key = _key(place)
    value = detail.get("input")
    kind = detail["type"]
    context = detail.get("ctx") or {}
    shown = _shown(value)
    if kind == "shop":
        code, limit, remedy = context["code"], context["limit"], context["remedy"]
        if not place and ": " in limit:
            key, limit = limit.split(": ", 1)
            shown = ""
        return finding(code, file, key, shown, limit, remedy)
    if kind == "extra_forbidden":
        known = _known_keys(root, place[:-1])
        near = get_close_matches(str(place[-1]), known, 1)
        remedy = f"Did you mean {near[0]}?" if near else f"Known here: {', '.join(known)}"
        return finding("unknown-key", file, key, "", "unknown key", remedy)
    if kind == "missing":
        field = _field(root, place)
        about = f" ({field})" if field else ""
        remedy = "Add it; see pommel new --help"
        return finding("missing-key", file, key, "", f"missing{about}", remedy)
    if kind in ("literal_error", "enum"):
        limit = f"must be {context.get('expected', '')}"
        return finding("not-a-choice", file, key, shown, limit, "Choose one")
    limit = str(detail["msg"]).replace("Input should", "should").replace("Value should", "should")
    code = "out-of-range" if kind in OUT_OF_RANGE else "wrong-value"
    return finding(code, file, key, shown, limit, "Correct the value")


def _key(place: list[Any]) -> str:
    text = ""
    for step in place:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            text += ("." if text else "") + (f'"{step}"' if " " in str(step) else str(step))
    return text


def _shown(value: Any) -> str:
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else "a list"
    if isinstance(value, bool):
        return str(value).lower()  # as TOML writes it
    if isinstance(value, float) and not isfinite(value):
        return str(value)
    return repr(value) if isinstance(value, str) else str(value)


def _model(root: type[BaseModel], place: list[Any]) -> type[BaseModel] | None:
    model: Any = root
    for step in place:
        if isinstance(step, int):
            continue
        if isinstance(model, type) and issubclass(model, BaseModel):
            field = model.model_fields.get(str(step))
            model = field.annotation if field else None
        elif model is not None:
            model = getattr(model, "__args__", (None,))[-1]
        if model is None:
            return None
        if isinstance(model, UnionType):  # a table that may be left out
            model = next((one for one in get_args(model) if one is not type(None)), None)
        origin = getattr(model, "__origin__", None)
        if origin is list:
            model = model.__args__[0]
        elif origin is dict and step is not place[-1]:
            continue
    if getattr(model, "__origin__", None) is dict:
        return None
    return model if isinstance(model, type) and issubclass(model, BaseModel) else None


def _known_keys(root: type[BaseModel], place: list[Any]) -> list[str]:
    model = _model(root, place)
    return sorted(model.model_fields) if model else []


def _field(root: type[BaseModel], place: list[Any]) -> str:
    model = _model(root, place[:-1])
    field = model.model_fields.get(str(place[-1])) if model else None
    return (field.description or "") if field else ""
