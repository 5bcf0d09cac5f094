"""A picture of the package as a block of the book. Imported by the chapters."""

from __future__ import annotations

import re

from planner.book.model import Picture
from planner.output.pictures.svg import MARGIN_MM

_SIZE = re.compile(
    r'(<svg[^>]* )viewBox="([-\d.]+) ([-\d.]+) ([\d.]+) ([\d.]+)"'
    r' width="([\d.]+)mm" height="([\d.]+)mm"'
)

TRIMMED_MM = MARGIN_MM - 2.0
"""Of the white round a picture, which is a page of its own elsewhere: the book has margins."""


def picture(svg: str, name: str, words: str = "") -> Picture:
    """The picture in the size that it says itself, less the white round it. Raises ValueError where it
    says none."""
    size = _SIZE.search(svg)
    if size is None:
        raise ValueError(f"{name}: a picture without its size in mm")
    left, top, *_, wide, high = map(float, size.groups()[1:])
    left, top, wide, high = (
        left + TRIMMED_MM, top + TRIMMED_MM, wide - 2 * TRIMMED_MM, high - 2 * TRIMMED_MM,
    )  # fmt: skip
    shown = (
        f'{size[1]}viewBox="{left:.2f} {top:.2f} {wide:.2f} {high:.2f}"'
        f' width="{wide:.2f}mm" height="{high:.2f}mm"'
    )
    return Picture(svg[: size.start()] + shown + svg[size.end() :], wide, high, name, words)
