"""The head as turning knows it: what swings, what it reads, how far it gives and what it bears.

It is either the attachment that the job designs, or one that exists and was measured (own_head). The
rest of the room does not ask which. Plain numbers, millimetres and newtons.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from parts.attachment import Attachment
from parts.standard.cutting_forces import FEED_SHARE, PASSIVE_SHARE
from parts.tool import nose_radius_mm
from parts.value import Value
from planner.checking.clearance import BallCase, BallClearance, ball_clearance
from planner.checking.strength import (
    LEAST_SAFETY,
    Load,
    clamp_hold,
    cutting_load,
    deflection_mm,
    overhangs,
    strengths,
)
from planner.geometry.envelope import Outline, front_mm, swinging_edges, swinging_outlines
from planner.job.tables import Job

BY_LOAD = ("bar-stress", "weld-throat")
"""The stresses that grow with the cut; the clamp's own follow its screw."""


class Head(Value, frozen=True):
    """A head that swings.

    screw_pitch_mm, dial_divisions: of its feed; clearance_mm: kept between moving and standing things.
    tip_radius_min_mm, tip_radius_max_mm: how far the tip goes in and out; the ball and blank sizes are
    what it takes. bit_stickout_mm, bit_mm, nose_mm: of the bit: out of the arm, its width, its nose;
    arm_mm: the arm, along the rod. handle_length_mm: from the pivot to the hand. outlines: of all that
    swings; stands_mm: how far from the tip's plane what swings beside the work stands. grip_N: of the
    clamp on the rod, along it, at torque_Nm; lever_N: at the lever's end for that, 0 where it is not
    known. main_N: the main force that its weakest part bears. slender: the greatest overhang over
    thickness in it. spring: how far the tip gives, mm for one newton of passive force, the main force
    that goes with it counted in, by tip radius. stops: whether its swing has stops at both ends, None
    where that is not known. clear: the clearance of a ball. knob_known: whether the
    outlines have the knob.
    """

    screw_pitch_mm: float
    dial_divisions: int
    clearance_mm: float
    tip_radius_min_mm: float
    tip_radius_max_mm: float
    max_ball_diameter_mm: float
    min_ball_diameter_mm: float
    max_blank_diameter_mm: float
    bit_stickout_mm: float
    bit_mm: float
    nose_mm: float
    arm_mm: float
    handle_length_mm: float
    outlines: tuple[Outline, ...]
    stands_mm: float
    grip_N: float
    torque_Nm: float
    lever_N: float
    main_N: float
    weakest: str
    slender: float
    spring: Callable[[float], float]
    clear: Callable[[BallCase], BallClearance]
    post_x_mm: tuple[float, float]
    knob_known: bool = True
    stops: bool | None = None

    @property
    def division_mm(self) -> float:
        """What one division of the dial moves the tip."""
        return self.screw_pitch_mm / self.dial_divisions


def designed_head(attachment: Attachment, job: Job, nose_mm: float | None = None) -> Head:
    """The head of the attachment that a job designs; nose_mm: of the ground bit, None for the usual."""
    s, turning = attachment.sizes, job.turning
    nose = nose_radius_mm(s) if nose_mm is None else nose_mm
    outlines = swinging_outlines(attachment)
    tried = cutting_load(turning.depth_of_cut, 2 * turning.feed, nose, job.materials.dial)
    hold = clamp_hold(s, tried, turning.clamp_torque)
    weakest = min(
        (one for one in strengths(s, tried, turning.clamp_torque) if one.code in BY_LOAD),
        key=lambda one: one.safety,
    )
    unit = Load("", 0.0, 0.0, 0.0, 1.0 / PASSIVE_SHARE, 1.0, FEED_SHARE / PASSIVE_SHARE)
    return Head(
        screw_pitch_mm=s.screw_pitch_mm,
        dial_divisions=s.dial_divisions,
        clearance_mm=s.clearance_mm,
        tip_radius_min_mm=s.tip_radius_min_mm,
        tip_radius_max_mm=s.tip_radius_max_mm,
        max_ball_diameter_mm=s.max_ball_diameter_mm,
        min_ball_diameter_mm=s.min_ball_diameter_mm,
        max_blank_diameter_mm=s.max_blank_diameter_mm,
        bit_stickout_mm=s.bit_stickout_mm,
        bit_mm=s.bit_stock.width_mm,
        nose_mm=nose,
        arm_mm=s.arm_stock.height_mm,
        handle_length_mm=s.handle_length_mm,
        outlines=outlines,
        stands_mm=-front_mm(swinging_edges(attachment)),
        grip_N=hold.grip_N,
        torque_Nm=hold.torque_Nm,
        lever_N=hold.lever_N,
        main_N=tried.main_N * weakest.safety / LEAST_SAFETY,
        weakest=weakest.name,
        slender=max(one.ratio for one in overhangs(s)),
        spring=cache(lambda radius_mm: float(deflection_mm(s, unit, radius_mm))),
        clear=lambda case: ball_clearance(case, outlines, s, job),
        post_x_mm=(s.post_rear_x_mm, s.post_front_x_mm),
        stops=s.stop_stock is not None,
    )
