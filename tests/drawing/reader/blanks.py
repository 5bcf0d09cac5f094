"""The body of a piece before its holes: turned from its outline, or cut to its outlines."""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, atan, cos, degrees, dist, hypot, radians, sin, sqrt, tan
from typing import Any

import cadquery as cq
from shapely import polygonize, unary_union
from shapely.geometry import LineString

from . import shapes
from .ink import Round, Unreadable
from .sheet import Sheet
from .silhouette import GRID_MM, longer
from .views import SAME_MM, View


@dataclass
class Lathe:
    """The axis a piece is turned about: the view it is seen in, and along which of its axes."""

    view: View
    k: int
    middle: float

    @property
    def axis(self) -> int:
        return self.view.axes[self.k]


def lathe(sheet: Sheet) -> Lathe:
    """The turning axis: a centre line along the whole view, with most diameters across it."""
    best: list[tuple[int, Lathe]] = []
    for view in sheet.views:
        for c in view.lines("CENTER"):
            k = 0 if c.level else 1
            low, high = view.span(k)
            if min(c.a[k], c.b[k]) > low + SAME_MM or max(c.a[k], c.b[k]) < high - SAME_MM:
                continue
            middle = c.a[1 - k]
            across = [
                d
                for d in sheet.diameters
                if d.view is view and d.k == 1 - k and abs(d.middle - middle) < SAME_MM
            ]
            balls = [
                r
                for r in view.circles("VISIBLE", whole=False)
                if not r.whole and abs(r.centre[1 - k] - middle) < SAME_MM
            ]
            many = 2 * len(across) + (1 if balls and k == 0 else 0)
            if many:
                best.append((many, Lathe(view, k, middle)))
    if not best:
        raise Unreadable("a round piece without a centre line or a diameter")
    return max(best, key=lambda one: one[0])[1]


def centre_of(sheet: Sheet, on: Lathe) -> list[float]:
    """Where the turning axis lies, exactly; along itself 0."""
    view, places = on.view, sheet.places
    at = [0.0, 0.0, 0.0]
    across = view.axes[1 - on.k]
    at[across] = places.exact(across, on.middle)
    deep = view.axes[2]
    drawn = drawn_depth(sheet, on)
    places.anchor(deep, drawn)
    at[deep] = places.exact(deep, drawn)
    return at


def drawn_depth(sheet: Sheet, on: Lathe) -> float:
    """Where another view draws the turning axis in the depth of its own view."""
    deep = on.view.axes[2]
    for view in sheet.views:
        if view is on.view or deep not in view.axes[:2]:
            continue
        k = view.axes.index(deep)
        if view.axes[2] == on.axis:
            rings = view.circles("VISIBLE", "HIDDEN", whole=False)
            if rings:
                return max(rings, key=lambda r: r.radius).centre[k]
        for c in view.lines("CENTER"):
            low, high = view.span(1 - k)
            along = sorted((c.a[1 - k], c.b[1 - k]))
            if (
                abs(c.a[k] - c.b[k]) < 1e-6
                and along[0] < low + SAME_MM
                and along[1] > high - SAME_MM
            ):
                return c.a[k]
    return 0.0


@dataclass
class Run:
    """A stretch of an outline: a cylinder of a drawn radius, or a part of a ball."""

    a: float
    b: float
    radius: float
    ball: Round | None


def outline(view: View, k: int, middle: float) -> list[Run]:
    """The outline of a turned piece along its axis, as drawn."""
    levels = [
        s
        for s in view.lines("VISIBLE")
        if (s.level if k == 0 else s.upright) and abs(s.a[1 - k] - middle) > SAME_MM
    ]
    balls = [
        r
        for r in view.circles("VISIBLE", whole=False)
        if not r.whole and abs(r.centre[1 - k] - middle) < SAME_MM
    ]
    low, high = view.span(k)
    ends = {low, high}
    for s in levels:
        ends |= {s.a[k], s.b[k]}
    for r in balls:
        ends |= {x for x in (r.centre[k],) if low < x < high}
    marks: list[float] = []
    for x in sorted(ends):
        if not marks or x - marks[-1] > SAME_MM:
            marks.append(x)
    runs: list[Run] = []
    for a, b in zip(marks, marks[1:], strict=False):
        x = (a + b) / 2
        over = [
            abs(s.a[1 - k] - middle)
            for s in levels
            if min(s.a[k], s.b[k]) <= x <= max(s.a[k], s.b[k])
        ]
        round_ = [
            (sqrt(r.radius**2 - (x - r.centre[k]) ** 2), r)
            for r in balls
            if abs(x - r.centre[k]) < r.radius and _shows(r, k, x, view)
        ]
        top = max(over, default=0.0)
        if round_ and max(round_, key=lambda one: one[0])[0] > top:
            runs.append(Run(a, b, 0.0, max(round_, key=lambda one: one[0])[1]))
        else:
            runs.append(Run(a, b, top, None))
    for before, run, after in zip(runs, runs[1:], runs[2:], strict=False):
        if not run.ball and before.radius == after.radius and run.radius < before.radius:
            run.radius = before.radius  # the mouth of a hole
    merged: list[Run] = []
    for run in runs:
        last = merged[-1] if merged else None
        if last and last.ball is run.ball and abs(last.radius - run.radius) < SAME_MM:
            last.b = run.b
        else:
            merged.append(run)
    return merged


def _shows(r: Round, k: int, x: float, view: View) -> bool:
    """Whether an arc is drawn over a place along the axis, on either side of it."""
    along = view.signs[k] * (x - r.centre[k]) / r.radius
    turn = degrees(acos(max(-1.0, min(1.0, along))))
    turns = (turn, -turn) if k == 0 else (90 - turn, 90 + turn)
    return any(r.start <= t + by <= r.end for t in turns for by in (0, 360, 720))


def turned(sheet: Sheet) -> Any:
    """The solid of revolution that the outline says."""
    on = lathe(sheet)
    view, k, places, axis = on.view, on.k, sheet.places, on.axis
    across = view.axes[1 - k]
    at = centre_of(sheet, on)
    runs = outline(view, k, on.middle)
    body: list[Any] = []

    def radius(drawn: float) -> float:
        for way in (1, -1):
            if places.knows(across, on.middle + way * drawn):
                return abs(places.exact(across, on.middle + way * drawn) - at[across])
        raise Unreadable(f"no diameter for what is drawn {2 * drawn:.3f} thick")

    def ball(run: Run) -> tuple[tuple[float, float, float], float]:
        r = run.ball
        assert r is not None
        size = next(
            (d.size.value / 2 for d in sheet.diameters if d.k == -1 and d.drawn == r.radius), None
        )
        if size is None:
            raise Unreadable(f"no diameter for a ball drawn {2 * r.radius:.3f} thick")
        centre = list(at)
        centre[axis] = places.exact(axis, r.centre[k])
        return (centre[0], centre[1], centre[2]), size

    for number, run in enumerate(runs):
        if run.ball is not None:
            centre, size = ball(run)
            whole = shapes.sphere(centre, size, axis)
            low, high = view.span(k)
            ends = [-shapes.FAR_MM, shapes.FAR_MM]
            for i, (x, edge) in enumerate(((run.a, low), (run.b, high))):
                if abs(x - edge) < SAME_MM and abs(x - run.ball.centre[k]) < run.ball.radius - 0.01:
                    ends[i] = places.exact(axis, x)
            body.append(whole.intersect(shapes.slab(axis, *ends)) if ends[1] - ends[0] <
                        2 * shapes.FAR_MM else whole)  # fmt: skip
            continue
        stations = []
        for x, beside in ((run.a, number - 1), (run.b, number + 1)):
            other = runs[beside] if 0 <= beside < len(runs) else None
            if other is not None and other.ball is not None and not places.knows(axis, x):
                stations.append(ball(other)[0][axis])
            else:
                stations.append(places.exact(axis, x))
        if run.radius < SAME_MM:
            raise Unreadable("an outline with a gap")
        centre3 = (at[0], at[1], at[2])
        body.append(shapes.cylinder(axis, centre3, *stations, radius(run.radius)))
    whole = body[0].fuse(*body[1:]).clean() if len(body) > 1 else body[0]
    cuts = [*_flats(sheet, on), *_bought_bores(sheet, on, at)]
    return whole.cut(*cuts) if cuts else whole


def _flats(sheet: Sheet, on: Lathe) -> list[Any]:
    """Straight edges across the round outline, seen along the axis: all beyond them is gone."""
    cuts = []
    for view in sheet.views:
        if view.axes[2] != on.axis:
            continue
        rings = view.circles("VISIBLE", whole=False)
        for s in view.lines("VISIBLE"):
            if not (s.level or s.upright):
                continue
            k = 1 if s.level else 0
            for r in rings:
                ends = all(abs(dist(p, r.centre) - r.radius) < 5 * SAME_MM for p in s.points)
                if ends and sheet.places.knows(view.axes[k], s.a[k]):
                    at = sheet.places.exact(view.axes[k], s.a[k])
                    out = at + (shapes.FAR_MM if s.a[k] > r.centre[k] else -shapes.FAR_MM)
                    cuts.append(shapes.slab(view.axes[k], at, out))
                    break
    return cuts


def _bought_bores(sheet: Sheet, on: Lathe, at: list[float]) -> list[Any]:
    return [
        shapes.cylinder(on.axis, (at[0], at[1], at[2]), -900, 900, words.bore.value / 2)
        for words, _ in sheet.calls
        if words.bore is not None
    ]


# ---- of flat and square bar ----


def cut_to_outline(sheet: Sheet) -> Any:
    """What stays inside the outlines of all views."""
    if point := next((c for c in sheet.calls if c[0].kind == "point"), None):
        return _ground(sheet, *point)
    body = None
    for view in sheet.views:
        corners, _ = _corners(sheet, view)
        prism = shapes.prism(corners, view.axes)
        body = prism if body is None else body.intersect(prism)
    assert body is not None
    if len(sheet.views) < 2:
        raise Unreadable("one view says nothing of the thickness")
    body = body.clean()
    for view in sheet.views:
        for corner, r in _corners(sheet, view)[1]:
            body = _filleted(body, view, corner, r)
    return body


def _corners(
    sheet: Sheet, view: View
) -> tuple[list[tuple[float, float]], list[tuple[tuple[float, float], float]]]:
    """The outline of a view with sharp corners, and where these are rounded, exactly."""
    lines = [LineString(longer([s.a, s.b])) for s in view.lines("VISIBLE")]
    rounded = []
    for r in view.circles("VISIBLE", whole=False):
        if r.whole or abs(r.end - r.start - 90) > 0.5:
            continue
        ends = _arc_ends(r, view)
        square = [(ends[0][0], ends[1][1]), (ends[1][0], ends[0][1])]
        corner = max(square, key=lambda p, c=r.centre: dist(p, c))  # type: ignore[misc]
        size = _fillet_of(sheet, view, r)
        rounded.append((corner, size))
        lines += [LineString(longer([corner, end])) for end in ends]
    whole = unary_union(list(polygonize([unary_union(lines, grid_size=GRID_MM)]).geoms))
    if whole.geom_type != "Polygon":
        raise Unreadable("an outline that does not close")
    ring = list(whole.simplify(1e-3).exterior.coords)[:-1]
    ring = [
        p for i, p in enumerate(ring) if not _straight(ring[i - 1], p, ring[(i + 1) % len(ring)])
    ]
    places, (u, v, _) = sheet.places, view.axes
    exact = [(places.exact(u, a), places.exact(v, b)) for a, b in ring]
    corners = [((places.exact(u, a), places.exact(v, b)), size) for (a, b), size in rounded]
    return exact, corners


def _straight(a: Any, b: Any, c: Any) -> bool:
    return abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) < 1e-3


def _arc_ends(r: Round, view: View) -> list[tuple[float, float]]:
    su, sv, _ = view.signs
    out = []
    for turn in (r.start, r.end):
        square = round(turn / 90) * 90
        out.append((r.centre[0] + su * r.radius * cos(radians(square)),
                    r.centre[1] + sv * r.radius * sin(radians(square))))  # fmt: skip
    return out


def _fillet_of(sheet: Sheet, view: View, r: Round) -> float:
    """The radius in words of a rounded corner: its own, or that of as many drawn alike."""
    for words, where in sheet.calls:
        if words.kind == "fillet" and where is view and words.radius is not None:
            ring = sheet.ring(view, view.at(words.call.tip), None)
            if ring is not None and (
                ring.centre == r.centre
                or (words.count > 1 and abs(ring.radius - r.radius) < SAME_MM)
            ):
                return words.radius
    raise Unreadable(f"no radius for a corner drawn {r.radius:.3f} round")


def _filleted(body: Any, view: View, corner: tuple[float, float], radius: float) -> Any:
    u, v, w = view.axes
    edges = []
    for edge in body.Edges():
        middle = edge.Center().toTuple()
        way = edge.tangentAt(0.5).toTuple()
        if abs(way[w]) > 0.99 and dist((middle[u], middle[v]), corner) < 1e-3:
            edges.append(edge)
    if not edges:
        raise Unreadable("a rounded corner that no edge has")
    return body.fillet(radius, edges)


def _ground(sheet: Sheet, words: Any, view: View) -> Any:
    """A bar with a point ground on its end: two sides and a nose, at one clearance angle below them.

    The face that one looks on is the rake face; the arrow ends on the nose.
    """
    spans: dict[int, tuple[float, float]] = {}
    for one in sheet.views:
        for k in (0, 1):
            low, high = one.span(k)
            axis = one.axes[k]
            spans[axis] = (sheet.places.exact(axis, low), sheet.places.exact(axis, high))
    u, v, w = view.axes
    low, high = view.span(0)
    tip = view.at(words.call.tip)
    from_low = abs(tip[0] - low) < abs(tip[0] - high)
    nose = spans[u][0] if from_low else spans[u][1]
    way = 1.0 if from_low else -1.0
    middle = sheet.places.exact(v, _tip_across(view, tip))
    rake = spans[w][1] if view.signs[2] > 0 else spans[w][0]
    body = shapes.box(
        tuple(spans[i][0] for i in range(3)),  # type: ignore[arg-type]
        tuple(spans[i][1] for i in range(3)),  # type: ignore[arg-type]
    )
    half, clear = radians(words.point["included"] / 2), radians(words.point["clearance"])
    r = words.point.get("nose", 0.0)
    # each side leans in by the clearance, square to its edge: a plane through edge and lean
    lean = tan(clear)  # inward per depth
    back = lean / sin(half)  # how far the ridge runs back per depth
    deep = abs(spans[w][1] - spans[w][0])
    long = abs(spans[u][1] - spans[u][0])
    slope = atan(back)
    across = acos(cos(half) * cos(clear))
    touch = (r * (1 - sin(across)), r * cos(across))
    wide = 10 * hypot(long, deep)
    # the outline square to the ridge, swept along the ridge
    ridge = cq.Vector(*_mix(u, way * sin(slope), w, -view.signs[2] * cos(slope)))
    square = cq.Vector(*_mix(u, way * cos(slope), w, view.signs[2] * sin(slope)))
    start = [0.0, 0.0, 0.0]
    start[u], start[v], start[w] = nose, middle, rake
    plane = cq.Plane(tuple(start), xDir=square, normal=ridge)
    far = touch[0] + (wide - touch[1]) / tan(across)
    sketch = cq.Workplane(plane).moveTo(*touch)
    sketch = sketch.threePointArc((0, 0), (touch[0], -touch[1])) if r else sketch
    sketch = sketch.lineTo(far, -wide).lineTo(far, wide).close()
    return body.intersect(sketch.extrude(wide, both=True).val())


def _mix(u: int, a: float, w: int, b: float) -> tuple[float, float, float]:
    out = [0.0, 0.0, 0.0]
    out[u] += a
    out[w] += b
    return out[0], out[1], out[2]


def _tip_across(view: View, tip: tuple[float, float]) -> float:
    """Where the nose is drawn across the bar: the middle of its arc, else the arrow's end."""
    rings = [r for r in view.circles("VISIBLE", whole=False) if not r.whole]
    return min(rings, key=lambda r: dist(r.centre, tip)).centre[1] if rings else tip[1]
