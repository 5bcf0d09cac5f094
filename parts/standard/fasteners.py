"""Screws, nuts, washers and their clearance holes, metric (ISO) and inch (ASME)."""

from __future__ import annotations

import functools
import math
from collections.abc import Sequence
from typing import Protocol, TypeVar

from parts.standard.errors import UnknownSize, unknown
from parts.standard.table import load
from parts.standard.threads import ThreadSize, thread
from parts.value import Value


class SocketScrew(Value, frozen=True):
    """A socket head cap screw: greatest head sizes (plain head), key and stock lengths in mm."""

    thread: ThreadSize
    head_diameter_mm: float
    head_height_mm: float
    key_name: str
    key_mm: float
    lengths_mm: tuple[float, ...]


class SetScrew(Value, frozen=True):
    """A socket set screw: its key and its stock lengths (overall) in mm."""

    thread: ThreadSize
    key_name: str
    key_mm: float
    lengths_mm: tuple[float, ...]


class ThinNut(Value, frozen=True):
    """A thin (jam) hexagon nut: width across flats and height in mm."""

    thread: ThreadSize
    across_flats_mm: float
    height_mm: float


class Washer(Value, frozen=True):
    """A plain washer, nominal sizes in mm; `size` is the screw's size, "M8" or "1/4"."""

    size: str
    inside_mm: float
    outside_mm: float
    thickness_mm: float
    source: str
    mark: str


class SocketScrewRow(Value, frozen=True):
    """One row of socket_screws.csv."""

    thread: str
    head_diameter_mm: float
    head_height_mm: float
    key_name: str
    key_mm: float
    length_min_mm: float
    length_max_mm: float
    source: str
    mark: str


class SetScrewRow(Value, frozen=True):
    """One row of set_screws.csv."""

    thread: str
    key_name: str
    key_mm: float
    length_min_mm: float
    length_max_mm: float
    source: str
    mark: str


class ThinNutRow(Value, frozen=True):
    """One row of thin_nuts.csv."""

    thread: str
    pitch_mm: float
    across_flats_mm: float
    height_mm: float
    source: str
    mark: str


class ClearanceRow(Value, frozen=True):
    """One row of clearance_holes.csv."""

    size: str
    fit: str
    hole_mm: float
    hole_name: str
    source: str
    mark: str


class LengthRow(Value, frozen=True):
    """One row of screw_lengths.csv."""

    family: str
    system: str
    length_mm: float
    length_name: str
    source: str
    mark: str


@functools.cache
def socket_screw(thread_name: str) -> SocketScrew:
    """The socket head cap screw of a thread.

    Arguments:
        thread_name: M3 to M24 coarse (ISO 4762) or No.4 to 1 in UNC and UNF (ASME B18.3).
    Raises UnknownSize when there is no such thread or screw. A knurled head may be up to
    0.4 mm larger than the plain head given here.
    """
    size = thread(thread_name)
    row = _of_thread("socket screw", size, load("socket_screws.csv", SocketScrewRow, ("thread",)))
    return SocketScrew(
        size,
        row.head_diameter_mm,
        row.head_height_mm,
        row.key_name,
        row.key_mm,
        _lengths("socket screw", size, row.length_min_mm, row.length_max_mm),
    )


@functools.cache
def set_screw(thread_name: str) -> SetScrew:
    """The socket set screw of a thread.

    Arguments:
        thread_name: M3 to M24 coarse (ISO 4026, 4029) or No.4 to 1 in UNC and UNF (ASME B18.3).
    Raises UnknownSize when there is no such thread or screw.
    """
    size = thread(thread_name)
    row = _of_thread("set screw", size, load("set_screws.csv", SetScrewRow, ("thread",)))
    lengths = _lengths("set screw", size, row.length_min_mm, row.length_max_mm)
    return SetScrew(size, row.key_name, row.key_mm, lengths)


@functools.cache
def thin_nut(thread_name: str) -> ThinNut:
    """The thin nut of a thread, coarse or fine.

    Arguments:
        thread_name: M3 to M24 (ISO 4035 coarse, ISO 8675 fine), No.6 to No.10 (ASME B18.2.2
            machine screw nuts) or 1/4 to 1 in (its jam nuts, the same for UNC and UNF).
    Raises UnknownSize when there is no such thread or nut.
    """
    size = thread(thread_name)
    row = _of_thread("thin nut", size, load("thin_nuts.csv", ThinNutRow, ("thread",)))
    return ThinNut(size, row.across_flats_mm, row.height_mm)


@functools.cache
def washer(thread_name: str) -> Washer:
    """The plain washer for a thread, by its diameter alone.

    Arguments:
        thread_name: M3 to M24 (ISO 7089) or No.6 to 1 in (ASME B18.21.1 type A narrow).
    Raises UnknownSize when there is no such thread or washer.
    """
    size = thread(thread_name).size_name
    rows = {row.size: row for row in load("washers.csv", Washer, ("size",))}
    if size not in rows:
        raise unknown("washer", size, list(rows))
    return rows[size]


def clearance_hole_mm(thread_name: str, fit: str = "medium") -> float:
    """The clearance hole for a thread, in mm.

    Arguments:
        thread_name: any thread of M3 to M24 (ISO 273), a trapezoidal one of as much outside, or one of
            No.4 to 1 in (ASME B18.2.8).
        fit: "close" or "medium" ("normal" is the same).
    Raises UnknownSize when there is no such thread, fit or hole.
    """
    return clearance_hole(thread_name, fit).hole_mm


@functools.cache
def clearance_hole(thread_name: str, fit: str = "medium") -> ClearanceRow:
    """The row of the clearance hole: its size, the drill's name and its source."""
    wanted = "medium" if fit == "normal" else fit
    rows = load("clearance_holes.csv", ClearanceRow, ("size", "fit"))
    if wanted not in {row.fit for row in rows}:
        raise UnknownSize("clearance fit", fit, "medium", "use close or medium")
    size = thread(thread_name).size_name.replace("Tr", "M")
    for row in rows:
        if row.size == size and row.fit == wanted:
            return row
    raise unknown("clearance hole", size, [row.size for row in rows])


def screw_lengths_mm(inch: bool = False) -> tuple[float, ...]:
    """The standard lengths of cap screws, in mm, the shortest first; inch: of inch screws."""
    return tuple(
        row.length_mm for row in _length_rows("socket screw", "inch" if inch else "metric")
    )


def screw_length_mm(at_least_mm: float, inch: bool = False) -> float:
    """The shortest standard cap screw length that is at least this long, in mm.

    Arguments:
        at_least_mm: 0 to 200 mm (inch lengths: to 152.4 mm).
        inch: choose among inch lengths.
    Raises UnknownSize when it is longer than every standard length.
    """
    lengths = _length_rows("socket screw", "inch" if inch else "metric")
    if not (math.isfinite(at_least_mm) and at_least_mm <= lengths[-1].length_mm):
        longest = lengths[-1].length_name
        raise UnknownSize("screw length", f"{at_least_mm:g} mm", longest, f"at most {longest}")
    # A grain of grace, so that 2 in worked out in mm is met by a 2 in screw.
    return next(row.length_mm for row in lengths if row.length_mm >= at_least_mm - 1e-6)


class _OfThread(Protocol):
    """A row that belongs to one thread."""

    @property
    def thread(self) -> str: ...


ThreadRow = TypeVar("ThreadRow", bound=_OfThread)


def _of_thread(kind: str, size: ThreadSize, rows: Sequence[ThreadRow]) -> ThreadRow:
    for row in rows:
        if row.thread == size.designation:
            return row
    made = (thread(row.thread) for row in rows)
    same_system = (other for other in made if other.system == size.system)
    near = min(same_system, key=lambda other: abs(other.major_mm - size.major_mm), default=None)
    raise UnknownSize(kind, size.designation, near.designation if near else "")


def _lengths(
    family: str, size: ThreadSize, shortest_mm: float, longest_mm: float
) -> tuple[float, ...]:
    system = "inch" if size.system == "unified" else "metric"
    lengths = (row.length_mm for row in _length_rows(family, system))
    return tuple(length for length in lengths if shortest_mm <= length <= longest_mm)


@functools.cache
def _length_rows(family: str, system: str) -> tuple[LengthRow, ...]:
    rows = load("screw_lengths.csv", LengthRow)
    chosen = (row for row in rows if (row.family, row.system) == (family, system))
    return tuple(sorted(chosen, key=lambda row: row.length_mm))
