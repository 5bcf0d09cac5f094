"""What a sheet says in signs and not in words: textures, welds, datums, how true surfaces lie.

Each once, by the surface it is of. Imported by choose, callouts, standing and layout; the proof counts
for itself.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from parts import features as f
from parts.blank import Stock
from parts.places import SAME_MM, Trueness, surface
from parts.value import Value
from planner.drawing.subjects import Subject


class Sign(Value, frozen=True):
    """One sign. of: the surface it is of, "carrier:element", or a weld's name; thing: what it tells:
    Ra in um, a weld, a datum's letter, a trueness."""

    what: Literal["texture", "weld", "datum", "true"]
    of: str
    mark: str
    thing: Any

    @property
    def round(self) -> bool:
        """Whether it is of an axis, or of what is round about it."""
        return self.of.endswith(":axis")


def signs(subject: Subject) -> tuple[Sign, ...]:
    """Every sign of a sheet."""
    return (*_textures(subject), *_welds(subject), *_true(subject), *_datums(subject))


def _textures(subject: Subject) -> Iterator[Sign]:
    for feature in subject.features:
        if feature.roughness_um:
            mark = f"{feature.name}|texture"
            yield Sign("texture", made_surface(feature), mark, feature.roughness_um)
    if subject.member is None:
        for ref, roughness in subject.part.textures.items():
            yield Sign("texture", ref, f"{ref}|texture", roughness)


def made_surface(feature: f.Feature) -> str:
    """The surface that a feature is made for."""
    if isinstance(feature, f.FacedShoulder):
        return f"{feature.name}:start"
    if isinstance(feature, f.MilledFlat):
        return f"{feature.name}:{feature.locations[0].element}"
    return f"{feature.name}:axis"


def _welds(subject: Subject) -> Iterator[Sign]:
    for weld in subject.welds:
        yield Sign("weld", weld.name, f"{weld.name}|weld", weld)


def trueness(subject: Subject) -> tuple[Trueness, ...]:
    """How true the surfaces of a sheet lie; a piece before welding has none of its own."""
    return subject.part.trueness if subject.member is None else ()


def _true(subject: Subject) -> Iterator[Sign]:
    for one in trueness(subject):
        yield Sign("true", one.of, f"{one.of}|{one.characteristic}", one)


def letters(subject: Subject) -> tuple[str, ...]:
    """The datums that the sheet shows: those that something is located or true to."""
    used = [at.datum for feature in subject.features for at in feature.locations]
    used += [letter for one in trueness(subject) for letter in one.datums]
    return tuple(letter for letter in subject.datums if letter in used)


def _datums(subject: Subject) -> Iterator[Sign]:
    for letter in letters(subject):
        of = subject.datum(letter)
        yield Sign("datum", of, f"{of}|datum {letter}", letter)


def sized_by(subject: Subject, ref: str) -> str:
    """The feature whose diameter stands for an axis: its own, or of a bar the closest one about it."""
    carrier, _ = surface(ref)
    thing, _ = subject.carriers[carrier]
    own = {feature.name for feature in subject.features}
    if carrier in own and not isinstance(thing, f.TappedHole):
        return carrier
    if carrier in own or not isinstance(thing, Stock):
        return carrier if carrier in own else ""
    place = subject.place(ref)
    about = []
    for feature in subject.features:
        size = getattr(feature, "diameter", None)
        if size is None or not isinstance(feature, f.TurnedDiameter | f.ReamedHole | f.Bore):
            continue
        other = subject.place(f"{feature.name}:axis")
        if other.along == place.along and all(
            abs(a - b) < SAME_MM
            for i, (a, b) in enumerate(zip(other.at, place.at, strict=True))
            if i != place.along
        ):
            about.append((size.upper_mm - size.lower_mm, feature.name))
    return min(about)[1] if about else "blank"
