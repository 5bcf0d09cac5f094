"""A paper strip with the dial's lines, printed full size, to wrap round the blank.

It is as long as the middle of the paper is when it lies round the rim: pi times the rim's diameter and
one thickness of the paper. A strip longer than the sheet is wide comes in lapped pieces.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, pi

from msgspec.structs import replace

from planner.dial.design import Dial
from planner.drawing.dial_rim import RimLine, rim_lines
from planner.drawing.frame import (
    SMALL_MM,
    USUAL_MM,
    NoRoom,
    blank,
    block,
    check_bar,
    inside,
    usual_projection,
    wrapped,
)
from planner.drawing.model import Dimension, Fields, Item, Line, Polyline, Sheet, Text
from planner.drawing.strokes import LINE_PITCH, TEXT_GAP_MM
from planner.words.numbers import Numbers

PAPER_THICK_MM = 0.1
"""Of office paper of 80 g/m2 (common practice)."""

LAP_MM = 8.0
"""How far a piece runs on under the next."""

CLEAR_MM = 6.0
"""Free at either side of a strip, and above and below it."""

NUMERAL_CLEAR_MM = 0.5
"""Least from a numeral to a joint."""

DIMENSION_OFF_MM = 10.0
"""From a strip's edge to its dimension line (common practice)."""

CUT_MM = 20.0
"""Lines further apart have more places between them to cut at."""

FLOOR_MM = 62.0
"""What the check bars take over the fields."""

BELOW_MM = 24.0
"""What a piece takes below its edge: its letters, its dimension and a space."""


def strip_length_mm(dial: Dial, paper_mm: float = PAPER_THICK_MM) -> float:
    """From joint to joint, for paper so thick."""
    return pi * (dial.diameter_mm + paper_mm)


def strip_sheets(
    dial: Dial,
    fields: Fields,
    numbers: Numbers,
    paper: str = "A4",
    paper_mm: float = PAPER_THICK_MM,
) -> tuple[Sheet, ...]:
    """The strip on as many upright sheets as it needs, each with its check bars.

    fields: of the sheets, but their count and unit. paper: a name of frame.PAPERS. paper_mm: its
    thickness, over 0. Raises ValueError for an unknown paper, NoRoom for a rim too wide for it.
    """
    fields = replace(fields, unit="in" if numbers.inch else "mm")
    projection = usual_projection(numbers.inch)
    page = blank(fields, paper, projection=projection)
    space, free_low = inside(page), block(page).top
    around = strip_length_mm(dial, paper_mm)
    lines = rim_lines(dial)
    most = space.right - space.left - 2 * CLEAR_MM - LAP_MM
    ends = _pieces(dial, lines, around, most)
    rows = list(zip(ends, ends[1:], strict=False))
    words = _notes(dial, numbers, around, paper_mm, len(rows))
    head = _head_lines(words, space.right - space.left - 2 * CLEAR_MM)
    top = space.top - CLEAR_MM - len(head) * LINE_PITCH * USUAL_MM - CLEAR_MM
    floor = free_low + FLOOR_MM
    step = dial.rim_width_mm + CLEAR_MM + BELOW_MM
    room = int((top - floor) / step)
    if room < 1:
        raise NoRoom(f"a rim {dial.rim_width_mm} wide has no room on {paper}")
    count = ceil(len(rows) / room)
    sheets = []
    for number in range(count):
        items: list[Item] = []
        for row, words_line in enumerate(head):
            foot = space.top - CLEAR_MM - USUAL_MM - row * LINE_PITCH * USUAL_MM
            items.append(Text((space.left + CLEAR_MM, foot), words_line, USUAL_MM))
        for place, (start, end) in enumerate(rows[number * room : (number + 1) * room]):
            low = top - place * step - CLEAR_MM - dial.rim_width_mm
            at = number * room + place
            items += _piece(
                dial,
                lines,
                around,
                (start, end),
                (space.left + CLEAR_MM, low),
                numbers,
                (at, len(rows)),
            )
        items += check_bar((space.left + CLEAR_MM, free_low + 5.0), numbers.inch)
        items += check_bar((space.right - CLEAR_MM - 5.0, free_low + 4.0), numbers.inch, True, True)
        on = replace(fields, sheet_number=number + 1, number_of_sheets=count)
        sheets.append(replace(blank(on, paper, projection=projection), items=tuple(items)))
    return tuple(sheets)


def _pieces(
    dial: Dial, lines: tuple[RimLine, ...], around: float, most: float
) -> tuple[float, ...]:
    """Where the strip is cut, in turns from line 0: from its joint once round, no piece over most.

    Cuts lie between two lines, clear of numerals where there is such a place: the joint as far
    off line 0 as any, the others nearest to where they make equal pieces.
    """
    numerals = [line.turn for line in lines if line.numeral]
    # between two lines, halfway: where they are far apart, at more places between
    steps = ceil(around / dial.divisions / CUT_MM)
    halves = [(k + 0.5) / (steps * dial.divisions) for k in range(steps * dial.divisions)]

    def clear(turn: float) -> float:
        apart = ((turn - at) % 1.0 for at in numerals)
        return around * min(min(one, 1.0 - one) for one in apart)

    wanted = dial.numeral_height_mm / 2 + NUMERAL_CLEAR_MM
    best = max(map(clear, halves))
    good = [turn for turn in halves if clear(turn) >= min(wanted, best) - 1e-9]
    joint = good[-1] - 1.0
    count = ceil(around / most)
    while True:
        cuts = [joint]
        for piece in range(1, count):
            target = joint + piece / count
            turns = [turn + whole for turn in good for whole in (-1.0, 0.0)]
            cuts.append(min(turns, key=lambda turn: abs(turn - target)))
        cuts.append(joint + 1.0)
        longest = max(b - a for a, b in zip(cuts, cuts[1:], strict=False))
        if longest * around <= most and cuts == sorted(set(cuts)):
            return tuple(cuts)
        count += 1
        if count > len(good):
            raise NoRoom(f"a strip {around:.0f} long has no place to be cut for {most:.0f}")


def _piece(
    dial: Dial,
    lines: tuple[RimLine, ...],
    around: float,
    ends: tuple[float, float],
    corner: tuple[float, float],
    numbers: Numbers,
    which: tuple[int, int],
) -> Iterator[Item]:
    """One piece from its left joint; corner: its lower left; which: its number from 0, of how many."""
    (left, low), high = corner, dial.rim_width_mm
    start, end = ends
    long = (end - start) * around
    right = left + long
    at, count = which
    yield Line((left, low), (right, low), "thin")
    yield Line((left, low + high), (right, low + high), "thin")
    for x in (left, right):
        yield Line((x, low - CLEAR_MM / 2), (x, low + high + CLEAR_MM / 2), "thin")
    lap = ((right, low), (right + LAP_MM, low), (right + LAP_MM, low + high), (right, low + high))
    yield Polyline(lap, "hidden")
    for line in lines:
        turn = line.turn if start <= line.turn <= end else line.turn - 1.0
        if not start <= turn <= end:
            continue
        x = left + (turn - start) * around
        yield Line((x, low), (x, low + line.length_mm), "thin")
        for stroke in line.strokes:
            yield Polyline(tuple((x + dx, low + y) for dx, y in stroke), "thin")
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    foot = low - CLEAR_MM / 2 - TEXT_GAP_MM - SMALL_MM
    yield Text((left + TEXT_GAP_MM, foot), letters[at % len(letters)], SMALL_MM)
    meets = letters[(at + 1) % count % len(letters)]
    yield Text((right - TEXT_GAP_MM, foot), meets, SMALL_MM, "right")
    yield Text((right + TEXT_GAP_MM, foot), "lap", SMALL_MM)
    yield Dimension(
        "linear",
        ((0.0, 0.0), (long, 0.0)),
        ((left, low - CLEAR_MM), (right, low - CLEAR_MM)),
        numbers.plain.caliper(long),
        (left, low - CLEAR_MM - DIMENSION_OFF_MM),
        inch=numbers.inch,
        feature="strip",
    )


def _notes(
    dial: Dial, numbers: Numbers, around: float, paper_mm: float, pieces: int
) -> tuple[str, ...]:
    """What to know before the scissors are taken up."""
    joined = "" if pieces == 1 else f" It comes in {pieces} pieces: letters that are the same meet."
    return (
        f"{dial.divisions} divisions, for a rim {numbers.caliper(dial.diameter_mm)} across.",
        "Print full size, nothing fitted to the page, and hold a rule to the bars before it is cut.",
        f"From joint to joint {numbers.caliper(around)}: the girth of rim and paper, with paper"
        f" {numbers.caliper(paper_mm)} thick; on other paper wrap it and see that the joint closes."
        + joined,
        "Cut along the edges and behind the lap; glue the lap under the other end, joint on joint.",
        "Wrap it print outside, upper edge to the free end, feet of the lines to the index ring: then"
        " the numbers grow upward on the side toward you with the tip at the nose.",
    )


def _head_lines(words: tuple[str, ...], wide: float) -> tuple[str, ...]:
    return tuple(line for one in words for line in wrapped(one, wide, USUAL_MM))
