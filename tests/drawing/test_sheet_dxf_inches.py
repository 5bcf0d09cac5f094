"""A sheet's DXF for an inch shop: the metric one by the inch, and it says so.

$INSUNITS 1 is the inch, 4 the millimetre; $MEASUREMENT 0 is English (DXF reference, from memory). Sizes
of paper: ANSI Y14.1, A 8.5 by 11 in and B 11 by 17.
"""

from __future__ import annotations

from pathlib import Path

import ezdxf
import pint
import pytest
from drawing_cases import DIMENSIONS, SHEET
from ezdxf.document import Drawing
from jobs import ROOT, planned

from planner.drawing.dxf import write_dxf
from planner.output.files import dial_files
from planner.output.topics import topic

INCH = pint.get_application_registry().Quantity(1.0, "inch").to("mm").magnitude
PAPERS = {(8.5, 11.0), (11.0, 8.5), (11.0, 17.0), (17.0, 11.0)}


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> tuple[Drawing, Drawing]:
    folder = tmp_path_factory.mktemp("inches")
    write_dxf(folder / "mm.dxf", SHEET)
    write_dxf(folder / "in.dxf", SHEET, inch=True)
    return ezdxf.readfile(folder / "mm.dxf"), ezdxf.readfile(folder / "in.dxf")


def units(doc: Drawing) -> tuple[int, int]:
    return doc.header["$MEASUREMENT"], doc.header["$INSUNITS"]


def test_the_file_says_its_unit(both: tuple[Drawing, Drawing]) -> None:
    metric, inch = both
    assert (units(metric), units(inch)) == ((1, 4), (0, 1))
    assert not inch.audit().errors
    for k in (0, 1):
        wide = metric.modelspace().dxf.extmax[k]
        assert inch.modelspace().dxf.extmax[k] * INCH == pytest.approx(wide, abs=1e-4)
    # dashes have the same length on paper, and what a new dimension is drawn by is as large
    assert inch.header["$LTSCALE"] * INCH == pytest.approx(metric.header["$LTSCALE"])
    for name in ("$DIMTXT", "$DIMASZ", "$DIMEXE", "$DIMEXO", "$DIMGAP"):
        assert inch.header[name] * INCH == pytest.approx(metric.header[name], abs=1e-6), name


def test_all_that_is_drawn_is_the_metric_one_by_the_inch(both: tuple[Drawing, Drawing]) -> None:
    metric, inch = (list(doc.modelspace()) for doc in both)
    assert [one.dxftype() for one in metric] == [one.dxftype() for one in inch]
    checked = 0
    for one, other in zip(metric, inch, strict=True):
        for name in (
            "start",
            "end",
            "center",
            "insert",
            "defpoint",
            "defpoint2",
            "vtx0",
            "radius",
            "height",
        ):
            if one.dxf.hasattr(name):
                there, here = one.dxf.get(name), other.dxf.get(name)
                assert abs(here * INCH - there) == pytest.approx(0, abs=1e-4), (one, name)
                checked += 1
    assert checked > 100


def test_a_dimension_measures_and_draws_the_same(both: tuple[Drawing, Drawing]) -> None:
    metric, inch = (list(doc.modelspace().query("DIMENSION")) for doc in both)
    for one, other, ours in zip(metric, inch, DIMENSIONS, strict=True):
        said = [d.get_measurement() * d.override().get("dimlfac") for d in (one, other)]
        if ours.kind != "angle":
            assert said[1] == pytest.approx(said[0], rel=1e-5), ours.text
        assert one.dxf.text == other.dxf.text
        drawn, there = (list(d.virtual_entities()) for d in (one, other))
        lines = [(a, b) for a, b in zip(drawn, there, strict=True) if a.dxftype() == "LINE"]
        for a, b in lines:
            assert abs(b.dxf.start * INCH - a.dxf.start) == pytest.approx(0, abs=1e-4), ours.text


def test_an_inch_jobs_sheets_are_in_inches_and_a_metric_ones_not(tmp_path: Path) -> None:
    for name, said in (("inch-lathe", (0, 1)), ("bench-lathe", (1, 4))):
        plan = planned(ROOT / "examples" / f"{name}.toml")
        one = next(one for one in dial_files(topic("dial"), plan) if one.path.endswith("sheet.dxf"))
        one.write(tmp_path / name)
        doc = ezdxf.readfile(tmp_path / name / one.path)
        assert units(doc) == said, name
        wide, high, _ = doc.modelspace().dxf.extmax
        assert ((round(wide, 3), round(high, 3)) in PAPERS) is (name == "inch-lathe")
