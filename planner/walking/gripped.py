"""How much of the work a chuck's jaws grip for what stands out of them. Imported by walking.lathe."""

from __future__ import annotations

from parts.standard.holding import holding_limit
from planner.walking.faults import Faults
from planner.walking.held import Held
from planner.walking.records import Record
from planner.walking.shop import Shop
from planner.walking.spans import spans
from planner.walking.state import Piece

CHUCKS = ("three-jaw chuck", "four-jaw chuck", "collet")

DEEPER_MM = 0.5
"""What is gripped is no more than this deeper than the jaws are long: it is set by a rule."""

LEAST_GRIP_MM = 10.0
"""Long work is gripped no shorter, whatever its diameter (common practice)."""

CENTRED_MM = 15.0
"""On a centre or in a steady as well, work needs no more in the jaws, however thick: they only drive it
(common practice: 10 to 15)."""

SHORT_OUT = 1.5
"""Work that stands out no farther than so many diameters is short work."""

THIN_MM = 2.5
"""A disc is held on as little, in stepped or soft jaws, for a light cut (common practice)."""

HALF = 0.45
"""Short work is held by so much of its length, half of it when faced (common practice)."""


def collet_said(holding: str, faults: Faults) -> None:
    """A collet has no jaws that work goes back through (a fact of the trade)."""
    if "jaws" in holding:
        faults.refuse(
            "route-words",
            f'"{holding}"',
            "a collet has no jaws",
            "Say that it goes back through it",
        )


def jaws_deep(held: Held, shop: Shop, faults: Faults) -> None:
    """Jaws grip no deeper than they stand out of the chuck."""
    deep = max((high - low for low, high, _, _ in held.grips), default=0.0)
    if shop.jaws_mm and deep > shop.jaws_mm + DEEPER_MM:
        faults.refuse(
            "route-grip-range",
            f"{faults.mm(deep)} gripped",
            f"the jaws stand {faults.mm(shop.jaws_mm)} out of the chuck",
            "Grip less of it",
        )


def grip_length(piece: Piece, held: Held, hold: Record, faults: Faults) -> None:
    """Whether enough is gripped for what stands out."""
    jaws = [g for g in held.grips if g[2] > 0]
    if not jaws or held.by not in CHUCKS:
        return
    length = max(high - low for low, high, _, _ in jaws)
    size, front = jaws[0][2], held.front
    assert front is not None
    ends = [held.span(s.low, s.high)[1] for s in spans(piece.metal, held.line)]
    out = max(max(ends, default=front) - front, 0.0)
    if hold.get("centre") or hold.get("steady"):
        least = min(holding_limit("grip", "with a centre") * size, CENTRED_MM)
        least = max(least, THIN_MM)
    elif out <= SHORT_OUT * size:
        share = "stub" if out <= size else "short work"
        least = min(holding_limit("grip", share) * size, max(HALF * (out + length), THIN_MM))
    else:
        least = max(holding_limit("grip", "long work") * size, LEAST_GRIP_MM)
    if length < least - 0.05:
        faults.refuse(
            "route-grip-short",
            f"{faults.mm(length)} gripped",
            f"at least {faults.least(least)} where {faults.mm(out)} stands out",
            "Grip more of it, or bring up the tailstock",
        )
