"""The rake face on the real solid of the bit: which way it looks, and whether the work comes on to it.

Forward is the sense in which the near side of the work goes down (common practice; ISO 841: clockwise
as one looks out along the spindle from the headstock).
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

import numpy as np
import pytest

from parts.part import Part
from planner.output.plan import Plan
from planner.solids import kernel, placement, solid

Z = np.array([0.0, 0.0, 1.0])
OPERATOR = np.array([-1.0, 0.0, 0.0])
"""z along the spindle away from the chuck; the operator in front, x toward the rear (parts.placed)."""


@pytest.mark.parametrize("swing_deg", [0.5, 45.0, 90.0, 135.0])
def test_the_work_comes_on_to_the_rake_face_of_the_solid(plan: Plan, swing_deg: float) -> None:
    assert np.cross(Z, OPERATOR) == pytest.approx([0.0, -1.0, 0.0])  # forward is about +z
    (placed,) = (p for p in plan.attachment.placed if p.name == "tool-bit")
    assert isinstance(placed.item, Part)
    radius = plan.sizing.sizes.max_ball_diameter_mm / 2
    bit: Any = solid(placed.item).moved(placement(placed, radius, swing_deg))
    out = np.array([0.0, sin(radians(swing_deg)), cos(radians(swing_deg))])
    assert bit.distance(kernel().Vertex.makeVertex(*(radius * out))) < 1e-6
    # a millimetre out from the tip, on the bit's middle line: the only face there is the rake face
    there = kernel().Vertex.makeVertex(*((radius + 1.0) * out))
    (rake,) = [face for face in bit.Faces() if face.distance(there) < 1e-6]
    assert rake.geomType() == "PLANE"
    normal = np.array(rake.normalAt().toTuple())
    assert normal == pytest.approx(-OPERATOR)  # to the rear, at every swing
    work = np.cross(Z, radius * out)
    assert work @ normal < 0.0 < np.cross(-Z, radius * out) @ normal
