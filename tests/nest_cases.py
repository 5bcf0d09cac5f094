"""Pieces to nest, and nests judged by shapely alone."""

from __future__ import annotations

import math
from collections import Counter
from itertools import combinations

import pytest
import shapely
from shapes import ELL

from planner.geometry.curves import FlatProfile, Outline
from planner.nest.place import (
    TOLERANCE_MM,
)

# A bulge is the tangent of a quarter of the arc's angle (DXF reference, LWPOLYLINE, from memory).


def profile(name, *vertices, thickness=10.0):
    return FlatProfile(name, name.title(), "S355", thickness, Outline(tuple(vertices)), (), ())


def rectangle(length, width, name=None):
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    return profile(name or f"r{length:g}x{width:g}", *((x, y, 0.0) for x, y in corners))


def disc(radius, name="disc"):
    return profile(name, (0.0, radius, 1.0), (2 * radius, radius, 1.0))


ANGLE = profile("angle", *ELL.vertices)
SLOT = profile("slot", (0.0, 0.0, 0.0), (50.0, 0.0, 1.0), (50.0, 30.0, 0.0), (0.0, 30.0, 1.0))


def polygon(outline, steps=64):
    """An outline as shapely sees it: points on its arcs, by the bulge's definition."""
    points = []
    vertices = outline.vertices
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1], strict=True):
        start, end = complex(x0, y0), complex(x1, y1)
        points.append((x0, y0))
        if bulge:
            sweep = 4 * math.atan(bulge)
            turn = complex(math.cos(sweep), math.sin(sweep))
            # The end is the start turned about the centre by the sweep.
            centre = (end - turn * start) / (1 - turn)
            for k in range(1, steps):
                part = sweep * k / steps
                p = centre + (start - centre) * complex(math.cos(part), math.sin(part))
                points.append((p.real, p.imag))
    return shapely.Polygon(points)


def judge(pieces, sheets, gap, found):
    """By shapely alone: everything there once, on the sheet, far enough apart."""
    placed = Counter(p.piece for sheet in found.sheets for p in sheet.placed)
    assert placed == {n: piece.quantity for n, piece in enumerate(pieces)}
    for nest_sheet in found.sheets:
        sheet = nest_sheet.sheet
        m = sheet.margin_mm - TOLERANCE_MM
        inside = shapely.box(m, m, sheet.length_mm - m, sheet.width_mm - m)
        shapes = [polygon(p.on_sheet().outline) for p in nest_sheet.placed]
        for p, shape in zip(nest_sheet.placed, shapes, strict=True):
            # Turned and moved, never mirrored or scaled.
            assert shape.area == pytest.approx(polygon(p.profile.outline).area, rel=1e-9)
            assert inside.contains(shape)
        for one, other in combinations(shapes, 2):
            assert one.buffer(-TOLERANCE_MM).intersection(other).area < 1e-9
            assert one.distance(other) >= gap - TOLERANCE_MM
    for sheet, count in Counter(s.sheet for s in found.sheets).items():
        assert sheet in sheets and (sheet.available is None or count <= sheet.available)
