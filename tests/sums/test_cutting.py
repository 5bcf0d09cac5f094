"""The chip of a round-nosed tool, its edge measured along points, and the shares of its forces."""

from __future__ import annotations

from itertools import pairwise
from math import cos, dist, radians, sin

import pytest

from planner.sums.cutting import cutting_forces_N

STEEP = radians(71.0)  # a point of 38 degrees, its middle square to the work: 90 less 19


def edge_mm(depth: float, nose: float) -> float:
    """The length of edge under a surface: round the nose, then along the side it runs into."""
    points, n = [], 20_000
    for k in range(n + 1):
        t = STEEP * k / n
        x, y = nose * sin(t), nose * (1 - cos(t))
        if y > depth:
            return sum(dist(p, q) for p, q in pairwise(points))
        points.append((x, y))
    round_part = sum(dist(p, q) for p, q in pairwise(points))
    return round_part + (depth - points[-1][1]) / sin(STEEP)


@pytest.mark.parametrize("nose", [0.4, 0.5, 0.8])
@pytest.mark.parametrize("depth", [0.0005, 0.05, 0.25, 0.4, 0.8, 2.0])
def test_the_chip_is_its_area_over_the_edge_in_the_cut(depth: float, nose: float) -> None:
    feed = 0.15
    chip, main, passive, feeding = cutting_forces_N(depth, feed, nose, "C45")
    assert chip == pytest.approx(max(0.005, depth * feed / edge_mm(depth, nose)), rel=1e-3)
    # passive a half and feed four tenths of the main force (textbooks: 0.3 to 0.5, 0.2 to 0.4)
    assert (passive, feeding) == pytest.approx((main / 2, 0.4 * main))


@pytest.mark.parametrize("name", ["depth", "feed", "nose radius"])
@pytest.mark.parametrize("bad", [0.0, -1.0, 1e3])
def test_a_size_that_is_none_is_refused(name: str, bad: float) -> None:
    given = {"depth": 0.25, "feed": 0.1, "nose radius": 0.5} | {name: bad}
    with pytest.raises(ValueError, match=f"{name} .*: give a size above zero"):
        cutting_forces_N(*given.values(), "C45")
    cutting_forces_N(999.0, 0.1, 0.5, "C45")
