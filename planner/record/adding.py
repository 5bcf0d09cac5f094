"""Adding to a record. What stands in its files stays as it is, comments and the user's own keys too."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, Literal

from msgspec.structs import replace

from planner.record.files import append_line, held, record_folder, write_whole
from planner.record.model import BallTurned, MoveMade, Record
from planner.record.names import BALLS, MADE, MOVES
from planner.record.reading import Turned, made_from, read_record, read_turned
from planner.words.findings import BadInput, finding

Kind = Literal["size", "done"]
"""The lists of made.toml."""

HEAD = """\
# What was made for {job}, as measured; written by pommel record, and yours to edit.
# Where a feature stands here twice, the last entry counts.
format = 1
"""


def add_made(
    job: Path, entries: Sequence[tuple[Kind, Mapping[str, Any]]], units: str | None
) -> Record:
    """Add entries to made.toml, all of them or none, at its end, and return the record as it then is.

    job: its file. entries: for which list, and their keys as record.model has them, lengths as text
    with a unit. units: those that a new file declares, for who adds to it by hand. Another writer is
    waited for. Raises BadInput when the file has a problem, was edited meanwhile, or cannot be written
    or added to.
    """
    return add_chosen(job, lambda _: entries, units)


def add_chosen(
    job: Path,
    chosen: Callable[[Record], Sequence[tuple[Kind, Mapping[str, Any]]]],
    units: str | None,
) -> Record:
    """The same with entries chosen by the record as it then is; none, and nothing is written."""
    folder = record_folder(job)
    with held(folder):
        record = read_record(job)
        entries = chosen(record)
        if not entries:
            return record
        before = new_text(job.name, units) if record.text is None else record.text
        after = with_entries(before, entries, folder / MADE)
        write_whole(folder / MADE, record.text, after)
    return replace(record, made=made_from(after, folder / MADE), text=after)


def new_text(job: str, units: str | None) -> bytes:
    """A made.toml with nothing in it yet; job: the name of the job's file."""
    declared = f'units = "{units}"\n' if units else ""
    return (HEAD.format(job=job.replace("\n", " ")) + declared).encode()


def with_entries(
    before: bytes, entries: Sequence[tuple[Kind, Mapping[str, Any]]], path: Path
) -> bytes:
    """The text of a made.toml with entries added, its lines ended as they were.

    path: what findings call it. Raises BadInput where the text is in a form that cannot be added to,
    or the entries are not in order.
    """
    wanted: dict[str, Any] = tomllib.loads(before.decode("utf-8"))
    blocks = []
    for kind, entry in entries:
        wanted.setdefault(kind, []).append(dict(entry))
        blocks.append(_block(kind, entry))
    end = "\r\n" if before.count(b"\r\n") and before.count(b"\r\n") == before.count(b"\n") else "\n"
    lead = end if before and not before.endswith(b"\n") else ""
    after = before + (lead + "".join(blocks).replace("\n", end)).encode()
    try:
        said = tomllib.loads(after.decode("utf-8"))
    except tomllib.TOMLDecodeError:
        said = {}
    if said != wanted:
        limit = "its lists are written so that an entry cannot be put behind them"
        remedy = "Write each entry as a table of its own under [[size]] or [[done]]"
        raise BadInput([finding("record-form", str(path), "", "", limit, remedy)])
    made_from(after, path)
    return after


def _block(kind: Kind, entry: Mapping[str, Any]) -> str:
    """An entry as TOML, a blank line before it."""
    import tomlkit

    table = tomlkit.table()
    for key, value in entry.items():
        table.add(key, value)
    tables = tomlkit.aot()
    tables.append(table)
    document = tomlkit.document()
    document.add(kind, tables)
    return "\n" + tomlkit.dumps(document).strip() + "\n"


def add_ball(job: Path, ball: BallTurned) -> None:
    """Append a ball to balls.jsonl; the lines that are there are never written again.

    Another writer is waited for; whether the rest of the record can be read does not matter. Raises
    BadInput when the file cannot be written.
    """
    folder = record_folder(job)
    with held(folder):
        append_line(folder / BALLS, ball.model_dump_json(exclude_none=True))


def add_turned(
    job: Path, ball: BallTurned | None, move: MoveMade | None = None
) -> tuple[bool, int]:
    """Append a move that was made, a ball turned after it, or one of both, once.

    ball: its setting's number is filled in here. move: begins a new setting, its number filled in too;
    without a ball of the present setting there is nothing to part it from, and none begins. Returns
    whether anything was added, and the setting's number by then. Readings that are there already, told
    by readings_sha256, are not added again. Another writer is waited for. Raises BadInput when the
    record's lines cannot be read or written, or the readings were recorded before the move
    (readings-before-move).
    """
    folder = record_folder(job)
    if ball is None and not _begins(read_turned(job)):
        return False, read_turned(job).setting
    with held(folder):
        turned = read_turned(job)
        number = turned.setting + 1 if move and _begins(turned) else turned.setting
        if ball:
            refuse_earlier(turned, ball, number, folder)
            if any(same_readings(one, ball) for one in turned.balls):
                return False, number
        if move and number > turned.setting:
            line = move.model_copy(update={"setting": number})
            append_line(folder / MOVES, line.model_dump_json(exclude_none=True))
        if ball:
            setting = ball.setting.model_copy(update={"number": number})
            ball = ball.model_copy(update={"setting": setting})
            append_line(folder / BALLS, ball.model_dump_json(exclude_none=True))
    return True, number


def _begins(turned: Turned) -> bool:
    """Whether a move begins a setting: balls were turned at the present one."""
    return any(one.setting.number == turned.setting for one in turned.balls)


def same_readings(one: BallTurned, other: BallTurned) -> bool:
    """Whether two lines are of the same readings, by their hash."""
    return bool(one.readings_sha256) and one.readings_sha256 == other.readings_sha256


def refuse_earlier(turned: Turned, ball: BallTurned, number: int, folder: Path) -> None:
    """Raise BadInput (readings-before-move) for readings that are recorded at another setting."""
    for one in turned.balls:
        if same_readings(one, ball) and one.setting.number != number:
            limit = "these readings are recorded already, as of before the move"
            remedy = "Measure a ball turned since; --no-record shows what these said"
            file = str(folder / BALLS)
            raise BadInput([finding("readings-before-move", file, "", "", limit, remedy)])
