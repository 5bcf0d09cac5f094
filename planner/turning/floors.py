"""The ground that roughing steps cut, with the rounds that the tools' corners leave at its ends.

Frame and readings as in turning.roughing, which alone imports this. Plain numbers in millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, hypot, inf, pi, sqrt
from typing import TYPE_CHECKING

from parts.value import Value

if TYPE_CHECKING:
    from planner.turning.roughing import Step, Tool, Work

SLICES = 8
"""Cylinders that stand for a round corner: they hold 0.05 r^2 of section more than it leaves."""


class Floor(Value, frozen=True):
    """The ground a step has cut: from its wall so far toward +z or -z, with the wall's round corner.

    far_mm: radius of the round at its other end, that the blade's other corner leaves; 0 for none.
    """

    wall_mm: float
    toward: int
    length_mm: float
    radius_mm: float
    corner_mm: float
    far_mm: float = 0.0

    def over_mm(self, low_mm: float, high_mm: float) -> float:
        """The most it leaves between two stations; infinite where it has not cut, as at the wall."""
        middle = ((low_mm + high_mm) / 2 - self.wall_mm) * self.toward
        if not 0.0 < middle < self.length_mm:
            return inf
        first, last = (low_mm, high_mm) if self.toward > 0 else (high_mm, low_mm)
        along = (first - self.wall_mm) * self.toward
        beyond = self.length_mm - (last - self.wall_mm) * self.toward
        return self.radius_mm + max(_round(self.corner_mm, along), _round(self.far_mm, beyond))

    def slices_mm(self) -> list[float]:
        """Stations from the wall to the end of its round, at equal angles, and of the other end's."""
        far = self.wall_mm + self.toward * self.length_mm
        return [self.wall_mm + self.toward * mm for mm in _slices(self.corner_mm)] + [
            far - self.toward * mm for mm in (_slices(self.far_mm) if self.far_mm else ())
        ]

    def over_ball_mm(self) -> float:
        """How far the round of the corner stays from the ball's centre."""
        centre = self.wall_mm + self.toward * self.corner_mm
        return hypot(centre, self.radius_mm + self.corner_mm) - self.corner_mm


def _round(corner_mm: float, along_mm: float) -> float:
    """How high a round corner stands so far from its wall."""
    rest = min(max(0.0, corner_mm - along_mm), corner_mm)
    return corner_mm - sqrt(corner_mm**2 - rest**2)


def _slices(corner_mm: float) -> list[float]:
    """How far from its wall the slices of a round corner end, at equal angles."""
    turns = (k * pi / 2 / SLICES for k in range(SLICES + 1 if corner_mm else 1))
    return [corner_mm * (1 - cos(turn)) for turn in turns]


def floors_of(work: Work, turner: Tool, parter: Tool, steps: Sequence[Step]) -> list[Floor]:
    """The ground of each step."""
    found = []
    for step in steps:
        if step.parted:
            wall, toward = work.end_mm - step.from_mm + parter.across_mm, -1
            length, corner = step.to_mm - step.from_mm + parter.across_mm, parter.corner_mm
            far = corner if step.side == "stem" else 0.0  # the neck's is out of the swing's reach
        else:
            wall, toward, corner = work.end_mm - step.to_mm, 1, turner.corner_mm
            length, far = step.to_mm - step.from_mm, 0.0
        found.append(Floor(wall, toward, length, step.radius_mm, corner, far))
    return found


def top_mm(work: Work, floors: Sequence[Floor], low_mm: float, high_mm: float) -> float:
    """What all together leave of the blank between two stations."""
    return min([work.blank_radius_mm] + [floor.over_mm(low_mm, high_mm) for floor in floors])
