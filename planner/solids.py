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
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import acos, atan, cos, hypot, pi, radians, sin, sqrt, tan
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
from parts.standard.fasteners import set_screw, socket_screw, thin_nut, washer
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.curves import Arc, Curve, Line, Polyline
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
    return PAST_MM + max(hypot(*_less(corner, axis.origin)) for corner in blank.corners())


def _less(a: Point, b: Point) -> Point:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


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
    thick = width if section.shape == "square" else section.thickness_mm
    return _box(Box((0.0, -width / 2, -thick / 2), (length, width / 2, thick / 2)))


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
    header = f"FILE_NAME('{title}','{TIME_STAMP}',(''),(''),'Open CASCADE','pommel','')"
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
    contexts = re.findall(r"ADVANCED_BREP_SHAPE_REPRESENTATION\('',\(.*?\),\s*#(\d+)\);", text, re.S)
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
