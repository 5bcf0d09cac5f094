"""Stock sections: masses against published kilograms a metre, names as they are ordered."""

from __future__ import annotations

import pytest

from parts.standard.errors import UnknownSize
from parts.standard.sections import Section, SectionRow, section_rows, standard_sections

STEEL_KG_M3 = 7850.0  # steelforlife blue book, EN 1991-1-1; seen
ROWS = [*section_rows(), *section_rows(inch=True)]


@pytest.mark.parametrize("row", [r for r in ROWS if r.mass_published_kg_m], ids=str)
def test_masses_match_the_published_ones(row: SectionRow) -> None:
    assert row.mass_published_kg_m is not None
    if row.standard == "US bar sizes":
        # Published in lb/ft to two decimals at 0.284 lb/in3, which is 7861 kg/m3.
        tolerance = 0.0051 * 0.45359237 / 0.3048
        assert row.section.mass_kg_m(7861.0) == pytest.approx(
            row.mass_published_kg_m, abs=tolerance
        )
    else:
        # Charts work with d^2/162.2 or round to the third decimal.
        assert row.section.mass_kg_m(STEEL_KG_M3) == pytest.approx(
            row.mass_published_kg_m, rel=1e-3
        )


def test_some_masses_were_published() -> None:
    assert sum(row.mass_published_kg_m is not None for row in section_rows()) >= 20
    assert sum(row.mass_published_kg_m is not None for row in section_rows(inch=True)) >= 10


@pytest.mark.parametrize(
    ("section", "kg_m"),
    [
        (Section("tube", 75, 1), 1.825),  # worked example of a tube maker's mass note; seen
        (Section("round", 20), 2.466),  # steelmath chart; seen
        (Section("square", 20), 3.14),  # 7850 x 0.02^2, exact
        (Section("flat", 50, 20), 7.85),  # 7850 x 0.05 x 0.02, exact
        (Section("sheet", 1000, 1), 7.85),  # a square metre of 1 mm is 7.85 kg: common practice
    ],
)
def test_masses_of_each_shape(section: Section, kg_m: float) -> None:
    assert section.mass_kg_m(STEEL_KG_M3) == pytest.approx(kg_m, abs=6e-4)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_mass_column_is_the_mass_of_the_section(row: SectionRow) -> None:
    # Density 7850 kg/m3 (steelforlife); a tube's mass is pi (D - T) T rho (apprecs; seen).
    assert row.section.mass_kg_m(STEEL_KG_M3) == pytest.approx(row.mass_kg_m, abs=6e-5)


@pytest.mark.parametrize("inch", [False, True])
@pytest.mark.parametrize("shape", ["round", "square", "flat", "tube"])
def test_standard_sections_are_the_rows_in_order(shape: str, inch: bool) -> None:
    sections = standard_sections(shape, inch)
    assert len(sections) == len({(s.width_mm, s.thickness_mm) for s in sections}) > 10
    assert all(section.shape == shape for section in sections)
    order = [(section.width_mm, section.thickness_mm) for section in sections]
    assert order == sorted(order)
    assert set(sections) == {r.section for r in section_rows(inch) if r.shape == shape}


def test_sizes_every_supplier_lists() -> None:
    # Common practice.
    assert Section("round", 20) in standard_sections("round")
    assert Section("tube", 40, 8) in standard_sections("tube")
    assert Section("flat", 50, 20) in standard_sections("flat")
    assert Section("square", 16) in standard_sections("square")
    assert Section("round", 19.05) in standard_sections("round", inch=True)
    assert Section("flat", 50.8, 38.1) in standard_sections("flat", inch=True)  # 2 x 1-1/2
    assert Section("tube", 38.1, 6.35) in standard_sections("tube", inch=True)


@pytest.mark.parametrize(
    ("section", "inch", "label"),
    [
        # As bars are ordered in the trade: common practice.
        (Section("round", 20), False, "round 20"),
        (Section("flat", 50, 20), False, "flat 50x20"),
        (Section("tube", 40, 5), False, "tube 40x5"),
        (Section("square", 16), False, "square 16"),
        (Section("sheet", 100, 1.5), False, "sheet 100x1.5"),
        (Section("round", 19.05), False, "round 19.05"),
        (Section("round", 19.05), True, "round 3/4 in"),
        (Section("round", 25.4), True, "round 1 in"),
        (Section("tube", 38.1, 7.9375), True, "tube 1-1/2 x 5/16 in"),
        (Section("round", 25.4 / 64), True, "round 1/64 in"),
        (Section("round", 20), True, "round 0.7874 in"),
    ],
)
def test_labels(section: Section, inch: bool, label: str) -> None:
    assert section.label(inch) == label


@pytest.mark.parametrize(
    ("shape", "width", "thickness", "words"),
    [
        ("hexagon", 20, 0, "one of round"),
        ("round", 0, 0, "width above 0"),
        ("round", float("nan"), 0, "width above 0"),
        ("round", 20, 5, "has none"),
        ("flat", 50, 0, "thickness above 0"),
        ("tube", 40, 20, "below 20 mm"),
        ("tube", 40, -1, "wall above 0"),
        ("sheet", 40, float("nan"), "thickness above 0"),
    ],
)
def test_impossible_sections_are_refused(
    shape: str, width: float, thickness: float, words: str
) -> None:
    error = UnknownSize if shape == "hexagon" else ValueError
    with pytest.raises(error, match=words):
        Section(shape, width, thickness)


def test_shapes_without_a_list_are_refused() -> None:
    with pytest.raises(UnknownSize, match="flat, round, square, tube"):
        standard_sections("sheet")
