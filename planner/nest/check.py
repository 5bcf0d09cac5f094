"""The check of a nest: every distance from the true arcs, every saw cut made again from the sheet.

Shares nothing with the placing but the geometry of outlines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import isfinite

from planner.geometry.curves import Outline
from planner.nest.model import TOLERANCE_MM, Nest, NestError, NestSheet, Piece, Placed, Sheet
from planner.nest.offset import offset
from planner.nest.outlines import anticlockwise, apart_mm, bounds, contains

Box = tuple[float, float, float, float]


def check_nest(pieces: Sequence[Piece], sheets: Sequence[Sheet], nest: Nest) -> None:
    """Go through a nest and refuse it when it cannot be cut as it says.

    pieces, sheets: as given to nest(); nest: what it made, or one made by hand.
    Every copy of every piece must be there once, as given, and turned only where it may be; no
    sheet drawn more often than there are; each piece inside the margins and the gap away from
    every other, to TOLERANCE_MM, measured between the true lines and arcs. A saw's cuts are made
    again one after another, and must leave exactly each piece's rectangle, uncut.
    Raises NestError with every fault found.
    """
    faults = list(_counted(pieces, sheets, nest))
    for number, sheet in enumerate(nest.sheets, start=1):
        where = f"sheet {number}, '{sheet.sheet.name}'"
        faults += [f"{where}: {fault}" for fault in _sheet_faults(sheet)]
    if faults:
        raise NestError(faults)


def _counted(pieces: Sequence[Piece], sheets: Sequence[Sheet], nest: Nest) -> Iterator[str]:
    found = Counter((p.piece, p.copy) for sheet in nest.sheets for p in sheet.placed)
    for number, piece in enumerate(pieces):
        name = piece.profile.name
        for copy in range(1, piece.quantity + 1):
            times = found.pop((number, copy), 0)
            if times != 1:
                yield f"copy {copy} of '{name}' is there {times} times instead of once"
    yield from (f"piece {key} is not asked for" for key in found)
    for placed in (p for sheet in nest.sheets for p in sheet.placed):
        if not 0 <= placed.piece < len(pieces):
            continue
        if placed.profile != pieces[placed.piece].profile:
            yield f"'{placed.profile.name}' is not the profile asked for"
        if placed.turn_deg not in ((0, 90, 180, 270) if pieces[placed.piece].may_turn else (0,)):
            yield f"'{placed.profile.name}' may not be turned {placed.turn_deg:g} degrees"
    drawn = Counter(sheet.sheet for sheet in nest.sheets)
    for sheet, count in drawn.items():
        if sheet not in sheets:
            yield f"there is no sheet '{sheet.name}' of this size"
        elif sheet.available is not None and count > sheet.available:
            yield f"{count} of sheet '{sheet.name}' drawn and {sheet.available} there"


def _sheet_faults(nest_sheet: NestSheet) -> Iterator[str]:
    sheet = nest_sheet.sheet
    named = [(f"'{p.profile.name}' ({p.copy})", p) for p in nest_sheet.placed]
    wrong = [name for name, p in named if not isfinite(p.x_mm + p.y_mm) or p.turn_deg % 90]
    if wrong:
        yield f"no place given for {', '.join(wrong)}"
        return
    outlines = [anticlockwise(p.on_sheet().outline) for _, p in named]
    boxes = [bounds(outline) for outline in outlines]
    low = sheet.margin_mm - TOLERANCE_MM
    for (name, _), box in zip(named, boxes, strict=True):
        short = max(
            low - box[0],
            low - box[1],
            box[2] - (sheet.length_mm - low),
            box[3] - (sheet.width_mm - low),
        )
        if short > 0:
            yield f"{name} runs {short + TOLERANCE_MM:.4g} mm into the margin or off the sheet"
    yield from _too_close([name for name, _ in named], outlines, boxes, nest_sheet.gap_mm)
    if nest_sheet.process == "saw":
        yield from _sawn(nest_sheet, boxes)


def _too_close(
    names: Sequence[str], outlines: Sequence[Outline], boxes: Sequence[Box], gap_mm: float
) -> Iterator[str]:
    # All pieces are made smaller by the tolerance all round, so that pieces that touch (gap 0)
    # stand apart and a distance of 0 is an overlap.
    small = [offset(outline, -TOLERANCE_MM) for outline in outlines]
    needed = gap_mm + TOLERANCE_MM
    order = sorted(range(len(boxes)), key=lambda k: boxes[k][0])
    for at, i in enumerate(order):
        for j in order[at + 1 :]:
            if boxes[j][0] > boxes[i][2] + gap_mm:
                break
            if boxes[j][1] > boxes[i][3] + gap_mm or boxes[i][1] > boxes[j][3] + gap_mm:
                continue
            apart = apart_mm(small[i], small[j], needed)
            inside = contains(small[i], small[j].vertices[0][:2]) or contains(
                small[j], small[i].vertices[0][:2]
            )
            if apart == 0 or inside:
                yield f"{names[i]} and {names[j]} overlap"
            elif apart < needed:
                yield (
                    f"{names[i]} and {names[j]} are {apart - 2 * TOLERANCE_MM:.4g} mm apart; the"
                    f" gap is {gap_mm:g} mm"
                )


def _sawn(nest_sheet: NestSheet, boxes: Sequence[Box]) -> Iterator[str]:
    """Make the cuts again; the panels they leave must be the pieces' rectangles."""
    kerf = nest_sheet.gap_mm
    panels: dict[int, Box] = {0: (0.0, 0.0, nest_sheet.sheet.length_mm, nest_sheet.sheet.width_mm)}
    seen = {0}
    for order, cut in enumerate(nest_sheet.cuts, start=1):
        here = f"cut {cut.number}"
        panel = panels.pop(cut.panel, None)
        if panel is None or cut.number != order:
            yield f"{here} is out of order, or its panel {cut.panel} is not there to cut"
            return
        left, bottom, right, top = panel
        x_way = cut.along == "width"
        size, run = (right - left, top - bottom) if x_way else (top - bottom, right - left)
        near_edge = (left if x_way else bottom) + cut.position_mm
        far_edge = min(near_edge + kerf, right if x_way else top)
        if cut.along not in ("length", "width") or not 0 <= cut.position_mm <= size - 1e-9:
            yield f"{here} at {cut.position_mm:g} mm misses its panel of {size:g} mm"
            return
        if abs(run - cut.length_mm) > 1e-6:
            yield f"{here} is {cut.length_mm:g} mm long on a panel of {run:g} mm"
        near = (left, bottom, near_edge, top) if x_way else (left, bottom, right, near_edge)
        far = (far_edge, bottom, right, top) if x_way else (left, far_edge, right, top)
        for name, box in ((cut.near, near), (cut.far, far)):
            real = box[2] - box[0] > 1e-9 and box[3] - box[1] > 1e-9
            if real != (name is not None) or name in seen:
                yield f"{here} does not make the panel {name} it says"
                return
            if name is not None:
                panels[name] = box
                seen.add(name)
    for placed, box in zip(nest_sheet.placed, boxes, strict=True):
        yield from _is_panel(placed, box, panels)


def _is_panel(placed: Placed, box: Box, panels: dict[int, Box]) -> Iterator[str]:
    """Each panel can be one piece: it is taken off the list."""
    panel = panels.pop(placed.panel, None) if placed.panel is not None else None
    name = f"'{placed.profile.name}' ({placed.copy})"
    if panel is None:
        yield f"{name}: panel {placed.panel} is cut up, is another piece, or was never made"
    elif any(abs(a - b) > 1e-6 for a, b in zip(panel, box, strict=True)):
        yield f"{name}: the cuts leave {panel}, the piece is {box}"
