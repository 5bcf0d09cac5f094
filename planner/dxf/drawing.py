"""A drawing as ezdxf makes it: its layers, its lines and texts, and the same bytes every time.

With ``written`` the only module that imports ezdxf, and only while it draws. The writers of this room
draw with it; the nest takes its sizes from here.
"""

from __future__ import annotations

import io
import os
from collections import OrderedDict
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from parts.standard.sections import MM_PER_INCH
from parts.value import Value
from planner.dxf.paths import Chain, Extent, circle_of
from planner.geometry.curves import Point2

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")

WIDE, NARROW = 50, 25
"""Line weights in 1/100 mm, wide and narrow in the ratio 2:1 (ISO 128-2, from memory)."""

LAYERS = {
    # name: (colour index, linetype, line weight)
    "CUT": (7, "CONTINUOUS", WIDE),
    "MARK": (3, "CONTINUOUS", NARROW),
}

LINETYPES = {
    # Dashes above 0, gaps below, in mm: 12, 24 and 3 narrow line widths (ISO 128-2, from memory).
    # The dot of the centre line is drawn as a short dash, as CAD programs do (common practice).
    "HIDDEN": ("Hidden __ __ __", (3.0, -0.75)),
    "CENTER": ("Center ____ _ ____", (6.0, -0.75, 1.5, -0.75)),
    "PHANTOM": ("Phantom ____ _ _ ____", (6.0, -0.75, 1.5, -0.75, 1.5, -0.75)),
    "CUTTING": ("Cutting plane, wide ____ _ ____", (12.0, -1.5, 3.0, -1.5)),
}

CENTRE_MARK_MM = 3.0
OVERRUN_MM = 3.0
TEXT_MM = 3.5
"""Text height, of the series of ISO 3098-1 (from memory)."""


class Text(Value, frozen=True):
    """One line of text from its lower left corner."""

    text: str
    at: Point2
    height_mm: float


@contextmanager
def repeatable() -> Iterator[None]:
    """ezdxf with a fixed time stamp and fixed identifiers instead of the clock and chance."""
    import ezdxf

    options = ezdxf.options  # type: ignore[attr-defined]  # public, though not in __all__
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def document(
    version: str, layers: Mapping[str, tuple[int, str, int]], inch: bool = False
) -> Drawing:
    """An empty drawing with these layers and the linetypes they need, which says mm or inches.

    It is drawn in mm either way: ``finish`` makes inches of it.
    """
    from ezdxf.document import Drawing

    if version not in VERSIONS:
        raise ValueError(f"DXF version {version!r} is not written; use {', '.join(VERSIONS)}")
    doc = Drawing.new(version)
    doc.header["$MEASUREMENT"] = 0 if inch else 1
    if version != "R12":
        doc.units = 1 if inch else 4
    for name, (colour, linetype, weight) in layers.items():
        if linetype in LINETYPES and linetype not in doc.linetypes:
            description, dashes = LINETYPES[linetype]
            length = sum(abs(dash) for dash in dashes)
            doc.linetypes.add(linetype, [length, *dashes], description=description)
        doc.layers.add(name, color=colour, linetype=linetype, lineweight=weight)
    return doc


def add_path(space: Modelspace, path: Chain, layer: str, circles: bool = True) -> None:
    """A path; circles: one that is a full circle as such, not as a polyline."""
    attributes = {"layer": layer}
    if circles and (circle := circle_of(path)):
        space.add_circle(plain(circle[:2]), round(circle[2], 6), attributes)
        return
    if not path.closed and len(path.vertices) == 2:
        p, q = path.vertices
        if not p[2]:
            space.add_line(plain(p[:2]), plain(q[:2]), attributes)
            return
    points = [(*plain((x, y)), round(bulge, 12) + 0.0) for x, y, bulge in path.vertices]
    if space.dxfversion == "AC1009":
        space.add_polyline2d(points, format="xyb", close=path.closed, dxfattribs=attributes)
    else:
        space.add_lwpolyline(points, format="xyb", close=path.closed, dxfattribs=attributes)


def add_text(
    space: Modelspace, text: str, at: Point2, height_mm: float, layer: str = "MARK"
) -> None:
    """One line of text from its lower left corner."""
    line = " ".join(text.split())
    space.add_text(line, height=height_mm, dxfattribs={"layer": layer, "insert": plain(at)})


def plain(point: Point2) -> Point2:
    """A point without the dust of binary fractions."""
    return round(point[0], 6) + 0.0, round(point[1], 6) + 0.0


def finish(doc: Drawing, path: Path, extent: Extent, inch: bool = False) -> None:
    """Opens on the whole drawing; written beside its place and moved there in one step.

    inch: what was drawn in mm, and the extent, are in inches in the file.
    """
    if inch:
        extent = _in_inches(doc, extent)
    width, height = extent.right - extent.left, extent.top - extent.bottom
    centre = plain((extent.left + width / 2, extent.bottom + height / 2))
    doc.set_modelspace_vport(round(1.1 * max(height, width / 1.5), 6), centre)
    low, high = plain((extent.left, extent.bottom)), plain((extent.right, extent.top))
    doc.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    # ezdxf takes the classes it needs from a set: put them in an order that is the same every time
    doc.classes.add_required_classes(doc.dxfversion)
    doc.classes.classes = OrderedDict(sorted(doc.classes.classes.items()))
    text = io.StringIO()
    doc.write(text)
    partial = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        partial.write_bytes(doc.encode(text.getvalue()))
        os.replace(partial, path)
    finally:
        partial.unlink(missing_ok=True)


def _in_inches(doc: Drawing, extent: Extent) -> Extent:
    """All that is drawn in mm made inches of."""
    from ezdxf.math import Matrix44

    scale = Matrix44.scale(1 / MM_PER_INCH)
    for entity in doc.modelspace():
        entity.transform(scale)
    edges = (extent.left, extent.bottom, extent.right, extent.top)
    return Extent(*(edge / MM_PER_INCH for edge in edges))
