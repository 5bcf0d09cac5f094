"""The one loader of the project's tables: a CSV file into typed rows, checked."""

from __future__ import annotations

import csv
import functools
import math
import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, Protocol, TypeVar, get_type_hints

from parts.standard.errors import BadTable

FOLDER = Path(__file__).parent
SOURCES = "sources.csv"
MARKS = ("seen", "computed", "memory", "common practice")


class Sourced(Protocol):
    """What every row of every table carries."""

    @property
    def source(self) -> str: ...
    @property
    def mark(self) -> str: ...


Row = TypeVar("Row", bound=Sourced)


def load(file_name: str | Path, row_type: type[Row], key: tuple[str, ...] = ()) -> tuple[Row, ...]:
    """Read a table into a tuple of rows, in the order of the file; each file once.

    Arguments:
        file_name: a CSV file of this package, or the Path of any other.
        row_type: a dataclass whose field names are the column names; each value is converted
            by its field's annotation (str, int, float, `float | None` for a blank).
        key: the columns that together may not repeat; by default all but source and mark.
    Lines that start with '#' are comments. Every row has a `source` and a `mark` (one or
    more of seen, seen-derived, computed, memory, common practice, with remarks). A source
    may cite a long text by its key, "[iso-235]"; the row then has the text of sources.csv.
    Raises BadTable at the first thing that is wrong.
    """
    rows: tuple[Row, ...] = _read(file_name, row_type, key)
    return rows


@functools.cache
def _read(file_name: str | Path, row_type: type[Row], key: tuple[str, ...]) -> tuple[Row, ...]:
    path = file_name if isinstance(file_name, Path) else FOLDER / file_name
    if not path.is_file():
        raise BadTable(path.name, 0, "", path.name, "the file is not there; check its name")
    with path.open(encoding="utf-8", newline="") as stream:
        return tuple(_rows(_numbered(stream, path.name), path.name, row_type, key))


def _numbered(stream: Iterable[str], file: str) -> Iterator[tuple[int, list[str]]]:
    """Line number and cells of every line that is neither a comment nor blank."""
    for number, line in enumerate(stream, start=1):
        if not line.strip() or line.startswith("#"):
            continue
        if '"' not in line:
            yield number, [cell.strip() for cell in line.split(",")]
            continue
        try:
            cells = next(csv.reader([line], strict=True))
        except csv.Error as wrong:
            text = line.strip()
            raise BadTable(file, number, "", text, f"{wrong}; mend the quotes") from wrong
        yield number, [cell.strip() for cell in cells]


def _rows(
    lines: Iterator[tuple[int, list[str]]], file: str, row_type: type[Row], key: tuple[str, ...]
) -> Iterator[Row]:
    convert = _converters(row_type)
    line, header = next(lines, (1, []))
    for column in convert:
        if column not in header:
            raise BadTable(file, line, column, "", f"column missing; {row_type.__name__} has it")
    for column in header:
        if column not in convert or header.count(column) > 1:
            raise BadTable(file, line, column, "", "column unknown or twice; take it out")
    key = key or tuple(column for column in header if column not in ("source", "mark"))
    seen: dict[tuple[str, ...], int] = {}
    for line, cells in lines:
        if len(cells) != len(header):
            remedy = f"{len(cells)} cells under {len(header)} columns; quote commas"
            raise BadTable(file, line, "", ",".join(cells), remedy)
        row = dict(zip(header, cells))  # noqa: B905 - the length is checked above
        _check_origin(file, line, row)
        name = tuple(row[column] for column in key)
        if name in seen:
            remedy = f"same key as line {seen[name]}; keep one"
            raise BadTable(file, line, "+".join(key), " ".join(name), remedy)
        seen[name] = line
        row["source"] = _cited(row["source"], file, line)
        values = {}
        for column, text in row.items():
            try:
                values[column] = convert[column](text)
            except _NotANumber as wrong:
                raise BadTable(file, line, column, text, str(wrong)) from wrong
        yield row_type(**values)


@functools.cache
def source_texts() -> dict[str, str]:
    """The long sources by the key that tables cite them by: sources.csv."""
    texts: dict[str, str] = {}
    with (FOLDER / SOURCES).open(encoding="utf-8", newline="") as stream:
        for line, cells in _numbered(stream, SOURCES):
            if len(cells) != 2 or not all(cells) or cells[0] in texts:
                remedy = "write key,text, each key once; quote commas"
                raise BadTable(SOURCES, line, "key", ",".join(cells), remedy)
            texts[cells[0]] = cells[1]
    texts.pop("key")  # the header
    return texts


def _cited(source: str, file: str, line: int) -> str:
    """A source with the texts it cites in place of their keys."""
    if "[" not in source:
        return source

    def text(key: re.Match[str]) -> str:
        if key[1] not in source_texts():
            raise BadTable(file, line, "source", key[0], f"cites no key of {SOURCES}; add it there")
        return source_texts()[key[1]]

    return re.sub(r"\[([^\]]*)\]", text, source)


def _check_origin(file: str, line: int, row: dict[str, str]) -> None:
    if not row["source"]:
        raise BadTable(file, line, "source", "", "every row names its source; write it in")
    if not row["mark"].startswith(MARKS):
        raise BadTable(file, line, "mark", row["mark"], f"mark it with one of {', '.join(MARKS)}")


def _converters(row_type: type[Any]) -> dict[str, Callable[[str], Any]]:
    """A converter for each field of the row type, by its annotation."""
    known: dict[Any, Callable[[str], Any]] = {
        str: str,
        int: _int,
        float: _float,
        float | None: lambda text: _float(text) if text else None,
    }
    hints = get_type_hints(row_type)
    names = list(hints)
    for column in ("source", "mark"):
        if column not in names:
            raise TypeError(f"{row_type.__name__} has no field {column!r}; every row carries one")
    return {name: known[hints[name]] for name in names}


class _NotANumber(Exception):
    """A cell that its column's type cannot be read from; says what to write."""


def _float(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise _NotANumber("not a number; write digits and a decimal point") from None
    if not math.isfinite(value):
        raise _NotANumber("not a finite number; write digits and a decimal point")
    return value


def _int(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        raise _NotANumber("not a whole number; write digits only") from None
