"""A vice's jaws and V-blocks take room beside the work.

Sizes from common practice: the jaws of a 100 mm machine vice are 100 mm wide and 30 to 40 high, a
V-block and the clamp beside the cut want 20 mm of a round.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from jobs import ROOT, planned
from walk_shops import shop
from walking.part_walk import of_parts, walked

from parts.frame import Point
from parts.part import Part, Stock
from parts.standard.holding import drill_out_mm, tap_out_mm
from parts.standard.sections import Section
from planner.walking.faults import Faults
from planner.walking.jaws import jaws_have_room, parallels_bear, vees_have_room
from planner.walking.metal import Body, Metal
from planner.walking.shape import Block, Line, Region, Ring
from planner.walking.state import Piece
from planner.walking.surfaces import Cylinder, Plane

ORIGIN: Point = (0.0, 0.0, 0.0)
X = Line(0, 1, ORIGIN)
OPENS_MM = 100.0


def _piece(*regions: Region) -> Piece:
    stock = Stock(Section("round", 10.0), 30.0, "S355")
    part = Part(
        name="work",
        title="Work",
        colour=(0.5, 0.5, 0.5),
        axes="x",
        blank=stock,
        features=(),
        datums={},
    )
    return Piece(part, None, Metal([Body("work", one) for one in regions]), Metal([]))


def _found(look: Callable[[Faults], None]) -> list[str]:
    faults = Faults("job.toml", shop().numbers)
    look(faults)
    return [one.code for one in faults.found]


def _spool(neck_mm: float, beside_mm: float = 9.0) -> Piece:
    """A neck of 6 between a boss of 9 and another thickness."""
    return _piece(
        Ring(0, ORIGIN, 0.0, 9.0, 4.5),
        Ring(0, ORIGIN, 9.0, 9.0 + neck_mm, 3.0),
        Ring(0, ORIGIN, 9.0 + neck_mm, 18.0 + neck_mm, beside_mm / 2),
    )


def _on_the_neck(piece: Piece, neck_mm: float, **grip: object) -> list[str]:
    neck = Cylinder(X, 9.0, 9.0 + neck_mm, 3.0, False, "neck.round")
    held = {"from_mm": -3.0, "to_mm": 0.5, **grip}
    return _found(lambda f: jaws_have_room(piece, held, 2, (neck, neck), OPENS_MM, f))


def test_plain_jaws_do_not_come_into_a_neck() -> None:
    assert _on_the_neck(_spool(13.0), 13.0) == ["route-jaws-room"]
    assert _on_the_neck(_spool(120.0), 120.0) == []


def test_strips_narrower_than_the_neck_do() -> None:
    assert _on_the_neck(_spool(13.0), 13.0, wide_mm=12.0) == []
    assert _on_the_neck(_spool(13.0), 13.0, wide_mm=16.0) == ["route-jaws-room"]


def test_past_one_end_the_jaws_may_stand_out() -> None:
    assert _on_the_neck(_spool(13.0, 5.0), 13.0) == []


@pytest.mark.parametrize(
    ("neck", "beside", "up", "codes"),
    [
        # a boss and a ball of 9 beside a neck of 6 lie 1.5 lower than it, whichever way it is up
        (13.0, 9.0, 1, ["route-no-rest"]),
        (13.0, 9.0, -1, ["route-no-rest"]),
        # parallels of 100 mm go in between, or stand out past the end that is as thin
        (120.0, 9.0, 1, []),
        (13.0, 6.0, 1, []),
        (13.0, 5.0, 1, []),
    ],
)
def test_a_neck_does_not_lie_on_parallels_longer_than_it(
    neck: float, beside: float, up: int, codes: list[str]
) -> None:
    work = _spool(neck, beside)
    on = Cylinder(X, 9.0, 9.0 + neck, 3.0, False, "work.round")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("planner.walking.jaws.surface", lambda piece, name: on)
        grip = {"surface": "work.round"}
        assert _found(lambda f: parallels_bear(work, grip, (2, up), f)) == codes


def test_the_lever_s_arm_on_parallels_is_refused() -> None:
    """As it was: boss and ball, both thicker, stood on parallels that were said to carry the arm."""
    plan = planned(ROOT / "tests" / "data" / "shops" / "cellar.toml")
    setups, steps = of_parts(plan, "clamp-lever")
    (own,) = [one for one in setups if "between two strips" in one["holding"]]
    before = walked(plan, setups, steps)
    assert not any(one.code == "route-no-rest" for one in before)
    words = (
        own["holding"]
        .partition(", on a packing")[0]
        .replace(", between", ", on parallels, between")
    )
    old = own | {"holding": words}
    told = walked(plan, [old if one is own else one for one in setups], steps)
    found = [(one.code, one.limit) for one in told if one not in before]
    assert found == [("route-no-rest", "thicker metal on both sides of it lies lower")]


@pytest.mark.parametrize(("high", "codes"), [(39.0, []), (41.0, ["route-jaws-room"])])
def test_jaws_are_no_higher_than_they_are(high: float, codes: list[str]) -> None:
    piece = _piece(Block((0.0, -8.0, 0.0), (16.0, 8.0, 110.0)))
    faces = (Plane(1, 8.0, "block.+y"), Plane(1, -8.0, "block.-y"))
    held = {"from_mm": 0.0, "to_mm": high}
    assert _found(lambda f: jaws_have_room(piece, held, 2, faces, OPENS_MM, f)) == codes


def test_a_cheek_between_a_tube_and_a_shank_that_stand_out_on_both_sides() -> None:
    """Its two ends cannot be gripped where both stand out past it, one on each side."""
    cheek = Block((0.0, -10.0, 0.0), (36.0, 0.0, 30.0))
    tube = Ring(0, (0.0, 12.0, 18.0), -4.0, 40.0, 12.0)
    shank = Block((-70.0, -26.0, 0.0), (36.0, -10.0, 16.0))
    faces = (Plane(0, 36.0, "cheek.+x"), Plane(0, 0.0, "cheek.-x"))
    held = {"from_mm": 0.0, "to_mm": 25.0}

    def look(*regions: Region) -> list[str]:
        return _found(lambda f: jaws_have_room(_piece(*regions), held, 2, faces, OPENS_MM, f))

    assert look(cheek, tube, shank) == ["route-jaws-room"]
    assert look(cheek, tube) == []
    assert look(cheek, shank) == []


def test_a_disc_does_not_lie_in_v_blocks_nor_a_neck_between_collars() -> None:
    def look(piece: Piece, low: float, high: float, radius: float) -> list[str]:
        round_ = Cylinder(X, low, high, radius, False, "rim.round")
        return _found(lambda f: vees_have_room(piece, round_, (2, 1), (low, high), f))

    assert look(_piece(Ring(0, ORIGIN, 0.0, 10.0, 12.0)), 0.0, 10.0, 12.0) == ["route-jaws-room"]
    assert look(_piece(Ring(0, ORIGIN, 0.0, 21.0, 12.0)), 0.0, 21.0, 12.0) == []
    thick = (Ring(0, ORIGIN, -9.0, 0.0, 15.0), Ring(0, ORIGIN, 25.0, 34.0, 15.0))
    neck = Ring(0, ORIGIN, 0.0, 25.0, 12.0)
    assert look(_piece(neck, thick[0]), 0.0, 25.0, 12.0) == []
    assert look(_piece(Ring(0, ORIGIN, 0.0, 15.0, 12.0), thick[0], Ring(0, ORIGIN, 15.0, 34.0, 15.0)),
                0.0, 20.0, 12.0) == ["route-jaws-room"]  # fmt: skip


def test_a_tube_with_a_cheek_at_its_side_does_not_lie_in_v_blocks() -> None:
    """Of 35, it touches the vee 12.4 from its middle: a cheek 14.9 off that goes down past there
    stands on the block, all but its last 4 mm; farther off, or ended above, it does not."""

    def look(off: float, down: float, long: float = 46.0) -> list[str]:
        tube = Ring(0, ORIGIN, 0.0, 50.0, 17.5)
        cheek = Block((0.0, off, -down), (long, off + 10.0, 11.0))
        round_ = Cylinder(X, 0.0, 50.0, 17.5, False, "tube.round")
        return _found(lambda f: vees_have_room(_piece(tube, cheek), round_, (2, 1), (0.0, 50.0), f))

    assert look(14.9, 24.0) == look(-24.9, 24.0) == ["route-jaws-room"]
    told = Faults("job.toml", shop().numbers)
    tube, cheek = Ring(0, ORIGIN, 0.0, 50.0, 17.5), Block((0.0, 14.9, -24.0), (46.0, 24.9, 11.0))
    round_ = Cylinder(X, 0.0, 50.0, 17.5, False, "tube.round")
    vees_have_room(_piece(tube, cheek), round_, (2, 1), (0.0, 50.0), told)
    (one,) = told.found
    assert one.limit == "metal beside it stands where the blocks are"
    assert (
        one.remedy
        == "Grip it in the vice between narrow strips, or clamp it on the table by a face"
    )


DIN_338 = {2.5: 57, 3.0: 61, 4.0: 75, 5.0: 86, 6.0: 93, 8.0: 117, 10.0: 133, 13.0: 151}
DIN_340 = {2.5: 95, 3.0: 100, 4.0: 119, 5.0: 132, 6.0: 139, 8.0: 165, 10.0: 184}
DIN_352 = {3.0: 40, 4.0: 45, 5.0: 50, 6.0: 50, 8.0: 56, 10.0: 70, 12.0: 75}
"""Lengths of jobber drills, of long ones, of hand taps, in mm (from memory)."""


@pytest.mark.parametrize(
    ("table", "out", "held"),
    [
        (DIN_338, drill_out_mm, 20.0),
        (DIN_340, lambda size: drill_out_mm(size, long=True), 20.0),
        (DIN_352, tap_out_mm, 12.0),
    ],
)
def test_no_tool_is_taken_for_longer_than_it_is(
    table: dict[float, int], out: Callable[[float], float], held: float
) -> None:
    for size, long in table.items():
        assert 0.75 * long <= out(size) + held <= long, size
