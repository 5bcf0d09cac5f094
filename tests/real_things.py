"""An attachment as solids that stand where they stand: what the checks of the real metal share.

Any attachment will do: nothing here knows a part by its name. Solids are the program's; where they
stand is worked out here from each thing's frame and carrier, by the meaning of the frame of the whole
(the ball's centre is the origin, everything that swings turns about x, and the head moves out along y
before it swings).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import radians
from typing import Any

import numpy as np
from numpy.typing import NDArray

from parts.attachment import Attachment, Carrier, Placed
from parts.features import TappedHole, Thread
from parts.frame import Frame
from parts.part import Bought, Part, every_feature
from parts.standard.threads import thread
from planner.solids import bought_solid, kernel, solid

Points = NDArray[np.float64]

SAG_MM, SAG_RAD = 0.002, 0.15
"""How near the points of a face stand: their chords miss it by no more than this."""

APART_MM = 4.0
"""How far apart the points along a straight side may stand."""

LEAST_MM3 = 0.01
"""Two solids that share less only touch: rounding of the kernel's."""


@dataclass(frozen=True)
class Screwed:
    """A thread, outer or inner: its designation, a point on its axis and its direction, mm."""

    designation: str
    at: Points
    along: Points


class Thing:
    """A part or bought item in its place, tip on top and at radius zero."""

    def __init__(self, placed: Placed, name: str) -> None:
        self.placed, self.name, self.carrier = placed, name, placed.carrier
        item = placed.item
        made = solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)
        self.shape = made.copy().moved(
            _location(placed.frame)
        )  # it is meshed, and the shared one is written

    @cached_property
    def corners(self) -> Points:
        """The corners of its facets, one row each: all of it lies within their hull, but the sag."""
        return self._facets[0]

    @cached_property
    def _facets(self) -> tuple[Points, NDArray[np.int64]]:
        vertices, triangles = self.shape.tessellate(SAG_MM, SAG_RAD)
        return np.array([vertex.toTuple() for vertex in vertices]), np.array(triangles)

    @cached_property
    def points(self) -> Points:
        """Points on its surface, its corners among them, none far from the next: one row each."""
        corners, triangles = self._facets
        sides = triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
        sides = np.unique(np.sort(sides, axis=1), axis=0)
        start, end = corners[sides[:, 0]], corners[sides[:, 1]]
        parts = np.ceil(np.linalg.norm(end - start, axis=1) / APART_MM).astype(int)
        between = [
            start[parts > n] + (end - start)[parts > n] * (n / parts[parts > n])[:, None]
            for n in range(1, int(parts.max()))
        ]
        return np.vstack((corners, *between))

    @cached_property
    def outer_threads(self) -> tuple[Screwed, ...]:
        """Its outer threads, at rest."""
        return self._threads(Thread)

    @cached_property
    def inner_threads(self) -> tuple[Screwed, ...]:
        """Its inner threads whose solid is a tap drill's hole, at rest."""
        return self._threads(TappedHole)

    def _threads(self, kind: type[Thread] | type[TappedHole]) -> tuple[Screwed, ...]:
        item, own = self.placed.item, self.placed.frame
        if isinstance(item, Bought):
            outer = kind is Thread and item.kind.endswith(("screw", "stud"))
            return (_screwed(item.thread, Frame(), own, (0.0, 0.0, 0.0), (1.0, 0.0, 0.0)),) * outer
        return tuple(
            _screwed(
                feature.thread,
                member.frame if member else Frame(),
                own,
                feature.axis.at(0.0),
                tuple(
                    b - a for a, b in zip(feature.axis.at(0.0), feature.axis.at(1.0), strict=True)
                ),
            )
            for member, feature in every_feature(item)
            if isinstance(feature, kind)
        )


def _screwed(name: str, inner: Frame, outer: Frame, at: Any, along: Any) -> Screwed:
    start = outer.place(inner.place(at))
    end = outer.place(inner.place(tuple(a + b for a, b in zip(at, along, strict=True))))
    return Screwed(thread(name).designation, np.array(start), np.array(end) - np.array(start))


def _location(frame: Frame) -> Any:
    cq = kernel()
    x, _, z = frame.directions()
    return cq.Location(cq.Plane(origin=frame.origin, xDir=x, normal=z))


def things_of(whole: Attachment) -> tuple[Thing, ...]:
    """Everything of an attachment; a second of the same name says so."""
    made: list[Thing] = []
    for placed in whole.placed:
        same = sum(one.placed.name == placed.name for one in made)
        made.append(Thing(placed, placed.name + (f" ({same + 1})" if same else "")))
    return tuple(made)


def posed_points(points: Points, carrier: Carrier, radius_mm: float, swing_deg: float) -> Points:
    """Points of a thing moved to a pose: out along y, then turned about x; the post's stay."""
    if carrier is Carrier.POST:
        return points
    out = radius_mm if carrier is Carrier.HEAD else 0.0
    turn = radians(90.0 - swing_deg)
    x, y, z = points[:, 0], points[:, 1] + out, points[:, 2]
    return np.column_stack(
        (x, y * np.cos(turn) - z * np.sin(turn), y * np.sin(turn) + z * np.cos(turn))
    )


def posed(thing: Thing, radius_mm: float, swing_deg: float) -> Any:
    """A thing's solid moved to a pose."""
    if thing.carrier is Carrier.POST:
        return thing.shape
    cq = kernel()
    out = radius_mm if thing.carrier is Carrier.HEAD else 0.0
    turned = cq.Location((0, 0, 0), (1, 0, 0), 90.0 - swing_deg)
    return thing.shape.moved(turned * cq.Location((0.0, out, 0.0)))


Box = NDArray[np.float64]


def box_of(shape: Any) -> Box:
    """The upright box round a solid: its low corner and its high one."""
    found = shape.BoundingBox()
    return np.array(((found.xmin, found.ymin, found.zmin), (found.xmax, found.ymax, found.zmax)))


def apart(one: Box, other: Box) -> bool:
    """Whether two boxes do not meet, or only touch."""
    return bool(np.any(one[1] <= other[0] + 1e-6) or np.any(other[1] <= one[0] + 1e-6))


def shared(one: Any, other: Any) -> Any | None:
    """What two solids share; None where they only touch."""
    if apart(box_of(one), box_of(other)):
        return None
    both = one.intersect(other)
    return both if both.Volume() > LEAST_MM3 else None


def in_thread(both: Any, one: Thing, other: Thing, moved: Sequence[Any] = (None, None)) -> bool:
    """Whether what two things share is only the thread of one in the tap drill's hole of the other.

    Then each lump of it lies between the drill's radius and the thread's about the axis of an outer
    thread that the other has an inner one of. moved: for each thing a function that takes points at
    rest to where the thing stands now.
    """
    rings = []
    for outer, inner, move in ((one, other, moved[0]), (other, one, moved[1])):
        sizes = {hole.designation for hole in inner.inner_threads}
        for found in outer.outer_threads:
            if found.designation in sizes:
                ends = np.array((found.at, found.at + found.along))
                rings.append((found.designation, *(move(ends) if move else ends)))
    return bool(rings) and all(
        any(_in_ring(lump, *ring) for ring in rings) for lump in both.Solids()
    )


def _in_ring(lump: Any, designation: str, start: Points, end: Points) -> bool:
    size = thread(designation)
    vertices, _ = lump.tessellate(SAG_MM, SAG_RAD)
    off = np.array([vertex.toTuple() for vertex in vertices]) - start
    along = end - start
    far = np.linalg.norm(off - np.outer(off @ along, along), axis=1)
    inside, outside = size.tap_drill_mm / 2 - 0.01, size.major_mm / 2 + 0.01
    return bool(np.all(far >= inside) and np.all(far <= outside))
