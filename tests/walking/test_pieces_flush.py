"""Pieces that end at one place are said to, at which of their ends: a cheek of 1-1/4 in and a shank of
5/8 can be flush at the seat or above it, at the front end or at the rear (common practice). A spigot in
a blind hole goes home on its bottom, which is how deep it stands (common practice).
"""

from __future__ import annotations

import copy
from functools import cache
from typing import Any

from making.shops import of

from planner.walking.walk import walk

CHEEK = {
    "attachment.screw_pitch": "16 tpi",
    "attachment.dial_divisions": 125,
    "attachment.max_ball_diameter": "1-1/2 in",
}
"""A small ball on the inch lathe: the housing has a cheek between tube and shank."""

SEAT = "the -y end of the shank flush with that of the cheek"
FRONT = "the +x end of the shank flush with that of the cheek"


@cache
def small() -> tuple[Any, Any, Any]:
    return of("inch-lathe", **CHEEK)


def tacked(operations: list[dict[str, Any]], part: str = "housing") -> dict[str, Any]:
    return next(o for o in operations if o["part"] == part and o["kind"] == "tack")


def test_the_seat_and_the_front_are_named() -> None:
    """y is up and the seat is the underside; x is to the work."""
    job, whole, route = small()
    place = tacked(list(route.operation_records()))["place"]
    assert f"the shank against the +z side of the cheek; {SEAT}; {FRONT}" in place
    records = route.setup_records(), route.operation_records()
    assert walk(whole.parts, job, *records, placed=whole.placed) == ()


def test_flush_and_not_where_is_refused() -> None:
    """As it was said, once for both."""
    job, whole, route = small()
    operations = copy.deepcopy(list(route.operation_records()))
    step = tacked(operations)
    step["place"] = step["place"].replace(f"{SEAT}; {FRONT}", "the shank flush with the cheek")
    found = walk(whole.parts, job, route.setup_records(), operations, placed=whole.placed)
    assert [(f.code, f.limit) for f in found] == [
        ("route-words", "they are flush at the -y end of both"),
        ("route-words", "they are flush at the +x end of both"),
    ]
    step["place"] = ""
    found = walk(whole.parts, job, route.setup_records(), operations, placed=whole.placed)
    assert found[0].code == "route-record"  # and what is not tacked is not welded


def test_a_spigot_goes_home_in_its_blind_hole() -> None:
    job, whole, route = small()
    operations = copy.deepcopy(list(route.operation_records()))
    step = tacked(operations, "rotating-body")
    home = "the shaft home on the bottom of the spigot bore"
    assert step["place"] == f"the shaft in the spigot bore of the block; {home}"
    step["place"] = step["place"].replace(f"; {home}", "")
    found = walk(whole.parts, job, route.setup_records(), operations, placed=whole.placed)
    assert [(f.code, f.value, f.limit) for f in found] == [
        ("route-words", "shaft", "it stands on the bottom of the spigot bore")
    ]
