"""What is sawn by hand takes its time by what is sawn through, as every other hand saw's cut does."""

from __future__ import annotations

import pytest
from making.shops import of

from planner.making.workshop import BY_HAND_MM2_MIN


def test_a_notch_sawn_by_hand_is_timed_by_the_metal_sawn_through() -> None:
    """A notch of 27 by 42 in a bar 15 thick: two cuts, 69 by 15 = 1035 mm2; a
    millimetre of it then filed off at 150 mm3 a minute, and tried for two (common practice)."""
    _, _, route = of()
    (op,) = (op for op in route.operations if "cut arm notch" in op.text)
    assert "notch 27 x 42: saw both ways" in op.text
    assert op.minutes == pytest.approx(1035 / BY_HAND_MM2_MIN + 1035 / 150 + 2, abs=0.1)
    (block,) = (op for op in route.operations if op.text.startswith("saw flat 50x40"))
    assert (op.minutes - 8.9) / 1035 == pytest.approx((block.minutes - 2) / 2000, rel=0.01)
