"""Materials against other published tables and facts of the trade."""

from __future__ import annotations

import pytest

from parts.standard.errors import UnknownSize
from parts.standard.materials import GROUPS, WELDABLE, Material, material, materials
from parts.standard.speeds import speed_rows

# Shigley, Mechanical Engineering Design, table A-5: moduli in GPa; from memory. Densities in
# kg/m3 as any handbook has them; common practice.
GROUP_FACTS = {
    "free-cutting steel": (207, 7850),
    "mild steel": (207, 7850),
    "medium carbon steel": (207, 7850),
    "alloy steel": (207, 7850),
    "stainless steel": (190, 8000),
    "brass": (106, 8500),
    "bearing bronze": (100, 8900),  # handbooks of SAE 660: 14.5 Msi, 0.322 lb/in3
    "aluminium": (71, 2700),
    "tool steel": (207, 8160),
}


@pytest.mark.parametrize("row", materials(), ids=lambda row: row.name)
def test_stiffness_density_and_strength_are_of_the_group(row: Material) -> None:
    assert row.group in GROUPS and row.weldable in WELDABLE
    modulus_GPa, density = GROUP_FACTS[row.group]
    assert row.modulus_MPa / 1000 == pytest.approx(modulus_GPa, rel=0.10)
    # a tipped tool has a shank of plain steel, 4 in 100 lighter than high-speed steel
    assert row.density_kg_m3 == pytest.approx(density, rel=0.04)
    if row.yield_MPa is not None and row.tensile_MPa is not None:
        assert 100 < row.yield_MPa < row.tensile_MPa < 1500


# Yield and tensile in MPa, least values. EN 10025-2 table 7 and EN 754-2: seen; Shigley
# table A-20: seen; EN 10083-2, EN 12164: from memory. 4130 normalised: ASM's data, 63.1 ksi: seen; 90
# ksi, MIL-HDBK-5, from memory. EN 1982 CuSn7Zn4Pb7-C cast continuously, and ASTM B505 C93200, 20 and
# 35 ksi: seen in foundries' data.
STRENGTHS = {
    "S235": (235, 360),
    "S275": (275, 410),
    "S355": (355, 470),
    "S355 over 16": (345, 470),
    "1018": (370, 440),
    "1018 HR": (220, 400),
    "1045": (530, 630),
    "C45": (305, 580),
    "4130": (435, 620),
    "CW614N": (250, 430),
    "CC493K": (120, 260),
    "C932": (138, 241),
    "6082-T6": (255, 310),
    "6061-T6": (240, 290),
}


@pytest.mark.parametrize("name", STRENGTHS)
def test_strengths_of_the_standards(name: str) -> None:
    row = material(name)
    assert (row.yield_MPa, row.tensile_MPa) == STRENGTHS[name]


# Typical ranges of yield and tensile strength in bd_materials 0.2.5; seen.
TYPICAL = {
    "1018": (345, 410, 440, 480),
    "1045": (480, 600, 620, 690),
    "4140": (650, 950, 800, 1150),
    "42CrMo4": (650, 950, 800, 1150),
    "6061-T6": (240, 280, 290, 320),
    "304": (205, 205, 515, 620),
    "303": (205, 205, 500, 625),
}


@pytest.mark.parametrize("name", TYPICAL)
def test_strengths_lie_in_an_outside_librarys_ranges(name: str) -> None:
    row = material(name)
    low_yield, high_yield, low_tensile, high_tensile = TYPICAL[name]
    assert row.yield_MPa is not None and row.tensile_MPa is not None
    assert low_yield <= row.yield_MPa <= high_yield
    assert low_tensile <= row.tensile_MPa <= high_tensile


def test_the_yield_in_the_name_is_the_yield_of_thin_stock() -> None:
    # EN 10025-2 and EN 10305-1 name the steel by its least yield.
    for name in ("S235", "S275", "S355", "E235", "E355"):
        assert material(name).yield_MPa == float(name[1:])


def test_aluminium_loses_half_beside_a_weld() -> None:
    # EN 1999-1-1, table 3.2b (memory): 6061-T6 115 and 175, 6082-T6 125 and 185; steels keep theirs
    for name, low, tensile in (("6061-T6", 115, 175), ("6082-T6", 125, 185)):
        row = material(name)
        assert (row.haz_yield_MPa, row.haz_tensile_MPa) == (low, tensile)
        assert row.welded_yield_MPa == low and 0.45 <= low / (row.yield_MPa or 0) <= 0.55
    assert material("S355").welded_yield_MPa == 355.0
    assert {m.name for m in materials() if m.haz_yield_MPa} == {
        m.name for m in materials() if m.group == "aluminium"
    }


def test_weldability() -> None:
    # Common practice: free-cutting and sulphurised steels and leaded brass are not welded;
    # medium carbon and alloy steels are preheated; plain mild steel needs nothing.
    for name in ("11SMn30", "12L14", "303", "CW614N", "C932", "CC493K", "HSS"):
        assert material(name).weldable == "no"
    for name in ("C45", "1045", "42CrMo4", "4130", "4140"):
        assert material(name).weldable == "preheat"
    for name in ("S235", "S355", "1018", "E355", "304"):
        assert material(name).weldable == "yes"


@pytest.mark.parametrize(
    ("spoken", "name"),
    [
        ("s355j2", "S355"),
        ("1.0503", "C45"),
        ("c45", "C45"),
        ("6082 t6", "6082-T6"),
        ("6082-T6", "6082-T6"),
        ("EN1A", "11SMn30"),
        ("aisi 1018", "1018"),
        ("1.7225", "42CrMo4"),
        ("AISI 4130", "4130"),
        ("brass", "CW614N"),
        ("SAE 660", "C932"),
        ("c93200", "C932"),
        ("CuSn7Zn4Pb7-C", "CC493K"),
        ("Rg7", "CC493K"),
    ],
)
def test_shop_names(spoken: str, name: str) -> None:
    # Material numbers of EN 10027-2; from memory.
    assert material(spoken).name == name


def test_every_name_and_alias_finds_its_row() -> None:
    for row in materials():
        for name in (row.name, *filter(None, row.aliases.split(";"))):
            assert material(name) is row


def test_every_group_has_a_material_and_a_speed() -> None:
    assert {row.group for row in materials()} == set(GROUPS)
    assert {row.group for row in speed_rows()} == set(GROUPS)


def test_unknown_material_names_the_nearest() -> None:
    with pytest.raises(UnknownSize) as refusal:
        material("S353")
    assert refusal.value.nearest == "S355"


def test_bronze_alone_says_which_bronzes_there_are() -> None:
    for said in ("bronze", "bearing bronze"):
        with pytest.raises(UnknownSize) as refusal:
            material(said)
        assert "CC493K, C932" in str(refusal.value)
