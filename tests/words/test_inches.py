"""A table for an inch shop's spreadsheet: units in its heads, numbers converted by pint."""

from __future__ import annotations

import csv
import io

import pint
import pytest

from planner.output.topics import TOPICS
from planner.words.inches import UNITS, heads
from planner.words.tables import Table, as_csv, columns

UREG = pint.UnitRegistry()

PINT = {
    "_mm": ("mm", "inch"),
    "_mm2": ("mm**2", "inch**2"),
    "_mm3": ("mm**3", "inch**3"),
    "_N": ("newton", "pound_force"),
    "_MPa": ("megapascal", "psi"),
    "_kg": ("kilogram", "pound"),
    "mm_per_N": ("mm/newton", "inch/pound_force"),
}


@pytest.mark.parametrize("ends", PINT)
def test_a_column_has_its_unit_in_its_head_and_its_numbers_in_it(ends: str) -> None:
    key = ends if ends.startswith("mm") else f"some{ends}"
    table = Table("t", "T", columns((key, "")), ((0.0,), (1.0,), (123.456,), (None,), ("-",)))
    head, *rows = csv.reader(io.StringIO(as_csv(table, inch=True)))
    metric, inch = PINT[ends]
    (unit,) = (to for was, to, _ in UNITS if was == ends)
    assert head == [key.replace(ends, unit)]
    for (found,), mm in zip(rows[:3], (0.0, 1.0, 123.456), strict=True):
        wanted = UREG.Quantity(mm, metric).to(inch).magnitude
        assert float(found) == pytest.approx(wanted, rel=1e-6)
    assert [row[0] for row in rows[3:]] == ["", "-"]


def test_sections_and_lengths_without_a_unit_are_in_inches_too_and_counts_stay() -> None:
    rows = (("bar", 25.4), ("tube 31.75x7.938", 12), ("round 22.225", 0.79375))
    table = Table("t", "T", columns(("what", ""), ("value", "")), rows, lengths=("value",))
    assert as_csv(table, inch=True).splitlines() == [
        *("what,value_in", "bar,1.0", "tube 1-1/4x5/16 in,12", "round 7/8 in,0.03125")
    ]
    assert as_csv(table).splitlines()[:2] == ["what,value", "bar,25.4"]


def test_no_key_of_a_table_names_a_metric_unit_in_inches() -> None:
    keys = {key for one in TOPICS for row in one.columns.values() for key in row}
    told = heads(tuple(sorted(keys)), ())
    assert len(keys) > 150
    assert [one for one in told if one.split("_")[-1] in ("mm", "N", "MPa", "kg", "mm3")] == []
