"""Flat pieces nested on sheets and remnants: for a torch by outline, for a saw by straight cuts.

The best of many greedy tries; nest.check goes through the result before it is handed out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import ceil, hypot, isfinite, pi, sqrt

from msgspec.structs import replace

from parts.value import Value
from planner.nest.check import check_nest
from planner.nest.guillotine import Filled, Spot, room
from planner.nest.model import (
    PROCESSES,
    TOLERANCE_MM,
    Cut,
    Nest,
    NestError,
    NestSheet,
    NoSheet,
    Piece,
    Placed,
    Sheet,
)
from planner.nest.outlines import area_mm2, meetings, segments
from planner.nest.tries import Filler, Work, tries

__all__ = [
    "TOLERANCE_MM",
    "Cut",
    "Nest",
    "NestError",
    "NestSheet",
    "NoSheet",
    "Piece",
    "Placed",
    "Sheet",
    "check_nest",
    "nest",
]

MOST_PIECES = 2000

SHEET_WORK = 50
"""Places that filling a sheet counts as, besides those looked at on it."""

ALIKE = 3
"""Nests are alike when they differ only after so many places, in mm, mm2 or money."""


def nest(pieces: Sequence[Piece], sheets: Sequence[Sheet], gap_mm: float, process: str) -> Nest:
    """Place pieces on sheets: least cost, then fewest sheets, least sheet, least used length.

    pieces: all of one material and thickness, at most MOST_PIECES with their quantities.
    sheets: each kind of sheet or remnant, names different.
    gap_mm: 0 or more. For "plasma" the least distance between pieces (kerf and bridge); for "saw"
    the kerf of each cut.
    process: "plasma" places true outlines, arcs flattened outwards, in turns of 90 degrees, none
    mirrored, none inside another's holes; with more than MOST_BY_OUTLINE pieces or MOST_OUTLINES
    outlines, and when all are rectangles, by their bounding rectangles. "saw" gives bounding
    rectangles and straight cuts from edge to edge; margins are trimmed off first.
    Returns a checked nest, the same for the same input. It is the best of the tries made, not
    proven the best: Nest holds the bounds.
    Raises ValueError naming everything wrong with the input, NoSheet when pieces find no place.
    """
    problems = list(_problems(pieces, sheets, gap_mm, process))
    if problems:
        raise ValueError("; ".join(problems))
    work = Work(pieces, sheets, gap_mm, process)
    best: list[_Use] | None = None
    least_sheets, least_cost, shortest_mm = _bounds(work)
    for queue, fill in tries(work):
        for by_cost in (True, False) if len(sheets) > 1 else (True,):
            uses, left = _cover(queue, work, fill, by_cost)
            if not left and (best is None or _rank(uses, work) < _rank(best, work)):
                best = uses
        if best and _rank(best, work)[3] <= shortest_mm + TOLERANCE_MM:
            break
    if best is None:
        raise _no_sheet(work)
    copies: Counter[int] = Counter()
    made = tuple(_nest_sheet(use, work, copies) for use in best)
    found = Nest(made, sum(use.sheet.cost for use in best), least_sheets, least_cost)
    check_nest(pieces, sheets, found)
    return found


# ---- sheet after sheet ----


class _Use(Value, frozen=True):
    """One sheet and what goes on it."""

    sheet: Sheet
    filled: Filled


def _cover(
    queue: Sequence[int], work: Work, fill: Filler, by_cost: bool
) -> tuple[list[_Use], list[int]]:
    """Open sheets until all pieces lie on one; what is left over when there are no more."""
    stock = {sheet: sheet.available for sheet in work.sheets}
    left = list(queue)
    uses: list[_Use] = []
    while left:
        offers: list[tuple[tuple[float, ...], _Use]] = []
        for sheet in work.sheets:
            if stock[sheet] == 0:
                continue
            filled = fill(sheet, left)
            work.done += filled.work + SHEET_WORK
            if not filled.spots:
                continue
            area = sum(work.areas[spot.piece] for spot in filled.spots)
            whole = len(filled.spots) == len(left)
            # A sheet that holds all the rest ends the matter: the cheapest, then the smallest.
            price = (sheet.cost, sheet.length_mm * sheet.width_mm)
            worth = (sheet.cost / area, -area) if by_cost else (-area, sheet.cost)
            key = (0.0, *price) if whole else (1.0, *worth)
            offers.append((key, _Use(sheet, filled)))
        if not offers:
            return uses, left
        _, use = min(offers, key=lambda offer: offer[0])  # of offers as good, the first sheet named
        uses.append(use)
        count = stock[use.sheet]
        stock[use.sheet] = None if count is None else count - 1
        gone = Counter(spot.piece for spot in use.filled.spots)
        left = [n for n in left if not _taken(gone, n)]
    return uses, left


def _taken(gone: Counter[int], piece: int) -> bool:
    gone[piece] -= 1
    return gone[piece] >= 0


def _rank(uses: Sequence[_Use], work: Work) -> tuple[float, ...]:
    """Less is better: cost, number, area drawn, used length, and then one long remnant."""
    ends = [max(_end_mm(spot, work) for spot in use.filled.spots) for use in uses]
    return (
        round(sum(use.sheet.cost for use in uses), ALIKE),
        len(uses),
        round(sum(use.sheet.length_mm * use.sheet.width_mm for use in uses), ALIKE),
        round(sum(ends), ALIKE),
        min(end - use.sheet.length_mm for end, use in zip(ends, uses, strict=True)),
    )


def _end_mm(spot: Spot, work: Work) -> float:
    length, width, _ = work.sizes[spot.piece]
    return spot.x_mm + (length if spot.turn_deg % 180 == 0 else width)


def _nest_sheet(use: _Use, work: Work, copies: Counter[int]) -> NestSheet:
    placed = []
    cuts = use.filled.cuts if work.process == "saw" else ()
    for spot in use.filled.spots:
        copies[spot.piece] += 1
        profile = work.pieces[spot.piece].profile
        panel = spot.panel if work.process == "saw" else None
        where = (spot.x_mm, spot.y_mm, spot.turn_deg, panel)
        placed.append(Placed(spot.piece, copies[spot.piece], profile, *where))
    return NestSheet(use.sheet, tuple(placed), cuts, work.gap_mm, work.process)


# ---- the bounds, and what does not fit ----


def _usable(sheet: Sheet, work: Work) -> tuple[float, float]:
    if work.process == "saw":
        return room(sheet, work.gap_mm)
    return sheet.length_mm - 2 * sheet.margin_mm, sheet.width_mm - 2 * sheet.margin_mm


def _bounds(work: Work) -> tuple[int, float, float]:
    """Fewest sheets and least cost by area, sheets counted in parts for the cost; least length used.

    The length is known only for one kind of sheet of which one may do; otherwise it is 0.

    Each piece is counted with half a gap all round it, in the room with as much all round. Under a
    saw that is a rectangle; under a torch round at the corners, a rectangle's by Steiner's formula,
    any other outline's at least that of a disc of the same area (Brunn and Minkowski's theorem).
    """
    gap = work.gap_mm
    net = []
    for area, (length, width, _) in zip(work.areas, work.sizes, strict=True):
        if work.process == "saw":
            net.append((length + gap) * (width + gap))
        elif length * width - area < 1e-6:
            net.append(area + gap * (length + width) + pi * gap**2 / 4)
        else:
            net.append((sqrt(area) + sqrt(pi) * gap / 2) ** 2)
    needed = sum(net[n] for n in work.queue)
    rooms = []
    for sheet in work.sheets:
        length, width = _usable(sheet, work)
        rooms.append(((length + gap) * (width + gap), sheet))  # above 0: margins are under half
    fewest, area_left = 0, needed * (1 - 1e-9)
    for area, sheet in sorted(rooms, key=lambda r: -r[0]):
        count = ceil(max(0.0, area_left) / area)
        count = count if sheet.available is None else min(count, sheet.available)
        fewest, area_left = fewest + count, area_left - count * area
    cost, area_left = 0.0, needed * (1 - 1e-9)
    for area, sheet in sorted(rooms, key=lambda r: r[1].cost / r[0]):
        share = max(0.0, area_left) / area
        share = share if sheet.available is None else min(share, float(sheet.available))
        cost, area_left = cost + share * sheet.cost, area_left - share * area
    if len(work.sheets) != 1 or fewest != 1:
        return fewest, cost, 0.0
    (sheet,) = work.sheets
    length, width = _usable(sheet, work)
    before = sheet.length_mm - length - sheet.margin_mm
    return fewest, cost, before + needed * (1 - 1e-9) / (width + gap) - gap


def _no_sheet(work: Work) -> NoSheet:
    """What is left over by the try that leaves least, and the nearest sheet that would take it."""
    queue, fill = next(iter(tries(work)))
    _, left = min(
        (_cover(queue, work, fill, by_cost) for by_cost in (True, False)),
        key=lambda found: sum(work.areas[n] for n in found[1]),
    )
    count = Counter(left)
    names = [(work.pieces[n].profile.name, count[n]) for n in sorted(count)]
    options: list[tuple[float, int, Sheet]] = []
    for sheet in work.sheets:
        larger = _grown(sheet, count, work)
        open_work = Work(work.pieces, [replace(larger, available=None)], work.gap_mm, work.process)
        uses, rest = _cover(left, open_work, fill, True)
        if not rest:
            grown = larger.length_mm * larger.width_mm - sheet.length_mm * sheet.width_mm
            options.append((grown, len(uses), larger))
    _, needed, nearest = min(options, key=lambda option: option[:2])
    missing = sum(work.areas[n] for n in left)
    return NoSheet(names, missing, (nearest.name, nearest.length_mm, nearest.width_mm), needed)


def _grown(sheet: Sheet, wanted: Counter[int], work: Work) -> Sheet:
    """The sheet, lengthened and widened until each of the pieces goes on it by itself."""
    for piece in wanted:
        length, width, turns = work.sizes[piece]
        ways = [(length, width) if turn == 0 else (width, length) for turn in turns]
        there = _usable(sheet, work)
        more = [(max(0.0, w - there[0]), max(0.0, h - there[1])) for w, h in ways]
        longer, wider = min(
            more, key=lambda m: (there[0] + m[0]) * (there[1] + m[1]) - there[0] * there[1]
        )
        sheet = replace(sheet, length_mm=sheet.length_mm + longer, width_mm=sheet.width_mm + wider)
    return sheet


# ---- the input ----


def _problems(
    pieces: Sequence[Piece], sheets: Sequence[Sheet], gap_mm: float, process: str
) -> Iterator[str]:
    if process not in PROCESSES:
        yield f"process is {process!r}; use {' or '.join(PROCESSES)}"
    if not (isfinite(gap_mm) and gap_mm >= 0):
        yield f"gap is {gap_mm} mm; it must be 0 or more"
    if not pieces:
        yield "no pieces; give at least one"
    if not sheets:
        yield "no sheets; give at least one"
    for number, piece in enumerate(pieces):
        for problem in _outline_problems(piece):
            yield f"piece {number + 1}, '{piece.profile.name}': {problem}"
    if (total := sum(max(0, piece.quantity) for piece in pieces)) > MOST_PIECES:
        yield f"{total} pieces; at most {MOST_PIECES} in one nest: share them out"
    plates = sorted({(p.profile.material, p.profile.thickness_mm) for p in pieces}, key=str)
    if len(plates) > 1:
        names = ", ".join(f"{material} {thickness:g} mm" for material, thickness in plates)
        yield f"pieces of different plates ({names}); nest each plate by itself"
    for name, times in Counter(sheet.name for sheet in sheets).items():
        if times > 1:
            yield f"{times} sheets are called '{name}'; give each kind its own name"
    for sheet in sheets:
        for problem in _sheet_problems(sheet):
            yield f"sheet '{sheet.name}': {problem}"


def _sheet_problems(sheet: Sheet) -> Iterator[str]:
    sizes = {"length": sheet.length_mm, "width": sheet.width_mm}
    for what, size in sizes.items():
        if not (isfinite(size) and size > 0):
            yield f"{what} is {size} mm; it must be above 0"
        elif not (isfinite(sheet.margin_mm) and 0 <= 2 * sheet.margin_mm < size):
            yield f"margin is {sheet.margin_mm} mm; it must be 0 to under half the {what}, {size:g}"
    if not (isfinite(sheet.cost) and sheet.cost >= 0):
        yield f"cost is {sheet.cost}; it must be 0 or more"
    if sheet.available is not None and sheet.available < 0:
        yield f"{sheet.available} available; it must be 0 or more, or None for no limit"


def _outline_problems(piece: Piece) -> Iterator[str]:
    if piece.quantity < 1:
        yield f"quantity is {piece.quantity}; it must be 1 or more"
    vertices = piece.profile.outline.vertices
    if not all(isfinite(number) for vertex in vertices for number in vertex):
        yield "its outline has a coordinate that is no number"
        return
    if len(vertices) < 2 or abs(area_mm2(piece.profile.outline)) < 1e-6:
        yield "its outline encloses no area"
        return
    lines = list(segments(piece.profile.outline))
    if any(p == q for p, q, _ in lines):
        yield "its outline has the same corner twice in a row"
        return
    for i, one in enumerate(lines):
        for j in range(i + 1, len(lines)):
            shared = [end for end in one[:2] if end in lines[j][:2]]
            if any(
                all(hypot(x - u, y - v) > TOLERANCE_MM for u, v in shared)
                for x, y in meetings(one, lines[j])
            ):
                yield f"its outline crosses itself near ({one[0][0]:g}, {one[0][1]:g})"
                return
