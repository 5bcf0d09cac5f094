"""A file for an inch shop: the same shapes, in inches, and it says so; GDAL reads both.

$INSUNITS 1 is the inch, 4 the millimetre; $MEASUREMENT 0 is English (DXF reference, from memory).
"""

from __future__ import annotations

from pathlib import Path

import ezdxf
import pint
import pytest
from dxf_cases import PLATE, read

from planner.dxf.profiles import write_profile

INCH = pint.get_application_registry().Quantity(1.0, "inch").to("mm").magnitude


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_an_inch_file_is_the_metric_one_by_the_inch(version: str, tmp_path: Path) -> None:
    metric, inch = tmp_path / "mm.dxf", tmp_path / "in.dxf"
    write_profile(metric, PLATE, version)
    write_profile(inch, PLATE, version, inch=True, thick="25/64 in")
    ours, theirs = read(inch), read(metric)
    assert [one[:2] for one in ours] == [one[:2] for one in theirs]
    for one, other in zip(ours, theirs, strict=True):
        for (x, y), (u, v) in zip(one[4], other[4], strict=True):
            assert (x * INCH, y * INCH) == pytest.approx((u, v), abs=2e-5)
    words = [one[2] for one in ours if one[2]]
    assert words == ["Bracket, S355, 25/64 in thick"]
    drawing = ezdxf.readfile(inch)  # type: ignore[attr-defined]
    if version != "R12":  # which has neither
        assert (drawing.header["$MEASUREMENT"], drawing.header["$INSUNITS"]) == (0, 1)
    high = drawing.header["$EXTMAX"]
    assert high[0] * INCH == pytest.approx(ezdxf.readfile(metric).header["$EXTMAX"][0], abs=1e-4)  # type: ignore[attr-defined]
    assert not drawing.audit().errors
