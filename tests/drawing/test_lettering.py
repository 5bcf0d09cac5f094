"""The font of the sheets against fontTools, which reads fonts by itself, and its licence."""

from __future__ import annotations

from math import isclose, sqrt

import pytest
from fontTools.ttLib import TTFont
from jobs import ROOT

from planner.drawing.lettering import (
    FAMILY,
    FONT,
    UNKNOWN,
    box_of,
    corners,
    printable,
    size_mm,
    width_mm,
)
from planner.drawing.model import Text

READ = TTFont(FONT)
EM = READ["head"].unitsPerEm
NAMES = {letter: name for letter, name in READ.getBestCmap().items()}
CAPITAL = READ["glyf"]["H"].yMax / EM


def advance(words: str) -> float:
    return sum(READ["hmtx"][NAMES[ord(one)]][0] for one in words) / EM


@pytest.mark.parametrize(
    "words", ["", "H", "Ø 20 H7 ± 0.02°", "4× M6 ↧ 12, ⌴ Ø 11, ⌵ 90°", "WÄÑжΩ"]
)
def test_words_are_as_wide_as_their_letters_together(words: str) -> None:
    assert isclose(width_mm(words, 3.5), 3.5 / CAPITAL * advance(words), abs_tol=1e-9)


def test_every_letter_is_as_wide_and_high_as_fonttools_reads_it() -> None:
    assert len(NAMES) > 400
    for code, name in NAMES.items():
        glyph = READ["glyf"][name]
        box = box_of(Text((0, 0), chr(code), 1000 * CAPITAL))
        assert isclose(box.right, 1000 * READ["hmtx"][name][0] / EM, abs_tol=1e-6), chr(code)
        assert isclose(box.top, 1000 * getattr(glyph, "yMax", 0) / EM, abs_tol=1e-6), chr(code)
        assert isclose(box.low, 1000 * getattr(glyph, "yMin", 0) / EM, abs_tol=1e-6), chr(code)


def test_capitals_are_as_high_as_the_text() -> None:
    # ISO 3098: the height of lettering is that of its capitals
    assert isclose(size_mm(3.5) * CAPITAL, 3.5)
    assert isclose(box_of(Text((10, 20), "H", 3.5)).top, 23.5)


def test_nothing_is_kerned_or_joined() -> None:
    assert not {"GPOS", "GSUB", "kern", "kerx", "morx"} & set(READ.keys())


def test_letters_of_drawings_are_there_and_others_are_shown_to_be_missing() -> None:
    assert printable("Ø°±×µ⌀⌴⌵↧ÄÖÜßéñŁ") == "Ø°±×µ⌀⌴⌵↧ÄÖÜßéñŁ"
    assert printable("中a") == UNKNOWN + "a"
    assert width_mm("中", 3.5) == width_mm(UNKNOWN, 3.5) > 0


@pytest.mark.parametrize(("anchor", "left"), [("left", 10.0), ("middle", 10.0), ("right", 10.0)])
def test_a_text_is_turned_about_its_anchor(anchor: str, left: float) -> None:
    wide = width_mm("R 12", 3.5)
    back = {"left": 0.0, "middle": wide / 2, "right": wide}[anchor]
    flat = box_of(Text((left, 20), "R 12", 3.5, anchor))  # type: ignore[arg-type]
    assert isclose(flat.left, left - back) and isclose(flat.right, left - back + wide)
    on_end = box_of(Text((left, 20), "R 12", 3.5, anchor, 90.0))  # type: ignore[arg-type]
    assert isclose(on_end.low, 20 - back) and isclose(on_end.left, left - 3.5, abs_tol=0.2)
    one, two, *_ = corners(Text((left, 20), "R 12", 3.5, anchor, 45.0))  # type: ignore[arg-type]
    assert isclose(two[0] - one[0], wide / sqrt(2)) and isclose(two[1] - one[1], wide / sqrt(2))


def test_the_font_says_whose_it_is_and_its_licence_is_shipped() -> None:
    names = READ["name"]
    assert names.getDebugName(1) == names.getDebugName(4) == FAMILY
    # the licence of Bitstream Vera: a changed font has neither word in its name
    assert not {"bitstream", "vera"} & set(FAMILY.lower().split())
    text = (ROOT / "LICENSES" / "DejaVu.txt").read_text(encoding="utf-8")
    for part in (names.getDebugName(0), names.getDebugName(13)):
        assert part and " ".join(part.split()) in " ".join(text.split())
    assert "planner/drawing/lettering.ttf" in text and "docs/font.py" in text
