"""How far two solids differ, whichever way each lies: by volume, and face by face."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cadquery as cq

from . import shapes
from .shapes import turns


@dataclass(frozen=True)
class Likeness:
    """share: of the volume that is in one solid alone; worst_mm: the face that lies furthest off.

    worst_mm is infinite where a face of one has none of its kind in the other. gap: the difference of
    the volumes as a share, which cutting spheres that all but coincide does not spoil.
    """

    share: float
    worst_mm: float
    gap: float = 1.0


def _faces(solid: Any) -> list[tuple[str, tuple[float, ...]]]:
    found = []
    for face in solid.Faces():
        b = face.BoundingBox(1e-3)
        found.append((face.geomType(), (b.xmin, b.ymin, b.zmin, b.xmax, b.ymax, b.zmax)))
    return found


def _moved(one: tuple[float, ...], by: tuple[float, float, float]) -> tuple[float, ...]:
    return tuple(x + by[i % 3] for i, x in enumerate(one))


def by_faces(made: Any, true: Any) -> tuple[float, Any]:
    """The worst face of the best way to lay one on the other, and so laid the made solid."""
    goal = _faces(true)
    true_box = true.BoundingBox(1e-3)
    best: tuple[float, Any] = (float("inf"), None)
    for turn in turns():
        moved = made.moved(turn)
        box = moved.BoundingBox(1e-3)
        if any(
            abs(a - b) > 1.0
            for a, b in (
                (box.xlen, true_box.xlen),
                (box.ylen, true_box.ylen),
                (box.zlen, true_box.zlen),
            )
        ):
            continue
        by = (true_box.xmin - box.xmin, true_box.ymin - box.ymin, true_box.zmin - box.zmin)
        own = [(kind, _moved(at, by)) for kind, at in _faces(moved)]
        worst = max(_worst(own, goal), _worst(goal, own))
        if worst < best[0]:
            best = (worst, moved.moved(cq.Location(by)))
    return best


def _worst(
    own: list[tuple[str, tuple[float, ...]]], goal: list[tuple[str, tuple[float, ...]]]
) -> float:
    worst = 0.0
    for kind, at in own:
        offs = [
            max(abs(a - b) for a, b in zip(at, other, strict=True))
            for other_kind, other in goal
            if other_kind == kind
        ]
        worst = max(worst, min(offs, default=float("inf")))
    return worst


def likeness(made: Any, true: Any) -> Likeness:
    """How far a solid differs from the true one."""
    worst, laid = by_faces(made, true)
    if laid is None:
        return Likeness(1.0, float("inf"))
    if worst < 1e-4:  # every face on its own: the kernel's cut of what coincides is not trusted
        gap = abs(shapes.volume(laid) - shapes.volume(true))
        return Likeness(gap / shapes.volume(true), worst, gap / shapes.volume(true))
    share = _share(laid, true)
    if 1e-5 < share < 1e-2:  # what is rounded in print, shared out: laid centre on centre
        by = true.Center() - laid.Center()
        share = min(share, _share(laid.moved(cq.Location(by)), true))
    gap = abs(shapes.volume(laid) - shapes.volume(true)) / shapes.volume(true)
    return Likeness(share, worst, gap)


def _share(made: Any, true: Any) -> float:
    """The volume that is in one alone, as a share of the true one's.

    In two ways, the smaller of both: where faces all but coincide the kernel's cuts are now and then
    wrong by a whole face. What lies elsewhere is found face by face.
    """
    apart = abs(shapes.volume(made.cut(true))) + abs(shapes.volume(true.cut(made)))
    both = shapes.volume(made.intersect(true))
    other = abs(shapes.volume(made) + shapes.volume(true) - 2 * both)
    return min(apart, other) / shapes.volume(true)
