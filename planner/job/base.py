"""What every table of a file is. Imported by the tables of this room and by what reads files."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field


class Table(BaseModel):
    """A table of the file: no unknown keys, nothing changed once read."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True
    )


class FileTable(Table):
    """A whole file: it says its format, and none means the first.

    The literal of ``format`` lists the numbers that are read; a file's own other one is refused before
    anything else of it is looked at.
    """

    format: Literal[1] = Field(1, description="of this file; default: 1")
