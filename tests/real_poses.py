"""Whether metal meets metal at ten poses: every pair of things of an attachment, by the kernel.

The program looks at three swings before it builds; here the head stands at three radii and the swing
goes past both its ends. What each pair shares is looked at itself: nothing is taken on trust from the
attachment's own list of threads in their holes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

from real_things import (
    Points,
    Thing,
    apart,
    box_of,
    in_thread,
    posed,
    posed_points,
    shared,
)

from parts.attachment import Attachment, Carrier

SWINGS_DEG = (-3.0, 0.0, 20.0, 45.0, 70.0, 90.0, 110.0, 135.0, 155.0, 172.0)
"""A little before the nose, to past the neck of the thinnest stem (8 degrees from the axis)."""


@dataclass(frozen=True)
class Meeting:
    """Two things that share metal in a pose: how much, mm3."""

    one: str
    other: str
    swing_deg: float
    tip_radius_mm: float
    volume_mm3: float


def poses(whole: Attachment) -> list[tuple[float, float]]:
    """Ten poses, swing and tip radius: the head right in, half-way, right out, in turn."""
    low, high = whole.sizes.tip_radius_min_mm, whole.sizes.tip_radius_max_mm
    radii = (low, high, (low + high) / 2)
    return [(swing, radii[number % 3]) for number, swing in enumerate(SWINGS_DEG)]


def meetings(whole: Attachment, things: Sequence[Thing]) -> list[Meeting]:
    """Every pair that shares metal at some pose, but a thread in its hole; each pair once."""
    found: dict[tuple[str, str], Meeting] = {}
    seen: set[tuple[str, str, float, float]] = set()
    for swing, radius in poses(whole):
        shapes = [posed(thing, radius, swing) for thing in things]
        boxes = [box_of(shape) for shape in shapes]

        def ends_of(
            thing: Thing, r: float = radius, w: float = swing
        ) -> Callable[[Points], Points]:
            return lambda ends: posed_points(ends, thing.carrier, r, w)

        for (i, a), (j, b) in combinations(enumerate(things), 2):
            moving = {a.carrier, b.carrier}
            # What moves together stands together at every pose: once is enough.
            relative = (
                swing if Carrier.POST in moving and len(moving) > 1 else 0.0,
                radius if Carrier.HEAD in moving and len(moving) > 1 else 0.0,
            )
            if (a.name, b.name) in found or (a.name, b.name, *relative) in seen:
                continue
            seen.add((a.name, b.name, *relative))
            if apart(boxes[i], boxes[j]):
                continue
            both = shared(shapes[i], shapes[j])
            if both is not None and not in_thread(both, a, b, (ends_of(a), ends_of(b))):
                meeting = Meeting(a.name, b.name, swing, radius, float(both.Volume()))
                found[a.name, b.name] = meeting
    return list(found.values())
