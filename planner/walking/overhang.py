"""How far a cut lies from what holds the work, over the work's thickness between.

Imported by planner.walking.reach.
"""

from __future__ import annotations

from math import sqrt

from parts.standard.holding import holding_limit
from planner.walking.faults import Faults
from planner.walking.held import Held
from planner.walking.shape import FAR_MM
from planner.walking.spans import Span, spans
from planner.walking.state import Piece

FINGERS_MM = 10.0
"""A travelling steady's fingers are so wide: they follow no shorter cut (common practice)."""

SHORT = ("groove", "thread")
"""Cut in a short place, as what is turned shorter than fingers are wide: a bar gives less near its
centre or its jaws than in the middle."""

FOLLOWED = ("turn", "thread", "groove")
"""What they follow."""


def _fingers_mm(
    stiff: list[tuple[float, float, Span]], cut: tuple[float, float], after: float
) -> float:
    """How long a round the fingers run on: what is cut, and what is as thick beside it."""
    beside = [
        b - cut[1]
        for a, b, span in stiff
        if a <= cut[1] + 0.01 < b and abs(span.outer - after) < 0.01
    ]
    return cut[1] - cut[0] + max(beside, default=0.0)


def _share(cut: tuple[float, float], between: tuple[float, float]) -> float:
    """How long a bar, of one in a chuck with its end on a centre, gives as much at its worst place.

    As a share of its length, 0 to 1. A bar fixed at one end, on a support at the other: under a force
    a from the fixed end, b from the other, it gives F a³ b² (3 a + 4 b) / (12 E I l³) there (a
    handbook's formula, from memory; tested against the beam's own equation).
    """
    length = between[1] - between[0]
    places = [between[0] + length * k / 64 for k in range(1, 64)]
    gives = [(a := at - between[0]) ** 3 * (length - a) ** 2 * (length * 4 - a) for at in places]
    ends = (max(cut[0], between[0]), min(cut[1], between[1]))
    at_cut = [give for at, give in zip(places, gives, strict=True) if ends[0] <= at <= ends[1]]
    for end in ends:
        a = min(max(end - between[0], 0.0), length)
        at_cut.append(a**3 * (length - a) ** 2 * (length * 4 - a))
    return (max(at_cut) / max(gives)) ** (1 / 3) if length > 0 and max(gives) > 0 else 1.0


def beside_jaws(
    stiff: list[tuple[float, float, Span]], front: float, end: float, rough: bool
) -> bool:
    """Whether a cut is so near the jaws that it wants no centre."""
    if end <= front:
        return True
    limit = holding_limit("work", f"chuck only, {'roughing' if rough else 'finishing'}")
    return end - front <= limit * _cantilever_thickness(stiff, front, end)


def overhang(
    piece: Piece, held: Held, cut: tuple[float, float], kind: str, rough: bool, faults: Faults,
    after: float = 0.0,
) -> None:  # fmt: skip
    """How far the cut lies from what holds the work, over its thickness between.

    cut: outward coordinates; after: the radius that a steady's fingers run on, mm. The thickness is
    that of a round bar that bends as much: of steps by the beam formula. Refused over the limits of
    parts.standard.holding.
    """
    front, stretches = held.front, spans(piece.metal, held.line)
    stiff = [(*held.span(s.low, s.high), s) for s in stretches]
    if held.tail is not None:
        start = front if front is not None else min(a for a, _, _ in stiff)
        measure = "chuck and centre" if front is not None else "between centres"
        stops = [start, *([held.steady] if held.steady is not None else []), held.tail]
        if held.steady is not None:
            measure = "with a steady"
        near = next(
            ((a, b) for a, b in zip(stops, stops[1:], strict=False) if a <= cut[1] <= b), None
        )
        near = near or (stops[-2], stops[-1])
        length = near[1] - near[0]
        thick = _mean_thickness(stiff, near)
        if held.travelling and kind in FOLLOWED and _fingers_mm(stiff, cut, after) >= FINGERS_MM:
            measure = "with a travelling steady"
        elif front is not None and beside_jaws(stiff, front, cut[1], rough):
            return
        elif measure == "chuck and centre" and (
            kind in SHORT or (kind == "turn" and cut[1] - cut[0] < FINGERS_MM)
        ):
            length *= _share(cut, near)
    elif front is not None:
        start = held.steady if held.steady is not None and held.steady < cut[1] else front
        length = max(cut[1] - start, 0.0)
        thick = _cantilever_thickness(stiff, start, cut[1])
        measure = _measure(held, kind, rough)
        if kind == "part":
            length = max(cut[0] - front, 0.0)
    else:
        return
    if thick <= 0 or length <= 5.0:
        return
    limit = holding_limit("work", measure)
    if length / thick > limit + 0.05:
        faults.refuse(
            "route-overhang",
            f"{measure}: {faults.mm(length)} out, {faults.mm(thick)} thick:"
            f" {length / thick:.1f} diameters",
            f"at most {limit:g}",
            "Bring up the tailstock or a steady, or hold it shorter",
        )


def _measure(held: Held, kind: str, rough: bool) -> str:
    if held.by == "collet":
        return "collet only"
    if kind == "part":
        return "parting"
    if kind == "knurl":
        return "knurling without a centre"
    if kind in ("drill", "bore", "ream", "tap", "spot", "centre", "counterbore"):
        return "boring or drilling the end"
    return "chuck only, roughing" if rough else "chuck only, finishing"


def _fourth(span: Span) -> float:
    """Fourth powers of the diameters, outside less inside."""
    return (2 * span.outer) ** 4 - (2 * span.bore) ** 4


def _cantilever_thickness(
    stiff: list[tuple[float, float, Span]], start: float, end: float
) -> float:
    """The bar that bends as much under a force at its end."""
    length, bend = end - start, 0.0
    for a, b, span in stiff:
        a, b = max(a, start), min(b, end)
        if b > a:
            bend += ((end - a) ** 3 - (end - b) ** 3) / max(_fourth(span), 1e-6)
    return sqrt(sqrt(length**3 / bend)) if bend > 0 and length > 0 else 0.0


def _mean_thickness(stiff: list[tuple[float, float, Span]], reach: tuple[float, float]) -> float:
    """The bar that is as limber on the whole between two supports."""
    total, soft = 0.0, 0.0
    for a, b, span in stiff:
        a, b = max(a, reach[0]), min(b, reach[1])
        if b > a and span.outer < FAR_MM:
            total += b - a
            soft += (b - a) / max(_fourth(span), 1e-6)
    return sqrt(sqrt(total / soft)) if soft > 0 else 0.0
