"""The table of topics: what each entry declares is what it makes, on every example."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, planned

from planner.output.package import MANIFEST
from planner.output.package.guide import Written, guide
from planner.output.plan import Plan
from planner.output.topic import FOLDERS, File, Topic
from planner.output.topics import TOPICS, UnknownTopic, build_findings, topic
from planner.words.findings import Finding

ANSWERED = [one for one in TOPICS if one.columns]
each_topic = pytest.mark.parametrize("one", ANSWERED, ids=lambda one: one.name)


def ways_of_asking(one: Topic) -> Iterator[dict[str, Any]]:
    """As nothing is asked, and with each word of each option that only changes what is shown."""
    yield one.asked({})
    for option in one.options:
        if not option.plans:
            for word in option.choices or (True, False):
                yield one.asked({option.name: word})


_FILES: dict[tuple[str, str], tuple[File, ...]] = {}


def files_of(one: Topic, plan: Plan) -> tuple[File, ...]:
    """What a topic brings of an example, asked once."""
    key = one.name, plan.file
    if key not in _FILES:
        _FILES[key] = tuple(one.files(one, plan))
    return _FILES[key]


@pytest.fixture(scope="module")
def plans() -> list[Plan]:
    """The three examples, worked out once for all tests."""
    return [planned(path) for path in EXAMPLES]


def test_names_are_told_apart_and_every_entry_says_something() -> None:
    assert len({one.name for one in TOPICS}) == len(TOPICS) > 8
    for one in TOPICS:
        assert topic(one.name) is one
        assert one.summary.endswith(".") and one.summary[0].isupper()
        assert one.examples if one.columns else not one.examples


def test_an_unknown_topic_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownTopic) as refused:
        topic("sizez")
    assert "'sizez'" in str(refused.value)
    assert all(one.name in str(refused.value) for one in TOPICS)


@each_topic
def test_the_declared_columns_are_those_of_the_tables(one: Topic, plans: list[Plan]) -> None:
    made: dict[str, set[tuple[str, ...]]] = {}
    for plan in plans:
        # each word of each option on one of them: which columns there are hangs on no size
        for asked in ways_of_asking(one) if plan is plans[-1] else [one.asked({})]:
            for table in one.tables(plan, asked):
                keys = tuple(column.key for column in table.columns)
                assert all(len(row) == len(keys) for row in table.rows), table.name
                made.setdefault(table.name, set()).add(keys)
    assert made == {name: {keys} for name, keys in one.columns.items()}


@each_topic
def test_every_topic_has_text_a_record_and_findings(one: Topic, plans: list[Plan]) -> None:
    for plan in plans:
        asked = one.asked({})
        assert one.printed(plan, asked).count("\n") > 3
        found = one.all_findings(plan, asked)
        assert all(isinstance(finding, Finding) for finding in found)
        record = json.loads(json.dumps(one.record(plan, asked), allow_nan=False))
        more = {records.key for records in one.records}
        assert set(record) == {"format", "job", "lengths", "tables", "findings"} | more
        assert record["job"] == plan.job.name
        assert len(record["findings"]) == len(found)
        for records in one.records:
            assert record[records.key]
            assert all(tuple(row) == records.keys for row in record[records.key])


def test_the_build_tells_what_any_topic_tells(plans: list[Plan]) -> None:
    for plan in plans:
        told = build_findings(plan)
        for one in ANSWERED:
            assert set(one.all_findings(plan, one.asked(one.packaged))) <= set(told), one.name


def test_the_topics_bring_every_file_of_the_package_once(plans: list[Plan]) -> None:
    for plan in plans:
        brought = [file for one in TOPICS for file in files_of(one, plan)]
        paths = [file.path for file in brought]
        assert len(set(paths)) == len(paths) and MANIFEST not in paths
        assert all(file.what for file in brought)


FOLDERS_OF = {
    ".txt": {".", "cutting"},
    ".html": {"."},
    ".png": {"pictures"},
    ".svg": {"pictures", "cutting", "drawings"},
    ".dxf": {"drawings", "cutting"},
    ".pdf": {".", "drawings"},
    ".csv": {"tables"},
    ".json": {"data"},
    ".step": {"solids"},
}
"""What a file is used for is seen from its ending: to read, to look at, for CAD, for a spreadsheet."""


def test_a_file_lies_where_its_use_is_looked_for(plans: list[Plan]) -> None:
    for plan in plans:
        found: dict[str, set[str]] = {}
        for one in TOPICS:
            for file in files_of(one, plan):
                path = Path(file.path)
                found.setdefault(path.suffix, set()).add(str(path.parent))
        assert found == FOLDERS_OF


def test_every_folder_says_what_is_in_it_and_no_topic_has_another() -> None:
    names = [folder.name for folder in FOLDERS]
    assert sorted(names) == sorted(set().union(*FOLDERS_OF.values()) - {"."})
    assert {one.folder for one in TOPICS} <= {"", *names}
    assert all(folder.what for folder in FOLDERS)


def test_the_book_then_the_check_and_the_sheets_are_to_be_opened_first(plans: list[Plan]) -> None:
    first = {one.name: one.first for one in TOPICS if one.first}
    assert first == {
        "book": "book.pdf",
        "check": "check.txt",
        "drawings": "drawings/sheets.pdf",
        "page": "page.html",
    }
    for name, path in first.items():
        assert path in [file.path for file in files_of(topic(name), plans[0])]
    text = guide("x", [Written(one, f.path, "") for one in TOPICS for f in files_of(one, plans[0])])
    paths = [line.split()[0] for line in text.split("\n\n")[1].splitlines()[1:]]
    assert paths == ["book.pdf", "check.txt", "drawings/sheets.pdf", "page.html"]


def test_what_loads_the_kernel_says_what_it_makes_its_files_from(plans: list[Plan]) -> None:
    for one in TOPICS:
        assert (one.made_of is not None) == (one.needs == "solids")
        if one.made_of:
            first, *others = (repr(one.made_of(plan)) for plan in plans)
            assert " at 0x" not in first  # else the same would not read the same
            assert first == repr(one.made_of(Plan(EXAMPLES[0]))) and first not in others


def test_the_sheets_are_drawn_anew_for_another_name_and_not_for_another_price_or_rack(
    tmp_path: Path,
) -> None:
    """What they are made of is the parts, the unit and the job's name, known without the kernel."""
    text = EXAMPLES[0].read_text(encoding="utf-8")

    def made_of(name: str, edited: str) -> tuple[str, str]:
        path = tmp_path / f"{name}.toml"
        path.write_text(edited, encoding="utf-8")
        drawn, solids = (topic(one).made_of for one in ("drawings", "solids"))
        assert drawn and solids
        plan = Plan(path)
        return repr(drawn(plan)), repr(solids(plan))

    named = f'name = "one"\n{text}'
    before = made_of("a", named)
    price, prices = re.subn(r"^price = ([\d.]+)", r"price = 1\1", named, flags=re.M)
    rack, bars = re.subn(r"^length = 310$", "length = 290", named, count=1, flags=re.M)
    assert prices > 5 and bars == 1
    assert made_of("b", price) == before and made_of("c", rack) == before
    other = made_of("d", f'name = "two"\n{text}')
    assert other[0] != before[0] and other[1] == before[1]
    larger = made_of("e", named.replace("max_ball_diameter = 50", "max_ball_diameter = 48"))
    assert larger[0] != before[0] and larger[1] != before[1]


def test_without_what_writes_pdf_each_sheet_is_there_as_svg(
    plans: list[Plan], monkeypatch: pytest.MonkeyPatch
) -> None:
    one = topic("drawings")
    with_pdf = [file.path for file in one.files(one, plans[0])]
    monkeypatch.setattr("planner.drawing.pdf.NEEDS", "no_such_library_anywhere")
    without = [file.path for file in one.files(one, plans[0])]
    sheets = [path for path in without if re.match(r"drawings/.*svg", path)]
    assert len(sheets) > 15 and "drawings/04-housing-tube.svg" in sheets
    assert set(without) - set(with_pdf) == set(sheets)
    assert set(with_pdf) - set(without) == {"drawings/sheets.pdf"}
    assert {path.replace(".svg", ".dxf") for path in sheets} <= set(without) & set(with_pdf)


def test_a_files_text_is_written_as_it_is(tmp_path: Path, plans: list[Plan]) -> None:
    route = topic("route")
    for file in route.files(route, plans[0]):
        file.write(tmp_path)
    written = sorted(p.relative_to(tmp_path).as_posix() for p in tmp_path.rglob("*.*"))
    assert written == [
        "data/route.json",
        "route.txt",
        *(
            f"tables/route-{table}.csv"
            for table in (
                "aids",
                "as_made",
                "assumed",
                "fewest",
                "missing",
                "order",
                "outfit",
                "undone",
            )
        ),
        "tables/route.csv",
    ]
    text = (tmp_path / "tables" / "route.csv").read_bytes().decode("utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    assert tuple(rows[0]) == route.columns["route"] and "\r" not in text
