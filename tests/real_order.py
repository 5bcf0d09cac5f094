"""Whether an attachment can be put together: every thing must come out of it, one after another.

The order is found by trying: a thing comes out when it can be drawn off along one of its own six
directions, away past everything that is still there, without metal meeting metal on the way. A thread
may be screwed out of its hole along its own axis. Where no single thing will come, all that moves
together is tried as one. What never comes out could never have been put in. Put together, it goes the
other way round.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from real_things import Points, Thing, apart, box_of, in_thread, posed, posed_points, shared

from parts.attachment import Attachment, Carrier
from planner.solids import kernel

STEP_MM, FIRST_MM = 2.5, (0.3, 1.2)
"""How far a thing is moved between looks. The first looks find what is held at once."""


@dataclass(frozen=True)
class Drawn:
    """What is drawn off in one go, and which way: a direction of the frame of the whole, tip on top."""

    names: tuple[str, ...]
    along: tuple[float, float, float]


@dataclass(frozen=True)
class Order:
    """Things in the order in which they come out, and those that stay; by what each is held."""

    drawn: tuple[Drawn, ...]
    stuck: tuple[tuple[str, tuple[str, ...]], ...]


def order(whole: Attachment, things: Sequence[Thing]) -> Order:
    """Take an attachment apart, the head half-way out and the tip on top."""
    radius = (whole.sizes.tip_radius_min_mm + whole.sizes.tip_radius_max_mm) / 2
    left = {thing.name: _Stood(thing, radius) for thing in things}
    drawn: list[Drawn] = []
    while left:
        # what is bought stands last in the attachment, and screws and nuts come off first
        singles = [(stood,) for stood in reversed(left.values())]
        came = False
        for group in singles:
            came |= _draw(group, left, drawn)
        if not came:
            came = any(_draw(group, left, drawn) for group in _together(left))
        if not came:
            break
    stuck = tuple((name, _holding(stood, left)) for name, stood in left.items())
    return Order(tuple(drawn), stuck)


class _Stood:
    """A thing where it stands, its solid and the box round it."""

    def __init__(self, thing: Thing, radius_mm: float) -> None:
        self.thing, self.radius_mm = thing, radius_mm
        self.shape = posed(thing, radius_mm, 90.0)
        self.box = box_of(self.shape)

    def at(self, ends: Points) -> Points:
        """Points of it at rest, where it stands."""
        return posed_points(ends, self.thing.carrier, self.radius_mm, 90.0)


def _together(left: dict[str, _Stood]) -> Iterator[tuple[_Stood, ...]]:
    for carrier in (Carrier.HEAD, Carrier.BODY):
        group = tuple(stood for stood in left.values() if stood.thing.carrier is carrier)
        if 1 < len(group) < len(left):
            yield group


def _ways(stood: _Stood) -> Iterator[Points]:
    """The six directions of a thing's own frame, its own axis first."""
    for way in stood.thing.placed.frame.directions():
        yield -np.array(way)
        yield np.array(way)


def _draw(group: tuple[_Stood, ...], left: dict[str, _Stood], drawn: list[Drawn]) -> bool:
    names = tuple(stood.thing.name for stood in group)
    if any(name not in left for name in names):
        return False
    others = [stood for name, stood in left.items() if name not in names]
    for way in _ways(group[0]):
        if all(_met(stood, way, others) is None for stood in group):
            for name in names:
                del left[name]
            drawn.append(Drawn(names, (float(way[0]), float(way[1]), float(way[2]))))
            return True
    return False


def _holding(stood: _Stood, left: dict[str, _Stood]) -> tuple[str, ...]:
    others = [other for other in left.values() if other is not stood]
    return tuple(sorted({met for way in _ways(stood) if (met := _met(stood, way, others))}))


def _met(stood: _Stood, way: Points, others: Sequence[_Stood]) -> str | None:
    """The first thing met on the way out; None when there is none."""
    low, high = stood.box
    far = 1.0
    for other in others:
        gap = np.where(way > 0, other.box[1] - low, high - other.box[0])
        far = max(far, float(gap @ np.abs(way)) + 1.0)
    swept = np.array((np.minimum(low, low + way * far), np.maximum(high, high + way * far)))
    near = [other for other in others if not apart(swept, other.box)]
    steps = [*FIRST_MM, *np.arange(STEP_MM, far + STEP_MM, STEP_MM)] if near else []
    for step in steps:
        shift = way * step
        moved = stood.box + shift
        here = [other for other in near if not apart(moved, other.box)]
        if not here:
            continue
        shape = stood.shape.moved(kernel().Location(tuple(float(v) for v in shift)))
        for other in here:
            both = shared(shape, other.shape)
            if both is None:
                continue

            def out(ends: Points, shift: Points = shift) -> Points:
                return stood.at(ends) + shift

            if not in_thread(both, stood.thing, other.thing, (out, other.at)):
                return other.thing.name
    return None
