"""Make the font that the drawing sheets are lettered in: python -m docs.font DejaVuSansCondensed.ttf

A subset of DejaVu Sans Condensed 2.37 (Debian package fonts-dejavu-extra) with two marks of our own,
counterbore and countersink, under another name, as its licence asks of a changed font
(LICENSES/DejaVu.txt). Kerning and ligatures are left out, so that a text is as wide as its letters
together in every program.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FONT = Path(__file__).parents[1] / "planner" / "drawing" / "lettering.ttf"
FAMILY = "Pommel Sheet"
LETTERS = (
    *range(0x20, 0x7F),
    *range(0xA0, 0x180),  # Latin-1 and Latin Extended-A
    *range(0x391, 0x3CA),  # Greek
    *range(0x400, 0x460),  # Cyrillic
    *map(ord, "–—‘’“”…′″•−∓≤≥≈√∠→←↑↓↗↧⌀⏥∥◎○□△"),
)
STROKE = 160
"""Of the marks of our own, in parts of 2048 of the letters' size: as DejaVu's own stems."""


def mark(strokes: list[list[tuple[int, int]]]) -> object:
    """A glyph of closed outlines, clockwise."""
    pen = TTGlyphPen(None)
    for points in strokes:
        pen.moveTo(points[0])
        for point in points[1:]:
            pen.lineTo(point)
        pen.closePath()
    return pen.glyph()


def counterbore() -> object:
    """A square trough, open above: 1200 wide, 750 high."""
    s, left, right, top = STROKE, 100, 1300, 750
    out = [(left, top), (left + s, top), (left + s, s), (right - s, s), (right - s, top)]
    return mark([[*out, (right, top), (right, 0), (left, 0)]])


def countersink() -> object:
    """A V with a right angle, its arms 750 high."""
    s, middle, top = round(STROKE * 2**0.5), 700, 750
    arm = [(middle - top, top), (middle - top + s, top), (middle, s), (middle + top - s, top)]
    return mark([[*arm, (middle + top, top), (middle, 0)]])


def main() -> None:
    """Read the whole font, write the subset."""
    font = TTFont(sys.argv[1], recalcTimestamp=False)
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.drop_tables += ["GPOS", "GSUB", "GDEF", "kern", "FFTM", "gasp", "MATH"]
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    options.name_languages = [0x409]
    subset = Subsetter(options)
    subset.populate(unicodes=LETTERS)
    subset.subset(font)
    for code, name, glyph, wide in (
        (0x2334, "counterbore", counterbore(), 1400),
        (0x2335, "countersink", countersink(), 1400),
    ):
        font.setGlyphOrder([*font.getGlyphOrder(), name])
        font["glyf"][name] = glyph
        font["hmtx"][name] = (wide, 0)
        glyph.recalcBounds(font["glyf"])
        font["hmtx"][name] = (wide, glyph.xMin)
        for table in font["cmap"].tables:
            if table.isUnicode():
                table.cmap[code] = name
    names = font["name"]
    for number, text in (
        (1, FAMILY),
        (2, "Regular"),
        (3, f"{FAMILY} 1"),
        (4, FAMILY),
        (5, "Version 1, of DejaVu Sans Condensed 2.37"),
        (6, FAMILY.replace(" ", "")),
    ):
        names.setName(text, number, 3, 1, 0x409)
    names.names = [one for one in names.names if one.platformID == 3]
    font["OS/2"].usWidthClass = 5
    font["OS/2"].recalcUnicodeRanges(font)
    font["post"].formatType = 3.0
    font.save(FONT)


if __name__ == "__main__":
    main()
