"""Where several are made the book says so: how many of each, and that what is fitted is numbered.

What is turned to a bore as it came out fits that one alone (common practice: both are stamped).
"""

from __future__ import annotations

import pytest
from jobs import ROOT, planned

from planner.book.model import Points, Words
from planner.output.book import book

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
    assert ("stamp both with one number" in said) == (many > 1)
