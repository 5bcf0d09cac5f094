"""How fast work that is out of balance may turn: by its mass and how far off the spindle that lies.

Imported by making.across and making.whole, for work that no counterweight balances.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor, hypot, pi, sqrt

from parts.frame import Point
from parts.part import Part, members
from parts.standard.materials import material
from planner.making.bodies import Body
from planner.making.model import OUT_OF_BALANCE_RPM

SHAKES_N = 50.0
"""The rotating force that a small lathe bears without walking or shaking its work loose: a tenth of the
weight of a bench lathe of 50 kg (common practice)."""


def most_rpm(part: Part, bodies: Sequence[Body], along: int, through: Point) -> float:
    """The fastest that work may turn: F = m e w^2 within SHAKES_N, and OUT_OF_BALANCE_RPM at most.

    along, through: the spindle's line in the work's frame. Bodies count as the solid boxes and
    cylinders that they are sawn as; of a piece by itself its part's first metal is taken.
    """
    metals = {one.name: one.blank.material for one in members(part)}
    first = next(iter(metals.values()))
    across = [k for k in range(3) if k != along]
    moment = [0.0, 0.0]
    for one in bodies:
        size = [one.size(k) for k in range(3)]
        litres = size[0] * size[1] * size[2] * 1e-6 * (1.0 if one.axis is None else pi / 4)
        kg = litres * material(metals.get(one.name, first)).density_kg_m3 / 1000
        for i, k in enumerate(across):
            moment[i] += kg * ((one.low(k) + one.high(k)) / 2 - through[k]) / 1000
    off = hypot(*moment)  # kg m
    if off <= 0.0:
        return OUT_OF_BALANCE_RPM
    return min(OUT_OF_BALANCE_RPM, float(floor(sqrt(SHAKES_N / off) * 30 / pi)))
