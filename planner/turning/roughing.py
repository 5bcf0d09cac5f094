"""Roughing a blank to steps before the tip swings: where to stop, to which diameter, what is left.

Frame as in planner.passes. The carriage reads 0 with the tool's left side at the faced end and counts
up toward the chuck; the tool stands square to the spindle. On the nose side its left corner comes
nearest the ball and each step is turned from the end up to a stop; behind the equator its right corner
does, and each step runs from a stop to the relief's wall, in widths of the tool. A round corner of
radius r stays out of the sphere R + a (a: allowance) when its centre stays out of R + a + r:

    x = root((R + a + r)^2 - z^2) - r      z: of the corner's centre, x: of the step turned

which is the plain chord for a sharp corner. Only the end of the tool is looked at: its flanks must
clear the wall of a step, as a parting tool's do. Plain numbers in millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, cos, floor, hypot, inf, pi, sqrt
from typing import Literal

from planner.sums.mechanics import sound
from planner.turning.passes import Cylinder, Sweep, outside_mm3

Side = Literal["body", "nose", "stem", "neck"]
"""Where a step lies: the whole length, before the equator, behind it, the groove behind the ball."""

LEAST_STEP_MM = 0.02
"""A step that takes less off the radius than the one before is left out."""

SLICES = 8
"""Cylinders that stand for a round corner: they hold 0.05 r^2 of section more than it leaves."""

_SLACK = 1e-9


def _not_below_zero(**values: float) -> None:
    for name, value in values.items():
        if not 0.0 <= value < inf:
            raise ValueError(f"{name} {value:g}: give a number not below zero")


@dataclass(frozen=True)
class Work:
    """The blank and the ball in it.

    radius_mm: of the ball; blank_radius_mm: no less; end_mm: the faced end in front of the centre, 0 or
    more (the ball's radius for a whole ball); stem_radius_mm: less than the ball's, None for a ball
    that is not turned behind its equator; relief_mm: wall of the relief behind the centre, 0 or more.
    """

    radius_mm: float
    blank_radius_mm: float
    end_mm: float
    stem_radius_mm: float | None = None
    relief_mm: float = 0.0

    def __post_init__(self) -> None:
        sound(ball_radius_mm=self.radius_mm, blank_radius_mm=self.blank_radius_mm)
        _not_below_zero(end_mm=self.end_mm, relief_mm=self.relief_mm)
        ball = f"the ball's {self.radius_mm:g} mm"
        if self.blank_radius_mm < self.radius_mm - _SLACK:
            raise ValueError(f"blank radius {self.blank_radius_mm:g}: give at least {ball}")
        if self.stem_radius_mm is not None and not 0.0 < self.stem_radius_mm < self.radius_mm:
            raise ValueError(f"stem radius {self.stem_radius_mm:g}: give one under {ball}")


@dataclass(frozen=True)
class Tool:
    """The end of a tool: its width and the radius of both corners, 0 or more.

    A plain turning tool has no width but that of its round nose, twice the radius.
    """

    width_mm: float
    corner_mm: float

    def __post_init__(self) -> None:
        _not_below_zero(width_mm=self.width_mm, corner_mm=self.corner_mm)

    @property
    def across_mm(self) -> float:
        """From its left side to its right."""
        return max(self.width_mm, 2 * self.corner_mm)


@dataclass(frozen=True)
class Divisions:
    """One division of the carriage's dial and of the cross slide's (radius); 0 for none."""

    carriage_mm: float = 0.0
    cross_mm: float = 0.0

    def __post_init__(self) -> None:
        _not_below_zero(carriage_mm=self.carriage_mm, cross_mm=self.cross_mm)


NO_DIALS = Divisions()


@dataclass(frozen=True)
class Step:
    """One step: turn to diameter_mm between two readings of the carriage.

    One before the equator is turned from 0 up to to_mm; one behind it begins at from_mm, its right
    corner nearest the ball, and ends at the wall. radius_mm: the cross slide's reading from the spindle
    axis; infeed_mm: from touching the blank, half of what the diameter loses.
    """

    number: int
    side: Side
    from_mm: float
    to_mm: float
    diameter_mm: float
    radius_mm: float
    infeed_mm: float


@dataclass(frozen=True)
class Roughing:
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
    tool: Tool,
    allowance_mm: float,
    *,
    pitch_mm: float | None = None,
    height_mm: float | None = None,
    stem_allowance_mm: float | None = None,
    divisions: Divisions = NO_DIALS,
) -> Roughing:
    """The steps of a blank.

    allowance_mm: 0 or more, left over the ball, and over the stem unless it has its own (0 for one
    turned to size). Give one of pitch_mm, the carriage's travel from step to step, or height_mm, the
    most that the radii of two differ before rounding. divisions: of the lathe's dials, to which steps
    are rounded away from the ball. Raises ValueError for a relief too near for the tool.
    """
    on_stem = allowance_mm if stem_allowance_mm is None else stem_allowance_mm
    _not_below_zero(allowance_mm=allowance_mm, stem_allowance_mm=on_stem)
    if (pitch_mm is None) == (height_mm is None):
        raise ValueError("give either the pitch of the steps or their height")
    sound(step_mm=pitch_mm or height_mm or 0.0)
    spacing = pitch_mm, height_mm or inf
    table = _Table(work, tool, allowance_mm, on_stem, *spacing, divisions)
    steps = tuple(
        Step(number, side, start, stop, 2 * radius, radius, work.blank_radius_mm - radius)
        for number, (side, start, stop, radius) in enumerate(table.steps(), 1)
    )
    profile = profile_after(work, tool, steps)
    stem = work.stem_radius_mm
    reach = Sweep(end_deg=90.0) if stem is None else Sweep(stem_radius_mm=stem)
    blank = (Cylinder(-work.relief_mm, work.end_mm, work.blank_radius_mm),)
    return Roughing(
        steps=steps,
        profile=profile,
        left_mm3=outside_mm3(profile, work.radius_mm, reach),
        removed_mm3=outside_mm3(blank, 0.0) - outside_mm3(profile, 0.0),
        least_mm=_least_mm(work, tool, steps),
        greatest_mm=_greatest_mm(work, tool, steps),
    )


def profile_after(work: Work, tool: Tool, steps: Sequence[Step]) -> tuple[Cylinder, ...]:
    """The profile that steps leave of a blank, from the relief's wall to the faced end.

    A round corner is left as SLICES cylinders about it, never less than what is left.
    """
    floors = _floors(work, tool, steps)
    stations = {-work.relief_mm, work.end_mm}
    for one in floors:
        stations.update(one.slices_mm())
    inside = sorted(z for z in stations if -work.relief_mm <= z <= work.end_mm)
    found: list[Cylinder] = []
    for low, high in pairwise(inside):
        radius = _top_mm(work, floors, low, high)
        if radius == 0.0 or high - low < _SLACK:
            continue
        if found and found[-1].radius_mm == radius:
            low = found.pop().z_from_mm
        found.append(Cylinder(low, high, radius))
    return tuple(found)


@dataclass(frozen=True)
class _Table:
    """What decides where steps stop."""

    work: Work
    tool: Tool
    allowance_mm: float
    on_stem_mm: float
    pitch_mm: float | None
    height_mm: float
    divisions: Divisions

    @property
    def out_mm(self) -> float:
        """The circle that the centre of the tool's corner stays out of."""
        return self.work.radius_mm + self.allowance_mm + self.tool.corner_mm

    def steps(self) -> Iterator[tuple[Side, float, float, float]]:
        """Over the equator, down to the nose, down to the neck: side, from, to, radius."""
        work, end, wall = self.work, self.work.end_mm, self.work.end_mm + self.work.relief_mm
        top = _up(work.radius_mm + self.allowance_mm, self.divisions.cross_mm)
        if top < work.blank_radius_mm - _SLACK:
            yield "body", 0.0, wall, top
        before = top = min(top, work.blank_radius_mm)
        for reading in sorted(self._nose_readings(top), reverse=True):
            radius = _up(
                self._chord_mm(end - reading + self.tool.corner_mm), self.divisions.cross_mm
            )
            if radius < before - LEAST_STEP_MM:
                yield "nose", 0.0, reading, radius
                before = radius
        if work.stem_radius_mm is None:
            return
        before, least = top, _up(work.stem_radius_mm + self.on_stem_mm, self.divisions.cross_mm)
        for reading in sorted(self._stem_readings(least, top)):
            right = end - reading + self.tool.across_mm
            radius = _up(self._chord_mm(self.tool.corner_mm - right), self.divisions.cross_mm)
            if least + _SLACK < radius < before - LEAST_STEP_MM:
                yield "stem", reading, wall, radius
                before = radius
        neck = _up(self._stem_reading(least), self.divisions.carriage_mm)
        if least < top - _SLACK and neck > wall + _SLACK:
            given = f"relief to {work.relief_mm:g} mm behind the centre, {neck - end:g} needed"
            raise ValueError(f"{given}: set it farther back or take a narrower tool")
        if least < top - _SLACK:
            yield "neck", neck, wall, least

    def _nose_readings(self, top_mm: float) -> Iterator[float]:
        """Where the left side may stop before the equator, rounded away from the ball."""
        work, corner = self.work, self.tool.corner_mm
        last = work.end_mm + min(corner, work.relief_mm)
        if pitch := self.pitch_mm:
            wanted = [pitch * k for k in range(1, floor(last / pitch + _SLACK) + 1)]
        else:
            low = self._chord_mm(work.end_mm + corner)
            levels = _levels(low, top_mm, self.height_mm)
            if work.end_mm > work.radius_mm + self.allowance_mm:
                levels.insert(0, low)
            wanted = [work.end_mm - self._centre_mm(level) + corner for level in levels]
        rounded = (-_up(-reading, self.divisions.carriage_mm) for reading in wanted)
        return (reading for reading in rounded if _SLACK < reading <= last + _SLACK)

    def _stem_readings(self, least_mm: float, top_mm: float) -> Iterator[float]:
        """Where the left side may start behind the equator, before the neck."""
        width = self.tool.across_mm
        if pitch := self.pitch_mm:
            first = max(0, ceil((self.work.end_mm - self.tool.corner_mm) / pitch + _SLACK))
            last = floor((self._stem_reading(least_mm) - width) / pitch)
            wanted = [pitch * k + width for k in range(first, last + 1)]
        else:
            levels = _levels(least_mm, top_mm, self.height_mm)
            wanted = [self._stem_reading(level) for level in levels]
        return (_up(reading, self.divisions.carriage_mm) for reading in wanted)

    def _stem_reading(self, radius_mm: float) -> float:
        """The least reading at which the right corner at a radius is clear of the ball, behind it."""
        right = self.tool.corner_mm - self._centre_mm(radius_mm)
        return self.work.end_mm - right + self.tool.across_mm

    def _centre_mm(self, radius_mm: float) -> float:
        """How far from the equator the corner's centre stands when it turns a radius."""
        return sqrt(max(0.0, self.out_mm**2 - (radius_mm + self.tool.corner_mm) ** 2))

    def _chord_mm(self, centre_mm: float) -> float:
        """The radius to turn with the corner's centre so far from the equator."""
        return max(0.0, sqrt(max(0.0, self.out_mm**2 - centre_mm**2)) - self.tool.corner_mm)


@dataclass(frozen=True)
class _Floor:
    """The ground a step has cut: from its wall so far toward +z or -z, with the wall's round corner."""

    wall_mm: float
    toward: int
    length_mm: float
    radius_mm: float
    corner_mm: float

    def over_mm(self, low_mm: float, high_mm: float) -> float:
        """The most it leaves between two stations; infinite where it has not cut, as at the wall."""
        middle = ((low_mm + high_mm) / 2 - self.wall_mm) * self.toward
        if not _SLACK < middle <= self.length_mm + _SLACK:
            return inf
        along = ((low_mm if self.toward > 0 else high_mm) - self.wall_mm) * self.toward
        rest = min(max(0.0, self.corner_mm - along), self.corner_mm)
        return self.radius_mm + self.corner_mm - sqrt(self.corner_mm**2 - rest**2)

    def slices_mm(self) -> list[float]:
        """Stations from the wall to the end of its round, at equal angles."""
        turns = (k * pi / 2 / SLICES for k in range(SLICES + 1 if self.corner_mm else 1))
        return [self.wall_mm + self.toward * self.corner_mm * (1 - cos(turn)) for turn in turns]

    def over_ball_mm(self) -> float:
        """How far the round of the corner stays from the ball's centre."""
        centre = self.wall_mm + self.toward * self.corner_mm
        return hypot(centre, self.radius_mm + self.corner_mm) - self.corner_mm


def _floors(work: Work, tool: Tool, steps: Sequence[Step]) -> list[_Floor]:
    found = []
    for step in steps:
        if step.side in ("body", "nose"):
            wall, toward, length = work.end_mm - step.to_mm, 1, step.to_mm
        else:
            wall, toward = work.end_mm - step.from_mm + tool.across_mm, -1
            length = wall + work.relief_mm
        found.append(_Floor(wall, toward, length, step.radius_mm, tool.corner_mm))
    return found


def _top_mm(work: Work, floors: Sequence[_Floor], low_mm: float, high_mm: float) -> float:
    return min([work.blank_radius_mm] + [floor.over_mm(low_mm, high_mm) for floor in floors])


def _least_mm(work: Work, tool: Tool, steps: Sequence[Step]) -> float:
    over = min([work.blank_radius_mm] + [s.radius_mm for s in steps if s.side == "body"])
    floors = _floors(work, tool, [step for step in steps if step.side != "body"])
    return min([over] + [floor.over_ball_mm() for floor in floors]) - work.radius_mm


def _greatest_mm(work: Work, tool: Tool, steps: Sequence[Step]) -> float:
    """At a corner of the profile in front of the neck's wall, or of the equator."""
    walls = [floor.wall_mm for floor in _floors(work, tool, steps) if floor.toward < 0]
    lowest = min([0.0, *walls])
    return max(
        hypot(z, part.radius_mm) - work.radius_mm
        for part in profile_after(work, tool, steps)
        for z in (max(part.z_from_mm, lowest), part.z_to_mm)
        if part.z_to_mm > lowest + _SLACK
    )


def _levels(low_mm: float, high_mm: float, step_mm: float) -> list[float]:
    """Equal levels between two, no farther apart than a step, without the two."""
    count = max(1, ceil((high_mm - low_mm) / step_mm - _SLACK))
    return [low_mm + (high_mm - low_mm) * k / count for k in range(1, count)]


def _up(value_mm: float, division_mm: float) -> float:
    """Up to a whole division, none when it is 0."""
    if division_mm == 0.0:
        return value_mm
    return round(ceil(value_mm / division_mm - _SLACK) * division_mm, 9)
