"""What a book is: chapters of blocks, as plain data. Imported by the writer and by what fills it.

All words are as printed; sizes are mm of the paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from parts.value import Value
from planner.words.tables import Table

PAGE = "\x02"
"""Round the title of a chapter, of a set-up or a sheet: the number of the page that it begins on."""

TICK, FILL = "[ ]", "________"
"""Cells of a table that are printed as a box to tick and as a line to write on."""


class Heading(Value, frozen=True):
    """A heading within a chapter, with a bookmark."""

    words: str


class Words(Value, frozen=True):
    """A paragraph. A caution is set in a frame with the word before it."""

    words: str
    kind: Literal["plain", "strong", "caution"] = "plain"


class Points(Value, frozen=True):
    """A list of short points."""

    words: tuple[str, ...]


class Line(Value, frozen=True):
    """A line under a step. kind "reading": with a blank for what was measured; "blank": with one to
    write on; "caution": with the word before it."""

    words: str
    kind: Literal["plain", "reading", "blank", "caution"] = "plain"


class Step(Value, frozen=True):
    """Something to do, with a box to tick; kept together on a page, and with what follows where it
    ``leads`` on to that. boxes: one, or one for each of so many made alike, numbered."""

    number: str
    words: str
    lines: tuple[Line, ...] = ()
    leads: bool = False
    boxes: int = 1


class Picture(Value, frozen=True):
    """An SVG in its own size. name: said to who cannot see it; words: printed under it; ordered: never
    before one that it comes after."""

    svg: str
    width: float
    height: float
    name: str
    words: str = ""
    ordered: bool = False


class SetUp(Value, frozen=True):
    """The head of a set-up: what holds the work and how, a sketch beside it; it keeps to a step."""

    title: str
    lines: tuple[Line, ...]
    sketch: Picture | None = None


class Rows(Value, frozen=True):
    """A table; its head stands again on each page, and no page has a row or two of it alone.

    title: "" for none. notes: under it.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    notes: tuple[str, ...] = ()


class Drawn(Value, frozen=True):
    """A page of another PDF of the package, in its own size, with a bookmark.

    file: its path in the package; page: counted from 1.
    """

    file: str
    page: int
    title: str


class Ruled(Value, frozen=True):
    """Lines to write on, to the foot of the page. squares: in both directions."""

    squares: bool = False


class Contents(Value, frozen=True):
    """The chapters and the pages that they begin on."""


class NewPage(Value, frozen=True):
    """What follows begins on a page of its own."""


Block = (
    Heading | Words | Points | Step | SetUp | Picture | Rows | Drawn | Ruled | Contents | NewPage
)


class Chapter(Value, frozen=True):
    """A chapter begins on a page of its own, or follows the one before it on its page.

    part: as printed at the foot of its pages. One that begins with a drawing has no heading but the
    drawing's own, only its bookmark.
    """

    title: str
    blocks: tuple[Block, ...]
    part: str = ""
    follows: bool = False


class Cover(Value, frozen=True):
    """The first page. picture: the path in the package of its SVG. sizes: what and how much."""

    title: str
    words: tuple[str, ...]
    picture: str
    sizes: tuple[tuple[str, str], ...]
    blanks: tuple[str, ...]


class Book(Value, frozen=True):
    """A book. job and revision: printed on every page. paper: "A4" or "Letter"."""

    title: str
    job: str
    revision: str
    paper: Literal["A4", "Letter"]
    cover: Cover
    chapters: tuple[Chapter, ...]


def rows_of(table: Table, titled: bool = True) -> Rows:
    """A table of the commands as the book has it, empty columns left out."""
    shown = table.rows if table.shown is None else table.shown
    cells = [tuple("" if cell is None else str(cell) for cell in row) for row in shown]
    heads = table.heads or tuple(column.heading for column in table.columns)
    kept = [k for k in range(len(heads)) if any(row[k] for row in cells)]
    return Rows(
        tuple(heads[k] for k in kept),
        tuple(tuple(row[k] for k in kept) for row in cells),
        table.title if titled else "",
        table.notes,
    )


def boxes(cell: str) -> int:
    """How many boxes a cell is, one for each of so many made alike; 0 where it is words."""
    return cell.count(TICK) if cell and not cell.replace(TICK, "").strip() else 0


def ticked(rows: Rows, head: str = "done") -> Rows:
    """The same with a box to tick at the end of each row."""
    every = tuple((*row, TICK) for row in rows.rows)
    return Rows((*rows.heads, head), every, rows.title, rows.notes)


def only(rows: Rows, heads: Sequence[str]) -> Rows:
    """The columns of some heads, in their order; heads that it has not are passed over."""
    at = [rows.heads.index(head) for head in heads if head in rows.heads]
    return Rows(
        tuple(rows.heads[k] for k in at),
        tuple(tuple(row[k] for k in at) for row in rows.rows),
        rows.title,
        rows.notes,
    )


def page_of(title: str) -> str:
    """What is printed as "page 12": where a chapter of that title begins, a heading that no other
    has, "set-up 7" or "sheet 3"."""
    return f"page {number_of(title)}"


def number_of(title: str) -> str:
    """The same as a number alone."""
    return f"{PAGE}{title}{PAGE}"


def lines(words: Iterable[str]) -> tuple[Line, ...]:
    """Plain lines of all that is not empty."""
    return tuple(Line(one) for one in words if one)
