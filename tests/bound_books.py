"""Books of the examples bound with blank sheets in the drawings' stead, as PDFium reads them."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from ctypes import c_double
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as raw
from drawing_cases import SHEET
from jobs import planned

from planner.book.write import book_pdf
from planner.drawing.frame import blank
from planner.drawing.model import Fields, Sheet
from planner.drawing.pdf import pdf
from planner.drawing.svg import svg
from planner.output.part_sheets import ground, wanted
from planner.output.plan import Plan
from planner.output.topic import COVER, DIAL, SHEETS
from planner.output.topics import topic

MM = 25.4 / 72


def sheets_of(plan: Plan) -> list[Sheet]:
    """As many sheets as the job has, each with its title and nothing drawn; every third is large."""
    names = ("Letter", "Tabloid") if plan.job.inch else ("A4", "A3")
    return [
        blank(Fields(f"{one.title}: blank", one.name), names[number % 3 == 0], number % 2 == 0)
        for number, one in enumerate(wanted(ground(plan)), 1)
    ]


def bound(plan: Plan, folder: Path) -> bytes:
    """The book of a job; folder: where its parts are put."""
    made: dict[str, bytes] = {
        SHEETS: pdf(sheets_of(plan), "x"),
        COVER: svg(SHEET, with_font=False).encode(),
    }
    for path, data in made.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)
    one = topic("dial")
    next(file for file in one.files(one, plan) if file.path == DIAL).write(folder)
    return book_pdf(plan.book, folder)


class Read:
    """A book as PDFium reads it."""

    def __init__(self, data: bytes) -> None:
        self.data = data
        self.pdf = pypdfium2.PdfDocument(data)
        self.texts = [page.get_textpage() for page in self.pdf]
        self.words = [
            # PDFium says a hyphen at a line's end by a mark of its own
            " ".join(text.get_text_range().replace("\ufffe", "-").split())
            for text in self.texts
        ]

    @property
    def marks(self) -> list[tuple[int, str, int]]:
        """The bookmarks: level from 0, title, page from 0."""
        return [
            (one.level, one.get_title(), one.get_dest().get_index()) for one in self.pdf.get_toc()
        ]

    def letters(self, page: int) -> Iterator[tuple[float, float, str]]:
        """Every letter as it stands on the paper: its size and its foot's height, points."""
        text, at, x, y = self.texts[page].raw, raw.FS_MATRIX(), c_double(), c_double()
        for k in range(self.texts[page].count_chars()):
            letter = chr(raw.FPDFText_GetUnicode(text, k))
            if not letter.isprintable() or letter == " ":
                continue
            assert raw.FPDFText_GetMatrix(text, k, at)
            assert raw.FPDFText_GetCharOrigin(text, k, x, y)
            turned = abs(at.a * at.d - at.b * at.c) ** 0.5
            yield raw.FPDFText_GetFontSize(text, k) * turned, y.value, letter

    def boxes(self, page: int) -> np.ndarray:
        """The rectangles of its texts, points: left, low, right, top."""
        text = self.texts[page]
        count = text.count_rects()
        return np.array([text.get_rect(k) for k in range(count)]).reshape(count, 4)

    def overprinted(self, page: int, feet_alone: bool = False) -> list[tuple[str, str]]:
        """Words on a page that lie on others, each with those; feet_alone: only of the page's foot."""
        boxes = self.boxes(page)
        of = np.array(
            [not feet_alone or "revision" in self.said(page, box) for box in boxes], dtype=bool
        )
        ones = boxes[of]
        low = np.maximum(ones[:, None, :2], boxes[None, :, :2])
        top = np.minimum(ones[:, None, 2:], boxes[None, :, 2:])
        both = ((top - low) > 0.5).all(axis=2)
        same = np.flatnonzero(of)[:, None] == np.arange(len(boxes))[None, :]
        found = np.argwhere(both & ~same)
        return [(self.said(page, ones[a]), self.said(page, boxes[b])) for a, b in found]

    def said(self, page: int, box: Any) -> str:
        return str(self.texts[page].get_text_bounded(*box))


def read(example: Path, folder: Path) -> Read:
    """An example's book, bound once for all tests; folder: where its parts are put."""
    if example not in _READ:
        _READ[example] = Read(bound(planned(example), folder))
    return _READ[example]


_READ: dict[Path, Read] = {}


if __name__ == "__main__":  # in a process of its own: JOB FOLDER OUT
    job, place, out = map(Path, sys.argv[1:])
    out.write_bytes(bound(Plan(job), place))
