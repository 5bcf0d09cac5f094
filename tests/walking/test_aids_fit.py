"""Aids that are made first, walked apart from their planner: one dimension taken away at a time.

Sizes by hand, common practice: a bar goes through its hole with room for chips, its bit is held past
the bar's middle and stays within its back, where the micrometer is set; a bush has a wall to be slit;
a stub a shoulder; a nut a wall, and the tap's drill; nothing is used before it is made, or made of a
bar that nobody sawed. A bit in a bar of 15 stands 2.5 out in a bore of 20, and 8.25 of it, 0.55 of the
bar, are held; in the hole of 19 that it begins in it is (15 + 19) / 2 = 17 long at most.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from making.shops import of, shop
from walking.changed_aids import with_one_changed

from planner.walking.aided import aided

Data = dict[str, Any]
BAR = "boring bar Ø15 between centres"
BIT = f"bit for the {BAR}"


@cache
def sound(name: str) -> tuple[Any, ...]:
    job, whole, route = shop(name)
    return job, whole.parts, route.setup_records(), route.operation_records(), route.aids


def found(name: str, aid: str, **changes: Any) -> list[tuple[str, str]]:
    """What is said where the records of an aid have other values; None for the aid left out."""
    job, parts, setups, steps, aids = sound(name)
    made = with_one_changed(aids, job, aid, changes)
    said = aided(parts, job, setups, steps, made)
    assert {one.code for one in said} <= {"route-aid", "route-record"}
    return [(one.value, one.limit) for one in said]


@pytest.mark.parametrize("name", ["no mill", "inch, no dividing head", "a school", "no welder"])
def test_the_aids_of_a_route_are_fit_for_it(name: str) -> None:
    assert found(name, "") == []


@pytest.mark.parametrize(
    ("aid", "changes", "value", "limit"),
    [
        (BAR, {"gone": True}, f"{BAR} of 15 mm", "is not made"),
        (BAR, {"size_mm": 14.0}, f"{BAR} of 15 mm", "is made of 14 mm"),
        (BAR, {"long_mm": 150.0}, f"{BAR}: too short", "the work and the carrier want 172 mm"),
        (BAR, {"setup": 999}, BAR, "is made before set-up 999 only"),
        (BAR, {"saw_mm": None}, "its bar", "is not in the cut list"),
        (BAR, {"saw_mm": 171.0}, "sawn to 171 mm", "finished it is 172 mm long"),
        (BAR, {"stock_mm": 14.0}, "15 mm thick", "its bar is 14 mm"),
        (BIT, {"gone": True}, BIT, "is not made"),
        (BIT, {"size_mm": 8.0, "stock_mm": 8.0}, f"{BIT}: too thick", "the bar is 15 mm"),
        (BIT, {"long_mm": 10.5}, f"{BIT}: too short", None),
        # a fifth longer than the bar is wide it stood out of its back, and the micrometer on it
        (BIT, {"long_mm": 19.0},
         f"{BIT}: it stands out of the bar's back, where the micrometer goes", None),
        ("facing cutter for the bar", {"long_mm": 34.0}, "facing cutter for the bar: too short", None),
        ("facing cutter for the bar", {"size_mm": 9.0, "stock_mm": 9.0},
         "facing cutter for the bar: too thick", "the bar is 15 mm"),
        ("fly cutter", {"gone": True}, "fly cutter of 50 mm", "is not made"),
        ("bit for the fly cutter", {"long_mm": 20.0}, "bit for the fly cutter: too short",
         "its point turns 25 mm off the axis"),
        ("split bush", {"stock_mm": 27.0}, "split bush: its wall is too thin to be slit",
         "at least 2 mm on either side"),
        ("split bush", {"size_mm": 20.0}, "split bush of 24 mm", "is made of 20 mm"),
        ("split bush", {"long_mm": 9.0}, "split bush: no step is left at its bottom",
         "the work seats there"),
        ("split bush", {"deep_mm": 5.0}, "split bush: not bored deep enough", "9 mm of the work go in"),
        ("gauge nut", {"stock_mm": 10.0}, "gauge nut: its wall is too thin", "at least 11.2 mm across"),
        ("gauge nut", {"drill_mm": 6.5}, "gauge nut: drilled for another thread",
         "the tap wants 6.7 mm to 7.5 mm"),
        ("threaded stub", {"size_mm": 5.0}, "threaded stub of 6 mm", "is made of 5 mm"),
        ("threaded stub", {"stock_mm": 7.0}, "threaded stub: no shoulder is left",
         "its bar is to be at least 8 mm"),
        ("threaded stub", {"long_mm": 20.0}, "threaded stub: too short", None),
        ("threaded stub", {"made": ""}, "made", "is not said"),
    ],
)  # fmt: skip
def test_an_aid_that_does_not_fit_is_refused(
    aid: str, changes: Data, value: str, limit: str | None
) -> None:
    said = found("no mill", aid, **changes)
    assert value in [one for one, _ in said]
    assert limit is None or (value, limit) in said


@pytest.mark.parametrize(("name", "has"), [("no mill", True), ("a lathe alone", False)])
def test_who_grinds_a_bit_is_said_where_the_shop_has_no_grinder(name: str, has: bool) -> None:
    """High-speed steel is too hard for a file and for a saw: its edge wants a wheel (common practice).
    As it was: ground, in a shop that has none, before the set-up that bores with it."""
    assert found(name, "") == []
    _, _, route = shop(name)
    bits = [one for one in route.aids if one.material == "HSS"]
    assert any(bit.name.startswith("bit for the boring bar") for bit in bits)
    for bit in bits:
        plain = bit.made.partition("; the shop has no grinder")[0]
        assert (bit.made == plain) == has
        told = found(name, bit.name, made=plain)
        assert told == ([] if has else [("its edge is ground", "the shop has no grinder")])
    lacking = [one.part for one in route.missing if one.what == "a bench grinder"]
    assert lacking == ([] if has else ["tool-bit, bits made first"])


def test_a_drill_that_is_ground_flat_is_a_second_one() -> None:
    """A drill has a point or a flat end (a fact of the trade): the spigot bore's bottom is flattened by
    one of the size that drills it, and the rod bore may want its point again. As it was: no word of
    where the flat one comes from, or of who grinds it in a shop with no grinder."""
    for name, has in (("no mill", True), ("a lathe alone", False)):
        _, _, route = shop(name)
        flats = (one for one in route.aids if one.name.startswith("flat drill"))
        flat = max(flats, key=lambda one: one.size_mm)  # another sinks the ring's screws
        drilled = {op.op.tool.diameter_mm for op in route.operations if op.kind == "drill"}
        assert flat.size_mm in drilled and not flat.sawn
        assert found(name, "") == []
        assert ("have it ground" in flat.made) != has
        alone = flat.made.replace("a second drill of that size", "the drill of that size")
        said = f"{flat.name}: the only drill of its size"
        told = found(name, flat.name, made=alone)  # by each step that it is for
        assert set(told) == {(said, "its point is wanted as well")}
        ((value, limit),) = set(found(name, flat.name, size_mm=flat.size_mm - 1.0))
        assert value.startswith(flat.name) and limit.startswith("is made of ")


def test_no_aid_seizes_in_stainless_work() -> None:
    """A dead centre, a plug or a gauge nut of stainless steel tears and sticks in work of it (common
    practice: galling on its like); as it was, each aid was of the shaft's own 304."""
    job, whole, route = of(**{"materials.structure": "304", "materials.shaft": "304"})
    setups, steps = route.setup_records(), route.operation_records()

    def told(name: str, **changes: Any) -> list[tuple[str, str]]:
        made = with_one_changed(route.aids, job, name, changes)
        return [(o.value, o.limit) for o in aided(whole.parts, job, setups, steps, made)]

    assert told("") == []
    names = {one.name for one in route.aids if one.sawn}
    assert names and {one.material for one in route.aids if one.sawn} <= {"S235", "C45"}
    for name in names:
        assert ("304, in work of 304", "it seizes there") in told(name, material="304")
