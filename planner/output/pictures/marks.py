"""Arrows, leaders and rows of words on a sheet. Imported by the pictures; works nothing out."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, radians, sin
from textwrap import wrap

from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet

Point = tuple[float, float]

ROW_MM, WORDS, HEAD, TITLE = 5.6, 4.3, 4.5, 4.8
"""From one row of words to the next, and the sizes of words, heads and titles, mm: read at the machine,
so none is under 12 points."""

ROW_LETTERS = 56
"""So many letters of words go in a row of the width of the book's page."""


def halves(words: str) -> tuple[str, ...]:
    """A sentence on two lines, parted at the space nearest to its middle."""
    spaces = [i for i, letter in enumerate(words) if letter == " "]
    at = min(spaces, key=lambda i: abs(2 * i - len(words)))
    return words[:at], words[at + 1 :]


def wrapped(words: str) -> list[str]:
    """Words on rows no longer than the page is wide."""
    return wrap(words, ROW_LETTERS)


def rows(sheet: Sheet, at: Point, words: Sequence[str]) -> None:
    """Words on rows, one under another; at: the foot of the first, from its left."""
    for row, one in enumerate(words):
        sheet.text(at[0], at[1] - ROW_MM * row, one, WORDS)


def arc(middle: Point, radius: float, start: float, end: float) -> list[Point]:
    """Points of an arc, degrees from the right, counter-clockwise where they grow."""
    count = 24
    turns = [radians(start + (end - start) * i / count) for i in range(count + 1)]
    return [(middle[0] + radius * cos(t), middle[1] + radius * sin(t)) for t in turns]


def arrow(sheet: Sheet, points: list[Point], width: float, name: str) -> None:
    """A line with a filled head at its end."""
    (x1, y1), (x0, y0) = points[-1], points[-3]
    length = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    long, half = 3.2, 1.1
    foot = (x1 - long * ux, y1 - long * uy)
    sheet.path([p for p in points if (p[0] - x1) ** 2 + (p[1] - y1) ** 2 > 4.0] + [foot], width)
    head = [(foot[0] - half * uy, foot[1] + half * ux), (x1, y1),
            (foot[0] + half * uy, foot[1] - half * ux)]  # fmt: skip
    sheet.path(head, 0.0, fill="#000", closed=True)
    sheet.path([points[0], points[len(points) // 2], points[-1]], 0.0, name=name)


def leader(sheet: Sheet, start: Point, end: Point) -> None:
    """From words to a thing, a dot at the thing."""
    sheet.path([start, end], THIN)
    sheet.circle(*end, 0.5, MIDDLE)


def cross(sheet: Sheet, middle: Point, half: float) -> None:
    """Where a centre is."""
    x, y = middle
    sheet.path([(x - half, y), (x + half, y)], THIN)
    sheet.path([(x, y - half), (x, y + half)], THIN)


def toward(sheet: Sheet, middle: Point, near: bool) -> None:
    """Motion square to the paper: an arrow's point toward the eye, or its feathers away from it."""
    sheet.circle(*middle, 2.0, MIDDLE)
    if near:
        sheet.circle(*middle, 0.45, THICK)
    else:
        for side in (1, -1):
            sheet.path(
                [
                    (middle[0] - 1.4, middle[1] - side * 1.4),
                    (middle[0] + 1.4, middle[1] + side * 1.4),
                ],
                MIDDLE,
            )
