"""From a sheet to the solid that it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ezdxf.document import Drawing

from .blanks import cut_to_outline, lathe, turned
from .facts import JOINED
from .holes import cut_holes, slots
from .ink import STOCK, Unreadable
from .lying import lying
from .sheet import Sheet
from .weldment import welded


@dataclass
class Reading:
    """A sheet that was read, and the solid that it says.

    title: of the sheet; lie: of a weldment, how its pieces lie, which no number changes.
    """

    title: str
    sheet: Sheet
    solid: Any
    lie: Any = None


def reading(path: Path | Drawing, pieces: Sequence[Reading] = (), lie: Any = None) -> Reading:
    """Read one sheet. pieces: those of all sheets read before; a weldment takes its own.

    lie: how a weldment's pieces lie, from an earlier reading of the same drawing.
    """
    sheet = Sheet(path)
    title = sheet.ink.fields["Title"]
    blank = sheet.ink.fields[STOCK].split(" ")[0]
    on = None
    if sheet.ink.fields["Type of document"] == "Weldment":
        own = [p for p in pieces if p.title.startswith(f"{title}: ")]
        _repeated(sheet, own)
        lie = lie or lying(sheet, [p.solid for p in own])
        body = welded(sheet, lie)
    elif blank in ("round", "tube"):
        body, on = turned(sheet), lathe(sheet)
    elif blank in ("flat", "square"):
        body = cut_to_outline(sheet)
    else:
        raise Unreadable(f"blank {blank!r}")
    whole = cut_holes(sheet, body, slots(sheet, body), on)
    return Reading(title, sheet, whole, lie)


def _repeated(sheet: Sheet, own: Sequence[Reading]) -> None:
    """What a weldment's sheet says of its pieces' sheets: which they are, and sizes in brackets."""
    joined = JOINED.match(sheet.ink.fields[STOCK])
    numbers = [int(p.sheet.ink.fields["Sheet"].split(" ")[0]) for p in own]
    if joined is None or numbers != list(range(int(joined[2]), int(joined[3]) + 1)):
        raise Unreadable(
            f"{sheet.ink.fields.get('Blank')!r}, and its pieces are on sheets {numbers}"
        )
    for words, _ in sheet.calls:
        if words.reference is None:
            continue
        size = words.reference.value
        if not any(abs(d.size.value - size) < 1e-6 for p in own for d in p.sheet.diameters):
            raise Unreadable(f"{words.call.lines}: no piece has this size")
