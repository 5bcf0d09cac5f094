"""The rows of a list as a table, in millimetres or inches: its columns, heads and cells.

Imported by cli.list.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from planner.output.listing import Kind
from planner.words.inches import converted, heads
from planner.words.tables import Column, Table
from planner.words.units import MM_PER_INCH

HEADS = {
    "_kg_m3": ", kg/m3",
    "_kg_m": ", kg/m",
    "_m_min": ", m/min",
    "_mm2": ", mm2",
    "_mm": ", mm",
    "_um": ", um",
    "_lb_in3": ", lb/in3",
    "_lb_ft": ", lb/ft",
    "_ft_min": ", ft/min",
    "_in2": ", in2",
    "_psi": ", psi",
    "_in": ", in",
    "_thou": ", thou",
    "_MPa": ", MPa",
}
"""How a key that ends in a unit is headed in text."""


def heading(key: str) -> str:
    """The heading of a column from its key: "width_mm" is "width, mm"."""
    for end, unit in HEADS.items():
        if key.endswith(end):
            return key.removesuffix(end).replace("_", " ") + unit
    return key.replace("_", " ")


def list_table(one: Kind, rows: Sequence[Any], inch: bool = False) -> Table:
    """The rows as a table: for machines whole, in text with numbered sources below.

    inch: the text in inches, pounds and feet, a pitch as threads per inch; what the rows say in inches
    besides millimetres only so.
    """
    keys = one.keys
    shows = [key for key in keys if key not in ("source", "mark")]
    if inch:
        shows = [
            key
            for key in shows
            if f"{key.removesuffix('_mm')}_in" not in shows or key[-3:] == "_in"
        ]
    whole = tuple(tuple(getattr(row, key) for key in keys) for row in rows)
    numbers: dict[str, int] = {}
    shown = []
    for row in rows:
        origin = f"{row.source} ({row.mark})" if row.source != row.mark else row.source
        number = numbers.setdefault(origin, len(numbers) + 1)
        cells = [getattr(row, key) for key in shows]
        shown.append((*map(_cell, _in_inches(shows, cells) if inch else cells), str(number)))
    named = heads(tuple(shows), ()) if inch else shows
    return Table(
        name=one.name,
        title=f"{one.name}: {len(rows)}. {one.about}",
        columns=tuple(Column(key, heading(key)) for key in keys),
        rows=whole,
        shown=tuple(shown),
        heads=(*("tpi" if key == "pitch_in" else heading(key) for key in named), "source"),
        notes=("Sources", *(f"{number} {origin}" for origin, number in numbers.items())),
    )


def _in_inches(keys: Sequence[str], cells: Sequence[Any]) -> list[Any]:
    """A row's cells in inches; a pitch as threads per inch, what is no length to three figures."""
    told = converted(tuple(keys), tuple(cells), ())
    found = []
    for key, cell, one in zip(keys, cells, told, strict=True):
        if key == "pitch_mm" and cell:
            one = float(f"{MM_PER_INCH / cell:.4g}")
        elif isinstance(one, float) and one != cell and not key.endswith("_mm"):
            one = float(f"{one:.3g}")
            one = int(one) if one >= 100 else one
        found.append(one)
    return found


def _cell(value: Any) -> str:
    if value is None:
        return ""
    return f"{value:.6g}" if isinstance(value, float) else str(value)
