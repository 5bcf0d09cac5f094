"""All sheets of an attachment: pieces before welding, weldments, single parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from parts.attachment import Attachment
from planner.drawing.layout import sheet
from planner.drawing.model import Fields, Sheet
from planner.drawing.proof import faults
from planner.drawing.scheme import Scheme, scheme
from planner.drawing.subjects import Subject, subjects
from planner.drawing.wording import general_tolerances
from planner.words.numbers import Numbers


class Unproven(Exception):
    """A finished sheet that leaves something open or says it twice: a fault of a rule."""


def fields(subject: Subject, numbers: Numbers, number: int, count: int, job: str) -> Fields:
    """What stands in a sheet's data fields."""
    stock = subject.stock
    what = ""
    if stock is not None:
        length = numbers.plain.rule(stock.length_mm)
        what = f"{numbers.stock(stock.section)} × {length}"
    return Fields(
        subject.title,
        subject.name,
        sheet_number=number,
        number_of_sheets=count,
        document_type="Weldment" if subject.joined else "Piece" if subject.member else "Part",
        supplementary_title=job,
        material=stock.material if stock else "pieces by their own sheets",
        stock=what,
        quantity=str(subject.part.quantity),
        tolerances=general_tolerances(numbers),
        edges="deburred",
        unit="in" if numbers.inch else "mm",
    )


def drawn_sheet(
    subject: Subject,
    numbers: Numbers,
    place: tuple[int, int],
    job: str,
    paper: str = "A4",
    projection: Literal["first", "third"] = "first",
) -> Sheet:
    """The proven sheet of one subject.

    place: its number, and of how many. paper: a key of layout.PAPERS; a sheet that it does not hold
    goes on the next larger. Raises DoesNotFit where none holds it; UnclaimedFace, Contradiction and
    Unproven for faults of ours.
    """
    data = fields(subject, numbers, *place, job)
    made = sheet(scheme(subject), data, numbers, paper, projection)
    if wrong := faults(subject, made):
        raise Unproven(f"{subject.name}: {'; '.join(wrong)}")
    return made


def sheets(
    attachment: Attachment,
    numbers: Numbers,
    job: str,
    paper: str = "A4",
    projection: Literal["first", "third"] = "first",
) -> Iterator[tuple[Subject, Scheme, Sheet]]:
    """Every sheet in the order of the attachment, as ``drawn_sheet``."""
    found = subjects(attachment)
    for number, subject in enumerate(found, 1):
        place = (number, len(found))
        made = drawn_sheet(subject, numbers, place, job, paper, projection)
        yield subject, scheme(subject), made
