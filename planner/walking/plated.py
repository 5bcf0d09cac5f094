"""Work on a faceplate: does it lie on it, do the straps bear and stay clear of the cut, does it swing,
is it balanced.

Imported by planner.walking.lathe.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import dist, hypot

import numpy as np

from planner.walking.faults import Faults
from planner.walking.held import Held
from planner.walking.records import Missing, Record, line, number, pair, rows, table, text
from planner.walking.shape import Points, even
from planner.walking.shop import Shop
from planner.walking.state import Piece
from planner.walking.surfaces import NoSurface, Plane, surface

UNBALANCED_RPM = 300.0
"""Work bolted to a faceplate turns no faster (common practice: 100 to 300)."""

WASHER_MM = 8.0
"""The washer of an M8 bolt is 16 across (ISO 7089, from memory)."""

STANDS_MM = 14.0
"""Strap and nut over what they press on: 8 and 6 at the least (common practice)."""

BEARS_MM, BEARS_ON = 4.0, 0.85
"""To either side of its middle a strap bears on so much, and so much of that is metal: it may lie over
a small hole, over no edge (common practice)."""

WALL_MM, FOOT_MM = 8.0, 25.0
"""An angle plate's wall at the least, and its foot with room for a bolt (common practice)."""

RUN_OUT_MM = 3.0
"""A drill's point, or a bar's bit, comes out of a through bore so far (common practice)."""

LIES_MM = 0.3
"""Work that lies on the plate, or on its packing, has no more metal beyond that face."""

OFF_MM = 1.0
"""Work whose middle of mass runs out so far is out of balance (common practice)."""

STEPS = 17

OUTSIDE = ("turn", "face", "groove", "thread", "part", "knurl")


def on_faceplate(
    piece: Piece, held: Held, setup: Record, operations: Sequence[Record], shop: Shop,
    faults: Faults,
) -> None:  # fmt: skip
    """All that is asked of a faceplate; what the straps clamp becomes the grip. Raises Missing."""
    hold = table(setup, "hold")
    plate = table(hold, "plate")
    straps = rows(plate, "straps")
    if not straps:
        raise Missing("hold.plate.straps")
    if not shop.plate_mm:
        faults.refuse("route-grip-range", "faceplate", "the shop has none", "Hold it otherwise")
    rest = _rests(piece, held, hold, faults)
    against = plate.get("angle_plate")
    stands = _angle_plate(piece, held, str(against), faults) if against else None
    for strap in straps:
        _bears(piece, held, strap, stands, faults)
    if stands is None:
        _opposite(held, straps, faults)
    grip = rows(hold, "grips")[0] if rows(hold, "grips") else None
    if grip is None:
        raise Missing("hold.grips")
    number(grip, "size_mm")
    low, high = held.span(*pair(grip))
    text(grip, "surface")
    if stands is None:  # the straps stand out over the face
        high += STANDS_MM
    else:
        _within(held, straps, (low, high), faults)
    held.grips.append((low, high, 0.0, False))
    _swings(piece, held, straps, stands, shop, faults, operations)
    high_mm = number(plate, "packing_mm")
    for operation in operations:
        _clear(held, operation, straps, faults)
        if rest is not None:
            _comes_out(held, operation, rest, high_mm, faults)
    if high_mm and "of equal height" not in text(setup, "holding"):
        faults.refuse(
            "route-words",
            f'"{setup["holding"]}"',
            "that the packing is of equal height is not said",
            "Say it: else the work does not lie square to the spindle",
        )
    _balanced(piece, held, setup, operations, stands is not None, shop, faults)


def _flat_face(piece: Piece, name: str, faults: Faults, code: str) -> Plane | None:
    """A flat face of the work by its name; refused by a code where it is none."""
    try:
        face = surface(piece, name)
    except NoSurface as none:
        what, limit = none.what, "the work has no such face as it is then"
    else:
        if isinstance(face, Plane):
            return face
        what, limit = face.name, "is no flat face"
    faults.refuse(code, what, limit, "Bed it on a flat face that is there")
    return None


def _rests(piece: Piece, held: Held, hold: Record, faults: Faults) -> float | None:
    """The face that lies toward the plate, counted toward the tailstock: the last of the work there."""
    face = _flat_face(piece, text(hold, "rests"), faults, "route-no-rest")
    if face is None:
        return None
    end = piece.metal.end(held.line.along, -held.line.sign)
    if face.along != held.line.along or end is None or held.out(face.at) - held.out(end) > LIES_MM:
        faults.refuse(
            "route-no-rest",
            face.name,
            "does not lie on the faceplate",
            "Bed it on the face that looks at the headstock",
        )
        return None
    return held.out(face.at)


def _angle_plate(piece: Piece, held: Held, name: str, faults: Faults) -> Plane | None:
    """The side that lies against the angle plate: flat, and along the spindle."""
    face = _flat_face(piece, name, faults, "route-no-rest")
    if face is not None and face.along == held.line.along:
        faults.refuse(
            "route-no-rest",
            face.name,
            "is square to the spindle",
            "An angle plate bears on a side of the work",
        )
        return None
    return face


def _bears(piece: Piece, held: Held, strap: Record, stands: Plane | None, faults: Faults) -> None:
    """A strap presses on metal, toward the plate or the angle plate; its bolts stand beside it."""
    name = text(strap, "surface")
    face = _flat_face(piece, name, faults, "route-no-metal")
    at = _point(strap, "at")
    if face is None:
        return
    way = -1.0 if name[-2:-1] == "-" else 1.0
    if stands is None:
        presses = face.along == held.line.along and way == held.line.sign
    else:
        across = held.line.through[face.along]
        presses = face.along == stands.along and (face.at - across) * (stands.at - across) < 0
    if not presses:
        faults.refuse(
            "route-not-held",
            f"a strap on {name}",
            "does not press the work on what it lies against",
            "Strap the face that looks away from it",
        )
        return
    ways = [even(at[k] - BEARS_MM + 0.2, at[k] + BEARS_MM - 0.2, 5) for k in range(3)]
    ways[face.along] = [face.at - way * 0.05, face.at + way * 0.05]
    points = np.array(np.meshgrid(*ways, indexing="ij")).reshape(3, -1).T
    there = piece.metal.has(points)
    inner = (points[:, face.along] - face.at) * way < 0
    bare = there[inner].mean() < BEARS_ON or there[~inner].any()
    if abs(at[face.along] - face.at) > LIES_MM or bare:
        faults.refuse(
            "route-no-metal",
            f"a strap on {name}",
            "there is no flat metal under its end",
            "Let it bear where the face is whole",
        )
    for bolt in _bolts(strap):
        stations = _along(bolt, held.line.along, _reach(piece, held.line.along))
        if piece.metal.has(stations).any():
            faults.refuse(
                "route-jaws-room",
                f"a bolt of the strap on {name}",
                "metal of the work is where it stands",
                "Put it beside the work",
            )
            return


def _opposite(held: Held, straps: Sequence[Record], faults: Faults) -> None:
    """Straps on both sides of the spindle."""
    offs = [np.delete(np.asarray(_point(one, "at")) - held.line.through, held.line.along)
            for one in straps]  # fmt: skip
    if not any(float(one @ other) < 0 for one in offs for other in offs):
        faults.refuse(
            "route-not-held",
            "straps on one side of the spindle",
            "the work lifts on the other",
            "Strap it on opposite sides",
        )


def _within(
    held: Held, straps: Sequence[Record], span: tuple[float, float], faults: Faults
) -> None:
    """Two straps over a side, both where the angle plate is behind them."""
    along = held.line.along
    places = [held.out(_point(one, "at")[along]) for one in straps]
    if len(places) < 2 or not all(span[0] < one < span[1] for one in places):
        faults.refuse(
            "route-not-held",
            f"{len(places)} straps over the side",
            f"two, from {faults.mm(span[0])} to {faults.mm(span[1])}, or the work turns under them",
            "Strap it twice where the angle plate is behind",
        )


def _swings(
    piece: Piece, held: Held, straps: Sequence[Record], stands: Plane | None, shop: Shop,
    faults: Faults, operations: Sequence[Record],
) -> None:  # fmt: skip
    """Work, bolts and angle plate lie within the faceplate, and turn over the cross slide where it
    comes under them."""
    along, through = held.line.along, held.line.through
    across = [k for k in range(3) if k != along]
    turns = max(
        (hypot(*(one[k] - through[k] for k in across)) for one in _cloud(piece)), default=0.0
    )
    bolts = [bolt for strap in straps for bolt in _bolts(strap)]
    if not bolts:
        raise Missing("hold.plate.straps.bolts")
    offs = [[abs(one[k] - through[k]) for k in across] for one in bolts]
    plain = max(hypot(*one) + WASHER_MM for one in offs)
    foot = 0.0
    if stands is not None:
        i = across.index(stands.along)
        side = abs(stands.at - through[stands.along])
        wide = max(one[1 - i] for one in offs) + WASHER_MM
        plain = max(hypot(one[i] + STANDS_MM, one[1 - i] + WASHER_MM) for one in offs)
        plain, foot = max(plain, hypot(side + WALL_MM, wide)), side + FOOT_MM
    most = max(turns, plain, foot)
    if shop.plate_mm and most > shop.plate_mm / 2 + 0.05:
        faults.refuse(
            "route-grip-range",
            f"{faults.mm(most)} from the spindle to the outside of work, bolts and angle plate",
            f"the faceplate is {faults.mm(shop.plate_mm)} across",
            "Hold it otherwise",
        )
    cut = any(str(one.get("kind")) in OUTSIDE for one in operations)
    swings = max(turns, plain)
    if cut and shop.over_slide_mm and swings > shop.over_slide_mm + 0.05:
        faults.refuse(
            "route-tool-reach",
            f"{faults.mm(swings)} from the spindle to the outside of work and bolts",
            f"the cross slide lies {faults.mm(shop.over_slide_mm)} under it",
            "Hold it otherwise: it would strike the slide",
        )


def _clear(held: Held, operation: Record, straps: Sequence[Record], faults: Faults) -> None:
    """No strap over what is faced or bored in this set-up."""
    cut = operation.get("cut") or {}
    shape = str(cut.get("shape"))
    if shape not in ("face", "hole", "bore"):
        return
    wide = number(cut, "diameter_mm" if shape == "face" else "after_mm") / 2
    for strap in straps:
        at = _point(strap, "at")
        name = text(strap, "surface")
        if "xyz".find(name[-1]) != held.line.along:
            continue  # over a side, which is asked as jaws are
        off = dist(*([p[k] for k in range(3) if k != held.line.along]
                     for p in (at, held.line.through)))  # fmt: skip
        if off - BEARS_MM < wide - 1e-6:
            faults.refuse(
                "route-cut-in-grip",
                f"a strap {faults.mm(max(off - BEARS_MM, 0.0))} from the spindle",
                f"{operation.get('kind')} goes out to {faults.mm(wide)}",
                "Strap it beside the cut, or against an angle plate",
            )
            return


def _comes_out(held: Held, operation: Record, rest: float, packing: float, faults: Faults) -> None:
    """A bore that comes out at the plate has packing between work and plate."""
    cut = operation.get("cut") or {}
    if cut.get("shape") not in ("hole", "bore") or line(cut).along != held.line.along:
        return
    deep = min(held.out(one) for one in pair(cut))
    if deep <= rest + 0.05 and packing < RUN_OUT_MM:
        faults.refuse(
            "route-cut-in-grip",
            f"{operation.get('kind')} comes out at the faceplate",
            f"{faults.mm(packing)} of packing between, at least {faults.least(RUN_OUT_MM)}",
            "Put packing of equal height under the work, clear of the bore",
        )


def _balanced(
    piece: Piece, held: Held, setup: Record, operations: Sequence[Record], uneven: bool,
    shop: Shop, faults: Faults,
) -> None:  # fmt: skip
    """What is out of balance gets a counterweight, is turned by hand first, and turns slowly."""
    cloud = _cloud(piece)
    off = [k for k in range(3) if k != held.line.along]
    out = (
        hypot(*(float(cloud[:, k].mean()) - held.line.through[k] for k in off))
        if len(cloud)
        else 0.0
    )
    said = str(setup.get("caution") or "")
    if (uneven or out > OFF_MM) and not ("counterweight" in said and "by hand" in said):
        faults.refuse(
            "route-words",
            f'"{said}"',
            "the work is out of balance: a counterweight, and the spindle turned by hand, are not said",
            "Say both as a caution",
        )
    most = max(UNBALANCED_RPM, min(shop.speeds("lathe"), default=0.0))
    for operation in operations:
        rpm = operation.get("speed_rpm")
        if rpm is not None and float(rpm) > most:
            spoken = faults.numbers.spindle_speed
            faults.refuse(
                "route-speed",
                spoken(float(rpm)),
                f"work bolted to a faceplate turns no faster than {spoken(most)}",
                "Take a slower speed",
            )
            return


def _point(record: Record, key: str) -> tuple[float, float, float]:
    value = record.get(key)
    if not isinstance(value, list | tuple) or len(value) != 3:
        raise Missing(f"hold.plate.straps.{key}")
    return float(value[0]), float(value[1]), float(value[2])


def _bolts(strap: Record) -> list[tuple[float, float, float]]:
    value = strap.get("bolts")
    if not value:
        raise Missing("hold.plate.straps.bolts")
    return [_point({"bolts": one}, "bolts") for one in value]


def _reach(piece: Piece, along: int) -> tuple[float, float]:
    return piece.metal.end(along, -1) or 0.0, piece.metal.end(along, 1) or 0.0


def _along(point: tuple[float, float, float], along: int, reach: tuple[float, float]) -> Points:
    """A line of places beside the work, parallel to the spindle."""
    points = np.tile(np.asarray(point), (STEPS, 1))
    points[:, along] = even(reach[0] + 0.1, reach[1] - 0.1, STEPS)
    return points


def _cloud(piece: Piece) -> Points:
    """Places all over the work, its corners with them."""
    ways = [
        even(low + 0.02, high - 0.02, STEPS) for low, high in (_reach(piece, k) for k in range(3))
    ]
    points = np.array(np.meshgrid(*ways, indexing="ij")).reshape(3, -1).T
    return points[piece.metal.has(points)]
