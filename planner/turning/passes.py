"""Turning one ball with the swinging tip: what each pass meets, takes off, reads on the dial and takes.

Frame: the ball's centre is the origin, z along the spindle away from the chuck; polar angles run from
the nose (0) over the equator (90) to the stem. The work before swinging is a profile: solid cylinders
end to end. A pass is one swing with the tip at a radius Ri from the pivot; it takes everything farther
out than Ri, shell by shell, as far as the sweep lets the tip go on that shell: from its start, to its
end, down to the stem and back to the relief's wall. The ridges that those stops leave on stem and wall,
of the height of a pass, are counted with the pass. Plain numbers: millimetres, degrees, seconds.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from math import asin, atan2, ceil, cos, degrees, hypot, inf, pi, radians, sqrt, tan
from typing import Literal

import numpy as np

from parts.value import Value
from planner.dial.sense import reading
from planner.sums.mechanics import sound

Kind = Literal["rough", "finish", "spring"]
"""What a pass is for: taking metal off, the last light cut, or once more at the same reading."""

Arc = tuple[float, float]
"""From and to, degrees of swing."""

_SLACK = 1e-9


class Cylinder(Value, frozen=True):
    """A solid length of the work: from z_from_mm up to z_to_mm at radius_mm, above 0."""

    z_from_mm: float
    z_to_mm: float
    radius_mm: float

    def __post_init__(self) -> None:
        sound(length_mm=self.z_to_mm - self.z_from_mm, radius_mm=self.radius_mm)


class Sweep(Value, frozen=True):
    """How far the tip may swing.

    start_deg: 0 to under 90, above 0 where a tailstock centre stands in the way. end_deg: above it, to
    180; under 90 where only a cap is turned.
    stem_radius_mm: what stays behind the centre, 0 for none. back_mm: the wall of the relief behind
    the centre, beyond which the tip does not go. nose_mm: radius of the tip's nose, 0 for a sharp one;
    off_stem_mm: how far the nose stays off the stem.
    """

    start_deg: float = 0.0
    end_deg: float = 180.0
    stem_radius_mm: float = 0.0
    back_mm: float = inf
    nose_mm: float = 0.0
    off_stem_mm: float = 0.0

    def __post_init__(self) -> None:
        if not 0.0 <= self.start_deg < min(90.0, self.end_deg) <= 90.0 or self.end_deg > 180.0:
            given = f"{self.start_deg:g} to {self.end_deg:g} deg"
            raise ValueError(
                f"sweep from {given}: start it before 90, and end it later, at most at 180"
            )
        if not (0.0 <= self.stem_radius_mm < inf and self.back_mm >= 0.0):
            given = f"stem radius {self.stem_radius_mm:g}, relief {self.back_mm:g} mm"
            raise ValueError(f"{given}: give neither below zero")
        if not (0.0 <= self.nose_mm < inf and 0.0 <= self.off_stem_mm < inf):
            given = f"nose {self.nose_mm:g}, {self.off_stem_mm:g} mm off the stem"
            raise ValueError(f"{given}: give neither below zero")

    @property
    def lowest_mm(self) -> float:
        """The least z the tip comes to."""
        return -self.back_mm if self.end_deg > 90.0 else 0.0

    def limits_deg(self, radius_mm: float) -> Arc:
        """Where a swing at a tip radius begins and ends: the stem, the wall or the sweep's own end."""
        kept = self.stem_radius_mm + self.off_stem_mm + self.nose_mm if self.stem_radius_mm else 0.0
        stem = 180.0 - degrees(asin(min(1.0, kept / (radius_mm + self.nose_mm))))
        wall = 90.0 + degrees(asin(min(1.0, self.back_mm / radius_mm)))
        return self.start_deg, min(self.end_deg, stem, wall)


WHOLE = Sweep()
"""From the nose to the pole behind."""


class Pass(Value, frozen=True):
    """One setting of the feed: depth_mm in from the pass before.

    turns, divisions: still to go to the finished ball; reads: what the dial shows, in divisions.
    """

    number: int
    kind: Kind
    radius_mm: float
    depth_mm: float
    turns: int
    divisions: int
    reads: float


class Cut(Value, frozen=True):
    """A pass in the metal.

    swing_deg: from where to where the tip is swung; arcs_deg: where it is in the metal; across_mm: the
    greatest diameter at which the tip cuts; rev_min: of the spindle; feed_mm and deg_per_turn: in one
    turn of it, where it cuts; seconds: for the whole swing, faster in air.
    """

    taken: Pass
    swing_deg: Arc
    arcs_deg: tuple[Arc, ...]
    removed_mm3: float
    across_mm: float
    rev_min: float
    feed_mm: float
    deg_per_turn: float
    seconds: float


class Socket(Value, frozen=True):
    """A hollow part of a sphere, turned with the tip beyond the pivot.

    pivot_mm: the pivot axis in front of the face. end_deg: the swing from the spindle axis, tip toward
    the chuck, out to the mouth's edge.
    """

    radius_mm: float
    depth_mm: float
    mouth_radius_mm: float
    pivot_mm: float
    end_deg: float

    def clear_mm(self, edge_radius_mm: float, ahead_deg: float = 0.0) -> float:
        """The least room, over the whole swing, of an edge that swings with the tip; below 0: it fouls.

        edge_radius_mm: from the pivot axis; ahead_deg: of the tip, in the sense of the swing. An edge
        is clear inside the sphere or in front of the face; the better of the two is given, so at the
        mouth's edge the true room may be more.
        """
        inward = min(max(0.0, ahead_deg), ahead_deg + self.end_deg)
        before_face = self.pivot_mm - edge_radius_mm * cos(radians(inward))
        return max(self.radius_mm - edge_radius_mm, before_face)


def engagement(
    profile: Sequence[Cylinder], radius_mm: float, sweep: Sweep = WHOLE
) -> tuple[Arc, ...]:
    """Where a tip at radius_mm (above 0) is inside the profile, in order of swing.

    Inside a cylinder of radius c the tip is at rho < c: on either side of the angles whose sine is
    c / Ri, and everywhere once Ri <= c; its ends stand at the angles whose cosine is z / Ri. For a
    plain blank faced at R: from acos(R / Ri) to asin(Rb / Ri), and past 180 - asin(Rb / Ri).
    """
    sound(tip_radius_mm=radius_mm)
    first, last = sweep.limits_deg(radius_mm)
    parts = np.array([(p.z_from_mm, p.z_to_mm, p.radius_mm) for p in profile]).reshape(-1, 3)
    start, stop, waist = parts[:, 0], parts[:, 1], _other_leg(radius_mm, parts[:, 2])
    low = np.maximum(np.concatenate([np.maximum(start, waist), start]), -radius_mm)
    high = np.minimum(np.concatenate([stop, np.minimum(stop, -waist)]), radius_mm)
    low, high = low[low < high], high[low < high]
    begin = np.maximum(np.degrees(np.arctan2(_other_leg(radius_mm, high), high)), first)
    end = np.minimum(np.degrees(np.arctan2(_other_leg(radius_mm, low), low)), last)
    met = begin < end
    order = np.argsort(begin[met])
    begin, end = begin[met][order], np.maximum.accumulate(end[met][order])
    apart = np.flatnonzero(begin[1:] > end[:-1] + _SLACK)
    firsts = np.concatenate([begin[:1], begin[apart + 1]])
    lasts = np.concatenate([end[apart], end[-1:]])
    return tuple(zip(firsts.tolist(), lasts.tolist(), strict=True))


def _other_leg(radius_mm: float, leg_mm: np.ndarray) -> np.ndarray:
    return np.sqrt(np.maximum(0.0, radius_mm**2 - leg_mm**2))


def outside_mm3(profile: Sequence[Cylinder], radius_mm: float, sweep: Sweep = WHOLE) -> float:
    """The metal of a profile outside a sphere, as far as the sweep reaches.

    radius_mm: of the sphere, 0 or more. Exact: at any z what stays reaches out to the greatest of
    root(R^2 - z^2), the stem and the cones of the sweep's ends; each squared is A + B z^2, so the rings
    of metal are integrated in closed form from one crossing to the next.
    """
    front = [(radius_mm**2, -1.0), (0.0, tan(radians(sweep.start_deg)) ** 2)]
    behind = [(radius_mm**2, -1.0), (sweep.stem_radius_mm**2, 0.0)]
    if sweep.end_deg > 90.0:
        behind.append((0.0, tan(radians(180.0 - sweep.end_deg)) ** 2))
    total = 0.0
    for part in profile:
        low, c2 = max(sweep.lowest_mm, part.z_from_mm), part.radius_mm**2
        stations = {low, part.z_to_mm, 0.0}
        for kept in (front, behind):
            stations.update(_crossings([*kept, (c2, 0.0)]))
        inside = sorted(z for z in stations if low <= z <= part.z_to_mm)
        for z0, z1 in pairwise(inside):
            middle = (z0 + z1) / 2
            a, b = max(front if middle > 0.0 else behind, key=lambda ab: ab[0] + ab[1] * middle**2)
            if a + b * middle**2 < c2:
                total += pi * ((c2 - a) * (z1 - z0) - b * (z1**3 - z0**3) / 3)
    return total


def start_radius_mm(profile: Sequence[Cylinder], sweep: Sweep = WHOLE) -> float:
    """The tip radius at which a pass first touches: the farthest corner in front of the wall.

    A plain blank is met at root(Rb^2 + R^2). Of a cylinder that reaches in front of the sweep's start,
    a nose's radius before it, only what lies behind counts; where its end leaves the corner out,
    the first passes cut air. Raises ValueError when nothing is in reach.
    """
    found: list[float] = []
    for part in profile:
        front = part.z_to_mm
        if sweep.start_deg > 0.0:
            far = hypot(part.radius_mm, max(part.z_to_mm, 0.0))
            start = radians(sweep.start_deg) - asin(min(1.0, sweep.nose_mm / far))
            front = min(front, part.radius_mm / tan(start)) if start > 0.0 else front
        if front <= max(sweep.lowest_mm, part.z_from_mm):
            continue
        for z in (max(sweep.lowest_mm, part.z_from_mm), front):
            if z > 0.0 or part.radius_mm > sweep.stem_radius_mm + _SLACK:
                found.append(hypot(part.radius_mm, z))
    if not found:
        raise ValueError("no metal within the sweep: give a longer profile or a wider sweep")
    return max(found)


def passes_at(
    start_mm: float,
    final_mm: float,
    depths: Sequence[tuple[Kind, int]],
    division_mm: float,
    divisions: int,
) -> tuple[Pass, ...]:
    """The passes of depths in whole divisions of the dial, from a first touch at start_mm.

    final_mm: the ball's radius; depths: what each takes, together all there is to take; division_mm:
    feed of one division of the dial, which has so many divisions in a turn. The dial reads zero at the
    finished ball and grows to it (dial.sense): radii only fall, so the feed always comes from outside
    and its backlash stays taken up (common practice). Raises ValueError for a start inside the ball or
    depths that do not end on it.
    """
    sound(start_mm=start_mm, final_mm=final_mm, division_mm=division_mm)
    left = whole_divisions(start_mm, final_mm, division_mm)
    if divisions < 1:
        raise ValueError(f"{divisions} divisions: give at least one")
    if sum(depth for _, depth in depths) != left:
        raise ValueError(f"{left} divisions to take: give depths that come to them")
    before, found = start_mm, []
    for number, (kind, depth) in enumerate(depths, 1):
        left -= depth
        radius = final_mm + left * division_mm
        to_go, shown = divmod(left, divisions), reading(left, divisions).number
        found.append(Pass(number, kind, radius, before - radius, *to_go, shown))
        before = radius
    return tuple(found)


def whole_divisions(start_mm: float, final_mm: float, division_mm: float) -> int:
    """How many divisions lead from a first touch to the ball, the first a part of one at least."""
    if start_mm <= final_mm:
        raise ValueError(f"start at {start_mm:g} mm: start outside the ball's {final_mm:g}")
    return ceil((start_mm - final_mm) / division_mm - _SLACK)


def finish_feed_mm(
    height_mm: float, nose_mm: float, most_mm: float, ball_radius_mm: float = inf
) -> float:
    """The feed in one turn that leaves ridges of height_mm, and most_mm at most.

    h = f^2 / 8r (any textbook of metal cutting), on a ball of radius R with 1/r + 1/R for 1/r: the
    surface falls away under the nose.
    """
    sound(height_mm=height_mm, nose_mm=nose_mm, most_mm=most_mm)
    return min(most_mm, sqrt(8 * height_mm / (1 / nose_mm + 1 / ball_radius_mm)))


def engaged(
    profile: Sequence[Cylinder], radii_mm: np.ndarray, sweep: Sweep = WHOLE
) -> tuple[np.ndarray, np.ndarray]:
    """For many tip radii at once: how many degrees the tip is in the metal, and the greatest diameter
    it cuts at (twice the radius where it is nowhere).

    Cylinders stand end to end, so their arcs do not overlap and add up.
    """
    low_z, high_z, thick = (
        np.array([[getattr(part, name) for part in profile]])
        for name in ("z_from_mm", "z_to_mm", "radius_mm")
    )
    tip = radii_mm[:, None]
    limits = np.array([sweep.limits_deg(float(radius)) for radius in radii_mm])
    waist = np.sqrt(np.maximum(0.0, tip**2 - thick**2))
    whole, nearest = np.zeros(len(radii_mm)), np.full(len(radii_mm), np.inf)
    for side in (1.0, -1.0):
        bound = np.where(waist > 0.0, waist, 0.0)
        low = np.maximum(low_z, bound if side > 0 else -tip)
        high = np.minimum(high_z, tip if side > 0 else -bound)
        there = np.where(low < high, 1.0, 0.0)
        first = np.maximum(np.degrees(np.arccos(np.clip(high / tip, -1.0, 1.0))), limits[:, :1])
        last = np.minimum(np.degrees(np.arccos(np.clip(low / tip, -1.0, 1.0))), limits[:, 1:])
        there = there * (first < last)
        whole += ((last - first) * there).sum(axis=1)
        off = np.where(there > 0, np.maximum(0.0, np.maximum(first - 90.0, 90.0 - last)), np.inf)
        nearest = np.minimum(nearest, off.min(axis=1))
    across = 2 * radii_mm * np.cos(np.radians(np.where(nearest < np.inf, nearest, 0.0)))
    return whole, across


def socket(radius_mm: float, depth_mm: float) -> Socket:
    """A hollow of a sphere's radius_mm, depth_mm deep (up to radius_mm), turned with the tip beyond
    the pivot: the mouth is root(R^2 - (R - depth)^2), the swing acos((R - depth) / R).
    """
    if not 0.0 < depth_mm <= radius_mm < inf:
        raise ValueError(f"socket {depth_mm:g} mm deep: give at most its radius {radius_mm:g}")
    pivot = radius_mm - depth_mm
    mouth = sqrt(depth_mm * (2 * radius_mm - depth_mm))
    return Socket(radius_mm, depth_mm, mouth, pivot, degrees(atan2(mouth, pivot)))


def _crossings(squares: list[tuple[float, float]]) -> Iterator[float]:
    """Where any two of A + B z^2 are equal."""
    for (a, b), (c, d) in combinations(squares, 2):
        if b != d and (c - a) / (b - d) >= 0.0:
            z = sqrt((c - a) / (b - d))
            yield from (-z, z)
