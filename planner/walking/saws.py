"""A slit by a round saw on its arbor: what the disc leaves of it, and whether collar and arbor clear.

Imported by planner.walking.cutting.
"""

from __future__ import annotations

import re

import numpy as np
from msgspec.structs import replace

from parts import features as f
from parts.frame import Point
from parts.value import Value
from planner.walking.doing import Doing
from planner.walking.fixed import Fixed
from planner.walking.records import Missing, Record, direction, length_said, number, table, text
from planner.walking.shape import Block, Both, Points, Ring, even
from planner.walking.shop import Shop
from planner.walking.surfaces import NoSurface, Plane, surface

TURNED = ("mill", "milling slide", "lathe")
"""Machines whose spindle turns a saw."""

LEAST_TOOTH_MM, MOST_TOOTH_MM = 0.004, 0.03
"""Less a tooth rubs, more breaks a thin saw of high-speed steel in steel (common practice: 0.005 to
0.015)."""

NUT_MM = 8.0
"""The arbor's screw stands so far past the saw (common practice)."""

NOSE_MM = 25.0
"""Half of what a small mill's spindle nose is wide (common practice)."""

DEPTH_MM = 0.6
"""So nearly the cuts add up to the depth: a saw goes a little past a bore's wall."""

BLADE_MM, SET_OVER_MM = 0.65, (0.15, 0.45)
"""A hand hacksaw's blade is so thick (ISO 2336); fine teeth cut so much wider (common practice)."""

LET_IN = "at the work's upper end the saw is let in"
"""With its middle past the end of the work a saw is at its depth right to that, without a run in."""

STEPS = 41
"""So many points across a slit each way."""

ACROSS = 3
"""And so many across its width."""

PACKED = r"on packing of (\d[\d./-]*)"
"""How thick packing is said to be: decimals, or inches and a fraction."""

TOUCH_MM = 0.2
"""The collar stays at least so far off the work."""


class Disc(Value, frozen=True):
    """A saw in its cut: wide along one axis, the spindle's; long along another; in along the third.

    sign: the open side's along ``deep``; face, bottom: where metal begins there, where the rim goes.
    """

    block: Block
    wide: int
    long: int
    deep: int
    sign: int
    face: float
    bottom: float
    radius: float

    @property
    def middle(self) -> float:
        """Where the arbor is along ``deep``."""
        return self.bottom + self.sign * self.radius

    def point(self, wide: float, long: float, deep: float) -> Point:
        """A point by its three coordinates."""
        at = {self.wide: wide, self.long: long, self.deep: deep}
        return (at[0], at[1], at[2])


def _blades(do: Doing) -> None:
    """So many blades side by side in a hacksaw's frame cut the slit as wide as it is to be."""
    said = re.search(r"(a|two|three) fine blades?$", str(do.tool.get("name")))
    slit = do.piece.features.get(str(do.operation.get("feature") or ""))
    if do.tool.get("kind") != "hacksaw" or said is None or not isinstance(slit, f.Slit):
        return
    many = ("a", "two", "three").index(said[1]) + 1
    least, most = (many * BLADE_MM + over for over in SET_OVER_MM)
    if least > slit.width.max_mm or most < slit.width.min_mm:
        do.faults.refuse(
            "route-tool-reach",
            f"{said[0]}: a slit {do.faults.mm((least + most) / 2)} wide",
            f"it is to be {do.faults.mm(slit.width.min_mm)} to {do.faults.mm(slit.width.max_mm)}",
            "Set as many blades side by side as make the width, or saw it twice",
        )


def _over_the_jaws(do: Doing) -> None:
    """A hacksaw's blades stand out of the work on both sides, and its frame over it: jaws that close on
    the faces which they come out of lie under the slit, and the side it begins from is up."""
    held = do.held
    if do.tool.get("kind") != "hacksaw" or not isinstance(held, Fixed) or held.up is None:
        return
    along, sign = held.up
    for block in do.cut.regions:
        if not isinstance(block, Block):
            continue
        there = _in_metal(do, block)
        spans = [block.high[i] - block.low[i] for i in range(3)]
        for across, (near, far), low, high in held.jaws:
            if not len(there) or block.low[across] > near + 0.05 or block.high[across] < far - 0.05:
                continue
            deepest = there[:, along].min() if sign > 0 else there[:, along].max()
            if (deepest < high - 0.02) if sign > 0 else (deepest > low + 0.02):
                do.faults.refuse(
                    "route-cut-in-grip",
                    "the slit runs out of the faces that the jaws close on, below their tops",
                    f"tops at {do.faults.mm(high if sign > 0 else low)}",
                    "Grip the work under the slit, the side that the saw comes from up",
                )
            elif spans.index(min(spans)) == along:
                do.faults.refuse(
                    "route-tool-reach",
                    "a slit that lies flat over the jaws",
                    "a hacksaw goes down into the work",
                    "Set the work so that the slit begins on top",
                )


def sawn_round(do: Doing, shop: Shop) -> None:
    """A slit by a saw that turns: takes what the disc takes, and tells what is in its way."""
    named = str(do.tool.get("kind")) + str(do.tool.get("name"))
    _blades(do)
    _over_the_jaws(do)
    if do.machine not in TURNED or "slitting saw" not in named:
        return
    (block,) = do.cut.regions
    if not isinstance(block, Block) or not isinstance(do.held, Fixed) or do.held.up is None:
        return
    there = _in_metal(do, block)
    if not len(there):
        return
    spans = [block.high[i] - block.low[i] for i in range(3)]
    wide = spans.index(min(spans))
    spindle = do.held.spindle.along if do.held.spindle is not None else do.held.up[0]
    if wide != spindle:
        do.faults.refuse(
            "route-tool-reach",
            "the slit is not square to the spindle",
            "a saw cuts square to what it turns on",
            "Set the work so that the slit's width lies along the spindle",
        )
        return
    fed = _fed(do, wide)
    disc = _disc(do, block, wide, fed, there)
    if fed is None:
        half = (there[:, disc.long].min() + there[:, disc.long].max()) / 2
        at = disc.point((block.low[wide] + block.high[wide]) / 2, float(half), disc.middle)
        rim = Ring(wide, at, block.low[wide], block.high[wide], disc.radius)
        do.cut = replace(do.cut, regions=(Both(block, rim),))
    else:
        _travel(do, disc, there)
    _inward(do, disc)
    _cuts(do, disc, there)
    _teeth(do)
    _collar(do, disc, shop, there)
    if do.machine == "lathe":
        _height(do, disc, shop)


def _in_metal(do: Doing, block: Block) -> Points:
    """Points of the slit that are metal yet, close together."""
    low, high = do.piece.metal.box
    narrow = min(range(3), key=lambda i: block.high[i] - block.low[i])
    ways = [
        even(
            max(block.low[i], low[i]) + 0.01,
            min(block.high[i], high[i]) - 0.01,
            ACROSS if i == narrow else STEPS,
        )
        for i in range(3)
    ]
    points = np.stack(np.meshgrid(*ways, indexing="ij"), axis=-1).reshape(-1, 3)
    found: Points = points[do.piece.metal.has(points)]
    return found


def _fed(do: Doing, wide: int) -> int | None:
    """The way the work is fed past the saw: one that the machine travels in; None where it is not."""
    assert isinstance(do.held, Fixed) and do.held.up is not None
    said = table(do.operation, "cut").get("feed")
    if said is None:
        return None
    along, _ = direction(said, "cut.feed")
    if along == wide or (do.machine == "lathe" and along == do.held.up[0]):
        do.faults.refuse(
            "route-tool-reach",
            "the slit's length is not along a travel of the slide",
            f"the {do.machine} does not feed {said}",
            "Lay the slit along a travel, its open side to the saw",
        )
        return None
    return along


def _disc(do: Doing, block: Block, wide: int, fed: int | None, there: Points) -> Disc:
    """The saw in its cut; not fed, it goes in the way that the slit is open on one side alone."""
    assert isinstance(do.held, Fixed) and do.held.up is not None
    across = [i for i in range(3) if i != wide]
    opened = [direction(word, "cut.open") for word in table(do.operation, "cut").get("open") or ()]
    once = [i for i in across if sum(along == i for along, _ in opened) == 1]
    if fed is not None:
        deep = next(i for i in across if i != fed)
    elif do.machine == "lathe":  # the cross slide alone travels, square to the bed
        deep = next((i for i in across if i != do.held.up[0]), across[0])
    else:
        deep = once[0] if once else across[0]
    signs = [sign for along, sign in opened if along == deep]
    sign = signs[0] if signs else 1
    long = next(i for i in across if i != deep)
    ends = (float(there[:, deep].min()) - 0.01, float(there[:, deep].max()) + 0.01)
    face = ends[1] if sign > 0 else ends[0]
    bottom = block.low[deep] if sign > 0 else block.high[deep]
    radius = number(do.tool, "diameter_mm") / 2
    return Disc(block, wide, long, deep, sign, face, bottom, radius)


def _inward(do: Doing, disc: Disc) -> None:
    """The way the saw goes in, said, is from the side that is open."""
    said = table(do.operation, "cut").get("depth")
    if said is None:
        do.faults.refuse("route-record", "cut.depth", "is not said", "Say it")
    elif direction(said, "cut.depth") != (disc.deep, -disc.sign):
        do.faults.refuse(
            "route-tool-reach",
            f"the saw goes in {said}",
            "the slit is not open to it on that side, or it is fed that way",
            "Let it in from the open side",
        )


def _travel(do: Doing, disc: Disc, there: Points) -> None:
    """The whole length at the full depth: the saw begins and ends clear of the work."""
    travel = float(table(do.operation, "cut").get("travel_mm") or 0.0)
    at = there[:, disc.long]
    deep = min(abs(disc.face - disc.bottom), disc.radius)
    run = (disc.radius**2 - (disc.radius - deep) ** 2) ** 0.5
    ends = 1 if LET_IN in text(do.operation, "text") else 2
    wanted = float(at.max() - at.min()) + ends * run
    if travel < wanted - 0.05:
        do.faults.refuse(
            "route-not-made",
            f"fed over {do.faults.mm(travel)}",
            f"the length and the saw's run in and out are {do.faults.mm(wanted)}",
            "Feed the whole length past the saw",
        )


def _said(do: Doing, record: Record, key: str) -> float | None:
    """A number that must be said; the rest is looked at all the same."""
    try:
        return number(record, key)
    except Missing as missing:
        do.faults.refuse("route-record", missing.key, "is not said", "Say it")
        return None


def _cuts(do: Doing, disc: Disc, there: Points) -> None:
    """The cuts are as deep as the metal is, not as far as the drawing goes into a bore."""
    many, total = _said(do, do.operation, "cuts"), _said(do, do.operation, "stock_mm")
    if not total or not many:  # at full depth in one pass
        return
    at = there[:, disc.deep]
    deep = float(at.max() - at.min()) * (1 + 1 / STEPS)  # they stand so far apart
    if total > deep + DEPTH_MM + 0.1:
        do.faults.refuse(
            "route-cuts-nothing",
            f"{do.faults.mm(total)} deep in {many:g} cuts",
            f"the metal is {do.faults.mm(deep)} deep there",
            "Saw as deep as the metal is, and a little into the bore",
        )


def _teeth(do: Doing) -> None:
    """So much for each tooth that it cuts, and no more than a thin saw bears."""
    if do.tool.get("owned") is False and do.operation.get("speed_rpm") is None:
        return
    turn, teeth = _said(do, do.operation, "feed_mm_per_rev"), _said(do, do.tool, "teeth")
    if not turn or not teeth:
        return
    each = turn / teeth
    if not LEAST_TOOTH_MM <= each <= MOST_TOOTH_MM:
        numbers = do.faults.numbers
        do.faults.refuse(
            "route-feed",
            f"{numbers.fine(each)} a tooth",
            f"{numbers.fine(LEAST_TOOTH_MM)} to {numbers.fine(MOST_TOOTH_MM)}",
            "Feed a saw by its teeth",
        )


def _collar(do: Doing, disc: Disc, shop: Shop, there: Points) -> None:
    """Collar, arbor, nut and spindle's nose pass the work over the whole feed."""
    assert isinstance(do.held, Fixed) and do.held.up is not None
    wide, out, faults = _said(do, do.tool, "collar_mm"), _said(do, do.tool, "reach_mm"), do.faults
    if wide is None or out is None:
        return
    collar = wide / 2
    deep = abs(disc.face - disc.bottom)
    if deep > disc.radius - collar - TOUCH_MM:
        faults.refuse(
            "route-tool-reach",
            f"a collar of {faults.mm(2 * collar)} under a saw of {faults.mm(2 * disc.radius)}",
            f"it clears {faults.mm(disc.radius - collar)}, the slit is {faults.mm(deep)} deep",
            "Take a larger saw or a smaller collar",
        )
        return
    spindle = do.held.spindle
    drive = do.held.up[1] if spindle is None else -spindle.sign
    nose = NOSE_MM if do.machine == "mill" else max(shop.chuck_mm / 2, collar)
    side = (disc.block.low[disc.wide] + disc.block.high[disc.wide]) / 2
    ends = do.piece.metal.box
    far = max(abs(ends[0][disc.wide] - side), abs(ends[1][disc.wide] - side))
    spans = [(-NUT_MM, out, collar), (out, far, nose)]
    if any(_meets(do, disc, side, drive, span, there) for span in spans if span[1] > span[0]):
        faults.refuse(
            "route-tool-reach",
            f"a saw {faults.mm(out)} out on its arbor",
            "the work meets its arbor, nut or spindle",
            "Let the arbor stand out farther, or turn the work about",
        )


def _meets(
    do: Doing,
    disc: Disc,
    side: float,
    drive: int,
    span: tuple[float, float, float],
    there: Points,
) -> bool:
    """Whether metal stands where a stretch of the arbor passes; span: from the saw, and its radius."""
    low, high, radius = span
    many = max(int((high - low) / 2), 6)
    at = there[:, disc.long]
    ends = (float(at.min()) - radius, float(at.max()) + radius)
    points = np.empty((3, many, 25, 9))
    points[disc.wide] = side + drive * np.asarray(even(low + 0.1, high - 0.1, many))[:, None, None]
    points[disc.long] = np.asarray(even(*ends, 25))[:, None]
    points[disc.deep] = disc.middle + np.asarray(even(-radius, radius, 9))
    return bool(do.piece.metal.has(points.reshape(3, -1).T).any())


def _height(do: Doing, disc: Disc, shop: Shop) -> None:
    """The work lies under the arbor on the cross slide: with packing, not with less than none."""
    hold = table(do.setup, "hold")
    try:
        rest = surface(do.piece, text(hold, "rests"))
    except NoSurface:
        return  # said already
    if not isinstance(rest, Plane) or rest.along != disc.deep or not shop.over_slide_mm:
        return
    high = abs(disc.middle - rest.at)
    if high > shop.over_slide_mm + 0.05:
        do.faults.refuse(
            "route-no-rest",
            f"the arbor {do.faults.mm(high)} over what the work stands on",
            f"the spindle is {do.faults.mm(shop.over_slide_mm)} over the cross slide",
            "Take a smaller saw, or saw it on a mill or a milling slide",
        )
        return
    _packed(do, shop.over_slide_mm - high)


def _packed(do: Doing, wanted_mm: float) -> None:
    """The packing said lets the saw in no deeper than the slit goes, and shims are to follow: the more
    there is under the work, the deeper it is sawn, and what is too deep stays so."""
    words = text(do.setup, "holding")
    found = re.search(PACKED, words)
    said = length_said(PACKED, words, do.faults.numbers.inch) or 0.0
    if said > wanted_mm + 0.005:
        do.faults.refuse(
            "route-tool-reach",
            f"packing of {do.faults.mm(said)}",
            f"at {do.faults.mm(wanted_mm)} the saw is at the slit's bottom: on more it saws too deep",
            "Begin on less, measure the slit, and shim the work up for the rest",
        )
    elif "shims" not in text(do.operation, "text"):
        do.faults.refuse(
            "route-words",
            f'"{found[0] if found else words}"',
            "a lathe's heights are not known as closely as the slit's depth",
            "Say that the slit is measured and the work shimmed up for the rest",
        )
