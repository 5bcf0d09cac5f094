"""The frame of a sheet and its data fields: papers and margins of papers.csv, a layout of our own.

Fields are those of ISO 7200 and of a part's drawing; heights of lettering of ISO 3098's series.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Literal, NamedTuple

from msgspec.structs import replace

from parts.standard.table import load
from parts.value import Value
from planner.drawing.lettering import width_mm
from planner.drawing.model import (
    MM_PER_INCH,
    Box,
    Fields,
    Item,
    Line,
    Point,
    Polyline,
    Sheet,
    Text,
    TextureSymbol,
)
from planner.drawing.symbols import projection_sign

LABEL_MM, SMALL_MM, USUAL_MM, TITLE_MM = 1.8, 2.5, 3.5, 5.0
"""Heights of a field's name, of what stands in it, and of the title (ISO 3098's series)."""

GENERAL_MM = 1.8
"""Height of the letters on the general texture's sign: with its brackets it fills the field."""

BLOCK_WIDTH_MM, BLOCK_HEIGHT_MM = 180.0, 50.0
"""Of all the fields together; 180 mm is the most that ISO 7200 allows."""

BAND_MM = 5.0
"""Of the grid's letters, outside the frame (ISO 5457, from memory)."""

CENTRING_MM = 5.0
"""How far the centring marks run into the frame."""

STOCK = "Stock × finished length"
"""The name of the field of a piece's stock: it is sawn longer, by the cut list."""

INSET_MM = 1.0
"""Of words from the edge of their field."""

ROWS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Letters of the grid: no I and no O (ISO 5457)."""


class NoRoom(Exception):
    """What is to be drawn has no room on that paper, at any scale; a larger one may have."""


class Paper(Value, frozen=True):
    """One row of papers.csv; fields: how long those of the grid are along the two sides; 0: no grid."""

    name: str
    width_mm: float
    height_mm: float
    left_mm: float
    other_sides_mm: float
    top_bottom_mm: float
    field_long_mm: float
    field_short_mm: float
    source: str
    mark: str


PAPERS = {row.name: row for row in load(Path(__file__).with_name("papers.csv"), Paper, ("name",))}


def usual_projection(inch: bool) -> Literal["first", "third"]:
    """How views lie: in an inch shop by the third angle (ASME Y14.3), else by the first (ISO 5456-2),
    as is usual."""
    return "third" if inch else "first"


@lru_cache(maxsize=256)
def blank(
    fields: Fields,
    paper: str = "A4",
    landscape: bool = False,
    scale: str = "1:1",
    projection: Literal["first", "third"] = "first",
) -> Sheet:
    """A sheet with its frame and its fields filled in, and nothing drawn yet.

    paper: a name of PAPERS; landscape: its long side lies level. scale: as printed.
    Raises ValueError for an unknown paper.
    """
    if paper not in PAPERS:
        raise ValueError(f"paper {paper!r}: give one of {', '.join(PAPERS)}")
    row = PAPERS[paper]
    size = (row.width_mm, row.height_mm)
    width, height = size[::-1] if landscape else size
    sheet = Sheet(paper, width, height, fields, scale, projection)
    return replace(sheet, frame=tuple(_frame(sheet)))


def inside(sheet: Sheet) -> Box:
    """The drawing space: what the frame encloses."""
    row = PAPERS[sheet.paper]
    return Box(
        row.left_mm,
        row.top_bottom_mm,
        sheet.width - row.other_sides_mm,
        sheet.height - row.top_bottom_mm,
    )


def block(sheet: Sheet) -> Box:
    """What the fields take of the drawing space: its lower right corner."""
    space = inside(sheet)
    width = min(BLOCK_WIDTH_MM, space.right - space.left)
    return Box(space.right - width, space.low, space.right, space.low + BLOCK_HEIGHT_MM)


def fitted(text: Text, width: float, heights: tuple[float, ...]) -> Text:
    """A text in the first of some heights in which it is no wider; else cut short in the last."""
    for height in heights:
        if width_mm(text.words, height) <= width:
            return replace(text, height=height)
    words = text.words
    while words and width_mm(f"{words}…", heights[-1]) > width:
        words = words[:-1]
    return replace(text, words=f"{words.rstrip()}…", height=heights[-1])


def _frame(sheet: Sheet) -> Iterator[Item]:
    space = inside(sheet)
    yield _rectangle(space, "frame")
    yield from _centring(sheet, space)
    yield from _grid(sheet, space)
    yield from _block(sheet)


def _rectangle(box: Box, style: Literal["frame", "thin"]) -> Polyline:
    corners = ((box.left, box.low), (box.right, box.low), (box.right, box.top), (box.left, box.top))
    return Polyline(corners, style, closed=True)


def _centring(sheet: Sheet, space: Box) -> Iterator[Item]:
    """Marks in the middle of the paper's sides, from the band to inside the frame."""
    x, y = sheet.width / 2, sheet.height / 2
    band = min(BAND_MM, space.left, space.low, sheet.width - space.right)
    yield Line((x, space.top + band), (x, space.top - CENTRING_MM), "frame")
    yield Line((space.left - band, y), (space.left + CENTRING_MM, y), "frame")
    yield Line((space.right + band, y), (space.right - CENTRING_MM, y), "frame")
    if not block(sheet).left <= x <= block(sheet).right:
        yield Line((x, space.low - band), (x, space.low + CENTRING_MM), "frame")


def _grid(sheet: Sheet, space: Box) -> Iterator[Item]:
    """Fields counted from the paper's middle: numbers along the top, letters down the right side."""
    row = PAPERS[sheet.paper]
    across, down = row.field_short_mm, row.field_long_mm
    if sheet.width > sheet.height:
        across, down = down, across
    if not across:
        return
    edges = _field_edges(space.left, space.right, sheet.width / 2, across)
    for x in edges[1:-1]:
        yield Line((x, space.top), (x, space.top + BAND_MM), "thin")
    foot = space.top + (BAND_MM - USUAL_MM) / 2
    for number, (left, right) in enumerate(pairwise(edges), start=1):
        yield Text(((left + right) / 2, foot), str(number), USUAL_MM, "middle")
    edges = _field_edges(space.low, space.top, sheet.height / 2, down)
    for y in edges[1:-1]:
        yield Line((space.right, y), (space.right + BAND_MM, y), "thin")
    for letter, (top, low) in zip(ROWS, pairwise(edges[::-1]), strict=False):
        middle = (space.right + BAND_MM / 2, (low + top - USUAL_MM) / 2)
        yield Text(middle, letter, USUAL_MM, "middle")


def _field_edges(start: float, end: float, middle: float, step: float) -> list[float]:
    """Where the fields of a side meet, its ends too; what is less than a letter wide is none."""
    count = int((end - start) / step) + 1
    inner = [middle + k * step for k in range(-count, count + 1)]
    return [start, *(x for x in inner if start + BAND_MM < x < end - BAND_MM), end]


class _Cell(NamedTuple):
    """A field: its lower left corner in the block, its size, its name and what stands in it."""

    x: float
    y: float
    wide: float
    high: float
    name: str
    words: str = ""
    height: float = SMALL_MM


def _cells(sheet: Sheet) -> list[_Cell]:
    of = sheet.fields
    number = f"{of.sheet_number} / {of.number_of_sheets}"
    unit = {"mm": "mm", "in": "inches"}[of.unit]
    return [
        _Cell(0, 32, 60, 18, "General tolerances"),
        _Cell(60, 32, 32, 18, "Edges not drawn"),
        _Cell(92, 32, 28, 18, "Surface texture"),
        _Cell(120, 32, 60, 18, "Check of the print"),
        _Cell(0, 23, 60, 9, "Material", of.material),
        _Cell(60, 23, 44, 9, STOCK, of.stock),
        _Cell(104, 23, 16, 9, "Mass", of.mass),
        _Cell(120, 23, 15, 9, "Quantity", of.quantity),
        _Cell(135, 23, 15, 9, "Scale", sheet.scale, USUAL_MM),
        _Cell(150, 23, 30, 9, f"Lengths in {unit}"),
        _Cell(0, 8, 60, 15, "Owner", of.legal_owner, USUAL_MM),
        _Cell(60, 8, 80, 15, "Title"),
        _Cell(140, 8, 40, 15, "Number", of.identification_number, USUAL_MM),
        _Cell(0, 0, 30, 8, "Made by", of.creator),
        _Cell(30, 0, 30, 8, "Approved by", of.approval_person),
        _Cell(60, 0, 42, 8, "Type of document", of.document_type),
        _Cell(102, 0, 26, 8, "Date of issue", of.date_of_issue),
        _Cell(128, 0, 12, 8, "Revision", of.revision_index),
        _Cell(140, 0, 20, 8, "Sheet", number),
        _Cell(160, 0, 20, 8, "Paper", sheet.paper),
    ]


def _block(sheet: Sheet) -> Iterator[Item]:
    box, of = block(sheet), sheet.fields
    left, low = box.left, box.low
    yield Polyline(((left, low), (left, box.top), (box.right, box.top)), "frame")
    for cell in _cells(sheet):
        x, y = left + cell.x, low + cell.y
        yield _rectangle(Box(x, y, x + cell.wide, y + cell.high), "thin")
        room = cell.wide - 2 * INSET_MM
        name = Text((x + INSET_MM, y + cell.high - INSET_MM - LABEL_MM), cell.name)
        yield fitted(name, room, (LABEL_MM,))
        if cell.words:
            text = Text((x + INSET_MM, y + INSET_MM + 0.4), cell.words)
            yield fitted(text, room, (cell.height, SMALL_MM, LABEL_MM))
    high = low + BLOCK_HEIGHT_MM
    yield from _lines(of.tolerances, (left + INSET_MM, high), 60 - 2 * INSET_MM)
    if not of.edge_sizes:
        yield from _lines(wrapped(of.edges, 30), (left + 61, high), 30)
    yield from edge_signs(of.edge_sizes, (left + 62, low + 34))
    if of.texture:
        yield TextureSymbol(
            (left + 95.4, low + 37.6), of.texture, bracketed=True, height=GENERAL_MM
        )
    if of.texture_of:
        yield fitted(Text((left + 93, low + 33.2), of.texture_of), 26, (SMALL_MM, LABEL_MM))
    yield from check_bar((left + 123, low + 38), of.unit == "in", short=True)
    yield from projection_sign((left + 160, low + 24.1), 4.0, sheet.projection == "first")
    title = Text((left + 61, low + 13.6), of.title)
    yield fitted(title, 78, (TITLE_MM, USUAL_MM, SMALL_MM))
    if of.supplementary_title:
        yield fitted(Text((left + 61, low + 8.9), of.supplementary_title), 78, (SMALL_MM, LABEL_MM))


def edge_signs(sizes: tuple[str, ...], at: Point) -> Iterator[Item]:
    """An outside and an inside corner with what may be off or left there (ISO 13715, from memory).

    sizes: signed, of the one and the other; at: the lower left corner.
    """
    x, y = at
    side, apart = 2 * SMALL_MM, 5.8
    for row, (size, outside) in enumerate(zip(sizes, (True, False), strict=False)):
        low = y + (1 - row) * apart
        corner = (x + side, low + side * 0.8) if outside else (x, low)
        ends = (
            ((x, corner[1]), (corner[0], low))
            if outside
            else ((x, low + side * 0.8), (x + side, low))
        )
        yield Polyline((ends[0], corner, ends[1]), "thin")
        where = "outside" if outside else "inside"
        yield Text((x + side + 1.5, low + 0.4), f"{size} {where}", SMALL_MM)


def _lines(lines: tuple[str, ...], corner: Point, wide: float) -> Iterator[Text]:
    """Lines of a field from the top down, under its name."""
    for row, words in enumerate(lines):
        foot = corner[1] - INSET_MM - LABEL_MM - (row + 1) * (SMALL_MM + 1.0) - 0.2
        yield fitted(Text((corner[0], foot), words), wide, (SMALL_MM, LABEL_MM))


def wrapped(words: str, wide: float, height: float = SMALL_MM) -> tuple[str, ...]:
    """Words in lines that are no wider in letters so high, broken between words."""
    lines: list[str] = []
    for word in words.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, height) <= wide:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def check_bar(at: Point, inch: bool, short: bool = False, upright: bool = False) -> Iterator[Item]:
    """A bar to hold a rule to: 100 mm or 4 in from its left end, short: half of that; on the paper,
    whatever the sheet's scale. How long it is stands beside it. upright: from its foot upward."""
    step, count, words = (MM_PER_INCH, 4, "4 in") if inch else (10.0, 10, "100 mm")
    if short:
        step, count, words = (MM_PER_INCH / 2, 4, "2 in") if inch else (10.0, 5, "50 mm")
    x, y = at

    def place(run: float, up: float) -> Point:
        return (x - up, y + run) if upright else (x + run, y + up)

    yield Line(place(0.0, 0.0), place(count * step, 0.0), "thin")
    for tick in range(count + 1):
        up = 3.0 if tick in (0, count) else 1.5
        yield Line(place(tick * step, 0.0), place(tick * step, up), "thin")
    foot = place(0.0, -INSET_MM - SMALL_MM)
    words = f"{words}, printed full size"
    yield Text(foot, words, SMALL_MM, rotation_deg=90.0 if upright else 0.0)
