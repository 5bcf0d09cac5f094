"""About how high a set-up with its first step, and a table, come out on the paper, in mm.

Imported by the writer alone, which asks whether they may be broken: to have typst set them once more
only to be measured took as long as the book itself. Within a fifth of what it measures (a test asks).
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.book.columns import BOLD_MM, GAP_MM, kept_together, wide
from planner.book.model import FILL, TICK, Line, Rows, SetUp, Step, boxes

LINE_MM = 5.1
"""From line to line of letters of 12 points: their height over the line and half their size."""

AFTER_MM = 1.1
"""What a paragraph stands off the one before it more than a line."""

ROUND_MM, BETWEEN_MM = 5.5, 3.4
"""Over a set-up's heading and under it; between it and its first step."""

CELL_MM = 3.2
"""Over and under what stands in a row of a table."""

LEAD_MM = 1.9
"""Between two lines of a cell: one more than there is."""

HIGH_MM = {TICK: 4.1, FILL: 6.0}
"""A box to tick, and a blank to write in."""

STEP_LEFT_MM = 19.0
"""What stands left of a step's words: its box and number."""

BLANK_MM = 49.0
"""What stands right of a line with a reading."""

BESIDE_GAP_MM = 4.0
"""Between a set-up's words and the sketch beside them."""


def rows_mm(rows: Rows, widths: Sequence[float], letters_mm: float) -> float:
    """A table whose columns are so wide, gaps included, its head with it."""
    return sum(_row_mm(row, widths, letters_mm) for row in (rows.heads, *rows.rows))


def _row_mm(row: Sequence[str], widths: Sequence[float], letters_mm: float) -> float:
    return CELL_MM + max(
        HIGH_MM.get(TICK if boxes(cell) else cell)
        or _lines(cell, width - GAP_MM, letters_mm) * LINE_MM - LEAD_MM
        for cell, width in zip(row, widths, strict=True)
    )


def begun_mm(head: SetUp, first: Step, space_mm: float, letters_mm: float, beside: bool) -> float:
    """A set-up with its first step. space_mm: between the margins; beside: its sketch, not under."""
    sketch = head.sketch
    width = space_mm - (sketch.width + BESIDE_GAP_MM if sketch and beside else 0.0)
    words = ROUND_MM + sum(
        _under(one, width, letters_mm) for one in (Line(head.title), *head.lines)
    )
    if sketch:
        high = sketch.height + ROUND_MM / 2
        words = max(words, high) if beside else words + high
    width = space_mm - STEP_LEFT_MM
    step = sum(_under(one, width, letters_mm) for one in (Line(first.words), *first.lines))
    return words + BETWEEN_MM + sum(AFTER_MM for _ in first.lines) + step


def _under(one: Line, width: float, letters_mm: float) -> float:
    """A line of a set-up or a step."""
    room = width - BLANK_MM if one.kind == "reading" else width
    high = _lines(one.words, room, letters_mm) * LINE_MM
    return max(high, HIGH_MM[FILL] + AFTER_MM) if one.kind in ("reading", "blank") else high


def _lines(words: str, width: float, letters_mm: float) -> int:
    """How many lines words take; a word that does not break goes to the next."""
    if boxes(words) or wide(words, letters_mm) <= width + 0.1:
        return 1
    at, many, blank = 0.0, 1, wide("a b", letters_mm) - wide("ab", letters_mm)
    for word in kept_together(words).split(" "):
        long = wide(word, letters_mm) - BOLD_MM
        if at and at + blank + long > width:
            many, at = many + 1, 0.0
        at += long + (blank if at else 0.0)
    return many
