"""Work clamped to the faceplate: where the straps bear, where their bolts stand, and whether it swings.

Straps over the face that looks at the tailstock where there is room beside the cut; else a side against
an angle plate and the straps over the opposite side, so that the face stays free. Imported by
making.across and making.whole.
"""

from __future__ import annotations

from math import hypot

from parts.frame import Point
from planner.making.bodies import Body
from planner.making.model import Grip, Plate, Strap
from planner.making.near import below, middle

MOST_RPM = 250.0
"""Work bolted to a faceplate turns no faster: what is loose flies (common practice: 100 to 300)."""

BEARS_MM = 8.0
"""The end of a strap bears on so much of the work (common practice)."""

CLEAR_MM = 2.0
"""And stays so far from what is cut (common practice)."""

BESIDE_MM = 5.0
"""A bolt of M8 stands with its middle so far beside the work: half of it and 1 mm (common practice)."""

WASHER_MM = 8.0
"""From the bolt's middle to the rim of its washer: M8 has one of 16 (ISO 7089, from memory)."""

STRAP_HIGH_MM = 15.0
"""Strap and nut stand so far over the work: 8 and 6.8 (common practice; ISO 4032, from memory)."""

STRAP_WIDE_MM = 12.0
"""Room that a strap wants along the work (common practice)."""

WALL_MM = 10.0
"""The wall of a small angle plate is so thick (common practice)."""

FOOT_MM, FOOT_WIDE_MM = 30.0, 40.0
"""Its foot reaches so far from the work, for a bolt and its washer, and is so wide (common
practice)."""

PACKING_MM = 10.0
"""Parallels under work that is bored through: a drill's point and a bar's bit run out in it (common
practice)."""


def plated(
    body: Body, way: tuple[int, int], origin: Point, plate_mm: float, free_mm: float,
    front_mm: float, through: bool = False, over_slide_mm: float | None = None,
) -> Plate | None:  # fmt: skip
    """How a block is clamped to a faceplate of a diameter, None where it does not go.

    way: the axis that lies on the spindle, and its sign toward the tailstock; origin: a point of the
    spindle's line; free_mm: the radius that is worked about it on the face, 0 where all of the face is;
    front_mm: the coordinate that nothing may stand before; through: whether the bore comes out at the
    plate; over_slide_mm: what swings over the cross slide, None where it does not come under the work.
    """
    packing = PACKING_MM if through else 0.0
    found = _over_the_face(body, way, origin, plate_mm, free_mm) if free_mm else None
    found = found or _against_an_angle_plate(body, way, origin, plate_mm, front_mm, over_slide_mm)
    return None if found is None else Plate(found.straps, found.angle_plate, packing)


def _sides(along: int) -> list[tuple[int, int]]:
    """The two axes across a third, each with the other."""
    i, j = (k for k in range(3) if k != along)
    return [(i, j), (j, i)]


def _corner(body: Body, along: int, origin: Point) -> float:
    """How far from the spindle's line the work reaches."""
    off = [max(abs(body.end(k, s) - origin[k]) for s in (-1, 1)) for k, _ in _sides(along)]
    return hypot(*off)


def _point(**at: float) -> Point:
    return at["x"], at["y"], at["z"]


def _at(along: int, i: int, j: int, values: tuple[float, float, float]) -> Point:
    """A point by its coordinates along three axes."""
    named = dict(zip(("xyz"[along], "xyz"[i], "xyz"[j]), values, strict=True))
    return _point(**named)


def _over_the_face(
    body: Body, way: tuple[int, int], origin: Point, plate_mm: float, free_mm: float
) -> Plate | None:
    """Two straps opposite one another over the face that looks at the tailstock."""
    along, out = way
    face, top = body.face(along, out), body.end(along, out)
    best: tuple[float, Plate] | None = None
    for i, j in _sides(along):
        straps, room = [], []
        for s in (-1, 1):
            edge = body.end(i, s)
            room.append(s * (edge - origin[i]) - BEARS_MM - free_mm - CLEAR_MM)
            at = _at(along, i, j, (top, edge - s * BEARS_MM / 2, origin[j]))
            bolt = _at(along, i, j, (top, edge + s * BESIDE_MM, origin[j]))
            straps.append(Strap(face, at, (bolt,)))
        farthest = max(abs(one.bolts[0][i] - origin[i]) for one in straps) + WASHER_MM
        if below(plate_mm / 2, max(farthest, _corner(body, along, origin))) or min(room) < 0:
            continue
        if best is None or min(room) > best[0]:
            best = (min(room), Plate(tuple(straps)))
    return None if best is None else best[1]


def _against_an_angle_plate(
    body: Body, way: tuple[int, int], origin: Point, plate_mm: float, front_mm: float,
    over_slide_mm: float | None,
) -> Plate | None:  # fmt: skip
    """A side of the block against an angle plate, two straps over the opposite side."""
    along, out = way
    back = body.end(along, -out)
    long = out * (front_mm - back)
    if long < 2 * STRAP_WIDE_MM:
        return None
    for i, j in sorted(_sides(along), key=lambda one: body.size(one[0])):
        for s in sorted((-1, 1), key=lambda side: abs(body.end(i, side) - origin[i])):
            side, over = body.end(i, s) - origin[i], body.end(i, -s) - origin[i]
            ends = [body.end(j, t) + t * BESIDE_MM for t in (-1, 1)]
            wide = max(abs(at - origin[j]) for at in ends) + WASHER_MM
            turns = max(
                _corner(body, along, origin),
                hypot(abs(over) + STRAP_HIGH_MM, wide),
                hypot(abs(side) + WALL_MM, wide),
            )
            foot = hypot(abs(side) + FOOT_MM, FOOT_WIDE_MM / 2)
            if below(plate_mm / 2, max(turns, foot)):
                continue
            if over_slide_mm is not None and below(over_slide_mm, turns):
                continue
            straps = []
            for part in (0.25, 0.75):
                station = back + out * part * long
                at = _at(along, i, j, (station, body.end(i, -s), middle(body.box)[j]))
                bolts = [_at(along, i, j, (station, body.end(i, -s), end)) for end in ends]
                straps.append(Strap(body.face(i, -s), at, tuple(bolts)))
            return Plate(tuple(straps), body.face(i, s))
    return None


def clamped(plate: Plate, body: Body, rests: str, span: tuple[float, float]) -> Grip:
    """What the straps press the work against, over a span along the spindle."""
    against = plate.angle_plate or rests
    over = plate.straps[0].surface
    size = body.size("xyz".index(over[-1]))
    return Grip(against, size, min(span), max(span), over, packing="card")


def words(plate: Plate, back: str, packing: str) -> str:
    """How the work is clamped, as a shop says it; back: its face toward the plate; packing: its height
    in words, for work that is bored through."""
    said = f"on the faceplate, {back} flat on it"
    if plate.packing_mm:
        said = f"on the faceplate, {back} on two parallels of equal height, {packing}"
        said += ", clear of the bore"
    if plate.angle_plate:
        side, over = (
            one.rpartition(".")[2] for one in (plate.angle_plate, plate.straps[0].surface)
        )
        return (
            f"{said}, its {side} side against an angle plate bolted to it, two straps over its {over}"
            " side, card under them"
        )
    return f"{said}, two straps opposite one another beside the bore, card under them"
