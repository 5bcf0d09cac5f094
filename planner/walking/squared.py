"""A surface that must lie true to a datum is cut with the work set by that datum, where it counts.

A jaw on a bar as it was rolled, or beside a weld, sets no angle of what was turned; a level face sets
none about the upright. Imported by planner.walking.walk.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct, field

from parts.frame import Frame
from parts.part import datum_place
from parts.places import Trueness, element
from parts.value import Value
from planner.walking.faults import Faults
from planner.walking.records import Record, number, rows, text
from planner.walking.state import Key, Piece
from planner.walking.surfaces import Axis, Cylinder, NoSurface, Plane, Surface, surface

ANGLES = ("parallelism", "perpendicularity")
"""What is asked of an angle; what runs true is turned in one chucking, or about the same centres."""


BY_MEASURE = ("scrape", "file")
"""Comes true by blue and by measuring, however the work is held."""


class _Set(Value, frozen=True):
    """Something that the work was set by: whose, which surface, and the reading; 0 for a grip."""

    part: str
    name: str
    within_mm: float


class Squared(Struct, dict=True):
    """What each feature was set by when it was finished; frames: where the parts stand in the whole."""

    frames: Mapping[str, Frame]
    pieces: Mapping[Key, Piece]
    made: dict[tuple[str, str], tuple[object, list[_Set]]] = field(default_factory=dict)

    def look(self, piece: Piece, operation: Record, setup: Record, faults: Faults) -> None:
        """One step that may finish a feature."""
        name, part = str(operation.get("feature") or ""), piece.part
        if name not in (operation.get("makes") or ()):
            return
        there = list(_set_by(part.name, setup))
        own = f"{piece.member.name}/{name}" if piece.member else name
        self.made[part.name, own] = (setup.get("number"), there)
        by_hand = operation.get("kind") in BY_MEASURE
        if by_hand or piece.member is not None or name not in piece.features:
            return
        for true in part.trueness:
            carrier, _, of = true.of.partition(":")
            if carrier == name and true.characteristic in ANGLES:
                for letter in true.datums:
                    self._judge(piece, (name, of), true, letter, there, faults)

    def _judge(
        self, piece: Piece, cut: tuple[str, str], true: Trueness, letter: str, there: list[_Set],
        faults: Faults,
    ) -> None:  # fmt: skip
        name, of = cut
        datum = datum_place(piece.part, None, letter).along
        own = element(piece.features[name], of).along
        turns = [3 - datum - own] if datum != own else [i for i in range(3) if i != own]
        for about in turns:
            hole = of == "axis"
            face = surface(piece, f"{name}.{'bore' if hole else of}")
            size = _long(piece, face, name, own if hole else 3 - own - about)
            best = min(self._off(piece, letter, there, about, size), default=None)
            if best is None:
                faults.refuse(
                    "route-not-trued",
                    f"{name} to {letter} within {faults.mm(true.value_mm)}",
                    f"nothing that lies true to {letter} sets its angle about {'xyz'[about]}",
                    "Clock the datum itself, or what was turned with it, over its length",
                )
            elif best > true.value_mm:
                faults.refuse(
                    "route-not-trued",
                    f"{name} to {letter} within {faults.mm(true.value_mm)}",
                    f"what it is set by may leave it {faults.mm(best)} out over its length",
                    "Set it closer, or clock something longer",
                )

    def _off(
        self, piece: Piece, letter: str, there: list[_Set], about: int, size_mm: float
    ) -> Iterator[float]:
        """How far each that sets the angle may leave the cut out over its length, mm."""
        for one in there:
            whose = piece if one.part == piece.part.name else self.pieces.get((one.part, ""))
            if whose is None or one.part != piece.part.name and one.part not in self.frames:
                yield 0.0  # that part is not in this walk, or nobody says where it stands
                continue
            if not self._true(piece, letter, one):
                continue
            try:
                face = surface(whose, one.name)
            except NoSurface:
                continue
            way = face.along if isinstance(face, Plane) else face.line.along
            if way == (about if whose is piece else self._upright(piece, letter, one)):
                continue  # turned so, it looks the same
            if isinstance(face, Axis) or not one.within_mm:
                yield 0.0
                continue
            carrier = one.name.rpartition(".")[0]
            if whose is piece:
                clocked = 3 - way - about if isinstance(face, Plane) else way
                long = _long(piece, face, carrier, clocked)
            else:
                long = max(_long(whose, Plane(way, 0.0, ""), carrier, i) for i in range(3))
            yield one.within_mm * size_mm / max(long, 1e-6)

    def _upright(self, piece: Piece, letter: str, one: _Set) -> int:
        """What of the other part stood upright in the tool post when its bore was set by a side."""
        for seat in self._bored_by(piece, letter, one):
            if not seat.within_mm:
                face = surface(self.pieces[one.part, ""], seat.name)
                return face.along if isinstance(face, Plane) else -1
        return -1

    def _true(self, piece: Piece, letter: str, one: _Set) -> bool:
        """Whether it is the datum, was finished with it, or set the bore that the datum runs in."""
        datum = piece.part.datums[letter]
        carrier, _, of = one.name.rpartition(".")
        if one.part == piece.part.name:
            if carrier == datum.of and (carrier, "") in _features(piece):
                return True
            if carrier == datum.of:
                return _same_face(of, datum.element)
            mine, its = (self.made.get((one.part, name)) for name in (carrier, datum.of))
            return mine is not None and its is not None and mine[0] == its[0]
        return bool(self._bored_by(piece, letter, one))

    def _bored_by(self, piece: Piece, letter: str, one: _Set) -> list[_Set]:
        """What the other part was set by when the bore was made that the datum runs in, that side
        among it; nothing where there is none such."""
        there = self.pieces.get((one.part, ""))
        if there is None or not {one.part, piece.part.name} <= set(self.frames):
            return []
        at = datum_place(piece.part, None, letter).placed(self.frames[piece.part.name])
        for (part, name), (_, sets) in self.made.items():
            if part != one.part or name not in there.features:
                continue
            if not any(o.name == one.name and o.within_mm for o in sets):
                continue
            try:
                bore = element(there.features[name], "axis").placed(self.frames[part])
            except (KeyError, ValueError):
                continue
            if bore.along == at.along and all(
                abs(bore.at[i] - at.at[i]) < 0.05 for i in range(3) if i != at.along
            ):
                return sets
        return []


def _features(piece: Piece) -> set[tuple[str, str]]:
    """Names of what was made on it, the features of its pieces among them."""
    names = {(name, "") for name in piece.features}
    blank = piece.part.blank
    for member in getattr(blank, "members", ()):
        names |= {(f"{member.name}/{one.name}", "") for one in member.features}
    return names


def _same_face(of: str, named: str) -> bool:
    letter, _, side = named.partition("-")
    return of in (named, {"low": "-", "high": "+"}.get(side, "") + letter)


def _set_by(part: str, setup: Record) -> Iterator[_Set]:
    """What a set-up clocks, rests on and grips."""
    for one in rows(setup, "align"):
        against = one.get("against") or {}
        if against and not against.get("size_mm"):
            yield _Set(str(against.get("part")), text(against, "surface"), number(one, "within_mm"))
        else:
            yield _Set(part, text(one, "surface"), number(one, "within_mm"))
    hold = setup.get("hold") or {}
    names = [hold.get("rests"), *(grip.get("surface") for grip in hold.get("grips") or ())]
    yield from (_Set(part, str(name), 0.0) for name in names if name)


def _long(piece: Piece, face: Surface, carrier: str, along: int) -> float:
    """How long a surface is in a direction, mm."""
    if isinstance(face, Cylinder) and face.line.along == along:
        return face.high - face.low
    if isinstance(face, Plane) and face.within is not None:
        return face.within[1][along] - face.within[0][along]
    if isinstance(face, Plane) and face.radius:
        return 2 * face.radius
    every = {body.name for body in piece.metal.bodies}
    found = [
        piece.metal.end(along, sign, name)
        for sign in (-1, 1)
        for name in every & {carrier} or every
    ]
    ends = [end for end in found if end is not None]
    return max(ends, default=0.0) - min(ends, default=0.0)
