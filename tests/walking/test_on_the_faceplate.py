"""Work on a faceplate: a sound set-up passes, and what would come loose, strike or be spoiled does not.

Common practice: straps on opposite sides, beside what is cut; packing of equal height under what is
bored through; a counterweight, the spindle turned by hand first, no more than 300 rev/min; all within
the plate. An M8 bolt's washer is 16 across (ISO 7089, from memory).
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from math import hypot
from typing import Any

import pytest
from jobs import changed
from making.shops import of
from walk_edges import words
from walk_pieces_other import block_with_bore
from walk_records import Data, Route, grip

from planner.job.reading import job_from
from planner.walking.walk import walk

Spoil = Callable[[Data], None]
NO_FOUR = {"lathe.four_jaw_outside": [0, 0]}
CAUTION = "Bolt a counterweight opposite, turn it round by hand first"


def on_the_plate() -> Route:
    """The block of 32 x 50 x 40, bored 22 through its middle: two straps across the 50, on packing."""
    route = block_with_bore()
    (setup,) = [one for one in route.setups if one["hold"]["by"] == "four-jaw chuck"]
    straps = [
        {"surface": "blank.+z", "at": [16.0, y, 20.0], "bolts": [[16.0, y + beside, 20.0]]}
        for y, beside in ((-21.0, -9.0), (21.0, 9.0))
    ]
    hold = setup["hold"]
    hold |= {
        "by": "faceplate",
        "rests": "blank.-z",
        "grips": [grip("blank.-z", -20.0, 20.0, 40.0, other="blank.+z", packing="card")],
        "plate": {"straps": straps, "angle_plate": None, "packing_mm": 10.0},
    }
    setup["holding"] = "on the faceplate, on parallels of equal height, card under the straps"
    for one in route.operations:
        if one["setup"] == setup["number"]:
            one["speed_rpm"] = 220.0
    return route


def plate_of(route: Route) -> Data:
    (setup,) = [one for one in route.setups if one["hold"]["by"] == "faceplate"]
    return setup


def codes(route: Route, **changes: Any) -> set[str]:
    job = job_from(changed("bench-lathe", **(NO_FOUR | changes)), "job.toml")
    return {one.code for one in walk(route.parts, job, route.setups, route.operations)}


def test_a_sound_set_up_passes() -> None:
    assert codes(on_the_plate()) == set()


def test_the_plate_is_as_large_as_the_bolts_ask() -> None:
    """The bolts' middles are 30 off, half a washer is 8; the corners only hypot(16, 25)."""
    assert hypot(16, 25) < 38
    for size, refused in ((76, set()), (75.8, {"route-grip-range"}), (0, {"route-grip-range"})):
        assert codes(on_the_plate(), **{"lathe.faceplate": size}) == refused


def _strap(which: int, **values: Any) -> Spoil:
    return lambda setup: setup["hold"]["plate"]["straps"][which].update(values)


def _plate(**values: Any) -> Spoil:
    return lambda setup: setup["hold"]["plate"].update(values)


def _hold(**values: Any) -> Spoil:
    return lambda setup: setup["hold"].update(values)


def _one_side(setup: Data) -> None:
    """Both straps on one side."""
    straps = setup["hold"]["plate"]["straps"]
    for one, x in zip(straps, (6.0, 26.0), strict=True):
        one |= {"at": [x, 21.0, 20.0], "bolts": [[x, 30.0, 20.0]]}


BORED: dict[str, tuple[Spoil, str]] = {
    "a strap over what is bored": (_strap(0, at=[16.0, -14.0, 20.0]), "route-cut-in-grip"),
    "nothing between the work and the plate": (_plate(packing_mm=0.0), "route-cut-in-grip"),
    "too low a packing": (_plate(packing_mm=2.9), "route-cut-in-grip"),
    "packing of no equal height": (lambda setup: setup.update(holding="on packing, card"),
                                   "route-words"),
    "straps on one side": (_one_side, "route-not-held"),
    "a strap half off the work": (_strap(1, at=[16.0, 23.0, 20.0]), "route-no-metal"),
    "a strap over nothing": (_strap(1, at=[16.0, 21.0, 22.0]), "route-no-metal"),
    "a bolt in the work": (_strap(1, bolts=[[16.0, 24.0, 20.0]]), "route-jaws-room"),
    "a strap under the work": (_strap(1, surface="blank.-z", at=[16.0, 21.0, -20.0]),
                               "route-not-held"),
    "a strap over a side without an angle plate": (
        _strap(1, surface="blank.+y", at=[16.0, 25.0, 0.0]), "route-not-held",
    ),
    "lying on its face": (_hold(rests="blank.+z"), "route-no-rest"),
    "lying on a side": (_hold(rests="blank.+y"), "route-no-rest"),
    "lying on what is not there": (_hold(rests="seat.-z"), "route-no-rest"),
    "lying on a line": (_hold(rests="blank.axis"), "route-no-rest"),
    "no straps said": (_plate(straps=[]), "route-record"),
    "no bolts said": (_strap(0, bolts=[]), "route-record"),
    "a bolt that is no place": (_strap(0, bolts=[[16.0, -30.0]]), "route-record"),
    "not said how it is clamped": (_hold(plate=None), "route-record"),
    "no grip said": (_hold(grips=[]), "route-record"),
    "not set true": (lambda setup: setup.update(align=[]), "route-not-trued"),
}  # fmt: skip


@pytest.mark.parametrize("name", BORED)
def test_a_spoiled_block_is_refused(name: str) -> None:
    spoil, code = BORED[name]
    route = on_the_plate()
    spoil(plate_of(route))
    assert code in codes(route)


SAID: dict[str, str] = {
    "a strap over what is bored": (
        "set-up 4: route-cut-in-grip: a strap 10 mm from the spindle: bore goes out to 10.75 mm. Strap"
        " it beside the cut, or against an angle plate"
    ),
    "nothing between the work and the plate": (
        "set-up 4: route-cut-in-grip: drill comes out at the faceplate: 0 mm of packing between, at"
        " least 3 mm. Put packing of equal height under the work, clear of the bore"
    ),
    "packing of no equal height": (
        'set-up 4: route-words: "on packing, card": that the packing is of equal height is not said.'
        " Say it: else the work does not lie square to the spindle"
    ),
    "straps on one side": (
        "set-up 4: route-not-held: straps on one side of the spindle: the work lifts on the other."
        " Strap it on opposite sides"
    ),
    "a strap half off the work": (
        "set-up 4: route-no-metal: a strap on blank.+z: there is no flat metal under its end."
        " Let it bear where the face is whole"
    ),
    "a bolt in the work": (
        "set-up 4: route-jaws-room: a bolt of the strap on blank.+z: metal of the work is where it"
        " stands. Put it beside the work"
    ),
    "a strap under the work": (
        "set-up 4: route-not-held: a strap on blank.-z: does not press the work on what it lies"
        " against. Strap the face that looks away from it"
    ),
    "lying on its face": (
        "set-up 4: route-no-rest: blank.+z: does not lie on the faceplate. Bed it on the face that"
        " looks at the headstock"
    ),
    "lying on what is not there": (
        "set-up 4: route-no-rest: seat.-z: the work has no such face as it is then. Bed it on a flat"
        " face that is there"
    ),
    "lying on a line": (
        "set-up 4: route-no-rest: blank.axis: is no flat face. Bed it on a flat face that is there"
    ),
}


@pytest.mark.parametrize("name", SAID)
def test_what_is_said_of_it(name: str) -> None:
    route = on_the_plate()
    BORED[name][0](plate_of(route))
    assert words(_found(route))[0] == SAID[name]


def test_what_is_said_of_the_plate_and_its_speed() -> None:
    route = on_the_plate()
    for size, said in (
        (60, "38 mm from the spindle to the outside of work, bolts and angle plate: the faceplate is 60"
         " mm across. Hold it otherwise"),
        (0, "faceplate: the shop has none. Hold it otherwise"),
    ):  # fmt: skip
        job = job_from(changed("bench-lathe", **NO_FOUR, **{"lathe.faceplate": size}), "job.toml")
        (told,) = words(walk(route.parts, job, route.setups, route.operations))
        assert told == f"set-up 4: route-grip-range: {said}"
    route.operations[-1]["speed_rpm"] = 340.0
    assert words(_found(route)) == [
        "set-up 4: route-speed: 340 rev/min: work bolted to a faceplate turns no faster than 300"
        " rev/min. Take a slower speed"
    ]


def test_three_of_packing_is_the_least() -> None:
    route = on_the_plate()
    plate_of(route)["hold"]["plate"]["packing_mm"] = 3.0
    assert codes(route) == set()


def test_a_bore_with_its_floor_left_needs_no_packing() -> None:
    route = on_the_plate()
    setup = plate_of(route)
    setup["hold"]["plate"]["packing_mm"] = 0.0
    for one in route.operations:
        if one["setup"] == setup["number"]:
            one["cut"] |= {
                key: -19.0 if one["cut"].get(key) == -20.0 else one["cut"].get(key)
                for key in ("from_mm", "to_mm")
            }
    assert "route-cut-in-grip" not in codes(route)


def test_it_turns_no_faster_than_three_hundred() -> None:
    for rpm, refused in ((220.0, False), (340.0, True)):
        route = on_the_plate()
        route.operations[-1]["speed_rpm"] = rpm
        assert ("route-speed" in codes(route)) is refused


def test_work_off_its_middle_gets_a_counterweight() -> None:
    """Faced 2.2 shorter at one end its middle of mass is 1.1 from the bore's line; 1.8: 0.9."""
    for low, refused in ((1.8, False), (2.2, True)):
        route = on_the_plate()
        setup = plate_of(route)
        cut = next(one["cut"] for one in route.operations if one["cut"].get("normal") == "-x")
        cut |= {"at_mm": low, "box": [[-1.5, -26.0, -21.0], [low, 26.0, 21.0]]}
        assert any("counterweight" in one.limit for one in _found(route)) is refused
        setup["caution"] = CAUTION
        assert not any("counterweight" in one.limit for one in _found(route))


def _found(route: Route) -> Any:
    job = job_from(changed("bench-lathe", **NO_FOUR), "job.toml")
    return walk(route.parts, job, route.setups, route.operations)


def test_where_another_way_serves_instead_the_plate_is_not_asked() -> None:
    route = on_the_plate()
    setup = plate_of(route)
    instead = "bore it on the cross slide"
    setup["hold"] |= {"owned": False, "instead": instead, "plate": None, "grips": [
        grip("blank.-x", -20.0, 0.0, 32.0, other="blank.+x")]}  # fmt: skip
    setup["holding"] = f"on the faceplate; the shop has no such faceplate: {instead}"
    assert codes(route, **{"lathe.faceplate": 0}) == set()


# ---- a weldment against an angle plate: the program's own route, its faults put back ----


def _angled(setup: Data) -> bool:
    return setup["hold"]["by"] == "faceplate" and not setup["piece"]


def _shaft_steps(spoil: Callable[[Data, list[Data]], None], **changes: Any) -> set[str]:
    return {one.code for one in _welded(spoil, **changes)}


def _welded(spoil: Callable[[Data, list[Data]], None], **changes: Any) -> Any:
    job, whole, route = of("bench-lathe", **(NO_FOUR | changes))
    setups = copy.deepcopy(list(route.setup_records()))
    operations = copy.deepcopy(list(route.operation_records()))
    (setup,) = [one for one in setups if _angled(one)]
    spoil(setup, [one for one in operations if one["setup"] == setup["number"]])
    return walk(whole.parts, job, setups, operations, placed=whole.placed)


def _old(setup: Data, _: list[Data]) -> None:
    """As it was said before: jaws on four sides that the shop has not, a faceplate in a word."""
    setup["hold"] |= {
        "by": "four-jaw chuck",
        "grips": [
            grip("block.-y", 13.5, 39.5, 32.0, other="block.+y"),
            grip("block.-z", 13.5, 39.5, 50.0, other="block.+z"),
        ],
        "rests": None,
    }
    del setup["hold"]["plate"]


def _faced_straps(setup: Data, _: list[Data]) -> None:
    """Straps over the face that is turned with the shaft, as a bored block has them."""
    hold = setup["hold"]
    hold["plate"] = {"packing_mm": 0.0, "angle_plate": None, "straps": [
        {"surface": "block.-x", "at": [-0.5, 0.0, z], "bolts": [[-0.5, 0.0, bolt]]}
        for z, bolt in ((-10.0, -19.0), (32.0, 41.0))]}  # fmt: skip
    hold["grips"] = [grip("block.+x", -0.5, 39.5, 40.0, other="block.-x", packing="card")]


def _up_to_the_face(setup: Data, _: list[Data]) -> None:
    """The angle plate stands out as far as the face that is turned."""
    setup["hold"]["grips"][0]["from_mm"] = -0.5


WELDED: dict[str, tuple[Callable[[Data, list[Data]], None], str]] = {
    "the old set-up": (_old, "route-grip-range"),
    "straps over the face that is turned": (_faced_straps, "route-cut-in-grip"),
    "the angle plate before the face": (_up_to_the_face, "route-cut-in-grip"),
    "no counterweight": (lambda setup, _: setup.update(caution="turn it by hand first"),
                         "route-words"),
    "not turned by hand": (lambda setup, _: setup.update(caution="bolt a counterweight opposite"),
                           "route-words"),
    "against the strapped side": (
        lambda setup, _: setup["hold"]["plate"].update(angle_plate="block.+y"), "route-not-held",
    ),
    "against its back": (
        lambda setup, _: setup["hold"]["plate"].update(angle_plate="block.+x"), "route-no-rest",
    ),
    "one strap": (lambda setup, _: setup["hold"]["plate"]["straps"].pop(), "route-not-held"),
    "a strap before the angle plate": (
        lambda setup, _: setup["hold"]["plate"]["straps"][0].update(at=[2.0, 16.0, 11.0]),
        "route-not-held",
    ),
    "too fast": (lambda _, steps: steps[0].update(speed_rpm=340.0), "route-speed"),
}  # fmt: skip


@pytest.mark.parametrize("name", WELDED)
def test_a_spoiled_weldment_is_refused(name: str) -> None:
    spoil, code = WELDED[name]
    assert code in _shaft_steps(spoil)


WELDED_SAID = {
    "no counterweight": (
        'route-words: "turn it by hand first": the work is out of balance: a counterweight, and the'
        " spindle turned by hand, are not said. Say both as a caution"
    ),
    "against its back": (
        "route-no-rest: block.+x: is square to the spindle. An angle plate bears on a side of the work"
    ),
    "one strap": (
        "route-not-held: 1 straps over the side: two, from -39.5 mm to -3 mm, or the work turns under"
        " them. Strap it twice where the angle plate is behind"
    ),
}


@pytest.mark.parametrize("name", WELDED_SAID)
def test_what_is_said_of_a_weldment(name: str) -> None:
    said = words(_welded(WELDED[name][0]))
    assert any(one.partition(": ")[2] == WELDED_SAID[name] for one in said), said


def test_the_weldment_itself_passes() -> None:
    assert _shaft_steps(lambda *_: None) == set()


def test_what_swings_comes_over_the_cross_slide() -> None:
    """Bolts 41 from the spindle one way and 16 the other: with the washer 49, with strap and nut 30,
    so 57.45 in all (14 of strap and nut at the least); the corner is hypot(36, 16)."""
    assert hypot(49, 30) == pytest.approx(57.45, abs=0.01)
    job, whole, route = of("bench-lathe", **NO_FOUR)
    for slide, refused in ((57.6, False), (57.3, True)):
        over = NO_FOUR | {"lathe.spindle_over_cross_slide": slide}
        low = job_from(changed("bench-lathe", **over), "job.toml")
        found = walk(whole.parts, low, route.setup_records(), route.operation_records(),
                     placed=whole.placed)  # fmt: skip
        said = (
            "route-tool-reach: 57.45 mm from the spindle to the outside of work and bolts: the cross"
            f" slide lies {slide} mm under it. Hold it otherwise: it would strike the slide"
        )
        assert any(one.endswith(said) for one in words(found)) is refused
