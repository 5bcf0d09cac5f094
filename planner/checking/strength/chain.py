"""The load path and how far each link of it lets the tip spring."""

from __future__ import annotations

from math import pi
from typing import Any

from parts.sizes import Sizes
from parts.standard.materials import material
from parts.value import Value
from planner.checking.strength.bit import bit_give
from planner.checking.strength.model import Give, Link, Load
from planner.checking.strength.shank import Swing, bare_give, joint_give, swing
from planner.sums import mechanics as m
from planner.sums.columns import least, most

ON_TOP_DEG = 90.0

STEP = 1e-3
"""By so much of itself the tube is made stiffer, to see what its share of the give is."""

NEARER = "the tool post nearer to the tube"
"""What mends a long bare shank: its length tells by the third power, and two thirds of it are the
nuts' run."""


class Levers(Value, frozen=True):
    """Where the load path passes, from the tip plane back along x and from the axis along y, mm."""

    rod: Any
    thrust: Any
    housing: Any
    post: Any
    depth: Any
    offset: Any
    arm_eccentric: Any


def levers(s: Any) -> Levers:
    """Where the load path passes, of sizes or of columns of them."""
    side, thrust = s.shank_stock.width_mm, -s.thrust_x_mm
    return Levers(
        rod=-s.rod_x_mm,
        thrust=thrust,
        housing=thrust + s.housing_length_mm,
        post=-s.post_front_x_mm,
        depth=s.spindle_over_seat_mm - side / 2,
        offset=s.shank_inner_z_mm + side / 2,
        arm_eccentric=s.bit_stickout_mm + s.arm_stock.height_mm / 2,
    )


def rod_free_mm(s: Any, tip_mm: Any) -> Any:
    """The rod's free length from the block to the arm, with the tip at a radius; at least 1 mm."""
    return most(1.0, tip_mm + s.bit_stickout_mm - s.block_tip_y_mm)


class Part(Value, frozen=True):
    """A link as worked out: its give, what to do about it and the size to change; play: what it gives
    more where the fit it sits in is loose."""

    name: str
    give: Give
    thicken: str
    mend: str
    play: Give | None = None


def deflection_links(
    s: Sizes, load: Load, tip_mm: float | None = None, swing_deg: float = ON_TOP_DEG
) -> tuple[Link, ...]:
    """The radial deflection of the tip, link by link; tip_mm, swing_deg: as for ``deflection_mm``."""
    found = _chain(s, tip_mm, swing_deg)
    total = sum(_moved(load, one.give) for one in found)
    return tuple(
        Link(
            one.name,
            load.passive_N * float(one.give.passive),
            float(_moved(load, one.give) / total),
            one.thicken,
            float(one.give.passive),
            load.main_N * float(one.give.main),
            one.mend,
            float(_moved(load, one.play)) if one.play else 0.0,
        )
        for one in found
    )


def deflection_mm(
    s: Any, load: Load, tip_mm: float | None = None, swing_deg: float = ON_TOP_DEG
) -> Any:
    """The deflection of the tip, passive and main force together; s: sizes, or columns of them.

    tip_mm: the tip's radius, above 0; by default the largest ball's. swing_deg: of the tip from the
    ball's nose; by default on top, where the ball's diameter is measured.
    """
    return sum(_moved(load, one.give) for one in _chain(s, tip_mm, swing_deg, apart=False))


def _moved(load: Load, give: Give) -> Any:
    return load.passive_N * give.passive + load.main_N * give.main


def _chain(s: Any, tip_mm: float | None, swing_deg: float, apart: bool = True) -> tuple[Part, ...]:
    """The links, from the tip to the tool post.

    Each is the unit-load integral of M m / EI: m the moment of one newton along the rod at the tip, M
    that of one newton of passive or of main force. What sits in a fit is taken as tied to it by the
    load, the stiffest it can be; ``Part.play`` is what it gives more on two supports with its clearance
    between them, the softest. The head and the shaft see the same in every position of the swing, the
    shank does not. The feed force, which changes sides with the swing, is left out, as are the welds
    of shaft and rod, as stiff as what they join. s: sizes, or columns of them. apart: whether tube and
    joint are told apart, which costs as much again; else the joint's is counted with the tube's.
    """
    radius = s.max_ball_diameter_mm / 2 if tip_mm is None else tip_mm
    place = swing(radius, swing_deg)
    return (
        Part("tool bit", bit_give(s), "bit_stock", "a thicker bit, or less of it out"),
        Part("arm", _arm(s), "arm_stock", "a thicker arm"),
        *_rod(s, radius),
        *_beside(s, place, apart),
        Part("bare shank", bare_give(s, place), "shank_stock", NEARER),
    )


def _arm(s: Any) -> Give:
    """A stepped cantilever, its front and its root, that also turns a little on the rod's shoulder."""
    height, steel = s.arm_stock.height_mm, material(s.structure_material).modulus_MPa
    at = levers(s)
    sections = (
        s.arm_overhang_mm,
        m.rectangle_second_moment(s.arm_lead_mm + s.arm_half_width_mm, height),
        s.rod_from_front_mm,
        m.rectangle_second_moment(s.arm_stock.width_mm, height),
        steel,
    )
    turn = m.root_tilt_rad_per_Nmm(s.rod_diameter_mm, steel)
    passive = m.stepped_cantilever_mm_per_N(*sections) + at.rod**2 * turn
    main = m.stepped_cantilever_mm_per_Nmm(*sections) + at.rod * turn
    return Give(passive, -at.arm_eccentric * main)


def _rod(s: Any, radius: Any) -> tuple[Part, Part]:
    """The free rod, and the rod in its clamp: the block turning under it as a half-space would."""
    shaft, steel = (material(x).modulus_MPa for x in (s.shaft_material, s.structure_material))
    at, second = levers(s), m.round_second_moment(s.rod_diameter_mm)
    free = rod_free_mm(s, radius)
    above = free - s.bit_stickout_mm  # the tip over the block's face; less than nothing inside it
    stretch = free / (shaft * pi * s.rod_diameter_mm**2 / 4)
    rod = Give(
        at.rod**2 * free / (shaft * second) + stretch,
        at.rod * free * (above - s.bit_stickout_mm) / 2 / (shaft * second),
    )
    tied = m.root_tilt_rad_per_Nmm(s.rod_diameter_mm, steel)
    held = least(s.block_length_mm, most(s.rod_diameter_mm / 2, s.rod_length_mm - free))
    loose = most(0.0, m.bearing_tilt_rad_per_Nmm(held, shaft, second) - tied)

    def turned(by: Any) -> Give:
        return Give(at.rod**2 * by, at.rod * above * by)

    return (
        Part("rod", rod, "rod_diameter", "a thicker rod"),
        Part(
            "rod in its clamp",
            turned(tied),
            "rod_diameter",
            "a thicker rod; a tight clamp",
            turned(loose),
        ),
    )


def _beside(s: Any, place: Swing, apart: bool) -> tuple[Part, ...]:
    """Tube and shank along their bed; apart: the tube's share told from the joint's.

    Its share is its strain energy: what goes when it is made a little stiffer, over by how much of
    itself (Castigliano; any handbook), so that the shares add up. Before the bed the tube is a solid
    round with the shaft, which is grown out of its mouth; with play the tube is alone, and the shaft
    on its two ends.
    """
    at = levers(s)
    steel, shaft = (material(x).modulus_MPa for x in (s.structure_material, s.shaft_material))
    pivot, whole = (m.round_second_moment(d) for d in (s.pivot_diameter_mm, s.tube_stock.width_mm))
    bed, mouth = at.thrust + s.setback_mm, m.root_tilt_rad_per_Nmm(s.pivot_diameter_mm, steel)
    squares, lever = (bed**3 - at.thrust**3) / 3, (bed**2 - at.thrust**2) / 2
    both = joint_give(s, place)
    joint = Give(0.0, 0.0)
    if apart:
        less = joint_give(s, place, 1 + STEP)
        joint = Give(
            both.passive - (both.passive - less.passive) * (1 + STEP) / STEP,
            both.main - (both.main - less.main) * (1 + STEP) / STEP,
        )
    housing = Give(
        squares / (steel * whole) + at.thrust**2 * mouth + both.passive - joint.passive,
        place.radius_mm * (lever / (steel * whole) + at.thrust * mouth) + both.main - joint.main,
    )
    squares, lever = (at.housing**3 - at.thrust**3) / 3, (at.housing**2 - at.thrust**2) / 2
    more = 1 / (steel * (whole - pivot)) - 1 / (steel * (whole - pivot) + shaft * pivot)
    turn = m.bearing_tilt_rad_per_Nmm(s.housing_length_mm, shaft, pivot) - mouth
    play = Give(
        squares * more + at.thrust**2 * turn,
        place.radius_mm * (lever * more + at.thrust * turn),
    )
    mend = "a thicker tube; nuts with no shake"
    bed_mend = "a larger shank; a higher bed on it"
    return (
        Part("housing and shaft", housing, "tube_stock", mend, play),
        Part("shank on the tube", joint, "shank_stock", bed_mend),
    )


def bearing_tilt_mm(s: Sizes) -> float:
    """How far the tip can shift because the shaft tilts in its bearing, once, to one side.

    The clearance is the greatest the sheet allows the journal in its own bore.
    """
    return m.clearance_tilt_mm(s.pivot_play_mm, s.housing_length_mm, -s.thrust_x_mm)
