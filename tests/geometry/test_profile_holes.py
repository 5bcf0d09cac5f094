"""Holes of flat profiles: which are cut and which marked, by facts of the trade."""

import math

import pytest
from ezdxf.math import Vec2
from msgspec.structs import replace
from profile_cases import area, drilled, hole, one

from parts.features import (
    Bore,
    Counterbore,
    DrilledHole,
    Hole,
    ReamedHole,
    Stage,
    TappedHole,
    feature_types,
    general,
)
from planner.geometry import profiles


@pytest.mark.parametrize(
    ("thickness", "diameter", "is_cut"),
    [
        # Common practice: plasma cuts no hole narrower than the plate is thick, and its edge is
        # hard: under 10 mm a hole is marked and drilled.
        (10.0, 10.0, True),
        (10.0, 9.9, False),
        (6.0, 9.9, False),
        (6.0, 10.0, True),
        (15.0, 14.0, False),
        (15.0, 15.0, True),
        (20.0, 25.0, True),
    ],
)
def test_small_holes_are_marked_and_large_ones_cut(thickness, diameter, is_cut):
    profile = one(
        drilled(30, 20, diameter, depth=thickness, entry=-thickness / 2), thickness=thickness
    )
    if not is_cut:
        assert (profile.holes, profile.marks) == ((), ((30.0, 20.0),))
        return
    assert profile.marks == ()
    (circle,) = profile.holes
    assert area(circle) == pytest.approx(math.pi * diameter**2 / 4, rel=1e-12)
    start, end = (Vec2(vertex[:2]) for vertex in circle.vertices)
    assert start.lerp(end) == Vec2(30, 20)
    assert start.distance(end) == pytest.approx(diameter)


def test_only_holes_right_through_along_the_thickness_are_cut():
    # The plate is 10 thick, its faces at z = -5 and 5; every hole here is wide enough to cut.
    profile = one(
        drilled(20, 20, 12, depth=10.0, entry=5.0, along="-z", name="from the other face"),
        drilled(40, 20, 12, depth=6.0, through=False, name="blind"),
        drilled(80, 0, 8, depth=60.0, along="+y", entry=0.0, name="from the edge"),
        hole(Counterbore, 20, 20, depth=4, diameter=general(20), through=False, name="counterbore"),
        replace(drilled(60, 40, 12, name="later"), stage=Stage.IN_PLACE),
    )
    assert [circle.vertices[0] for circle in profile.holes] == [(14.0, 20.0, 1.0)]
    assert profile.marks == ((40.0, 20.0),)


def test_each_place_is_cut_or_marked_once():
    profile = one(
        drilled(20, 20, 6, name="pilot"),
        hole(ReamedHole, 20, 20, diameter=general(8), name="reamed"),
        drilled(60, 20, 16, name="rough"),
        hole(Bore, 60, 20, diameter=general(20), name="bored"),
        drilled(60, 20, 5, name="centre"),
    )
    assert profile.marks == ((20.0, 20.0),)
    assert [area(circle) for circle in profile.holes] == [pytest.approx(64 * math.pi)]


def test_a_hole_to_be_finished_later_is_marked_and_not_cut():
    # A plasma cut hardens the edge; what is reamed, bored or tapped is drilled: common practice.
    profile = one(
        hole(TappedHole, 50, 30, thread="M16"),
        hole(ReamedHole, 20, 20, diameter=general(20), name="reamed"),
        hole(Bore, 80, 20, diameter=general(25), name="bored"),
    )
    assert profile.holes == ()
    assert set(profile.marks) == {(50.0, 30.0), (20.0, 20.0), (80.0, 20.0)}


def test_every_type_of_hole_has_a_rule():
    kinds = [kind for kind in feature_types() if issubclass(kind, Hole)]
    assert len(kinds) == 5
    for kind in kinds:
        more = {"thread": "M20"} if kind is TappedHole else {"diameter": general(20)}
        found = one(hole(kind, 50, 30, **more))
        assert len(found.holes) == (kind is DrilledHole)
        assert len(found.marks) == (kind not in (DrilledHole, Counterbore))

    with pytest.raises(TypeError, match="no rule for the profile of a Hole"):
        profiles._diameter_mm(hole(Hole, 50, 30))
