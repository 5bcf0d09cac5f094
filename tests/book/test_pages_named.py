"""What a book says stands elsewhere does: read from the PDF of a shop with neither mill nor welder.

A builder leafs by these pages: that a page named in a book is the one that has the thing is the plain
sense of a reference (common practice).
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bound_books import Read, read
from jobs import ROOT, planned, unwalked

from planner.book.model import Rows, SetUp, Step
from planner.output.book import book as made_of
from planner.output.book.pages import Pages
from planner.output.plan import Plan

CELLAR = ROOT / "tests" / "data" / "shops" / "cellar.toml"


@pytest.fixture(scope="module")
def cellar(tmp_path_factory: pytest.TempPathFactory) -> Read:
    return read(CELLAR, tmp_path_factory.mktemp("cellar"))


@pytest.fixture(scope="module")
def plan() -> Plan:
    found: Plan = planned(CELLAR)
    return found


def begins(book: Read) -> dict[str, int]:
    """The page, counted from 1, that each bookmark leads to."""
    return {title: page + 1 for _, title, page in book.marks}


def test_where_the_work_goes_on_is_on_the_page_that_is_said(cellar: Read) -> None:
    text, at = " ".join(cellar.words), begins(cellar)
    setups = {title.split()[1].rstrip(":"): page for title, page in at.items() if "Set-up" in title}
    every = re.findall(r"Next: set-up (\d+), ([^,]+), page (\d+)\.", text)
    assert len(every) > 20 and len(every) == text.count("Next: set-up")
    for setup, whose, page in every:
        wanted = at["Assembly and alignment"] if whose == "Assembly" else setups[setup]
        assert int(page) == wanted, (setup, whose)


def test_the_order_of_the_work_says_the_page_of_every_set_up(cellar: Read, plan: Plan) -> None:
    at = begins(cellar)
    order = " ".join(cellar.words[at["Order of the work"] - 1 : at["Housing"]])
    setups = {title.split()[1].rstrip(":"): page for title, page in at.items() if "Set-up" in title}
    assert len(setups) > 60
    for one in Pages(plan).route:
        last = one.doings[-1].number
        (page,) = re.findall(rf"\b{one.number} \D+ (?:\d+ to )?{last} (\d+)\b", order)
        wanted = at["Assembly and alignment"] if one.of_the_whole else setups[str(one.number)]
        assert int(page) == wanted, one.number


def test_a_sheet_that_is_named_is_on_the_page_that_is_said(cellar: Read) -> None:
    at = {re.sub(r":.*", "", title): page for title, page in begins(cellar).items()}
    text = " ".join(" ".join(cellar.words).split())
    every = re.findall(r"Sheet (\d+) \(page (\d+)\) shows", text)
    assert len(every) > 3
    assert all(int(page) == at[f"Sheet {sheet}"] for sheet, page in every)
    (card,) = re.findall(r"card for each mounting, page (\d+)\.", text)
    assert int(card) == at["Card for each mounting"]


def test_what_comes_back_from_the_welder_is_looked_over_in_its_own_chapter(plan: Plan) -> None:
    chapters = {one.title: one.blocks for one in made_of(plan, "a.svg").chapters}
    said = {
        title: [one.words for one in blocks if isinstance(one, Step)]
        for title, blocks in chapters.items()
    }
    for title in ("Housing", "Rotating body", "Sliding head"):
        assert any("back from the welder" in words for words in said[title]), title
    together = said["Assembly and alignment"]
    assert not any("welder" in words or "spatter" in words for words in together)
    # it alone is turned with the attachment
    blocks = chapters["Assembly and alignment"]
    lines = [line.words for one in blocks if isinstance(one, Step) for line in one.lines]
    assert not any("knob" in words.lower() for words in together)
    late = [words for words in lines if "knob" in words.lower()]
    assert late == ["a nut on its other end until the knob is turned"]
    own = {one.title for blocks in chapters.values() for one in blocks if isinstance(one, SetUp)}
    assert not any(title.startswith("Assembly") for title in own)


def test_the_cards_end_play_leads_to_the_checks_of_end_play_alone(plan: Plan) -> None:
    chapters = {one.title: one.blocks for one in made_of(plan, "a.svg").chapters}
    rows = [row for one in chapters["Card for each mounting"] if isinstance(one, Rows)
            for row in one.rows]  # fmt: skip
    (words,) = [row[1] for row in rows if row[0] == "end play"]
    steps = {one.number: one.words for one in chapters["Assembly and alignment"]
             if isinstance(one, Step)}  # fmt: skip
    named = re.findall(r"\d+", words.partition("(")[0])
    assert len(named) == 2 and all(steps[one].startswith("end ") for one in named)


def test_the_cards_steps_stand_from_the_page_on_that_it_says(cellar: Read) -> None:
    at = begins(cellar)
    card = " ".join(cellar.words[at["Card for each mounting"] - 1].split())
    ((*steps, page),) = re.findall(r"as in steps (\d+), (\d+) \(from page (\d+)\)", card)
    after = min(p for p in at.values() if p > at["Assembly and alignment"])
    here = {
        step: number
        for number in range(int(page), after)
        for step in steps
        if re.search(rf"\b{step} end ", " ".join(cellar.words[number - 1].split()))
    }
    assert set(here) == set(steps) and int(page) == at["Putting together, checks and alignment"]


def test_the_sawing_sheets_lie_in_their_order(cellar: Read) -> None:
    found = re.findall(r"sawing sheet, page (\d+)", " ".join(cellar.words))
    assert len(found) > 1 and found == sorted(found, key=int)


def test_the_note_on_bars_names_pieces_where_no_column_has_the_grip() -> None:
    bored = unwalked(CELLAR.with_name("model-engineer.toml"))  # bar goes through its spindle
    (blocks,) = [one.blocks for one in made_of(bored, "a.svg").chapters if "sawing" in one.title]
    pieces = next(one for one in blocks if isinstance(one, Rows))
    (note,) = [one for one in pieces.notes if "parted off" in one]
    assert "grip" not in pieces.heads and "'bar'" not in note
    names = {row[pieces.heads.index("piece")] for row in pieces.rows}
    listed = re.split(r", | (?:is|are) turned", note)
    assert listed[0].lower() in {one.lower() for one in names}


def test_what_the_shop_lacks_is_to_be_had_once(plan: Plan) -> None:
    (blocks,) = [one.blocks for one in made_of(plan, "a.svg").chapters if "Shopping" in one.title]
    (rows,) = [one.rows for one in blocks if isinstance(one, Rows) and "outside" in one.title]
    saws = [row[0] for row in rows if "slitting saw" in row[0]]
    assert len(saws) == 1, saws


def test_a_finding_of_one_ball_says_which(tmp_path: Path) -> None:
    text = (ROOT / "examples" / "bench-lathe.toml").read_text(encoding="utf-8")
    cup = '[[ball]]\nname = "cup"\nshape = "socket"\ndiameter = "16 mm"\ndepth = "3 mm"\n'
    job = tmp_path / "job.toml"
    job.write_text(text + cup + 'blank_diameter = "20 mm"\n', encoding="utf-8")
    (blocks,) = [
        one.blocks for one in made_of(unwalked(job), "a.svg").chapters if one.title == "Findings"
    ]
    said = [one.words for one in blocks if isinstance(one, Step)]
    assert any(words.startswith("ball cup: diameter 16 mm") for words in said), said
