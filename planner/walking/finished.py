"""What each feature must take off at least and may at most: the finished part, by parts/ alone.

One rule a feature type. A station of a turned feature or a hole has no limits of its own: STATION_MM.
Used by the walk to see that a cut makes its feature and that no cut spoils another.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch

from parts import features as f
from parts.blank import Stock
from parts.frame import Axis, Frame, vector
from parts.part import Joined, Member, Part
from parts.places import along_index
from parts.standard.threads import thread
from parts.value import Value
from planner.walking.metal import Body, Metal
from planner.walking.shape import FAR_MM, Block, Line, OffBall, Region, Ring

STATION_MM = 0.05
"""How far a shoulder or a bottom may be off where the part has it: records are rounded, shoulders are
set by the carriage's dial (common practice)."""

POINT = 0.35
"""A drill's point reaches so much of its diameter deeper: 118 degrees."""

LEAD_PITCHES = 6.0
"""A blind tapped hole may be drilled so many pitches deeper (common practice: 3 to 6)."""

TAP_SLACK = 0.35
"""A tap drill may be over the listed one by so much of the pitch: thread of half its depth is left."""


class Takes(Value, frozen=True):
    """What a feature takes off: surely, and at most."""

    least: tuple[Region, ...] = ()
    most: tuple[Region, ...] = ()


def line_of(axis: Axis) -> Line:
    """The line of an axis, its sign the way it goes."""
    along = along_index(axis.along)
    return Line(along, int(vector(axis.along)[along]), axis.origin)


def ring(line: Line, start: float, end: float, outer: float, inner: float = 0.0) -> Ring:
    """A ring between two stations counted along a line from its point."""
    base = line.through[line.along]
    low, high = sorted((base + line.sign * start, base + line.sign * end))
    return Ring(line.along, line.through, low, high, outer, inner)


@singledispatch
def takes(feature: f.Feature) -> Takes:
    """What a feature takes off. A type without a rule takes nothing that is looked at."""
    return Takes()


@takes.register(f.TurnedDiameter)
@takes.register(f.FacedShoulder)
def _(feature: f.TurnedDiameter | f.FacedShoulder) -> Takes:
    return _turned(feature, feature.diameter.max_mm, feature.diameter.min_mm)


@takes.register
def _(feature: f.Thread) -> Takes:
    size = thread(feature.thread)
    return _turned(feature, size.major_mm, size.major_mm - size.pitch_mm / 2)


def _turned(feature: f.Turned, most_mm: float, least_mm: float) -> Takes:
    line, slack = line_of(feature.axis), STATION_MM
    a, b = sorted((feature.start_mm, feature.end_mm))
    return Takes(
        (ring(line, a + slack, b - slack, FAR_MM, most_mm / 2 + 0.002),),
        (ring(line, a - slack, b + slack, FAR_MM, least_mm / 2 - 0.002),),
    )


@takes.register
def _(feature: f.TurnedBall) -> Takes:
    line, size = line_of(feature.axis), feature.diameter
    base = line.through[line.along]
    middle = line.point(base + line.sign * (feature.end_mm - size.nominal_mm / 2))
    low, high = sorted(base + line.sign * at for at in (feature.start_mm, feature.end_mm))
    return Takes(
        (OffBall(line.along, middle, size.max_mm / 2 + 0.05, low + 0.05, high - 0.05),),
        (OffBall(line.along, middle, size.min_mm / 2 - 0.05, low - 0.3, high + 20.0),),
    )


@takes.register(f.DrilledHole)
@takes.register(f.ReamedHole)
@takes.register(f.Bore)
@takes.register(f.Counterbore)
def _(feature: f.DrilledHole | f.ReamedHole | f.Bore | f.Counterbore) -> Takes:
    size = feature.diameter
    past = POINT * size.max_mm if isinstance(feature, f.DrilledHole | f.ReamedHole) else 0.0
    return _hole(feature, size.min_mm, size.max_mm, 1.0 if feature.through else past)


@takes.register
def _(feature: f.TappedHole) -> Takes:
    size = thread(feature.thread)
    deeper = 1.0 if feature.through else LEAD_PITCHES * size.pitch_mm + POINT * size.major_mm
    return _hole(feature, size.minor_internal_mm, size.major_mm, deeper)


def _hole(feature: f.Hole, least_mm: float, most_mm: float, past_mm: float) -> Takes:
    line, slack = line_of(feature.axis), STATION_MM
    if feature.opens_into:
        past_mm = max(past_mm, most_mm)
    return Takes(
        (ring(line, slack, feature.depth_mm - slack, least_mm / 2 - 0.002),),
        (ring(line, -1.0, feature.depth_mm + max(past_mm, slack), most_mm / 2 + 0.002),),
    )


@takes.register(f.MilledFlat)
@takes.register(f.MilledSlot)
@takes.register(f.Slit)
@takes.register(f.SawnNotch)
def _(feature: f.Removed) -> Takes:
    least: list[list[float]] = [list(feature.box.low), list(feature.box.high)]
    most: list[list[float]] = [list(feature.box.low), list(feature.box.high)]
    for i in range(3):
        slack = _slack(feature, i)
        for end, out in ((0, -1), (1, 1)):
            least[end][i] -= out * slack
            most[end][i] += out * slack
    return Takes((Block(*map(_point, least)),), (Block(*map(_point, most)),))


def _slack(feature: f.Removed, i: int) -> float:
    """How far a box's faces may be off in a direction: the limits of what is measured to them."""
    slack = 0.02
    width = getattr(feature, "width", None)
    if width is not None and i == min(range(3), key=lambda n: feature.box.size()[n]):
        slack = max(slack, max(abs(width.upper_mm), abs(width.lower_mm)) / 2)
    for location in feature.locations:
        if along_index(location.along) == i:
            slack = max(slack, abs(location.size.upper_mm), abs(location.size.lower_mm))
    if isinstance(feature, f.SawnNotch):
        slack = max(slack, 0.5)
    return slack + 0.002


def _point(values: list[float]) -> tuple[float, float, float]:
    return (values[0], values[1], values[2])


def stock_region(stock: Stock, low: float, high: float) -> Region:
    """A length of a section between two coordinates along it, in its own frame."""
    section = stock.section
    if section.shape in ("round", "tube"):
        wall = section.thickness_mm if section.shape == "tube" else 0.0
        bore = section.width_mm / 2 - wall if wall else 0.0
        return Ring(0, (0.0, 0.0, 0.0), low, high, section.width_mm / 2, bore)
    y, z = section.width_mm / 2, section.height_mm / 2
    return Block((low, -y, -z), (high, y, z))


def kept_of_member(member: Member) -> Metal:
    """What of a piece must stay, in its own frame: its finished stock less what may go at most."""
    length = next((x.length for x in member.features if isinstance(x, f.FacedLength)), None)
    play = max(abs(length.lower_mm), STATION_MM) if length else 0.5
    body = Body(member.name, stock_region(member.blank, play, member.blank.length_mm - play))
    body.cuts.extend(_at_most(member.features))
    return Metal([body])


def kept_of_part(part: Part) -> Metal:
    """What of a whole part must stay, in its frame."""
    if not isinstance(part.blank, Joined):
        return kept_of_member(Member(part.name, part.blank, Frame(), part.features))
    cuts = list(_at_most(part.features))
    bodies = []
    for member in part.blank.members:
        (body,) = kept_of_member(member).bodies
        body = body.placed(member.frame)
        body.cuts.extend(cuts)
        bodies.append(body)
    return Metal(bodies)


def _at_most(features: tuple[f.Feature, ...]) -> Iterator[Region]:
    for feature in features:
        yield from takes(feature).most
