"""What an item of a sheet says, written on the item itself for whoever proves the sheet.

A mark is "feature|what" for a size, "feature|x|one|other" for a distance between two surfaces along x;
several are parted by semicolons.
"""

from __future__ import annotations

from typing import NamedTuple

from planner.drawing.model import (
    DatumSymbol,
    Dimension,
    GeometricTolerance,
    Leader,
    Sheet,
    TextureSymbol,
    WeldSymbol,
)
from planner.drawing.scheme import Edge, Size


class Said(NamedTuple):
    """One thing a sheet says: a size of a feature, or a distance between two surfaces.

    what: "diameter", "thread" ... or "x", "y", "z", and of a sign "texture", "weld", "datum A", a
    characteristic; one, other: of a distance, "carrier:element".
    """

    feature: str
    what: str
    one: str = ""
    other: str = ""


SAYING = (Dimension, Leader, WeldSymbol, TextureSymbol, GeometricTolerance, DatumSymbol)
"""The items that say something of a part."""


def edge_mark(edge: Edge) -> str:
    """The mark of a distance."""
    return "|".join((edge.feature, "xyz"[edge.direction], edge.one, edge.other))


def size_mark(size: Size) -> str:
    """The mark of a size."""
    return f"{size.feature}|{size.what}"


def read(mark: str) -> tuple[Said, ...]:
    """What a mark says."""
    return tuple(Said(*one.split("|")) for one in mark.split(";") if one)


def said(sheet: Sheet) -> list[tuple[int, Said]]:
    """All that a finished sheet says, with the number of the item that says it."""
    return [
        (number, one)
        for number, item in enumerate(sheet.items)
        if isinstance(item, SAYING)
        for one in read(item.feature)
    ]
