"""Reading a record: its files, every problem of them told at once."""

from __future__ import annotations

import json
from collections.abc import Iterator
from difflib import get_close_matches
from hashlib import sha256
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from pydantic import BaseModel

from parts.value import Value
from planner.job.reading import read_bytes, toml_from, validated
from planner.record.files import record_folder
from planner.record.model import BallTurned, Made, MoveMade, Record, own_keys
from planner.record.names import BALLS, MADE, MOVES
from planner.words.findings import BadInput, Finding, finding

Line = TypeVar("Line", BallTurned, MoveMade)

EXAMPLE = {"BallTurned": '{"ball": "knob"}', "MoveMade": '{"setting": 2}'}
"""The beginning of a line that is a table, for who mends one."""


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
    balls = _lines_of(folder / BALLS, BallTurned, stops, notes)
    if stops:
        raise BadInput(stops)
    return Record(folder, made, tuple(balls), tuple(notes), text)


class Turned(Value, frozen=True):
    """The balls of a record and the number of the setting that the attachment stands at, from 1.

    findings: warnings and notes on the files.
    """

    balls: tuple[BallTurned, ...]
    setting: int
    findings: tuple[Finding, ...]


def read_turned(job: Path) -> Turned:
    """The balls turned and the setting, of balls.jsonl and moves.jsonl; what is not there is empty.

    job: its file. Raises BadInput with every problem of both; made.toml is not looked at.
    """
    folder = record_folder(job)
    stops: list[Finding] = []
    notes: list[Finding] = []
    balls = _lines_of(folder / BALLS, BallTurned, stops, notes)
    moves = _lines_of(folder / MOVES, MoveMade, stops, notes)
    if stops:
        raise BadInput(stops)
    setting = max((one.setting for one in moves), default=1)
    return Turned(tuple(balls), setting, tuple(notes))


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


def _lines_of(
    path: Path, model: type[Line], stops: list[Finding], notes: list[Finding]
) -> list[Line]:
    """The lines of a file that can be read; the others are told. A file that is not there has none."""
    found = []
    for number, line in enumerate((_bytes(path, stops) or b"").split(b"\n"), 1):
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
            found.append(_line(said, path, place, model, notes))
        except BadInput as error:
            stops += error.findings
    return found


def _line(said: Any, path: Path, place: str, model: type[Line], notes: list[Finding]) -> Line:
    file = f"{path}: {place}"
    if not isinstance(said, dict):
        limit, remedy = "not a table of keys", f"Write it as in {EXAMPLE[model.__name__]}"
        raise BadInput([finding("wrong-value", file, "", "", limit, remedy)])
    one = validated(said, file, model)
    notes += _notes(one, path, place)
    return one


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
