"""The dial as it looks where it is read, at each reading of a ball: small dials, full size.

Seen square on the index mark from in front and above, with the tip at the nose: there the dial's
axis lies along the spindle, its free end points at the chuck, to the left, and the index ring stands
still on its right (dial.sense). Black on white; works nothing out but where lines go.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import asin, cos, pi, sin
from textwrap import wrap

from planner.dial.design import OFF_LINE_MM, Dial, Line, engraving_table
from planner.dial.digits import numeral_strokes
from planner.dial.sense import Reading, line_turn
from planner.output.pictures.marks import ROW_MM
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet
from planner.words.numbers import Numbers

Mark = tuple[str, Reading]
"""What is read, the first pass say, and what the dial shows then."""

ACROSS = 3
WORDS_MM, ROW_GAP_MM, COLUMN_GAP_MM = 23.0, 8.0, 3.0
HEAD_MM = 132.0
"""How wide the words over the dials are at least: within the book's page."""

WINDOW_MM = 20.0
"""How much of a dial is shown, up and down, the mark in its middle; a smaller one is seen whole, as is
one whose numerals are so far apart that none might be in sight."""

KNURL_MM, RING_MM = 3.0, 4.5
"""How much of the knurl and of the index ring is drawn beside the rim."""

EDGE_PART = 0.97
"""Lines nearer to the edge of what is seen, in parts of the radius, run together and are left out."""

LEAST_SLOPE = 0.4
"""A numeral that the rim's slope makes lower than this part of its height is left out."""

STROKE = 0.14
"""Width of a numeral's stroke, as part of its height: a little over lettering B of ISO 3098, to be
read in print (our choice)."""

WAVE_MM = 0.35
"""How far a broken edge waves."""

EDGE_MM = 0.2
"""How far off a broken edge a line or a numeral stays."""

TITLE, LABEL, NUMBER, SMALL = 4.8, 4.3, 6.5, 4.3
"""Sizes of letters, mm: none under 12 points, as it is read at the lathe."""


def dial_readings_svg(
    title: str, marks: Sequence[Mark], dial: Dial, numbers: Numbers, across: int = ACROSS
) -> str:
    """The dial at every reading of a ball, in order; what reads the same in a row is one dial.

    title: of the ball. marks: at least one, of readings under the dial's divisions. dial: its design.
    numbers: the job's. across: dials beside each other, at least 1. Raises ValueError for none, or for
    a reading that the dial has no place for.
    """
    wrong = [shown for _, shown in marks if not 0 <= shown.number < dial.divisions]
    if not marks or wrong or across < 1:
        raise ValueError(
            f"readings {wrong or 'none'}, {across} across: give at least one, each from 0 to under"
            f" {dial.divisions}, and 1 or more across"
        )
    sheet, lines = Sheet(), engraving_table(dial)
    high = _window_mm(dial, lines)
    wide = KNURL_MM + dial.rim_width_mm + RING_MM + WORDS_MM
    together = _together(marks)
    for place, (label, shown) in enumerate(together):
        row, column = divmod(place, across)
        at = (
            column * (wide + COLUMN_GAP_MM) + KNURL_MM + dial.rim_width_mm,
            -row * (high + ROW_GAP_MM),
        )
        _dial(sheet, at, dial, lines, shown, high)
        _words(sheet, (at[0] + RING_MM + 2.0, at[1]), label, shown)
    _head(
        sheet,
        title,
        dial,
        numbers,
        high,
        max(across * (wide + COLUMN_GAP_MM) - COLUMN_GAP_MM, HEAD_MM),
    )
    return sheet.svg(title)


def _window_mm(dial: Dial, lines: tuple[Line, ...]) -> float:
    """How much of the dial is shown, so that wherever it stands a numeral is whole in sight."""
    at = [line.number for line in lines if line.numeral]
    apart = max(b - a for a, b in pairwise([*at, dial.divisions])) / dial.divisions
    seen = (WINDOW_MM - dial.numeral_height_mm) / 2 - WAVE_MM - EDGE_MM
    radius = dial.diameter_mm / 2
    if seen < radius and asin(seen / radius) < pi * apart:
        return dial.diameter_mm
    return min(dial.diameter_mm, WINDOW_MM)


def _together(marks: Sequence[Mark]) -> list[Mark]:
    """Readings that are the same in a row as one: from the first label to the last."""
    runs: list[tuple[list[str], Reading]] = []
    for label, shown in marks:
        if runs and runs[-1][1] == shown:
            runs[-1][0].append(label)
        else:
            runs.append(([label], shown))
    return [
        (labels[0] if len(labels) == 1 else f"{labels[0]} to {labels[-1]}", shown)
        for labels, shown in runs
    ]


def _dial(
    sheet: Sheet,
    at: tuple[float, float],
    dial: Dial,
    lines: tuple[Line, ...],
    shown: Reading,
    high: float,
) -> None:
    """One dial; at: where the graduated edge meets the index mark."""
    edge, middle = at
    radius, half = dial.diameter_mm / 2, high / 2
    rim = edge - dial.rim_width_mm
    top, low = middle + half, middle - half
    for left, right, fill in (
        (rim - KNURL_MM, rim, "url(#steel)"),
        (rim, edge, "#fff"),
        (edge, edge + RING_MM, "#fff"),
    ):
        sheet.path(
            [(left, low), (right, low), (right, top), (left, top)], 0.0, fill=fill, closed=True
        )
    for x, width in ((rim, THIN), (edge, MIDDLE)):
        sheet.path([(x, low), (x, top)], width)
    for y in (low, top):
        ends = (rim - KNURL_MM, edge + RING_MM)
        if dial.diameter_mm <= high:
            sheet.path([(x, y) for x in ends], THICK)  # the dial's own edge, seen whole
        else:
            sheet.path(_broken(*ends, y), THIN)
    for line in lines:
        # one further on in number stands a little higher on this side
        turn = float(line_turn(1, dial.divisions)) * (line.number - shown.number)
        up = radius * sin(2 * pi * turn)
        if cos(2 * pi * turn) <= 0 or abs(up) > min(half - WAVE_MM - EDGE_MM, EDGE_PART * radius):
            continue
        y = middle + up
        sheet.path(
            [(edge, y), (edge - line.length_mm, y)], dial.line_width_mm, name=f"line {line.number}"
        )
        if line.numeral:
            ends = (low + WAVE_MM + EDGE_MM, top - WAVE_MM - EDGE_MM)
            _numeral(sheet, line.numeral, dial, edge, y, ends, cos(2 * pi * turn))
    sheet.path([(edge, middle), (edge + RING_MM, middle)], THICK, name="index mark")


def _numeral(
    sheet: Sheet,
    numeral: str,
    dial: Dial,
    edge: float,
    y: float,
    ends: tuple[float, float],
    slope: float,
) -> None:
    """A numeral beside its long line, as low as the rim's slope lets it look; none that is cut off."""
    high = dial.numeral_height_mm * slope
    if slope < LEAST_SLOPE or not ends[0] <= y - high / 2 < y + high / 2 <= ends[1]:
        return
    right = edge - dial.long_mm - OFF_LINE_MM
    strokes = numeral_strokes(numeral, right, 0.0, dial.numeral_height_mm)
    sheet.strokes(
        [[(x, y + slope * up) for x, up in stroke] for stroke in strokes],
        STROKE * dial.numeral_height_mm,
        numeral,
    )


def _broken(left: float, right: float, y: float) -> list[tuple[float, float]]:
    """A wavy line, where more of a thing is left off."""
    count = 24
    return [
        (left + (right - left) * i / count, y + WAVE_MM * sin(4 * pi * i / count))
        for i in range(count + 1)
    ]


def _words(sheet: Sheet, at: tuple[float, float], label: str, shown: Reading) -> None:
    """The label over the mark's height, the number at it, the turns to go under it."""
    x, y = at
    rows = wrap(label, int(WORDS_MM / (0.55 * LABEL))) or [""]
    for up, words in enumerate(reversed(rows)):
        sheet.text(x, y + NUMBER * 0.6 + (LABEL + 0.6) * up, words, LABEL)
    sheet.text(x, y - NUMBER * 0.36, f"{shown.number:g}", NUMBER)
    many = f"{shown.turns} turn{'s' if shown.turns != 1 else ''}" if shown.turns else "no turn"
    for down, words in enumerate((many, "to go")):
        sheet.text(x, y - NUMBER * 0.36 - (SMALL + 0.9) * (down + 1), words, SMALL)


def _head(sheet: Sheet, title: str, dial: Dial, numbers: Numbers, high: float, wide: float) -> None:
    """The title, from where the dial is seen, what a division is, and which way it goes deeper."""
    division = numbers.division(float(dial.advance_mm)).replace(" ", "\u00a0")
    words = (
        "Tip at the nose; seen from in front and above, square on the line of the index ring. The"
        " dial's free end and the chuck are on the left. Turned deeper, this side of the dial goes"
        f" down and the numbers grow. 1 division = {division} of the radius, twice that of the"
        " diameter. Turns to go: whole turns past the number shown."
    )
    rows = wrap(words, int(wide / (0.55 * SMALL)))
    y = high / 2 + 6.0 + ROW_MM * len(rows)
    sheet.text(0.0, y + 1.5, title, TITLE)
    for row, text in enumerate(rows):
        sheet.text(0.0, y - ROW_MM * (row + 1), text, SMALL)
