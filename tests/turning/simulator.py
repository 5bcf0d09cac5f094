"""Taking the metal off as a turning plan prints it: no sum is shared with the planner.

The work is a half profile: its radius on a fine row of places along the spindle, z from the ball's
centre away from the chuck, millimetres. A tool is a shape that is moved as the sheet's figures say:
what it passes over is gone. It leaves a floor, the radius that stays at every place; infinite where it
does not come.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, inf, pi, radians, sin, tan

import numpy as np
from msgspec import Struct
from numpy.typing import NDArray

from parts.value import Value
from planner.turning.roughing import Step

Column = NDArray[np.float64]

GRID_MM = 0.02
"""Places along the spindle stand so far apart; a wall is met by two more, a hair either side of it."""

HAIR_MM = 1e-6

FAR_MM = 1e6
"""Farther than any work."""


def places(low: float, high: float, walls: Sequence[float]) -> Column:
    """A row of places with both sides of every wall."""
    both = [wall + side for wall in walls for side in (-HAIR_MM, HAIR_MM)]
    return np.unique(np.concatenate([np.arange(low, high + GRID_MM, GRID_MM), both]))


class Work(Struct, dict=True):
    """The half profile: radius r at the places z; 0 where nothing is left."""

    z: Column
    r: Column

    def volume(self) -> float:
        """Cubic millimetres: rings of the row's places."""
        return float(np.trapezoid(pi * self.r**2, self.z))

    def cut(self, floor: Column) -> Column:
        """Take off what stands over a floor; gives how much of the radius went at each place."""
        left = np.minimum(self.r, np.maximum(floor, 0.0))
        taken = self.r - left
        self.r = left
        return taken

    def turned_round(self) -> Work:
        """The other way round in the lathe."""
        return Work(-self.z[::-1], self.r[::-1].copy())


class Tools(Value, frozen=True):
    """The roughing tools: the blade's width, the radius of its corners, the turning tool's nose."""

    width: float
    corner: float
    nose: float


def blade_floor(z: Column, low: float, high: float, radius: float, corner: float) -> Column:
    """What a tool leaves that was moved along at a radius: flat between its two round corners."""
    floor = np.full_like(z, inf)
    over = (z >= low) & (z <= high)
    corner = min(corner, (high - low) / 2)
    depth = np.maximum(0.0, np.maximum(low + corner - z, z - (high - corner)))[over]
    floor[over] = radius + corner - np.sqrt(np.maximum(0.0, corner**2 - depth**2))
    return floor


def step_floor(step: Step, z: Column, end: float, tools: Tools) -> Column:
    """What one roughing step leaves, by its printed figures; end: of the faced end.

    Its readings are of the tool's left side, from the faced end toward the chuck.
    """
    left, right = end - step.to_mm, end - step.from_mm
    radius = step.diameter_mm / 2
    if step.parted:
        return blade_floor(z, left, right + tools.width, radius, tools.corner)
    if step.side == "behind":
        return blade_floor(z, left, right + 2 * tools.nose, radius, tools.nose)
    return blade_floor(z, left, FAR_MM, radius, tools.nose)


def side_floor(step: Step, z: Column, end: float, tools: Tools, flank_deg: float) -> Column:
    """The right side of the pointed tool, so steep to the axis, where it starts in the groove."""
    slope = radians(flank_deg)
    at_z = end - step.from_mm + tools.nose * (1 + sin(slope))
    at_r = step.diameter_mm / 2 + tools.nose * (1 - cos(slope))
    floor = np.full_like(z, inf)
    beside = z > at_z
    floor[beside] = at_r + (z[beside] - at_z) * np.tan(min(slope, radians(89.9)))
    return floor


def swing_floor(
    z: Column, tip: float, nose: float, first: float, last: float, side: Column | None = None
) -> Column:
    """What the bit leaves, its tip swung at a radius from one angle to another, 0 at the nose.

    The sphere, the round of its nose at both ends, and at the last its side, which leads there: points
    (z, r) of it in order of z.
    """
    floor = np.full_like(z, inf)
    high = tip * cos(radians(first)) if first > 0.0 else FAR_MM
    on = (z <= high) & (z >= tip * cos(radians(last)))
    floor[on] = np.sqrt(np.maximum(0.0, tip**2 - z[on] ** 2))
    # the bit lies along its ray: at the first angle all beyond the tip is swept from there on
    floor[z > high] = z[z > high] * tan(radians(first))
    for angle in (first, last) if first > 0.0 else (last,):
        at_z, at_r = (tip + nose) * cos(radians(angle)), (tip + nose) * sin(radians(angle))
        near = np.abs(z - at_z) < nose
        round_ = at_r - np.sqrt(nose**2 - (z[near] - at_z) ** 2)
        floor[near] = np.minimum(floor[near], round_)
    if side is not None:
        under = np.interp(z, side[:, 0], side[:, 1], left=inf, right=inf)
        ahead = z < (tip + nose) * cos(radians(last))
        floor[ahead] = np.minimum(floor[ahead], under[ahead])
    return floor
