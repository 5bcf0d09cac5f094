"""A sheet with one of everything, for the tests of the drawing room's writers."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin

from msgspec.structs import replace
from shapely.geometry import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from planner.drawing.frame import blank
from planner.drawing.model import (
    Arc,
    Balloon,
    Circle,
    DatumSymbol,
    Dimension,
    Fields,
    GeometricTolerance,
    Hatch,
    Item,
    Leader,
    Line,
    Polyline,
    Sheet,
    Stroke,
    Text,
    TextureSymbol,
    WeldSymbol,
)

FIELDS = Fields(
    "Housing",
    "BL-07",
    "Own workshop",
    date_of_issue="2026-01-31",
    sheet_number=3,
    number_of_sheets=15,
    creator="A. B.",
    approval_person="C. D.",
    document_type="Part drawing",
    revision_index="B",
    supplementary_title="before welding",
    material="S355",
    stock="Flat 50 × 20",
    mass="0.85 kg",
    quantity="1",
    tolerances=("ISO 2768-m", "Angles: ISO 2768-m"),
    edges="broken 0.2 to 0.5, inside free to 0.3",
    texture="Ra 3.2",
)


Place = tuple[float, float]


def polar(centre: Place, deg: float, radius: float) -> Place:
    return centre[0] + radius * cos(radians(deg)), centre[1] + radius * sin(radians(deg))


HALF = Fraction(1, 2)
CENTRE = (80.0, 160.0)
ZERO = (0.0, 0.0)

LINEAR = Dimension(
    "linear", (ZERO, (160, 0)), ((40, 130), (120, 130)), "160 ± 0.1", (40, 115), HALF
)
LIMITED = Dimension(
    *("linear", (ZERO, (0, 120)), ((40, 130), (40, 190)), "120", (30, 130), HALF, 90.0),
    upper="+0.02",
    lower="-0.01",
)
SMALL = Dimension("linear", (ZERO, (8, 0)), ((116, 190), (120, 190)), "8", (116, 200), HALF)
INCH = Dimension(
    "linear", (ZERO, (25.4, 0)), ((120, 130), (132.7, 130)), "1.000", (130, 120), HALF, inch=True
)
DIAMETER = Dimension(
    "diameter",
    (polar(ZERO, 45, 30), polar(ZERO, 225, 30)),
    (polar(CENTRE, 45, 15), polar(CENTRE, 225, 15)),
    "Ø 60 H7",
    polar(CENTRE, 45, 80),
    HALF,
)
RADIUS = Dimension(
    *("radius", (ZERO, polar(ZERO, -30, 30)), (CENTRE, polar(CENTRE, -30, 15)), "R 30"),
    polar(CENTRE, -30, 70),
    HALF,
)
ANGLE = Dimension(
    "angle",
    (ZERO, (40, 0), polar(ZERO, 30, 40)),
    ((150, 150), (190, 150), polar((150, 150), 30, 40)),
    "30°",
    polar((150, 150), 10, 30),
)
DIMENSIONS = (LINEAR, LIMITED, SMALL, INCH, DIAMETER, RADIUS, ANGLE)

HATCH = Hatch(
    (((40, 210), (90, 210), (90, 240), (40, 240)), ((55, 220), (75, 220), (75, 230), (55, 230)))
)

REST: tuple[Item, ...] = (
    Polyline(((40, 130), (120, 130), (120, 190), (40, 190)), closed=True),
    Circle(CENTRE, 15),
    Arc(CENTRE, 20, 100, 170, "phantom"),
    Line((60, 160), (100, 160), "centre"),
    HATCH,
    Leader(((90, 235), (100, 245), (105, 245)), ("4× M6 ↧ 12", "⌴ Ø 11 ↧ 6.5; ⌵ 90°")),
    WeldSymbol(
        ((90, 215), (105, 225), (110, 225)), "fillet", "a3", "50", all_round=True, tail="135"
    ),
    WeldSymbol(((150, 215), (160, 225), (165, 225)), "v", side="other", site=True),
    TextureSymbol((150, 250), "Ra 1.6"),
    GeometricTolerance((40, 250), "position", "Ø 0.05", ("A", "B")),
    DatumSymbol((90, 190), "A", 90),
    Balloon((170, 200), "12", (150, 205)),
    Line((30, 100), (130, 100), "thin"),
    Line((195, 100), (195, 200), "thin"),
    Text((30, 92), "Prüfmaß Ø ° ± × µ ⌀", 3.5),
)

SHEET: Sheet = replace(blank(FIELDS, "A4", scale="1:2"), items=REST + DIMENSIONS)
BAR_LEVEL, BAR_UPRIGHT = ((30.0, 100.0), (130.0, 100.0)), ((195.0, 100.0), (195.0, 200.0))


def shape(stroke: Stroke) -> BaseGeometry:
    """A stroke as shapely has it."""
    match stroke:
        case Line(start, end):
            return LineString([start, end])
        case Polyline(points):
            ring = [*points, points[0]] if stroke.closed else points
            return Polygon(points) if stroke.filled else LineString(ring)
        case Arc(centre, radius, start_deg, end_deg):
            steps = max(2, round(end_deg - start_deg))
            turn = (end_deg - start_deg) / steps
            return LineString(polar(centre, start_deg + k * turn, radius) for k in range(steps + 1))
        case _:
            return Point(stroke.centre).buffer(stroke.radius, 64).exterior
