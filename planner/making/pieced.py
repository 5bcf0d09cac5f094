"""Where the pieces of a weldment lie to each other before they are tacked, as a sheet says places.

Imported by making.welding.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from parts import features as f
from parts.part import Joined, Member, Part, members
from parts.places import SAME_MM, Agreement, surface
from planner.making import bodies as b
from planner.words.numbers import Numbers


def pieced(part: Part, numbers: Numbers) -> list[str]:
    """How each piece lies to one before it, in each of the three directions: what touches, is in line
    or flush, else a size in the part's own axes."""
    assert isinstance(part.blank, Joined)
    bodies = b.bodies_of(part, None)
    said: list[str] = []
    for at, own in enumerate(bodies[1:], 1):
        before = bodies[:at]
        by_design = {i: words for i, words in _by_design(part, own, before)}
        said += dict.fromkeys(by_design.values())
        said += [_size(own, before, i, numbers) for i in range(3) if i not in by_design]
    return said


def _by_design(part: Part, own: b.Body, before: Sequence[b.Body]) -> Iterator[tuple[int, str]]:
    """The directions in which a piece agrees with one before it, each with how."""
    others = {one.name: one for one in before}
    for one in part.agreements:
        carriers = [_member(side) for side in (one.one, one.other)]
        for name, other in (carriers, carriers[::-1]):
            if name == own.name and other in others:
                hole = _in_a_hole(part, one)
                for i in _directions(part, one):
                    yield i, hole or _agrees(one, own, others[other], i)


def _agrees(one: Agreement, own: b.Body, other: b.Body, i: int) -> str:
    """How a piece lies to one before it, at which of its ends or sides."""
    axis = "xyz"[i]
    if one.kind == "touching":
        side = "+" if own.low(i) + own.high(i) > other.low(i) + other.high(i) else "-"
        return f"the {own.name} against the {side}{axis} side of the {other.name}"
    level = [s for s in (-1, 1) if abs(own.end(i, s) - other.end(i, s)) < SAME_MM]
    if one.kind == "flush" and len(level) == 1:
        end = f"{'+' if level[0] > 0 else '-'}{axis} end"
        return f"the {end} of the {own.name} flush with that of the {other.name}"
    return f"the {own.name} {_HOW[one.kind]} the {other.name}"


def _in_a_hole(part: Part, one: Agreement) -> str:
    """What a piece that goes into a hole of another is told, how deep it goes in among it; "" for any
    other agreement."""
    if one.kind not in ("coaxial", "touching"):
        return ""
    holders = {m.name: m for m in members(part)}
    for side, other in ((one.one, one.other), (one.other, one.one)):
        holder, _, name = surface(side)[0].partition("/")
        home = surface(side)[1] == "bottom"
        if home != (one.kind == "touching"):
            continue
        holes = [o.name for o in holders[holder].features if isinstance(o, f.Hole)]
        if name in holes and home:
            return f"the {_member(other)} home on the bottom of the {name}"
        if name in holes:
            return f"the {_member(other)} in the {name} of the {holder}"
    return ""


_HOW = {
    "flush": "flush with",
    "coaxial": "in line with",
    "symmetric": "in line with",
}


def _member(side: str) -> str:
    """The piece that a surface is of."""
    return surface(side)[0].partition("/")[0]


def _directions(part: Part, one: Agreement) -> list[int]:
    places = [part.place(*surface(side)) for side in (one.one, one.other)]
    return [i for i in range(3) if all(place.fixes(i) for place in places)]


def _size(own: b.Body, before: Sequence[b.Body], i: int, numbers: Numbers) -> str:
    """From the axis of a round piece before it, else between the ends that lie closest."""
    round_one = next((o for o in before if o.axis is not None and o.axis != i), None)
    if round_one is not None:
        middle = (round_one.box.low[i] + round_one.box.high[i]) / 2
        sign = min((-1, 1), key=lambda s: abs(own.end(i, s) - middle))
        return _apart(own, i, sign, middle, f"the axis of the {round_one.name}", numbers)
    other, sign = min(
        ((o, s) for o in before for s in (-1, 1)), key=lambda one: abs(
            own.end(i, one[1]) - one[0].end(i, one[1])
        )
    )  # fmt: skip
    return _apart(own, i, sign, other.end(i, sign), f"that of the {other.name}", numbers)


def _apart(own: b.Body, i: int, sign: int, at: float, of: str, numbers: Numbers) -> str:
    end = f"the {'+' if sign > 0 else '-'}{'xyz'[i]} end of the {own.name}"
    off = own.end(i, sign) - at
    if abs(off) < SAME_MM:
        return f"{end} flush with {of}"
    return f"{end} {numbers.laid(abs(off))} {'+' if off > 0 else '-'}{'xyz'[i]} from {of}"


def own_axes(member: Member, part: Part) -> str:
    """Where the axes point that a piece's own steps are told in, once it lies in its part."""
    ways = (
        f"{'+' if sum(way) > 0.0 else '-'}{'xyz'[member.frame.turned(own)]}"
        for own, way in enumerate(member.frame.directions())
    )
    return f"its own x, y, z are the {part.title.lower()}'s {', '.join(ways)}"
