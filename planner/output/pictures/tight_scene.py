"""What lies where at the tightest spot of a sweep, seen along the pivot: shapes, and the gap's ends.

Frame: z along the spindle away from the chuck, from the ball's centre, and up out of the spindle's axis
on the side that the tip swings over. Imported by the picture of the tightest spot. Plain numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, inf, pi, radians, sin
from typing import Any

from msgspec.structs import replace

from parts.attachment import Carrier
from parts.value import Value
from planner.checking.clearance import Gap
from planner.geometry.envelope import Outline, Reach
from planner.geometry.swept import deepest, from_spindle_mm
from planner.output.pictures.marks import Point

DEPTH_MM = 10.0
"""How much is drawn of what stands, behind the face that is met."""

_SLACK = 1e-6

Half = Sequence[tuple[float, float]]
"""A half profile of the work: z (away from the chuck, from the ball's centre) and radius, in order from
the chuck to the end."""


class Standing(Value, frozen=True):
    """What the swing must clear, mm, as the gap was worked out for.

    jaws_mm: the jaws' front behind the ball's centre; jaw_reach_mm: from the chuck's face to it.
    jaw_diameter_mm, chuck_diameter_mm: over all. clear_mm: kept clear. slide_mm: the cross slide under
    the spindle, post_mm: the tool post's side from the pivot axis; None where they are not in sight.
    post_x_mm: from where to where along the pivot the post goes, as parts.placed has it.
    """

    jaws_mm: float
    jaw_reach_mm: float
    jaw_diameter_mm: float
    chuck_diameter_mm: float
    clear_mm: float
    slide_mm: float | None = None
    post_mm: float | None = None
    post_x_mm: tuple[float, float] = (-inf, inf)


class Swung(Value, frozen=True):
    """What swings of one name: its shape in the pose, whether it stands wholly in front of the plane
    in which the tip swings, how far it goes to the rear, whether it is what the gap is of."""

    name: str
    shape: Any
    before: bool
    rear_mm: float
    own: bool


class Scene(Value, frozen=True):
    """Every shape in millimetres of the lathe, z and up; spot: the gap, from part to obstacle.

    off_mm: how far beside the plane of the swing what makes the gap stands.
    """

    swinging: list[Swung]
    work: Any
    stands: dict[str, Any]
    spot: tuple[Point, Point] | None
    off_mm: float = 0.0


def scene_of(work: Half, outlines: Sequence[Outline], gap: Gap, standing: Standing) -> Scene:
    """Everything in the pose of the gap, and where the gap lies."""
    import shapely

    st, grip = standing, work[0][1]
    front, face = -st.jaws_mm, -st.jaws_mm - st.jaw_reach_mm
    chuck, jaw = st.chuck_diameter_mm / 2, max(st.jaw_diameter_mm / 2, grip + 1.0)
    jaws = [shapely.box(face, low, front, high) for low, high in ((grip, jaw), (-jaw, -grip))]
    stands = {
        "chuck": shapely.box(face - DEPTH_MM, -chuck, face, chuck),
        "jaws": shapely.union_all(jaws),
    }
    parted: dict[tuple[str, bool], list[Outline]] = {}
    for outline in outlines:
        off = from_spindle_mm(outline)
        if outline[0].name == gap.part or off < jaw + st.clear_mm:
            parted.setdefault((outline[0].name, off > 0.0), []).append(outline)
    tip = _tip_mm(gap, work)
    swinging = [
        Swung(
            name,
            shapely.union_all([_shape(o, gap.swing_deg, tip) for o in pieces]),
            before,
            max(e.x_high_mm for o in pieces for e in o),
            name == gap.part,
        )
        for (name, before), pieces in parted.items()
    ]
    if gap.obstacle == "cross slide" and st.slide_mm is not None:
        top, right = -st.slide_mm, max(one.shape.bounds[2] for one in swinging)
        stands[gap.obstacle] = shapely.box(face, top - DEPTH_MM, right, top)
    if gap.obstacle == "tool post" and st.post_mm is not None:
        stands[gap.obstacle] = shapely.box(st.post_mm, -grip, st.post_mm + DEPTH_MM, grip)
    scene = Scene(swinging, _side(work), stands, None)
    own = [o for o in outlines if o[0].name == gap.part]
    spot = _spot(work, own, gap, st)
    return replace(scene, spot=spot, off_mm=_off_mm(own, gap, st) if spot else 0.0)


def bounds(scene: Scene) -> tuple[float, float, float, float]:
    """The least and the greatest z and height of all of it: z, y, z, y."""
    shapes = [scene.work, *scene.stands.values(), *(one.shape for one in scene.swinging)]
    lows, highs = [s.bounds[:2] for s in shapes], [s.bounds[2:] for s in shapes]
    return (
        min(z for z, _ in lows),
        min(y for _, y in lows),
        max(z for z, _ in highs),
        max(y for _, y in highs),
    )


def _side(work: Half) -> Any:
    """The work as it is seen from the side."""
    import shapely

    return shapely.Polygon([*work, *((z, -r) for z, r in reversed(work))]).buffer(0)


def _tip_mm(gap: Gap, work: Half) -> float:
    """Where the tip is drawn: a gap of what does not slide has no tip radius, so at the work's end."""
    return gap.tip_radius_mm or work[-1][0]


def _shape(outline: Outline, swing_deg: float, tip_mm: float) -> Any:
    """An outline's hull in a pose, its rounds round."""
    import shapely

    a = radians(swing_deg)
    points = []
    for e in outline:
        out = e.y_mm + (tip_mm if e.carrier is Carrier.HEAD else 0.0)
        z, up = out * cos(a) + e.z_mm * sin(a), out * sin(a) - e.z_mm * cos(a)
        count = 48 if e.round_mm else 1
        points += [
            (z + e.round_mm * cos(2 * pi * k / count), up + e.round_mm * sin(2 * pi * k / count))
            for k in range(count)
        ]
    return shapely.MultiPoint(points).convex_hull


def _spot(work: Half, own: list[Outline], gap: Gap, st: Standing) -> tuple[Point, Point] | None:
    """Where the gap lies: on the part and on the obstacle; None where it lies along the pivot."""
    import shapely
    from shapely.ops import nearest_points

    if gap.obstacle == "blank":
        return None
    if plane := _plane(gap, st):
        found = _deepest(own, gap, plane[1])
        if found is None:
            return None
        return (-found.distance_mm, found.height_mm), (-plane[0], found.height_mm)
    low, high = st.post_x_mm if gap.obstacle == "tool post" else (-inf, inf)
    beside = [o for o in own if o[0].x_low_mm < high - _SLACK and o[0].x_high_mm > low + _SLACK]
    if not beside:
        return None
    whole = shapely.union_all([_shape(o, gap.swing_deg, _tip_mm(gap, work)) for o in beside])
    _, y0, z1, _ = whole.bounds
    if gap.obstacle == "cross slide":
        z = next(z for z, y in _corners(whole) if y == y0)
        return None if st.slide_mm is None else ((z, y0), (z, -st.slide_mm))
    if gap.obstacle == "tool post":
        y = next(y for z, y in _corners(whole) if z == z1)
        return None if st.post_mm is None else ((z1, y), (st.post_mm, y))
    here, there = nearest_points(whole, _side(work))
    return (here.x, here.y), (there.x, there.y)


def _plane(gap: Gap, st: Standing) -> tuple[float, float] | None:
    """Of what stands across the spindle: how far behind the centre, and within which height of it."""
    if gap.obstacle == "jaws":
        return st.jaws_mm, st.jaw_diameter_mm / 2 + st.clear_mm
    if gap.obstacle == "chuck face":
        return st.jaws_mm + st.jaw_reach_mm, st.chuck_diameter_mm / 2 + st.clear_mm
    return None


def _deepest(own: Sequence[Outline], gap: Gap, within_mm: float) -> Reach | None:
    tip, swing = gap.tip_radius_mm, gap.swing_deg
    return deepest(own, (tip, tip), (swing, swing), within_mm)


def _off_mm(own: list[Outline], gap: Gap, st: Standing) -> float:
    """How far beside the plane of the swing what of a part makes its gap stands; 0 of other gaps."""
    plane = _plane(gap, st)
    if plane is None:
        return 0.0
    depths = [(_deepest([o], gap, plane[1]), from_spindle_mm(o)) for o in own]
    _, off = min((-found.distance_mm, off) for found, off in depths if found)
    return off


def _corners(shape: Any) -> list[Point]:
    parts = getattr(shape, "geoms", [shape])
    return [(x, y) for part in parts for x, y in part.exterior.coords]
