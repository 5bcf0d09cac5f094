"""Outlines as the polylines, arcs and circles of a DXF file, as ezdxf and GDAL read them."""

import math
from itertools import pairwise

import pytest
from dxf_cases import PLATE, area, audited, bounds, lines_on
from ezdxf.math import Vec2, bulge_center
from msgspec.structs import replace
from shapes import circle

from planner.dxf.profiles import write_layers, write_profile
from planner.geometry.curves import Line, Outline

# a bulge is the tangent of a quarter of the arc's angle (DXF reference, from memory)
HALF = math.tan(math.radians(180) / 4)
THIRD = math.tan(math.radians(120) / 4)


def cut(tmp_path, outline, *holes, version="R2010"):
    """What is on the layer CUT of a plate's file: its holes, then its outline."""
    path = tmp_path / "plate.dxf"
    write_profile(path, replace(PLATE, outline=outline, holes=holes, marks=()), version)
    return list(audited(path).modelspace().query('*[layer=="CUT"]'))


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_a_slot_is_one_closed_polyline_of_its_length_and_area(tmp_path, version):
    # A slot 20 x 10 with round ends about (0, 0) and (10, 0).
    corners = ((0.0, -5.0, 0.0), (10.0, -5.0, HALF), (10.0, 5.0, 0.0), (0.0, 5.0, HALF))
    (slot,) = cut(tmp_path, Outline(corners), version=version)
    if version != "R12":
        assert slot.closed and len(slot) == 4
        points = slot.get_points("xyb")
        centres = {
            tuple(round(v, 9) + 0.0 for v in bulge_center(Vec2(p[:2]), Vec2(q[:2]), p[2]))
            for p, q in pairwise([*points, points[0]])
            if p[2]
        }
        assert centres == {(0, 0), (10, 0)}
    # Exact length: two straights of 10 and a circle of radius 5.
    (read,) = (p for p in lines_on(tmp_path / "plate.dxf", "CUT"))
    length = sum(math.dist(p, q) for p, q in pairwise(read))
    assert length == pytest.approx(20 + 10 * math.pi, rel=1e-4)
    assert abs(area(read)) == pytest.approx(100 + 25 * math.pi, rel=1e-4)


def test_a_large_arc_is_itself(tmp_path):
    # Three quarters of a circle of radius 10 closed by two radii: area 3/4 pi r^2.
    bulge = math.tan(math.radians(270) / 4)
    (sector,) = cut(tmp_path, Outline(((10.0, 0.0, bulge), (0.0, -10.0, 0.0), (0.0, 0.0, 0.0))))
    assert sector.closed
    (points,) = lines_on(tmp_path / "plate.dxf", "CUT")
    assert abs(area(points)) == pytest.approx(75 * math.pi, rel=1e-4)
    assert bounds(points) == pytest.approx((-10, -10, 10, 10), abs=1e-3)
    header = audited(tmp_path / "plate.dxf").header
    assert tuple(header["$EXTMAX"])[:2] == pytest.approx((10, 10))
    assert header["$EXTMIN"][0] == pytest.approx(-10)


def test_circles_are_circles_however_many_arcs_they_have(tmp_path):
    thirds = [
        (40 + 5 * math.cos(a), 5 * math.sin(a)) for a in (0.0, 2 * math.pi / 3, 4 * math.pi / 3)
    ]
    holes = (circle(0, 0, 10), Outline(tuple((x, y, THIRD) for x, y in thirds)))
    *found, _ = cut(tmp_path, PLATE.outline, *holes)
    assert [entity.dxftype() for entity in found] == ["CIRCLE"] * 2
    assert [round(entity.dxf.radius, 6) for entity in found] == [10, 5]
    assert [round(entity.dxf.center.x, 6) for entity in found] == [0, 40]
    # a cutter starts a circle where its outline does: there it stays a polyline
    path = tmp_path / "sheet.dxf"
    write_layers(path, {"CUT": (7, "CONTINUOUS", 50)}, [("CUT", holes[0])])
    (found,) = audited(path).modelspace()
    assert found.dxftype() == "LWPOLYLINE" and found.closed
    assert found.get_points("xyb")[0] == pytest.approx(holes[0].vertices[0])


def test_two_arcs_that_are_no_circle_stay_a_lens(tmp_path):
    # Two unit arcs of 120 degrees through (0, +-sin 60): area 2 (pi/3 - sqrt(3)/4) (vesica piscis).
    high = math.sin(math.radians(60))
    lens, _ = cut(tmp_path, PLATE.outline, Outline(((0.0, -high, THIRD), (0.0, high, THIRD))))
    assert lens.dxftype() == "LWPOLYLINE" and lens.closed
    points, _ = lines_on(tmp_path / "plate.dxf", "CUT")
    assert abs(area(points)) == pytest.approx(2 * (math.pi / 3 - math.sqrt(3) / 4), rel=1e-3)


@pytest.mark.parametrize("version", ["R12", "R2010"])
def test_a_straight_line_is_a_line(tmp_path, version):
    path = tmp_path / "line.dxf"
    lines = [Line((0, 0), (10, 0)), Line((1 / 3, 5), (20, -0.0))]
    write_layers(path, {"A": (7, "CONTINUOUS", 50)}, [("A", line) for line in lines], version)
    found = list(audited(path).modelspace())
    assert [entity.dxftype() for entity in found] == ["LINE", "LINE"]
    ends = [(*tuple(e.dxf.start)[:2], *tuple(e.dxf.end)[:2]) for e in found]
    assert ends == [(0, 0, 10, 0), (0.333333, 5, 20, 0)]
