"""The tool bit as the tip feels it: a bar pushed at one edge, ground to a point.

Imported by checking.strength.chain.
"""

from __future__ import annotations

from math import acos, atan, cos, pi, radians, sin, tan
from typing import Any

import numpy as np

from parts.standard.materials import material
from parts.standard.series import Series
from parts.tool import INCLUDED_DEG
from planner.checking.strength.model import Give
from planner.sums import mechanics as m
from planner.sums.columns import Numbers, alike

CLEARANCE_DEG = 8.0
"""Of the two sides of the point, as parts.tool grinds them."""

STEPS = 48
"""Of the integral along the ground point: within 1 % of many more."""

LEAST_NOSE_MM = 0.4


def bit_give(s: Any) -> Give:
    """The give of the bit from its nose to the arm: bending by its lever, and push along it.

    The tip lies on the rake face, so the passive force bends the bar by half its depth and the main
    force bends it the other way. The first nose radius is taken as rigid: there the chip bears. s:
    sizes, or columns of them; what is alike is worked out once.
    """
    modulus = material(s.tool_material).modulus_MPa
    wide, long = np.broadcast_arrays(
        np.atleast_1d(np.asarray(s.bit_stock.width_mm, dtype=float)), s.bit_stickout_mm
    )
    first, same = alike(np.stack([wide, long], axis=1))
    few, out = wide[first], long[first]
    passive, main = _point(few, out, s.series)
    # the bar is grown out of the arm: it turns there as a round of its section's area would
    turn = modulus * m.root_tilt_rad_per_Nmm(few * 2 / pi**0.5, modulus)
    passive, main = passive + (few / 2) ** 2 * turn, main - few / 2 * out * turn
    return Give(_like(s, passive[same] / modulus), _like(s, main[same] / modulus))


def nose_mm(wide: Any, series: Series) -> Any:
    """Radius of the ground nose by the bit's side, as ``parts.tool.nose_radius_mm``; of columns too."""
    return series.nearest(np.maximum(LEAST_NOSE_MM, wide / 12), 0.1)


def _like(s: Any, column: Numbers) -> Any:
    return column if np.ndim(s.bit_stickout_mm) else float(column[0])


def _point(wide: Numbers, out: Numbers, series: Series) -> tuple[Numbers, Numbers]:
    """The unit-load integrals along the bit, times E: of c^2 / I + 1 / A, and of -y c / I.

    y from the tip, c the section's middle under the rake face. The two sides are ground square to the
    rake face less their clearance, so they meet in a ridge that leans back from the tip, and a section
    near it is a trapezium, narrower below and cut off by the ridge. Behind the rigid tip a load spreads
    into the depth at 45 degrees and no faster (common practice), though the point grows deeper faster.
    """
    half, clearance = radians(INCLUDED_DEG / 2), radians(CLEARANCE_DEG)
    lean, slope = tan(clearance) / sin(half), tan(half)
    across = acos(
        cos(half) * cos(clearance)
    )  # half the angle between the sides, square to the ridge
    nose = nose_mm(wide, series)
    apex = (
        nose * (1 / sin(across) - 1) / cos(atan(lean))
    )  # of the sharp point, in front of the nose
    step = np.log(out / nose) / STEPS
    y = nose * np.exp(step * (np.arange(STEPS)[:, None] + 0.5))
    deep = np.minimum(np.minimum(wide, y / lean), nose / lean + y - nose)
    top = np.minimum(wide, 2 * slope * (y + apex))
    low = np.minimum(wide, 2 * slope * (y - deep * lean + apex))
    area = deep * (top + low) / 2
    middle = deep * (top + 2 * low) / (3 * (top + low))
    second = deep**3 * (top**2 + 4 * top * low + low**2) / (36 * (top + low))
    dy = y * step
    passive = np.sum((middle**2 / second + 1 / area) * dy, axis=0)
    main = -np.sum(y * middle / second * dy, axis=0)
    return passive, main
