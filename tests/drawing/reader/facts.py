"""What a sheet says that makes no shape: limits, threads, textures, welds, lines."""

from __future__ import annotations

import re
from typing import NamedTuple

from . import numbers as n
from .ink import STOCK
from .sheet import Sheet
from .signs import signs
from .words import Said

JOINED = re.compile(r"^(\d+) pieces, sheets (\d+) to (\d+)$")
"""A weldment's blank: how many pieces, and on which sheets those stand that have any."""


class Fact(NamedTuple):
    """One thing said. kind and words as a shop reads them; numbers in mm, degrees or pieces."""

    kind: str
    words: str
    numbers: tuple[float, ...]


def facts(sheet: Sheet) -> list[Fact]:
    """Every fact of a sheet, as often as it is said to be there."""
    found = [Fact("quantity", "", (float(sheet.ink.fields["Quantity"]),))]
    blank = sheet.ink.fields[STOCK]
    if joined := JOINED.match(blank):
        found.append(Fact("pieces", "", (float(joined[1]),)))
    elif blank:
        shape, _, rest = blank.removesuffix(", from plate").partition(" ")
        sizes = rest.replace(" in", "").replace("×", "x").replace(" ", "").split("x")
        found.append(Fact("blank", shape, tuple(n.number(s) * sheet.ink.unit for s in sizes)))
    for m in sheet.ink.measures:
        if m.size.angle:
            found.append(Fact("angle", "", (m.size.value,)))
        else:
            found += _limits(m.size)
    rim = [(m.angle % 180 == 90, m.size.value) for m in sheet.ink.rim]
    found += [Fact("rim pitch", "", (size,)) for upright, size in rim if not upright]
    longest = max((size for upright, size in rim if upright), default=None)
    if longest is not None:
        found.append(Fact("rim line", "", (longest,)))
    found += [Fact(one.kind, one.words, one.numbers) for one in signs(sheet.ink)]
    for said, _ in sheet.calls:
        for _ in range(said.count):
            found += _called(said)
    return found


def _limits(size: n.Size) -> list[Fact]:
    if not size.upper and not size.lower:
        return []
    return [Fact("limits", f"{size.sign}{size.fit}", (size.value, size.upper, size.lower))]


def _called(said: Said) -> list[Fact]:
    found = []
    for size in (said.diameter, said.width):
        if size is not None:
            found += _limits(size)
    if said.thread:
        found.append(Fact("thread", said.thread, ()))
        for long in (said.length, said.thread_depth):
            if long is not None:
                found.append(Fact("thread length", said.thread, (long,)))
    if said.drill is not None:
        found.append(Fact("drill", "", (said.drill,)))
    if said.depth is not None and not said.thread:
        found.append(Fact("depth", "", (said.depth,)))
    if said.kind == "knurl" and said.length is not None:
        found.append(Fact("knurl length", "", (said.length,)))
    for kind, *rest in said.other:
        if kind[:1].isdigit():
            found.append(Fact(rest[0], "", (n.number(kind),)))
        elif rest:
            found.append(Fact(kind, "", (n.number(rest[0]),)))
    return found
