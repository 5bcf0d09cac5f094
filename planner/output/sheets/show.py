"""Values as a sheet shows them, in the job's unit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from parts.standard.sections import Section
from planner.words.units import show_length, unit_name


@dataclass(frozen=True)
class Show:
    """Says values in the job's unit."""

    inch: bool

    @property
    def unit(self) -> str:
        """The unit's name."""
        return unit_name(self.inch)

    def length(self, mm: float, decimals: int | None = None) -> str:
        """A length without its unit."""
        return show_length(mm, self.inch, decimals)

    def value(self, value: Any) -> str:
        """A size: a length, a section, a count or a name."""
        if isinstance(value, Section):
            return value.label(self.inch)
        if isinstance(value, float):
            return f"{self.length(value)} {self.unit}"
        return str(value)

    def rows(self, rows: Iterable[Sequence[Any]]) -> tuple[tuple[str, ...], ...]:
        """Rows whose floats are lengths, the rest as it is."""
        return tuple(
            tuple(self.length(v) if isinstance(v, float) else str(v) for v in row) for row in rows
        )


def plain(value: Any) -> Any:
    """A value as a row has it: sections by name, lengths to 0.0001 mm."""
    if isinstance(value, Section):
        return value.label()
    return round(value, 4) if isinstance(value, float) else value
