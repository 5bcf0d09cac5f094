"""Textbook mechanics against worked examples, with the page beside each."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, degrees, hypot, pi

import numpy as np
import pytest

from parts.standard.bolts import proof_MPa, torque_coefficient
from parts.standard.cutting_forces import (
    force_rows,
    kc_MPa,
    specific_force,
    specific_force_MPa,
)
from parts.standard.errors import UnknownSize
from planner.sums import mechanics as m

LBF_IN_PER_NMM = 1 / 112.984829


def test_preload_from_torque() -> None:
    # Shigley 9th ed., p. 439, example 8-3: 3/4 in bolt, Fi = 25 kip, K = 0.20: T = 3750 lbf in
    torque_Nm = 3750 * 0.112984829
    assert m.preload_N(torque_Nm, 0.75 * 25.4, 0.20) == pytest.approx(25_000 * 4.4482216, rel=1e-6)


def test_weld_throat_in_shear() -> None:
    # Shigley 10th ed., solutions 9-1: two fillets of 50 mm, leg 5 mm, 140 MPa carry 49.5 kN
    assert m.line_weld_MPa(49_490, 0.0, 5.0, 100.0, 1.0) == pytest.approx(140.0, rel=1e-4)


def test_weld_in_bending() -> None:
    # Shigley 9th ed., table 9-2: two vertical lines of length d have Iu = d^3 / 6, so Iu / c = d^2 / 3
    d, leg, moment = 60.0, 4.0, 90_000.0
    throat = 0.707 * leg
    by_hand = moment * (d / 2) / (throat * d**3 / 6)
    assert m.line_weld_MPa(0.0, moment, leg, 2 * d, d**2 / 3) == pytest.approx(by_hand)


def test_torsion_of_a_round_bar() -> None:
    # d 20 mm, L 100 mm, T 50 Nm, G 81 GPa: 31.83 MPa, 0.2252 degrees (16 T / pi d^3, T L / G J)
    assert m.torsion_stress_MPa(50_000, 20) == pytest.approx(31.8310, rel=1e-5)
    assert degrees(m.twist_rad(50_000, 100, 20, 81_000)) == pytest.approx(0.225158, rel=1e-5)


def test_a_rectangular_cantilever() -> None:
    # flat spring, Machinery's Handbook 27th ed.: E 207 GPa, 10 x 1 x 40 mm, 10 N: 1.2367 mm, 240 MPa
    second = m.rectangle_second_moment(10, 1)
    assert 10 * m.cantilever_mm_per_N(40, 207_000, second) == pytest.approx(1.236715, rel=1e-6)


def test_a_stepped_cantilever() -> None:
    # Gere and Timoshenko (from memory, re-derived): root half 2 I, outer half I: 3 P L^3 / (16 E I)
    length, modulus, second = 100.0, 210_000.0, 5000.0
    found = m.stepped_cantilever_mm_per_N(50, second, 50, 2 * second, modulus)
    assert found == pytest.approx(3 * length**3 / (16 * modulus * second))


def test_a_stepped_cantilever_is_the_integral_of_its_curvature() -> None:
    # summed here slice by slice: the unit-load integral of x^2 / (E I) from the loaded end
    outer, root, I1, I2, modulus, slices = 27.0, 20.0, 4000.0, 17_000.0, 210_000.0, 20_000
    step = (outer + root) / slices
    stations = ((i + 0.5) * step for i in range(slices))
    total = sum(x**2 / (modulus * (I1 if x < outer else I2)) * step for x in stations)
    found = m.stepped_cantilever_mm_per_N(outer, I1, root, I2, modulus)
    assert found == pytest.approx(total, rel=1e-3)


def test_bending_of_a_round_bar() -> None:
    # 32 M / (pi d^3) is M c / I
    assert m.bending_stress_MPa(1e5, 20) == pytest.approx(1e5 * 10 / m.round_second_moment(20))


def test_proof_loads() -> None:
    # ISO 898-1: M6 8.8 bears 11.6 kN on 20.1 mm2, M20 8.8 147 kN on 245 mm2
    assert proof_MPa("8.8", 6) * 20.1 == pytest.approx(11_600, rel=0.012)
    assert proof_MPa("8.8", 20) * 245 == pytest.approx(147_000, rel=0.012)
    with pytest.raises(UnknownSize):
        proof_MPa("7.7", 6)


@pytest.mark.parametrize("group", ["mild steel", "medium carbon steel", "brass", "aluminium"])
@pytest.mark.parametrize("chip", [0.02, 0.05, 0.1, 0.3])
def test_specific_force_is_the_greatest_published_and_grows_as_chips_thin(
    group: str, chip: float
) -> None:
    # Kienzle: kc = kc1.1 h^-mc; catalogue and textbook differ by up to half, the safe one is taken
    bounds = [row.kc1_1_MPa * chip**-row.mc for row in force_rows(group)]
    found = specific_force_MPa(group, chip)
    assert found == pytest.approx(max(bounds))
    assert specific_force_MPa(group, chip / 2) > found


def test_steel_at_a_chip_of_a_tenth() -> None:
    # C60 at h = 0.1 mm: 2130 x 0.1^-0.18 = 3224 MPa by hand, C45 3064 (textbook values after Kienzle)
    assert specific_force_MPa("medium carbon steel", 0.1) == pytest.approx(3224, rel=0.001)


@pytest.mark.parametrize(
    ("group", "textbook"),
    [
        # kc1.1 and mc after Kienzle and Victor, +6 degrees (textbooks; from memory): C45, 42CrMo4, the
        # AlMgSi wrought alloy and CuZn37. Catalogues differ by up to half.
        ("medium carbon steel", (2220, 0.14)),
        ("alloy steel", (2500, 0.26)),
        ("aluminium", (780, 0.23)),
        ("brass", (1180, 0.15)),
    ],
)
def test_specific_force_lies_within_half_of_the_textbooks(
    group: str, textbook: tuple[float, float]
) -> None:
    kc1, mc = textbook
    for chip in (0.02, 0.05, 0.1, 0.3):
        book = kc1 * chip**-mc
        assert book / 1.01 <= specific_force_MPa(group, chip) <= 1.5 * book
    found = specific_force(group)
    assert found.low_MPa <= found.kc1_1_MPa <= found.high_MPa
    assert found.low_MPa <= kc1 <= found.high_MPa <= 2 * found.low_MPa


def test_more_rake_cuts_easier() -> None:
    # 1.5 % a degree from +6 (textbooks; from memory): a flat top of 0 degrees asks 9 % more
    assert specific_force_MPa("brass", 0.1, 0.0) == pytest.approx(
        1.09 * specific_force_MPa("brass", 0.1)
    )
    assert kc_MPa(1500, 0.22, 1.0) == pytest.approx(1500)
    with pytest.raises(ValueError):
        specific_force_MPa("brass", 0.1, 60.0)


@pytest.mark.parametrize("chip", [0.0, -1.0, 3.0, float("nan")])
def test_no_force_is_given_for_an_absurd_chip(chip: float) -> None:
    with pytest.raises(ValueError):
        specific_force_MPa("brass", chip)


@pytest.mark.parametrize(
    ("contact", "c"),
    [("two lines", 1.0), ("cosine of pressure", 1.2732395), ("even pressure", 1.5707963)],
)
def test_grip_of_a_split_hub(contact: str, c: float) -> None:
    # T = c mu Fsum d, Fsum pressing the halves together (machine design books; from memory); summed
    # here: pressure p cos^k over half the rod, Fsum its part along the clamp, T = mu r times all
    mu, force, d, n = 0.3, 1000.0, 75.0, 20_000
    angles = [pi * ((i + 0.5) / n - 0.5) for i in range(n)]
    if contact == "two lines":
        pressing, rubbing = 1.0, 1.0
    else:
        power = 1 if contact == "cosine of pressure" else 0
        pressing = sum(cos(a) ** (power + 1) for a in angles)
        rubbing = sum(cos(a) ** power for a in angles)
    torque = 2 * mu * force * rubbing / pressing * d / 2  # both halves
    assert torque == pytest.approx(c * mu * force * d, rel=1e-6)
    assert m.slit_grip_N(force, 0.0, 1.0, mu, c) == pytest.approx(torque / (d / 2), rel=1e-6)


def test_grip_of_a_clamp_coupling() -> None:
    # Khurmi and Gupta, clamp coupling: 75 mm shaft, 6 bolts of 22.17 mm core at 70 MPa, mu 0.3, even
    # pressure: 2864.8 Nm (formula from memory, re-derived; data seen). Half the bolts hold each shaft.
    pressing = 3 * pi / 4 * 22.17**2 * 70
    axial = m.slit_grip_N(pressing, 0.0, 1.0, friction=0.3, contact=pi / 2)
    assert axial * 75 / 2 / 1000 == pytest.approx(2864.8, rel=1e-3)


def test_a_slit_clamp_on_two_lines() -> None:
    # a clamp pressing on two lines turns with T = mu F d (Khurmi and Gupta, two-line contact):
    # along its axis that is 2 mu F
    mu, force, d = 0.3, 1000.0, 75.0
    torque = 1.0 * mu * (2 * force) * d / 2  # both lines bear F at radius d / 2
    assert m.slit_grip_N(force, 0.0, 1.0, mu) == pytest.approx(torque / (d / 2))
    assert m.slit_grip_N(100.0, 200.0, 2.0) == 0.0


def test_a_ligament_is_the_integral_of_its_curvature() -> None:
    # thickness by geometry: from the bore along each ray to the slit's end; summed here in fine slices
    bore, depth, offset, slit, n = 7.0, 7.2, 5.6, 1.6, 20_000
    found = m.ligament(bore, depth, offset, slit)
    low, high = atan2(offset - slit / 2, depth), atan2(offset + slit / 2, depth)
    step, total = (high - low) / n, 0.0
    for i in range(n):
        t = depth / cos(low + (i + 0.5) * step) - bore
        total += (bore + t / 2) * step / t**3
    near, far = depth / cos(low) - bore, depth / cos(high) - bore
    assert found.thin_mm == pytest.approx(near)
    assert found.bends - m.ROOTS * (near**-2 + far**-2) == pytest.approx(total, rel=0.005)
    with pytest.raises(ValueError):
        m.ligament(bore, 4.0, offset, slit)  # the slit would run into the bore


def test_a_stiffer_clamp_needs_more_to_close() -> None:
    thin, thick = m.ligament(7, 7.2, 5.6, 1.6), m.ligament(7, 7.7, 5.6, 1.6)
    force = m.slit_closing_N(0.012, 12, 32, 210_000, thin)
    assert m.slit_closing_N(0.012, 12, 32, 210_000, thick) > force
    assert m.slit_closing_N(0.024, 12, 32, 210_000, thin) == pytest.approx(2 * force)


def test_a_cantilevers_slope() -> None:
    # L^2 / 2 E I (any handbook): here the slope of y = P (3 L x^2 - x^3) / 6 E I between near points
    L, E, second, dx = 40.0, 207_000.0, 10 / 12, 1e-4

    def sag(x: float) -> float:
        return (3 * L * x**2 - x**3) / (6 * E * second)

    assert sag(L) == pytest.approx(m.cantilever_mm_per_N(L, E, second))
    slope = (sag(L) - sag(L - dx)) / dx
    assert m.cantilever_rad_per_N(L, E, second) == pytest.approx(slope, rel=1e-4)


def test_long_form_of_the_tightening_torque() -> None:
    # Shigley 9th ed., eq. 8-26 on example 8-3: 3/4-16 UNF, 25 kip, f = fc = 0.15, dc = 1.25 d, on the
    # pitch diameter d - 0.6495 p: 3551 lbf in (from memory; recomputed)
    d, pitch = 0.75 * 25.4, 25.4 / 16
    torque = m.tightening_Nmm(25_000 * 4.4482216, d - 0.649519 * pitch, pitch, 1.25 * d, 0.15)
    assert torque * LBF_IN_PER_NMM == pytest.approx(3551, rel=0.0002)


def test_torque_coefficients() -> None:
    # Shigley 9th ed., table 8-15
    assert torque_coefficient("zinc plated") == 0.20
    assert torque_coefficient("lubricated") == 0.18
    assert torque_coefficient("anti-seize") == 0.12
    with pytest.raises(UnknownSize):
        torque_coefficient("chromed")


@pytest.mark.parametrize("grade", ["8.8", "10.9", "12.9"])
def test_a_proof_stress_lies_below_what_the_class_is_named_for(grade: str) -> None:
    # ISO 898-1: the class is a hundredth of the tensile strength, and tenths of it that yield; the
    # proof stress is 0.88 to 0.94 of the yield (from memory)
    tensile, part = (float(x) for x in grade.split("."))
    yields = tensile * 100 * part / 10
    assert 0.88 <= proof_MPa(grade, 10) / yields <= 0.94


def test_weld_of_two_sides_in_tension() -> None:
    # Shigley, solutions 9-4: tau = root 2 F / (h l) is 18.1 kpsi; F 32 kip, h 5/16, l 4 x 2 in. On the
    # throat it is F / (0.707 h l)
    found = m.line_weld_MPa(32_000 * 4.4482216, 0.0, 5 / 16 * 25.4, 8 * 25.4, 1.0)
    assert found == pytest.approx(18_101.9 * 0.00689476, rel=1e-3)


def test_a_pair_of_welds_is_the_table_in_each_plane() -> None:
    # Shigley 9th ed., table 9-2: two lines b long and d apart bent about their own direction, Iu =
    # b d^2 / 2; two lines d long bent across, Iu = d^3 / 6
    length, apart, leg, moment = 46.0, 12.0, 4.0, 90_000.0
    throat = 0.707 * leg
    about_x = m.weld_pair_MPa((0, 0, 0), (moment, 0, 0), leg, length, apart)
    assert about_x == pytest.approx(moment * (apart / 2) / (throat * length * apart**2 / 2))
    about_y = m.weld_pair_MPa((0, 0, 0), (0, moment, 0), leg, length, apart)
    assert about_y == pytest.approx(moment * (length / 2) / (throat * length**3 / 6))
    direct = m.weld_pair_MPa((3000.0, 0, 0), (0, 0, 0), leg, length, apart)
    assert direct == pytest.approx(3000 / (2 * throat * length))


def test_torsion_of_a_pair_of_welds_is_the_sum_over_their_length() -> None:
    # Ju summed here along both lines: r^2 of each slice (Shigley, table 9-1, says d (3 b^2 + d^2) / 6)
    length, apart, leg, torque, n = 46.0, 12.0, 4.0, 90_000.0, 20_000
    slices = [length * ((i + 0.5) / n - 0.5) for i in range(n)]
    polar = 2 * sum((x**2 + (apart / 2) ** 2) * length / n for x in slices)
    corner = hypot(length / 2, apart / 2)
    found = m.weld_pair_MPa((0, 0, 0), (0, 0, torque), leg, length, apart)
    assert found == pytest.approx(torque * corner / (0.707 * leg * polar), rel=1e-6)


def test_a_ring_of_weld() -> None:
    # Shigley 9th ed., tables 9-1 and 9-2, circle: A = 1.414 pi h r, Iu = pi r^3, Ju = 2 pi r^3
    r, leg, h = 9.0, 3.0, 0.707 * 3.0
    bent = m.weld_ring_MPa(0.0, 20_000.0, 0.0, leg, 2 * r)
    assert bent == pytest.approx(20_000 * r / (h * pi * r**3))
    twisted = m.weld_ring_MPa(0.0, 0.0, 20_000.0, leg, 2 * r)
    assert twisted == pytest.approx(20_000 * r / (h * 2 * pi * r**3))
    direct = m.weld_ring_MPa(500.0, 0.0, 0.0, leg, 2 * r)
    assert direct == pytest.approx(500 / (1.414 * pi * leg * r), rel=1e-3)


def test_torsion_of_a_square_bar() -> None:
    # Roark: J = 0.1406 a^4, tau = T / (0.208 a^3) (also Timoshenko; from memory)
    a, torque = 16.0, 5000.0
    twist = torque * 100 / (0.1406 * a**4 * m.STEEL_SHEAR_MPa)
    assert m.rectangle_twist_rad(torque, 100, a, a) == pytest.approx(twist, rel=0.003)
    assert m.rectangle_torsion_MPa(torque, a, a) == pytest.approx(
        torque / (0.208 * a**3), rel=0.003
    )


def test_torsion_of_a_narrow_strip() -> None:
    # a thin strip: J = a b^3 / 3, tau = 3 T / (a b^2) (any handbook); at 40 to 1 within 2 %
    assert m.rectangle_twist_rad(1e3, 50, 40, 1) == pytest.approx(
        1e3 * 50 / (40 / 3 * m.STEEL_SHEAR_MPa), rel=0.02
    )
    assert m.rectangle_torsion_MPa(1e3, 40, 1) == pytest.approx(3e3 / 40, rel=0.02)


def test_a_shaft_bent_in_its_bearing() -> None:
    # two supports and a moment over one: theta = M L / 3 E I (any handbook); summed from its curvature:
    # the moment falls to nothing at the far support, the unit moment likewise
    L, E, second, n = 50.0, 210_000.0, 7854.0, 20_000
    total = sum(((i + 0.5) / n) ** 2 * L / n / (E * second) for i in range(n))
    assert m.bearing_tilt_rad_per_Nmm(L, E, second) == pytest.approx(total, rel=1e-6)


def test_a_root_turns_by_its_own_bending_stress_on_a_half_space() -> None:
    # Boussinesq, put together of small squares: a pressure p moves the surface (1 - nu^2) / (pi E) of
    # the sum of p dA / r; over a square its own middle 4 ln(1 + root 2) of its side (any handbook)
    radius, E, M, fine = 7.0, 210_000.0, 1000.0, 44
    side = 2 * radius / fine
    line = (np.arange(fine) + 0.5) * side - radius
    x, y = (one.ravel() for one in np.meshgrid(line, line))
    inside = x**2 + y**2 < radius**2
    x, y = x[inside], y[inside]
    press = x * M / np.sum(x**2 * side**2)
    apart = np.hypot(x[:, None] - x, y[:, None] - y)
    np.fill_diagonal(apart, side / (4 * np.log(1 + 2**0.5)))
    moved = 0.91 / (np.pi * E) * (press * side**2 / apart).sum(axis=1)
    turn = np.sum(press * moved) * side**2 / M
    assert m.root_tilt_rad_per_Nmm(2 * radius, E) * M == pytest.approx(turn, rel=0.02)
    # and by no less than a rigid disc would, 3 (1 - nu^2) / (4 E a^3) (Johnson, a tilted punch)
    assert turn > 3 * 0.91 / (4 * E * radius**3) * M


def test_a_shaft_tilts_by_its_clearance() -> None:
    # by geometry: its middle line from -c/2 at the far end to c/2 at the mouth, carried on in a line
    c, L, lever = 0.015, 50.0, 66.5
    line = -c / 2 + c * (L + lever) / L
    assert m.clearance_tilt_mm(c, L, lever) == pytest.approx(line)


def test_a_nut_as_deep_as_most_bears_more_than_its_screw() -> None:
    # common practice, and ISO 898-2's reason: a full nut of the screw's own strength, 0.8 diameters
    # deep, does not strip before the screw breaks. M8: stress area 36.6 mm2 (ISO 898-1)
    area = m.strip_area_mm2_per_mm(8.0, 1.25, 7.188)
    assert area == pytest.approx(0.875 * pi * 8.0, rel=0.001)
    tensile = 640.0  # of screw and nut alike
    assert m.engagement_mm(36.6 * tensile, area, tensile) < 0.8 * 8.0
    assert m.engagement_mm(2e4, area, 355) == pytest.approx(2 * m.engagement_mm(1e4, area, 355))


def test_hand_force_is_a_lever() -> None:
    assert m.hand_N(15.0, 25.0, 115.0) * 115.0 == pytest.approx(15.0 * 25.0)


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan"), float("inf")])
def test_an_absurd_size_gives_no_number(bad: float) -> None:
    calls: list[Callable[[], float]] = [
        lambda: m.round_second_moment(bad),
        lambda: m.rectangle_second_moment(10, bad),
        lambda: m.cantilever_mm_per_N(40, bad, 100),
        lambda: m.cantilever_rad_per_N(40, 2e5, bad),
        lambda: m.stepped_cantilever_mm_per_N(10, 100, 10, bad, 2e5),
        lambda: m.bending_stress_MPa(1e3, bad),
        lambda: m.torsion_stress_MPa(1e3, bad),
        lambda: m.twist_rad(1e3, 10, bad),
        lambda: m.rectangle_twist_rad(1e3, 10, 10, bad),
        lambda: m.bearing_tilt_rad_per_Nmm(bad, 2e5, 100),
        lambda: m.clearance_tilt_mm(0.01, bad, 10),
        lambda: m.preload_N(bad, 6),
        lambda: m.preload_N(2, 6, bad),
        lambda: m.weld_throat_mm(bad),
        lambda: m.line_weld_MPa(1, 1, 3, bad, 1),
        lambda: m.weld_pair_MPa((1, 1, 1), (1, 1, 1), 3, bad, 10),
        lambda: m.weld_ring_MPa(1, 1, 1, 3, bad),
        lambda: m.engagement_mm(1, bad, 355),
        lambda: m.hand_N(1, 10, bad),
        lambda: m.ligament(bad, 7, 5, 1.6).thin_mm,
    ]
    for call in calls:
        with pytest.raises(ValueError):
            call()


def test_arrays_go_through_as_plain_numbers_do() -> None:
    # a search over candidates works on columns: each row as by itself
    thick = np.array([12.0, 15.0, 20.0])
    second = m.rectangle_second_moment(18.0, thick)
    column = m.stepped_cantilever_mm_per_N(27.0, second, 18.0, 3 * second, 210_000.0)
    row = m.rectangle_second_moment(18.0, 15.0)
    one = m.stepped_cantilever_mm_per_N(27.0, row, 18.0, 3 * row, 210_000.0)
    assert np.asarray(column)[1] == pytest.approx(one)
    hinges = m.ligament(np.array([7.0, 7.0]), np.array([7.2, 7.7]), 5.6, 1.6)
    force = np.asarray(m.slit_closing_N(0.012, 12.0, 32.0, 210_000.0, hinges))
    alone = m.slit_closing_N(0.012, 12.0, 32.0, 210_000.0, m.ligament(7.0, 7.7, 5.6, 1.6))
    assert force[1] == pytest.approx(alone)
    grips = m.slit_grip_N(np.array([100.0, 900.0]), 200.0, 2.0)
    assert list(np.asarray(grips)) == pytest.approx([0.0, 2 * 0.12 * 700 * 2])
    with pytest.raises(ValueError):
        m.rectangle_second_moment(18.0, np.array([12.0, float("nan")]))


def test_round_second_moment() -> None:
    assert m.round_second_moment(20) == pytest.approx(pi * 20**4 / 64)
