"""Textbook mechanics as small functions of plain numbers: beams, shafts, screws, welds, a slit clamp.

Millimetres, newtons, megapascals. Each names its formula's source; none knows the attachment.
planner.strength puts them together.
"""

from __future__ import annotations

from math import pi

STEEL_SHEAR_MPa = 80_000.0
"""Shear modulus of steel: E / (2 (1 + 0.3)) with E about 208 GPa (any handbook)."""


def round_second_moment(diameter_mm: float) -> float:
    """I of a solid round, pi d^4 / 64, mm4 (any handbook)."""
    return pi * diameter_mm**4 / 64


def rectangle_second_moment(width_mm: float, height_mm: float) -> float:
    """I of a rectangle bent along its height, b h^3 / 12, mm4 (any handbook)."""
    return width_mm * height_mm**3 / 12


def cantilever_mm_per_N(length_mm: float, modulus_MPa: float, second_moment_mm4: float) -> float:
    """End deflection of a cantilever for one newton at its end: L^3 / (3 E I)."""
    return length_mm**3 / (3 * modulus_MPa * second_moment_mm4)


def stepped_cantilever_mm_per_N(
    outer_mm: float, outer_I_mm4: float, root_mm: float, root_I_mm4: float, modulus_MPa: float
) -> float:
    """End deflection of a cantilever of two sections for one newton at its end.

    outer_mm with outer_I at the loaded end, root_mm with root_I at the wall. The integral of M^2 / EI:
    (a^3 / I1 + ((a + b)^3 - a^3) / I2) / (3 E) (Gere and Timoshenko, non-prismatic beams).
    """
    whole = (outer_mm + root_mm) ** 3
    return (outer_mm**3 / outer_I_mm4 + (whole - outer_mm**3) / root_I_mm4) / (3 * modulus_MPa)


def bending_stress_MPa(moment_Nmm: float, diameter_mm: float) -> float:
    """Greatest bending stress of a solid round: 32 M / (pi d^3)."""
    return 32 * moment_Nmm / (pi * diameter_mm**3)


def torsion_stress_MPa(torque_Nmm: float, diameter_mm: float) -> float:
    """Greatest shear stress of a solid round: 16 T / (pi d^3)."""
    return 16 * torque_Nmm / (pi * diameter_mm**3)


def twist_rad(
    torque_Nmm: float, length_mm: float, diameter_mm: float, shear_MPa: float = STEEL_SHEAR_MPa
) -> float:
    """Twist of a solid round: T L / (G J), J = pi d^4 / 32."""
    return torque_Nmm * length_mm / (shear_MPa * pi * diameter_mm**4 / 32)


def square_twist_rad(torque_Nmm: float, length_mm: float, side_mm: float) -> float:
    """Twist of a square bar of steel: T L / (0.1406 a^4 G) (Roark; from memory)."""
    return torque_Nmm * length_mm / (0.1406 * side_mm**4 * STEEL_SHEAR_MPa)


def combined_MPa(normal_MPa: float, shear_MPa: float) -> float:
    """Equivalent stress of bending with shear: root of s^2 + 3 t^2 (von Mises)."""
    return float((normal_MPa**2 + 3 * shear_MPa**2) ** 0.5)


def preload_N(torque_Nm: float, diameter_mm: float, friction: float = 0.2) -> float:
    """Preload of a screw from its tightening torque: T / (K d).

    friction: the torque coefficient K, 0.2 for plain steel screws (Shigley, 9th ed., table 8-15: 0.20
    zinc plated, 0.18 lubricated).
    """
    return torque_Nm * 1000 / (friction * diameter_mm)


def weld_throat_mm(leg_mm: float) -> float:
    """Throat of a fillet weld: 0.707 of its leg."""
    return 0.707 * leg_mm


def line_weld_MPa(
    force_N: float, moment_Nmm: float, leg_mm: float, length_mm: float, modulus_mm2: float
) -> float:
    """Shear on the throat of a weld treated as a line.

    length_mm of weld carries the force, its unit section modulus (Iu / c, mm2) the moment; the two are
    added as a root sum of squares (Shigley, 9th ed., table 9-2).
    """
    throat = weld_throat_mm(leg_mm)
    direct = force_N / (throat * length_mm)
    bending = moment_Nmm / (throat * modulus_mm2)
    return float((direct**2 + bending**2) ** 0.5)


def hinge_Nmm_per_rad(
    thickness_mm: float, length_mm: float, width_mm: float, modulus_MPa: float
) -> float:
    """Turning stiffness of a short leaf hinge: E I / l, I = b t^3 / 12.

    length_mm: of the thin part; the metal beside it bends along by about half the thickness at either
    end, so the length taken is l + t.
    """
    second = rectangle_second_moment(width_mm, thickness_mm)
    return modulus_MPa * second / (length_mm + thickness_mm)


def hinge_stress_MPa(
    turn_rad: float, thickness_mm: float, length_mm: float, modulus_MPa: float
) -> float:
    """Bending stress of that hinge at an angle: E t turn / (2 (l + t))."""
    return modulus_MPa * thickness_mm * turn_rad / (2 * (length_mm + thickness_mm))


def slit_grip_N(screw_N: float, closing_N: float, lever: float, friction: float = 0.12) -> float:
    """Axial grip of a slit clamp on a rod.

    What the screw has left after closing the slit presses on two lines of the rod, by its lever about
    the hinge: 2 mu F lever. friction: 0.12, oiled steel on steel (common practice).
    """
    return 2 * friction * max(0.0, screw_N - closing_N) * lever
