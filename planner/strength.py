"""Will it hold and how much will it bend: forces of a pass, deflection by links, stresses, grip.

The load path. The tip stands at x = 0, the rod's axis at the arm's overhang plus its distance behind
the body's front, the thrust face a block behind that front, the tool post behind the housing. The
passive force pushes the tip out along the rod: it bends the arm, turns the rod by the arm's whole
lever, tips the shaft in its bearing and the shank in the tool post. The main force acts along the
pivot and bends the rod and the shaft. Imported by planner.plan; needs no solid.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi, sqrt

from parts.head import spigot_diameter_mm
from parts.sizes import PIVOT_PLAY_MM, ROD_PLAY_MM, SETBACK_MM, Sizes, thread_run_mm
from parts.standard.bolts import proof_MPa
from parts.standard.cutting_forces import FEED_SHARE, PASSIVE_SHARE, specific_force_MPa
from parts.standard.materials import material
from parts.standard.threads import thread
from planner import mechanics as m
from planner.findings import Finding, Severity
from planner.job import Job
from planner.units import show_length, unit_name

SCREW_CLASS = "8.8"
LEAST_SAFETY = 1.5
"""Yield over stress below which nothing should be built (common practice: 1.5 to 2)."""

LEAST_GRIP = 2.0
"""Grip over passive force: a clamp that may creep spoils the ball (common practice)."""

MOST_DEFLECTION_MM = 0.05
"""Radial deflection in a pass at which a spring pass no longer mends the ball (common practice)."""


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
    """

    name: str
    deflection_mm: float
    share: float
    thicken: str


@dataclass(frozen=True)
class Strength:
    """A stress against what the material bears: safety is limit over stress."""

    name: str
    stress_MPa: float
    limit_MPa: float
    safety: float
    thicken: str
    source: str


@dataclass(frozen=True)
class Hold:
    """The clamp: tightening torque, screw preload, force that closes the slit, grip, its factor.

    share_of_proof: preload over the screw's proof load. hand_N: at the handle's knob.
    """

    torque_Nm: float
    preload_N: float
    closing_N: float
    grip_N: float
    factor: float
    share_of_proof: float
    hand_N: float


@dataclass(frozen=True)
class StrengthReport:
    """All of it, for the largest ball; tilt_mm is what the bearing's clearance lets the tip shift."""

    load: Load
    links: tuple[Link, ...]
    strengths: tuple[Strength, ...]
    hold: Hold
    deflection_mm: float
    tilt_mm: float


def cutting_load(depth_mm: float, feed_mm: float, nose_mm: float, material_name: str) -> Load:
    """The forces of a pass with a round-nosed tool.

    depth_mm, feed_mm (per turn), nose_mm: above 0. The chip's area is depth times feed; its width that
    of the arc in the cut, r acos(1 - a/r) for a depth a under the nose radius r, else a longer by the
    rest of the side; its mean thickness is area over width. Passive and feed force are shares of the
    main force.
    """
    for name, value in (("depth", depth_mm), ("feed", feed_mm), ("nose radius", nose_mm)):
        if not 0.0 < value < 1e3:
            raise ValueError(f"{name} {value:g} mm; give a size above zero")
    chord = sqrt(2 * nose_mm * depth_mm - depth_mm**2) if depth_mm < nose_mm else depth_mm
    width = sqrt(chord**2 + depth_mm**2) if depth_mm < nose_mm else depth_mm * pi / 2
    area = depth_mm * feed_mm
    chip = max(0.005, area / width)
    main = specific_force_MPa(material(material_name).group, chip) * area
    return Load(
        material_name, depth_mm, feed_mm, chip, main, PASSIVE_SHARE * main, FEED_SHARE * main
    )


def strength_report(s: Sizes, job: Job, nose_mm: float) -> StrengthReport:
    """Forces, deflection, stresses and grip of an attachment at its largest ball.

    The hardest to cut of the job's balls is taken, or the dial's material where there is none.
    nose_mm: of the ground bit.
    """
    turned = [ball.material or job.materials.dial for ball in job.ball] or [job.materials.dial]
    turning = job.turning
    load = max(
        (cutting_load(turning.depth_of_cut, turning.feed, nose_mm, name) for name in turned),
        key=lambda found: found.main_N,
    )
    links = deflection_links(s, load)
    hold = clamp_hold(s, load, turning.clamp_torque_Nm)
    return StrengthReport(
        load=load,
        links=links,
        strengths=(*strengths(s, load), _leaf(s, hold), _hinge(s, hold)),
        hold=hold,
        deflection_mm=sum(link.deflection_mm for link in links),
        tilt_mm=bearing_tilt_mm(s),
    )


def _levers(s: Sizes) -> tuple[float, float, float]:
    """From the tip plane to the rod, to the thrust face and to the tool post, mm along the pivot."""
    rod = -s.rod_x_mm
    thrust = -s.thrust_x_mm
    return rod, thrust, thrust + s.housing_length_mm + thread_run_mm(s)


def _rod_free_mm(s: Sizes) -> float:
    """The rod's free length at the largest ball: from the block to the arm."""
    return s.max_ball_diameter_mm / 2 + s.bit_stickout_mm - s.block_tip_y_mm


def deflection_links(s: Sizes, load: Load) -> tuple[Link, ...]:
    """The radial deflection of the tip under the passive force, link by link.

    Arm: a stepped cantilever, its front and its root, from the rod. Rod: bent by force times lever over
    its free length, tipping the arm. Clamp: the rod in the block as a beam on two supports with that
    moment at its end. Shaft: overhung from the bearing's front support by thrust-face lever, carried
    between the bearing's ends. Housing: tube and shank as one beam. Shank: its bare part before the
    tool post, bending under the whole lever and twisting under its offset from the pivot. Welds are as
    stiff as what they join.
    """
    force = load.passive_N
    steel = material(s.structure_material).modulus_MPa
    shaft = material(s.shaft_material).modulus_MPa
    to_rod, to_thrust, to_post = _levers(s)
    arm_height = s.arm_stock.height_mm
    front_width = s.arm_lead_mm + s.arm_half_width_mm
    arm = m.stepped_cantilever_mm_per_N(
        s.arm_overhang_mm,
        m.rectangle_second_moment(front_width, arm_height),
        s.rod_from_front_mm,
        m.rectangle_second_moment(s.arm_stock.width_mm, arm_height),
        steel,
    )
    rod_I = m.round_second_moment(s.rod_diameter_mm)
    free = max(1.0, _rod_free_mm(s))
    rod = to_rod**2 * free / (shaft * rod_I) + free / (shaft * pi * s.rod_diameter_mm**2 / 4)
    clamp = to_rod**2 * s.block_length_mm / (3 * shaft * rod_I)
    pivot_I = m.round_second_moment(s.pivot_diameter_mm)
    pivot = to_thrust**2 * s.housing_length_mm / (3 * shaft * pivot_I)
    side = s.shank_stock.width_mm
    tube_I = m.round_second_moment(s.tube_stock.width_mm) - pivot_I
    shank_I = side**4 / 12
    housing_I = tube_I + shank_I
    ends = to_thrust + s.housing_length_mm
    housing = (ends**3 - (to_thrust + SETBACK_MM) ** 3) / (3 * steel * housing_I)
    bare = to_post - ends
    offset = s.shank_inner_z_mm + side / 2
    shank = (to_post**3 - ends**3) / (3 * steel * shank_I)
    shank += m.square_twist_rad(offset, bare, side) * offset
    found = (
        ("arm", arm, "arm_stock"),
        ("rod", rod, "rod_diameter"),
        ("rod in its clamp", clamp, "rod_diameter"),
        ("pivot shaft", pivot, "pivot_diameter"),
        ("housing", housing, "tube_stock"),
        ("shank before the post", shank, "shank_stock"),
    )
    total = sum(compliance for _, compliance, _ in found)
    return tuple(Link(name, force * c, c / total, thicken) for name, c, thicken in found)


def bearing_tilt_mm(s: Sizes) -> float:
    """How far the tip can shift because the shaft tilts in its bearing: c (1/2 + lever / length).

    c is the greatest clearance the sheet allows the journal in its own bore.
    """
    return PIVOT_PLAY_MM * (0.5 + -s.thrust_x_mm / s.housing_length_mm)


def strengths(s: Sizes, load: Load) -> tuple[Strength, ...]:
    """Stress and safety of what carries the cut, at the largest ball."""
    to_rod, to_thrust, to_post = _levers(s)
    radius = s.max_ball_diameter_mm / 2
    free = max(1.0, _rod_free_mm(s))
    handbook = "bending and torsion of bars, any handbook"
    shigley = "weld treated as a line, Shigley 9th ed., table 9-2"

    def bar(name: str, stress: float, material_name: str, thicken: str) -> Strength:
        limit = material(material_name).yield_MPa or 0.0
        return Strength(name, stress, limit, limit / stress, thicken, handbook)

    def weld(name: str, stress: float, thicken: str) -> Strength:
        # allowable shear on the throat: 0.40 of the base metal's yield (Shigley, table 9-4)
        limit = 0.4 * (material(s.structure_material).yield_MPa or 0.0)
        return Strength(name, stress, limit, limit / stress, thicken, shigley)

    arm_section = s.arm_stock.height_mm**2 * (s.arm_lead_mm + s.arm_half_width_mm) / 6
    arm = load.passive_N * s.arm_overhang_mm / arm_section
    rod_moment = load.main_N * free + load.passive_N * to_rod
    rod_torque = load.feed_N * to_rod
    rod = m.combined_MPa(
        m.bending_stress_MPa(rod_moment, s.rod_diameter_mm),
        m.torsion_stress_MPa(rod_torque, s.rod_diameter_mm),
    )
    shaft_moment = load.passive_N * to_thrust + load.main_N * radius
    shaft_torque = load.feed_N * radius
    shaft = m.combined_MPa(
        m.bending_stress_MPa(shaft_moment, s.pivot_diameter_mm),
        m.torsion_stress_MPa(shaft_torque, s.pivot_diameter_mm),
    )
    side = s.shank_stock.width_mm
    offset = s.shank_inner_z_mm + side / 2
    shank_moment = load.passive_N * to_post + load.main_N * (radius + s.spindle_over_seat_mm)
    shank = m.combined_MPa(
        6 * shank_moment / side**3,
        4.81 * (load.passive_N * offset + load.main_N * offset) / side**3,
    )
    bit_moment = load.main_N * s.bit_stickout_mm
    bit = 6 * bit_moment / s.bit_stock.width_mm**3
    run = s.housing_length_mm - SETBACK_MM
    housing_moment = load.passive_N * (to_thrust + run / 2) + load.main_N * radius
    spigot = spigot_diameter_mm(s)
    shaft_ring = pi * s.spigot_diameter_mm
    found = (
        bar("arm", arm, s.structure_material, "arm_stock"),
        bar("rod at the block", rod, s.shaft_material, "rod_diameter"),
        bar("shaft at the thrust face", shaft, s.shaft_material, "pivot_diameter"),
        bar("shank at the tool post", shank, s.structure_material, "shank_stock"),
        Strength("tool bit", bit, BIT_STRENGTH_MPa, BIT_STRENGTH_MPa / bit, "bit_stock", handbook),
        weld(
            "housing welds",
            m.line_weld_MPa(
                load.main_N + load.passive_N, housing_moment, s.weld_leg_mm, 2 * run, run**2 / 3
            ),
            "housing_length",
        ),
        weld(
            "shaft weld",
            m.line_weld_MPa(
                load.main_N + load.passive_N,
                shaft_moment,
                s.weld_leg_mm,
                shaft_ring,
                pi * (s.spigot_diameter_mm / 2) ** 2,
            ),
            "weld_leg",
        ),
        weld(
            "rod weld",
            m.line_weld_MPa(
                load.main_N + load.passive_N,
                load.passive_N * to_rod + load.main_N * s.bit_stickout_mm,
                2.0,
                pi * spigot,
                pi * (spigot / 2) ** 2,
            ),
            "rod_diameter",
        ),
    )
    return found


BIT_STRENGTH_MPa = 1500.0
"""Bending strength a small hardened steel bit is trusted with (common practice; it breaks at twice)."""


def _levers_of_clamp(s: Sizes) -> tuple[float, float]:
    """From the hinge to the rod's axis and to the clamp screw, mm."""
    to_rod = s.hinge_behind_mm
    return to_rod, to_rod + s.rod_from_front_mm - s.clamp_screw_from_front_mm


def _hinge(s: Sizes, hold: Hold) -> Strength:
    """The hinge: bent by the turn that takes up the rod's clearance, pulled by the screw's lever."""
    to_rod, to_screw = _levers_of_clamp(s)
    modulus = material(s.structure_material).modulus_MPa
    bending = m.hinge_stress_MPa(ROD_PLAY_MM / to_rod, s.hinge_mm, s.slit_width_mm, modulus)
    pull = (hold.preload_N - hold.closing_N) * (to_screw / to_rod - 1)
    stress = bending + pull / (s.hinge_mm * s.block_length_mm)
    limit = material(s.structure_material).yield_MPa or 0.0
    source = "short leaf hinge bent through the rod's clearance, plus the screw's pull"
    return Strength("clamp hinge", stress, limit, limit / stress, "hinge", source)


def _leaf(s: Sizes, hold: Hold) -> Strength:
    """The leaf in front of the rod, a cantilever under the screw."""
    to_rod, to_screw = _levers_of_clamp(s)
    section = s.block_length_mm * s.leaf_thickness_mm**2 / 6
    stress = (hold.preload_N - hold.closing_N) * (to_screw - to_rod) / section
    limit = material(s.structure_material).yield_MPa or 0.0
    source = "bending of bars, any handbook"
    return Strength("clamp leaf", stress, limit, limit / stress, "leaf_thickness", source)


def clamp_hold(s: Sizes, load: Load, torque_Nm: float | None) -> Hold:
    """The clamp's grip for a tightening torque, and the force at the handle.

    torque_Nm: None takes what loads the screw to a quarter of its proof load.
    """
    size = thread(s.clamp_screw)
    proof = proof_MPa(SCREW_CLASS, size.major_mm) * size.stress_area_mm2
    torque = torque_Nm or 0.25 * proof * 0.2 * size.major_mm / 1000
    preload = m.preload_N(torque, size.major_mm)
    to_rod, to_screw = _levers_of_clamp(s)
    modulus = material(s.structure_material).modulus_MPa
    turn = m.hinge_Nmm_per_rad(s.hinge_mm, s.slit_width_mm, s.block_length_mm, modulus)
    closing = turn * ROD_PLAY_MM / to_rod / to_screw
    grip = m.slit_grip_N(preload, closing, to_screw / to_rod)
    hand = load.feed_N * s.max_ball_diameter_mm / 2 / s.handle_length_mm
    return Hold(torque, preload, closing, grip, grip / load.passive_N, preload / proof, hand)


def strength_findings(found: StrengthReport, s: Sizes, job: Job, file: str) -> list[Finding]:
    """What the strength refuses or warns of."""
    return list(_findings(found, s, job, file))


def _findings(found: StrengthReport, s: Sizes, job: Job, file: str) -> Iterator[Finding]:
    def finding(
        code: str,
        severity: Severity,
        key: str,
        value: str,
        limit: str,
        remedy: str,
        source: str,
    ) -> Finding:
        text = f"{value}: {limit}. {remedy}"
        return Finding(severity, file, key, value, limit, remedy, text, code, source)

    for one in found.strengths:
        if one.safety < LEAST_SAFETY:
            ratio = (LEAST_SAFETY / one.safety) ** (1 / 3)
            yield finding(
                "strength",
                "refused",
                f"attachment.sizes.{one.thicken}",
                f"{one.name} bears {one.stress_MPa:.0f} MPa of {one.limit_MPa:.0f}",
                f"safety {one.safety:.2f}, needs {LEAST_SAFETY:g}",
                f"Make {one.thicken} about {ratio:.2f} times as large, or cut less",
                one.source,
            )
    hold = found.hold
    if hold.share_of_proof > 0.8:
        yield finding(
            "screw-preload",
            "refused",
            "turning.clamp_torque_Nm",
            f"{hold.torque_Nm:.1f} Nm loads the clamp screw to {hold.share_of_proof:.2f} of its proof",
            "at most 0.8",
            f"Tighten to {hold.torque_Nm * 0.8 / hold.share_of_proof:.1f} Nm at most",
            "F = T / (K d), K = 0.2",
        )
    if hold.factor < LEAST_GRIP:
        severity: Severity = "refused" if hold.factor < 1.0 else "warning"
        yield finding(
            "grip",
            severity,
            "attachment.sizes.clamp_screw",
            f"the clamp grips {hold.grip_N:.0f} N against a passive force of"
            f" {found.load.passive_N:.0f}",
            f"{hold.factor:.1f} times, needs {LEAST_GRIP:g}",
            "Tighten more, use a larger clamp screw, or a thinner leaf",
            "2 mu F on two lines of the rod",
        )
    if found.deflection_mm > MOST_DEFLECTION_MM:
        weakest = max(found.links, key=lambda link: link.share)
        limit = show_length(MOST_DEFLECTION_MM, job.inch, 4 if job.inch else 3)
        yield finding(
            "deflection",
            "warning",
            f"attachment.sizes.{weakest.thicken}",
            f"the tip springs {show_length(found.deflection_mm, job.inch, 4 if job.inch else 3)}"
            f" {unit_name(job.inch)} in the pass, {weakest.share:.0%} of it the {weakest.name}",
            f"more than {limit}",
            f"Thicken {weakest.thicken}, or take less depth",
            "beams in series",
        )
    slender = (s.arm_overhang_mm + s.rod_from_front_mm) / s.arm_stock.height_mm
    if slender > 4.0:
        yield finding(
            "chatter",
            "warning",
            "attachment.sizes.arm_stock",
            f"the arm overhangs {slender:.1f} times its height",
            "more than 4: it will chatter",
            "Use a thicker arm",
            "common practice",
        )
