"""A ball's plan put to the trial: each tool and swing in its turn, on the work as it then stands.

The piece is told from the job's own keys, the tools from its turning table, jaws and chuck from its
lathe, what swings from the parts. Of the plan only what the sheets print is used: readings, diameters,
radii, angles, lengths, volumes.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from itertools import pairwise
from math import acos, cos, inf, pi, radians, sin

import numpy as np
from msgspec import field
from numpy.typing import NDArray
from turning.simulator import (
    FAR_MM,
    HAIR_MM,
    Column,
    Work,
    places,
    side_floor,
    step_floor,
    swing_floor,
)
from turning.swinging import Head, Prism, nearest, poses
from turning.wanted import Wanted

from planner.turning.model import PassLoad, SecondHolding

OFF_JAWS_MM = 3.0
"""No tool is brought nearer to turning jaws (common practice)."""

SHORT_MM = 0.05
"""What a clearance may be short of, by samples and rounding."""

FILLED_MM = 0.08
"""And where a handle fills its room: it may stand so far into the clearance."""

SIDE_MM = 0.15
"""The bit's own sides, off what stays."""

BY_NOSE_MM = 0.03
"""The side between nose and shoulder, which comes to it from the nose a twentieth off the stem."""

TRUE_MM = 0.005
"""How true the ball must be."""

CORNER_MM = 0.1
"""What may be left more in the angle between ball and stem: dials round the neck up."""

LEAST_MM = 0.2
"""A step that takes less is not worth its setting."""

LEAST_AT_ALL_MM = 0.02
"""A step that the job itself asks for, or that a blank hardly thicker leaves."""

WALL_MM = 0.5
"""Metal about a hole where it goes on behind the centre (from memory: as thin as a tap bears)."""

Obstacles = Callable[[Work], Column]


class BallTrial(Wanted, dict=True):
    """One plan on trial.

    findings: the codes of what the planner says of it itself. every: whether what swings is looked at
    in every pass, or in the first and the last few only: between them work and radius only shrink.
    """

    head: Head
    clearance_mm: float
    findings: Collection[str] = ()
    every: bool = True
    faults: list[str] = field(default_factory=list)

    def run(self) -> list[str]:
        """What is wrong, in words; nothing where all is well."""
        work = self._blank()
        piece = self.piece(work.z)
        self._rough(work, piece)
        self._first_holding(work, piece)
        self._lengths()
        self._hole(work)
        work.r = np.where(work.z < -self.plan.part_off_mm, 0.0, work.r)
        if self.plan.second is not None:
            self._second_holding(work, self.plan.second)
        elif (piece - work.r).max() > TRUE_MM and not self._fouled:
            self._say("the piece is not all there", piece - work.r, work.z)
        return self.faults

    def _blank(self) -> Work:
        plan, end, lathe = self.plan, self.radius, self.job.lathe
        front = end - plan.blank_length_mm
        walls = [end, front, front - lathe.jaw_reach, -plan.part_off_mm, -self.shoulder]
        for step in plan.roughing.steps:
            walls += [end - step.to_mm, end - step.from_mm, end - step.from_mm + self.tools.width]
        before = 80.0 if self.job.turning.tailstock_centre else 1.0
        z = places(front - lathe.jaw_reach - 60.0, end + before, walls)
        return Work(z, np.where(z <= end, self.blank_radius, 0.0))

    # the steps

    def _rough(self, work: Work, piece: Column) -> None:
        had = work.volume()
        self._in_order()
        for step in self.plan.roughing.steps:
            name = f"step {step.number} ({step.side})"
            if step.side == "behind" and self.plan.flank_deg < 89.9:
                angle = self.plan.flank_deg
                side = side_floor(step, work.z, self.radius, self.tools, angle)
                into = np.where(work.z < self.radius, work.r - side, 0.0)
                if into.max() > 1e-3:
                    self._say(f"{name}: a side of {angle:.1f} deg cuts in", into, work.z)
            taken = work.cut(step_floor(step, work.z, self.radius, self.tools))
            asked = self.job.turning.roughing_pitch is not None or step.side == "body"
            thin = step.side == "behind" and (self.taper or step.infeed_mm < LEAST_MM)
            if taken.max() < (LEAST_AT_ALL_MM if asked or thin else LEAST_MM) - 1e-6:
                self.faults.append(f"{name} takes {taken.max():.3f} only")
            self._kept(name, work, piece, 1e-6)
            if abs(self.blank_radius - step.diameter_mm / 2 - step.infeed_mm) > 1e-6:
                self.faults.append(f"{name}: infeed {step.infeed_mm:.3f} is not from the blank")
        least = min(self.job.turning.allowance, 0.4 * self.radius, self.blank_radius - self.radius)
        on = (work.z < self.radius - 1e-3) & (work.z > -self.shoulder) & (work.r > self.neck + 1e-6)
        short = np.where(on, least - np.hypot(work.r, work.z) + self.radius, -inf)
        if short.max() > 1e-3:
            self._say(f"roughing leaves less than {least:.2f}", short, work.z)
        gone, printed = had - work.volume(), self.plan.roughing.removed_mm3
        if abs(gone - printed) > 0.02 * printed + 1.0 + self._rounds:
            self.faults.append(f"roughing takes {gone:.1f} mm3, printed {printed:.1f}")
        bare = self.plan.ball.blank_mm / 2 - self.radius < 1e-6
        if bare and "thin-blank" not in self.findings:
            self.faults.append("the bar's skin stays on the ball and nothing says so")

    def _in_order(self) -> None:
        """Each step lies between its neighbours: farther in and thinner, or the other way round."""
        for one, other in pairwise(self.plan.roughing.steps):
            if one.side != other.side:
                continue
            thinner = other.diameter_mm < one.diameter_mm
            shorter = (
                other.from_mm < one.from_mm if other.side == "stem" else other.to_mm < one.to_mm
            )
            if not shorter or thinner == (other.side == "stem"):
                self.faults.append(f"step {other.number} is out of order")

    # the swings

    @property
    def _rounds(self) -> float:
        """What wide corners of the roughing tools leave less than is counted with, mm3.

        Counted in cylinders about each round: a twentieth of its square at most, on a ring of the ball.
        """
        corner = self.job.turning.roughing_corner
        ring = 0.06 * corner**2 * 2 * pi * self.radius
        return ring * len(self.plan.roughing.steps) if corner > 0.2 else 0.0

    @property
    def _fouled(self) -> bool:
        """Whether the planner says itself that what stands behind is in the way."""
        return "stem-fouled" in self.findings

    def _first_holding(self, work: Work, piece: Column) -> None:
        plan = self.plan
        first, last = plan.sweep.start_deg, plan.sweep.end_deg
        # by hand at the start reading, through the whole sweep; and there nothing is cut yet
        at = "at the start reading"
        self._touching(work, plan.first_mm, first, last, at)
        self._clear(work, self._in_jaws, plan.first_mm, poses(first, last), at, self.head.rest)
        self._passes(work, piece, plan.passes, plan.first_mm, self._in_jaws, self._rounds)
        swing = plan.passes[-1].cut.swing_deg
        angle = np.degrees(np.arctan2(work.r, work.z))
        on = (work.r > 0.0) & (np.abs(work.z) < self.radius)
        on &= (angle >= max(swing[0], first) + 1e-3) & (angle <= min(swing[1], last) - 1e-3)
        self._true(work, on, "the ball")
        self._corner(work)

    def _corner(self, work: Work) -> None:
        """Between ball and stem nothing is left but the round of the nose."""
        radius, nose = self.radius, self.head.nose_mm
        # the round in the angle that the ball's side makes with the stem, a twentieth off it
        free = (pi - acos(self.neck / radius)) / 2
        most = nose * (1 / sin(free) - 1) + 0.05 / sin(free)
        least = np.hypot(work.z + self.shoulder, work.r - self.neck).min()
        # a handle is as thick all along the groove as it is at its end
        necks = [s.diameter_mm / 2 for s in self.plan.roughing.steps if s.side == "neck"]
        most += 1.5 * (necks[0] - self.neck) if self.taper and necks else 0.0
        if "sweep" not in self.findings and not self.half and least > most + CORNER_MM:
            self.faults.append(f"{least:.3f} is left between ball and stem, {most:.3f} of a round")

    def _passes(
        self,
        work: Work,
        piece: Column,
        passes: Sequence[PassLoad],
        first_mm: float,
        obstacles: Obstacles,
        spare_mm3: float,
    ) -> None:
        before = first_mm
        for one in passes:
            cut, tip = one.cut, one.cut.taken.radius_mm
            name, (start, stop) = f"pass {cut.taken.number}", cut.swing_deg
            if abs(before - tip - one.depth_mm) > 1e-6:
                self.faults.append(f"{name}: depth {one.depth_mm:.4f}, {before:.4f} to {tip:.4f}")
            before, had, was = tip, work.volume(), work.r
            side = self.head.leading(tip, stop) if stop >= 90.0 else None
            work.cut(swing_floor(work.z, tip, self.head.nose_mm, start, stop, side))
            gone = had - work.volume()
            # a wide round counted in cylinders is touched a little later than that
            early = self._rounds > 0.0 and tip > first_mm - self.job.turning.roughing_corner / 2
            if cut.taken.kind != "spring" and gone < 1e-4 and not early:
                self.faults.append(f"{name} takes nothing")
            # what nose and side take past the ends of the swing may be left out of the count
            arc = (work.z >= tip * cos(radians(stop))) & (work.z <= tip * cos(radians(start)))
            by_arc = float(np.trapezoid(pi * np.where(arc, was**2 - work.r**2, 0.0), work.z))
            spare = 0.02 * cut.removed_mm3 + 1.0 + spare_mm3
            if not by_arc - spare <= cut.removed_mm3 <= gone + spare:
                printed = f"printed {cut.removed_mm3:.2f}"
                self.faults.append(f"{name} takes {by_arc:.2f} to {gone:.2f} mm3, {printed}")
            self._kept(name, work, piece, TRUE_MM)
            if self.every or one in (passes[0], *passes[-3:]):
                self._clear(work, obstacles, tip, poses(start, stop), name, self.head.sliding)

    def _touching(self, work: Work, tip: float, first: float, last: float, where: str) -> None:
        into = work.r - swing_floor(work.z, tip, self.head.nose_mm, first, last)
        # a wide corner leaves a round on the stem that is counted as part of the wall behind it
        least = 1e-3 if self.job.turning.roughing_corner <= 0.2 else 0.03
        self._say_over(f"{where} the tip is in the work", into, work.z, least)

    def _true(self, work: Work, on: NDArray[np.bool_], what: str) -> None:
        off = np.where(on, np.abs(np.hypot(work.r, work.z) - self.radius), 0.0)
        if not on.any() or off.max() > TRUE_MM:
            self._say(f"{what} is off", off, work.z)

    def _kept(self, name: str, work: Work, piece: Column, least: float) -> None:
        self._say_over(f"{name} enters the piece", piece - work.r, work.z, least)

    # what swings, and what stands

    def _in_jaws(self, work: Work) -> Column:
        """The work with jaws and chuck, and the tailstock's centre at its nose."""
        lathe, centre = self.job.lathe, self.job.turning.tailstock_centre
        front = self.radius - self.plan.blank_length_mm
        jaws = (lathe.jaw_diameter or lathe.chuck_diameter) / 2
        r = np.where(work.z <= front, np.maximum(work.r, jaws), work.r)
        r = np.where(work.z <= front - lathe.jaw_reach, lathe.chuck_diameter / 2, r)
        return np.where(work.z > self.radius, centre.diameter / 2, r) if centre else r

    def _clear(
        self,
        work: Work,
        obstacles: Obstacles,
        tip: float,
        angles: Column,
        where: str,
        rest: Sequence[Prism],
    ) -> None:
        z, r = work.z, obstacles(work)
        self._apart(rest, tip, angles, (z, r), self.clearance_mm - SHORT_MM, where)
        bits = self.head.bits
        stays = (z, np.where(z < self._bare_from(), r, 0.0))
        back = [p.part(~p.nose & ~p.side) for p in bits]
        self._apart(back, tip, angles, stays, SIDE_MM, where)
        self._apart([p.part(p.side) for p in bits], tip, angles, stays, BY_NOSE_MM, where)
        self._apart([p.part(p.nose) for p in bits], tip, angles, stays, 0.0, where)
        for step in self.plan.roughing.steps:
            if step.side == "neck":
                beyond = z < self.radius - step.to_mm - HAIR_MM
                thick = beyond & (r > step.diameter_mm / 2 + 0.03)
                self._apart(bits, tip, angles, (z, np.where(thick, r, 0.0)), SIDE_MM, where)

    def _bare_from(self) -> float:
        """In front of it the bit cuts; behind it it may touch nothing."""
        for step in self.plan.roughing.steps:
            if step.side == "neck":
                return self.radius - step.from_mm + self.tools.width - self.tools.corner - 0.02
            if step.side == "body" and self.half:
                return self.radius - step.to_mm
        return -FAR_MM

    def _apart(
        self,
        some: Sequence[Prism],
        tip: float,
        angles: Column,
        outline: tuple[Column, Column],
        asked: float,
        where: str,
    ) -> None:
        if not (outline[1] > 0.0).any():
            return
        found, worst = nearest(some, tip, angles, outline, asked)
        if found < asked - (FILLED_MM if self.taper and asked else 1e-3) and not (
            self._fouled and "z -" in worst
        ):
            self.faults.append(f"{where}: {worst} has {found:.3f} of {asked:.2f}")

    # lengths, hole, second holding

    def _lengths(self) -> None:
        plan, blade = self.plan, max(self.tools.width, self.job.turning.roughing_width)
        out = plan.blank_length_mm - self.radius
        if plan.part_off_mm + blade + OFF_JAWS_MM > out + 1e-6:
            self.faults.append(f"{plan.blank_length_mm:.2f} of blank is too short to part off")
        far = max((step.to_mm for step in plan.roughing.steps), default=0.0)
        if far > plan.blank_length_mm - OFF_JAWS_MM + 1e-6:
            self.faults.append(f"a step to {far:.2f} of {plan.blank_length_mm:.2f} meets the jaws")

    def _hole(self, work: Work) -> None:
        """Nothing is drilled through that still holds the ball."""
        hole = self.plan.hole
        if hole is None or "hole-neck" in self.findings:
            return
        bottom = self.radius - (hole.depth_mm or inf)
        on = (work.z < 0.0) & (work.z > max(bottom, -self.plan.part_off_mm))
        # a tapped hole is not meant to come out: only what is bored through meets the neck
        out = self.plan.second is not None and (bottom > -self.radius or bool(hole.thread))
        about = self.piece(work.z) if out else work.r
        if not self.half and on.any() and about[on].min() < hole.drill_mm / 2 + WALL_MM - 0.02:
            self.faults.append(f"the hole leaves {about[on].min() - hole.drill_mm / 2:.2f} of neck")

    def _second_holding(self, work: Work, second: SecondHolding) -> None:
        other = work.turned_round()
        piece = self.piece(-other.z)
        if abs(second.stub_end_mm - self.plan.part_off_mm) > 1e-6:
            self.faults.append("the stub ends elsewhere than it is parted")

        def held(work: Work) -> Column:
            beside = np.maximum(work.r, second.outside_mm / 2)
            return np.where(work.z <= second.mouth_mm, beside, work.r)

        def alone(work: Work) -> Column:
            return work.r

        obstacles = alone if "second-holding" in self.findings else held
        first, last = second.sweep.start_deg, second.to_deg
        where, least = "second holding, start", self.clearance_mm - SHORT_MM
        self._touching(other, second.first_mm, first, last, where)
        self._clear(other, obstacles, second.first_mm, poses(first, last), where, self.head.rest)
        felt, where = poses(first, second.touch_deg), "second holding, felt for"
        for tip in (self.radius, second.first_mm):
            self._apart(self.head.rest, tip, felt, (other.z, obstacles(other)), least, where)
        # the round that the nose left at the stem is not counted with what the passes take
        fillet = 0.6 * self.head.nose_mm**2 * 2 * pi * second.stub_radius_mm
        self._passes(other, piece, second.passes, second.first_mm, obstacles, fillet)
        start = self.plan.sweep.start_deg
        nose = self.radius * cos(radians(start)) if start else FAR_MM
        self._true(other, (np.abs(other.z) < self.radius) & (other.z > -nose), "the whole ball")

    # words

    def _say(self, what: str, by: Column, z: Column) -> None:
        k = int(by.argmax())
        self.faults.append(f"{what}: by {by[k]:.3f} at z {z[k]:.2f}")

    def _say_over(self, what: str, by: Column, z: Column, least: float) -> None:
        if by.max() > least and not (self._fouled and z[int(by.argmax())] < -self.shoulder):
            self._say(what, by, z)
