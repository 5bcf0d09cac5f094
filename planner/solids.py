"""The parts as solids: features to shapes, volumes, STEP files, views. Alone loads the CAD kernel.

The kernel is imported inside functions, when the first solid is asked for: help, sizing, cut list
and route answer without it. Solids are nominal; limits of size live on the drawing.
"""

from __future__ import annotations

import functools
import io
import itertools
import os
import re
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from math import acos, atan, atan2, cos, degrees, dist, hypot, inf, pi, radians, sin, sqrt, tan
from pathlib import Path
from typing import Any

from parts.attachment import Attachment, Carrier, Placed
from parts.features import (
    Bore,
    Counterbore,
    DrilledHole,
    EngravedScale,
    FacedLength,
    FacedShoulder,
    Feature,
    GroundPoint,
    Hole,
    IndexMark,
    Knurl,
    MilledFlat,
    MilledSlot,
    ReamedHole,
    Removed,
    SawnNotch,
    Slit,
    TappedHole,
    Thread,
    Turned,
    TurnedBall,
    TurnedDiameter,
    Weld,
)
from parts.frame import Axis, Box, Frame, Point, vector
from parts.part import Bought, Joined, Member, Part, Stock, every_feature, members
from parts.standard.fasteners import socket_screw, thin_nut, washer
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.curves import Arc, Curve, Line, Point2, Polyline
from planner.dial import design_dial, engraving_table

Shape = Any
"""A ``cadquery.Shape``; named so because the kernel and its types are imported late."""

PAST_MM = 1.0
"""Through holes and ball cutters run past both ends, so that no skin is left there."""

LEAD_PITCHES = 3.0
"""A blind tapped hole is drilled deeper by the lead of a tap (common practice: three pitches)."""

GROOVE_MM = 0.15
"""Depth of an engraved division line."""

ENGRAVED = (EngravedScale, IndexMark)
"""Left off the solid that is measured and drawn: they would swamp its views with short edges."""

TRUTH: dict[type[Feature], str] = {
    FacedLength: "true: the blank has its finished length",
    TurnedDiameter: "true at the nominal diameter",
    FacedShoulder: "true: all outside the diameter is gone",
    Thread: "as a cylinder of its major diameter",
    Knurl: "as a cylinder of its diameter, no teeth",
    EngravedScale: f"lines {GROOVE_MM:g} mm deep, no numerals; left off the views",
    TurnedBall: "true at the nominal diameter",
    DrilledHole: "true at the nominal diameter; a blind one ends flat",
    ReamedHole: "true at the nominal diameter",
    Bore: "true at the nominal diameter",
    Counterbore: "true at the nominal diameter",
    TappedHole: f"as its tap drill; a blind one {LEAD_PITCHES:g} pitches deeper, with a flat end",
    MilledFlat: "true",
    MilledSlot: "true, sharp inner corners",
    Slit: "true",
    SawnNotch: "true, with the radius of its inner corners",
    IndexMark: "true, sharp-edged; left off the views",
    GroundPoint: "true: two sides and a nose, ground at one clearance angle",
    Weld: "not modelled: the members are one solid, without fillers or preparations",
}
"""How true the solid of each feature type is."""


class KernelMissing(ImportError):
    """The CAD kernel cannot be loaded; the message says what to install."""


@functools.cache
def kernel() -> Any:
    """The cadquery module, imported at the first call (about two seconds).

    Raises KernelMissing when it or a system library it needs is not installed.
    """
    try:
        import cadquery
    except ImportError as error:
        if "libGL" in str(error):
            remedy = "Install the Debian package libgl1: apt-get install libgl1"
        else:
            remedy = "Install it: pip install cadquery"
        raise KernelMissing(f"solids: the CAD kernel does not load ({error}). {remedy}") from error
    return cadquery


# ---- feature to solid: what each feature takes away ----


@functools.singledispatch
def cutters(feature: Feature, blank: Box) -> list[Shape]:
    """The solids a feature takes away from the body it is made on.

    blank: upright box round that body before it is cut, mm; all in the body's frame.
    Raises TypeError for a feature type without a rule.
    """
    raise TypeError(
        f"'{feature.name}': {type(feature).__name__} has no solid rule;"
        " add one (and its line in TRUTH) in planner.solids"
    )


@cutters.register(FacedLength)
@cutters.register(Weld)
def _(feature: Feature, blank: Box) -> list[Shape]:
    return []


@cutters.register(TurnedDiameter)
@cutters.register(FacedShoulder)
@cutters.register(Knurl)
def _(feature: TurnedDiameter | FacedShoulder | Knurl, blank: Box) -> list[Shape]:
    return [_ring(feature, feature.diameter.nominal_mm / 2, blank)]


@cutters.register
def _(feature: Thread, blank: Box) -> list[Shape]:
    return [_ring(feature, thread(feature.thread).major_mm / 2, blank)]


@cutters.register
def _(feature: TurnedBall, blank: Box) -> list[Shape]:
    radius = feature.diameter.nominal_mm / 2
    outside = _cylinder(
        feature.axis, feature.start_mm, feature.end_mm + PAST_MM, _reach(feature.axis, blank)
    )
    centre = feature.axis.at(feature.end_mm - radius)
    ball = kernel().Solid.makeSphere(radius, centre, vector(feature.axis.along), -90, 90, 360)
    return [outside.cut(ball)]


@cutters.register
def _(feature: EngravedScale, blank: Box) -> list[Shape]:
    cq = kernel()
    radius = feature.diameter.nominal_mm / 2
    run = feature.end_mm - feature.start_mm
    # The longest lines take half a rim's width, so a rim of twice the run makes them the run; the
    # lead has no say in which lines are long.
    dial = design_dial(feature.divisions, 1.0, 2 * radius, rim_width_mm=2 * run)
    plane = cq.Plane(feature.axis.at(feature.start_mm), normal=vector(feature.axis.along))
    grooves = []
    for line in engraving_table(dial):
        groove = cq.Solid.makeBox(
            GROOVE_MM + PAST_MM,
            feature.line_width_mm,
            line.length_mm,
            (radius - GROOVE_MM, -feature.line_width_mm / 2, 0.0),
        )
        turn = cq.Location((0, 0, 0), (0, 0, 1), line.angle_deg)
        grooves.append(groove.moved(cq.Location(plane) * turn))
    return grooves


@cutters.register(DrilledHole)
@cutters.register(ReamedHole)
@cutters.register(Bore)
@cutters.register(Counterbore)
def _(feature: DrilledHole | ReamedHole | Bore | Counterbore, blank: Box) -> list[Shape]:
    return [_hole(feature, feature.diameter.nominal_mm)]


@cutters.register
def _(feature: TappedHole, blank: Box) -> list[Shape]:
    size = thread(feature.thread)
    return [_hole(feature, size.tap_drill_mm, LEAD_PITCHES * size.pitch_mm)]


@cutters.register(MilledFlat)
@cutters.register(MilledSlot)
@cutters.register(Slit)
@cutters.register(IndexMark)
def _(feature: Removed, blank: Box) -> list[Shape]:
    return [_box(feature.box)]


@cutters.register
def _(feature: SawnNotch, blank: Box) -> list[Shape]:
    notch = _box(feature.box)
    if not feature.corner_radius_mm:
        return [notch]

    def inside(edge: Shape) -> bool:
        middle = edge.Center().toTuple()
        bounds = zip(blank.low[:2], middle[:2], blank.high[:2], strict=True)
        return all(low + 1e-6 < at < high - 1e-6 for low, at, high in bounds)

    upright = [edge for edge in notch.Edges() if abs(edge.tangentAt(0.5).z) > 0.5]
    return [notch.fillet(feature.corner_radius_mm, [edge for edge in upright if inside(edge)])]


@cutters.register
def _(feature: GroundPoint, blank: Box) -> list[Shape]:
    # Both sides and the nose run parallel to the ridge below the nose: all is one prism along it.
    cq = kernel()
    half, clearance = radians(feature.included_deg / 2), radians(feature.clearance_deg)
    ridge = atan(tan(clearance) / sin(half))
    across = acos(cos(half) * cos(clearance))  # half the angle between the sides, square to it
    radius = feature.nose_radius_mm
    touch_x, touch_y = radius * (1 - sin(across)), radius * cos(across)
    _, width, depth = blank.size()
    far_y = width / 2 + PAST_MM
    far_x = touch_x + (far_y - touch_y) / tan(across)
    nose = (blank.low[0], (blank.low[1] + blank.high[1]) / 2, blank.high[2])
    plane = cq.Plane(nose, xDir=(cos(ridge), 0, sin(ridge)), normal=(-sin(ridge), 0, cos(ridge)))
    outline = cq.Workplane(plane).moveTo(touch_x, touch_y)
    if radius:
        outline = outline.threePointArc((0, 0), (touch_x, -touch_y))
    beyond = 2 * depth
    outline = outline.lineTo(far_x, -far_y).lineTo(-beyond, -far_y).lineTo(-beyond, far_y)
    prism = outline.lineTo(far_x, far_y).close().extrude(-beyond, both=True)
    return [prism.val()]


def _hole(hole: Hole, diameter_mm: float, deeper_mm: float = 0.0) -> Shape:
    """A through hole runs past both ends; a blind one is drilled deeper by ``deeper_mm``."""
    if hole.through:
        return _cylinder(hole.axis, -PAST_MM, hole.depth_mm + PAST_MM, diameter_mm / 2)
    return _cylinder(hole.axis, 0.0, hole.depth_mm + deeper_mm, diameter_mm / 2)


def _ring(turned: Turned, radius_mm: float, blank: Box) -> Shape:
    """All the blank may have outside a radius, between the two stations."""
    return _tube(turned.axis, turned.start_mm, turned.end_mm, _reach(turned.axis, blank), radius_mm)


def _reach(axis: Axis, blank: Box) -> float:
    """A radius about an axis that nothing of the blank is outside of."""
    return PAST_MM + max(dist(corner, axis.origin) for corner in blank.corners())


def _cylinder(axis: Axis, start_mm: float, end_mm: float, radius_mm: float) -> Shape:
    return kernel().Solid.makeCylinder(
        radius_mm, end_mm - start_mm, axis.at(start_mm), vector(axis.along)
    )


def _tube(axis: Axis, start_mm: float, end_mm: float, outer_mm: float, inner_mm: float) -> Shape:
    cq = kernel()
    along = cq.Vector(*vector(axis.along))
    rims = [cq.Wire.makeCircle(r, axis.at(start_mm), along) for r in (outer_mm, inner_mm)]
    return cq.Solid.extrudeLinear(rims[0], rims[1:], along * (end_mm - start_mm))


def _box(box: Box) -> Shape:
    return kernel().Solid.makeBox(*box.size(), box.low)


# ---- blank to part ----


class _Same:
    """A part as a key: the same object, since parts hold dictionaries and do not hash."""

    def __init__(self, part: Part) -> None:
        self.part = part

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.part is self.part

    def __hash__(self) -> int:
        return id(self.part)


def solid(part: Part, engraved: bool = True) -> Shape:
    """The solid of a part in its own frame, mm; kept, so asking again costs nothing.

    engraved: with its division lines and index marks; without them for volumes and views.
    Raises ValueError when the features leave other than one piece of the part.
    """
    return _engraved(_Same(part)) if engraved else _plain(_Same(part))


@functools.lru_cache(maxsize=64)
def _plain(key: _Same) -> Shape:
    part = key.part
    blank = part.blank
    if isinstance(blank, Joined):
        first, *rest = (_member(member) for member in blank.members)
        body = first.fuse(*rest).clean() if rest else first
    else:
        body = _stock(blank)
    return _one(_cut(body, part.features), part)


@functools.lru_cache(maxsize=64)
def _engraved(key: _Same) -> Shape:
    plain, tools = _plain(key), []
    for member, feature in every_feature(key.part):
        if isinstance(feature, ENGRAVED):
            place = location(member.frame if member else Frame())
            tools += [tool.moved(place) for tool in cutters(feature, _bounds(plain))]
    return _one(plain.cut(*tools), key.part) if tools else plain


def _member(member: Member) -> Shape:
    """A member with its own features, moved to its place in the weldment."""
    return _cut(_stock(member.blank), member.features).moved(location(member.frame))


def _cut(body: Shape, features: Iterable[Feature]) -> Shape:
    """The body less its features, all cut at once: one at a time is ten times slower."""
    bounds = _bounds(body)
    wanted = (feature for feature in features if not isinstance(feature, ENGRAVED))
    tools = [tool for feature in wanted for tool in cutters(feature, bounds)]
    return body.cut(*tools).clean() if tools else body


def _bounds(body: Shape) -> Box:
    box = body.BoundingBox()
    return Box((box.xmin, box.ymin, box.zmin), (box.xmax, box.ymax, box.zmax))


def _one(shape: Shape, part: Part) -> Shape:
    pieces = shape.Solids()
    if len(pieces) != 1:
        raise ValueError(
            f"{part.name}: its blank and features make {len(pieces)} pieces; a part is one."
            " Compare the places and sizes of its members and cuts"
        )
    return pieces[0]


def _stock(stock: Stock) -> Shape:
    """A blank along +x from x = 0; a flat's width along y, its thickness along z."""
    section, length = stock.section, stock.length_mm
    width = section.width_mm
    if section.shape == "round":
        return _cylinder(Axis(), 0.0, length, width / 2)
    if section.shape == "tube":
        return _tube(Axis(), 0.0, length, width / 2, width / 2 - section.thickness_mm)
    height = section.height_mm
    return _box(Box((0.0, -width / 2, -height / 2), (length, width / 2, height / 2)))


def volume_mm3(part: Part) -> float:
    """The volume of a part, mm3, without weld filler and engraving."""
    return float(solid(part, engraved=False).Volume())


def mass_kg(part: Part) -> float:
    """The mass of a part, kg, each member in its own material; without weld filler.

    Assumes that members do not overlap before they are welded.
    """
    density = {m.name: material(m.blank.material).density_kg_m3 * 1e-9 for m in members(part)}
    if len(set(density.values())) == 1:
        return volume_mm3(part) * next(iter(density.values()))
    # Cuts commute with joining, so each member can be given the cuts of the whole by itself.
    return sum(
        float(_cut(_member(m), part.features).Volume()) * density[m.name] for m in members(part)
    )


# ---- bought items and poses ----


def location(frame: Frame) -> Any:
    """A frame in its parent as a cadquery Location."""
    x, _, z = frame.directions()
    return kernel().Location(kernel().Plane(frame.origin, x, z))


def placement(placed: Placed, tip_radius_mm: float, swing_deg: float) -> Any:
    """Where a placed item stands in a pose, as a cadquery Location.

    tip_radius_mm: the head moves out along y by it; swing_deg: polar angle of the tip, 0 at the
    ball's nose, 90 on top: parts.attachment.in_pose says the same of points.
    """
    cq = kernel()
    stand = location(placed.frame)
    if placed.carrier is Carrier.POST:
        return stand
    out = cq.Location((0.0, tip_radius_mm if placed.carrier is Carrier.HEAD else 0.0, 0.0))
    return cq.Location((0, 0, 0), (1, 0, 0), 90.0 - swing_deg) * out * stand


def bought_solid(item: Bought) -> Shape:
    """A bought item in its own frame: along +x from 0, a screw's head towards -x. No sockets.

    Threads are cylinders of the major diameter, and a nut's hole is that of its thread.
    Raises ValueError for a kind without a solid.
    """
    major = thread(item.thread).major_mm / 2
    axis = Axis()
    if item.kind == "washer":
        ring = washer(item.thread)
        return _tube(axis, 0.0, ring.thickness_mm, ring.outside_mm / 2, ring.inside_mm / 2)
    if item.kind == "thin nut":
        cq = kernel()
        nut = thin_nut(item.thread)
        corner = nut.across_flats_mm / sqrt(3.0)
        angles = [k * pi / 3 for k in range(6)]
        points = [cq.Vector(0, corner * cos(a), corner * sin(a)) for a in angles]
        hole = cq.Wire.makeCircle(major, (0, 0, 0), cq.Vector(1, 0, 0))
        hexagon = cq.Wire.makePolygon(points, close=True)
        return cq.Solid.extrudeLinear(hexagon, [hole], (nut.height_mm, 0, 0))
    if item.kind == "set screw":
        return _cylinder(axis, 0.0, item.length_mm, major)
    if item.kind == "socket screw":
        size = socket_screw(item.thread)
        head = _cylinder(axis, -size.head_height_mm, 0.0, size.head_diameter_mm / 2)
        return head.fuse(_cylinder(axis, 0.0, item.length_mm, major)).Solids()[0]
    raise ValueError(f"bought item '{item.kind} {item.thread}': no solid for this kind; add one")


def label(item: Part | Bought) -> str:
    """What an item is called in a STEP file: its title, or what it is ordered as."""
    if isinstance(item, Part):
        return item.title
    length = f" x {item.length_mm:g} mm" if item.length_mm else ""
    return f"{item.kind.capitalize()} {item.thread}{length} {item.standard}"


# ---- STEP ----

STEEL_GREY = (0.62, 0.64, 0.66)
"""Colour of everything bought."""

TIME_STAMP = "1970-01-01T00:00:00"
"""Written in place of the time, so that the same sizes give the same file."""


PRECISION_MM = 1e-6
"""The uncertainty a STEP file states of its points."""


@dataclass(frozen=True)
class Product:
    """What a STEP file names: a shape with its colour."""

    name: str
    shape: Shape
    colour: tuple[float, float, float]


def write_step(path: Path, part: Part) -> None:
    """One part as a STEP file (AP214, mm) in its own frame, named by its title, coloured.

    Whole or not at all, and byte for byte the same for the same part. Raises OSError when the
    file cannot be written.
    """
    _write(path, part.title, [Product(part.title, solid(part), part.colour)], {})


def write_assembly_step(
    path: Path, attachment: Attachment, tip_radius_mm: float, swing_deg: float
) -> None:
    """All parts and bought items in a pose, named and coloured, as one STEP file (AP214, mm).

    tip_radius_mm, swing_deg: the pose, as in ``placement``. As reproducible as ``write_step``.
    """
    products: dict[str, Product] = {}
    places: dict[str, list[Any]] = {}
    for placed in attachment.placed:
        name, item = label(placed.item), placed.item
        if name not in products:
            if isinstance(item, Part):
                products[name] = Product(name, solid(item), item.colour)
            else:
                products[name] = Product(name, bought_solid(item), STEEL_GREY)
        places.setdefault(name, []).append(placement(placed, tip_radius_mm, swing_deg))
    _write(path, "Attachment", list(products.values()), places)


def _write(
    path: Path, title: str, products: Sequence[Product], places: Mapping[str, Sequence[Any]]
) -> None:
    """A STEP file of one product by itself or, with the places of each, of an assembly of them.

    The kernel's own document is written, since cadquery's exporter wraps a single part in a
    nameless assembly; it goes to memory, is made reproducible, and only then to its place.
    """
    kernel()
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.STEPControl import STEPControl_StepModelType
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDocStd import TDocStd_Document
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    document = TDocStd_Document(TCollection_ExtendedString("XCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    shapes.SetAutoNaming_s(False)

    def named(entry: Any, name: str) -> Any:
        TDataStd_Name.Set_s(entry, TCollection_ExtendedString(name))
        return entry

    whole = named(shapes.NewShape(), title) if places else None
    for product in products:
        entry = named(shapes.AddShape(product.shape.wrapped, False), product.name)
        for place in places.get(product.name, ()):
            named(shapes.AddComponent(whole, entry, place.wrapped), product.name)
    if places:
        shapes.UpdateAssemblies()

    writer = STEPCAFControl_Writer()  # first, since making one resets the settings
    Interface_Static.SetCVal_s("xstep.cascade.unit", "MM")
    Interface_Static.SetCVal_s("write.step.unit", "MM")
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    # Stated here, else the average of the shape's tolerances, which earlier cuts may have widened.
    Interface_Static.SetIVal_s("write.precision.mode", 2)
    Interface_Static.SetRVal_s("write.precision.val", PRECISION_MM)
    writer.SetNameMode(True)
    writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
    stream = io.BytesIO()
    writer.WriteStream(stream)
    text = _reproducible(stream.getvalue().decode("ascii"), title)
    text = _coloured(text, [product.colour for product in products])
    unfinished = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        unfinished.write_text(text, encoding="ascii", newline="\n")
        os.replace(unfinished, path)
    finally:
        unfinished.unlink(missing_ok=True)


def _reproducible(text: str, title: str) -> str:
    """A STEP text without what changes from run to run: the time, and what the kernel counts up."""
    quoted = title.replace("'", "''")
    header = f"FILE_NAME('{quoted}','{TIME_STAMP}',(''),(''),'Open CASCADE','pommel','')"
    text = re.sub(r"FILE_NAME\(.*?\)(?=;)", lambda _: header, text, count=1, flags=re.DOTALL)
    count = itertools.count(1)

    def occurrence(found: re.Match[str]) -> str:
        # On one line, since where the kernel breaks it depends on how long the number was.
        rest = re.sub(r"\n\s*", "", found[1])
        return f"NEXT_ASSEMBLY_USAGE_OCCURRENCE('{next(count)}'{rest};"

    pattern = r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\(\s*'\d+'(.*?);"
    return re.sub(pattern, occurrence, text, flags=re.DOTALL)


def _coloured(text: str, colours: Sequence[tuple[float, float, float]]) -> str:
    """A STEP text with a colour for each of its solids, in their order.

    Added here because the kernel writes colours in the order of memory addresses.
    """
    solids = re.findall(r"#(\d+) = (?:MANIFOLD_SOLID_BREP|BREP_WITH_VOIDS)\(", text)
    contexts = re.findall(
        r"ADVANCED_BREP_SHAPE_REPRESENTATION\('',\(.*?\),\s*#(\d+)\);", text, re.S
    )
    number = max(int(n) for n in re.findall(r"^#(\d+) = ", text, re.M))
    lines = []
    for item, context, rgb in zip(solids, contexts, colours, strict=True):
        tint = ",".join(f"{share:.4f}" for share in rgb)
        for record in (
            f"COLOUR_RGB('',{tint})",
            "FILL_AREA_STYLE_COLOUR('',#{0})",
            "FILL_AREA_STYLE('',(#{0}))",
            "SURFACE_STYLE_FILL_AREA(#{0})",
            "SURFACE_SIDE_STYLE('',(#{0}))",
            "SURFACE_STYLE_USAGE(.BOTH.,#{0})",
            "PRESENTATION_STYLE_ASSIGNMENT((#{0}))",
            f"STYLED_ITEM('colour',(#{{0}}),#{item})",
            f"MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION('',(#{{0}}),#{context})",
        ):
            lines.append(f"#{number + 1} = {record.format(number)};\n")
            number += 1
    end = text.rindex("ENDSEC;")
    return text[:end] + "".join(lines) + text[end:]


# ---- views ----

VIEWS: dict[str, tuple[Point, Point]] = {
    "front": ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)),
    "top": ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0)),
    "left": ((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
}
"""Where the viewer stands and what points to his right, in the part's frame."""

TILT_RAD = 1e-5
"""The viewer is this far off his axis: a hole seen exactly along its own axis among smooth walls is
a degenerate case that takes the hidden-line removal ten times longer and gives twenty times the
edges. At 200 mm it is 0.002 mm, which the snapping takes back."""

SNAP_MM = 0.005
"""Projected edges are drawn at the model's own coordinates when they come this near to them."""

FINE_MM, CHORD_MM = 0.002, 0.01
"""How near points must follow a curve that is to be recognised, and one that is not."""

LEAST_MM = 0.01
"""Anything shorter is dust of the tilt."""


def projected_edges(part: Part, view: str) -> tuple[Curve, ...]:
    """The edges of a part as seen, first-angle, visible and hidden, in mm from its own origin.

    view: "front" looks from +z towards -z, x to the right and y up, so turned parts lie along the
    sheet; "top" looks down from +y, x to the right and -z up (it stands below the front view);
    "left" looks from -x along +x, z to the right and y up (it stands to the right).
    Returns true lines and arcs where they are, points within 0.01 mm elsewhere; no curve lies on
    another; coordinates rounded to 0.0001 mm. Without engraving, threads and smooth edges.
    Raises ValueError for another view.
    """
    if view not in VIEWS:
        raise ValueError(f"view '{view}': must be one of {', '.join(VIEWS)}")
    shape = solid(part, engraved=False)
    towards, right = (kernel().Vector(*v) for v in VIEWS[view])
    snap = _snapping(shape, right, towards.cross(right))
    edges = _unhidden(shape, towards, right)
    found = [_recognised(edge, hidden, snap) for edge, hidden in edges]
    return _tidied([curve for curve in found if curve is not None])


def _unhidden(shape: Shape, towards: Any, right: Any) -> list[tuple[Shape, bool]]:
    """Edges projected on the plane of the view, each with whether it is hidden."""
    from OCP.BRepLib import BRepLib
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    BRepLib.EncodeRegularity_s(shape.wrapped)  # so that seams count as smooth and are not drawn
    aside = towards + right * (0.8 * TILT_RAD) + towards.cross(right) * (0.6 * TILT_RAD)
    axes = gp_Ax2(gp_Pnt(), gp_Dir(*aside.toTuple()), gp_Dir(*right.toTuple()))
    algorithm = HLRBRep_Algo()
    algorithm.Add(shape.wrapped)
    algorithm.Projector(HLRAlgo_Projector(axes))
    algorithm.Update()
    algorithm.Hide()
    result = HLRBRep_HLRToShape(algorithm)
    edges = []
    for compound, hidden in (
        (result.VCompound(), False),
        (result.OutLineVCompound(), False),
        (result.HCompound(), True),
        (result.OutLineHCompound(), True),
    ):
        if compound is not None and not compound.IsNull():
            BRepLib.BuildCurves3d_s(compound)
            edges += [(edge, hidden) for edge in kernel().Shape.cast(compound).Edges()]
    return edges


class _Snap:
    """Takes a projected value to the model's own, when one is within SNAP_MM."""

    def __init__(self, values: Iterable[float]) -> None:
        self.values = sorted({_rounded(value) for value in values})

    def near(self, value: float) -> float | None:
        at = bisect_left(self.values, value)
        beside = self.values[max(0, at - 1) : at + 1]
        nearest = min(beside, key=lambda v: abs(v - value), default=inf)
        return nearest if abs(nearest - value) <= SNAP_MM else None

    def __call__(self, value: float) -> float:
        near = self.near(value)
        return _rounded(value) if near is None else near


def _rounded(value: float) -> float:
    """To 0.0001 mm, and no minus before a zero."""
    return round(value, 4) + 0.0


def _snapping(shape: Shape, right: Any, up: Any) -> tuple[_Snap, _Snap, _Snap]:
    """The model's own coordinates in a view: to the right, up, and its radii."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    rounds = [(e.arcCenter(), e.radius()) for e in shape.Edges() if e.geomType() == "CIRCLE"]
    for face in shape.Faces():
        if face.geomType() in ("SPHERE", "CYLINDER"):
            made = BRepAdaptor_Surface(face.wrapped)
            form = made.Sphere() if face.geomType() == "SPHERE" else made.Cylinder()
            rounds.append((kernel().Vector(form.Location()), form.Radius()))
    points = [vertex.Center() for vertex in shape.Vertices()]

    def along(axis: Any) -> _Snap:
        centres = [(centre.dot(axis), radius) for centre, radius in rounds]
        reach = [c + r * side for c, r in centres for side in (-1, 0, 1)]
        return _Snap([*(point.dot(axis) for point in points), *reach])

    return along(right), along(up), _Snap(radius for _, radius in rounds)


def _recognised(edge: Shape, hidden: bool, snap: tuple[_Snap, _Snap, _Snap]) -> Curve | None:
    """A projected edge as a line or an arc where it is one; None for dust."""
    to_u, to_v, to_radius = snap
    points = _sampled(edge, FINE_MM)
    # A circle seen edge-on goes there and back: its ends are the farthest two of its points.
    start = max(points, key=lambda p: dist(p, points[0]))
    end = max(points, key=lambda p: dist(p, start))
    length = dist(start, end)
    if length < LEAST_MM:
        return None
    if all(_off_line(p, start, end) <= FINE_MM for p in points):
        ends = sorted((to_u(u), to_v(v)) for u, v in (start, end))
        return Line(ends[0], ends[1], hidden) if ends[0] != ends[1] else None
    (u, v), radius = _circle(points)
    centre, size = (to_u.near(u), to_v.near(v)), to_radius.near(radius)
    on_it = all(abs(dist(p, (u, v)) - radius) <= FINE_MM for p in points)
    # Every true arc has its centre and radius from the model; what only looks like one has not.
    if on_it and size and centre[0] is not None and centre[1] is not None:
        return _arc(points, (centre[0], centre[1]), size, hidden)
    first, *path, last = _sampled(edge, CHORD_MM)
    ends = [(to_u(u), to_v(v)) for u, v in (first, last)]
    between = [(_rounded(u), _rounded(v)) for u, v in path]
    return Polyline((ends[0], *between, ends[1]), hidden)


def _sampled(edge: Shape, within_mm: float) -> list[Point2]:
    """Points on a projected edge, the chords between them within a distance of it."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.GCPnts import GCPnts_TangentialDeflection

    points = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge.wrapped), 0.2, within_mm, 9)
    values = (points.Value(k + 1) for k in range(points.NbPoints()))
    return [(value.X(), value.Y()) for value in values]


def _turn(a: Point2, b: Point2, c: Point2) -> float:
    """Twice the area of a triangle, positive when it turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _off_line(point: Point2, start: Point2, end: Point2) -> float:
    return abs(_turn(start, end, point)) / dist(start, end)


def _circle(points: Sequence[Point2]) -> tuple[Point2, float]:
    """Centre and radius of the circle through three of the points, which are not in line."""
    count = len(points)
    a, b, c = points[0], points[count // 3], points[2 * count // 3]
    twice = 2 * _turn(a, b, c) or 1e-9
    bx, by, cx, cy = b[0] - a[0], b[1] - a[1], c[0] - a[0], c[1] - a[1]
    x = (cy * (bx**2 + by**2) - by * (cx**2 + cy**2)) / twice
    y = (bx * (cx**2 + cy**2) - cx * (bx**2 + by**2)) / twice
    return (a[0] + x, a[1] + y), hypot(x, y)


def _arc(points: Sequence[Point2], centre: Point2, radius_mm: float, hidden: bool) -> Arc:
    """The arc through points in their order along it."""
    first, middle, last = points[0], points[len(points) // 2], points[-1]
    if dist(first, last) < FINE_MM:
        return Arc(centre, radius_mm, 0.0, 360.0, hidden)
    if _turn(first, middle, last) < 0:
        first, last = last, first
    start, end = (degrees(atan2(p[1] - centre[1], p[0] - centre[0])) % 360 for p in (first, last))
    return Arc(centre, radius_mm, start, end if end > start else end + 360, hidden)


# ---- no curve twice: spans along what carries them ----

Spans = list[tuple[float, float]]


def _joined(spans: Spans, gap: float) -> Spans:
    """The spans, rising, with those that touch or overlap made one."""
    out: Spans = []
    for low, high in sorted(spans):
        if out and low <= out[-1][1] + gap:
            out[-1] = (out[-1][0], max(out[-1][1], high))
        else:
            out.append((low, high))
    return out


def _less_spans(spans: Spans, taken: Spans) -> Spans:
    """What the taken spans leave of the spans; both joined."""
    for low, high in taken:
        pieces = [((a, min(b, low)), (max(a, high), b)) for a, b in spans]
        spans = [piece for pair in pieces for piece in pair if piece[0] < piece[1]]
    return spans


@dataclass
class _Carrier:
    """A straight line or a circle with the spans of it that are visible and hidden.

    Spans are mm from ``origin`` along ``along``, or degrees round ``origin`` at ``radius_mm``.
    """

    origin: Point2
    along: Point2 = (0.0, 0.0)
    radius_mm: float = 0.0
    visible: Spans = field(default_factory=list)
    hidden: Spans = field(default_factory=list)

    def add(self, low: float, high: float, hidden: bool) -> None:
        (self.hidden if hidden else self.visible).append((low, high))

    def settled(self, least: float) -> list[tuple[float, float, bool]]:
        """Its spans without overlaps, hidden only where not visible, none shorter than dust."""
        visible = _joined(self.visible, least)
        hidden = _less_spans(_joined(self.hidden, least), visible)
        spans = [(a, b, h) for h, found in ((False, visible), (True, hidden)) for a, b in found]
        return [span for span in spans if span[1] - span[0] >= least]


def _tidied(curves: Sequence[Curve]) -> tuple[Curve, ...]:
    """The curves without overlaps, hidden under visible ones included, in an order of their own."""
    straight = _straight([curve for curve in curves if isinstance(curve, Line)])
    curved = _round([curve for curve in curves if isinstance(curve, Arc)])
    paths: list[Polyline] = []
    rest = [curve for curve in curves if isinstance(curve, Polyline)]
    for path in sorted(rest, key=lambda c: (c.hidden, -len(c.points), c.points)):
        if not all(_beside(point, paths) for point in path.points):
            paths.append(path)
    return (
        *sorted(straight, key=lambda c: (c.hidden, c.start, c.end)),
        *sorted(curved, key=lambda c: (c.hidden, c.centre, c.radius_mm, c.start_deg)),
        *sorted(paths, key=lambda c: (c.hidden, c.points)),
    )


def _straight(lines: Sequence[Line]) -> list[Line]:
    carriers: list[_Carrier] = []
    # Longest first: a short line says little about its direction.
    for line in sorted(lines, key=lambda c: (-dist(c.start, c.end), c.start, c.end)):
        for carrier in carriers:
            ahead = _ahead(carrier, 1.0)
            ends = (line.start, line.end)
            if all(_off_line(p, carrier.origin, ahead) <= SNAP_MM for p in ends):
                break
        else:
            length = dist(line.start, line.end)
            step = [(b - a) / length for a, b in zip(line.start, line.end, strict=True)]
            carrier = _Carrier(line.start, (step[0], step[1]))
            carriers.append(carrier)
        at = sorted(_along(carrier, p) for p in (line.start, line.end))
        carrier.add(at[0], at[1], line.hidden)
    return [
        Line(_ahead(carrier, low), _ahead(carrier, high), hidden)
        for carrier in carriers
        for low, high, hidden in carrier.settled(LEAST_MM)
    ]


def _along(carrier: _Carrier, point: Point2) -> float:
    offset = zip(point, carrier.origin, carrier.along, strict=True)
    return sum((p - o) * a for p, o, a in offset)


def _ahead(carrier: _Carrier, distance: float) -> Point2:
    x, y = (o + a * distance for o, a in zip(carrier.origin, carrier.along, strict=True))
    return (_rounded(x), _rounded(y))


def _round(arcs: Sequence[Arc]) -> list[Arc]:
    carriers: list[_Carrier] = []
    for arc in arcs:
        for carrier in carriers:
            size = abs(carrier.radius_mm - arc.radius_mm)
            if dist(carrier.origin, arc.centre) <= SNAP_MM and size <= SNAP_MM:
                break
        else:
            carrier = _Carrier(arc.centre, radius_mm=arc.radius_mm)
            carriers.append(carrier)
        carrier.add(arc.start_deg, min(arc.end_deg, 360.0), arc.hidden)
        if arc.end_deg > 360.0:
            carrier.add(0.0, arc.end_deg - 360.0, arc.hidden)
    out = []
    for carrier in carriers:
        spans = carrier.settled(degrees(LEAST_MM / carrier.radius_mm))
        for hidden in (False, True):
            out += [
                Arc(carrier.origin, carrier.radius_mm, round(low, 6), round(high, 6), hidden)
                for low, high in _through_zero([s[:2] for s in spans if s[2] is hidden])
            ]
    return out


def _through_zero(spans: Spans) -> Spans:
    """Arcs that end and begin again at 0 degrees made one."""
    if len(spans) > 1 and spans[0][0] <= 1e-6 and spans[-1][1] >= 360.0 - 1e-6:
        return [*spans[1:-1], (spans[-1][0], spans[0][1] + 360.0)]
    return spans


def _beside(point: Point2, paths: Sequence[Polyline]) -> bool:
    """Whether a point lies on one of the paths, as near as the paths follow their curves."""
    return any(
        dist(p, point) + dist(point, q) <= dist(p, q) + CHORD_MM
        and (p == point or _off_line(point, p, q) <= 2 * CHORD_MM)
        for path in paths
        for p, q in itertools.pairwise(path.points)
    )
