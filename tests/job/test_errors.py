"""Errors belong to whom they belong: a mistake of ours never becomes a finding on the user's file."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path
from typing import Annotated, Any

import pytest
from jobs import ROOT

from parts.standard.errors import BadTable, UnknownSize
from planner.job.base import FileTable
from planner.job.fields import Read
from planner.job.reading import read_table
from planner.words.findings import BadInput
from planner.words.units import UnitError


def read_with(reader: Any, tmp_path: Path) -> FileTable:
    """A one-line file read by a reader of values."""

    class Whole(FileTable):
        value: Annotated[Any, Read(reader, "a value")]

    file = tmp_path / "one.toml"
    file.write_text("value = 1\n", encoding="utf-8")
    return read_table(file, Whole)


@pytest.mark.parametrize(
    "mistake",
    [
        ValueError("a slip"),
        AssertionError("a slip"),
        TypeError("a slip"),
        UnknownSize("thread", "M3"),  # only job.fields.named may ask for what may not be there
        BadTable("threads.csv", 3, "source", "", "write it in"),
    ],
    ids=lambda error: type(error).__name__,
)
def test_a_mistake_of_ours_goes_through_the_reader_unchanged(
    mistake: Exception, tmp_path: Path
) -> None:
    def reader(value: Any, unit: str | None) -> Any:
        raise mistake

    with pytest.raises(type(mistake)) as caught:
        read_with(reader, tmp_path)
    assert caught.value is mistake


def test_what_cannot_be_read_is_a_finding(tmp_path: Path) -> None:
    def reader(value: Any, unit: str | None) -> Any:
        raise UnitError("not-a-pitch", "no pitch", "Write one")

    with pytest.raises(BadInput) as caught:
        read_with(reader, tmp_path)
    (found,) = caught.value.findings
    assert (found.code, found.key, found.value) == ("not-a-pitch", "value", "1")
    assert (found.limit, found.remedy) == ("no pitch", "Write one")


@pytest.mark.parametrize("table", ["threads.csv", "materials.csv"])
def test_a_broken_row_of_a_table_of_ours_is_no_fault_of_the_job(table: str, tmp_path: Path) -> None:
    # in a process of its own: tables are read once
    tables = tmp_path / "tables"
    shutil.copytree(ROOT / "parts" / "standard", tables)
    lines = (tables / table).read_text(encoding="utf-8").splitlines()
    columns = next(line for line in lines if not line.startswith("#")).split(",")
    unsourced = ",".join("1" if column != "source" else "" for column in columns)
    (tables / table).write_text("\n".join([*lines, unsourced]) + "\n", encoding="utf-8")
    code = (
        "from pathlib import Path\n"
        "import parts.standard.table as table\n"
        f"table.FOLDER = Path({str(tables)!r})\n"
        "from parts.standard.errors import BadTable\n"
        "from planner.job.reading import read_job\n"
        "try:\n    read_job(Path('examples/bench-lathe.toml'))\n"
        "except BadTable as error:\n    print(error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert done.returncode == 0, done.stderr
    assert table in done.stdout and "every row names its source" in done.stdout
