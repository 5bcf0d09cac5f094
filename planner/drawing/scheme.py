"""What a sheet says: on each direction a spanning tree over the stations, and each size once.

Stations are nodes; what is declared or follows by a named rule is an edge for nothing, and dimensions
are drawn until everything is joined (D. Dori, "Dimensioning analysis", Communications of the ACM 35
(10), 1992: complete and nothing twice). Toleranced ones enter first, then located ones, then a
feature's own sizes; the rest run from the datum.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import singledispatch
from typing import Literal

from msgspec import Struct, field

from parts import features as f
from parts.blank import Stock
from parts.places import SAME_MM, surface
from parts.standard.fits import STOCK, Limits
from parts.value import Value
from planner.drawing.relations import Relation, by_chance, of_member, relations, vanished
from planner.drawing.stations import Claims, Surface, claims, found_at
from planner.drawing.subjects import Subject


class Contradiction(Exception):
    """A sheet that cannot be dimensioned from what its part declares: a fault of the part's author."""


class Edge(Value, frozen=True):
    """A size between two surfaces in one direction.

    feature: whose; said: drawn as a dimension, or written in the feature's call-out.
    """

    direction: int
    one: str
    other: str
    size: Limits
    feature: str
    said: Literal["drawn", "noted"] = "drawn"


class Size(Value, frozen=True):
    """A size that no distance gives: a diameter, a thread, a radius, a pitch.

    what: "diameter", "thread", ...; feature: whose call-out or dimension gives it.
    """

    feature: str
    what: str
    size: Limits | None = None


class Scheme(Struct, dict=True):
    """All that one sheet has to say, and what it leaves unsaid for a reason.

    used: the relations in the tree. lost: declared locations that follow from others.
    """

    subject: Subject
    claims: Claims
    edges: list[Edge] = field(default_factory=list)
    sizes: list[Size] = field(default_factory=list)
    used: list[Relation] = field(default_factory=list)
    lost: list[Edge] = field(default_factory=list)


def position(subject: Subject, ref: str, direction: int) -> float:
    """Where a surface lies in a direction, mm; also how deep a tapped hole is drilled."""
    return found_at(subject, ref).at[direction]


class _Forest:
    """Which nodes are joined; a node is a direction and a surface."""

    def __init__(self) -> None:
        self.up: dict[tuple[int, str], tuple[int, str]] = {}

    def root(self, node: tuple[int, str]) -> tuple[int, str]:
        while self.up.setdefault(node, node) != node:
            node = self.up[node]
        return node

    def joins(self, direction: int, one: str, other: str) -> bool:
        """Join two nodes; False where they were joined before."""
        a, b = self.root((direction, one)), self.root((direction, other))
        if a == b:
            return False
        self.up[b] = a
        return True


def scheme(subject: Subject) -> Scheme:
    """What the sheet of a subject says. Raises UnclaimedFace, Contradiction."""
    found = claims(subject)
    made = Scheme(subject, found)
    forest = _Forest()
    sure = [*relations(subject, found), *by_pieces(subject, found)]
    level, bases = levels(subject, found)
    for one in sure:
        if one not in level and forest.joins(one.direction, one.one, one.other):
            made.used.append(one)
    for edge in sorted(_candidates(subject, found), key=_rank):
        if forest.joins(edge.direction, edge.one, edge.other):
            made.edges.append(edge)
        else:
            _follows(subject, edge)
            made.lost.append(edge)
    made.edges += _stood_over(subject, found, forest, level, bases)
    made.used += [one for one in level if forest.joins(one.direction, one.one, one.other)]
    made.edges += _rest(subject, found, forest)
    made.sizes += _sizes(subject, found)
    return made


def _rank(edge: Edge) -> int:
    """Toleranced ones, then the overall length and the located, then the rest, as they come."""
    return 1 if edge.size.is_plain else 0


def _follows(subject: Subject, edge: Edge) -> None:
    if _rank(edge) == 0:
        raise Contradiction(
            f"{subject.name}: {edge.feature} is located within limits by {edge.one}, and lies there"
            " for another reason already"
        )


def nodes(found: Claims) -> Iterator[tuple[int, Surface]]:
    """Every station in every direction in which it has a place."""
    for one in (*found.of, *found.lines):
        if one.element == "corner":
            continue
        for i in range(3):
            if one.place.fixes(i):
                yield i, one


def levels(subject: Subject, found: Claims) -> tuple[list[Relation], list[str]]:
    """What only comes out level, known after the dimensions; what is measured from, by direction."""
    bases = [_base(subject, i, _stations(subject, found, i)) for i in range(3)]
    return [
        r for r in relations(subject, found) if by_chance(subject, r, bases[r.direction])
    ], bases


def by_pieces(subject: Subject, found: Claims) -> Iterator[Relation]:
    """On a weldment: what is of one piece, its own sheet gives."""
    joined = subject.joined
    for member in joined.members if joined else ():
        named = {n: None for n in _named(subject)}
        for i in range(3):
            own = [s.name for k, s in nodes(found) if k == i and of_member(s.name, member.name)]
            own += [n for n in named if of_member(n, member.name) and subject.place(n).fixes(i)]
            for other in own[1:]:
                apart = position(subject, other, i) - position(subject, own[0], i)
                reason = f"as the sheet of the {member.name} has it"
                yield Relation(i, own[0], other, reason, apart)


def _named(subject: Subject) -> Iterator[str]:
    """Surfaces that agreements and datums name."""
    for one in subject.agreements:
        yield from (one.one, one.other)
    for letter in subject.datums:
        yield subject.datum(letter)


# ---- candidate dimensions, by feature type ----


def _candidates(subject: Subject, found: Claims) -> Iterator[Edge]:
    there = {(i, s.name) for i, s in nodes(found)}
    if subject.stock is not None:
        yield from _stock(subject.stock, there)
    for feature in subject.features:
        for location, datum, own in subject.located(feature):
            i = "xyz".index(location.along[1])
            yield Edge(i, datum, own, location.size, feature.name)
    faced = {one.other for one in vanished(subject, found)}
    for feature in subject.features:
        for edge in own_sizes(feature):
            if _needed(edge, there, faced):
                yield edge


def _needed(edge: Edge, there: set[tuple[int, str]], faced: set[str]) -> bool:
    """Whether both ends of a feature's own size are stations, a hole's mouth, or a lost datum."""
    for ref in (edge.one, edge.other):
        begins = surface(ref)[1] == "entry"
        nose = ref in ("blank:x-low", "blank:x-high")
        if not (begins or nose or (edge.direction, ref) in there or ref in faced):
            return False
    return True


def _stock(stock: Stock, there: set[tuple[int, str]]) -> Iterator[Edge]:
    """The section of what is not round, where both faces are left."""
    if stock.round:
        return
    for letter, size in (("y", stock.section.width_mm), ("z", stock.section.height_mm)):
        i = "xyz".index(letter)
        if {(i, f"blank:{letter}-low"), (i, f"blank:{letter}-high")} <= there:
            limits = Limits(size, 0.0, 0.0, STOCK)
            yield Edge(i, f"blank:{letter}-low", f"blank:{letter}-high", limits, "blank")


@singledispatch
def own_sizes(feature: f.Feature) -> Iterator[Edge]:
    """The lengths, depths and widths of a feature itself."""
    yield from ()


@own_sizes.register
def _(feature: f.FacedLength) -> Iterator[Edge]:
    yield Edge(0, "blank:x-low", "blank:x-high", feature.length, feature.name)


@own_sizes.register(f.Thread)
@own_sizes.register(f.Knurl)
def _(feature: f.Thread | f.Knurl) -> Iterator[Edge]:
    size = f.general(feature.end_mm - feature.start_mm)
    i = "xyz".index(feature.axis.along[1])
    one, other = f"{feature.name}:start", f"{feature.name}:end"
    yield Edge(i, one, other, size, feature.name, "noted")


@own_sizes.register
def _(feature: f.FacedShoulder) -> Iterator[Edge]:
    size = f.general(feature.end_mm - feature.start_mm)
    i = "xyz".index(feature.axis.along[1])
    one, other = f"{feature.name}:start", f"{feature.name}:end"
    yield Edge(i, one, other, size, feature.name, "noted")


@own_sizes.register
def _(feature: f.Hole) -> Iterator[Edge]:
    if not feature.through:
        i = "xyz".index(feature.axis.along[1])
        one, other = f"{feature.name}:entry", f"{feature.name}:bottom"
        yield Edge(i, one, other, f.general(feature.depth_mm), feature.name, "noted")


@own_sizes.register(f.MilledSlot)
@own_sizes.register(f.Slit)
def _(feature: f.MilledSlot | f.Slit) -> Iterator[Edge]:
    sizes = feature.box.size()
    i = min(range(3), key=lambda k: abs(sizes[k] - feature.width.nominal_mm))
    one, other = f"{feature.name}:{'xyz'[i]}-low", f"{feature.name}:{'xyz'[i]}-high"
    yield Edge(i, one, other, feature.width, feature.name, "noted")


def _stood_over(
    subject: Subject, found: Claims, forest: _Forest, level: list[Relation], bases: list[str]
) -> Iterator[Edge]:
    """From the datum to the nearest end of a piece that is joined by nothing but such a level."""
    members = {m.name for m in subject.joined.members} if subject.joined else set()
    for one in level:
        i, base = one.direction, bases[one.direction]
        stations = _stations(subject, found, i)
        for ref in (one.one, one.other):
            ends = [s for s in stations if s.form == "plane" and surface(s.name)[0] in members]
            own = [s for s in ends if forest.root((i, s.name)) == forest.root((i, ref))]
            near = min(own, key=lambda s: _off(subject, i, base, s), default=None)
            over = near is not None and _off(subject, i, ref, near) >= SAME_MM
            if near and over and forest.joins(i, base, near.name):
                yield _gap(subject, i, base, near.name, surface(near.name)[0])


def _rest(subject: Subject, found: Claims, forest: _Forest) -> Iterator[Edge]:
    """What is not joined yet: a milled box by its own size, everything else from the datum."""
    there = {(i, s.name) for i, s in nodes(found)}
    for feature in subject.features:
        for i in range(3) if isinstance(feature, f.Removed) else ():
            low, high = (f"{feature.name}:{'xyz'[i]}-{side}" for side in ("low", "high"))
            if {(i, low), (i, high)} <= there and forest.joins(i, low, high):
                yield _gap(subject, i, low, high, feature.name)
    for i in range(3):
        stations = _stations(subject, found, i)
        base = _base(subject, i, stations)
        if base:
            stations.sort(key=lambda s: (s.form != "plane", _off(subject, i, base, s)))
        for one in stations:
            if base and forest.joins(i, base, one.name):
                yield _gap(subject, i, base, one.name, surface(one.name)[0])


def _stations(subject: Subject, found: Claims, direction: int) -> list[Surface]:
    """Faces before axes, drawn lines last; the later made first, since it is what is measured."""
    stations = [s for i, s in nodes(found) if i == direction]
    order = {"plane": 0, "sphere": 1, "cylinder": 2, "other": 3, "line": 4}
    return sorted(stations, key=lambda s: order[s.form])


def _off(subject: Subject, i: int, base: str, one: Surface) -> float:
    return round(abs(position(subject, one.name, i) - position(subject, base, i)), 6)


def _base(subject: Subject, direction: int, stations: list[Surface]) -> str:
    """What the rest is measured from: the first datum with a place in a direction, else a face."""
    for letter in subject.datums:
        datum = subject.datum(letter)
        if subject.place(datum).fixes(direction):
            return datum
    return stations[0].name if stations else ""


def _gap(subject: Subject, i: int, one: str, other: str, feature: str) -> Edge:
    size = abs(position(subject, other, i) - position(subject, one, i))
    if size < SAME_MM:
        raise Contradiction(f"{subject.name}: {one} and {other} agree by number only; declare it")
    return Edge(i, one, other, f.general(size), feature)


# ---- sizes that are no distances ----


def _sizes(subject: Subject, found: Claims) -> Iterator[Size]:
    for group in _rounds(found):
        yield from _diameter(subject, group)
    for feature in subject.features:
        for what in more_sizes(feature):
            yield Size(feature.name, what)


def _rounds(found: Claims) -> list[list[Surface]]:
    """The round surfaces that lie in one and the same face; of one feature in several, once."""
    groups: list[list[Surface]] = []
    for group in found.groups():
        own = [s for s in group if s.form in ("cylinder", "sphere") and s.element != "corner"]
        same = next((g for g in groups if any(s in g for s in own)), None)
        if same is not None:
            same += [s for s in own if s not in same]
        elif own:
            groups.append(own)
    return groups


MADE, KNURLED, BOUGHT = 0, 1, 2
"""Who gives a diameter, the first that there is: what is turned to it, a knurl, the bar."""


def _diameter(subject: Subject, group: list[Surface]) -> Iterator[Size]:
    """Who gives the diameter: what is turned to it, before a knurl or what is bought."""
    owners: dict[int, tuple[str, Limits]] = {}
    for one in group:
        thing, _ = subject.carriers[one.carrier]
        if subject.joined and one.carrier not in {x.name for x in subject.features}:
            return  # of a piece: its own sheet gives it
        if isinstance(thing, Stock):
            owners.setdefault(BOUGHT, ("blank", Limits(2 * one.radius_mm, 0.0, 0.0, STOCK)))
        elif isinstance(thing, f.Knurl):
            owners.setdefault(KNURLED, (thing.name, thing.diameter))
        elif not isinstance(thing, f.Thread | f.TappedHole):
            owners.setdefault(MADE, (thing.name, thing.diameter))  # type: ignore[attr-defined]
    if owners:
        name, size = owners[min(owners)]
        yield Size(name, "diameter", size)


@singledispatch
def more_sizes(feature: f.Feature) -> tuple[str, ...]:
    """What else a feature's call-out must say, each once."""
    return ()


@more_sizes.register(f.Thread)
@more_sizes.register(f.TappedHole)
def _(feature: f.Feature) -> tuple[str, ...]:
    return ("thread",)


@more_sizes.register
def _(feature: f.Knurl) -> tuple[str, ...]:
    return ("knurl",)


@more_sizes.register
def _(feature: f.IndexMark) -> tuple[str, ...]:
    return ("lines", "angle")


@more_sizes.register(f.EngravedScale)
@more_sizes.register(f.ScribedLine)
def _(feature: f.Feature) -> tuple[str, ...]:
    return ("lines",)


@more_sizes.register
def _(feature: f.GroundPoint) -> tuple[str, ...]:
    return ("point",)


@more_sizes.register
def _(feature: f.SawnNotch) -> tuple[str, ...]:
    return ("corner",) if feature.corner_radius_mm else ()
