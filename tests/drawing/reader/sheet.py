"""A sheet with its views, its words and its exact places: every number tied to what it belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, dist
from pathlib import Path

from ezdxf.document import Drawing

from . import numbers as n
from .ink import Ink, Measure, Round, Straight, Unreadable, read
from .places import Places
from .views import SAME_MM, View, coordinates, views
from .words import Said, said

ON_PAPER_MM = 0.06
"""An arrow ends on a line that it is nearer to than this, on the paper."""

GUESS_MM = 0.3
"""What is drawn for a number in words is found by the number's own size, this near."""


@dataclass
class Diameter:
    """A printed diameter across an axis of a view. k: the view's axis it is measured along."""

    view: View
    k: int
    middle: float
    drawn: float
    size: n.Size


class Sheet:
    """What a reader knows of a sheet before any solid."""

    def __init__(self, path: Path | Drawing) -> None:
        self.ink: Ink = read(path)
        self.views = views(self.ink)
        self.places = Places()
        self.diameters: list[Diameter] = []
        self.angles: list[Measure] = []
        self.calls: list[tuple[Said, View]] = []
        for view in self.views:
            for k in (0, 1):
                for at in coordinates(view, k):
                    self.places.node(view.axes[k], at)
                if not view.cut or len(self.views) == 1:
                    self.places.reach(view.axes[k], *view.span(k))
        for call in self.ink.calls:
            words = said(call, self.ink.unit)
            view = min(self.views, key=lambda v: v.away(call.tip))
            self.calls.append((words, view))
        for measure in self.ink.measures:
            self._measured(measure)
        for words, view in self.calls:
            self._called(words, view)

    # ---- numbers to places ----

    def _measured(self, m: Measure) -> None:
        if m.size.angle:
            self.angles.append(m)
            return
        view = min(self.views, key=lambda v: sum(v.away(f) for f in m.feet))
        k = 1 if abs(m.angle % 180 - 90) < 1 else 0
        one, other = (view.at(f)[k] for f in m.feet)
        if abs(abs(other - one) - m.size.value) > GUESS_MM:
            raise Unreadable(f"{m.text!r} is drawn {abs(other - one):.3f} long: not to scale")
        if m.size.sign == "Ø":
            self._across(view, k, (one + other) / 2, abs(other - one) / 2, m.size)
        elif m.size.sign == "":
            self.places.link(view.axes[k], one, other, m.size.value)
        else:
            raise Unreadable(f"dimension {m.text!r}")

    def _across(
        self, view: View, k: int, middle: float, half: float, size: n.Size, hole: bool = False
    ) -> None:
        if not hole:
            self.diameters.append(Diameter(view, k, middle, half, size))
        axis = view.axes[k]
        for way in (-1, 1):
            self.places.link(axis, middle, middle + way * half, size.value / 2)

    def _called(self, words: Said, view: View) -> None:
        tip = view.at(words.call.tip)
        size = words.diameter
        if words.reference is not None:
            self._referred(words, view, words.reference.value / 2)
        if size is not None:
            ring = self.ring(view, tip, None if words.thread else size.value / 2)
            if ring is not None:
                for one in self.alike(words, view, ring):
                    for k in (0, 1):
                        axis, c = view.axes[k], one.centre[k]
                        for way in (-1, 1):
                            if self._reaches(one, k, way, view):
                                self.places.link(axis, c, c + way * one.radius, size.value / 2)
                if words.kind == "ball":
                    self.diameters.append(Diameter(view, -1, 0.0, ring.radius, size))
            else:
                pair = self.pair(view, tip, size.value / 2)
                if pair is None:
                    raise Unreadable(f"{words.call.lines}: the arrow ends on nothing round")
                k, middle, half, _, _ = pair
                self._across(view, k, middle, half, size, hole=words.hole)
        if words.kind == "fillet":
            ring = self.ring(view, tip, None)
            drawn = [
                r
                for r in view.circles("VISIBLE", whole=False)
                if ring is not None and not r.whole and abs(r.radius - ring.radius) < SAME_MM
            ]
            if len(drawn) != words.count:
                raise Unreadable(f"{words.call.lines}: {len(drawn)} are drawn")
        for length in (words.length, words.face_off):
            if length is not None:
                self._lengthwise(words, view, length)
        if words.width is not None:
            self._widthwise(words, view)

    def _referred(self, words: Said, view: View, half: float) -> None:
        """A size of another sheet makes no place, but what its arrow ends on is drawn so large."""
        tip = view.at(words.call.tip)
        if self.ring(view, tip, half) is None and self.pair(view, tip, half) is None:
            raise Unreadable(f"{words.call.lines}: nothing at the arrow is drawn so large")

    @staticmethod
    def _reaches(ring: Round, k: int, way: int, view: View) -> bool:
        """Whether an arc is drawn where it lies furthest along an axis."""
        if ring.whole:
            return True
        at = {(0, 1): 0, (0, -1): 180, (1, 1): 90, (1, -1): 270}[(k, way * view.signs[k])]
        return any(ring.start - 0.5 <= at + turn <= ring.end + 0.5 for turn in (0, 360))

    # ---- what an arrow ends on ----

    def ring(self, view: View, tip: tuple[float, float], radius: float | None) -> Round | None:
        """The circle or arc that an arrow ends on, of several that of the radius in words."""
        near = [
            r
            for r in view.circles("VISIBLE", "HIDDEN", whole=False)
            if abs(dist(r.centre, tip) - r.radius) < ON_PAPER_MM / view.scale
            and self._drawn_at(r, tip, view)
        ]
        if radius is not None:
            near = [r for r in near if abs(r.radius - radius) < GUESS_MM]
        by = radius if radius is not None else 0.0
        return min(near, key=lambda r: (abs(r.radius - by), r.layer == "HIDDEN"), default=None)

    @staticmethod
    def _drawn_at(ring: Round, tip: tuple[float, float], view: View) -> bool:
        if ring.whole:
            return True
        su, sv, _ = view.signs
        turn = degrees(atan2(sv * (tip[1] - ring.centre[1]), su * (tip[0] - ring.centre[0])))
        return any(ring.start - 1 <= turn + by <= ring.end + 1 for by in (0, 360, 720))

    def alike(self, words: Said, view: View, ring: Round) -> list[Round]:
        """As many circles as the words speak of: drawn alike in the same view."""
        if words.count == 1:
            return [ring]
        others = [
            r
            for r in view.circles(ring.layer)
            if abs(r.radius - ring.radius) < SAME_MM and dist(r.centre, ring.centre) > SAME_MM
        ]
        if len(others) != words.count - 1:
            raise Unreadable(f"{words.call.lines}: {len(others) + 1} are drawn")
        return [ring, *others]

    def touched(self, view: View, tip: tuple[float, float]) -> list[Straight]:
        """Edges of the part that an arrow ends on."""
        by = ON_PAPER_MM / view.scale
        return [s for s in view.lines("VISIBLE", "HIDDEN") if _off(s, tip) < by]

    def pair(
        self, view: View, tip: tuple[float, float], half: float
    ) -> tuple[int, float, float, float, float] | None:
        """Two edges either side of a centre line, one of them at the arrow.

        Gives the view's axis across them, the middle, half their distance, and how far they run.
        """
        found = []
        for s in self.touched(view, tip):
            k = 1 if s.level else 0
            if not (s.level or s.upright):
                continue
            for c in view.lines("CENTER"):
                if (c.level, c.upright) != (s.level, s.upright):
                    continue
                off = s.a[k] - c.a[k]
                mate = [
                    o
                    for o in view.lines("VISIBLE", "HIDDEN")
                    if (o.level, o.upright) == (s.level, s.upright)
                    and abs(o.a[k] - c.a[k] + off) < SAME_MM
                    and _overlap(o, s, 1 - k) > 0
                ]
                if mate and abs(abs(off) - half) < GUESS_MM and _overlap(c, s, 1 - k) > 0:
                    ends = sorted((s.a[1 - k], s.b[1 - k]))
                    found.append((abs(abs(off) - half), (k, c.a[k], abs(off), *ends)))
        return min(found)[1] if found else None

    # ---- lengths and widths in words ----

    def _lengthwise(self, words: Said, view: View, length: float) -> None:
        """A length in words: between two drawn ends, the arrow between them or at one."""
        tip = view.at(words.call.tip)
        lines = [s for s in self.touched(view, tip) if s.level or s.upright]
        face = words.face_off is not None
        best: list[tuple[float, float, int, float, float]] = []
        for s in lines:
            k = 0 if s.level != face else 1
            drawn = sorted(coordinates(view, k))
            for i, a in enumerate(drawn):
                for b in drawn[i + 1 :]:
                    off = abs(b - a - length)
                    if off < GUESS_MM and a - SAME_MM <= tip[k] <= b + SAME_MM:
                        thin = self._thin_between(view, k, a, b)
                        best.append((0.0 if thin else 1.0, off, k, a, b))
        if best:
            _, _, k, a, b = min(best)
            self.places.link(view.axes[k], a, b, length)
        elif words.kind != "knurl":
            raise Unreadable(f"{words.call.lines}: nothing is drawn so long")

    @staticmethod
    def _thin_between(view: View, k: int, a: float, b: float) -> bool:
        return any(
            abs(min(s.a[k], s.b[k]) - a) < SAME_MM and abs(max(s.a[k], s.b[k]) - b) < SAME_MM
            for s in view.lines("THIN")
        )

    def slot(self, words: Said, view: View) -> tuple[int, float, float, Straight, Straight]:
        """The two edges of a slot: the axis across it, where they lie, and they."""
        tip = view.at(words.call.tip)
        assert words.width is not None
        best = []
        for s in self.touched(view, tip):
            if not (s.level or s.upright):
                continue
            k = 1 if s.level else 0
            for o in view.lines("VISIBLE", "HIDDEN"):
                if (o.level, o.upright) != (s.level, s.upright):
                    continue
                off = abs(abs(o.a[k] - s.a[k]) - words.width.value)
                if off < GUESS_MM and _overlap(o, s, 1 - k) > 0:
                    best.append((off, k, s.a[k], o.a[k], s, o))
        if not best:
            raise Unreadable(f"{words.call.lines}: no slot at the arrow")
        _, k, a, b, s, o = min(best, key=lambda one: one[0])
        return k, a, b, s, o

    def _widthwise(self, words: Said, view: View) -> None:
        """A width lies about its middle, wherever that is said to be."""
        k, a, b, _, _ = self.slot(words, view)
        assert words.width is not None
        middle = (a + b) / 2
        for side in (a, b):
            self.places.link(view.axes[k], middle, side, words.width.value / 2)


def _off(s: Straight, p: tuple[float, float]) -> float:
    (x1, y1), (x2, y2) = s.a, s.b
    long = dist(s.a, s.b)
    if long < 1e-9:
        return dist(s.a, p)
    t = max(0.0, min(1.0, ((p[0] - x1) * (x2 - x1) + (p[1] - y1) * (y2 - y1)) / long**2))
    return dist(p, (x1 + t * (x2 - x1), y1 + t * (y2 - y1)))


def _overlap(one: Straight, other: Straight, k: int) -> float:
    low = max(min(one.a[k], one.b[k]), min(other.a[k], other.b[k]))
    high = min(max(one.a[k], one.b[k]), max(other.a[k], other.b[k]))
    return high - low
