"""The passes of one ball: the fastest within its limits, or as the job pins them; and what holds each.

Time is of swinging alone. Where one spindle speed for all roughing costs no more than ONE_SPEED of the
least time, it is kept: nobody changes a belt between passes for less.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.value import Value
from planner.turning.head import Head
from planner.turning.limits import (
    AIR_RATE,
    MOST_DEG_PER_S,
    POWER,
    REASONS,
    Limits,
    Speed,
    depths,
    speeds_for,
)
from planner.turning.optimum import Way, fastest, fastest_of
from planner.turning.passes import (
    Arc,
    Cut,
    Cylinder,
    Kind,
    Sweep,
    engaged,
    engagement,
    outside_mm3,
    passes_at,
    whole_divisions,
)

ONE_SPEED = 1.05
"""A plan at one spindle speed may take so many times the least time."""

LAST = "what is left to take"
"""What stops a pass that takes all there is."""

TIME = "nothing: deeper would save no time"


class Asked(Value, frozen=True):
    """What a plan is made for.

    first_mm: the tip radius of the first touch; radius_mm: of the ball; division_mm, divisions: of the
    dial; finish, spring: divisions of the last cut, and how many times once more. finish_feed_mm: a
    turn; speeds: the lathe's. rev_min, passes: pinned by the job, None for free.
    """

    profile: tuple[Cylinder, ...]
    sweep: Sweep
    first_mm: float
    radius_mm: float
    division_mm: float
    divisions: int
    finish: int
    spring: int
    finish_feed_mm: float
    speeds: tuple[float, ...]
    rev_min: float | None = None
    passes: int | None = None


class Timed(Value, frozen=True):
    """A pass, what stops it from being deeper, and what its spindle from being faster."""

    cut: Cut
    held_by: str
    speed_by: str


class PassPlan(Value, frozen=True):
    """The passes in order; least_s: of all plans in whole divisions within the limits, free of pins.

    one_speed: whether all roughing goes at one speed; over: a limit had to be passed, for not even one
    division is within them all.
    """

    passes: tuple[Timed, ...]
    least_s: float
    one_speed: bool
    over: str = ""

    @property
    def seconds(self) -> float:
        """Of swinging, air included."""
        return sum(one.cut.seconds for one in self.passes)


class _Place(Value, frozen=True):
    """The tip at a reading: where it swings, where it is in metal, how fast the spindle may run."""

    swing: Arc
    cutting_deg: float
    across_mm: float
    speeds: list[Speed]

    def seconds(self, speed: Speed, slow_in_air: bool = False) -> float:
        """Of one swing at a speed; in air faster, unless the pass goes slowly all the way."""
        whole = self.swing[1] - self.swing[0]
        cutting = whole if slow_in_air else self.cutting_deg
        air = min(MOST_DEG_PER_S, AIR_RATE * speed.deg_per_s)
        return cutting / speed.deg_per_s + (whole - cutting) / air


def pass_plan(asked: Asked, limits: Limits, s: Head) -> PassPlan:
    """The passes of a ball."""
    left = whole_divisions(asked.first_mm, asked.radius_mm, asked.division_mm)
    finish = min(asked.finish, left)
    count = left - finish
    to_go = np.arange(count + 1) + finish
    radius = asked.radius_mm + to_go * asked.division_mm
    may = depths(limits, s, radius, to_go * asked.division_mm, asked.division_mm)
    over = ""
    if count and may.most.min() < 1:
        over = REASONS[int(may.by[int(may.most.argmin())])]
    most = np.maximum(may.most, 1)
    places = _places(asked, limits, radius[: max(count, 1)], limits.feed_mm)
    tables = _tables(places, most, may.main_N, limits, asked)
    free = np.min(list(tables.values()), axis=0) if count else np.zeros((1, 1))
    least = fastest(free, count)
    assert least is not None  # one division at a time at the slowest speed always goes
    way, one_speed = _chosen(tables, free, least, count, asked)
    (last,) = _places(asked, limits, np.array([asked.radius_mm]), asked.finish_feed_mm)
    taken: list[tuple[Kind, int]] = [("rough", depth) for depth in way.depths]
    taken.append(("finish", finish))
    taken.extend([("spring", 0)] * asked.spring)
    made = passes_at(asked.first_mm, asked.radius_mm, taken, asked.division_mm, asked.divisions)
    found: list[Timed] = []
    outside, end = 0.0, count
    for one in made:
        rough = one.kind == "rough"
        if rough:
            end -= way.depths[one.number - 1]
        place = places[end] if rough else last
        feed = limits.feed_mm if rough else asked.finish_feed_mm
        depth = way.depths[one.number - 1] if rough else 0
        speed, speed_by = _speed(place, may.main_N[depth], limits, asked)
        if rough and one_speed:
            speed, speed_by = _at_one(place, one_speed, speed, speed_by)
        now = outside_mm3(asked.profile, one.radius_mm, asked.sweep)
        rate = speed.deg_per_s / (speed.rev_min / 60)
        cut = Cut(
            one,
            place.swing,
            engagement(asked.profile, one.radius_mm, asked.sweep),
            max(0.0, now - outside),
            place.across_mm,
            speed.rev_min,
            min(feed, np.radians(rate) * one.radius_mm),
            rate,
            place.seconds(speed, one.kind == "spring"),
        )
        outside = max(outside, now)
        found.append(Timed(cut, _held(one.kind, depth, end, most, may.by, count), speed_by))
    rest = sum(one.cut.seconds for one in found if one.cut.taken.kind != "rough")
    return PassPlan(tuple(found), least.seconds + rest, bool(one_speed), over)


def _held(kind: Kind, depth: int, end: int, most: np.ndarray, by: np.ndarray, count: int) -> str:
    if kind != "rough":
        return ""
    if depth >= most[end]:
        return REASONS[int(by[end])]
    return LAST if end + depth == count and depth == count else TIME


def _places(asked: Asked, limits: Limits, radii_mm: np.ndarray, feed_mm: float) -> list[_Place]:
    """The tip at each of many radii."""
    listed = asked.speeds if asked.rev_min is None else (asked.rev_min,)
    cutting, across = engaged(asked.profile, radii_mm, asked.sweep)
    found = []
    for radius, deg, wide in zip(radii_mm, cutting, across, strict=True):
        tip = float(radius)
        speeds = speeds_for(limits, listed, float(wide), tip, feed_mm)
        found.append(_Place(asked.sweep.limits_deg(tip), float(deg), float(wide), speeds))
    return found


def _power_W(main_N: np.ndarray | float, across_mm: float, rev_min: float) -> np.ndarray | float:
    return main_N * np.pi * across_mm / 1000 * rev_min / 60


def _tables(
    places: Sequence[_Place], most: np.ndarray, main_N: np.ndarray, limits: Limits, asked: Asked
) -> dict[float, np.ndarray]:
    """By spindle speed: the seconds of a pass by its end and depth, infinite where it may not be."""
    deepest = int(most.max())
    wide = np.arange(deepest + 1)
    found: dict[float, np.ndarray] = {}
    for end, place in enumerate(places):
        for speed in place.speeds:
            slowest = speed is place.speeds[0]
            table = found.setdefault(speed.rev_min, np.full((len(places), deepest + 1), np.inf))
            power = np.asarray(_power_W(main_N[: deepest + 1], place.across_mm, speed.rev_min))
            good = (wide >= 1) & (wide <= most[end]) & (power <= limits.power_W)
            if slowest:
                good[1] = True  # one division at the slowest speed is always there to be had
            table[end, good] = place.seconds(speed)
    return found


def _chosen(
    tables: dict[float, np.ndarray], free: np.ndarray, least: Way, count: int, asked: Asked
) -> tuple[Way, float]:
    """The way that is taken, and its one speed; 0 where passes differ in theirs."""
    if not count:
        return least, 0.0
    if asked.passes is not None:
        pinned = fastest_of(free, count, asked.passes)
        if pinned is not None:
            return pinned, 0.0
    best: tuple[Way, float] | None = None
    for rev_min, table in tables.items():
        way = fastest(table, count)
        near = way is not None and way.seconds <= ONE_SPEED * least.seconds
        if way and near and (best is None or way.seconds < best[0].seconds):
            best = way, rev_min
    return best or (least, 0.0)


def _speed(place: _Place, main_N: float, limits: Limits, asked: Asked) -> tuple[Speed, str]:
    """The fastest speed of a pass that the motor drives, and what stops a faster one."""
    good = [
        speed
        for speed in place.speeds
        if _power_W(main_N, place.across_mm, speed.rev_min) <= limits.power_W
    ] or place.speeds[:1]
    stopped = good[-1].by if len(good) == len(place.speeds) else POWER
    return good[-1], "the job's spindle speed" if asked.rev_min else stopped


def _at_one(place: _Place, rev_min: float, free: Speed, otherwise: str) -> tuple[Speed, str]:
    """The speed of all roughing, and what stops a faster one; free: the fastest of this pass alone."""
    speed = next(one for one in place.speeds if one.rev_min == rev_min)
    faster = free.rev_min > rev_min
    return speed, "one speed for all roughing" if faster else otherwise
