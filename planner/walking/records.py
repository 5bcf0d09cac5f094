"""Reading a route's records: plain dictionaries that may lack what they should say.

A value that is not there raises Missing, which the walk tells as a finding of its own. Imported by the
rest of this room.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from parts.standard.sections import MM_PER_INCH
from planner.walking.shape import Line

Record = Mapping[str, Any]


class Missing(Exception):
    """A record does not say what it must; key: what is not there."""

    def __init__(self, key: str) -> None:
        self.key = key
        super().__init__(key)


def need(record: Record, key: str) -> Any:
    """A value that must be there. Raises Missing where it is not or is None."""
    value = record.get(key)
    if value is None:
        raise Missing(key)
    return value


def number(record: Record, key: str) -> float:
    """A number that must be there."""
    value = need(record, key)
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Missing(key)
    return float(value)


def text(record: Record, key: str) -> str:
    """Words that must be there and not be empty."""
    value = need(record, key)
    if not isinstance(value, str) or not value:
        raise Missing(key)
    return value


def table(record: Record, key: str) -> Record:
    """A table that must be there."""
    value = need(record, key)
    if type(value) is not dict and not isinstance(value, Mapping):
        raise Missing(key)
    return value


def rows(record: Record, key: str) -> Sequence[Record]:
    """A list of tables; none is an empty one."""
    value = record.get(key)
    if value is None:
        return ()
    return list(value)


def length_said(pattern: str, words: str, inch: bool) -> float | None:
    """A length that words say, mm: the first group of a pattern; None where it is not there.

    Of an inch job decimals, or inches and a fraction.
    """
    found = re.search(pattern, words)
    if found is None:
        return None
    return float(sum(map(Fraction, found[1].split("-")))) * (MM_PER_INCH if inch else 1.0)


def pair(record: Record, low: str = "from_mm", high: str = "to_mm") -> tuple[float, float]:
    """Two coordinates, the lower first."""
    a, b = number(record, low), number(record, high)
    return (a, b) if a <= b else (b, a)


def direction(word: Any, key: str = "direction") -> tuple[int, int]:
    """The index and sign of a direction word such as "-y"."""
    if not isinstance(word, str) or len(word) != 2 or word[0] not in "+-" or word[1] not in "xyz":
        raise Missing(key)
    return "xyz".index(word[1]), 1 if word[0] == "+" else -1


def line(record: Record, key: str = "axis") -> Line:
    """A line: {"along": "+x", "through": [x, y, z]}, or a direction alone, then through the origin."""
    value = need(record, key)
    if isinstance(value, str):
        along, sign = direction(value, key)
        return Line(along, sign, (0.0, 0.0, 0.0))
    along, sign = direction(value.get("along"), key)
    through = need(value, "through")
    return Line(along, sign, (float(through[0]), float(through[1]), float(through[2])))


def box(record: Record, key: str = "box") -> tuple[list[float], list[float]]:
    """Two corners, the lower first in every direction."""
    value = need(record, key)
    a, b = ([float(v) for v in corner] for corner in value)
    return [min(p) for p in zip(a, b, strict=True)], [max(p) for p in zip(a, b, strict=True)]


def where(operation: Record) -> str:
    """How a finding names an operation."""
    return f"step {operation.get('number', '?')}"
