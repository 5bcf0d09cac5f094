"""What is one place and what lies between, to a millionth; a bar as it is turned, by hand."""

from __future__ import annotations

import pytest

from parts.frame import Box
from planner.making import near
from planner.making.profile import Profile, Stretch

JUST, OVER = 0.9e-6, 1.05e-6
"""Within a millionth of a millimetre, and past it: what is one place (parts/places.py)."""


def test_a_place_is_one_within_a_millionth() -> None:
    for sign in (-1, 1):
        assert near.same(7.0, 7.0 + sign * JUST) and not near.same(7.0, 7.0 + sign * OVER)
    assert near.below(7.0, 7.0 + OVER) and not near.below(7.0, 7.0 + JUST)
    assert not near.below(7.0, 7.0 - OVER) and not near.below(8.0, 7.0)
    assert near.within(3.0 - JUST, 3.0, 4.0) and near.within(4.0 + JUST, 3.0, 4.0)
    assert not near.within(3.0 - OVER, 3.0, 4.0) and not near.within(4.0 + OVER, 3.0, 4.0)


@pytest.mark.parametrize(
    ("one", "other", "they_do"),
    [
        ((0.0, 5.0), (5.0, 9.0), False), ((0.0, 5.0), (5.0 - JUST, 9.0), False),
        ((0.0, 5.0), (5.0 - 3e-6, 9.0), True), ((5.0, 9.0), (0.0, 5.0), False),
        ((5.0 - 3e-6, 9.0), (0.0, 5.0), True), ((0.0, 9.0), (3.0, 4.0), True),
        ((3.0, 4.0), (0.0, 9.0), True), ((0.0, 1.0), (8.0, 9.0), False),
    ],
)  # fmt: skip
def test_spans_overlap(one: near.Span, other: near.Span, they_do: bool) -> None:
    assert near.overlap(one, other) is they_do


@pytest.mark.parametrize(
    ("gone", "left"),
    [
        ((4.0, 6.0), [(2.0, 4.0), (6.0, 9.0)]), ((0.0, 6.0), [(6.0, 9.0)]),
        ((4.0, 12.0), [(2.0, 4.0)]), ((0.0, 12.0), []), ((2.0, 9.0), []),
        ((0.0, 1.0), [(2.0, 9.0)]), ((10.0, 12.0), [(2.0, 9.0)]), ((2.0 + JUST, 9.0), []),
    ],
)  # fmt: skip
def test_what_is_left_on_either_side(gone: near.Span, left: list[near.Span]) -> None:
    assert near.outside((2.0, 9.0), gone) == left


def test_directions_points_and_boxes() -> None:
    assert [near.way_of(one) for one in ("+x", "-x", "+y", "-y", "+z", "-z")] == [
        (0, 1), (0, -1), (1, 1), (1, -1), (2, 1), (2, -1),
    ]  # fmt: skip
    assert [near.against(one) for one in ("+x", "-z")] == ["-x", "+z"]
    box = Box((1.0, 2.0, 3.0), (5.0, 8.0, 13.0))
    assert near.middle(box) == (3.0, 5.0, 8.0)
    assert near.in_metal((1.0, 2.0, 3.0), "-y") == (1.0, 1.0, 3.0)
    assert near.in_metal((1.0, 2.0, 3.0), "+z") == (1.0, 2.0, 4.0)
    assert (near.face_of(box, 1, 1), near.face_of(box, 1, -1)) == (8.0, 2.0)
    assert near.with_face(box, 2, 1, 9.0) == Box((1.0, 2.0, 3.0), (5.0, 8.0, 9.0))
    assert near.with_face(box, 0, -1, 4.0) == Box((4.0, 2.0, 3.0), (5.0, 8.0, 13.0))
    assert near.ordered(3.0, 1.0) == near.ordered(1.0, 3.0) == (1.0, 3.0)
    assert not near.off_axis((0.0, 1.0, 2.0), (9.0, 1.0, 2.0 + JUST), 0)
    assert near.off_axis((0.0, 1.0, 2.0), (0.0, 1.0, 2.0 + OVER), 0)
    assert near.off_axis((0.0, 1.0, 2.0), (9.0, 1.0, 2.0), 1)


def bar() -> Profile:
    """A bar of 20 from 0 to 100, turned to 16 from 10 to 40."""
    profile = Profile(Stretch(0.0, 100.0, 20.0, "blank.round"))
    profile.turn(10.0, 40.0, 16.0, "seat.round", True)
    return profile


def rows(profile: Profile) -> list[tuple[float, float, float, str, bool]]:
    return [(s.low, s.high, s.diameter, s.name, s.fine) for s in profile.stretches]


def test_a_bar_as_it_is_turned_cropped_and_marked() -> None:
    one = bar()
    assert rows(one) == [
        (0.0, 10.0, 20.0, "blank.round", False),
        (10.0, 40.0, 16.0, "seat.round", True),
        (40.0, 100.0, 20.0, "blank.round", False),
    ]
    assert (one.low, one.high) == (0.0, 100.0)
    assert [one.largest(*span) for span in ((10, 40), (9.9, 40), (10, 40.1), (200, 300))] == [
        16.0, 20.0, 20.0, 0.0,
    ]  # fmt: skip
    assert [one.least(*span) for span in ((40, 100), (39.9, 100), (0, 10), (200, 300))] == [
        20.0, 16.0, 20.0, 0.0,
    ]  # fmt: skip
    assert [(s.low, s.high) for s in one.beside(10.0, 40.0)] == [(0.0, 10.0), (40.0, 100.0)]
    assert [(s.low, s.high) for s in one.beside(40.0, 60.0)] == [(10.0, 40.0)]
    one.crop(5.0, 50.0)
    assert rows(one)[0][:2] == (5.0, 10.0) and rows(one)[-1][:2] == (40.0, 50.0)
    one.crop(10.0, 50.0)  # what ends there is gone
    assert len(rows(one)) == 2 and rows(one)[0][4] is True
    two = bar()
    two.mark(40.0, 60.0)  # the thread on it is not bitten into; what ends there stays as it is
    assert [row[4] for row in rows(two)] == [False, True, True]
    three = bar()
    three.mark(0.0, 10.0)
    assert [row[4] for row in rows(three)] == [True, True, False]
