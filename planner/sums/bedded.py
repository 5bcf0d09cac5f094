"""Bars side by side, each bonded to the next along a narrow strip: how the last gives, the first held.

Millimetres, newtons, megapascals. Each bar is a Timoshenko beam that bends both ways, twists and
stretches; a strip between two is an elastic bed, as stiff as two half-planes joined over its height.
Everything goes through as arrays, an entry for each row of bars. None of it knows the attachment.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from math import log, pi
from typing import Any

import numpy as np
from msgspec.structs import astuple, replace
from numpy.typing import NDArray

from parts.value import Value
from planner.sums.mechanics import sound

POISSON = 0.3
"""Of steel and of the other metals here, near enough (any handbook: 0.28 to 0.34)."""

SHEAR = 5 / 6
"""Part of a rectangle's area that bears shear evenly (Timoshenko's coefficient, any handbook)."""

ROUND_SHEAR = 0.9
"""The same of a round."""

LEAST_LOG = 0.05
"""What adds no more to the give of a strip as high as its body counts as so much, to stay a number."""

DOUBLINGS = 5
"""The bars are cut into 2^5 pieces, which comes within 0.3 % of any more."""

Matrices = NDArray[np.float64]


class Strip(Value, frozen=True):
    """Stiffness of a bonded strip for each mm of its length: push N/mm2, turn N.

    across: square to its face; edgeways: the way its height goes; along: in its own direction;
    turning: about its own line; swivel: about the normal to its face, N/rad. y_mm, z_mm: its middle.
    lean_y, lean_z: which way its height goes, a vector of length 1; upright by default.
    """

    across: Any
    edgeways: Any
    along: Any
    turning: Any
    swivel: Any
    y_mm: Any = 0.0
    z_mm: Any = 0.0
    lean_y: Any = 1.0
    lean_z: Any = 0.0

    def before(self, other: Strip) -> Strip:
        """This and another, one giving after the other, at this one's place."""
        return replace(
            self,
            across=1 / (1 / self.across + 1 / other.across),
            edgeways=1 / (1 / self.edgeways + 1 / other.edgeways),
            along=1 / (1 / self.along + 1 / other.along),
            turning=1 / (1 / self.turning + 1 / other.turning),
            swivel=1 / (1 / self.swivel + 1 / other.swivel),
        )

    def at(self, y_mm: Any, z_mm: Any, lean_y: Any = 1.0, lean_z: Any = 0.0) -> Strip:
        """The same strip elsewhere."""
        return replace(self, y_mm=y_mm, z_mm=z_mm, lean_y=lean_y, lean_z=lean_z)


def strip_stiffness(height_mm: Any, depth_mm: Any, modulus_MPa: Any) -> Strip:
    """A half-plane, plane strain, with a rigid strip bonded to it.

    Turning: M = pi E' a^2 / 4 for one radian, E' = E / (1 - nu^2), a half the height; pushed, its
    approach over a depth d is 2 / (pi E') ln(2 d / a) for one newton a mm; in antiplane shear
    1 / (pi G) of that logarithm (Johnson, Contact Mechanics, chapter 2). Turned in its own face the
    strip shears the half-plane lengthwise by so much at one edge and as much the other way at the
    other, again in antiplane, whose potential is that of the turned punch with G in place of E' / 2:
    M = pi G a^2 / 2. depth_mm: of the whole body behind the strip, half of which counts; the logarithm
    is taken as no less than ln 2, where the strip is as high as the body. Lengthwise that much of it is
    the shear by which the body's section turns, which a bar has already: only the rest counts.
    """
    sound(height_mm=height_mm, depth_mm=depth_mm, modulus_MPa=modulus_MPa)
    plane, shear = modulus_MPa / (1 - POISSON**2), modulus_MPa / (2 * (1 + POISSON))
    far = np.maximum(log(2.0) + LEAST_LOG, np.log(2 * depth_mm / height_mm))
    return Strip(
        across=pi * plane / (2 * far),
        edgeways=pi * plane / (2 * far),
        along=pi * shear / (far - log(2.0)),
        turning=pi * plane * height_mm**2 / 16,
        swivel=pi * shear * height_mm**2 / 8,
    )


def web_stiffness(thick_mm: Any, span_mm: Any, modulus_MPa: Any) -> Strip:
    """A web between two bodies, so thick and so far across, as the strip that it stands in for.

    Its height is the web's thickness, its place the middle of the span. Per mm of its length (any
    handbook): pulled E' t / span; bent E' t^3 / (12 span); edgeways, built in at both sides, by bending
    E' (t / span)^3 and by shear 5/6 G t / span, one after the other; sheared lengthwise G t / span,
    unevenly through its thickness G t^3 / (12 span).
    """
    sound(thick_mm=thick_mm, span_mm=span_mm, modulus_MPa=modulus_MPa)
    plane, shear = modulus_MPa / (1 - POISSON**2), modulus_MPa / (2 * (1 + POISSON))
    return Strip(
        across=plane * thick_mm / span_mm,
        edgeways=1 / (span_mm / (SHEAR * shear * thick_mm) + (span_mm / thick_mm) ** 3 / plane),
        along=shear * thick_mm / span_mm,
        turning=plane * thick_mm**3 / (12 * span_mm),
        swivel=shear * thick_mm**3 / (12 * span_mm),
    )


def rectangle_torsion_mm4(one_mm: Any, other_mm: Any) -> Any:
    """Torsion constant of a rectangle, a b^3 (1/3 - 0.21 b/a (1 - b^4 / (12 a^4))), a >= b (Roark)."""
    sound(one_mm=one_mm, other_mm=other_mm)
    long, short = np.maximum(one_mm, other_mm), np.minimum(one_mm, other_mm)
    ratio = short / long
    return long * short**3 * (1 / 3 - 0.21 * ratio * (1 - ratio**4 / 12))


class Bar(Value, frozen=True):
    """A bar's stiffness: EA and shear of its section, N; twist and bending about y and z, N mm2.

    y_mm, z_mm: its middle.
    """

    stretch: Any
    shear: Any
    twist: Any
    bend_y: Any
    bend_z: Any
    y_mm: Any
    z_mm: Any


def rectangle(width_mm: Any, height_mm: Any, modulus_MPa: Any, y_mm: Any, z_mm: Any) -> Bar:
    """A rectangular bar, its height along y; y_mm, z_mm: its middle."""
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


def round_bar(diameter_mm: Any, modulus_MPa: Any, y_mm: Any = 0.0, z_mm: Any = 0.0) -> Bar:
    """A round bar; y_mm, z_mm: its middle."""
    sound(diameter_mm=diameter_mm, modulus_MPa=modulus_MPa)
    shear, area = modulus_MPa / (2 * (1 + POISSON)), pi * diameter_mm**2 / 4
    second = modulus_MPa * pi * diameter_mm**4 / 64
    twist = shear * pi * diameter_mm**4 / 32
    return Bar(modulus_MPa * area, ROUND_SHEAR * shear * area, twist, second, second, y_mm, z_mm)


def front_flexibility(bars: Sequence[Bar], strips: Sequence[Strip], length_mm: Any) -> Matrices:
    """The 6 x 6 flexibility of the last bar's front end, the first's rear end fixed: (rows, 6, 6).

    All lie along x, front at greater x, each bonded to the next by a strip; the other ends are free.
    Displacements of the section's middle along x, y and z, then its turns about them; forces and
    moments in the same order. They are halved over and over to a short piece, whose stiffness is a
    one-point Timoshenko element of each and the strips between, and pieces are joined two and two
    again, the nodes between them condensed.
    """
    sound(length_mm=length_mm)
    many = [x for one in (*bars, *strips) for x in astuple(one)]
    rows = np.broadcast_arrays(
        *(np.atleast_1d(np.asarray(x, dtype=float)) for x in many + [length_mm])
    )
    columns = iter(rows)
    bars = [Bar(*islice(columns, len(astuple(one)))) for one in bars]
    strips = [Strip(*islice(columns, len(astuple(one)))) for one in strips]
    piece, node = rows[-1] / 2**DOUBLINGS, 6 * len(bars)
    stiff = np.zeros((len(piece), 2 * node, 2 * node))
    for start, bar in zip(range(0, node, 6), bars, strict=True):
        at = np.r_[start : start + 6, node + start : node + start + 6]
        stiff[:, at[:, None], at] += _piece(bar, piece)
    for start, one, other, strip in zip(range(0, node, 6), bars, bars[1:], strips, strict=False):
        spread = _bed(one, other, strip, piece)
        for i in (0, node):  # a linear run between the ends: a third at either, a sixth across
            for j in (0, node):
                rear, front = slice(i + start, i + start + 12), slice(j + start, j + start + 12)
                stiff[:, rear, front] += spread * (1 / 3 if i == j else 1 / 6)
    for _ in range(DOUBLINGS):
        stiff = _joined(stiff)
    found = np.linalg.inv(stiff[:, 6:, 6:])[:, -6:, -6:]
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
    at = np.zeros((len(long), 5, 12))
    for bar, start, sign in ((one, 0, 1.0), (other, 6, -1.0)):
        y, z = strip.y_mm - bar.y_mm, strip.z_mm - bar.z_mm
        up, out = sign * strip.lean_y, sign * strip.lean_z
        at[:, 0, start], at[:, 0, start + 4], at[:, 0, start + 5] = sign, sign * z, -sign * y
        at[:, 1, start + 1], at[:, 1, start + 2] = -out, up
        at[:, 1, start + 3] = up * y + out * z
        at[:, 2, start + 1], at[:, 2, start + 2] = up, out
        at[:, 2, start + 3] = out * y - up * z
        at[:, 3, start + 3] = sign
        at[:, 4, start + 4], at[:, 4, start + 5] = -out, up
    kinds = (strip.along, strip.across, strip.edgeways, strip.turning, strip.swivel)
    return _summed(at, np.stack(kinds, axis=1) * long[:, None])


def _summed(shape: Matrices, rigid: Matrices) -> Matrices:
    return np.asarray(shape.transpose(0, 2, 1) @ (shape * rigid[:, :, None]))


def _joined(stiff: Matrices) -> Matrices:
    """Two equal pieces end to end, the node between them condensed."""
    half = stiff.shape[1] // 2
    near, far = slice(0, half), slice(half, 2 * half)
    inner = stiff[:, far, far] + stiff[:, near, near]
    to = np.concatenate([stiff[:, far, near], stiff[:, near, far]], axis=2)  # the middle's row
    found = np.zeros_like(stiff)
    found[:, near, near], found[:, far, far] = stiff[:, near, near], stiff[:, far, far]
    found -= to.transpose(0, 2, 1) @ np.linalg.solve(inner, to)
    return found
