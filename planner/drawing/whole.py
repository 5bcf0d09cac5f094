"""What the sheets of the whole share: their fields, scales and papers, and lines put on the paper.

Imported by the general arrangement, the section and the exploded view.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Literal, NamedTuple

from planner.drawing import frame
from planner.drawing.lanes import DoesNotFit
from planner.drawing.leaders import NOTE_MM
from planner.drawing.model import Box, Fields, Item, Line, Point, Polyline, Sheet, Style, Text
from planner.drawing.strokes import LINE_PITCH
from planner.words.numbers import Numbers

SCALES = ("1:1", "1:2", "1:3", "1:4", "1:5", "1:10")
"""Of ISO 5455 (from memory), and 1:3 and 1:4: a step from 1:2 to 1:5 would leave a sheet empty."""


class Drawing(NamedTuple):
    """What a sheet of the whole is of: the job, its numbers, and the sheet's place in the set."""

    name: str
    title: str
    job: str
    numbers: Numbers
    number: int
    of: int
    projection: Literal["first", "third"] = "first"
    revision: str = ""
    many: int = 1

    @property
    def fields(self) -> Fields:
        """What stands in the sheet's data fields."""
        return Fields(
            self.title,
            self.name,
            sheet_number=self.number,
            number_of_sheets=self.of,
            document_type="Assembly",
            supplementary_title=self.job,
            revision_index=self.revision,
            material="see the parts' own sheets",
            quantity=str(self.many),
            tolerances=("none: nothing is made by this sheet",),
            unit="in" if self.numbers.inch else "mm",
        )

    def blank(self, paper: str, landscape: bool, scale: str) -> Sheet:
        """An empty sheet of it."""
        return frame.blank(self.fields, paper, landscape, scale, self.projection)


def tried(papers: Iterable[str], coarsest: str) -> Iterator[tuple[str, str]]:
    """Papers and scales in the order they are tried: no scale smaller than one on any but the last."""
    every = list(papers)
    for paper in every:
        for scale in SCALES:
            yield paper, scale
            if scale == coarsest and paper != every[-1]:
                break


def on_paper(
    paths: Iterable[Iterable[Any]], origin: Point, by: float, style: Style = "visible"
) -> Iterator[Item]:
    """Paths of a view as lines of the paper."""
    x, y = origin
    for path in paths:
        points = tuple((x + by * u, y + by * v) for u, v in path)
        if len(points) == 2:
            yield Line(points[0], points[1], style)
        elif points[0] == points[-1]:
            yield Polyline(points[:-1], style, closed=True)
        else:
            yield Polyline(points, style)


def sentences(lines: Iterable[str], at: Point, wide: float) -> tuple[list[Item], Box]:
    """Words in lines from a corner down, each sentence on a line of its own; and the box they take."""
    x, y = at
    rows = [row for line in lines for row in frame.wrapped(line, wide, NOTE_MM)]
    pitch = LINE_PITCH * NOTE_MM
    items: list[Item] = [
        Text((x, y - NOTE_MM - pitch * number), row, NOTE_MM) for number, row in enumerate(rows)
    ]
    return items, Box(x, y - pitch * len(rows) - 1.0, x + wide, y)


__all__ = ["SCALES", "DoesNotFit", "Drawing", "on_paper", "sentences", "tried"]
