"""Work on the faceplate, worked out by hand from a block of 60 x 50 x 40 bored through its middle.

Common practice: a strap bears on 8 mm of the work, 2 mm clear of the cut; a bolt of M8 stands 5 mm
beside the work, its washer is 16 across (ISO 7089, from memory); strap and nut stand out 15; a small
angle plate has a wall of 10 and a foot that reaches 30 from the work, 40 wide; parallels of 10 under
what is bored through.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot
from typing import Any, cast

import pytest
from making.shops import of
from making.test_across_by_hand import CHUCK, across, bore
from making.test_whole_by_hand import turned, weldment, whole
from msgspec.structs import replace

from parts import features as f
from parts.frame import Axis, Box
from planner.job.tables import Job
from planner.making.bodies import Body
from planner.making.model import Plate, Strap
from planner.making.outfit import outfit
from planner.making.plated import plated, words
from planner.making.records import setup as recorded

JobWith = Callable[..., Job]
NO_FOUR: dict[str, Any] = CHUCK | {"lathe.four_jaw_outside": [0, 0]}
BLOCK = Body("blank", Box((0.0, -25.0, -20.0), (60.0, 25.0, 20.0)), None, 0.0)
MIDDLE = (30.0, 0.0, 20.0)
UP = (2, 1)


def clamped(plate_mm: float, free_mm: float, **more: Any) -> Plate | None:
    return plated(BLOCK, UP, MIDDLE, plate_mm, free_mm, 20.0, **more)


def test_straps_go_over_the_face_where_there_is_room_beside_the_bore() -> None:
    """Of the 30 beside a bore of 30 the strap takes 8, 2 stay clear; beside 20 it may be 40 wide."""
    found = clamped(200.0, 15.0)
    assert found == Plate((
        Strap("blank.+z", (4.0, 0.0, 20.0), ((-5.0, 0.0, 20.0),)),
        Strap("blank.+z", (56.0, 0.0, 20.0), ((65.0, 0.0, 20.0),)),
    ))  # fmt: skip
    for free, over in ((20.0, "blank.+z"), (20.1, "blank.+y")):
        plate = clamped(200.0, free)
        assert plate and plate.straps[0].surface == over
    # nothing bears on a face that is worked all over
    worked = clamped(200.0, 0.0)
    assert worked and worked.straps[0].surface == "blank.+y" and worked.angle_plate == "blank.-y"


def test_the_plate_reaches_past_the_bolts_washers_and_past_the_corners() -> None:
    """35 to the bolts' middles and half a washer of 16: 43. Its corners are 39 off."""
    assert hypot(30.0, 25.0) < 43.0
    for size, over in ((86.0, "blank.+z"), (85.8, None)):
        plate = clamped(size, 15.1)  # a hair more than straps across the 50 leave
        assert (plate.straps[0].surface if plate else None) == over
    # a bore near a corner: the far corner is hypot(50, 40) = 64.03 off, the bolts are 63 off
    off = plated(BLOCK, UP, (10.0, -15.0, 20.0), 2 * 64.1, 3.0, 20.0)
    assert off is None  # no strap between bore and the near edge, 10 and 10 off, with 8 of hold


def test_an_angle_plate_where_no_strap_bears_on_the_face() -> None:
    """Against the side that is 25 off: over the other strap and nut are 40 off, bolts and washers 30 +
    5 + 8 = 43 to either side; the foot is 55 off, 20 to either side."""
    assert hypot(40, 43) == pytest.approx(58.73, abs=0.01) and hypot(55, 20) < 58.6
    for size, held in ((117.5, True), (117.4, False)):
        assert bool(clamped(size, 0.0)) is held
    # and over the cross slide too, where that comes under the work
    for over, held in ((58.8, True), (58.7, False)):
        assert bool(clamped(200.0, 0.0, over_slide_mm=over)) is held
    plate = clamped(117.5, 0.0)
    assert plate and [one.at for one in plate.straps] == [(30.0, 25.0, -10.0), (30.0, 25.0, 10.0)]
    assert plate.straps[0].bolts == ((-5.0, 25.0, -10.0), (65.0, 25.0, -10.0))
    # two straps, 12 wide each, side by side
    for front, held in ((4.0, True), (3.9, False)):
        assert bool(plated(BLOCK, UP, MIDDLE, 200.0, 0.0, front)) is held


def test_the_side_that_is_nearer_the_spindle_lies_against_the_angle_plate() -> None:
    near = plated(BLOCK, UP, (30.0, 6.0, 20.0), 200.0, 0.0, 20.0)
    assert near and (near.angle_plate, near.straps[0].surface) == ("blank.+y", "blank.-y")


def test_packing_of_equal_height_under_what_is_bored_through(job_with: JobWith) -> None:
    for deep, packing in ((40.0, 10.0), (39.0, 0.0)):
        work = across(job_with(**NO_FOUR))
        work._bored(replace(bore(deep=deep), through=deep == 40.0))
        (setup,) = work.setups
        plate = setup.hold.plate
        assert plate and plate.packing_mm == packing
        assert ("of equal height, 10 mm, clear of the bore" in setup.hold.words) is bool(packing)
        assert (
            ", two straps opposite one another beside the bore, card under them" in setup.hold.words
        )
        assert setup.most_rpm == 250.0
        assert setup.caution == (
            "Out of balance: bolt a counterweight opposite until it stays as it is turned, begin at the"
            " slowest speed, turn it round by hand first; keep clear of corners and bolts"
        )


def test_without_a_faceplate_the_block_is_bored_otherwise(job_with: JobWith) -> None:
    work = across(job_with(**NO_FOUR | {"lathe.faceplate": 0}))
    work._bored(bore())
    (setup,) = work.setups
    assert [one.what for one in work.shop.missing] == [
        "a four-jaw chuck or a faceplate large enough"
    ]
    assert setup.hold.said == (
        "on the faceplate, its -z side flat on it; 40 mm high, the bore's centre, scribed and punched"
        " before, true; the shop has no such faceplate: bore it on the cross slide with a bar between"
        " centres"
    )
    assert (
        setup.caution == "Out of balance: begin at the slowest speed, turn it round by hand first"
    )
    assert "plate" not in recorded(1, setup, 1.0)["hold"]


def test_a_weldment_goes_against_an_angle_plate(job_with: JobWith) -> None:
    """The block is 50 by 40 and 30 long, its face turned with the bar: 27 of it are held, 3 clear. The
    thinner way, against 20: strap and nut 35 off, bolts 25 + 5 + 8: 38 to either side."""
    assert hypot(35, 38) == pytest.approx(51.66, abs=0.01)
    for slide, there in ((51.7, True), (51.6, False)):
        features = turned("+x", (30, 130, 16))
        job = job_with(**NO_FOUR | {"lathe.spindle_over_cross_slide": slide,
                                    "lathe.spindle_over_seat": 20})  # fmt: skip
        work = whole(job, weldment(100.0, "+x"), *features)
        (setup,) = work._turned(features)
        hold = setup.hold
        assert bool(hold.plate) is there and bool(work.shop.missing) is not there
        assert setup.most_rpm == (250.0 if there else 400.0)
        if not there:
            assert hold.chuck_instead == "Have it turned where there is one"
            continue
        assert (hold.by, hold.rests, hold.out_mm) == ("faceplate", "block.-x", 103.0)
        assert hold.plate and hold.plate.angle_plate == "block.-z"
        (grip,) = hold.grips
        assert (grip.surface, grip.other, grip.from_mm, grip.to_mm) == (
            "block.-z", "block.+z", 0.0, 27.0,
        )  # fmt: skip
        assert [one.at for one in hold.plate.straps] == [(6.75, 0.0, 20.0), (20.25, 0.0, 20.0)]


def test_what_a_shop_without_a_four_jaw_chuck_reads() -> None:
    """The faceplate of such a lathe is 150 (common practice: half as large again as its chuck)."""
    job, _, route = of("bench-lathe", **{"lathe.four_jaw_outside": [0, 0]})
    bored, on = (one for one in route.setups if one.hold.by == "faceplate")
    assert bored.hold.said == (
        "on the faceplate, its +z side flat on it, its -x side against an angle plate bolted to it, two"
        " straps over its +x side, card under them; 40 mm high, the bore's centre, scribed and punched"
        " before, true"
    )
    assert on.hold.said == (
        "on the faceplate, the block's +x side flat on it, its -y side against an angle plate bolted to"
        " it, two straps over its +y side, card under them; where it gapes at the faceplate, shims; the"
        " far end on the live centre; 129 mm out"
    )
    assert on.caution == (
        "Out of balance: bolt a counterweight opposite until it stays as it is turned, begin at the"
        " slowest speed, turn it round by hand first; keep clear of corners and bolts; the carriage run"
        " up to its last cut before: bolts and angle plate clear slide and tool"
    )
    numbers = {i for i, one in enumerate(route.setups, 1) if one in (bored, on)}
    assert all(op.speed_rpm is None or op.speed_rpm <= 250 for op in route.operations
               if op.setup in numbers)  # fmt: skip
    assert not [one for one in route.missing if "chuck" in one.what]
    wanted = {one.name for one in outfit(route, job)}
    assert "faceplate, its bolts and straps, and iron for a counterweight" in wanted
    assert "angle plate for the faceplate" in wanted


def test_words_of_packing_on_an_angle_plate() -> None:
    straps = (Strap("blank.+y", (0.0, 0.0, 0.0), ()),)
    assert words(Plate(straps, "blank.-y", 10.0), "its -z side", "10 mm") == (
        "on the faceplate, its -z side on two parallels of equal height, 10 mm, clear of the bore, its"
        " -y side against an angle plate bolted to it, two straps over its +y side, card under them"
    )


def test_a_chamfer_for_a_weld_is_kept_clear_too(job_with: JobWith) -> None:
    """Not asked of a block that is not welded: 15 of the bore alone count."""
    work = across(job_with(**NO_FOUR | {"lathe.faceplate": 86}))
    axis = Axis((30.0, 0.0, 20.0), "-z")
    one = f.Bore(name="b", datum="A", axis=cast(Any, axis), depth_mm=20.0, diameter=f.general(30.0))
    work._bored(one)
    hold = work.setups[0].hold
    assert hold.plate and hold.plate.straps[0].surface == "blank.+z"
