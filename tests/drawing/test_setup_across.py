"""What holds a piece that does not turn touches it where it holds it, and stands nowhere in it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import acos, degrees, sqrt

import pytest
import shapely
from setup_scenes import areas, lines
from shapely.geometry.base import BaseGeometry

from planner.drawing import setup_across as across
from planner.drawing.model import Item, Polyline
from planner.drawing.sketch import At

NEAR_MM = 1e-3
AT = At((3.0, -7.0), 0.8, 30.0)
"""Put down somewhere, turned and reduced, so that nothing holds by luck."""


def placed(*points: tuple[float, float]) -> BaseGeometry:
    there = [AT.point(p) for p in points]
    return shapely.LineString(there) if len(there) > 1 else shapely.Point(there[0])


def rect(left: float, low: float, right: float, top: float) -> BaseGeometry:
    corners = ((left, low), (right, low), (right, top), (left, top))
    return shapely.Polygon([AT.point(p) for p in corners])


def disc(round_mm: float) -> BaseGeometry:
    return shapely.Point(AT.point((0.0, 0.0))).buffer(AT.scale * round_mm / 2, 512)


def both(one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    return shapely.union_all([one, other])


HALF = 10.0 / sqrt(2.0)
CASES: dict[str, tuple[Sequence[Item], BaseGeometry, BaseGeometry]] = {
    # a round of 20 lies in a V of 90 degrees at 45 degrees to either side of its lowest point
    "V-block": (
        tuple(across.v_block_end(AT, 20.0, -24.0)),
        disc(20.0),
        both(placed((HALF, -HALF)), placed((-HALF, -HALF))),
    ),
    "strap": (
        tuple(across.strap(AT, 6.0, 15.0)),
        rect(-40.0, -15.0, 0.0, 0.0),
        placed((-6.0, 0.0), (0.0, 0.0)),
    ),
    "strap across": (
        tuple(across.strap_across(AT, 9.0)),
        rect(-20.0, -15.0, 30.0, 0.0),
        placed((0.0, 0.0), (9.0, 0.0)),
    ),
    "packing": (
        tuple(across.packing(AT, 20.0, 8.0)),
        rect(0.0, 0.0, 20.0, 15.0),
        placed((0.0, 0.0), (20.0, 0.0)),
    ),
    "saw's jaws": (
        tuple(across.saw_jaws(AT, 16.0, 5.0, 30.0)),
        rect(-60.0, -8.0, 60.0, 8.0),
        both(placed((5.0, 8.0), (30.0, 8.0)), placed((5.0, -8.0), (30.0, -8.0))),
    ),
    "tool post": (
        tuple(across.tool_post(AT, 60.0, 16.0)),
        rect(-40.0, 0.0, 90.0, 16.0),
        shapely.union_all(
            [
                placed((0.0, 0.0), (60.0, 0.0)),
                placed((12.0, 16.0), (18.0, 16.0)),
                placed((42.0, 16.0), (48.0, 16.0)),
            ]
        ),
    ),
    "surface plate": (
        tuple(across.surface_plate(AT, 100.0)),
        rect(20.0, 0.0, 70.0, 30.0),
        placed((20.0, 0.0), (70.0, 0.0)),
    ),
    "bench": (
        tuple(across.bench_top(AT, 100.0)),
        rect(20.0, 0.0, 70.0, 30.0),
        placed((20.0, 0.0), (70.0, 0.0)),
    ),
    "C-clamp": (
        tuple(across.clamp(AT, 30.0, 10.0)),
        rect(-50.0, -30.0, 0.0, 0.0),
        both(placed((-10.0, 0.0), (-4.0, 0.0)), placed((-9.0, -30.0), (-5.0, -30.0))),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_it_touches_the_work_where_it_holds_it_and_nowhere_else(name: str) -> None:
    items, work, spots = CASES[name]
    assert areas(items).intersection(work.buffer(-NEAR_MM)).area < 1e-3
    touched = lines(items).intersection(work.buffer(NEAR_MM))
    assert not touched.is_empty and touched.within(spots.buffer(0.2))
    for spot in getattr(spots, "geoms", [spots]):
        assert spot.hausdorff_distance(spot.intersection(touched.buffer(0.1))) < 0.2


def test_a_v_has_its_angle() -> None:
    (ring,) = across.v_block_end(At((0.0, 0.0)), 20.0, -24.0)
    assert isinstance(ring, Polyline)
    sides = []
    for k, one in enumerate(ring.points):  # the two sides that bear: those through the round's rim
        two = ring.points[(k + 1) % len(ring.points)]
        way = shapely.LineString([one, two])
        if way.distance(shapely.Point(0.0, 0.0)) == pytest.approx(10.0, abs=1e-6):
            sides.append((two[0] - one[0], two[1] - one[1]))
    (a, b), (c, d) = sides
    between = degrees(acos((a * c + b * d) / sqrt((a * a + b * b) * (c * c + d * d))))
    assert between == pytest.approx(90.0)


def test_a_mandrel_is_hidden_in_the_work_and_seen_past_it() -> None:
    items = list(across.mandrel(At((0.0, 0.0)), 8.0, 30.0, 14.0))
    hidden = [one for one in items if getattr(one, "style", "") == "hidden"]
    assert lines(hidden).bounds == (0.0, -4.0, 14.0, 4.0)
    (seen,) = [one for one in items if one not in hidden]
    assert areas([seen]).bounds == (14.0, -4.0, 30.0, 4.0)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: across.v_block_end(AT, 20.0, -14.0),
        lambda: across.v_block_end(AT, 0.0, -14.0),
        lambda: across.strap(AT, 0.0, 10.0),
        lambda: across.strap(AT, 5.0, 0.0),
    ],
)
def test_what_holds_nothing_is_refused(wrong: Callable[[], object]) -> None:
    with pytest.raises(ValueError):
        list(wrong())  # type: ignore[call-overload]


def test_a_faceplate_and_an_angle_plate_touch_the_work_and_do_not_stand_in_it() -> None:
    """The work lies on the plate from u = 0 on; against the wall from v = 0 down."""
    work, beside = rect(0.0, -30.0, 40.0, 20.0), rect(0.0, -30.0, 40.0, 0.0)
    plate = areas(list(across.faceplate(AT, 150.0)))
    assert plate.intersection(work).area < NEAR_MM and plate.distance(work) < NEAR_MM
    wall = areas(list(across.angle_plate(AT, 40.0, 30.0)))
    assert wall.intersection(beside).area < NEAR_MM
    # it bears on all of the 40 that it is long
    along = placed((0.0, 0.0), (40.0, 0.0)).buffer(NEAR_MM)
    assert along.difference(both(wall, beside)).area < 1e-5
    assert wall.boundary.intersection(along).length > 0.99 * AT.scale * 40.0
