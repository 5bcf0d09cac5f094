"""The drawings of one job: which sheets, from what, on which paper, and the folder they go to.

Imported by ``pommel draw``, and for the package by the plan and the drawings' files. What a sheet is
drawn from is the Ground alone, so that a build knows by it whether an earlier package has the same.
Another sheet joins by being in ``wanted``.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cached_property, partial
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from parts.attachment import Attachment
from parts.value import Value
from planner.drawing.arrangement import Standing
from planner.drawing.dxf import write_dxf
from planner.drawing.exploded import view_alone
from planner.drawing.frame import usual_projection
from planner.drawing.lanes import DoesNotFit
from planner.drawing.model import Dimension, Fields, Sheet
from planner.drawing.notice import notice
from planner.drawing.pdf import has_pdf, pdf
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import Subject, subjects
from planner.drawing.svg import svg
from planner.drawing.whole import Drawing
from planner.making.holding import from_sheet
from planner.output.caches import caches_in
from planner.output.package.claim import Claim, claimed
from planner.output.package.swap import mend, placed, settled, unwritable
from planner.output.whole_sheets import EXPLODED, WHOLE, standing, whole_sheet
from planner.words.findings import BadInput, Finding, finding
from planner.words.numbers import Numbers
from planner.words.short import begun, few

if TYPE_CHECKING:
    from planner.output.plan import Plan

REVISION = 6
"""Letters of the hash of all that the sheets are drawn from, which stand for their revision."""

COLUMNS = ("number", "name", "title", "paper", "scale", "projection", "dimensions")
"""What is told of each sheet."""


class Ground(Value, frozen=True):
    """All that the sheets are drawn from; the same repr, the same sheets.

    plates: the names of what is cut from a sheet in this shop, not from bar. many: how many are made.
    """

    attachment: Attachment
    numbers: Numbers
    job_name: str
    standing: Standing
    tip_radius_mm: float
    plates: tuple[str, ...] = ()
    many: int = 1

    @cached_property
    def revision(self) -> str:
        """Another where the sheets are: a change of prices is none."""
        told = repr(self).replace(
            ", many=1)", ")"
        )  # sheets of one have the revision they always had
        return sha256(told.encode()).hexdigest()[:REVISION]


def ground(plan: Plan) -> Ground:
    """What the sheets of a job are drawn from."""
    radius = plan.sizing.sizes.max_ball_diameter_mm / 2
    plates = tuple(
        one.name
        for one in subjects(plan.attachment)
        if one.stock is not None and from_sheet(one.stock, plan.job)
    )
    return Ground(
        plan.attachment,
        plan.job.numbers,
        plan.job.name,
        standing(plan),
        radius,
        plates,
        plan.job.attachment.quantity,
    )


class Place(NamedTuple):
    """A sheet's number, of how many, and the paper and projection asked for."""

    number: int
    total: int
    paper: str
    projection: Literal["first", "third"]


class Wanted(NamedTuple):
    """A sheet of the list. name: in file-name form; part: whose it is, "" for the whole attachment.

    draw: raises DoesNotFit where no paper takes it; alone loads the CAD kernel.
    """

    name: str
    title: str
    part: str
    draw: Callable[[Ground, Place], Sheet]


def wanted(of: Ground) -> tuple[Wanted, ...]:
    """Every sheet in order, first the whole, then its parts; known without drawing one."""
    whole = (Wanted(name, title, "", partial(_whole_sheet, name, title)) for name, title in WHOLE)
    parts = (
        Wanted(one.name, one.title, one.part.name, partial(_part_sheet, one))
        for one in subjects(of.attachment)
    )
    return (*whole, *parts)


def _whole_sheet(name: str, title: str, of: Ground, place: Place) -> Sheet:
    drawing = Drawing(
        name,
        title,
        of.job_name,
        of.numbers,
        place.number,
        place.total,
        place.projection,
        of.revision,
        of.many,
    )
    return whole_sheet(of.attachment, of.standing, of.tip_radius_mm, drawing, place.paper)


def _part_sheet(subject: Subject, of: Ground, place: Place) -> Sheet:
    return drawn_sheet(
        subject,
        of.numbers,
        (place.number, place.total),
        of.job_name,
        place.paper,
        place.projection,
        of.revision,
        subject.name in of.plates,
        of.many,
    )


def sheet_names(plan: Plan) -> dict[str, str]:
    """The name of each sheet's files, without ending, to its title, in order; draws nothing."""
    every = wanted(ground(plan))
    return {_file_name(number, one.name): one.title for number, one in enumerate(every, 1)}


def _file_name(number: int, name: str) -> str:
    return f"{number:02d}-{name}"


class Drawings(Value, frozen=True):
    """The sheets of a job with what they are of, and what to look at first in them.

    inch: the job, and so the sheets' DXF, is in inches.
    """

    sheets: tuple[tuple[Wanted, Sheet], ...]
    title: str
    findings: tuple[Finding, ...]
    inch: bool = False

    @property
    def by_name(self) -> Mapping[str, Sheet]:
        """The sheets by the names of ``sheet_names``."""
        return {
            _file_name(sheet.fields.sheet_number, one.name): sheet for one, sheet in self.sheets
        }

    @cached_property
    def svgs(self) -> tuple[str, ...]:
        """The sheets as SVG without their font, in order: for the PDF and for the page."""
        return tuple(svg(sheet, with_font=False) for _, sheet in self.sheets)

    def write_pdf(self, path: Path) -> None:
        """Write all as one PDF. Raises NoPdf, and OSError."""
        path.write_bytes(pdf([sheet for _, sheet in self.sheets], self.title, self.svgs))

    def rows(self) -> list[dict[str, Any]]:
        """Each sheet by COLUMNS."""
        return [
            {
                "number": sheet.fields.sheet_number,
                "name": one.name,
                "title": one.title,
                "paper": sheet.paper,
                "scale": sheet.scale,
                "projection": sheet.projection,
                "dimensions": sum(isinstance(item, Dimension) for item in sheet.items),
            }
            for one, sheet in self.sheets
        ]


def drawings(
    plan: Plan,
    part: str | None = None,
    paper: str | None = None,
    projection: Literal["first", "third"] | None = None,
) -> Drawings:
    """All sheets, or those of one part with its pieces. What finds no place has a page that says so.

    paper: a key of drawing.layout.PAPERS; by default A4, Letter in an inch shop. projection: by default
    first angle, third in an inch shop (common practice). Raises BadInput for a part there is none of.
    """
    of = ground(plan)
    every = wanted(of)
    names = list(dict.fromkeys(one.part or one.name for one in every))
    if part is not None and part not in names:
        remedy = f"Name one of {few(names, signs=150)}"
        raise BadInput(
            [finding("no-such-part", plan.file, "", begun(part, 40), "no part of it", remedy)]
        )
    inch = of.numbers.inch
    made, found = [], []
    for number, one in enumerate(every, 1):
        if part not in (None, one.part or one.name):
            continue
        place = Place(
            number,
            len(every),
            paper or ("Letter" if inch else "A4"),
            projection or usual_projection(inch),
        )
        try:
            sheet = one.draw(of, place)
        except DoesNotFit:
            limit = "finds no place on the paper, nor on the next larger, at any scale"
            solid = f"solids/{one.part or 'attachment'}.step of the package"
            remedy = f"Try other paper with pommel draw --sheet, or take its sizes from {solid}"
            found.append(finding("sheet-too-small", plan.file, "", one.title, limit, remedy))
            sheet = _in_its_place(one, of, place, (f"{one.title} {limit}.", f"{remedy}."))
        made.append((one, sheet))
    return Drawings(tuple(made), of.job_name, tuple(found), of.numbers.inch)


def _in_its_place(one: Wanted, of: Ground, place: Place, sentences: tuple[str, str]) -> Sheet:
    """The page for a sheet that finds no place."""
    fields = Fields(
        one.title,
        one.name,
        sheet_number=place.number,
        number_of_sheets=place.total,
        supplementary_title=of.job_name,
        revision_index=of.revision,
        unit="in" if of.numbers.inch else "mm",
    )
    return notice(fields, sentences, place.paper, place.projection)


@contextmanager
def place_for(folder: Path) -> Iterator[Claim]:
    """Where a folder of sheets is made while this lasts, beside it; what a dead one left there goes.

    folder: one that is not there yet. What libraries keep goes there too. Raises BadInput where the
    folder is there already, cannot be made, or is being written by another.
    """
    _refuse_there(folder)
    try:
        with claimed(placed(folder), mend) as claim, caches_in(claim.cache):
            yield claim
    except OSError as error:
        raise unwritable(folder, error) from None


def write_drawings(claim: Claim, made: Drawings) -> list[str]:
    """Write every sheet as SVG and DXF, and all as one PDF where that can be; returns the names.

    claim: of place_for, whose folder is written whole or not at all. Raises BadInput where it is there
    by now; OSError.
    """
    os.mkdir(claim.new)
    names = _write(claim.new, made)
    settled(claim.new)
    _refuse_there(claim.target)
    os.rename(claim.new, claim.target)
    return names


def _refuse_there(folder: Path) -> None:
    if os.path.lexists(folder):
        limit, remedy = "is there already", "Choose another folder with --out"
        raise BadInput([finding("already-there", str(folder), "", "", limit, remedy)])


def _write(folder: Path, made: Drawings) -> list[str]:
    names = []
    for name, sheet in made.by_name.items():
        write_svg(folder / f"{name}.svg", sheet)
        write_dxf(folder / f"{name}.dxf", sheet, inch=made.inch)
        names += [f"{name}.svg", f"{name}.dxf"]
    if has_pdf() and made.sheets:
        made.write_pdf(folder / "sheets.pdf")
        names.append("sheets.pdf")
    return names


def write_svg(path: Path, sheet: Sheet) -> None:
    """Write a sheet as SVG. Raises OSError."""
    path.write_text(svg(sheet), encoding="utf-8", newline="\n")


def write_cover(path: Path, made: Drawings) -> None:
    """Write the exploded view alone, without its list and numbers, as SVG. Raises OSError."""
    sheet = next(sheet for one, sheet in made.sheets if one.name == EXPLODED)
    path.write_text(svg(view_alone(sheet), with_font=False), encoding="utf-8", newline="\n")
