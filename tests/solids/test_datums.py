"""Datums, locations and agreements found on the solids, each within a micrometre.

Where a part says a surface lies, the kernel must have a face there: the check walks faces of the solid,
and shares nothing with the closed form that places them but the numbers it is held against.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from parts.attachment import Attachment
from parts.features import EngravedScale, Feature, GroundPoint, IndexMark, ScribedLine
from parts.frame import Frame, vector
from parts.part import Agreement, Joined, Member, Part, Stock, datum_place, every_feature, members
from parts.places import Place, element, surface
from planner.output.plan import Plan
from planner.solids import kernel, location, solid
from planner.solids.build import _cut, _stock

MICROMETRE = 1e-3
NOT_MODELLED = (EngravedScale, IndexMark, ScribedLine)
"""Left off the solid that is measured; their places are held by their own tests."""


@cache
def _raw(stock: Any) -> Any:
    return _stock(stock)


def faces(shape: Any) -> list[tuple[str, int, tuple[float, float, float]]]:
    """Every plane and cylinder of a shape that is square to the axes: kind, axis, a point on it."""
    from OCP.BRepAdaptor import BRepAdaptor_Surface

    found = []
    for face in shape.Faces():
        kind = face.geomType()
        if kind == "PLANE":
            n = face.normalAt().toTuple()
            along = max(range(3), key=lambda i: abs(n[i]))
            if abs(abs(n[along]) - 1) < 1e-9:
                found.append(("plane", along, face.Center().toTuple()))
        elif kind == "CYLINDER":
            cylinder = BRepAdaptor_Surface(face.wrapped).Cylinder()
            d, p = cylinder.Axis().Direction(), cylinder.Axis().Location()
            n = (d.X(), d.Y(), d.Z())
            along = max(range(3), key=lambda i: abs(n[i]))
            if abs(abs(n[along]) - 1) < 1e-9:
                found.append(("axis", along, (p.X(), p.Y(), p.Z())))
    return found


def holds(found: list[tuple[str, int, tuple[float, float, float]]], place: Place) -> bool:
    """Whether a face lies where a place says, within a micrometre."""
    for kind, along, at in found:
        if kind != place.kind or along != place.along:
            continue
        fixed = [along] if kind == "plane" else [i for i in range(3) if i != along]
        if all(abs(at[i] - place.at[i]) <= MICROMETRE for i in fixed):
            return True
    return False


class Shapes:
    """The faces a surface of a part may be found on: of blanks, of finished members, of the whole.

    A face that is made and later cut away (a sawn back that is dressed) is there on the piece as it was
    when the surface was made: so blanks and members count as well as the finished part.
    """

    def __init__(self, part: Part) -> None:
        self.part = part
        self.whole = faces(solid(part, engraved=False))
        self.members: dict[str, Any] = {}
        for member in members(part):
            raw = faces(_raw(member.blank))
            made = faces(_cut(_stock(member.blank), member.features))
            self.members[member.name] = raw + made

    def own(self, member: Member | None) -> list[Any]:
        """In the member's own frame, or the part's."""
        if member is not None:
            return list(self.members[member.name])
        placed = list(self.whole)
        if isinstance(self.part.blank, Joined):
            for one in members(self.part):
                body = _cut(_stock(one.blank), one.features).moved(location(one.frame))
                placed += faces(body) + faces(_raw(one.blank).moved(location(one.frame)))
        else:
            placed += self.members[self.part.name]
        return placed


@cache
def shapes(key: int) -> Shapes:
    return Shapes(_PARTS[key])


_PARTS: dict[int, Part] = {}


def shapes_of(part: Part) -> Shapes:
    _PARTS[id(part)] = part
    return shapes(id(part))


def middle_faces(place: Place, found: list[Any], carrier_box: Any, name: str) -> bool:
    """A middle plane: faces at both sides of it, equally far."""
    letter = name[0]
    i = "xyz".index(letter)
    sides = [Place("plane", i, end) for end in (carrier_box.low, carrier_box.high)]
    return all(holds(found, side) for side in sides)


def every_surface(part: Part) -> Iterator[tuple[str, Member | None, str, str, Place]]:
    """Every surface a datum, a location or an agreement of a part names, and its place."""
    for owner, letters in [(None, part.datums), *[(m, m.datums) for m in members(part)]]:
        if owner is not None and not isinstance(part.blank, Joined):
            continue
        for letter, datum in letters.items():
            yield (
                f"datum {letter}",
                owner,
                datum.of,
                datum.element,
                datum_place(part, owner, letter),
            )
    for owner, feature in every_feature(part):
        for one in feature.locations:
            where = f"{feature.name} from {one.datum}"
            yield where, owner, feature.name, one.element, element(feature, one.element)
    for agreement in part.agreements:
        for ref in (agreement.one, agreement.other):
            yield f"{agreement.kind} {ref}", None, *surface(ref), part.place(*surface(ref))


def carrier(part: Part, owner: Member | None, name: str) -> Any:
    """The feature, member or stock that carries a surface."""
    if "/" in name:
        inside, _, name = name.rpartition("/")
        owner = next(m for m in members(part) if m.name == inside)
    if name == "blank":
        return owner.blank if owner else part.blank
    for _, feature in every_feature(part):
        if feature.name == name:
            return feature
    return next(m for m in members(part) if m.name == name)


def test_every_datum_location_and_agreement_is_a_face_of_the_solid(plan: Plan) -> None:
    looked = 0
    for part in plan.attachment.parts:
        made = shapes_of(part)
        for what, owner, of, name, place in every_surface(part):
            carried = carrier(part, owner, of)
            if isinstance(carried, NOT_MODELLED):
                continue
            found = made.own(owner)
            looked += 1
            if isinstance(carried, GroundPoint):
                tip = kernel().Vertex.makeVertex(*place.at)
                assert solid(part).distance(tip) <= MICROMETRE, f"{part.name}: {what}"
            elif name.endswith("middle"):
                box = carried.box if isinstance(carried, Feature) else _member_box(carried)
                inside = [
                    i for i in range(3) if name[0] == "xyz"[i]
                ]  # a slot's two sides, or a bar's
                assert inside and middle_faces(place, found, box, name), f"{part.name}: {what}"
            else:
                assert holds(found, place), f"{part.name}: {what}: no face at {place}"
    assert looked > 60


def _member_box(carried: Member | Stock) -> Any:
    if isinstance(carried, Member):
        return carried.blank.box.placed(carried.frame)
    return carried.box  # a part of one piece: its frame is the blank's


def test_a_place_a_tenth_of_a_millimetre_off_is_not_found(bench: Plan) -> None:
    # the check can fail: every plane and axis of the housing, moved
    part = bench.attachment.parts[0]
    made = shapes_of(part)
    missed = 0
    for _, owner, _, name, place in every_surface(part):
        if name.endswith("middle"):
            continue
        off = Place(
            place.kind, place.along, (place.at[0] + 0.1, place.at[1] + 0.1, place.at[2] + 0.1)
        )
        missed += not holds(made.own(owner), off)
    assert missed > 10


def placed_place(attachment: Attachment, ref: str) -> Place:
    """Where a surface of the whole is said to lie, tip on top and at radius zero."""
    path, name = surface(ref)
    part_name, _, inside = path.partition("/")
    placed = next(
        p for p in attachment.placed if isinstance(p.item, Part) and p.item.name == part_name
    )
    assert isinstance(placed.item, Part)
    return placed.item.place(inside, name).placed(placed.frame)


def agreeing(agreement: Agreement, attachment: Attachment) -> bool:
    one, other = (placed_place(attachment, ref) for ref in (agreement.one, agreement.other))
    return agreement.holds(one, other)


def test_surfaces_of_different_parts_agree_and_are_there(plan: Plan) -> None:
    attachment = plan.attachment
    assert len(attachment.agreements) >= 8
    for agreement in attachment.agreements:
        assert agreeing(agreement, attachment), f"{agreement.one} and {agreement.other}"
        for ref in (agreement.one, agreement.other):
            path, name = surface(ref)
            part_name, _, inside = path.partition("/")
            part = next(p for p in attachment.parts if p.name == part_name)
            made, place = shapes_of(part), part.place(inside, name)
            assert holds(made.own(None), place), ref


def test_every_hole_and_cut_is_located_or_in_line_on_each_axis_across_it(plan: Plan) -> None:
    """A machinist must find every hole: each axis across it has a location or an agreement."""
    from parts.features import Hole, MilledSlot, Slit
    from parts.places import along_index

    for part in plan.attachment.parts:
        for owner, feature in every_feature(part):
            if not isinstance(feature, Hole | Slit | MilledSlot):
                continue
            own = (owner.blank if owner else None) if isinstance(part.blank, Joined) else part.blank
            if isinstance(feature, Hole) and own is not None and _on_axis(feature):
                continue  # turned about the bar's own axis
            said = {along_index(one.along) for one in feature.locations}
            for agreement in part.agreements:
                for ref in (agreement.one, agreement.other):
                    of, name = surface(ref)
                    if of.rpartition("/")[2] != feature.name:
                        continue
                    place = element(feature, name)
                    if agreement.kind == "coaxial":
                        said |= {i for i in range(3) if i != place.along}
                    elif place.kind == "plane":
                        said.add(place.along)
                    else:
                        said |= {i for i in range(3) if i != place.along}
            if isinstance(feature, Hole):
                wanted = {i for i in range(3) if i != along_index(feature.axis.along)}
            else:
                edges = feature.box.size()
                wanted = {min(range(3), key=lambda i: edges[i])}
            assert wanted <= said, f"{part.name}: {feature.name} is not found along {wanted - said}"


def _on_axis(feature: Any) -> bool:
    x = feature.axis
    return x.along[1] == "x" and x.origin[1] == 0.0 and x.origin[2] == 0.0


def test_a_frame_turns_a_place_as_it_turns_points() -> None:
    frame = Frame((1.0, 2.0, 3.0), x="-y", z="+z")
    place = Place("axis", 0, (5.0, 6.0, 7.0)).placed(frame)
    assert place.at == frame.place((5.0, 6.0, 7.0))
    assert abs(vector("-y")[place.along]) == 1.0
