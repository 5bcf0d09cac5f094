"""A hollow's plan put to the trial: as a ball's, but how deep it is at every distance from the axis."""

from __future__ import annotations

from math import acos, degrees, pi, sqrt

import numpy as np
from msgspec import Struct, field
from turning.simulator import GRID_MM, HAIR_MM, Column
from turning.swinging import Head, nearest, poses
from turning.trial import OFF_JAWS_MM, SHORT_MM, TRUE_MM

from parts.sizes import Sizes
from planner.job.tables import Job
from planner.turning.model import SocketPlan

BASE_MM = 1000.0
"""Added to places along the spindle, so that all of the work counts as above zero."""


class HollowTrial(Struct, dict=True):
    """One hollow on trial; the pivot is the origin, z away from the chuck."""

    plan: SocketPlan
    job: Job
    sizes: Sizes
    head: Head
    faults: list[str] = field(default_factory=list)

    def run(self) -> list[str]:
        """What is wrong, in words; nothing where all is well."""
        plan, spec, lathe = self.plan, self.plan.ball.spec, self.job.lathe
        radius, depth = spec.diameter / 2, float(spec.depth or 0.0)
        face, blank = radius - depth, plan.ball.blank_mm / 2
        jaws, chuck = (lathe.jaw_diameter or lathe.chuck_diameter) / 2, lathe.chuck_diameter / 2
        walls = [w + side for w in (blank, jaws, chuck) for side in (-HAIR_MM, HAIR_MM)]
        rho = np.unique(np.concatenate([np.arange(0.0, max(walls) + 5.0, GRID_MM), walls]))
        top = np.where(rho <= chuck, -face - plan.out_mm - lathe.jaw_reach, -BASE_MM)
        top = np.where(rho <= jaws, -face - plan.out_mm, top)
        top = np.where(rho <= blank, -face, top)
        if plan.out_mm < depth + OFF_JAWS_MM:
            self.faults.append("the blank stands out too little")
        slide = self.sizes.tip_radius_min_mm, self.sizes.tip_radius_max_mm
        swing = poses(180.0 - degrees(acos(face / radius)), 180.0)
        before = face
        self._clear(rho, top, face, swing, "at the start reading")
        for one in plan.passes:
            name, tip = f"pass {one.number}", one.radius_mm
            if abs(tip - before - one.depth_mm) > 1e-6:
                self.faults.append(f"{name}: depth {one.depth_mm:.4f}, from {before:.4f}")
            for at in (before, tip):
                if not slide[0] - 1e-6 <= at - self.reach_mm <= slide[1] + 1e-6:
                    self.faults.append(f"{name}: the head does not come to {at:.2f}")
            before = tip
            inside = rho < sqrt(max(0.0, tip**2 - face**2))
            arc = -np.sqrt(np.maximum(0.0, tip**2 - rho**2))
            left = np.where(inside, np.minimum(top, arc), top)
            gone = float(np.trapezoid(2 * pi * rho * (top - left), rho))
            top = left
            if one.kind != "spring" and gone < 1e-4:
                self.faults.append(f"{name} takes nothing")
            if abs(gone - one.removed_mm3) > 0.02 * one.removed_mm3 + 1.0:
                self.faults.append(f"{name} takes {gone:.2f} mm3, printed {one.removed_mm3:.2f}")
            self._clear(rho, top, tip, swing, name)
        mouth = sqrt(radius**2 - face**2)
        true = np.where(rho < mouth, -np.sqrt(np.maximum(0.0, radius**2 - rho**2)), -face)
        off = np.abs(top - true)[rho <= blank]
        if off.max() > TRUE_MM:
            self.faults.append(f"the hollow is off by {off.max():.4f}")
        return self.faults

    @property
    def reach_mm(self) -> float:
        """How far the reversed bit's tip stands beyond where it stands else: the arm, and twice its
        stick-out."""
        return self.sizes.arm_stock.height_mm + 2 * self.sizes.bit_stickout_mm

    def _clear(self, rho: Column, top: Column, tip: float, angles: Column, where: str) -> None:
        def place(along: Column, off: Column) -> tuple[Column, Column]:
            return off, along + BASE_MM

        bits = [bit.reversed(self.reach_mm) for bit in self.head.bits]
        outline = rho, top + BASE_MM
        for some, asked in ((self.head.rest, self.sizes.clearance_mm - SHORT_MM), (bits, 0.0)):
            found, worst = nearest(some, tip - self.reach_mm, angles, outline, asked, place)
            if found < asked - 2e-3:
                self.faults.append(f"{where}: {worst} has {found:.3f} of {asked:.2f}")
