"""A plate with notches and holes, its profile, and areas by Green's theorem."""

from __future__ import annotations

import math
from itertools import pairwise

from parts.features import (
    DrilledHole,
    SawnNotch,
    general,
)
from parts.frame import Axis, Box
from parts.part import Datum, Part, Stock
from parts.standard.sections import Section
from planner.geometry.profiles import flat_profiles

LEFT = {"A": Datum("blank", "x-low", "left end")}


def plate(*features, length=100.0, width=60.0, thickness=10.0, shape="flat", datums=LEFT):
    return Part(
        name="plate",
        title="Plate",
        blank=Stock(Section(shape, width, thickness), length, "S355"),
        features=features,
        datums=datums,
        colour=(0.5, 0.5, 0.5),
    )


def notch(x0, y0, x1, y1, radius=0.0, name="notch", width=60.0, thickness=10.0):
    """A notch given from the lower left corner of the plate."""
    low, high = (x0, y0 - width / 2, -thickness / 2), (x1, y1 - width / 2, thickness / 2)
    return SawnNotch(name=name, datum="A", box=Box(low, high), corner_radius_mm=radius)


def hole(kind, x, y, depth=10.0, along="+z", name="hole", entry=-5.0, width=60.0, **more):
    axis = Axis((x, y - width / 2, entry), along)
    return kind(name=name, datum="A", axis=axis, depth_mm=depth, **more)


def drilled(x, y, diameter, **more):
    return hole(DrilledHole, x, y, diameter=general(diameter), **more)


def one(*features, **more):
    (profile,) = flat_profiles(plate(*features, **more))
    return profile


def area(outline):
    """Signed area by Green's theorem; anticlockwise is above 0.

    The shoelace sum, and for each arc its circular segment r^2 (a - sin a) / 2 with the angle
    a = 4 atan(bulge): Bronstein, plane figures (from memory).
    """
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in pairwise([*outline.vertices, outline.vertices[0]]):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            angle = 4 * math.atan(bulge)
            radius = math.hypot(x1 - x0, y1 - y0) / (2 * math.sin(abs(angle) / 2))
            total += radius**2 * (angle - math.sin(angle)) / 2
    return total


def assert_sound(outline):
    """No vertex twice, no edge without length, and no vertex in the middle of a straight run."""
    points = [(x, y) for x, y, _ in outline.vertices]
    for i, (x0, y0) in enumerate(points):
        assert all(math.hypot(x0 - x1, y0 - y1) > 1e-6 for x1, y1 in points[i + 1 :])
    bulges = [bulge for _, _, bulge in outline.vertices]
    for i, (x1, y1) in enumerate(points):
        (x0, y0), (x2, y2) = points[i - 1], points[(i + 1) % len(points)]
        if not bulges[i - 1] and not bulges[i]:
            assert abs((x1 - x0) * (y2 - y1) - (y1 - y0) * (x2 - x1)) > 1e-6
