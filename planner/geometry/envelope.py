"""How far the swinging parts reach, in closed form: down to the cross slide, back to the chuck.

Everything that swings is a set of edges and axes parallel to the pivot; an edge at polar radius r
turns with the swing, so its lowest point over a range of swing is -r where it passes straight down
and one of its ends elsewhere. Nothing is sampled. What comes near the work, whose obstacles have a
height, is looked at by whole outlines in geometry.swept. Imported by the checks; needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import asin, atan2, cos, degrees, hypot, radians, sin, sqrt, tan

from parts.attachment import Attachment, Carrier, Placed, Turn
from parts.features import GroundPoint, SawnNotch, TurnedBall, TurnedDiameter
from parts.frame import Axis, Box, Frame, vector
from parts.part import Bought, Joined, Member, Part, members
from parts.standard.fasteners import socket_screw, thin_nut, washer
from parts.standard.threads import thread
from parts.value import Value
from planner.geometry.ball import USUAL_STEM as USUAL_STEM
from planner.geometry.slabs import corner, without

OFF_STEM_MM = 0.05
"""How far the tip's nose is kept off the stem at the end of the sweep (common practice): less than
any stem is turned to, enough not to rub."""


class Edge(Value, frozen=True):
    """A line parallel to the pivot axis that swings with its carrier.

    y_mm, z_mm: where it stands with the tip on top and at radius zero; round_mm: radius of the
    cylinder about it, 0 for a sharp edge; x_low_mm, x_high_mm: its ends along the pivot. cuts: it is
    the cutting tool's own, which comes nearer to the work than anything else may.
    """

    name: str
    carrier: Carrier
    x_low_mm: float
    x_high_mm: float
    y_mm: float
    z_mm: float
    round_mm: float = 0.0
    cuts: bool = False


class Reach(Value, frozen=True):
    """The farthest reach in one direction: how far, which thing, at which swing and tip radius.

    height_mm: over the spindle's axis, of a reach behind the ball's centre.
    """

    distance_mm: float
    name: str
    swing_deg: float
    tip_radius_mm: float
    height_mm: float = 0.0


Outline = tuple[Edge, ...]
"""Edges of one convex prism along the pivot: what swings is the hull of them, from end to end."""


def neck_deg(ball_mm: float, stem_mm: float, nose_mm: float, off_mm: float = OFF_STEM_MM) -> float:
    """The swing at which the tip's nose has come down to the stem; degrees, 90 to 180.

    ball_mm, stem_mm: diameters; nose_mm: radius r of the tip's nose, 0 for a sharp one. The nose
    touches the ball at R from the pivot, so the middle of its round stands at R + r, and its lowest
    point is (R + r) sin a - r over the spindle. That is off_mm over the stem at the angle whose sine is
    (stem / 2 + r + off) / (R + r), from the pole behind.
    """
    sine = (stem_mm / 2 + nose_mm + off_mm) / (ball_mm / 2 + nose_mm)
    return 180.0 - degrees(asin(min(1.0, sine)))


def swinging_outlines(attachment: Attachment) -> tuple[Outline, ...]:
    """The outline of every prism of what swings, taken from the parts' own blanks and features.

    Cuts that only take material away inside the outline (holes, slots, slits, dressing) are left
    out: the outline they would leave is never larger.
    """
    outlines: list[Outline] = []
    for placed in attachment.placed:
        if placed.carrier is not Carrier.POST:
            outlines += _outlines_of(placed)
    return tuple(outlines)


def swinging_edges(attachment: Attachment) -> tuple[Edge, ...]:
    """Every edge of what swings: those of its outlines."""
    return tuple(edge for outline in swinging_outlines(attachment) for edge in outline)


def lowest(
    edges: tuple[Edge, ...], tip_radii_mm: tuple[float, float], swing_deg: tuple[float, float]
) -> Reach:
    """The deepest reach below the spindle axis over a range of swing and tip radius.

    The reach is linear in the tip radius at any swing, so its greatest is at one of the ends.
    """
    return _farthest(edges, tip_radii_mm, swing_deg, -90.0)


def toward_tailstock(
    edges: tuple[Edge, ...],
    tip_radii_mm: tuple[float, float],
    swing_deg: tuple[float, float],
    within_x_mm: float,
) -> Reach:
    """The farthest reach from the ball's centre away from the chuck, of edges within a radius."""
    near = tuple(edge for edge in edges if edge.x_high_mm > -within_x_mm)
    return _farthest(near, tip_radii_mm, swing_deg, 0.0)


def toward_post(
    edges: tuple[Edge, ...], post_x_mm: tuple[float, float], face_mm: float
) -> Reach | None:
    """The farthest reach of the body toward the tool post, of what stands beside it; None for nothing.

    post_x_mm: where the post begins and ends along the pivot; face_mm: from the pivot axis to its
    side. It is the same at every ball: the whole swing is taken. What lies wholly farther out than the
    post's side is carried round the post and is left out; how wide the post is no job says.
    """
    low, high = post_x_mm
    things: dict[str, list[Edge]] = {}
    for edge in edges:
        beside = edge.x_low_mm < high - 1e-6 and edge.x_high_mm > low + 1e-6
        if edge.carrier is Carrier.BODY and beside:
            things.setdefault(edge.name, []).append(edge)
    inside = [
        e for thing in things.values() if _nearest_mm(thing) <= max(face_mm, 0.0) for e in thing
    ]
    return _farthest(tuple(inside), (0.0, 0.0), (0.0, 180.0), 0.0) if inside else None


def _nearest_mm(thing: list[Edge]) -> float:
    """How near a thing comes to the pivot axis: the upright box round its edges does."""
    y_low, y_high = min(e.y_mm - e.round_mm for e in thing), max(e.y_mm + e.round_mm for e in thing)
    z_low, z_high = min(e.z_mm - e.round_mm for e in thing), max(e.z_mm + e.round_mm for e in thing)
    return hypot(max(y_low, -y_high, 0.0), max(z_low, -z_high, 0.0))


def greatest_radius(edges: tuple[Edge, ...], carrier: Carrier, tip_radius_mm: float) -> float:
    """The radius of the smallest cylinder about the pivot that holds a carrier's edges."""
    radii = (
        hypot(edge.y_mm + (tip_radius_mm if carrier is Carrier.HEAD else 0.0), edge.z_mm)
        + edge.round_mm
        for edge in edges
        if edge.carrier is carrier
    )
    return max(radii)


def _farthest(
    edges: tuple[Edge, ...],
    tip_radii_mm: tuple[float, float],
    swing_deg: tuple[float, float],
    toward_deg: float,
) -> Reach:
    best = Reach(float("-inf"), "", swing_deg[0], tip_radii_mm[0])
    for edge in edges:
        radii = tip_radii_mm if edge.carrier is Carrier.HEAD else (tip_radii_mm[1],)
        for tip in radii:
            y = edge.y_mm + (tip if edge.carrier is Carrier.HEAD else 0.0)
            radius = hypot(y, edge.z_mm)
            # polar angle from the nose: the tip's own is the swing, so this edge runs ahead by
            ahead = degrees(atan2(y, edge.z_mm)) - 90.0
            swing = _nearest_swing(toward_deg - ahead, swing_deg)
            gap = radians(swing + ahead - toward_deg)
            distance = radius * cos(gap) + edge.round_mm
            if distance > best.distance_mm:
                best = Reach(distance, edge.name, swing, tip)
    return best


def _nearest_swing(wanted_deg: float, swing_deg: tuple[float, float]) -> float:
    low, high = swing_deg
    turns = wanted_deg + 360.0 * round((low - wanted_deg) / 360.0)
    for candidate in (turns - 360.0, turns, turns + 360.0):
        if low <= candidate <= high:
            return candidate
    return min((low, high), key=lambda end: abs((end - wanted_deg + 180.0) % 360.0 - 180.0))


def front_mm(edges: tuple[Edge, ...]) -> float:
    """How far the body comes toward the blank along the pivot: of whatever stands out of it as well.

    From the ball's centre plane; less than nothing while it stays behind that plane. The sliding head
    is not counted: it reaches over the blank by its purpose.
    """
    return max(edge.x_high_mm for edge in edges if edge.carrier is Carrier.BODY)


def _outlines_of(placed: Placed) -> Iterator[Outline]:
    item = placed.item
    if placed.turn is not None and isinstance(item, Part):
        yield tuple(_turned_edges(item, placed, placed.turn))
        return
    if isinstance(item, Bought):
        diameter, length = _bought_outline(item)
        yield _bar(item.kind, placed, Frame(), 0.0, length, diameter)
        return
    whole = tuple(item.features) if isinstance(item.blank, Joined) else ()
    for member in members(item):
        yield from _member_outlines(item, member, placed, whole)


def _turned_edges(part: Part, placed: Placed, turn: Turn) -> Iterator[Edge]:
    """The edges of a round bar that turns by hand about its own z, at both ends of its turn.

    As balls on its axis that hold it all. It turns square to the swing's plane, so that only how far it
    stands out along the rod changes, and of a turn within a quarter circle that is extreme at its ends.
    """
    (bar,) = members(part)
    for angle_deg in turn.degrees:
        a = radians(angle_deg)
        for along, radius in _balls(bar):
            out = along - turn.about[0]
            own = (turn.about[0] + out * cos(a), turn.about[1] + out * sin(a), 0.0)
            x, y, z = placed.frame.place(own)
            yield Edge(part.title.lower(), placed.carrier, x - radius, x + radius, y, z, radius)


def _balls(bar: Member) -> Iterator[tuple[float, float]]:
    """Where along a round bar balls stand that hold it all between them, and their radii.

    At an end that is turned to a ball that ball, at another one of the bar's radius about its end.
    """
    length, whole = bar.blank.length_mm, bar.blank.section.width_mm / 2
    ends = {0.0: (0.0, whole), length: (length, whole)}
    for ball in (f for f in bar.features if isinstance(f, TurnedBall)):
        radius, end = ball.diameter.nominal_mm / 2, ball.axis.at(ball.end_mm)[0]
        nearer = min(ends, key=lambda at: abs(at - end))
        ends[nearer] = (end + (radius if nearer == 0.0 else -radius), radius)
    yield from ends.values()


def _bought_outline(item: Bought) -> tuple[float, float]:
    """Diameter and length of the outline that stands out of the parts."""
    if item.ring:
        return item.ring.outside_mm, item.ring.pressed_mm
    if item.kind == "thin nut":
        nut = thin_nut(item.thread)
        return nut.across_flats_mm * 2 / sqrt(3), nut.height_mm
    if item.kind == "washer":
        ring = washer(item.thread)
        return ring.outside_mm, ring.thickness_mm
    if item.kind == "socket screw":
        head = socket_screw(item.thread)
        return head.head_diameter_mm, -head.head_height_mm
    return thread(item.thread).major_mm, item.length_mm


def _member_outlines(
    part: Part, member: Member, placed: Placed, whole: tuple[object, ...]
) -> Iterator[Outline]:
    stock = member.blank
    turned = [f for f in member.features if isinstance(f, TurnedDiameter)]
    turned = [f for f in turned if f.axis == Axis()]
    if stock.section.shape in ("round", "tube"):
        stations = [(f.start_mm, f.end_mm, f.diameter.nominal_mm) for f in turned]
        stations += _turned_after_welding(member, whole)
        ends = {0.0, stock.length_mm}
        ends |= {e for s in stations for e in s[:2] if 0.0 < e < stock.length_mm}
        cuts = sorted(ends)
        for low, high in pairwise(cuts):
            middle = (low + high) / 2
            diameter = min(
                [stock.section.width_mm]
                + [d for start, end, d in stations if start <= middle <= end]
            )
            name = part.title.lower() if member.name == part.name else member.name
            yield _bar(name, placed, member.frame, low, high, diameter)
        return
    notches = [f for f in member.features if isinstance(f, SawnNotch)]
    height = stock.section.height_mm
    half_y, half_z = stock.section.width_mm / 2, height / 2
    whole_box = Box((0.0, -half_y, -half_z), (stock.length_mm, half_y, half_z))
    name = part.title.lower() if member.name == part.name else member.name
    points = [f for f in member.features if isinstance(f, GroundPoint)]
    left = without(whole_box, [notch.box for notch in notches])
    left += [slab for notch in notches for slab in corner(notch, whole_box)]
    for box in left:
        if points:
            yield _ground(name, placed, member, points[0], box)
            continue
        outer = box.placed(member.frame).placed(placed.frame)
        yield tuple(
            Edge(name, placed.carrier, outer.low[0], outer.high[0], y, z)
            for y in (outer.low[1], outer.high[1])
            for z in (outer.low[2], outer.high[2])
        )


def _ground(name: str, placed: Placed, member: Member, point: GroundPoint, box: Box) -> Outline:
    """A ground bit: the round of its nose, the shoulders its two sides run out to, and its back.

    The sides touch the nose's round: their lines meet r / sin(half the angle) in front of its middle.
    """
    half, nose = radians(point.included_deg / 2), point.nose_radius_mm
    half_y, half_z = member.blank.section.width_mm / 2, member.blank.section.height_mm / 2
    shoulder = half_y / tan(half) + nose - nose / sin(half)
    corners = [(nose, 0.0, nose), (shoulder, -half_y, 0.0), (shoulder, half_y, 0.0)]
    corners += [(box.high[0], -half_y, 0.0), (box.high[0], half_y, 0.0)]
    edges = []
    for x, y, round_mm in corners:
        near, far = (placed.frame.place(member.frame.place((x, y, z))) for z in (-half_z, half_z))
        low, high = min(near[0], far[0]), max(near[0], far[0])
        edges.append(Edge(name, placed.carrier, low, high, near[1], near[2], round_mm, cuts=True))
    return tuple(edges)


def _turned_after_welding(
    member: Member, whole: tuple[object, ...]
) -> list[tuple[float, float, float]]:
    """Diameters turned on the weldment about a round member's own axis, as stations along it."""
    found = []
    for feature in whole:
        if not isinstance(feature, TurnedDiameter):
            continue
        along = member.frame.x
        if feature.axis.along != along:
            continue
        u = vector(along)
        offset = [feature.axis.origin[i] - member.frame.origin[i] for i in range(3)]
        shift = sum(offset[i] * u[i] for i in range(3))
        across = sum((offset[i] - shift * u[i]) ** 2 for i in range(3))
        if across < 1e-9:
            found.append(
                (
                    feature.start_mm + shift,
                    feature.end_mm + shift,
                    feature.diameter.nominal_mm,
                )
            )
    return found


def _bar(
    name: str,
    placed: Placed,
    frame: Frame,
    start_mm: float,
    end_mm: float,
    diameter_mm: float,
) -> Outline:
    """The outline of a cylinder along its frame's x between two stations."""
    ends = [placed.frame.place(frame.place((x, 0.0, 0.0))) for x in (start_mm, end_mm)]
    x_low, x_high = sorted(end[0] for end in ends)
    radius = diameter_mm / 2
    if x_high - x_low > 1e-9:
        return (Edge(name, placed.carrier, x_low, x_high, ends[0][1], ends[0][2], radius),)
    along_y = abs(ends[0][1] - ends[1][1]) > 1e-9
    edges = []
    for end in ends:
        for side in (-radius, radius):
            y, z = (end[1], end[2] + side) if along_y else (end[1] + side, end[2])
            edges.append(Edge(name, placed.carrier, end[0] - radius, end[0] + radius, y, z))
    return tuple(edges)
