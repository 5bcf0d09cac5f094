"""A sheet as DXF: its lines on layers by what they show, its dimensions as DIMENSION entities.

The model space is the paper as the sheet lies, in mm, or in inches for an inch shop. Each dimension's
block holds the strokes that the other writers draw; programs that lay dimensions out anew find the same
sizes in the header and in the dimension style, and the view's scale in the dimension's own DIMLFAC.
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


def write_dxf(path: Path, sheet: Sheet, version: str = "R2010", inch: bool = False) -> None:
    """Write a sheet, whole or not at all; a file of that name is replaced.

    version: of dxf.drawing: VERSIONS, but R12, which has neither the unit nor line weights. inch: the
    file is in inches, and says so, as for dxf.profiles.write_profile.
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
        doc = document(version, {**layers, WORDS_LAYER: thin, DIMENSION_LAYER: thin}, inch)
        unit = MM_PER_INCH if inch else 1.0
        _styles(doc, unit)
        space = doc.modelspace()
        _add(space, apart(sheet, dimensions=False), unit)
        for item in sheet.everything:
            if isinstance(item, Dimension):
                _add_dimension(doc, item, unit)
        finish(doc, path, Extent(0.0, 0.0, sheet.width / unit, sheet.height / unit))


def _styles(doc: Drawing, unit: float) -> None:
    """The text style, the dimension style, and the same in the header for new dimensions.

    unit: mm in one of the file's.
    """
    doc.styles.add(STYLE, font=FONT_FILE)
    sizes: dict[str, Any] = {
        "dimtxt": round(TEXT_MM / unit, 9),
        "dimasz": round(ARROW_MM / unit, 9),
        "dimexe": round(OVERRUN_MM / unit, 9),
        "dimexo": round(EDGE_GAP_MM / unit, 9),
        "dimgap": round(TEXT_GAP_MM / unit, 9),
        "dimscale": 1.0,
        "dimlfac": 1.0,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimdec": 4,
        "dimzin": 8,
        "dimdsep": ord("."),
    }
    if unit != 1.0:  # the dashes of the linetypes are in mm
        doc.header["$LTSCALE"] = round(1 / unit, 9)
    style = doc.dimstyles.new(STYLE)
    for name, value in sizes.items():
        style.dxf.set(name, value)
        doc.header[f"${name.upper()}"] = value
    style.dxf.dimtxsty = STYLE
    doc.header["$DIMTXSTY"] = STYLE
    doc.header["$DIMSTYLE"] = STYLE
    doc.header["$TEXTSTYLE"] = STYLE


def _at(point: tuple[float, float], unit: float) -> tuple[float, float]:
    """A point of the sheet, in mm, as the file has it."""
    return plain((point[0] / unit, point[1] / unit))


def _add(space: BaseLayout, pieces: Drawn, unit: float) -> None:
    words = (text for text in pieces.texts if text.words.strip())
    strokes = chain.from_iterable(_strokes(stroke, unit) for stroke in pieces.strokes)
    written.add(space, chain(strokes, (_text(text, unit) for text in words)))


def _strokes(stroke: Stroke, unit: float) -> Iterator[Written]:
    layer = PENS[stroke.style].layer
    match stroke:
        case Line(start, end):
            yield written.line(_at(start, unit), _at(end, unit), layer)
        case Circle(centre, radius):
            yield written.circle(_at(centre, unit), round(radius / unit, 6), layer)
        case Arc(centre, radius, start_deg, end_deg):
            ends = (round(start_deg % 360, 9), round(end_deg % 360, 9))
            yield written.arc(_at(centre, unit), round(radius / unit, 6), *ends, layer)
        case Polyline(points) if stroke.filled:
            # triangles from the first corner: all that is filled on a sheet bulges out
            first, *rest = (_at(point, unit) for point in points)
            yield from (written.triangle(first, a, b, layer) for a, b in pairwise(rest))
        case Polyline(points):
            yield written.polyline([_at(point, unit) for point in points], stroke.closed, layer)


def _text(text: Text, unit: float) -> Written:
    at, words = _at(start_of(text), unit), printable(text.words)
    high = text.height if unit == 1.0 else round(text.height / unit, 6)
    return written.text(words, at, high, text.rotation_deg, STYLE, WORDS_LAYER)


def _add_dimension(doc: Drawing, item: Dimension, unit: float) -> None:
    """unit: mm in one of the file's; the entity's own factor makes of it what its words say."""
    space = doc.modelspace()
    said = 1.0 if item.kind == "angle" else (MM_PER_INCH if item.inch else 1.0) / unit
    how: dict[str, Any] = {
        "dimstyle": STYLE,
        "override": {"dimlfac": round(1 / (float(item.scale) * said), 12)},
        "text": _printed(item),
        "dxfattribs": {"layer": DIMENSION_LAYER},
    }
    feet = [_at(foot, unit) for foot in item.feet]
    at = _at(item.at, unit)
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
    _add(block, pieces, unit)
    entity = made.dimension
    entity.dxf.geometry = block.name
    entity.dxf.text_midpoint = _at(start_of(pieces.texts[0]), unit)


def _printed(item: Dimension) -> str:
    """The dimension's words as DXF has them, limits over one another."""
    if not item.upper and not item.lower:
        return item.text
    return f"{item.text} \\S{item.upper}^ {item.lower};"
