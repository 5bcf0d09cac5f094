"""Sound routes, each spoiled by hand in one thing, and the code it must be refused with."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

from walk_records import Data, Route, along, centre, hole_cut, tool
from walk_sound import SOUND

Spoil = Callable[[Route], None]


def _hold(number: int, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.setups[number - 1]["hold"].update(values)

    return spoil


def _grip(number: int, which: int = 0, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.setups[number - 1]["hold"]["grips"][which].update(values)

    return spoil


def _setup(number: int, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.setups[number - 1].update(values)

    return spoil


def _step(number: int, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.operations[number - 1].update(values)

    return spoil


def _in(number: int, key: str, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.operations[number - 1][key].update(values)

    return spoil


def _gauge(number: int, which: int, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.operations[number - 1]["measure"][which]["with"].update(values)

    return spoil


def _reading(number: int, which: int, **values: Any) -> Spoil:
    def spoil(route: Route) -> None:
        route.operations[number - 1]["measure"][which].update(values)

    return spoil


def _gone(*numbers: int) -> Spoil:
    def spoil(route: Route) -> None:
        kept = [one for one in route.operations if one["number"] not in numbers]
        route.operations[:] = kept
        used = {one["setup"] for one in kept}
        route.setups[:] = [one for one in route.setups if one["number"] in used]

    return spoil


def _all(*spoils: Spoil) -> Spoil:
    def spoil(route: Route) -> None:
        for one in spoils:
            one(route)

    return spoil


def _last_first(route: Route) -> None:
    """The slit before the bore: the last set-up moved behind the saw."""
    slit = route.operations.pop()
    route.operations.insert(1, slit)


def _bored_before_welding(route: Route) -> None:
    welds = {10, 11}
    route.operations.sort(key=lambda one: one["setup"] in welds)


def _end_centred(route: Route) -> None:
    """A die from the tailstock while its centre holds the end."""
    drilled: Data = copy.deepcopy(route.operations[1])
    drilled |= {
        "kind": "centre",
        "cut": hole_cut("+x", 0.0, 4.0, 4.0),
        "tool": tool("centre drill", 4.0),
        "speed_rpm": 1900.0,
        "number": 91,
    }
    threading = copy.deepcopy(route.setups[1])
    threading["number"] = 92
    threading["hold"]["centre"] = centre("-x", 4.0)
    route.setups.append(threading)
    route.operations.insert(2, drilled)
    route.operations[4]["setup"] = 92


def _beside_collar(route: Route) -> None:
    """The journal begun from the wrong side, in the little room between collar and jaws."""
    step = copy.deepcopy(route.operations[4])
    step |= {
        "number": 91,
        "feature": "screw journal",
        "makes": [],
        "prepares": ["screw journal"],
        "measure": [],
    }
    step["cut"] |= {"from_mm": 46.0, "to_mm": 49.0, "before_mm": 16.0, "after_mm": 8.4}
    setup = copy.deepcopy(route.setups[2])
    setup["number"] = 92
    setup["hold"]["grips"][0]["from_mm"] = 50.0
    step["setup"] = 92
    route.setups.append(setup)
    route.operations.insert(5, step)


def _placed(feature: str, place: str) -> Spoil:
    """Where a feature lies, said otherwise."""

    def spoil(route: Route) -> None:
        for one in route.operations:
            if one["feature"] == feature:
                one["place"] = place

    return spoil


def _drilled_between(route: Route) -> None:
    """A drill between two cuts of the bar, and nobody changed the headstock."""
    step = copy.deepcopy(route.operations[-2])
    step |= {"number": 91, "kind": "drill", "tool": tool("drill", 19.2), "measure": []}
    route.operations.insert(-1, step)


CALIPER = {"name": "vernier caliper", "resolution_mm": 0.02}

SPOILED: dict[str, tuple[str, Spoil, str]] = {
    "a centre that was never drilled": ("stepped_shaft", _gone(3), "route-no-centre"),
    "a centre at the end in the chuck": (
        "stepped_shaft",
        _hold(3, centre=centre("+x")),
        "route-no-centre",
    ),
    "a centre hole of another size": (
        "stepped_shaft",
        _hold(3, centre=centre("-x", 8.0)),
        "route-no-centre",
    ),
    "long work gripped by 6 mm": ("stepped_shaft", _grip(2, from_mm=85.0), "route-grip-short"),
    "more height in the vice than its jaws have": (
        "tapped_plate",
        _grip(2, from_mm=-1.0, to_mm=48.0),
        "route-jaws-room",
    ),
    "jaws on a fine journal": ("stepped_shaft", _grip(4, packing=None), "route-grip-finished"),
    "jaws on a thread": ("screw_with_collar", _grip(4, packing=None), "route-grip-finished"),
    "jaws where it is thinner": ("stepped_shaft", _grip(4, size_mm=20.0), "route-no-metal"),
    "jaws beyond the end of the work": (
        "knob",
        _grip(2, from_mm=40.0, to_mm=60.0),
        "route-no-metal",
    ),
    "a shoulder behind the jaws": (
        "stepped_shaft",
        _hold(4, axis=along("-x")),
        "route-grip-blocked",
    ),
    "five diameters out of the chuck": (
        "die_in_tailstock",
        _grip(2, from_mm=48.0),
        "route-overhang",
    ),
    "a thin screw without the tailstock": (
        "screw_with_collar",
        _hold(3, centre=None),
        "route-overhang",
    ),
    "parted in the jaws": ("knob", _grip(2, from_mm=15.5), "route-cut-in-grip"),
    "the carrier where the cut is": (
        "between_centres",
        _hold(4, driver={"at_mm": 95.0, "size_mm": 25.0}),
        "route-cut-in-grip",
    ),
    "nothing that drives": ("between_centres", _hold(4, driver=None), "route-no-driver"),
    "the steady beyond the end": (
        "in_the_steady",
        _hold(2, steady={"at_mm": 215.0, "diameter_mm": 20.0}),
        "route-steady",
    ),
    "a slender screw with no steady that follows": (
        "slender_screw",
        _hold(4, steady=None),
        "route-overhang",
    ),
    "three millimetres between collar and jaws": (
        "screw_with_collar",
        _beside_collar,
        "route-tool-reach",
    ),
    "a die past the tailstock's centre": ("die_in_tailstock", _end_centred, "route-tail-in-way"),
    "a bar eight diameters long": ("tube", _in(3, "tool", reach_mm=112.0), "route-tool-reach"),
    "a bar as thick as the hole": ("tube", _in(3, "tool", diameter_mm=18.5), "route-tool-reach"),
    "a bar shorter than the bore": ("tube", _in(3, "tool", reach_mm=40.0), "route-tool-reach"),
    "a hole from the headstock": (
        "knob",
        _in(5, "cut", axis=along("-x"), from_mm=10.5, to_mm=0.0),
        "route-tool-reach",
    ),
    "a hole drilled from the side of the vice": (
        "cross_hole",
        _hold(4, up="+x", rests="blank.-x"),
        "route-tool-reach",
    ),
    "reamed in the solid": ("dial", _gone(5), "route-order"),
    "drilled without a spot": ("tapped_plate", _gone(4), "route-order"),
    "spotted in a hole": (
        "tapped_plate",
        lambda r: r.operations.insert(5, r.operations.pop(3)),
        "route-order",
    ),
    "a fine journal from the rough in one cut": (
        "stepped_shaft",
        _all(_gone(4), lambda r: r.operations[3]["cut"].update(before_mm=20.0)),
        "route-order",
    ),
    "threaded before it is turned": ("die_in_tailstock", _gone(3), "route-order"),
    "tapped from 4.8": (
        "tapped_plate",
        _all(_in(5, "cut", after_mm=4.8), _in(5, "tool", diameter_mm=4.8)),
        "route-tap-drill",
    ),
    "jaws on two sides of a corner": (
        "tapped_plate",
        _grip(4, other="blank.+z"),
        "route-vice-faces",
    ),
    "a millimetre in the vice": (
        "flat_on_the_slide",
        _grip(4, from_mm=-8.0, to_mm=-7.0),
        "route-vice-height",
    ),
    "a flat below the jaws": ("flat_on_the_slide", _grip(4, to_mm=7.0), "route-cut-in-grip"),
    "standing on the face to be cut": (
        "flat_on_the_slide",
        _hold(4, rests="blank.+z"),
        "route-no-rest",
    ),
    "a vice that nothing was set by": ("flat_on_the_slide", _setup(4, align=[]), "route-not-trued"),
    "four jaws without an indicator": ("block_with_bore", _setup(4, align=[]), "route-not-trued"),
    "held by hand under the drill": ("cross_hole", _hold(4, by="hand"), "route-not-held"),
    "a saw of 40 teeth fed 0.05 a turn": (
        "slit_clamp",
        _step(7, feed_mm_per_rev=0.05),
        "route-feed",
    ),
    "a saw that only goes in": ("slit_clamp", _in(7, "cut", feed=None), "route-not-made"),
    "a slit that is not fed past its saw": (
        "slit_clamp",
        _in(7, "cut", travel_mm=60.0),
        "route-not-made",
    ),
    "a saw let in from the metal's side": (
        "slit_clamp",
        _in(7, "cut", depth="+z"),
        "route-tool-reach",
    ),
    "a slit upright on a mill": ("slit_clamp", _hold(4, up="+z"), "route-tool-reach"),
    "a collar on the work": ("slit_clamp", _in(7, "tool", collar_mm=46.0), "route-tool-reach"),
    "a spindle on the work": ("slit_clamp", _in(7, "tool", reach_mm=12.0), "route-tool-reach"),
    "cuts to the bore's centre": (
        "slit_clamp",
        _step(7, cuts=5, depth_mm=3.0, stock_mm=15.0),
        "route-cuts-nothing",
    ),
    "a bar with no room for its carrier": (
        "bored_in_place",
        _in(13, "tool", reach_mm=112.0, bit_at_mm=56.0),
        "route-tool-reach",
    ),
    "a slit within 0.2 by hacksaw": (
        "slit_clamp",
        _all(_setup(4, machine="hacksaw"), _step(7, speed_rpm=None)),
        "route-not-fine",
    ),
    "a reamed hole by a drill": ("cross_hole", _step(6, kind="drill"), "route-machine-cannot"),
    "turned on the drill press": (
        "die_in_tailstock",
        _setup(2, machine="drill press"),
        "route-machine-cannot",
    ),
    "a machine the shop has not": (
        "flat_on_the_slide",
        _setup(4, machine="shaper", caution="beside the ram"),
        "route-no-machine",
    ),
    "a reamer the shop has not": (
        "cross_hole",
        _in(6, "tool", owned=False, instead=None),
        "route-tool-missing",
    ),
    "a reamer run as fast as a drill": ("dial", _step(6, speed_rpm=1900.0), "route-speed"),
    "work in a steady as fast as its drill bears": (
        "in_the_steady",
        _step(4, speed_rpm=1250.0),
        "route-speed",
    ),
    "a blade not said to be of carbide as fast as one that is": (
        "dial",
        _step(9, speed_rpm=1250.0),
        "route-speed",
    ),
    "a speed the lathe has not": ("knob", _step(3, speed_rpm=600.0), "route-speed"),
    "a micrometer that ends below the size": (
        "flat_on_the_slide",
        _gauge(4, 0, most_mm=12.0),
        "route-gauge-range",
    ),
    "a caliper for g6": ("between_centres", _gauge(7, 0, **CALIPER), "route-gauge-coarse"),
    "a micrometer on an axis": (
        "flat_on_the_slide",
        _reading(4, 0, **{"from": "blank.axis"}),
        "route-anvil",
    ),
    "a journal measured before it is there": (
        "between_centres",
        lambda r: r.operations[4]["measure"].append(copy.deepcopy(r.operations[6]["measure"][0])),
        "route-anvil",
    ),
    "inside jaws on an outside": (
        "flat_on_the_slide",
        _reading(4, 0, kind="inside"),
        "route-anvil",
    ),
    "a fine bore that nothing reads": ("tube", _step(3, measure=[]), "route-not-measured"),
    "height and bore by one reading": (
        "bored_in_place",
        lambda r: r.operations[-1]["measure"].pop(),
        "route-not-measured",
    ),
    "turned thinner than its limits": (
        "stepped_shaft",
        _in(7, "cut", after_mm=11.7),
        "route-not-made",
    ),
    "turned into the shoulder": ("stepped_shaft", _in(7, "cut", from_mm=58.0), "route-spoils"),
    "a tail that stops short": ("stepped_shaft", _in(7, "cut", from_mm=64.0), "route-not-made"),
    "one end left as sawn": ("tapped_plate", _gone(2), "route-not-made"),
    "faced less than there is": ("stepped_shaft", _in(2, "cut", off_mm=0.5), "route-more-there"),
    "sawn to the finished length": (
        "stepped_shaft",
        _in(1, "cut", at_mm=[1.0, 91.0]),
        "route-more-there",
    ),
    "a cut in the air": ("knob", _in(3, "cut", from_mm=-12.0, to_mm=-4.0), "route-cuts-nothing"),
    "a tail turned twice": (
        "stepped_shaft",
        lambda r: r.operations.append(copy.deepcopy(r.operations[-1])),
        "route-twice",
    ),
    "a tail left out": ("stepped_shaft", _gone(7), "route-left-out"),
    "a sentence with another size": (
        "stepped_shaft",
        _step(7, text="turn tail Ø13 x 30"),
        "route-words",
    ),
    "flutes shorter than the cut is deep": (
        "flat_on_the_slide",
        _in(4, "tool", reach_mm=2.0),
        "route-tool-reach",
    ),
    "a blind hole with no room for the tap's lead": (
        "knob",
        _in(5, "cut", to_mm=8.0),
        "route-tap-drill",
    ),
    "a drill named otherwise than its hole": (
        "knob",
        _in(5, "tool", diameter_mm=4.0),
        "route-words",
    ),
    "gears for another pitch": ("screw_with_collar", _in(6, "cut", pitch_mm=1.25), "route-words"),
    "jaws on a knurl and beside it": (
        "dial",
        _all(_grip(3, to_mm=11.0), _hold(3, out_mm=4.0)),
        "route-grip-finished",
    ),
    "a thread into the collar's corner": (
        "screw_with_collar",
        _in(6, "cut", to_mm=39.5),
        "route-tool-reach",
    ),
    "a weld without tacks": ("bored_in_place", _gone(10), "route-weld"),
    "a weld on scale": ("bored_in_place", _gone(4), "route-weld"),
    "bored before it is welded": ("bored_in_place", _bored_before_welding, "route-no-work"),
    "slit before it is bored": ("slit_clamp", _last_first, "route-stage"),
    "bored off the spindle's line": (
        "bored_in_place",
        _hold(12, axis=along("-x", 0.0, 3.0, 0.0)),
        "route-off-line",
    ),
    "a knurl that lies nowhere": ("dial", _placed("knurl", ""), "route-words"),
    "a knurl in another place": ("dial", _placed("knurl", "8 to 13 +x from B"), "route-words"),
    "laid on a face that a tube hangs under": (
        "bored_in_place",
        _hold(10, rests="shank.+y"),
        "route-no-rest",
    ),
    "drilled with the bar's centre in the headstock": (
        "bored_in_place",
        _drilled_between,
        "route-order",
    ),
    "a feature of another part": ("knob", _step(3, makes=["rim", "journal"]), "route-no-feature"),
}
"""By what is wrong: the sound route, what is done to it, and the reason."""


def spoiled(name: str) -> tuple[Route, str]:
    """A spoiled route and the code it must be refused with."""
    base, spoil, code = SPOILED[name]
    route = SOUND[base]()
    route.setups, route.operations = copy.deepcopy(route.setups), copy.deepcopy(route.operations)
    spoil(route)
    return route, code
