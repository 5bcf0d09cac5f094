"""What features and cuts take off, as regions: sizes by hand, lengths in mm."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from walk_asked import (
    BACK,
    BOX,
    LOC,
    SIX,
    TENTH,
    ends,
    rod,
    turned,
)
from walk_records import along

from parts import features as f
from parts.blank import Stock
from parts.frame import Axis, Frame
from parts.part import Member
from parts.standard.sections import Section
from planner.walking.cuts import Cut, cloud, cut_of
from planner.walking.finished import Takes, kept_of_member, stock_region, takes
from planner.walking.records import Missing
from planner.walking.shape import FAR_MM, Block, OffBall, Ring, even, others

BY_HAND = [
    # a shoulder is where it is within 0.05; two thousandths over and under the limits of its size
    (turned(f.TurnedDiameter, start_mm=10.0, end_mm=30.0, diameter=TENTH),
     [10.05, 29.95, FAR_MM, 10.052], [9.95, 30.05, FAR_MM, 9.948]),
    (turned(f.TurnedDiameter, BACK, start_mm=10.0, end_mm=30.0, diameter=TENTH),
     [20.05, 39.95, FAR_MM, 10.052], [19.95, 40.05, FAR_MM, 9.948]),
    (turned(f.FacedShoulder, start_mm=30.0, end_mm=10.0, diameter=TENTH),
     [10.05, 29.95, FAR_MM, 10.052], [9.95, 30.05, FAR_MM, 9.948]),
    # M8x1: its crest, and half a pitch under it
    (turned(f.Thread, start_mm=0.0, end_mm=12.0, thread="M8x1"),
     [0.05, 11.95, FAR_MM, 4.002], [-0.05, 12.05, FAR_MM, 3.748]),
    # a ball of 20 that ends at 28 has its middle at 18; its back may run on
    (turned(f.TurnedBall, start_mm=10.0, end_mm=28.0, diameter=TENTH),
     [18.0, 10.1, 10.05, 27.95], [18.0, 9.9, 9.7, 48.0]),
    (turned(f.TurnedBall, BACK, start_mm=10.0, end_mm=28.0, diameter=TENTH),
     [32.0, 10.1, 22.05, 39.95], [32.0, 9.9, 21.7, 60.0]),
    # a blind drill's point is 0.35 of 6.1 deeper; through, a millimetre past; from a millimetre before
    (turned(f.DrilledHole, depth_mm=10.0, diameter=SIX, through=False),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 12.135, 3.052, 0.0]),
    (turned(f.ReamedHole, depth_mm=10.0, diameter=SIX, through=False),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 12.135, 3.052, 0.0]),
    (turned(f.ReamedHole, BACK, depth_mm=10.0, diameter=SIX),
     [40.05, 49.95, 2.948, 0.0], [39.0, 51.0, 3.052, 0.0]),
    (turned(f.Bore, depth_mm=10.0, diameter=SIX, through=False),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 10.05, 3.052, 0.0]),
    (turned(f.Counterbore, depth_mm=10.0, diameter=SIX, through=False, opens_into="y"),
     [0.05, 9.95, 2.948, 0.0], [-1.0, 16.1, 3.052, 0.0]),
    # M6: minor diameter 4.9175 (ISO 724), six pitches and its point deeper
    (turned(f.TappedHole, depth_mm=10.0, thread="M6", through=False),
     [0.05, 9.95, 2.457, 0.0], [-1.0, 18.1, 3.002, 0.0]),
    (turned(f.TappedHole, depth_mm=10.0, thread="M6"),
     [0.05, 9.95, 2.457, 0.0], [-1.0, 11.0, 3.002, 0.0]),
    # boxes: 0.022 each way, where it is located the larger of its limits, a notch half a millimetre
    (f.MilledFlat(name="x", datum="A", box=BOX, locations=LOC),
     [0.022, -7.978, 5.152, 29.978, 7.978, 8.848], [-0.022, -8.022, 4.848, 30.022, 8.022, 9.152]),
    (f.MilledSlot(name="x", datum="A", box=BOX, width=f.Limits(4.0, 0.3, -0.1, "")),
     [0.022, -7.978, 5.152, 29.978, 7.978, 8.848], [-0.022, -8.022, 4.848, 30.022, 8.022, 9.152]),
    (f.Slit(name="x", datum="A", box=BOX, width=f.Limits(4.0, 0.1, -0.4, "")),
     [0.022, -7.978, 5.202, 29.978, 7.978, 8.798], [-0.022, -8.022, 4.798, 30.022, 8.022, 9.202]),
    (f.SawnNotch(name="x", datum="A", box=BOX),
     [0.502, -7.498, 5.502, 29.498, 7.498, 8.498], [-0.502, -8.502, 4.498, 30.502, 8.502, 9.502]),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "least", "most"), BY_HAND)
def test_what_a_feature_takes_at_least_and_at_most(
    feature: f.Feature, least: list[float], most: list[float]
) -> None:
    found: Takes = takes(feature)
    assert [ends(one) for one in found.least] == [least]
    assert [ends(one) for one in found.most] == [most]


def test_stock_as_regions() -> None:
    for section, wanted in (
        (Section("round", 20.0), [-1.0, 9.0, 10.0, 0.0]),
        (Section("tube", 35.0, 8.0), [-1.0, 9.0, 17.5, 9.5]),
        (Section("square", 16.0), [-1.0, -8.0, -8.0, 9.0, 8.0, 8.0]),
        (Section("flat", 25.0, 8.0), [-1.0, -12.5, -4.0, 9.0, 12.5, 4.0]),
    ):
        assert ends(stock_region(Stock(section, 40.0, "S355"), -1.0, 9.0)) == wanted


def test_what_must_stay_of_a_bar_is_its_length_less_its_limits() -> None:
    stock = Stock(Section("round", 20.0), 40.0, "S355")
    for lower, play in ((-0.3, 0.3), (-0.01, 0.05), (None, 0.5)):
        length = f.FacedLength(name="l", datum="B", length=f.Limits(40.0, 0.3, lower or 0.0, ""))
        member = Member("m", stock, Frame(), (length,) if lower else ())
        (body,) = kept_of_member(member).bodies
        assert ends(body.stock) == [play, 40 - play, 10.0, 0.0]


def test_a_ring_a_block_and_a_ball_have_what_lies_within() -> None:
    ring = Ring(0, (0.0, 1.0, 2.0), 0.0, 10.0, 5.0, 2.0)
    ball = OffBall(0, (5.0, 1.0, 2.0), 4.0, 0.0, 10.0)
    block = Block((0.0, -1.0, -2.0), (10.0, 3.0, 4.0))
    for one, inside, outside in (
        (ring, [(5, 3.01, 2), (0.01, 1, -2.9), (9.99, 5.9, 2)],
         [(5, 2.99, 2), (-0.01, 1, -2.9), (10.01, 5.9, 2), (5, 6.01, 2)]),
        (ball, [(9.01, 1, 2), (5, 5.01, 2), (0.01, 1, 2)], [(8.99, 1, 2), (5, 4.99, 2), (-0.01, 9, 9)]),
        (block, [(0.01, -0.99, 3.99), (9.99, 2.99, -1.99)],
         [(-0.01, 0, 0), (10.01, 0, 0), (5, -1.01, 0), (5, 3.01, 0), (5, 0, -2.01), (5, 0, 4.01)]),
    ):  # fmt: skip
        assert one.has(np.array(inside, dtype=float)).all()  # type: ignore[attr-defined]
        assert not one.has(np.array(outside, dtype=float)).any()  # type: ignore[attr-defined]
    assert ring.edges(0) == (0, 10) and sorted(ring.edges(1)) == [-4, -1, 3, 6]
    assert ball.edges(0) == (0, 10) and ball.edges(1) == () and block.edges(2) == (-2, 4)
    for low, high, clear in (
        ([10.0, 0, 0], [11.0, 1, 1], True), ([9.9, 0, 0], [11.0, 1, 1], False),
        ([-1.0, 0, 0], [0.0, 1, 1], True), ([-1.0, 0, 0], [0.1, 1, 1], False),
        ([1.0, 6.1, 0], [2.0, 7, 1], True), ([1.0, 5.9, 0], [2.0, 7, 1], False),
        ([1.0, -9, 0], [2.0, -4.1, 1], True), ([1.0, -9, 0], [2.0, -3.9, 1], False),
        ([1.0, 0, 7.1], [2.0, 1, 9], True), ([1.0, 0, -9], [2.0, 1, -3.1], True),
    ):  # fmt: skip
        assert ring.clear_of(low, high) is clear, (low, high)
    assert ball.clear_of([10.0, 0, 0], [11.0, 1, 1]) and not ball.clear_of(
        [9.9, 0, 0], [11.0, 1, 1]
    )
    assert ball.clear_of([-2.0, 0, 0], [0.0, 1, 1]) and not ball.clear_of([-2.0, 0, 0], [0.1, 1, 1])
    assert block.clear_of([0.0, 3, 0], [1.0, 4, 1]) and not block.clear_of(
        [0.0, 2.9, 0], [1.0, 4, 1]
    )
    assert Ring(0, (0, 0, 0), 0.0, 1.0, 5.0).inner == 0.0


@pytest.mark.parametrize(
    ("kind", "cut", "regions"),
    [
        # a face: the skin off it, a hundredth over its diameter, a thousandth past its far side
        ("face", {"shape": "face", "at_mm": 50.0, "keeps": "-x", "diameter_mm": 20.0, "off_mm": 2.0},
         [[50.0, 52.001, 10.01, 0.0]]),
        ("face", {"shape": "face", "at_mm": 50.0, "keeps": "+x", "diameter_mm": 20.0, "off_mm": 2.0},
         [[47.999, 50.0, 10.01, 0.0]]),
        ("turn", {"shape": "turn", "from_mm": 30.0, "to_mm": 10.0, "before_mm": 20.0, "after_mm": 16.0},
         [[10.0, 30.0, 10.01, 8.0]]),
        ("bore", {"shape": "bore", "from_mm": 10.0, "to_mm": 30.0, "before_mm": 8.0, "after_mm": 9.0},
         [[10.0, 30.0, 4.5, 0.0]]),
        ("drill", {"shape": "hole", "from_mm": 10.0, "to_mm": 30.0, "after_mm": 5.0}, [[10.0, 30.0,
        2.5, 0.0]]),
        ("thread", {"shape": "thread", "from_mm": 10.0, "to_mm": 30.0, "diameter_mm": 8.0,
        "pitch_mm": 1.0}, []),
        ("mill", {"shape": "slot", "box": [[9, 5, 1], [2, -5, 8]]}, [[2, -5, 1, 9, 5, 8]]),
        ("mill", {"shape": "flat", "normal": "+z", "at_mm": 5.02, "box": [[2, -5, 5], [9, 5, 8]]},
         [[2, -5, 5, 9, 5, 8]]),
        ("mill", {"shape": "flat", "normal": "-z", "at_mm": 7.98, "box": [[2, -5, 5], [9, 5, 8]]},
         [[2, -5, 5, 9, 5, 8]]),
    ],
)  # fmt: skip
def test_a_cut_takes_the_region_that_its_record_says(
    kind: str, cut: dict[str, Any], regions: list[list[float]]
) -> None:
    found = cut_of(rod(), {"kind": kind, "cut": {"axis": along("+x"), **cut}}, None)
    assert [ends(one) for one in found.regions] == regions and found.drops == ()
    low, high = (regions[0][:2] if regions else (10.0, 30.0)) if "box" not in cut else (0.0, 0.0)
    if kind != "face":
        assert (found.low, found.high) == (low, high)
    sizes = {"turn": (8.0, 10.0), "bore": (4.5, 4.0), "drill": (2.5, 0.0), "thread": (4.0, 0.0)}
    if kind in sizes:
        assert (found.radius, found.before) == sizes[kind]
    assert found.inside is (kind in ("bore", "drill"))


def test_what_a_cut_says_wrongly_is_told() -> None:
    flat = {"shape": "flat", "normal": "+z", "at_mm": 5.03, "box": [[2, -5, 5], [9, 5, 8]]}
    face = {
        "shape": "face",
        "axis": along("+x"),
        "at_mm": 1.0,
        "keeps": "+y",
        "diameter_mm": 2.0,
        "off_mm": 1.0,
    }
    for cut, key in ((flat, "cut.at_mm"), (face, "cut.keeps"), ({"shape": "round"}, "cut.shape")):
        with pytest.raises(Missing) as caught:
            cut_of(rod(), {"kind": "mill", "cut": cut}, None)
        assert caught.value.key == key


def test_a_parting_cut_drops_what_is_behind_it_and_a_face_passes_a_journal() -> None:
    cut = {
        "shape": "face",
        "axis": along("+x"),
        "at_mm": 50.0,
        "keeps": "-x",
        "diameter_mm": 20.0,
        "off_mm": 3.0,
    }
    found = cut_of(rod(), {"kind": "part", "cut": cut}, None)
    assert [ends(one) for one in found.drops] == [[53.0, FAR_MM, FAR_MM, 0.0]]
    back = cut_of(rod(), {"kind": "part", "cut": cut | {"keeps": "+x"}}, None)
    assert [ends(one) for one in back.drops] == [[-FAR_MM, 47.0, FAR_MM, 0.0]]
    for journal, inner in ((9.9, 9.9), (9.96, 0.0)):
        piece = rod()
        piece.metal.cut(Ring(0, (0.0, 0.0, 0.0), 52.0, 200.0, FAR_MM, journal))
        face = cut_of(piece, {"kind": "face", "cut": cut | {"off_mm": 2.0}}, None)
        assert (face.before, ends(face.regions[0])[3]) == (inner, inner)


def test_a_balls_cut_is_outside_its_sphere() -> None:
    ball = turned(f.TurnedBall, start_mm=10.0, end_mm=28.0, diameter=TENTH)
    record = {"kind": "ball", "cut": {"shape": "other"}, "makes": ["x"]}
    found = cut_of(rod(), record, ball)
    assert [ends(one) for one in found.regions] == [[18.0, 10.0, 10.0, 28.01]]
    assert (found.low, found.high, found.radius) == (10.0, 28.0, 10.0)
    back = turned(
        f.TurnedBall, Axis((50.0, 0.0, 0.0), "-x"), start_mm=10.0, end_mm=28.0, diameter=TENTH
    )
    assert [ends(one) for one in cut_of(rod(), record, back).regions] == [[32.0, 10.0, 22.0, 40.01]]
    assert cut_of(rod(), record | {"makes": []}, ball) == Cut("other")
    knurl = turned(f.Knurl, start_mm=1.0, end_mm=9.0, diameter=TENTH, pitch_mm=1.0)
    found = cut_of(
        rod(), {"kind": "knurl", "cut": {"shape": "other", "from_mm": 9, "to_mm": 2}}, knurl
    )
    assert (found.low, found.high, found.regions) == (2.0, 9.0, ())


def test_points_of_a_region_lie_in_it_and_come_to_its_faces() -> None:
    metal = rod(20.0, 0.0, 100.0).metal
    for region in (
        Ring(0, (0.0, 0.0, 0.0), 20.0, 120.0, FAR_MM, 6.0),
        Ring(0, (0.0, 0.0, 0.0), 20.0, 40.0, 5.0),
    ):
        points = cloud(region, metal)
        assert region.has(points).all() and 0.0005 < points[:, 0].min() - 20.0 < 0.0015
        assert abs(points[:, 0].max() - min(region.high, 100.0)) < 0.0015
    ball = OffBall(0, (18.0, 0.0, 0.0), 10.0, 10.0, 28.01)
    points = cloud(ball, metal)
    assert len(points) and ball.has(points).all()
    assert len(cloud(Ring(0, (0.0, 0.0, 0.0), 101.0, 120.0, 5.0), metal)) == 0
    assert len(cloud(OffBall(0, (0.0, 0.0, 0.0), 5.0, 101.0, 120.0), metal)) == 0
    # with the ends of the metal: a skin of 0.05 at an end is found there
    short = rod(20.0, 0.0, 100.0).metal
    short.cut(Ring(0, (0.0, 0.0, 0.0), 90.05, 300.0, FAR_MM))
    at = cloud(Ring(0, (0.0, 0.0, 0.0), 0.0, 100.0, 12.0, 5.0), short, ends=True)[:, 0]
    assert any(abs(x - 90.03) < 0.001 for x in at) and any(abs(x - 0.02) < 0.001 for x in at)
    assert even(1.0, 4.0, 4) == [1.0, 2.0, 3.0, 4.0] and [others(i) for i in range(3)] == [
        (1, 2),
        (2, 0),
        (0, 1),
    ]
