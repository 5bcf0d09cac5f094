"""How wide a table's columns are on the paper, and which tables are set as entries in their stead.

Imported by the writer alone. Widths are of the font's own letters, so that no word runs out of its
column.
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import ceil

from planner.book.model import FILL, PAGE, Rows, boxes
from planner.drawing.lettering import width_of_letters_mm

GAP_MM = 2.6
"""Between columns."""

TICK_MM, FILL_MM = 11.0, 26.0
"""Columns of boxes, and of blanks."""

NEXT_MM = 5.8
"""From a box to the next of the same cell."""

MOST_LINES = 5
"""A cell that wraps into more lines than that reads better as an entry."""

BOLD_MM = 0.4
"""What bold words are wider by."""

_PAGE = re.compile(f"{PAGE}[^{PAGE}]*{PAGE}")
_TOGETHER = re.compile(
    r"(?<=[\d'°]) (?=(mm|in|deg|min|rev/min|m/min|ft/min|tpi|Nm|N|lbf|kg|g|lb|oz|h)\b(?!-)|\d\d['\"])"
)


_SCREW = re.compile(r"\bM[\d.]+ x [\d.]+ mm\b")


def kept_together(words: str) -> str:
    """Words with blanks that do not break between a figure and its unit, or in a screw's name."""
    whole = _SCREW.sub(lambda found: found[0].replace(" ", "\u00a0"), words)
    return _TOGETHER.sub("\u00a0", whole)


@lru_cache(maxsize=4096)
def wide(words: str, size_mm: float) -> float:
    """How wide words are in a cell."""
    if many := boxes(words):
        return max(TICK_MM - GAP_MM, many * NEXT_MM)
    if words == FILL:
        return FILL_MM - GAP_MM
    return width_of_letters_mm(_PAGE.sub("000", words), size_mm) + BOLD_MM


def widths_mm(rows: Rows, space_mm: float, size_mm: float) -> tuple[float, ...] | None:
    """The width of each column, gaps included; None where the table is to be set as entries.

    space_mm: of the paper between its margins; size_mm: of the letters.
    """
    columns = list(zip(rows.heads, *rows.rows, strict=True))
    whole = [max(wide(cell, size_mm) for cell in column) + GAP_MM for column in columns]
    if sum(whole) <= space_mm:
        return tuple(whole)
    least = [
        max(wide(word, size_mm) for cell in column for word in _words(cell)) + GAP_MM
        for column in columns
    ]
    spare = space_mm - sum(least)
    if spare < 0:
        return None
    wanted = [max(0.0, a - b) for a, b in zip(whole, least, strict=True)]
    given = dict[int, float]()
    # what wants least is given all of it first, so that only the widest columns wrap
    for left, k in enumerate(sorted(range(len(wanted)), key=lambda k: wanted[k])):
        given[k] = min(wanted[k], (spare - sum(given.values())) / (len(wanted) - left))
    found = tuple(one + given[k] for k, one in enumerate(least))
    for column, width in zip(columns, found, strict=True):
        for cell in column[1:]:
            if ceil(wide(cell, size_mm) / (0.9 * (width - GAP_MM))) > MOST_LINES:
                return None
    return found


def _words(cell: str) -> list[str]:
    """What does not break."""
    if boxes(cell):
        return [cell]
    return kept_together(_PAGE.sub("000", cell)).split(" ")
