"""Stress and safety of what carries the cut, the welds and the clamp; the clamp's grip."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from msgspec.structs import replace

from parts.body import shaft_weld_leg_mm
from parts.clamp import clamp_screw_mm, clamp_screw_past_mm, clamp_thread_depth_mm
from parts.errors import NotMakeable
from parts.head import foot_weld_leg_mm, plug_leg_mm, spigot_diameter_mm
from parts.hinge import hinge_joined_mm
from parts.sizes import Sizes
from parts.standard.bolts import proof_MPa, torque_coefficient
from parts.standard.errors import UnknownSize
from parts.standard.materials import material
from parts.standard.threads import thread
from planner.checking.strength.chain import levers, rod_free_mm
from planner.checking.strength.model import Hold, Load, Strength
from planner.checking.strength.shank import waist_mm
from planner.sizing.clamping import ABUSE_N, LEAST_PRELOAD, SCREW_FINISH
from planner.sizing.clamping import torque_Nm as hand_torque_Nm
from planner.sums import mechanics as m

SCREW_CLASS = "8.8"

LEAST_SAFETY = 1.5
"""Yield over stress below which nothing should be built (common practice: 1.5 to 2)."""

BIT_STRENGTH_MPa = 1500.0
"""Bending strength a small hardened steel bit is trusted with (common practice; it breaks at twice)."""

ALUMINIUM_FILLER_MPa = 170.0
"""Strength of the weld metal in 6061 with 4043A, the least of the usual pairs (EN 1999-1-1, table 8.8;
memory)."""

HEATED_MM = 40.0
"""How far beside a weld aluminium is weakened at most (EN 1999-1-1, 6.1.6.3: 20 to 40; memory)."""

ELECTRODE_MPa = 480.0
"""Tensile strength of the weld metal of the common electrodes (E70; Shigley, table 9-3; memory)."""


def strengths(s: Sizes, load: Load, torque_Nm: float | None = None) -> tuple[Strength, ...]:
    """Stress and safety of what carries the cut, with the head as far out as the largest blank needs.

    torque_Nm: of the clamp screw; None as in ``clamp_hold``. The worst position of the swing is taken;
    slots and holes are left out. A weld bears the smaller of 0.40 of its parent's yield and 0.30 of its
    metal's strength in shear on the throat (Shigley, table 9-4). What is welded, or less than HEATED_MM
    from a weld, bears what the weld's heat has left.
    """
    at = levers(s)
    tip, main, passive, feed = s.tip_radius_max_mm, load.main_N, load.passive_N, load.feed_N
    free = float(rod_free_mm(s, tip))
    steel_yield = material(s.structure_material).welded_yield_MPa or 0.0
    filler = ALUMINIUM_FILLER_MPa if _aluminium(s) else ELECTRODE_MPa
    forces = (main, passive, feed)
    force = (main**2 + passive**2 + feed**2) ** 0.5

    def bar(name: str, stress: float, limit: float | None, thicken: str) -> Strength:
        source = "bending and torsion of bars, any handbook"
        safety = (limit or 0.0) / stress
        return Strength(name, stress, limit or 0.0, safety, thicken, source, "bar-stress")

    def weld(name: str, stress: float, thicken: str) -> Strength:
        limit = min(0.4 * steel_yield, 0.3 * filler)
        source = "weld treated as a line, Shigley 9th ed., table 9-2"
        return Strength(name, stress, limit, limit / stress, thicken, source, "weld-throat")

    thick, wide = s.arm_stock.height_mm, s.arm_lead_mm + s.arm_half_width_mm
    arm_bent = max(main * at.arm_eccentric, passive * s.arm_overhang_mm) / (wide * thick**2 / 6)
    arm_bent += feed * s.arm_overhang_mm / (thick * wide**2 / 6) + main / (wide * thick)
    arm_twist = m.rectangle_torsion_MPa(feed * at.arm_eccentric, max(wide, thick), min(wide, thick))
    over = max(abs(free - s.bit_stickout_mm), s.bit_stickout_mm)
    rod = m.combined_MPa(
        m.bending_stress_MPa(hypot(passive * at.rod + main * over, feed * free), s.rod_diameter_mm),
        m.torsion_stress_MPa(feed * at.rod, s.rod_diameter_mm),
    )
    shaft_moment, shaft_torque = (
        hypot(passive * at.thrust + main * tip, feed * at.thrust),
        feed * tip,
    )
    shaft = m.combined_MPa(
        m.bending_stress_MPa(shaft_moment, s.pivot_diameter_mm),
        m.torsion_stress_MPa(shaft_torque, s.pivot_diameter_mm),
    )
    side, waist = s.shank_stock.width_mm, float(waist_mm(s))
    far = hypot(at.depth, at.offset)  # the swing brings the tip right across from the shank
    shank_moment = hypot(passive * at.post + main * (tip + far), feed * at.post)
    shank = m.combined_MPa(
        2**0.5 * shank_moment / (side * waist**2 / 6),  # across the corners
        m.rectangle_torsion_MPa(passive * far + feed * (tip + far), side, waist),
    )
    handle = m.bending_stress_MPa(feed * tip, thread(s.handle_thread).minor_external_mm)
    spigot = spigot_diameter_mm(s)
    rod_moment = hypot(
        passive * at.rod + main * (s.bit_stickout_mm + thick), feed * (s.bit_stickout_mm + thick)
    )
    bit = 6 * (main + feed) * s.bit_stickout_mm / s.bit_stock.width_mm**3
    shaft_metal = material(s.shaft_material)
    shaft_yield = shaft_metal.welded_yield_MPa
    rod_yield = shaft_yield if free < HEATED_MM else shaft_metal.yield_MPa
    return (
        bar("arm", m.combined_MPa(arm_bent, arm_twist), steel_yield, "arm_stock"),
        bar("rod at the block", rod, rod_yield, "rod_diameter"),
        bar("shaft at the thrust face", shaft, shaft_yield, "pivot_diameter"),
        replace(bar("shank at the tool post", shank, steel_yield, "shank_stock"), of_housing=True),
        bar("tool bit", bit, BIT_STRENGTH_MPa, "bit_stock"),
        bar("handle", handle, material(s.screw_material).yield_MPa, "handle_thread"),
        *(
            replace(
                weld(name, _seam_MPa(s, forces, apart, middle_y, face_z), "weld_leg"),
                of_housing=True,
            )
            for name, apart, middle_y, face_z in _seams(s)
        ),
        weld(
            "shaft weld",
            m.weld_ring_MPa(
                force, shaft_moment, shaft_torque, shaft_weld_leg_mm(s), s.spigot_diameter_mm
            ),
            "weld_leg" if shaft_weld_leg_mm(s) == s.weld_leg_mm else "leaf_thickness",
        ),
        weld(
            "rod weld",
            m.weld_ring_MPa(force, rod_moment, feed * at.rod, plug_leg_mm(s), spigot),
            "rod_diameter",
        ),
        weld("foot weld", _foot_weld_MPa(s, feed * at.rod), "foot_stock"),
        *_clamp_strengths(s, clamp_hold(s, load, torque_Nm)),
    )


def _aluminium(s: Sizes) -> bool:
    return material(s.structure_material).group == "aluminium"


def _seams(s: Sizes) -> Iterator[tuple[str, float, float, float]]:
    """The housing's pairs of welds: name, how far apart, their middle's y, the face's z.

    Without a cheek, one pair between the tube's flat and the shank, as far apart as they bed. With one,
    the shank's height apart on its far face and the tube flat's height on its near face.
    """
    side, radius = s.shank_stock.width_mm, s.tube_stock.width_mm / 2
    face = radius - s.shank_flat_mm
    half = (radius**2 - face**2) ** 0.5
    top = side - s.spindle_over_seat_mm
    if s.cheek_stock is None:
        low, high = max(-half, -s.spindle_over_seat_mm), min(half, top)
        yield "housing welds", max(1.0, high - low), (high + low) / 2, face
        return
    yield "welds of tube to cheek", 2 * half, 0.0, face
    yield "welds of cheek to shank", side, top - side / 2, s.shank_inner_z_mm


def _seam_MPa(
    s: Sizes, forces: m.Triple, apart_mm: float, middle_y_mm: float, face_z_mm: float
) -> float:
    """Throat stress of such a pair: the forces at the tip, and their moments about its middle."""
    main, passive, feed = forces
    run = s.housing_length_mm - s.setback_mm
    x, y = -s.thrust_x_mm + s.setback_mm + run / 2, s.tip_radius_max_mm - middle_y_mm
    moments = (
        feed * y + passive * face_z_mm,
        main * face_z_mm + feed * x,
        passive * x + main * y,
    )
    return m.weld_pair_MPa(forces, moments, s.weld_leg_mm, run, apart_mm)


def _foot_weld_MPa(s: Sizes, torque_Nmm: float) -> float:
    """The foot keeps the rod from turning: an edge of it bears at half its width, at its far end.

    One weld across the outside, against the far edge of the foot's end: pulled by the bearing force
    times the foot's length over its thickness, and by the torque along its own length.
    """
    wide, thick = s.foot_stock.width_mm, s.foot_stock.height_mm
    bearing = torque_Nmm / (wide / 2)
    pulled = bearing * (1 + s.foot_length_mm / thick)
    return m.line_weld_MPa(pulled, torque_Nmm, foot_weld_leg_mm(s), wide, wide**2 / 6)


def screw_x_mm(s: Sizes) -> float:
    """The clamp screw in front of the rod's axis."""
    return s.rod_from_front_mm - s.clamp_screw_from_front_mm


def clamp_hinge(s: Sizes) -> m.Ligament:
    """The clamp's hinge: the metal between the rod's bore and the hinge slit."""
    return m.ligament(s.rod_diameter_mm / 2, -s.hinge_z_mm, s.hinge_behind_mm, s.slit_width_mm)


def thinnest_hinge(s: Sizes) -> m.Ligament:
    """The hinge with the slit as near the bore as its limits let it come."""
    place, wide = s.hinge_behind_mm - s.hinge_place_mm, s.slit_width_mm + s.hinge_slit_mm
    return m.ligament(s.rod_diameter_mm / 2, -s.hinge_z_mm, place, wide)


def hinge_wide_mm(s: Sizes) -> float:
    """How long the hinge is along the rod, of joined metal of the block alone.

    Sizes tried out that make no body have no features to read: the whole block is taken.
    """
    try:
        return hinge_joined_mm(s)
    except (NotMakeable, UnknownSize):
        return s.block_length_mm


def hinge_MPa(s: Sizes, closing_N: float, preload_N: float) -> float:
    """Stress in the hinge at its thinnest, over what of it is joined metal, for a preload."""
    closing = min(closing_N, preload_N)
    wide = hinge_wide_mm(s)
    return m.slit_hinge_MPa(closing, preload_N - closing, screw_x_mm(s), wide, thinnest_hinge(s))


def _clamp_strengths(s: Sizes, hold: Hold) -> tuple[Strength, ...]:
    """The leaf and its hinge: bent through the rod's clearance, then under the whole preload."""
    hinge, limit = clamp_hinge(s), material(s.structure_material).welded_yield_MPa or 0.0
    closing = min(hold.closing_N, hold.preload_N)
    forces = (closing, hold.preload_N - closing, screw_x_mm(s))
    leaf = m.slit_leaf_MPa(
        *forces, s.block_length_mm, s.leaf_thickness_mm, s.rod_diameter_mm / 2, hinge
    )
    stress = hinge_MPa(s, hold.closing_N, hold.preload_N)
    source = "bending and pull at the thinnest metal, checked by finite elements"
    return (
        Strength("clamp leaf", leaf, limit, limit / leaf, "leaf_thickness", source, "leaf-stress"),
        Strength("clamp hinge", stress, limit, limit / stress, "hinge", source, "hinge-stress"),
    )


def clamp_hold(s: Sizes, load: Load, torque_Nm: float | None, tip_mm: float | None = None) -> Hold:
    """The clamp's grip for a tightening torque, and the force at the handle.

    torque_Nm: None takes what an easy hand gives at the end of the lever (``sizing.clamping``). Grip
    counts LEAST_PRELOAD of the preload only. tip_mm: the tip's radius, above 0; by default the largest
    ball's. Raises ValueError for a torque or a radius that is zero, negative or no number.
    """
    radius = s.max_ball_diameter_mm / 2 if tip_mm is None else tip_mm
    size = thread(s.clamp_screw)
    finish = torque_coefficient(SCREW_FINISH)
    proof = proof_MPa(SCREW_CLASS, size.major_mm) * size.stress_area_mm2
    torque = hand_torque_Nm(s.lever_length_mm) if torque_Nm is None else torque_Nm
    preload = m.preload_N(torque, size.major_mm, finish)
    hinge, screw = clamp_hinge(s), screw_x_mm(s)
    steel = material(s.structure_material)
    closing = m.slit_closing_N(s.rod_play_mm, screw, hinge_wide_mm(s), steel.modulus_MPa, hinge)
    lever = (screw + hinge.behind_mm) / hinge.radius_mm
    grip = m.slit_grip_N(LEAST_PRELOAD * preload, closing, lever)
    strip = m.strip_area_mm2_per_mm(size.major_mm, size.pitch_mm, size.pitch_diameter_mm)
    engaged = min(clamp_screw_past_mm(s), clamp_thread_depth_mm(s)) - s.slit_width_mm / 2
    shut = s.rod_play_mm * lever  # at the stud, as the leaf turns on its hinge
    stretched = clamp_screw_mm(s) - engaged / 2
    abuse = m.preload_N(hand_torque_Nm(s.lever_length_mm, ABUSE_N), size.major_mm, finish)
    bears = material(s.structure_material).yield_MPa or 0.0
    return Hold(
        torque_Nm=torque,
        preload_N=preload,
        closing_N=closing,
        grip_N=grip,
        factor=grip / load.passive_N,
        share_of_proof=preload / proof,
        lever_N=torque / s.lever_length_mm * 1000,
        abuse_share=abuse / proof,
        hinge_mm=thinnest_hinge(s).thin_mm,
        joined_mm=hinge_wide_mm(s),
        turn_deg=360
        * (shut + m.stretch_mm(preload, stretched, size.stress_area_mm2))
        / size.pitch_mm,
        abuse_safety=bears / hinge_MPa(s, closing, abuse),
        hand_N=m.hand_N(load.feed_N, radius, s.handle_length_mm),
        engaged_mm=engaged,
        needed_mm=m.engagement_mm(LEAST_SAFETY * preload, strip, steel.welded_yield_MPa or 1e-9),
    )
