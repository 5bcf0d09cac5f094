"""Where a V-block has room under a round, beside what is joined to it. Imported by making.holds."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from planner.making.bodies import Body, Round
from planner.making.near import Span, outside, way_of

LIP_MM = 6.0
"""The flank of a vee goes on so far past where the round touches it (common practice)."""


def clear(
    spans: Sequence[Span], body: Body, one: Round, bodies: Sequence[Body], up: str
) -> list[Span]:
    """The stretches of a round where nothing that is joined to its body stands where the block is.

    spans: along the round's axis, mm; up: the way the tool comes from.
    """
    assert body.axis is not None
    upward, sign = way_of(up)
    side = 3 - upward - body.axis
    middle = {k: (body.low(k) + body.high(k)) / 2 for k in (upward, side)}
    left = list(spans)
    for other in bodies:
        if other is body:
            continue
        off = max(other.low(side) - middle[side], middle[side] - other.high(side), 0.0)
        lowest = sign * (other.end(upward, -sign) - middle[upward])
        beside = off < one.diameter / 2 * sqrt(0.5) + LIP_MM
        if beside and lowest < off - one.diameter / 2 * sqrt(2):  # under the flank there
            gone = other.low(body.axis), other.high(body.axis)
            left = [part for span in left for part in outside(span, gone)]
    return left
