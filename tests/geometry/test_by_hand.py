"""Edges, outlines and diameters of small shapes, worked out on paper."""

from __future__ import annotations

from math import asin, atan2, degrees, sqrt

import pytest
from profile_cases import notch, one, plate

from parts.attachment import Attachment, Carrier, Placed
from parts.features import SawnNotch, TurnedDiameter, general
from parts.frame import Axis, Frame
from parts.part import Part, Stock
from parts.sizes import Sizes
from parts.standard.sections import Section
from planner.geometry.ball import Setting, diameter_mm, point_radius_mm, profile
from planner.geometry.envelope import Edge, lowest, neck_deg, swinging_edges
from planner.geometry.swept import _turned, deepest, stem_end_deg
from planner.output.plan import Plan


@pytest.fixture
def sizes(bench: Plan) -> Sizes:
    return bench.sizing.sizes


def edges_of(part: Part, sizes: Sizes, frame: Frame | None = None) -> tuple[Edge, ...]:
    placed = Placed(part, frame or Frame(), Carrier.BODY)
    return swinging_edges(Attachment(sizes, (placed,), ()))


def corners(part: Part, sizes: Sizes) -> set[tuple[float, ...]]:
    """Ends along the pivot, and the place across it, of every edge."""
    return {(e.x_low_mm, e.x_high_mm, e.y_mm, e.z_mm) for e in edges_of(part, sizes)}


def box(low: float, high: float, *ys: float) -> set[tuple[float, ...]]:
    return {(low, high, y, z) for y in ys for z in (-5.0, 5.0)}


@pytest.mark.parametrize(
    ("cut", "left"),
    [
        # a plate 100 by 60 by 10 on its axis; notches from its lower left corner
        ((), box(0, 100, -30, 30)),
        ((notch(70, 40, 101, 61),), box(0, 70, -30, 30) | box(70, 100, -30, 10)),
        ((notch(70, -1, 101, 20),), box(0, 70, -30, 30) | box(70, 100, -10, 30)),
        ((notch(-1, 40, 30, 61),), box(0, 30, -30, 10) | box(30, 100, -30, 30)),
        (
            (notch(70, 40, 101, 61, name="a"), notch(70, -1, 101, 20, name="b")),
            box(0, 70, -30, 30) | box(70, 100, -10, 10),
        ),
        # two on one side, the deeper one where they overlap
        (
            (notch(50, 50, 101, 61, name="a"), notch(80, 30, 101, 61, name="b")),
            box(0, 50, -30, 30) | box(50, 80, -30, 20) | box(80, 100, -30, 0),
        ),
        # just to the edge is a notch as well
        ((notch(70, 40, 100, 60),), box(0, 70, -30, 30) | box(70, 100, -30, 10)),
        # a window inside the outline takes nothing off it
        ((notch(40, 25, 60, 35),), box(0, 40, -30, 30) | box(40, 60, -30, 30)
         | box(60, 100, -30, 30)),
    ],
)  # fmt: skip
def test_a_notched_plate_is_slabs(
    sizes: Sizes, cut: tuple[SawnNotch, ...], left: set[tuple[float, ...]]
) -> None:
    assert corners(plate(*cut), sizes) == left


def shaft(*stations: tuple[float, float, float]) -> Part:
    return Part(
        name="shaft",
        title="Shaft",
        blank=Stock(Section("round", 20.0), 100.0, "S355"),
        features=tuple(
            TurnedDiameter(
                name=f"d{low:g}", datum="A", axis=Axis(), start_mm=low, end_mm=high,
                diameter=general(diameter),
            )
            for low, high, diameter in stations
        ),
        datums=plate().datums,
        colour=(0, 0, 0),
    )  # fmt: skip


def test_a_turned_bar_is_cylinders(sizes: Sizes) -> None:
    found = [
        (e.x_low_mm, e.x_high_mm, e.y_mm, e.z_mm, 2 * e.round_mm, e.name)
        for e in edges_of(shaft((0.0, 30.0, 16.0), (30.0, 60.0, 12.0)), sizes)
    ]
    assert found == [
        (0.0, 30.0, 0.0, 0.0, 16.0, "shaft"),
        (30.0, 60.0, 0.0, 0.0, 12.0, "shaft"),
        (60.0, 100.0, 0.0, 0.0, 20.0, "shaft"),
    ]


def test_a_bar_across_the_pivot_is_the_corners_of_its_ends(sizes: Sizes) -> None:
    # along y from 5 out, 20 thick: ends at y = 5 and 105, each with a corner 10 to either side in z
    upright = Frame((2.0, 5.0, 3.0), x="+y", z="+z")
    found = {
        (e.x_low_mm, e.x_high_mm, e.y_mm, e.z_mm, e.round_mm)
        for e in edges_of(shaft(), sizes, upright)
    }
    assert found == {(-8.0, 12.0, y, z, 0.0) for y in (5.0, 105.0) for z in (-7.0, 13.0)}
    # along z the corners lie to either side in y
    flat = Frame((2.0, 5.0, 3.0), x="+z", z="+x")
    found = {(e.y_mm, e.z_mm) for e in edges_of(shaft(), sizes, flat)}
    assert found == {(y, z) for y in (-5.0, 15.0) for z in (3.0, 103.0)}


def edge(y: float, z: float, round_mm: float = 0.0, carrier: Carrier = Carrier.BODY) -> Edge:
    return Edge("thing", carrier, -10.0, 0.0, y, z, round_mm)


def test_reaches_at_the_ends_of_a_swing() -> None:
    # an edge at (0, 8) leads the tip by a quarter turn the other way: at swing a it stands at a height
    # of -8 cos a and 8 sin a along; lowest at 0, nearest the chuck never within 0 to 180
    reach = lowest((edge(0.0, 8.0),), (0.0, 0.0), (0.0, 180.0))
    assert (reach.distance_mm, reach.swing_deg) == (pytest.approx(8.0), pytest.approx(0.0))
    reach = lowest((edge(0.0, 8.0),), (0.0, 0.0), (60.0, 120.0))
    assert (reach.distance_mm, reach.swing_deg) == (pytest.approx(4.0), 60.0)  # cos 60 = 1/2
    # a round edge reaches its radius farther; the head's goes out with the tip
    reach = lowest((edge(-6.0, 0.0, 1.5),), (0.0, 0.0), (0.0, 180.0))
    assert (reach.distance_mm, reach.swing_deg) == (pytest.approx(7.5), pytest.approx(90.0))
    reach = lowest((edge(-30.0, 0.0, 0.0, Carrier.HEAD),), (5.0, 20.0), (0.0, 180.0))
    assert (reach.distance_mm, reach.tip_radius_mm) == (pytest.approx(25.0), 5.0)


def test_how_deep_a_thing_comes_within_a_height() -> None:
    # the tail at y = -40 points at the chuck with the tip at the nose: 40 deep on the axis
    whole = (0.0, 180.0)
    found = deepest(((edge(-6.0, 0.0),), (edge(-40.0, 0.0),)), (0.0, 0.0), whole, 100.0)
    assert found is not None and found.distance_mm == pytest.approx(40.0)
    # wholly beyond a radius, to the far side of the post, it meets nothing
    far = Edge("tail", Carrier.BODY, -60.0, -50.0, -40.0, 0.0)
    found = deepest(((edge(-6.0, 0.0),), (far,)), (0.0, 0.0), whole, 50.0)
    assert found is not None and found.distance_mm == pytest.approx(6.0)
    # 3-4-5: beginning at 90 it stands below; swung on to the chuck's side it never comes within
    # 30 of the axis. From 36.87 on it is 32 deep where it is 24 below: sin 36.87 = 0.6
    assert deepest(((edge(-40.0, 0.0),),), (0.0, 0.0), (90.0, 180.0), 30.0) is None
    found = deepest(((edge(-40.0, 0.0),),), (0.0, 0.0), (36.8699, 180.0), 30.0)
    assert found is not None and found.distance_mm == pytest.approx(32.0, abs=1e-3)
    # standing 30 off the tip's plane, of a radius of 50 a height of 40 is left
    off = Edge("thing", Carrier.BODY, -60.0, -30.0, -41.0, 0.0)
    assert deepest(((off,),), (0.0, 0.0), (90.0, 90.0), 50.0) is None


def test_between_two_corners_a_side_meets_the_height() -> None:
    # tip on top: a side from (10, -4) out to (20, -14): at a height of 15 half of it is below, 9 deep
    side = (edge(10.0, -4.0), edge(20.0, -14.0))
    found = deepest((side,), (0.0, 0.0), (90.0, 90.0), 15.0)
    assert found is not None and found.distance_mm == pytest.approx(9.0)
    # at 126.87 (cos -0.6, sin 0.8) with the tip slid out by 0 to 10, the point (0, 0) comes to a height
    # of 4 where it is out 5, and is then 3 deep
    tip = (edge(0.0, 0.0, 0.0, Carrier.HEAD),)
    found = deepest((tip,), (0.0, 10.0), (126.8699, 126.8699), 4.0)
    assert found is not None and found.distance_mm == pytest.approx(3.0, abs=1e-4)


def test_the_neck_of_a_stem() -> None:
    # sin 30 = 1/2, sin 45 = 0.7071: a sharp tip that touches
    assert neck_deg(40.0, 20.0, 0.0, 0.0) == pytest.approx(150.0)
    assert neck_deg(40.0, 20.0 * sqrt(2), 0.0, 0.0) == pytest.approx(135.0)
    # a nose of 1 on a ball of 38: its middle swings at 20, and stands 10 over the axis at 150 degrees;
    # a stem of 17.9 is then 0.05 under it
    assert neck_deg(38.0, 17.9, 1.0) == pytest.approx(150.0)
    # a corner 20 out comes down to 10 at 150, one that runs ahead by 36.87 (3-4-5) sooner
    assert stem_end_deg((20.0, 0.0), 10.0) == pytest.approx(150.0)
    assert stem_end_deg((16.0, -12.0), 10.0) == pytest.approx(150.0 - 36.8699, abs=1e-3)


def test_diameters_and_radii_by_pythagoras() -> None:
    # 5-12-13: a tip 12 out in a plane 5 off turns a ball of radius 13; a skew adds its sine
    assert diameter_mm(12.0, Setting(0.0, 5.0), 90.0) == pytest.approx(26.0)
    assert diameter_mm(12.0, Setting(0.5, 5.0), 90.0) == pytest.approx(27.0)
    assert diameter_mm(12.0, Setting(0.5, 5.0), 30.0) == pytest.approx(26.5)
    assert point_radius_mm(12.0, Setting(0.0, 5.0), 77.0) == pytest.approx(13.0)
    assert profile(12.0, Setting(3.0, 8.0), 90.0) == (pytest.approx(17.0), pytest.approx(0.0))
    assert profile(12.0, Setting(3.0, 4.0), 0.0) == (pytest.approx(5.0), pytest.approx(12.0))


def test_an_outline_begins_at_its_lowest_corner_on_the_left() -> None:
    def points(*features: SawnNotch) -> list[tuple[float, float]]:
        return [(x, y) for x, y, _ in one(*features).outline.vertices]

    assert points() == [(0, 0), (100, 0), (100, 60), (0, 60)]
    assert points(notch(-1, -1, 30, 20)) == [
        (30, 0), (100, 0), (100, 60), (0, 60), (0, 20), (30, 20),
    ]  # fmt: skip
    assert points(notch(70, 40, 101, 61)) == [
        (0, 0), (100, 0), (100, 40), (70, 40), (70, 60), (0, 60),
    ]  # fmt: skip


def test_a_corner_at_the_height_counts_whatever_a_float_loses() -> None:
    # 3, 4: five from the pivot, and three above or below it where it stands four behind
    for below in (-1, 1):
        ahead = degrees(atan2(3.0, 4.0)) - 90.0
        swing = -180.0 + below * degrees(asin(0.6)) - ahead
        for short, found in ((0.0, 1), (5e-10, 1), (1e-7, 0)):
            places = list(_turned((3.0, 4.0), (swing, swing), 3.0 - short, 25.0))
            assert len(places) == found
            for (depth, height), at_deg, tip in places:
                assert (depth, height, tip) == (
                    pytest.approx(4.0),
                    pytest.approx(-3.0 * below),
                    25.0,
                )
                assert at_deg == pytest.approx(swing)
