"""How single blocks are set, in the setter's language; papers are those of ISO 216 and ASME Y14.1."""

from __future__ import annotations

import pytest

from planner.book.model import (
    Book,
    Chapter,
    Cover,
    Drawn,
    Heading,
    Line,
    NewPage,
    Picture,
    Points,
    Rows,
    Ruled,
    SetUp,
    Step,
    Words,
)
from planner.book.route import read_route
from planner.book.write import _Source
from planner.words.numbers import Numbers

COVER = Cover("Build book", ("For x.",), "pictures/a.svg", (("pivot", "20 mm"),), ("Built by",))


def source(paper: str, *blocks: object) -> _Source:
    chapter = Chapter("One", tuple(blocks))  # type: ignore[arg-type]
    return _Source(Book("B", "job", "r1", paper, COVER, (chapter,)))  # type: ignore[arg-type]


def shown(paper: str, wide: float, high: float) -> str:
    """How a picture of a size is set: in the text, or on a page of a size."""
    text = source(paper)._picture(Picture("<svg/>", wide, high, "P"), "part")
    if text.startswith("#picture("):
        return "text"
    assert text.startswith("#turned-page(")
    return text.split(", ")[3] + " x " + text.split(", ")[4]


@pytest.mark.parametrize(
    ("wide", "high", "how"),
    [
        # 210 less 20 and 13 is 177; 0.95 of 297 less 14 and 18 is 251.75
        (177.0, 251.7, "text"), (177.1, 251.7, "210.0mm x 297.0mm"),
        (177.0, 251.8, "210.0mm x 297.0mm"),
        # nine of a page's height are its foot's
        (210.0, 288.0, "210.0mm x 297.0mm"), (210.1, 201.0, "297.0mm x 210.0mm"),
        (210.1, 201.1, "297.0mm x 420.0mm"), (297.0, 411.0, "297.0mm x 420.0mm"),
        (297.1, 288.0, "420.0mm x 297.0mm"),
    ],
)  # fmt: skip
def test_where_a_picture_goes(wide: float, high: float, how: str) -> None:
    assert shown("A4", wide, high) == how


def test_a_picture_larger_than_any_paper() -> None:
    with pytest.raises(ValueError, match="421 x 50 mm goes on no paper"):
        shown("A4", 421.0, 50.0)
    assert shown("Letter", 250.0, 100.0) == "279.4mm x 215.9mm"


def test_blocks_in_the_language_of_the_setter() -> None:
    for block, text in (
        (Heading("H"), '#heading(level: 2, outlined: false, bookmarked: true, "H") <chapter-h>'),
        (Words("w"), '#words("w")'), (Words("w", "strong"), '#strong("w")'),
        (Words("w", "caution"), '#caution("w")'), (Points(("a", "b")), '#points("a", "b")'),
        (Step("3", "do", (Line("l"), Line("r", "reading"), Line("c", "caution"))),
         '#step("3", "do", plain("l"), reading("r"), alert("c"))'),
        (SetUp("S", (Line("l"),)), '#setup("S", plain("l"), mark: <chapter-s>)'),
        (SetUp("S", (), Picture("<svg/>", 50.0, 30.5, "K")),
         '#setup("S", mark: <chapter-s>, sketch: sketch("picture1", 50.000mm, 30.500mm, "K"))'),
        (Drawn("d/a.pdf", 2, "T"), '#drawn("/d/a.pdf", 2, "T", "part", <chapter-t>)'),
        (Ruled(), "#ruled"), (Ruled(squares=True), "#squared"), (NewPage(), "#pagebreak(weak: true)"),
        (Rows(("a",), (), "T", ("n",)),
         '#heading(level: 2, outlined: false, bookmarked: true, "T")\n#words("None.")\n#words("n")'),
    ):  # fmt: skip
        assert source("A4")._block(block, "part") == text  # type: ignore[arg-type]


def test_a_chapter_that_begins_with_a_drawing_has_its_own_heading() -> None:
    text = list(source("A4", Drawn("a.pdf", 1, "T"), Words("w")).lines())
    assert (
        '#drawn("/a.pdf", 1, "T", "One", <chapter-t>, chapter: "One")' in text
        and "= #" not in "".join(text)
    )
    plain = list(source("A4", Words("w")).lines())
    assert '= #"One" <chapter-one>' in plain and '#set page(footer: foot("One"))' in plain
    margins = "margin: (left: 20.0mm, right: 13.0mm, top: 14.0mm, bottom: 18.0mm)"
    assert any("width: 210.0mm, height: 297.0mm" in one and margins in one for one in plain)
    assert any("height: 148.5mm" in one for one in plain)  # the cover's picture takes half


def test_a_piece_of_its_own_in_the_one_table_of_before() -> None:
    row = {
        "number": 1, "setup": 2, "part": "housing", "stage": "s", "kind": "saw", "machine": "m",
        "holding": "h", "text": "t", "place": "", "tool": "saw", "speed_rpm": None, "measure": "",
        "gauge": "", "note": "", "caution": "",
    }  # fmt: skip
    for piece, shown_ in (("tube", "tube"), ("housing", "")):
        (held,) = read_route({"tables": {"route": [row | {"piece": piece}]}}, Numbers(inch=False))
        assert held.piece == shown_ and held.doings[0].readings == ()
