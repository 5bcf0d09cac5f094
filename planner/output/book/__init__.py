"""What stands in the build book of one job, chapter by chapter; planner.book sets it on paper.

A chapter is a function of a Job's Pages here. Nothing of it loads the CAD kernel: drawings and the
cover's picture are taken from the package's own files. Imported by the files of the package.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from planner.book.model import Book, Chapter
from planner.output.book import balls, lathe, opening, parts, stock, tables
from planner.output.book.pages import Pages

if TYPE_CHECKING:
    from planner.output.plan import Plan


def book(plan: Plan, cover: str) -> Book:
    """The book of a job. cover: the path in the package of the picture on its first page."""
    of = Pages(plan)
    name = plan.job.name
    return Book(
        f"Build book, {name}",
        name,
        of.revision,
        of.paper,
        opening.cover(of, cover),
        tuple(_chapters(of)),
    )


def _chapters(of: Pages) -> Iterator[Chapter]:
    yield opening.how_to(of)
    yield opening.cautions(of)
    yield opening.findings(of)
    yield opening.whole(of)
    yield stock.shopping(of)
    yield stock.sawing(of)
    yield from stock.sheets(of)
    yield parts.order(of)
    yield from parts.every(of)
    yield from parts.welds(of)
    yield parts.assembly(of)
    yield lathe.dial(of)
    yield lathe.first_ball(of)
    yield from balls.knob(of)
    yield from balls.every(of)
    yield lathe.mounting(of)
    yield tables.notes(of)
    yield from tables.used(of)
