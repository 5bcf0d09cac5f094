"""GDAL's options for the tests of this room."""

import pyogrio
import pytest


@pytest.fixture(scope="module", autouse=True)
def gdal():
    """GDAL's own options: closed polylines as polygons, arcs in chords of half a degree."""
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": True, "OGR_ARC_STEPSIZE": 0.5})
    yield
    pyogrio.set_gdal_config_options({"DXF_CLOSED_LINE_AS_POLYGON": None, "OGR_ARC_STEPSIZE": None})
