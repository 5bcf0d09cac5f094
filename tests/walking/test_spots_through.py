"""A drill that spots through a hole goes through it: by what drilled it, not by its size.

Twist drills go by tenths of a millimetre to 14 and by quarters above it (ISO 235), so that a hole of
16.2 is drilled 16, and no 16.2 goes through it.
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

import pytest
from making.shops import of

from parts.standard.drills import drills
from planner.walking.walk import walk

LARGE = {
    "attachment.max_ball_diameter": "100 mm",
    "attachment.max_blank_diameter": "105 mm",
    "lathe.spindle_over_seat": "38 mm",
    "lathe.spindle_over_cross_slide": "128 mm",
    "lathe.chuck_diameter": "250 mm",
    "lathe.jaw_reach": "50 mm",
    "tool_post.largest_shank": "32 mm",
    "shop.drills_to": "32 mm",
    "shop.taps": ["M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16", "M20", "M24"],
}
"""An engine lathe for balls of 100, its feed screw M16."""


@cache
def large() -> tuple[Any, Any, Any]:
    return of("engine-lathe", **LARGE)


def found(setups: Any, steps: Any) -> list[tuple[str, str, str]]:
    job, whole, _ = large()
    told = walk(whole.parts, job, setups, steps, placed=whole.placed)
    return [(one.code, one.value, one.limit) for one in told]


def spots(steps: Any, feature: str) -> Any:
    return next(one for one in steps if one["kind"] == "spot" and one["feature"] == feature)


def test_it_is_spotted_by_the_drill_that_made_the_hole() -> None:
    _, whole, route = large()
    steps = route.operation_records()
    (hole,) = [
        one for part in whole.parts for one in part.features if one.name == "feed screw hole"
    ]
    sizes = [round(one.diameter_mm, 2) for one in drills(False)]
    assert hole.diameter.nominal_mm == pytest.approx(16.2)
    assert 16.0 in sizes and 16.2 not in sizes
    *_, made = [  # the last of them, after a thinner one
        one["tool"]["diameter_mm"]
        for one in steps
        if one["kind"] == "drill" and one["feature"] == "feed screw hole"
    ]
    assert made == 16.0
    assert spots(steps, "feed nut thread")["tool"]["diameter_mm"] == made
    (aid,) = [one for one in route.aids if one.name == "locating rod"]
    assert aid.size == "16 mm"
    assert found(route.setup_records(), steps) == []


def test_the_old_drill_is_refused() -> None:
    """As it was: a drill of 16.2 bought to go through what a drill of 16 had made."""
    _, _, route = large()
    steps = copy.deepcopy(list(route.operation_records()))
    spots(steps, "feed nut thread")["tool"]["diameter_mm"] = 16.2
    assert found(route.setup_records(), steps) == [
        (
            "route-spot-guide",
            "a drill of 16.2 mm in the feed screw hole of 16 mm",
            "it does not go through",
        )
    ]


def test_the_old_rod_is_refused() -> None:
    """As it was: a rod of 16.2 to set the ring by, through holes of 16."""
    _, _, route = large()
    setups = copy.deepcopy(list(route.setup_records()))
    (against,) = [
        row["against"]
        for one in setups
        for row in one["align"]
        if (row.get("against") or {}).get("size_mm")
    ]
    against["size_mm"] = 16.2
    told = found(setups, route.operation_records())
    assert [(code, value) for code, value, _ in told] == [
        ("route-spot-guide", "near index hole through index-ring"),
        ("route-spot-guide", "far index hole through index-ring"),
    ]
