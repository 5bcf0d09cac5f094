"""What a sheet is of: a part of one piece, a piece as it is before welding, or a weldment.

Gives each the same face: its carriers by name, what is made on it there, its datums and agreements, and
the faces of its solid, all in its own frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property

from msgspec.structs import replace

from parts.attachment import Attachment
from parts.blank import Joined, Member, Stock
from parts.features import Feature, Location, Weld
from parts.frame import Frame
from parts.part import Part
from parts.places import Agreement, Datum, Place, element, surface
from parts.value import Value


class Subject(Value, frozen=True, eq=False):
    """One sheet's subject. member: the piece, None for a part of one piece or a weldment."""

    part: Part
    member: Member | None = None

    @property
    def name(self) -> str:
        """In file-name form."""
        if self.member is None:
            return self.part.name
        return f"{self.part.name}-{self.member.name}".replace(" ", "-")

    @property
    def title(self) -> str:
        """As it reads on the sheet."""
        if self.member is None:
            return self.part.title
        return f"{self.part.title}: {self.member.name}"

    @property
    def joined(self) -> Joined | None:
        """The pieces and welds of a weldment."""
        blank = self.part.blank
        return blank if self.member is None and isinstance(blank, Joined) else None

    @property
    def stock(self) -> Stock | None:
        """The one blank, None for a weldment."""
        if self.member is not None:
            return self.member.blank
        return self.part.blank if isinstance(self.part.blank, Stock) else None

    @property
    def features(self) -> tuple[Feature, ...]:
        """What is made on it at this sheet, in order."""
        return self.member.features if self.member is not None else self.part.features

    @property
    def welds(self) -> tuple[Weld, ...]:
        """The welds of a weldment."""
        return self.joined.welds if self.joined else ()

    @property
    def datums(self) -> Mapping[str, Datum]:
        """Letter to datum."""
        return self.member.datums if self.member is not None else self.part.datums

    @cached_property
    def carriers(self) -> dict[str, tuple[object, Frame]]:
        """What surfaces are of, by name, and the frame it lies in; the last made comes last."""
        found: dict[str, tuple[object, Frame]] = {}
        if self.joined:
            for member in self.joined.members:
                found[member.name] = (member, Frame())
                for feature in member.features:
                    found[f"{member.name}/{feature.name}"] = (feature, member.frame)
        else:
            assert self.stock is not None
            found["blank"] = (self.stock, Frame())
        for feature in self.features:
            found[feature.name] = (feature, Frame())
        return found

    @cached_property
    def agreements(self) -> tuple[Agreement, ...]:
        """Those whose two surfaces are both of this sheet, by its own names."""
        if self.member is None:
            return self.part.agreements
        return tuple(self._own_agreements(self.member))

    def _own_agreements(self, member: Member) -> Iterator[Agreement]:
        for one in self.part.agreements:
            refs = [_inside(ref, member.name) for ref in (one.one, one.other)]
            if refs[0] and refs[1]:
                yield replace(one, one=refs[0], other=refs[1])

    def place(self, ref: str) -> Place:
        """Where a surface lies, by its name "carrier:element". Raises KeyError where there is none."""
        carrier, name = surface(ref)
        thing, frame = self.carriers[carrier]
        return element(thing, name).placed(frame) if frame != Frame() else element(thing, name)

    def datum(self, letter: str) -> str:
        """The surface that a datum's letter stands for."""
        datum = self.datums[letter]
        return self.local(datum.of, datum.element)

    def local(self, carrier: str, name: str) -> str:
        """A surface in the sheet's own names."""
        return f"{carrier}:{name}"

    def located(self, feature: Feature) -> Iterator[tuple[Location, str, str]]:
        """Each location of a feature with its datum's surface and its own."""
        for location in feature.locations:
            yield location, self.datum(location.datum), f"{feature.name}:{location.element}"


def _inside(ref: str, member: str) -> str:
    """A surface of the weldment by its name on the piece's own sheet, "" for another's."""
    carrier, name = surface(ref)
    if carrier == member:
        return f"blank:{name}"
    inside, _, feature = carrier.rpartition("/")
    return f"{feature}:{name}" if inside == member else ""


def subjects(attachment: Attachment) -> tuple[Subject, ...]:
    """Every sheet's subject: of a weldment first its pieces, in the order of the attachment.

    A piece that is used as it is bought needs none.
    """
    found: list[Subject] = []
    for part in attachment.parts:
        if isinstance(part.blank, Joined):
            found += [Subject(part, member) for member in part.blank.members if member.features]
        found.append(Subject(part))
    return tuple(found)
