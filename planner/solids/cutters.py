"""What each feature takes away from its blank, and how true the solid is: one rule a type."""

from __future__ import annotations

import functools
from math import acos, atan, cos, dist, radians, sin, tan

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
    ScribedLine,
    Slit,
    TappedHole,
    Thread,
    Turned,
    TurnedBall,
    TurnedDiameter,
    Weld,
)
from parts.frame import Axis, Box, vector
from parts.standard.threads import TAP_LEAD_PITCHES, thread
from planner.dial.design import design_dial, engraving_table
from planner.solids.booleans import cut
from planner.solids.kernel import Shape, kernel
from planner.solids.shapes import box, cylinder, tube

PAST_MM = 1.0
"""Through holes and ball cutters run past both ends, so that no skin is left there."""

GROOVE_MM = 0.15
"""Depth of an engraved division line."""

ENGRAVED = (EngravedScale, IndexMark, ScribedLine)
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
    TappedHole: f"as its tap drill; a blind one {TAP_LEAD_PITCHES:g} pitches deeper, with a flat end",
    MilledFlat: "true",
    MilledSlot: "true, sharp inner corners",
    Slit: "true",
    SawnNotch: "true, with the radius of its inner corners",
    ScribedLine: "true, sharp-edged; left off the views",
    IndexMark: f"a line {GROOVE_MM:g} mm deep; left off the views",
    GroundPoint: "true: two sides and a nose, ground at one clearance angle",
    Weld: "not modelled: the members are one solid, without fillers or preparations",
}
"""How true the solid of each feature type is."""


@functools.singledispatch
def cutters(feature: Feature, blank: Box) -> list[Shape]:
    """The solids a feature takes away from the body it is made on.

    blank: upright box round that body before it is cut, mm; all in the body's frame.
    Raises TypeError for a feature type without a rule.
    """
    raise TypeError(
        f"'{feature.name}': {type(feature).__name__} has no solid rule;"
        " add one (and its line in TRUTH) in solids"
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
    outside = cylinder(
        feature.axis, feature.start_mm, feature.end_mm + PAST_MM, _reach(feature.axis, blank)
    )
    centre = feature.axis.at(feature.end_mm - radius)
    ball = kernel().Solid.makeSphere(radius, centre, vector(feature.axis.along), -90, 90, 360)
    return [cut(outside, ball)]


@cutters.register
def _(feature: EngravedScale, blank: Box) -> list[Shape]:
    cq = kernel()
    radius = feature.diameter.nominal_mm / 2
    run = feature.end_mm - feature.start_mm
    # The longest lines take half a rim's width, so a rim of twice the run makes them the run; the
    # lead has no say in which lines are long.
    dial = design_dial(
        feature.divisions, 1.0, 2 * radius, rim_width_mm=2 * run, line_step_mm=feature.line_step_mm
    )
    plane = cq.Plane(feature.axis.at(feature.start_mm), normal=vector(feature.axis.along))
    along, way = "xyz".index(feature.axis.along[1]), vector(feature.axis.along)
    edge = blank.low[along] if sum(way) > 0 else blank.high[along]
    open_mm = (
        PAST_MM if abs(plane.origin.toTuple()[along] - edge) < 1e-6 else 0.0
    )  # no face in face
    grooves = []
    for line in engraving_table(dial):
        groove = cq.Solid.makeBox(
            GROOVE_MM + PAST_MM,
            feature.line_width_mm,
            line.length_mm + open_mm,
            (radius - GROOVE_MM, -feature.line_width_mm / 2, -open_mm),
        )
        turn = cq.Location((0, 0, 0), (0, 0, 1), line.angle_deg)  # right-handed, as dial.sense
        grooves.append(groove.moved(cq.Location(plane) * turn))
    return grooves


@cutters.register
def _(feature: IndexMark, blank: Box) -> list[Shape]:
    cq = kernel()
    along, width = vector(feature.axis.along), feature.line_width_mm
    zero = (1.0, 0.0, 0.0) if feature.axis.along[1] == "z" else (0.0, 0.0, 1.0)
    plane = cq.Plane(feature.axis.at(feature.start_mm), xDir=zero, normal=along)
    groove = cq.Solid.makeBox(
        GROOVE_MM + PAST_MM,
        width,
        feature.end_mm - feature.start_mm,
        (feature.diameter.nominal_mm / 2 - GROOVE_MM, -width / 2, 0.0),
    )
    turn = cq.Location((0, 0, 0), (0, 0, 1), feature.angle_deg)
    return [groove.moved(cq.Location(plane) * turn)]


@cutters.register(DrilledHole)
@cutters.register(ReamedHole)
@cutters.register(Bore)
@cutters.register(Counterbore)
def _(feature: DrilledHole | ReamedHole | Bore | Counterbore, blank: Box) -> list[Shape]:
    return [_hole(feature, feature.diameter.nominal_mm)]


@cutters.register
def _(feature: TappedHole, blank: Box) -> list[Shape]:
    size = thread(feature.thread)
    return [_hole(feature, size.tap_drill_mm, size.tap_lead_mm)]


@cutters.register(MilledFlat)
@cutters.register(MilledSlot)
@cutters.register(Slit)
@cutters.register(ScribedLine)
def _(feature: Removed, blank: Box) -> list[Shape]:
    return [box(feature.box)]


@cutters.register
def _(feature: SawnNotch, blank: Box) -> list[Shape]:
    notch = box(feature.box)
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
        return cylinder(hole.axis, -PAST_MM, hole.depth_mm + PAST_MM, diameter_mm / 2)
    return cylinder(hole.axis, 0.0, hole.depth_mm + deeper_mm, diameter_mm / 2)


def _ring(turned: Turned, radius_mm: float, blank: Box) -> Shape:
    """All the blank may have outside a radius, between the two stations."""
    return tube(turned.axis, turned.start_mm, turned.end_mm, _reach(turned.axis, blank), radius_mm)


def _reach(axis: Axis, blank: Box) -> float:
    """A radius about an axis that nothing of the blank is outside of."""
    return PAST_MM + max(dist(corner, axis.origin) for corner in blank.corners())
