"""Where things stand in a DXF file, and how its numbers are written, worked out by hand."""

from dataclasses import replace

import pytest
from dxf_cases import PLATE, audited, bounds, lines_on

from planner.dxf.paths import Chain, Extent, extent_of
from planner.dxf.profiles import write_profile
from planner.dxf.views import write_views
from planner.geometry.curves import Line, Outline


def box(left, bottom, right, top):
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    return [Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]


@pytest.mark.parametrize(
    "front, top, left, floor, wall",
    [
        # first angle (ISO 5456-2, from memory): the top view hangs 20 mm under the lowest of the
        # others, the view from the left stands 20 mm beside the rightmost
        ((0, -10, 50, 10), (0, -8, 50, 8), (-10, -30, 10, 30), -30 - 20, 50 + 20),
        ((0, -40, 50, 10), (0, -8, 70, 8), (-10, -30, 10, 30), -40 - 20, 70 + 20),
        ((5, 2, 50, 10), (5, 100, 45, 120), (30, 2, 60, 10), 2 - 20, 50 + 20),
    ],
)
def test_views_stand_clear_of_each_other(tmp_path, front, top, left, floor, wall):
    path = tmp_path / "part.dxf"
    write_views(path, "Part", {"front": box(*front), "top": box(*top), "left": box(*left)})
    found = [bounds(points) for points in lines_on(path, "VISIBLE")]
    assert found[0] == pytest.approx(front)
    assert found[1] == pytest.approx((top[0], floor - (top[3] - top[1]), top[2], floor))
    assert found[2] == pytest.approx((wall, left[1], wall + left[2] - left[0], left[3]))
    # one view by itself stays where it is
    for name, edges in (("top", top), ("left", left)):
        write_views(path, "Part", {name: box(*edges)})
        assert bounds(lines_on(path, "VISIBLE")[0]) == pytest.approx(edges)


def test_centre_lines_run_out_as_far_at_each_end(tmp_path):
    path = tmp_path / "part.dxf"
    views = {"front": box(10, -10, 50, 10), "left": box(-10, -10, 10, 10)}
    write_views(path, "Part", views, turned=True)
    front, across, up = (bounds(points) for points in lines_on(path, "CENTER"))
    body, end = (bounds(points) for points in lines_on(path, "VISIBLE"))
    for line, edges, low, high in ((front, body, 0, 2), (across, end, 0, 2), (up, end, 1, 3)):
        out = {round(edges[low] - line[low], 6), round(line[high] - edges[high], 6)}
        # a few millimetres beyond what they belong to (ISO 128-2, from memory)
        assert len(out) == 1 and 2 <= out.pop() <= 5


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_a_file_opens_on_the_whole_drawing(tmp_path, version):
    # the view's centre is the drawing's, and it is as high as the drawing and as wide, and a tenth
    # more; 3:2 is the least wide that screens are (common practice)
    for dx, dy, size in ((0.0, 0.0, (300, 40)), (900.0, -70.0, (20, 60))):
        corners = [(0, 0), (size[0], 0), size, (0, size[1])]
        outline = Outline(tuple((x + dx, y + dy, 0.0) for x, y in corners))
        path = tmp_path / "plate.dxf"
        write_profile(path, replace(PLATE, outline=outline, holes=(), marks=()), version)
        document = audited(path)
        low, high = (document.header[name] for name in ("$EXTMIN", "$EXTMAX"))
        assert low[0] == pytest.approx(dx) and high[0] == pytest.approx(size[0] + dx)
        assert dy - 10 < low[1] < dy and high[1] == pytest.approx(size[1] + dy)  # words below
        (view,) = document.viewports.get("*Active")
        middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
        assert tuple(view.dxf.center)[:2] == pytest.approx(middle, abs=1e-6)
        tall = max(high[1] - low[1], (high[0] - low[0]) / 1.5)
        assert view.dxf.height == pytest.approx(1.1 * tall, abs=1e-6)


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_numbers_are_written_without_the_dust_of_fractions(tmp_path, version):
    # a bulge to twelve places: over a chord of a metre that is a thousandth of a micrometre;
    # a millimetre to six
    vertices = ((1 / 3, 0.0, 1 / 3), (100 / 7, -0.0, -2 / 3), (20.0, 30.0, 0.0))
    path = tmp_path / "plate.dxf"
    write_profile(path, replace(PLATE, outline=Outline(vertices), holes=(), marks=()), version)
    said = [row.strip() for row in path.read_text().splitlines()]
    pairs = list(zip(said[::2], said[1::2], strict=True))
    bulges = {value for code, value in pairs if code == "42" and value.lstrip("-")[0] == "0"}
    assert {"0.333333333333", "-0.666666666667"} <= bulges
    places = {value for code, value in pairs if code == "10"}
    assert {"0.333333", "14.285714", "20.0"} <= places
    assert not any(value.startswith("-0.0") and float(value) == 0 for _, value in pairs if value)


def test_a_chain_moves_and_reaches_as_its_points_do():
    # half a circle of 20 from 0, 0 to 20, 0, anticlockwise: it dips to -10 (bulge 1)
    half = Chain(((0.0, 0.0, 1.0), (20.0, 0.0, 0.0)), False)
    assert extent_of([half]) == Extent(0.0, -10.0, 20.0, 0.0)
    assert extent_of([half.moved(3.0, 5.0)]) == Extent(3.0, -5.0, 23.0, 5.0)
    line = Chain(((40.0, 7.0, 0.0), (41.0, 60.0, 0.0)), False)
    assert extent_of([half, line]) == Extent(0.0, -10.0, 41.0, 60.0)
