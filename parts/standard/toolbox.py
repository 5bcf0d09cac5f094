"""Reamers and tool bits a dealer stocks, and the standard that bought items are ordered to."""

from __future__ import annotations

from parts.standard.errors import unknown
from parts.standard.table import load
from parts.standard.threads import thread
from parts.value import Value


class ToolBitRow(Value, frozen=True):
    """A square tool bit; system is "metric" or "inch"."""

    system: str
    side_mm: float
    source: str
    mark: str


class ReamerRow(Value, frozen=True):
    """A reamer; system is "metric" or "inch"."""

    system: str
    diameter_mm: float
    source: str
    mark: str


class FastenerStandardRow(Value, frozen=True):
    """The standard of one kind of fastener in one thread system."""

    kind: str
    system: str
    standard: str
    source: str
    mark: str


def tool_bits_mm(inch: bool = False) -> tuple[float, ...]:
    """Sides of the stocked square tool bits, rising, mm."""
    rows = load("tool_bits.csv", ToolBitRow)
    return tuple(row.side_mm for row in rows if row.system == ("inch" if inch else "metric"))


def reamers_mm(inch: bool = False) -> tuple[float, ...]:
    """Diameters of the stocked reamers, rising, mm."""
    rows = load("reamers.csv", ReamerRow)
    return tuple(row.diameter_mm for row in rows if row.system == ("inch" if inch else "metric"))


def fastener_standard(kind: str, thread_name: str, inch: bool | None = None) -> str:
    """The standard a fastener is ordered to.

    kind: as ``parts.part.Bought`` has it; thread_name: its thread, or that which it goes with. inch: of
    what is cut from sheet, whether the shop is one of inches: its sheet is, whatever the thread.
    Raises UnknownSize when there is none.
    """
    system = thread(thread_name).system if inch is None else "unified" if inch else "metric"
    rows = load("fastener_standards.csv", FastenerStandardRow)
    for row in rows:
        if (row.kind, row.system) == (kind, system):
            return row.standard
    raise unknown("fastener", f"{kind} {thread_name}", [row.kind for row in rows])
