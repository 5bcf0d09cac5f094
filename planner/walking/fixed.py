"""Work that stands still: in a vice, on a table, in V-blocks, on the cross slide, by hand.

Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from msgspec import Struct, field
from msgspec.structs import replace

from parts.standard.holding import holding_limit
from planner.walking.faults import Faults
from planner.walking.jaws import jaws_have_room, parallels_bear, planes_unmarked, vees_have_room
from planner.walking.lathe import SAME_SIZE_MM, _unmarked, faces_gripped
from planner.walking.records import (
    Missing,
    Record,
    direction,
    line,
    number,
    pair,
    rows,
    table,
    text,
)
from planner.walking.shape import Line, even, others
from planner.walking.shop import Shop
from planner.walking.state import Piece
from planner.walking.surfaces import Axis, Cylinder, NoSurface, Plane, sides, surface
from planner.walking.trued import angle_set, closely_read, set_along, set_true, set_upright

VICES = ("machine vice", "bench vice", "saw vice")
LAID = ("clamps on the table", "flat plate", "cross slide", "tool post")
ON_LATHE = ("cross slide", "tool post")
"""Where work stands still on the lathe and the tool turns with its spindle."""

LOOSE = ("hand", "flat plate")
"""Held by nothing that closes."""

TRUED = ("clamps on the table", "cross slide", "tool post", "V-blocks", "machine vice")
"""What does not set work true by itself, where it is milled or bored."""

TRUE_WORK = ("mill", "milling slide", "shaper", "lathe")
"""Machines on which the work's direction comes from how it was set."""

VEE_PART = 0.5
"""A round bears on at least so much of the length that lies in the vees."""

PACKED_MM = 2.0
"""So little may hang below a face that lies on a plate, on thin packing (common practice)."""

SLIDE_VICE = 1.1
"""A milling slide's vice opens so far, over the spindle's height over the cross slide (common practice:
50 to 60 mm on the smallest)."""

SLIDE_MM = 50.0
"""A bench vice's slide and screw are so far under the tops of its jaws (common practice: 50 to 90 mm
where those are 100 to 150 mm wide)."""

STEPS = 9
"""Metal that hangs between the jaws is looked for at so many heights."""

LEAST_HEIGHT_MM = 3.0
"""No vice holds by less (common practice)."""


class Fixed(Struct, dict=True):
    """Work that stands still: which way is up, and the jaws: across which direction, up to where.

    vees: the axis of each round that lies in V-blocks, and from where to where they are under it.
    axis: the work's line that lies on the lathe's spindle axis, where the tool turns there. spindle:
    the line that a saw's arbor runs along from the headstock, where that is said.
    """

    by: str
    up: tuple[int, int] | None = None
    jaws: list[tuple[int, tuple[float, float], float, float]] = field(default_factory=list)
    vees: list[tuple[Line, float, float]] = field(default_factory=list)
    axis: Line | None = None
    spindle: Line | None = None


def hold_still(piece: Piece, setup: Record, shop: Shop, faults: Faults) -> Fixed:
    """How work that stands still is held, with what is wrong about it. Raises Missing."""
    hold, machine = table(setup, "hold"), text(setup, "machine")
    by = text(hold, "by")
    held = Fixed(by)
    if by == "hand":
        return held
    if machine == "milling slide" and shop.over_slide_mm:
        shop = replace(shop, vice_mm=min(shop.vice_mm, SLIDE_VICE * shop.over_slide_mm))
    if machine == "lathe" and by in ON_LATHE:
        held.axis = held.spindle = line(hold)
    elif machine == "milling slide" and hold.get("axis"):
        held.spindle = line(hold)
    if hold.get("up") is not None:
        held.up = direction(hold["up"], "hold.up")
    elif machine in ("mill", "milling slide", "drill press", "shaper") or by == "V-blocks":
        raise Missing("hold.up")
    grips = rows(hold, "grips")
    if not grips and by not in LOOSE:
        raise Missing("hold.grips")
    for grip in grips:
        _grip(piece, held, grip, shop, faults)
        if by == "machine vice" and held.up and "on parallels" in str(setup.get("holding")):
            parallels_bear(piece, grip, held.up, faults)
    needs_rest = by in ("machine vice", *LAID) and by != "tool post"
    if needs_rest or hold.get("rests"):
        _rest(piece, held, hold, faults)
    set_up = by in TRUED and machine in TRUE_WORK
    if (set_up or (by == "flat plate" and machine == "welder")) and not rows(setup, "align"):
        faults.refuse(
            "route-not-trued",
            by,
            "does not set the work true by itself",
            "Set it by indicator, square or parallels, and say to what reading",
        )
    closely_read(setup, faults)
    if by == "bench vice" and held.up is not None:
        _over_the_slide(piece, held, str(setup.get("holding")), faults)
    if held.axis is not None:
        set_along(piece, setup, held.axis, faults)
    if held.up is not None and by in TRUED:
        set_true(piece, setup, held.up[0], faults)
        if by == "machine vice":
            jaws = [(across, low, high) for across, _, low, high in held.jaws]
            set_upright(piece, setup, held.up[0], jaws, faults)
        if lies := _lies_on(piece, grips, held.up[0]):
            angle_set(piece, setup, lies, faults)
    return held


def _lies_on(piece: Piece, grips: Sequence[Record], up: int) -> Line | None:
    """The axis of the round that work lies in or on, if it is gripped by nothing else."""
    found = None
    for grip in grips:
        try:
            one = surface(piece, text(grip, "surface"))
        except NoSurface:
            return None
        if not isinstance(one, Cylinder) or one.line.along == up:
            return None
        found = one.line
    return found


def _hangs(piece: Piece, face: Plane, name: str, faults: Faults) -> bool:
    """Whether metal hangs below the face that lies on a plate, farther than packing lifts it."""
    sign = -1 if name.rpartition(".")[2].startswith("-") else 1
    for body in piece.metal.bodies:
        lowest = piece.metal.end(face.along, sign, body.name)
        below = 0.0 if lowest is None else sign * (lowest - face.at)
        if below > PACKED_MM:
            faults.refuse(
                "route-no-rest",
                f"{body.name} hangs {faults.mm(below)} below {name}",
                f"packing lifts it {faults.most(PACKED_MM)}",
                "Lay it on a face with nothing under it, or stand it on its edge",
            )
            return True
    return False


def _over_the_slide(piece: Piece, held: Fixed, said: str, faults: Faults) -> None:
    """What hangs down between a bench vice's jaws, which way up is said, ends over its slide, or
    beside it."""
    assert held.up is not None
    along, sign = held.up
    if f"{'+' if sign > 0 else '-'}{'xyz'[along]} side up" not in said or "vice's slide" in said:
        return
    for across, between, low, high in held.jaws:
        top = high if sign > 0 else low
        down = sign * (top - piece.metal.box[0 if sign > 0 else 1][along])
        if down <= SLIDE_MM:
            continue
        other, cloud = 3 - along - across, []
        for depth in even(SLIDE_MM, down, STEPS):
            for a in even(*between, 9):
                for b in even(
                    float(piece.metal.box[0][other]), float(piece.metal.box[1][other]), 41
                ):
                    point = [0.0, 0.0, 0.0]
                    point[along], point[across], point[other] = top - sign * depth, a, b
                    cloud.append((point[0], point[1], point[2]))
        if any(piece.metal.at(*cloud)):
            faults.refuse(
                "route-jaws-room",
                f"the work hangs deeper than {faults.mm(SLIDE_MM)} between the bench vice's jaws",
                f"its slide may be no more than {faults.most(SLIDE_MM)} under their tops",
                "Hold it at the jaws' end, so that it hangs beside the vice's slide, and say so",
            )
            return


def _grip(piece: Piece, held: Fixed, grip: Record, shop: Shop, faults: Faults) -> None:
    text(grip, "surface")
    low, high = pair(grip)
    size = number(grip, "size_mm")
    if held.by == "V-blocks":
        _in_vees(piece, held, grip, low, high, size, faults)
        return
    up = held.up or (2, 1)
    along = held.axis.along if held.axis is not None else up[0]
    laid = held.by in LAID and held.by != "tool post"
    if laid and not grip.get("other"):
        _vee(piece, held, grip, low, high)
    if held.by == "clamps on the table" or (laid and not grip.get("other")):
        _pressed(piece, grip, (low, high), faults)
        return
    if not grip.get("other"):
        raise Missing("hold.grips.other")
    if held.by in VICES and size > shop.vice_mm:
        faults.refuse(
            "route-grip-range",
            faults.mm(size),
            f"the vice opens to {faults.most(shop.vice_mm)}",
            "Clamp it on the table",
        )
    if faces_gripped(piece, grip, along, (low, high), faults) == 0.0:
        return
    _height(piece, held, up[0], low, high, faults)
    try:
        one = surface(piece, text(grip, "surface"))
        other = surface(piece, text(grip, "other"))
    except NoSurface:
        return
    if held.by == "machine vice" and not isinstance(one, Axis) and not isinstance(other, Axis):
        jaws_have_room(piece, grip, up[0], (one, other), shop.vice_mm, faults)
    if isinstance(one, Plane) and isinstance(other, Plane):
        if held.by in VICES and not grip.get("packing"):
            planes_unmarked(piece, (one, other), faults)
        held.jaws.append((one.along, (min(one.at, other.at), max(one.at, other.at)), low, high))
    elif isinstance(one, Cylinder):
        _unmarked(piece, one.line, one.low, one.high, one.radius, False, grip, faults)


def _height(piece: Piece, held: Fixed, up: int, low: float, high: float, faults: Faults) -> None:
    """Enough of the work's height between the jaws."""
    if held.by != "machine vice":
        return
    bottom, top = piece.metal.end(up, -1), piece.metal.end(up, 1)
    if bottom is None or top is None:
        return
    inside = min(high, top) - max(low, bottom)
    least = max(holding_limit("grip", "vice") * (top - bottom), LEAST_HEIGHT_MM)
    least = min(least, 15.0)
    if inside < least - 0.05:
        faults.refuse(
            "route-vice-height",
            f"{faults.mm(max(inside, 0.0))} of the height gripped",
            f"at least {faults.least(least)} of {faults.mm(top - bottom)}",
            "Set it deeper on lower parallels",
        )


def _in_vees(
    piece: Piece, held: Fixed, grip: Record, low: float, high: float, size: float, faults: Faults
) -> None:
    try:
        round_ = surface(piece, text(grip, "surface"))
    except NoSurface as none:
        faults.refuse(
            "route-no-surface",
            none.what,
            "the work has no such surface as it is then",
            "Lay it in by what is there",
        )
        return
    if not isinstance(round_, Cylinder) or abs(2 * round_.radius - size) > SAME_SIZE_MM:
        faults.refuse(
            "route-vice-faces",
            str(grip.get("surface")),
            f"is no round of {faults.mm(size)}",
            "V-blocks take a round",
        )
    elif held.up is not None and not _in_the_vee(piece, round_, held.up, low, high):
        faults.refuse(
            "route-no-metal",
            round_.name,
            f"no such round from {faults.mm(low)} to {faults.mm(high)} on the sides of the vee",
            "Lay it in where it is round",
        )
    elif held.up is not None:
        held.vees.append((round_.line, low, high))
        vees_have_room(piece, round_, held.up, (low, high), faults)


def _vee(piece: Piece, held: Fixed, grip: Record, low: float, high: float) -> None:
    """A round that is laid in V-blocks on the cross slide."""
    try:
        one = surface(piece, text(grip, "surface"))
    except NoSurface:
        return
    if isinstance(one, Cylinder):
        held.vees.append((one.line, low, high))


def _in_the_vee(
    piece: Piece, round_: Cylinder, up: tuple[int, int], low: float, high: float
) -> bool:
    """Whether a round bears on both sides of a vee below it, 45 degrees from straight down."""
    along = round_.line.along
    if up[0] == along:
        return False
    j, k = others(along)
    bears = []
    for side in (-1, 1):
        points = []
        for step in range(1, 10):
            for off in (-SAME_SIZE_MM, SAME_SIZE_MM):
                point = list(round_.line.point(low + (high - low) * step / 10))
                reach = (round_.radius + off) * sqrt(0.5)
                point[up[0]] -= up[1] * reach
                point[k if up[0] == j else j] += side * reach
                points.append((point[0], point[1], point[2]))
        there = piece.metal.at(*points)
        bears.append(sum(a and not b for a, b in zip(there[::2], there[1::2], strict=True)))
    return min(bears) >= VEE_PART * 9


def _pressed(piece: Piece, grip: Record, ends: tuple[float, float], faults: Faults) -> None:
    """A clamp presses on a face that is there, and bare on no round that is finished."""
    try:
        one = surface(piece, text(grip, "surface"))
    except NoSurface as none:
        faults.refuse(
            "route-no-surface",
            none.what,
            "the work has no such surface as it is then",
            "Clamp on what is there",
        )
        return
    if isinstance(one, Cylinder):
        _unmarked(piece, one.line, *ends, one.radius, False, grip, faults)


def _rest(piece: Piece, held: Fixed, hold: Record, faults: Faults) -> None:
    """Work stands on a face that is there and looks away from the tool."""
    name = text(hold, "rests")
    try:
        face = surface(piece, name)
    except NoSurface as none:
        faults.refuse(
            "route-no-rest",
            none.what,
            "the work has no such face as it is then",
            "Stand it on a face that is there",
        )
        return
    if isinstance(face, Cylinder) and held.up is not None and face.line.along != held.up[0]:
        return
    if not isinstance(face, Plane):
        faults.refuse("route-no-rest", name, "is no face to stand on", "Stand it on a flat face")
        return
    rising, falling = sides(piece.metal, face)
    if held.by == "flat plate" and _hangs(piece, face, name, faults):
        return
    if held.up is None:
        good = len(rising) + len(falling) > 0
    else:
        along, sign = held.up
        good = face.along == along and len(falling if sign > 0 else rising) > 2
    if not good:
        faults.refuse(
            "route-no-rest",
            name,
            "does not look away from the tool, or is not there",
            "Stand it on the face opposite the cut",
        )
