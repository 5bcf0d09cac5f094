"""What no machinist could make, complaint by complaint: of a bar, a block and a weldment.

The bar is 20 across and 100 long, along x from 0; the block 60 long, 40 wide and 20 thick about the
x axis. A size just met is no complaint, nor what floats lose of it.
"""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace

from parts.blank import Joined, Member, Stock
from parts.features import (
    Bore,
    Counterbore,
    DrilledHole,
    EngravedScale,
    FacedLength,
    FacedShoulder,
    Feature,
    GroundPoint,
    IndexMark,
    Knurl,
    Location,
    MilledFlat,
    MilledSlot,
    ReamedHole,
    SawnNotch,
    ScribedLine,
    Slit,
    TappedHole,
    Thread,
    TurnedBall,
    TurnedDiameter,
    Weld,
    general,
)
from parts.frame import Axis, Box, Frame
from parts.makeable import complaints
from parts.standard.sections import Section
from parts.standard.series import Series

within = Series(inch=False).within


BAR = Stock(Section("round", 20.0), 100.0, "S355")
BLOCK = Stock(Section("flat", 40.0, 20.0), 60.0, "S355")
TINY = 5e-7


def of_bar(*features: Feature) -> list[str]:
    return complaints("bar", BAR, features)


def of_block(*features: Feature) -> list[str]:
    return complaints("block", BLOCK, features)


def at(start: float, end: float, diameter: float = 16.0, **more: Any) -> dict[str, Any]:
    return {"name": "it", "datum": "A", "start_mm": start, "end_mm": end,
            "diameter": general(diameter)} | more  # fmt: skip


@pytest.mark.parametrize(
    ("length", "said"),
    [(0.0, "its blank is 0 mm long"), (-3.0, "its blank is -3 mm long"),
     (float("inf"), "its blank is inf mm long"), (0.1, None)],
)  # fmt: skip
def test_a_blank(length: float, said: str | None) -> None:
    found = complaints("bar", replace(BAR, length_mm=length), ())
    assert found == ([f"bar: {said}"] if said else [])


@pytest.mark.parametrize(
    ("feature", "said"),
    [
        (FacedLength(name="it", datum="A", length=general(100.0)), None),
        (FacedLength(name="it", datum="A", length=general(100.0 + TINY)), None),
        (FacedLength(name="it", datum="A", length=general(99.0)),
         "99 mm, but the blank is 100 mm long"),
        (TurnedDiameter(**at(0, 100, 20.0)), None),
        (TurnedDiameter(**at(0, 100 + TINY, 20.0 + TINY)), None),
        (TurnedDiameter(**at(30, 30)), "from 30 to 30 mm it has no length"),
        (TurnedDiameter(**at(30, 30 + TINY)), "from 30 to 30 mm it has no length"),
        (TurnedDiameter(**at(40, 30)), "from 40 to 30 mm it has no length"),
        (TurnedDiameter(**at(-0.1, 30)), "from -0.1 to 30 mm it runs past the end of its metal"),
        (TurnedDiameter(**at(30, 100.1)), "from 30 to 100.1 mm it runs past the end of its metal"),
        (FacedShoulder(**at(0, 5, 20.1)), "Ø20.1 is fatter than its blank, Ø20"),
        (TurnedDiameter(**at(0, 5) | {"diameter": within(0.0, 0.1, 0.0)}), "diameter 0 mm is no size"),
        (TurnedDiameter(**at(0, 5) | {"diameter": within(16.0, -0.2, 0.1)}),
         "its limits -0.2, 0.1 are the wrong way round"),
        (TurnedBall(**at(84, 100, 16.0)), None),
        (TurnedBall(**at(84 - TINY, 100, 16.0)), None),
        (TurnedBall(**at(83, 100, 16.0)), "SØ16 over 17 mm"),
        (Knurl(**at(0, 10), pitch_mm=1.0), None),
        (Knurl(**at(0, 10), pitch_mm=0.0), "pitch 0 mm on Ø16"),
        (Knurl(**at(0, 10), pitch_mm=16.0), "pitch 16 mm on Ø16"),
        (EngravedScale(**at(0, 10), divisions=50, line_width_mm=0.2), None),
        # 16 pi is 50.27: 125 lines 0.2 wide are 0.402 apart, 126 are 0.399
        (EngravedScale(**at(0, 10), divisions=125, line_width_mm=0.2), None),
        (EngravedScale(**at(0, 10), divisions=126, line_width_mm=0.2),
         "126 lines 0.2 wide stand 0.4 mm apart"),
        (EngravedScale(**at(0, 10), divisions=0, line_width_mm=0.2),
         "0 lines 0.2 wide stand 50 mm apart"),
        (EngravedScale(**at(0, 10), divisions=1, line_width_mm=0.2), None),
        (IndexMark(**at(0, 10), angle_deg=0.0, line_width_mm=3.9), None),
        (IndexMark(**at(0, 10), angle_deg=0.0, line_width_mm=4.0), "a line 4 mm wide on Ø16"),
        (IndexMark(**at(0, 10), angle_deg=0.0, line_width_mm=0.0), "a line 0 mm wide on Ø16"),
        # M20 is 20 outside, 18.376 across its flanks (ISO 724)
        (Thread(name="it", datum="A", start_mm=0, end_mm=10, thread="M20"), None),
        (Thread(name="it", datum="A", start_mm=0, end_mm=10, thread="M16"),
         "M16 on Ø20, which is no diameter for it"),
        (Thread(name="it", datum="A", start_mm=0, end_mm=10, thread="M24"),
         "M24 on Ø20, which is no diameter for it"),
        (Thread(name="it", datum="A", start_mm=0, end_mm=10, thread="M20", axis=Axis((0, 5, 0), "+x")),
         "M20 has no bar to be cut on"),
    ],
)  # fmt: skip
def test_what_is_turned(feature: Feature, said: str | None) -> None:
    assert of_bar(feature) == ([f"bar: it: {said}"] if said else [])


def test_what_is_made_on_a_turned_cylinder() -> None:
    cylinder = TurnedDiameter(**at(0, 30, 16.0) | {"name": "journal"})
    assert of_bar(cylinder, Knurl(**at(0, 30, 16.0), pitch_mm=1.0)) == []
    for kind, more in (
        (Knurl, {"pitch_mm": 1.0}),
        (EngravedScale, {"divisions": 20, "line_width_mm": 0.2}),
        (IndexMark, {"angle_deg": 0.0, "line_width_mm": 0.2}),
    ):
        found = of_bar(cylinder, kind(**at(0, 30, 17.0), **more))  # type: ignore[arg-type]
        assert found == ["bar: it: on Ø17, but Ø16 is turned there"]
    thread = Thread(name="it", datum="A", start_mm=0, end_mm=30, thread="M16")
    tight = replace(cylinder, diameter=within(16.0, 0.0, -0.1))
    assert of_bar(tight, thread) == []
    thick = replace(cylinder, diameter=within(16.0, 0.1, 0.0))
    assert of_bar(thick, thread) == ["bar: it: M16 on Ø16.1, which is no diameter for it"]


def across(depth: float, through: bool = True, x: float = 50.0, **more: Any) -> dict[str, Any]:
    """A hole down from the top of bar or block at x."""
    where = {"axis": Axis((x, 0.0, 10.0), "-z"), "depth_mm": depth, "through": through}
    return {"name": "it", "datum": "A"} | where | more


HOLES = [
    # 20 deep is through; as deep as that and blind comes out
    (DrilledHole(**across(20.0), diameter=general(6.0)), None),
    (DrilledHole(**across(20.0 - TINY), diameter=general(6.0)), None),
    (DrilledHole(**across(18.0), diameter=general(6.0)),
     "is said to go through, but ends 2 mm before the far side"),
    (DrilledHole(**across(19.0, False), diameter=general(6.0)), None),
    (Bore(**across(20.0, False), diameter=general(6.0)),
     "blind, 20 mm deep, but comes out at the far side"),
    (ReamedHole(**across(0.0), diameter=general(6.0)), "0 mm deep"),
    (Counterbore(**across(TINY), diameter=general(6.0)), "5e-07 mm deep"),
    (DrilledHole(**across(20.0), diameter=within(0.0, 0.1, 0.0)), "diameter 0 mm is no size"),
    # M6 has a pitch of 1 and a lead of 3 (common practice): 17 is the most
    (TappedHole(**across(16.9, False), thread="M6"), None),
    (TappedHole(**across(17.0, False), thread="M6"),
     "blind, 17 mm deep, but comes out at the far side"),
    (TappedHole(**across(20.0), thread="M6"), None),
    # it may end in another hole, whatever its depth
    (DrilledHole(**across(5.0, opens_into="slot"), diameter=general(6.0)),
     "opens into slot, which is no feature of the part"),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "said"), HOLES)
def test_holes(feature: Feature, said: str | None) -> None:
    wanted = [f"it: {said}"] if said else []
    assert of_bar(feature) == [f"bar: {text}" for text in wanted]
    assert of_block(feature) == [f"block: {text}" for text in wanted]


@pytest.mark.parametrize(
    ("x", "diameter", "said"),
    [
        # the block ends at 60 and is 40 wide: a hole of 6 at 57 breaks out, of 40 it does
        (56.9, 6.0, None),
        (57.0, 6.0, "Ø6 breaks out of the metal it is made in"),
        (3.0, 6.0, "Ø6 breaks out of the metal it is made in"),
        (3.1, 6.0, None),
        (30.0, 39.9, None),
        (30.0, 40.0, "Ø40 breaks out of the metal it is made in"),
        (80.0, 6.0, "Ø6 breaks out of the metal it is made in"),
    ],
)
def test_a_hole_has_metal_round_it(x: float, diameter: float, said: str | None) -> None:
    found = of_block(DrilledHole(**across(20.0, x=x), diameter=general(diameter)))
    assert found == ([f"block: it: {said}"] if said else [])


def test_holes_that_run_into_each_other() -> None:
    one = DrilledHole(**across(20.0, x=20.0) | {"name": "one"}, diameter=general(6.0))
    apart = DrilledHole(**across(20.0, x=28.0), diameter=general(10.0))
    assert of_block(one, apart) == []
    near = replace(apart, axis=Axis((27.9, 0.0, 10.0), "-z"))
    assert of_block(one, near) == ["block: it: runs into the one"]
    # in line, or meant to meet, they may
    assert of_block(one, replace(one, name="it", diameter=general(8.0))) == []
    aside = {"axis": Axis((20.0, -20.0, 0.0), "+y"), "depth_mm": 20.0, "through": False}
    side = DrilledHole(name="it", datum="A", diameter=general(5.0), **aside)
    assert of_block(one, side) == ["block: it: runs into the one"]
    assert of_block(one, replace(side, opens_into="one")) == []
    assert of_block(replace(one, opens_into="it"), side) == []


def boxed(low: tuple[float, float, float], high: tuple[float, float, float]) -> dict[str, Any]:
    return {"name": "it", "datum": "A", "box": Box(low, high)}


UP = (Location("A", "+z", general(18.0)),)
BOXES = [
    (ScribedLine(**boxed((10, -20, 9.8), (10.2, 20, 10))), None),
    (ScribedLine(**boxed((10, -20, 10), (10.2, 20, 10))),
     "0.2 x 40 x 0 mm: it would take nothing away"),
    (ScribedLine(**boxed((70, -20, 9), (71, 20, 10))), "lies beside the metal"),
    (ScribedLine(**boxed((60, -20, 9), (61, 20, 10))), "lies beside the metal"),
    (SawnNotch(**boxed((40, 0, -10), (60, 20, 10)), corner_radius_mm=3.0), None),
    (SawnNotch(**boxed((40, 0, -10), (60, 20, 10)), corner_radius_mm=20.0),
     "its corner R20 is larger than the notch"),
    (SawnNotch(**boxed((0, -20, -10), (60, 20, 10)), corner_radius_mm=3.0),
     "takes all of the block away"),
    (Slit(**boxed((20, -20, -10), (22, 20, 10)), width=general(2.0)), "cuts the block in two"),
    (Slit(**boxed((20, -20, -9), (22, 20, 10)), width=general(2.0)), None),
    (Slit(**boxed((0, -20, -10), (2, 20, 10)), width=general(2.0)), None),
    (MilledSlot(**boxed((20, -20, 0), (22, 20, 10)), width=general(3.0)),
     "width 3 mm is none of its sizes"),
    (MilledSlot(**boxed((20, -20, 0), (22, 20, 10)), width=within(0.0, 0.1, 0.0)),
     "width 0 mm is no size"),
    (MilledFlat(**boxed((0, -20, 8), (60, 20, 10))),
     "says nothing of what it is measured from"),
    (MilledFlat(**boxed((0, -20, 8), (60, 20, 10)), locations=UP), None),
    (MilledFlat(**boxed((0, -20, 10), (60, 20, 10)), locations=UP),
     "60 x 40 x 0 mm: it would take nothing away"),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "said"), BOXES)
def test_what_is_milled_or_sawn(feature: Feature, said: str | None) -> None:
    assert of_block(feature)[:1] == ([f"block: it: {said}"] if said else [])


def point(**changes: Any) -> list[str]:
    given: dict[str, Any] = {
        "included_deg": 38.0,
        "clearance_deg": 8.0,
        "nose_radius_mm": 0.5,
        "tip": (0.0, 0.0, 3.0),
    } | changes
    bit = Stock(Section("square", 6.0), 60.0, "HSS")
    return complaints("bit", bit, [GroundPoint(name="it", datum="A", **given)])


def test_a_ground_point() -> None:
    assert point() == []
    for angles in ({"included_deg": 0.0}, {"included_deg": 180.0}, {"clearance_deg": 0.0},
                   {"clearance_deg": 45.0}):  # fmt: skip
        both = {"included_deg": 38.0, "clearance_deg": 8.0} | angles
        assert point(**angles) == [
            f"bit: it: {both['included_deg']:g} degrees included, {both['clearance_deg']:g} clearance"
        ]
    assert point(nose_radius_mm=3.0) == ["bit: it: nose R3 on a bit 6 mm wide"]
    assert point(nose_radius_mm=2.9) == [] and point(nose_radius_mm=0.0) != []
    # half of 6 over 60 is 2.86 degrees: of less than 5.72 included it is all point
    assert point(included_deg=5.8) == []
    assert point(included_deg=5.6) == ["bit: it: the bit, 60 mm long, is all point"]


PLATE = Member("plate", Stock(Section("flat", 40.0, 8.0), 60.0, "S355"), Frame((0.0, 0.0, 14.0)))
BASE = Member("base", BLOCK, Frame())


def welded(plate: Member = PLATE, **changes: Any) -> list[str]:
    given = {"members": ("base", "plate"), "leg_mm": 5.0, "length_mm": 60.0} | changes
    weld = Weld(name="it", datum="A", kind="fillet", **given)
    return complaints("frame", Joined((BASE, plate), (weld,)), ())


def test_welds() -> None:
    # the plate lies on the base: 10 and half of 8; 8 is the thinnest that a leg may be
    assert welded() == [] and welded(leg_mm=8.0) == [] and welded(leg_mm=8.0 + TINY) == []
    assert welded(leg_mm=9.0) == ["frame: it: leg 9 mm on 8 mm of metal"]
    assert welded(leg_mm=0.0) == ["frame: it: leg 0, run 60 mm"]
    assert welded(length_mm=0.0) == ["frame: it: leg 5, run 0 mm"]
    assert welded(members=("base", "rib")) == ["frame: it: joins rib, which is no member"]
    assert welded(replace(PLATE, frame=Frame((0.0, 0.0, 14.5)))) == []
    assert welded(replace(PLATE, frame=Frame((0.0, 0.0, 14.75)))) == [
        "frame: it: base and plate stand 0.75 mm apart"
    ]
    long = replace(PLATE, blank=replace(PLATE.blank, length_mm=0.0))
    assert "frame, plate: its blank is 0 mm long" in welded(long)
