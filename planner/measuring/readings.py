"""What was measured on a turned ball, as a file: TOML to measuring.correct's plain data.

Imported by the commands. The file names a ball of the job, so that its size and stem are known.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field

from parts.tool import USUAL_STEM
from planner.job.base import FileTable, Table
from planner.job.fields import length
from planner.job.reading import read_table
from planner.job.tables import Job
from planner.measuring.correct import Measured, Pip, Reading, Rig, Size
from planner.words.findings import BadInput, finding


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
    ball: str | None = Field(None, description="its name in the job; default: the job's only ball")
    accuracy: Annotated[float, length(0.00001, 10)] = Field(
        description="of one reading: within it two times in three"
    )
    anvil: Annotated[float, length(0, 50)] = Field(
        0.0, description="diameter of the micrometer's flat anvils"
    )
    before_nose: bool = Field(False, description="the sweep began before the nose and crossed it")
    arrangement: Literal["across", "upright"] = "across"
    reading: list[MeasuredAcross] = Field(default_factory=list)
    pip: list[SeenPip] = Field(default_factory=list)
    size: list[TurnedSize] = Field(default_factory=list)


def read_readings(path: Path, job: Job) -> tuple[Measured, Rig, str]:
    """What a readings file says, for a job: what was measured, what moves the tip, the ball's name.

    Raises BadInput with every problem: of the file, or a ball that the job does not have.
    """
    file = str(path)
    read = read_table(path, Readings)
    named = {ball.name or f"ball {n}": ball for n, ball in enumerate(job.ball, 1)}
    name = read.ball or (next(iter(named)) if len(named) == 1 else "")
    if not job.ball and name in ("", "largest"):
        name, wanted, stem = "largest", job.attachment.max_ball_diameter, None
    elif name in named:
        wanted, stem = named[name].diameter, named[name].stem_diameter
    else:
        limit = "no ball of that name in the job" if name else "which ball was measured?"
        remedy = f"Name one: {', '.join(named) or 'largest'}"
        raise BadInput([finding("unknown-ball", file, "ball", read.ball or "", limit, remedy)])
    division = job.attachment.screw_pitch / job.attachment.dial_divisions
    measured = Measured(
        tuple(Reading(one.angle, one.diameter) for one in read.reading),
        read.accuracy,
        wanted,
        stem if stem is not None else USUAL_STEM * wanted,
        read.anvil,
        tuple(Pip(pip.diameter, pip.accuracy, pip.ball_diameter) for pip in read.pip),
        read.before_nose,
        tuple(Size(one.set, one.diameter, one.accuracy) for one in read.size),
    )
    rig = Rig(read.arrangement, division, job.lathe.cross_slide_division)
    return measured, rig, name
