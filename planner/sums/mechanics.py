"""Textbook mechanics as small functions of plain numbers: beams, shafts, screws, welds, a slit clamp.

Millimetres, newtons, megapascals. Each names its formula's source; none knows the attachment.
checking.strength puts them together. Plain arithmetic: an array of sizes goes through as one size does.
A size that is zero, negative, infinite or no number raises NotSound.
"""

from __future__ import annotations

from math import inf, pi

from parts.value import Value

STEEL_SHEAR_MPa = 80_000.0
"""Shear modulus of steel: E / (2 (1 + 0.3)) with E about 208 GPa (any handbook)."""


class NotSound(ValueError):
    """A size that no bar, screw or weld can have; checking.strength tries sizes and catches it."""


def sound(**values: float) -> None:
    """Raises NotSound for a value that is not above zero and finite; arrays element by element."""
    for name, value in values.items():
        good = (value > 0.0) & (value < inf)
        if not (good if isinstance(good, bool) else good.all()):
            raise NotSound(f"{name} {value}: give a number above zero")


def root(value: float) -> float:
    """Square root of a number or of an array of them."""
    return value**0.5  # type: ignore[no-any-return]


def stretch_mm(
    pull_N: float, length_mm: float, area_mm2: float, modulus_MPa: float = 208_000.0
) -> float:
    """How far a bar stretches under a pull: F L / (A E); of steel by default (any handbook)."""
    sound(length_mm=length_mm, area_mm2=area_mm2, modulus_MPa=modulus_MPa)
    return pull_N * length_mm / (area_mm2 * modulus_MPa)


def round_second_moment(diameter_mm: float) -> float:
    """I of a solid round, pi d^4 / 64, mm4 (any handbook)."""
    sound(diameter_mm=diameter_mm)
    return pi * diameter_mm**4 / 64


def rectangle_second_moment(width_mm: float, height_mm: float) -> float:
    """I of a rectangle bent along its height, b h^3 / 12, mm4 (any handbook)."""
    sound(width_mm=width_mm, height_mm=height_mm)
    return width_mm * height_mm**3 / 12


def cantilever_mm_per_N(length_mm: float, modulus_MPa: float, second_moment_mm4: float) -> float:
    """End deflection of a cantilever for one newton at its end: L^3 / (3 E I) (any handbook)."""
    sound(length_mm=length_mm, modulus_MPa=modulus_MPa, second_moment_mm4=second_moment_mm4)
    return length_mm**3 / (3 * modulus_MPa * second_moment_mm4)


def cantilever_rad_per_N(length_mm: float, modulus_MPa: float, second_moment_mm4: float) -> float:
    """End slope of a cantilever for one newton at its end: L^2 / (2 E I) (any handbook).

    By reciprocity it is also the end deflection, in mm, for one newton millimetre at the end.
    """
    sound(length_mm=length_mm, modulus_MPa=modulus_MPa, second_moment_mm4=second_moment_mm4)
    return length_mm**2 / (2 * modulus_MPa * second_moment_mm4)


def stepped_cantilever_mm_per_N(
    outer_mm: float, outer_I_mm4: float, root_mm: float, root_I_mm4: float, modulus_MPa: float
) -> float:
    """End deflection of a cantilever of two sections for one newton at its end.

    outer_mm with outer_I at the loaded end, root_mm with root_I at the wall. The integral of M^2 / EI:
    (a^3 / I1 + ((a + b)^3 - a^3) / I2) / (3 E) (Gere and Timoshenko, non-prismatic beams).
    """
    sound(outer_mm=outer_mm, outer_I_mm4=outer_I_mm4, root_mm=root_mm)
    sound(root_I_mm4=root_I_mm4, modulus_MPa=modulus_MPa)
    whole = (outer_mm + root_mm) ** 3
    return (outer_mm**3 / outer_I_mm4 + (whole - outer_mm**3) / root_I_mm4) / (3 * modulus_MPa)


def stepped_cantilever_mm_per_Nmm(
    outer_mm: float, outer_I_mm4: float, root_mm: float, root_I_mm4: float, modulus_MPa: float
) -> float:
    """End deflection of the same cantilever for a moment of one newton millimetre at its end.

    The integral of M x / EI: (a^2 / I1 + ((a + b)^2 - a^2) / I2) / (2 E).
    """
    sound(outer_mm=outer_mm, outer_I_mm4=outer_I_mm4, root_mm=root_mm)
    sound(root_I_mm4=root_I_mm4, modulus_MPa=modulus_MPa)
    whole = (outer_mm + root_mm) ** 2
    return (outer_mm**2 / outer_I_mm4 + (whole - outer_mm**2) / root_I_mm4) / (2 * modulus_MPa)


def bending_stress_MPa(moment_Nmm: float, diameter_mm: float) -> float:
    """Greatest bending stress of a solid round: 32 M / (pi d^3)."""
    sound(diameter_mm=diameter_mm)
    return 32 * moment_Nmm / (pi * diameter_mm**3)


def torsion_stress_MPa(torque_Nmm: float, diameter_mm: float) -> float:
    """Greatest shear stress of a solid round: 16 T / (pi d^3)."""
    sound(diameter_mm=diameter_mm)
    return 16 * torque_Nmm / (pi * diameter_mm**3)


def twist_rad(
    torque_Nmm: float, length_mm: float, diameter_mm: float, shear_MPa: float = STEEL_SHEAR_MPa
) -> float:
    """Twist of a solid round: T L / (G J), J = pi d^4 / 32."""
    sound(diameter_mm=diameter_mm, shear_MPa=shear_MPa)
    return torque_Nmm * length_mm / (shear_MPa * pi * diameter_mm**4 / 32)


def rectangle_twist_rad(
    torque_Nmm: float, length_mm: float, long_mm: float, short_mm: float
) -> float:
    """Twist of a rectangular bar of steel, long_mm >= short_mm (Roark, torsion table; from memory).

    J = a b^3 (1/3 - 0.21 b/a (1 - b^4 / (12 a^4))); 0.1408 a^4 for a square, 0.1406 exact.
    """
    sound(long_mm=long_mm, short_mm=short_mm)
    ratio = short_mm / long_mm
    second = long_mm * short_mm**3 * (1 / 3 - 0.21 * ratio * (1 - ratio**4 / 12))
    return torque_Nmm * length_mm / (second * STEEL_SHEAR_MPa)


def rectangle_torsion_MPa(torque_Nmm: float, long_mm: float, short_mm: float) -> float:
    """Greatest shear of a rectangular bar: T (3 + 1.8 b/a) / (a b^2) (Shigley, eq. 3-40; memory)."""
    sound(long_mm=long_mm, short_mm=short_mm)
    return torque_Nmm * (3 + 1.8 * short_mm / long_mm) / (long_mm * short_mm**2)


def combined_MPa(normal_MPa: float, shear_MPa: float) -> float:
    """Equivalent stress of bending with shear: root of s^2 + 3 t^2 (von Mises)."""
    return root(normal_MPa**2 + 3 * shear_MPa**2)


def bearing_tilt_rad_per_Nmm(
    length_mm: float, modulus_MPa: float, second_moment_mm4: float
) -> float:
    """Elastic tilt at the mouth of a plain bearing for one newton millimetre there: L / (3 E I).

    The shaft is taken as carried at both ends of a stiff bore and bent between them (two supports, a
    moment over one of them; any handbook), which is the softest a bearing of that length can be.
    """
    sound(length_mm=length_mm, modulus_MPa=modulus_MPa, second_moment_mm4=second_moment_mm4)
    return length_mm / (3 * modulus_MPa * second_moment_mm4)


def root_tilt_rad_per_Nmm(diameter_mm: float, modulus_MPa: float) -> float:
    """Tilt of a round bar grown out of a much larger body, for one newton millimetre.

    The bar brings its own bending stress to its root: p = 4 M x / (pi a^4) on a circle of a half-space.
    By Boussinesq (Johnson, Contact Mechanics, chapter 3) its mean turn, that of the work done, is
    128 (1 - nu^2) / (15 pi^2 E a^3), nu 0.3; a rigid disc's, that presses most at its edge, 0.87 of it.
    """
    sound(diameter_mm=diameter_mm, modulus_MPa=modulus_MPa)
    return 128 * (1 - 0.3**2) / (15 * pi**2 * modulus_MPa * (diameter_mm / 2) ** 3)


def clearance_tilt_mm(clearance_mm: float, length_mm: float, lever_mm: float) -> float:
    """How far a shaft moves, lever_mm in front of its bearing, before it bears: c (1/2 + lever / L).

    clearance_mm: on the diameter, 0 or more. The shaft lies against opposite sides at the two ends.
    """
    sound(length_mm=length_mm)
    return clearance_mm * (0.5 + lever_mm / length_mm)


def preload_N(torque_Nm: float, diameter_mm: float, friction: float = 0.2) -> float:
    """Preload of a screw from its tightening torque: T / (K d).

    friction: the torque coefficient K of parts.standard.bolts (Shigley, 9th ed., table 8-15).
    """
    sound(torque_Nm=torque_Nm, diameter_mm=diameter_mm, friction=friction)
    return torque_Nm * 1000 / (friction * diameter_mm)


def tightening_Nmm(
    force_N: float, pitch_diameter_mm: float, pitch_mm: float, collar_mm: float, friction: float
) -> float:
    """Tightening torque of a 60 degree thread, the long form (Shigley, 9th ed., eq. 8-26).

    F d2/2 (tan l + f / cos 30) / (1 - f tan l / cos 30) + F f dc/2, tan l = p / (pi d2). force_N: the
    preload; collar_mm: mean diameter of the head's bearing face; friction: of both, 0.1 to 0.2.
    """
    sound(pitch_diameter_mm=pitch_diameter_mm, pitch_mm=pitch_mm, friction=friction)
    lead, rub = pitch_mm / (pi * pitch_diameter_mm), friction / root(0.75)
    thread = pitch_diameter_mm / 2 * (lead + rub) / (1 - rub * lead)
    return force_N * (thread + friction * collar_mm / 2)


def strip_area_mm2_per_mm(major_mm: float, pitch_mm: float, pitch_diameter_mm: float) -> float:
    """Area by which a tapped hole's threads shear off, for each mm the screw is in.

    pi d (1/2 + 0.57735 (d - d2) / p), basic sizes: 0.875 pi d for a 60 degree thread (Machinery's
    Handbook, shear area of internal threads; from memory).
    """
    sound(major_mm=major_mm, pitch_mm=pitch_mm, pitch_diameter_mm=pitch_diameter_mm)
    return pi * major_mm * (0.5 + 0.57735 * (major_mm - pitch_diameter_mm) / pitch_mm)


def engagement_mm(force_N: float, area_mm2_per_mm: float, yield_MPa: float) -> float:
    """Least thread engagement that bears a force in a tapped hole: F / (area 0.577 yield)."""
    sound(area_mm2_per_mm=area_mm2_per_mm, yield_MPa=yield_MPa)
    return force_N / (area_mm2_per_mm * 0.577 * yield_MPa)


def hand_N(force_N: float, radius_mm: float, handle_mm: float) -> float:
    """Force at the end of a handle that balances a force at a radius; bearing friction left out."""
    sound(handle_mm=handle_mm)
    return force_N * radius_mm / handle_mm


def weld_throat_mm(leg_mm: float) -> float:
    """Throat of a fillet weld: 0.707 of its leg."""
    sound(leg_mm=leg_mm)
    return 0.707 * leg_mm


def line_weld_MPa(
    force_N: float, moment_Nmm: float, leg_mm: float, length_mm: float, modulus_mm2: float
) -> float:
    """Shear on the throat of a weld treated as a line.

    length_mm of weld carries the force, its unit section modulus (Iu / c, mm2) the moment; the two are
    added as a root sum of squares (Shigley, 9th ed., table 9-2).
    """
    sound(length_mm=length_mm, modulus_mm2=modulus_mm2)
    throat = weld_throat_mm(leg_mm)
    direct = force_N / (throat * length_mm)
    bending = moment_Nmm / (throat * modulus_mm2)
    return root(direct**2 + bending**2)


Triple = tuple[float, float, float]


def weld_pair_MPa(
    forces_N: Triple, moments_Nmm: Triple, leg_mm: float, length_mm: float, apart_mm: float
) -> float:
    """Greatest shear on the throats of two parallel welds, as lines (Shigley, tables 9-1 and 9-2).

    The welds run along x, length_mm each, apart_mm across y; forces and moments are about the middle
    of the group, along x, y and z. Iu about y = L^3/6, about x = L h^2/2, Ju their sum; the pieces
    are added by direction with their greatest signs, at the worst corner.
    """
    sound(length_mm=length_mm, apart_mm=apart_mm)
    throat = weld_throat_mm(leg_mm)
    (fx, fy, fz), (mx, my, mz) = (tuple(abs(v) for v in t) for t in (forces_N, moments_Nmm))
    about_x, about_y = length_mm * apart_mm**2 / 2, length_mm**3 / 6
    polar, across, along = about_x + about_y, apart_mm / 2, length_mm / 2
    in_x = fx / (2 * length_mm) + mz * across / polar
    in_y = fy / (2 * length_mm) + mz * along / polar
    in_z = fz / (2 * length_mm) + mx * across / about_x + my * along / about_y
    return root(in_x**2 + in_y**2 + in_z**2) / throat


def weld_ring_MPa(
    force_N: float, moment_Nmm: float, torque_Nmm: float, leg_mm: float, diameter_mm: float
) -> float:
    """Greatest shear on the throat of a weld all round a bar, as a line.

    A = pi d, Iu = pi d^3 / 8, Ju = pi d^3 / 4 (Shigley, 9th ed., tables 9-1 and 9-2, the circle); the
    force in any direction, so it is added to the bending; the torsion at right angles to it.
    """
    sound(diameter_mm=diameter_mm)
    bending = force_N / (pi * diameter_mm) + moment_Nmm * 4 / (pi * diameter_mm**2)
    torsion = torque_Nmm * 2 / (pi * diameter_mm**2)
    return root(bending**2 + torsion**2) / weld_throat_mm(leg_mm)


ROOTS = 0.82
"""Bending of the metal at either root of a ligament, in 1/t^2: fitted to the plane-stress model of
tests/test_fem.py, which also holds its error."""


class Ligament(Value, frozen=True):
    """The thin metal between a round bore and a slit cut square toward it: a clamp's hinge.

    thin_mm: where it is thinnest, at the slit's near corner; radius_mm, behind_mm: the middle of that
    from the bore's axis, and along; slope: sine of its direction; bends: integral of ds / t^3, 1/mm2.
    """

    thin_mm: float
    radius_mm: float
    behind_mm: float
    slope: float
    bends: float


def ligament(bore_mm: float, depth_mm: float, offset_mm: float, slit_mm: float) -> Ligament:
    """The ligament left between a bore and a slit.

    bore_mm: radius. The slit's flat end lies depth_mm from the axis plane and its middle offset_mm
    behind the axis; slit_mm: its width. At x along the end the metal is t = root(x^2 + depth^2) - bore
    thick; the integral is Simpson's over four steps. Raises ValueError when nothing is left.
    """
    sound(bore_mm=bore_mm, depth_mm=depth_mm, slit_mm=slit_mm, near=offset_mm - slit_mm / 2)
    places = [offset_mm + slit_mm * (i / 4 - 0.5) for i in range(5)]
    reach = [root(x**2 + depth_mm**2) for x in places]
    thick = [rho - bore_mm for rho in reach]
    sound(ligament_mm=thick[0])
    rate = [
        (bore_mm + t / 2) * depth_mm / rho**2 / t**3 for rho, t in zip(reach, thick, strict=True)
    ]
    along = slit_mm / 12 * (rate[0] + 4 * rate[1] + 2 * rate[2] + 4 * rate[3] + rate[4])
    radius = bore_mm + thick[0] / 2
    slope = places[0] / reach[0]
    bends = along + ROOTS * (thick[0] ** -2 + thick[4] ** -2)
    return Ligament(thick[0], radius, radius * slope, slope, bends)


def slit_closing_N(
    play_mm: float, screw_mm: float, width_mm: float, modulus_MPa: float, hinge: Ligament
) -> float:
    """Force of a screw that turns a clamp's leaf on its hinge until the rod's clearance is gone.

    play_mm: on the diameter; screw_mm: from the rod's axis to the screw; width_mm: of the clamp along
    the rod. F = play E b / (12 bends lever radius). This closing for
    each newton is 0.89 to 1.09 of a plane-stress model's (tests/test_fem.py) where the thinnest metal
    is 0.08 to 0.3 bore radii, the bore 8 to 32 mm and the slit 1 to 2.4 mm; a thicker hinge is outside
    it. A clamp much wider than its hinge is thick is stiffer still: this force is 0.8 to 0.9 of that of
    a model in three dimensions, of the bench lathe's block alone (tests/checking/test_fem_block.py).
    """
    sound(screw_mm=screw_mm, width_mm=width_mm, modulus_MPa=modulus_MPa)
    lever = screw_mm + hinge.behind_mm
    return play_mm * modulus_MPa * width_mm / (12 * hinge.bends * lever * hinge.radius_mm)


def slit_hinge_MPa(
    closing_N: float, clamping_N: float, screw_mm: float, width_mm: float, hinge: Ligament
) -> float:
    """Stress in the hinge: bent while the slit closes, then pulled by the leaf's lever.

    closing_N: of the screw's force, up to where the rod bears; clamping_N: the rest. 6 M / b t^2, plus
    the pull N - F sin and the shear F cos over b t, N = F lever / radius. Above the model's greatest
    smooth stress by 1.1 to 2 times in the sizes the rules make (tests/test_fem.py).
    """
    sound(width_mm=width_mm)
    lever = screw_mm + hinge.behind_mm
    bending = 6 * closing_N * lever / (width_mm * hinge.thin_mm**2)
    pull = clamping_N * (lever / hinge.radius_mm - hinge.slope)
    shear = clamping_N * root(1 - hinge.slope**2)
    area = width_mm * hinge.thin_mm
    return combined_MPa(bending + pull / area, shear / area)


def slit_leaf_MPa(
    closing_N: float,
    clamping_N: float,
    screw_mm: float,
    width_mm: float,
    leaf_mm: float,
    bore_mm: float,
    hinge: Ligament,
) -> float:
    """Bending stress in the leaf: from the screw to the axis while it closes, then to where it bears.

    leaf_mm: its thickness under the bore. It bears across from the hinge, bore (1 - slope^2)^1/2 in
    front of the axis, and is as much thicker there as the bore rises. 0.95 to 2 times the model's in
    the sizes the rules make.
    """
    sound(width_mm=width_mm, leaf_mm=leaf_mm, bore_mm=bore_mm)
    front = bore_mm * root(1 - hinge.slope**2)
    there = leaf_mm + bore_mm * (1 - hinge.slope)
    free = 6 * closing_N * screw_mm / (width_mm * leaf_mm**2)
    held = 6 * clamping_N * abs(screw_mm - front) / (width_mm * there**2)
    return free + held


def slit_grip_N(
    screw_N: float, closing_N: float, lever: float, friction: float = 0.12, contact: float = 1.0
) -> float:
    """Axial grip of a slit clamp on a rod.

    What the screw has left after closing the slit presses on two lines of the rod, by its lever about
    the hinge: 2 mu F lever c. friction: 0.12, oiled steel on steel (common practice). contact: c is 1
    for two lines, the least; 4/pi for a cosine of pressure, pi/2 for an even one (split hub,
    T = c mu F d). With the lever taken as (screw + behind) / radius of the ligament, the
    push on the rod is 0.90 to 1.05 of the plane-stress model's, over the range of slit_closing_N.
    """
    left = screw_N - closing_N
    return 2 * contact * friction * (left + abs(left)) / 2 * lever
