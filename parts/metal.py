"""The metal a feature is made in, as upright boxes and turned bars: closed form, no solid.

``Metal`` knows the pieces of a part in the frame its features are given in, what has been turned off
them and milled from them, so that parts.makeable can ask what is there. Imported by that module alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

from msgspec import Struct, field

from parts.blank import Joined, Member, Stock
from parts.features import Feature, Hole, MilledFlat, Removed, Turned, TurnedDiameter
from parts.frame import Box, Frame, Point, vector
from parts.places import SAME_MM, along_index

Span = tuple[float, float]


def span(axis_at: float, sign: float, start_mm: float, end_mm: float) -> Span:
    """The coordinates between two distances along a directed axis, the lower first."""
    one, two = axis_at + sign * start_mm, axis_at + sign * end_mm
    return (one, two) if one <= two else (two, one)


def stretch(feature: Turned | Hole) -> tuple[int, Span]:
    """The axis a turned feature or a hole lies along, and the coordinates between its ends."""
    along = along_index(feature.axis.along)
    ends = (feature.start_mm, feature.end_mm) if isinstance(feature, Turned) else None
    start, end = ends or (0.0, feature.depth_mm)  # type: ignore[union-attr]
    sign = vector(feature.axis.along)[along]
    return along, span(feature.axis.origin[along], sign, start, end)


class Piece(Struct, dict=True):
    """A piece of stock in the frame of the metal.

    low, high: corners of its box; along: the direction of its own axis; turned: stretches of it that
    were turned, each with its radius; radius_mm: of a round, 0 for any other.
    """

    name: str
    low: list[float]
    high: list[float]
    along: int
    radius_mm: float
    turned: list[tuple[Span, float]] = field(default_factory=list)

    @property
    def centre(self) -> tuple[float, float, float]:
        """The middle of its box."""
        a, b = self.low, self.high
        return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)

    def about(self, origin: Point, along: int) -> bool:
        """Whether an axis is its own."""
        centre = self.centre
        return along == self.along and all(
            abs(origin[i] - centre[i]) < SAME_MM for i in range(3) if i != along
        )

    def thinnest_mm(self, between: Span) -> float:
        """The least radius it has between two stations of its axis."""
        low, high = between
        there = [r for (a, b), r in self.turned if a < high - SAME_MM and b > low + SAME_MM]
        return min([self.radius_mm, *there])

    def extent(self, origin: Point, along: int, radius_mm: float) -> Span:
        """From where to where a hole along an axis is in its metal; across a bar, as it is turned."""
        if not self.radius_mm or along == self.along:
            return self.low[along], self.high[along]
        at, centre = origin[self.along], self.centre[along]
        radius = self.thinnest_mm((at - radius_mm, at + radius_mm))
        return centre - radius, centre + radius

    def meets(self, box: Box) -> bool:
        """Whether a box takes anything out of the piece's box."""
        return all(
            box.low[i] < self.high[i] - SAME_MM and box.high[i] > self.low[i] + SAME_MM
            for i in range(3)
        )

    def covered(self, box: Box) -> list[bool]:
        """For each direction, whether a box goes from side to side of the piece."""
        return [
            box.low[i] <= self.low[i] + SAME_MM and box.high[i] >= self.high[i] - SAME_MM
            for i in range(3)
        ]

    def surrounds(self, origin: Point, along: int, radius_mm: float) -> bool:
        """Whether a hole along an axis has the piece's metal all round it."""
        across = [i for i in range(3) if i != along]
        off = [abs(origin[i] - self.centre[i]) for i in across]
        if self.radius_mm == 0.0:
            room = [(self.high[i] - self.low[i]) / 2 for i in across]
            return all(o + radius_mm < r - SAME_MM for o, r in zip(off, room, strict=True))
        if along == self.along:
            return hypot(*off) + radius_mm < self.radius_mm - SAME_MM
        at = origin[self.along]
        around = (at - radius_mm, at + radius_mm)
        aside = off[across.index(3 - along - self.along)]
        inside = self.low[self.along] < around[0] and around[1] < self.high[self.along]
        return inside and aside + radius_mm < self.thinnest_mm(around) - SAME_MM


class Metal(Struct, dict=True):
    """The pieces of a part, and the features made in them, in one frame."""

    pieces: list[Piece]
    features: tuple[Feature, ...]

    def named(self, name: str) -> Feature | None:
        """The feature of a name."""
        return next((feature for feature in self.features if feature.name == name), None)

    def bar(self, feature: Turned) -> Piece | None:
        """The round piece that a turned feature lies about; None when it is about another's axis."""
        along = along_index(feature.axis.along)
        for piece in self.pieces:
            if piece.radius_mm and piece.about(feature.axis.origin, along):
                return piece
        return None

    def diameter_at(self, feature: Turned) -> TurnedDiameter | None:
        """The cylinder that was turned where a thread, knurl or scale is made."""
        along, (low, high) = stretch(feature)
        for other in self.features:
            if isinstance(other, TurnedDiameter) and other.axis.along[1] == feature.axis.along[1]:
                _, (start, end) = stretch(other)
                if start <= low + SAME_MM and high <= end + SAME_MM:
                    return other
        return None


def piece(name: str, stock: Stock, frame: Frame) -> Piece:
    """A length of stock where it lies."""
    box = stock.box.placed(frame)
    radius = stock.section.width_mm / 2 if stock.round else 0.0
    along = frame.turned(0)
    return Piece(name, list(box.low), list(box.high), along, radius)


def metal(name: str, blank: Stock | Joined, features: Sequence[Feature]) -> Metal:
    """The metal of a part in its own frame, turned and milled by its features."""
    if isinstance(blank, Joined):
        pieces = [_finished(member) for member in blank.members]
    else:
        pieces = [piece(name, blank, Frame())]
    made = Metal(pieces, tuple(features))
    _worked(made, features)
    return made


def _finished(member: Member) -> Piece:
    """A member as it comes to the weld: turned and milled, in the frame of the whole."""
    own = piece(member.name, member.blank, Frame())
    _worked(Metal([own], member.features), member.features)
    there = piece(member.name, member.blank, member.frame)
    if not there.radius_mm:
        box = Box((own.low[0], own.low[1], own.low[2]), (own.high[0], own.high[1], own.high[2]))
        placed = box.placed(member.frame)
        there.low, there.high = list(placed.low), list(placed.high)
    sign = vector(member.frame.x)[there.along]
    base = member.frame.origin[there.along]
    there.turned = [(span(base, sign, *between), r) for between, r in own.turned]
    return there


def _worked(made: Metal, features: Iterable[Feature]) -> None:
    """What features turn off and mill away, taken off the pieces."""
    for feature in features:
        if isinstance(feature, TurnedDiameter):
            bar = made.bar(feature)
            if bar is not None:
                bar.turned.append((stretch(feature)[1], feature.diameter.nominal_mm / 2))
        elif isinstance(feature, MilledFlat):
            _mill(made, feature)


def _mill(made: Metal, feature: Removed) -> None:
    """A flat right across a piece leaves it thinner; one that is not leaves its outline."""
    for one in made.pieces:
        covered = one.covered(feature.box)
        if one.radius_mm or sum(covered) != 2 or not one.meets(feature.box):
            continue
        i = covered.index(False)
        if feature.box.low[i] <= one.low[i] + SAME_MM:
            one.low[i] = feature.box.high[i]
        elif feature.box.high[i] >= one.high[i] - SAME_MM:
            one.high[i] = feature.box.low[i]
