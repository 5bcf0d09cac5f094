"""What the clamp's lever is laid out for: the grip it must give, the hand that gives it.

Imported by the rules and by checking.strength.
"""

from __future__ import annotations

from typing import Any

from parts.standard.bolts import torque_coefficient
from parts.standard.materials import material
from parts.tool import nose_radius_of_mm
from planner.job.tables import Job
from planner.sums import mechanics as m
from planner.sums.columns import most
from planner.sums.cutting import cutting_forces_N

HAND_N = 40.0
"""What a hand gives a short lever at every pass without effort (common practice)."""

ABUSE_N = 100.0
"""What it gives it once, in anger: the clamp must outlive it (common practice)."""

DESIGN_GRIP = 6.0
"""Grip over passive force that the lever is laid out for: three times what is needed, so that a wet
rod, a worn lever and a tired hand still hold (common practice)."""

LEAST_PRELOAD = 0.65
"""Part of the preload that is counted on for grip: a screw tightened by feel or by a plain torque
wrench is out by up to 35 % (bolting handbooks; from memory)."""

SCREW_FINISH = "zinc plated"


def torque_Nm(lever_length_mm: Any, hand_N: float = HAND_N) -> Any:
    """The torque of a hand at the end of the clamp's lever."""
    return hand_N * lever_length_mm / 1000


def design_passive_N(job: Job, bit_mm: float) -> float:
    """The passive force of the job's pass on the hardest of its materials, with a bit so wide."""
    names = {ball.material or job.materials.dial for ball in job.ball} or {job.materials.dial}
    turning, nose = job.turning, nose_radius_of_mm(bit_mm, job.series)
    pass_ = (turning.depth_of_cut, turning.feed, nose)
    return max(cutting_forces_N(*pass_, name)[2] for name in names)


def grip_torque_Nm(s: Any, passive_N: Any, stud_mm: Any, factor: float = DESIGN_GRIP) -> Any:
    """The torque on the stud that grips so many times the passive force; s: sizes, or columns.

    stud_mm: its diameter. The hinge is taken as joined all along the block, as the rules make it.
    """
    hinge, screw = _sound_hinge(s), most(0.1, s.rod_from_front_mm - s.clamp_screw_from_front_mm)
    modulus = material(s.structure_material).modulus_MPa
    closing = m.slit_closing_N(s.rod_play_mm, screw, most(0.1, s.block_length_mm), modulus, hinge)
    each = m.slit_grip_N(1.0, 0.0, (screw + hinge.behind_mm) / hinge.radius_mm)
    preload = (closing + factor * passive_N / each) / LEAST_PRELOAD
    return preload * torque_coefficient(SCREW_FINISH) * stud_mm / 1000


def _sound_hinge(s: Any) -> m.Ligament:
    """The hinge, and one that is just there where the sizes leave none: a requirement refuses those."""
    bore, slit = most(0.1, s.rod_diameter_mm / 2), most(0.01, s.slit_width_mm)
    near = most(0.01, s.hinge_behind_mm - slit / 2)
    least = most(1e-4, (1.01 * bore) ** 2 - near**2) ** 0.5
    return m.ligament(bore, most(-s.hinge_z_mm, least), near + slit / 2, slit)
