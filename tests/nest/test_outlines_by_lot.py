"""Outlines drawn by lot, of lines and arcs, against shapely's polygons of many points."""

from __future__ import annotations

import random
from math import cos, hypot, inf, pi, sin

import numpy as np
import pytest
import shapely
from nest_cases import polygon

from planner.geometry.curves import Outline
from planner.nest.model import NoRoom
from planner.nest.nofit import Shapes
from planner.nest.offset import offset
from planner.nest.outlines import (
    anticlockwise,
    apart_mm,
    area_mm2,
    bounds,
    contains,
    flattened,
    from_point_mm,
    moved,
    reversed_outline,
    segments,
    starting_at,
    turned,
)

FINE = 300


def drawn(seed: int, bulges: tuple[float, ...] = (0.0, 0.0, 0.3, -0.25, 1.0, 0.05)) -> Outline:
    """An outline round the origin, anticlockwise, that does not cross itself."""
    draw = random.Random(seed)
    while True:
        count = draw.randint(3, 7)
        found = []
        for k in range(count):
            turn = 2 * pi * (k + draw.uniform(-0.3, 0.3)) / count
            far = draw.uniform(12, 30)
            found.append((far * cos(turn), far * sin(turn), draw.choice(bulges)))
        shape = polygon(Outline(tuple(found)), 200)
        if shape.is_valid and shape.area > 300 and shape.exterior.is_ccw:
            return Outline(tuple(found))


@pytest.mark.parametrize("seed", range(9))
def test_area_bounds_and_what_is_inside(seed: int) -> None:
    outline, draw = drawn(seed), random.Random(seed)
    fine = polygon(outline, FINE)
    for one in (outline, starting_at(outline, 1)):
        assert area_mm2(one) == pytest.approx(fine.area, rel=2e-4)
        assert bounds(one) == pytest.approx(fine.bounds, abs=2e-3)
    back = reversed_outline(outline)
    assert area_mm2(back) == pytest.approx(-fine.area, rel=2e-4)
    assert back.vertices[0][:2] == outline.vertices[0][:2]
    assert polygon(back, FINE).symmetric_difference(fine).area < 0.05
    assert anticlockwise(back) == outline == anticlockwise(outline)
    outer = shapely.Polygon(flattened(outline))
    assert outer.buffer(1e-4).contains(fine) and outer.hausdorff_distance(fine) < 0.021
    spots = np.array([(draw.uniform(-45, 45), draw.uniform(-45, 45)) for _ in range(80)])
    for vertex in outline.vertices:  # and at the heights of its corners
        spots = np.vstack([spots, [(draw.uniform(-45, 45), vertex[1])]])
    rim = shapely.distance(fine.exterior, shapely.points(spots))
    held = shapely.contains_xy(fine, spots)
    for (x, y), inside, far in zip(spots.tolist(), held, rim, strict=True):
        assert from_point_mm(outline, (x, y)) == pytest.approx(far, abs=2e-3)
        if far > 1e-2:
            assert contains(outline, (x, y)) == inside


@pytest.mark.parametrize("seed", range(9))
def test_how_far_apart_two_are(seed: int) -> None:
    one, draw = drawn(seed), random.Random(seed)
    for number in range(3):
        turn = draw.choice([0, 90, 180, 270])
        way = draw.uniform(0, 2 * pi)
        far = draw.uniform(20, 75)
        other = moved(turned(drawn(100 + seed + number), turn), far * cos(way), far * sin(way))
        fine, there = polygon(one, FINE), polygon(other, FINE)
        expected = fine.exterior.distance(there.exterior)
        assert apart_mm(one, other) == pytest.approx(expected, abs=3e-3)
        assert apart_mm(other, one, expected + 0.01) == pytest.approx(expected, abs=3e-3)
        if expected > 0.02:
            assert apart_mm(one, other, expected - 0.01) == inf


@pytest.mark.parametrize("by", [0.8, 2.0, -0.8, -2.0])
@pytest.mark.parametrize("seed", range(5))
def test_the_line_at_a_distance(seed: int, by: float) -> None:
    outline = drawn(seed)
    fine = polygon(outline, FINE)
    expected = fine.buffer(by, quad_segs=200)
    try:
        line = offset(outline, by)
    except NoRoom as told:
        # a round line that comes back to the outline when it is brought back refuses nothing
        back = expected.buffer(-by, quad_segs=200)
        parts = len(getattr(expected, "geoms", [0]))
        least = min((hypot(q[0] - p[0], q[1] - p[1]) for p, q, _ in segments(outline)))
        assert parts != 1 or back.symmetric_difference(fine).area > 0.01 or least < 2 * abs(by)
        assert f"too narrow to go round at {abs(by):g} mm" in str(told)
        return
    assert polygon(line, FINE).symmetric_difference(expected).area < 0.2
    assert area_mm2(line) == pytest.approx(expected.area, rel=2e-4)


@pytest.mark.parametrize("seed", range(5))
def test_no_piece_may_stand_where_it_comes_nearer_than_the_gap(seed: int) -> None:
    draw = random.Random(seed)
    gap = draw.choice([0.0, 3.0])
    shapes = Shapes([drawn(seed), drawn(50 + seed)], gap, [(0, 90, 180, 270)] * 2)
    fixed, loose = draw.choice(shapes.ways(0)), draw.choice(shapes.ways(1))
    region = shapes.no_fit(fixed, loose)
    first = moved(fixed.outline, -fixed.left_mm, -fixed.bottom_mm)
    second = moved(loose.outline, -loose.left_mm, -loose.bottom_mm)
    near, other = polygon(first, 60), polygon(second, 60)
    for number in range(60):
        x, y = draw.uniform(-70, 70), draw.uniform(-70, 70)
        if number % 2:  # half of them at the region's rim, where it matters
            line = region.exterior if region.geom_type == "Polygon" else region.boundary
            spot = line.interpolate(draw.random(), normalized=True)
            x, y = spot.x + draw.choice([-0.2, 0.2]), spot.y + draw.choice([-0.2, 0.2])
        apart = near.distance(shapely.transform(other, lambda at, to=(x, y): at + to))
        if shapely.contains_xy(region, x, y):
            assert apart < 1.006 * gap + 0.06
        else:
            assert apart >= gap - 0.005
    assert shapes.work > 0
