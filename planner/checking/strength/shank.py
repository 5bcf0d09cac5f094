"""The shank as the tip feels it: its joint with the tube, and its bare part before the tool post.

The strip along which tube and shank are joined is narrow and lies at one side of the shank, so the
shank is not bent together with the tube: it leaves it gradually, turning about the strip. A plate
between them is two more bars, the part of it that goes with the tube and the part that goes with the
shank. Loads are for one newton at the tip. s: sizes, or columns of them. Imported by
checking.strength.chain.
"""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

import numpy as np
from msgspec.structs import astuple

from parts.housing import nut_reach_mm
from parts.standard.materials import material
from parts.value import Value
from planner.checking.strength.model import Give
from planner.sums.bedded import (
    POISSON,
    SHEAR,
    Bar,
    Matrices,
    front_flexibility,
    rectangle,
    rectangle_torsion_mm4,
    round_bar,
    strip_stiffness,
    web_stiffness,
)
from planner.sums.columns import Picked, alike, least, most

LEAST_WEB = 0.01
"""A web is taken as no shorter, of its height: so short, it gives nothing that counts."""

THROAT = 0.707
"""Of a fillet's leg (Shigley, table 9-2): by so much each weld makes the joined strip higher."""


class Swing(Value, frozen=True):
    """Where the tip is and which way the rod points from the pivot: y and z of both; radius in mm."""

    radius_mm: Any
    up: float
    out: float

    def lever(self, y_mm: Any, z_mm: Any) -> tuple[Any, Any]:
        """The tip over and beyond a line along the pivot."""
        return self.radius_mm * self.up - y_mm, self.radius_mm * self.out - z_mm


def swing(radius_mm: Any, swing_deg: float) -> Swing:
    """The tip at a radius; swing_deg: from the ball's nose, 90 on top."""
    turn = radians(swing_deg)
    return Swing(radius_mm, round(sin(turn), 15), round(cos(turn), 15))


def bare_mm(s: Any) -> Any:
    """The shank between the tube's rear end and the tool post: 0 or more."""
    return most(0.0, s.thrust_x_mm - s.housing_length_mm - s.post_front_x_mm)


def waist_mm(s: Any) -> Any:
    """The shank's width before the post, relieved for the pivot's nut that turns there.

    Where the post stands beside the nut there is no shank beside them, and nothing to relieve.
    """
    relief = most(0.0, nut_reach_mm(s) - s.shank_inner_z_mm)
    beside = bare_mm(s) >= s.thread_run_mm - 1e-6
    return s.shank_stock.width_mm - np.where(beside, relief, 0.0)


def doubling_mm(s: Any) -> Any:
    """Height of a second bar welded on top of the shank, from the bed to the post; 0 without one.

    The one place where ``Sizes.doubling_stock`` is read, which a design without such a bar lacks.
    """
    bar = getattr(s, "doubling_stock", None)
    if isinstance(bar, Picked):
        return bar.of(lambda one: one.width_mm if one else 0.0)
    return bar.width_mm if bar else 0.0


def cheek_height_mm(s: Any) -> Any:
    """Height of the plate between tube and shank; 0 without one."""
    plate = s.cheek_stock
    if isinstance(plate, Picked):
        return plate.of(lambda one: one.width_mm if one else 0.0)
    return plate.width_mm if plate else 0.0


def shank_line(s: Any, doubling: Any = None) -> tuple[Any, Any]:
    """y and z of the middle of the shank beside the tube, its second bar on top included."""
    side = s.shank_stock.width_mm
    top = doubling_mm(s) if doubling is None else doubling
    return (side + top) / 2 - s.spindle_over_seat_mm, s.shank_inner_z_mm + side / 2


class Joint(Value, frozen=True):
    """What the joint's flexibility depends on: a key of a column, and all that a solution needs, mm.

    The shank's width, height, its second bar included, and its middle's height; the height of the
    strip on its side, its middle's height, and its face; the tube, the height of the strip on its
    side and that one's lower edge; the plate's height and thickness, 0 without one; the joined
    length. Heights from the pivot's axis, the face from it along z.
    """

    width: Any
    height: Any
    middle_y: Any
    shank_strip: Any
    strip_y: Any
    strip_z: Any
    tube: Any
    tube_strip: Any
    tube_low: Any
    plate_height: Any
    plate: Any
    length: Any


def joint_of(s: Any, doubling: Any = None) -> Joint:
    """Where and how tube and shank are joined.

    Without a cheek: the tube's flat beds on the shank, and the weld at either edge makes the strip
    higher by a throat, on the shank as far as the shank goes. With one, the shank's whole side is held
    by the plate, and by the weld on its top, as the plate is by the tube's flat and its two welds.
    """
    side, radius, seat = s.shank_stock.width_mm, s.tube_stock.width_mm / 2, s.spindle_over_seat_mm
    top = doubling_mm(s) if doubling is None else doubling
    height, (middle, _) = side + top, shank_line(s, top)
    half = (radius**2 - (radius - s.shank_flat_mm) ** 2) ** 0.5
    throat = THROAT * s.weld_leg_mm
    cheek = s.cheek_mm > 0.0
    bed_top = np.where(cheek, cheek_height_mm(s), height) - seat
    low, high = most(-half, -seat), most(least(half, bed_top), most(-half, -seat) + 1.0)
    below = most(low - throat, -seat)
    over = most(below + 1.0, least(high + throat, bed_top))
    return Joint(
        width=side,
        height=height,
        middle_y=middle,
        shank_strip=np.where(cheek, height + throat, over - below),
        strip_y=np.where(cheek, middle + throat / 2, (below + over) / 2),
        strip_z=s.shank_inner_z_mm,
        tube=s.tube_stock.width_mm,
        tube_strip=most(1.0, high + throat - below),
        tube_low=below,
        plate_height=cheek_height_mm(s),
        plate=s.cheek_mm,
        length=s.housing_length_mm - s.setback_mm,
    )


def joint_flexibility(joint: Joint, modulus_MPa: float, stiffer: float = 1.0) -> Matrices:
    """Flexibility of the tube's section at the bed's front end, the shank held at its rear one.

    (rows, 6, 6), as ``front_flexibility``, about the tube's axis. The tube with the shaft in it is a
    solid round; stiffer: it is so many times as stiff, and so is its own side of the strip.
    """
    rows = np.broadcast_arrays(*(np.atleast_1d(np.asarray(x, float)) for x in astuple(joint)))
    every, plated = Joint(*rows), rows[-2] > 0.0
    found = np.zeros((len(plated), 6, 6))
    for which, solved in ((~plated, _bedded), (plated, _plated)):
        if np.any(which):
            some = Joint(*(column[which] for column in astuple(every)))
            found[which] = solved(some, modulus_MPa, stiffer)
    return found


def _shank(joint: Joint, modulus_MPa: float) -> Bar:
    z = joint.strip_z + joint.width / 2
    return rectangle(joint.width, joint.height, modulus_MPa, joint.middle_y, z)


def _bedded(joint: Joint, modulus_MPa: float, stiffer: float) -> Matrices:
    """Tube on shank: two bars, and the strip gives on either side."""
    modulus = stiffer * modulus_MPa
    one = strip_stiffness(joint.shank_strip, joint.width, modulus_MPa)
    strip = one.before(strip_stiffness(joint.tube_strip, joint.width, modulus))
    bars = (_shank(joint, modulus_MPa), round_bar(joint.tube, modulus))
    return front_flexibility(bars, (strip.at(joint.strip_y, joint.strip_z),), joint.length)


def _plated(joint: Joint, modulus_MPa: float, stiffer: float) -> Matrices:
    """Tube, plate and shank: four bars, the plate parted where all that goes through it must pass.

    That is its throat, from the corner under the tube's lower weld on its one side to the corner over
    the shank's upper weld on its other. Where the shank lies so low that the corners miss each other,
    it is the plate's thickness, and what lies between them a web. Each body gives once, as a
    half-plane: the tube and the lower part on their welded strips, the upper part on the throat. The
    shank is bonded over its whole side and moves as one. It alone is held: the post does not reach
    the plate.
    """
    thick, seat = joint.plate, joint.height / 2 - joint.middle_y
    top, face = joint.plate_height - seat, joint.strip_z - thick
    under, over = joint.tube_low, least(top, joint.strip_y + joint.shank_strip / 2)
    lap, middle = most(0.0, over - under), (under + over) / 2
    high = (lap**2 + thick**2) ** 0.5
    upper, lower = most(1.0, top - middle), most(1.0, middle + seat)

    def part(height: Any, y: Any) -> Bar:
        return rectangle(thick, height, modulus_MPa, y, face + thick / 2)

    modulus = stiffer * modulus_MPa
    bed = strip_stiffness(joint.shank_strip, joint.width, modulus_MPa)
    web = web_stiffness(high, most(LEAST_WEB * high, under - over), modulus_MPa)
    throat = strip_stiffness(high, upper, modulus_MPa).before(web)
    hold = strip_stiffness(joint.tube_strip, joint.tube, modulus)
    return front_flexibility(
        (
            _shank(joint, modulus_MPa),
            part(lower, lower / 2 - seat),
            part(upper, top - upper / 2),
            round_bar(joint.tube, modulus),
        ),
        (
            bed.at(joint.strip_y, joint.strip_z),
            throat.at(middle, face + thick / 2, lap / high, thick / high),
            hold.at(under + joint.tube_strip / 2, face),
        ),
        joint.length,
    )


def joint_give(s: Any, at: Swing, stiffer: float = 1.0, doubling: Any = None) -> Give:
    """The give of tube and shank along their bed; the load comes into the tube at its front end.

    Rows that are alike are worked out once: a search has few different joints among many candidates,
    and meets the same in one block after another.
    """
    modulus = material(s.structure_material).modulus_MPa
    joint = joint_of(s, doubling)
    columns = [np.atleast_1d(np.asarray(one, dtype=float)) for one in astuple(joint)]
    first, same = np.zeros(1, dtype=np.intp), np.zeros(1, dtype=np.intp)
    various = [one for one in columns if len(one) > 1]
    if various:
        first, same = alike(np.stack(various, axis=1))
    rows = [one[first] if len(one) > 1 else np.broadcast_to(one, first.shape) for one in columns]
    flexible = _kept(np.stack(rows, axis=1), modulus, stiffer)
    x, radius = -s.thrust_x_mm + s.setback_mm, at.radius_mm
    # one newton along the rod and one toward the body: forces, then moments about the tube's section
    passive = {1: at.up, 2: at.out, 4: -x * at.out, 5: x * at.up}
    main = {0: -1.0, 4: -radius * at.out, 5: radius * at.up}

    passive, main = ({i: v for i, v in load.items() if np.any(v)} for load in (passive, main))

    def through(other: dict[int, Any]) -> Any:
        found: Any = 0.0
        for i, one in passive.items():
            for j, two in other.items():
                found = found + one * flexible[:, i, j][same] * two
        return found if np.ndim(x) else float(found[0])

    return Give(through(passive), through(main))


_KEPT: dict[tuple[float, ...], Matrices] = {}

MOST_KEPT = 5000


def _kept(joints: Matrices, modulus_MPa: float, stiffer: float) -> Matrices:
    """``joint_flexibility`` of joints, a row each; those met before are not worked out again."""
    if len(_KEPT) > MOST_KEPT:
        _KEPT.clear()
    keys = [(modulus_MPa, stiffer, *row) for row in joints.tolist()]
    new = [at for at, key in enumerate(keys) if key not in _KEPT]
    if new:
        found = joint_flexibility(Joint(*joints[new].T), modulus_MPa, stiffer)
        _KEPT.update((keys[at], one) for at, one in zip(new, found, strict=True))
    return np.stack([_KEPT[key] for key in keys])


def bare_give(s: Any, at: Swing, doubling: Any = None) -> Give:
    """The give of the shank between tube and tool post: bending both ways, twist, shear, stretch.

    A second bar on top reaches the post but is not held by it, so the last half side is the shank
    alone.
    """
    bare, start = bare_mm(s), -s.thrust_x_mm + s.housing_length_mm
    side, waist = s.shank_stock.width_mm, waist_mm(s)
    top = doubling_mm(s) if doubling is None else doubling
    doubled = np.where(np.asarray(top) > 0, most(0.0, bare - side / 2), 0.0)
    z = s.shank_inner_z_mm + side - waist / 2
    alone = _span(s, at, start + doubled, start + bare, side, waist, z)
    if not np.any(top):
        return alone
    both = _span(s, at, start, start + doubled, side + top, waist, z)
    return Give(alone.passive + both.passive, alone.main + both.main)


def _span(s: Any, at: Swing, near: Any, far: Any, height: Any, width: Any, z: Any) -> Give:
    """A piece of bar from near to far behind the tip plane: the unit-load integrals along it."""
    modulus = material(s.structure_material).modulus_MPa
    shear = modulus / (2 * (1 + POISSON))
    over, beyond = at.lever(height / 2 - s.spindle_over_seat_mm, z)
    upright, sideways = width * height**3 / 12, height * width**3 / 12
    twist = over * at.out - beyond * at.up
    squares, lever = (far**3 - near**3) / 3, (far**2 - near**2) / 2
    long = far - near
    passive = squares / modulus * (at.up**2 / upright + at.out**2 / sideways)
    passive = passive + twist**2 * long / (shear * rectangle_torsion_mm4(width, height))
    passive = passive + long / (SHEAR * shear * width * height)
    main = lever / modulus * (at.up * over / upright + at.out * beyond / sideways)
    return Give(passive, main)
