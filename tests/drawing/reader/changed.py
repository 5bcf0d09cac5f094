"""A sheet with one of its numbers changed: each number of its dimensions and call-outs in turn."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import dist
from typing import Any

from ezdxf.document import Drawing

from . import numbers as n
from .ink import STOCK, Ink, read
from .signs import signs

TOKEN = re.compile(n.NUMBER)


def numbers_of(opened: Drawing) -> Iterator[tuple[Any, str, str, str]]:
    """Each number that a sheet is made by: its entity, what it says, changed, and what was changed.

    Lengths by 0.1 mm or 0.004 in, how true surfaces lie by a fiftieth of that, a weld's run by 1 mm
    or 1/16 in, microinches and what is counted, named or an angle by 1. Numbers of sentences, of notes
    in their circles and of the data fields are none of these, but the blank's.
    """
    ink = read(opened)
    step = 0.1 if ink.unit == 1.0 else 0.004
    lines = {line for call in ink.calls for line in call.lines}
    own: dict[str, float] = {}
    for sign in signs(ink):
        lines |= set(sign.texts)
        if sign.kind == "true":
            own |= dict.fromkeys(sign.texts, step / 50)
        elif sign.kind == "weld":
            own |= dict.fromkeys(sign.texts[1:], 1.0 if ink.unit == 1.0 else 1 / 16)
        elif sign.texts[0].isdigit():
            own[sign.texts[0]] = 1.0
    fields = {ink.fields[STOCK]}
    for entity in opened.modelspace():
        kind = entity.dxftype()
        if kind not in ("DIMENSION", "TEXT"):
            continue
        text = entity.dxf.text
        if kind == "TEXT" and (text not in lines and text not in fields or _flag(ink, entity)):
            continue
        for found in TOKEN.finditer(text):
            before, behind = text[: found.start()], text[found.end() :]
            whole = found[0].isdigit() and (
                re.search(r"(?:\bM|\bTr|No\.|#|sheets | to | [A-Za-z]{1,2}|-)$", before)
                or behind.startswith(("×", "°", " divisions", " pieces", "-"))
            )
            by = 1.0 if whole else 0.1 if before.endswith("Ra ") else step
            if kind == "TEXT":
                by = own.get(text, by)
            value = n.number(found[0]) + by
            new = f"{value:.4f}".rstrip("0").rstrip(".")
            yield entity, text, f"{before}{new}{behind}", f"{text!r}: {found[0]} to {new}"


def _flag(ink: Ink, entity: Any) -> bool:
    """Whether words stand in a thin circle of their own: the number of a note, which sizes nothing."""
    at, high = (entity.dxf.insert.x, entity.dxf.insert.y), entity.dxf.height
    return any(
        r.layer == "THIN" and r.whole and dist(r.centre, at) < r.radius < 2 * high
        for r in ink.rounds
    )
