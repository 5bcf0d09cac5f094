"""A drawing sheet as plain data: what the layout places and every writer draws.

All places are on the paper, in mm from the lower left corner of the trimmed sheet, x to the right and y
up, unless they are said to be of the model. Angles are in degrees, anticlockwise from x. What an item
looks like in strokes and texts is worked out once, in strokes.py, for all writers and for the layout's
checks; how wide a text is, in lettering.py.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import atan2, cos, degrees, hypot, radians, sin
from typing import Literal

from msgspec import field

from parts.standard.sections import MM_PER_INCH as MM_PER_INCH
from parts.value import Value
from planner.drawing.printed import printed as printed

Point = tuple[float, float]

Style = Literal["visible", "hidden", "centre", "thin", "cutting", "phantom", "frame"]
"""Kinds of line by what they show; their widths and dashes stand in strokes.py: STROKES."""

Anchor = Literal["left", "middle", "right"]

TEXT_MM = 3.5
"""The usual height of capitals, of the series of ISO 3098."""

ROUNDED, ON_PAPER_MM = 1e-6, 1e-3
"""What a printed size forgives beyond half of its last digit, and the paper in mm or degrees."""


class Box(Value, frozen=True):
    """An upright rectangle."""

    left: float
    low: float
    right: float
    top: float


class Line(Value, frozen=True):
    """A straight line."""

    start: Point
    end: Point
    style: Style = "visible"


class Polyline(Value, frozen=True):
    """Straight lines end to end; filled: black inside, as an arrow is."""

    points: tuple[Point, ...]
    style: Style = "visible"
    closed: bool = False
    filled: bool = False


class Arc(Value, frozen=True):
    """An arc, anticlockwise from start_deg to end_deg, less than a full turn."""

    centre: Point
    radius: float
    start_deg: float
    end_deg: float
    style: Style = "visible"


class Circle(Value, frozen=True):
    """A full circle."""

    centre: Point
    radius: float
    style: Style = "visible"


class Hatch(Value, frozen=True):
    """Hatching of an area: loops of points, holes among them (inside is by the even-odd rule).

    spacing: between two lines, square to them; at least 0.7 mm (ISO 128, from memory).
    """

    loops: tuple[tuple[Point, ...], ...]
    angle_deg: float = 45.0
    spacing: float = 3.0


class Text(Value, frozen=True):
    """One line of text: at: of its foot (the base line), at its left end, middle or right end.

    height: of capitals. rotation_deg: about `at`; 0 reads from below, 90 from the right.
    """

    at: Point
    words: str
    height: float = TEXT_MM
    anchor: Anchor = "left"
    rotation_deg: float = 0.0


class Dimension(Value, frozen=True):
    """One dimension: what is measured, what is printed, and where its line runs.

    kind: linear (across a round part as well, with Ø in its text), or a diameter or radius in a view
    where the circle is one, or an angle.
    points: what is measured, in mm of the model in the view's plane: two for linear and diameter (its
    two ends), centre and a point of the arc for radius, and for angle the vertex and a point of each
    leg, anticlockwise. feet: the same points on the paper, where the extension lines start.
    text: as printed, with Ø, R or a count in front and a tolerance class behind; its number is the
    measurement to half of its last digit (in inches when inch is true).
    at: linear: a point that the dimension line passes through, beside the part; angle: a point of the
    dimension arc. Radius and diameter: where the slanting line ends and the level shoulder under the
    text begins, on the line of the feet; inside the circle, a diameter's text stands on the line.
    along_deg: linear: the direction measured along on the paper; None: straight from foot to foot.
    upper, lower: limits printed behind, one over the other; both the same as "± 0.02" in `text`.
    shift: the text's middle off the middle of the dimension line, along it (linear and angle); None:
    in the middle, or beyond the second foot where there is no room between.
    feature: which feature it is of, for whoever proves the sheet.
    Raises ValueError where the text says another size than is measured, or the paper is out of scale.
    """

    kind: Literal["linear", "diameter", "radius", "angle"]
    points: tuple[Point, ...]
    feet: tuple[Point, ...]
    text: str
    at: Point
    scale: Fraction = Fraction(1)
    along_deg: float | None = None
    upper: str = ""
    lower: str = ""
    inch: bool = False
    shift: float | None = None
    height: float = TEXT_MM
    feature: str = ""

    def __post_init__(self) -> None:
        wanted = 3 if self.kind == "angle" else 2
        if len(self.points) != wanted or len(self.feet) != wanted:
            raise ValueError(f"{self.text}: a dimension of kind {self.kind} has {wanted} points")
        said, last = printed(self.text)
        if self.kind != "angle" and self.inch:
            said, last = said * MM_PER_INCH, last * MM_PER_INCH
        if not abs(said - self.measured) <= last / 2 + ROUNDED:
            raise ValueError(f"{self.text}: measures {self.measured:.6g}, prints {said:.6g}")
        drawn = _measure(self.kind, self.feet, self.along_deg)
        true = self.measured * (1 if self.kind == "angle" else float(self.scale))
        if not abs(drawn - true) <= ON_PAPER_MM:
            raise ValueError(f"{self.text}: {drawn:.4f} on the paper, {true:.4f} to scale")

    @property
    def measured(self) -> float:
        """What is measured: mm of the model, or degrees from 0 to 360."""
        return _measure(self.kind, self.points, self.along_deg)


def _measure(kind: str, points: tuple[Point, ...], along_deg: float | None) -> float:
    if kind == "angle":
        (x, y), *legs = points
        one, two = (degrees(atan2(b - y, a - x)) for a, b in legs)
        return (two - one) % 360
    (ax, ay), (bx, by) = points
    if along_deg is None:
        return hypot(bx - ax, by - ay)
    turn = radians(along_deg)
    return abs((bx - ax) * cos(turn) + (by - ay) * sin(turn))


class Leader(Value, frozen=True):
    """Words about a place: points: from the tip, by any elbow, to where the words begin.

    The last stretch should be level: the words stand on it, line over line, and run away from the one
    before last point. end: an arrow on an edge, a dot in an area, or nothing.
    """

    points: tuple[Point, ...]
    words: tuple[str, ...]
    height: float = TEXT_MM
    end: Literal["arrow", "dot", "none"] = "arrow"
    feature: str = ""


Weld = Literal["fillet", "square", "v", "bevel", "flare-bevel", "plug"]


class WeldSymbol(Value, frozen=True):
    """A weld after ISO 2553: points: from the tip on the joint to the reference line's near
    end; that line runs on level, away from the tip.

    size: before the symbol, "a3" (throat) or "z4" (leg); length: behind it. side: of the joint on
    which the weld is: the arrow's, the other (then the symbol hangs on the dashed line), or both.
    tail: the process or a note, ISO 4063's number say. system: A, or B, as AWS A2.4 has it: no dashed
    line, and below the line is the arrow's side.
    """

    points: tuple[Point, ...]
    kind: Weld
    size: str = ""
    length: str = ""
    side: Literal["arrow", "other", "both"] = "arrow"
    all_round: bool = False
    site: bool = False
    tail: str = ""
    system: Literal["A", "B"] = "A"
    height: float = TEXT_MM
    feature: str = ""


class TextureSymbol(Value, frozen=True):
    """A surface's texture after ISO 21920-1 (as ISO 1302): at: its point, on the surface.

    words: "Ra 1.6". removal: of material: required, not allowed, or as you like. rotation_deg: 0
    stands on a level surface, 90 reads from the right. bracketed: with a plain symbol in brackets
    behind it, for "all others" beside the title block. leader: where the sign does not stand on the
    surface itself: from the tip to the end of the line that it stands on; end: an arrow at the tip, or
    none where it goes on from other words.
    """

    at: Point
    words: str
    removal: Literal["required", "barred", "free"] = "required"
    rotation_deg: float = 0.0
    bracketed: bool = False
    leader: tuple[Point, ...] = ()
    end: Literal["arrow", "none"] = "arrow"
    height: float = TEXT_MM
    feature: str = ""


Characteristic = Literal[
    "straightness",
    "flatness",
    "roundness",
    "cylindricity",
    "parallelism",
    "perpendicularity",
    "angularity",
    "position",
    "concentricity",
    "symmetry",
    "run-out",
    "total run-out",
]


class GeometricTolerance(Value, frozen=True):
    """A tolerance frame after ISO 1101: at: its lower left corner.

    value: "0.02" or "Ø 0.05". datums: letters, in order. leader: from the tip on the feature to the
    frame, or none where the frame stands under a dimension.
    """

    at: Point
    characteristic: Characteristic
    value: str
    datums: tuple[str, ...] = ()
    leader: tuple[Point, ...] = ()
    height: float = TEXT_MM
    feature: str = ""


class DatumSymbol(Value, frozen=True):
    """A datum feature after ISO 5459: a filled triangle on the feature at `at`, and its letter in a
    box away from it along away_deg, a multiple of 90; reach: from the surface to the box. extension:
    the line that carries the surface beyond the outline to the triangle, if it stands there."""

    at: Point
    letter: str
    away_deg: float
    reach: float = 6.0
    height: float = TEXT_MM
    feature: str = ""
    extension: tuple[Point, ...] = ()


class Balloon(Value, frozen=True):
    """An item's number in a circle, with a line to the item; tip None: no line."""

    at: Point
    number: str
    tip: Point | None = None
    radius: float = 4.0
    height: float = TEXT_MM
    end: Literal["arrow", "dot"] = "dot"


Stroke = Line | Polyline | Arc | Circle
Item = (
    Stroke
    | Hatch
    | Text
    | Dimension
    | Leader
    | WeldSymbol
    | TextureSymbol
    | GeometricTolerance
    | DatumSymbol
    | Balloon
)


class Fields(Value, frozen=True):
    """What stands in the data fields of a sheet: names of ISO 7200, then those of a drawing.

    Empty fields are left blank, to be filled in by hand. edges: the state of edges not drawn, in words,
    or edge_sizes: most at outside and inside ones, signed (ISO 13715), in their stead. tolerances: the
    general ones, in words, line by line. texture: the general one; texture_of: of which surfaces.
    """

    title: str
    identification_number: str
    legal_owner: str = ""
    date_of_issue: str = ""
    sheet_number: int = 1
    number_of_sheets: int = 1
    approval_person: str = ""
    creator: str = ""
    document_type: str = ""
    revision_index: str = ""
    supplementary_title: str = ""
    material: str = ""
    stock: str = ""
    mass: str = ""
    quantity: str = ""
    tolerances: tuple[str, ...] = ()
    edges: str = ""
    edge_sizes: tuple[str, ...] = ()
    texture: str = ""
    texture_of: str = ""
    unit: Literal["mm", "in"] = "mm"


class Sheet(Value, frozen=True):
    """One sheet: paper: a name of frame.py: PAPERS; width and height as it lies, in mm.

    scale: of its views, as printed ("1:2"). frame: the frame and data fields, made by frame.py;
    items: the drawing inside it.
    """

    paper: str
    width: float
    height: float
    fields: Fields
    scale: str = "1:1"
    projection: Literal["first", "third"] = "first"
    frame: tuple[Item, ...] = ()
    items: tuple[Item, ...] = field(default=())

    @property
    def everything(self) -> tuple[Item, ...]:
        """The frame, then the drawing."""
        return self.frame + self.items


def factor(scale: str) -> Fraction:
    """What a scale as printed makes of a millimetre: "1:2" is a half, "5:1" is five, "FULL" one.

    Raises ValueError for anything else.
    """
    if scale == "FULL":
        return Fraction(1)
    found = re.fullmatch(r"(\d+)[:/](\d+)", scale)
    if not found or not int(found[1]) or not int(found[2]):
        raise ValueError(f"{scale!r}: a scale is written as 1:2 or 5:1")
    return Fraction(int(found[1]), int(found[2]))
