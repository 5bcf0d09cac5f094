"""Where surfaces lie and what is measured from what: datums, locations and agreements, as data.

A surface is named by what carries it and which of its elements it is: ``"journal:axis"``,
``"blank:x-low"``, ``"tube/shank seat:z-low"``. An element is an axis, a plane square to one of the
three directions, or a point; where it lies follows from the feature or the stock, so a datum never
says it twice. Imports features and frames only; imported by what makes and checks parts.

Elements: of stock ``axis`` and the six faces ``x-low`` ... ``z-high`` of its box; of what is turned
``axis``, ``start``, ``end``; of a hole ``axis``, ``entry``, ``bottom``; of a milled or sawn box its
faces; of a ground point ``tip``; ``x-middle`` ... halfway between two faces.
"""

from __future__ import annotations

from functools import singledispatch
from typing import Any, Literal

from parts.frame import Box, Direction, Frame, Point
from parts.value import Value

SAME_MM = 1e-6
"""What is meant to be one place is one within this."""


class Place(Value, frozen=True):
    """Where an element lies, in the frame it was asked for in.

    kind: "plane", "axis" or "point"; along: 0, 1 or 2 for x, y or z, the direction a plane is square
    to or an axis runs in (0 for a point); at: a point on it, mm.
    """

    kind: Literal["plane", "axis", "point"]
    along: int
    at: Point

    def fixes(self, direction: int) -> bool:
        """Whether it has a coordinate in a direction: a plane only its own, an axis the other two."""
        return {"plane": direction == self.along, "axis": direction != self.along}.get(
            self.kind, True
        )

    def placed(self, frame: Frame) -> Place:
        """The same in the frame's parent."""
        return Place(self.kind, frame.turned(self.along), frame.place(self.at))


class Datum(Value, frozen=True):
    """What something is measured from: a surface by its carrier and element, and words for the sheet.

    of: "blank", a member's name, a feature's, or "member/feature"; element: as in this module.
    """

    of: str
    element: str
    words: str

    def __str__(self) -> str:
        return self.words


Characteristic = Literal["flatness", "parallelism", "perpendicularity", "run-out"]


class Trueness(Value, frozen=True):
    """How true a surface lies to datums: a geometrical tolerance of ISO 1101, and why.

    of: ``"carrier:element"``; value_mm: the width of the zone, above 0; datums: letters, in order.
    """

    characteristic: Characteristic
    of: str
    value_mm: float
    datums: tuple[str, ...]
    reason: str


class Agreement(Value, frozen=True):
    """Two surfaces that agree by design, and why; the sheet then gives no size between them.

    kind: "touching" (face to face), "flush" (one plane), "coaxial" (one axis) or "symmetric" (an
    axis or middle plane in line with the other). one, other: ``"carrier:element"``.
    """

    kind: Literal["touching", "flush", "coaxial", "symmetric"]
    one: str
    other: str
    reason: str

    def holds(self, one: Place, other: Place) -> bool:
        """Whether two places agree in this way, within SAME_MM."""
        wanted = {"touching": "plane", "flush": "plane", "coaxial": "axis"}.get(self.kind)
        if wanted and not one.kind == other.kind == wanted:
            return False
        if wanted == "axis" and one.along != other.along:
            return False
        common = [i for i in range(3) if one.fixes(i) and other.fixes(i)]
        if self.kind == "symmetric" and one.kind == other.kind == "axis":
            common = common[:1] if one.along != other.along else self._in_line(one, other, common)
        return bool(common) and all(abs(one.at[i] - other.at[i]) < SAME_MM for i in common)

    @staticmethod
    def _in_line(one: Place, other: Place, common: list[int]) -> list[int]:
        """Of two parallel axes the one direction in which they stand in line."""
        return sorted(common, key=lambda i: abs(one.at[i] - other.at[i]))[:1]


def plane(along: int, at: Point) -> Place:
    """A plane square to a direction, through a point."""
    return Place("plane", along, at)


@singledispatch
def element(carrier: Any, name: str) -> Place:
    """Where an element of a feature or of stock lies, in the carrier's own frame.

    Raises KeyError for an element the carrier does not have; other types register their rule.
    """
    raise KeyError(f"{type(carrier).__name__} has no element '{name}'")


@element.register
def _(carrier: Box, name: str) -> Place:
    letter, _, side = name.partition("-")
    if len(letter) != 1 or letter not in "xyz" or side not in ("low", "middle", "high"):
        raise KeyError(f"a box has no element '{name}'")
    low, high = carrier.low, carrier.high
    at = {"low": low, "high": high}.get(side) or middle(low, high)
    return plane("xyz".index(letter), at)


def middle(low: Point, high: Point) -> Point:
    """The point halfway between two."""
    return ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2)


def surface(ref: str) -> tuple[str, str]:
    """The carrier and the element of a surface's name."""
    carrier, _, name = ref.rpartition(":")
    return carrier, name


def along_index(direction: Direction) -> int:
    """The axis of a direction word: 0, 1 or 2."""
    return "xyz".index(direction[1])
