"""Which strokes make a view, and which way each view looks: by the sign of projection and their places.

The space of a reading: X to the right and Y upward in the main view, Z toward its viewer.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import cos, radians, sin

from .ink import Ink, Point, Round, Straight, Unreadable

PART_LAYERS = ("VISIBLE", "HIDDEN")
SAME_MM = 2e-3
"""Nearer on the part than this, two lines of a drawing are one."""

ROLES: dict[str, tuple[tuple[int, int], tuple[int, int], tuple[int, int]]] = {
    # from where one looks: space axis and sense of the paper's x, of its y, and towards the viewer
    "": ((0, 1), (1, 1), (2, 1)),
    "top": ((0, 1), (2, -1), (1, 1)),
    "bottom": ((0, 1), (2, 1), (1, -1)),
    "left": ((2, 1), (1, 1), (0, -1)),
    "right": ((2, -1), (1, 1), (0, 1)),
}
BESIDE = {"above": "bottom", "below": "top", "left": "right", "right": "left"}
"""From where a view beside the main one is seen, in first-angle projection (ISO 5456-2)."""

Box = tuple[float, float, float, float]


@dataclass
class View:
    """One view: its strokes in millimetres of the part, along its own two axes of the space."""

    box: Box
    role: str = ""
    straights: list[Straight] = field(default_factory=list)
    rounds: list[Round] = field(default_factory=list)
    curves: list[tuple[str, tuple[Point, ...]]] = field(default_factory=list)
    scale: float = 1.0
    shift: list[float] = field(default_factory=lambda: [0.0, 0.0])
    cut: bool = False

    @property
    def axes(self) -> tuple[int, int, int]:
        u, v, w = ROLES[self.role]
        return u[0], v[0], w[0]

    @property
    def signs(self) -> tuple[int, int, int]:
        u, v, w = ROLES[self.role]
        return u[1], v[1], w[1]

    def at(self, p: Point) -> Point:
        """A point of the paper along the view's two axes of the space, mm, as drawn."""
        su, sv, _ = self.signs
        return (su * p[0] / self.scale + self.shift[0], sv * p[1] / self.scale + self.shift[1])

    def holds(self, p: Point, by: float = 0.0) -> bool:
        left, low, right, top = self.box
        return left - by <= p[0] <= right + by and low - by <= p[1] <= top + by

    def away(self, p: Point) -> float:
        """How far a point of the paper lies from the view's rectangle."""
        left, low, right, top = self.box
        return max(left - p[0], p[0] - right, low - p[1], p[1] - top, 0.0)

    def lines(self, *layers: str) -> list[Straight]:
        """Its straight lines on layers, along its axes of the space."""
        return [
            Straight(s.layer, self.at(s.a), self.at(s.b))
            for s in self.straights
            if s.layer in layers
        ]

    def circles(self, *layers: str, whole: bool = True) -> list[Round]:
        """Circles (or arcs) on layers; an arc's angles are those of the paper."""
        return [
            Round(r.layer, self.at(r.centre), r.radius / self.scale, r.start, r.end)
            for r in self.rounds
            if r.layer in layers and (not whole or r.whole)
        ]

    def span(self, k: int) -> tuple[float, float]:
        """How far what is visible reaches along its first (0) or second (1) axis."""
        one, other = self.at((self.box[0], self.box[1])), self.at((self.box[2], self.box[3]))
        return min(one[k], other[k]), max(one[k], other[k])


def _reach(r: Round) -> Box:
    turns = [r.start, r.end, *(q for q in range(0, 721, 90) if r.start < q < r.end)]
    xs = [r.centre[0] + r.radius * cos(radians(t)) for t in turns]
    ys = [r.centre[1] + r.radius * sin(radians(t)) for t in turns]
    return min(xs), min(ys), max(xs), max(ys)


def _around(points: tuple[Point, ...]) -> Box:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def _join(a: Box, b: Box) -> Box:
    return min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])


def _meet(a: Box, b: Box, by: float = 0.05) -> bool:
    return a[0] <= b[2] + by and b[0] <= a[2] + by and a[1] <= b[3] + by and b[1] <= a[3] + by


def views(ink: Ink) -> list[View]:
    """The views of a sheet, the main one first."""
    boxes = [_around(s.points) for s in ink.straights if s.layer in PART_LAYERS]
    boxes += [_reach(r) for r in ink.rounds if r.layer in PART_LAYERS]
    boxes += [_around(points) for layer, points, _ in ink.curves if layer in PART_LAYERS]
    groups: list[Box] = []
    for box in boxes:
        inside = [g for g in groups if _meet(g, box)]
        while inside:
            for g in inside:
                groups.remove(g)
                box = _join(box, g)
            inside = [g for g in groups if _meet(g, box)]
        groups.append(box)
    found = []
    for box in groups:
        view = View(box, scale=ink.scale)
        view.straights = [s for s in ink.straights if _touches(view, s)]
        view.rounds = [r for r in ink.rounds if view.holds(r.centre, 0.05)]
        view.curves = [(lay, pts) for lay, pts, closed in ink.curves
                       if lay in PART_LAYERS and not closed and view.holds(pts[0], 0.05)]  # fmt: skip
        view.cut = any(
            lay == "VISIBLE" and closed and view.holds(pts[0], 0.05)
            for lay, pts, closed in ink.curves
        )
        if _is_view(view, ink):
            found.append(view)
    if not found:
        raise Unreadable("no view")
    return _placed(found, ink)


def _touches(view: View, s: Straight) -> bool:
    if s.layer in ("CENTER", "PHANTOM"):
        middle = ((s.a[0] + s.b[0]) / 2, (s.a[1] + s.b[1]) / 2)
        return view.holds(middle, 0.05 if s.layer == "CENTER" else 5.0)
    return view.holds(s.a, 0.05) and view.holds(s.b, 0.05)


def _is_view(view: View, ink: Ink) -> bool:
    """Neither the mark of a cut nor a picture that nothing is said of."""
    left, low, right, top = view.box
    if min(right - left, top - low) < 0.5:
        return False
    said = [foot for m in ink.measures for foot in m.feet] + [call.tip for call in ink.calls]
    centred = any(s.layer == "CENTER" for s in view.straights)
    if not centred and not any(view.away(p) < 0.1 for p in said):
        return False
    square = slanted = 0.0
    for s in view.straights:
        if s.layer == "VISIBLE":
            long = abs(s.a[0] - s.b[0]) + abs(s.a[1] - s.b[1])
            if s.level or s.upright:
                square += long
            else:
                slanted += long
    return square >= slanted


def _placed(found: list[View], ink: Ink) -> list[View]:
    def over(a: View, b: View) -> bool:
        return a.box[0] < b.box[2] and b.box[0] < a.box[2]

    def beside(a: View, b: View) -> bool:
        return a.box[1] < b.box[3] and b.box[1] < a.box[3]

    def middle(v: View) -> Point:
        return (v.box[0] + v.box[2]) / 2, (v.box[1] + v.box[3]) / 2

    def total(v: View) -> tuple[int, float]:
        lost = sum(not over(v, o) and not beside(v, o) for o in found)
        far = sum(
            abs(middle(v)[0] - middle(o)[0]) + abs(middle(v)[1] - middle(o)[1]) for o in found
        )
        return lost, far

    main = min(found, key=total)
    used = {""}
    out = [main]
    for view in found:
        if view is main:
            continue
        if over(main, view):
            where = "above" if middle(view)[1] > middle(main)[1] else "below"
        elif beside(main, view):
            where = "right" if middle(view)[0] > middle(main)[0] else "left"
        else:
            continue  # beside every view: no projection of the main one
        flip = {"above": "below", "below": "above", "left": "right", "right": "left"}
        view.role = BESIDE[where if ink.first_angle else flip[where]]
        if view.role in used:
            raise Unreadable("two views from one side")
        used.add(view.role)
        out.append(view)
    corner = (main.box[0] / main.scale, main.box[1] / main.scale)
    for view in out:
        for k in (0, 1):
            if view.axes[k] < 2:
                view.shift[k] = -corner[view.axes[k]]
    _in_depth(out)
    return out


def coordinates(view: View, k: int) -> set[float]:
    """Where a view has edges and axes square to its first (0) or second (1) axis, as drawn."""
    places = set()
    for s in view.lines("VISIBLE", "HIDDEN", "CENTER", "PHANTOM"):
        if abs(s.a[k] - s.b[k]) < 1e-4:
            places.add(round(s.a[k], 6))
    for r in view.circles("VISIBLE", "HIDDEN", whole=False):
        places.add(round(r.centre[k], 6))
    return places


def _in_depth(found: list[View]) -> None:
    """Views that show the depth stand in two directions on the paper: laid on one another."""
    deep = [(view, view.axes.index(2)) for view in found if view.role]
    if not deep:
        return
    first, k = deep[0]
    first.shift[k] = -first.span(k)[0]
    base = coordinates(first, k)
    for view, j in deep[1:]:
        own = coordinates(view, j)
        best = (0, 0.0)
        for a in base:
            for b in own:
                shift = a - b
                count = sum(any(abs(o + shift - x) < SAME_MM for x in base) for o in own)
                if count > best[0]:
                    best = (count, shift)
        view.shift[j] += best[1]
