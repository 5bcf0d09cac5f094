"""Reading a record: both files, every problem of them told at once."""

from __future__ import annotations

import json
from collections.abc import Iterator
from difflib import get_close_matches
from hashlib import sha256
from pathlib import Path
from typing import Any, NoReturn

from pydantic import BaseModel

from planner.job.reading import read_bytes, toml_from, validated
from planner.record.files import record_folder
from planner.record.model import BALLS, MADE, BallTurned, Made, Record, own_keys
from planner.words.findings import BadInput, Finding, finding


def read_record(job: Path) -> Record:
    """What is recorded of a job; what is not there is empty.

    job: its file, which need not be readable. Raises BadInput with every problem of both files.
    """
    folder = record_folder(job)
    stops: list[Finding] = []
    notes: list[Finding] = []
    made, text = Made(), _bytes(folder / MADE, stops)
    if text is not None:
        try:
            made = made_from(text, folder / MADE)
            notes += _notes(made, folder / MADE, "")
        except BadInput as error:
            stops += error.findings
    lines = _bytes(folder / BALLS, stops)
    balls = list(_balls(lines or b"", folder / BALLS, stops, notes))
    if stops:
        raise BadInput(stops)
    return Record(folder, made, tuple(balls), tuple(notes), text)


def made_from(text: bytes, path: Path) -> Made:
    """What a made.toml says. Raises BadInput with every problem of it."""
    return validated(toml_from(text, str(path)), str(path), Made)


def job_sha256(job: Path) -> str:
    """The hash of a job's file, as entries and package.json have it. Raises OSError."""
    return sha256(job.read_bytes()).hexdigest()


def _bytes(path: Path, stops: list[Finding]) -> bytes | None:
    try:
        return read_bytes(path, "")
    except BadInput as error:
        (found,) = error.findings
        if found.code != "no-file":
            stops.append(found)
        return None


def _balls(
    text: bytes, path: Path, stops: list[Finding], notes: list[Finding]
) -> Iterator[BallTurned]:
    """The balls of the lines that can be read; the others are told."""
    for number, line in enumerate(text.split(b"\n"), 1):
        if not line.strip():
            continue
        place = f"line {number}"
        try:
            said = json.loads(line.decode("utf-8"), parse_constant=_no_number)
        except (ValueError, RecursionError):
            limit = "not finished, or not JSON; passed over"
            remedy = "Mend the line, or take it out"
            notes.append(finding("broken-line", str(path), place, "", limit, remedy))
            continue
        try:
            yield from _ball(said, path, place, notes)
        except BadInput as error:
            stops += error.findings


def _ball(said: Any, path: Path, place: str, notes: list[Finding]) -> Iterator[BallTurned]:
    file = f"{path}: {place}"
    if not isinstance(said, dict):
        limit, remedy = "not a table of keys", 'Write it as in {"ball": "knob"}'
        raise BadInput([finding("wrong-value", file, "", "", limit, remedy)])
    ball = validated(said, file, BallTurned)
    notes += _notes(ball, path, place)
    yield ball


def _no_number(name: str) -> NoReturn:
    raise ValueError(f"{name} is not JSON")


def _notes(table: BaseModel, path: Path, place: str) -> Iterator[Finding]:
    """A note for each key of the user's own, with the known one it may be a slip of."""
    for inside, key, model in own_keys(table):
        near = get_close_matches(key, model.model_fields, 1)
        remedy = f"Did you mean {near[0]}?" if near else "Nothing to do if it is your own"
        full = ".".join(step for step in (inside, key) if step)
        where = f"{place}: {full}" if place else full
        limit = "not a key that pommel knows; kept as it is"
        yield finding("own-key", str(path), where, "", limit, remedy)
