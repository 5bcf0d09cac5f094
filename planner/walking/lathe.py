"""Work held in the lathe: what the jaws close on, the centres it runs on, how far it stands out.

Coordinates along the spindle are counted from headstock to tailstock ("out"), whichever way the work's
own axis runs. Imported by planner.walking.walk.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import radians, tan

from parts.standard.holding import holding_limit
from planner.walking.faults import Faults
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
from planner.walking.shape import ANGLES, NEAR_MM, Line
from planner.walking.shop import Shop
from planner.walking.state import Mark, Piece
from planner.walking.surfaces import Cylinder, NoSurface, Plane, bare, sides, surface

CHUCKS = ("three-jaw chuck", "four-jaw chuck", "collet")
ROUND = (*CHUCKS, "mandrel", "between centres", "tailstock plug", "faceplate")
"""Ways to hold work that turns with the spindle."""

TRUED = ("four-jaw chuck", "faceplate")
"""What does not centre by itself."""

JAW_CLEAR_MM = 0.5
"""A tool stays so far off the jaws (common practice: a rule's thickness)."""

SAME_SIZE_MM = 0.1
"""What is gripped is of the size said within this."""

LEAST_GRIP_MM = 10.0
"""Long work is gripped no shorter, whatever its diameter (common practice)."""

SHORT_OUT = 1.5
"""Work that stands out no farther than so many diameters is short work."""

THIN_MM = 2.5
"""A disc is held on as little, in stepped or soft jaws, for a light cut (common practice)."""

HALF = 0.45
"""Short work is held by so much of the length that is there, half of it when faced (common practice)."""

CENTRE_ROOM_MM = 12.0
"""The point of a centre and its body need so much clear before a centre hole (common practice)."""

FINE = ("thread", "knurl", "engraved", "fine")
"""Surfaces that bare jaws would mark."""


@dataclass
class Held:
    """Work in the lathe: its line, the jaws' reach along it outward, the tailstock, the driver."""

    line: Line
    by: str
    grips: list[tuple[float, float, float, bool]] = field(default_factory=list)
    tail: float | None = None
    headed: bool = False
    steady: float | None = None
    driver: float | None = None

    def out(self, coordinate: float) -> float:
        """A coordinate of the work, counted toward the tailstock."""
        return self.line.sign * coordinate

    def span(self, low: float, high: float) -> tuple[float, float]:
        """Two coordinates so counted, the one nearer the headstock first."""
        a, b = self.out(low), self.out(high)
        return (a, b) if a <= b else (b, a)

    @property
    def front(self) -> float | None:
        """The jaws' front; None without jaws."""
        return max((high for _, high, _, _ in self.grips), default=None)


def hold_in_lathe(piece: Piece, setup: Record, shop: Shop, faults: Faults) -> Held:
    """How work is held in the lathe, with what is wrong about it. Raises Missing."""
    hold = table(setup, "hold")
    by = text(hold, "by")
    held = Held(line(hold), by)
    for grip in rows(hold, "grips"):
        if "other" in grip and grip.get("other"):
            _pair(piece, held, grip, faults)
        elif by == "faceplate":
            low, high = held.span(*pair(grip))
            held.grips.append((low, high, 0.0, False))
        else:
            _round(piece, held, grip, shop, faults)
    pairs = [grip for grip in rows(hold, "grips") if grip.get("other")]
    if (by != "between centres" and not held.grips) or (by in CHUCKS and len(pairs) == 1):
        raise Missing("hold.grips")
    _grip_length(piece, held, hold, faults)
    for key, outward in (("centre", 1), ("headstock_centre", -1)):
        if hold.get(key):
            _centre(piece, held, table(hold, key), outward, faults)
    if by == "between centres":
        _between(piece, held, hold, faults)
    if hold.get("steady"):
        _steady(piece, held, table(hold, "steady"), shop, faults)
    if by in TRUED and not rows(setup, "align"):
        faults.tell(
            "route-not-trued",
            by,
            "does not centre the work by itself",
            "Set it true by an indicator, and say to what reading",
        )
    if by == "faceplate":
        _rests(piece, hold, faults)
    if hold.get("out_mm") is None and by in CHUCKS:
        raise Missing("hold.out_mm")
    return held


def _round(piece: Piece, held: Held, grip: Record, shop: Shop, faults: Faults) -> None:
    """Jaws on round metal."""
    text(grip, "surface")
    size, inside = number(grip, "size_mm"), bool(grip.get("inside"))
    a, b = pair(grip)
    low, high = held.span(a, b)
    held.grips.append((low, high, size, inside))
    said = f"{faults.mm(size)} from {faults.mm(a)} to {faults.mm(b)}"
    if high - low < 1e-6:
        raise Missing("hold.grips.to_mm")
    ring = Cylinder(held.line, a, b, size / 2, inside, text(grip, "surface"))
    if bare(piece.metal, ring, a, b) < 0.6:
        faults.tell(
            "route-no-metal",
            f"gripped on {said}",
            "there is no metal of that size there, or more of it stands over",
            "Grip where the work is of that size as it is then",
        )
    _named(piece, grip, held.line, size, faults)
    least, most = shop.grips(held.by, inside) or (size, size)
    if held.by in CHUCKS and not least - 0.5 <= size <= most + 0.5:
        faults.tell(
            "route-grip-range",
            faults.mm(size),
            f"the {held.by} takes {faults.mm(least)} to {faults.mm(most)}",
            "Hold it otherwise",
        )
    if not inside and held.by in CHUCKS:
        _behind(piece, held, low, high, size, shop, faults)
    _unmarked(piece, held.line, a, b, size / 2, inside, grip, faults)


def _named(piece: Piece, grip: Record, axis: Line, size: float, faults: Faults) -> None:
    """Whether the surface that is named is the one described."""
    try:
        named = surface(piece, text(grip, "surface"))
    except NoSurface as none:
        faults.tell(
            "route-no-surface",
            none.what,
            "the work has no such surface as it is then",
            "Name one that is there",
        )
        return
    if isinstance(named, Cylinder):
        off = abs(2 * named.radius - size) > 2.5 or not named.line.same(axis)
        if off:
            faults.tell(
                "route-no-metal",
                f"{named.name}: {faults.mm(2 * named.radius)}",
                f"gripped as {faults.mm(size)} on the spindle's line",
                "Say the surface that the jaws are on",
            )


def _behind(
    piece: Piece, held: Held, low: float, high: float, size: float, shop: Shop, faults: Faults
) -> None:
    """Nothing thicker than the grip behind the jaws, nothing longer than the chuck takes."""
    for span in piece.metal.spans(held.line):
        a, b = held.span(span.low, span.high)
        if b > low - NEAR_MM and a < high:
            continue
        if b <= low and span.outer > size / 2 + SAME_SIZE_MM:
            faults.tell(
                "route-grip-blocked",
                f"{faults.mm(2 * span.outer)} behind the jaws",
                f"they close on {faults.mm(size)}",
                "Grip it from its other end, or on the thickest",
            )
            return
        if b <= low and high - a > shop.depth_mm and 2 * span.outer > shop.through_mm:
            faults.tell(
                "route-grip-blocked",
                f"{faults.mm(high - a)} back from the jaws' front",
                f"the chuck is {faults.mm(shop.depth_mm)} deep",
                "Let it stand out, or saw it shorter",
            )
            return


def _unmarked(
    piece: Piece,
    axis: Line,
    a: float,
    b: float,
    radius: float,
    inside: bool,
    grip: Record,
    faults: Faults,
) -> None:
    """No bare jaws on what is finished."""
    if grip.get("packing"):
        return
    for mark in piece.marks:
        if mark.kind not in FINE or mark.inside != inside or not mark.line.same(axis, 0.05):
            continue
        if min(b, mark.high) - max(a, mark.low) > 0.5 and abs(mark.radius - radius) < 1.5:
            words = {"thread": "a thread", "fine": "a finished surface"}.get(mark.kind, mark.kind)
            faults.tell(
                "route-grip-finished",
                f"jaws on {words}",
                "they would mark it",
                "Put copper or a split bush between, or grip elsewhere",
            )
            return


def _pair(piece: Piece, held: Held, grip: Record, faults: Faults) -> None:
    """Two opposite jaws on two faces."""
    a, b = pair(grip)
    low, high = held.span(a, b)
    held.grips.append((low, high, number(grip, "size_mm"), False))
    faces_gripped(piece, grip, held.line.along, (a, b), faults)


def faces_gripped(
    piece: Piece, grip: Record, along: int, reach: tuple[float, float], faults: Faults
) -> float:
    """Two jaws on two parallel faces between two coordinates; returns how much of them is there, 0 to 1."""
    size = number(grip, "size_mm")
    try:
        one, other = (surface(piece, text(grip, key)) for key in ("surface", "other"))
    except NoSurface as none:
        faults.tell(
            "route-no-surface",
            none.what,
            "the work has no such surface as it is then",
            "Grip faces that are there",
        )
        return 0.0
    if isinstance(one, Cylinder) and isinstance(other, Cylinder):
        return _round_in_vice(piece, one, other, size, reach, faults)
    if (
        not isinstance(one, Plane)
        or not isinstance(other, Plane)
        or one.along != other.along
        or one.along == along
    ):
        faults.tell(
            "route-vice-faces",
            f"{grip.get('surface')} and {grip.get('other')}",
            "are no two parallel faces that jaws close on",
            "Grip two parallel faces, or use V-blocks",
        )
        return 0.0
    if abs(abs(one.at - other.at) - size) > SAME_SIZE_MM:
        faults.tell(
            "route-no-metal",
            f"{faults.mm(abs(one.at - other.at))} across",
            f"gripped as {faults.mm(size)}",
            "Open the jaws to what is there",
        )
    upper, lower = (one, other) if one.at > other.at else (other, one)
    touched = []
    for face, up in ((upper, True), (lower, False)):
        rising, falling = sides(piece.metal, face)
        points = rising if up else falling
        within = points[(points[:, along] > reach[0]) & (points[:, along] < reach[1])]
        touched.append(len(within))
    if min(touched) < 3:
        faults.tell(
            "route-no-metal",
            f"jaws on {upper.name} and {lower.name}",
            f"from {faults.mm(reach[0])} to {faults.mm(reach[1])} there is nothing to close on",
            "Grip where both faces are",
        )
        return 0.0
    return 1.0


def _round_in_vice(
    piece: Piece,
    one: Cylinder,
    other: Cylinder,
    size: float,
    reach: tuple[float, float],
    faults: Faults,
) -> float:
    if one != other or abs(2 * one.radius - size) > SAME_SIZE_MM:
        faults.tell(
            "route-vice-faces",
            f"{one.name} and {other.name}",
            f"are not one round of {faults.mm(size)}",
            "Grip one diameter, or use V-blocks",
        )
        return 0.0
    if bare(piece.metal, one, one.low, one.high) < 0.3:
        faults.tell(
            "route-no-metal", one.name, "there is no round metal of that size", "Grip what is there"
        )
        return 0.0
    return 1.0


def _rests(piece: Piece, hold: Record, faults: Faults) -> None:
    """Work on a faceplate lies against it by a face."""
    try:
        face = surface(piece, text(hold, "rests"))
    except NoSurface as none:
        faults.tell(
            "route-no-rest",
            none.what,
            "the work has no such face as it is then",
            "Bed it on a face that is there",
        )
        return
    if not isinstance(face, Plane):
        faults.tell("route-no-rest", face.name, "is no flat face", "Bed it on a flat face")


def _grip_length(piece: Piece, held: Held, hold: Record, faults: Faults) -> None:
    """Whether enough is gripped for what stands out."""
    jaws = [g for g in held.grips if g[2] > 0]
    if not jaws or held.by not in CHUCKS:
        return
    length = max(high - low for low, high, _, _ in jaws)
    size, front = jaws[0][2], held.front
    assert front is not None
    ends = [held.span(s.low, s.high)[1] for s in piece.metal.spans(held.line)]
    out = max(max(ends, default=front) - front, 0.0)
    if hold.get("centre") or hold.get("steady"):
        least = max(holding_limit("grip", "with a centre") * size, THIN_MM)
    elif out <= SHORT_OUT * size:
        least = min(holding_limit("grip", "short work") * size, max(HALF * (out + length), THIN_MM))
    else:
        least = max(holding_limit("grip", "long work") * size, LEAST_GRIP_MM)
    if length < least - 0.05:
        faults.tell(
            "route-grip-short",
            f"{faults.mm(length)} gripped",
            f"at least {faults.mm(least)} where {faults.mm(out)} stands out",
            "Grip more of it, or bring up the tailstock",
        )


def _centre(piece: Piece, held: Held, centre: Record, outward: int, faults: Faults) -> None:
    """A centre in its hole: there, at the end of the work, and not buried."""
    text(centre, "kind")
    hole = number(centre, "hole_mm")
    end = text(centre, "end")
    way = held.line.sign * outward
    if end in ("start", "end"):
        sign = -1 if end == "start" else 1
    else:
        along, sign = direction(end, "centre.end")
        if along != held.line.along:
            sign = 0
    if sign != way:
        faults.tell(
            "route-no-centre",
            f"a centre at the end {end}",
            "is not on the side of the " + ("tailstock" if outward > 0 else "headstock"),
            "Turn the work end for end, or say the other end",
        )
        return
    marks = [m for m in piece.marks_of("centre") if m.sign == way and m.line.same(held.line, 0.05)]
    good = [m for m in marks if centre_stands(piece, m)]
    if not good:
        faults.tell(
            "route-no-centre",
            f"a centre at the end {end}",
            "there is no centre hole, or it is faced off or buried",
            "Centre that end first, or hold it otherwise",
        )
        return
    at = max(held.out(m.low) * outward for m in good) * outward
    if hole < 2 * good[-1].radius - 0.1 or hole > 2 * good[-1].radius + 0.1:
        faults.tell(
            "route-no-centre",
            f"a centre hole of {faults.mm(hole)}",
            f"what was drilled is {faults.mm(2 * good[-1].radius)}",
            "Say the hole that is there",
        )
    if outward > 0:
        held.tail = at
    else:
        held.headed = True


def centre_stands(piece: Piece, mark: Mark) -> bool:
    """Whether a centre hole's end is still there, and a centre can come to it."""
    if mark.sign == 0:
        return False
    inner = mark.line.cloud([mark.low - mark.sign * NEAR_MM], [mark.radius + 0.3])
    if piece.metal.has(inner).mean() < 0.9:
        return False
    steps = [0.05, 1.0, 3.0, 6.0, CENTRE_ROOM_MM]
    for step in steps:
        reach = mark.radius + step * tan(radians(30.0))
        cloud = mark.line.cloud([mark.low + mark.sign * step], [0.05, reach], 12)
        if piece.metal.has(cloud).any():
            return False
    return True


def _between(piece: Piece, held: Held, hold: Record, faults: Faults) -> None:
    """Both centres, and a carrier on round metal."""
    for key, there in (
        ("centre", hold.get("centre")),
        ("headstock_centre", hold.get("headstock_centre")),
    ):
        if not there:
            faults.tell(
                "route-no-centre",
                f"no {key.replace('_', ' ')}",
                "work between centres runs on two",
                "Centre both ends",
            )
    driver = hold.get("driver")
    if not driver:
        faults.tell(
            "route-no-driver",
            "no carrier",
            "nothing turns the work",
            "Clamp a carrier on, clear of the cut",
        )
        return
    at, size = number(driver, "at_mm"), number(driver, "size_mm")
    held.driver = held.out(at)
    ring = Cylinder(held.line, at - 2, at + 2, size / 2, False, "carrier")
    if bare(piece.metal, ring, at - 2, at + 2) < 0.6 and not _square_there(
        piece, held.line, at, size
    ):
        faults.tell(
            "route-no-driver",
            f"a carrier on {faults.mm(size)}",
            "there is no metal of that size there",
            "Put it where the work is of that size",
        )


def _square_there(piece: Piece, axis: Line, at: float, size: float) -> bool:
    """Whether metal of a size across, though not round, stands there for a carrier or bolt to drive."""
    within = piece.metal.has(axis.cloud([at], [size / 2 - SAME_SIZE_MM])).reshape(ANGLES)
    return bool(within.any()) and not bool(within.all())


def _steady(piece: Piece, held: Held, steady: Record, shop: Shop, faults: Faults) -> None:
    """Three fingers on turned round metal."""
    at, size = number(steady, "at_mm"), number(steady, "diameter_mm")
    ring = Cylinder(held.line, at - 3, at + 3, size / 2, False, "steady")
    held.steady = held.out(at)
    if bare(piece.metal, ring, at - 3, at + 3) < 0.9:
        faults.tell(
            "route-steady",
            f"fingers on {faults.mm(size)}",
            "there is no round metal of that size there",
            "Turn a place for them first",
        )
    if size > shop.steady_mm:
        faults.tell(
            "route-steady",
            faults.mm(size),
            f"the steady opens to {faults.mm(shop.steady_mm)}"
            if shop.steady_mm
            else "the shop has no steady",
            "Hold it otherwise",
        )
