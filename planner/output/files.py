"""What each topic brings to the package besides the sheets of its tables: pictures, DXF and STEP.

The functions stand in the entries of ``planner.output.topics``. Each names its files in order and
what writes them; what it uses it imports in its body.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.output.topic import (
    BOOK,
    COVER,
    DIAL,
    DRAWINGS,
    PICTURES,
    SHEETS,
    File,
    Topic,
    sheet_files,
)
from planner.words.short import ball_called

if TYPE_CHECKING:
    from planner.drawing.model import Sheet
    from planner.output.plan import Plan
    from planner.words.findings import Finding


def check_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """The sheets, a picture of each ball's sweep, and one of the deflection's shares."""
    from planner.output.pictures.check import shares_svg, sweep_svg

    yield from sheet_files(topic, plan)
    for number, found in enumerate(plan.clearances, 1):
        yield File(
            f"{PICTURES}/check-sweep-{number}.svg",
            f"the sweep of the {ball_called(found.ball.name)}, to scale",
            sweep_svg(plan.attachment, plan.job, found),
        )
    yield File(
        f"{PICTURES}/check-shares.svg",
        "deflection of the tip by links",
        shares_svg(plan.strength, plan.job),
    )


def cutlist_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """The sheets, and the pages to saw by."""
    from planner.output.pictures.sawing import sawing_pages

    yield from sheet_files(topic, plan)
    for number, page in enumerate(sawing_pages(plan.cuts, plan.job), 1):
        yield File(
            topic.at(f"cutlist-sawing-{number}.svg"),
            f"sawing sheet, page {number}: bars to scale, boxes to tick",
            page,
        )


DXF_VERSIONS = {"R2010": "", "R12": "; for programs that cannot read R2010"}
"""The versions a flat piece or sheet is written in, and what is said beside the older."""


def flat_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """Every flat piece alone, and each sheet for the torch and for the saw, as R2010 and R12."""
    from planner.nest.dxf import write_piece, write_sheet
    from planner.stock.flats import flat_pieces

    torch = plan.job.shop.torch
    asked: dict[str, Any] = {
        "least_hole_mm": torch.least_hole,
        "kerf_offset_mm": torch.kerf,
        "lead_in_mm": torch.lead_in,
        "labels": torch.labels,
        "inch": plan.job.inch,
    }
    full_size = f"1:1 in {plan.job.numbers.file_unit}"
    for piece in flat_pieces(plan.attachment, plan.job):
        for version, older in DXF_VERSIONS.items():
            yield File(
                topic.at(f"{piece.profile.name}-{version}.dxf"),
                f"{piece.profile.title}, {piece.use}, {full_size}{older}",
                partial(write_piece, profile=piece.profile, version=version, **asked),
            )
    for process in ("plasma", "saw") if plan.job.shop.sheet else ():
        text = topic.printed(plan, {"process": process})
        yield File(
            topic.at(f"flat-{process}.txt"), f"flat pieces on the sheets, for the {process}", text
        )
        sheets = [one for group in plan.flats(process).groups for one in group.nest.sheets]
        for number, sheet in enumerate(sheets, 1):
            for version, older in DXF_VERSIONS.items():
                drawn = partial(write_sheet, nest_sheet=sheet, version=version, inch=plan.job.inch)
                yield File(
                    topic.at(f"{process}-sheet-{number}-{version}.dxf"),
                    f"sheet {number} for the {process}, {full_size}{older}",
                    partial(drawn, **asked) if process == "plasma" else drawn,
                )


def turn_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """The sheets, how the cut goes, and pictures of each ball: its passes, the dial at each reading,
    the tightest spot of its sweep, and what it may come to."""
    from parts.housing import bore_height_mm
    from planner.checking.budget import CROSS_SLIDE_MM
    from planner.output.pictures.hollow import hollow_svg
    from planner.output.pictures.turning import error_svg, turning_svg
    from planner.output.pictures.turning_spots import dials_svg, sense_svg, spot_svg

    yield from sheet_files(topic, plan)
    balls = plan.turned.balls
    if plan.job.own_head is not None:
        return
    height = bore_height_mm(plan.sizing.sizes)
    if balls:
        yield File(
            f"{PICTURES}/turn-sense.svg",
            "which way spindle and tip go, and the two ways that are never gone",
            sense_svg(balls[0], plan.attachment, plan.job),
        )
    for number, ball in enumerate(balls, 1):
        name = ball_called(ball.ball.name)
        yield File(
            f"{PICTURES}/turn-dial-{number}.svg",
            f"the dial as it looks at each reading of the {name}, full size",
            dials_svg(ball, plan.sizing, plan.job),
        )
        yield File(
            f"{PICTURES}/turn-tight-{number}.svg",
            f"the tightest spot of the {name}'s sweep",
            spot_svg(ball, plan.attachment, plan.job),
        )
        yield File(
            f"{PICTURES}/turn-ball-{number}.svg",
            f"the {name} in its blank: steps and passes, to scale",
            turning_svg(ball, plan.job),
        )
        yield File(
            f"{PICTURES}/turn-error-{number}.svg",
            f"what the drawings' tolerances make of the {name}, magnified",
            error_svg(ball, plan.job, height, CROSS_SLIDE_MM),
        )
    for number, hollow in enumerate((one for one in plan.turned.sockets if one.passes), 1):
        yield File(
            f"{PICTURES}/turn-hollow-{number}.svg",
            f"{hollow.ball.name}, a hollow, in its blank: sizes, pivot and passes, to scale",
            hollow_svg(hollow, plan.job),
        )


def dial_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """The tables, the dial's sheet, the strip to wrap round the blank, and the rim for a graver."""
    from math import pi

    from planner.drawing.dial_rim import write_rim
    from planner.drawing.dxf import write_dxf
    from planner.drawing.pdf import has_pdf, pdf
    from planner.drawing.svg import svg
    from planner.output.dial_pages import dial_pages
    from planner.output.part_sheets import ground
    from planner.output.sheets.dial import job_dial

    def write_pdf(path: Path) -> None:
        path.write_bytes(pdf(pages, f"Dial, {plan.job.name}"))

    yield from sheet_files(topic, plan)
    pages = dial_pages(plan.job.name, plan.sizing, plan.job.numbers, ground(plan).revision)
    sheet, *strips = pages
    what = "the dial's sheet: every line, its numerals and which way it turns"
    yield File(f"{DRAWINGS}/dial-sheet.svg", what, svg(sheet))
    yield File(
        f"{DRAWINGS}/dial-sheet.dxf", what, partial(write_dxf, sheet=sheet, inch=plan.job.inch)
    )
    for number, strip in enumerate(strips, 1):
        yield File(
            f"{DRAWINGS}/dial-strip-{number}.svg",
            f"the dial's lines on a paper strip to wrap round the blank, full size, page {number}",
            svg(strip),
        )
    if has_pdf():
        yield File(
            DIAL,
            "the dial's sheet and strip to print, full size",
            write_pdf,
        )
    dial = job_dial(plan.sizing)
    for version, older in DXF_VERSIONS.items():
        yield File(
            f"{DRAWINGS}/dial-rim-{version}.dxf",
            f"the dial's rim unrolled, for a graver, 1:1 in {plan.job.numbers.file_unit}{older}",
            partial(
                write_rim,
                dial=dial,
                around_mm=pi * dial.diameter_mm,
                version=version,
                inch=plan.job.inch,
            ),
        )


def drawing_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """The sheets of all parts, pieces and weldments, drawn when the first is written, and the flat
    profiles. Without what writes PDF each sheet is there as SVG too."""
    from planner.drawing.dxf import write_dxf
    from planner.drawing.pdf import has_pdf
    from planner.dxf.profiles import write_profile
    from planner.geometry.profiles import flat_profiles
    from planner.output.page_files import sheet_data_file
    from planner.output.part_sheets import sheet_names, write_cover, write_svg

    def drawn(path: Path, name: str, write: Callable[[Path, Sheet], None]) -> None:
        write(path, plan.sheets.by_name[name])

    names, numbers = sheet_names(plan), plan.job.numbers
    if has_pdf():
        what = "every sheet of the drawings, to print full size and make the parts by"
        yield File(SHEETS, what, lambda path: plan.sheets.write_pdf(path))
    writers: dict[str, Callable[[Path, Sheet], None]]
    writers = {"dxf": partial(write_dxf, inch=plan.job.inch)}
    if not has_pdf():
        writers = {"svg": write_svg, **writers}
    for number, (name, title) in enumerate(names.items(), 1):
        for ending, write in writers.items():
            yield File(
                topic.at(f"{name}.{ending}"),
                f"sheet {number} of {len(names)}, {title}",
                partial(drawn, name=name, write=write),
            )
    yield sheet_data_file(plan)
    yield File(COVER, "the attachment taken apart", lambda path: write_cover(path, plan.sheets))
    for part in plan.attachment.parts:
        for profile in flat_profiles(part):
            yield File(
                topic.at(f"{profile.name}-profile.dxf"),
                f"flat profile, {profile.title}, 1:1 in {numbers.file_unit}",
                partial(
                    write_profile,
                    profile=profile,
                    inch=numbers.inch,
                    thick=numbers.size(profile.thickness_mm),
                ),
            )


def drawings_made_of(plan: Plan) -> Any:
    """All that drawing_files reads of a plan; the profiles are of the attachment alone."""
    from planner.output.part_sheets import ground

    return ground(plan)


def drawing_findings(plan: Plan) -> tuple[Finding, ...]:
    """Which sheets find no place; known once they are drawn."""
    return plan.sheets.findings


def solids_made_of(plan: Plan) -> Any:
    """All that solid_files reads of a plan."""
    return plan.attachment, plan.sizing.sizes.max_ball_diameter_mm


def solid_files(topic: Topic, plan: Plan) -> Iterator[File]:
    """Every part alone, and the attachment in one pose."""
    from planner.solids import write_assembly_step, write_step

    for part in plan.attachment.parts:
        write = partial(write_step, part=part)
        yield File(topic.at(f"{part.name}.step"), f"solid, {part.title}", write)
    yield File(
        topic.at("attachment.step"),
        "the whole attachment, tip on top at the largest ball",
        partial(
            write_assembly_step,
            attachment=plan.attachment,
            tip_radius_mm=plan.sizing.sizes.max_ball_diameter_mm / 2,
            swing_deg=90.0,
        ),
    )


def book_files(_topic: Topic, plan: Plan) -> Iterator[File]:
    """The build book, of the drawings that lie in the package by then, else are written there for it;
    none without what writes PDF."""
    from planner.drawing.pdf import has_pdf

    def bound(path: Path) -> None:
        from planner.book.write import book_pdf
        from planner.output.topics import topic

        wanted = {one for one in (DIAL, SHEETS, COVER) if not (path.parent / one).exists()}
        for one in (topic("dial"), topic("drawings")) if wanted else ():
            for file in one.files(one, plan):
                if file.path in wanted:
                    file.write(path.parent)
        path.write_bytes(book_pdf(plan.book, path.parent))

    if has_pdf():
        yield File(BOOK, "the build book, to print and build by: stock to first ball", bound)


def book_made_of(plan: Plan) -> Any:
    """All that book_files reads of a plan: its words and tables, and what the sheets are drawn from."""
    return plan.book, drawings_made_of(plan)
