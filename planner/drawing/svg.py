"""A sheet as SVG: true to scale in mm, its texts as text in the font of the sheets.

Also what pdf.py sets into its pages. Works nothing out but places.
"""

from __future__ import annotations

from base64 import b64encode
from math import cos, radians, sin
from xml.sax.saxutils import escape, quoteattr

from planner.drawing.apart import apart
from planner.drawing.lettering import FAMILY, FONT, printable, size_mm, start_of, width_mm
from planner.drawing.model import Arc, Circle, Line, Point, Polyline, Sheet, Stroke, Style, Text
from planner.drawing.strokes import PENS
from planner.dxf.drawing import LINETYPES

LIKE = ("DejaVu Sans Condensed", "DejaVu Sans", "sans-serif")
"""What a program takes that cannot read the font in the file: the same letters, if it has them."""


def svg(sheet: Sheet, with_font: bool = True) -> str:
    """The sheet as the text of an SVG file.

    with_font: the font stands in the file, for browsers; a program that does not read it takes one of
    LIKE. Lines of one style stand together, so that a viewer paints them in one go.
    """
    pieces = apart(sheet)
    high = sheet.height
    style = ""
    if with_font:
        data = b64encode(FONT.read_bytes()).decode("ascii")
        style = (
            f"<style>@font-face{{font-family:'{FAMILY}';"
            f"src:url(data:font/ttf;base64,{data})}}</style>"
        )
    families = ", ".join(f"'{one}'" if " " in one else one for one in (FAMILY, *LIKE))
    groups: dict[Style, list[Stroke]] = {name: [] for name in PENS}
    for stroke in pieces.strokes:
        groups[stroke.style].append(stroke)
    drawn = "".join(_group(name, strokes, high) for name, strokes in groups.items() if strokes)
    words = "".join(_text(text, high) for text in pieces.texts if text.words.strip())
    size = f"{_number(sheet.width)}mm", f"{_number(high)}mm"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size[0]}" height="{size[1]}"'
        f' viewBox="0 0 {_number(sheet.width)} {_number(high)}">'
        f"<title>{escape(sheet.fields.title)}</title>{style}"
        f'<rect width="{_number(sheet.width)}" height="{_number(high)}" fill="#fff"/>'
        f'<g fill="none" stroke="#000" stroke-linejoin="round">{drawn}</g>'
        f'<g font-family={quoteattr(families)} xml:space="preserve">{words}</g></svg>\n'
    )


def _number(value: float) -> str:
    found = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if found == "-0" else found


def _at(point: Point, high: float) -> str:
    return f"{_number(point[0])},{_number(high - point[1])}"


def _group(style: Style, strokes: list[Stroke], high: float) -> str:
    pen = PENS[style]
    dashes = LINETYPES[pen.linetype][1] if pen.linetype in LINETYPES else ()
    dashed = " ".join(_number(abs(dash)) for dash in dashes)
    attributes = f'stroke-width="{_number(pen.width)}"'
    # a dash ends where it ends; a plain line has a round end, so that corners are whole
    attributes += f' stroke-dasharray="{dashed}"' if dashed else ' stroke-linecap="round"'
    return f"<g {attributes}>{''.join(_stroke(one, high) for one in strokes)}</g>"


def _stroke(stroke: Stroke, high: float) -> str:
    match stroke:
        case Line(start, end):
            return f'<path d="M{_at(start, high)} L{_at(end, high)}"/>'
        case Polyline(points):
            way = "M" + " L".join(_at(point, high) for point in points)
            way += "Z" if stroke.closed else ""
            # a filled shape has no line round it, which would make it larger
            filled = ' fill="#000" stroke="none"' if stroke.filled else ""
            return f'<path d="{way}"{filled}/>'
        case Circle((x, y), radius):
            return f'<circle cx="{_number(x)}" cy="{_number(high - y)}" r="{_number(radius)}"/>'
        case Arc((x, y), radius, start_deg, end_deg):
            ends = [
                (x + radius * cos(radians(deg)), y + radius * sin(radians(deg)))
                for deg in (start_deg, end_deg)
            ]
            large = int((end_deg - start_deg) % 360 > 180)
            return (
                f'<path d="M{_at(ends[0], high)} A{_number(radius)},{_number(radius)} 0 {large} 0'
                f' {_at(ends[1], high)}"/>'
            )
    raise TypeError(f"no rule to draw a {type(stroke).__name__}")


def _text(text: Text, high: float) -> str:
    """Every text starts at its left end, so that all programs set it alike."""
    at = start_of(text)
    x, y = _number(at[0]), _number(high - at[1])
    turned = ""
    if text.rotation_deg:
        turned = f' transform="rotate({_number(-text.rotation_deg)} {x} {y})"'
    return (
        f'<text x="{x}" y="{y}" font-size="{_number(size_mm(text.height))}"'
        f' textLength="{_number(width_mm(text.words, text.height))}"{turned}>'
        f"{escape(printable(text.words))}</text>"
    )
