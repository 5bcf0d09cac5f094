"""What a sheet need not dimension, and why: one reason for each pair of stations that agree.

Declared agreements of the part; surfaces in one face of the solid; what is turned about one axis; the
middle between two faces; what the piece's own sheet gives; how a hole begins in a face. Each is found
again on the solid by a test.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import hypot

from parts import features as f
from parts.blank import Member, Stock
from parts.places import SAME_MM, Place, surface
from parts.standard.threads import TAP_LEAD_PITCHES, thread
from parts.value import Value
from planner.drawing.stations import Claims
from planner.drawing.subjects import Subject


class Relation(Value, frozen=True):
    """Two surfaces whose distance in a direction the sheet implies.

    direction: 0, 1 or 2; apart_mm: by how far, from one to other; reason: in words for the proof.
    """

    direction: int
    one: str
    other: str
    reason: str
    apart_mm: float = 0.0


def relations(subject: Subject, found: Claims) -> Iterator[Relation]:
    """Every relation of a subject, the surest first."""
    yield from _one_face(found)
    yield from _agreements(subject)
    yield from _about_one_axis(subject)
    yield from _ball_ends(subject)
    yield from _ground(subject)
    yield from vanished(subject, found)
    yield from _middles(subject, found)
    yield from _holes(subject, found)
    yield from in_one_line(subject)


def of_member(ref: str, member: str) -> bool:
    """Whether a surface is of a piece, or of a feature of it."""
    carrier = surface(ref)[0]
    return carrier == member or carrier.startswith(f"{member}/")


def by_chance(subject: Subject, one: Relation, base: str) -> bool:
    """Whether two pieces of a weldment only come out level, by their lengths, away from the base.

    How far their other ends stand apart would then follow from the sheets of both: it is drawn. base:
    the surface that is measured from in that direction, "" for none.
    """
    i, members = one.direction, subject.joined.members if subject.joined else ()
    pieces = [[m.name for m in members if of_member(ref, m.name)] for ref in (one.one, one.other)]
    if not all(pieces) or pieces[0] == pieces[1] or subject.place(one.one).kind != "plane":
        return False
    if any({said.one, said.other} == {one.one, one.other} for said in subject.agreements):
        return False
    return not base or abs(subject.place(base).at[i] - subject.place(one.one).at[i]) >= SAME_MM


def _both(subject: Subject, one: str, other: str, reason: str) -> Iterator[Relation]:
    """Agreement in every direction in which both surfaces have a place."""
    a, b = subject.place(one), subject.place(other)
    for i in range(3):
        if a.fixes(i) and b.fixes(i):
            yield Relation(i, one, other, reason, b.at[i] - a.at[i])


def _one_face(found: Claims) -> Iterator[Relation]:
    for face, group in zip(found.faces, found.groups(), strict=True):
        names = dict.fromkeys(s for s in group if s.element != "corner")
        for one, other in pairwise(names):
            if {one.form, other.form} == {"sphere"}:
                continue  # a nose and an axis: not one place
            for i in range(3):
                if one.place.fixes(i) and other.place.fixes(i):
                    yield Relation(i, one.name, other.name, f"one {face.kind} of the solid")


def _agreements(subject: Subject) -> Iterator[Relation]:
    for one in subject.agreements:
        a, b = subject.place(one.one), subject.place(one.other)
        for i in range(3):
            near = abs(a.at[i] - b.at[i]) < SAME_MM
            if a.fixes(i) and b.fixes(i) and near:
                yield Relation(i, one.one, one.other, f"{one.kind}: {one.reason}")


def _about_one_axis(subject: Subject) -> Iterator[Relation]:
    """What is turned or bored about its bar's axis, and what is turned about its datum's."""
    stock = subject.stock
    for feature in subject.features:
        if not isinstance(feature, f.Turned | f.Hole):
            continue
        own, place = f"{feature.name}:axis", subject.place(f"{feature.name}:axis")
        if stock is not None and stock.round and _coaxial(place, subject.place("blank:axis")):
            yield from _both(subject, own, "blank:axis", "made about the bar's axis")
        elif isinstance(feature, f.Turned):
            datum = subject.datum(feature.datum)
            if datum != own and _coaxial(place, subject.place(datum)):
                yield from _both(subject, own, datum, f"turned about {feature.datum}")


def _coaxial(one: Place, other: Place) -> bool:
    return (
        one.kind == other.kind == "axis"
        and one.along == other.along
        and all(abs(one.at[i] - other.at[i]) < SAME_MM for i in range(3) if i != one.along)
    )


def _ball_ends(subject: Subject) -> Iterator[Relation]:
    """The nose of a ball is the end of its blank."""
    if subject.stock is None:
        return
    for feature in subject.features:
        if isinstance(feature, f.TurnedBall):
            nose = f"{feature.name}:end"
            for end in ("blank:x-low", "blank:x-high"):
                if abs(subject.place(nose).at[0] - subject.place(end).at[0]) < SAME_MM:
                    yield Relation(0, nose, end, "the ball's nose is the end of the bar")


def _ground(subject: Subject) -> Iterator[Relation]:
    """A point is ground under its rake face, so that the tip stays in it."""
    for feature in subject.features:
        if isinstance(feature, f.GroundPoint) and subject.stock is not None:
            yield Relation(
                2, f"{feature.name}:tip", "blank:z-high", "the tip lies in the rake face"
            )


def vanished(subject: Subject, found: Claims) -> Iterator[Relation]:
    """A datum that a later cut takes away is known by that cut."""
    there = {one.name for one in found.of}
    for letter in subject.datums:
        datum = subject.datum(letter)
        for feature in subject.features:
            if datum in there or not isinstance(feature, f.FacedShoulder):
                continue
            old, place = f"{feature.name}:end", subject.place(datum)
            i = place.along
            if place.kind == "plane" and abs(place.at[i] - subject.place(old).at[i]) < SAME_MM:
                yield Relation(i, datum, old, f"{letter} is faced off last")


def _middles(subject: Subject, found: Claims) -> Iterator[Relation]:
    """Halfway between two faces: the middles and, of what is not round, the axis."""
    there = {one.name for one in found.of}
    for carrier, (thing, _) in subject.carriers.items():
        stock = thing.blank if isinstance(thing, Member) else thing
        flat = isinstance(stock, Stock) and not stock.round
        boxed = isinstance(thing, f.Removed) or flat
        for letter in "xyz" if boxed else "":
            low, high = f"{carrier}:{letter}-low", f"{carrier}:{letter}-high"
            if low not in there or high not in there:
                continue
            a, b = subject.place(low), subject.place(high)
            half = (b.at[a.along] - a.at[a.along]) / 2
            middles = [f"{carrier}:{letter}-middle"]
            if flat and subject.place(f"{carrier}:axis").fixes(a.along):
                middles.append(f"{carrier}:axis")
            for middle in middles:
                yield Relation(a.along, low, middle, "halfway between two faces", half)


def _holes(subject: Subject, found: Claims) -> Iterator[Relation]:
    """Where a blind hole begins, and how much deeper than its thread it is drilled."""
    for feature in subject.features:
        if not isinstance(feature, f.Hole) or feature.through:
            continue
        entry = f"{feature.name}:entry"
        i = subject.place(entry).along
        begins = _begins(subject, found, feature, i)
        if begins:
            apart = subject.place(begins).at[i] - subject.place(entry).at[i]
            yield Relation(i, entry, begins, "the hole begins there", apart)
        if isinstance(feature, f.TappedHole):
            bottom = subject.place(f"{feature.name}:bottom").at[i]
            mouth = subject.place(entry).at[i]
            lead = thread(feature.thread).tap_lead_mm * (1 if bottom > mouth else -1)
            yield Relation(
                i,
                f"{feature.name}:bottom",
                f"{feature.name}:drilled",
                f"drilled deeper by the tap's lead, {TAP_LEAD_PITCHES:g} pitches",
                lead,
            )


def _begins(subject: Subject, found: Claims, hole: f.Hole, i: int) -> str:
    """The surface that a hole begins in: a face round its mouth, or the axis that its mouth lies on."""
    mouth = hole.axis.origin
    for one, numbers in reversed(found.of.items()):
        if surface(one.name)[0] == hole.name or one.form != "plane" or one.place.along != i:
            continue
        for number in numbers:
            box = found.faces[number].box
            if all(box.low[k] - 1e-3 <= mouth[k] <= box.high[k] + 1e-3 for k in range(3)):
                return one.name
    for one in found.of:
        other = surface(one.name)[0] != hole.name and one.place.kind == "axis"
        if other and one.place.fixes(i) and abs(one.place.at[i] - mouth[i]) < SAME_MM:
            return one.name
    for one in found.of:  # square into a cylinder, by half its diameter from its axis
        if one.form == "cylinder" and one.place.along != i and surface(one.name)[0] != hole.name:
            off = hypot(*(one.place.at[k] - mouth[k] for k in range(3) if k != one.place.along))
            if abs(off - one.radius_mm) < SAME_MM:
                return one.name
    return ""


def in_one_line(subject: Subject) -> Iterator[Relation]:
    """What is located by one and the same size from one datum stands in one line."""
    first: dict[tuple[object, ...], str] = {}
    for feature in subject.features:
        for location, datum, own in subject.located(feature):
            size = location.size
            kind = subject.place(own).kind
            key = (datum, location.along, size.nominal_mm, size.upper_mm, size.lower_mm, kind)
            if key in first:
                i = "xyz".index(location.along[1])
                yield Relation(i, first[key], own, "located by one size: in one line")
            first.setdefault(key, own)
