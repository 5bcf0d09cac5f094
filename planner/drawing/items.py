"""The numbered items of the whole and their list on a sheet: what balloons point at.

Imported by the sheets of the whole and by whoever makes their set.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate
from typing import Literal

from parts.attachment import Attachment, Placed
from parts.part import Bought, Part, members
from parts.standard.threads import thread
from parts.value import Value
from planner.drawing.frame import LABEL_MM, SMALL_MM, wrapped
from planner.drawing.lettering import width_mm
from planner.drawing.model import Box, Item, Line, Text
from planner.drawing.strokes import LINE_PITCH
from planner.words.numbers import Numbers

ROW_MM = 5.0
"""From line to line of the list."""

HEADS = ("Item", "No.", "What it is", "Material or standard", "", "Sheet")
"""Of its columns (ISO 7573, from memory)."""

WORDED = ("What it is", "Material or standard")
"""Which of them have words that may go on in a second line; the others are as wide as they need."""

ASIDE_MM = 1.0
"""From a column's line to its letters."""


class Numbered(Value, frozen=True):
    """One line of the list: every piece of a part, or of a bought item, has the same number.

    of: material or standard; sheet: the number of the sheet that it is made by, 0 for none.
    """

    number: int
    item: Part | Bought
    quantity: int
    title: str
    of: str
    source: Literal["made", "bought"]
    sheet: int = 0


def numbered(
    attachment: Attachment, numbers: Numbers, sheets: Mapping[str, int]
) -> tuple[Numbered, ...]:
    """Every item of the whole in its order, what is made first; sheets: of each part by its name."""
    found = [
        Numbered(n, part, part.quantity, part.title, _materials(part), "made", sheets[part.name])
        for n, part in enumerate(attachment.parts, 1)
    ]
    for n, item in enumerate(attachment.bought, len(found) + 1):
        title = f"{_ordered(item, numbers)}: {item.use}"
        found.append(Numbered(n, item, item.quantity, title, item.standard, "bought"))
    return tuple(found)


def number_of(items: Sequence[Numbered], placed: Placed) -> int:
    """The number of a thing in its place. Raises StopIteration where it is none of the items."""
    item = placed.item
    if isinstance(item, Part):
        return next(one.number for one in items if one.item is item)
    return next(one.number for one in items if one.item == item)


def _materials(part: Part) -> str:
    """The materials of its pieces, each once."""
    return ", ".join(dict.fromkeys(member.blank.material for member in members(part)))


def _ordered(item: Bought, numbers: Numbers) -> str:
    """What a bought item is ordered as."""
    plain, words = numbers.plain, item.kind.capitalize()
    if item.ring:
        inside = f" × {plain.size(item.ring.inside_mm)}" if item.ring.inside_mm else ""
        return f"{words} {plain.size(item.ring.outside_mm)}{inside}"
    length = ""
    if item.length_mm:
        unified = thread(item.thread).system == "unified"
        length = numbers.screw_length(item.length_mm, unified, cut=item.kind == "stud")
        length = f" × {length}"
    name = (numbers.washer if item.kind == "washer" else numbers.thread)(item.thread)
    return f"{words} {name}{length}"


def _cells(one: Numbered) -> tuple[str, ...]:
    sheet = str(one.sheet) if one.sheet else ""
    return str(one.number), str(one.quantity), one.title, one.of, one.source, sheet


def _widths(rows: Sequence[tuple[str, ...]], wide: float) -> list[float]:
    """Of the columns, together so wide: what is short gets what it needs, the words share the rest."""
    need = [
        2 * ASIDE_MM
        + max([width_mm(HEADS[k], LABEL_MM), *(width_mm(row[k], SMALL_MM) for row in rows)])
        for k in range(len(HEADS))
    ]
    what, of = map(HEADS.index, WORDED)
    room = wide - sum(one for k, one in enumerate(need) if k not in (what, of))
    need[of] = min(need[of], max(room - need[what], 0.4 * room))
    need[what] = room - need[of]
    return need


def _broken(row: tuple[str, ...], widths: Sequence[float]) -> list[tuple[str, ...]]:
    """The cells of a row in their lines, all in letters of one height."""
    return [
        wrapped(cell, wide - 2 * ASIDE_MM) if head in WORDED else (cell,)
        for head, cell, wide in zip(HEADS, row, widths, strict=True)
    ]


def _row_mm(cells: Sequence[tuple[str, ...]]) -> float:
    return ROW_MM + LINE_PITCH * SMALL_MM * (max(map(len, cells)) - 1)


def high_mm(items: Sequence[Numbered], wide: float) -> float:
    """How high the list is with its head, so wide."""
    rows = [_cells(one) for one in items]
    widths = _widths(rows, wide)
    return ROW_MM + sum(_row_mm(_broken(row, widths)) for row in rows)


def listed(items: Sequence[Numbered], block: Box) -> Iterator[Item]:
    """The list on the data fields, its head lowest and the first item over it."""
    rows = [_cells(one) for one in items]
    widths = _widths(rows, block.right - block.left)
    edges = [block.left, *(block.left + run for run in accumulate(widths))]
    top = block.top
    for row in (HEADS, *rows):
        cells = [(cell,) for cell in row] if row is HEADS else _broken(row, widths)
        top += _row_mm(cells)
        yield Line((block.left, top), (block.right, top), "thin")
        for lines, left in zip(cells, edges, strict=False):
            for n, words in enumerate(lines):
                low = top - ROW_MM - n * LINE_PITCH * SMALL_MM + 1.4
                height = LABEL_MM if row is HEADS else SMALL_MM
                if words:
                    yield Text((left + ASIDE_MM, low), words, height)
    yield Line((block.left, block.top), (block.left, top), "frame")
    for x in edges[1:-1]:
        yield Line((x, block.top), (x, top), "thin")
