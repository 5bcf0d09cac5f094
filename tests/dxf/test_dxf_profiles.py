"""DXF files of flat profiles read back by GDAL and by ezdxf's own audit, areas worked out by hand."""

import math
from collections import Counter

import pytest
from dxf_cases import PLATE, area, audited, bounds, read
from ezdxf.math import Vec2, bulge_center, bulge_radius

from planner.dxf.drawing import VERSIONS
from planner.dxf.profiles import write_profile

# A bulge is the tangent of a quarter of the arc's angle, below 0 clockwise (DXF reference, memory:
# LWPOLYLINE group 42): -tan(90 / 4 degrees) for a quarter turn to the right.


@pytest.mark.parametrize("version", VERSIONS)
def test_a_profile_read_back(tmp_path, version):
    path = tmp_path / "bracket.dxf"
    write_profile(path, PLATE, version)
    found = read(path)
    # Two marks of two lines each and one text; two holes and the outline.
    assert Counter(layer for layer, *_ in found) == {"MARK": 5, "CUT": 3}
    assert [text for _, _, text, *_ in found if text] == ["Bracket, S355, 10 mm thick"]
    # Holes before the outline (common practice: the piece is still held while they are cut).
    *holes, outline = [shape for layer, *shape in found if layer == "CUT"]
    for _, _, _, points in holes:
        assert points[0] == pytest.approx(points[-1])
    assert [abs(area(hole[3])) for hole in holes] == pytest.approx(
        [math.pi * 8**2, math.pi * 6**2], rel=1e-4
    )
    _, _, kind, points = outline
    assert kind == "polygon"
    # By hand: the L's two rectangles, and the fillet leaves a square less a quarter disc.
    by_hand = 100 * 20 + 40 * 40 + (1 - math.pi / 4) * 5**2
    assert area(points) == pytest.approx(by_hand, rel=1e-6)
    assert bounds(points) == pytest.approx((0, 0, 100, 60))
    # The text stands clear of the piece.
    ((_, _, _, _, (at,)),) = [row for row in found if row[3] == "point"]
    assert at[0] == 0 and at[1] < -3


@pytest.mark.parametrize("version", VERSIONS)
def test_a_profile_is_sound_and_says_it_is_in_millimetres(tmp_path, version):
    path = tmp_path / "bracket.dxf"
    write_profile(path, PLATE, version)
    document = audited(path)
    assert document.acad_release == version
    text = path.read_text(encoding="utf-8")
    # $INSUNITS 4 is millimetres (DXF reference, from memory); R12 does not know it.
    assert document.header.get("$INSUNITS", None) == (None if version == "R12" else 4)
    assert ("$INSUNITS" in text) is (version != "R12")
    assert set(document.layers.entries) == {"0", "defpoints", "cut", "mark"}
    if version != "R12":
        assert document.header["$MEASUREMENT"] == 1
        # Line weights in 1/100 mm (DXF reference, group 370, from memory).
        assert document.layers.get("CUT").dxf.lineweight == 50
        assert document.layers.get("MARK").dxf.lineweight == 25


def test_the_outline_is_one_closed_polyline_with_a_true_arc(tmp_path):
    path = tmp_path / "bracket.dxf"
    write_profile(path, PLATE)
    space = audited(path).modelspace()
    assert [entity.dxftype() for entity in space.query('*[layer=="CUT"]')] == [
        "CIRCLE",
        "CIRCLE",
        "LWPOLYLINE",
    ]
    outline = space.query("LWPOLYLINE").first
    assert outline.closed
    points = outline.get_points("xyb")
    assert len(points) == 7
    (arc,) = [k for k, (_, _, bulge) in enumerate(points) if bulge]
    start, end, bulge = Vec2(points[arc][:2]), Vec2(points[arc + 1][:2]), points[arc][2]
    assert bulge_radius(start, end, bulge) == pytest.approx(5, rel=1e-9)
    assert bulge_center(start, end, bulge).isclose((55, 25), abs_tol=1e-9)
    assert [(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in space.query("CIRCLE")] == [
        (80, 40, 8),
        (80, 15, 6),
    ]
    # A centre mark is two short lines that cross in the middle of both.
    middles = [(line.dxf.start + line.dxf.end) / 2 for line in space.query("LINE")]
    assert [(m.x, m.y) for m in middles] == [(20, 10), (20, 10), (40, 10), (40, 10)]
    assert {line.dxf.start.distance(line.dxf.end) for line in space.query("LINE")} == {3.0}
