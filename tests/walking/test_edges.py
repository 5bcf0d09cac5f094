"""Every number of a sound route at both its ends: nothing is said of the last good value, and of the
first that is not, what was said when it was looked over (tests/walk_edges.py).

The ends lie within half a thousandth of each other, so that a limit that is a little off is noticed.
What the limits are to be says tests/test_constants.py and the table of holding, each with its source.
"""

from __future__ import annotations

import pytest
from walk_edges import Edge, found_at, tracked

EDGES, _ = tracked()
EVERY = 16
"""The default set tries one edge in so many, the build set every other one, the slow one all."""

ANEW = "look at it; if it was meant: python tests/walk_edges.py"


def _wrong(edges: list[Edge]) -> list[object]:
    found: list[object] = []
    for one in edges:
        if said := found_at(one.route, one.where, one.good):
            found.append((one, said))
        if (said := found_at(one.route, one.where, one.bad)) != one.said:
            found.append((one, said))
    return found


def test_some_edges_are_where_they_were() -> None:
    assert _wrong(EDGES[3::EVERY]) == [], ANEW


@pytest.mark.parametrize("part", range(4))
def test_every_other_edge_is_where_it_was(part: int) -> None:
    assert len(EDGES) > 380 and all(one.good != one.bad and one.said for one in EDGES)
    assert _wrong(EDGES[2 * part :: 8]) == [], ANEW


@pytest.mark.slow
def test_the_others_too() -> None:
    assert _wrong(EDGES[1::2]) == [], ANEW
