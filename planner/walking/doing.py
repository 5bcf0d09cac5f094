"""An operation as the checks look at it. Imported by them."""

from __future__ import annotations

from msgspec import Struct

from planner.walking.cuts import Cut
from planner.walking.faults import Faults
from planner.walking.fixed import Fixed
from planner.walking.held import Held
from planner.walking.records import Record, table
from planner.walking.state import Piece


class Doing(Struct, dict=True):
    """An operation as it is looked at: on what, held how, the cut, by which tool."""

    piece: Piece
    operation: Record
    setup: Record
    kind: str
    machine: str
    cut: Cut
    held: Held | Fixed | None
    faults: Faults

    @property
    def tool(self) -> Record:
        """The tool's record."""
        return table(self.operation, "tool")
