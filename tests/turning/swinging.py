"""What swings, as points on its outlines that are turned and shifted here, and how near they come.

The outlines are read off the parts; everything done with them is done here: the points that stand for
them, their poses, and their distance from a work given as a profile.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cached_property
from math import cos, hypot, inf, pi, sin, sqrt

import numpy as np
from msgspec.structs import replace
from numpy.typing import NDArray
from scipy.spatial import ConvexHull
from turning.simulator import Column

from parts.attachment import Attachment, Carrier
from parts.value import Value
from planner.geometry.envelope import Outline, swinging_outlines

COARSE_MM = 0.05
"""Places of the surface that points are looked for in front of; the distance itself is taken fine."""

POSES_DEG = 3.0
"""Between two poses a point 60 mm out bows by a fiftieth of a millimetre."""

SPACING_MM = 0.4
"""Of points along a side: at a corner 2 mm off they miss a hundredth."""

CORNERS = 48
"""Points of a round."""

MOST_NEAR = 40
"""So many points that are too near are measured, the deepest of each outline."""

NOSE_ZONE = 2.0
"""Points of a bit so many nose radii from its tip are counted as its nose."""

Points = NDArray[np.float64]
Chosen = NDArray[np.bool_]


class Prism(Value, frozen=True):
    """One convex prism of what swings.

    points: of its outline with the tip on top at radius zero: out along the tip, and square to it, away
    from the chuck; off: how far it stands off the plane in which the tip swings; slides: with the tip's
    radius; cuts: it is the bit, whose nose and side are told from its back.
    """

    name: str
    slides: bool
    cuts: bool
    off: float
    points: Points
    nose: Chosen
    side: Chosen

    def part(self, which: Chosen) -> Prism:
        """Some of its points."""
        return replace(
            self, points=self.points[which], nose=self.nose[which], side=self.side[which]
        )

    def moved(self, out: float) -> Prism:
        """Set farther out along the tip."""
        return replace(self, points=self.points + np.array([out, 0.0]))

    def reversed(self, reach: float) -> Prism:
        """Turned round in its hole: its point beyond the arm, so far out."""
        return replace(self, points=self.points * np.array([-1.0, 1.0]) + np.array([reach, 0.0]))

    def far(self, tip: float) -> float:
        """How far from the pivot its farthest point is, and a little more."""
        out = self.points[:, 0] + (tip if self.slides else 0.0)
        return float(np.hypot(out, self.points[:, 1]).max()) + COARSE_MM

    def swung(self, tip: float, angles: Column) -> tuple[Column, Column]:
        """Where its points stand at the angles: along the spindle, and off it."""
        out = self.points[:, 0] + (tip if self.slides else 0.0)
        ahead = self.points[:, 1]
        c, s = np.cos(np.radians(angles))[:, None], np.sin(np.radians(angles))[:, None]
        return (out * c + ahead * s).ravel(), np.hypot(out * s - ahead * c, self.off).ravel()


class Head(Value, frozen=True):
    """All that swings of one attachment."""

    prisms: tuple[Prism, ...]
    nose_mm: float

    @cached_property
    def bits(self) -> tuple[Prism, ...]:
        """The bit."""
        return tuple(p for p in self.prisms if p.cuts)

    @cached_property
    def rest(self) -> tuple[Prism, ...]:
        """All but the bit."""
        return tuple(p for p in self.prisms if not p.cuts)

    @cached_property
    def sliding(self) -> tuple[Prism, ...]:
        """Of that, what moves with the tip's radius."""
        return tuple(p for p in self.rest if p.slides)

    def leading(self, tip: float, angle: float) -> Column:
        """The side of the bit that leads at the end of a swing: points (z, r) in order of z."""
        bit = self.bits[0]
        z, r = bit.part((bit.points[:, 1] < 0.0) & (bit.nose | bit.side)).swung(
            tip, np.array([angle])
        )
        order = np.argsort(z)
        return np.column_stack([z[order], r[order]])


def head_of(attachment: Attachment, nose_mm: float) -> Head:
    """What swings of an attachment; nose_mm: of its ground bit."""
    return Head(tuple(_prism(one) for one in swinging_outlines(attachment)), nose_mm)


def _prism(outline: Outline) -> Prism:
    first = outline[0]
    corners: list[tuple[float, float]] = []
    for edge in outline:
        turns = [2 * pi * k / CORNERS for k in range(CORNERS)] if edge.round_mm else [0.0]
        corners += [
            (edge.y_mm + edge.round_mm * cos(t), edge.z_mm + edge.round_mm * sin(t)) for t in turns
        ]
    hull = np.array(corners)[ConvexHull(np.array(corners)).vertices]
    points = np.array(list(_along(hull, SPACING_MM / 2 if first.cuts else SPACING_MM)))
    nose = np.zeros(len(points), dtype=bool)
    side = nose
    if first.cuts:
        round_mm = max(edge.round_mm for edge in outline)
        shoulder = min(edge.y_mm for edge in outline if not edge.round_mm)
        nose = np.hypot(points[:, 0], points[:, 1]) <= NOSE_ZONE * round_mm
        side = ~nose & (points[:, 0] < shoulder - 1e-6)
    off = max(0.0, min(e.x_low_mm for e in outline), -max(e.x_high_mm for e in outline))
    slides = first.carrier is Carrier.HEAD
    return Prism(first.name, slides, first.cuts, off, points, nose, side)


def _along(hull: Points, spacing: float) -> Iterator[Points]:
    for one, other in zip(hull, np.roll(hull, -1, axis=0), strict=True):
        count = max(1, int(hypot(*(other - one)) / spacing))
        for k in range(count):
            yield one + (other - one) * (k / count)


def poses(first: float, last: float) -> Column:
    """Angles from one to the other, both in."""
    return np.linspace(first, last, max(2, int((last - first) / POSES_DEG) + 2))


Place = Callable[[Column, Column], tuple[Column, Column]]


def nearest(
    some: Sequence[Prism],
    tip: float,
    angles: Column,
    outline: tuple[Column, Column],
    within: float,
    place: Place | None = None,
) -> tuple[float, str]:
    """The least distance of what swings from a work, where it is less than asked; below 0 inside it.

    outline: of the work, where and how high, 0 for none. place: gives the points in the outline's own
    terms where these are not along the spindle and off it. Points inside the surface laid out by a
    little more than asked are looked for first, then they are measured.
    """
    z, r = outline
    row, high = _laid_out(z, r, within + 2 * COARSE_MM)
    least, worst = inf, ""
    for prism in some:
        if not len(prism.points):
            continue
        # what stands farther along than it ever comes cannot be met
        met = high
        if place is None:
            far = prism.far(tip)
            met = high[np.searchsorted(row, -far) : np.searchsorted(row, far, "right")]
        top = float(met.max(initial=-inf))
        if place is None and prism.off >= top:
            continue
        along, over = prism.swung(tip, angles)
        if place is not None:
            along, over = place(along, over)
        low = over < top
        along, over = along[low], over[low]
        into = np.interp(along, row, high, left=-1e9, right=-1e9) - over
        near = np.flatnonzero(into > 0.0)
        for k in near[np.argsort(-into[near])][:MOST_NEAR]:
            apart = _distance(float(along[k]), float(over[k]), z, r, within + 0.5)
            if apart < least:
                least, worst = apart, f"{prism.name} at z {along[k]:.2f}, {over[k]:.2f} off"
    return least, worst


def _laid_out(z: Column, r: Column, by: float) -> tuple[Column, Column]:
    """A surface laid out by a distance on an even row, a little too high rather than too low."""
    row = np.arange(z[0], z[-1], COARSE_MM)
    there = np.where(r > 0.0, r, -1e9)
    even = np.maximum(np.interp(row, z, there), -1e9)
    index = np.clip(np.searchsorted(row, z) - 1, 0, len(row) - 1)
    np.maximum.at(even, index, there)
    np.maximum.at(even, np.minimum(index + 1, len(row) - 1), there)
    found = even + by
    for k in range(1, int(by / COARSE_MM) + 1):
        lift = sqrt(max(0.0, by**2 - (k * COARSE_MM) ** 2))
        found[k:] = np.maximum(found[k:], even[:-k] + lift)
        found[:-k] = np.maximum(found[:-k], even[k:] + lift)
    return row, found


def _distance(along: float, over: float, z: Column, r: Column, within: float) -> float:
    """From a point to the outline, less than 0 inside it."""
    low, high = np.searchsorted(z, [along - within, along + within])
    low, high = max(0, int(low) - 1), min(len(z), int(high) + 1)
    apart = _to_line(along, over, z[low:high], r[low:high])
    inside = float(np.interp(along, z, r)) > over
    return (-apart if apart < inf else -within) if inside else apart


def _to_line(along: float, over: float, z: Column, r: Column) -> float:
    there = (r[:-1] > 0.0) | (r[1:] > 0.0)
    if not there.any():
        return inf
    dz, dr = np.diff(z), np.diff(r)
    t = ((along - z[:-1]) * dz + (over - r[:-1]) * dr) / (dz**2 + dr**2 + 1e-30)
    t = np.clip(t, 0.0, 1.0)
    apart = np.hypot(z[:-1] + t * dz - along, r[:-1] + t * dr - over)
    return float(apart[there].min())
