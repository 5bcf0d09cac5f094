"""A head that exists, as its user measured it: the outlines it sweeps and what it bears."""

from __future__ import annotations

from math import inf, radians, sin, tan

from parts.attachment import Carrier
from parts.standard.cutting_forces import FEED_SHARE
from parts.standard.sections import Section
from parts.tool import INCLUDED_DEG, nose_radius_of_mm
from parts.value import Value
from planner.checking.clearance import ball_clearance
from planner.checking.strength import LEAST_SAFETY, BIT_STRENGTH_MPa
from planner.geometry.envelope import Edge, Outline
from planner.job.own_head import OwnHead
from planner.job.tables import Job
from planner.sums.mechanics import rectangle_second_moment, round_second_moment
from planner.turning.head import Head

STEEL_MPa = 206_000.0
"""Modulus that rod and arm are taken to have."""

TIMES = 3.0
"""What the whole head gives over what rod and arm give, where it is not measured: shank and joints are
two thirds of it (finite elements on heads of this kind)."""

BEYOND_BALL_MM = 10.0
"""How far the tip is taken to go out over the largest ball, for the corners of its blank."""


class _Measured(Value, frozen=True):
    """What a ball's clearance asks of sizes, of a head that was measured."""

    clearance_mm: float
    bit_stickout_mm: float
    arm_lead_mm: float
    bit_stock: Section
    spindle_over_cross_slide_mm: float
    nose_mm: float
    thrust_x_mm: float = 0.0
    housing_length_mm: float = 0.0


def measured_head(own: OwnHead, job: Job) -> Head:
    """The head of a job that has its own."""
    nose = own.nose or nose_radius_of_mm(own.bit_width, job.series)
    outlines = own_outlines(own, nose)
    s = _Measured(
        own.clearance,
        own.bit_stickout,
        own.arm_width / 2,
        Section("square", own.bit_width),
        job.lathe.spindle_over_cross_slide,
        nose,
    )
    bit = BIT_STRENGTH_MPa * own.bit_width**3 / 6 / own.bit_stickout / (1 + FEED_SHARE)
    give = own_give_mm_per_N(own, job.numbers.force_step_N)
    tip = own.largest_ball / 2
    return Head(
        screw_pitch_mm=own.screw_pitch,
        dial_divisions=own.dial_divisions,
        clearance_mm=own.clearance,
        tip_radius_min_mm=own.smallest_ball / 2,
        tip_radius_max_mm=tip + BEYOND_BALL_MM,
        max_ball_diameter_mm=own.largest_ball,
        min_ball_diameter_mm=own.smallest_ball,
        max_blank_diameter_mm=2 * (own.beside - own.clearance),
        bit_stickout_mm=own.bit_stickout,
        bit_mm=own.bit_width,
        nose_mm=nose,
        arm_mm=own.arm_height,
        handle_length_mm=own.handle_length,
        outlines=outlines,
        stands_mm=own.beside,
        grip_N=own.grip,
        torque_Nm=0.0,
        lever_N=0.0,
        main_N=bit / LEAST_SAFETY,
        weakest="tool bit",
        slender=max(own.overhang / own.arm_height, own.bit_stickout / own.bit_width),
        spring=lambda _radius_mm: give,
        clear=lambda case: ball_clearance(case, outlines, s, job, post=False),
        post_x_mm=(-inf, inf),
        knob_known=own.knob is not None,
    )


def own_give_mm_per_N(own: OwnHead, under_N: float = 100.0) -> float:
    """How far the tip gives under one newton along the rod: as measured, else by rod and arm.

    The arm is a cantilever as long as the overhang, the rod a bar that its moment bends over the length
    from the body to the arm (any handbook of mechanics). under_N: the force that ``gives`` is under.
    """
    if own.gives is not None:
        return own.gives / under_N
    arm = own.overhang**3 / (3 * STEEL_MPa * rectangle_second_moment(own.arm_width, own.arm_height))
    free = max(1.0, own.largest_ball / 2 + own.bit_stickout - own.body_radius)
    rod = own.overhang**2 * free / (STEEL_MPa * round_second_moment(own.rod_diameter))
    return TIMES * (arm + rod)


def own_outlines(own: OwnHead, nose_mm: float) -> tuple[Outline, ...]:
    """What swings: bit, arm, rod with its tail, body and knob; the tip on top at radius zero."""
    half, bit = radians(INCLUDED_DEG / 2), own.bit_width / 2
    shoulder = bit / tan(half) + nose_mm - nose_mm / sin(half)
    back = own.bit_stickout + own.arm_height
    lead, rod = own.arm_width / 2, own.rod_diameter / 2
    far = -(own.overhang + rod)
    tail = -own.tail - own.largest_ball / 2

    def head(name: str, x: tuple[float, float], *corners: tuple[float, float]) -> Outline:
        return tuple(Edge(name, Carrier.HEAD, x[0], x[1], y, z) for y, z in corners)

    point = (
        Edge("tool bit", Carrier.HEAD, -own.bit_width, 0.0, nose_mm, 0.0, nose_mm, True),
        *(
            Edge("tool bit", Carrier.HEAD, -own.bit_width, 0.0, y, z, 0.0, True)
            for y in (max(shoulder, nose_mm), back)
            for z in (-bit, bit)
        ),
    )
    sides = [(y, z) for y in (own.bit_stickout, back) for z in (-lead, lead)]
    long = [(y, z) for y in (tail, back) for z in (-rod, rod)]
    wide = (-own.overhang - max(rod, own.body_radius), -own.beside)
    found: list[Outline] = [
        point,
        head("arm", (far, 0.0), *sides),
        head("rod", (far, -own.overhang + rod), *long),
        (Edge("body", Carrier.BODY, wide[0], wide[1], 0.0, 0.0, own.body_radius),),
    ]
    if own.knob is not None:
        at = (-own.knob - KNOB_MM, -own.knob + KNOB_MM)
        found.append((Edge("knob", Carrier.BODY, at[0], at[1], own.handle_length, 0.0, KNOB_MM),))
    return tuple(found)


KNOB_MM = 15.0
"""Radius that a knob is taken to have (from memory)."""
