"""A book as a PDF: its blocks as calls of book.typ, set by typst with our font alone and no clock.

Pages of other PDFs go in as they are, in their own size. Imported by planner.output.book.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import takewhile
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec.structs import replace

from planner.book.columns import kept_together, widths_mm
from planner.book.heights import begun_mm, rows_mm
from planner.book.model import (
    FILL,
    PAGE,
    Block,
    Book,
    Chapter,
    Contents,
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
    boxes,
)
from planner.drawing.frame import PAPERS
from planner.drawing.lettering import FAMILY, FONT, printable
from planner.drawing.pdf import NoPdf, has_pdf

if TYPE_CHECKING:
    import typst

LOOK = Path(__file__).with_name("book.typ")

LEFT_MM, RIGHT_MM, TOP_MM, FOOT_MM = 20.0, 13.0, 14.0, 18.0
"""Margins of a page; the left one is wide enough to file it by (ISO 5457)."""

LETTERS_MM = 12 / 72 * 25.4
"""The size of the letters: 12 points."""

BESIDE_MM = 60.0
"""A sketch no wider stands beside the words, another under them."""

LAST, A_LINE = 12, 80
"""The last steps of a chapter stay together to about so many lines, as many as are of its last set-up;
so many letters are a line."""

WHOLE, SHORT = 0.8, 0.6
"""Of a page's height: higher ones may be parted, of set-ups with their first step and of tables."""

MOST = 0.95
"""Of a page's height: a higher picture has a page of its own."""

KINDS = {"plain": "plain", "reading": "reading", "blank": "blank", "caution": "alert"}


def book_pdf(book: Book, folder: Path) -> bytes:
    """The book as PDF. folder: of the package, where the files lie that it has pages of.

    Raises NoPdf where typst is not installed.
    """
    if not has_pdf():
        raise NoPdf
    source = _Source(book)
    made = _compiler("\n".join(source.lines()), folder, source.pictures).compile(format="pdf")
    if not isinstance(made, bytes):
        raise TypeError(f"typst made {type(made).__name__}, not one PDF")
    return made


def _compiler(text: str, folder: Path, pictures: dict[str, str]) -> typst.Compiler:
    """What sets a book's text, with the sheets' own letters alone."""
    import typst

    return typst.Compiler(
        text.encode("utf-8"),
        root=str(folder),
        font_paths=typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(FONT.parent)],
        ),
        sys_inputs=pictures,
    )


class _Source:
    """The text of one book in typst's language, and the pictures that it shows, by name."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self.pictures: dict[str, str] = {}
        paper = PAPERS[book.paper]
        self.wide, self.high = paper.width_mm, paper.height_mm
        self.space = self.wide - LEFT_MM - RIGHT_MM
        self.page_mm = self.high - TOP_MM - FOOT_MM

    def lines(self) -> Iterator[str]:
        book = self.book
        yield f"#set document(title: {_q(book.title)}, date: none)"
        yield f"#let job-name = {_q(book.job)}"
        yield f"#let revision = {_q(book.revision)}"
        yield LOOK.read_text(encoding="utf-8")
        yield (
            f"#set page(width: {self.wide}mm, height: {self.high}mm, margin: (left: {LEFT_MM}mm,"
            f" right: {RIGHT_MM}mm, top: {TOP_MM}mm, bottom: {FOOT_MM}mm), footer-descent: 5mm)"
        )
        yield from self._cover(book.cover)
        for number, chapter in enumerate(book.chapters, 1):
            after = takewhile(lambda one: one.follows, book.chapters[number:])
            yield from self._chapter(chapter, tuple(after))

    def _cover(self, cover: Cover) -> Iterator[str]:
        yield f"#set page(footer: foot({_q(cover.title)}))"
        yield f"#text(size: 26pt, bold({_q(cover.title)}))\n"
        yield from (f"#words({_q(one)})" for one in cover.words)
        high = 0.5 * self.high
        yield (
            f"#block(height: 1fr, width: 100%, align(center + horizon, image({_q('/' + cover.picture)},"
            f' width: 100%, height: {high:.1f}mm, fit: "contain", alt: {_q(cover.title)})))'
        )
        cells = "".join(f"{_q(one)}, " for pair in cover.sizes for one in pair)
        yield (
            "#table(columns: (auto, 1fr), stroke: (x: none, y: 0.3pt), inset: (x: 1.3mm, y: 1.5mm),"
            f" {cells})"
        )
        blanks = "".join(f"{_q(one)}, fill, " for one in cover.blanks)
        yield (
            f"#grid(columns: (auto, 1fr), column-gutter: 3mm, row-gutter: 2mm, align: bottom, {blanks})"
        )

    def _chapter(self, chapter: Chapter, after: tuple[Chapter, ...]) -> Iterator[str]:
        """after: the chapters that follow it on its page, which the foot names where they stand."""
        part = chapter.part or chapter.title
        if not chapter.follows:
            marks = "".join(f"(<{_label(one.title)}>, {_q(one.title)})," for one in after)
            named = f", after: ({marks})" if after else ""
            yield f"#set page(footer: foot({_q(part)}{named}))"
            yield "#pagebreak(weak: true)"
        first, *rest = chapter.blocks
        if isinstance(first, Drawn):
            yield self._drawn(first, part, f", chapter: {_q(chapter.title)}")
        else:
            yield f"= #{_q(chapter.title)} <{_label(chapter.title)}>"
            rest = list(chapter.blocks)
        yield from (self._run(run, part) for run in _runs(_together(rest), self._small))

    def _drawn(self, one: Drawn, part: str, chapter: str = "") -> str:
        mark = _label(one.title.partition(":")[0])
        named = f"{_q(one.title)}, {_q(part)}, <{mark}>"
        return f"#drawn({_q('/' + one.file)}, {one.page}, {named}{chapter})"

    def _run(self, run: tuple[Block, ...], part: str) -> str:
        """A block; a set-up with its first step, kept on one page; or pictures, small ones together."""
        if len(run) == 1:
            return self._block(run[0], part)
        if isinstance(run[0], Picture):
            every = [one for one in run if isinstance(one, Picture)]
            if not any(one.ordered for one in every):  # small ones share what is left of a page
                every.sort(key=lambda one: one.height)
            return "\n".join(self._block(one, part) for one in every)
        head, first = run
        assert isinstance(head, SetUp) and isinstance(first, Step)
        sketch = head.sketch
        beside = sketch is not None and sketch.width <= BESIDE_MM
        high = begun_mm(head, first, self.space, LETTERS_MM, beside)
        flags = f"{str(first.leads).lower()}, {str(high > WHOLE * self.page_mm).lower()}"
        calls = (self._block(one, part).removeprefix("#") for one in run)
        return f"#begun({flags}, {', '.join(calls)})"

    def _block(self, block: Block, part: str) -> str:
        match block:
            case Heading(words):
                called = f"outlined: false, bookmarked: true, {_q(words)}"
                return f"#heading(level: 2, {called}) <{_label(words)}>"
            case Words(words, kind):
                call = {"plain": "words", "strong": "strong", "caution": "caution"}[kind]
                return f"#{call}({_q(words)})"
            case Points(every):
                return f"#points({', '.join(map(_q, every))})"
            case Step(number, words, under, leads, many):
                on = ", leads: true" if leads else ""
                on += f", boxes: {many}" if many > 1 else ""
                return f"#step({_q(number)}, {_q(words)}{_under(under)}{on})"
            case SetUp(title, under, sketch):
                side = f", mark: <{_label(title.partition(':')[0])}>"
                side += f", sketch: {self._sketch(sketch)}" if sketch else ""
                side += ", wide: true" if sketch and sketch.width > BESIDE_MM else ""
                return f"#setup({_q(title)}{_under(under)}{side})"
            case Picture():
                return self._picture(block, part)
            case Rows():
                return "\n".join(self._rows(block))
            case Drawn():
                return self._drawn(block, part)
            case Ruled(squares):
                return "#squared" if squares else "#ruled"
            case Contents():
                return "#contents"
            case NewPage():
                return "#pagebreak(weak: true)"
        raise TypeError(f"no rule to set a {type(block).__name__}")

    def _named(self, svg: str) -> str:
        name = f"picture{len(self.pictures) + 1}"
        self.pictures[name] = svg.replace('font-family="sans-serif"', f'font-family="{FAMILY}"')
        return name

    def _sketch(self, one: Picture) -> str:
        size = f"{one.width:.3f}mm, {one.height:.3f}mm"
        return f"sketch({_q(self._named(one.svg))}, {size}, {_q(one.name)})"

    def _picture(self, one: Picture, part: str) -> str:
        """In the text where it goes there; else alone on a page that it goes on, in its own size."""
        size = f"{one.width:.3f}mm, {one.height:.3f}mm"
        name = _q(self._named(one.svg))
        if self._fits(one):
            return f"#picture({name}, {size}, {_q(one.name)}, {_q(one.words)})"
        larger = {"A4": "A3", "Letter": "Tabloid"}[self.book.paper]
        papers = (PAPERS[self.book.paper], PAPERS[larger])
        sides = [(p.width_mm, p.height_mm) for p in papers]
        ways = [way for wide, high in sides for way in ((wide, high), (high, wide))]
        for wide, high in ways:
            if one.width <= wide and one.height <= high - 9.0:
                page = f"{wide}mm, {high}mm"
                return f"#turned-page({name}, {size}, {page}, {_q(one.name)}, {_q(part)})"
        raise ValueError(f"{one.name}: {one.width:.0f} x {one.height:.0f} mm goes on no paper")

    def _fits(self, one: Picture) -> bool:
        return one.width <= self.space and one.height <= MOST * self.page_mm

    def _small(self, one: Block) -> bool:
        """Whether it is a picture that goes in the text, with nothing said under it."""
        return isinstance(one, Picture) and not one.words and self._fits(one)

    def _rows(self, rows: Rows) -> Iterator[str]:
        if rows.title:
            yield f"#heading(level: 2, outlined: false, bookmarked: true, {_q(rows.title)})"
        widths = widths_mm(rows, self.space, LETTERS_MM) if rows.rows else ()
        if not rows.rows:
            yield f"#words({_q('None.')})"
        elif widths:
            shown = ", ".join(f"{one:.3f}mm" for one in widths)
            sides = ", ".join(_side(rows, k) for k in range(len(rows.heads)))
            heads = "".join(f"{_q(one)}, " for one in rows.heads)
            cells = "".join(f"{_cell(one)}, " for row in rows.rows for one in row)
            parted = rows_mm(rows, widths, LETTERS_MM) > SHORT * self.page_mm
            yield f"#rows({str(parted).lower()}, ({shown},), ({sides},), ({heads}), {cells})"
        else:
            yield from (_entry(rows.heads, row) for row in rows.rows)
        yield from (f"#words({_q(one)})" for one in rows.notes)


def _together(blocks: list[Block]) -> Iterator[Block]:
    """The blocks of a chapter, its last steps leading on to each other: none is alone on a page. Those
    of a set-up before the last do not: its heading stands over a step of its own."""
    head = max((k for k, one in enumerate(blocks) if isinstance(one, SetUp)), default=-1)
    steps = [k for k, one in enumerate(blocks) if isinstance(one, Step)]
    last: set[int] = set()
    high = 0
    for k in reversed(steps):
        high += _lines(blocks[k])
        if k <= head or (last and high > LAST):
            break
        last.add(k)
    last -= set(steps[-1:])
    for k, one in enumerate(blocks):
        yield replace(one, leads=True) if isinstance(one, Step) and k in last else one


def _lines(one: Block) -> int:
    """About how many lines a step takes."""
    if not isinstance(one, Step):
        return 0
    return sum(-(-len(words) // A_LINE) for words in (one.words, *(x.words for x in one.lines)))


def _runs(blocks: Iterable[Block], fits: Callable[[Block], bool]) -> Iterator[tuple[Block, ...]]:
    """Each block alone, but a set-up with the step after it, and all pictures in a row that fit in the
    text and say nothing under them."""
    run: list[Block] = []
    for one in blocks:
        before = run[-1] if run else None
        first = isinstance(before, SetUp) and isinstance(one, Step)
        if run and not first and not (fits(run[-1]) and fits(one)):
            yield tuple(run)
            run = []
        run.append(one)
    if run:
        yield tuple(run)


def _entry(heads: tuple[str, ...], row: tuple[str, ...]) -> str:
    """A row of a table too wide for the paper: its first cells as a title, the others line by line."""
    many = max(map(boxes, row))
    cells = [
        (head, cell) for head, cell in zip(heads, row, strict=True) if cell and not boxes(cell)
    ]
    (head, cell), *rest = cells
    title = f"{head} {cell}".strip() if cell[:1].isdigit() else cell
    under = [
        f"reading({_q(head)})" if cell == FILL else _q(f"{head}: {cell}" if head else cell)
        for head, cell in rest
    ]
    return f"#entry({_q(title)}, {many}{''.join(f', {one}' for one in under)})"


def _side(rows: Rows, k: int) -> str:
    """Numbers stand on the right, words on the left."""
    cells = [row[k] for row in rows.rows if row[k]]
    number = all(one.replace(".", "").replace("-", "").replace("/", "").isdigit() for one in cells)
    return "right" if cells and number else "left"


def _cell(words: str) -> str:
    if many := boxes(words):
        return f"ticks({many})" if many > 1 else "tick"
    return "fill" if words == FILL else _q(words)


def _under(lines: tuple[Line, ...]) -> str:
    return "".join(f", {KINDS[one.kind]}({_q(one.words)})" for one in lines)


def _label(title: str) -> str:
    """A chapter's title as a label of typst's language."""
    return "chapter-" + "-".join("".join(c if c.isalnum() else " " for c in title).lower().split())


def _q(words: str) -> str:
    """Words as a string of typst's language, with a mark for what the font has not; with the page of a
    chapter in them, as what is printed of both."""
    if PAGE in words:
        parts = words.split(PAGE)
        every = (f"page-of(<{_label(w)}>)" if k % 2 else _q(w) for k, w in enumerate(parts))
        return f"({' + '.join(every)})"
    return '"' + printable(kept_together(words)).replace("\\", "\\\\").replace('"', '\\"') + '"'
