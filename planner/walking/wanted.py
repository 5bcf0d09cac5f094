"""What a set-up wants of an aid that is made first. Imported by planner.walking.aided and its rules."""

from __future__ import annotations

from collections.abc import Callable

from parts.value import Value
from planner.walking.records import Record

Said = Callable[[float], str]


class Wanted(Value, frozen=True):
    """An aid that a set-up wants: its name, its size where that is fixed, what of it must hold.

    asks: of its record, each with what is said where it does not: value, limit.
    """

    setup: int
    name: str
    size_mm: float | None = None
    asks: tuple[tuple[Callable[[Record], bool], str, str], ...] = ()
