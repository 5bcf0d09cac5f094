"""Will it hold and how much will it bend: forces of a pass, deflection by links, stresses, grip.

The load path, tip on top (the frame of parts.sizes; y up here):

    y ^        arm, along x            F main along -x (the work's surface comes to the front),
      |    rod ==========+ bit         P passive along +y, out of the work, S feed along z
      |     |            |
      |     |            o tip (0, R)  <- F, ^ P
      |  [block]
      +--[block]--|bearing|...         pivot axis, y = 0, z = 0
                  [ tube  ]
                  [ shank =========]   beside the tube at z = offset, depth below the axis: the post

P has a lever along x about everything behind the tip: the rod's axis, the thrust face, the post.
F has a lever along y: tip to arm, to the block's face, to the pivot, to the shank. F pushes the tip
toward the body and P out of the work, so both tip shaft and shank the same way and make the ball
larger; only in the arm, and in the rod beyond the tip, is F's moment against P's. Imported by
planner.plan; needs no solid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from math import acos, ceil, cos, hypot, pi, radians, sin
from typing import Any

from parts.clamp import clamp_screw_past_mm, clamp_thread_depth_mm
from parts.head import spigot_diameter_mm
from parts.housing import NUT_PLAY_MM
from parts.sizes import PIVOT_PLAY_MM, ROD_PLAY_MM, SETBACK_MM, Sizes
from parts.standard.bolts import proof_MPa, torque_coefficient
from parts.standard.cutting_forces import (
    FEED_SHARE,
    LEAST_CHIP_MM,
    PASSIVE_SHARE,
    specific_force_MPa,
)
from parts.standard.materials import material
from parts.standard.sections import Section
from parts.standard.threads import thread, threads
from parts.tool import INCLUDED_DEG
from planner import mechanics as m
from planner.ball import Arrangement
from planner.columns import least, most
from planner.findings import Finding, Severity
from planner.job import Job
from planner.units import show_length, unit_name

SCREW_CLASS = "8.8"
SCREW_FINISH = "zinc plated"

LEAST_SAFETY = 1.5
"""Yield over stress below which nothing should be built (common practice: 1.5 to 2)."""

LEAST_GRIP = 2.0
"""Grip over passive force: a clamp that may creep spoils the ball (common practice)."""

LEAST_PRELOAD = 0.65
"""Part of the preload that is counted on for grip: a screw tightened by feel or by a plain torque
wrench is out by up to 35 % (bolting handbooks; from memory)."""

MOST_OF_PROOF = 0.8
"""Preload over proof load, at most (common practice: three quarters to nine tenths)."""

MOST_DEFLECTION_MM = 0.05
"""Radial deflection in a pass at which a spring pass no longer mends the ball (common practice)."""

MOST_OVERHANG = 4.0
"""Overhang over thickness of a steel bar above which it chatters (common practice: boring bars)."""

MOST_HAND_N = 60.0
"""Force at the knob above which a slow swing is no longer even (common practice)."""

BIT_STRENGTH_MPa = 1500.0
"""Bending strength a small hardened steel bit is trusted with (common practice; it breaks at twice)."""

ELECTRODE_MPa = 480.0
"""Tensile strength of the weld metal of the common electrodes (E70; Shigley, table 9-3; memory)."""

PLUG_LEG_MM = 2.0
"""Leg of the rod's weld in its chamfer."""


@dataclass(frozen=True)
class Load:
    """The forces of a pass, N; chip_mm is the mean chip thickness; material: what is turned."""

    material: str
    depth_mm: float
    feed_mm: float
    chip_mm: float
    main_N: float
    passive_N: float
    feed_N: float


@dataclass(frozen=True)
class Link:
    """One link of the chain: how much of the tip's radial deflection is its own.

    deflection_mm under the passive force; share of the sum; thicken: the size that would mend it.
    mm_per_N: for one newton of passive force. main_mm: what the main force adds, by its lever along
    the rod; less than nothing where it works against the passive force.
    """

    name: str
    deflection_mm: float
    share: float
    thicken: str
    mm_per_N: float
    main_mm: float


@dataclass(frozen=True)
class Strength:
    """A stress against what the material bears: safety is limit over stress."""

    name: str
    stress_MPa: float
    limit_MPa: float
    safety: float
    thicken: str
    source: str
    code: str = "bar-stress"


@dataclass(frozen=True)
class Hold:
    """The clamp: tightening torque, screw preload, force that closes the slit, grip, its factor.

    share_of_proof: preload over the screw's proof load. hand_N: at the handle's knob. engaged_mm: of
    the screw's thread in the block; needed_mm: what bears LEAST_SAFETY times the preload.
    """

    torque_Nm: float
    preload_N: float
    closing_N: float
    grip_N: float
    factor: float
    share_of_proof: float
    hand_N: float
    engaged_mm: float
    needed_mm: float


@dataclass(frozen=True)
class StrengthReport:
    """All of it, for the largest ball; tilt_mm is what the bearing's clearance lets the tip shift.

    deflection_mm: of the tip along the rod under the passive force; main_mm: what the main force adds.
    """

    load: Load
    links: tuple[Link, ...]
    strengths: tuple[Strength, ...]
    hold: Hold
    deflection_mm: float
    tilt_mm: float
    main_mm: float
    arrangement: Arrangement = "across"

    @property
    def sprung_mm(self) -> float:
        """The deflection of the tip, passive and main force together."""
        return self.deflection_mm + self.main_mm


def cutting_load(depth_mm: float, feed_mm: float, nose_mm: float, material_name: str) -> Load:
    """The forces of a pass with a round-nosed tool.

    depth_mm, feed_mm (per turn), nose_mm: above 0. The chip's area is depth times feed, its width the
    length of edge in the cut: the arc r acos(1 - a/r) up to where the nose runs into the side, then the
    side; its mean thickness is area over width. Passive and feed force are shares of the main force.
    """
    for name, value in (("depth", depth_mm), ("feed", feed_mm), ("nose radius", nose_mm)):
        if not 0.0 < value < 1e3:
            raise ValueError(f"{name} {value:g} mm; give a size above zero")
    side = radians(90.0 - INCLUDED_DEG / 2)  # of the cutting side to the surface that is turned
    round_mm = nose_mm * (1 - cos(side))
    if depth_mm <= round_mm:
        width = nose_mm * acos(1 - depth_mm / nose_mm)
    else:
        width = nose_mm * side + (depth_mm - round_mm) / sin(side)
    area = depth_mm * feed_mm
    chip = max(LEAST_CHIP_MM, area / width)
    main = specific_force_MPa(material(material_name).group, chip) * area
    return Load(
        material_name, depth_mm, feed_mm, chip, main, PASSIVE_SHARE * main, FEED_SHARE * main
    )


HOUSING = ("tube_stock", "shank_stock", "weld_leg")
"""Sizes of what holds the pivot in the tool post; an upright pivot stands on a base of its own."""


def strength_report(
    s: Sizes, job: Job, nose_mm: float, arrangement: Arrangement = "across"
) -> StrengthReport:
    """Forces, deflection, stresses and grip of an attachment at its largest ball.

    The hardest to cut of the job's balls is taken, or the dial's material where there is none.
    nose_mm: of the ground bit. With the pivot upright, housing and shank are left out.
    """
    turned = [ball.material or job.materials.dial for ball in job.ball] or [job.materials.dial]
    turning = job.turning
    load = max(
        (cutting_load(turning.depth_of_cut, turning.feed, nose_mm, name) for name in turned),
        key=lambda found: found.main_N,
    )
    links = deflection_links(s, load)
    stresses = strengths(s, load, turning.clamp_torque_Nm)
    if arrangement == "upright":
        links = _shared(link for link in links if link.thicken not in HOUSING)
        stresses = tuple(
            one for one in stresses if one.thicken not in HOUSING or one.name == "shaft weld"
        )
    return StrengthReport(
        load=load,
        links=links,
        strengths=stresses,
        hold=clamp_hold(s, load, turning.clamp_torque_Nm),
        deflection_mm=sum(link.deflection_mm for link in links),
        tilt_mm=bearing_tilt_mm(s),
        main_mm=sum(link.main_mm for link in links),
        arrangement=arrangement,
    )


def _shared(links: Iterable[Link]) -> tuple[Link, ...]:
    """Some of the links, their shares of their own sum."""
    kept = tuple(links)
    total = sum(link.mm_per_N for link in kept)
    return tuple(replace(link, share=link.mm_per_N / total) for link in kept)


@dataclass(frozen=True)
class _Levers:
    """Where the load path passes, from the tip plane back along x and from the axis along y, mm."""

    rod: Any
    thrust: Any
    housing: Any
    post: Any
    depth: Any
    offset: Any
    arm_eccentric: Any


def _levers(s: Any) -> _Levers:
    side, thrust = s.shank_stock.width_mm, -s.thrust_x_mm
    return _Levers(
        rod=-s.rod_x_mm,
        thrust=thrust,
        housing=thrust + s.housing_length_mm,
        post=thrust + s.housing_length_mm + s.thread_run_mm,
        depth=s.spindle_over_seat_mm - side / 2,
        offset=s.shank_inner_z_mm + side / 2,
        arm_eccentric=s.bit_stickout_mm + s.arm_stock.height_mm / 2,
    )


def _rod_free_mm(s: Any, tip_mm: Any) -> Any:
    """The rod's free length from the block to the arm, with the tip at a radius; at least 1 mm."""
    return most(1.0, tip_mm + s.bit_stickout_mm - s.block_tip_y_mm)


def _waist_mm(s: Any) -> Any:
    """The shank's width behind the housing, relieved for the pivot's washer and nuts."""
    return s.shank_stock.width_mm - most(
        0.0, s.pivot_washer_mm / 2 + NUT_PLAY_MM - s.shank_inner_z_mm
    )


def deflection_links(s: Sizes, load: Load) -> tuple[Link, ...]:
    """The radial deflection of the tip at the largest ball, link by link."""
    found = _chain(s)
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


def deflection_mm(s: Any, load: Load) -> Any:
    """The deflection of the tip, passive and main force together; s: sizes, or columns of them."""
    return sum(load.passive_N * c + load.main_N * by_main for _, c, by_main, _ in _chain(s))


def _chain(s: Any) -> tuple[tuple[str, Any, Any, str], ...]:
    """The links: name, mm for one newton of passive force, mm for one of main force, what to thicken.

    Each is the unit-load integral of M m / EI, m = x the moment of one newton along the rod at the tip;
    M is P x for the passive force P and F y for the main force F, y the tip's height over the link.
    Arm: a stepped cantilever, its front and its root, from the rod. Rod: P x constant along its free
    length, F y changing sign at the tip's height. Clamp: the rod in the block on two supports with
    that moment at one. Shaft: the same between the bearing's ends. Housing: tube and shank side by
    side, both bent. Shank: its bare part before the post, relieved for the nuts, also twisted by P at
    its offset. Welds and block are as stiff as what they join. The tip is on top, where the ball's
    diameter is measured; toward the neck F's lever about the shank grows to that of its full distance.
    The feed force, which changes sides with the swing, is left out. s: sizes, or columns of them.
    """
    at = _levers(s)
    steel = material(s.structure_material).modulus_MPa
    shaft = material(s.shaft_material).modulus_MPa
    radius = s.max_ball_diameter_mm / 2
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
    free = _rod_free_mm(s, radius)
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

    waist = _waist_mm(s)
    bare = steel * m.rectangle_second_moment(waist, side)
    shank = (at.post**3 - at.housing**3) / (3 * bare)
    shank += m.rectangle_twist_rad(at.offset, at.post - at.housing, side, waist) * at.offset
    shank_main = drop * (at.post**2 - at.housing**2) / (2 * bare)
    return (
        ("arm", arm, arm_main, "arm_stock"),
        ("rod", rod, rod_main, "rod_diameter"),
        ("rod in its clamp", clamp, clamp_main, "rod_diameter"),
        ("pivot shaft", pivot, pivot_main, "pivot_diameter"),
        ("housing", housing, housing_main, "tube_stock"),
        ("shank before the post", shank, shank_main, "shank_stock"),
    )


def bearing_tilt_mm(s: Sizes) -> float:
    """How far the tip can shift because the shaft tilts in its bearing, once, to one side.

    The clearance is the greatest the sheet allows the journal in its own bore.
    """
    return m.clearance_tilt_mm(PIVOT_PLAY_MM, s.housing_length_mm, -s.thrust_x_mm)


def strengths(s: Sizes, load: Load, torque_Nm: float | None = None) -> tuple[Strength, ...]:
    """Stress and safety of what carries the cut, with the head as far out as the largest blank needs.

    torque_Nm: of the clamp screw; None as in ``clamp_hold``. The worst position of the swing is taken;
    slots and holes are left out. A weld bears the smaller of 0.40 of its parent's yield and 0.30 of its
    metal's strength in shear on the throat (Shigley, table 9-4).
    """
    at = _levers(s)
    tip, main, passive, feed = s.tip_radius_max_mm, load.main_N, load.passive_N, load.feed_N
    free = float(_rod_free_mm(s, tip))
    steel_yield = material(s.structure_material).yield_MPa or 0.0
    forces = (main, passive, feed)
    force = (main**2 + passive**2 + feed**2) ** 0.5

    def bar(name: str, stress: float, limit: float | None, thicken: str) -> Strength:
        source = "bending and torsion of bars, any handbook"
        return Strength(name, stress, limit or 0.0, (limit or 0.0) / stress, thicken, source)

    def weld(name: str, stress: float, thicken: str) -> Strength:
        limit = min(0.4 * steel_yield, 0.3 * ELECTRODE_MPa)
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
    side, waist = s.shank_stock.width_mm, float(_waist_mm(s))
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
    shaft_yield = material(s.shaft_material).yield_MPa
    return (
        bar("arm", m.combined_MPa(arm_bent, arm_twist), steel_yield, "arm_stock"),
        bar("rod at the block", rod, shaft_yield, "rod_diameter"),
        bar("shaft at the thrust face", shaft, shaft_yield, "pivot_diameter"),
        bar("shank at the tool post", shank, steel_yield, "shank_stock"),
        bar("tool bit", bit, BIT_STRENGTH_MPa, "bit_stock"),
        bar("handle", handle, material(s.screw_material).yield_MPa, "handle_thread"),
        *(
            weld(name, _seam_MPa(s, forces, apart, middle_y, face_z), "weld_leg")
            for name, apart, middle_y, face_z in _seams(s)
        ),
        weld(
            "shaft weld",
            m.weld_ring_MPa(force, shaft_moment, shaft_torque, s.weld_leg_mm, s.spigot_diameter_mm),
            "weld_leg",
        ),
        weld(
            "rod weld",
            m.weld_ring_MPa(force, rod_moment, feed * at.rod, PLUG_LEG_MM, spigot),
            "rod_diameter",
        ),
        weld("foot weld", _foot_weld_MPa(s, feed * at.rod), "foot_stock"),
        *_clamp_strengths(s, clamp_hold(s, load, torque_Nm)),
    )


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
    run = s.housing_length_mm - SETBACK_MM
    x, y = -s.thrust_x_mm + SETBACK_MM + run / 2, s.tip_radius_max_mm - middle_y_mm
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
    return m.line_weld_MPa(pulled, torque_Nmm, min(s.weld_leg_mm, thick / 2), wide, wide**2 / 6)


def _screw_x_mm(s: Sizes) -> float:
    """The clamp screw in front of the rod's axis."""
    return s.rod_from_front_mm - s.clamp_screw_from_front_mm


def _hinge(s: Sizes) -> m.Ligament:
    return m.ligament(s.rod_diameter_mm / 2, -s.hinge_z_mm, s.hinge_behind_mm, s.slit_width_mm)


def _clamp_strengths(s: Sizes, hold: Hold) -> tuple[Strength, ...]:
    """The leaf and its hinge: bent through the rod's clearance, then under the whole preload."""
    hinge, limit = _hinge(s), material(s.structure_material).yield_MPa or 0.0
    closing = min(hold.closing_N, hold.preload_N)
    common = (closing, hold.preload_N - closing, _screw_x_mm(s), s.block_length_mm)
    leaf = m.slit_leaf_MPa(*common, s.leaf_thickness_mm, s.rod_diameter_mm / 2, hinge)
    stress = m.slit_hinge_MPa(*common, hinge)
    source = "bending and pull at the thinnest metal, checked by finite elements"
    return (
        Strength("clamp leaf", leaf, limit, limit / leaf, "leaf_thickness", source, "leaf-stress"),
        Strength("clamp hinge", stress, limit, limit / stress, "hinge", source, "hinge-stress"),
    )


def clamp_hold(s: Sizes, load: Load, torque_Nm: float | None) -> Hold:
    """The clamp's grip for a tightening torque, and the force at the handle.

    torque_Nm: None takes what loads the screw to a quarter of its proof load. Grip counts LEAST_PRELOAD
    of the preload only. Raises ValueError for a torque that is zero, negative or no number.
    """
    size = thread(s.clamp_screw)
    finish = torque_coefficient(SCREW_FINISH)
    proof = proof_MPa(SCREW_CLASS, size.major_mm) * size.stress_area_mm2
    torque = 0.25 * proof * finish * size.major_mm / 1000 if torque_Nm is None else torque_Nm
    preload = m.preload_N(torque, size.major_mm, finish)
    hinge, screw = _hinge(s), _screw_x_mm(s)
    steel = material(s.structure_material)
    closing = m.slit_closing_N(ROD_PLAY_MM, screw, s.block_length_mm, steel.modulus_MPa, hinge)
    lever = (screw + hinge.behind_mm) / hinge.radius_mm
    grip = m.slit_grip_N(LEAST_PRELOAD * preload, closing, lever)
    strip = m.strip_area_mm2_per_mm(size.major_mm, size.pitch_mm, size.pitch_diameter_mm)
    engaged = min(clamp_screw_past_mm(s), clamp_thread_depth_mm(s)) - s.slit_width_mm / 2
    return Hold(
        torque_Nm=torque,
        preload_N=preload,
        closing_N=closing,
        grip_N=grip,
        factor=grip / load.passive_N,
        share_of_proof=preload / proof,
        hand_N=m.hand_N(load.feed_N, s.max_ball_diameter_mm / 2, s.handle_length_mm),
        engaged_mm=engaged,
        needed_mm=m.engagement_mm(LEAST_SAFETY * preload, strip, steel.yield_MPa or 1e-9),
    )


def strength_findings(found: StrengthReport, s: Sizes, job: Job, file: str) -> list[Finding]:
    """What the strength refuses or warns of, each with the size that would do."""
    return list(_findings(found, s, job, file))


def _findings(found: StrengthReport, s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    hold, load, torque = found.hold, found.load, job.turning.clamp_torque_Nm
    places = 4 if job.inch else 3

    def finding(
        code: str, severity: Severity, key: str, value: str, limit: str, remedy: str, source: str
    ) -> Finding:
        text = f"{value}: {limit}. {remedy}"
        return Finding(severity, file, key, value, limit, remedy, text, code, source)

    def thicken(name: str, good: Callable[[Sizes], bool], otherwise: str) -> str:
        enough = size_that_will_do(s, name, good)
        if enough is None:
            return otherwise[0].upper() + otherwise[1:]
        shown = enough if isinstance(enough, str) else _at_least(enough, job.inch)
        return f"Make {name} at least {shown}, or {otherwise}"

    for one in found.strengths:
        if not one.safety >= LEAST_SAFETY:
            less = "tighten less" if one.name.startswith("clamp") else "cut less"

            def holds(trial: Sizes, name: str = one.name) -> bool:
                found = next(x for x in strengths(trial, load, torque) if x.name == name)
                return found.safety >= LEAST_SAFETY

            yield finding(
                one.code,
                "refused",
                f"attachment.sizes.{one.thicken}",
                f"{one.name} bears {one.stress_MPa:.0f} MPa of {one.limit_MPa:.0f}",
                f"safety {one.safety:.2f}, needs {LEAST_SAFETY:g}",
                thicken(one.thicken, holds, less),
                one.source,
            )
    if hold.share_of_proof > MOST_OF_PROOF:
        yield finding(
            "screw-preload",
            "refused",
            "turning.clamp_torque_Nm",
            f"{hold.torque_Nm:.1f} Nm loads the clamp screw to {hold.share_of_proof:.2f} of its proof",
            f"at most {MOST_OF_PROOF:g}",
            f"Tighten to {hold.torque_Nm * MOST_OF_PROOF / hold.share_of_proof:.1f} Nm at most",
            "F = T / (K d), K of Shigley 9th ed., table 8-15; proof stress of ISO 898-1",
        )
    if hold.engaged_mm < hold.needed_mm:
        yield finding(
            "thread-engagement",
            "refused",
            "attachment.sizes.clamp_screw",
            f"the clamp screw is {show_length(hold.engaged_mm, job.inch)} {unit_name(job.inch)}"
            " deep in its thread",
            f"at this torque it needs {_at_least(hold.needed_mm, job.inch)}",
            f"Tighten to {hold.torque_Nm * hold.engaged_mm / hold.needed_mm:.1f} Nm at most, or use"
            " a larger clamp screw",
            "shear area of internal threads, Machinery's Handbook",
        )
    if hold.factor < LEAST_GRIP:
        yield finding(
            "grip",
            "refused" if hold.factor < 1.0 else "warning",
            "attachment.sizes.clamp_screw",
            f"the clamp grips {hold.grip_N:.0f} N against a passive force of {load.passive_N:.0f}",
            f"{hold.factor:.1f} times, needs {LEAST_GRIP:g}",
            _more_grip(s, load, hold),
            "2 mu F on two lines of the rod, with the least preload",
        )
    sprung = found.sprung_mm
    if sprung > MOST_DEFLECTION_MM:
        weakest = max(found.links, key=lambda link: link.deflection_mm + link.main_mm)
        share = (weakest.deflection_mm + weakest.main_mm) / sprung

        def stiff(trial: Sizes) -> bool:
            return bool(deflection_mm(trial, load) <= MOST_DEFLECTION_MM)

        yield finding(
            "deflection",
            "warning",
            f"attachment.sizes.{weakest.thicken}",
            f"the tip springs {show_length(sprung, job.inch, places)} {unit_name(job.inch)} in the"
            f" pass, passive and main force together, {share:.0%} of it the {weakest.name}",
            f"more than {show_length(MOST_DEFLECTION_MM, job.inch, places)}",
            thicken(weakest.thicken, stiff, "take less depth"),
            "beams in series",
        )
    if hold.hand_N > MOST_HAND_N:
        longer = _at_least(s.handle_length_mm * hold.hand_N / MOST_HAND_N, job.inch)
        yield finding(
            "hand-force",
            "warning",
            "attachment.sizes.handle_length",
            f"the knob needs {hold.hand_N:.0f} N",
            f"more than {MOST_HAND_N:g} N is not swung evenly",
            f"Make handle_length at least {longer}, or cut less",
            "feed force times radius over handle; common practice",
        )
    for code, what, ratio, name, thick_mm in overhangs(s):
        if found.arrangement == "upright" and name in HOUSING:
            continue
        if ratio > MOST_OVERHANG:
            enough = _at_least(thick_mm * ratio / MOST_OVERHANG, job.inch)
            yield finding(
                code,
                "warning",
                f"attachment.sizes.{name}",
                f"the {what} overhangs {ratio:.1f} times its thickness",
                f"more than {MOST_OVERHANG:g}: it will chatter",
                f"Make {name} at least {enough} thick, or shorten what overhangs",
                "common practice",
            )


def overhangs(s: Sizes) -> tuple[tuple[str, str, float, str, float], ...]:
    """What may chatter: code, name, overhang over thickness, size that mends it, thickness in mm."""
    at = _levers(s)
    rod, waist = float(_rod_free_mm(s, s.tip_radius_max_mm)), float(_waist_mm(s))
    found = (
        ("arm-overhang", "arm", at.rod, "arm_stock", s.arm_stock.height_mm),
        ("rod-overhang", "rod", rod, "rod_diameter", s.rod_diameter_mm),
        ("bit-overhang", "tool bit", s.bit_stickout_mm, "bit_stock", s.bit_stock.width_mm),
        ("shank-overhang", "bare shank", at.post - at.housing, "shank_stock", waist),
    )
    return tuple((code, what, far / thick, name, thick) for code, what, far, name, thick in found)


def _more_grip(s: Sizes, load: Load, hold: Hold) -> str:
    """The torque that grips enough; or, where the screw would not bear it, the screw that does."""
    hinge = _hinge(s)
    lever = (_screw_x_mm(s) + hinge.behind_mm) / hinge.radius_mm
    each = m.slit_grip_N(1.0, 0.0, lever)
    needed = (hold.closing_N + LEAST_GRIP * load.passive_N / each) / LEAST_PRELOAD
    if hold.share_of_proof * needed / hold.preload_N <= MOST_OF_PROOF:
        return f"Tighten to {ceil(hold.torque_Nm * needed / hold.preload_N * 10) / 10:g} Nm"

    def bears(trial: Sizes) -> bool:
        size = thread(trial.clamp_screw)
        proof = proof_MPa(SCREW_CLASS, size.major_mm) * size.stress_area_mm2
        return needed <= MOST_OF_PROOF * proof

    larger = size_that_will_do(s, "clamp_screw", bears)
    return f"Use clamp_screw {larger} or larger, or cut less" if larger else "Cut less"


def size_that_will_do(s: Sizes, name: str, good: Callable[[Sizes], bool]) -> float | str | None:
    """The least larger size with which a check is good, the others as they are; None when none is.

    name: of a length, a section (its thickness, or the width of a round, square or tube) or a thread,
    as in a job file. Lengths and sections are tried to ten times as large.
    """
    field = name if hasattr(s, name) else f"{name}_mm"
    value = getattr(s, field)

    def works(size: Any) -> bool:
        try:
            return good(replace(s, **{field: size}))
        except (ValueError, ArithmeticError):
            return False

    if isinstance(value, str):
        now = thread(value)
        larger = (x for x in threads(now.system) if x.series == now.series)
        names = (x.designation for x in larger if x.major_mm > now.major_mm)
        return next((designation for designation in names if works(designation)), None)
    flat = isinstance(value, Section) and value.shape == "flat"
    base = value if not isinstance(value, Section) else value.height_mm

    def sized(mm: float) -> float | Section:
        if not isinstance(value, Section):
            return mm
        return replace(value, thickness_mm=mm) if flat else replace(value, width_mm=mm)

    steps = (base * 1.05**step for step in range(1, 49))
    high = next((mm for mm in steps if works(sized(mm))), None)
    if high is None:
        return None
    low = high / 1.05
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (low, middle) if works(sized(middle)) else (middle, high)
    return high


def _at_least(mm: float, inch: bool) -> str:
    """A least length as shown: to 0.1 mm or 0.01 in, up."""
    unit, parts = (25.4, 100) if inch else (1.0, 10)
    return f"{ceil(mm / unit * parts - 1e-6) / parts:g} {unit_name(inch)}"
