"""The numbered items of the whole and their list on a sheet: what balloons point at.

Imported by the sheets of the whole and by whoever makes their set.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from parts.attachment import Attachment, Placed
from parts.part import Bought, Part, members
from parts.standard.threads import thread
from planner.drawing.frame import LABEL_MM, SMALL_MM, fitted
from planner.drawing.model import Box, Item, Line, Text
from planner.words.numbers import Numbers

ROW_MM = 5.0
"""From line to line of the list."""

COLUMNS = (
    ("Item", 8.0),
    ("No.", 7.0),
    ("What it is", 87.0),
    ("Material or standard", 53.0),
    ("", 15.0),
    ("Sheet", 10.0),
)
"""Heads and widths of its columns, together as wide as the data fields (ISO 7573, from memory)."""


@dataclass(frozen=True)
class Numbered:
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
        length = f" × {numbers.screw_length(item.length_mm, unified)}"
    return f"{words} {numbers.thread(item.thread)}{length}"


def high_mm(items: Sequence[Numbered]) -> float:
    """How high the list is with its head."""
    return ROW_MM * (len(items) + 1)


def listed(items: Sequence[Numbered], block: Box) -> Iterator[Item]:
    """The list on the data fields, its head lowest and the first item over it."""
    widths = [wide for _, wide in COLUMNS]
    over = (block.right - block.left) / sum(widths)
    edges = [block.left]
    for wide in widths:
        edges.append(edges[-1] + over * wide)
    rows: list[tuple[str, ...]] = [tuple(head for head, _ in COLUMNS)]
    for one in items:
        sheet = str(one.sheet) if one.sheet else ""
        rows.append((str(one.number), str(one.quantity), one.title, one.of, one.source, sheet))
    top = block.top + ROW_MM * len(rows)
    for row, words in enumerate(rows):
        low = block.top + ROW_MM * row
        yield Line((block.left, low + ROW_MM), (block.right, low + ROW_MM), "thin")
        for cell, left, right in zip(words, edges, edges[1:], strict=False):
            if cell:
                text = Text((left + 1.0, low + 1.4), cell)
                heights = (SMALL_MM, LABEL_MM) if row else (LABEL_MM,)
                yield fitted(text, right - left - 2.0, heights)
    yield Line((block.left, block.top), (block.left, top), "frame")
    for x in edges[1:-1]:
        yield Line((x, block.top), (x, top), "thin")
