"""Each thing comes to its place along its way, past all that the route has put on before it.

Solids of the kernel, moved off their places a step at a time; threads in threads are left aside.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, planned

from parts.attachment import Attachment, Placed
from parts.frame import vector
from parts.part import Part

pytestmark = pytest.mark.build

AWAY_MM = (0.3, 1.0, 3.0, 6.0, 10.0, 15.0, 20.0, 26.0, 32.0, 40.0, 50.0, 65.0, 80.0, 100.0)
"""How far off its place a thing is looked at."""

LEAST_MM3 = 0.05


def in_order(whole: Attachment, operations: Any) -> list[Placed]:
    """The placed things, as the route puts them on; several of a name from the nearest to its seat."""
    left = list(whole.placed)
    order = []
    for name in (put["name"] for one in operations for put in one["puts_on"]):
        found = next(one for one in left if one.name == name)
        left.remove(found)
        order.append(found)
    assert not left
    # felt gives way, and comes in its seats in the head
    return [one for one in order if one.name != "wipes the feed thread, oiled"]


def in_the_way(whole: Attachment, order: list[Placed]) -> list[tuple[str, str, float]]:
    """Whatever shares metal with a thing that comes on: the two names, and how far off it was."""
    from planner.solids import bought_solid, placement, solid
    from planner.solids.booleans import shared

    radius = whole.sizes.tip_radius_max_mm
    screwed = {frozenset((one.outer, one.inner)) for one in whole.overlaps}

    def stood(one: Placed) -> Any:
        item = one.item
        shape = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
        return shape.moved(placement(one, radius, 90.0))

    def meet(a: Any, b: Any) -> bool:
        low, high = (
            [(o.xmin, o.ymin, o.zmin) for o in (a, b)],
            [(o.xmax, o.ymax, o.zmax) for o in (a, b)],
        )
        return all(
            max(p, q) < min(r, s) - 1e-6
            for p, q, r, s in zip(low[0], low[1], high[0], high[1], strict=True)
        )

    found, there = [], []
    for one in order:
        shape = stood(one)
        if one.seat is not None:
            off = vector(one.seat.off)
            for far in AWAY_MM:
                moved = shape.translate(type(shape.Center())(*(far * x for x in off)))
                box = moved.BoundingBox()
                for other, solid_there, its_box in there:
                    if frozenset((one.name, other.name)) in screwed or not meet(box, its_box):
                        continue
                    if shared(moved, solid_there).Volume() > LEAST_MM3:
                        found.append((one.name, other.name, far))
        there.append((one, shape, shape.BoundingBox()))
    return found


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_nothing_stands_in_the_way_of_what_comes_on(path: Path) -> None:
    plan = planned(path)
    order = in_order(plan.attachment, plan.route.operation_records())
    assert in_the_way(plan.attachment, order) == []


def test_in_another_order_something_does() -> None:
    """The handle before the nut, and the dial before the screws that it covers."""
    plan = planned(EXAMPLES[0])
    order = in_order(plan.attachment, plan.route.operation_records())
    names = [one.name for one in order]
    for late, early in (("pivot-nut", "handle"), ("holds the index ring", "dial")):
        spoiled = [one for one in order if one.name != late]
        at = [one.name for one in spoiled].index(early) + 1
        spoiled[at:at] = [one for one in order if one.name == late]
        assert {(a, b) for a, b, _ in in_the_way(plan.attachment, spoiled)} >= {(late, early)}
    assert all(
        names.index(a) < names.index(b) for a, b in pairwise(("housing", "dial", "tool-bit"))
    )
