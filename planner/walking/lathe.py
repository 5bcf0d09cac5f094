"""Work held in the lathe: what the jaws close on, the centres it runs on, how far it stands out.

Coordinates along the spindle are counted from headstock to tailstock ("out"), whichever way the work's
own axis runs. Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.walking.centres import bar_said, between, in_steady, on_cat_head, on_centre
from planner.walking.faults import Faults
from planner.walking.gripped import CHUCKS, DEEPER_MM, collet_said, grip_length, jaws_deep
from planner.walking.held import Held
from planner.walking.plated import on_faceplate
from planner.walking.records import (
    Missing,
    Record,
    line,
    number,
    pair,
    rows,
    table,
    text,
)
from planner.walking.shape import NEAR_MM, Line
from planner.walking.shop import Shop
from planner.walking.softjaws import soft_jaws
from planner.walking.spans import spans
from planner.walking.state import Piece
from planner.walking.surfaces import Cylinder, NoSurface, Plane, bare, sides, surface
from planner.walking.trued import runs_true
from planner.walking.unbalanced import unbalanced

ROUND = (*CHUCKS, "mandrel", "between centres", "tailstock plug", "faceplate")
"""Ways to hold work that turns with the spindle."""

TRUED = ("four-jaw chuck", "faceplate")
"""What does not centre by itself."""

JAW_CLEAR_MM = 0.5
"""A tool stays so far off the jaws (common practice: a rule's thickness)."""

SAME_SIZE_MM = 0.1
"""What is gripped is of the size said within this."""

THREADED_MM = 0.05
"""And what a thread is cut on is under its size by up to so much more: class 2A (ASME B1.1)."""

PAST_MM = 1.5
"""And what is too thick for the bore sticks out behind them no farther (common practice: by eye)."""

CLEARS_MM = 0.15
"""What goes on through the chuck is thinner than its bore by so much (common practice)."""

MOSTLY = 0.5
"""A round that is threaded over more of its length than this is gripped by its thread."""

FINE = ("thread", "knurl", "engraved", "fine")
"""Surfaces that bare jaws would mark."""


def hold_in_lathe(
    piece: Piece, setup: Record, shop: Shop, faults: Faults, operations: Sequence[Record] = ()
) -> Held:
    """How work is held in the lathe, with what is wrong about it; operations: what is done so. Raises
    Missing."""
    hold = table(setup, "hold")
    by = text(hold, "by")
    held = Held(line(hold), by)
    lacking = hold.get("owned") is False and bool(hold.get("instead"))
    if by == "faceplate" and not lacking:
        on_faceplate(piece, held, setup, operations, shop, faults)
    for grip in () if held.grips else rows(hold, "grips"):
        if "other" in grip and grip.get("other"):
            _pair(piece, held, grip, faults)
            if by == "four-jaw chuck" and not lacking:
                _opens(piece, held, grip, shop, faults)
        else:
            _round(piece, held, grip, shop, faults, lacking)
    pairs = [grip for grip in rows(hold, "grips") if grip.get("other")]
    if (by != "between centres" and not held.grips) or (by in CHUCKS and len(pairs) == 1):
        raise Missing("hold.grips")
    grip_length(piece, held, hold, faults)
    if by in CHUCKS[:2]:
        jaws_deep(held, shop, faults)
        if pairs and not lacking:
            _before_the_chuck(piece, held, hold, shop, faults)
    if by == "collet":
        collet_said(str(setup.get("holding")), faults)
    if by in CHUCKS:
        soft_jaws(setup, shop, faults)
        runs_true(piece, setup, operations, faults)
    for key, outward in (("centre", 1), ("headstock_centre", -1)):
        if hold.get(key):
            on_centre(piece, held, table(hold, key), outward, faults)
    if by == "between centres":
        between(piece, held, hold, faults)
    if hold.get("steady"):
        in_steady(piece, held, table(hold, "steady"), shop, faults)
        bar_said(piece, table(hold, "steady"), str(setup.get("holding")), faults)
        on_cat_head(piece, held, table(hold, "steady"), str(setup.get("holding")), faults)
    if by == "four-jaw chuck" and pairs and not lacking:
        unbalanced(piece, held, operations, shop, faults)
    if by in TRUED and not rows(setup, "align"):
        faults.refuse(
            "route-not-trued",
            by,
            "does not centre the work by itself",
            "Set it true by an indicator, and say to what reading",
        )
    if hold.get("out_mm") is None and by in CHUCKS:
        raise Missing("hold.out_mm")
    return held


def _round(
    piece: Piece, held: Held, grip: Record, shop: Shop, faults: Faults, lacking: bool
) -> None:
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
        faults.refuse(
            "route-no-metal",
            f"gripped on {said}",
            "there is no metal of that size there, or more of it stands over",
            "Grip where the work is of that size as it is then",
        )
    _named(piece, grip, held.line, size, faults)
    least, most = shop.grips(held.by, inside) or (size, size)
    if held.by in CHUCKS and not lacking and not least - 0.5 <= size <= most + 0.5:
        faults.refuse(
            "route-grip-range",
            faults.mm(size),
            f"the {held.by} takes {faults.least(least)} to {faults.most(most)}",
            "Hold it otherwise",
        )
    if not inside and held.by in CHUCKS:
        _behind(piece, held, low, high, size, shop, faults)
        _beside_knurls(piece, held.line, (a, b), size / 2, faults)
    _unmarked(piece, held.line, a, b, size / 2, inside, grip, faults)


def _named(piece: Piece, grip: Record, axis: Line, size: float, faults: Faults) -> None:
    """Whether the surface that is named is the one described."""
    try:
        named = surface(piece, text(grip, "surface"))
    except NoSurface as none:
        faults.refuse(
            "route-no-surface",
            none.what,
            "the work has no such surface as it is then",
            "Name one that is there",
        )
        return
    if isinstance(named, Cylinder):
        off = abs(2 * named.radius - size) > 2.5 or not named.line.same(axis)
        if off:
            faults.refuse(
                "route-no-metal",
                f"{named.name}: {faults.mm(2 * named.radius)}",
                f"gripped as {faults.mm(size)} on the spindle's line",
                "Say the surface that the jaws are on",
            )


def _behind(
    piece: Piece, held: Held, low: float, high: float, size: float, shop: Shop, faults: Faults
) -> None:
    """Nothing thicker than the grip behind the jaws, nothing longer than the chuck takes; behind the
    jaws themselves nothing that is too thick for the chuck's bore."""
    jaws = shop.jaws_mm if held.by in CHUCKS[:2] else 0.0
    for span in spans(piece.metal, held.line):
        a, b = held.span(span.low, span.high)
        thick = 2 * span.outer > shop.through_mm - CLEARS_MM
        if thick and high - low <= jaws + DEEPER_MM and a < high - jaws - PAST_MM and a < low:
            faults.refuse(
                "route-grip-blocked",
                f"{faults.mm(2 * span.outer)} thick, {faults.mm(high - a)} back from the jaws' front",
                f"the jaws are {faults.mm(jaws)} long, the bore behind them"
                f" {faults.mm(shop.through_mm)} wide",
                "Let it stand out, or grip what goes in",
            )
            return
        if b > low - NEAR_MM and a < high:
            continue
        if b <= low and span.outer > size / 2 + SAME_SIZE_MM:
            faults.refuse(
                "route-grip-blocked",
                f"{faults.mm(2 * span.outer)} behind the jaws",
                f"they close on {faults.mm(size)}",
                "Grip it from its other end, or on the thickest",
            )
            return
        if b <= low and high - a > shop.depth_mm and thick:
            faults.refuse(
                "route-grip-blocked",
                f"{faults.mm(high - a)} back from the jaws' front",
                f"the chuck is {faults.mm(shop.depth_mm)} deep",
                "Let it stand out, or saw it shorter",
            )
            return


def _before_the_chuck(piece: Piece, held: Held, hold: Record, shop: Shop, faults: Faults) -> None:
    """Flat work that the chuck's bore does not take ends before the chuck's face: no farther back from
    the jaws' front than they are long. It stands out of them as far as is said."""
    front = held.front
    reaches = [(held.span(one.low, one.high), one.outer) for one in spans(piece.metal, held.line)]
    if front is None or not reaches:
        return
    back = max((front - a for (a, _), outer in reaches if 2 * outer > shop.through_mm - CLEARS_MM),
               default=0.0)  # fmt: skip
    if shop.jaws_mm and back > shop.jaws_mm + DEEPER_MM:
        faults.refuse(
            "route-grip-blocked",
            f"{faults.mm(back)} back from the jaws' front",
            f"the jaws stand {faults.mm(shop.jaws_mm)} out of the chuck's face",
            "Let it stand out so much farther",
        )
    out = max(b for (_, b), _ in reaches) - front
    if hold.get("out_mm") is not None and abs(out - number(hold, "out_mm")) > PAST_MM:
        faults.refuse(
            "route-grip-range",
            f"{faults.mm(number(hold, 'out_mm'))} out",
            f"gripped as said it stands {faults.mm(out)} out",
            "Say how far it stands out of the jaws",
        )


def _beside_knurls(
    piece: Piece, axis: Line, span: tuple[float, float], radius: float, faults: Faults
) -> None:
    """Jaws, packed or bare, close on a knurl or on what lies beside it, and not on both."""
    for mark in piece.marks_of("knurl"):
        shared = min(span[1], mark.high) - max(span[0], mark.low)
        there = mark.line.same(axis, 0.05) and abs(mark.radius - radius) < 1.5
        if there and 0.5 < shared < span[1] - span[0] - 0.5:
            faults.refuse(
                "route-grip-finished",
                f"jaws on {faults.mm(shared)} of a knurl and what lies beside it",
                "the knurl stands proud: it is crushed, and the rest is not held",
                "Grip beside the knurl, or knurl it later",
            )


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
            faults.refuse(
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


def _opens(piece: Piece, held: Held, grip: Record, shop: Shop, faults: Faults) -> None:
    """Each jaw for itself: the chuck opens to twice the face that is farthest from the spindle."""
    try:
        both = [surface(piece, text(grip, key)) for key in ("surface", "other")]
    except NoSurface:
        return  # said already
    offs = [
        2 * abs(one.at - held.line.through[one.along]) for one in both if isinstance(one, Plane)
    ]
    least, most = shop.four_jaw
    if offs and not least - 0.5 <= max(offs) <= most + 0.5:
        faults.refuse(
            "route-grip-range",
            f"a face {faults.mm(max(offs) / 2)} from the spindle",
            f"the four-jaw chuck opens {faults.least(least)} to {faults.most(most)}",
            "Bolt it to the faceplate, or hold it otherwise",
        )


def faces_gripped(
    piece: Piece, grip: Record, along: int, reach: tuple[float, float], faults: Faults
) -> float:
    """Two jaws on two parallel faces between two coordinates; 1 where both are there, else 0."""
    size = number(grip, "size_mm")
    try:
        one, other = (surface(piece, text(grip, key)) for key in ("surface", "other"))
    except NoSurface as none:
        faults.refuse(
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
        faults.refuse(
            "route-vice-faces",
            f"{grip.get('surface')} and {grip.get('other')}",
            "are no two parallel faces that jaws close on",
            "Grip two parallel faces, or use V-blocks",
        )
        return 0.0
    if abs(abs(one.at - other.at) - size) > SAME_SIZE_MM:
        faults.refuse(
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
        faults.refuse(
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
    if one != other or abs(2 * one.radius - size) > SAME_SIZE_MM + THREADED_MM:
        faults.refuse(
            "route-vice-faces",
            f"{one.name} and {other.name}",
            f"are not one round of {faults.mm(size)}",
            "Grip one diameter, or use V-blocks",
        )
        return 0.0
    if bare(piece.metal, one, one.low, one.high) < 0.3:
        faults.refuse(
            "route-no-metal", one.name, "there is no round metal of that size", "Grip what is there"
        )
        return 0.0
    for mark in piece.marks_of("thread"):
        shared = min(one.high, mark.high) - max(one.low, mark.low)
        there = not mark.inside and mark.line.same(one.line, 0.05)
        if there and shared > MOSTLY * (one.high - one.low):
            faults.refuse(
                "route-grip-finished",
                f"a vice on {faults.mm(shared)} of a thread",
                "it is crushed, and soft jaws do not hold it",
                "Grip a round that has none, or a nut split on one side",
            )
            return 0.0
    return 1.0
