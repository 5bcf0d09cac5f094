"""The pieces of bar a job takes: what each is, how long it is sawn, and what it is held by.

Imported by what lays them out, prints them or draws them.
"""

from __future__ import annotations

from parts.attachment import Attachment
from parts.part import members
from parts.standard.materials import material
from parts.standard.sections import Section
from parts.value import Value
from planner.job.tables import Job
from planner.making.holding import Hold, from_sheet, holdings
from planner.words.numbers import Numbers


class Piece(Value, frozen=True):
    """One length to saw.

    part, piece: whose it is. finished_mm: after facing. facing_mm: both ends together; grip_mm: the
    spare to hold by, its own. cut_mm: the sawn length, their sum. from_bar: turned and parted off the
    bar itself and never sawn, one grip for all of a bar (shared_grip_mm), or its own where other pieces
    of that bar are sawn. stock: what it is taken from, where that is thicker than its section.
    """

    part: str
    piece: str
    section: Section
    material: str
    quantity: int
    finished_mm: float
    facing_mm: float
    grip_mm: float
    from_bar: bool = False
    shared_grip_mm: float = 0.0
    stock: Section | None = None

    @property
    def cut_mm(self) -> float:
        """Its length before anything is faced off it."""
        return self.finished_mm + self.facing_mm + self.grip_mm

    def sawn_mm(self, numbers: Numbers) -> float:
        """What it is sawn to, or turned off its bar to; with what is faced and gripped it adds up."""
        spare = 0.0 if self.from_bar else self.facing_mm + self.grip_mm
        return numbers.sawn_to_mm(self.cut_mm, spare)

    @property
    def taken_from(self) -> Section:
        """The section it is sawn from."""
        return self.stock or self.section

    @property
    def swarf_kg(self) -> float:
        """What all of them lose by being turned down from a thicker bar."""
        extra = self.taken_from.area_mm2 - self.section.area_mm2
        density = material(self.material).density_kg_m3
        return extra * self.cut_mm * self.quantity * density * 1e-9


def pieces_of(attachment: Attachment, job: Job) -> tuple[Piece, ...]:
    """Every piece of bar of the job: the attachment's, as often as it is made, and the user's own."""
    found = []
    held = holdings(attachment, job)
    for part in attachment.parts:
        for member in members(part):
            if from_sheet(member.blank, job):
                continue  # nested on sheets: stock.flats
            how = held[part.name, member.name]
            shared = how.hold is Hold.BAR
            found.append(
                Piece(
                    part.name,
                    member.name,
                    member.blank.section,
                    member.blank.material,
                    part.quantity * job.attachment.quantity,
                    member.blank.length_mm,
                    how.facing_mm,
                    0.0 if shared else how.grip_mm,
                    shared,
                    how.grip_mm if shared else 0.0,
                )
            )
    for own in job.piece:
        found.append(
            Piece("own", own.name, own.section, own.material, own.quantity, own.length, 0.0, 0.0)
        )
    return tuple(found)
