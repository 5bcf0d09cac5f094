"""The plain shapes that cutters and blanks are made of: cylinder, tube, box."""

from __future__ import annotations

from parts.frame import Axis, Box, vector
from planner.solids.kernel import Shape, kernel


def cylinder(axis: Axis, start_mm: float, end_mm: float, radius_mm: float) -> Shape:
    """A cylinder about an axis between two stations on it, mm."""
    return kernel().Solid.makeCylinder(
        radius_mm, end_mm - start_mm, axis.at(start_mm), vector(axis.along)
    )


def tube(axis: Axis, start_mm: float, end_mm: float, outer_mm: float, inner_mm: float) -> Shape:
    """A tube about an axis between two stations, by its outer and inner radius, mm."""
    cq = kernel()
    along = cq.Vector(*vector(axis.along))
    rims = [cq.Wire.makeCircle(r, axis.at(start_mm), along) for r in (outer_mm, inner_mm)]
    return cq.Solid.extrudeLinear(rims[0], rims[1:], along * (end_mm - start_mm))


def box(box: Box) -> Shape:
    """An upright box."""
    return kernel().Solid.makeBox(*box.size(), box.low)
