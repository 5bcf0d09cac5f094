"""What a record's cut takes away, in the piece's own frame. Imported by planner.walking.cutting."""

from __future__ import annotations

import numpy as np

from parts import features as f
from parts.value import Value
from planner.walking.finished import line_of
from planner.walking.metal import Metal
from planner.walking.records import (
    Missing,
    Record,
    box,
    direction,
    line,
    need,
    number,
    pair,
    table,
    text,
)
from planner.walking.shape import (
    FAR_MM,
    NEAR_MM,
    Block,
    Both,
    Line,
    OffBall,
    Points,
    Region,
    Ring,
    even,
)
from planner.walking.spans import spans
from planner.walking.state import Piece

SHAPES = ("face", "turn", "bore", "hole", "thread", "flat", "slot", "saw", "other")


class Cut(Value, frozen=True):
    """A cut as the walk takes it: its shape, where, and the regions that go.

    line: what it is about, None for flats and slots; low, high: along it; radius: it leaves; before:
    the radius it begins at (outside or of a hole); drops: what falls off behind a parting tool.
    """

    shape: str
    line: Line | None = None
    low: float = 0.0
    high: float = 0.0
    radius: float = 0.0
    before: float = 0.0
    keeps: int = 0
    inside: bool = False
    regions: tuple[Region, ...] = ()
    drops: tuple[Region, ...] = ()


def cut_of(piece: Piece, operation: Record, feature: f.Feature | None) -> Cut:
    """The cut of an operation. Raises Missing where the record does not say it."""
    cut = table(operation, "cut")
    shape = text(cut, "shape")
    if shape not in SHAPES:
        raise Missing("cut.shape")
    makers = {"face": _face, "turn": _turn, "bore": _bore, "hole": _hole, "thread": _thread}
    if shape in makers:
        return makers[shape](piece, cut, text(operation, "kind"))
    if shape in ("flat", "slot"):
        return _boxed(cut, shape)
    return _other(operation, cut, feature, shape)


def _face(piece: Piece, cut: Record, kind: str) -> Cut:
    axis, at, off = line(cut), number(cut, "at_mm"), number(cut, "off_mm")
    along, keeps = direction(need(cut, "keeps"), "cut.keeps")
    if along != axis.along:
        raise Missing("cut.keeps")
    outer = number(cut, "diameter_mm") / 2
    far = at - keeps * off
    low, high = min(at, far), max(at, far)
    drops: tuple[Region, ...] = ()
    inner = 0.0
    if kind == "part":
        ends = (far, -keeps * FAR_MM)
        drops = (Ring(axis.along, axis.through, min(ends), max(ends), FAR_MM),)
    else:
        inner = _passing(piece.metal, axis, far - keeps * 3 * NEAR_MM, outer)
    ring = Ring(axis.along, axis.through, *_skin(low, high, keeps), outer + 0.01, inner)
    return Cut("face", axis, low, high, outer, inner, keeps, False, (ring,), drops)


def _skin(low: float, high: float, keeps: int) -> tuple[float, float]:
    """The face itself exactly, its far side a trifle farther."""
    return (low - 1e-3, high) if keeps > 0 else (low, high + 1e-3)


def _passing(metal: Metal, axis: Line, at: float, outer: float) -> float:
    """The radius of the metal that stands before a face and stays: a journal before its shoulder."""
    for span in spans(metal, axis):
        if span.low < at < span.high and span.outer < outer - 0.05:
            return span.outer
    return 0.0


def _turn(piece: Piece, cut: Record, kind: str) -> Cut:
    axis = line(cut)
    low, high = pair(cut)
    before, after = number(cut, "before_mm") / 2, number(cut, "after_mm") / 2
    ring = Ring(axis.along, axis.through, low, high, before + 0.01, after)
    return Cut("turn", axis, low, high, after, before, 0, False, (ring,))


def _bore(piece: Piece, cut: Record, kind: str) -> Cut:
    axis = line(cut)
    low, high = pair(cut)
    before, after = number(cut, "before_mm") / 2, number(cut, "after_mm") / 2
    ring = Ring(axis.along, axis.through, low, high, after)
    return Cut("bore", axis, low, high, after, before, 0, True, (ring,))


def _hole(piece: Piece, cut: Record, kind: str) -> Cut:
    axis = line(cut)
    low, high = pair(cut)
    after = number(cut, "after_mm") / 2
    ring = Ring(axis.along, axis.through, low, high, after)
    return Cut("hole", axis, low, high, after, 0.0, 0, True, (ring,))


def _thread(piece: Piece, cut: Record, kind: str) -> Cut:
    axis = line(cut)
    low, high = pair(cut)
    number(cut, "pitch_mm")
    return Cut(
        "thread", axis, low, high, number(cut, "diameter_mm") / 2, 0.0, 0, bool(cut.get("inside"))
    )


def _boxed(cut: Record, shape: str) -> Cut:
    low, high = box(cut)
    if shape == "flat":
        along, sign = direction(need(cut, "normal"), "cut.normal")
        at = number(cut, "at_mm")
        if abs((low if sign > 0 else high)[along] - at) > NEAR_MM:
            raise Missing("cut.at_mm")
    block = Block((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    return Cut(shape, regions=(block,))


def _other(operation: Record, cut: Record, feature: f.Feature | None, shape: str) -> Cut:
    """What has no sizes of its own: a ball takes what its feature says."""
    if isinstance(feature, f.TurnedBall) and feature.name in (operation.get("makes") or ()):
        axis = line_of(feature.axis)
        base = axis.through[axis.along]
        middle = axis.point(base + axis.sign * (feature.end_mm - feature.diameter.nominal_mm / 2))
        low, high = sorted((base + axis.sign * feature.start_mm, base + axis.sign * feature.end_mm))
        ball = OffBall(axis.along, middle, feature.diameter.nominal_mm / 2, low, high + 0.01)
        return Cut(shape, axis, low, high, ball.radius, regions=(ball,))
    if isinstance(feature, f.Turned) and cut.get("from_mm") is not None:
        low, high = pair(cut)
        return Cut(shape, line_of(feature.axis), low, high)
    return Cut(shape)


def cloud(region: Region, metal: Metal, ends: bool = False) -> Points:
    """Sample points of a region, near its faces and within, where there may be metal.

    ends: also just within the ends of the metal, wherever those lie.
    """
    low, high = metal.box
    if isinstance(region, Ring):
        reach = float(np.linalg.norm(np.maximum(np.abs(low), np.abs(high)))) + 1
        a, b = max(region.low, low[region.along]), min(region.high, high[region.along])
        if b <= a:
            return np.empty((0, 3))
        steps = _steps(a, b) + (_at_ends(metal, region.along, a, b) if ends else [])
        outer = min(region.outer, reach)
        radii = [region.inner + 1e-3, *even(region.inner + 0.05, outer - 0.01, 6)]
        axis = Line(region.along, 1, region.centre)
        return axis.cloud(steps, [r for r in radii if r > 0])
    if isinstance(region, Both):
        points = cloud(region.one, metal, ends)
        return points[region.other.has(points)] if len(points) else points
    if isinstance(region, OffBall):
        a, b = max(region.low, low[region.along]), min(region.high, high[region.along])
        if b <= a:
            return np.empty((0, 3))
        axis = Line(region.along, 1, region.middle)
        points = axis.cloud(
            _steps(a, b, 9), [region.radius * s for s in (0.3, 0.6, 0.8, 0.9, 1.0, 1.1)]
        )
        return points[region.has(points)]
    assert isinstance(region, Block)
    ways = []
    for i in range(3):
        a, b = max(region.low[i], low[i]), min(region.high[i], high[i])
        if b <= a:
            return np.empty((0, 3))
        ways.append(_steps(a, b, 9) + (_at_ends(metal, i, a, b) if ends else []))
    x, y, z = ways
    points = np.empty((3, len(x), len(y), len(z)))
    points[0] = np.asarray(x)[:, None, None]
    points[1] = np.asarray(y)[:, None]
    points[2] = z
    return points.reshape(3, -1).T


def _at_ends(metal: Metal, along: int, a: float, b: float) -> list[float]:
    """Just within the ends of the metal as it is, where those lie between two coordinates."""
    ends = ((metal.end(along, -1), 1), (metal.end(along, 1), -1))
    just = [end + sign * NEAR_MM for end, sign in ends if end is not None]
    return [at for at in just if a < at < b]


def _steps(a: float, b: float, many: int = 7) -> list[float]:
    edge = min(1e-3, (b - a) / 4)
    return even(a + edge, b - edge, many)
