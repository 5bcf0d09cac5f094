"""What needs a decision or is to be had before the work, in the book of a shop that lacks something."""

from __future__ import annotations

from pathlib import Path

import pytest
from jobs import ROOT, unwalked

from planner.book.model import Rows, Step
from planner.output.book import book
from planner.output.plan import Plan
from planner.output.sheets.flat import flat_tables


def test_what_is_to_be_decided_is_numbered_from_one(tmp_path: Path) -> None:
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    lacking = "travelling_steady = false\nsteady = 0\nfour_jaw_outside = [0, 0]\nfaceplate = 0\n"
    job = tmp_path / "job.toml"
    job.write_text(text.replace("[lathe]\n", f"[lathe]\n{lacking}", 1), encoding="utf-8")
    made = book(Plan(job), "pictures/attachment.svg")
    (chapter,) = [one for one in made.chapters if one.title == "Findings"]
    steps = [one for one in chapter.blocks if isinstance(one, Step)]
    assert [one.number for one in steps] == [str(k) for k in range(1, len(steps) + 1)]
    said = " ".join(one.words for one in steps)
    (list_,) = [one for one in made.chapters if one.title == "Shopping list"]
    tables = {one.title: one.rows for one in list_.blocks if isinstance(one, Rows)}
    outside = [row[0] for row in tables["Tools and work to be had from outside"]]
    assert [name.split(" mm")[0] for name in outside] == [
        "long drill 7",
        "a steady for Ø25",
        "a four-jaw chuck or a faceplate large enough",
        "a four-jaw chuck that opens 72",
        "a travelling steady for Ø6",
        "a steady for Ø10",
        "a second drill of 13",
        "S355 round 18 for the gauge nut",
        "a second drill of 6",
        "HSS round 5 for the bit for the boring bar Ø15 between centres",
        "HSS round 5 for the facing cutter for the bar",
        "HSS round 3 for the bit for the boring bar Ø9 between centres",
    ]
    # what is made of an offcut is bought only where none lies in the shop; a bit of HSS is bought
    lacking = tables["Tools and work to be had from outside"]
    how = {row[0].partition(" for the ")[2]: row[2] for row in lacking}
    assert (
        how["gauge nut"] == "an offcut, or buy it" and how["facing cutter for the bar"] == "buy it"
    )
    plates = {row[0]: row[-2] for row in tables["From sheet and plate"]}
    assert plates["sliding-head-foot"] == "sheet 8 S355"  # as the job's shop.sheet has it
    assert all(one.startswith("sheet") for one in plates.values()) and "stop-bar" not in plates
    for what in ("a steady for", "a four-jaw chuck or a faceplate", "a travelling steady"):
        assert what in said, said


@pytest.mark.parametrize(
    ("sheet", "said"),
    [
        ('[[shop.sheet]]\nthickness = 7\nwidth = 300\nlength = 600\nmaterial = "S355"\n', "serves"),
        ("", "List your sheets as"),
    ],
)
def test_sheets_that_serve_for_nothing_have_no_chapter(
    sheet: str, said: str, tmp_path: Path
) -> None:
    # a job that lists a sheet is not told to list one; what nothing is cut from needs no heading
    text = (ROOT / "tests" / "data" / "shops" / "farm-shed.toml").read_text(encoding="utf-8")
    assert "shop.sheet" not in text
    job = tmp_path / "job.toml"
    job.write_text(f"{text}\n{sheet}", encoding="utf-8")
    plan = unwalked(job)
    (_, table, _, _) = flat_tables(plan.flats("saw"), plan.job, "saw")
    assert not table.rows and said in table.notes[0]
    made = book(plan, "pictures/attachment.svg").chapters
    assert "Pieces from sheet" not in [one.title for one in made]
    titles = [one.title for chapter in made for one in chapter.blocks if isinstance(one, Rows)]
    assert "From sheet and plate" not in titles and "Bought items" in titles
