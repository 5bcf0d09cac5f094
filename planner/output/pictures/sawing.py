"""The sawing sheet as pictures: every bar to scale with its cuts, stops, remainders, boxes to tick.

Pages of A4 as SVG, black on white. Imported by the build; works nothing out but where lines go.
"""

from __future__ import annotations

from textwrap import wrap

from parts.value import Value
from planner.job.tables import Job
from planner.output.pictures.marks import HEAD, ROW_MM, WORDS
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet
from planner.stock.bars import BarLayout, CutList, Group
from planner.words.numbers import Numbers

LONG_MM = 170.0
"""How long a bar is drawn at most, never larger than it is; its scale stands beside it."""

PAGE_MM = 228.0
"""With title and margins it goes on Letter, less the foot of a book's page, and on A4."""
BAR_MM, HEAD_MM = 8.0, 24.0


def sawing_pages(cuts: CutList, job: Job) -> list[str]:
    """The sheet's pages, at least one: bars in sawing order, each with one line a cut."""
    numbers = job.numbers
    pages: list[str] = []
    sheet, y = _page(job, 1), 0.0
    before: float | None = None
    number = 0
    for group in cuts.groups:
        for bar in group.bars:
            number += 1
            runs = _runs(bar, group.kerf_mm, numbers)
            for start in range(0, len(runs), MOST_ROWS):
                part = runs[start : start + MOST_ROWS]
                tall = HEAD_MM + ROW_MM * sum(len(_words(run, numbers)) for run in part)
                if y and y + tall > PAGE_MM:
                    pages.append(sheet.svg(_title(job, len(pages) + 1)))
                    sheet, y = _page(job, len(pages) + 1), 0.0
                before = _bar(sheet, -y, _Part(number, group, bar, part, start), numbers, before)
                y += tall
    pages.append(sheet.svg(_title(job, len(pages) + 1)))
    return pages


MOST_ROWS = 18
"""Of one bar on a page: its runs, each of two rows at most."""

SETTING_MM, LEFT_MM = 100.0, 136.0
"""Where the stop and what is left stand, from the bar's end."""

LETTER = 0.62
"""How wide a letter of a plain sans serif is at most, of its size (memory)."""

Run = tuple[int, float, str, float, bool]
"""Cuts alike in a row: how many, the stop, the piece, what is left on the bar after them, and whether
the saw makes them: what is turned off the bar through the spindle is parted off."""


def _runs(bar: BarLayout, kerf: float, numbers: Numbers) -> list[Run]:
    """Its cuts as the sawing table has them: each takes the whole kerf, but for a last one that runs
    out of the bar's end."""
    runs: list[Run] = []
    left = bar.length_mm
    for piece in bar.pieces:
        stop, name = piece.sawn_mm(numbers), f"{piece.part}/{piece.piece}"
        left = max(0.0, left - stop - kerf)
        if runs and runs[-1][1:3] == (stop, name):
            runs[-1] = (runs[-1][0] + 1, stop, name, left, not piece.from_bar)
        else:
            runs.append((1, stop, name, left, not piece.from_bar))
    return runs


def _words(run: Run, numbers: Numbers) -> list[str]:
    """A run's pieces on rows that end before the stop's setting."""
    count, stop, name, *_ = run
    times = f"{count} x " if count > 1 else ""
    said = f"{times}{numbers.plain.rule(stop)}  {name}"
    return wrap(said, int((SETTING_MM - 9.0) / (LETTER * WORDS)), drop_whitespace=False)


def _title(job: Job, page: int) -> str:
    return f"{job.name}: sawing sheet, page {page}"


def _page(job: Job, page: int) -> Sheet:
    sheet = Sheet()
    sheet.text(0, 8, _title(job, page), 5.0)
    sheet.path([(0, 6), (LONG_MM, 6)], THIN)
    return sheet


class _Part(Value, frozen=True):
    """What of one bar stands on one page: some of its runs, and which is the first of them."""

    number: int
    group: Group
    bar: BarLayout
    runs: list[Run]
    first_run: int


def _bar(
    sheet: Sheet, y: float, part: _Part, numbers: Numbers, before: float | None
) -> float | None:
    """One bar: its picture, then a line for each run of cuts; returns the last stop."""
    group, bar = part.group, part.bar
    scale = min(1.0, LONG_MM / bar.length_mm)
    many = f", {bar.count} bars alike" if bar.count > 1 else ""
    head = (
        f"{part.number}  {numbers.stock(group.section)} {group.material}, {bar.origin},"
        f" {numbers.size(bar.length_mm)}{many}; drawn 1:{1 / scale:.3g}"
    )
    sheet.text(0, y - 4, head, HEAD)
    top, low = y - 6, y - 6 - BAR_MM
    if part.first_run == 0:
        at = 0.0
        for piece in bar.pieces:
            stop = piece.sawn_mm(numbers)
            start, end = at * scale, (at + stop) * scale
            sheet.path([(start, top), (end, top), (end, low), (start, low)], MIDDLE, closed=True)
            words = numbers.plain.rule(stop)
            if end - start > LETTER * WORDS * len(words):  # a piece too short for it: see its line
                sheet.text((start + end) / 2, low + 2.4, words, WORDS, "middle")
            at += stop + group.kerf_mm
        if bar.drop_mm > 0:
            start, end = (bar.length_mm - bar.drop_mm) * scale, bar.length_mm * scale
            sheet.path(
                [(start, top), (end, top), (end, low), (start, low)],
                THIN,
                fill="url(#work)",
                closed=True,
            )
    row = low - 6.0
    for run in part.runs:
        _, stop, _, left, sawn = run
        sheet.path([(1, row), (4, row), (4, row + 3), (1, row + 3)], MIDDLE, closed=True)
        setting = "same stop" if stop == before else f"stop {numbers.plain.rule(stop)}"
        sheet.text(SETTING_MM, row + 0.4, setting if sawn else "turned off it", WORDS)
        sheet.text(LEFT_MM, row + 0.4, f"left {numbers.plain.rule_down(left)}", WORDS)
        before = stop if sawn else before
        for words in _words(run, numbers):
            sheet.text(7, row + 0.4, words.strip(), WORDS)
            row -= ROW_MM
    sheet.path([(0, row + 2), (LONG_MM, row + 2)], THICK if part.first_run else THIN)
    return before
