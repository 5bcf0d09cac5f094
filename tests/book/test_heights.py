"""How high set-ups and tables of the examples' books come out, against typst's own measure of them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from jobs import ROOT, planned

from planner.book import write
from planner.book.heights import begun_mm, rows_mm
from planner.book.model import Block, Book, Chapter, Cover, Heading, Rows, SetUp, Step

ASKED = (
    (
        "parted, width: 100%, above: 6mm, below: 3.4mm, head + first,",
        "parted, width: 100%, above: 6mm, below: 3.4mm, layout(size => [#metadata("
        "measure(head + first, width: size.width).height.mm())<tall>#head#first]),",
    ),
    (
        "  let whole(body, tie) = table(",
        "  layout(size => [#metadata(measure(table(columns: widths, align: align,"
        " stroke: (x: none, y: 0.3pt), inset: (x: 1.3mm, y: 1.6mm),"
        " table.header(..heads.map(bold)), ..cells.pos()), width: size.width).height.mm())<tall>])\n"
        "  let whole(body, tie) = table(",
    ),
)
"""The look of a book, and the same with typst asked how high each comes out."""


def tables_and_set_ups(book: Book) -> Iterator[Chapter]:
    for chapter in book.chapters:
        blocks: list[Block] = []
        for before, one in zip((None, *chapter.blocks), chapter.blocks, strict=False):
            if isinstance(one, Heading) or (isinstance(one, Rows) and one.rows):
                blocks.append(one)
            elif isinstance(before, SetUp) and isinstance(one, Step):
                blocks += [before, one]
        if blocks:
            yield Chapter(chapter.title, tuple(blocks))


@pytest.mark.parametrize("job", ["bench-lathe", "inch-lathe"])
def test_heights_are_what_typst_measures(
    job: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    found: list[tuple[str, float]] = []

    def noted(kind: str, high: float) -> float:
        found.append((kind, high))
        return high

    monkeypatch.setattr(write, "begun_mm", lambda *a: noted("set-up", begun_mm(*a)))
    monkeypatch.setattr(write, "rows_mm", lambda *a: noted("table", rows_mm(*a)))
    (tmp_path / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M0,0L9,9"/></svg>'
    )
    book = planned(ROOT / "examples" / f"{job}.toml").book
    cover = Cover("Build book", (), "a.svg", (("a", "b"),), ("c",))
    chapters = tuple(tables_and_set_ups(book))
    source = write._Source(Book("B", "job", "r1", book.paper, cover, chapters))
    text = "\n".join(source.lines())
    for plain, asked in ASKED:
        assert text.count(plain) == 1
        text = text.replace(plain, asked)
    compiler = write._compiler(text, tmp_path, source.pictures)
    measured = json.loads(compiler.query("<tall>", field="value"))
    assert len(measured) == len(found) > 60 and {kind for kind, _ in found} == {"set-up", "table"}
    of = [(kind, high / really) for (kind, high), really in zip(found, measured, strict=True)]
    # a fifth, as it says of itself; all but one within 15 %
    assert all(0.8 < share < 1.2 for _, share in of), of
    assert sum(not 0.85 < share < 1.15 for _, share in of) <= 1, of
