"""The load path and how far each link of it lets the tip spring."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Any

import numpy as np

from parts.housing import NUT_PLAY_MM
from parts.sizes import PIVOT_PLAY_MM, SETBACK_MM, Sizes
from parts.standard.materials import material
from planner.checking.strength.model import Link, Load
from planner.sums import mechanics as m
from planner.sums.columns import least, most


@dataclass(frozen=True)
class Levers:
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


def waist_mm(s: Any) -> Any:
    """The shank's width behind the housing, relieved for the pivot's nut."""
    return s.shank_stock.width_mm - most(
        0.0, s.nut_diameter_mm / 2 + NUT_PLAY_MM - s.shank_inner_z_mm
    )


def deflection_links(s: Sizes, load: Load, tip_mm: float | None = None) -> tuple[Link, ...]:
    """The radial deflection of the tip, link by link; tip_mm: as for ``deflection_mm``."""
    found = _chain(s, tip_mm)
    total = float(sum(compliance for _, compliance, _, _ in found))
    return tuple(
        Link(
            name,
            load.passive_N * float(c),
            float(c) / total,
            thicken,
            float(c),
            load.main_N * float(by_main),
        )
        for name, c, by_main, thicken in found
    )


def deflection_mm(s: Any, load: Load, tip_mm: float | None = None) -> Any:
    """The deflection of the tip, passive and main force together; s: sizes, or columns of them.

    tip_mm: the tip's radius, above 0; by default the largest ball's.
    """
    links = _chain(s, tip_mm)
    return sum(load.passive_N * c + load.main_N * by_main for _, c, by_main, _ in links)


def _chain(s: Any, tip_mm: float | None) -> tuple[tuple[str, Any, Any, str], ...]:
    """The links: name, mm for one newton of passive force, mm for one of main force, what to thicken.

    Each is the unit-load integral of M m / EI, m = x the moment of one newton along the rod at the tip;
    M is P x for the passive force P and F y for the main force F, y the tip's height over the link.
    Arm: a stepped cantilever, its front and its root, from the rod. Rod: P x constant along its free
    length, F y changing sign at the tip's height. Clamp: the rod in the block on two supports with
    that moment at one. Shaft: the same between the bearing's ends. Housing: tube and shank side by
    side, both bent. Shank: its bare part before the post, relieved for the nut, also twisted by P at
    its offset. Housing weld: the throats of tube to shank (or cheek) as a thin layer in shear, turned
    by both moments about its middle. The other welds and the block are as stiff as what they join. The
    tip is on top, where the ball's diameter is measured; toward the neck F's lever about the shank
    grows to that of its full distance.
    The feed force, which changes sides with the swing, is left out. s: sizes, or columns of them.
    """
    at = levers(s)
    steel = material(s.structure_material).modulus_MPa
    shaft = material(s.shaft_material).modulus_MPa
    radius = s.max_ball_diameter_mm / 2 if tip_mm is None else tip_mm
    height = s.arm_stock.height_mm
    arm_sections = (
        s.arm_overhang_mm,
        m.rectangle_second_moment(s.arm_lead_mm + s.arm_half_width_mm, height),
        s.rod_from_front_mm,
        m.rectangle_second_moment(s.arm_stock.width_mm, height),
        steel,
    )
    arm = m.stepped_cantilever_mm_per_N(*arm_sections)
    arm_main = -at.arm_eccentric * m.stepped_cantilever_mm_per_Nmm(*arm_sections)

    rod_I = m.round_second_moment(s.rod_diameter_mm)
    free = rod_free_mm(s, radius)
    above = free - s.bit_stickout_mm  # the tip over the block's face; less than nothing inside it
    stretch = free / (shaft * pi * s.rod_diameter_mm**2 / 4)
    rod = at.rod**2 * free / (shaft * rod_I) + stretch
    rod_main = at.rod * free * (above - s.bit_stickout_mm) / 2 / (shaft * rod_I)
    held = least(s.block_length_mm, most(s.rod_diameter_mm / 2, s.rod_length_mm - free))
    turn = m.bearing_tilt_rad_per_Nmm(held, shaft, rod_I)
    clamp, clamp_main = at.rod**2 * turn, at.rod * above * turn

    pivot_I = m.round_second_moment(s.pivot_diameter_mm)
    turn = m.bearing_tilt_rad_per_Nmm(s.housing_length_mm, shaft, pivot_I)
    pivot, pivot_main = at.thrust**2 * turn, at.thrust * radius * turn

    side = s.shank_stock.width_mm
    drop = radius + at.depth  # from the tip to the middle of the shank
    tube_I = m.round_second_moment(s.tube_stock.width_mm) - pivot_I
    stiff = steel * (tube_I + m.rectangle_second_moment(side, side))
    welded = at.thrust + SETBACK_MM
    housing = (at.housing**3 - welded**3) / (3 * stiff)
    housing_main = drop * (at.housing**2 - welded**2) / (2 * stiff)

    middle = at.thrust + SETBACK_MM + (s.housing_length_mm - SETBACK_MM) / 2
    give = _weld_rad_per_Nmm(s)
    weld, weld_main = middle**2 * give, middle * drop * give

    waist = waist_mm(s)
    bare = steel * m.rectangle_second_moment(waist, side)
    shank = (at.post**3 - at.housing**3) / (3 * bare)
    shank += m.rectangle_twist_rad(at.offset, at.post - at.housing, side, waist) * at.offset
    shank_main = drop * (at.post**2 - at.housing**2) / (2 * bare)
    return (
        ("arm", arm, arm_main, "arm_stock"),
        ("rod", rod, rod_main, "rod_diameter"),
        ("rod in its clamp", clamp, clamp_main, "rod_diameter"),
        ("pivot shaft", pivot, pivot_main, "pivot_diameter"),
        ("housing weld", weld, weld_main, "weld_leg"),
        ("housing", housing, housing_main, "tube_stock"),
        ("shank before the post", shank, shank_main, "shank_stock"),
    )


def _weld_rad_per_Nmm(s: Any) -> Any:
    """How far the housing's welds turn in their plane for one newton millimetre: 1 / (0.707 G Ju).

    A throat of 0.707 legs, a leg high, in shear: Ju of two lines L long and h apart is
    L^3 / 6 + L h^2 / 2 (Shigley, 9th ed., table 9-1). With a cheek both its pairs, one after the other.
    """
    side, radius = s.shank_stock.width_mm, s.tube_stock.width_mm / 2
    half = (radius**2 - (radius - s.shank_flat_mm) ** 2) ** 0.5
    bedded = least(half, side - s.spindle_over_seat_mm) + least(half, s.spindle_over_seat_mm)
    run = s.housing_length_mm - SETBACK_MM

    def give(apart_mm: Any) -> Any:
        polar = run**3 / 6 + run * apart_mm**2 / 2
        return 1 / (0.707 * m.STEEL_SHEAR_MPa * polar)

    return np.where(s.cheek_mm > 0.0, give(2 * half) + give(side), give(most(1.0, bedded)))


def bearing_tilt_mm(s: Sizes) -> float:
    """How far the tip can shift because the shaft tilts in its bearing, once, to one side.

    The clearance is the greatest the sheet allows the journal in its own bore.
    """
    return m.clearance_tilt_mm(PIVOT_PLAY_MM, s.housing_length_mm, -s.thrust_x_mm)
