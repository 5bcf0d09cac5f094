"""Two bars side by side, bonded along a narrow strip: how one gives while the other is held.

Millimetres, newtons, megapascals. Each bar is a Timoshenko beam that bends both ways, twists and
stretches; the strip between them is an elastic bed, as stiff as two half-planes joined over its
height. Everything goes through as arrays, an entry for each pair. None of it knows the attachment.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.sums.mechanics import sound

POISSON = 0.3
"""Of steel and of the other metals here, near enough (any handbook: 0.28 to 0.34)."""

SHEAR = 5 / 6
"""Part of a rectangle's area that bears shear evenly (Timoshenko's coefficient, any handbook)."""

ROUND_SHEAR = 0.9
"""The same of a round."""

DOUBLINGS = 5
"""The bars are cut into 2^5 pieces, which comes within 0.3 % of any more."""

Matrices = NDArray[np.float64]


@dataclass(frozen=True)
class Strip:
    """Stiffness of a bonded strip for each mm of its length: push N/mm2, turn N.

    across: sideways and upright; along: in its own direction; turning: about its own line, N/rad.
    """

    across: Any
    along: Any
    turning: Any

    def before(self, other: Strip) -> Strip:
        """This and another, one giving after the other."""
        return Strip(
            1 / (1 / self.across + 1 / other.across),
            1 / (1 / self.along + 1 / other.along),
            1 / (1 / self.turning + 1 / other.turning),
        )


def strip_stiffness(height_mm: Any, depth_mm: Any, modulus_MPa: Any) -> Strip:
    """A half-plane, plane strain, with a rigid strip bonded to it.

    Turning: M = pi E' a^2 / 4 for one radian, E' = E / (1 - nu^2), a half the height; pushed, its
    approach over a depth d is 2 / (pi E') ln(2 d / a) for one newton a mm; in antiplane shear
    1 / (pi G) of that logarithm (Johnson, Contact Mechanics, chapter 2). depth_mm: of the whole body
    behind the strip, half of which counts; the logarithm is taken as no less than ln 2, where the strip
    is as high as the body.
    """
    sound(height_mm=height_mm, depth_mm=depth_mm, modulus_MPa=modulus_MPa)
    plane, shear = modulus_MPa / (1 - POISSON**2), modulus_MPa / (2 * (1 + POISSON))
    far = np.maximum(log(2.0), np.log(2 * depth_mm / height_mm))
    return Strip(
        across=pi * plane / (2 * far),
        along=pi * shear / far,
        turning=pi * plane * height_mm**2 / 16,
    )


def rectangle_torsion_mm4(one_mm: Any, other_mm: Any) -> Any:
    """Torsion constant of a rectangle, a b^3 (1/3 - 0.21 b/a (1 - b^4 / (12 a^4))), a >= b (Roark)."""
    sound(one_mm=one_mm, other_mm=other_mm)
    long, short = np.maximum(one_mm, other_mm), np.minimum(one_mm, other_mm)
    ratio = short / long
    return long * short**3 * (1 / 3 - 0.21 * ratio * (1 - ratio**4 / 12))


@dataclass(frozen=True)
class Bar:
    """A bar's stiffness: EA and shear of its section, N; twist and bending about y and z, N mm2.

    off_y_mm, off_z_mm: from its middle to the strip.
    """

    stretch: Any
    shear: Any
    twist: Any
    bend_y: Any
    bend_z: Any
    off_y_mm: Any
    off_z_mm: Any


def rectangle(width_mm: Any, height_mm: Any, modulus_MPa: Any, y_mm: Any, z_mm: Any) -> Bar:
    """A rectangular bar, its height along y; y_mm, z_mm: from its middle to the strip."""
    shear, area = modulus_MPa / (2 * (1 + POISSON)), width_mm * height_mm
    return Bar(
        modulus_MPa * area,
        SHEAR * shear * area,
        shear * rectangle_torsion_mm4(width_mm, height_mm),
        modulus_MPa * height_mm * width_mm**3 / 12,
        modulus_MPa * width_mm * height_mm**3 / 12,
        y_mm,
        z_mm,
    )


def front_flexibility(held: Bar, loaded: Bar, strip: Strip, length_mm: Any) -> Matrices:
    """The 6 x 6 flexibility of the loaded bar's front end, the held bar's rear end fixed: (rows, 6, 6).

    Both lie along x, front at greater x; the other two ends are free. Displacements of the section's
    middle along x, y and z, then its turns about them; forces and moments in the same order. They are
    halved over and over to a short piece, whose stiffness is a one-point Timoshenko element of each
    and the strip between, and pieces are joined two and two again, the nodes between them condensed.
    """
    sound(length_mm=length_mm)
    columns = [*vars(held).values(), *vars(loaded).values(), *vars(strip).values(), length_mm]
    rows = np.broadcast_arrays(*(np.atleast_1d(np.asarray(x, dtype=float)) for x in columns))
    one, other, bed = Bar(*rows[:7]), Bar(*rows[7:14]), Strip(*rows[14:17])
    piece = rows[17] / 2**DOUBLINGS
    stiff = _bed(one, other, bed, piece)
    for bar, start in ((one, 0), (other, 6)):
        at = np.r_[start : start + 6, start + 12 : start + 18]
        stiff[:, at[:, None], at] += _piece(bar, piece)
    for _ in range(DOUBLINGS):
        stiff = _joined(stiff)
    found = np.linalg.inv(stiff[:, 6:, 6:])[:, 12:, 12:]
    return np.asarray((found + found.transpose(0, 2, 1)) / 2, dtype=float)


def _piece(bar: Bar, long: Matrices) -> Matrices:
    """Stiffness of a short piece: strains at its middle, from the displacements of its two ends."""
    strain = np.zeros((len(long), 6, 12))
    for row in range(6):  # stretch, shear along y and z, twist, bending about y and z
        strain[:, row, row] = -1 / long
        strain[:, row, row + 6] = 1 / long
    strain[:, 1, 5] = strain[:, 1, 11] = -0.5  # v' - turn about z
    strain[:, 2, 4] = strain[:, 2, 10] = 0.5  # w' + turn about y
    rigid = (bar.stretch, bar.shear, bar.shear, bar.twist, bar.bend_y, bar.bend_z)
    return _summed(strain, np.stack(rigid, axis=1) * long[:, None])


def _bed(one: Bar, other: Bar, strip: Strip, long: Matrices) -> Matrices:
    """Stiffness of the strip along a short piece, moved as either section carries it."""
    at = np.zeros((len(long), 4, 12))
    for bar, start, sign in ((one, 0, 1.0), (other, 6, -1.0)):
        y, z = bar.off_y_mm, bar.off_z_mm
        for row in range(4):
            at[:, row, start + row] = sign
        at[:, 0, start + 4], at[:, 0, start + 5] = sign * z, -sign * y
        at[:, 1, start + 3], at[:, 2, start + 3] = -sign * z, sign * y
    springs = np.stack((strip.along, strip.across, strip.across, strip.turning), axis=1)
    spread = _summed(at, springs * long[:, None])
    found = np.zeros((len(long), 24, 24))
    for i in (0, 12):  # a linear run between the ends: a third at either, a sixth across
        for j in (0, 12):
            found[:, i : i + 12, j : j + 12] = spread * (1 / 3 if i == j else 1 / 6)
    return found


def _summed(shape: Matrices, rigid: Matrices) -> Matrices:
    return np.asarray(shape.transpose(0, 2, 1) @ (shape * rigid[:, :, None]))


def _joined(stiff: Matrices) -> Matrices:
    """Two equal pieces end to end, the node between them condensed."""
    near, far = slice(0, 12), slice(12, 24)
    inner = stiff[:, far, far] + stiff[:, near, near]
    to = np.concatenate([stiff[:, far, near], stiff[:, near, far]], axis=2)  # the middle's row
    found = np.zeros_like(stiff)
    found[:, near, near], found[:, far, far] = stiff[:, near, near], stiff[:, far, far]
    found -= to.transpose(0, 2, 1) @ np.linalg.solve(inner, to)
    return found
