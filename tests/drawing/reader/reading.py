"""From a sheet to the solid that it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ezdxf.document import Drawing

from .blanks import cut_to_outline, lathe, turned
from .holes import cut_holes, slots
from .ink import Unreadable
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
    blank = sheet.ink.fields["Blank"].split(" ")[0]
    on = None
    if sheet.ink.fields["Type of document"] == "Weldment":
        own = [p.solid for p in pieces if p.title.startswith(f"{title}: ")]
        lie = lie or lying(sheet, own)
        body = welded(sheet, lie)
    elif blank in ("round", "tube"):
        body, on = turned(sheet), lathe(sheet)
    elif blank in ("flat", "square"):
        body = cut_to_outline(sheet)
    else:
        raise Unreadable(f"blank {blank!r}")
    whole = cut_holes(sheet, body, slots(sheet, body), on)
    return Reading(title, sheet, whole, lie)
