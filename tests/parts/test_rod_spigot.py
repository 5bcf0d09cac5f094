"""The rod's end in the arm is of a size that a reamer is sold in.

Reamers: ISO 236-1 (hand reamers, preferred sizes) and ASME B94.2 (fractions), both from memory.
"""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from parts.head import spigot_diameter_mm
from parts.standard.series import Series

METRIC = (4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 30, 32, 36, 40, 45, 50)
"""ISO 236-1, from memory; 15, 24 and 35 are kept by dealers too."""


def spigot(rod_mm: float, inch: bool = False) -> float:
    sizes: Any = SimpleNamespace(rod_diameter_mm=rod_mm, series=Series(inch))
    return spigot_diameter_mm(sizes)


@pytest.mark.parametrize(
    ("rod", "end"),
    [(10, 6), (12, 8), (14, 10), (15, 10), (16, 12), (18, 14), (20, 16), (22, 18), (25, 20), (28, 24),
     (30, 25), (32, 28), (35, 30), (40, 35), (50, 45)],
)  # fmt: skip
def test_a_rod_is_stepped_down_to_a_reamer(rod: float, end: float) -> None:
    """A rod of 25 stood in a hole of 21, one of 15 in 11: no reamer is sold of those."""
    assert spigot(rod) == pytest.approx(end)
    assert end in (*METRIC, 15, 24, 35) and rod - end >= 4  # 2 mm of shoulder all round


@pytest.mark.parametrize("sixteenths", range(7, 25))
def test_an_inch_rod_too(sixteenths: int) -> None:
    end = spigot(sixteenths * 25.4 / 16, True) / 25.4
    assert 16 * end == pytest.approx(round(16 * end)) and sixteenths / 16 - end >= 1 / 8 - 1e-9
