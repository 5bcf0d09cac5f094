"""A picture of the package as a block of the book. Imported by the chapters."""

from __future__ import annotations

import re

from planner.book.model import Picture

_SIZE = re.compile(r'<svg[^>]* width="([\d.]+)mm" height="([\d.]+)mm"')


def picture(svg: str, name: str, words: str = "") -> Picture:
    """The picture in the size that it says itself. Raises ValueError where it says none."""
    size = _SIZE.search(svg)
    if size is None:
        raise ValueError(f"{name}: a picture without its size in mm")
    return Picture(svg, float(size[1]), float(size[2]), name, words)
