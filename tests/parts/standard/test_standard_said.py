"""What a look-up that misses says, and what it does just at its ends; whole sentences by hand."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import parts.standard
from parts.standard.bolts import proof_MPa, torque_coefficient
from parts.standard.cutting_forces import force_rows, kc_MPa, specific_force, specific_force_MPa
from parts.standard.drills import drill_at_least, drill_at_most, drills
from parts.standard.errors import UnknownSize
from parts.standard.fasteners import (
    clearance_hole_mm,
    screw_length_mm,
    screw_lengths_mm,
    set_screw,
    socket_screw,
    thin_nut,
)
from parts.standard.fits import Limits, general_tolerance_mm, limits
from parts.standard.sections import Section, standard_sections
from parts.standard.speeds import speed_m_min
from parts.standard.threads import thread, threads

FOLDER = Path(parts.standard.__file__).parent


@pytest.mark.parametrize(
    "look_up, asked, says",
    [
        (
            drill_at_most,
            (0.9,),
            "drill: no '0.9 mm' in the tables; the drills run from 1 mm to 25 mm; bore larger holes",
        ),
        (
            drill_at_least,
            (26.0, True),
            "drill: no '26 mm' in the tables; the drills run from 1/32 in to 1 in; bore larger holes",
        ),
        (screw_length_mm, (200.1,), "screw length: no '200.1 mm' in the tables; at most 200 mm"),
        (screw_length_mm, (153.0, True), "screw length: no '153 mm' in the tables; at most 6 in"),
        (
            clearance_hole_mm,
            ("M8", "tight"),
            "clearance fit: no 'tight' in the tables; use close or medium",
        ),
        (socket_screw, ("M8x1",), "socket screw: no 'M8x1' in the tables; nearest known: M8"),
        (set_screw, ("M8x1",), "set screw: no 'M8x1' in the tables; nearest known: M8"),
        (thin_nut, ("M14",), "thin nut: no 'M14' in the tables; nearest known: M12"),
        (thread, ("M7",), "thread: no 'M7' in the tables; nearest known: M8"),
        (thread, ("Q",), "thread: no 'Q' in the tables; none is near it"),
        (
            Section,
            ("hexagon", 20.0),
            "section shape: no 'hexagon' in the tables; one of round, square, flat, tube, sheet",
        ),
        (Section, ("round", 0.0), "round: width 0 mm; give a width above 0"),
        (Section, ("square", 20.0, 5.0), "square: thickness 5 mm; has none, give 0"),
        (Section, ("flat", 50.0, 0.0), "flat 50 mm: thickness 0 mm; give a thickness above 0"),
        (
            Section,
            ("tube", 40.0, 20.0),
            "tube 40 mm: wall 20 mm; give a wall above 0 and below 20 mm",
        ),
        (
            standard_sections,
            ("sheet",),
            "stock shape: no 'sheet' in the tables; one of flat, round, square, tube",
        ),
        (
            speed_m_min,
            ("turn", "stellite", "brass"),
            "tool: no 'stellite' in the tables; one of HSS, carbide",
        ),
        (
            speed_m_min,
            ("tap", "carbide", "brass"),
            "cutting speed: no 'tap carbide brass' in the tables; tap has speeds for HSS tools",
        ),
        (
            general_tolerance_mm,
            (20.0, "c"),
            "ISO 2768 grade: no 'c' in the tables; use f (fine) or m (medium)",
        ),
        (
            general_tolerance_mm,
            (4000.1,),
            "ISO 2768-m size: no '4000.1 mm' in the tables; the table runs from 0.5 to 4000 mm;"
            " choose a size within",
        ),
        (
            limits,
            (121.0, "H7"),
            "ISO 286 size: no '121 mm' in the tables; the table runs from 3 to 120 mm;"
            " choose a size within",
        ),
        (limits, (20.0, "K9"), "ISO 286 class: no 'K9' in the tables; K is made in grades 5 to 8"),
        (
            limits,
            (20.0, "j8"),
            "ISO 286 class: no 'j8' in the tables; j is made in grades 5 to 7; use j7",
        ),
        (
            specific_force_MPa,
            ("brass", 0.0049),
            "chip 0.0049 mm; the formula holds from 0.005 to 2 mm",
        ),
        (specific_force_MPa, ("brass", 0.1, 30.1), "rake 30.1 degrees; give -20 to 30"),
        (
            torque_coefficient,
            ("zinc",),
            "screw finish: no 'zinc' in the tables; nearest known: zinc plated",
        ),
    ],
)
def test_a_look_up_that_misses_says_what_there_is(
    look_up: Callable[..., Any], asked: tuple[Any, ...], says: str
) -> None:
    with pytest.raises((UnknownSize, ValueError)) as caught:
        look_up(*asked)
    assert str(caught.value) == says


@pytest.mark.parametrize("inch", [False, True])
def test_each_drill_is_found_by_its_own_size_however_that_was_worked_out(inch: bool) -> None:
    # a hundredth of a micrometre is the dust of a sum in inches; half a micrometre is a size
    sizes = [drill.diameter_mm for drill in drills(inch)]  # two may be alike, as E and 1/4 in are
    for size in sizes:
        for dust in (0.0, 1e-8, -1e-8):
            assert drill_at_least(size + dust, inch).diameter_mm == size
            assert drill_at_most(size + dust, inch).diameter_mm == size
    for one, other in zip(sizes, sizes[1:], strict=False):
        if other - one > 0.001:
            assert drill_at_least(one + 0.0005, inch).diameter_mm == other
            assert drill_at_most(other - 0.0005, inch).diameter_mm == one


@pytest.mark.parametrize("inch", [False, True])
def test_each_screw_length_is_found_by_itself_up_to_the_longest(inch: bool) -> None:
    every = screw_lengths_mm(inch)
    assert (every[0], every[-1]) == ((6.35, 152.4) if inch else (5.0, 200.0))
    for shorter, longer in zip((0.0, *every), every, strict=False):
        for dust in (0.0, 4e-7, -4e-7):  # as a sum in inches leaves it
            at = min(longer + dust, every[-1])
            assert screw_length_mm(at, inch) == longer
        assert screw_length_mm(shorter + 0.01, inch) == longer


def test_what_an_operation_runs_at_of_turning() -> None:
    # boring and facing as turning; parting and knurling at about half; single-point threading at a
    # third to a half (common practice, as any handbook's rules of thumb)
    lines = (FOLDER / "speed_factors.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    found = {
        r["operation"]: (r["base"], float(r["low_factor"]), float(r["high_factor"])) for r in rows
    }
    assert found == {
        "bore": ("turn", 1.0, 1.0),
        "face": ("turn", 1.0, 1.0),
        "part": ("turn", 0.4, 0.6),
        "thread": ("turn", 0.33, 0.5),
        "knurl": ("turn", 0.4, 0.6),
        "form": ("turn", 0.25, 0.4),  # a wide edge at about a third
        "counterbore": ("drill", 0.3, 0.5),  # a third to half of drilling
    }
    for metal in ("mild steel", "brass"):
        turned, threaded = (speed_m_min(o, "HSS", metal) for o in ("turn", "thread"))
        assert threaded.low_m_min == pytest.approx(0.33 * turned.low_m_min)
        assert threaded.high_m_min == pytest.approx(0.5 * turned.high_m_min)


def test_the_middle_of_limits() -> None:
    # 20 g6 (ISO 286-2): 19.980 to 19.993, half-way 19.9865; a hole 20 H7 20.000 to 20.021: 20.0105
    shaft, hole = limits(20.0, "g6"), limits(20.0, "H7")
    assert (shaft.min_mm, shaft.max_mm) == (pytest.approx(19.980), pytest.approx(19.993))
    assert shaft.mean_mm == pytest.approx(19.9865) and hole.mean_mm == pytest.approx(20.0105)
    assert Limits(10.0, 0.3, -0.1, "").mean_mm == pytest.approx(10.1)


@pytest.mark.parametrize(
    "size, grade, plus_minus",
    [
        # ISO 2768-1: over a bound the next range begins, at it the last one holds
        *((0.5, "m", 0.1), (3.0, "m", 0.1), (3.01, "m", 0.1), (6.0, "m", 0.1), (6.01, "m", 0.2)),
        *((30.0, "m", 0.2), (30.01, "m", 0.3), (120.0, "m", 0.3), (120.01, "m", 0.5)),
        *(
            (400.0, "m", 0.5),
            (400.01, "m", 0.8),
            (2000.0, "m", 1.2),
            (4000.0, "m", 2.0),
            (6.0, "f", 0.05),
        ),
        *((6.01, "f", 0.1), (30.01, "f", 0.15)),
    ],
)
def test_a_size_at_the_end_of_a_range_belongs_to_it(
    size: float, grade: str, plus_minus: float
) -> None:
    assert general_tolerance_mm(size, grade) == plus_minus


@pytest.mark.parametrize(
    "grade, diameter, proof",
    [
        # ISO 898-1: 8.8 is 580 MPa to 16 mm and 600 over that; over 39 mm there is none
        *(("8.8", 16.0, 580.0), ("8.8", 16.1, 600.0), ("8.8", 39.0, 600.0)),
        *(("10.9", 39.0, 830.0), ("12.9", 4.0, 970.0)),
    ],
)
def test_a_screws_proof_stress_at_the_ends_of_its_range(
    grade: str, diameter: float, proof: float
) -> None:
    assert proof_MPa(grade, diameter) == proof
    for diameter in (0.0, 39.1):
        with pytest.raises(UnknownSize, match="nearest known: 8.8|nearest known: 1"):
            proof_MPa(grade, diameter)


def test_the_force_of_a_chip_by_hand() -> None:
    # Kienzle: kc = kc1.1 h^-mc, 1.5 % less for each degree of rake over 6 (memory); a chip of 1 mm
    # at 6 degrees asks kc1.1 itself; at 0.01 mm and an exponent of 0.25 10^0.5 times as much
    assert kc_MPa(1500.0, 0.25, 1.0) == pytest.approx(1500.0)
    assert kc_MPa(1500.0, 0.25, 0.01) == pytest.approx(1500.0 * 10**0.5)
    assert kc_MPa(1500.0, 0.25, 1.0, 16.0) == pytest.approx(1500.0 * 0.85)
    assert kc_MPa(1500.0, 0.25, 1.0, -4.0) == pytest.approx(1500.0 * 1.15)
    for group in ("mild steel", "brass", "aluminium", "stainless steel"):
        rows = force_rows(group)
        assert rows and {row.group for row in rows} == {group}
        found = specific_force(group)
        every = [row.kc1_1_MPa for row in rows]
        assert (found.low_MPa, found.high_MPa) == (min(every), max(every))
        asked = [row.kc1_1_MPa * 0.1**-row.mc for row in rows]
        assert found.kc1_1_MPa * 0.1**-found.mc == pytest.approx(max(asked))
        assert specific_force_MPa(group, 0.1) == pytest.approx(max(asked))
    for chip in (0.005, 2.0):
        assert (
            specific_force_MPa("brass", chip, -20.0) > specific_force_MPa("brass", chip, 30.0) > 0
        )


@pytest.mark.parametrize(
    "name, size",
    [
        # a size is the thread less its pitch, as washers and clearance holes go by it
        *(("M8", "M8"), ("M8x1", "M8"), ("1/4-20 UNC", "1/4"), ("No.10-24 UNC", "No.10")),
        *(("1 UNC", "1"), ("1-8 UNC", "1"), ("1-12 UNF", "1"), ("Tr10x2", "Tr10")),
    ],
)
def test_a_threads_size_is_its_name_less_its_pitch(name: str, size: str) -> None:
    assert thread(name).size_name == size


def test_every_thread_is_found_by_its_own_name() -> None:
    for size in threads():
        assert thread(size.designation) == size


FORCES = {
    "mild steel": [(1350.0, 0.21), (1780.0, 0.17), (1990.0, 0.26)],
    "medium carbon steel": [
        (1500.0, 0.22),
        (1675.0, 0.24),
        (1700.0, 0.24),
        (1860.0, 0.2),
        (2220.0, 0.14),
        (2130.0, 0.18),
        (2110.0, 0.17),
    ],
    "alloy steel": [(1775.0, 0.24), (1675.0, 0.24), (1725.0, 0.24), (2500.0, 0.26), (2100.0, 0.26)],
    "tool steel": [(2450.0, 0.23)],
    "stainless steel": [(1875.0, 0.21), (2150.0, 0.2), (2350.0, 0.21)],
    "aluminium": [(700.0, 0.25), (800.0, 0.25), (780.0, 0.23)],
    "bearing bronze": [(700.0, 0.27)],  # over 1 % of lead
    "brass": [(700.0, 0.27), (700.0, 0.27), (1180.0, 0.15), (835.0, 0.15)],
    "free-cutting steel": [(1820.0, 0.22), (1350.0, 0.21)],
}
"""kc1.1 in MPa and its exponent: the charts by groups of VDI 3323, and Kienzle's (both from memory)."""


def test_the_forces_of_each_metal_as_published() -> None:
    lines = (FOLDER / "cutting_forces.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    found: dict[str, list[tuple[float, float]]] = {}
    for row in rows:
        found.setdefault(row["group"], []).append((float(row["kc1_1_MPa"]), float(row["mc"])))
    assert found == FORCES
    # the harder metal asks more: aluminium, brass, mild steel, stainless (any handbook)
    least = [min(kc for kc, _ in FORCES[g]) for g in ("aluminium", "mild steel", "stainless steel")]
    assert least == sorted(least)
