"""The sheets of the bench lathe against the worked example that is tracked: every word of them.

No words are checked against themselves here: what the numbers must be is held elsewhere. This only
keeps any change of a sheet from passing unseen. A change that is meant is made by building the example
anew (README) and reading what changed.
"""

from __future__ import annotations

import csv
import io
import json
import re
from difflib import unified_diff
from pathlib import Path

import pytest
from jobs import ROOT

from planner.output.plan import Plan
from planner.output.topic import Topic
from planner.output.topics import TOPICS, topic

TRACKED = ROOT / "exports" / "bench-lathe"
SHEETS = (".txt", ".csv", ".svg")
"""What is written of text: JSON says the same as CSV (test_package), solids have their own tests."""


def tracked(name: str) -> str:
    """A file of the tracked example by its name, wherever it lies in it."""
    (found,) = TRACKED.rglob(name)
    return found.read_text(encoding="utf-8")


def brought(plan: Plan, one: Topic) -> dict[str, str]:
    """The sheets a topic brings that are written as text, by name."""
    return {
        Path(file.path).name: file.content
        for file in one.files(one, plan)
        if isinstance(file.content, str) and Path(file.path).suffix in SHEETS
    }


@pytest.mark.parametrize("one", [one for one in TOPICS if one.columns], ids=lambda one: one.name)
def test_every_word_of_a_sheet_is_as_in_the_tracked_example(bench: Plan, one: Topic) -> None:
    made = brought(bench, one)
    assert f"{one.name}.txt" in made or one.name in ("flat", "largest"), sorted(made)
    for name, text in made.items():
        changed = list(
            unified_diff(tracked(name).splitlines(), text.splitlines(), lineterm="", n=0)
        )
        assert not changed, f"{name} is not as tracked:\n" + "\n".join(changed[:40])


OTHERS = ROOT / "tests" / "output" / "tracked"
"""Sheets of the other examples: inches, and balls with threads, tapers and hollows. Made anew by, say,
pommel turn examples/engine-lathe.toml > tests/output/tracked/engine-lathe/turn.txt"""


def test_the_words_of_the_other_examples_are_as_tracked(plan: Plan) -> None:
    name = Path(plan.file).stem
    sheets = sorted((OTHERS / name).glob("*.txt"))
    assert len(sheets) >= 5 or name == TRACKED.name
    for path in sheets:
        one = topic(path.stem)
        text = one.printed(plan, one.asked({}))
        there = path.read_text(encoding="utf-8")
        changed = list(unified_diff(there.splitlines(), text.splitlines(), lineterm="", n=0))
        assert not changed, f"{path.name} is not as tracked:\n" + "\n".join(changed[:40])


def test_every_tracked_sheet_is_made(bench: Plan) -> None:
    made = set()
    for one in TOPICS:
        made |= {Path(file.path).name for file in one.files(one, bench)}
    there = {path.name for path in TRACKED.rglob("*") if path.suffix in (".txt", ".csv", ".svg")}
    assert there - made <= {"README.txt"}


def test_a_table_and_its_text_say_as_much() -> None:
    # as many operations on the sheet as rows in its table: by the numbers at the lines' beginnings
    rows = list(csv.DictReader(io.StringIO(tracked("route.csv"))))
    numbers = [int(word) for word in re.findall(r"^ *(\d+)\. ", tracked("route.txt"), re.M)]
    assert numbers == list(range(1, len(rows) + 1))


def test_what_each_file_is_said_to_be_is_as_tracked(bench: Plan) -> None:
    said: dict[str, set[str]] = {}
    for row in json.loads(tracked("package.json"))["files"]:
        said.setdefault(Path(row["path"]).name, set()).add(row["what"])
    seen = 0
    for one in TOPICS:
        for file in one.files(one, bench):
            name = Path(file.path).name
            assert file.what in said.get(name, {file.what}), name
            seen += name in said
    assert seen > 40


def test_the_whole_stands_with_its_tip_on_top_at_the_largest_ball(
    bench: Plan, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    seen: dict[str, object] = {}
    monkeypatch.setattr("planner.solids.write_assembly_step", lambda path, **how: seen.update(how))
    files = [file for one in TOPICS for file in one.files(one, bench)]
    (whole,) = [file for file in files if Path(file.path).name == "attachment.step"]
    whole.write(tmp_path)
    # 90 degrees is on top; the largest ball is 50 across
    assert (seen["swing_deg"], seen["tip_radius_mm"]) == (90.0, 25.0)
