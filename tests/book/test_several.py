"""Where several are made the book says so: how many of each, and that what is fitted is numbered.

What is turned to a bore as it came out fits that one alone (common practice: both are stamped).
"""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

import pytest
from jobs import ROOT, planned
from msgspec.structs import replace

from planner.book.model import FILL, Points, Rows, Step, Words
from planner.output.book import book
from planner.output.page_data import page_data
from planner.output.part_sheets import REVISION, Place, ground, wanted

BENCH = ROOT / "examples" / "bench-lathe.toml"
SHOPS = ROOT / "tests" / "data" / "shops"


@pytest.mark.parametrize(("shop", "many"), [("school-row", 12), ("cellar", 1)])
def test_a_book_for_several_says_how_many(shop: str, many: int) -> None:
    """As it was: "1 to make" for a class of twelve, and nothing of which fits which."""
    plan = planned(SHOPS / f"{shop}.toml")
    made = book(plan, "pictures/attachment.svg")
    to_make = [
        block.words
        for chapter in made.chapters
        for block in chapter.blocks
        if isinstance(block, Words) and " to make, by the sheets" in block.words
    ]
    assert to_make == [f"{many} to make, by the sheets before this page."] * len(to_make)
    assert len(to_make) == len(plan.attachment.parts)
    (how,) = (one for one in made.chapters if one.title == "How to use this book")
    points = next(one for one in how.blocks if isinstance(one, Points)).words
    said = " ".join(points)
    assert (f"{many} of each are made" in said) == (many > 1)
    assert (f"{many} are made." in made.cover.words) == (many > 1)
    assert ("stamp both with one number" in said) == (many > 1)


def test_the_sheets_and_the_balls_say_how_many_too(tmp_path: Path) -> None:
    """As it was: 1 in every sheet's field for the quantity, of which the book says two to make, and
    nothing of four knobs to turn."""
    text = BENCH.read_text(encoding="utf-8").replace(
        "[attachment]", "[attachment]\nquantity = 2", 1
    )
    text += """
[[ball]]
name = "cap"
diameter = 40
quantity = 4

[[ball]]
name = "seat"
shape = "socket"
diameter = 150
depth = 4
blank_diameter = 50
quantity = 3
"""
    (tmp_path / "two.toml").write_text(text, encoding="utf-8")
    plan = planned(tmp_path / "two.toml")
    of = ground(plan)
    drawn = {one.name: one for one in wanted(of)}
    for name in ("section", "rotating-body-shaft"):
        sheet = drawn[name].draw(of, Place(1, 1, "A4", "first"))
        assert sheet.fields.quantity == "2", name
    of_one = ground(planned(BENCH))
    assert of_one.many == 1 and "many" in repr(of_one)
    assert (
        of_one.revision
        == sha256(repr(of_one).replace(", many=1)", ")").encode()).hexdigest()[:REVISION]
    )  # what is printed of one has the letters that it had
    assert len({replace(of, many=many).revision for many in (1, 2, 3)}) == 3

    made = book(plan, "pictures/attachment.svg")
    chapters = {one.title: one.blocks for one in made.chapters}
    said = {
        title: [line.words for step in blocks if isinstance(step, Step) for line in step.lines]
        for title, blocks in chapters.items()
    }
    assert any(words.endswith("; 4 to turn") for words in said["Ball: cap"])
    assert any(words.endswith("; 3 to turn") for words in said["Hollow: seat"])
    (knob,) = (one.words for one in chapters["Ball: knob, the first"] if isinstance(one, Words)
               and one.words.startswith("The attachment's own"))  # fmt: skip
    assert knob.endswith(" 2 of them are turned.")
    assert not any(" to turn" in words for words in said["Ball: knob, the first"])


@pytest.mark.parametrize(("shop", "many"), [("school-row", 12), ("cellar", 1)])
def test_each_housing_has_a_line_for_its_own_gauge(shop: str, many: int) -> None:
    """As it was: one line for twelve, though each housing's bore has a height of its own, and the gauge
    is set under it as it was bored (a height gauge fits what it was set to: common practice)."""
    made = book(planned(SHOPS / f"{shop}.toml"), "pictures/attachment.svg")
    (card,) = (one for one in made.chapters if one.title == "Card for each mounting")
    (rows,) = (
        one for one in card.blocks if isinstance(one, Rows) and one.heads == ("gauge", "length")
    )
    assert [row[-1] for row in rows.rows] == [FILL] * many
    named = [f"no. {n}, " for n in range(1, many + 1)] if many > 1 else [""]
    assert [row[0] for row in rows.rows] == [
        f"{one}stamped and kept with the attachment" for one in named
    ]
    assert any("stamped with its number" in one for one in rows.notes) is (many > 1)


def test_the_page_says_how_many_and_that_pairs_are_numbered() -> None:
    """As it was: the phone said nothing of the twelve; a step was ticked for the first of them."""
    data = page_data(planned(SHOPS / "school-row.toml"))
    assert data["job"]["quantity"] == 12 and "12 of each are made" in data["several"][0]
    assert "stamp both with one number" in data["several"][1]
    assert {step["many"] for step in data["steps"]} == {12}
    alone = page_data(planned(BENCH))
    assert alone["several"] == [] and {step["many"] for step in alone["steps"]} == {1}
