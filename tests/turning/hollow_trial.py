"""A hollow's plan put to the trial: the same way as a ball's, with a profile of depths."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import acos, degrees, pi, sqrt

import numpy as np
from simulator import (
    BESIDE_MM,
    GRID_MM,
    HAIR_MM,
    OFF_JAWS_MM,
    Column,
    Prism,
    nearest,
    poses,
)

from parts.sizes import Sizes
from planner.job.tables import Job
from planner.turning.model import SocketPlan

BASE_MM = 1000.0
"""Added to places along the spindle, so that all of the work counts as above zero."""


@dataclass
class HollowTrial:
    """One hollow put to the trial; the pivot is the origin, z away from the chuck."""

    plan: SocketPlan
    job: Job
    sizes: Sizes
    shapes: list[Prism]
    faults: list[str] = field(default_factory=list)

    def run(self) -> list[str]:
        """What was found, in words."""
        plan, spec = self.plan, self.plan.ball.spec
        radius, depth = spec.diameter / 2, float(spec.depth or 0.0)
        pivot, blank = radius - depth, plan.ball.blank_mm / 2
        lathe = self.job.lathe
        jaws, chuck = (lathe.jaw_diameter or lathe.chuck_diameter) / 2, lathe.chuck_diameter / 2
        walls = [w + s for w in (blank, jaws, chuck) for s in (-HAIR_MM, HAIR_MM)]
        rho = np.unique(np.concatenate([np.arange(0.0, max(jaws, chuck, blank) + 5.0, GRID_MM), walls]))
        behind = np.where(rho <= jaws, -pivot - plan.out_mm, -pivot - plan.out_mm - lathe.jaw_reach)
        top = np.where(rho <= blank, -pivot, np.where(rho <= max(jaws, chuck), behind, -BASE_MM))
        reach = self.reversed_reach()
        end = degrees(acos(pivot / radius)) if pivot else 90.0
        if plan.out_mm < depth + OFF_JAWS_MM:
            self.faults.append("the blank stands out too little")
        self.clear(rho, top, pivot + 1e-3, end, reach, "at the start reading", True)
        before = pivot
        for one in plan.passes:
            name = f"pass {one.number}"
            if abs(one.radius_mm - before - one.depth_mm) > 1e-6:
                self.faults.append(f"{name}: depth {one.depth_mm:.4f}, from {before:.4f}")
            before = one.radius_mm
            inside = rho < sqrt(max(0.0, one.radius_mm**2 - pivot**2))
            arc = -np.sqrt(np.maximum(0.0, one.radius_mm**2 - rho**2))
            now = np.where(inside, np.minimum(top, arc), top)
            gone = float(np.trapezoid(2 * pi * rho * (top - now), rho))
            top = now
            if one.kind != "spring" and gone <= 1e-4:
                self.faults.append(f"{name} takes nothing")
            if abs(gone - one.removed_mm3) > 0.02 * one.removed_mm3 + 1.0:
                self.faults.append(f"{name} takes {gone:.2f}, printed {one.removed_mm3:.2f}")
            self.clear(rho, top, one.radius_mm, end, reach, name)
        if not plan.passes:
            return self.faults
        mouth = sqrt(radius**2 - pivot**2)
        true = np.where(rho < mouth, -np.sqrt(np.maximum(0.0, radius**2 - rho**2)), -pivot)
        off = np.abs(top - true)[rho <= blank]
        if off.max() > 0.005:
            self.faults.append(f"the hollow is off by {off.max():.4f}")
        return self.faults

    def reversed_reach(self) -> float:
        """How far the tip stands beyond where it is with the bit the right way round."""
        return self.sizes.arm_stock.height_mm + 2 * self.sizes.bit_stickout_mm

    def clear(
        self, rho: Column, top: Column, tip: float, end: float, reach: float, where: str, all_: bool = False
    ) -> None:
        """The head and all else hold off the work."""
        angles = poses(180.0 - end, 180.0)
        blank = self.plan.ball.blank_mm / 2

        def place(z: Column, off: Column) -> tuple[Column, Column]:
            return off, z + BASE_MM

        rest = [p for p in self.shapes if not p.cuts and (all_ or p.slides)]
        bits = [
            replace(p, points=np.column_stack([reach - p.points[:, 0], p.points[:, 1]]))
            for p in self.shapes
            if p.cuts
        ]
        for some, asked in ((rest, self.sizes.clearance_mm - BESIDE_MM), (bits, 0.0)):
            found, worst = nearest(
                some, tip - reach, angles, rho, top + BASE_MM, asked, off=1e9, place=place
            )
            if found < asked - 2e-3:
                self.faults.append(f"{where}: {worst} has {found:.3f} of {asked:.2f} ({blank:.1f})")
