"""Where the pages of a finished book end, read back by pypdf.

No row of a table is left alone, and where the work goes on stands beside the last step before: to keep
widows and orphans off a page is common practice of setting.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain
from pathlib import Path

import pytest
from bound_books import Read
from msgspec.structs import replace
from pypdf import PdfReader

from planner.book.model import (
    Block,
    Book,
    Chapter,
    Contents,
    Cover,
    Line,
    Picture,
    Points,
    Rows,
    SetUp,
    Step,
    Words,
)
from planner.book.write import book_pdf

FILLERS = range(28, 40)
"""Lines before a table or a step: it comes to each place about the foot of a page."""

SHORT, LONG, HIGH = 10, 40, 13
"""Rows of a table that stays on one page, of one that is longer, and of one with rows of many lines."""


def fillers(number: int) -> Iterator[Block]:
    for n in range(number):
        yield Words(f"line {n} before it")


def chapters() -> Iterator[Chapter]:
    for n in FILLERS:
        short = Rows(("short", "b"), tuple((f"s{n}.{k}", "x") for k in range(SHORT)), "A table")
        yield Chapter(f"Short {n}", (*fillers(n), short))
        rows = tuple((f"l{n}.{k}", "x") for k in range(LONG))
        yield Chapter(f"Long {n}", (*fillers(n), Rows(("long", "b"), rows, "A table")))
        step = Step(f"{n}", f"do it {n}", (Line("a line under it"),) * 3, leads=True)
        going = Words(f"Next: set-up {n}.", "strong")
        yield Chapter(f"Step {n}", (*fillers(n), step, going))
    high = tuple((f"h.{k}", "many words in a row " * 15) for k in range(HIGH))
    yield Chapter("High", (Rows(("high", "b"), high, "A table"),))
    for n in FILLERS:
        steps = tuple(Step(f"{k}", f"last {n}.{k}", (Line("under it"),) * 2) for k in range(6))
        yield Chapter(f"Steps {n}", (*fillers(n - 12), *steps))
    high = tuple(Step(f"{k}", f"high {k}", (Line("under it"),) * 8) for k in range(4))
    yield Chapter("High steps", (*fillers(12), *high))  # of nine lines: two keep to each other
    yield Chapter("Decided", (Step("1", "it", (Line("Decided:", "blank"), Line("M", "reading"))),))


def set_up(name: str, under: int, *steps: int) -> Iterator[Block]:
    """A set-up with so many lines and steps with so many lines under each."""
    yield SetUp(
        f"Set-up {name}: mill", (Line("a line under it"),) * under + (Line(f"Held {name}"),)
    )
    for k, count in enumerate(steps):
        yield Step(f"{k}", f"step {name}.{k}", (Line(f"of {name}"),) * count)


def set_ups() -> Iterator[Chapter]:
    for n in FILLERS:
        # what leads on to each other is higher than a page together
        before = Step("0", f"before a{n}", (Line("under it"),) * (n - 10), leads=True)
        yield Chapter(f"A {n}", (before, *set_up(f"a{n}", 4, 8, 8, 8, 8)))
    two = (*set_up("b1", 2, 2, 2), *set_up("b2", 9, 9, 9))
    yield Chapter("B", (*fillers(10), *two))
    yield Chapter("C", tuple(set_up("c", 30, 30)))


def drawn(name: str, high: float) -> Picture:
    return Picture(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 {high}" width="90mm"'
        f' height="{high}mm">'
        f'<text x="5" y="9" font-size="5" font-family="sans-serif">{name}</text></svg>',
        90.0,
        high,
        name,
    )


def pictured() -> Iterator[Chapter]:
    """Pictures after some lines: 247 mm of a Letter page are for text, a line takes 7."""
    three = (("low", 100.0), ("tall", 220.0), ("wide", 110.0))
    for name, before, every in (("P", 1, three), ("Q", 15, three), ("R", 15, (three[1], three[0]))):
        shown = (drawn(f"{name} {one}", high) for one, high in every)
        yield Chapter(name, (*fillers(before), *shown))
    kept = (replace(drawn(f"S {one}", high), ordered=True) for one, high in three[1:] + three[:1])
    yield Chapter("S", (*fillers(15), *kept))


def made_of(chapters: Iterator[Chapter], folder: Path) -> list[str]:
    """The words of each page of a book of those chapters."""
    (folder / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M0,0L9,9"/></svg>'
    )
    cover = Cover("Build book", (), "a.svg", (("a", "b"),), ("c",))
    made = book_pdf(Book("B", "job", "r1", "Letter", cover, tuple(chapters)), folder)
    (folder / "book.pdf").write_bytes(made)
    return [page.extract_text() for page in PdfReader(folder / "book.pdf").pages]


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    every = chain(chapters(), set_ups(), pictured())
    return made_of(every, tmp_path_factory.mktemp("book"))


def test_a_foot_names_the_chapters_of_its_page(tmp_path: Path) -> None:
    """As it was: findings that ran on to a page of their own stood over a foot that said "Cautions"."""
    every = (
        Chapter("Fore", (*fillers(8),)),
        Chapter("Aft", (*fillers(60),), follows=True),
        Chapter("Apart", (*fillers(2),)),
    )
    pages = made_of(iter(every), tmp_path)
    feet = [page[: page.index("job, revision")].splitlines()[-1].strip() for page in pages[1:]]
    assert feet == ["Fore, Aft", "Aft", "Apart"]


def rows_on(pages: list[str], name: str) -> list[list[int]]:
    """The rows of a table that each page has of it, pages without any left out."""
    found = [[int(k) for k in re.findall(rf"\b{re.escape(name)}\.(\d+)", page)] for page in pages]
    return [one for one in found if one]


def test_a_short_table_is_on_one_page_with_its_title(pages: list[str]) -> None:
    turned = 0
    for n in FILLERS:
        assert rows_on(pages, f"s{n}") == [list(range(SHORT))]
        (page,) = (one for one in pages if f"s{n}.0" in one)
        assert "A table" in page
        turned += "line 0 before it" not in page
    assert turned > 3


def test_a_long_table_has_no_row_or_two_alone_on_a_page(pages: list[str]) -> None:
    ends = set()
    for n in FILLERS:
        parts = rows_on(pages, f"l{n}")
        assert sum(parts, []) == list(range(LONG))
        assert len(parts) > 1 and min(map(len, parts)) >= 5
        ends.add(len(parts[-1]))
        heads = [one for one in pages if re.search(rf"\bl{n}\.\d", one)]
        assert all(re.search(r"^long b|^long\b", one, re.M) for one in heads)
    assert len(ends) > 3


def test_a_table_higher_than_a_page_goes_over_pages_with_nothing_lost(pages: list[str]) -> None:
    assert sum(rows_on(pages, "h"), []) == list(range(HIGH)) and len(rows_on(pages, "h")) > 1


def test_where_to_go_on_is_beside_the_step_before_it(pages: list[str]) -> None:
    turned = 0
    for n in FILLERS:
        (page,) = (one for one in pages if f"Next: set-up {n}." in one)
        assert f"do it {n}\n" in page
        turned += "line 0 before it" not in page
    assert turned > 2


def test_no_step_is_alone_at_the_end_of_a_chapter(pages: list[str]) -> None:
    split = 0
    for n in FILLERS:
        on = [len(re.findall(rf"last {n}\.\d", page)) for page in pages]
        ends = [count for count in on if count]
        assert sum(ends) == 6 and ends[-1] >= 4  # of three lines each
        split += len(ends) > 1
    assert split > 0


def test_high_steps_fill_a_page_before_the_next(pages: list[str]) -> None:
    (page,) = [one for one in pages if "high 0" in one]
    assert "line 0 before it" in page and "high 1" in page and "high 3" not in page


def test_a_blank_for_words_has_no_is_before_it(pages: list[str]) -> None:
    page = next(one for one in pages if "Decided:" in one)
    assert re.search(r"^Decided: *$", page, re.M) and re.search(r"^M is", page, re.M)


def test_a_set_up_stands_on_one_page_with_its_lines_and_its_first_step(pages: list[str]) -> None:
    turned = 0
    for n in FILLERS:
        (page,) = (one for one in pages if f"Set-up a{n}:" in one)
        assert f"Held a{n}" in page and f"step a{n}.0" in page
        turned += f"before a{n}" not in page
    assert 0 < turned < len(FILLERS)


def test_a_set_up_stays_where_it_has_room_whatever_the_next_takes(pages: list[str]) -> None:
    (page,) = (one for one in pages if "Set-up b1:" in one)
    assert "line 0 before it" in page and "step b1.1" in page and "Set-up b2:" not in page


def test_a_set_up_and_its_first_step_higher_than_a_page_go_on_two(pages: list[str]) -> None:
    (page,) = (one for one in pages if "Set-up c:" in one)
    assert "Held c" in page and "step c.0" not in page and "of c" not in page


def test_small_pictures_share_a_page(pages: list[str]) -> None:
    def on(*names: str) -> int:
        return sum(all(name in page for name in names) for page in pages)

    assert on("P low", "P wide", "line 0 before it") == 1 and on("P tall") == 1
    assert not on("P tall", "P wide")
    assert on("Q low", "line 0 before it") == 1 and not on("Q low", "Q wide")
    assert on("Q tall") == on("Q wide") == 1
    assert on("R low", "line 0 before it") == 1 and not on("R tall", "line 0 before it")


def test_pictures_that_are_numbered_keep_their_order(pages: list[str]) -> None:
    at = [next(k for k, page in enumerate(pages) if f"S {one}" in page)
          for one in ("tall", "wide", "low")]  # fmt: skip
    assert at == sorted(at) and not any("S low" in one and "before it" in one for one in pages)


def test_the_contents_of_a_book_of_many_parts_stand_on_one_page(tmp_path: Path) -> None:
    # 247.4 mm of a Letter page less the heading's 12: letters of 12 points with 2.2 mm between
    names = [f"Part {chr(65 + k // 6)}{k % 6}" for k in range(42)]
    every = (Chapter("All", (Contents(),)), *(Chapter(one, (Words("w"),)) for one in names))
    pages = made_of(iter(every), tmp_path)
    assert all(name in pages[1] for name in names)


@pytest.mark.parametrize(("before", "columns"), [(0, 1), (14, 2)])
def test_contents_that_one_column_would_break_stand_in_two(
    before: int, columns: int, tmp_path: Path
) -> None:
    """As it was: behind what is said of several, the last lines of the contents had a page alone."""
    names = [f"Part {chr(65 + k // 6)}{k % 6}" for k in range(34)]
    first = Chapter("All", (*fillers(before), Contents()))
    pages = made_of(iter((first, *(Chapter(one, (Words("w"),)) for one in names))), tmp_path)
    assert all(name in pages[1] for name in names) and "Part A0" in pages[2].splitlines()[0]
    # a book's page numbers, which contents are for: each leads where its chapter is
    for k, name in enumerate(names, 3):
        assert re.search(rf"{name} ?[. ]*{k}\b", pages[1]), name
    read = Read((tmp_path / "book.pdf").read_bytes())
    lefts = {round(box[0]) for box in read.boxes(1) if read.said(1, box).startswith("Part ")}
    assert len(lefts) == columns, lefts


def test_no_point_of_a_list_is_alone_on_a_page(tmp_path: Path) -> None:
    """As it was: a page of findings with its last alone, wherever the foot of the page came."""
    lists = (
        Chapter(
            f"List {before}",
            (*fillers(before), Points(tuple(f"point {before}-{k}" for k in range(6)))),
        )
        for before in FILLERS
    )
    on = made_of(lists, tmp_path)
    parted = 0
    for before in FILLERS:
        found = [re.findall(rf"point {before}-(\d)", page) for page in on]
        there = [one for one in found if one]
        assert sum(map(len, there)) == 6
        parted += len(there) > 1
        assert len(there[-1]) >= 3, (before, there)
    assert parted > 1
