"""What decides where a dimension stands, of shapes that the examples have not."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from planner.drawing.beside import _thicker


def _outline(*spans: tuple[float, float, float, float]) -> Any:
    """A view of faces with these rectangles: left, low, right, top."""
    return SimpleNamespace(
        scheme=SimpleNamespace(claims=SimpleNamespace(faces=spans)), face_span=lambda face: face
    )


@pytest.mark.parametrize("off", [-30.0, 0.0, 30.0])
@pytest.mark.parametrize("k", [0, 1])
def test_a_diameter_passes_nothing_that_stands_out_further(off: float, k: int) -> None:
    """A shaft of 20 from 0 to 50 about an axis anywhere, a collar of 24 from 50 to 60, one of 20 after
    it; a boss on one side alone is in the way too. Laid level (k 0) and upright (k 1)."""

    def span(
        start: float, end: float, low: float, high: float
    ) -> tuple[float, float, float, float]:
        there = (start, off + low, end, off + high)
        return there if k == 0 else (there[1], there[0], there[3], there[2])

    bar = [span(0, 50, -10, 10), span(50, 60, -12, 12), span(60, 90, -10, 10)]
    for start, end, wanted in ((0, 0, False), (50, 90, True), (50, 55, True), (60, 90, False)):
        found = _thicker(_outline(*bar), 0, (start, end), k, 10.0, off)
        assert found is wanted, (start, end)
    for side in ((-10.0, 10.5), (-10.5, 10.0)):
        assert _thicker(_outline(span(20, 30, *side)), 0, (10.0, 40.0), k, 10.0, off)
    assert not _thicker(_outline(span(20, 30, -10.0, 10.0)), 0, (10.0, 40.0), k, 10.0, off)
    # what only touches the place is not passed
    assert not _thicker(_outline(span(40, 50, -12, 12)), 0, (10.0, 40.0), k, 10.0, off)
    assert not _thicker(_outline(span(0, 10, -12, 12)), 0, (10.0, 40.0), k, 10.0, off)
