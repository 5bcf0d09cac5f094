"""What stands on a sheet's DXF: strokes, words, dimensions, leaders with words, fields.

What a titled picture shows, larger or unrolled, is taken out of the views.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from math import dist
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing

from . import numbers as n

Point = tuple[float, float]


class Unreadable(Exception):
    """What a machinist would ask about: a number that is missing, words that mean nothing here."""


@dataclass(frozen=True)
class Straight:
    """A line on the paper, mm."""

    layer: str
    a: Point
    b: Point

    @property
    def level(self) -> bool:
        return abs(self.a[1] - self.b[1]) < 1e-4 < abs(self.a[0] - self.b[0])

    @property
    def upright(self) -> bool:
        return abs(self.a[0] - self.b[0]) < 1e-4 < abs(self.a[1] - self.b[1])

    @property
    def points(self) -> tuple[Point, ...]:
        return (self.a, self.b)


@dataclass(frozen=True)
class Round:
    """A circle, or an arc between two angles in degrees."""

    layer: str
    centre: Point
    radius: float
    start: float = 0.0
    end: float = 360.0

    @property
    def whole(self) -> bool:
        return self.end - self.start >= 360.0


@dataclass(frozen=True)
class Measure:
    """A dimension: its two feet (an angle's legs' ends), the way it is measured, what it says.

    per: millimetres of the part on one of the paper (the file's own DIMLFAC).
    """

    feet: tuple[Point, ...]
    angle: float
    text: str
    size: n.Size
    per: float = 1.0


@dataclass(frozen=True)
class Call:
    """Words on a leader, and where its arrow ends."""

    tip: Point
    lines: tuple[str, ...]


@dataclass
class Ink:
    """A sheet as it lies on the table. unit: mm to its unit; scale: paper to part.

    tips: of filled arrows and triangles; references: welds' reference lines and where their leaders
    end; rim: dimensions of a rim that is unrolled.
    """

    straights: list[Straight] = field(default_factory=list)
    rounds: list[Round] = field(default_factory=list)
    curves: list[tuple[str, tuple[Point, ...], bool]] = field(default_factory=list)
    measures: list[Measure] = field(default_factory=list)
    calls: list[Call] = field(default_factory=list)
    texts: list[tuple[Point, float, str]] = field(default_factory=list)
    tips: list[Point] = field(default_factory=list)
    references: list[tuple[Point, Straight]] = field(default_factory=list)
    rim: list[Measure] = field(default_factory=list)
    unit: float = 1.0
    scale: float = 1.0
    first_angle: bool = True
    fields: dict[str, str] = field(default_factory=dict)


STOCK = "Stock × finished length"
"""The field of what a piece is made of."""

FIELDS = ("Title", STOCK, "Scale", "Material", "Number", "Type of document", "Quantity",
          "Sheet")  # fmt: skip


def _xy(vector: object) -> Point:
    return (float(vector.x), float(vector.y))  # type: ignore[attr-defined]


def read(sheet: Path | Drawing) -> Ink:
    """The ink of a DXF, of its file or as it was opened."""
    ink = Ink()
    space = (ezdxf.readfile(sheet) if isinstance(sheet, Path) else sheet).modelspace()
    dims = []
    for e in space:
        layer, kind = e.dxf.layer, e.dxftype()
        if kind == "LINE":
            ink.straights.append(Straight(layer, _xy(e.dxf.start), _xy(e.dxf.end)))
        elif kind == "CIRCLE":
            ink.rounds.append(Round(layer, _xy(e.dxf.center), e.dxf.radius))
        elif kind == "ARC":
            start, end = e.dxf.start_angle % 360, e.dxf.end_angle % 360
            end += 360 if end <= start else 0
            ink.rounds.append(Round(layer, _xy(e.dxf.center), e.dxf.radius, start, end))
        elif kind == "LWPOLYLINE":
            points = tuple((float(p[0]), float(p[1])) for p in e)
            ink.curves.append((layer, points, bool(e.closed)))
        elif kind == "SOLID":
            ink.tips.append(_xy(e.dxf.vtx0))
        elif kind == "TEXT":
            ink.texts.append((_xy(e.dxf.insert), e.dxf.height, e.dxf.text))
        elif kind == "DIMENSION":
            dims.append(e)
    _fields(ink)
    for e in dims:
        _measure(ink, e)
    _leaders(ink, ink.tips)
    _references(ink)
    _details(ink)
    _rims(ink)
    return ink


def _fields(ink: Ink) -> None:
    for at, _, label in list(ink.texts):
        if label in FIELDS:
            under = [
                (at[1] - p[1], words)
                for p, _, words in ink.texts
                if abs(p[0] - at[0]) < 0.2 and 0.5 < at[1] - p[1] < 12 and words not in FIELDS
            ]
            ink.fields[label] = min(under, default=(0.0, ""))[1]
        if label.startswith("Lengths in"):
            ink.unit = 25.4 if label.endswith("inches") else 1.0
    over, under = ink.fields["Scale"].split(":")
    ink.scale = float(over) / float(under)
    rings = [r for r in ink.rounds if r.layer == "THIN" and r.whole]
    for layer, points, closed in ink.curves:
        if layer == "THIN" and closed and len(points) == 4 and len({p[0] for p in points}) == 2:
            heights = [
                abs(p[1] - q[1])
                for p in points
                for q in points
                if p < q and abs(p[0] - q[0]) < 1e-6
            ]
            near = [r for r in rings if dist(r.centre, points[0]) < 20]
            if len(heights) == 2 and abs(heights[0] - heights[1]) > 0.5 and near:
                ink.first_angle = points[0][0] < near[0].centre[0]


def _measure(ink: Ink, e: object) -> None:
    d = e.dxf  # type: ignore[attr-defined]
    said = n.size(d.text, ink.unit)
    if said is None:
        raise Unreadable(f"dimension {d.text!r}")
    if said.angle:
        feet = (_xy(d.defpoint4), _xy(d.defpoint2), _xy(d.defpoint3))
        ink.measures.append(Measure(feet, 0.0, d.text, said))
        return
    feet = (_xy(d.defpoint2), _xy(d.defpoint3))
    per = e.override().get("dimlfac", 1.0) * ink.unit  # type: ignore[attr-defined]
    ink.measures.append(Measure(feet, d.get("angle", 0.0), d.text, said, per))


def _references(ink: Ink) -> None:
    """Welds' reference lines; the dashed one under each (ISO 2553, system A) is no edge of the part."""
    thin = [s for s in ink.straights if s.layer == "THIN" and s.level]
    for layer, points, closed in ink.curves:
        if layer != "THIN" or closed or not any(dist(points[0], tip) < 1e-3 for tip in ink.tips):
            continue
        for s in thin:
            if min(dist(p, points[-1]) for p in s.points) < 0.01:
                ink.references.append((points[-1], s))
                ends = sorted((s.a[0], s.b[0]))
                ink.straights = [
                    o
                    for o in ink.straights
                    if o.layer != "HIDDEN"
                    or not o.level
                    or not 0.0 < s.a[1] - o.a[1] < 2.0
                    or max(abs(p - q) for p, q in zip(sorted((o.a[0], o.b[0])), ends, strict=True))
                    > 1e-3
                ]


# ---- pictures beside the views ----


def _without(ink: Ink, gone: Callable[[Point], bool]) -> None:
    """Take what is drawn of the part out where a place is a picture's."""
    drawn = ("VISIBLE", "HIDDEN", "CENTER")
    ink.straights = [
        s for s in ink.straights if s.layer not in drawn or not all(map(gone, s.points))
    ]
    ink.rounds = [r for r in ink.rounds if r.layer not in drawn or not gone(r.centre)]
    ink.curves = [c for c in ink.curves if c[0] not in drawn or not all(map(gone, c[1]))]


def _details(ink: Ink) -> None:
    """Details: "X (2:1)" over a thin circle, that show a place again and say nothing."""
    for at, _, words in ink.texts:
        if not re.match(r"^[A-Z] \(\d+:\d+\)$", words):
            continue
        below = [
            r
            for r in ink.rounds
            if r.layer == "THIN" and r.whole and r.radius > 5 and r.centre[1] + r.radius < at[1]
        ]
        ring = min(
            below, key=lambda r: dist((r.centre[0], r.centre[1] + r.radius), at), default=None
        )
        if ring is None:
            raise Unreadable(f"{words!r} without its circle")
        centre, radius = ring.centre, ring.radius + 0.05
        _without(ink, lambda p, centre=centre, radius=radius: dist(p, centre) < radius)  # type: ignore[misc]


def _rims(ink: Ink) -> None:
    """A rim unrolled: between two edges of one length under its title, at the scale that says."""
    for at, _, words in ink.texts:
        if not words.startswith("Rim unrolled"):
            continue
        edges = [s for s in ink.straights if s.layer == "VISIBLE" and s.level and s.a[1] < at[1]]
        pairs = [
            (-upper.a[1], upper, lower)
            for upper in edges
            for lower in edges
            if lower.a[1] < upper.a[1]
            and all(
                abs(p[0] - q[0]) < 1e-3 for p, q in zip(upper.points, lower.points, strict=True)
            )
        ]
        if not pairs:
            raise Unreadable("a rim unrolled without its edges")
        _, upper, lower = min(pairs, key=lambda pair: pair[0])
        left, right = sorted((upper.a[0], upper.b[0]))
        box = (left - 0.05, lower.a[1] - 0.05, right + 0.05, upper.a[1] + 0.05)

        def inside(p: Point, box: tuple[float, ...] = box) -> bool:
            return box[0] <= p[0] <= box[2] and box[1] <= p[1] <= box[3]

        _without(ink, inside)
        for m in [m for m in ink.measures if all(map(inside, m.feet))]:
            ink.measures.remove(m)
            ink.rim.append(m)
            if abs(dist(*m.feet) * m.per - m.size.value) > (0.006 if ink.unit == 1.0 else 0.013):
                raise Unreadable(f"{m.text!r} of the rim is drawn {dist(*m.feet) * m.per:.3f} long")


def _leaders(ink: Ink, tips: list[Point]) -> None:
    for layer, points, closed in ink.curves:
        if layer != "THIN" or closed or len(points) < 3:
            continue
        if not any(dist(points[0], tip) < 1e-3 for tip in tips):
            continue
        left, y = min(points[-2][0], points[-1][0]), points[-1][1]
        rows = {}
        for (x, base), height, words in ink.texts:
            row = (base - y - 1.4) / (1.6 * height)
            if abs(x - left) < 0.01 and -0.01 < row < 8 and abs(row - round(row)) < 0.01:
                rows[round(row)] = words
        lines: list[str] = []
        while len(lines) in rows:
            lines.append(rows[len(lines)])
        if lines:
            ink.calls.append(Call(points[0], tuple(reversed(lines))))
