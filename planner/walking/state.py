"""The state of each piece as the route goes on: its metal, centres, threads, what is made of it.

Imported by the checks of this room.
"""

from __future__ import annotations

from functools import cached_property

from msgspec import Struct, field

from parts import features as f
from parts.part import Joined, Member, Part, members
from parts.value import Value
from planner.walking.finished import Takes, kept_of_member, kept_of_part, takes
from planner.walking.metal import Body, Metal
from planner.walking.shape import Line

Key = tuple[str, str]


class Mark(Value, frozen=True):
    """Something on a surface that metal alone does not tell.

    kind: "centre", "spot", "thread", "knurl", "engraved" or "fine" (finished within 0.05 mm); line:
    about which; low, high: between which coordinates of it; radius: at which; sign: of a centre the way
    out of the metal.
    """

    kind: str
    line: Line
    low: float
    high: float
    radius: float
    inside: bool = False
    sign: int = 0


class Piece(Struct, dict=True):
    """A piece, or the whole of a part, in its own frame.

    fined: in which set-up each fine outside diameter was finished; turned_rpm: how fast it was turned
    last, 0 before; fluxed: whether a weld's flux is on it; drops: whether its weld may have thrown any;
    slagged: whether its slag is on it.
    """

    part: Part
    member: Member | None
    metal: Metal
    kept: Metal
    marks: list[Mark] = field(default_factory=list)
    begun: dict[str, list[str]] = field(default_factory=dict)
    made: dict[str, int] = field(default_factory=dict)
    faced: set[tuple[int, int]] = field(default_factory=set)
    fined: dict[str, object] = field(default_factory=dict)
    kinds: list[str] = field(default_factory=list)
    turned_rpm: float = 0.0
    fluxed: bool = False
    drops: bool = True
    slagged: bool = False

    @cached_property
    def features(self) -> dict[str, f.Feature]:
        """What is made on it in this state: on a piece to be welded, the piece's own."""
        if self.member is not None:
            return {one.name: one for one in self.member.features}
        found: dict[str, f.Feature] = {one.name: one for one in self.part.features}
        if isinstance(self.part.blank, Joined):
            found |= {weld.name: weld for weld in self.part.blank.welds}
        return found

    def takes(self, name: str) -> Takes:
        """What a feature takes off."""
        return takes(self.features[name])

    def marks_of(self, kind: str) -> list[Mark]:
        """The marks of a kind that are still there."""
        return [mark for mark in self.marks if mark.kind == kind]


def is_piece(part: Part, name: str) -> bool:
    """Whether a name is that of a piece of a weldment."""
    return isinstance(part.blank, Joined) and any(m.name == name for m in part.blank.members)


def sawn(part: Part, name: str, low: float, high: float) -> Piece:
    """A piece as sawn between two coordinates along its stock."""
    from planner.walking.finished import stock_region

    member = next(m for m in members(part) if not isinstance(part.blank, Joined) or m.name == name)
    metal = Metal([Body(member.name, stock_region(member.blank, low, high))])
    if isinstance(part.blank, Joined):
        return Piece(part, member, metal, kept_of_member(member))
    return Piece(part, None, metal, kept_of_part(part))


def joined(part: Part, pieces: dict[str, Piece]) -> Piece:
    """The weldment of pieces that lie in their places; all of them must be there."""
    assert isinstance(part.blank, Joined)
    bodies, marks = [], []
    whole = Piece(part, None, Metal([]), kept_of_part(part))
    for member in part.blank.members:
        piece = pieces[member.name]
        bodies += [body.placed(member.frame) for body in piece.metal.bodies]
        marks += [_placed(mark, member) for mark in piece.marks]
        whole.kinds += piece.kinds
    whole.metal, whole.marks = Metal(bodies), marks
    return whole


def _placed(mark: Mark, member: Member) -> Mark:
    ends = [member.frame.place(mark.line.point(at)) for at in (mark.low, mark.high)]
    along = member.frame.turned(mark.line.along)
    facing = member.frame.directions()[mark.line.along][along]
    turned = 1 if facing > 0 else -1
    line = Line(along, mark.line.sign * turned, member.frame.place(mark.line.through))
    low, high = sorted(end[along] for end in ends)
    return Mark(mark.kind, line, low, high, mark.radius, mark.inside, mark.sign * turned)
