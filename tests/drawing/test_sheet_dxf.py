"""The sheet's DXF as ezdxf and GDAL read it: real dimensions, layers, places, the same bytes."""

from __future__ import annotations

import re
from pathlib import Path

import ezdxf
import pyogrio
import pytest
from drawing_cases import BAR_LEVEL, BAR_UPRIGHT, CENTRE, DIMENSIONS, SHEET
from ezdxf.document import Drawing
from shapely import wkb

from planner.drawing.apart import apart, drawn
from planner.drawing.dxf import write_dxf
from planner.drawing.strokes import PENS


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    where = tmp_path_factory.mktemp("sheet") / "sheet.dxf"
    write_dxf(where, SHEET)
    return where


@pytest.fixture(scope="module")
def doc(path: Path) -> Drawing:
    return ezdxf.readfile(path)


def test_the_audit_finds_nothing(doc: Drawing) -> None:
    audit = doc.audit()
    assert not audit.errors and not audit.fixes
    assert doc.units == ezdxf.units.MM


def number_of(text: str) -> float:
    """The size in a dimension's words, by a rule of the test's own."""
    found = re.search(r"\d+(?:\.\d+)?", text)
    assert found, text
    return float(found[0])


def test_every_dimension_is_one_and_prints_what_it_measures(doc: Drawing) -> None:
    found = list(doc.modelspace().query("DIMENSION"))
    assert len(found) == len(DIMENSIONS)
    kinds = {"linear": 0, "diameter": 3, "radius": 4, "angle": 5}  # DXF reference, group 70
    for entity, ours in zip(found, DIMENSIONS, strict=True):
        factor = 1.0 if ours.kind == "angle" else entity.override().get("dimlfac")
        assert entity.dimtype == kinds[ours.kind]
        measured = entity.get_measurement() * factor
        assert measured == pytest.approx(number_of(entity.dxf.text), abs=1e-4), ours.text
        assert entity.dxf.dimstyle == "SHEET"
    texts = [entity.dxf.text for entity in found]
    assert texts[1] == "120 \\S+0.02^ -0.01;"


def test_each_dimensions_block_holds_the_strokes_of_the_other_writers(doc: Drawing) -> None:
    for entity, ours in zip(doc.modelspace().query("DIMENSION"), DIMENSIONS, strict=True):
        block = doc.blocks.get(entity.dxf.geometry)
        assert entity.dxf.geometry.startswith("*D")
        words = [one.dxf.text for one in block.query("TEXT")]
        assert words == [one.words for one in drawn(ours).texts]
        assert len(block.query("SOLID")) == (1 if ours.kind == "radius" else 2)
        assert len(block) == len(drawn(ours).strokes) + len(words)


def test_programs_that_lay_dimensions_out_anew_find_the_same_sizes(doc: Drawing) -> None:
    # ISO 3098 lettering of 3.5 mm; the arrow and the lines as the blocks have them
    for name, value in {
        "DIMTXT": 3.5,
        "DIMASZ": 3.0,
        "DIMEXE": 2.0,
        "DIMEXO": 1.0,
        "DIMGAP": 1.0,
    }.items():
        assert doc.header[f"${name}"] == value
        assert doc.dimstyles.get("SHEET").dxf.get(name.lower()) == value
    assert doc.header["$DIMSCALE"] == 1.0 and doc.header["$DIMSTYLE"] == "SHEET"
    arrow = [one for one in drawn(DIMENSIONS[0]).strokes if getattr(one, "filled", False)][0]
    xs = [x for x, _ in arrow.points]
    assert max(xs) - min(xs) == pytest.approx(doc.header["$DIMASZ"])
    text = drawn(DIMENSIONS[0]).texts[0]
    assert text.height == doc.header["$DIMTXT"]
    assert text.at[1] - DIMENSIONS[0].at[1] == pytest.approx(doc.header["$DIMGAP"])


def test_layers_say_what_a_line_shows(doc: Drawing) -> None:
    for pen in PENS.values():
        layer = doc.layers.get(pen.layer)
        assert layer.dxf.lineweight == round(100 * pen.width)
        assert layer.dxf.linetype.upper() == pen.linetype
        assert pen.linetype == "CONTINUOUS" or pen.linetype in doc.linetypes
    used = {one.dxf.layer for one in doc.modelspace()}
    assert used <= {pen.layer for pen in PENS.values()} | {"WORDS", "DIMENSION"}
    circle = [one for one in doc.modelspace().query("CIRCLE") if one.dxf.radius == 15]
    assert [tuple(one.dxf.center)[:2] for one in circle] == [CENTRE]
    assert circle[0].dxf.layer == "VISIBLE"


def test_gdal_reads_the_same_lines_and_words(path: Path) -> None:
    # from 2007 on DXF is UTF-8 (DXF reference); GDAL goes by the code page alone unless it is told
    pyogrio.set_gdal_config_options({"DXF_ENCODING": "UTF-8"})
    try:
        meta, _, shapes, columns = pyogrio.raw.read(path, encoding="utf-8")
    finally:
        pyogrio.set_gdal_config_options({"DXF_ENCODING": None})
    rows = dict(zip(meta["fields"], columns, strict=True))
    read = [wkb.loads(bytes(one)) for one in shapes if one is not None]
    bars = [
        one
        for one in read
        if one.geom_type == "LineString"
        and len(one.coords) == 2
        and one.length == pytest.approx(100)
    ]
    assert sorted(one.bounds for one in bars) == [
        (*BAR_LEVEL[0], *BAR_LEVEL[1]),
        (*BAR_UPRIGHT[0], *BAR_UPRIGHT[1]),
    ]
    words = [str(one) for one in rows["Text"] if one]
    for text in apart(SHEET).texts:
        if text.words.strip():
            assert text.words in words, text.words
    xs = [x for one in read for x in one.bounds[::2]]
    assert min(xs) >= 0 and max(xs) <= SHEET.width


def test_the_same_sheet_is_the_same_bytes(path: Path, tmp_path: Path) -> None:
    again = tmp_path / "again.dxf"
    write_dxf(again, SHEET)
    assert again.read_bytes() == path.read_bytes()


def test_an_older_version_without_units_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="R12"):
        write_dxf(tmp_path / "x.dxf", SHEET, "R12")
