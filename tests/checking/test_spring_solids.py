"""The chain of stiffness against three-dimensional elements made here, on a coarser mesh."""

from __future__ import annotations

import pytest
from spring_cases import cases
from spring_solids import spring_at

from planner.checking.strength import deflection_links

COARSE = 1.6
"""Elements so many times as large as the record's: within 2 % of its totals."""


@pytest.mark.parametrize("name", ["bench", "cheek"])
def test_the_total_and_the_shank_against_elements(name: str) -> None:
    s, load = cases()[name]
    found = spring_at(s, 90.0, COARSE)
    closed = {x.name: x.mm_per_N * 1e6 for x in deflection_links(s, load)}
    assert set(closed) == set(found.passive) and found.unknowns > 20_000
    total = sum(found.passive.values())
    assert -0.05 <= sum(closed.values()) / total - 1 <= 0.10
    for link, passive in found.passive.items():
        if "shank" not in link:
            assert abs(closed[link] - passive) <= max(0.25 * passive, 0.04 * total), link
    shank = sum(v for link, v in found.passive.items() if "shank" in link)
    assert sum(v for link, v in closed.items() if "shank" in link) == pytest.approx(shank, rel=0.25)
