"""Roughing a blank to steps before the ball is swung: which cylinders to turn, to which readings.

Frame: the ball's centre is the origin, z along the spindle away from the chuck. The carriage reads 0
with the tool's left side at the faced end and counts toward the chuck. The turning tool takes the body
round, then steps down toward the nose, each from the end to its stop. The parting tool plunges the
neck behind the ball as a groove, then steps up on the ball's stem side, each between its neighbours.
From the groove a pointed tool goes toward the chuck and takes what stands in the way of the head, the
longest step first; its right side must clear the ball (flank_deg). A round corner of radius r stays
out of the sphere R + a (a: allowance) when its centre stays out of R + a + r:

    x = root((R + a + r)^2 - z^2) - r      z: of the corner's centre, x: of the step turned

which is the plain chord for a sharp corner. Steps are as few as leave no corner farther out than a
height over the allowance: the next stop is where the step before comes to that height. Only the end of
the tool is looked at: its flanks must clear the wall of a step. Plain numbers in millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import asin, atan2, ceil, degrees, floor, hypot, inf, sqrt
from typing import Literal

from parts.value import Value
from planner.checking.behind import Stand
from planner.sums.mechanics import sound
from planner.turning.dials import (
    NO_DIALS,
    Divisions,
    not_below_zero,
    whole_down,
    whole_from,
    whole_up,
)
from planner.turning.floors import Floor, floors_of, top_mm
from planner.turning.nose import LEAST_RISE_MM, kept_steps
from planner.turning.passes import Cylinder, Sweep, outside_mm3

Side = Literal["body", "nose", "neck", "stem", "behind"]
"""Where a step lies: over the ball's whole length, before the equator, the groove behind the ball, the
ball's own stem side, or between groove and jaws where the head comes by."""

PARTED: tuple[Side, ...] = ("neck", "stem")
"""Plunged with the parting tool."""

LEAST_STEP_MM = 0.02
"""A step that takes less off the radius than the one before is left out."""

_SLACK = 1e-9


class Work(Value, frozen=True):
    """The blank and the ball in it.

    radius_mm: of the ball; blank_radius_mm: no less; end_mm: the faced end in front of the centre, 0 or
    more (the ball's radius for a whole ball); stem_radius_mm: less than the ball's, None for a ball
    that is not turned behind its equator; groove_mm: how far behind the centre the neck's groove ends,
    0 or more; behind: the lengths from there to where the blank stays as it came, rising; face_mm:
    radius of the faced end that no step may take.
    """

    radius_mm: float
    blank_radius_mm: float
    end_mm: float
    stem_radius_mm: float | None = None
    groove_mm: float = 0.0
    behind: tuple[Stand, ...] = ()
    face_mm: float = 0.0

    def __post_init__(self) -> None:
        sound(ball_radius_mm=self.radius_mm, blank_radius_mm=self.blank_radius_mm)
        not_below_zero(end_mm=self.end_mm, groove_mm=self.groove_mm)
        ball = f"the ball's {self.radius_mm:g} mm"
        if self.blank_radius_mm < self.radius_mm - _SLACK:
            raise ValueError(f"blank radius {self.blank_radius_mm:g}: give at least {ball}")
        if self.stem_radius_mm is not None and not 0.0 < self.stem_radius_mm < self.radius_mm:
            raise ValueError(f"stem radius {self.stem_radius_mm:g}: give one under {ball}")

    @property
    def wall_mm(self) -> float:
        """How far behind the centre the blank stands as thick as it came."""
        return self.behind[-1].to_mm if self.behind else self.groove_mm


class Tool(Value, frozen=True):
    """The end of a tool: its width and the radius of both corners, 0 or more.

    A plain turning tool has no width but that of its round nose, twice the radius.
    """

    width_mm: float
    corner_mm: float

    def __post_init__(self) -> None:
        not_below_zero(width_mm=self.width_mm, corner_mm=self.corner_mm)

    @property
    def across_mm(self) -> float:
        """From its left side to its right."""
        return max(self.width_mm, 2 * self.corner_mm)


class Step(Value, frozen=True):
    """One step: turn to diameter_mm between two readings of the carriage.

    from_mm, to_mm: of the tool's left side; a plunge where both are the same. radius_mm: from the
    spindle axis; infeed_mm: the cross slide's reading from touching the blank, half of what the
    diameter loses.
    """

    number: int
    side: Side
    from_mm: float
    to_mm: float
    diameter_mm: float
    radius_mm: float
    infeed_mm: float

    @property
    def parted(self) -> bool:
        """Whether it is the parting tool's."""
        return self.side in PARTED


class Roughing(Value, frozen=True):
    """The steps and what they leave.

    profile: from the wall to the faced end. left_mm3: of it, over ball and stem; removed_mm3: by the
    steps. least_mm, greatest_mm: metal over the sphere; the flat of the faced end does not count with
    the least, nor the stem with the greatest.
    """

    steps: tuple[Step, ...]
    profile: tuple[Cylinder, ...]
    left_mm3: float
    removed_mm3: float
    least_mm: float
    greatest_mm: float


def roughing(
    work: Work,
    turner: Tool,
    parter: Tool,
    allowance_mm: float,
    height_mm: float,
    *,
    pitch_mm: float | None = None,
    divisions: Divisions = NO_DIALS,
) -> Roughing:
    """The steps of a blank.

    turner, parter: the turning tool and the parting tool. allowance_mm: 0 or more, left over the ball;
    the stem is turned to size. height_mm: the most that a corner between two steps stands over the
    allowance, above 0; pitch_mm: instead, the carriage's travel from step to step. divisions: of the
    lathe's dials, to which steps are rounded away from the ball. Raises ValueError for a groove too
    narrow for the parting tool.
    """
    not_below_zero(allowance_mm=allowance_mm)
    sound(height_mm=height_mm, pitch_mm=pitch_mm or 1.0)
    table = _Table(work, turner, parter, allowance_mm, height_mm, pitch_mm, divisions)
    steps = tuple(
        Step(number, side, start, stop, 2 * radius, radius, work.blank_radius_mm - radius)
        for number, (side, start, stop, radius) in enumerate(table.steps(), 1)
    )
    profile = profile_after(work, turner, parter, steps)
    stem = work.stem_radius_mm
    reach = Sweep(end_deg=90.0) if stem is None else Sweep(stem_radius_mm=stem)
    blank = (Cylinder(-work.wall_mm, work.end_mm, work.blank_radius_mm),)
    front = [part for part in profile if part.z_to_mm > -work.groove_mm + _SLACK]
    floors = floors_of(work, turner, parter, steps)
    return Roughing(
        steps=steps,
        profile=profile,
        left_mm3=outside_mm3(front, work.radius_mm, reach),
        removed_mm3=outside_mm3(blank, 0.0) - outside_mm3(profile, 0.0),
        least_mm=_least_mm(work, steps, floors),
        greatest_mm=_greatest_mm(work, front, floors),
    )


def flank_deg(work: Work, profile: Sequence[Cylinder], nose_mm: float) -> float:
    """How steep, to the axis, the right side of a tool in the groove must stand to clear the ball.

    The tool's nose, of a radius nose_mm, stands at the groove's far end, on the neck; its side touches
    the nose's round. 90 where a corner stands over the nose itself; 0 without a stem.
    """
    if work.stem_radius_mm is None:
        return 0.0
    low = work.stem_radius_mm
    found = 0.0
    for part in profile:
        if part.z_from_mm > -work.groove_mm + _SLACK and part.radius_mm > low:
            along = part.z_from_mm + work.groove_mm - nose_mm
            up = part.radius_mm - low - nose_mm
            apart = hypot(along, up)
            if along <= 0.0 or apart <= nose_mm:
                # under the round of the nose, or beside it
                found = max(found, 90.0 if up > 0.0 else 0.0)
                continue
            found = max(found, degrees(atan2(up, along) + asin(nose_mm / apart)))
    return min(found, 90.0)


def profile_after(
    work: Work, turner: Tool, parter: Tool, steps: Sequence[Step]
) -> tuple[Cylinder, ...]:
    """The profile that steps leave of a blank, from where it stays as it came to the faced end.

    A round corner is left as SLICES cylinders about it, never less than what is left.
    """
    floors = floors_of(work, turner, parter, steps)
    stations = {-work.wall_mm, -work.groove_mm, work.end_mm}
    for one in floors:
        stations.update(one.slices_mm())
    inside = sorted(z for z in stations if -work.wall_mm <= z <= work.end_mm)
    found: list[Cylinder] = []
    for low, high in pairwise(inside):
        radius = top_mm(work, floors, low, high)
        if radius == 0.0 or high - low < _SLACK:
            continue
        if found and found[-1].radius_mm == radius and low != -work.groove_mm:
            low = found.pop().z_from_mm
        found.append(Cylinder(low, high, radius))
    return tuple(found)


class _Table(Value, frozen=True):
    """What decides where steps stop."""

    work: Work
    turner: Tool
    parter: Tool
    allowance_mm: float
    height_mm: float
    pitch_mm: float | None
    divisions: Divisions

    def steps(self) -> Iterator[tuple[Side, float, float, float]]:
        """In the order they are turned: side, from, to, radius."""
        work, end = self.work, self.work.end_mm
        over = work.radius_mm + self.allowance_mm
        top = self._across(over)
        groove = end + work.groove_mm
        if top < work.blank_radius_mm - _SLACK:
            yield "body", 0.0, groove, top
        height = 0.0 if self.pitch_mm else self.height_mm
        stops = self._down(self.turner, top, work.end_mm)
        ball = work.radius_mm + self.allowance_mm
        for along, radius in kept_steps(stops, top, end, ball, height, work.face_mm):
            yield "nose", 0.0, along, radius
        if work.stem_radius_mm is None:
            yield from self._behind(groove)
            return
        least = self._across(work.stem_radius_mm)
        first = self._left_mm(least)
        if first > groove + _SLACK:
            given = f"groove to {work.groove_mm:g} mm behind the centre, {first - end:g} needed"
            raise ValueError(f"{given}: set it farther back or take a narrower tool")
        if least >= top - _SLACK:
            return
        yield "neck", first, groove, least
        stops = [
            (along, radius)
            for along, radius in self._down(self.parter, top, inf)
            if radius > least + (LEAST_STEP_MM if self.pitch_mm else LEAST_RISE_MM)
        ]
        # its left corner goes on over the wall before, or a ring would stand under its round
        over = self.parter.across_mm - self.parter.corner_mm
        before = first
        for _, radius in reversed(stops):
            left = self._left_mm(radius)
            if left < before - LEAST_STEP_MM:
                yield "stem", left, max(left, before - over), radius
                before = left
        yield from self._behind(groove)

    def _behind(self, groove_mm: float) -> Iterator[tuple[Side, float, float, float]]:
        """From the groove toward the chuck, the longest and thickest first."""
        work = self.work
        last = work.blank_radius_mm
        for stand in reversed(work.behind):
            radius = self._across(stand.radius_mm)
            stop = whole_up(work.end_mm + stand.to_mm, self.divisions.carriage_mm)
            if stop > groove_mm + _SLACK and radius < last - LEAST_STEP_MM:
                yield "behind", groove_mm, stop, radius
                last = radius

    def _down(self, tool: Tool, top_mm: float, to_mm: float) -> list[tuple[float, float]]:
        """From the equator toward an end: how far in from the faced end each stops, and its radius.

        to_mm: how far from the equator the metal goes, without end behind it, where only the radii
        count.
        """
        found: list[tuple[float, float]] = []
        before, far = top_mm, min(to_mm, self.out_mm(tool)) - _SLACK
        sides = self._pitched(far, to_mm) if self.pitch_mm else None
        while True:
            side = next(sides, inf) if sides else self._side_mm(before)
            if side < inf:
                stop = whole_down(self.work.end_mm - side, self.divisions.carriage_mm)
                side = self.work.end_mm - stop
            if side > far:
                return found
            radius = self._across(self._chord_mm(tool, side + tool.corner_mm))
            if radius > before - LEAST_STEP_MM:
                if sides:
                    continue
                return found
            found.append((self.work.end_mm - side, radius))
            before = radius

    def _side_mm(self, before_mm: float) -> float:
        """Where the step before comes to the height, from the equator."""
        farthest = self.work.radius_mm + self.allowance_mm + self.height_mm
        return sqrt(max(0.0, farthest**2 - before_mm**2))

    def _pitched(self, far_mm: float, to_mm: float) -> Iterator[float]:
        """How far from the equator a pitch's stops are, counted from the faced end, up to far_mm."""
        pitch, end = self.pitch_mm or 1.0, self.work.end_mm
        if to_mm == inf:
            number = ceil(end / pitch - _SLACK)
            while pitch * number - end <= far_mm:
                yield pitch * number - end
                number += 1
        else:
            for number in range(floor(end / pitch + _SLACK), 0, -1):
                yield end - pitch * number

    def _across(self, radius_mm: float) -> float:
        """A radius, or more: so many whole divisions of the cross slide in from the blank."""
        return whole_from(self.work.blank_radius_mm, radius_mm, self.divisions.cross_mm)

    def out_mm(self, tool: Tool) -> float:
        """The circle that the centre of a tool's corner stays out of."""
        return self.work.radius_mm + self.allowance_mm + tool.corner_mm

    def _left_mm(self, radius_mm: float) -> float:
        """The reading at which the parting tool's right corner at a radius just clears the ball."""
        corner, out = self.parter.corner_mm, self.out_mm(self.parter)
        centre = sqrt(max(0.0, out**2 - (radius_mm + corner) ** 2))
        left = self.work.end_mm + centre - corner + self.parter.across_mm
        return whole_up(left, self.divisions.carriage_mm)

    def _chord_mm(self, tool: Tool, centre_mm: float) -> float:
        """The radius to turn with the corner's centre so far from the equator."""
        return max(0.0, sqrt(max(0.0, self.out_mm(tool) ** 2 - centre_mm**2)) - tool.corner_mm)


def _least_mm(work: Work, steps: Sequence[Step], floors: Sequence[Floor]) -> float:
    over = min([work.blank_radius_mm] + [s.radius_mm for s in steps if s.side == "body"])
    beside = [
        floor
        for step, floor in zip(steps, floors, strict=True)
        if step.side not in ("body", "behind")
    ]
    return min([over] + [floor.over_ball_mm() for floor in beside]) - work.radius_mm


def _greatest_mm(work: Work, front: Sequence[Cylinder], floors: Sequence[Floor]) -> float:
    """At a corner of the profile in front of the neck's wall, or of the equator."""
    walls = [floor.wall_mm for floor in floors if floor.toward < 0]
    lowest = min([0.0, *walls])
    return max(
        hypot(z, part.radius_mm) - work.radius_mm
        for part in front
        for z in (max(part.z_from_mm, lowest), part.z_to_mm)
        if part.z_to_mm > lowest + _SLACK
    )
