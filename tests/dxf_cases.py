"""A plate to draw, and DXF files as GDAL and as ezdxf's own audit read them."""

from __future__ import annotations

import struct
from itertools import pairwise

import ezdxf
import pyogrio
from shapes import ELL, circle

from planner.geometry.curves import FlatProfile

PLATE = FlatProfile(
    name="bracket",
    title="Bracket",
    material="S355",
    thickness_mm=10.0,
    outline=ELL,
    holes=(circle(80, 40, 8), circle(80, 15, 6)),
    marks=((20.0, 10.0), (40.0, 10.0)),
)


def read(path):
    """GDAL's view of a file: (layer, linetype, text, kind, points) of every entity in its order."""
    meta, _, shapes, fields = pyogrio.raw.read(path)
    columns = dict(zip(meta["fields"], fields, strict=True))
    rows = zip(columns["Layer"], columns["Linetype"], columns["Text"], shapes, strict=True)
    return [(layer, linetype, text, *points_of(shape)) for layer, linetype, text, shape in rows]


def points_of(wkb):
    """Kind and points of a point, line or polygon with one ring in WKB (OGC 06-103r4, memory)."""
    assert wkb[0] == 1
    kind = struct.unpack_from("<I", wkb, 1)[0]
    size = 3 if kind & 0x80000000 else 2
    kind &= 0xFF
    at, count = 5, 1
    if kind == 3:
        assert struct.unpack_from("<I", wkb, at) == (1,)
        at += 4
    if kind in (2, 3):
        count = struct.unpack_from("<I", wkb, at)[0]
        at += 4
    numbers = struct.unpack_from(f"<{size * count}d", wkb, at)
    points = list(zip(numbers[::size], numbers[1::size], strict=True))
    return {1: "point", 2: "line", 3: "polygon"}[kind], points


def area(points):
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(points)) / 2


def bounds(points):
    return (
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )


def audited(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    return document


def lines_on(path, layer):
    """The points of every entity on a layer."""
    return [points for name, _, _, _, points in read(path) if name == layer]
