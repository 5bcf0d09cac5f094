"""The pictures of the documentation, drawn from an example: the attachment, a sweep, where to measure.

``python -m docs.make`` writes them. Only the attachment's picture loads the CAD kernel.
"""

from __future__ import annotations

from typing import Any

from parts.attachment import Attachment
from parts.part import Part
from planner.job.tables import Job
from planner.output.pictures.check import sweep_svg
from planner.output.pictures.svg import MIDDLE, THICK, THIN, Sheet
from planner.output.plan import Plan

Point = tuple[float, float]

SEEN_FROM = (-1.0, 0.45, 1.2)
"""Where the attachment is seen from: in front of the lathe, above, from the tailstock."""

SWING_DEG, OUT = 118.0, 0.6
"""How it stands there: the swing, and the tip's radius over the largest."""


def sweep(plan: Plan) -> str:
    """The sweep of the job's first ball, as the package has it."""
    return sweep_svg(plan.attachment, plan.job, plan.clearances[0])


def attachment(plan: Plan) -> str:
    """The whole attachment in parallel projection, its parts named; hidden lines left out."""
    shapes, names = _placed(plan.attachment)
    sheet = Sheet()
    lines, flatten = _seen(shapes)
    for line in lines:
        sheet.path(line, MIDDLE)
    left, right = sheet.left - 16.0, sheet.right + 16.0
    middle = (sheet.left + sheet.right) / 2
    found = [(*flatten(shape), name) for shape, name in names]
    told = ((at, name if shows else f"{name} (behind)") for at, shows, name in found)
    spots = sorted(told, key=lambda one: -one[0][1])
    for side in (-1, 1):
        own = [(at, name) for at, name in spots if (at[0] > middle) == (side > 0)]
        height = sheet.top
        for at, name in own:
            height = min(at[1], height - 9.0)
            edge = right if side > 0 else left
            sheet.path([at, (edge - side * 2.0, height)], THIN)
            sheet.circle(at[0], at[1], 0.6, MIDDLE)
            sheet.text(edge, height - 1.4, name, 5.0, "start" if side > 0 else "end")
            if side < 0:
                sheet.left = min(sheet.left, edge - 2.9 * len(name))
    return sheet.svg("the attachment")


def _placed(made: Attachment) -> tuple[list[Any], list[tuple[Any, str]]]:
    """Every solid in its place, and those of the parts with their names."""
    from planner.solids import bought_solid, placement, solid

    radius = made.sizes.tip_radius_max_mm * OUT
    shapes, names = [], []
    for one in made.placed:
        item = one.item
        shape = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
        shapes.append(shape.moved(placement(one, radius, SWING_DEG)))
        if isinstance(item, Part):
            names.append((shapes[-1], item.title.lower()))
    return shapes, names


def _seen(shapes: list[Any]) -> tuple[list[list[Point]], Any]:
    """The edges that are seen, to 0.1 mm, and what takes a shape to the middle of its picture."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepLib import BRepLib
    from OCP.GCPnts import GCPnts_TangentialDeflection
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    from planner.solids import kernel

    vector = kernel().Vector
    towards = vector(*SEEN_FROM).normalized()
    right = vector(0, 1, 0).cross(towards).normalized()
    up = towards.cross(right)
    hidden = HLRBRep_Algo()
    for shape in shapes:
        BRepLib.EncodeRegularity_s(shape.wrapped)  # so that seams are not drawn
        hidden.Add(shape.wrapped)
    axes = gp_Ax2(gp_Pnt(), gp_Dir(*towards.toTuple()), gp_Dir(*right.toTuple()))
    hidden.Projector(HLRAlgo_Projector(axes))
    hidden.Update()
    hidden.Hide()
    result = HLRBRep_HLRToShape(hidden)
    lines = []
    for compound in (result.VCompound(), result.OutLineVCompound()):
        if compound is None or compound.IsNull():
            continue
        BRepLib.BuildCurves3d_s(compound)
        for edge in kernel().Shape.cast(compound).Edges():
            points = GCPnts_TangentialDeflection(BRepAdaptor_Curve(edge.wrapped), 0.2, 0.05, 2)
            values = [points.Value(i + 1) for i in range(points.NbPoints())]
            lines.append([(round(v.X(), 1), round(v.Y(), 1)) for v in values])

    def flatten(shape: Any) -> tuple[Point, bool]:
        at, shows = _open_spot(shape, shapes, towards)
        return (round(at.dot(right), 1), round(at.dot(up), 1)), shows

    return sorted(lines), flatten


def _open_spot(shape: Any, shapes: list[Any], towards: Any) -> tuple[Any, bool]:
    """A point of a shape, and whether it shows: on the largest face with one that nothing is before."""
    spots = []
    for face in shape.Faces():
        u_low, u_high, v_low, v_high = face._uvBounds()
        for share in (0.5, 0.25, 0.75):
            u, v = u_low + share * (u_high - u_low), v_low + 0.5 * (v_high - v_low)
            normal, at = face.normalAt(u, v)
            if normal.dot(towards) > 0.1:
                spots.append((-round(face.Area() * normal.dot(towards), 1), at))
    for _, at in sorted(spots, key=lambda one: one[0]):
        start = at + towards * 0.01
        if not any(
            one.facesIntersectedByLine(start, towards, direction="AlongAxis") for one in shapes
        ):
            return at, True
    return shape.Center(), False


def measuring(job: Job) -> str:
    """Where to measure on the lathe, each length by its key in the job file; to the job's scale."""
    sheet = Sheet()
    _from_the_tailstock(sheet, job)
    _from_the_front(sheet, job)
    _from_above(sheet, job)
    return sheet.svg("where to measure on the lathe")


def _box(sheet: Sheet, low: Point, high: Point, width: float = THICK, fill: str = "none") -> None:
    (left, bottom), (right, top) = low, high
    corners = [(left, bottom), (left, top), (right, top), (right, bottom)]
    sheet.path(corners, width, fill=fill, closed=True)


def _span(sheet: Sheet, one: Point, other: Point) -> None:
    """A dimension line with an arrow head at each end, along an axis."""
    sheet.path([one, other], THIN)
    along = 0 if one[1] == other[1] else 1
    for tip, back in ((one, other), (other, one)):
        way = 3.0 if back[along] > tip[along] else -3.0
        for side in (-0.7, 0.7):
            head = (tip[0] + way, tip[1] + side) if along == 0 else (tip[0] + side, tip[1] + way)
            sheet.path([tip, head], MIDDLE)


def _from_the_tailstock(sheet: Sheet, job: Job) -> None:
    """Heights: the chuck behind, the tool post on the cross slide with a shank in it."""
    chuck = job.lathe.chuck_diameter / 2
    seat, slide = -job.lathe.spindle_over_seat, -job.lathe.spindle_over_cross_slide
    shank = seat + job.tool_post.largest_shank
    post, out = -chuck - 120.0, -chuck - 76.0
    sheet.circle(0, 0, chuck, MIDDLE)
    sheet.circle(0, 0, 3, MIDDLE)
    _box(sheet, (post - 12, slide - 16), (chuck + 8, slide))
    sheet.path([(post, slide), (post, seat), (out, seat)], THICK)
    sheet.path([(out, seat), (out, slide)], THICK)
    _box(sheet, (post, seat), (post + 12, shank + 26))
    _box(sheet, (post + 12, shank + 14), (out, shank + 26))
    _box(sheet, (post + 12, seat), (out + 18, shank), MIDDLE, "url(#steel)")
    for bolt in (post + 20, out - 8):
        _box(sheet, (bolt - 2.5, shank), (bolt + 2.5, shank + 33), MIDDLE)
    sheet.path([(post - 34, 0), (chuck + 60, 0)], THIN, "8 1.5 1 1.5")
    sheet.path([(out + 18, seat), (out + 32, seat)], THIN)
    _span(sheet, (out + 27, 0), (out + 27, seat))
    sheet.text(out + 30, seat / 2 - 2, "spindle_over_seat", 5.0)
    sheet.path([(chuck + 8, slide), (chuck + 22, slide)], THIN)
    _span(sheet, (chuck + 17, 0), (chuck + 17, slide))
    sheet.text(chuck + 20, slide / 2 - 2, "spindle_over_cross_slide", 5.0)
    sheet.path([(post - 30, seat), (post, seat)], THIN)
    sheet.path([(post - 30, shank), (post + 12, shank)], THIN)
    _span(sheet, (post - 22, seat), (post - 22, shank))
    sheet.text(post - 58, shank + 4, "largest_shank", 5.0)
    sheet.text(4, 5, "spindle axis", 3.5)
    sheet.text(post + 14, slide + 6, "tool post", 3.5)
    sheet.text(-chuck + 4, slide - 10, "cross slide", 3.5)
    sheet.text(post - 12, chuck + 14, "Seen from the tailstock", 6.0)


def _from_above(sheet: Sheet, job: Job) -> None:
    """The tool post with a bar in it, and how far its middle stands from spindle axis and jaws."""
    chuck, post = job.lathe.chuck_diameter / 2, job.tool_post
    axis = -job.lathe.spindle_over_cross_slide - 60.0
    jaws, side = -chuck - 90.0, post.largest_shank
    depth, out = post.depth or 3 * side, post.stands_out or 0.0
    bar = jaws + 80.0
    front = axis - 70.0
    middle = (bar + side + (post.slot_to_middle or depth / 2 - side), front - depth / 2)
    right = 2 * middle[0] - bar + out
    _box(sheet, (jaws - 30, axis - 14), (jaws, axis + 14), THICK, "url(#steel)")
    sheet.path([(jaws - 36, axis), (right + 60, axis)], THIN, "8 1.5 1 1.5")
    _box(sheet, (bar - out, front - depth), (right, front))
    _box(sheet, (bar, front - depth - 8), (bar + side, front + 24), MIDDLE, "url(#steel)")
    first, apart = post.first_screw or depth / 4, post.screw_spacing or depth / 4
    for n in range(post.screws):
        sheet.circle(bar + side / 2, front - first - n * apart, 2.5, MIDDLE)
    sheet.circle(*middle, 4, MIDDLE)
    sheet.path([(middle[0], middle[1]), (middle[0], front + 58)], THIN)
    sheet.path([(middle[0], middle[1]), (right + 40, middle[1])], THIN)
    sheet.path([(jaws, axis - 14), (jaws, front + 50)], THIN)
    _span(sheet, (jaws, front + 54), (middle[0], front + 54))
    sheet.text(jaws + 2, front + 57, "post_to_jaws", 5.0)
    _span(sheet, (right + 36, middle[1]), (right + 36, axis))
    sheet.text(right + 39, (axis + middle[1]) / 2 + 4, "post_nearest", 5.0)
    sheet.text(right + 39, (axis + middle[1]) / 2 - 4, "post_farthest", 5.0)
    for y in (front, front - depth):
        sheet.path([(bar - out - 34, y), (bar - out, y)], THIN)
    _span(sheet, (bar - out - 30, front), (bar - out - 30, front - depth))
    sheet.text(bar - out - 52, front - depth / 2, "depth", 5.0)
    for x in (bar - out, bar):
        sheet.path([(x, front), (x, front + 30)], THIN)
    sheet.path([(bar - 40, front + 28), (bar - out, front + 28)], THIN)
    sheet.text(bar - 68, front + 30, "stands_out", 5.0)
    for x in (bar + side, middle[0]):
        sheet.path([(x, front - depth - 14), (x, front - depth)], THIN)
    _span(sheet, (bar + side, front - depth - 12), (middle[0], front - depth - 12))
    sheet.text(middle[0] + 3, front - depth - 14, "slot_to_middle", 5.0)
    sheet.text(jaws - 30, axis + 22, "Seen from above, a bar clamped in the tool post", 6.0)


def _from_the_front(sheet: Sheet, job: Job) -> None:
    """The chuck and how far its jaws stand out."""
    chuck, reach = job.lathe.chuck_diameter / 2, job.lathe.jaw_reach
    back = chuck + 115.0
    face = back + 45.0
    outside = (job.lathe.jaw_diameter or 0.8 * 2 * chuck) / 2
    _box(sheet, (back, -chuck), (face, chuck))
    for side in (1, -1):
        low, high = sorted((side * outside, side * 0.3 * outside))
        _box(sheet, (face, low), (face + reach, high), THICK, "url(#steel)")
    _box(sheet, (face - 4, -0.3 * outside), (face + reach + 40, 0.3 * outside), MIDDLE)
    sheet.path([(back - 8, 0), (face + reach + 48, 0)], THIN, "8 1.5 1 1.5")
    for side in (1, -1):
        sheet.path([(back - 14, side * chuck), (back, side * chuck)], THIN)
    _span(sheet, (back - 10, -chuck), (back - 10, chuck))
    sheet.text(back - 14, -chuck - 8, "chuck_diameter", 5.0)
    for z in (face, face + reach):
        sheet.path([(z, outside), (z, chuck + 9)], THIN)
    _span(sheet, (face, chuck + 5), (face + reach, chuck + 5))
    sheet.text(face + reach + 3, chuck + 3, "jaw_reach", 5.0)
    for side in (1, -1):
        sheet.path([(face + reach, side * outside), (face + reach + 22, side * outside)], THIN)
    _span(sheet, (face + reach + 17, -outside), (face + reach + 17, outside))
    sheet.text(face + reach + 21, -outside + 2, "jaw_diameter", 5.0)
    sheet.text(face + reach + 42, 4, "work", 3.5)
    sheet.text(back, chuck + 14, "Seen from the front", 6.0)
