"""Nesting flat pieces on sheets and remnants, under a torch or for a saw, and the DXF of it.

Plain data in and out: ``nest`` lays out, ``check_nest`` goes over a nest on its own, ``write_sheet``
and ``write_piece`` (nest.dxf) write the files. Lengths in millimetres.
"""

from planner.nest.check import check_nest
from planner.nest.model import (
    Cut,
    Nest,
    NestError,
    NestSheet,
    NoSheet,
    Piece,
    Placed,
    Sheet,
)
from planner.nest.place import nest

__all__ = [
    "Cut",
    "Nest",
    "NestError",
    "NestSheet",
    "NoSheet",
    "Piece",
    "Placed",
    "Sheet",
    "check_nest",
    "nest",
]
