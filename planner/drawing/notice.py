"""A page that says in words why there is no drawing on it. Imported by the sheets of a job."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec.structs import replace

from planner.drawing.frame import blank, inside, wrapped
from planner.drawing.model import TEXT_MM, Fields, Sheet, Text

FROM_FRAME_MM = 10.0
"""Of the words from the frame."""


def notice(
    fields: Fields,
    sentences: Sequence[str],
    paper: str = "A4",
    projection: Literal["first", "third"] = "first",
) -> Sheet:
    """A sheet with sentences for a drawing, each on lines of its own from the top down.

    paper: a name of frame.py: PAPERS. Raises ValueError for an unknown paper.
    """
    sheet = blank(fields, paper, scale="–", projection=projection)
    space = inside(sheet)
    left, top = space.left + FROM_FRAME_MM, space.top - FROM_FRAME_MM
    wide = space.right - FROM_FRAME_MM - left
    items, low = [], top
    for sentence in sentences:
        for line in wrapped(sentence, wide, TEXT_MM):
            low -= 2 * TEXT_MM
            items.append(Text((left, low), line, TEXT_MM))
        low -= TEXT_MM
    return replace(sheet, items=tuple(items))
