"""A part: a blank (stock, or members joined by welds) and the features made on it.

Imported by every part file and by the planner; imports only the frame, the features and sections.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from parts.features import Feature, Stage, Weld
from parts.frame import Frame
from parts.standard.sections import Section


@dataclass(frozen=True)
class Stock:
    """A length of a stock section, lying along its own +x from x = 0 with its centre on the axis.

    A flat's width lies along y, its thickness along z. ``length_mm`` is the finished length; what
    the saw must add to it depends on how the piece is held and is the planner's to say.
    """

    section: Section
    length_mm: float
    material: str


@dataclass(frozen=True)
class Member:
    """A piece that is welded to others: its blank, what is made on it before that, its place."""

    name: str
    blank: Stock
    frame: Frame
    features: tuple[Feature, ...] = ()
    datums: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Joined:
    """A weldment: its members and the welds that join them. Welds do not commute with cuts."""

    members: tuple[Member, ...]
    welds: tuple[Weld, ...]


@dataclass(frozen=True)
class Part:
    """One part of the attachment, the only description of it.

    name: file-name form, lower case with hyphens; title: as it reads on a sheet.
    datums: letter -> what it is ("axis of the bore", "end at x = 0").
    axes: where x, y and z of the part's frame point and where they begin, for the sheets.
    colour: red, green, blue from 0 to 1, to tell parts apart on the screen.
    """

    name: str
    title: str
    blank: Stock | Joined
    features: tuple[Feature, ...]
    datums: Mapping[str, str]
    colour: tuple[float, float, float]
    axes: str = "x along the axis from the datum end"
    quantity: int = 1
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        names = [feature.name for _, feature in every_feature(self)]
        doubled = sorted({name for name in names if names.count(name) > 1})
        if doubled:
            raise ValueError(f"{self.name}: feature names used twice: {', '.join(doubled)}")
        for owner, feature in every_feature(self):
            _check_stage(self, owner, feature)
            datums = owner.datums if owner else self.datums
            if feature.datum not in datums:
                raise ValueError(
                    f"{self.name}: feature '{feature.name}' is measured from datum"
                    f" {feature.datum!r}; the datums are {', '.join(datums) or 'none'}"
                )


@dataclass(frozen=True)
class Bought:
    """A standard item bought in: what it is, its designation, how many, and where it sits.

    kind: "socket screw", "set screw", "thin nut" or "washer"; thread: its thread designation.
    length_mm: a screw's length, 0 for nuts and washers.
    """

    kind: str
    thread: str
    standard: str
    use: str
    quantity: int = 1
    length_mm: float = 0.0


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


def _check_stage(part: Part, owner: Member | None, feature: Feature) -> None:
    if isinstance(feature, Weld):
        return
    welded = isinstance(part.blank, Joined)
    if welded and owner is None and feature.stage is Stage.BLANK:
        raise ValueError(f"{part.name}: '{feature.name}' is made on the weldment; say which stage")
    if (owner is not None or not welded) and feature.stage is Stage.WELDED:
        raise ValueError(f"{part.name}: '{feature.name}' cannot be made after welding: no weld yet")
