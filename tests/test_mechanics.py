"""Textbook mechanics against worked examples, with the page beside each."""

from __future__ import annotations

from math import degrees, pi

import pytest

from parts.standard.bolts import proof_MPa
from parts.standard.cutting_forces import force_rows, specific_force_MPa
from parts.standard.errors import UnknownSize
from planner import mechanics as m


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


@pytest.mark.parametrize("chip", [0.0, -1.0, 3.0, float("nan")])
def test_no_force_is_given_for_an_absurd_chip(chip: float) -> None:
    with pytest.raises(ValueError):
        specific_force_MPa("brass", chip)


def test_a_slit_clamp_on_two_lines() -> None:
    # a clamp pressing on two lines turns with T = mu F d (Khurmi and Gupta, two-line contact):
    # along its axis that is 2 mu F
    mu, force, d = 0.3, 1000.0, 75.0
    torque = 1.0 * mu * (2 * force) * d / 2  # both lines bear F at radius d / 2
    assert m.slit_grip_N(force, 0.0, 1.0, mu) == pytest.approx(torque / (d / 2))
    assert m.slit_grip_N(100.0, 200.0, 2.0) == 0.0


def test_a_short_hinge_bends_as_a_beam_in_pure_bending() -> None:
    # M = E I phi / l, stress M c / I, with the length taken as the slit and the hinge's own thickness
    t, slit, b, modulus, turn = 2.5, 1.6, 32.0, 210_000.0, 0.002
    moment = m.hinge_Nmm_per_rad(t, slit, b, modulus) * turn
    assert moment == pytest.approx(modulus * (b * t**3 / 12) * turn / (slit + t))
    stress = moment * (t / 2) / (b * t**3 / 12)
    assert m.hinge_stress_MPa(turn, t, slit, modulus) == pytest.approx(stress)


def test_round_second_moment() -> None:
    assert m.round_second_moment(20) == pytest.approx(pi * 20**4 / 64)
