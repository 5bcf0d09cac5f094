"""The bench lathe's book as PDFium and pypdf read it, with blank sheets in the drawings' stead."""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy as np
import pypdf
import pytest
from bound_books import MM, Read, read, sheets_of
from drawing_cases import FIELDS
from jobs import ROOT
from msgspec.structs import replace
from pdf_fonts import fonts

from planner.book import write
from planner.book.write import book_pdf
from planner.drawing.frame import blank
from planner.drawing.model import Text
from planner.drawing.pdf import NoPdf, pdf
from planner.output.book.lathe import FIRST_BALL
from planner.output.part_sheets import ground
from planner.output.plan import Plan
from planner.output.topics import topic

BENCH = ROOT / "examples" / "bench-lathe.toml"


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("book")


@pytest.fixture(scope="module")
def book(place: Path) -> Read:
    return read(BENCH, place)


def squeezed(words: str) -> str:
    return "".join(words.split())


def test_every_page_says_its_number_of_all_the_job_and_the_revision(
    book: Read, bench: Plan
) -> None:
    count = len(book.words)
    assert count == len(pypdf.PdfReader(io.BytesIO(book.data)).pages) > 60
    for number, words in enumerate(book.words, 1):
        assert f"{number} / {count}" in words, number
        assert f"bench-lathe, revision {ground(bench).revision}" in words, number


def test_a_direction_keeps_its_sign_beside_its_letter(book: Read) -> None:
    """ "-z" broken after its sign reads as another direction, or as none (common practice)."""
    seen = 0
    for text in book.texts:
        said = text.get_text_range()
        assert not re.search(r"\s[-+\ufffe]\s+[xyz]\b", said), said
        seen += len(re.findall(r"\s[-+][xyz]\b", said))
    assert seen > 50


def test_the_chapters_stand_in_the_order_of_the_work(book: Read, bench: Plan) -> None:
    titles = [title for level, title, _ in book.marks if level == 0]
    before = "Cautions,Findings,The whole,Shopping list,Cut list and sawing sheet,Pieces from sheet"
    after = "Weld map,Assembly and alignment,Dividing the dial,First ball"
    parts = [part.title for part in bench.attachment.parts]
    assert titles == [
        "How to use this book",
        *before.split(","),
        "Order of the work",
        *parts,
        *after.split(","),
        "Ball: knob, the first",
        "Ball: largest",
        "Card for each mounting",
        "Notes",
        "Speeds, fits and threads used",
    ]


PICTURED = {
    "Dial at each reading": "Turns to go: whole turns past the number shown",
    "Tightest spot": "Tightest: ",
    "Steps and passes": "roughing steps; arcs: some of the",
}
"""Words of a ball's pictures, by the name of each in the bookmarks."""


def test_a_bookmark_leads_to_the_page_that_has_its_words(book: Read) -> None:
    for _, title, page in book.marks:
        words = title.partition(": ")[2] if title.startswith("Sheet ") else title
        if words.startswith("Sawing sheet, page"):
            words = words.partition(" of ")[0]
        words = PICTURED.get(words.partition(",")[0], words)
        assert squeezed(words).lower() in squeezed(book.words[page]).lower(), title
    found = {title.partition(",")[0] for _, title, _ in book.marks}
    assert {*PICTURED, "Sawing sheet", "The sense of the cut"} <= found
    contents = book.words[1]
    for level, title, page in book.marks:
        if level == 0:
            assert re.search(rf"{re.escape(title)} [. ]*{page + 1}\b", contents), title


def test_every_operation_is_there_under_its_number_in_the_chapter_of_its_part(
    book: Read, bench: Plan
) -> None:
    chapters = [(title, page) for level, title, page in book.marks if level == 0]
    ends = [page for _, page in chapters[1:]] + [len(book.words)]
    text = {
        title: squeezed(" ".join(book.words[start:end]))
        for (title, start), end in reversed(list(zip(chapters, ends, strict=True)))
    }  # of two of a name, the part's, which comes first
    titles = {part.name: part.title for part in bench.attachment.parts}
    titles["attachment"] = "Assembly and alignment"
    numbers = []
    for op in bench.operations:
        numbers.append(op.number)
        first, *rest = re.split(
            r"[;:.] | ?the dial-engraving table", op.text
        )  # a long step has a short heading
        assert squeezed(f"{op.number} {first}") in text[titles[op.part]], op.number
        assert all(squeezed(one) in text[titles[op.part]] for one in rest), op.number
        for reading in op.measure.split("; "):
            assert squeezed(reading) in text[titles[op.part]], op.number
        assert squeezed(op.caution) in text[titles[op.part]], op.number
    assert numbers == list(range(1, len(bench.operations) + 1)) and len(numbers) > 150


def test_every_measured_size_has_a_line_to_write_on(book: Read, bench: Plan) -> None:
    """As many "is" at the head of a line as operations measure a figure."""
    starts = [page for level, title, page in book.marks if level == 0 and title == "Weld map"]
    route = book.words[: starts[0]]
    readings = [one for op in bench.operations for one in op.measure.split("; ")]
    figures = [one for one in readings if re.match(r"[\d.]+ (to|mm|in)", one)]
    said = sum(words.count(f"{one}, ") for words in route for one in set(figures))
    assert said >= len(figures) > 40
    assert sum(len(re.findall(r"\bis\b", words)) for words in route) >= len(figures)


def test_no_font_but_the_one_of_the_sheets_is_in_it(book: Read) -> None:
    found = fonts(book.data)
    assert found and all(inside for _, inside in found)
    assert {name.split("+")[-1] for name, _ in found} == {"PommelSheet"}
    assert "□" not in "".join(book.words)  # a letter that the font has not


def test_pages_are_the_papers_and_the_drawings_keep_their_own_size(book: Read, bench: Plan) -> None:
    sizes = [tuple(round(side * MM) for side in page.get_size()) for page in book.pdf]
    wanted = [(round(one.width), round(one.height)) for one in sheets_of(bench)]
    drawn = [sizes[page] for _, title, page in book.marks if title.startswith("Sheet ")]
    assert drawn == wanted and {(420, 297), (297, 420), (210, 297), (297, 210)} <= set(wanted)
    others = [one for one in sizes if one not in ((420, 297), (297, 420), (297, 210))]
    assert set(others) == {(210, 297)}  # ISO 216


def test_no_text_lies_on_another_nor_past_the_paper(book: Read) -> None:
    # a drawing's own words are looked at with the sheets; here the foot that is put on it
    drawn = {page for _, title, page in book.marks if title.startswith(("Sheet ", "Dial"))}
    for page in range(len(book.words)):
        wide, high = book.pdf[page].get_size()
        boxes, edge = book.boxes(page), 4.0 / MM  # what a printer leaves white (common practice)
        assert (boxes[:, :2] > edge).all() and len(boxes), page + 1
        assert (boxes[:, 2] < wide - edge).all() and (boxes[:, 3] < high - edge).all(), page + 1
        assert book.overprinted(page, page in drawn) == [], page + 1


def test_words_on_others_would_be_seen() -> None:
    words = (Text((50.0, 150.0), "one over another"), Text((60.0, 151.0), "the other"))
    sheet = replace(blank(FIELDS), items=words)
    assert Read(pdf([sheet], "x")).overprinted(0)
    apart = replace(sheet, items=(words[0], replace(words[1], at=(60.0, 160.0))))
    assert Read(pdf([apart], "x")).overprinted(0) == []


def test_what_is_read_at_the_machine_is_twelve_points_or_more(book: Read) -> None:
    """Every letter but the page's foot; a drawing bound in has the letters of its own standard."""
    drawn = {page for _, title, page in book.marks if title.startswith(("Sheet ", "Dial: strip"))}
    drawn |= {
        page - 1 for _, title, page in book.marks if title == "Dial: strip to wrap"
    }  # its sheet
    pictured = ("Sawing sheet, page", "The sense", "Dial at", "Tightest", "Steps and passes")
    pictures = {page for _, title, page in book.marks if title.startswith(pictured)}
    assert len(drawn) > 15 and len(pictures) >= 3
    looked = set[int]()
    for page in range(1, len(book.words)):  # the cover shows a picture alone
        for size, y, letter in book.letters(page):
            foot = y < 18.0 / MM
            # a drawing's least: capitals of 2.5 mm, of the series of ISO 3098-1 (memory)
            least = 2.46 / MM if page in drawn else 8.0 if foot else 12.0
            assert size > least - 0.06, (page + 1, letter, size)
            looked |= {page} if not foot and page not in drawn else set()
    assert pictures - drawn <= looked


def test_a_long_tables_head_stands_again_on_each_page(book: Read) -> None:
    first = next(page for _, title, page in book.marks if title == "Order of the work")
    last = next(page for _, title, page in book.marks if title == "Housing")
    head = "set-up part piece machine steps page done"
    there = [page for page in range(first, last) if head in book.words[page]]
    assert there == list(range(first, first + len(there))) and len(there) > 1
    assert head not in book.words[last]


def test_the_books_first_steps_are_the_ones_of_the_page_on_the_first_ball() -> None:
    page = squeezed((ROOT / "docs" / "first-ball.md").read_text(encoding="utf-8"))
    for both in FIRST_BALL:
        for words in both:
            one = words.replace("JOB", "my-lathe.toml").rstrip(".")
            assert squeezed(one) in page, words


def test_the_cards_limits_are_those_of_the_sheets_and_the_budget(book: Read, bench: Plan) -> None:
    page = next(p for _, title, p in book.marks if title == "Card for each mounting")
    words = book.words[page]
    # the bench lathe: bore 20 ± 0.02 over the seat, seat 62 - 20 over the cross slide, and H7 of Ø14,
    # 18 um (ISO 286-2), over the block's length of 32: over 50 mm 28 um
    assert "about 42 mm" in words and "within 0.02 mm" in words
    assert "over 50 mm of the cross slide it changes by no more than 0.028 mm" in words
    for what in ("end play", "carriage", "top slide", "cross slide", "hand swing", "trial ball"):
        assert what in words


def test_a_scale_bar_is_as_long_as_it_says(book: Read) -> None:
    """The bar of a sheet bound into the book, at 600 dpi."""
    page = next(p for _, title, p in book.marks if title.startswith("Sheet 4"))
    text = book.texts[page]
    at, _ = text.search("50 mm, printed full size").get_next()
    left, _, _, top = text.get_charbox(at)
    wide, high = book.pdf[page].get_size()
    crop = (left - 3 / MM, top, wide - left - 56 / MM, high - top - 8 / MM)
    shown = book.pdf[page].render(scale=600 / 72, crop=crop, grayscale=True).to_numpy()
    dark = shown.reshape(shown.shape[:2]) < 128
    inked = np.flatnonzero(max(dark, key=lambda row: int(row.sum())))
    long = (inked[-1] - inked[0] + 1) * 25.4 / 600
    # from the middle of its first upright to that of its last, thin lines of 0.25 mm
    assert long - 0.25 == pytest.approx(50.0, abs=0.1) and len(inked) > 1100


def test_the_same_job_makes_the_same_bytes_without_a_clock(
    book: Read, bench: Plan, place: Path
) -> None:
    assert book_pdf(bench.book, place) == book.data
    assert b"CreationDate" not in book.data and b"ModDate" not in book.data


def test_without_typst_the_book_is_left_out_and_asking_for_it_told(
    bench: Plan, place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner.drawing.pdf.NEEDS", "no_such_library_anywhere")
    assert list(topic("book").files(topic("book"), bench)) == []
    with pytest.raises(NoPdf):
        write.book_pdf(bench.book, place)
