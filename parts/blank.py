"""What a part is made from: a length of stock, or members joined by welds; and where they lie.

Imported by parts.part, which shows these names to everyone else.
"""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import field

from parts.features import Feature, Weld
from parts.frame import Box, Frame
from parts.places import Datum, Place, element
from parts.standard.sections import Section
from parts.value import Value


class Stock(Value, frozen=True):
    """A length of a stock section, lying along its own +x from x = 0 with its centre on the axis.

    A flat's width lies along y, its thickness along z. ``length_mm`` is the finished length; what
    the saw must add to it depends on how the piece is held and is the planner's to say.
    """

    section: Section
    length_mm: float
    material: str

    @property
    def round(self) -> bool:
        """Whether it is a bar or tube that turns about its own axis."""
        return self.section.shape in ("round", "tube")

    @property
    def box(self) -> Box:
        """The upright box round it, in its own frame."""
        half_y, half_z = self.section.width_mm / 2, self.section.height_mm / 2
        return Box((0.0, -half_y, -half_z), (self.length_mm, half_y, half_z))


class Member(Value, frozen=True):
    """A piece that is welded to others: its blank, what is made on it before that, its place."""

    name: str
    blank: Stock
    frame: Frame
    features: tuple[Feature, ...] = ()
    datums: Mapping[str, Datum] = field(default_factory=dict)


class Joined(Value, frozen=True):
    """A weldment: its members and the welds that join them. Welds do not commute with cuts."""

    members: tuple[Member, ...]
    welds: tuple[Weld, ...]


@element.register
def _(carrier: Stock, name: str) -> Place:
    if name == "axis":
        return Place("axis", 0, (0.0, 0.0, 0.0))
    return element(carrier.box, name)


@element.register
def _(carrier: Member, name: str) -> Place:
    return (
        element(carrier.blank, name).placed(carrier.frame)
        if name == "axis"
        else element(carrier.blank.box.placed(carrier.frame), name)
    )
