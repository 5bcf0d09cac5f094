"""Outlines and lines at a distance from them, against shapely and Steiner's formula."""

import math
import random

import pytest
import shapely
from nest_cases import ANGLE, SLOT, disc, polygon, rectangle

from planner.nest.offset import offset
from planner.nest.outlines import apart_mm, area_mm2, bounds, contains, flattened, moved, turned


@pytest.mark.parametrize("piece", [ANGLE, SLOT, disc(40), rectangle(30, 20)])
def test_outlines_against_shapely(piece):
    fine = polygon(piece.outline, 2000)
    assert area_mm2(piece.outline) == pytest.approx(fine.area, rel=1e-6)
    assert bounds(piece.outline) == pytest.approx(fine.bounds, abs=1e-4)
    outer = shapely.Polygon(flattened(piece.outline))
    # The flattened outline holds the true one and is nowhere more than 0.02 mm outside it.
    assert outer.buffer(1e-6).contains(fine)
    assert outer.hausdorff_distance(fine) < 0.02
    chance = random.Random(5)
    for _ in range(200):
        x, y = chance.uniform(-10, 110), chance.uniform(-10, 90)
        assert contains(piece.outline, (x, y)) == fine.contains(shapely.Point(x, y))
    # On the chords of its arcs and at the heights of its corners, where a ray meets several at once.
    for x in (0.5, 3.25, 12.0, 57.0, 61.0, 75.0):
        for y in (0.0, 15.0, 20.0, 25.0, 30.0, 40.0, 60.0):
            spot = shapely.Point(x, y)
            if fine.exterior.distance(spot) > 1e-3:
                assert contains(piece.outline, (x, y)) == fine.contains(spot)
    for turn in (0, 90, 180, 270):
        there = moved(turned(piece.outline, turn), 260 + turn / 7, 30 - turn / 9)
        for other in (ANGLE, SLOT, disc(40)):
            expected = polygon(there, 2000).distance(polygon(other.outline, 2000))
            assert apart_mm(there, other.outline) == pytest.approx(expected, abs=1e-3)
    assert apart_mm(moved(piece.outline, 7, 5), piece.outline) == 0


@pytest.mark.parametrize("piece", [ANGLE, SLOT, disc(40), rectangle(30, 20)])
@pytest.mark.parametrize("by", [1.5, -1.5])
def test_offset_against_steiners_formula_and_shapely(piece, by):
    line = offset(piece.outline, by)
    expected = polygon(piece.outline, 2000).buffer(by, quad_segs=500)
    assert polygon(line, 2000).symmetric_difference(expected).area < 0.02
    if by > 0 and piece is not ANGLE:
        # Steiner: area + perimeter d + pi d2 for a convex outline.
        perimeter = polygon(piece.outline, 2000).length
        by_hand = area_mm2(piece.outline) + perimeter * by + math.pi * by**2
        assert area_mm2(line) == pytest.approx(by_hand, rel=1e-6)


def test_offset_refuses_what_is_too_narrow():
    # The angle's inner corner has a radius of 5; its narrow leg is 20 wide.
    with pytest.raises(ValueError, match="too narrow to go round at 5.5 mm"):
        offset(ANGLE.outline, 5.5)
    with pytest.raises(ValueError, match="too narrow"):
        offset(ANGLE.outline, -10.5)
    with pytest.raises(ValueError, match="too narrow"):
        offset(disc(40).outline, -41)
    assert area_mm2(offset(ANGLE.outline, -9.5)) > 0
