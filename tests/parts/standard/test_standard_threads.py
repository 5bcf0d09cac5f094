"""Threads against ISO 724, ISO 898-1, ASME B1.1 and published tap drills."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from parts.standard.errors import UnknownSize
from parts.standard.table import load
from parts.standard.threads import ThreadSize, thread, threads
from parts.value import Value

DATA = Path(__file__).parent / "data"


class ProofLoad(Value, frozen=True):
    thread: str
    property_class: str
    proof_stress_MPa: float
    proof_load_N: float
    source: str
    mark: str


class Unified(Value, frozen=True):
    designation: str
    major_in: float
    threads_per_inch: int
    pitch_diameter_in: float
    minor_in: float
    stress_area_in2: float | None
    tap_drill_name: str
    tap_drill_in: float
    source: str
    mark: str


PROOF_LOADS = load(DATA / "iso898_proof_loads.csv", ProofLoad)
UNIFIED = load(DATA / "unified_threads.csv", Unified)

# ISO 724 pitch and minor diameters, seen in thread charts (toolcroze, engineeringhardware,
# utilitiesbunker), and metric tap drills, seen in tap charts (anzugsmoment, utilitiesbunker,
# metricmech).
METRIC = {
    "M3": (2.675, 2.459, 2.5),
    "M4": (3.545, 3.242, 3.3),
    "M5": (4.480, 4.134, 4.2),
    "M6": (5.350, 4.917, 5.0),
    "M8": (7.188, 6.647, 6.8),
    "M10": (9.026, 8.376, 8.5),
    "M12": (10.863, 10.106, 10.2),
    "M16": (14.701, 13.835, 14.0),
    "M20": (18.376, 17.294, 17.5),
    "M24": (22.051, 20.752, 21.0),
    "M8x1": (7.350, 6.917, 7.0),
    "M10x1": (9.350, 8.917, 9.0),
    "M10x1.25": (9.188, 8.647, 8.8),
    "M12x1.25": (11.188, 10.647, 10.8),
    "M12x1.5": (11.026, 10.376, 10.5),
    "M16x1.5": (15.026, 14.376, 14.5),
    "M20x1.5": (19.026, 18.376, 18.5),
}
# DIN 103 / ISO 2904: d2, D1 and d3; from memory.
TRAPEZOIDAL = {
    "Tr8x1.5": (7.25, 6.5, 6.2),
    "Tr10x2": (9.0, 8.0, 7.5),
    "Tr12x3": (10.5, 9.0, 8.5),
    "Tr14x3": (12.5, 11.0, 10.5),
    "Tr16x4": (14.0, 12.0, 11.5),
    "Tr20x4": (18.0, 16.0, 15.5),
}


@pytest.mark.parametrize("name", METRIC)
def test_metric_threads_match_the_charts(name: str) -> None:
    size = thread(name)
    pitch_diameter, minor, drill = METRIC[name]
    assert size.pitch_diameter_mm == pytest.approx(pitch_diameter, abs=5e-4)
    assert size.minor_internal_mm == pytest.approx(minor, abs=5e-4)
    assert size.tap_drill_mm == drill
    assert size.tap_drill_name == f"{drill:g} mm"


@pytest.mark.parametrize("size", threads("metric"), ids=lambda size: size.designation)
def test_every_metric_row_is_the_iso_68_profile(size: ThreadSize) -> None:
    # ISO 68-1: H = P sqrt(3)/2, d2 = d - 3/4 H, D1 = d - 5/4 H, d3 = d - 17/12 H;
    # ISO 898-1 9.1.6.1: As = pi/4 ((d2 + d3)/2)^2, published to three figures.
    height = size.pitch_mm * math.sqrt(3) / 2
    assert size.pitch_diameter_mm == pytest.approx(size.major_mm - 3 / 4 * height, abs=1e-3)
    assert size.minor_internal_mm == pytest.approx(size.major_mm - 5 / 4 * height, abs=1e-3)
    assert size.minor_external_mm == pytest.approx(size.major_mm - 17 / 12 * height, abs=1e-3)
    mean = size.major_mm - (3 / 4 + 17 / 12) / 2 * height
    assert size.stress_area_mm2 == pytest.approx(math.pi / 4 * mean**2, rel=5e-3)


@pytest.mark.parametrize("row", PROOF_LOADS, ids=lambda row: f"{row.thread}-{row.property_class}")
def test_stress_areas_carry_the_proof_loads_of_iso_898(row: ProofLoad) -> None:
    # ISO 898-1 rounds its loads to three figures; 1.2 % covers that.
    area = thread(row.thread).stress_area_mm2
    assert area * row.proof_stress_MPa == pytest.approx(row.proof_load_N, rel=0.012)


def test_every_unified_thread_is_checked() -> None:
    assert {row.designation for row in UNIFIED} == {s.designation for s in threads("unified")}


@pytest.mark.parametrize("row", UNIFIED, ids=lambda row: row.designation)
def test_unified_threads_match_the_published_inches(row: Unified) -> None:
    size = thread(row.designation)
    assert size.major_mm == pytest.approx(row.major_in * 25.4, abs=1e-6)
    assert size.pitch_mm == pytest.approx(25.4 / row.threads_per_inch, rel=1e-12)
    assert size.pitch_diameter_mm / 25.4 == pytest.approx(row.pitch_diameter_in, abs=6e-5)
    assert size.minor_internal_mm / 25.4 == pytest.approx(row.minor_in, abs=6e-5)
    assert size.tap_drill_name in (row.tap_drill_name, f"{row.tap_drill_name} in")
    assert size.tap_drill_mm / 25.4 == pytest.approx(row.tap_drill_in, abs=6e-5)
    # ASME B1.1: As = 0.7854 (d - 0.9743/n)^2.
    root = row.major_in - 0.9743 / row.threads_per_inch
    assert size.stress_area_mm2 / 645.16 == pytest.approx(0.7854 * root**2, rel=2e-3)
    if row.stress_area_in2 is not None:
        assert size.stress_area_mm2 / 645.16 == pytest.approx(row.stress_area_in2, rel=1e-4)


@pytest.mark.parametrize("name", TRAPEZOIDAL)
def test_trapezoidal_threads_match_din_103(name: str) -> None:
    size = thread(name)
    diameters = (size.pitch_diameter_mm, size.minor_internal_mm, size.minor_external_mm)
    assert diameters == pytest.approx(TRAPEZOIDAL[name])


@pytest.mark.parametrize(
    "size", [*threads("metric"), *threads("unified")], ids=lambda size: size.designation
)
def test_tap_drills_leave_a_sound_thread(size: ThreadSize) -> None:
    # Common practice: a tap drill leaves 65 to 80 % of the full height 1.299 P (the charts
    # are for about 75 %).
    share = (size.major_mm - size.tap_drill_mm) / (1.299 * size.pitch_mm)
    assert 0.645 <= share <= 0.80


@pytest.mark.parametrize(
    ("spoken", "designation"),
    [
        ("M8", "M8"),
        ("m8", "M8"),
        ("M8x1.25", "M8"),
        ("M8X1.0", "M8x1"),
        ("m8x1", "M8x1"),
        (" M8 × 1 ", "M8x1"),
        ("1/4-20", "1/4-20 UNC"),
        ("1/4-20 UNC", "1/4-20 UNC"),
        ('1/4"-20unc', "1/4-20 UNC"),
        ("1/4 UNF", "1/4-28 UNF"),
        ("#10-24", "No.10-24 UNC"),
        ("No.10-24", "No.10-24 UNC"),
        ("no. 10-32 unf", "No.10-32 UNF"),
        ("10-24", "No.10-24 UNC"),
        ("1-8", "1-8 UNC"),
        ("Tr 10x2", "Tr10x2"),
        ("TR8X1.50", "Tr8x1.5"),
    ],
)
def test_shop_spellings(spoken: str, designation: str) -> None:
    assert thread(spoken).designation == designation


@pytest.mark.parametrize("size", threads(), ids=lambda size: size.designation)
def test_every_designation_finds_itself(size: ThreadSize) -> None:
    assert thread(size.designation) is size


@pytest.mark.parametrize(
    ("name", "nearest"), [("M8x0.9", "M8x1"), ("1/4-24", "1/4-28 UNF"), ("M7", "M8")]
)
def test_unknown_threads_name_the_nearest(name: str, nearest: str) -> None:
    with pytest.raises(UnknownSize) as refusal:
        thread(name)
    assert refusal.value.nearest == nearest


def test_threads_by_pitch_are_sorted_by_diameter() -> None:
    # 1.27 mm is 20 threads to the inch (exact, 25.4 mm to the inch).
    twenty = ["1/4-20 UNC", "7/16-20 UNF", "1/2-20 UNF"]
    assert [size.designation for size in threads(pitch_mm=1.27)] == twenty
    assert threads("metric", 1.27) == ()
    diameters = [size.major_mm for size in threads()]
    assert diameters == sorted(diameters)
    assert sum(len(threads(system)) for system in ("metric", "unified", "trapezoidal")) == len(
        threads()
    )


def test_unknown_system_is_refused() -> None:
    with pytest.raises(UnknownSize, match="metric"):
        threads("whitworth")
