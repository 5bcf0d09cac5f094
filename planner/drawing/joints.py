"""Where a weld runs: along an edge of what two members touch in, or round one that stands in the other.

Read from the faces of the two pieces as they are before welding. Imported by pointing.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from parts.blank import Member
from parts.features import Weld
from parts.frame import Box, Point
from planner.drawing.subjects import Subject
from planner.solids.faces import Face, piece_faces

NEAR_MM = 1e-3
"""Two faces touch within this, 1 um."""

ROUND_DEG = (90.0, 270.0, 0.0, 180.0, 45.0, 135.0, 225.0, 315.0)
"""Where along a run all round it is looked for: the quarters first."""

PARTS = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along a run it may be pointed at."""


def run(subject: Subject, weld: Weld) -> list[Point]:
    """Places along a weld, in the weldment's frame, mm; none where its members do not touch there."""
    joined = subject.joined
    assert joined is not None
    one, other = (next(m for m in joined.members if m.name == name) for name in weld.members)
    letter, _, side = weld.edge.partition("-")
    k = "xyz".index(letter)
    found: list[Point] = []
    for a in _placed(one):
        for b in _placed(other):
            both = _touching(a, b)
            if both is None:
                continue
            end = both.high[k] if side == "high" else both.low[k]
            if a.kind == "cylinder" and a.along == k:
                found += _round(a, k, end)
            elif a.kind == "plane" and a.along != k:
                found += _straight(both, k, 3 - k - a.along, end)
    return found


def runs_along(subject: Subject, weld: Weld) -> int:
    """The direction a straight weld runs in: 0, 1 or 2; -1 for one that goes round."""
    places = run(subject, weld)
    if weld.all_round or len(places) < 2:
        return -1
    return max(range(3), key=lambda i: abs(places[0][i] - places[1][i]))


def _placed(member: Member) -> Iterator[Face]:
    """The faces of a piece in the weldment's frame."""
    frame = member.frame
    for face in piece_faces(member):
        if face.along < 0:
            continue
        sign = round(sum(frame.directions()[face.along]))
        yield Face(
            face.kind,
            frame.turned(face.along),
            frame.place(face.at),
            face.radius_mm,
            face.box.placed(frame),
            face.outward * sign,
        )


def _touching(a: Face, b: Face) -> Box | None:
    """The box in which two faces touch."""
    if a.kind != b.kind or a.along != b.along:
        return None
    i = a.along
    if a.kind == "plane":
        if a.outward != -b.outward or abs(a.at[i] - b.at[i]) > NEAR_MM:
            return None
        open_in = [k for k in range(3) if k != i]
    else:
        off = max(abs(a.at[k] - b.at[k]) for k in range(3) if k != i)
        if max(off, abs(a.radius_mm - b.radius_mm)) > NEAR_MM:
            return None
        open_in = [i]
    low = [max(p, q) for p, q in zip(a.box.low, b.box.low, strict=True)]
    high = [min(p, q) for p, q in zip(a.box.high, b.box.high, strict=True)]
    if any(high[k] - low[k] < NEAR_MM for k in open_in):
        return None
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def _straight(both: Box, k: int, along: int, end: float) -> Iterator[Point]:
    for part in PARTS:
        at = [(p + q) / 2 for p, q in zip(both.low, both.high, strict=True)]
        at[k] = end
        at[along] = both.low[along] + part * (both.high[along] - both.low[along])
        yield at[0], at[1], at[2]


def _round(face: Face, k: int, end: float) -> Iterator[Point]:
    u, v = (i for i in range(3) if i != k)
    for deg in ROUND_DEG:
        at = list(face.at)
        at[k] = end
        at[u] += face.radius_mm * cos(radians(deg))
        at[v] += face.radius_mm * sin(radians(deg))
        yield at[0], at[1], at[2]
