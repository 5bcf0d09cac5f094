"""A table of values and its three faces: text for the terminal, CSV, and rows for JSON.

Everything the commands print and the build writes as a table goes through here.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from typing import Any

from parts.value import Value
from planner.words.inches import converted, heads
from planner.words.short import odd_signs


class Column(Value, frozen=True):
    """One column: its key in CSV and JSON, and its heading in text."""

    key: str
    heading: str


class Table(Value, frozen=True):
    """A table: name is its file and JSON name; rows hold one value a column.

    ``shown`` rows, when given, are what text prints instead (lengths in the job's unit, say), under
    ``heads`` where those differ; with no row shown, text prints title and notes only. ``lengths``: keys
    of columns whose numbers are lengths in mm though they name no unit.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Any, ...], ...]
    shown: tuple[tuple[str, ...], ...] | None = None
    notes: tuple[str, ...] = ()
    heads: tuple[str, ...] | None = None
    lengths: tuple[str, ...] = ()

    def records(self) -> list[dict[str, Any]]:
        """The rows as dictionaries, for JSON."""
        keys = [column.key for column in self.columns]
        return [dict(zip(keys, map(_cell, row), strict=True)) for row in self.rows]


def _cell(value: Any) -> Any:
    """A value as it goes into a file: a zero never below nothing."""
    return value + 0.0 if isinstance(value, float) else value


FINEST_PLACES = 9
"""Decimals of the smallest numbers in CSV, which a float would write by a power of ten."""

WIDEST = 48
"""Longest cell of a text table before it is wrapped: so that a table goes on a sheet of paper."""


def columns(*pairs: tuple[str, str]) -> tuple[Column, ...]:
    """Columns from (key, heading) pairs."""
    return tuple(Column(key, heading) for key, heading in pairs)


def as_text(tables: Sequence[Table]) -> str:
    """The tables under their titles, as plain text."""
    from tabulate import tabulate

    blocks = []
    for table in tables:
        rows = table.rows if table.shown is None else table.shown
        parts = [table.title]
        if rows or table.shown is None:
            heads = table.heads or [column.heading for column in table.columns]
            cells = [["" if v is None else v for v in row] for row in rows]
            # a column is wrapped where it has to be: to look is quicker than to wrap what fits
            long = [
                max(len(str(cell)) for cell in column) > WIDEST
                for column in zip(*cells, strict=True)
            ]
            body = tabulate(
                cells,
                headers=heads,
                tablefmt="simple",
                disable_numparse=True,
                maxcolwidths=[WIDEST if one else None for one in long],
            )
            parts.append(body)
        parts += ["\n".join(table.notes)] if table.notes else []
        blocks.append("\n\n".join(parts))
    return "\n\n".join(block.rstrip() for block in blocks) + "\n"


def as_csv(table: Table, inch: bool = False) -> str:
    """The table as CSV with its keys in the first line; inch: in the units of an inch shop."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    keys = tuple(column.key for column in table.columns)
    writer.writerow(heads(keys, table.lengths) if inch else keys)
    for row in table.rows:
        if inch:
            row = tuple(converted(keys, row, table.lengths))
        writer.writerow(["" if value is None else _written(_cell(value)) for value in row])
    return out.getvalue()


def _written(value: Any) -> Any:
    """A number as a person reads it, "0.000031" where a float says 3.1e-05."""
    if isinstance(value, float) and "e-" in str(value):
        text = f"{value:z.{FINEST_PLACES}f}".rstrip("0")
        return f"{text}0" if text.endswith(".") else text
    return value


def as_json(record: Any) -> str:
    """A record as strict JSON, for files and for stdout; raises ValueError on NaN and infinity."""
    import json

    from msgspec.json import format

    # laid out in a second pass: json does both at once in Python alone, several times as long
    flat = json.dumps(record, ensure_ascii=False, allow_nan=False)
    text = format(flat.encode("utf-8", "surrogatepass"), indent=1).decode("utf-8", "surrogatepass")
    text = re.sub(r"(?<=[\s:\[])-0\.0(?=[,\n\]}])", "0.0", text)
    for sign in odd_signs(text, keep="\n"):  # inside words alone: a path may have any sign
        text = text.replace(sign, json.dumps(sign)[1:-1])
    return text + "\n"
