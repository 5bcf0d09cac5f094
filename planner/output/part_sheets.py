"""The drawings of one job: which sheets, on which paper, and the folder they are written to.

First the whole (output.whole_sheets), then its parts.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, Literal

from planner.drawing.dxf import write_dxf
from planner.drawing.lanes import DoesNotFit
from planner.drawing.model import Dimension, Sheet
from planner.drawing.pdf import has_pdf, pdf
from planner.drawing.sheets import drawn_sheet
from planner.drawing.subjects import Subject, subjects
from planner.drawing.svg import svg
from planner.drawing.whole import Drawing
from planner.output.plan import Plan
from planner.output.whole_sheets import whole_drawings, whole_sheet
from planner.words.findings import BadInput, Finding, finding

COLUMNS = ("number", "name", "title", "paper", "scale", "projection", "dimensions")
"""What is told of each sheet."""


@dataclass(frozen=True)
class Drawings:
    """The sheets of a job with what they are of, and what to look at first."""

    sheets: tuple[tuple[Subject | Drawing, Sheet], ...]
    findings: tuple[Finding, ...]

    def rows(self) -> list[dict[str, Any]]:
        """Each sheet by COLUMNS."""
        return [
            {
                "number": sheet.fields.sheet_number,
                "name": subject.name,
                "title": subject.title,
                "paper": sheet.paper,
                "scale": sheet.scale,
                "projection": sheet.projection,
                "dimensions": sum(isinstance(item, Dimension) for item in sheet.items),
            }
            for subject, sheet in self.sheets
        ]


def drawings(
    plan: Plan, part: str | None, paper: str | None, projection: Literal["first", "third"] | None
) -> Drawings:
    """The sheets of the whole and of all parts, or one of them, a part with its pieces.

    paper: a key of drawing.layout.PAPERS; by default A4, Letter in an inch shop. projection: by default
    first angle, third in an inch shop (common practice). Raises BadInput for a part there is none of.
    """
    inch = plan.job.inch
    every = subjects(plan.attachment)
    first = whole_drawings(plan, projection or ("third" if inch else "first"))
    names = dict.fromkeys((*(one.name for one in first), *(one.part.name for one in every)))
    if part is not None and part not in names:
        remedy = f"Name one of {', '.join(names)}"
        raise BadInput([finding("no-such-part", plan.file, "", part, "no part of it", remedy)])
    on = paper or ("Letter" if inch else "A4")
    made: list[tuple[Subject | Drawing, Sheet]] = []
    found = list(plan.findings)

    def add(subject: Subject | Drawing, draw: Callable[[], Sheet]) -> None:
        try:
            made.append((subject, draw()))
        except DoesNotFit:
            limit = "finds no place on the paper asked for, nor on the next larger"
            remedy = (
                "Draw it with --sheet A3 or Tabloid, or by its views in drawings/ of the package"
            )
            found.append(finding("sheet-too-small", plan.file, "", subject.title, limit, remedy))

    for drawing in first:
        if part in (None, drawing.name):
            add(drawing, partial(whole_sheet, plan, drawing, on))
    for number, subject in enumerate(every, len(first) + 1):
        if part in (None, subject.part.name):
            place = (number, len(first) + len(every))
            way = projection or ("third" if inch else "first")
            numbers, job = plan.job.numbers, plan.job.name
            add(subject, partial(drawn_sheet, subject, numbers, place, job, on, way))
    return Drawings(tuple(made), tuple(found))


def write_drawings(folder: Path, made: Drawings, title: str) -> list[str]:
    """Write every sheet as SVG and DXF, and all as one PDF where that can be; returns the names.

    folder: a new one, written whole or not at all. Raises BadInput where it is there already or
    cannot be written.
    """
    if folder.exists():
        limit, remedy = "is there already", "Choose another folder with --out"
        raise BadInput([finding("already-there", str(folder), "", "", limit, remedy)])
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=folder.parent) as place:
            half = Path(place) / "sheets"
            half.mkdir()
            names = _write(half, made.sheets, title)
            shutil.move(half, folder)
    except OSError as error:
        limit = f"cannot be written ({error.strerror})"
        stop = finding("unwritable", str(folder), "", "", limit, "Choose another place")
        raise BadInput([stop]) from None
    return names


def _write(folder: Path, made: Sequence[tuple[Subject | Drawing, Sheet]], title: str) -> list[str]:
    names = []
    for subject, sheet in made:
        name = f"{sheet.fields.sheet_number:02d}-{subject.name}"
        (folder / f"{name}.svg").write_text(svg(sheet), encoding="utf-8", newline="\n")
        write_dxf(folder / f"{name}.dxf", sheet)
        names += [f"{name}.svg", f"{name}.dxf"]
    if has_pdf() and made:
        (folder / "sheets.pdf").write_bytes(pdf([sheet for _, sheet in made], title))
        names.append("sheets.pdf")
    return names
