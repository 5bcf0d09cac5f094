"""Curves joined into the polylines, arcs and circles of a DXF file, as ezdxf reads them."""

import math
from collections import Counter
from itertools import pairwise

import pytest
from dxf_cases import area, audited, bounds, lines_on
from ezdxf.math import Vec2, bulge_center
from shapes import QUARTER

from planner.dxf.views import write_views
from planner.geometry.curves import Arc, Line, Polyline


def entities(tmp_path, *curves):
    path = tmp_path / "curves.dxf"
    write_views(path, "Curves", {"front": curves})
    space = audited(path).modelspace()
    return [entity for entity in space if entity.dxftype() != "TEXT"]


def test_ends_that_meet_become_one_closed_polyline_in_any_order(tmp_path):
    # A slot 20 x 10 with round ends, its four curves shuffled and some reversed.
    (slot,) = entities(
        tmp_path,
        Line((0, -5), (10, -5)),
        Arc((0, 0), 5, 90, 270),
        Line((0, 5), (10, 5)),
        Arc((10, 0), 5, -90, 90),
    )
    assert slot.closed and len(slot) == 4
    points = slot.get_points("xyb")
    centres = {
        tuple(round(v, 9) + 0.0 for v in bulge_center(Vec2(p[:2]), Vec2(q[:2]), p[2]))
        for p, q in pairwise([*points, points[0]])
        if p[2]
    }
    assert centres == {(0, 0), (10, 0)}
    # Exact length: two straights of 10 and a circle of radius 5.
    (visible,) = lines_on(tmp_path / "curves.dxf", "VISIBLE")
    length = sum(math.dist(p, q) for p, q in pairwise(visible))
    assert length == pytest.approx(20 + 10 * math.pi, rel=1e-4)
    assert abs(area(visible)) == pytest.approx(100 + 25 * math.pi, rel=1e-4)


@pytest.mark.parametrize("flip", [False, True])
def test_an_open_chain_keeps_its_arcs_whichever_way_it_runs(tmp_path, flip):
    # A quarter arc of radius 7 about (10, 7) between a straight from the left and one going up.
    ends = ((0, 0), (10, 0)), ((17, 7), (17, 30))
    lines = [Line(*(end[::-1] if flip else end)) for end in ends]
    (chain,) = entities(tmp_path, lines[1], Arc((10, 7), 7, 270, 360), lines[0])
    assert not chain.closed and len(chain) == 4
    (k,) = [k for k, p in enumerate(chain.get_points("xyb")) if p[2]]
    p, q = chain.get_points("xyb")[k : k + 2]
    assert bulge_center(Vec2(p[:2]), Vec2(q[:2]), p[2]).isclose((10, 7), abs_tol=1e-9)
    # tan(90 / 4 degrees), above 0 when the chain runs anticlockwise round the arc.
    forward = chain.get_points("xy")[0] == (0, 0)
    assert p[2] == pytest.approx(QUARTER if forward else -QUARTER)


def test_a_large_arc_is_itself(tmp_path):
    # Three quarters of a circle of radius 10 closed by two radii: area 3/4 pi r^2.
    (sector,) = entities(
        tmp_path, Arc((0, 0), 10, 0, 270), Line((0, -10), (0, 0)), Line((0, 0), (10, 0))
    )
    assert sector.closed
    (points,) = lines_on(tmp_path / "curves.dxf", "VISIBLE")
    assert abs(area(points)) == pytest.approx(75 * math.pi, rel=1e-4)
    assert bounds(points) == pytest.approx((-10, -10, 10, 10), abs=1e-3)


def test_circles_stay_circles(tmp_path):
    found = entities(
        tmp_path,
        Arc((0, 0), 10, 30, 390),
        Arc((40, 0), 5, 0, 120),
        Arc((40, 0), 5, 120, 240),
        Arc((40, 0), 5, 240, 360),
        Arc((80, 0), 4, 0, 359.999999),
    )
    assert [entity.dxftype() for entity in found] == ["CIRCLE"] * 3
    assert sorted(round(entity.dxf.radius, 6) for entity in found) == [4, 5, 10]
    assert sorted(round(entity.dxf.center.x, 6) for entity in found) == [0, 40, 80]


def test_two_arcs_that_are_no_circle_stay_a_lens(tmp_path):
    # Two unit arcs of 120 degrees through (0, +-sin 60): area 2 (pi/3 - sqrt(3)/4) (vesica piscis).
    (lens,) = entities(tmp_path, Arc((0.5, 0), 1, 120, 240), Arc((-0.5, 0), 1, -60, 60))
    assert lens.dxftype() == "LWPOLYLINE" and lens.closed
    (points,) = lines_on(tmp_path / "curves.dxf", "VISIBLE")
    assert abs(area(points)) == pytest.approx(2 * (math.pi / 3 - math.sqrt(3) / 4), rel=1e-3)


def test_forks_part_the_paths(tmp_path):
    # A rectangle with a line across it: three paths, and no line is drawn twice.
    found = entities(
        tmp_path,
        Line((0, 0), (10, 0)),
        Line((10, 0), (20, 0)),
        Line((20, 0), (20, 10)),
        Line((20, 10), (10, 10)),
        Line((10, 10), (0, 10)),
        Line((0, 10), (0, 0)),
        Line((10, 0), (10, 10)),
    )
    assert Counter(entity.dxftype() for entity in found) == {"LWPOLYLINE": 2, "LINE": 1}
    lines = lines_on(tmp_path / "curves.dxf", "VISIBLE")
    assert sum(math.dist(p, q) for line in lines for p, q in pairwise(line)) == pytest.approx(70)


def test_sampled_curves_join_and_close(tmp_path):
    # An ellipse 20 x 10 in two halves of 100 chords: its area is pi a b less the chords' part.
    half = [math.pi * k / 100 for k in range(101)]
    (ellipse,) = entities(
        tmp_path,
        Polyline(tuple((10 * math.cos(t), 5 * math.sin(t)) for t in half)),
        Polyline(tuple((10 * math.cos(t), -5 * math.sin(t)) for t in half)),
    )
    assert ellipse.closed and len(ellipse) == 200
    (points,) = lines_on(tmp_path / "curves.dxf", "VISIBLE")
    # A polygon inscribed at even parameters: n/2 a b sin(2 pi / n) (affine image of a circle's).
    assert abs(area(points)) == pytest.approx(100 * 50 * math.sin(math.pi / 100), rel=1e-6)


def test_near_ends_meet_and_specks_are_left_out(tmp_path):
    found = entities(
        tmp_path,
        Line((0, 0), (10, 0)),
        Line((10.0008, 0.0005), (10, 10)),
        Line((10, 10), (10.0001, 10.0001)),
        Line((10, 10.0001), (0, 0.0004)),
        Line((5, 5), (5.0003, 5)),
    )
    (triangle,) = found
    assert triangle.closed and len(triangle) == 3
    # A gap that can be seen stays one: 0.05 mm.
    found = entities(tmp_path, Line((0, 0), (10, 0)), Line((10.05, 0), (20, 0)))
    assert [entity.dxftype() for entity in found] == ["LINE", "LINE"]


def test_visible_and_hidden_curves_do_not_join(tmp_path):
    hidden, visible = entities(tmp_path, Line((0, 0), (10, 0)), Line((10, 0), (20, 0), hidden=True))
    assert (hidden.dxf.layer, visible.dxf.layer) == ("HIDDEN", "VISIBLE")
