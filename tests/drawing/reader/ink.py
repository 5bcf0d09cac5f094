"""What stands on a sheet's DXF: strokes, words, dimensions, leaders with words, fields."""

from __future__ import annotations

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
    """A dimension: its two feet (an angle's legs' ends), the way it is measured, what it says."""

    feet: tuple[Point, ...]
    angle: float
    text: str
    size: n.Size


@dataclass(frozen=True)
class Call:
    """Words on a leader, and where its arrow ends."""

    tip: Point
    lines: tuple[str, ...]


@dataclass
class Ink:
    """A sheet as it lies on the table. unit: mm to its unit; scale: paper to part."""

    straights: list[Straight] = field(default_factory=list)
    rounds: list[Round] = field(default_factory=list)
    curves: list[tuple[str, tuple[Point, ...], bool]] = field(default_factory=list)
    measures: list[Measure] = field(default_factory=list)
    calls: list[Call] = field(default_factory=list)
    texts: list[tuple[Point, float, str]] = field(default_factory=list)
    unit: float = 1.0
    scale: float = 1.0
    first_angle: bool = True
    fields: dict[str, str] = field(default_factory=dict)


FIELDS = ("Title", "Blank", "Scale", "Material", "Number", "Type of document", "Quantity")


def _xy(vector: object) -> Point:
    return (float(vector.x), float(vector.y))  # type: ignore[attr-defined]


def read(sheet: Path | Drawing) -> Ink:
    """The ink of a DXF, of its file or as it was opened."""
    ink = Ink()
    space = (ezdxf.readfile(sheet) if isinstance(sheet, Path) else sheet).modelspace()
    tips: list[Point] = []
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
            tips.append(_xy(e.dxf.vtx0))
        elif kind == "TEXT":
            ink.texts.append((_xy(e.dxf.insert), e.dxf.height, e.dxf.text))
        elif kind == "DIMENSION":
            dims.append(e)
    _fields(ink)
    for e in dims:
        _measure(ink, e)
    _leaders(ink, tips)
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
    ink.measures.append(Measure(feet, d.get("angle", 0.0), d.text, said))


def _leaders(ink: Ink, tips: list[Point]) -> None:
    for layer, points, closed in ink.curves:
        if layer != "THIN" or closed or len(points) < 3:
            continue
        if not any(dist(points[0], tip) < 1e-3 for tip in tips):
            continue
        left, y = min(points[-2][0], points[-1][0]), points[-1][1]
        rows = {}
        for (x, base), height, words in ink.texts:
            row = (base - y - 1.0) / (1.6 * height)
            if abs(x - left) < 0.01 and -0.01 < row < 8 and abs(row - round(row)) < 0.01:
                rows[round(row)] = words
        lines: list[str] = []
        while len(lines) in rows:
            lines.append(rows[len(lines)])
        if lines:
            ink.calls.append(Call(points[0], tuple(reversed(lines))))
