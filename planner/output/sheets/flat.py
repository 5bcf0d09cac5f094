"""The flat pieces: what they are, where they lie on the sheets, the saw's cuts in order."""

from __future__ import annotations

from planner.job.tables import Job
from planner.output.sheets.rows import shown_rows
from planner.stock.flats import FlatPlan
from planner.words.numbers import Numbers, counted
from planner.words.tables import Table, columns

NONE_LISTED = "List your sheets as [[shop.sheet]] to have them laid out."
NONE_SERVES = (
    "No sheet of the job serves: none has a piece's thickness and material, or room for it."
)
"""Why nothing is laid out."""


def flat_tables(plan: FlatPlan, job: Job, process: str) -> list[Table]:
    """Pieces, places, and cuts where they are sawn."""
    numbers = job.numbers.plain
    none = NONE_SERVES if job.shop.sheet else NONE_LISTED
    sheets = _sheets(plan, numbers, process, none)
    tables = [_pieces(plan, numbers), sheets, _places(plan, numbers)]
    return [*tables, _cuts(plan, numbers)] if process == "saw" else tables


def _pieces(plan: FlatPlan, numbers: Numbers) -> Table:
    nested = {piece.profile.name: piece.profile for group in plan.groups for piece in group.pieces}
    rows = [
        (
            piece.profile.name,
            piece.use,
            piece.quantity,
            cut.material,
            round(cut.thickness_mm, 3),
            f"sheet {numbers.size(cut.thickness_mm)} {cut.material}"
            if piece.profile.name in nested
            else "bar"
            if piece.use == "part"
            else "no thin sheet",
        )
        for piece in plan.pieces
        for cut in [nested.get(piece.profile.name, piece.profile)]
    ]
    thicks = numbers.alike(*(thick for *_, thick, _ in rows))
    return Table(
        "flat_pieces",
        f"Flat pieces ({numbers.unit})",
        columns(
            ("piece", "piece"),
            ("use", "for"),
            ("quantity", "no."),
            ("material", "material"),
            ("thickness_mm", "thick"),
            ("cut_from", "cut from"),
        ),
        tuple(rows),
        tuple(
            (name, use, str(n), material, thick, source)
            for thick, (name, use, n, material, _, source) in zip(thicks, rows, strict=True)
        ),
    )


def _sheets(plan: FlatPlan, numbers: Numbers, process: str, none: str) -> Table:
    rows = []
    for group in plan.groups:
        for number, one in enumerate(group.nest.sheets, 1):
            sheet = one.sheet
            rows.append(
                (
                    group.thickness_mm,
                    group.material,
                    number,
                    sheet.name,
                    sheet.length_mm,
                    sheet.width_mm,
                    len(one.placed),
                    round(one.used_length_mm, 3),
                    round(one.remnant_mm, 3),
                )
            )
    bounds = " ".join(
        f"{numbers.size(g.thickness_mm)} {g.material}: {counted(len(g.nest.sheets), 'sheet')}, no nest"
        f" does with fewer than {g.nest.least_sheets}."
        for g in plan.groups
    )
    return Table(
        "flat_sheets",
        f"Sheets for the {process} ({numbers.unit})",
        columns(
            ("thickness_mm", "thick"),
            ("material", "material"),
            ("number", "no."),
            ("sheet", "sheet"),
            ("length_mm", "length"),
            ("width_mm", "width"),
            ("pieces", "pieces"),
            ("used_mm", "used"),
            ("left_mm", "left"),
        ),
        tuple(rows),
        shown_rows(rows, numbers),
        notes=(bounds or none,),
    )


def _places(plan: FlatPlan, numbers: Numbers) -> Table:
    rows = [
        (
            group.thickness_mm,
            group.material,
            number,
            placed.profile.name,
            placed.copy,
            round(placed.x_mm, 3),
            round(placed.y_mm, 3),
            placed.turn_deg,
        )
        for group in plan.groups
        for number, one in enumerate(group.nest.sheets, 1)
        for placed in one.placed
    ]
    return Table(
        "flat_places",
        f"Where the pieces lie ({numbers.unit}, from the sheet's lower left corner)",
        columns(
            ("thickness_mm", "thick"),
            ("material", "material"),
            ("sheet", "sheet"),
            ("piece", "piece"),
            ("copy", "copy"),
            ("x_mm", "x"),
            ("y_mm", "y"),
            ("turn_deg", "turned, deg"),
        ),
        tuple(rows),
        shown_rows(rows, numbers),
    )


def _cuts(plan: FlatPlan, numbers: Numbers) -> Table:
    rows = [
        (
            group.thickness_mm,
            group.material,
            number,
            cut.number,
            cut.panel,
            cut.along,
            round(cut.position_mm, 3),
            round(cut.length_mm, 3),
        )
        for group in plan.groups
        for number, one in enumerate(group.nest.sheets, 1)
        for cut in one.cuts
    ]
    return Table(
        "flat_cuts",
        f"Cuts in order, each from edge to edge ({numbers.unit})",
        columns(
            ("thickness_mm", "thick"),
            ("material", "material"),
            ("sheet", "sheet"),
            ("cut", "cut"),
            ("panel", "of panel"),
            ("along", "along the"),
            ("position_mm", "fence at"),
            ("length_mm", "cut length"),
        ),
        tuple(rows),
        shown_rows(rows, numbers),
        notes=("Panel 0 is the whole sheet; the fence cuts off the lower or left part.",),
    )
