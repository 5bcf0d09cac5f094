"""A metric size with general limits (ISO 2768-m: 0.1 at the closest) stands in twentieths of a
millimetre: a caliper's scale reads no less, and nobody works it to the thousandth (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from making.shops import ALUMINIUM, of
from msgspec.structs import fields

from parts.attachment import Attachment
from parts.part import every_feature
from parts.standard.fits import Limits

BALLS: dict[str, Any] = {"attachment.max_ball_diameter": 40}


def _general(whole: Attachment) -> Iterator[tuple[str, str, float]]:
    for part in whole.parts:
        for _, one in every_feature(part):
            for field in fields(one):
                size = getattr(one, field.name)
                if isinstance(size, Limits) and size.is_general:
                    yield part.name, one.name, size.nominal_mm


@pytest.mark.parametrize("changes", [{}, ALUMINIUM, BALLS])
def test_what_has_general_limits_is_said_as_a_caliper_reads(changes: dict[str, Any]) -> None:
    sizes = list(_general(of(**changes)[1]))
    assert len(sizes) > 40
    off = [one for one in sizes if abs(one[2] * 20 - round(one[2] * 20)) > 1e-6]
    assert off == []
    tips = [mm for part, name, mm in sizes if (part, name) == ("drag-screw", "drag tip")]
    assert tips == [3.8]  # 0.2 under the root of M5: 5 - 1.2269 x 0.8 is 4.019
