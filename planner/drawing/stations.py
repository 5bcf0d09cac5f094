"""The stations of a drawing: which faces and axes of the solid there are to measure between.

Each feature type has one rule for the surfaces it leaves; each face of the solid is claimed by the
surfaces that lie in it, and a surface without a face is no station. Surfaces that lie in one face of
the solid are one station; that other surfaces agree is declared elsewhere, never taken from numbers.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from typing import Any, Literal

from parts import features as f
from parts.blank import Member, Stock
from parts.frame import Box, Frame
from parts.places import Place, along_index, plane
from parts.places import element as find
from parts.standard.threads import thread
from parts.value import Value
from planner.drawing.subjects import Subject
from planner.solids.faces import Face, part_faces, piece_faces

FAR_MM = 1e4
"""Beyond any part."""

NEAR_MM = 1e-3
"""A face belongs to a surface that it lies in within this, 1 um."""

Form = Literal["plane", "cylinder", "sphere", "other", "line"]


class UnclaimedFace(Exception):
    """A face of the solid that no feature, datum or blank accounts for: a fault of a rule."""


class Surface(Value, frozen=True):
    """One surface that a carrier leaves, in the subject's frame, mm.

    element: as in parts.places; form: "line" is drawn by convention and has no face (a thread's end);
    radius_mm: of a cylinder or a sphere; reach: the box in which its faces lie; outward: 1 or -1, which
    way along its direction a plane faces away from the metal, 0 where it may be either.
    """

    carrier: str
    element: str
    form: Form
    place: Place
    radius_mm: float
    reach: Box
    outward: int = 0

    @property
    def name(self) -> str:
        """ "carrier:element"."""
        return f"{self.carrier}:{self.element}"


_Left = Iterator[tuple[str, Form, float, Box | None]]
"""Element, form, radius, and the box of its faces; None: the carrier's own."""


@singledispatch
def leaves(carrier: Any) -> _Left:
    """The surfaces that a carrier of a type leaves on the solid. Raises TypeError without a rule."""
    raise TypeError(f"no stations rule for {type(carrier).__name__}")


def _nothing(carrier: Any) -> _Left:
    yield from ()


for _type in (f.FacedLength, f.EngravedScale, f.IndexMark, f.ScribedLine, f.Weld):
    leaves.register(_type)(_nothing)


@leaves.register
def _(carrier: Stock) -> _Left:
    yield "x-low", "plane", 0.0, None
    yield "x-high", "plane", 0.0, None
    if carrier.round:
        yield "axis", "cylinder", carrier.section.width_mm / 2, None
        if carrier.section.shape == "tube":
            inner = carrier.section.width_mm / 2 - carrier.section.thickness_mm
            yield "axis", "cylinder", inner, None
    else:
        for side in ("y-low", "y-high", "z-low", "z-high"):
            yield side, "plane", 0.0, None


@leaves.register
def _(carrier: Member) -> _Left:
    along = "xyz"[carrier.frame.turned(0)]
    for element, form, radius, box in leaves(carrier.blank):
        if element[1:] != "-low" and element[1:] != "-high":
            yield element, form, radius, box
        elif carrier.blank.round:
            yield along + element[1:], form, radius, box
        else:
            yield element, form, radius, box  # all six, whichever way they lie


@leaves.register(f.TurnedDiameter)
@leaves.register(f.Knurl)
def _(carrier: f.TurnedDiameter | f.Knurl) -> _Left:
    yield "axis", "cylinder", carrier.diameter.nominal_mm / 2, None
    yield "start", "plane", 0.0, None
    yield "end", "plane", 0.0, None
    if isinstance(carrier, f.Knurl):
        yield "start", "line", 0.0, None
        yield "end", "line", 0.0, None


@leaves.register
def _(carrier: f.Thread) -> _Left:
    yield "axis", "cylinder", thread(carrier.thread).major_mm / 2, None
    for end in ("start", "end"):
        yield end, "plane", 0.0, None
        yield end, "line", 0.0, None


@leaves.register
def _(carrier: f.FacedShoulder) -> _Left:
    yield "start", "plane", 0.0, None


@leaves.register
def _(carrier: f.TurnedBall) -> _Left:
    yield "axis", "sphere", carrier.diameter.nominal_mm / 2, None
    yield "end", "sphere", carrier.diameter.nominal_mm / 2, None


@leaves.register(f.DrilledHole)
@leaves.register(f.ReamedHole)
@leaves.register(f.Bore)
@leaves.register(f.Counterbore)
def _(carrier: Any) -> _Left:
    yield "axis", "cylinder", carrier.diameter.nominal_mm / 2, None
    if not carrier.through:
        yield "bottom", "plane", 0.0, None


@leaves.register
def _(carrier: f.TappedHole) -> _Left:
    yield "axis", "cylinder", thread(carrier.thread).tap_drill_mm / 2, None
    if not carrier.through:
        yield "bottom", "line", 0.0, None
        yield "drilled", "plane", 0.0, None


@leaves.register(f.MilledFlat)
@leaves.register(f.MilledSlot)
@leaves.register(f.Slit)
@leaves.register(f.SawnNotch)
def _(carrier: f.Removed) -> _Left:
    for letter in "xyz":
        yield f"{letter}-low", "plane", 0.0, None
        yield f"{letter}-high", "plane", 0.0, None
    if isinstance(carrier, f.SawnNotch) and carrier.corner_radius_mm:
        yield "corner", "cylinder", carrier.corner_radius_mm, None


@leaves.register
def _(carrier: f.GroundPoint) -> _Left:
    yield "tip", "other", 0.0, None


def drilled_mm(hole: f.TappedHole) -> float:
    """How deep a tapped hole is drilled: of a blind one by the lead of a tap deeper."""
    more = 0.0 if hole.through else thread(hole.thread).tap_lead_mm
    return hole.depth_mm + more


def _place(carrier: Any, element: str) -> Place:
    if element == "drilled":
        return plane(along_index(carrier.axis.along), carrier.axis.at(drilled_mm(carrier)))
    if element == "corner":
        return Place("axis", 2, carrier.box.low)
    return find(carrier, element)


def found_at(subject: Subject, ref: str) -> Place:
    """Where a surface lies, in the subject's frame, by its name; also where a hole's drill ends."""
    carrier, _, element = ref.rpartition(":")
    thing, frame = subject.carriers[carrier]
    place = _place(thing, element)
    return place.placed(frame) if frame != Frame() else place


def _reach(carrier: Any) -> Box:
    """The box that a carrier's faces lie in, in its own frame."""
    if isinstance(carrier, Stock):
        return carrier.box
    if isinstance(carrier, Member):
        return carrier.blank.box.placed(carrier.frame)
    if isinstance(carrier, f.Removed):
        return carrier.box
    if isinstance(carrier, f.Turned | f.Hole):
        wide = 1e4
        ends = (
            (carrier.start_mm, carrier.end_mm)
            if isinstance(carrier, f.Turned)
            else (0.0, carrier.depth_mm + (50.0 if isinstance(carrier, f.TappedHole) else 0.0))
        )
        if isinstance(carrier, f.Hole):
            wide = _radius(carrier)
        one, other = carrier.axis.at(ends[0]), carrier.axis.at(ends[1])
        along = "xyz".index(carrier.axis.along[1])
        low = tuple(
            min(a, b) - (0 if i == along else wide)
            for i, (a, b) in enumerate(zip(one, other, strict=True))
        )
        high = tuple(
            max(a, b) + (0 if i == along else wide)
            for i, (a, b) in enumerate(zip(one, other, strict=True))
        )
        return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    return Box((-FAR_MM, -FAR_MM, -FAR_MM), (FAR_MM, FAR_MM, FAR_MM))


def _radius(hole: f.Hole) -> float:
    if isinstance(hole, f.TappedHole):
        return thread(hole.thread).tap_drill_mm / 2
    size: float = hole.diameter.nominal_mm / 2  # type: ignore[attr-defined]
    return size


def _outward(carrier: Any, element: str, frame: Frame) -> int:
    """Which way a face of stock looks, and one of a milled box, which looks into the box."""
    letter, _, side = element.partition("-")
    if side not in ("low", "high") or not isinstance(carrier, Stock | Member | f.Removed):
        return 0
    sign = sum(frame.directions()["xyz".index(letter)])
    out = sign if side == "high" else -sign
    return round(-out if isinstance(carrier, f.Removed) else out)


def surfaces(subject: Subject) -> list[Surface]:
    """Every surface that the subject's carriers could leave, the last made last."""
    found = []
    for name, (carrier, frame) in subject.carriers.items():
        reach = _reach(carrier)
        for element, form, radius, own in leaves(carrier):
            place = _place(carrier, element)
            box = own or reach
            if frame != Frame():
                place, box = place.placed(frame), box.placed(frame)
            outward = _outward(carrier, element, frame)
            found.append(Surface(name, element, form, place, radius, box, outward))
    return found


def faces(subject: Subject) -> tuple[Face, ...]:
    """Every face of the subject's solid."""
    if subject.member is not None:
        return piece_faces(subject.member)
    return part_faces(subject.part)


def lies_in(face: Face, surface: Surface) -> bool:
    """Whether a face of the solid lies in a surface, within NEAR_MM."""
    meets = all(
        face.box.low[i] <= surface.reach.high[i] + NEAR_MM
        and face.box.high[i] >= surface.reach.low[i] - NEAR_MM
        for i in range(3)
    )
    if not meets or face.kind != surface.form:
        return False
    place = surface.place
    if face.kind == "plane":
        i = face.along
        looks = surface.outward in (0, face.outward)
        return looks and place.along == i and abs(face.at[i] - place.at[i]) < NEAR_MM
    if face.kind == "other":
        return True
    if abs(face.radius_mm - surface.radius_mm) > NEAR_MM:
        return False
    if face.kind == "cylinder":
        across = [i for i in range(3) if i != face.along]
        if surface.element == "corner":
            return place.along == face.along
        return place.along == face.along and all(
            abs(face.at[i] - place.at[i]) < NEAR_MM for i in across
        )
    if surface.element == "end":  # the nose of a ball, if the ball reaches it
        i = place.along
        return min(abs(face.box.low[i] - place.at[i]), abs(face.box.high[i] - place.at[i])) < 0.01
    across = [i for i in range(3) if i != place.along]
    return all(abs(face.at[i] - place.at[i]) < NEAR_MM for i in across)


class Claims(Value, frozen=True):
    """Which surfaces there are, and which faces each lies in.

    faces: of the solid; of: by surface, the numbers of its faces; lines: surfaces drawn by convention.
    """

    faces: tuple[Face, ...]
    of: dict[Surface, tuple[int, ...]]
    lines: tuple[Surface, ...]

    def groups(self) -> list[list[Surface]]:
        """The surfaces that lie in one and the same face, each face once."""
        found = []
        for number in range(len(self.faces)):
            found.append([s for s, numbers in self.of.items() if number in numbers])
        return found


def claims(subject: Subject) -> Claims:
    """The claims on a subject's faces. Raises UnclaimedFace where a face is nobody's."""
    every, found = faces(subject), surfaces(subject)
    of = {
        one: numbers
        for one in found
        if (numbers := tuple(n for n, face in enumerate(every) if lies_in(face, one)))
    }
    taken = {n for numbers in of.values() for n in numbers}
    for number, face in enumerate(every):
        if number not in taken:
            raise UnclaimedFace(f"{subject.name}: nobody claims {face}")
    return Claims(every, of, tuple(s for s in found if s.form == "line"))
