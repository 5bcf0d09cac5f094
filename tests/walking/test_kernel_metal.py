"""What the walk takes for the finished parts, held against the kernel's solids of the same parts."""

from __future__ import annotations

import random

import numpy as np
import pytest
from numpy.typing import NDArray

from planner.output.plan import Plan
from planner.solids.build import solid as solid_of
from planner.solids.kernel import kernel
from planner.walking.cuts import cloud
from planner.walking.finished import kept_of_part, takes
from planner.walking.shape import Points, Ring, others

POINTS = 150
NOMINAL_MM = 0.3
"""More than any limits of what is turned lie from its nominal size."""


@pytest.mark.parametrize(
    "name", ["housing", "rotating-body", "sliding-head", "dial", "clamp-lever"]
)
def test_what_must_stay_is_metal_and_what_must_go_is_not(bench: Plan, name: str) -> None:
    """Points of what a part keeps lie in its solid; points that a feature takes off lie outside it."""
    part = next(one for one in bench.attachment.parts if one.name == name)
    solid, kept = solid_of(part), kept_of_part(part)
    draw = random.Random(3)
    low, high = kept.box
    inside = 0
    for _ in range(4000):
        point = tuple(draw.uniform(float(a), float(b)) for a, b in zip(low, high, strict=True))
        if inside >= POINTS:
            break
        if kept.at(point)[0]:  # type: ignore[arg-type]
            inside += 1
            assert _within(solid, point), point
    assert inside == POINTS
    gone = 0
    for feature in part.features:
        for region in takes(feature).least:
            points = cloud(region, kept)
            points = points[region.has(points)]
            if isinstance(region, Ring) and region.inner > 0:  # the solid has nominal sizes
                points = points[_far_from(points, region) > region.inner + NOMINAL_MM]
            for point in draw.sample(points.tolist(), min(12, len(points))):
                gone += 1
                assert not _within(solid, tuple(point)), (feature.name, point)
    assert gone > 20


def _far_from(points: Points, ring: Ring) -> NDArray[np.float64]:
    """How far points lie from a ring's axis, mm."""
    j, k = others(ring.along)
    return np.hypot(points[:, j] - ring.centre[j], points[:, k] - ring.centre[k])


def _within(solid: object, point: tuple[float, ...]) -> bool:
    cq = kernel()
    return any(one.isInside(cq.Vector(*point), 1e-4) for one in solid.Solids())  # type: ignore[attr-defined]
