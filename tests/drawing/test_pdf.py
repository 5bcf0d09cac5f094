"""The PDF as PDFium draws it and pypdf reads it: scale, line widths, fonts, words; the SVG in it."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import numpy as np
import pypdf
import pypdfium2
import pytest
from drawing_cases import BAR_LEVEL, BAR_UPRIGHT, DIMENSIONS, FIELDS, SHEET
from msgspec.structs import replace
from pdf_fonts import fonts

from planner.drawing import pdf as module
from planner.drawing.apart import apart
from planner.drawing.frame import blank
from planner.drawing.pdf import NoPdf, has_pdf, pdf
from planner.drawing.svg import svg

DPI = 600
PER_MM = DPI / 25.4
POINTS = 72 / 25.4

A3 = blank(FIELDS, "A3", landscape=True)


@pytest.fixture(scope="module")
def made() -> bytes:
    return pdf([SHEET, A3], "A book of sheets")


def seen(data: bytes, box: tuple[float, float, float, float]) -> np.ndarray:
    """What PDFium shows of the first page at 600 dpi: darkness from 0 to 1, first row on top.
    box: left, low, right, top in mm."""
    page = pypdfium2.PdfDocument(data)[0]
    wide, high = page.get_size()
    left, low, right, top = (one * POINTS for one in box)
    crop = (left, low, wide - right, high - top)
    shown = page.render(scale=DPI / 72, crop=crop, grayscale=True).to_numpy()
    return 1.0 - shown.reshape(shown.shape[:2]) / 255.0


def test_pages_are_as_large_as_their_sheets(made: bytes) -> None:
    sizes = [page.mediabox for page in pypdf.PdfReader(io.BytesIO(made)).pages]
    # ISO 216
    for box, (width, height) in zip(sizes, [(210, 297), (420, 297)], strict=True):
        assert float(box.width) / POINTS == pytest.approx(width, abs=0.01)
        assert float(box.height) / POINTS == pytest.approx(height, abs=0.01)


@pytest.mark.parametrize("bar", [BAR_LEVEL, BAR_UPRIGHT], ids=["level", "upright"])
def test_a_hundred_millimetres_are_a_hundred(
    made: bytes, bar: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    (ax, ay), (bx, by) = bar
    dark = seen(
        made, (ax - 4, ay - 1, bx + 4, by + 1) if ay == by else (ax - 1, ay - 4, bx + 1, by + 4)
    )
    along = dark.max(axis=0 if ay == by else 1)
    inked = np.flatnonzero(along > 0.5)
    long = (inked[-1] - inked[0] + 1) / PER_MM
    # its ends are round: half of its width of 0.25 mm stands out at either
    assert long - 0.25 == pytest.approx(100.0, abs=0.1)
    place = (inked[0] / PER_MM + 0.125) - 4
    assert place == pytest.approx(0.0, abs=0.1)


@pytest.mark.parametrize(
    ("at", "width"), [((20.0, 80.0), 0.7), ((40.0, 180.0), 0.5), ((195.0, 110.0), 0.25)]
)
def test_lines_are_as_wide_as_their_kind(
    made: bytes, at: tuple[float, float], width: float
) -> None:
    # the frame, the left edge of the part, the upright bar: ISO 128-2 and ISO 5457
    x, y = at
    dark = seen(made, (x - 1, y - 0.2, x + 1, y + 0.2))
    assert dark.mean(axis=0).sum() / PER_MM == pytest.approx(width, abs=0.03)


def test_only_the_font_of_the_sheets_is_in_it(made: bytes) -> None:
    found = fonts(made)
    assert found and all(inside for _, inside in found)
    assert {name.split("+")[-1] for name, _ in found} == {"PommelSheet"}


def test_every_word_can_be_found_and_copied(made: bytes) -> None:
    page = pypdfium2.PdfDocument(made)[0].get_textpage()
    text = "".join(page.get_text_range().split())
    for one in apart(SHEET).texts:
        if one.rotation_deg == 0:
            assert "".join(one.words.split()) in text, one.words
    for words in ("Ø 60 H7", "160 ± 0.1", "Prüfmaß", "⌴ Ø 11 ↧ 6.5"):
        assert "".join(words.split()) in text, words
    assert pypdf.PdfReader(io.BytesIO(made)).metadata.title == "A book of sheets"


def test_texts_stand_where_the_model_has_them(made: bytes) -> None:
    page = pypdfium2.PdfDocument(made)[0].get_textpage()
    found = page.search("160 ± 0.1", match_case=True)
    at, count = found.get_next()
    boxes = [page.get_charbox(at + k, loose=False) for k in range(count)]
    left, right = min(b[0] for b in boxes) / POINTS, max(b[2] for b in boxes) / POINTS
    # the middle of its dimension line from 40 to 120
    assert (left + right) / 2 == pytest.approx(80.0, abs=0.3)
    low = min(b[1] for b in boxes) / POINTS
    assert low == pytest.approx(116.0, abs=0.3)
    high = max(b[3] for b in boxes) / POINTS
    # capitals and figures 3.5 mm high (ISO 3098)
    assert high - low == pytest.approx(3.5, abs=0.3)


def test_each_sheet_has_its_bookmark(made: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(made))
    found = [(one.title, reader.get_destination_page_number(one)) for one in reader.outline]
    assert found == [("Housing, before welding", 0), ("Housing, before welding", 1)]


def test_no_clock_and_no_chance_gets_into_it(made: bytes) -> None:
    assert b"CreationDate" not in made and b"ModDate" not in made
    assert pdf([SHEET, A3], "A book of sheets") == made


def test_a_missing_library_is_told_by_a_type_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "NEEDS", "no_such_library_anywhere")
    assert not has_pdf()
    with pytest.raises(NoPdf):
        pdf([SHEET], "x")


def test_no_sheet_is_no_pdf() -> None:
    with pytest.raises(ValueError, match="one"):
        pdf([], "x")


NS = "{http://www.w3.org/2000/svg}"


def test_the_svg_is_true_to_scale_and_its_words_are_text() -> None:
    root = ElementTree.fromstring(svg(SHEET))
    assert (root.get("width"), root.get("height")) == ("210mm", "297mm")
    assert root.get("viewBox") == "0 0 210 297"  # so that 1 is 1 mm
    words = [one.text for one in root.iter(f"{NS}text")]
    assert all(one.text in words for one in DIMENSIONS)
    bar = [one.get("d") for one in root.iter(f"{NS}path") if one.get("d") == "M30,197 L130,197"]
    assert len(bar) == 1  # from 30 to 130, 100 over the foot of a page 297 high
    style = next(root.iter(f"{NS}style")).text or ""
    assert "data:font/ttf;base64," in style and "http" not in style
    assert "@font-face" not in svg(SHEET, with_font=False)


def test_words_of_a_sheet_cannot_break_its_svg() -> None:
    odd = replace(FIELDS, title='5 < 6 & "7"', material="</svg>")
    root = ElementTree.fromstring(svg(blank(odd)))
    assert {'5 < 6 & "7"', "</svg>"} <= {one.text for one in root.iter(f"{NS}text")}
    text = pypdf.PdfReader(io.BytesIO(pdf([blank(odd)], 'a "b" #c'))).pages[0].extract_text()
    assert '5 < 6 & "7"' in text
