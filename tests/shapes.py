"""Flat shapes that several tests cut, nest and draw."""

from __future__ import annotations

from math import pi, tan

from planner.geometry.curves import Outline

QUARTER = tan(pi / 8)
"""The bulge of a quarter turn to the left: the tangent of a quarter of its angle."""

ELL = Outline(
    (
        (0.0, 0.0, 0.0),
        (100.0, 0.0, 0.0),
        (100.0, 60.0, 0.0),
        (60.0, 60.0, 0.0),
        (60.0, 25.0, -QUARTER),
        (55.0, 20.0, 0.0),
        (0.0, 20.0, 0.0),
    )
)
"""100 x 60 less 60 x 40 at the upper left, inner corner of radius 5."""


def circle(x: float, y: float, radius: float) -> Outline:
    """A circle as two half turns."""
    return Outline(((x - radius, y, 1.0), (x + radius, y, 1.0)))
