"""Numbers of a sheet's notes beside what they speak of: small circles at call-outs, or on arrows.

A design of our own. Imported by layout.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from planner.drawing.callouts import Call, Note
from planner.drawing.choose import View
from planner.drawing.leaders import place_of
from planner.drawing.model import Item, Point
from planner.drawing.pointing import Pointing
from planner.drawing.room import Room
from planner.drawing.scheme import Scheme
from planner.drawing.standing import FLAG_APART_MM, FLAG_MM, Block, Views, flags_at, flags_mm


class Flag(NamedTuple):
    """The numbers of a feature's notes. view: the one that its call-out stands in, None without one."""

    of: str
    numbers: tuple[str, ...]
    view: View | None


def flagged(
    calls: Sequence[Call],
    notes: Sequence[Note],
    at_calls: bool = True,
    short: Collection[str] = (),
) -> tuple[list[Call], list[Flag]]:
    """The call-outs with the numbers of their feature's notes; and the numbers of each feature that has
    no call-out, or one with others alike. Unless at_calls those of all features but the short ones:
    beside the arrow of their call-out is room for no other."""
    numbers: dict[str, tuple[str, ...]] = {}
    for number, note in enumerate(notes, 1):
        if note.of:
            numbers[note.of] = (*numbers.get(note.of, ()), str(number))
    where = {name: call.view for call in calls for name in call.features}
    found = []
    for call in calls:
        alone = len(call.features) == 1 and (at_calls or call.features[0] in short)
        found.append(replace(call, flags=numbers.pop(call.features[0], ()) if alone else ()))
    return found, [Flag(name, some, where.get(name)) for name, some in numbers.items()]


def placed_flags(
    flags: Sequence[Flag], scheme: Scheme, views: Views, scale: float, room: Room
) -> Iterator[Item]:
    """The numbers of each feature on an arrow; what finds no place stays a note without one."""
    for one in flags:
        block = _block(one, scheme, views, scale)
        place = place_of(block, room)
        if place is not None:
            items = block.make(*place)
            room.take_leader(items, place[:2])
            yield from items


def _block(flag: Flag, scheme: Scheme, views: Views, scale: float) -> Block:
    def make(tip: Point, knee: Point, rightward: bool) -> list[Item]:
        near = (knee[0] - FLAG_MM if rightward else knee[0] + FLAG_MM, knee[1])
        first, *more = flags_at(flag.numbers, near, rightward)
        return [replace(first, tip=tip, end="arrow"), *more]

    wide = flags_mm(flag.numbers) - FLAG_APART_MM
    tips = _tips(flag, scheme, views, scale)
    return Block(flag.of, tips, wide, FLAG_MM, FLAG_MM, make, back=FLAG_MM)


def _tips(flag: Flag, scheme: Scheme, views: Views, scale: float) -> tuple[tuple[Point, ...], ...]:
    """Where a feature shows in its call-out's view, in any without one, then where it is hidden; of a
    weld, where it is dressed."""
    weld = next((one for one in scheme.subject.welds if one.name == flag.of), None)
    better: list[Point] = []
    worse: list[Point] = []
    for view, (outline, origin) in views.items():
        if flag.view not in (None, view):
            continue
        pointing = Pointing(outline)
        two = pointing.welded(weld) if weld else pointing.shown(flag.of)
        for places, into in zip(two, (better, worse), strict=True):
            into += [(origin[0] + scale * u, origin[1] + scale * v) for u, v in places]
    return tuple(tuple(places) for places in (better, worse) if places)
