"""Where a call-out's arrow ends: places on drawn edges of the feature it speaks of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, degrees, dist, hypot, radians, sin
from typing import Any

from parts import features as f
from parts.places import SAME_MM
from planner.drawing.outline import ON_MM, Outline, middle_of, reach_of
from planner.geometry.curves import Arc, Curve, Line, Point2, Polyline
from planner.solids.faces import Face


@dataclass(eq=False)
class Pointing:
    """The places of one view that leaders may point at."""

    outline: Outline

    def targets(self, name: str) -> list[Point2]:
        """Places on drawn edges of a feature that a leader may point at, the best first."""
        subject = self.outline.scheme.subject
        every = {x.name: x for x in (*subject.features, *subject.welds)}
        if name == "blank":
            places = list(self._turned("blank:axis"))
        else:
            places = list(self._places(every[name]))
        extra = [c for part in self.outline.thread_lines() for c in part] + self.outline.marked()
        visible = [c for c in self.outline.seen.curves if not c.hidden] + extra
        for curves in (visible, self.outline.seen.curves):
            on = [p for p in places if any(_on(p, c) for c in curves)]
            if on:
                return on
        return places

    def _places(self, feature: Any) -> Iterator[Point2]:
        axis_ref = f"{feature.name}:axis"
        if isinstance(feature, f.Hole):
            j = "xyz".index(feature.axis.along[1])
            if j == self.outline.view.depth:
                u, v = self.outline.flat(feature.axis.origin)
                r = self._radius(axis_ref)
                for deg in (45, 135, 225, 315, 20, 160, 200, 340, 70, 110, 250, 290):
                    yield u + r * cos(radians(deg)), v + r * sin(radians(deg))
            else:
                yield from self._turned(axis_ref)
        elif isinstance(feature, f.Thread):
            yield from self._turned(axis_ref, feature)
        elif isinstance(feature, f.FacedShoulder):
            yield from self._edges(f"{feature.name}:start")
        elif isinstance(feature, f.TurnedBall):
            yield from self._ball(axis_ref)
        elif isinstance(feature, f.IndexMark):
            for line in self.outline.marked():
                yield (line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2
            yield from self._rim(feature)
        elif isinstance(feature, f.EngravedScale | f.Knurl):
            yield from self._rim(feature)
        elif isinstance(feature, f.Turned):
            yield from self._turned(axis_ref)
        elif isinstance(feature, f.SawnNotch):
            yield from self._corner(f"{feature.name}:corner")
        elif isinstance(feature, f.ScribedLine):
            low, high = self.outline.flat(feature.box.low), self.outline.flat(feature.box.high)
            middle = self.outline.flat(middle_of(feature.box.low, feature.box.high))
            yield middle
            for end in (low, high):
                yield 0.6 * end[0] + 0.4 * middle[0], 0.6 * end[1] + 0.4 * middle[1]
        elif isinstance(feature, f.Removed):
            letters = "xyz"
            if isinstance(feature, f.MilledSlot | f.Slit):  # of its width: at a side, not its end
                sizes = feature.box.size()
                off = [abs(size - feature.width.nominal_mm) for size in sizes]
                across = off.index(min(off))
                if across != self.outline.view.depth:
                    letters = "xyz"[across]
            for letter in letters:
                for side in ("low", "high"):
                    yield from self._edges(f"{feature.name}:{letter}-{side}")
        elif isinstance(feature, f.GroundPoint):
            yield self.outline.flat(feature.tip)
        elif isinstance(feature, f.Weld):
            yield from self._weld(feature)

    def _radius(self, ref: str) -> float:
        return next(s.radius_mm for s in self.outline.scheme.claims.of if s.name == ref)

    def _turned(self, ref: str, within: f.Turned | None = None) -> Iterator[Point2]:
        """On both sides of a cylinder seen from beside."""
        one = next((s for s in self.outline.scheme.claims.of if s.name == ref), None)
        if one is None:
            return
        u, v = self.outline.flat(one.place.at)
        for face in self.outline.faces_of(ref):
            if face.kind != "cylinder":
                continue
            span, r = self.outline.face_span(face), face.radius_mm
            if within is not None:
                ends = [
                    self.outline.flat(within.axis.at(x)) for x in (within.start_mm, within.end_mm)
                ]
                clip = (
                    min(e[0] for e in ends),
                    min(e[1] for e in ends),
                    max(e[0] for e in ends),
                    max(e[1] for e in ends),
                )
                level = one.place.along == self.outline.view.across
                span = (
                    (clip[0], span[1], clip[2], span[3])
                    if level
                    else (span[0], clip[1], span[2], clip[3])
                )
            for part in (0.5, 0.3, 0.7, 0.15, 0.85):
                for side in (1, -1):
                    if one.place.along == self.outline.view.across:
                        yield span[0] + part * (span[2] - span[0]), v + side * r
                    elif one.place.along == self.outline.view.upright:
                        yield u + side * r, span[1] + part * (span[3] - span[1])

    def _ball(self, ref: str) -> Iterator[Point2]:
        one = next(s for s in self.outline.scheme.claims.of if s.name == ref)
        for face in self.outline.faces_of(ref):
            u, v = self.outline.flat(face.at)
            for deg in (45, 135, 225, 315, 60, 120, 30, 150):
                yield u + one.radius_mm * cos(radians(deg)), v + one.radius_mm * sin(radians(deg))

    def _rim(self, feature: Any) -> Iterator[Point2]:
        r = feature.diameter.nominal_mm / 2
        ends = [self.outline.flat(feature.axis.at(at)) for at in (feature.start_mm, feature.end_mm)]
        (u1, v1), (u2, v2) = ends
        for part in (0.5, 0.25, 0.75):
            u, v = u1 + part * (u2 - u1), v1 + part * (v2 - v1)
            for side in (1, -1):
                yield (u, v + side * r) if abs(v1 - v2) < SAME_MM else (u + side * r, v)

    def _edges(self, ref: str) -> Iterator[Point2]:
        for face in self.outline.faces_of(ref):
            if face.along == self.outline.view.depth:
                continue
            left, low, right, top = self.outline.face_span(face)
            for part in (0.5, 0.25, 0.75, 0.1, 0.9):
                yield left + part * (right - left), low + part * (top - low)

    def _corner(self, ref: str) -> Iterator[Point2]:
        for face in self.outline.faces_of(ref):
            u, v = self.outline.flat(face.at)
            left, low, right, top = self.outline.face_span(face)
            away = ((left + right) / 2 - u, (low + top) / 2 - v)
            long = hypot(*away) or 1.0
            yield u + away[0] / long * face.radius_mm, v + away[1] / long * face.radius_mm

    def _weld(self, weld: f.Weld) -> Iterator[Point2]:
        """Along the edges that two pieces share."""
        one, other = (self._faces_in(name) for name in weld.members)
        for a in one:
            for b in other:
                low = [max(p, q) for p, q in zip(a.box.low, b.box.low, strict=True)]
                high = [min(p, q) for p, q in zip(a.box.high, b.box.high, strict=True)]
                long = [q - p for p, q in zip(low, high, strict=True)]
                if min(long) < -0.01 or sum(x > 1.0 for x in long) != 1:
                    continue
                start = self.outline.flat((low[0], low[1], low[2]))
                end = self.outline.flat((high[0], high[1], high[2]))
                for part in (0.5, 0.25, 0.75, 0.0, 1.0):
                    yield (
                        start[0] + part * (end[0] - start[0]),
                        start[1] + part * (end[1] - start[1]),
                    )

        yield from self._meeting(weld)

    def _meeting(self, weld: f.Weld) -> Iterator[Point2]:
        """Round the place where two pieces meet, for where no edge of it is left of both."""
        joined = self.outline.scheme.subject.joined
        assert joined is not None
        boxes = [m.blank.box.placed(m.frame) for m in joined.members if m.name in weld.members]
        if len(boxes) < 2:
            return
        low = [max(a, b) for a, b in zip(boxes[0].low, boxes[1].low, strict=True)]
        high = [min(a, b) for a, b in zip(boxes[0].high, boxes[1].high, strict=True)]
        (u1, v1), (u2, v2) = (
            self.outline.flat((low[0], low[1], low[2])),
            self.outline.flat((high[0], high[1], high[2])),
        )
        for curve in self.outline.seen.curves:
            for point in reach_of(curve):
                inside = min(u1, u2) - 1 < point[0] < max(u1, u2) + 1
                if inside and min(v1, v2) - 1 < point[1] < max(v1, v2) + 1 and not curve.hidden:
                    yield point

    def _faces_in(self, member: str) -> list[Face]:
        found = self.outline.scheme.claims
        return [
            found.faces[n]
            for s, ns in found.of.items()
            if s.carrier == member or s.carrier.startswith(f"{member}/")
            for n in ns
        ]


def _on(point: Point2, curve: Curve) -> bool:
    match curve:
        case Line(start, end):
            return _on_line(point, start, end)
        case Polyline(points):
            return any(_on_line(point, a, b) for a, b in zip(points, points[1:], strict=False))
        case Arc((u, v), r, start, end):
            if abs(dist(point, (u, v)) - r) > ON_MM:
                return False
            deg = degrees(atan2(point[1] - v, point[0] - u)) % 360
            return any(start - 0.5 <= deg + turn <= end + 0.5 for turn in (0, 360))
    return False


def _on_line(point: Point2, start: Point2, end: Point2) -> bool:
    long = dist(start, end)
    if long < 1e-9:
        return False
    du, dv = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    run = (point[0] - start[0]) * du + (point[1] - start[1]) * dv
    off = abs((point[0] - start[0]) * dv - (point[1] - start[1]) * du)
    return off < ON_MM and -ON_MM < run < long + ON_MM
