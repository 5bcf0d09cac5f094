"""Cutting speeds by operation, tool and material group."""

from __future__ import annotations

from collections.abc import Iterable

from parts.standard.errors import unknown
from parts.standard.materials import materials
from parts.standard.table import load
from parts.value import Value


class SpeedRange(Value, frozen=True):
    """A range of cutting speed in m/min and where it comes from."""

    low_m_min: float
    high_m_min: float
    source: str
    mark: str


class SpeedRow(Value, frozen=True):
    """One published speed range; `material` is as published, `group` as materials.py has it."""

    operation: str
    tool: str
    group: str
    material: str
    low_m_min: float
    high_m_min: float
    source: str
    mark: str


class FactorRow(Value, frozen=True):
    """An operation whose speed is a share of its base operation's."""

    operation: str
    base: str
    low_factor: float
    high_factor: float
    source: str
    mark: str


def speed_m_min(operation: str, tool: str, group: str, grade: str = "") -> SpeedRange:
    """The range of cutting speed for an operation.

    Arguments:
        operation: turn, bore, face, part, thread, knurl, form, drill, counterbore, ream, mill, tap or
            saw.
        tool: "HSS" or "carbide".
        group: a material group of `parts.standard.materials.GROUPS`.
        grade: the material of that group by its name in the table of materials: rows published for
            another grade of it are left out, where others are left (304 is no 303).
    Returns the least low to the greatest high of the published rows that were seen, or of
    the rows from memory where none was seen. Handbooks scatter by a factor of two: the
    speed is a start, not a promise.
    Raises UnknownSize when no row covers the three.

    >>> speed_m_min("turn", "HSS", "mild steel").high_m_min
    45.0
    """
    for factor in speed_factors():
        if factor.operation == operation:
            base = speed_m_min(factor.base, tool, group, grade)
            return SpeedRange(
                base.low_m_min * factor.low_factor,
                base.high_m_min * factor.high_factor,
                f"{factor.source}; {base.source}",
                _joined((factor.mark, base.mark)),
            )
    rows = [
        row
        for row in speed_rows()
        if (row.operation, row.tool, row.group) == (operation, tool, group)
    ]
    if not rows:
        raise _uncovered(operation, tool, group)
    rows = [row for row in rows if "seen" in row.mark] or rows
    rows = [row for row in rows if not _another(row.material, grade)] or rows
    return SpeedRange(
        min(row.low_m_min for row in rows),
        max(row.high_m_min for row in rows),
        _joined(row.source for row in rows),
        _joined(row.mark for row in rows),
    )


def speed_rows() -> tuple[SpeedRow, ...]:
    """Every published speed, as data."""
    key = ("operation", "tool", "group", "material", "source")
    return load("cutting_speeds.csv", SpeedRow, key)


def speed_factors() -> tuple[FactorRow, ...]:
    """The operations that take their speed from another."""
    return load("speed_factors.csv", FactorRow, ("operation",))


def _another(published: str, grade: str) -> bool:
    """Whether a row was published for another grade than this one, and for that alone."""
    named, *rest = published.split()
    return bool(grade) and named != grade and rest[:1] != ["etc."] and named in _grades()


def _grades() -> frozenset[str]:
    return frozenset(one.name for one in materials())


def _uncovered(operation: str, tool: str, group: str) -> Exception:
    """The error that names the first of the three that is not in the tables."""
    operations = {row.operation for row in speed_rows()} | {f.operation for f in speed_factors()}
    for kind, name, known in (
        ("operation", operation, operations),
        ("tool", tool, {row.tool for row in speed_rows()}),
        ("material group", group, {row.group for row in speed_rows()}),
    ):
        if name not in known:
            return unknown(kind, name, sorted(known), f"one of {', '.join(sorted(known))}")
    covered = sorted({row.tool for row in speed_rows() if row.operation == operation})
    remedy = f"{operation} has speeds for {', '.join(covered)} tools"
    return unknown("cutting speed", f"{operation} {tool} {group}", [], remedy)


def _joined(texts: Iterable[str]) -> str:
    """The different texts, each once, in order."""
    return "; ".join(dict.fromkeys(texts))
