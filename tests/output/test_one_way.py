"""A column of a sheet is written one way from top to bottom, so that it is read at a glance.

A handbook's tables of decimals, of feeds and of forces keep their places from row to row (common
practice): what ends in a nought shows it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from jobs import ROOT, planned

from planner.output.topics import TOPICS
from planner.words.tables import Table, as_text

SHOPS = ROOT / "tests" / "data"
JOBS = (
    ROOT / "examples" / "inch-lathe.toml",
    SHOPS / "inch-jobs" / "tool-room.toml",
    SHOPS / "inch-jobs" / "metric-feed.toml",
)

WORKED_OUT = {"turn": ("push",), "check": ("lbf",)}
"""Columns of what is worked out, in decimals throughout."""


def tables_of(path: Path, topic: str) -> list[Table]:
    """A topic's tables of a job."""
    one = next(one for one in TOPICS if one.name == topic)
    return list(one.tables(planned(path), one.asked(one.packaged)))


def columns_of(path: Path, topic: str) -> Iterator[tuple[str, list[str]]]:
    """The columns of a topic's tables, each with its head."""
    for table in tables_of(path, topic):
        heads = table.heads or tuple(column.heading for column in table.columns)
        for at, head in enumerate(heads):
            yield head, [str(row[at]) for row in table.shown or () if row[at]]


def places(text: str) -> int:
    return len(text.partition(".")[2])


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
@pytest.mark.parametrize("topic", WORKED_OUT)
def test_decimals_of_a_column_of_forces_stand_under_each_other(path: Path, topic: str) -> None:
    found: dict[str, set[int]] = {}
    for head, column in columns_of(path, topic):
        if any(re.search(rf"^{word}\b", head) for word in WORKED_OUT[topic]) and column:
            found.setdefault(head, set()).update(map(places, column))
    assert found and all(found[head] == {1} for head in found), found


CURRENCIES = re.compile(r"\b(?:EUR|USD|CAD|GBP|AUD|CHF|NZD)\b|[€$£]")
"""ISO 4217's codes of some currencies, and signs."""


@pytest.mark.parametrize(("example", "its"), [("inch-lathe", {"USD"}), ("bench-lathe", {"EUR"})])
def test_prices_are_in_the_currency_that_the_job_names_and_in_none_where_it_names_none(
    example: str, its: set[str], tmp_path: Path
) -> None:
    """Who gives a price knows what it is in; a currency of the program's own would be a wrong one."""
    text = (ROOT / "examples" / f"{example}.toml").read_text(encoding="utf-8")
    unnamed = tmp_path / "unnamed.toml"
    unnamed.write_text(re.sub(r"(?m)^currency = .*$", "", text), encoding="utf-8")
    for path, said in ((ROOT / "examples" / f"{example}.toml", its), (unnamed, set())):
        tables = list(tables_of(path, "cutlist"))
        assert set(CURRENCIES.findall(as_text(tables))) == said
        heads = [one.heading for table in tables for one in table.columns]
        assert ("price" in heads) == (not said)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_price_of_what_is_not_listed_is_open_in_every_table_and_never_nought(
    path: Path,
) -> None:
    """A bar without a price costs something all the same: 0.00 is what the rack's own costs."""
    tables = {table.name: table for table in tables_of(path, "cutlist")}
    unpriced = {row[2:4] for row in tables["bars"].shown or () if row[-1] == "?"}
    assert unpriced
    stock = tables["stock"]
    assert {row[:2] for row in stock.shown or () if "?" in row[-2]} == unpriced
    # nor in a spreadsheet or for a program
    for row, shown in zip(stock.rows, stock.shown or (), strict=True):
        assert (row[-2] is None) == ("?" in shown[-2])


def bench(path: Path, tpi: int, divisions: int) -> Path:
    """The inch example with another feed screw and dial."""
    text = (ROOT / "examples" / "inch-lathe.toml").read_text(encoding="utf-8")
    text = text.replace("max_ball_diameter = 2", "max_ball_diameter = 1")
    text = text.replace('"20 tpi"', f'"{tpi} tpi"').replace(
        "divisions = 50", f"divisions = {divisions}"
    )
    path.write_text(text, encoding="utf-8")
    return path


def test_a_dials_lines_are_told_exactly_where_a_division_is_exact(tmp_path: Path) -> None:
    """1/32 in over 25 lines is 0.00125 in; the k-th line is k times that, in whole 0.00001 in."""
    figures, dial, *_ = tables_of(bench(tmp_path / "a.toml", 32, 25), "dial")
    told = dict(row[:2] for row in figures.rows)
    assert (told["one turn of the feed screw"], told["one division, tip"]) == (
        "0.03125 in",
        "0.00125 in",
    )
    moves, changes = zip(*(row[6:8] for row in dial.shown or ()), strict=True)
    assert list(moves) == [f"0.{125 * k:05d}" for k in range(25)]
    assert list(changes) == [f"0.{25 * k:04d}" for k in range(25)]


def test_a_dials_lines_are_told_in_tenths_where_a_division_is_of_whole_ones(tmp_path: Path) -> None:
    """A twentieth of an inch over 50 lines is a thousandth, as any lathe's own dial has it."""
    figures, dial, *_ = tables_of(bench(tmp_path / "a.toml", 20, 50), "dial")
    assert dict(row[:2] for row in figures.rows)["one turn of the feed screw"] == "0.050 in"
    assert [row[6] for row in dial.shown or ()] == [f"0.{10 * k:04d}" for k in range(50)]


def test_a_dial_on_the_other_systems_screw_says_what_its_lines_may_be_taken_as() -> None:
    """1 mm over 50 lines: taken as thousandths they read 0.0500 in, and the screw has gone 0.03937."""
    figures, *_ = tables_of(SHOPS / "inch-jobs" / "metric-feed.toml", "dial")
    told = dict(row[:2] for row in figures.rows)
    assert told["one turn of the feed screw"] == "1 mm = 0.03937 in"
    said = "in a whole turn the tip goes 0.0106 in less than was read"
    assert told["each line taken as 0.001 in"] == said


@pytest.mark.parametrize(
    ("job", "moves", "changes"),
    [
        # 1 mm over 50 lines is 0.02, over 40 it is 0.025: the finest of a column says its decimals
        ("examples/bench-lathe.toml", ["0.00", "0.02", "0.04"], ["0.00", "0.04", "0.08"]),
        ("tests/data/shops/cellar.toml", ["0.000", "0.025", "0.050"], ["0.00", "0.05", "0.10"]),
    ],
)
def test_a_metric_dials_lines_stand_under_each_other(
    job: str, moves: list[str], changes: list[str]
) -> None:
    _, dial, *_ = tables_of(ROOT / job, "dial")
    columns = list(zip(*(dial.shown or ()), strict=True))
    assert list(columns[6][:3]) == moves and list(columns[7][:3]) == changes
    assert all(len({places(cell) for cell in columns[at]}) == 1 for at in (4, 6, 7, 8))


@pytest.mark.parametrize("job", ["small-alone", "school-mill"])
def test_what_a_metric_piece_is_finished_to_a_caliper_reads(job: str) -> None:
    """A caliper's vernier reads 0.05 mm or 0.02 (DIN 862): a knob was to be 22.91 long."""
    pieces = tables_of(SHOPS / "jobs" / f"{job}.toml", "cutlist")[0]
    at = [column.key for column in pieces.columns].index("finished_mm")
    told = [float(row[at]) for row in pieces.rows]
    assert len(told) > 10
    assert [mm for mm in told if abs(mm * 20 - round(mm * 20)) > 1e-6] == []


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_what_jaws_close_on_is_told_as_jaws_are_opened(path: Path) -> None:
    """By a rule, or by the name of the size: a chuck is no caliper, nor a vice (common practice)."""
    held = [setup.hold.words for setup in planned(path).route.setups]
    told = [
        found
        for words in held
        for found in re.findall(r"gripped on Ø([\d./-]+)|([\d./-]+) in between the jaws", words)
    ]
    sizes = [one or other for one, other in told]
    assert len(sizes) > 20
    assert [one for one in sizes if not re.fullmatch(r"\d+(?:-\d+/\d+)?|\d+/\d+", one)] == []
