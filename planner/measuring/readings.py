"""What was measured on a turned ball, as a file: TOML to measuring.correct's plain data.

Imported by the commands. The file names a ball of the job, so that its size and stem are known.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from parts.value import Value
from planner.geometry.ball import USUAL_ANVIL_MM, USUAL_STEM
from planner.job.base import FileTable, Table
from planner.job.fields import length
from planner.job.reading import read_table
from planner.job.tables import Job
from planner.measuring.correct import (
    OVER_INCH_MM,
    OVER_MM,
    Measured,
    Pip,
    Reading,
    Rig,
    Size,
)
from planner.words.findings import BadInput, finding
from planner.words.short import few

FIRST_BALL = "knob, the first"
"""What a file of readings calls the attachment's own knob: a ball of the job may be called knob too."""

INCH_ANVIL_MM = 25.4 / 4
"""The flat anvils of an inch micrometer, where nothing is said (from memory)."""


class MeasuredAcross(Table):
    """A diameter read with an anvil at a polar angle."""

    angle: Annotated[float, Field(allow_inf_nan=False)] = Field(
        description="degrees from the nose: 90 at the equator"
    )
    diameter: Annotated[float, length(0.001, 2000)]


class SeenPip(Table):
    """The pip at the nose of a ball turned at the same setting."""

    ball_diameter: Annotated[float, length(0.5, 1000)]
    diameter: Annotated[float, length(0, 100)] = Field(description="0 when none is seen")
    accuracy: Annotated[float, length(0.0001, 10)]


class TurnedSize(Table):
    """The size of a ball turned at a reading of the feed dial."""

    set: Annotated[float, length(0.5, 1000)] = Field(description="diameter the dial was set to")
    diameter: Annotated[float, length(0.001, 2000)] = Field(description="as measured")
    accuracy: Annotated[float, length(0.00001, 10)]


class Readings(FileTable):
    """A whole readings file."""

    units: Literal["mm", "cm", "m", "in", "ft"] | None = None
    ball: str | None = Field(
        None,
        description="its name in the job, or 'knob, the first' for the attachment's own; default: the"
        " job's only ball",
    )
    accuracy: Annotated[float, length(0.00001, 1)] = Field(
        description="of one reading: within it two times in three"
    )
    anvil: Annotated[float, length(0, 50)] = Field(
        USUAL_ANVIL_MM,
        description="diameter of the micrometer's flat anvils, 0 for points; default 6.4 mm or 1/4 in",
    )
    wall: Annotated[float, length(0, 2000)] | None = Field(
        None,
        description="behind the ball's centre to the wall of its relief, a shoulder or the jaws;"
        " default: far enough",
    )
    piece: str = Field(
        "", max_length=60, description="tells this ball from another of the same name"
    )
    before_nose: bool = Field(False, description="the sweep began before the nose and crossed it")
    arrangement: Literal["across", "upright"] = "across"
    reading: list[MeasuredAcross] = Field(default_factory=list)
    pip: list[SeenPip] = Field(default_factory=list)
    size: list[TurnedSize] = Field(default_factory=list)


class OwnKnob(Value, frozen=True):
    """The attachment's own knob as it is measured across: its ball, the seat that it stands on and the
    bar that it is turned from, mm."""

    diameter_mm: float
    stem_mm: float
    blank_mm: float


class Given(Value, frozen=True):
    """What a readings file says, for a job.

    ball: its name in the job; piece: what tells it from another of that name, or "".
    """

    measured: Measured
    rig: Rig
    ball: str
    piece: str


def read_readings(path: Path, job: Job, own: Callable[[], OwnKnob | None] = lambda: None) -> Given:
    """What a readings file says, for a job.

    own: gives the attachment's own knob, None where it is not turned with it; asked where it is named.
    Raises BadInput with every problem: of the file, or a ball that the job does not have.
    """
    file = str(path)
    read = read_table(path, Readings)
    named = {ball.name or f"ball {n}": ball for n, ball in enumerate(job.ball, 1)}
    name = read.ball or (next(iter(named)) if len(named) == 1 else "")
    tolerance = stem = blank = None
    if not job.ball and name in ("", "largest"):
        name, wanted = "largest", job.attachment.max_ball_diameter
    elif name in named:
        ball = named[name]
        wanted, stem, blank = ball.diameter, ball.stem_diameter, ball.blank_diameter
        tolerance = ball.tolerance
        if ball.shape == "socket":
            limit = "a hollow: a micrometer has nothing to go across"
            remedy = "Measure the mouth and how deep it is, as its sheet says: pommel turn"
            raise BadInput([finding("no-ball", file, "ball", name, limit, remedy)])
        if ball.shape == "hemisphere":
            _across_a_half(read, file)
    elif name == FIRST_BALL and (knob := own()) is not None:
        wanted, stem, blank = knob.diameter_mm, knob.stem_mm, knob.blank_mm
    else:
        limit = "no ball of that name in the job" if name else "which ball was measured is not said"
        remedy = f"Name one: {few(named) or 'largest'}"
        raise BadInput([finding("unknown-ball", file, "ball", read.ball or "", limit, remedy)])
    anvil = read.anvil
    if job.inch and "anvil" not in read.model_fields_set:
        anvil = INCH_ANVIL_MM
    division = job.attachment.screw_pitch / job.attachment.dial_divisions
    measured = Measured(
        tuple(Reading(one.angle, one.diameter) for one in read.reading),
        read.accuracy,
        wanted,
        stem if stem is not None else USUAL_STEM * wanted,
        anvil,
        tuple(Pip(pip.diameter, pip.accuracy, pip.ball_diameter) for pip in read.pip),
        read.before_nose,
        tuple(Size(one.set, one.diameter, one.accuracy) for one in read.size),
        tolerance,
        read.wall,
        blank or wanted,
    )
    most = max(job.turning.allowance, job.attachment.screw_pitch)
    over = OVER_INCH_MM if job.inch else OVER_MM
    rig = Rig(read.arrangement, division, job.lathe.cross_slide_division, False, most, over)
    return Given(measured, rig, name, read.piece)


def _across_a_half(read: Readings, file: str) -> None:
    """Half a ball is measured across at its equator alone: elsewhere the other anvil has no ball."""
    limit = "half a ball has no other side there"
    remedy = (
        "Measure it across at 90 alone, and its height over nose and flat once it is parted off"
    )
    found = [
        finding(
            "reading-angle", file, f"reading {n}", f"angle {one.angle:g} degrees", limit, remedy
        )
        for n, one in enumerate(read.reading, 1)
        if one.angle != 90.0
    ]
    if found:
        raise BadInput(found)


def reading_lines(path: Path, count: int) -> tuple[int, ...]:
    """The line of each of ``count`` readings' diameter, from 1; empty where they are not told apart.

    A reading is a table under [[reading]], or the braces of one line of a list.
    """
    found: list[int] = []
    inside = False
    for number, text in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        line = text.split("#")[0].strip()
        if line.startswith("["):
            inside = line.replace(" ", "").startswith("[[reading]]")
        braced = line.count("{") == 1 and "angle" in line and "diameter" in line
        if braced or (inside and line.startswith("diameter")):
            found.append(number)
    return tuple(found) if len(found) == count else ()
