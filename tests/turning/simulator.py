"""Taking the metal off as a turning plan says it: a checker that shares no sum with the planner.

The work is a half profile: its radius on a fine row of places along the spindle, z from the ball's
centre away from the chuck, millimetres. Every tool is a shape that is moved as the sheet's figures say;
what it passes over is gone. What swings is taken as plain polygons, turned and shifted here, and
held against the work as it then stands, its surface laid out by the clearance.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import cos, inf, pi, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from parts.attachment import Attachment, Carrier
from planner.geometry.envelope import swinging_outlines
from planner.job.tables import Job
from planner.turning.model import BallPlan
from planner.turning.roughing import Step

Column = NDArray[np.float64]

GRID_MM = 0.02
"""Places along the spindle stand so far apart; a wall is met by two more, a hair either side of it."""

HAIR_MM = 1e-6

COARSE_MM = 0.05
"""Of the surface that the swinging parts are held against."""

POSES_DEG = 3.0
"""Between two poses of the swing a point 60 mm out bows by a fiftieth of a millimetre."""

SPACING_MM = 0.4
"""Of the points along an outline's sides: against a corner rounded by 2 mm they miss a hundredth."""

OFF_JAWS_MM = 3.0
"""No tool is brought nearer to turning jaws (common practice)."""

BESIDE_MM = 0.05
"""What the clearance may be short of, by samples, rounds and rounding."""

FLANK_MM = 0.15
"""The bit's own side, off what stays."""

BY_THE_NOSE_MM = 0.03
"""The side between nose and shoulder, that comes to it from the nose a twentieth off the stem."""

NOSE_ZONE = 2.0
"""Points of a bit so many nose radii from its tip are counted as its nose."""


def places(low: float, high: float, walls: Sequence[float], grid: float = GRID_MM) -> Column:
    """A row of places along the spindle with both sides of every wall."""
    row = np.arange(low, high + grid, grid)
    both = [w + side for w in walls for side in (-HAIR_MM, HAIR_MM)]
    return np.unique(np.concatenate([row, both]))


@dataclass
class Work:
    """The half profile: radius r at z; 0 where nothing is left. entered: what went wrong, in words."""

    z: Column
    r: Column

    def volume(self) -> float:
        """Cubic millimetres."""
        return float(np.trapezoid(pi * self.r**2, self.z))

    def cut(self, floor: Column) -> Column:
        """Take off what stands over a floor; gives how much of the radius went."""
        left = np.minimum(self.r, floor)
        taken = self.r - left
        self.r = left
        return taken

    def turned_round(self) -> Work:
        """The other way round in the lathe."""
        return Work(-self.z[::-1], self.r[::-1].copy())


def blade_floor(z: Column, low: float, high: float, radius: float, corner: float) -> Column:
    """What a tool leaves that was moved from side to side: flat between two round corners."""
    floor = np.full_like(z, inf)
    over = (z >= low) & (z <= high)
    corner = min(corner, (high - low) / 2)
    depth = np.maximum(0.0, np.maximum(low + corner - z, z - (high - corner)))[over]
    rest = np.sqrt(np.maximum(0.0, corner**2 - depth**2))
    floor[over] = radius + corner - rest
    return floor


def step_floor(step: Step, z: Column, end: float, width: float, corner: float) -> Column:
    """What one roughing step leaves, by its printed figures."""
    far = end - step.to_mm
    if step.parted:
        return blade_floor(z, far, end - step.from_mm + width, step.diameter_mm / 2, corner)
    if step.from_mm == 0.0:
        floor = blade_floor(z, far, 1e6, step.diameter_mm / 2, corner)
        return floor
    right = end - step.from_mm + 2 * corner
    return blade_floor(z, far, right, step.diameter_mm / 2, corner)


def swing_floor(
    z: Column, tip: float, nose: float, first: float, last: float, bit: Prism | None = None
) -> Column:
    """What the bit leaves, swung at a radius: the sphere, its nose's round and its side at the end."""
    floor = np.full_like(z, inf)
    high = tip * cos(radians(first)) if first > 0.0 else inf
    on = (z <= high) & (z >= tip * cos(radians(last)))
    floor[on] = np.sqrt(np.maximum(0.0, tip**2 - z[on] ** 2))
    for angle in (first, last) if first > 0.0 else (last,):
        at_z, at_r = (tip + nose) * cos(radians(angle)), (tip + nose) * sin(radians(angle))
        near = np.abs(z - at_z) < nose
        round_ = at_r - np.sqrt(nose**2 - (z[near] - at_z) ** 2)
        floor[near] = np.minimum(floor[near], np.maximum(round_, 0.0))
    if bit is not None and last >= 90.0:
        side = bit.part((bit.points[:, 1] < 0.0) & (bit.nose | bit.flank))
        at_z, rho = (one[0] for one in swung(side, tip, np.array([last])))
        order = np.argsort(at_z)
        under = np.interp(z, at_z[order], rho[order], left=inf, right=inf)
        ahead = z < (tip + nose) * cos(radians(last))
        floor[ahead] = np.minimum(floor[ahead], under[ahead])
    return floor


@dataclass(frozen=True)
class Prism:
    """One convex prism of what swings: points of its outline (out, ahead), and how far off the plane."""

    name: str
    slides: bool
    cuts: bool
    off: float
    points: Column
    nose: NDArray[np.bool_]
    flank: NDArray[np.bool_]

    def part(self, which: NDArray[np.bool_]) -> Prism:
        """Some of its points."""
        return replace(
            self, points=self.points[which], nose=self.nose[which], flank=self.flank[which]
        )


def prisms(attachment: Attachment, spacing: float = SPACING_MM) -> list[Prism]:
    """What swings, as points along the sides of each outline's hull; the tip on top at radius zero."""
    found = []
    for outline in swinging_outlines(attachment):
        first = outline[0]
        rounds: list[tuple[float, float]] = []
        for e in outline:
            turns = np.linspace(0, 2 * pi, 49)[:-1] if e.round_mm else [0.0]
            rounds += [(e.y_mm + e.round_mm * cos(t), e.z_mm + e.round_mm * sin(t)) for t in turns]
        hull = _hull(rounds)
        points = np.array(list(_along(hull, spacing if not first.cuts else spacing / 2)))
        off = max(0.0, min(e.x_low_mm for e in outline), -max(e.x_high_mm for e in outline))
        nose = max((e.round_mm for e in outline), default=0.0) if first.cuts else 0.0
        near = np.hypot(points[:, 0], points[:, 1]) <= NOSE_ZONE * nose
        shoulder = min((e.y_mm for e in outline if not e.round_mm), default=0.0)
        side = first.cuts & ~near & (points[:, 0] < shoulder - 1e-6)
        slides = first.carrier is Carrier.HEAD
        found.append(Prism(first.name, slides, first.cuts, off, points, near, side))
    return found


def _hull(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The convex hull, gift wrapping."""
    start = min(points)
    hull = [start]
    while True:
        here, best = hull[-1], None
        for p in points:
            if p == here:
                continue
            if best is None:
                best = p
                continue
            turn = (best[0] - here[0]) * (p[1] - here[1]) - (best[1] - here[1]) * (p[0] - here[0])
            further = abs(p[0] - here[0]) + abs(p[1] - here[1]) > abs(best[0] - here[0]) + abs(
                best[1] - here[1]
            )
            if turn < -1e-12 or (abs(turn) <= 1e-12 and further):
                best = p
        if best is None or best == start or len(hull) > len(points):
            return hull
        hull.append(best)


def _along(hull: list[tuple[float, float]], spacing: float) -> Iterator[tuple[float, float]]:
    for one, other in zip(hull, [*hull[1:], hull[0]], strict=True):
        count = max(1, int(np.hypot(other[0] - one[0], other[1] - one[1]) / spacing))
        for k in range(count):
            t = k / count
            yield one[0] + t * (other[0] - one[0]), one[1] + t * (other[1] - one[1])


def poses(first: float, last: float, step: float = POSES_DEG) -> Column:
    """Angles from one to the other, both in."""
    return np.linspace(first, last, max(2, int((last - first) / step) + 2))


def swung(prism: Prism, tip: float, angles: Column) -> tuple[Column, Column]:
    """Where the points stand at the angles: z, and distance from the spindle."""
    out = prism.points[:, 0] + (tip if prism.slides else 0.0)
    ahead = prism.points[:, 1]
    c, s = np.cos(np.radians(angles))[:, None], np.sin(np.radians(angles))[:, None]
    # at 0 the tip's direction is +z and what is ahead of it (+z on top) has gone on to -y
    z, y = out * c + ahead * s, out * s - ahead * c
    return z, np.hypot(y, prism.off)


def laid_out(z: Column, r: Column, by: float) -> tuple[Column, Column]:
    """The surface laid out by a distance, on an even row: what must stay outside it."""
    row = np.arange(z[0], z[-1], COARSE_MM)
    at = np.where(r > 0.0, r, -1e9)
    even = np.maximum(np.interp(row, z, at), -1e9)
    # a wall between two places of the row counts as on both
    index = np.clip(np.searchsorted(row, z) - 1, 0, len(row) - 1)
    np.maximum.at(even, index, at)
    np.maximum.at(even, np.minimum(index + 1, len(row) - 1), np.where(z > row[index], at, -1e9))
    shifts = int(by / COARSE_MM)
    found = even + by
    for k in range(1, shifts + 1):
        lift = sqrt(max(0.0, by**2 - (k * COARSE_MM) ** 2))
        found[k:] = np.maximum(found[k:], even[:-k] + lift)
        found[:-k] = np.maximum(found[:-k], even[k:] + lift)
    return row, found


def nearest(
    some: Sequence[Prism],
    tip: float,
    angles: Column,
    z: Column,
    r: Column,
    within: float,
    off: float = 0.0,
    place: Callable[[Column, Column], tuple[Column, Column]] | None = None,
) -> tuple[float, str]:
    """The least distance of any point to the work, if it is less than asked; below 0 inside it.

    Points inside the surface laid out by a little more are looked for first, then their true distance
    from the outline of the work is taken.
    """
    row, high = laid_out(z, r, within + 2 * COARSE_MM)
    least, worst = inf, ""
    top = float(high.max())
    for prism in some:
        if prism.off >= (off or top):
            continue
        at_z, rho = swung(prism, tip, angles)
        if place is not None:
            at_z, rho = place(at_z, rho)
        low = rho < top
        at_z, rho = at_z[low], rho[low]
        if not at_z.size:
            continue
        into = np.interp(at_z, row, high, left=-1e9, right=-1e9) - rho
        near = np.argsort(-into)[: min(MOST_NEAR, int((into > 0).sum()))]
        for k in near:
            apart = _distance(float(at_z[k]), float(rho[k]), z, r, within + 0.5)
            if apart < least:
                least = apart
                worst = f"{prism.name} at z {at_z[k]:.2f}, {rho[k]:.2f} off the axis"
    return least, worst


MOST_NEAR = 60


def _distance(at_z: float, rho: float, z: Column, r: Column, within: float) -> float:
    """From a point to the outline of the work, less than 0 inside."""
    low, high = np.searchsorted(z, [at_z - within, at_z + within])
    low, high = max(0, low - 1), min(len(z), high + 1)
    if float(np.interp(at_z, z, r)) > rho:
        return -1.0 if high - low < 2 else -_to_line(at_z, rho, z[low:high], r[low:high])
    return _to_line(at_z, rho, z[low:high], r[low:high]) if high - low > 1 else inf


def _to_line(at_z: float, rho: float, z: Column, r: Column) -> float:
    there = (r[:-1] > 0) | (r[1:] > 0)
    if not there.any():
        return inf
    dz, dr = np.diff(z), np.diff(r)
    t = np.clip(((at_z - z[:-1]) * dz + (rho - r[:-1]) * dr) / (dz**2 + dr**2 + 1e-30), 0.0, 1.0)
    apart = np.hypot(z[:-1] + t * dz - at_z, r[:-1] + t * dr - rho)
    return float(apart[there].min())


@dataclass
class Trial:
    """One plan put to the trial: what was found, in words."""

    plan: BallPlan
    job: Job
    attachment: Attachment
    shapes: list[Prism]
    nose: float
    faults: list[str] = field(default_factory=list)
    steps: float = POSES_DEG
    fouled: bool = False

    def say(self, what: str) -> None:
        self.faults.append(what)

    # the piece, from the job's own keys

    @property
    def radius(self) -> float:
        return self.plan.ball.spec.diameter / 2

    @property
    def whole(self) -> bool:
        return self.plan.ball.spec.shape in ("ball", "taper handle")

    @property
    def neck(self) -> float:
        spec = self.plan.ball.spec
        return (spec.stem_diameter or 0.35 * spec.diameter) / 2

    @property
    def shoulder(self) -> float:
        """Where ball and stem meet, behind the centre."""
        return sqrt(self.radius**2 - self.neck**2) if self.whole else 0.0

    def finished(self, z: Column) -> Column:
        """The finished piece's radius."""
        spec, radius = self.plan.ball.spec, self.radius
        ball = np.sqrt(np.maximum(0.0, radius**2 - z**2))
        if not self.whole:
            return np.where(z >= 0.0, ball, 0.0)
        if spec.stem_length is None:
            return ball
        shoulder = sqrt(radius**2 - self.neck**2)
        end = shoulder + spec.stem_length
        large = spec.large_diameter / 2 if spec.shape == "taper handle" else self.neck
        stem = np.interp(-z, [shoulder, max(end, shoulder + 1e-9)], [self.neck, large])
        return np.where(-z >= shoulder, np.where(-z <= end, stem, 0.0), ball)

    def blank(self) -> tuple[float, float]:
        """Radius across the flats and across the corners."""
        flats = self.plan.ball.blank_mm / 2
        over = {"round": 1.0, "square": sqrt(2.0), "hexagon": 2 / sqrt(3.0)}
        return flats, flats * over[self.plan.ball.spec.blank_shape]

    def start(self) -> Work:
        plan, end = self.plan, self.radius
        out = plan.blank_length_mm
        width = self.blade()[0]
        walls = [end, end - out, -plan.part_off_mm]
        for step in plan.roughing.steps:
            walls += [end - step.to_mm, end - step.from_mm, end - step.from_mm + width]
        low = end - out - self.job.lathe.jaw_reach - 80.0
        z = places(low, end + 1.0, walls)
        return Work(z, np.where(z <= end, self.blank()[1], 0.0))

    def blade(self) -> tuple[float, float]:
        turning = self.job.turning
        corner = turning.roughing_corner
        if turning.roughing_tool == "plain":
            return 2 * corner, corner
        width = turning.roughing_width
        return width, min(corner, width / 2)

    @property
    def rounds(self) -> float:
        """What wide corners of the roughing tools may have left less than is counted with, mm3."""
        corner = self.job.turning.roughing_corner
        if corner <= 0.2:
            return 0.0
        return 0.06 * corner**2 * 2 * pi * self.radius * len(self.plan.roughing.steps)

    @property
    def bit(self) -> Prism:
        return next(p for p in self.shapes if p.cuts)

    # the run

    def run(self) -> list[str]:
        work = self.start()
        finished = self.finished(work.z)
        self.rough(work, finished)
        self.swing_all(work, finished)
        self.lengths()
        if self.plan.second is not None:
            self.second(work)
        elif self.whole and self.plan.ball.spec.stem_length is not None:
            on = (work.z < 0) & (-work.z <= self.plan.part_off_mm)
            if (work.r[on] < finished[on] - 1e-6).any() and not self.fouled:
                self.say("the stem is not all there")
        return self.faults

    def rough(self, work: Work, finished: Column) -> None:
        plan, end = self.plan, self.radius
        allowed = min(self.job.turning.allowance, 0.4 * self.radius)
        width, corner = self.blade()
        nose = self.job.turning.roughing_corner
        flats, corners = self.blank()
        before = None
        for step in plan.roughing.steps:
            if step.side == "behind":
                self.flank(work, step, nose)
            floor = step_floor(step, work.z, end, width, corner if step.parted else nose)
            taken = work.cut(floor)
            name = f"step {step.number} ({step.side})"
            taper = step.side == "behind" and (
                self.plan.ball.spec.shape == "taper handle" or step.infeed_mm < 0.2
            )
            small = step.side == "body" or self.job.turning.roughing_pitch or taper
            if taken.max() < (0.02 if small else 0.2) - 1e-6:
                self.say(f"{name} takes {taken.max():.3f} only")
            low = finished - work.r
            if low.max() > 1e-6:
                k = int(low.argmax())
                self.say(f"{name} enters the piece by {low.max():.3f} at z {work.z[k]:.2f}")
            if abs(step.diameter_mm / 2 - step.radius_mm) > 1e-6:
                self.say(f"{name}: diameter and radius differ")
            if abs(corners - step.radius_mm - step.infeed_mm) > 1e-6:
                self.say(f"{name}: infeed is not from the blank")
            before = step
        on = self.over_ball(work)
        over = np.hypot(work.r[on], work.z[on]) - self.radius
        least = min(allowed, corners - self.radius)
        if over.min() < least - 1e-3:
            k = int(over.argmin())
            self.say(f"roughing leaves {over.min():.3f} of {least:.3f} at z {work.z[on][k]:.2f}")

    def over_ball(self, work: Work) -> NDArray[np.bool_]:
        """Places on the ball, off the neck and its corners."""
        back = -sqrt(self.radius**2 - self.neck**2) if self.whole else 0.0
        return (work.z < self.radius - 1e-3) & (work.z > back + 0.0) & (work.r > self.neck + 1e-6)

    def flank(self, work: Work, step: Step, nose: float) -> None:
        """The right side of the pointed tool in the groove, as steep as is printed."""
        left, at = self.radius - step.from_mm, step.diameter_mm / 2
        a = radians(self.plan.flank_deg)
        z0, r0 = left + nose + nose * sin(a), at + nose - nose * cos(a)
        on = (work.z > z0) & (work.z < self.radius)
        if self.plan.flank_deg >= 89.9 or not on.any():
            return
        line = r0 + (work.z[on] - z0) * np.tan(a)
        into = work.r[on] - line
        if into.max() > 1e-3:
            k = int(into.argmax())
            self.say(f"flank {self.plan.flank_deg:.1f} deg cuts {into.max():.3f} into the ball's side"
                     f" at z {work.z[on][k]:.2f}, step {step.number}")

    def obstacles(self, work: Work) -> Column:
        """The work with jaws and chuck behind it."""
        lathe = self.job.lathe
        front = self.radius - self.plan.blank_length_mm
        jaws = (lathe.jaw_diameter or lathe.chuck_diameter) / 2
        r = np.where(work.z <= front, np.maximum(work.r, jaws), work.r)
        face = front - lathe.jaw_reach
        return np.where(work.z <= face, np.maximum(r, lathe.chuck_diameter / 2), r)

    def swing_all(self, work: Work, finished: Column) -> None:
        plan = self.plan
        first, last = plan.sweep.start_deg, plan.sweep.end_deg
        angles = poses(first, last, self.steps)
        self.clear_of(work.z, self.obstacles(work), plan.first_mm, angles, "at the start reading", True)
        self.nose_free(work, plan.first_mm, first, last, "at the start reading")
        self.passes(work, finished, plan.passes, plan.first_mm, self.obstacles, self.rounds)
        z, r = work.z, work.r
        swing = plan.passes[-1].cut.swing_deg
        angle = np.degrees(np.arctan2(r, z))
        on = (r > 0) & (angle >= swing[0]) & (angle <= swing[1] - 1e-3) & (z > -self.radius) & (z < self.radius)
        off = np.abs(np.hypot(r, z)[on] - self.radius)
        if off.size == 0 or off.max() > 0.005:
            k = int(off.argmax())
            self.say(f"the ball is off by {off.max():.4f} at z {z[on][k]:.2f}")

    def passes(self, work, finished, passes, first_mm, obstacles, rounds=0.0) -> None:
        before = first_mm
        for one in passes:
            taken = one.cut.taken
            name = f"pass {taken.number}"
            if abs(before - taken.radius_mm - one.depth_mm) > 1e-6:
                self.say(f"{name}: depth {one.depth_mm:.4f}, from {before:.4f} to {taken.radius_mm:.4f}")
            before = taken.radius_mm
            had, was = work.volume(), work.r
            start, stop = one.cut.swing_deg
            work.cut(swing_floor(work.z, taken.radius_mm, self.nose, start, stop, self.bit))
            gone = had - work.volume()
            if taken.kind != "spring" and gone < 1e-4:
                self.say(f"{name} takes nothing")
            # what the nose's round takes past the end of the swing may be left out of the count
            on = (work.z >= taken.radius_mm * cos(radians(stop))) & (
                work.z <= taken.radius_mm * cos(radians(start))
            )
            by_arc = float(np.trapezoid(pi * np.where(on, was**2 - work.r**2, 0.0), work.z))
            spare = 0.02 * one.cut.removed_mm3 + 1.0 + rounds
            if not by_arc - spare <= one.cut.removed_mm3 <= gone + spare:
                self.say(f"{name} takes {gone:.2f} mm3, printed {one.cut.removed_mm3:.2f}")
            low = finished - work.r
            if low.max() > 0.005 and not (self.fouled and work.z[int(low.argmax())] < -self.shoulder):
                k = int(low.argmax())
                self.say(f"{name} enters the piece by {low.max():.3f} at z {work.z[k]:.2f}")
            angles = poses(start, stop, self.steps)
            self.clear_of(work.z, obstacles(work), taken.radius_mm, angles, name)

    def nose_free(self, work: Work, tip: float, first: float, last: float, where: str) -> None:
        """Nothing is touched yet."""
        floor = swing_floor(work.z, tip, self.nose, first, last)
        into = np.minimum(work.r - floor, 1e3)
        if into.max() > (1e-3 if self.rounds == 0.0 else 0.03) and not (self.fouled and work.z[int(into.argmax())] < -self.shoulder):
            k = int(into.argmax())
            self.say(f"{where} the tip is {into.max():.3f} in the work at z {work.z[k]:.2f}")

    def clear_of(self, z: Column, r: Column, tip: float, angles: Column, where: str, all_: bool = False) -> None:
        clear = self.attachment.sizes.clearance_mm - BESIDE_MM
        rest = [p for p in self.shapes if not p.cuts and (all_ or p.slides)]
        self.least(rest, tip, angles, z, r, clear, where)
        stays = np.where(z < self.groove_wall, r, 0.0)
        bits = [p for p in self.shapes if p.cuts]
        back = [p.part(~p.nose & ~p.flank) for p in bits]
        self.least(back, tip, angles, z, stays, FLANK_MM, where)
        self.least([p.part(p.flank) for p in bits], tip, angles, z, stays, BY_THE_NOSE_MM, where)
        self.least([p.part(p.nose) for p in bits], tip, angles, z, stays, 0.0, where)
        if self.stands_from < inf:
            behind = np.where((z < -self.stands_from) & (r > self.neck_left + 0.03), r, 0.0)
            self.least(bits, tip, angles, z, behind, FLANK_MM, where)

    def least(self, some, tip, angles, z, r, asked, where) -> None:
        if not (r > 0).any():
            return
        found, worst = nearest(some, tip, angles, z, r, asked)
        taper = self.plan.ball.spec.shape == "taper handle"
        if found < asked - (0.06 if taper and asked else 1e-3) and not self.excused(worst):
            self.say(f"{where}: {worst} has {found:.3f} of {asked:.2f}")

    def excused(self, worst: str) -> bool:
        """Whether the plan says itself that a piece so thick is in the way."""
        return self.fouled and "z -" in worst

    @property
    def groove_wall(self) -> float:
        """In front of it the bit cuts; behind it it may touch nothing."""
        width, corner = self.blade()
        for step in self.plan.roughing.steps:
            if step.side == "neck":
                return self.radius - step.from_mm + width - corner - GRID_MM
        body = [s.to_mm for s in self.plan.roughing.steps if s.side == "body"]
        return self.radius - body[0] if body and not self.whole else -1e6

    @property
    def neck_left(self) -> float:
        """The radius of the neck as it is roughed."""
        return next(s.diameter_mm / 2 for s in self.plan.roughing.steps if s.side == "neck")

    @property
    def stands_from(self) -> float:
        """How far behind the centre the groove ends."""
        for step in self.plan.roughing.steps:
            if step.side == "neck":
                return step.to_mm - self.radius + HAIR_MM
        return inf

    def lengths(self) -> None:
        plan = self.plan
        width = max(self.blade()[0], self.job.turning.roughing_width)
        out = plan.blank_length_mm - self.radius
        if plan.part_off_mm + width + OFF_JAWS_MM > out + 1e-6:
            self.say(f"blank {plan.blank_length_mm:.2f} is too short to part off")
        far = max((s.to_mm for s in plan.roughing.steps), default=0.0)
        if far + OFF_JAWS_MM > plan.blank_length_mm + 1e-6:
            self.say(f"a step goes to {far:.2f} of {plan.blank_length_mm:.2f} in front of the jaws")

    def second(self, work: Work) -> None:
        plan, second = self.plan, self.plan.second
        work.r = np.where(work.z < -plan.part_off_mm, 0.0, work.r)
        if abs(second.stub_end_mm - plan.part_off_mm) > 1e-6:
            self.say("the stub ends elsewhere than it is parted")
        other = work.turned_round()
        finished = np.sqrt(np.maximum(0.0, self.radius**2 - other.z**2))

        def held(work: Work) -> Column:
            return np.where(
                work.z <= second.mouth_mm, np.maximum(work.r, second.outside_mm / 2), work.r
            )

        fillet = 0.6 * self.nose**2 * 2 * pi * second.stub_radius_mm
        first, last = second.sweep.start_deg, second.to_deg
        clear = second.clear_mm >= self.attachment.sizes.clearance_mm - 1e-6
        angles = poses(first, last, self.steps)
        self.nose_free(other, second.first_mm, first, last, "second holding, start")
        had = list(self.faults)
        self.clear_of(other.z, held(other), second.first_mm, angles, "second holding, start", True)
        if not clear:
            self.faults = had
        self.passes(other, finished, second.passes, second.first_mm, held if clear else lambda w: w.r, fillet)
        nose = self.radius * cos(radians(plan.sweep.start_deg)) if plan.sweep.start_deg else 1e6
        on = (np.abs(other.z) < self.radius) & (other.z > -nose)
        off = np.abs(np.hypot(other.r, other.z)[on] - self.radius)
        if off.max() > 0.005:
            k = int(off.argmax())
            self.say(f"the whole ball is off by {off.max():.4f} at z {other.z[on][k]:.2f}")
