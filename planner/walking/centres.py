"""The centres that work runs on, its carrier, the steady. Imported by planner.walking.lathe."""

from __future__ import annotations

import re
from math import radians, tan

from parts.part import members
from parts.standard.materials import material
from planner.walking.faults import Faults
from planner.walking.held import Held
from planner.walking.records import Record, direction, number, text
from planner.walking.shape import ANGLES, NEAR_MM, Line
from planner.walking.shop import Shop
from planner.walking.state import Mark, Piece
from planner.walking.surfaces import Cylinder, bare

CENTRE_ROOM_MM = 12.0
"""The point of a centre and its body need so much clear before a centre hole (common practice)."""

CAT_HEAD_MM = 24.0
"""A small cat head is so long: the fingers' track, a row of screws on either side (common practice)."""

FINGERS_MM = 6.0
"""The middle of a steady's fingers stands so far before the jaws at the least: they are 10 mm wide and
more (common practice)."""

SAME_SIZE_MM = 0.1
"""What a carrier is on is of the size said within this."""


def on_centre(piece: Piece, held: Held, centre: Record, outward: int, faults: Faults) -> None:
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
        faults.refuse(
            "route-no-centre",
            f"a centre at the end {end}",
            "is not on the side of the " + ("tailstock" if outward > 0 else "headstock"),
            "Turn the work end for end, or say the other end",
        )
        return
    marks = [m for m in piece.marks_of("centre") if m.sign == way and m.line.same(held.line, 0.05)]
    good = [m for m in marks if centre_stands(piece, m)]
    if not good:
        faults.refuse(
            "route-no-centre",
            f"a centre at the end {end}",
            "there is no centre hole, or it is faced off or buried",
            "Centre that end first, or hold it otherwise",
        )
        return
    at = max(held.out(m.low) * outward for m in good) * outward
    if hole < 2 * good[-1].radius - 0.1 or hole > 2 * good[-1].radius + 0.1:
        faults.refuse(
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


def between(piece: Piece, held: Held, hold: Record, faults: Faults) -> None:
    """Both centres, and a carrier on round metal."""
    for key, there in (
        ("centre", hold.get("centre")),
        ("headstock_centre", hold.get("headstock_centre")),
    ):
        if not there:
            faults.refuse(
                "route-no-centre",
                f"no {key.replace('_', ' ')}",
                "work between centres runs on two",
                "Centre both ends",
            )
    driver = hold.get("driver")
    if not driver:
        faults.refuse(
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
        faults.refuse(
            "route-no-driver",
            f"a carrier on {faults.mm(size)}",
            "there is no metal of that size there",
            "Put it where the work is of that size",
        )


def _square_there(piece: Piece, axis: Line, at: float, size: float) -> bool:
    """Whether metal of a size across, though not round, stands there for a carrier or bolt to drive."""
    within = piece.metal.has(axis.cloud([at], [size / 2 - SAME_SIZE_MM])).reshape(ANGLES)
    return bool(within.any()) and not bool(within.all())


def _as_bought(piece: Piece, size_mm: float) -> bool:
    """Whether a round of steel of this size is the bar's own."""
    own = [piece.member] if piece.member else members(piece.part)
    return any(
        one.blank.section.shape == "round"
        and abs(one.blank.section.width_mm - size_mm) < SAME_SIZE_MM / 2
        and "steel" in material(one.blank.material).group
        for one in own
    )


def bar_said(piece: Piece, steady: Record, holding: str, faults: Faults) -> None:
    """The fingers of a fixed steady run on turned metal or a bright bar; what a black one runs in is
    said."""
    if steady.get("travelling"):
        return
    size = number(steady, "diameter_mm")
    if _as_bought(piece, size) and not re.search(r"cat head|band", holding):
        faults.refuse(
            "route-words",
            f"the steady on {faults.mm(size)} as it was bought",
            "a black bar is not round, and its scale wears the fingers",
            "Say what a black bar runs in: a cat head, or on a band turned first",
        )


def on_cat_head(piece: Piece, held: Held, steady: Record, holding: str, faults: Faults) -> None:
    """Whether a cat head that a black bar runs in has room between the fingers and the jaws."""
    own = not steady.get("travelling") and _as_bought(piece, number(steady, "diameter_mm"))
    held.cat_head = own and "cat head" in holding
    if held.steady is not None and held.front is not None:
        _cat_head_fits(held, held.steady - held.front, "the jaws", faults)


def beside_cat_head(held: Held, near: float, far: float, faults: Faults) -> None:
    """And between the fingers and what is cut outside; near, far: outward coordinates."""
    if held.steady is not None:
        _cat_head_fits(held, max(near - held.steady, held.steady - far), "the cut", faults)


def _cat_head_fits(held: Held, room_mm: float, what: str, faults: Faults) -> None:
    if held.cat_head and room_mm < CAT_HEAD_MM / 2 - 0.05:
        faults.refuse(
            "route-steady",
            f"{faults.mm(max(room_mm, 0.0))} from the fingers to {what}",
            f"a cat head under them is {faults.mm(CAT_HEAD_MM)} long",
            "Set the steady farther off, or have a band turned for its fingers",
        )


def in_steady(piece: Piece, held: Held, steady: Record, shop: Shop, faults: Faults) -> None:
    """Three fingers on round metal."""
    size = number(steady, "diameter_mm")
    made = steady.get("owned") is False and bool(steady.get("instead"))
    if steady.get("travelling"):
        held.travelling = shop.travelling or made
        if not held.travelling:
            faults.refuse(
                "route-steady",
                "a travelling steady",
                "the shop has none",
                "Hold it otherwise, or make one",
            )
        return
    at = number(steady, "at_mm")
    ring = Cylinder(held.line, at - 3, at + 3, size / 2, False, "steady")
    held.steady, held.steady_mm = held.out(at), size
    room = FINGERS_MM if held.front is None else held.steady - held.front
    if room < FINGERS_MM - 0.05:
        side = "behind" if room < 0 else "before"
        faults.refuse(
            "route-steady",
            f"fingers {faults.mm(abs(room))} {side} the jaws' front",
            f"at least {faults.least(FINGERS_MM)} before it",
            "Hold more of it in the chuck, without a steady",
        )
    if bare(piece.metal, ring, at - 3, at + 3) < 0.9:
        faults.refuse(
            "route-steady",
            f"fingers on {faults.mm(size)}",
            "there is no round metal of that size there",
            "Turn a place for them first",
        )
    takes = bool(shop.steady_mm) and size <= shop.steady_mm + 1e-6
    if takes and made:
        faults.refuse(
            "route-words",
            f"no steady for {faults.mm(size)}",
            f"the shop's opens to {faults.most(shop.steady_mm)}",
            "Use it",
        )
    if not takes and not made:
        faults.refuse(
            "route-steady",
            faults.mm(size),
            f"the steady opens to {faults.most(shop.steady_mm)}"
            if shop.steady_mm
            else "the shop has no steady",
            "Hold it otherwise",
        )
