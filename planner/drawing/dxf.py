"""A sheet as DXF: its lines on layers by what they show, its dimensions as DIMENSION entities.

The model space is the paper in mm, as the sheet lies. Each dimension's block holds the strokes that the
other writers draw; programs that lay dimensions out anew find the same sizes in the header and in the
dimension style, and the view's scale in the dimension's own DIMLFAC.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from planner.drawing.apart import apart, drawn
from planner.drawing.dimensioned import EDGE_GAP_MM, OVERRUN_MM
from planner.drawing.lettering import printable, start_of
from planner.drawing.model import (
    MM_PER_INCH,
    TEXT_MM,
    Arc,
    Circle,
    Dimension,
    Line,
    Polyline,
    Sheet,
    Stroke,
    Text,
)
from planner.drawing.strokes import ARROW_MM, PENS, TEXT_GAP_MM, Drawn, direction_deg
from planner.dxf import written
from planner.dxf.drawing import document, finish, plain, repeatable
from planner.dxf.paths import Extent
from planner.dxf.written import Written

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.base import BaseLayout

STYLE = "SHEET"
"""Name of the text style and of the dimension style."""

FONT_FILE = "DejaVuSansCondensed.ttf"
"""What a CAD program letters the sheet with: the font that ours is a part of."""

WORDS_LAYER, DIMENSION_LAYER = "WORDS", "DIMENSION"

COLOURS = {
    "VISIBLE": 7,
    "FRAME": 7,
    "HIDDEN": 8,
    "CENTER": 1,
    "THIN": 3,
    "CUTTING": 1,
    "PHANTOM": 6,
}
"""Colour indexes, so that layers are told apart on the screen."""


def write_dxf(path: Path, sheet: Sheet, version: str = "R2010") -> None:
    """Write a sheet, whole or not at all; a file of that name is replaced.

    version: of dxf.drawing: VERSIONS, but R12, which has neither the unit nor line weights.
    Raises ValueError for another version, OSError when the file cannot be written.
    """
    if version == "R12":
        raise ValueError("a sheet is not written as R12; use R2000 or newer")
    layers = {
        pen.layer: (COLOURS[pen.layer], pen.linetype, round(100 * pen.width))
        for pen in PENS.values()
    }
    thin = layers["THIN"]
    with repeatable():
        doc = document(version, {**layers, WORDS_LAYER: thin, DIMENSION_LAYER: thin})
        _styles(doc)
        space = doc.modelspace()
        _add(space, apart(sheet, dimensions=False))
        for item in sheet.everything:
            if isinstance(item, Dimension):
                _add_dimension(doc, item)
        finish(doc, path, Extent(0.0, 0.0, sheet.width, sheet.height))


def _styles(doc: Drawing) -> None:
    """The text style, the dimension style, and the same in the header for new dimensions."""
    doc.styles.add(STYLE, font=FONT_FILE)
    sizes: dict[str, Any] = {
        "dimtxt": TEXT_MM,
        "dimasz": ARROW_MM,
        "dimexe": OVERRUN_MM,
        "dimexo": EDGE_GAP_MM,
        "dimgap": TEXT_GAP_MM,
        "dimscale": 1.0,
        "dimlfac": 1.0,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimdec": 4,
        "dimzin": 8,
        "dimdsep": ord("."),
    }
    style = doc.dimstyles.new(STYLE)
    for name, value in sizes.items():
        style.dxf.set(name, value)
        doc.header[f"${name.upper()}"] = value
    style.dxf.dimtxsty = STYLE
    doc.header["$DIMTXSTY"] = STYLE
    doc.header["$DIMSTYLE"] = STYLE
    doc.header["$TEXTSTYLE"] = STYLE


def _add(space: BaseLayout, pieces: Drawn) -> None:
    words = (text for text in pieces.texts if text.words.strip())
    written.add(space, chain(chain.from_iterable(map(_strokes, pieces.strokes)), map(_text, words)))


def _strokes(stroke: Stroke) -> Iterator[Written]:
    layer = PENS[stroke.style].layer
    match stroke:
        case Line(start, end):
            yield written.line(plain(start), plain(end), layer)
        case Circle(centre, radius):
            yield written.circle(plain(centre), round(radius, 6), layer)
        case Arc(centre, radius, start_deg, end_deg):
            ends = (round(start_deg % 360, 9), round(end_deg % 360, 9))
            yield written.arc(plain(centre), round(radius, 6), *ends, layer)
        case Polyline(points) if stroke.filled:
            # triangles from the first corner: all that is filled on a sheet bulges out
            first, *rest = map(plain, points)
            yield from (written.triangle(first, a, b, layer) for a, b in pairwise(rest))
        case Polyline(points):
            yield written.polyline([plain(point) for point in points], stroke.closed, layer)


def _text(text: Text) -> Written:
    at, words = plain(start_of(text)), printable(text.words)
    return written.text(words, at, text.height, text.rotation_deg, STYLE, WORDS_LAYER)


def _add_dimension(doc: Drawing, item: Dimension) -> None:
    space = doc.modelspace()
    unit = MM_PER_INCH if item.inch and item.kind != "angle" else 1.0
    how: dict[str, Any] = {
        "dimstyle": STYLE,
        "override": {"dimlfac": round(1 / (float(item.scale) * unit), 12)},
        "text": _printed(item),
        "dxfattribs": {"layer": DIMENSION_LAYER},
    }
    feet = [plain(foot) for foot in item.feet]
    at = plain(item.at)
    if item.kind == "angle":
        made = space.add_angular_dim_3p(at, feet[0], feet[1], feet[2], **how)
    elif item.kind == "radius":
        made = space.add_radius_dim(feet[0], feet[1], **how)
    elif item.kind == "diameter":
        centre = tuple((a + b) / 2 for a, b in zip(*feet, strict=True))
        made = space.add_diameter_dim(centre, feet[1], **how)
    else:
        angle = direction_deg(*item.feet) if item.along_deg is None else item.along_deg
        made = space.add_linear_dim(at, feet[0], feet[1], angle=angle, **how)
    made.commit()
    pieces = drawn(item)
    block = doc.blocks.new_anonymous_block(type_char="D")
    _add(block, pieces)
    entity = made.dimension
    entity.dxf.geometry = block.name
    entity.dxf.text_midpoint = plain(start_of(pieces.texts[0]))


def _printed(item: Dimension) -> str:
    """The dimension's words as DXF has them, limits over one another."""
    if not item.upper and not item.lower:
        return item.text
    return f"{item.text} \\S{item.upper}^ {item.lower};"
