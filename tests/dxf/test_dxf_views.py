"""DXF files of views read back by GDAL and by ezdxf's own audit, lengths worked out by hand."""

from collections import Counter

import pytest
from dxf_cases import area, audited, bounds, lines_on, pin_views, read

from planner.dxf.views import write_views


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_views_read_back(tmp_path, version):
    path = tmp_path / "pin.dxf"
    write_views(path, "Stepped pin", pin_views(), turned=True, version=version)
    audited(path)
    found = read(path)
    # Front and top: a rectangle and a nose that meets it; three hidden lines are one path; three
    # circles in the view from the left. Centre lines: one, one and two. Three names, a note, a
    # title.
    assert Counter(layer for layer, *_ in found) == {
        "VISIBLE": 2 + 2 + 2,
        "HIDDEN": 1 + 1,
        "CENTER": 4,
        "MARK": 5,
    }
    texts = [text for _, _, text, *_ in found if text]
    assert texts[-1] == "Stepped pin"
    assert texts[:3] == ["Front view", "Top view", "View from the left"]
    # The rectangle 50 x 20 of front and top are closed polygons.
    polygons = [points for *_, kind, points in found if kind == "polygon"]
    assert [abs(area(points)) for points in polygons] == pytest.approx([1000, 1000])


def test_first_angle_places_top_below_and_left_to_the_right(tmp_path):
    # First angle: the view from above goes below, from the left to the right (ISO 5456-2, memory).
    path = tmp_path / "pin.dxf"
    write_views(path, "Pin", pin_views())
    nose, front, top_nose, top, *left = (bounds(p) for p in lines_on(path, "VISIBLE"))
    # The front view stays at its own coordinates, so the top view's x and the left view's y do.
    assert front == pytest.approx((0, -10, 50, 10))
    assert nose == pytest.approx((50, -6, 80, 6))
    assert (top[0], top[2]) == pytest.approx((0, 50))
    assert (top_nose[0], top_nose[2]) == pytest.approx((50, 80))
    assert front[1] - top[3] == pytest.approx(20)
    outer = max(left, key=lambda b: b[2] - b[0])
    assert (outer[1], outer[3]) == pytest.approx((-10, 10))
    assert outer[0] - nose[2] == pytest.approx(20)
    assert outer[2] - outer[0] == pytest.approx(20)


def test_centre_lines_run_through_the_axis(tmp_path):
    path = tmp_path / "pin.dxf"
    write_views(path, "Pin", pin_views(), turned=True)
    front, top, across, up = (bounds(points) for points in lines_on(path, "CENTER"))
    assert front[1] == front[3] == 0 and front[0] < 0 and front[2] > 80
    assert top[1] == top[3]
    top_body = [bounds(p) for p in lines_on(path, "VISIBLE")][3]
    assert top[1] == pytest.approx((top_body[1] + top_body[3]) / 2)
    ring = max((bounds(p) for p in lines_on(path, "VISIBLE")[4:]), key=lambda b: b[2] - b[0])
    assert across[1] == across[3] == 0 and across[0] < ring[0] and across[2] > ring[2]
    assert up[0] == up[2] == pytest.approx((ring[0] + ring[2]) / 2)
    assert up[1] < -10 and up[3] > 10


def test_linetypes_weights_and_units_of_views(tmp_path):
    path = tmp_path / "pin.dxf"
    write_views(path, "Pin", pin_views(), inch=True, turned=True)
    document = audited(path)
    assert document.header["$INSUNITS"] == 4
    layers = {layer.dxf.name: layer.dxf for layer in document.layers}
    assert layers["HIDDEN"].linetype == "HIDDEN" and layers["CENTER"].linetype == "CENTER"
    for name in ("HIDDEN", "CENTER"):
        assert name in document.linetypes
    # Wide and narrow lines of the 0.5 mm group, 2:1 (ISO 128-2, from memory).
    weights = {name: layers[name].lineweight for name in ("VISIBLE", "HIDDEN", "CENTER", "MARK")}
    assert weights == {"VISIBLE": 50, "HIDDEN": 25, "CENTER": 25, "MARK": 25}
    # An inch job's drawing is the same drawing in millimetres; its note says so.
    note = [t.dxf.text for t in document.modelspace().query("TEXT")][-2]
    assert note == "1:1 in mm (1 in = 25.4 mm), first-angle projection"
    # Every text in the style that every drawing has.
    assert {t.dxf.style for t in document.modelspace().query("TEXT")} == {"Standard"}
