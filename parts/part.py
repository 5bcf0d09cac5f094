"""A part: a blank (stock, or members joined by welds) and the features made on it.

Imported by every part file and by the planner. A part checks itself as it is made: what no machinist
could make raises NotMakeable with every complaint, a slip of its author ValueError.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import field

from parts.blank import Joined, Member, Stock
from parts.errors import NotMakeable
from parts.features import Feature, Location, Stage, Weld
from parts.frame import Frame, vector
from parts.makeable import complaints
from parts.places import SAME_MM, Agreement, Datum, Place, Trueness, along_index, element, surface
from parts.value import Value


class Part(Value, frozen=True):
    """One part of the attachment, the only description of it.

    name: file-name form, lower case with hyphens; title: as it reads on a sheet.
    datums: letter -> Datum. agreements: surfaces in line, flush, touching or coaxial by design.
    axes: where x, y and z of the part's frame point and where they begin, for the sheets.
    trueness: how true surfaces lie to datums. textures: Ra, um, of surfaces that no feature makes, by
    their names.
    colour: red, green, blue from 0 to 1, to tell parts apart on the screen.
    Raises NotMakeable when its sizes make no such part.
    """

    name: str
    title: str
    blank: Stock | Joined
    features: tuple[Feature, ...]
    datums: Mapping[str, Datum]
    colour: tuple[float, float, float]
    axes: str = "x along the axis from the datum end"
    quantity: int = 1
    notes: tuple[str, ...] = ()
    agreements: tuple[Agreement, ...] = ()
    trueness: tuple[Trueness, ...] = ()
    textures: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        _check_author(self)
        found = complaints(self.name, self.blank, self.features)
        if not found:
            found = list(_misplaced(self))
        if found:
            raise NotMakeable(found)

    def place(self, carrier: str, name: str) -> Place:
        """Where an element of a carrier lies, in the part's frame.

        carrier: "blank", a member, a feature of the whole, or "member/feature". Raises KeyError when
        there is no such carrier or element.
        """
        return _place(self, None, carrier, name)


class Ring(Value, frozen=True):
    """A ring cut from sheet, or a disc, whose hole is 0: its sizes as cut, and how thick in place."""

    outside_mm: float
    inside_mm: float
    thickness_mm: float
    pressed_mm: float


class Bought(Value, frozen=True):
    """A standard item bought in: what it is, its designation, how many, and where it sits.

    kind: "socket screw", "set screw", "stud", "thin nut", "washer", "felt ring" or "brass disc";
    thread: its thread designation, or that of the screw that a ring or disc goes with. length_mm: a
    screw's or a stud's length, 0 for the rest. ring: the sizes of a ring or disc.
    """

    kind: str
    thread: str
    standard: str
    use: str
    quantity: int = 1
    length_mm: float = 0.0
    ring: Ring | None = None


def members(part: Part) -> tuple[Member, ...]:
    """The pieces of stock a part is made of; a part of one piece is its own only member."""
    if isinstance(part.blank, Joined):
        return part.blank.members
    return (Member(part.name, part.blank, Frame(), part.features, part.datums),)


def every_feature(part: Part) -> Iterator[tuple[Member | None, Feature]]:
    """Every feature of a part with the member it is made on, or None when made on the whole."""
    if isinstance(part.blank, Joined):
        for member in part.blank.members:
            for feature in member.features:
                yield member, feature
        for weld in part.blank.welds:
            yield None, weld
    for feature in part.features:
        yield None, feature


def datum_place(part: Part, owner: Member | None, letter: str) -> Place:
    """Where a datum lies: of the part in its frame, or of a member in the member's own."""
    datum = (owner.datums if owner else part.datums)[letter]
    return _place(part, owner, datum.of, datum.element)


def _place(part: Part, owner: Member | None, carrier: str, name: str) -> Place:
    """An element in the frame of the part, or of the member that owns it."""
    if owner is not None:
        carriers: Mapping[str, object] = {f.name: f for f in owner.features}
        return element(owner.blank if carrier == "blank" else carriers[carrier], name)
    inside, _, feature = carrier.rpartition("/")
    if inside:
        member = next(m for m in members(part) if m.name == inside)
        return _place(part, member, feature, name).placed(member.frame)
    if carrier == "blank":
        return element(part.blank, name)
    named = {m.name: m for m in members(part)} if isinstance(part.blank, Joined) else {}
    return element(named.get(carrier) or {f.name: f for f in part.features}[carrier], name)


def _check_author(part: Part) -> None:
    """Slips of whoever wrote the part: names twice, no such datum, the wrong stage."""
    names = [feature.name for _, feature in every_feature(part)]
    doubled = sorted({name for name in names if names.count(name) > 1})
    if doubled:
        raise ValueError(f"{part.name}: feature names used twice: {', '.join(doubled)}")
    _check_trueness(part)
    for owner, feature in every_feature(part):
        _check_stage(part, owner, feature)
        datums = owner.datums if owner else part.datums
        for letter in (feature.datum, *(location.datum for location in feature.locations)):
            if letter not in datums:
                raise ValueError(
                    f"{part.name}: feature '{feature.name}' is measured from datum"
                    f" {letter!r}; the datums are {', '.join(datums) or 'none'}"
                )


def _check_trueness(part: Part) -> None:
    for one in part.trueness:
        part.place(*surface(one.of))
        if one.value_mm <= 0.0 or not set(one.datums) <= set(part.datums):
            raise ValueError(f"{part.name}: {one.of} cannot be true within {one.value_mm:g}")
    for ref in part.textures:
        part.place(*surface(ref))


def _check_stage(part: Part, owner: Member | None, feature: Feature) -> None:
    if isinstance(feature, Weld):
        return
    welded = isinstance(part.blank, Joined)
    if welded and owner is None and feature.stage is Stage.BLANK:
        raise ValueError(f"{part.name}: '{feature.name}' is made on the weldment; say which stage")
    if (owner is not None or not welded) and feature.stage is Stage.WELDED:
        raise ValueError(f"{part.name}: '{feature.name}' cannot be made after welding: no weld yet")


def _misplaced(part: Part) -> Iterator[str]:
    """Features on the wrong side of what they are measured from; raises for a slip of the author."""
    for owner, feature in every_feature(part):
        for location in feature.locations:
            far = _distance_mm(part, owner, feature, location)
            if abs(far - location.size.nominal_mm) > SAME_MM:
                raise ValueError(
                    f"{part.name}: '{feature.name}' lies {far:.6g} mm {location.along} of datum"
                    f" {location.datum}, and says {location.size.nominal_mm:.6g}"
                )
            if far < -SAME_MM:
                yield f"{part.name}: {feature.name} lies {-far:.4g} mm beyond {location.datum}"
    for agreement in part.agreements:
        one, other = (part.place(*surface(ref)) for ref in (agreement.one, agreement.other))
        if not agreement.holds(one, other):
            raise ValueError(
                f"{part.name}: {agreement.one} and {agreement.other} are not {agreement.kind}"
            )


def _distance_mm(part: Part, owner: Member | None, feature: Feature, location: Location) -> float:
    """How far a feature's element lies from its datum along the location's direction."""
    there, datum = element(feature, location.element), datum_place(part, owner, location.datum)
    along = along_index(location.along)
    if not (there.fixes(along) and datum.fixes(along)):
        raise ValueError(
            f"{part.name}: '{feature.name}' has no distance {location.along} from datum"
            f" {location.datum}"
        )
    return (there.at[along] - datum.at[along]) * vector(location.along)[along]


__all__ = [
    "Agreement",
    "Bought",
    "Datum",
    "Joined",
    "Member",
    "Part",
    "Ring",
    "Stock",
    "Trueness",
    "datum_place",
    "every_feature",
    "members",
]
