"""All sheets of an attachment: pieces before welding, weldments, single parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from parts.attachment import Attachment
from parts.standard.materials import material
from planner.drawing.layout import sheet
from planner.drawing.model import Fields, Sheet
from planner.drawing.proof import faults
from planner.drawing.scheme import Scheme, scheme
from planner.drawing.subjects import Subject, subjects
from planner.drawing.wording import GENERAL_TEXTURE_UM, edge_sizes, general_tolerances
from planner.solids import mass_kg
from planner.solids.build import piece
from planner.words.numbers import Numbers

FROM_PLATE = ", from plate"
"""What is said of a flat piece that is cut from a sheet."""


class Unproven(Exception):
    """A finished sheet that leaves something open or says it twice: a fault of a rule."""


def fields(
    subject: Subject,
    numbers: Numbers,
    number: int,
    count: int,
    job: str,
    revision: str = "",
    plate: bool = False,
    many: int = 1,
) -> Fields:
    """What stands in a sheet's data fields; owner, date and who made it are left to the hand.

    plate: whether a flat piece is cut from a sheet. many: how many attachments are made.
    """
    stock, joined = subject.stock, subject.joined
    what, made_of = "", stock.material if stock else ""
    if stock is not None:
        length = numbers.plain.size(stock.length_mm)
        what = f"{numbers.stock(stock.section)} × {length}{FROM_PLATE if plate else ''}"
    elif joined is not None:
        made_of = _materials({m.name: m.blank.material for m in joined.members})
        drawn = sum(bool(m.features) for m in joined.members)
        what = f"{len(joined.members)} pieces, sheets {number - drawn} to {number - 1}"
    return Fields(
        subject.title,
        subject.name,
        sheet_number=number,
        number_of_sheets=count,
        document_type="Weldment" if subject.joined else "Piece" if subject.member else "Part",
        supplementary_title=job,
        revision_index=revision,
        material=made_of,
        stock=what,
        mass=numbers.drawn_mass(_mass_kg(subject)),
        quantity=str(many * subject.part.quantity),
        tolerances=general_tolerances(numbers, subject.joined is not None),
        edge_sizes=edge_sizes(numbers),
        texture=numbers.plain.roughness(GENERAL_TEXTURE_UM),
        texture_of="of what is cut",
        unit="in" if numbers.inch else "mm",
    )


def _materials(by_name: dict[str, str]) -> str:
    """One material for all, or each piece's."""
    if len(set(by_name.values())) == 1:
        return next(iter(by_name.values()))
    return ", ".join(f"{name} {what}" for name, what in by_name.items())


def _mass_kg(subject: Subject) -> float:
    """What it weighs as drawn, without weld filler."""
    if subject.member is None:
        return mass_kg(subject.part)
    density = material(subject.member.blank.material).density_kg_m3 * 1e-9
    return float(piece(subject.member).Volume()) * density


def drawn_sheet(
    subject: Subject,
    numbers: Numbers,
    place: tuple[int, int],
    job: str,
    paper: str = "A4",
    projection: Literal["first", "third"] = "first",
    revision: str = "",
    plate: bool = False,
    many: int = 1,
) -> Sheet:
    """The proven sheet of one subject.

    place: its number, and of how many. revision: as printed. plate, many: as ``fields``. paper: a key
    of layout.PAPERS; a sheet that it does not hold goes on the next larger. Raises DoesNotFit where
    none holds it; UnclaimedFace, Contradiction and Unproven for faults of ours.
    """
    data = fields(subject, numbers, *place, job, revision, plate, many)
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
