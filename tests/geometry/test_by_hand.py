"""Edges, outlines and diameters of small shapes, worked out on paper."""

from __future__ import annotations

from math import sqrt

import pytest
from profile_cases import notch, one, plate

from parts.attachment import Attachment, Carrier, Placed
from parts.features import SawnNotch, TurnedDiameter, general
from parts.frame import Axis, Frame
from parts.part import Part, Stock
from parts.sizes import Sizes
from parts.standard.sections import Section
from planner.geometry.ball import Setting, diameter_mm, point_radius_mm, profile
from planner.geometry.envelope import Edge, lowest, neck_deg, swinging_edges, toward_chuck
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
    reach = toward_chuck((edge(0.0, 8.0),), (0.0, 0.0), (30.0, 90.0), 100.0)
    assert (reach.distance_mm, reach.swing_deg) == (pytest.approx(-4.0), 30.0)
    # a round edge reaches its radius farther; the head's goes out with the tip
    reach = lowest((edge(-6.0, 0.0, 1.5),), (0.0, 0.0), (0.0, 180.0))
    assert (reach.distance_mm, reach.swing_deg) == (pytest.approx(7.5), pytest.approx(90.0))
    reach = lowest((edge(-30.0, 0.0, 0.0, Carrier.HEAD),), (5.0, 20.0), (0.0, 180.0))
    assert (reach.distance_mm, reach.tip_radius_mm) == (pytest.approx(25.0), 5.0)
    # an edge wholly beyond the chuck's radius, to the far side of the post, meets no jaw
    near = toward_chuck((edge(-6.0, 0.0), edge(-40.0, 0.0)), (0.0, 0.0), (0.0, 180.0), 100.0)
    assert near.distance_mm == pytest.approx(40.0)
    far = Edge("tail", Carrier.BODY, -60.0, -50.0, -40.0, 0.0)
    near = toward_chuck((edge(-6.0, 0.0), far), (0.0, 0.0), (0.0, 180.0), 50.0)
    assert near.distance_mm == pytest.approx(6.0)


def test_the_neck_of_a_stem() -> None:
    # sin 30 = 1/2, sin 45 = 0.7071
    assert neck_deg(40.0, 20.0) == pytest.approx(150.0)
    assert neck_deg(40.0, 20.0 * sqrt(2)) == pytest.approx(135.0)


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
