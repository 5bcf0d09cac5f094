"""From a sheet to the solid that it says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from .blanks import cut_to_outline, lathe, turned
from .holes import cut_holes, slots
from .ink import Unreadable
from .sheet import Sheet


@dataclass
class Reading:
    """A sheet that was read, and the solid that it says. title: of the sheet."""

    title: str
    sheet: Sheet
    solid: Any


def reading(path: Path, pieces: Sequence[Reading] = ()) -> Reading:
    """Read one sheet. pieces: those of all sheets read before; a weldment takes its own."""
    sheet = Sheet(path)
    title = sheet.ink.fields["Title"]
    if sheet.ink.fields["Type of document"] == "Weldment":
        from .weldment import welded

        own = [p for p in pieces if p.title.startswith(f"{title}: ")]
        body = welded(sheet, [p.solid for p in own])
        on = None
    elif sheet.ink.fields["Blank"].split(" ")[0] in ("round", "tube"):
        body, on = turned(sheet), lathe(sheet)
    elif sheet.ink.fields["Blank"].split(" ")[0] in ("flat", "square"):
        body, on = cut_to_outline(sheet), None
    else:
        raise Unreadable(f"blank {sheet.ink.fields['Blank']!r}")
    whole = cut_holes(sheet, body, slots(sheet, body), on)
    return Reading(title, sheet, whole)
