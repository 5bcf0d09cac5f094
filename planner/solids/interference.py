"""Do parts stand in each other: every pair of an attachment's solids, at several swings and radii.

Used by the build and the tests. Fits are modelled at their nominal size, so mating faces touch and no
more; a thread in its tap drill overlaps, and the attachment says which pairs those are.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import combinations
from typing import Any

from parts.attachment import Attachment, Carrier, Overlap, Placed
from parts.part import Part
from parts.value import Value
from planner.solids.booleans import shared
from planner.solids.build import bought_solid, placement, solid

LEAST_MM3 = 0.01
"""A smaller overlap is rounding of the kernel's."""

SWINGS_DEG = (0.0, 90.0, 150.0)
"""At the nose, on top, and near the neck."""


class Clash(Value, frozen=True):
    """Two items that share metal: their names, how much, and the pose in which they do."""

    one: str
    other: str
    volume_mm3: float
    swing_deg: float
    tip_radius_mm: float


def clashes(
    attachment: Attachment, swings_deg: tuple[float, ...] = SWINGS_DEG
) -> tuple[Clash, ...]:
    """Every pair that overlaps by more than LEAST_MM3 and is no thread in its hole; each once.

    swings_deg: polar angles of the tip, 0 at the nose to 180; the tip stands at its smallest and at its
    greatest radius. Raises NotMakeable when a part is not one solid.
    """
    s = attachment.sizes
    radii = (s.tip_radius_min_mm, s.tip_radius_max_mm)
    found: dict[tuple[str, str], Clash] = {}
    placed = attachment.placed
    shapes = {id(p.item): _shape(p) for p in placed}

    @cache
    def standing(at: int, radius: float, swing: float) -> tuple[Any, Any]:
        shape = shapes[id(placed[at].item)].moved(placement(placed[at], radius, swing))
        return shape, shape.BoundingBox()

    def stood(at: int, radius: float, swing: float) -> tuple[Any, Any]:
        """A thing as it stands, with its box: the same in all poses that do not move it."""
        carrier = placed[at].carrier
        return standing(
            at,
            radius if carrier is Carrier.HEAD else 0.0,
            0.0 if carrier is Carrier.POST else swing,
        )

    for i, j in combinations(range(len(placed)), 2):
        a, b = placed[i], placed[j]
        pair = (a.name, b.name)
        if pair in found or _screwed(attachment.overlaps, *pair):
            continue
        for radius, swing in _poses(a.carrier, b.carrier, radii, swings_deg):
            volume = _shared_mm3(*stood(i, radius, swing), *stood(j, radius, swing))
            if volume > LEAST_MM3:
                found[pair] = Clash(*pair, volume, swing, radius)
                break
    return tuple(found.values())


def _shape(placed: Placed) -> Any:
    item = placed.item
    return solid(item, engraved=False) if isinstance(item, Part) else bought_solid(item)


def _screwed(overlaps: tuple[Overlap, ...], one: str, other: str) -> bool:
    return any({o.outer, o.inner} == {one, other} for o in overlaps)


def _poses(
    one: Carrier, other: Carrier, radii: tuple[float, ...], swings: tuple[float, ...]
) -> Iterator[tuple[float, float]]:
    """The poses in which two things stand differently to each other."""
    moving = {one, other}
    turned = swings if Carrier.POST in moving and len(moving) > 1 else swings[:1]
    out = radii if Carrier.HEAD in moving and len(moving) > 1 else radii[:1]
    yield from ((radius, swing) for swing in turned for radius in out)


def _shared_mm3(one: Any, a: Any, other: Any, b: Any) -> float:
    """The volume two shapes share, each with its box; nothing is cut where the boxes do not meet."""
    apart = (
        a.xmax <= b.xmin + 1e-6
        or b.xmax <= a.xmin + 1e-6
        or a.ymax <= b.ymin + 1e-6
        or b.ymax <= a.ymin + 1e-6
        or a.zmax <= b.zmin + 1e-6
        or b.zmax <= a.zmin + 1e-6
    )
    return 0.0 if apart else float(shared(one, other).Volume())
