"""What a view shows besides what is seen of the solid: centre lines, threads, places to point at.

Everything is in mm of the model as the view sees it, to the right and up of the part's origin.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from math import cos, dist, pi, radians, sin

from msgspec import Struct

from parts import features as f
from parts.blank import Stock
from parts.frame import Point
from parts.places import SAME_MM, surface
from parts.standard.threads import thread
from planner.drawing.choose import View
from planner.drawing.relations import vanished
from planner.drawing.scheme import Scheme, position
from planner.drawing.stations import Surface
from planner.geometry.curves import Arc, Curve, Line, Point2, Polyline
from planner.solids.faces import Face
from planner.solids.seen import Seen, onto, section, seen

ON_MM = 0.02
"""What is meant to lie on a drawn curve lies on it within this."""

Span = tuple[float, float, float, float]
"""left, low, right, top."""


class Outline(Struct, eq=False, dict=True):
    """One view of one scheme."""

    scheme: Scheme
    view: View

    @cached_property
    def seen(self) -> Seen:
        """What is seen of the solid there."""
        subject = self.scheme.subject
        thing = subject.member or subject.part
        if self.view.at_mm is None:
            return seen(thing, self.view.side)
        return section(thing, self.view.side, self.view.at_mm)

    @cached_property
    def span(self) -> Span:
        """The rectangle round what is seen."""
        points = [p for c in self.seen.curves for p in reach_of(c)]
        us, vs = zip(*points, strict=True)
        return min(us), min(vs), max(us), max(vs)

    def flat(self, point: Point) -> Point2:
        """A point as it is seen."""
        return onto(self.view.side, point)

    def coordinate(self, ref: str, direction: int) -> float:
        """Where a station lies in the view along a direction of the model."""
        value = position(self.scheme.subject, ref, direction)
        point = [0.0, 0.0, 0.0]
        point[direction] = value
        u, v = self.flat((point[0], point[1], point[2]))
        return u if direction == self.view.across else v

    def faces_of(self, ref: str) -> list[Face]:
        """The faces of a station."""
        found = self.scheme.claims
        numbers = dict.fromkeys(n for s, ns in found.of.items() if s.name == ref for n in ns)
        return [found.faces[n] for n in numbers]

    def face_span(self, face: Face) -> Span:
        """The rectangle round a face as it is seen."""
        (u1, v1), (u2, v2) = self.flat(face.box.low), self.flat(face.box.high)
        return min(u1, u2), min(v1, v2), max(u1, u2), max(v1, v2)

    def reach(self, ref: str, direction: int) -> tuple[float, float]:
        """From where to where a station runs across the direction it is measured in."""
        spans = [self.face_span(face) for face in self.faces_of(ref)]
        if not spans:
            carrier = surface(ref)[0]
            spans = [
                self.face_span(self.scheme.claims.faces[n])
                for s, ns in self.scheme.claims.of.items()
                if s.carrier == carrier
                for n in ns
            ] or [self.span]
        if direction == self.view.across:
            return min(s[1] for s in spans), max(s[3] for s in spans)
        return min(s[0] for s in spans), max(s[2] for s in spans)

    # ---- drawn by convention ----

    def rounds(self) -> Iterator[tuple[Surface, list[Face]]]:
        """Every round surface with the faces of it, one for all surfaces of one face."""
        taken: set[int] = set()
        found = self.scheme.claims
        for one, numbers in reversed(found.of.items()):
            own = [n for n in numbers if n not in taken]
            if one.form in ("cylinder", "sphere") and one.element == "axis" and own:
                taken.update(own)
                yield one, [found.faces[n] for n in own]

    def centre_lines(self, over: float) -> list[Line]:
        """Centre lines of all that is round, ``over`` beyond it; a cross where it is seen end-on."""
        lines: dict[tuple[float, ...], Line] = {}
        runs: dict[tuple[str, float], list[tuple[float, float]]] = {}
        for one, faces in self.rounds():
            span = _around([self.face_span(face) for face in faces])
            u, v = self.flat(faces[0].at if one.form == "sphere" else one.place.at)
            if one.place.along == self.view.depth or one.form == "sphere":
                r = one.radius_mm + over
                runs.setdefault(("u", round(v, 4)), []).append((u - r, u + r))
                runs.setdefault(("v", round(u, 4)), []).append((v - r, v + r))
            elif self.view.at_mm is not None and not self._in_cut(one):
                continue
            elif one.place.along == self.view.across:
                runs.setdefault(("u", round(v, 4)), []).append((span[0] - over, span[2] + over))
            else:
                runs.setdefault(("v", round(u, 4)), []).append((span[1] - over, span[3] + over))
        for (way, at), spans in runs.items():
            for low, high in _merged(spans):
                ends = ((low, at), (high, at)) if way == "u" else ((at, low), (at, high))
                lines[(*ends[0], *ends[1])] = Line(*ends)
        return list(lines.values())

    def _in_cut(self, one: Surface) -> bool:
        depth = self.view.depth
        assert self.view.at_mm is not None
        return abs(one.place.at[depth] - self.view.at_mm) < SAME_MM

    def thread_lines(self) -> tuple[list[Curve], list[Line]]:
        """Thin thread lines, and the wide line that ends a thread (ISO 6410-1, from memory)."""
        thin: list[Curve] = []
        wide: list[Line] = []
        for name, (feature, _) in self.scheme.subject.carriers.items():
            own = feature in self.scheme.subject.features
            if isinstance(feature, f.Thread) and own:
                self._outer(feature, thin, wide)
            elif isinstance(feature, f.TappedHole) and own and self.faces_of(f"{name}:axis"):
                self._inner(feature, thin)
        return thin, wide

    def _outer(self, feature: f.Thread, thin: list[Curve], wide: list[Line]) -> None:
        size = thread(feature.thread)
        minor, major = size.minor_external_mm / 2, size.major_mm / 2
        if "xyz".index(feature.axis.along[1]) == self.view.depth:
            return
        (u1, v1), (u2, v2) = (
            self.flat(feature.axis.at(at)) for at in (feature.start_mm, feature.end_mm)
        )
        level = abs(v1 - v2) < SAME_MM
        for side in (-1, 1):
            du, dv = (0.0, side * minor) if level else (side * minor, 0.0)
            thin.append(Line((u1 + du, v1 + dv), (u2 + du, v2 + dv)))
        for u, v in ((u1, v1), (u2, v2)):
            du, dv = (0.0, major) if level else (major, 0.0)
            wide.append(Line((u - du, v - dv), (u + du, v + dv)))

    def _inner(self, feature: f.TappedHole, thin: list[Curve]) -> None:
        size = thread(feature.thread)
        major = size.major_mm / 2
        axis = feature.axis
        if "xyz".index(axis.along[1]) == self.view.depth:
            centre = self.flat(axis.origin)
            if self._drawn_circle(centre, size.tap_drill_mm / 2):
                thin.append(Arc(centre, major, 10.0, 280.0))
            return
        if self.view.at_mm is None or abs(axis.origin[self.view.depth] - self.view.at_mm) > SAME_MM:
            return
        face = _around([self.face_span(x) for x in self.faces_of(f"{feature.name}:axis")])
        (u1, v1), (u2, v2) = self.flat(axis.origin), self.flat(axis.at(feature.depth_mm))
        if abs(v1 - v2) < SAME_MM:
            u1, u2 = sorted((max(min(u1, u2), face[0]), min(max(u1, u2), face[2])))
            thin += [Line((u1, v1 + d), (u2, v1 + d)) for d in (-major, major)]
        else:
            v1, v2 = sorted((max(min(v1, v2), face[1]), min(max(v1, v2), face[3])))
            thin += [Line((u1 + d, v1), (u1 + d, v2)) for d in (-major, major)]

    def _drawn_circle(self, centre: Point2, radius: float) -> bool:
        return any(
            isinstance(c, Arc)
            and not c.hidden
            and dist(c.centre, centre) < ON_MM
            and abs(c.radius_mm - radius) < ON_MM
            for c in self.seen.curves
        )

    def lost(self, ref: str = "") -> list[Line]:
        """Faces that a datum names and a later cut takes away: where they were, as phantom lines.

        ref: of one of them only.
        """
        subject = self.scheme.subject
        lines = []
        for relation in vanished(subject, self.scheme.claims):
            place = subject.place(relation.one)
            carrier = subject.carriers[surface(relation.one)[0]][0]
            if place.along == self.view.depth or ref not in ("", relation.one):
                continue
            blank = getattr(carrier, "blank", carrier)
            assert isinstance(blank, Stock)
            half = blank.section.width_mm / 2
            u, v = self.flat(place.at)
            if place.along == self.view.across:
                lines.append(Line((u, v - half), (u, v + half)))
            else:
                lines.append(Line((u - half, v), (u + half, v)))
        return lines

    def _knurled(self, knurl: f.Knurl) -> Iterator[Line]:
        """The grooves of a straight knurl on the side that one looks at."""
        radius = knurl.diameter.nominal_mm / 2
        count = round(2 * pi * radius / knurl.pitch_mm)
        (u1, v1), (u2, v2) = (self.flat(knurl.axis.at(at)) for at in (knurl.start_mm, knurl.end_mm))
        for k in range(count):
            turn = 2 * pi * (k + 0.5) / count
            off = radius * sin(turn)
            if cos(turn) > 0.25:  # nearer to the outline they would run together
                level = abs(v1 - v2) < SAME_MM
                du, dv = (0.0, off) if level else (off, 0.0)
                yield Line((u1 + du, v1 + dv), (u2 + du, v2 + dv))

    def marked(self) -> list[Line]:
        """Index marks, scribed lines and knurls, which the solid is drawn without."""
        lines: list[Line] = []
        for feature in self.scheme.subject.features:
            if isinstance(feature, f.Knurl):
                beside = "xyz".index(feature.axis.along[1]) != self.view.depth
                if beside and self.view.at_mm is None:
                    lines += self._knurled(feature)
                continue
            if isinstance(feature, f.ScribedLine):
                size = feature.box.size()
                i = size.index(max(size))
                low, high = (list(middle_of(feature.box.low, feature.box.high)) for _ in (0, 1))
                low[i], high[i] = feature.box.low[i], feature.box.high[i]
                ends = (low, high)
            elif isinstance(feature, f.IndexMark):
                lines += self.indexed(feature)
                continue
            else:
                continue
            lines += self._toward(*ends)
        return lines

    def indexed(self, mark: f.IndexMark) -> list[Line]:
        """The line of an index mark, where this view shows its side."""
        if mark.axis.along[1] != "x":
            return []
        turn, r = radians(mark.angle_deg), mark.diameter.nominal_mm / 2
        y, z = -r * sin(turn), r * cos(turn)
        if self.view.depth == 0:
            return self._toward([0.0, 0.85 * y, 0.85 * z], [0.0, y, z])
        return self._toward([mark.start_mm, y, z], [mark.end_mm, y, z])

    def _toward(self, one: list[float], other: list[float]) -> list[Line]:
        """A line between two points, none where it is seen as a point or lies on the far side."""
        start, end = (self.flat((p[0], p[1], p[2])) for p in (one, other))
        towards = sum(a * b for a, b in zip(self.view.towards, other, strict=True))
        shown = dist(start, end) > SAME_MM and towards > -SAME_MM
        return [Line(start, end)] if shown else []


def middle_of(low: Point, high: Point) -> Point:
    """The point halfway between two."""
    return ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2)


def _around(spans: Sequence[Span]) -> Span:
    lefts, lows, rights, tops = zip(*spans, strict=True)
    return min(lefts), min(lows), max(rights), max(tops)


def _merged(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    out: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if out and low <= out[-1][1] + ON_MM:
            out[-1] = (out[-1][0], max(out[-1][1], high))
        else:
            out.append((low, high))
    return out


def reach_of(curve: Curve) -> Iterator[Point2]:
    """Points of a curve that reach as far as it does."""
    match curve:
        case Line(start, end):
            yield start
            yield end
        case Polyline(points):
            yield from points
        case Arc((u, v), r, start, end):
            for deg in (start, end, *(q for q in range(0, 721, 90) if start < q < end)):
                yield u + r * cos(radians(deg)), v + r * sin(radians(deg))
