"""Rows of a table: what stands in them for machines, and as a sheet shows them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from parts.standard.sections import Section
from planner.words.numbers import Numbers


def recorded(value: Any) -> Any:
    """A size as a row has it for machines: sections by their metric name, lengths to 0.0001 mm."""
    if isinstance(value, Section):
        return value.label()
    return round(value, 4) if isinstance(value, float) else value


def shown_rows(rows: Iterable[Sequence[Any]], numbers: Numbers) -> tuple[tuple[str, ...], ...]:
    """Rows as a sheet shows them whose floats are all lengths; the heads name the unit."""
    return tuple(tuple(numbers.plain.value(value) for value in row) for row in rows)
