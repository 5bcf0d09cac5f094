"""Where a call-out's arrow ends: places on drawn edges of the feature it speaks of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import product
from math import atan2, cos, degrees, dist, hypot, inf, radians, sin
from typing import Any, NamedTuple

from msgspec import Struct

from parts import features as f
from parts.places import SAME_MM, surface
from planner.drawing.joints import PARTS, run
from planner.drawing.outline import ON_MM, Outline, middle_of
from planner.geometry.curves import Arc, Curve, Line, Point2, Polyline

DRESSED_MM = 6.0
"""A weld that is dressed off is pointed at by an edge so near, of the model."""

ALONG = (0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95)
"""Where along an edge it is tried to point at."""

ROUND_DEG = (45, 135, 225, 315, 20, 160, 200, 340, 70, 110, 250, 290)
BALL_DEG = (45, 135, 225, 315, 60, 120, 30, 150)
"""Where round a hole seen end-on, and round a ball."""

RIM_PARTS = (0.5, 0.25, 0.75)
EDGE_PARTS = (0.5, 0.25, 0.75, 0.1, 0.9)
"""Where along a rim seen from beside, and along a face of what was taken away."""

SCRIBED = 0.6
"""How far out of its middle a scribed line is pointed at, if not there."""


class Spot(NamedTuple):
    """A place on a drawn edge. away_deg: away from the metal, None where a circle is seen; seen: it is
    no hidden edge; start: of the line that carries the edge on to there, None on the edge itself."""

    at: Point2
    away_deg: float | None
    seen: bool
    start: Point2 | None = None


class Pointing(Struct, eq=False, dict=True):
    """The places of one view that leaders may point at."""

    outline: Outline

    def targets(self, name: str) -> list[Point2]:
        """Places on drawn edges of a feature that a leader may point at, the best first."""
        subject = self.outline.scheme.subject
        every = {x.name: x for x in subject.features}
        if name in every:
            places = list(self._places(every[name]))
        else:
            places = list(self._turned(f"{name}:axis"))
        for curves in (self._visible, self.outline.seen.curves):
            on = [p for p in places if any(_on(p, c) for c in curves)]
            if on:
                return on
        return places

    def shown(self, name: str) -> tuple[list[Point2], list[Point2]]:
        """Places of a feature on edges that are seen, and on hidden ones."""
        places = self.targets(name)
        subject = self.outline.scheme.subject
        if any(x.name == name and isinstance(x, f.SawnNotch) for x in subject.features):
            for letter, (side, into) in product("xyz", (("low", 1), ("high", -1))):
                places += self._edges(f"{name}:{letter}-{side}", into)
        seen = [p for p in places if any(_on(p, c) for c in self._visible)]
        hidden = [p for p in places if any(_on(p, c) for c in self.outline.seen.curves)]
        return seen, [p for p in hidden if p not in seen]

    def welded(self, weld: f.Weld) -> tuple[list[Point2], list[Point2]]:
        """Places of a weld on drawn edges, and on those nearest to it where it is dressed off."""
        places = list(map(self.outline.flat, run(self.outline.scheme.subject, weld)))
        if weld.all_round and places:  # from beside, only where it is on the outline
            middle = [sum(p[k] for p in places) / len(places) for k in (0, 1)]
            out = [hypot(p[0] - middle[0], p[1] - middle[1]) for p in places]
            places = [p for p, far in zip(places, out, strict=True) if far > max(out) - ON_MM]
        on = [p for p in places if any(_on(p, c) for c in self._visible)]
        near = [_nearest(p, self._visible) for p in places]
        return on, [q for q, far in near if far < DRESSED_MM]

    @cached_property
    def _visible(self) -> list[Curve]:
        extra = [c for part in self.outline.thread_lines() for c in part] + self.outline.marked()
        return [c for c in self.outline.seen.curves if not c.hidden] + extra

    def spots(self, ref: str) -> list[Spot]:
        """Places of a surface on drawn edges, and which way the metal's outside is there."""
        carrier, element = surface(ref)
        subject = self.outline.scheme.subject
        if element == "axis":
            turned = isinstance(subject.carriers[carrier][0], f.Turned)
            return [
                self._spot(p, self._outside(ref, p) if turned else None)
                for p in self.targets(carrier)
            ]
        found = []
        faces = self.outline.faces_of(ref)
        for face in faces:
            if face.along == self.outline.view.depth:
                continue
            normal = [0.0, 0.0, 0.0]
            normal[face.along] = face.outward
            u, v = self.outline.flat((normal[0], normal[1], normal[2]))
            way = degrees(atan2(v, u)) % 360
            left, low, right, top = self.outline.face_span(face)
            for part in ALONG:
                p = (left + part * (right - left), low + part * (top - low))
                if any(_on(p, c) for c in self.outline.seen.curves):
                    found.append(self._spot(p, round(way)))
        if not faces:
            way = 1.0 if element.endswith("high") else -1.0
            place = subject.place(ref)
            normal = [0.0, 0.0, 0.0]
            normal[place.along] = way
            u, v = self.outline.flat((normal[0], normal[1], normal[2]))
            for line in self.outline.lost(ref):
                for part in ALONG:
                    (a, b), (c, d) = line.start, line.end
                    p = (a + part * (c - a), b + part * (d - b))
                    found.append(Spot(p, round(degrees(atan2(v, u)) % 360), True))
        return found

    def beyond(self, ref: str, off: Sequence[float]) -> Iterator[Spot]:
        """Places so far beyond the outline on the line that carries a plane on."""
        outline = self.outline
        place = outline.scheme.subject.place(ref)
        if place.kind != "plane" or place.along == outline.view.depth:
            return
        u, v = outline.flat(place.at)
        left, low, right, top = outline.span
        for far in off:
            if place.along == outline.view.across:
                ends = ((u, low), (u, low - far)), ((u, top), (u, top + far))
                ways = (180.0, 0.0)
            else:
                ends = ((left, v), (left - far, v)), ((right, v), (right + far, v))
                ways = (270.0, 90.0)
            for start, at in ends:
                for way in ways:
                    yield Spot(at, way, True, start)

    def _spot(self, p: Point2, away: float | None) -> Spot:
        return Spot(p, away, any(_on(p, c) for c in self._visible))

    def _outside(self, ref: str, p: Point2) -> float | None:
        """Straight away from its axis, of a place on the outline of what is turned."""
        place = self.outline.scheme.subject.place(ref)
        u, v = self.outline.flat(place.at)
        if place.along == self.outline.view.across:
            return 90.0 if p[1] > v else 270.0
        if place.along == self.outline.view.upright:
            return 0.0 if p[0] > u else 180.0
        return None

    def _places(self, feature: Any) -> Iterator[Point2]:
        axis_ref = f"{feature.name}:axis"
        if isinstance(feature, f.Hole):
            j = "xyz".index(feature.axis.along[1])
            if j == self.outline.view.depth:
                u, v = self.outline.flat(feature.axis.origin)
                r = self._radius(axis_ref)
                for deg in ROUND_DEG:
                    yield u + r * cos(radians(deg)), v + r * sin(radians(deg))
            else:
                yield from self._turned(axis_ref)
        elif isinstance(feature, f.Thread):
            yield from self._turned(axis_ref, feature)
        elif isinstance(feature, f.FacedShoulder):
            places = list(self._edges(f"{feature.name}:start"))
            u, v = self.outline.flat(feature.axis.origin)
            r = feature.diameter.nominal_mm / 2  # its plane may go on beyond what is faced
            level = "xyz".index(feature.axis.along[1]) == self.outline.view.across
            yield from [p for p in places if abs(p[1] - v if level else p[0] - u) <= r] or places
        elif isinstance(feature, f.TurnedBall):
            yield from self._ball(axis_ref)
        elif isinstance(feature, f.IndexMark):
            lines = self.outline.indexed(feature)
            for line, part in product(lines, RIM_PARTS):
                (a, b), (c, d) = line.start, line.end
                yield a + part * (c - a), b + part * (d - b)
            if not lines:  # elsewhere on the rim an arrow says that the line stands there
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
                u, v = (m + SCRIBED * (e - m) for m, e in zip(middle, end, strict=True))
                yield u, v
        elif isinstance(feature, f.Removed):
            letters = "xyz"
            if isinstance(feature, f.MilledFlat):  # the face itself, not what it runs out on
                sizes = feature.box.size()
                letters = "xyz"[sizes.index(min(sizes))]
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
            for part in PARTS:
                for side in (1, -1):
                    if one.place.along == self.outline.view.across:
                        yield span[0] + part * (span[2] - span[0]), v + side * r
                    elif one.place.along == self.outline.view.upright:
                        yield u + side * r, span[1] + part * (span[3] - span[1])

    def _ball(self, ref: str) -> Iterator[Point2]:
        one = next(s for s in self.outline.scheme.claims.of if s.name == ref)
        for face in self.outline.faces_of(ref):
            u, v = self.outline.flat(face.at)
            for deg in BALL_DEG:
                yield u + one.radius_mm * cos(radians(deg)), v + one.radius_mm * sin(radians(deg))

    def _rim(self, feature: Any) -> Iterator[Point2]:
        r = feature.diameter.nominal_mm / 2
        ends = [self.outline.flat(feature.axis.at(at)) for at in (feature.start_mm, feature.end_mm)]
        (u1, v1), (u2, v2) = ends
        for part in RIM_PARTS:
            u, v = u1 + part * (u2 - u1), v1 + part * (v2 - v1)
            for side in (1, -1):
                yield (u, v + side * r) if abs(v1 - v2) < SAME_MM else (u + side * r, v)

    def _edges(self, ref: str, into: int = 0) -> Iterator[Point2]:
        """Along faces seen from beside; into: those alone whose outside is that way."""
        for face in self.outline.faces_of(ref):
            if face.along == self.outline.view.depth or into not in (0, face.outward):
                continue
            left, low, right, top = self.outline.face_span(face)
            for part in EDGE_PARTS:
                yield left + part * (right - left), low + part * (top - low)

    def _corner(self, ref: str) -> Iterator[Point2]:
        for face in self.outline.faces_of(ref):
            u, v = self.outline.flat(face.at)
            left, low, right, top = self.outline.face_span(face)
            away = ((left + right) / 2 - u, (low + top) / 2 - v)
            long = hypot(*away) or 1.0
            yield u + away[0] / long * face.radius_mm, v + away[1] / long * face.radius_mm


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
    if not long:
        return False
    du, dv = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    run = (point[0] - start[0]) * du + (point[1] - start[1]) * dv
    off = abs((point[0] - start[0]) * dv - (point[1] - start[1]) * du)
    return off < ON_MM and -ON_MM < run < long + ON_MM


def _nearest(point: Point2, curves: Sequence[Curve]) -> tuple[Point2, float]:
    """The nearest point of the straight lines among some curves, and how far it is."""
    best = (point, inf)
    for curve in curves:
        if not isinstance(curve, Line):
            continue
        long = dist(curve.start, curve.end)
        if not long:
            continue
        du, dv = (curve.end[0] - curve.start[0]) / long, (curve.end[1] - curve.start[1]) / long
        run_on = (point[0] - curve.start[0]) * du + (point[1] - curve.start[1]) * dv
        run_on = min(max(run_on, 0.0), long)
        on = (curve.start[0] + run_on * du, curve.start[1] + run_on * dv)
        if dist(on, point) < best[1]:
            best = (on, dist(on, point))
    return best
