"""The loader: what it reads, what it refuses, and every row of every table of the project."""

from __future__ import annotations

import csv
import importlib
import pkgutil
import re
from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import fields

import parts.standard
from parts.standard.drills import DrillRow
from parts.standard.errors import BadTable, UnknownSize, unknown
from parts.standard.table import MARKS, SOURCES, load, source_texts
from parts.value import Value

FOLDER = Path(parts.standard.__file__).parent
TABLES = sorted({path.name for path in FOLDER.glob("*.csv")} - {SOURCES})


def row_types() -> list[type[Any]]:
    """Every row type of the package: a value that carries a source and a mark."""
    modules = [
        importlib.import_module(f"parts.standard.{module.name}")
        for module in pkgutil.iter_modules([str(FOLDER)])
    ]
    return [
        kind
        for module in modules
        for kind in vars(module).values()
        if isinstance(kind, type)
        and issubclass(kind, Value)
        and {"source", "mark"} < {field.name for field in fields(kind)}
    ]


def row_type_of(file_name: str) -> type[Any] | None:
    """The row type whose fields are the columns of a table."""
    lines = (FOLDER / file_name).read_text(encoding="utf-8").splitlines()
    header = next(line for line in lines if not line.startswith("#")).split(",")
    same = [kind for kind in row_types() if {field.name for field in fields(kind)} == set(header)]
    return same[0] if same else None


# Columns where nought or less has a meaning: a solid bar, the line of zero deviation.
MAY_BE_NOUGHT = {"thickness_mm", "over_mm", "deviation_um"}
MAY_BE_NOUGHT |= {"over_in", "hole_lower_thou", "shaft_upper_thou", "shaft_lower_thou"}
MAY_BE_NOUGHT |= {"upto_mm", "feed_mm", "depth_mm", "least_mm"}  # of any size; the pitch; none
# Makers, dealers and pages of the web; a standard, a handbook or the sort of table is cited instead.
TRADERS = (
    *("sharpe", "cincinnati", "grizzly", "iscar", "skf", "protocutter", "thyssen", "g0619"),
    *("www", "http", ".com", ".org", "github", "engineeringtoolbox", "engineersedge"),
)


class Row(Value, frozen=True):
    name: str
    size_mm: float
    count: int
    spare_mm: float | None
    source: str
    mark: str


HEADER = "name,size_mm,count,spare_mm,source,mark\n"
GOOD = "a,1.5,2,,a book,seen\n"


def written(folder: Path, text: str) -> Path:
    path = folder / "table.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_every_table_has_a_row_type() -> None:
    assert len(TABLES) >= 17
    assert [name for name in TABLES if row_type_of(name) is None] == []


@pytest.mark.parametrize("file_name", TABLES)
def test_every_row_has_a_source_and_sound_numbers(file_name: str) -> None:
    row_type = row_type_of(file_name)
    assert row_type is not None
    rows = load(file_name, row_type)
    assert rows
    for row in rows:
        assert row.source.strip()
        assert row.mark.startswith(MARKS)
        assert not any(name in row.source.lower() for name in TRADERS), row
        for field in fields(row):
            value = getattr(row, field.name)
            if isinstance(value, float | int) and field.name not in MAY_BE_NOUGHT:
                assert value > 0, (file_name, row, field.name)


def cells_of_sources() -> list[str]:
    """The source cell of every row of every table, as it is written."""
    cells = []
    for name in TABLES:
        lines = (FOLDER / name).read_text(encoding="utf-8").splitlines()
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        cells += [row["source"] for row in rows]
    return cells


def test_a_long_source_is_written_once_and_cited_by_its_key() -> None:
    cells = cells_of_sources()
    assert len(cells) > 1500
    cited = {key for cell in cells for key in re.findall(r"\[(.*?)\]", cell)}
    assert cited == set(source_texts()) and len(cited) > 30
    assert max(map(len, cells)) <= 92  # the row adds only what is its own
    rows = load("drills.csv", DrillRow)
    assert rows[0].source == source_texts()["iso-235"] and "[" not in rows[0].source


def test_a_source_that_cites_no_key_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path, HEADER + "a,1.5,2,,see [no-such-key],seen\n")
    with pytest.raises(BadTable, match="sources.csv") as refusal:
        load(path, Row)
    assert (refusal.value.line, refusal.value.value) == (2, "[no-such-key]")


def test_values_are_converted_by_annotation(tmp_path: Path) -> None:
    path = written(tmp_path, "# a remark\n" + HEADER + "\n" + GOOD + '"b, long",2,3,4,x,memory\n')
    assert load(path, Row) == (
        Row("a", 1.5, 2, None, "a book", "seen"),
        Row("b, long", 2.0, 3, 4.0, "x", "memory"),
    )


def test_a_table_is_read_once(tmp_path: Path) -> None:
    path = written(tmp_path, HEADER + GOOD)
    assert load(path, Row) is load(path, Row)


@pytest.mark.parametrize(
    ("text", "line", "column", "value", "remedy"),
    [
        (HEADER + "a,1.5,2,,,seen\n", 2, "source", "", "source"),
        (HEADER + "a,1.5,2,,a book,\n", 2, "mark", "", "seen"),
        (HEADER + "a,1.5,2,,a book,unseen\n", 2, "mark", "unseen", "seen"),
        (HEADER + GOOD + "b,wide,2,,a book,seen\n", 3, "size_mm", "wide", "not a number"),
        (HEADER + "b,,2,,a book,seen\n", 2, "size_mm", "", "not a number"),
        (HEADER + "b,nan,2,,a book,seen\n", 2, "size_mm", "nan", "finite"),
        (HEADER + "b,1,2,inf,a book,seen\n", 2, "spare_mm", "inf", "finite"),
        (HEADER + "b,1,2.5,,a book,seen\n", 2, "count", "2.5", "whole number"),
        (
            HEADER + GOOD + "# again\n" + GOOD,
            4,
            "name+size_mm+count+spare_mm",
            "a 1.5 2 ",
            "line 2",
        ),
        ("name,size_mm,count,source,mark\n", 1, "spare_mm", "", "missing"),
        ("name,size_in," + HEADER.split(",", 1)[1] + GOOD, 1, "size_in", "", "unknown"),
        ("name," + HEADER + GOOD, 1, "name", "", "twice"),
        (HEADER + "a,1.5,2,,a book, part 2,seen\n", 2, "", "a,1.5,2,,a book,part 2,seen", "quote"),
        (HEADER + '"a,1.5,2,,a book,seen\n', 2, "", '"a,1.5,2,,a book,seen', "quotes"),
        ("", 1, "name", "", "missing"),
    ],
)
def test_a_faulty_table_is_refused_with_its_place(
    tmp_path: Path, text: str, line: int, column: str, value: str, remedy: str
) -> None:
    with pytest.raises(BadTable) as refusal:
        load(written(tmp_path, text), Row)
    error = refusal.value
    assert (error.file, error.line, error.column, error.value) == ("table.csv", line, column, value)
    assert remedy in error.remedy
    assert "table.csv" in str(error) and f"line {line}" in str(error) and remedy in str(error)


def test_a_repeated_key_is_refused_though_the_rest_differs(tmp_path: Path) -> None:
    path = written(tmp_path, HEADER + GOOD + "a,9,9,9,a book,seen\n")
    assert len(load(path, Row)) == 2
    with pytest.raises(BadTable, match="same key as line 2"):
        load(path, Row, ("name",))


def test_a_missing_file_is_refused() -> None:
    with pytest.raises(BadTable, match="nowhere.csv"):
        load("nowhere.csv", Row)


def test_unknown_size_names_the_nearest() -> None:
    error = unknown("thread", "m80", ["M8", "M10", "Tr10x2"])
    assert isinstance(error, UnknownSize) and not isinstance(error, ValueError)
    assert (error.kind, error.name, error.nearest) == ("thread", "m80", "M8")
    assert "M8" in str(error)
