"""A metric size with general limits (ISO 2768-m: 0.1 at the closest) stands in twentieths of a
millimetre: a caliper's scale reads no less, and nobody works it to the thousandth (common practice).
That holds for places and threads too, and in a shop that buys its bar by the inch: what a bar of 5/8 in
leaves over is given to what is free, not to the hole.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from making.shops import ALUMINIUM, of
from msgspec.structs import fields

from parts.attachment import Attachment
from parts.features import Thread
from parts.part import every_feature
from parts.standard.fits import Limits

BALLS: dict[str, Any] = {"attachment.max_ball_diameter": 40}


def _bar(section: str, metal: str = "1018") -> dict[str, Any]:
    return {"section": f"{section} in", "material": metal, "length": "24 in", "price": 5}


INCH_BAR: dict[str, Any] = {
    "shop.rack": [],
    "shop.buy": [
        _bar("round 1"),
        _bar("square 5/8"),
        _bar("square 1/2"),
        _bar("round 3/4"),
        _bar("flat 2-1/2 x 1-1/2"),
        _bar("flat 1 x 5/16"),
        _bar("round 5/8", "1045"),
        _bar("round 1-1/8", "C360"),
    ],
    "shop.sheet": [],
    "materials": {"structure": "1018", "shaft": "1018", "screw": "1045", "dial": "C360"},
}
"""Bars by the inch, as they are sold where that is the custom (common practice)."""

INCH_SCREW: dict[str, Any] = {
    "attachment.screw_pitch": "20 tpi",
    "shop.taps": ["M3", "M4", "M5", "M6", "M8", "1/4-20 UNC"],
}


def _general(whole: Attachment) -> Iterator[tuple[str, str, float]]:
    for part in whole.parts:
        for _, one in every_feature(part):
            for field in fields(one):
                size = getattr(one, field.name)
                if isinstance(size, Limits) and size.is_general:
                    yield part.name, one.name, size.nominal_mm
            for place in one.locations:
                if place.size.is_general:
                    yield part.name, one.name, place.size.nominal_mm
            if isinstance(one, Thread):
                yield part.name, one.name, one.end_mm - one.start_mm


@pytest.mark.parametrize("changes", [{}, ALUMINIUM, BALLS, INCH_BAR, INCH_BAR | INCH_SCREW])
def test_what_has_general_limits_is_said_as_a_caliper_reads(changes: dict[str, Any]) -> None:
    sizes = list(_general(of(**changes)[1]))
    assert len(sizes) > 40
    off = [one for one in sizes if abs(one[2] * 20 - round(one[2] * 20)) > 1e-6]
    assert off == []
    tips = [mm for part, name, mm in sizes if (part, name) == ("drag-screw", "drag tip")][:1]
    assert tips == [3.8]  # 0.2 under the root of M5: 5 - 1.2269 x 0.8 is 4.019
