"""The head's foot runs over the body's flat with a few hundredths: it is milled to that as it came out.

As drawn the flat lies within 0.05 either way of its place and the foot 0.03 to 0.05 past that: by their
limits alone they would bind by 0.02 or gape by 0.10.
"""

from __future__ import annotations

from typing import Any

import pytest
from making.shops import SHOPS, shop

SAID = "running clear: milled over or under its size by as much as that came out"


def limits(whole: Any, part: str, name: str) -> tuple[float, float]:
    (own,) = [one for one in whole.parts if one.name == part]
    (flat,) = [one for one in own.features if one.name == name]
    size = flat.locations[0].size
    return size.min_mm, size.max_mm


@pytest.mark.parametrize("name", SHOPS)
def test_the_foot_is_milled_to_the_flat_that_is_there(name: str) -> None:
    _, whole, route = shop(name)
    flat, foot = (
        limits(whole, "rotating-body", "foot flat"),
        limits(whole, "sliding-head", "foot bearing face"),
    )
    assert foot[0] < flat[1]  # it would bind
    makes = {(o["part"], made): o for o in route.operation_records() for made in o["makes"]}
    last = makes["sliding-head", "foot bearing face"]
    assert SAID in last["note"]
    assert last["number"] > makes["rotating-body", "foot flat"]["number"]
