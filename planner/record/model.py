"""The files of a record, as tables that pydantic checks: made.toml, balls.jsonl and moves.jsonl.

All are the user's to edit. A key that is not known here is the user's own: kept, told as a note.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from parts.value import Value
from planner.job.base import FileTable, Table
from planner.job.fields import LONGEST_MM, Read, length
from planner.words.findings import Finding
from planner.words.units import UnitError


def day(value: Any, unit: str | None) -> date:
    """A day: a date of TOML, or text such as "2026-11-28"; unit is not used. Raises UnitError."""
    try:
        if isinstance(value, date) and not isinstance(value, datetime):
            return value
        return date.fromisoformat(value)
    except (TypeError, ValueError):
        raise UnitError("wrong-value", "not a day", "Write it as in 2026-11-28") from None


Day = Annotated[date, Read(day, "a day, as in 2026-11-28")]
Sha256 = Annotated[str, Field(pattern="^[0-9a-f]*$", max_length=64)]
OPEN = ConfigDict(extra="allow")


class Entry(Table):
    """What is recorded of one feature of one part.

    feature_sha256 is of the feature's sizes and place as the job had them then, its first sixteen
    digits; job_file_sha256 of the job file. An entry written by hand may leave both out. number: where
    several alike are made, each is recorded by itself, from 1, which an entry without it is of.
    """

    model_config = OPEN

    part: str = Field(min_length=1, description="its name in the package, as in rotating-body")
    feature: str = Field(min_length=1, description="its name in the route")
    number: Annotated[int, Field(ge=1, strict=True)] = Field(
        1, description="which one, where several alike are made: the number stamped on it"
    )
    date: Day | None = Field(None, description="the day it was made or measured")
    feature_sha256: Sha256 = ""
    job_file_sha256: Sha256 = ""


class SizeMade(Entry):
    """A size as measured; where a feature is measured again, the last entry counts."""

    value: Annotated[float, length(0.001, LONGEST_MM)]
    gauge: str = Field("", description="what it was measured with")


class StepDone(Entry):
    """A feature that is made."""


class Made(FileTable):
    """made.toml: what was made."""

    model_config = OPEN

    units: Literal["mm", "cm", "m", "in", "ft"] | None = Field(
        None, description="what a number without a unit means"
    )
    size: list[SizeMade] = Field(default_factory=list)
    done: list[StepDone] = Field(default_factory=list)


Millimetres = Annotated[float, Field(gt=0, le=2000, allow_inf_nan=False)]


class BallReading(Table):
    """A diameter of a ball, read with an anvil at a polar angle."""

    model_config = OPEN

    angle_deg: Annotated[float, Field(ge=-360, le=360, allow_inf_nan=False)] = Field(
        description="from the nose: 90 at the equator"
    )
    diameter_mm: Millimetres


class PipSeen(Table):
    """The pip at the nose of a ball; its diameter is 0 when none was seen."""

    model_config = OPEN

    ball_diameter_mm: Millimetres
    diameter_mm: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
    accuracy_mm: Millimetres


class SizeTurned(Table):
    """The size of a ball turned at a reading of the feed dial."""

    model_config = OPEN

    set_mm: Millimetres
    diameter_mm: Millimetres
    accuracy_mm: Millimetres


class Setting(Table):
    """What the attachment was set to."""

    model_config = OPEN

    diameter_mm: Millimetres = Field(
        description="the ball's diameter that the feed dial was set to"
    )
    dial_divisions: Annotated[float, Field(allow_inf_nan=False)] | None = Field(
        None, description="what the feed dial read"
    )
    rev_min: Annotated[float, Field(gt=0, le=20_000, allow_inf_nan=False)] | None = None
    number: Annotated[int, Field(ge=1, strict=True)] | None = Field(
        None, description="rises with each move that is confirmed; balls of one number are compared"
    )
    arrangement: Literal["across", "upright"] | None = None


class BallTurned(FileTable):
    """One line of balls.jsonl: a ball that was turned."""

    model_config = OPEN

    ball: str = Field(min_length=1, description="its name in the job")
    date: Day | None = None
    setting: Setting
    readings: list[BallReading] = Field(default_factory=list)
    accuracy_mm: Millimetres | None = Field(None, description="of one reading")
    pips: list[PipSeen] = Field(default_factory=list)
    sizes: list[SizeTurned] = Field(default_factory=list)
    before_nose: bool = False
    piece: str = Field("", max_length=60, description="tells it from another of the same name")
    readings_sha256: Sha256 = Field(
        "", description="of what was measured, its first sixteen digits"
    )
    verdict: Literal["good", "rework", "scrap", "unknown"]
    note: str = ""
    job_file_sha256: Sha256 = ""


class MoveMade(FileTable):
    """One line of moves.jsonl: something of the attachment was moved, and a new setting begins."""

    model_config = OPEN

    setting: Annotated[int, Field(ge=2, strict=True)] = Field(description="the one that begins")
    date: Day | None = None
    note: str = ""


class Record(Value, frozen=True):
    """What is recorded of a job.

    folder: where, there or not; made, balls: what the files say, nothing where there are none;
    findings: warnings and notes on the files themselves. text: made.toml as it was read, None where
    there is none: writing compares with it.
    """

    folder: Path
    made: Made
    balls: tuple[BallTurned, ...]
    findings: tuple[Finding, ...]
    text: bytes | None


def own_keys(table: BaseModel, place: str = "") -> Iterator[tuple[str, str, type[BaseModel]]]:
    """The user's own keys in a table: the table's place in the file, the key, the table's type."""
    for key in table.model_extra or ():
        yield place, key, type(table)
    for name in type(table).model_fields:
        value = getattr(table, name)
        inside = f"{place}.{name}" if place else name
        if isinstance(value, BaseModel):
            yield from own_keys(value, inside)
        elif isinstance(value, list):
            for number, one in enumerate(value, 1):
                yield from own_keys(one, f"{inside}[{number}]")
