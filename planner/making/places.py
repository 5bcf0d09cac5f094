"""Where a feature lies, in shop words: how far from which datum, what it is in line with.

Read from the locations, datums and agreements of the part; nothing is worked out from its frame.
Imported by making.route.
"""

from __future__ import annotations

from collections.abc import Container, Iterator

from msgspec.structs import replace

from parts import features as f
from parts.features import Feature, Location
from parts.part import Agreement, Joined, Member, Part
from parts.places import surface
from planner.making.holding import is_axial
from planner.words.numbers import Numbers


class Places:
    """The places of one part's features.

    begun: names of the features begun so far; what a place is given from and is still to come is said
    to be so, with its own place. dials: whether it is set by dials, which read decimals and no
    fractions.
    """

    def __init__(
        self, part: Part, numbers: Numbers, begun: Container[str], dials: bool = False
    ) -> None:
        self.part, self.numbers, self.begun, self.dials = part, numbers, begun, dials

    def of(self, feature: Feature, member: Member | None) -> str:
        """Where a feature lies: "21.5 +x from J, in line with the journal"; "" where nothing says.

        member: the piece it is made on before welding, None for the whole part.
        """
        owner = member if isinstance(self.part.blank, Joined) else None
        said = list(self._own(feature, owner))
        words = [", ".join(said)]
        for carrier in self._to_come(feature, owner, {feature.name}):
            once = [one for one in self._own(carrier, owner) if one not in said]
            place = ", ".join(once)
            words.append(f"the {carrier.name} is still to come" + (f", {place}" if place else ""))
        return "; ".join(words)

    def _own(self, feature: Feature, owner: Member | None) -> Iterator[str]:
        for location in feature.locations:
            said = self.numbers.worked_limits if self.dials else self.numbers.lined
            size = said(location.size)
            which = _element_word(feature, location)
            yield f"{which}{size} {location.along} from {location.datum}"
            if (long := _short_of_the_end(feature, location, owner)) is not None:
                yield f"{said(replace(location.size, nominal_mm=long))} long"
        for agreement in self._agreements(feature, owner):
            yield _agreement_words(agreement)

    def _agreements(self, feature: Feature, owner: Member | None) -> list[Agreement]:
        """What the feature is made to agree with: on a piece before welding, what is on that piece.

        What is made about its bar's own axis on the bar is set true by the lathe, and not said.
        """
        alone = not isinstance(self.part.blank, Joined)
        if alone and is_axial(feature) and feature.stage is f.Stage.BLANK:
            return []
        own = f"{owner.name}/{feature.name}" if owner else feature.name
        return [
            one
            for one in self.part.agreements
            if surface(one.one)[0] == own
            and (owner is None or surface(one.other)[0].split("/")[0] == owner.name)
        ]

    def _to_come(self, feature: Feature, owner: Member | None, seen: set[str]) -> Iterator[Feature]:
        """Features that the place is given from and that are not made yet, each once."""
        datums = owner.datums if owner else self.part.datums
        carriers = [datums[location.datum].of for location in feature.locations]
        carriers += [surface(one.other)[0] for one in self._agreements(feature, owner)]
        for name in carriers:
            carrier = self._feature(name, owner)
            if carrier is None or carrier.name in seen or carrier.name in self.begun:
                continue
            seen.add(carrier.name)
            yield carrier
            yield from self._to_come(carrier, owner, seen)

    def _feature(self, carrier: str, owner: Member | None) -> Feature | None:
        """The feature that a carrier is, made where ``owner`` is; None for stock.

        A feature of a piece is there before the whole is, so it never is to come on the whole.
        """
        if owner is not None:
            name = carrier.rpartition("/")[2]
            return next((one for one in owner.features if one.name == name), None)
        blank = self.part.blank
        if isinstance(blank, Joined) and carrier in (member.name for member in blank.members):
            return None
        return next((one for one in self.part.features if one.name == carrier), None)


def _short_of_the_end(feature: Feature, location: Location, owner: Member | None) -> float | None:
    """How long a flat is along its piece that has an edge there and stops short of the end, mm."""
    edge = location.element.startswith("x-") and location is not feature.locations[0]
    if owner is None or not edge or not isinstance(feature, f.MilledFlat):
        return None
    low, high = feature.box.low[0], feature.box.high[0]
    return high - low if low > 0.0 and high < owner.blank.length_mm else None


def _element_word(feature: Feature, location: Location) -> str:
    """Which part of the feature a location is of; of a hole its axis, of a flat its face: no word."""
    _, _, side = location.element.partition("-")
    if not side:
        return "" if location.element in ("axis", "tip") else f"{location.element} "
    if side == "middle":
        return "middle "
    if isinstance(feature, f.Slit | f.MilledSlot):
        return "bottom "
    if isinstance(feature, f.MilledFlat) and location is feature.locations[0]:
        return ""
    return "edge "


def _agreement_words(agreement: Agreement) -> str:
    """What a feature agrees with, as one says it at the bench."""
    carrier, element = surface(agreement.other)
    name = carrier.rpartition("/")[2]
    if agreement.kind == "coaxial":
        return f"on the axis of the {name}"
    if agreement.kind == "touching":
        return f"against the {name}"
    if agreement.kind == "flush":
        return f"flush with the {name}"
    return f"in line with the {name}" if element == "axis" else f"in the middle of the {name}"
