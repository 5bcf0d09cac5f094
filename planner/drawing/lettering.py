"""The one font of the sheets: how wide and how high its words are, for the layout and every writer.

The font has neither kerning nor ligatures, so that words are as wide as their letters together. Where
it comes from and its licence: LICENSES/DejaVu.txt; docs/font.py makes it.
"""

from __future__ import annotations

import struct
from functools import cache, lru_cache
from math import cos, radians, sin
from pathlib import Path
from typing import NamedTuple

from planner.drawing.model import Box, Point, Text

FONT = Path(__file__).with_name("lettering.ttf")
FAMILY = "Pommel Sheet"

UNKNOWN = "□"
"""Printed for a letter that the font has not."""


class Glyph(NamedTuple):
    """How far a letter moves on, and how low and high its ink goes, in parts of the letters' size."""

    advance: float
    low: float
    top: float


@cache
def _glyphs() -> dict[str, Glyph]:
    """Every letter of the font (TrueType: tables cmap format 4, hmtx, loca and glyf)."""
    data = FONT.read_bytes()
    tables = {}
    for number in range(struct.unpack_from(">H", data, 4)[0]):
        name, _, start, _ = struct.unpack_from(">4sLLL", data, 12 + 16 * number)
        tables[name.decode()] = start
    em = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    long_places = struct.unpack_from(">h", data, tables["head"] + 50)[0]
    wide = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]

    def place(glyph: int) -> int:
        if long_places:
            return int(struct.unpack_from(">L", data, tables["loca"] + 4 * glyph)[0])
        return 2 * int(struct.unpack_from(">H", data, tables["loca"] + 2 * glyph)[0])

    found = {}
    for letter, glyph in _letters(data, tables["cmap"]):
        at = tables["hmtx"] + 4 * min(glyph, wide - 1)
        advance = struct.unpack_from(">H", data, at)[0]
        low = top = 0
        if place(glyph) < place(glyph + 1):
            _, low, _, top = struct.unpack_from(">hhhh", data, tables["glyf"] + place(glyph) + 2)
        found[letter] = Glyph(advance / em, low / em, top / em)
    return found


@cache
def _advances() -> dict[str, float]:
    """How far each letter moves on, in parts of the letters' size."""
    return {letter: glyph.advance for letter, glyph in _glyphs().items()}


def _letters(data: bytes, cmap: int) -> list[tuple[str, int]]:
    """Each letter and its glyph, from the first table of the font's character map, of format 4."""
    at = cmap + struct.unpack_from(">L", data, cmap + 8)[0]
    kind, _, _, twice = struct.unpack_from(">HHHH", data, at)
    if kind != 4:
        raise ValueError(f"{FONT.name}: a character map of format {kind}, not 4")
    count = twice // 2
    ends = struct.unpack_from(f">{count}H", data, at + 14)
    starts = struct.unpack_from(f">{count}H", data, at + 16 + twice)
    deltas = struct.unpack_from(f">{count}h", data, at + 16 + 2 * twice)
    ranges = at + 16 + 3 * twice
    found = []
    for one in range(count):
        offset = struct.unpack_from(">H", data, ranges + 2 * one)[0]
        for code in range(starts[one], ends[one] + 1):
            glyph = code
            if offset:
                where = ranges + 2 * one + offset + 2 * (code - starts[one])
                glyph = struct.unpack_from(">H", data, where)[0]
            if code < 0xFFFF and glyph:
                found.append((chr(code), (glyph + deltas[one]) & 0xFFFF))
    return found


def size_mm(height: float) -> float:
    """The size of the letters (the em) whose capitals are so high, in mm."""
    return height / _glyphs()["H"].top


def printable(words: str) -> str:
    """Words with UNKNOWN for each letter that the font has not."""
    known = _glyphs()
    if known.keys() >= set(words):
        return words
    return "".join(one if one in known else UNKNOWN for one in words)


@lru_cache(maxsize=4096)
def width_mm(words: str, height: float) -> float:
    """How wide words are whose capitals are so high, in mm."""
    return width_of_letters_mm(words, size_mm(height))


def width_of_letters_mm(words: str, size: float) -> float:
    """How wide words are in letters of a size (the em), in mm."""
    return size * sum(map(_advances().__getitem__, printable(words)))


def start_of(text: Text) -> Point:
    """The left end of a text's foot, whatever its anchor."""
    back = {"left": 0.0, "middle": 0.5, "right": 1.0}[text.anchor]
    back *= width_mm(text.words, text.height)
    turn = radians(text.rotation_deg)
    return text.at[0] - back * cos(turn), text.at[1] - back * sin(turn)


def corners(text: Text) -> tuple[Point, Point, Point, Point]:
    """The rectangle of a text's ink, turned with it, anticlockwise from its lower left corner."""
    known, size = _glyphs(), size_mm(text.height)
    inks = [known[one] for one in printable(text.words)] or [Glyph(0.0, 0.0, 0.0)]
    low, top = size * min(one.low for one in inks), size * max(one.top for one in inks)
    wide = width_mm(text.words, text.height)
    (x, y), turn = start_of(text), radians(text.rotation_deg)
    right, up = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    lower_left, lower_right, upper_right, upper_left = (
        (x + a * right[0] + b * up[0], y + a * right[1] + b * up[1])
        for a, b in ((0.0, low), (wide, low), (wide, top), (0.0, top))
    )
    return lower_left, lower_right, upper_right, upper_left


def box_of(text: Text) -> Box:
    """The upright rectangle round a text's ink."""
    xs, ys = zip(*corners(text), strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))
